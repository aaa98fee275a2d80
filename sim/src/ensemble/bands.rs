//! Bands: exact pointwise quantiles over the members.

use std::ops::Range;

use rayon::prelude::*;

use super::{Band, MEASURES, TrackRows};

/// The quantiles of a band.
pub const QUANTILES: [f64; 5] = [0.05, 0.25, 0.50, 0.75, 0.95];

/// Days that one task looks at: each track is then read in stretches of a few cache lines.
const DAYS_A_TASK: usize = 2;

/// So many keys are sorted faster than a few ranks are sought among them.
const FEW: usize = 400;

/// Quantile `p` (0..=1) of values in rising order, by linear interpolation between the order
/// statistics around `(n - 1) p`: type 7 of Hyndman & Fan (1996, The American Statistician
/// 50:361-365), R's default. NaN for no values.
pub fn quantile_sorted(sorted: &[f64], p: f64) -> f64 {
    interpolated(sorted.len(), p, |rank| sorted[rank])
}

/// Quantile `p` of `count` values, of which `value` gives the order statistic of a rank (0 the
/// least); NaN for no values.
pub(super) fn interpolated(count: usize, p: f64, value: impl Fn(usize) -> f64) -> f64 {
    let Some(top) = count.checked_sub(1) else { return f64::NAN };
    let (below, share) = place(top, p);
    let low = value(below);
    low + (value((below + 1).min(top)) - low) * share
}

/// Index of the order statistic at or below quantile `p`, and how far to go towards the next.
fn place(top: usize, p: f64) -> (usize, f64) {
    let at = top as f64 * p.clamp(0.0, 1.0);
    let below = at.floor();
    (below as usize, at - below)
}

/// One band a measure, in the order of [`MEASURES`], from the rows of every member. A row that is
/// shorter than `days` is left out.
///
/// Each measure-day is worked out alone and in the members' order, so threads change nothing.
pub fn bands(rows: &[TrackRows], days: usize) -> Vec<Band> {
    bands_of(rows, days, MEASURES.len())
}

/// The same of rows that hold `width` values a day.
pub(super) fn bands_of(rows: &[TrackRows], days: usize, width: usize) -> Vec<Band> {
    let whole: Vec<&[f32]> =
        rows.iter().map(Vec::as_slice).filter(|r| r.len() >= days * width).collect();
    let chunks: Vec<Vec<[f64; 6]>> = (0..days.div_ceil(DAYS_A_TASK))
        .into_par_iter()
        .map_init(Vec::new, |columns, chunk| {
            let first = chunk * DAYS_A_TASK;
            let cells = first * width..(first + DAYS_A_TASK).min(days) * width;
            summarise(&whole, cells, columns)
        })
        .collect();
    let mut bands = vec![Band::default(); width];
    for (cell, [p05, p25, p50, p75, p95, mean]) in chunks.into_iter().flatten().enumerate() {
        let band = &mut bands[cell % width];
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
fn summarise(rows: &[&[f32]], of: Range<usize>, columns: &mut Vec<i32>) -> Vec<[f64; 6]> {
    let cells = of.len();
    if rows.is_empty() {
        return vec![[f64::NAN; 6]; cells];
    }
    columns.resize(cells * rows.len(), 0);
    for (member, row) in rows.iter().enumerate() {
        for (cell, value) in row[of.clone()].iter().enumerate() {
            columns[cell * rows.len() + member] = to_key(*value);
        }
    }
    columns.chunks_exact_mut(rows.len()).take(cells).map(summary).collect()
}

/// The integer whose order among integers is the value's order by [`f32::total_cmp`]: negative
/// numbers have their magnitude bits turned. Integers are searched about twice as fast.
fn to_key(value: f32) -> i32 {
    turn(value.to_bits().cast_signed())
}

/// The value of a key.
fn of_key(key: i32) -> f64 {
    f64::from(f32::from_bits(turn(key).cast_unsigned()))
}

/// Its own inverse.
fn turn(bits: i32) -> i32 {
    bits ^ ((bits >> 31).cast_unsigned() >> 1).cast_signed()
}

/// Quantiles and mean of one measure-day, by keys; all NaN where there are none. Reorders the keys.
fn summary(keys: &mut [i32]) -> [f64; 6] {
    let mut out = [f64::NAN; 6];
    let Some(top) = keys.len().checked_sub(1) else { return out };
    out[5] = mean(keys);
    let mut ranks = [0; 2 * QUANTILES.len()];
    for (pair, p) in ranks.chunks_exact_mut(2).zip(QUANTILES) {
        let (below, _) = place(top, p);
        pair.copy_from_slice(&[below, (below + 1).min(top)]);
    }
    // Few members: the ranks of neighbouring quantiles overlap.
    ranks.sort_unstable();
    settle(keys, 0, &ranks);
    for (slot, p) in out.iter_mut().zip(QUANTILES) {
        *slot = interpolated(keys.len(), p, |rank| of_key(keys[rank]));
    }
    out
}

/// Brings these ranks, in rising order, to their sorted places; `keys` begin at rank `first`. The
/// middle one first, so that the others are sought in a part only; few keys are just sorted.
fn settle(keys: &mut [i32], first: usize, ranks: &[usize]) {
    let Some(rank) = ranks.get(ranks.len() / 2) else { return };
    if keys.len() <= FEW {
        keys.sort_unstable();
        return;
    }
    let at = rank - first;
    let (before, _, after) = keys.select_nth_unstable(at);
    let lower = ranks.partition_point(|r| r < rank);
    let upper = ranks.partition_point(|r| r <= rank);
    settle(before, first, &ranks[..lower]);
    settle(after, rank + 1, &ranks[upper..]);
}

/// The mean, summed in the members' order in eight strands so that the processor need not wait for
/// each addition; the strands are the same whatever thread does it.
fn mean(keys: &[i32]) -> f64 {
    let mut strands = [0.0; 8];
    for eight in keys.chunks(8) {
        for (strand, key) in strands.iter_mut().zip(eight) {
            *strand += of_key(*key);
        }
    }
    strands.iter().fold(0.0, |sum, strand| sum + strand) / keys.len() as f64
}
