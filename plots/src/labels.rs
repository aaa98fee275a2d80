//! Labels at the ends of lines, moved apart so that they never overlap.

use crate::canvas::{Canvas, Stroke};
use crate::error::PlotError;
use crate::style::{SMALL, Type};
use crate::text::wrap;

/// A label that wants to be at a height.
pub(crate) struct Label {
    /// Height of the thing that it names, px; `NaN` where that is not drawn.
    pub y: f64,
    /// What it says.
    pub text: String,
    /// How.
    pub face: Type,
    /// Whether it belongs to a line that ends there and gets a leader.
    pub leader: bool,
}

/// Room between two labels, px.
const GAP: f64 = 2.0;

/// Height that a list of labels needs with one line each, px.
pub(crate) fn least_height(labels: usize) -> f64 {
    labels as f64 * (SMALL.leading() + GAP)
}

/// Moves intervals (wanted middle, height) the least apart within `top..bottom`; gives their
/// tops in the order of the input. Where they cannot all fit they run over the bottom.
pub(crate) fn dodge(wanted: &[(f64, f64)], top: f64, bottom: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    // Lines that end within a few px of each other keep the order of the list.
    order.sort_by_key(|&i| (wanted[i].0 / 3.0).round() as i64);
    // Blocks of touching intervals, each centred on the mean of what its members want
    // (pool adjacent violators).
    let mut blocks: Vec<Block> = Vec::new();
    for &i in &order {
        let (middle, height) = wanted[i];
        let mut block = Block { members: vec![i], sum: middle - height / 2.0, height, top: 0.0 };
        block.settle(top, bottom);
        while let Some(above) = blocks.pop_if(|above| above.top + above.height > block.top) {
            block = above.join(block);
            block.settle(top, bottom);
        }
        blocks.push(block);
    }
    let mut tops = vec![top; wanted.len()];
    for block in &blocks {
        let mut y = block.top;
        for &i in &block.members {
            tops[i] = y;
            y += wanted[i].1;
        }
    }
    tops
}

/// Intervals stacked without room between them.
struct Block {
    members: Vec<usize>,
    /// Sum over the members of where the block's top would suit each.
    sum: f64,
    height: f64,
    top: f64,
}

impl Block {
    fn settle(&mut self, top: f64, bottom: f64) {
        let wish = self.sum / self.members.len() as f64;
        self.top = wish.min(bottom - self.height).max(top);
    }

    fn join(mut self, below: Block) -> Block {
        self.sum += below.sum - self.height * below.members.len() as f64;
        self.height += below.height;
        self.members.extend(below.members);
        self
    }
}

/// Draws labels to the right of `x`, `room` px wide, within `top..bottom`.
pub(crate) fn draw_labels(
    canvas: &mut Canvas<'_>,
    labels: &[Label],
    x: f64,
    room: f64,
    (top, bottom): (f64, f64),
) -> Result<(), PlotError> {
    let arm = 16.0;
    let set = |lines: usize| {
        labels
            .iter()
            .map(|l| wrap(&l.text, room - arm, l.face, lines))
            .collect::<Result<Vec<_>, _>>()
    };
    let high = |lines: &[Vec<String>]| -> f64 {
        lines.iter().zip(labels).map(|(t, l)| t.len() as f64 * l.face.leading() + GAP).sum()
    };
    let mut lines = set(3)?;
    for most in [2, 1] {
        if high(&lines) > bottom - top {
            lines = set(most)?;
        }
    }
    let wanted: Vec<(f64, f64)> = labels
        .iter()
        .zip(&lines)
        .map(|(l, t)| {
            let y = if l.y.is_finite() { l.y } else { (top + bottom) / 2.0 };
            (y, t.len() as f64 * l.face.leading() + GAP)
        })
        .collect();
    let tops = dodge(&wanted, top, bottom);
    for (((label, lines), (_, height)), y) in labels.iter().zip(&lines).zip(&wanted).zip(tops) {
        if label.leader && label.y.is_finite() {
            let thin = Stroke::solid(label.face.colour, 1.2);
            canvas.line((x + 2.0, label.y), (x + arm - 4.0, y + height / 2.0), thin)?;
        }
        let mut baseline = y + GAP / 2.0 + 0.5 * label.face.leading() + 0.36 * label.face.size;
        for line in lines {
            canvas.text(line, (x + arm, baseline), label.face)?;
            baseline += label.face.leading();
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::dodge;

    fn apart(wanted: &[(f64, f64)], top: f64, bottom: f64) -> Vec<f64> {
        let tops = dodge(wanted, top, bottom);
        let mut spans: Vec<(f64, f64)> =
            tops.iter().zip(wanted).map(|(t, w)| (*t, t + w.1)).collect();
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        for pair in spans.windows(2) {
            assert!(pair[0].1 <= pair[1].0 + 1e-9, "{spans:?}");
        }
        assert!(spans.iter().all(|s| s.0 >= top - 1e-9 && s.1 <= bottom + 1e-9), "{spans:?}");
        tops
    }

    #[test]
    fn free_labels_stay_where_they_want_to_be() {
        let tops = apart(&[(20.0, 10.0), (60.0, 10.0)], 0.0, 100.0);
        assert_eq!(tops, vec![15.0, 55.0]);
    }

    #[test]
    fn crowded_labels_move_apart_evenly_and_stay_inside() {
        let tops = apart(&[(50.0, 10.0), (50.0, 10.0), (51.0, 10.0)], 0.0, 100.0);
        assert!((tops.iter().sum::<f64>() / 3.0 + 5.0 - 50.333).abs() < 0.01, "{tops:?}");
        apart(&[(99.0, 20.0), (98.0, 20.0), (97.0, 20.0), (3.0, 20.0)], 0.0, 100.0);
        apart(&[(0.0, 25.0), (1.0, 25.0), (2.0, 25.0), (100.0, 25.0)], 0.0, 100.0);
    }
}
