//! Colours, line styles and sizes. Lengths are pixels of a picture 720 wide.

use plotters::style::RGBColor;

/// Width of every picture, px.
pub(crate) const WIDTH: f64 = 720.0;
/// Empty edge at both sides, px.
pub(crate) const EDGE: f64 = 14.0;

/// Text and frames.
pub(crate) const INK: RGBColor = RGBColor(0x22, 0x22, 0x22);
/// Quieter text; 7:1 on white.
pub(crate) const QUIET: RGBColor = RGBColor(0x55, 0x55, 0x55);
/// Grid lines.
pub(crate) const GRID: RGBColor = RGBColor(0xe2, 0xe2, 0xe2);
/// Empty tracks behind strips.
pub(crate) const TRACK: RGBColor = RGBColor(0xf1, 0xf1, 0xf1);
/// The paper.
pub(crate) const PAPER: RGBColor = RGBColor(0xff, 0xff, 0xff);
/// What misses the line.
pub(crate) const MISS: RGBColor = RGBColor(0xd5, 0x5e, 0x00);
/// What keeps the line.
pub(crate) const KEEP: RGBColor = RGBColor(0x00, 0x44, 0x88);

/// How one program is drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Look {
    /// Of lines and fills.
    pub colour: RGBColor,
    /// Of text: the same hue, at least 4.5:1 on white.
    pub text: RGBColor,
    /// Length of dash and gap, px; `None` is a solid line.
    pub dash: Option<(f64, f64)>,
}

/// The first three are Paul Tol's "high-contrast" scheme, made to be told apart with any colour
/// vision and in greyscale (Tol 2021, SRON/EPS/TN/09-002, from memory); green and sky blue are of
/// Okabe & Ito (2008).
const LOOKS: [Look; 6] = [
    Look { colour: RGBColor(0x00, 0x44, 0x88), text: RGBColor(0x00, 0x44, 0x88), dash: None },
    Look {
        colour: RGBColor(0xdd, 0xaa, 0x33),
        text: RGBColor(0x85, 0x5d, 0x00),
        dash: Some((11.0, 5.0)),
    },
    Look {
        colour: RGBColor(0xbb, 0x55, 0x66),
        text: RGBColor(0xa0, 0x3c, 0x4e),
        dash: Some((3.5, 4.0)),
    },
    Look { colour: RGBColor(0x00, 0x9e, 0x73), text: RGBColor(0x00, 0x6e, 0x50), dash: None },
    Look {
        colour: RGBColor(0x56, 0xb4, 0xe9),
        text: RGBColor(0x1c, 0x6c, 0x9c),
        dash: Some((20.0, 5.0)),
    },
    Look {
        colour: RGBColor(0x22, 0x22, 0x22),
        text: RGBColor(0x22, 0x22, 0x22),
        dash: Some((7.0, 7.0)),
    },
];

/// The look of the program at a place in the list; it comes round again after six.
pub(crate) fn look(place: usize) -> Look {
    LOOKS[place % LOOKS.len()]
}

/// Where a text hangs on its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    /// The point is its left end.
    Start,
    /// The point is its middle.
    Middle,
    /// The point is its right end.
    End,
}

/// How a text is set.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Type {
    /// Size of the em, px.
    pub size: f64,
    /// Weight.
    pub bold: bool,
    /// Colour.
    pub colour: RGBColor,
    /// Where it hangs.
    pub anchor: Anchor,
}

impl Type {
    const fn new(size: f64, bold: bool, colour: RGBColor) -> Type {
        Type { size, bold, colour, anchor: Anchor::Start }
    }

    /// The same in another colour.
    pub(crate) const fn in_colour(self, colour: RGBColor) -> Type {
        Type { colour, ..self }
    }

    /// The same on another anchor.
    pub(crate) const fn at(self, anchor: Anchor) -> Type {
        Type { anchor, ..self }
    }

    /// From one baseline to the next, px.
    pub(crate) fn leading(self) -> f64 {
        self.size * 1.22
    }
}

/// The message.
pub(crate) const TITLE: Type = Type::new(25.0, true, INK);
/// Below the message.
pub(crate) const SUBTITLE: Type = Type::new(16.5, false, QUIET);
/// Heads of panels and rows.
pub(crate) const HEAD: Type = Type::new(17.0, true, INK);
/// Ordinary text.
pub(crate) const BODY: Type = Type::new(15.5, false, INK);
/// Numbers on axes, labels at lines.
pub(crate) const SMALL: Type = Type::new(14.0, false, QUIET);
/// Large counts.
pub(crate) const COUNT: Type = Type::new(24.0, true, INK);
