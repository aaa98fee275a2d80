//! Bands of runs too large to hold: integer counts between fixed edges, in flat memory.
//!
//! The first members are held and give each measure-day its edges, their least and greatest value;
//! 252 even bins lie between. Values at an edge have slots of their own, since many measures stand
//! at a bound in many members (no crabgrass in March, a full cover). A quantile is then right to
//! half a bin, 0.2 % of the range of the first members. Means are kept as integer sums. Counts and sums
//! of parts of a run add up to those of the whole, whatever the parts.

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::bands::interpolated;
use super::{Band, TrackRows};

/// Below, at the low edge, even bins, at the high edge, above.
const SLOTS: usize = 256;
const EVEN: usize = SLOTS - 4;

/// Steps to 1 in a sum: values of `f32` above 2^-8 are whole numbers of steps, and 2^31 is the largest
/// that a step count holds.
const STEPS: f64 = (1u64 << 32) as f64;

/// Counts of every measure-day.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct Bins {
    members: usize,
    /// Values a day.
    width: usize,
    edges: Vec<Edges>,
    /// `SLOTS` for each measure-day.
    counts: Vec<u32>,
}

/// What one measure-day's counts stand between.
#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
struct Edges {
    low: f32,
    high: f32,
    least: f32,
    greatest: f32,
    /// Sum of the values, in [`STEPS`].
    sum: i128,
}

impl Bins {
    /// Edges from the first members, `width` values a day; nothing is counted yet.
    pub(super) fn between<'r>(
        first: impl Iterator<Item = &'r TrackRows>,
        days: usize,
        width: usize,
    ) -> Bins {
        let cells = days * width;
        let mut edges = vec![Edges::NONE; cells];
        for row in first {
            for (edges, value) in edges.iter_mut().zip(row) {
                edges.low = edges.low.min(*value);
                edges.high = edges.high.max(*value);
            }
        }
        Bins { members: 0, width, edges, counts: vec![0; cells * SLOTS] }
    }

    /// Whether this many members were counted over these days and values a day.
    pub(super) fn fits(&self, members: usize, days: usize, width: usize) -> bool {
        let cells = days * width;
        let counted = |counts: &[u32]| counts.iter().map(|n| *n as usize).sum::<usize>() == members;
        (self.members, self.width) == (members, width)
            && (self.edges.len(), self.counts.len()) == (cells, cells * SLOTS)
            && self.counts.chunks_exact(SLOTS).all(counted)
    }

    /// Adds the counts of other members; `false`, and no use any more, where they were counted between
    /// other edges.
    pub(super) fn join(&mut self, other: &Bins) -> bool {
        self.members += other.members;
        self.counts.iter_mut().zip(&other.counts).for_each(|(ours, theirs)| *ours += theirs);
        let alike = (self.width, self.edges.len()) == (other.width, other.edges.len());
        let edges = self.edges.iter_mut().zip(&other.edges);
        edges.fold(alike, |same, (ours, theirs)| same & ours.join(theirs))
    }

    /// Counts more members. Days are counted apart, members in order: threads change nothing.
    pub(super) fn add(&mut self, rows: &[TrackRows]) {
        self.members += rows.len();
        let width = self.width;
        let days = self.edges.par_chunks_mut(width);
        let counts = self.counts.par_chunks_mut(width * SLOTS);
        days.zip(counts).enumerate().for_each(|(day, (edges, counts))| {
            for row in rows {
                let values = row.get(day * width..).unwrap_or_default();
                let cells = edges.iter_mut().zip(counts.chunks_exact_mut(SLOTS)).zip(values);
                for ((edges, counts), value) in cells {
                    counts[edges.slot(*value)] += 1;
                    edges.take(*value);
                }
            }
        });
    }

    /// One band a measure.
    pub(super) fn bands(&self) -> Vec<Band> {
        let mut bands = vec![Band::default(); self.width];
        let cells = self.edges.iter().zip(self.counts.chunks_exact(SLOTS));
        for (cell, (edges, counts)) in cells.enumerate() {
            let band = &mut bands[cell % self.width];
            let quantile = |p| interpolated(self.members, p, |rank| edges.value(counts, rank));
            band.p05.push(quantile(0.05));
            band.p25.push(quantile(0.25));
            band.p50.push(quantile(0.50));
            band.p75.push(quantile(0.75));
            band.p95.push(quantile(0.95));
            band.mean.push(edges.sum as f64 / STEPS / self.members as f64);
        }
        bands
    }
}

impl Edges {
    /// Around no value yet.
    const NONE: Edges = Edges {
        low: f32::INFINITY,
        high: f32::NEG_INFINITY,
        least: f32::INFINITY,
        greatest: f32::NEG_INFINITY,
        sum: 0,
    };

    #[inline]
    fn slot(&self, value: f32) -> usize {
        if value <= self.low {
            usize::from(value == self.low)
        } else if value >= self.high {
            SLOTS - 1 - usize::from(value == self.high)
        } else {
            let along = (value - self.low) / (self.high - self.low);
            2 + ((along * EVEN as f32) as usize).min(EVEN - 1)
        }
    }

    #[inline]
    fn take(&mut self, value: f32) {
        self.least = self.least.min(value);
        self.greatest = self.greatest.max(value);
        self.sum += i128::from((f64::from(value) * STEPS) as i64);
    }

    fn join(&mut self, other: &Edges) -> bool {
        self.least = self.least.min(other.least);
        self.greatest = self.greatest.max(other.greatest);
        self.sum = self.sum.saturating_add(other.sum);
        (self.low.to_bits(), self.high.to_bits()) == (other.low.to_bits(), other.high.to_bits())
    }

    /// About the value of the order statistic of a rank: members of a slot are spread evenly in it.
    fn value(&self, counts: &[u32], rank: usize) -> f64 {
        let mut before = 0;
        for (slot, count) in counts.iter().map(|count| *count as usize).enumerate() {
            if rank < before + count {
                let (from, to) = self.bounds(slot);
                let along = (rank - before) as f64 + 0.5;
                return from + (to - from) * along / count as f64;
            }
            before += count;
        }
        f64::from(self.greatest)
    }

    fn bounds(&self, slot: usize) -> (f64, f64) {
        let (low, high) = (f64::from(self.low), f64::from(self.high));
        match slot {
            0 => (f64::from(self.least), low),
            1 => (low, low),
            _ if slot == SLOTS - 2 => (high, high),
            _ if slot == SLOTS - 1 => (high, f64::from(self.greatest)),
            _ => {
                let edge = |at: usize| low + (high - low) * at as f64 / EVEN as f64;
                (edge(slot - 2), edge(slot - 1))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{MEASURES, bands};
    use super::*;
    use crate::draw::{Purpose, Streams, standard_normal, uniform};

    /// Two days: a normal, a skewed, a spiked and a constant measure among others.
    fn rows(members: u32) -> Vec<TrackRows> {
        let streams = Streams::new(8);
        let row = |member| {
            let rng = &mut streams.of_member(member, Purpose::Weather);
            let mut row: TrackRows = (0..2 * MEASURES.len()).map(|cell| cell as f32).collect();
            for day in 0..2 {
                let z = standard_normal(rng);
                let at = day * MEASURES.len();
                row[at] = (40.0 + 10.0 * z) as f32;
                row[at + 1] = (z.exp()) as f32;
                row[at + 2] = if uniform(rng) < 0.6 { 0.0 } else { (5.0 * uniform(rng)) as f32 };
            }
            row
        };
        (0..members).map(row).collect()
    }

    fn binned(rows: &[TrackRows]) -> Vec<Band> {
        let mut bins = Bins::between(rows[..512].iter(), 2, MEASURES.len());
        for batch in rows.chunks(100) {
            bins.add(batch);
        }
        bins.bands()
    }

    /// Against the exact quantiles: within one bin of the first members' range.
    #[test]
    fn counts_agree_with_exact_quantiles() {
        let rows = rows(4000);
        for (measure, (ours, exact)) in binned(&rows).iter().zip(bands(&rows, 2)).enumerate() {
            for day in 0..2 {
                let cell = day * MEASURES.len() + measure;
                let values = rows[..512].iter().map(|row| f64::from(row[cell]));
                let (low, high) =
                    values.fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
                let bin = (high - low) / EVEN as f64 + 1e-9;
                let pairs = [
                    (ours.p05[day], exact.p05[day]),
                    (ours.p25[day], exact.p25[day]),
                    (ours.p50[day], exact.p50[day]),
                    (ours.p75[day], exact.p75[day]),
                    (ours.p95[day], exact.p95[day]),
                ];
                for (ours, exact) in pairs {
                    assert!((ours - exact).abs() <= bin, "{measure}: {ours} {exact} {bin}");
                }
                assert!((ours.mean[day] - exact.mean[day]).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn spikes_and_constants_are_exact() {
        let bands = binned(&rows(4000));
        assert_eq!((bands[2].p05[0], bands[2].p50[1]), (0.0, 0.0));
        assert_eq!((bands[7].p05[0], bands[7].p95[0]), (7.0, 7.0));
    }

    #[test]
    fn batches_change_nothing() {
        let rows = rows(1500);
        let empty = Bins::between(rows[..512].iter(), 2, MEASURES.len());
        let mut once = empty.clone();
        once.add(&rows);
        assert_eq!(once.bands(), binned(&rows));
        let (mut here, mut there) = (empty.clone(), empty);
        here.add(&rows[..37]);
        there.add(&rows[37..]);
        assert!(here.join(&there) && here.fits(1500, 2, MEASURES.len()));
        assert_eq!(once.bands(), here.bands());
    }

    #[test]
    fn other_edges_are_not_joined() {
        let rows = rows(600);
        let mut ours = Bins::between(rows[..300].iter(), 2, MEASURES.len());
        assert!(!ours.join(&Bins::between(rows[300..].iter(), 2, MEASURES.len())));
    }

    #[test]
    fn values_beyond_the_first_members_are_kept() {
        let flat = vec![vec![1.0; MEASURES.len()]; 10];
        let mut bins = Bins::between(flat.iter(), 1, MEASURES.len());
        bins.add(&flat);
        bins.add(&vec![vec![5.0; MEASURES.len()]; 990]);
        let band = &bins.bands()[0];
        // Nothing is known between 1 and 5 but the greatest value.
        assert!((1.0..=5.0).contains(&band.p50[0]) && band.p95[0] > band.p50[0]);
        assert!((band.mean[0] - 4.96).abs() < 1e-12);
    }
}
