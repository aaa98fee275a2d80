//! When the crew came: a strip a practice and program, the darker the more of the futures.

use crate::axis::Scale;
use crate::canvas::Canvas;
use crate::error::PlotError;
use crate::header::sample;
use crate::input::{Dates, ProgramStyle, check_length};
use crate::style::{BODY, EDGE, INK, SMALL, TRACK, look};
use crate::text::wrap;

/// When one program does one practice.
#[derive(Clone, Debug, PartialEq)]
pub struct PracticeTicks {
    /// Index of the program in the picture's list.
    pub program: usize,
    /// The practice. Practices of the same label are drawn together, a row a program, in the order
    /// in which labels first come.
    pub label: String,
    /// Share of the futures in which it was done on each day, 0 to 1.
    pub shares: Vec<f64>,
}

/// Height of one program's row, px.
const ROW: f64 = 13.0;
/// Width of one piece of a strip, px.
const PIECE: f64 = 4.0;

/// Checks ticks against the picture they belong to.
pub(crate) fn check(
    ticks: &[PracticeTicks],
    programs: usize,
    dates: &Dates,
) -> Result<(), PlotError> {
    for tick in ticks {
        let what = || format!("practice \"{}\"", tick.label);
        if tick.program >= programs {
            return Err(PlotError::UnknownProgram { what: what(), index: tick.program, programs });
        }
        check_length(&tick.shares, dates.days, &what())?;
    }
    Ok(())
}

/// Draws all strips under a shared time axis; gives the y below them.
pub(crate) fn draw_strips(
    canvas: &mut Canvas<'_>,
    ticks: &[PracticeTicks],
    programs: &[ProgramStyle],
    x: &Scale,
    label_room: f64,
    top: f64,
) -> Result<f64, PlotError> {
    let mut labels: Vec<&str> = Vec::new();
    for tick in ticks {
        if !labels.contains(&tick.label.as_str()) {
            labels.push(&tick.label);
        }
    }
    if labels.is_empty() {
        return Ok(top);
    }
    let y = top + BODY.size;
    let words = "When the work falls: the darker, the more futures have it then";
    canvas.text(words, (EDGE, y), BODY.in_colour(INK))?;
    let mut y = y + 10.0;
    for label in labels {
        let lines = wrap(label, label_room, SMALL, 2)?;
        let rows = programs.len() as f64 * ROW;
        let height = rows.max(lines.len() as f64 * SMALL.leading());
        let first = y + (height - rows) / 2.0;
        for (row, program) in programs.iter().enumerate() {
            let at = first + row as f64 * ROW;
            sample(canvas, program.place, (EDGE, at + ROW / 2.0), x.px.0 - EDGE - 8.0)?;
            canvas.rect((x.px.0, at + 1.0), (x.px.1 - x.px.0, ROW - 2.0), TRACK, 1.0)?;
            for tick in ticks.iter().filter(|t| t.program == row && t.label == label) {
                draw_strip(canvas, &tick.shares, x, at + 1.0, program.place)?;
            }
        }
        let above = y + (height - lines.len() as f64 * SMALL.leading()) / 2.0;
        let mut baseline = above + 0.5 * SMALL.leading() + 0.36 * SMALL.size;
        for line in &lines {
            canvas.text(line, (x.px.1 + 8.0, baseline), SMALL.in_colour(INK))?;
            baseline += SMALL.leading();
        }
        y += height + 7.0;
    }
    Ok(y)
}

/// Draws one strip, in pieces of equal darkness.
fn draw_strip(
    canvas: &mut Canvas<'_>,
    shares: &[f64],
    x: &Scale,
    top: f64,
    place: usize,
) -> Result<(), PlotError> {
    let pieces = darkness(shares, ((x.px.1 - x.px.0) / PIECE).round() as usize);
    let wide = (x.px.1 - x.px.0) / pieces.len().max(1) as f64;
    let mut start = 0;
    while start < pieces.len() {
        let level = pieces[start];
        let end = start + pieces[start..].iter().take_while(|p| **p == level).count();
        if level > 0 {
            let corner = (x.px.0 + start as f64 * wide, top);
            let size = ((end - start) as f64 * wide, ROW - 2.0);
            canvas.rect(corner, size, look(place).text, f64::from(level) / 10.0)?;
        }
        start = end;
    }
    Ok(())
}

/// How dark each of `pieces` equal parts of the time is, in tenths: by the share of futures with
/// the practice in it, at most 1. What is rare still shows.
fn darkness(shares: &[f64], pieces: usize) -> Vec<u8> {
    let mut sums = vec![0.0f64; pieces];
    let day_wide = pieces as f64 / shares.len().max(1) as f64;
    for (day, share) in shares.iter().enumerate().filter(|(_, s)| **s > 0.0 && s.is_finite()) {
        let (start, end) = (day as f64 * day_wide, (day + 1) as f64 * day_wide);
        // A day wider than a piece fills all pieces that it touches as much as a whole day would.
        let touched = start as usize..(end.ceil() as usize).min(pieces);
        for (sum, piece) in sums[touched.clone()].iter_mut().zip(touched) {
            let overlap = end.min(piece as f64 + 1.0) - start.max(piece as f64);
            *sum += share * overlap / day_wide.min(1.0);
        }
    }
    sums.into_iter()
        .map(
            |sum| {
                if sum <= 0.0 { 0 } else { (10.0 * sum.min(1.0).powf(0.6)).round().max(1.0) as u8 }
            },
        )
        .collect()
}

#[cfg(test)]
mod tests {
    use super::darkness;

    #[test]
    fn sure_days_are_black_and_rare_ones_still_show() {
        let mut shares = vec![0.0; 365];
        shares[100] = 1.0;
        shares[200] = 0.001;
        shares[300] = f64::NAN;
        let tones = darkness(&shares, 73);
        assert_eq!(tones[20], 10);
        assert_eq!(tones[40], 1);
        assert_eq!(tones.iter().filter(|t| **t > 0).count(), 2);
    }

    #[test]
    fn a_day_wider_than_a_piece_fills_it() {
        assert_eq!(darkness(&[1.0], 3), vec![10, 10, 10]);
    }
}
