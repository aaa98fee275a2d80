//! Bands over time: the middle half filled, nine in ten as thin edges, the median as a line.

use crate::axis::{Frame, drawable};
use crate::canvas::{Canvas, Point, Stroke};
use crate::error::PlotError;
use crate::input::BandSeries;
use crate::style::{Look, PAPER};

/// Opacity of a band's fill where it is the only one.
pub(crate) const FILL: f64 = 0.2;

/// Draws the fill, of an opacity, and the thin edges of a band. Medians come later, above all
/// fills.
pub(crate) fn draw_spread(
    canvas: &mut Canvas<'_>,
    frame: &Frame,
    band: &BandSeries,
    look: Look,
    fill: f64,
) -> Result<(), PlotError> {
    draw_between(canvas, frame, (&band.p25, &band.p75), look.colour, fill)?;
    for edge in [&band.p05, &band.p95] {
        // The program's own dashes: where edges coincide, each shows in the gaps of the next.
        let thin = Stroke { colour: look.colour, opacity: 0.8, width: 1.2, dash: look.dash };
        draw_series(canvas, frame, edge, thin)?;
    }
    Ok(())
}

/// Draws medians, with a pale rim that lifts them off whatever they cross. All rims come first:
/// where medians coincide, each shows in the gaps of the next one's dashes.
pub(crate) fn draw_medians(
    canvas: &mut Canvas<'_>,
    frame: &Frame,
    medians: &[(&[f64], Look)],
) -> Result<(), PlotError> {
    for (median, _) in medians {
        let rim = Stroke { colour: PAPER, opacity: 0.75, width: 5.6, dash: None };
        draw_series(canvas, frame, median, rim)?;
    }
    for (median, look) in medians {
        let stroke = Stroke { colour: look.colour, opacity: 1.0, width: 3.2, dash: look.dash };
        draw_series(canvas, frame, median, stroke)?;
    }
    Ok(())
}

/// Draws a daily series as a line, broken where values are missing.
pub(crate) fn draw_series(
    canvas: &mut Canvas<'_>,
    frame: &Frame,
    values: &[f64],
    stroke: Stroke,
) -> Result<(), PlotError> {
    for run in runs(values.len(), |day| drawable(values[day]).is_some()) {
        canvas.path(&line(frame, values, run), stroke)?;
    }
    Ok(())
}

/// Fills the room between two daily series.
pub(crate) fn draw_between(
    canvas: &mut Canvas<'_>,
    frame: &Frame,
    (lower, upper): (&[f64], &[f64]),
    colour: plotters::style::RGBColor,
    opacity: f64,
) -> Result<(), PlotError> {
    let both = |day: usize| drawable(lower[day]).and(drawable(upper[day])).is_some();
    for run in runs(lower.len().min(upper.len()), both) {
        let mut outline = line(frame, lower, run);
        outline.extend(line(frame, upper, run).into_iter().rev());
        canvas.fill(&outline, colour, opacity)?;
    }
    Ok(())
}

/// The last value that can be drawn.
pub(crate) fn last(values: &[f64]) -> f64 {
    values.iter().rev().copied().find_map(drawable).unwrap_or(f64::NAN)
}

/// Runs of days (first, end) on which `good` holds.
fn runs(days: usize, good: impl Fn(usize) -> bool) -> Vec<(usize, usize)> {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for day in (0..days).filter(|d| good(*d)) {
        match runs.last_mut() {
            Some(run) if run.1 == day => run.1 = day + 1,
            _ => runs.push((day, day + 1)),
        }
    }
    runs
}

/// The points of a run, without those that no eye would miss. A single day is drawn as wide as it
/// is, and at least 4 px.
fn line(frame: &Frame, values: &[f64], (start, end): (usize, usize)) -> Vec<Point> {
    if end - start == 1 {
        let y = frame.y.at(values[start]);
        let half = ((frame.x.at(1.0) - frame.x.at(0.0)) / 2.0).max(2.0);
        let middle = frame.day(start);
        return vec![(middle - half, y), (middle + half, y)];
    }
    let points: Vec<Point> = (start..end).map(|d| (frame.day(d), frame.y.at(values[d]))).collect();
    thinned(&points, 0.2)
}

/// Leaves out points that lie within `slack` px of the line through those kept
/// (Ramer-Douglas-Peucker, upright distance).
fn thinned(points: &[Point], slack: f64) -> Vec<Point> {
    let mut keep = vec![false; points.len()];
    let mut open = vec![(0, points.len().saturating_sub(1))];
    while let Some((a, b)) = open.pop() {
        let (Some(&(xa, ya)), Some(&(xb, yb))) = (points.get(a), points.get(b)) else { break };
        (keep[a], keep[b]) = (true, true);
        let off = |i: usize| {
            let (x, y) = points[i];
            (y - (ya + (yb - ya) * (x - xa) / (xb - xa))).abs()
        };
        let worst = (a + 1..b).max_by(|&i, &j| off(i).total_cmp(&off(j)));
        if let Some(worst) = worst.filter(|&i| off(i) > slack) {
            open.push((a, worst));
            open.push((worst, b));
        }
    }
    points.iter().zip(keep).filter_map(|(p, keep)| keep.then_some(*p)).collect()
}

#[cfg(test)]
mod tests {
    use super::{runs, thinned};

    #[test]
    fn gaps_break_a_series() {
        let good = [true, true, false, true, false, false, true];
        assert_eq!(runs(7, |d| good[d]), vec![(0, 2), (3, 4), (6, 7)]);
    }

    #[test]
    fn thinning_keeps_corners_and_stays_close() {
        let curve: Vec<(f64, f64)> =
            (0..500).map(|i| (f64::from(i), 60.0 * (f64::from(i) / 40.0).sin())).collect();
        let thin = thinned(&curve, 0.12);
        assert!(thin.len() < 250, "{}", thin.len());
        for &(x, y) in &curve {
            let after = thin.iter().position(|p| p.0 >= x).unwrap();
            let (b, a) = (thin[after], thin[after.saturating_sub(1)]);
            let on = if b.0 > a.0 { a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0) } else { b.1 };
            assert!((on - y).abs() <= 0.12 + 1e-9);
        }
    }
}
