//! One outcome as countable dots: 20 dots for 20 seasons (quantile dot plots; Kay et al. 2016,
//! Fernandes et al. 2018).

use crate::axis::{Scale, airy, drawable, extent};
use crate::canvas::{Canvas, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{KeyMark, ROOM, foot, head, key};
use crate::input::{Caption, Mark, ProgramStyle};
use crate::picture::Picture;
use crate::style::{Anchor, COUNT, EDGE, HEAD, INK, KEEP, MISS, QUIET, SMALL, WIDTH, look};
use crate::text::{draw_lines, shorten, wrap};

/// Which side of the line is good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// At or above the line.
    Higher,
    /// At or below the line.
    Lower,
}

/// One program's dots.
#[derive(Clone, Debug, PartialEq)]
pub struct DotRow {
    /// Its name and place.
    pub style: ProgramStyle,
    /// One value a dot, best 20 (see [`quantile_dots`]); at most 100 are drawn.
    pub values: Vec<f64>,
    /// The count, in large letters: "17 of 20".
    pub count: String,
    /// A few words below it: "seasons stay under 5 %".
    pub remark: Option<String>,
}

/// What goes into [`dots`].
#[derive(Clone, Debug, PartialEq)]
pub struct DotsPicture {
    /// Its words.
    pub caption: Caption,
    /// The outcome with its unit, under the axis: "Crabgrass at its worst, % of the lawn".
    pub axis: String,
    /// The axis shows at least this (low, high). It grows to hold the data.
    pub range: Option<(f64, f64)>,
    /// The line to keep, where there is one.
    pub line: Option<Mark>,
    /// Which side of the line is good.
    pub better: Better,
    /// One a program.
    pub rows: Vec<DotRow>,
}

/// `n` values that stand for many: the quantiles (i + 1/2)/n of `values`, interpolated between
/// order statistics (Hyndman & Fan 1996, type 7). Missing values are left out; none where all are.
///
/// ```
/// let dots = plots::quantile_dots(&[4.0, 1.0, 3.0, 2.0], 2);
/// assert_eq!(dots, vec![1.75, 3.25]);
/// ```
pub fn quantile_dots(values: &[f64], n: usize) -> Vec<f64> {
    let mut sorted: Vec<f64> = values.iter().copied().filter(|v| v.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    let Some(last) = sorted.len().checked_sub(1) else { return Vec::new() };
    (0..n)
        .map(|i| {
            let at = (i as f64 + 0.5) / n as f64 * last as f64;
            let below = at.floor() as usize;
            let above = (below + 1).min(last);
            sorted[below] + (at - at.floor()) * (sorted[above] - sorted[below])
        })
        .collect()
}

const ACROSS: (f64, f64) = (EDGE + 10.0, 548.0);
const STACK_HIGH: f64 = 118.0;
const MOST_DOTS: usize = 100;
/// Largest and least width of a dot's place, px.
const DOT: (f64, f64) = (19.0, 1.0);

/// Draws one row of dots a program, over one axis.
///
/// # Errors
/// [`PlotError::Empty`] without rows.
pub fn dots(input: &DotsPicture) -> Result<Picture, PlotError> {
    if input.rows.is_empty() {
        return Err(PlotError::Empty { what: "rows" });
    }
    let mark = input.line.as_ref().filter(|m| drawable(m.value).is_some());
    let values = input.rows.iter().flat_map(|r| r.values.iter().copied());
    let range = extent(values.chain(mark.map(|m| m.value)), input.range).unwrap_or((0.0, 1.0));
    let x = Scale { range: airy(range, 0.03), px: ACROSS };
    let places: Vec<Places> =
        input.rows.iter().map(|row| Places::find(&row.values, mark, input.better, &x)).collect();
    // One size of dot for all rows, so that stacks can be compared.
    let size = places.iter().map(|p| p.fitting).fold(DOT.0, f64::min);
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        if mark.is_some() {
            y = key(canvas, &marks(), y)?;
        }
        let first = y + mark.map_or(0.0, |_| SMALL.size + 10.0);
        y = first;
        for row in &input.rows {
            y = draw_row(canvas, row, (&x, size), mark, input.better, y)?;
        }
        if let Some(mark) = mark {
            draw_mark(canvas, mark, &x, (first, y))?;
        }
        y = value_axis(canvas, &x, &input.axis, y)?;
        foot(canvas, &input.caption, y)
    })
}

fn marks() -> [(KeyMark, String); 2] {
    [
        (KeyMark::Dot { colour: KEEP, filled: true }, "a season that keeps the line".to_owned()),
        (KeyMark::Dot { colour: MISS, filled: false }, "a season that misses it".to_owned()),
    ]
}

/// Whether a value keeps the line.
fn keeps(value: f64, mark: Option<&Mark>, better: Better) -> bool {
    mark.is_none_or(|m| match better {
        Better::Higher => value >= m.value,
        Better::Lower => value <= m.value,
    })
}

/// A dot: which column it stands in and how high in the stack.
struct Dot {
    column: i64,
    height: usize,
    keeps: bool,
}

/// Where the dots of a row stand.
struct Places {
    /// The largest dot at which the stacks fit, px.
    fitting: f64,
}

impl Places {
    fn find(values: &[f64], mark: Option<&Mark>, better: Better, x: &Scale) -> Places {
        let mut size = DOT.0;
        while size > DOT.1 {
            let tallest = stack(values, mark, better, x, size).iter().map(|d| d.height + 1).max();
            if tallest.unwrap_or(0) as f64 * size <= STACK_HIGH {
                break;
            }
            size -= 0.5;
        }
        Places { fitting: size }
    }
}

/// Stacks dots in columns as wide as a dot. Columns start at the line, so that none holds dots of
/// both sides.
fn stack(values: &[f64], mark: Option<&Mark>, better: Better, x: &Scale, size: f64) -> Vec<Dot> {
    let origin = x.at(mark.map_or(x.range.0, |m| m.value));
    let mut sorted: Vec<f64> = values.iter().copied().filter_map(drawable).collect();
    sorted.sort_by(f64::total_cmp);
    sorted.truncate(MOST_DOTS);
    let mut dots: Vec<Dot> = Vec::new();
    for value in sorted {
        let keeps = keeps(value, mark, better);
        let mut column = ((x.at(value) - origin) / size).floor() as i64;
        // A dot on the line, or within rounding of it, stands on its own side.
        let right = mark.is_none() || keeps == (better == Better::Higher);
        column = if right { column.max(0) } else { column.min(-1) };
        let height = dots.iter().filter(|d| d.column == column).count();
        dots.push(Dot { column, height, keeps });
    }
    dots
}

/// Draws a row; gives the y of its floor.
fn draw_row(
    canvas: &mut Canvas<'_>,
    row: &DotRow,
    (x, size): (&Scale, f64),
    mark: Option<&Mark>,
    better: Better,
    top: f64,
) -> Result<f64, PlotError> {
    let face = HEAD.in_colour(look(row.style.place).text);
    let name = shorten(&row.style.name, ROOM, face)?;
    canvas.text(&name, (EDGE, top + 4.0 + face.size), face)?;
    let top = top + face.size + 12.0;
    let dots = stack(&row.values, mark, better, x, size);
    let tallest = dots.iter().map(|d| d.height + 1).max().unwrap_or(0) as f64;
    let side_high = side_height(row)?;
    let floor = top + (tallest * size).max(side_high).max(40.0) + 4.0;
    canvas.line((ACROSS.0 - 10.0, floor), (ACROSS.1, floor), Stroke::solid(QUIET, 1.2))?;
    let origin = x.at(mark.map_or(x.range.0, |m| m.value));
    for dot in dots {
        let centre = (
            origin + (dot.column as f64 + 0.5) * size,
            floor - 1.0 - (dot.height as f64 + 0.5) * size,
        );
        let radius = 0.46 * size;
        if dot.keeps {
            canvas.disc(centre, radius, KEEP)?;
        } else {
            canvas.ring(centre, radius, Stroke::solid(MISS, (0.14 * size).max(0.6)))?;
        }
    }
    draw_side(canvas, row, (top + floor - side_high) / 2.0)?;
    Ok(floor + 8.0)
}

const SIDE: f64 = ACROSS.1 + 16.0;

fn side_height(row: &DotRow) -> Result<f64, PlotError> {
    let remark = row.remark.as_deref().unwrap_or_default();
    let lines = wrap(remark, WIDTH - EDGE - SIDE, SMALL, 3)?.len();
    Ok(COUNT.leading() + lines as f64 * SMALL.leading())
}

/// Draws the count and the remark beside the dots.
fn draw_side(canvas: &mut Canvas<'_>, row: &DotRow, top: f64) -> Result<(), PlotError> {
    let room = WIDTH - EDGE - SIDE;
    let count = shorten(&row.count, room, COUNT)?;
    canvas.text(&count, (SIDE, top + 0.9 * COUNT.size), COUNT)?;
    let lines = wrap(row.remark.as_deref().unwrap_or_default(), room, SMALL, 3)?;
    draw_lines(canvas, &lines, (SIDE, top + COUNT.leading() + SMALL.size), SMALL)?;
    Ok(())
}

/// Draws the line to keep through all rows, its label above.
fn draw_mark(
    canvas: &mut Canvas<'_>,
    mark: &Mark,
    x: &Scale,
    (top, bottom): (f64, f64),
) -> Result<(), PlotError> {
    let at = x.at(mark.value);
    let dashed = Stroke { dash: Some((6.0, 4.0)), ..Stroke::solid(INK, 1.8) };
    canvas.line((at, top), (at, bottom), dashed)?;
    let face = SMALL.in_colour(INK).at(Anchor::Middle);
    let label = shorten(&mark.label, ROOM, face)?;
    let half = width(&label, face)? / 2.0;
    let middle = at.min(WIDTH - EDGE - half).max(EDGE + half);
    canvas.text(&label, (middle, top - 6.0), face)
}

/// Draws the axis under the last row; gives the y below it.
fn value_axis(canvas: &mut Canvas<'_>, x: &Scale, words: &str, top: f64) -> Result<f64, PlotError> {
    let ticks = x.ticks(6);
    let face = SMALL.at(Anchor::Middle);
    let mut free = f64::NEG_INFINITY;
    for &value in &ticks.values {
        let at = x.at(value);
        canvas.line((at, top - 8.0), (at, top - 2.0), Stroke::solid(QUIET, 1.2))?;
        let label = ticks.label(value);
        let half = width(&label, face)? / 2.0;
        if at - half >= free {
            canvas.text(&label, (at.max(half + 4.0), top + face.size), face)?;
            free = at + half + 6.0;
        }
    }
    let words = wrap(words, ROOM, SMALL.in_colour(INK), 2)?;
    let y = top + 2.0 * face.size + 7.0;
    Ok(draw_lines(canvas, &words, (EDGE, y), SMALL.in_colour(INK))? - SMALL.leading() + 4.0)
}
