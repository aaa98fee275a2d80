//! Dates of the year, a row an event: where they usually fall, and single years as dots.

use crate::axis::{Frame, Scale, month_starts, months_of_a_year};
use crate::canvas::{Canvas, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{KeyMark, ROOM, foot, head, key};
use crate::input::{Caption, Dates};
use crate::picture::Picture;
use crate::style::{Anchor, BODY, EDGE, GRID, INK, SMALL, TRACK, WIDTH, look};
use crate::text::shorten;

/// One event of the year.
#[derive(Clone, Debug, PartialEq)]
pub struct SpanRow {
    /// What it is.
    pub title: String,
    /// 5, 25, 50, 75 and 95 % quantiles of its day, counted from the picture's first; `None` leaves the
    /// row to its dots.
    pub spread: Option<[f64; 5]>,
    /// Single years: the day, and a label (the year) where there is room.
    pub dots: Vec<(f64, String)>,
    /// In words beside the title: "27 Mar to 16 Apr".
    pub told: String,
}

/// What goes into [`spans()`].
#[derive(Clone, Debug, PartialEq)]
pub struct SpansPicture {
    /// Its words.
    pub caption: Caption,
    /// The days of the axis, of any common year.
    pub dates: Dates,
    /// What the thick and the thin part of a spread are.
    pub spread: [String; 2],
    /// What a dot is.
    pub dots: String,
    /// From top to bottom, at least one.
    pub rows: Vec<SpanRow>,
}

const ACROSS: (f64, f64) = (EDGE + 8.0, WIDTH - EDGE - 8.0);
/// Height of a spread, px.
const THICK: f64 = 20.0;
/// Radius of dots with labels and without, px.
const RADIUS: f64 = 5.0;
const RADIUS_MANY: f64 = 3.4;

/// Draws dates of the year.
///
/// # Errors
/// [`PlotError::Empty`] without days or rows; [`PlotError::Dates`] where the days leave the calendar.
pub fn spans(input: &SpansPicture) -> Result<Picture, PlotError> {
    input.dates.check()?;
    if input.rows.is_empty() {
        return Err(PlotError::Empty { what: "rows" });
    }
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        y = key(canvas, &entries(input), y + 4.0)? + 6.0;
        let x = Frame::new(input.dates.days, ACROSS, Scale { range: (0.0, 1.0), px: (0.0, 1.0) }).x;
        let top = y;
        let high = input.rows.iter().map(|row| height(row, &x)).sum::<Result<f64, _>>()?;
        for day in month_starts(&input.dates) {
            let at = x.at(day as f64);
            canvas.line((at, top), (at, top + high), Stroke::solid(GRID, 1.0))?;
        }
        for row in &input.rows {
            y = draw_row(canvas, row, &x, y)?;
        }
        y = months_of_a_year(canvas, &input.dates, &x, y)?;
        foot(canvas, &input.caption, y)
    })
}

fn entries(input: &SpansPicture) -> Vec<(KeyMark, String)> {
    let mut entries = vec![];
    if input.rows.iter().any(|row| row.spread.is_some()) {
        entries.push((KeyMark::Patch(look(0).colour, 0.35), input.spread[0].clone()));
        entries.push((KeyMark::Program(0), input.spread[1].clone()));
    }
    if input.rows.iter().any(|row| !row.dots.is_empty()) {
        entries.push((KeyMark::Dot { colour: INK, filled: true }, input.dots.clone()));
    }
    entries
}

/// Where the dots of a row go: x, lane from 0, and whether all labels fit.
struct Placed {
    dots: Vec<(f64, usize)>,
    lanes: usize,
    labelled: bool,
}

impl Placed {
    fn radius(&self) -> f64 {
        radius(self.labelled)
    }

    /// Height of a lane of dots, px.
    fn lane(&self) -> f64 {
        if self.labelled { SMALL.leading() } else { 2.0 * RADIUS_MANY + 1.0 }
    }
}

fn radius(labelled: bool) -> f64 {
    if labelled { RADIUS } else { RADIUS_MANY }
}

/// Puts dots into lanes so that none hides another; with their labels where four lanes are enough.
fn place(row: &SpanRow, x: &Scale) -> Result<Placed, PlotError> {
    let face = SMALL.at(Anchor::Start);
    let mut order: Vec<usize> = (0..row.dots.len()).collect();
    order.sort_by(|&a, &b| row.dots[a].0.total_cmp(&row.dots[b].0));
    for labelled in [true, false] {
        let mut dots = vec![(0.0, 0); row.dots.len()];
        let mut ends: Vec<f64> = vec![];
        for &i in &order {
            let (day, words) = &row.dots[i];
            let at = x.at(day + 0.5);
            let wide = if labelled { width(words, face)? + 5.0 } else { 0.0 };
            let lane =
                ends.iter().position(|end| at - radius(labelled) >= *end).unwrap_or(ends.len());
            let end = at + radius(labelled) + wide + if labelled { 3.0 } else { 0.5 };
            if lane == ends.len() {
                ends.push(end);
            }
            ends[lane] = end;
            dots[i] = (at, lane);
        }
        let inside = !labelled || ends.iter().all(|end| *end <= WIDTH - 2.0);
        let few = ends.len() <= 4 && inside;
        if few || !labelled {
            return Ok(Placed { dots, lanes: ends.len(), labelled });
        }
    }
    Ok(Placed { dots: vec![], lanes: 0, labelled: false })
}

fn height(row: &SpanRow, x: &Scale) -> Result<f64, PlotError> {
    let placed = place(row, x)?;
    let spread = if row.spread.is_some() { THICK + 6.0 } else { 0.0 };
    Ok(BODY.leading() + 8.0 + spread + placed.lanes as f64 * placed.lane() + 12.0)
}

fn draw_row(canvas: &mut Canvas<'_>, row: &SpanRow, x: &Scale, top: f64) -> Result<f64, PlotError> {
    let placed = place(row, x)?;
    let baseline = top + BODY.size + 2.0;
    let told = shorten(&row.told, 0.5 * ROOM, SMALL)?;
    let room = ROOM - width(&told, SMALL)? - 12.0;
    canvas.text(&shorten(&row.title, room, BODY)?, (EDGE, baseline), BODY)?;
    canvas.text(&told, (WIDTH - EDGE, baseline), SMALL.in_colour(INK).at(Anchor::End))?;
    let mut y = top + BODY.leading() + 8.0;
    if let Some(spread) = row.spread {
        let [p05, p25, p50, p75, p95] = spread.map(|day| x.at(day + 0.5));
        let middle = y + THICK / 2.0;
        canvas.rect((x.px.0, y), (x.px.1 - x.px.0, THICK), TRACK, 0.7)?;
        canvas.line((p05, middle), (p95, middle), Stroke::solid(look(0).colour, 3.6))?;
        // The middle half may be a single day.
        canvas.rect((p25 - 1.0, y), (p75 - p25 + 2.0, THICK), look(0).colour, 0.35)?;
        canvas.line((p50, y), (p50, y + THICK), Stroke::solid(look(0).colour, 3.6))?;
        y += THICK + 6.0;
    }
    let lane_high = placed.lane();
    for ((at, lane), (_, words)) in placed.dots.iter().zip(&row.dots) {
        let middle = y + (*lane as f64 + 0.5) * lane_high;
        canvas.disc((*at, middle), placed.radius(), INK)?;
        if placed.labelled {
            canvas.text(words, (at + RADIUS + 4.0, middle + 0.36 * SMALL.size), SMALL)?;
        }
    }
    Ok(y + placed.lanes as f64 * lane_high + 12.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(dots: usize) -> SpanRow {
        let day = |i: usize| ((i * 7 % 20) as f64, "2012".to_owned());
        SpanRow {
            title: "Event".into(),
            spread: None,
            dots: (0..dots).map(day).collect(),
            told: String::new(),
        }
    }

    /// However many years there are, no dot lies on another, and few have their names.
    #[test]
    fn dots_and_their_labels_never_overlap() {
        let x = Scale { range: (0.0, 60.0), px: ACROSS };
        for dots in [1, 4, 12, 60] {
            let row = row(dots);
            let placed = place(&row, &x).unwrap();
            assert_eq!(placed.dots.len(), dots);
            assert!(placed.labelled || dots > 4);
            let wide = if placed.labelled { width("2012", SMALL).unwrap() } else { 0.0 };
            for (i, a) in placed.dots.iter().enumerate() {
                for b in &placed.dots[i + 1..] {
                    let apart = (a.0 - b.0).abs() >= 2.0 * placed.radius() + wide;
                    assert!(a.1 != b.1 || apart, "{a:?} {b:?}");
                }
            }
        }
    }
}
