//! The scorecard: outcomes beside cost and hours, a block an outcome, a line a program.

use plotters::style::RGBColor;

use crate::axis::{Scale, airy, drawable, extent};
use crate::canvas::{Canvas, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{KeyMark, ROOM, foot, head, key};
use crate::input::{Caption, ProgramStyle};
use crate::picture::Picture;
use crate::style::{Anchor, BODY, EDGE, GRID, HEAD, QUIET, SMALL, TRACK, Type, WIDTH, look};
use crate::text::{draw_lines, shorten, wrap};

/// One program's result for one outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoreCell {
    /// Low end of the interval: the 5 % quantile.
    pub low: f64,
    /// The dot: the median.
    pub middle: f64,
    /// High end of the interval: the 95 % quantile.
    pub high: f64,
    /// The middle as it is told: "$590".
    pub text: String,
    /// The interval as it is told: "$545 to $625".
    pub between: Option<String>,
}

/// One outcome, cost or hours.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoreRow {
    /// What: "Crabgrass at its worst".
    pub title: String,
    /// Unit and better side in words: "% of the lawn, less is better".
    pub remark: String,
    /// The axis shows at least this (low, high). It grows to hold the data.
    pub range: Option<(f64, f64)>,
    /// One a program, in the order of the programs.
    pub cells: Vec<ScoreCell>,
}

/// What goes into [`scorecard()`].
#[derive(Clone, Debug, PartialEq)]
pub struct Scorecard {
    /// Its words.
    pub caption: Caption,
    /// What the intervals hold: "9 in 10 futures".
    pub covered: String,
    /// The programs.
    pub programs: Vec<ProgramStyle>,
    /// From top to bottom.
    pub rows: Vec<ScoreRow>,
}

/// Px at which the intervals start.
const LEFT: f64 = 226.0;
/// Least and greatest px at which they end; long numbers push the end to the left.
const RIGHT: (f64, f64) = (400.0, 516.0);
/// Height of a cell with a name of one line.
const LINE: f64 = 25.0;
const MIDDLE: Type = Type { bold: true, ..BODY.at(Anchor::End) };
const BETWEEN: Type = BODY.at(Anchor::End).in_colour(QUIET);

/// Columns and names, the same in every block.
struct Layout {
    /// Px across of the intervals.
    across: (f64, f64),
    /// Right end of the middles, px.
    middles: f64,
    /// The programs' names, in lines.
    names: Vec<Vec<String>>,
}

impl Layout {
    fn set(input: &Scorecard) -> Result<Layout, PlotError> {
        let (mut middle, mut between) = (0.0f64, 0.0f64);
        for cell in input.rows.iter().flat_map(|r| &r.cells) {
            middle = middle.max(width(&cell.text, MIDDLE)?);
            if let Some(text) = &cell.between {
                between = between.max(width(text, BETWEEN)? + 12.0);
            }
        }
        // Between them the numbers may take what the intervals can spare.
        let most = WIDTH - EDGE - RIGHT.0 - 16.0;
        let between = between.min(0.6 * most);
        let middle = middle.min(most - between);
        let right = (WIDTH - EDGE - middle - between - 16.0).clamp(RIGHT.0, RIGHT.1);
        let room = LEFT - 8.0 - EDGE - 10.0;
        let names = input.programs.iter().map(|p| wrap(&p.name, room, BODY, 2));
        Ok(Layout {
            across: (LEFT, right),
            middles: WIDTH - EDGE - between,
            names: names.collect::<Result<_, _>>()?,
        })
    }
}

/// Draws the scorecard.
///
/// # Errors
/// [`PlotError::Empty`] without programs or rows; [`PlotError::Length`] where a row has not one
/// cell a program.
pub fn scorecard(input: &Scorecard) -> Result<Picture, PlotError> {
    for (empty, what) in [(input.programs.is_empty(), "programs"), (input.rows.is_empty(), "rows")]
    {
        if empty {
            return Err(PlotError::Empty { what });
        }
    }
    for row in &input.rows {
        let (expected, found) = (input.programs.len(), row.cells.len());
        if expected != found {
            let what = format!("row \"{}\"", row.title);
            return Err(PlotError::Length { what, expected, found });
        }
    }
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)? + 4.0;
        let bar = KeyMark::Patch(QUIET, 0.5);
        let dot = KeyMark::Dot { colour: QUIET, filled: true };
        let marks = [(dot, "middle future".to_owned()), (bar, input.covered.clone())];
        y = key(canvas, &marks, y)? + 4.0;
        let layout = Layout::set(input)?;
        for row in &input.rows {
            y = draw_row(canvas, input, row, (&layout, y))?;
        }
        foot(canvas, &input.caption, y - 4.0)
    })
}

/// Draws one block; gives the y below it.
fn draw_row(
    canvas: &mut Canvas<'_>,
    input: &Scorecard,
    row: &ScoreRow,
    (layout, top): (&Layout, f64),
) -> Result<f64, PlotError> {
    canvas.line((EDGE, top + 4.0), (WIDTH - EDGE, top + 4.0), Stroke::solid(GRID, 1.5))?;
    let mut y = row_head(canvas, row, top + 6.0)?;
    let ends = row.cells.iter().flat_map(|c| [c.low, c.middle, c.high]);
    let range = airy(extent(ends, row.range).unwrap_or((0.0, 1.0)), 0.02);
    let across = layout.across;
    let x = Scale { range, px: across };
    for ((cell, program), name) in row.cells.iter().zip(&input.programs).zip(&layout.names) {
        let high = LINE.max(name.len() as f64 * BODY.leading() + 6.0);
        let track = (across.1 - across.0 + 16.0, LINE - 6.0);
        canvas.rect((across.0 - 8.0, y + (high - track.1) / 2.0), track, TRACK, 1.0)?;
        draw_name(canvas, program, name, y + high / 2.0)?;
        draw_cell(canvas, cell, look(program.place).colour, (&x, layout), y + high / 2.0)?;
        y += high;
    }
    Ok(y + 6.0)
}

/// Draws the title and the remark beside it, or below where it is long; gives the y below.
fn row_head(canvas: &mut Canvas<'_>, row: &ScoreRow, top: f64) -> Result<f64, PlotError> {
    let title = shorten(&row.title, ROOM, HEAD)?;
    let baseline = top + 4.0 + HEAD.size;
    canvas.text(&title, (EDGE, baseline), HEAD)?;
    let used = width(&title, HEAD)? + 10.0;
    if used + width(&row.remark, SMALL)? <= ROOM {
        canvas.text(&row.remark, (EDGE + used, baseline), SMALL)?;
        return Ok(baseline + 7.0);
    }
    let remark = wrap(&row.remark, ROOM, SMALL, 2)?;
    let below = baseline + SMALL.leading();
    Ok(draw_lines(canvas, &remark, (EDGE, below), SMALL)? - SMALL.leading() + 7.0)
}

/// Draws a program's name around a height.
fn draw_name(
    canvas: &mut Canvas<'_>,
    program: &ProgramStyle,
    lines: &[String],
    y: f64,
) -> Result<(), PlotError> {
    let first = y + 0.36 * BODY.size - 0.5 * lines.len().saturating_sub(1) as f64 * BODY.leading();
    let face = BODY.in_colour(look(program.place).text);
    draw_lines(canvas, lines, (EDGE, first), face)?;
    Ok(())
}

/// Draws an interval with its dot, and its numbers, around a height.
fn draw_cell(
    canvas: &mut Canvas<'_>,
    cell: &ScoreCell,
    colour: RGBColor,
    (x, layout): (&Scale, &Layout),
    y: f64,
) -> Result<(), PlotError> {
    if let (Some(low), Some(high)) = (drawable(cell.low), drawable(cell.high)) {
        let bar = Stroke { colour, opacity: 0.6, width: 6.0, dash: None };
        canvas.line((x.at(low), y), (x.at(high), y), bar)?;
    }
    if let Some(middle) = drawable(cell.middle) {
        canvas.disc((x.at(middle), y), 7.5, colour)?;
    }
    let baseline = y + 0.36 * BODY.size;
    let room = layout.middles - layout.across.1 - 16.0;
    canvas.text(&shorten(&cell.text, room, MIDDLE)?, (layout.middles, baseline), MIDDLE)?;
    if let Some(between) = &cell.between {
        let room = WIDTH - EDGE - layout.middles - 12.0;
        canvas.text(&shorten(between, room, BETWEEN)?, (WIDTH - EDGE, baseline), BETWEEN)?;
    }
    Ok(())
}
