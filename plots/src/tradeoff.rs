//! Cost against odds: what it takes to make something hold more often.

use plotters::style::RGBColor;

use crate::axis::{Frame, Scale, airy, drawable, extent};
use crate::canvas::{Canvas, DASHED, Point, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{KeyMark, foot, head, key};
use crate::input::{Caption, Mark};
use crate::picture::Picture;
use crate::style::{Anchor, BODY, EDGE, GRID, INK, KEEP, PAPER, QUIET, SMALL, Type, WIDTH, look};
use crate::text::{draw_lines, wrap};

/// One program that was played.
#[derive(Clone, Debug, PartialEq)]
pub struct Priced {
    /// What it costs, in the axis's unit.
    pub cost: f64,
    /// In how many marks of the scale all holds.
    pub marks: f64,
}

/// A program with a name.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedPrice {
    /// Where it lies.
    pub at: Priced,
    /// Its name, and what stands on the line below it.
    pub name: String,
    /// Its figures: "$540, 2 of 20".
    pub figures: String,
    /// Its place in the list of programs, which chooses its colour; `None` for the one found.
    pub place: Option<usize>,
}

/// What goes into [`tradeoff()`].
#[derive(Clone, Debug, PartialEq)]
pub struct TradeoffPicture {
    /// Its words.
    pub caption: Caption,
    /// The cost with its unit: "Cost over 2 seasons, $".
    pub axis: String,
    /// What holds: "Futures of 20 in which all of it holds".
    pub odds: String,
    /// The scale of the odds: 20, 10 or 5.
    pub scale: u32,
    /// The odds that are wanted.
    pub wanted: Mark,
    /// Programs that no other beats, the cheapest first.
    pub curve: Vec<Priced>,
    /// The others that were judged.
    pub others: Vec<Priced>,
    /// Those with a name.
    pub named: Vec<NamedPrice>,
    /// What the small dots are: "other programs that were tried".
    pub dots: String,
}

const ACROSS: (f64, f64) = (48.0, WIDTH - EDGE - 8.0);
const HIGH: f64 = 380.0;
/// The axis goes on above the most that there is, for labels: so far where few programs lie near the top,
/// and where many do.
const HEADROOM: (f64, f64) = (1.2, 1.36);
/// Near the top is above this part of the scale.
const NEAR_TOP: f64 = 0.6;
/// Most programs near the top whose labels find room there without more of it.
const FEW: usize = 3;
/// What a leader across another label counts, as px that its label stands further off.
const CROSSED: f64 = 2500.0;
/// What a px2 of a mark or label that is hidden counts, beside one of a line: as much as a px further off.
const HIDDEN: f64 = 20.0;
/// Room of a label, px.
const LABEL: f64 = 290.0;
/// Half the size of a named program's mark, px.
const HALF: f64 = 8.5;
/// A label as far as this from its mark has a leader, px.
const LED: f64 = HALF + 8.0;
/// Places for a label are this far apart, px.
const STEP: f64 = 6.0;

/// Draws cost against odds.
///
/// # Errors
/// [`PlotError::Empty`] without a program that can be drawn.
pub fn tradeoff(input: &TradeoffPicture) -> Result<Picture, PlotError> {
    let all = || {
        let named = input.named.iter().map(|n| &n.at);
        input.curve.iter().chain(&input.others).chain(named)
    };
    let Some(costs) = extent(all().map(|p| p.cost), None) else {
        return Err(PlotError::Empty { what: "programs" });
    };
    let x = Scale { range: airy(costs, 0.07), px: ACROSS };
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        let entries = [
            (KeyMark::Dot { colour: INK, filled: true }, "the one found".to_owned()),
            (KeyMark::Dot { colour: QUIET, filled: false }, input.dots.clone()),
        ];
        y = key(canvas, &entries, y + 4.0)? + 6.0;
        for line in wrap(&input.odds, WIDTH - 2.0 * EDGE, BODY, 2)? {
            canvas.text(&line, (EDGE, y + BODY.size), BODY)?;
            y += BODY.leading();
        }
        let top = y + 14.0;
        let bottom = top + HIGH;
        let scale = f64::from(input.scale);
        let near_top = input.named.iter().filter(|n| n.at.marks > NEAR_TOP * scale).count();
        let headroom = if near_top > FEW { HEADROOM.1 } else { HEADROOM.0 };
        let frame =
            Frame { x, y: Scale { range: (-0.07 * scale, headroom * scale), px: (bottom, top) } };
        odds_axis(canvas, input, &frame)?;
        let at = frame.y.at(input.wanted.value);
        canvas.line((ACROSS.0, at), (ACROSS.1, at), DASHED)?;
        let place = |p: &Priced| (frame.x.at(p.cost), frame.y.at(p.marks));
        let mut taken: Vec<Spot> = steps(canvas, input, &place)?;
        for one in input.others.iter().chain(&input.curve) {
            let (px, py) = place(one);
            canvas.disc((px, py), 5.0, PAPER)?;
            canvas.ring((px, py), 5.0, Stroke::solid(QUIET, 1.8))?;
            taken.push(Spot::around((px, py), 6.0, 6.0));
        }
        let label = BODY.at(Anchor::Start);
        let words = &input.wanted.label;
        let wide = width(words, label)?;
        let left = (ACROSS.0 + 6.0, at - 5.0);
        let right = (ACROSS.1 - wide - 2.0, at - 5.0);
        let free = |from: Point| {
            let mine =
                Spot { left: from.0, top: from.1 - BODY.size, right: from.0 + wide, bottom: at };
            let marks = input.named.iter().map(|n| Spot::around(place(&n.at), HALF, HALF));
            (!marks.chain(taken.iter().copied()).any(|other| other.meets(&mine))).then_some(mine)
        };
        let (from, mine) = [left, right]
            .into_iter()
            .find_map(|from| Some((from, free(from)?)))
            .unwrap_or((left, Spot::around(left, 1.0, 1.0)));
        canvas.text(words, from, label)?;
        taken.push(mine);
        taken.push(Spot { left: ACROSS.0, top: at - 2.0, right: ACROSS.1, bottom: at + 2.0 });
        named(canvas, input, &place, (top, bottom), taken)?;
        y = cost_axis(canvas, input, &frame.x, bottom)?;
        foot(canvas, &input.caption, y)
    })
}

fn odds_axis(
    canvas: &mut Canvas<'_>,
    input: &TradeoffPicture,
    frame: &Frame,
) -> Result<(), PlotError> {
    let step = (input.scale / 5).max(1);
    for mark in (0..=input.scale).step_by(step as usize) {
        let y = frame.y.at(f64::from(mark));
        canvas.line((ACROSS.0, y), (ACROSS.1, y), Stroke::solid(GRID, 1.0))?;
        let face = SMALL.at(Anchor::End);
        canvas.text(&mark.to_string(), (ACROSS.0 - 6.0, y + 0.36 * face.size), face)?;
    }
    Ok(())
}

/// The best odds that each cost buys: level to the next dearer program, then up; gives the places that the
/// line takes.
fn steps(
    canvas: &mut Canvas<'_>,
    input: &TradeoffPicture,
    place: &impl Fn(&Priced) -> Point,
) -> Result<Vec<Spot>, PlotError> {
    let mut line: Vec<Point> = Vec::new();
    for one in &input.curve {
        if drawable(one.cost).is_none() {
            continue;
        }
        let (px, py) = place(one);
        if let Some(&(_, before)) = line.last() {
            line.push((px, before));
        }
        line.push((px, py));
    }
    if let Some(&(_, last)) = line.last() {
        line.push((ACROSS.1, last));
    }
    canvas.path(&line, Stroke { opacity: 0.55, ..Stroke::solid(KEEP, 3.0) })?;
    let piece = |ends: &[Point]| Spot {
        left: ends[0].0.min(ends[1].0) - 2.0,
        top: ends[0].1.min(ends[1].1) - 2.0,
        right: ends[0].0.max(ends[1].0) + 2.0,
        bottom: ends[0].1.max(ends[1].1) + 2.0,
    };
    Ok(line.windows(2).map(piece).collect())
}

/// A rectangle that is taken.
#[derive(Clone, Copy, Debug)]
struct Spot {
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
}

impl Spot {
    fn around((x, y): Point, wide: f64, high: f64) -> Spot {
        Spot { left: x - wide, top: y - high, right: x + wide, bottom: y + high }
    }

    fn meets(&self, other: &Spot) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    fn holds(&self, (x, y): Point) -> bool {
        (self.left..=self.right).contains(&x) && (self.top..=self.bottom).contains(&y)
    }

    /// Its point that is nearest to another.
    fn nearest(&self, at: Point) -> Point {
        (at.0.clamp(self.left, self.right), at.1.clamp(self.top, self.bottom))
    }

    /// Whether a straight line runs through it, looked at every few px.
    fn crossed(&self, from: Point, to: Point) -> bool {
        (0..=40).map(|i| f64::from(i) / 40.0).any(|share| {
            self.holds((from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1)))
        })
    }

    /// By how much it overlaps another, px2.
    fn overlap(&self, other: &Spot) -> f64 {
        let across = self.right.min(other.right) - self.left.max(other.left);
        let down = self.bottom.min(other.bottom) - self.top.max(other.top);
        across.max(0.0) * down.max(0.0)
    }
}

/// Marks of the named programs, each with its label where there is room for it.
fn named(
    canvas: &mut Canvas<'_>,
    input: &TradeoffPicture,
    place: &impl Fn(&Priced) -> Point,
    (top, bottom): (f64, f64),
    mut taken: Vec<Spot>,
) -> Result<(), PlotError> {
    for one in &input.named {
        let at = place(&one.at);
        let colour = one.place.map_or(INK, |place| look(place).colour);
        if one.place.is_some() {
            let corner = (at.0 - HALF, at.1 - HALF);
            canvas.rect(
                (corner.0 - 2.0, corner.1 - 2.0),
                (2.0 * HALF + 4.0, 2.0 * HALF + 4.0),
                PAPER,
                1.0,
            )?;
            canvas.rect(corner, (2.0 * HALF, 2.0 * HALF), colour, 1.0)?;
        } else {
            canvas.disc(at, HALF + 4.0, PAPER)?;
            canvas.disc(at, HALF + 2.0, colour)?;
        }
        taken.push(Spot::around(at, HALF + 3.0, HALF + 3.0));
    }
    let marks = taken.len() - input.named.len();
    let mut leaders = Vec::new();
    for one in &input.named {
        let text = one.place.map_or(INK, |place| look(place).text);
        let face = Type { bold: true, ..BODY.in_colour(text) };
        let small = SMALL.in_colour(INK);
        let lines = wrap(&one.name, LABEL, face, 2)?;
        let mut wide = width(&one.figures, small)?;
        for line in &lines {
            wide = wide.max(width(line, face)?);
        }
        let high = lines.len() as f64 * face.leading() + small.leading();
        let at = place(&one.at);
        let spot = room(at, (wide, high), (top, bottom), (&taken, &taken[marks..]), &leaders);
        taken.push(spot);
        leaders.push((at, spot.nearest(at)));
        canvas.rect((spot.left - 2.0, spot.top), (wide + 4.0, high), PAPER, 0.8)?;
        leader(canvas, at, &spot, text)?;
        let mut y = spot.top + 0.5 * face.leading() + 0.36 * face.size;
        for line in &lines {
            canvas.text(line, (spot.left, y), face)?;
            y += face.leading();
        }
        canvas.text(&one.figures, (spot.left, y), small)?;
    }
    Ok(())
}

/// The best place for a label of this size, looked for all over the plot: near its mark, hiding nothing, no
/// leader through other `words`, none of the earlier `leaders` through it.
fn room(
    at: Point,
    (wide, high): (f64, f64),
    (top, bottom): (f64, f64),
    (taken, words): (&[Spot], &[Spot]),
    leaders: &[(Point, Point)],
) -> Spot {
    let steps = |from: f64, to: f64| {
        let count = ((to - from).max(0.0) / STEP) as usize;
        (0..=count).map(move |i| from + i as f64 * STEP)
    };
    let mut best: Option<(f64, Spot)> = None;
    for upper in steps(top, bottom - high) {
        for left in steps(ACROSS.0 + 2.0, WIDTH - EDGE - wide) {
            let spot = Spot { left, top: upper, right: left + wide, bottom: upper + high };
            let near = spot.nearest(at);
            let away = (near.0 - at.0).hypot(near.1 - at.1);
            if away < HALF + 6.0 || best.is_some_and(|(least, _)| away >= least) {
                continue;
            }
            let led = away >= LED;
            let through = |o: &&Spot| led && !o.holds(at) && o.crossed(at, near);
            let crossed = words.iter().filter(through).count()
                + leaders.iter().filter(|(from, to)| spot.crossed(*from, *to)).count();
            let cost = away
                + taken.iter().map(|other| spot.overlap(other)).sum::<f64>()
                + HIDDEN * words.iter().map(|other| spot.overlap(other)).sum::<f64>()
                + CROSSED * crossed as f64;
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, spot));
            }
        }
    }
    best.map_or(Spot::around(at, wide / 2.0, high / 2.0), |(_, spot)| spot)
}

/// A thin line from a mark to a label that stands apart from it.
fn leader(
    canvas: &mut Canvas<'_>,
    at: Point,
    spot: &Spot,
    colour: RGBColor,
) -> Result<(), PlotError> {
    let near = spot.nearest(at);
    let (dx, dy) = (near.0 - at.0, near.1 - at.1);
    let long = dx.hypot(dy);
    if long < LED {
        return Ok(());
    }
    let from = (at.0 + dx / long * (HALF + 2.0), at.1 + dy / long * (HALF + 2.0));
    let to = (near.0 - dx / long * 2.0, near.1 - dy / long * 2.0);
    canvas.line(from, to, Stroke::solid(colour, 1.2))
}

/// The axis of cost; gives the y below its words.
fn cost_axis(
    canvas: &mut Canvas<'_>,
    input: &TradeoffPicture,
    x: &Scale,
    top: f64,
) -> Result<f64, PlotError> {
    let face = SMALL.in_colour(INK).at(Anchor::Middle);
    canvas.line((x.px.0, top), (x.px.1, top), Stroke::solid(QUIET, 1.2))?;
    let ticks = x.ticks(7);
    for &value in ticks.values.iter().filter(|v| **v >= 0.0) {
        let at = x.at(value);
        canvas.line((at, top), (at, top + 5.0), Stroke::solid(QUIET, 1.2))?;
        canvas.text(&ticks.label(value), (at, top + 7.0 + face.size), face)?;
    }
    let face = BODY.at(Anchor::Middle);
    let lines = wrap(&input.axis, x.px.1 - x.px.0, face, 2)?;
    let middle = (x.px.0 + x.px.1) / 2.0;
    let baseline = top + 7.0 + SMALL.size + 6.0 + BODY.size;
    Ok(draw_lines(canvas, &lines, (middle, baseline), face)? - BODY.leading() + 6.0)
}
