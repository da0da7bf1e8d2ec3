//! Widths of a table's columns.

use super::super::model::{Column, ColumnKind};
use super::layout::Layout;
use super::lines::widest_word;
use super::look;

/// A column's place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Slot {
    pub(super) x: f32,
    pub(super) width: f32,
    /// Whether its words stand at the right.
    pub(super) right: bool,
}

impl Layout<'_> {
    /// Where each column stands. A column gets what its cells need; where that
    /// is too much, columns of words share what is left by their weights.
    pub(super) fn slots(&self, columns: &[Column], texts: &[Vec<String>]) -> Vec<Slot> {
        let gutters = look::GUTTER * columns.len().saturating_sub(1) as f32;
        let room = self.width() - gutters;
        let (mut natural, mut wanted, mut least) = (Vec::new(), Vec::new(), Vec::new());
        for (n, column) in columns.iter().enumerate() {
            let head = widest_word(self.faces, column.head, look::COLUMN);
            // Headings may break, so that they do not widen a column of figures.
            let (mut full, mut word): (f32, f32) = (head, head);
            // Marks may be set in bold.
            let bold = column.kind == ColumnKind::Mark;
            for text in texts.iter().filter_map(|row| row.get(n)) {
                let width = self.faces.width(text, bold) * look::CELL.size;
                full = full.max(width);
                if width > word {
                    word = word.max(widest_word(self.faces, text, look::CELL));
                }
            }
            // What a column of words must have: its longest word, unless that is
            // so long that it would push the others off the page. The names of
            // rows are read first, so they wrap last. House rules: a third for
            // names, a sixth for words, a tenth when room is short.
            let (want, need) = match column.kind {
                ColumnKind::Figures | ColumnKind::Mark => (full, full),
                ColumnKind::Head => (full.min(room / 3.0), word.min(room / 10.0)),
                ColumnKind::Words => (word.min(room / 6.0), word.min(room / 10.0)),
            };
            // A little more than measured, so that rounding breaks no line.
            natural.push(full + 0.1);
            wanted.push(want + 0.1);
            least.push(need + 0.1);
        }
        let fits = |widths: &Vec<f32>| widths.iter().sum::<f32>() <= room;
        let least = if fits(&wanted) { wanted } else { least };
        let weights: Vec<f32> = columns.iter().map(weight).collect();
        let widths = share(room, &least, &natural, &weights);
        let mut x = 0.0;
        columns
            .iter()
            .zip(widths)
            .map(|(column, width)| {
                let right = column.kind == ColumnKind::Figures;
                let slot = Slot { x, width, right };
                x += width + look::GUTTER;
                slot
            })
            .collect()
    }
}

/// A weight that is a number above nothing.
fn weight(column: &Column) -> f32 {
    #[expect(clippy::cast_possible_truncation, reason = "a share of a width")]
    let weight = column.weight as f32;
    if weight.is_finite() {
        weight.max(0.01)
    } else {
        1.0
    }
}

/// Shares `room` among columns: first what each must have, then what it would
/// like, and what is left by weight.
fn share(room: f32, least: &[f32], natural: &[f32], weights: &[f32]) -> Vec<f32> {
    let sum = |widths: &[f32]| widths.iter().sum::<f32>();
    if sum(least) > room {
        return level(room, least);
    }
    let mut widths = least.to_vec();
    // Columns reach what they would like at different times, so in rounds; each
    // round settles at least one column.
    for _ in 0..=natural.len() {
        let rest = room - sum(&widths);
        let open: Vec<bool> = widths
            .iter()
            .zip(natural)
            .map(|(w, n)| w + 0.01 < *n)
            .collect();
        let total: f32 = weights
            .iter()
            .zip(&open)
            .filter(|(_, open)| **open)
            .map(|(w, _)| w)
            .sum();
        if rest < 0.05 || total <= 0.0 {
            break;
        }
        for (n, width) in widths.iter_mut().enumerate() {
            if let (Some(true), Some(most), Some(weight)) =
                (open.get(n), natural.get(n), weights.get(n))
            {
                *width = (*width + rest * weight / total).min(*most);
            }
        }
    }
    let rest = (room - sum(&widths)).max(0.0);
    let total = sum(weights);
    widths
        .iter()
        .zip(weights)
        .map(|(width, weight)| width + rest * weight / total)
        .collect()
}

/// Widths when not even what must be has room: the widest columns break, at one
/// width for all of them, and the narrow ones keep what they need. Scaling all
/// alike would leave a figure beside an endless word no room at all.
fn level(room: f32, least: &[f32]) -> Vec<f32> {
    let mut sorted = least.to_vec();
    sorted.sort_by(f32::total_cmp);
    let (mut rest, mut open) = (room, sorted.len() as f32);
    for width in sorted {
        if width * open > rest {
            break;
        }
        rest -= width;
        open -= 1.0;
    }
    let most = rest / open.max(1.0);
    least.iter().map(|width| width.min(most)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Widths to a tenth of a point.
    fn rounded(widths: &[f32]) -> Vec<f32> {
        widths
            .iter()
            .map(|width| (width * 10.0).round() / 10.0)
            .collect()
    }

    #[test]
    fn columns_get_what_they_need_and_the_rest_by_weight() {
        let widths = share(100.0, &[10.0, 20.0], &[20.0, 20.0], &[1.0, 2.0]);
        assert_eq!(rounded(&widths), [40.0, 60.0]);
        let widths = share(100.0, &[10.0, 20.0], &[15.0, 400.0], &[1.0, 1.0]);
        assert_eq!(rounded(&widths), [15.0, 85.0]);
    }

    #[test]
    fn an_endless_word_leaves_its_neighbours_their_room() {
        let widths = share(
            100.0,
            &[10.0, 5_000.0, 20.0, 9_000.0],
            &[10.0, 5_000.0, 20.0, 9_000.0],
            &[1.0; 4],
        );
        assert_eq!(rounded(&widths), [10.0, 35.0, 20.0, 35.0]);
    }
}
