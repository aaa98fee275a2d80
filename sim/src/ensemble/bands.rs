//! Bands: exact pointwise quantiles over the members.

use rayon::prelude::*;

use super::{Band, MEASURES, TrackRows};

/// The quantiles of a band.
pub const QUANTILES: [f64; 5] = [0.05, 0.25, 0.50, 0.75, 0.95];

/// Days that one task looks at: each track is then read in stretches of a few cache lines.
const DAYS_A_TASK: usize = 4;

/// Quantile `p` (0..=1) of values in rising order, by linear interpolation between the order
/// statistics around `(n - 1) p`: type 7 of Hyndman & Fan (1996, The American Statistician
/// 50:361-365), R's default. NaN for no values.
pub fn quantile_sorted(sorted: &[f64], p: f64) -> f64 {
    let Some(top) = sorted.len().checked_sub(1) else { return f64::NAN };
    let (below, share) = place(top, p);
    interpolate(sorted[below], sorted[(below + 1).min(top)], share)
}

/// Index of the order statistic at or below quantile `p`, and how far to go towards the next.
fn place(top: usize, p: f64) -> (usize, f64) {
    let at = top as f64 * p.clamp(0.0, 1.0);
    let below = at.floor();
    (below as usize, at - below)
}

fn interpolate(low: f64, high: f64, share: f64) -> f64 {
    low + (high - low) * share
}

/// One band a measure, in the order of [`MEASURES`], from the rows of every member. A row that is
/// shorter than `days` is left out.
///
/// Each measure-day is worked out alone and in the members' order, so threads change nothing.
pub fn bands(rows: &[TrackRows], days: usize) -> Vec<Band> {
    let whole: Vec<&[f32]> =
        rows.iter().map(Vec::as_slice).filter(|r| r.len() >= days * MEASURES.len()).collect();
    let chunks: Vec<Vec<[f64; 6]>> = (0..days.div_ceil(DAYS_A_TASK))
        .into_par_iter()
        .map_init(Vec::new, |columns, chunk| {
            let first = chunk * DAYS_A_TASK;
            summarise(&whole, first, DAYS_A_TASK.min(days - first), columns)
        })
        .collect();
    let mut bands = vec![Band::default(); MEASURES.len()];
    for (cell, [p05, p25, p50, p75, p95, mean]) in chunks.into_iter().flatten().enumerate() {
        let band = &mut bands[cell % MEASURES.len()];
        band.p05.push(p05);
        band.p25.push(p25);
        band.p50.push(p50);
        band.p75.push(p75);
        band.p95.push(p95);
        band.mean.push(mean);
    }
    bands
}

/// The five quantiles and the mean of every cell of some days, in the order of the rows.
/// `columns` is room to work in, kept between tasks.
fn summarise(
    rows: &[&[f32]],
    first_day: usize,
    days: usize,
    columns: &mut Vec<f32>,
) -> Vec<[f64; 6]> {
    let (from, cells) = (first_day * MEASURES.len(), days * MEASURES.len());
    if rows.is_empty() {
        return vec![[f64::NAN; 6]; cells];
    }
    columns.resize(cells * rows.len(), 0.0);
    for (member, row) in rows.iter().enumerate() {
        for (cell, value) in row[from..from + cells].iter().enumerate() {
            columns[cell * rows.len() + member] = *value;
        }
    }
    columns.chunks_exact_mut(rows.len()).take(cells).map(summary).collect()
}

/// Quantiles and mean of one measure-day; all NaN where there are no values. Reorders the values.
fn summary(values: &mut [f32]) -> [f64; 6] {
    let mut out = [f64::NAN; 6];
    let Some(top) = values.len().checked_sub(1) else { return out };
    // In the members' order, so that the sum is the same whatever thread does it.
    let sum = values.iter().fold(0.0, |sum, value| sum + f64::from(*value));
    out[5] = sum / values.len() as f64;
    // From the top down: `rest` holds the smallest values with its last one in its sorted place,
    // `above` is the order statistic just beyond it. Each pass searches only what is left.
    let mut rest = values;
    let mut above = rest[0];
    for (slot, p) in out[..5].iter_mut().zip(QUANTILES).rev() {
        let (below, share) = place(top, p);
        if below + 1 < rest.len() {
            let (_, _, beyond) = rest.select_nth_unstable_by(below, f32::total_cmp);
            above = beyond.iter().copied().min_by(f32::total_cmp).unwrap_or(above);
        }
        let low = f64::from(rest[below]);
        let high = if share > 0.0 { f64::from(above) } else { low };
        *slot = interpolate(low, high, share);
        rest = &mut rest[..=below];
    }
    out
}
