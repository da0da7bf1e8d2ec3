//! Widths of a table's columns.

use super::super::model::{Column, ColumnKind};
use super::layout::Layout;
use super::lines::widest_word;
use super::look;
use crate::report::fit::share;

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
            let head = widest_word(self.faces, &column.head, look::COLUMN);
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
                ColumnKind::Room => (full.max(look::ROOM), word.max(0.5 * look::ROOM)),
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
        // A table is as wide as the page.
        let rest = (room - widths.iter().sum::<f32>()).max(0.0);
        let total = weights.iter().sum::<f32>();
        let spread = widths.iter().zip(&weights);
        let widths = spread.map(|(width, weight)| width + rest * weight / total);
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
