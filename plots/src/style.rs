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
/// vision and in greyscale (Tol 2021, SRON/EPS/TN/09-002, from memory); teal and violet were sought
/// out to lie far from these and from each other in every kind of vision (see the tests).
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
    Look { colour: RGBColor(0x44, 0xbb, 0xaa), text: RGBColor(0x00, 0x6e, 0x5c), dash: None },
    Look {
        colour: RGBColor(0x99, 0x77, 0xee),
        text: RGBColor(0x5a, 0x35, 0xb8),
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

#[cfg(test)]
mod tests {
    use super::{KEEP, LOOKS, MISS, QUIET, RGBColor};

    type Linear = [f64; 3];

    /// sRGB to linear light (IEC 61966-2-1).
    fn linear(colour: RGBColor) -> Linear {
        [colour.0, colour.1, colour.2].map(|c| {
            let c = f64::from(c) / 255.0;
            if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        })
    }

    fn luminance(c: Linear) -> f64 {
        0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]
    }

    /// CIE L*, a*, b* under D65.
    fn lab(c: Linear) -> [f64; 3] {
        let f = |t: f64| if t > 0.008_856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 };
        let x = f((0.4124 * c[0] + 0.3576 * c[1] + 0.1805 * c[2]) / 0.9505);
        let y = f(luminance(c));
        let z = f((0.0193 * c[0] + 0.1192 * c[1] + 0.9505 * c[2]) / 1.089);
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    fn distance(a: Linear, b: Linear) -> f64 {
        let (a, b) = (lab(a), lab(b));
        (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt()
    }

    fn seen(c: Linear, eye: &[[f64; 3]; 3]) -> Linear {
        let row = |r: [f64; 3]| (r[0] * c[0] + r[1] * c[1] + r[2] * c[2]).clamp(0.0, 1.0);
        [row(eye[0]), row(eye[1]), row(eye[2])]
    }

    /// Usual vision, then protanopia, deuteranopia and tritanopia: the matrices of Machado, Oliveira &
    /// Fernandes 2009, IEEE Transactions on Visualization and Computer Graphics 15:1291, severity 1,
    /// on linear light.
    const EYES: [[[f64; 3]; 3]; 4] = [
        [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ];

    /// Keeping and missing a line, and each pair of the first so many programs.
    fn pairs(programs: usize) -> Vec<(Linear, Linear)> {
        let mut pairs = vec![(KEEP, MISS)];
        for (i, a) in LOOKS[..programs].iter().enumerate() {
            pairs.extend(LOOKS[i + 1..programs].iter().map(|b| (a.colour, b.colour)));
        }
        pairs.into_iter().map(|(a, b)| (linear(a), linear(b))).collect()
    }

    /// A difference of 20 in CIE 1976 units is told at a glance; 2.3 is just noticeable (Mahy, Van
    /// Eycken & Oosterlinck 1994, Color Research & Application 19:105, from memory).
    #[test]
    fn programs_are_told_apart_with_any_colour_vision() {
        for (a, b) in pairs(LOOKS.len()) {
            for eye in &EYES {
                let apart = distance(seen(a, eye), seen(b, eye));
                assert!(apart > 20.0, "{a:?} {b:?} {apart}");
            }
        }
    }

    /// More than three fill and dash alike in grey; their dashes and labels tell them apart.
    #[test]
    fn three_programs_are_told_apart_in_grey() {
        for (a, b) in pairs(3) {
            let grey = (lab(a)[0] - lab(b)[0]).abs();
            assert!(grey > 15.0, "{a:?} {b:?} {grey} in greyscale");
        }
    }

    /// WCAG 2.1, success criterion 1.4.3: text has a contrast of at least 4.5 to 1.
    #[test]
    fn text_stands_out_from_the_paper() {
        for colour in LOOKS.iter().map(|l| l.text).chain([QUIET]) {
            let contrast = 1.05 / (luminance(linear(colour)) + 0.05);
            assert!(contrast >= 4.5, "{colour:?}: {contrast}");
        }
    }

    /// Neighbours in the list, and programs of like colour, differ in line style or both.
    #[test]
    fn looks_are_all_different() {
        for (i, a) in LOOKS.iter().enumerate() {
            for b in &LOOKS[i + 1..] {
                assert!(a.colour != b.colour);
                let apart = distance(linear(a.colour), linear(b.colour));
                assert!(a.dash != b.dash || apart > 40.0, "{a:?} {b:?}");
            }
        }
    }
}
