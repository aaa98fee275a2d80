//! The scorecard: outcomes beside cost and hours, a block an outcome, a line a program.

use crate::axis::{Scale, airy, drawable, extent};
use crate::canvas::{Canvas, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{KeyMark, ROOM, foot, head, key};
use crate::input::{Caption, ProgramStyle};
use crate::picture::Picture;
use crate::style::{Anchor, BODY, EDGE, GRID, HEAD, QUIET, SMALL, TRACK, Type, WIDTH, look};
use crate::text::{shorten, wrap};

/// One program's result for one outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoreCell {
    /// Low end of the interval: the 5 % quantile.
    pub low: f64,
    /// The dot: the median.
    pub middle: f64,
    /// High end of the interval: the 95 % quantile.
    pub high: f64,
    /// The number as it is told: "4 % (1 to 9)".
    pub text: String,
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
    /// The programs.
    pub programs: Vec<ProgramStyle>,
    /// From top to bottom.
    pub rows: Vec<ScoreRow>,
}

/// Px across of the intervals.
const ACROSS: (f64, f64) = (236.0, 516.0);
const LINE: f64 = 25.0;

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
        let marks = [(dot, "middle season".to_owned()), (bar, "9 in 10 seasons".to_owned())];
        y = key(canvas, &marks, y)? + 4.0;
        for row in &input.rows {
            y = draw_row(canvas, input, row, y)?;
        }
        foot(canvas, &input.caption, y - 4.0)
    })
}

/// Draws one block; gives the y below it.
fn draw_row(
    canvas: &mut Canvas<'_>,
    input: &Scorecard,
    row: &ScoreRow,
    top: f64,
) -> Result<f64, PlotError> {
    canvas.line((EDGE, top + 4.0), (WIDTH - EDGE, top + 4.0), Stroke::solid(GRID, 1.5))?;
    let mut y = row_head(canvas, row, top + 6.0)?;
    let ends = row.cells.iter().flat_map(|c| [c.low, c.middle, c.high]);
    let range = airy(extent(ends, row.range).unwrap_or((0.0, 1.0)), 0.02);
    let x = Scale { range, px: ACROSS };
    for (cell, program) in row.cells.iter().zip(&input.programs) {
        let middle = y + LINE / 2.0;
        canvas.rect(
            (ACROSS.0 - 8.0, y + 3.0),
            (ACROSS.1 - ACROSS.0 + 16.0, LINE - 6.0),
            TRACK,
            1.0,
        )?;
        draw_cell(canvas, cell, program, &x, middle)?;
        y += LINE;
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
    Ok(crate::text::draw_lines(canvas, &remark, (EDGE, below), SMALL)? - SMALL.leading() + 7.0)
}

/// Draws a program's name, its interval with the dot, and its number.
fn draw_cell(
    canvas: &mut Canvas<'_>,
    cell: &ScoreCell,
    program: &ProgramStyle,
    x: &Scale,
    y: f64,
) -> Result<(), PlotError> {
    let colours = look(program.place);
    let baseline = y + 0.36 * BODY.size;
    let face = BODY.in_colour(colours.text);
    let name = shorten(program.tight(), ACROSS.0 - 8.0 - EDGE - 10.0, face)?;
    canvas.text(&name, (EDGE, baseline), face)?;
    if let (Some(low), Some(high)) = (drawable(cell.low), drawable(cell.high)) {
        let bar = Stroke { colour: colours.colour, opacity: 0.6, width: 6.0, dash: None };
        canvas.line((x.at(low), y), (x.at(high), y), bar)?;
    }
    if let Some(middle) = drawable(cell.middle) {
        canvas.disc((x.at(middle), y), 7.5, colours.colour)?;
    }
    let face = Type { bold: true, ..BODY.at(Anchor::End) };
    let text = shorten(&cell.text, WIDTH - EDGE - ACROSS.1 - 16.0, face)?;
    canvas.text(&text, (WIDTH - EDGE, baseline), face)
}
