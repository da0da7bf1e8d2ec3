//! Tables: widths of columns, rows that stay whole, a heading on every page.

use crate::report::style::Mark;
use krilla::tagging::{TableHeaderScope, Tag};

use super::super::model::{Cell, Column, ColumnKind, Grid, Row};
use super::flow::{Piece, Strip, Strips};
use super::layout::Layout;
use super::lines::{Line, Style, widest_word, wrap};
use super::list::NodeId;
use super::look;
use crate::report::fit::share;

/// Space above and below the text of a row, in points. House rule.
const PAD: f32 = 2.2;

/// A column's place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Slot {
    pub(super) x: f32,
    pub(super) width: f32,
    /// Whether its words stand at the right.
    pub(super) right: bool,
}

impl Layout<'_> {
    pub(super) fn grid(&mut self, table: &Grid, parent: NodeId) {
        let columns = table.columns.len();
        if columns == 0 {
            return;
        }
        let texts = self.texts(table);
        let slots = self.slots(&table.columns, &texts);
        let node = self.tree.add(parent, Tag::Table);

        let mut top = Strips::default();
        if !table.caption.trim().is_empty() {
            let caption = self.tree.add(node, Tag::Caption);
            let lines = self.set(&table.caption, look::CAPTION, self.width());
            top.lines(0.0, lines, look::CAPTION, Some(caption));
        }
        let section = self.tree.add(node, Tag::THead);
        let line = self.tree.add(section, Tag::TR);
        let heads: Vec<Option<NodeId>> = (0..columns)
            .map(|_| Some(self.tree.add(line, Tag::TH(TableHeaderScope::Column))))
            .collect();
        top.0.extend(self.heads(&table.columns, &slots, &heads).0);

        let body = self.tree.add(node, Tag::TBody);
        let mut top = Some(top);
        let blank = vec![None; columns];
        for (row, texts) in table.rows.iter().zip(texts) {
            let strips = self.row(&table.columns, &slots, row, texts, body);
            if let Some(mut top) = top.take() {
                // The head and the first row are one.
                let both = top.height() + strips.height();
                self.flow.begin(both);
                top.0.extend(strips.0);
                self.rows(top, &table.columns, &slots, &blank);
                continue;
            }
            if strips.height() > self.flow.room() + 0.5 {
                self.flow.turn();
                let again = self.heads(&table.columns, &slots, &blank);
                self.flow.group(again);
            }
            self.rows(strips, &table.columns, &slots, &blank);
        }
        if let Some(top) = top.take() {
            self.flow.group(top);
        }
        self.flow.gap(look::GAP + 3.0);
    }

    /// Strips of rows; a row taller than a page goes on under a heading of its
    /// own.
    fn rows(
        &mut self,
        strips: Strips,
        columns: &[Column],
        slots: &[Slot],
        blank: &[Option<NodeId>],
    ) {
        for strip in strips.0 {
            if strip.height > self.flow.room() + 0.5 {
                self.flow.turn();
                let again = self.heads(columns, slots, blank);
                for head in again.0 {
                    self.flow.strip(head);
                }
            }
            self.flow.strip(strip);
        }
    }

    /// Every cell as a clean line, as many as there are columns.
    fn texts(&mut self, table: &Grid) -> Vec<Vec<String>> {
        let mut all = Vec::with_capacity(table.rows.len());
        for row in &table.rows {
            let mut cells = Vec::with_capacity(table.columns.len());
            for n in 0..table.columns.len() {
                cells.push(match row.cells.get(n) {
                    Some(Cell::Text(text)) => self.clean(text),
                    Some(Cell::Mark(mark)) => mark.to_string(),
                    None => String::new(),
                });
            }
            all.push(cells);
        }
        all
    }

    /// The headings of the columns between two rules. Without nodes they are the
    /// repetition on a later page.
    fn heads(&mut self, columns: &[Column], slots: &[Slot], nodes: &[Option<NodeId>]) -> Strips {
        let width = self.width();
        let cells: Vec<Vec<Piece>> = columns
            .iter()
            .zip(slots)
            .zip(nodes)
            .map(|((column, slot), &node)| {
                let lines = wrap(self.faces, &column.head, look::COLUMN, slot.width);
                pieces(lines, *slot, look::COLUMN, node, None)
            })
            .collect();
        let mut strips = Strips::default();
        strips.0.push(ruled(1.5, width, look::HEAVY, 0));
        strips.space(PAD);
        let tallest = cells.iter().map(Vec::len).max().unwrap_or(0);
        // Short headings stand on the same line as the last of the long ones.
        let lowered = cells.into_iter().map(|cell| (tallest - cell.len(), cell));
        strips.0.extend(stack(lowered, look::COLUMN.lead));
        strips.0.push(ruled(PAD, width, look::LIGHT, 0));
        strips
    }

    fn row(
        &mut self,
        columns: &[Column],
        slots: &[Slot],
        row: &Row,
        texts: Vec<String>,
        body: NodeId,
    ) -> Strips {
        let line = self.tree.add(body, Tag::TR);
        let mut cells = Vec::with_capacity(columns.len());
        for (n, text) in texts.into_iter().enumerate() {
            let (Some(column), Some(slot)) = (columns.get(n), slots.get(n)) else {
                continue;
            };
            let fault = matches!(row.cells.get(n), Some(Cell::Mark(Mark::DoesNotConform)));
            let style = if fault { look::CELL_STRONG } else { look::CELL };
            let head = column.kind == ColumnKind::Head;
            let node = if head {
                self.tree.add(line, Tag::TH(TableHeaderScope::Row))
            } else {
                self.tree.add(line, Tag::TD)
            };
            let lines = wrap(self.faces, &text, style, slot.width);
            // The first column leads to the part that says more.
            let link = row.link.clone().filter(|_| n == 0 && !text.is_empty());
            let (node, link) = match link {
                Some(anchor) => (self.tree.add(node, Tag::Link), Some((anchor, text))),
                None => (node, None),
            };
            cells.push((0, pieces(lines, *slot, style, Some(node), link.as_ref())));
        }
        let mut strips = Strips::default();
        strips.space(PAD);
        strips.0.extend(stack(cells.into_iter(), look::CELL.lead));
        let sides = sides(columns, slots, self.width());
        let blank = columns.iter().zip(&row.cells).any(|(column, cell)| {
            let empty = matches!(cell, Cell::Text(words) if words.is_empty());
            column.kind == ColumnKind::Room && empty
        });
        if blank {
            strips.space((look::WRITE - strips.height() - PAD).max(0.0));
        }
        let ink = if sides.is_empty() { look::GUIDE } else { 0 };
        strips.0.push(ruled(PAD, self.width(), look::HAIR, ink));
        for strip in &mut strips.0 {
            strip.sides.clone_from(&sides);
        }
        strips
    }

    /// Where each column stands. A column gets what its cells need; where that
    /// is too much, columns of words share what is left by their weights.
    fn slots(&self, columns: &[Column], texts: &[Vec<String>]) -> Vec<Slot> {
        let gutter = if columns.len() > look::MANY {
            look::NARROW
        } else {
            look::GUTTER
        };
        let gutters = gutter * columns.len().saturating_sub(1) as f32;
        let room = self.width() - gutters;
        let (mut natural, mut wanted, mut least) = (Vec::new(), Vec::new(), Vec::new());
        for (n, column) in columns.iter().enumerate() {
            let head = widest_word(self.faces, &column.head, look::COLUMN);
            // Headings may break, so that they do not widen a column of figures.
            let (mut full, mut word): (f32, f32) = (head, head);
            // Marks may be set in bold.
            let bold = column.kind == ColumnKind::Mark;
            // Figures may break before what stands in brackets behind them.
            let mut figure = head;
            for text in texts.iter().filter_map(|row| row.get(n)) {
                let width = self.faces.width(text, bold) * look::CELL.size;
                full = full.max(width);
                let (number, rest) = text
                    .find(" (")
                    .and_then(|at| text.split_at_checked(at))
                    .unwrap_or((text.as_str(), ""));
                for part in [number, rest.trim_start()] {
                    figure = figure.max(self.faces.width(part, bold) * look::CELL.size);
                }
                if width > word {
                    word = word.max(widest_word(self.faces, text, look::CELL));
                }
            }
            // What a column of words must have: its longest word, unless that is
            // so long that it would push the others off the page. The names of
            // rows are read first, so they wrap last. House rules: a third for
            // names, a sixth for words, a tenth when room is short.
            let (want, need) = match column.kind {
                ColumnKind::Figures => (full, figure),
                ColumnKind::Mark => (full, full),
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
                x += width + gutter;
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

/// Where the frames of room to write in stand, none of them off the table.
fn sides(columns: &[Column], slots: &[Slot], width: f32) -> Vec<f32> {
    let rooms = columns.iter().zip(slots);
    let rooms = rooms.filter(|(column, _)| column.kind == ColumnKind::Room);
    let half = 0.5 * look::GUTTER;
    let mut sides: Vec<f32> = rooms
        .flat_map(|(_, slot)| [slot.x - half, (slot.x + slot.width + half).min(width)])
        .collect();
    sides.dedup_by(|a, b| (*a - *b).abs() < 0.5);
    sides
}

fn ruled(height: f32, width: f32, weight: f32, ink: u8) -> Strip {
    Strip {
        height,
        rule: Some((0.0, width, weight, ink)),
        ..Strip::default()
    }
}

fn pieces(
    lines: Vec<Line>,
    slot: Slot,
    style: Style,
    node: Option<NodeId>,
    link: Option<&(String, String)>,
) -> Vec<Piece> {
    let place = |width: f32| {
        if slot.right {
            slot.x + slot.width - width
        } else {
            slot.x
        }
    };
    lines
        .into_iter()
        .map(|line| Piece {
            x: place(line.width),
            line,
            style,
            node,
            link: link.cloned(),
        })
        .collect()
}

/// Cells side by side, each some lines below the top.
fn stack(cells: impl Iterator<Item = (usize, Vec<Piece>)>, lead: f32) -> Vec<Strip> {
    let mut strips: Vec<Strip> = Vec::new();
    for (below, cell) in cells {
        for (n, piece) in cell.into_iter().enumerate() {
            let line = below + n;
            while strips.len() <= line {
                strips.push(Strip {
                    height: lead,
                    ..Strip::default()
                });
            }
            if let Some(strip) = strips.get_mut(line) {
                strip.pieces.push(piece);
            }
        }
    }
    strips
}
