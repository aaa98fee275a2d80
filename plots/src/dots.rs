//! One outcome as countable dots: 20 dots for 20 futures (quantile dot plots; Kay et al. 2016,
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
    /// One value a dot, best 20 (see [`quantile_dots`]); more than 100 are drawn as 100
    /// quantiles.
    pub values: Vec<f64>,
    /// The count, in large letters: "17 of 20". It should agree with the dots: count them.
    pub count: String,
    /// A few words below it: "futures stay under 5 %".
    pub remark: Option<String>,
}

/// What goes into [`dots()`].
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

const ACROSS: (f64, f64) = (EDGE + 12.0, 478.0);
/// Where the words beside a row start, px.
const SIDE: f64 = 506.0;
/// Height that the tallest stack may take, px.
const STACK_HIGH: f64 = 176.0;
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
    let stacks = Stacks { x, mark, better: input.better, lowest: range.0 };
    // One size of dot for all rows, so that stacks can be compared.
    let size = input.rows.iter().map(|r| stacks.fitting(&r.values)).fold(DOT.0, f64::min);
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        if mark.is_some() {
            y = key(canvas, &marks(), y + 4.0)?;
        }
        let first = y + mark.map_or(8.0, |_| SMALL.size + 14.0);
        y = first;
        for row in &input.rows {
            y = draw_row(canvas, row, (&stacks, size), y)?;
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
        (KeyMark::Dot { colour: KEEP, filled: true }, "a future that keeps the line".to_owned()),
        (KeyMark::Dot { colour: MISS, filled: false }, "a future that misses it".to_owned()),
    ]
}

/// A dot: which column it stands in and how high in the stack.
struct Dot {
    column: i64,
    height: usize,
    keeps: bool,
}

/// How dots are put into columns. Columns are as wide as a dot and start at the line, so that
/// none holds dots of both sides.
struct Stacks<'a> {
    x: Scale,
    mark: Option<&'a Mark>,
    better: Better,
    /// No dot stands below this value.
    lowest: f64,
}

impl Stacks<'_> {
    /// Px at which columns start.
    fn origin(&self) -> f64 {
        self.x.at(self.mark.map_or(self.x.range.0, |m| m.value))
    }

    /// Whether a value keeps the line.
    fn keeps(&self, value: f64) -> bool {
        self.mark.is_none_or(|m| match self.better {
            Better::Higher => value >= m.value,
            Better::Lower => value <= m.value,
        })
    }

    /// Stacks dots `size` px wide.
    fn stack(&self, values: &[f64], size: f64) -> Vec<Dot> {
        let column = |value: f64, rounded: fn(f64) -> f64, shift: f64| {
            rounded((self.x.at(value) - self.origin()) / size - shift) as i64
        };
        let lowest = column(self.lowest, f64::ceil, 0.5);
        let mut sorted: Vec<f64> = values.iter().copied().filter_map(drawable).collect();
        if sorted.len() > MOST_DOTS {
            sorted = quantile_dots(&sorted, MOST_DOTS);
        }
        sorted.sort_by(f64::total_cmp);
        let mut dots: Vec<Dot> = Vec::new();
        for value in sorted {
            let keeps = self.keeps(value);
            let place = column(value, f64::floor, 0.0).max(lowest);
            // A dot on the line, or within rounding of it, stands on its own side.
            let right = self.mark.is_none() || keeps == (self.better == Better::Higher);
            let column = if right { place.max(0) } else { place.min(-1) };
            let height = dots.iter().filter(|d| d.column == column).count();
            dots.push(Dot { column, height, keeps });
        }
        dots
    }

    /// The largest dot at which the tallest stack has room, px.
    fn fitting(&self, values: &[f64]) -> f64 {
        let tallest = |size: f64| {
            let heights = self.stack(values, size).into_iter().map(|d| d.height + 1);
            heights.max().unwrap_or(0) as f64 * size
        };
        let sizes = (0..).map(|i| DOT.0 - 0.5 * f64::from(i)).take_while(|s| *s > DOT.1);
        sizes.into_iter().find(|size| tallest(*size) <= STACK_HIGH).unwrap_or(DOT.1)
    }
}

/// Draws a row; gives the y below its floor.
fn draw_row(
    canvas: &mut Canvas<'_>,
    row: &DotRow,
    (stacks, size): (&Stacks<'_>, f64),
    top: f64,
) -> Result<f64, PlotError> {
    let dots = stacks.stack(&row.values, size);
    let tallest = dots.iter().map(|d| d.height + 1).max().unwrap_or(0) as f64;
    let side = Side::set(row)?;
    let floor = top + (tallest * size).max(side.height()) + 12.0;
    canvas.line((EDGE, floor), (WIDTH - EDGE, floor), Stroke::solid(QUIET, 1.2))?;
    let origin = stacks.origin();
    for dot in dots {
        let centre = (
            origin + (dot.column as f64 + 0.5) * size,
            floor - 2.0 - (dot.height as f64 + 0.5) * size,
        );
        let radius = 0.46 * size;
        if dot.keeps {
            canvas.disc(centre, radius, KEEP)?;
        } else {
            canvas.ring(centre, radius, Stroke::solid(MISS, (0.14 * size).max(0.6)))?;
        }
    }
    side.draw(canvas, row, (top + floor - side.height()) / 2.0)?;
    Ok(floor + 8.0)
}

/// The words beside a row: whose it is, the count, a remark.
struct Side {
    name: Vec<String>,
    count: Vec<String>,
    remark: Vec<String>,
}

impl Side {
    fn set(row: &DotRow) -> Result<Side, PlotError> {
        let room = WIDTH - EDGE - SIDE;
        Ok(Side {
            name: wrap(&row.style.name, room, HEAD, 3)?,
            count: wrap(&row.count, room, COUNT, 2)?,
            remark: wrap(row.remark.as_deref().unwrap_or_default(), room, SMALL, 3)?,
        })
    }

    fn height(&self) -> f64 {
        self.name.len() as f64 * HEAD.leading()
            + self.count.len() as f64 * COUNT.leading()
            + self.remark.len() as f64 * SMALL.leading()
    }

    fn draw(&self, canvas: &mut Canvas<'_>, row: &DotRow, top: f64) -> Result<(), PlotError> {
        let face = HEAD.in_colour(look(row.style.place).text);
        let y = draw_lines(canvas, &self.name, (SIDE, top + 0.9 * HEAD.size), face)?;
        let y = y - 0.9 * HEAD.size + 0.95 * COUNT.size;
        let y = draw_lines(canvas, &self.count, (SIDE, y), COUNT)? - COUNT.leading();
        draw_lines(canvas, &self.remark, (SIDE, y + 6.0 + SMALL.size), SMALL)?;
        Ok(())
    }
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

#[cfg(test)]
mod tests {
    use super::{Better, Mark, Stacks, quantile_dots};
    use crate::axis::Scale;

    /// NumPy's documentation of `quantile` (the same type 7) gives 3.5 for the median of
    /// 10, 7, 4, 3, 2, 1; R's gives 3.25 for the first quartile of 1 to 10 (from memory).
    #[test]
    fn quantiles_agree_with_other_libraries() {
        assert_eq!(quantile_dots(&[10.0, 7.0, 4.0, 3.0, 2.0, 1.0], 1), vec![3.5]);
        let tenth: Vec<f64> = (1..=10).map(f64::from).collect();
        assert_eq!(quantile_dots(&tenth, 2), vec![3.25, 7.75]);
        assert_eq!(quantile_dots(&[f64::NAN], 20), Vec::<f64>::new());
    }

    #[test]
    fn no_column_holds_both_sides_and_no_dots_share_a_place() {
        let mark = Mark { value: 5.0, label: String::new() };
        let values: Vec<f64> = (0..40).map(|i| f64::from(i) * 0.25).collect();
        for better in [Better::Lower, Better::Higher] {
            let x = Scale { range: (0.0, 60.0), px: (26.0, 478.0) };
            let stacks = Stacks { x, mark: Some(&mark), better, lowest: 0.0 };
            let size = stacks.fitting(&values);
            let dots = stacks.stack(&values, size);
            assert_eq!(dots.len(), 40);
            for (i, a) in dots.iter().enumerate() {
                assert_eq!(a.keeps, (better == Better::Higher) == (a.column >= 0));
                let shared = |b: &super::Dot| (a.column, a.height) == (b.column, b.height);
                assert!(!dots[i + 1..].iter().any(shared));
            }
        }
    }
}
