//! A part as text for a terminal.

use std::fmt::Write;

use unicode_width::UnicodeWidthStr;

use super::model::{Block, Cell, ColumnKind, Fact, Grid, Part};
use crate::report::escape;
use crate::report::fit::{self, letters, lines};
use crate::report::style::Style;

/// Space before a line that belongs to a heading.
const INDENT: usize = 2;
/// Between two columns.
const GUTTER: usize = 2;

/// How wide text may be, and whether it has colours.
///
/// ```
/// use ringrule::report::TextLayout;
///
/// assert_eq!(TextLayout::new(72).columns(), 72);
/// assert_eq!(TextLayout::new(20).columns(), TextLayout::LEAST);
/// assert_eq!(TextLayout::new(400).columns(), TextLayout::MOST);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct TextLayout {
    columns: usize,
    colour: bool,
}

impl TextLayout {
    /// A table of figures needs as much. House rule.
    pub const LEAST: usize = 60;
    /// Longer lines are hard to read. House rule.
    pub const MOST: usize = 96;

    /// For a terminal of so many columns; fewer than [`Self::LEAST`] or more than
    /// [`Self::MOST`] are taken for these.
    pub const fn new(columns: usize) -> Self {
        let columns = match columns {
            ..Self::LEAST => Self::LEAST,
            Self::LEAST..=Self::MOST => columns,
            _ => Self::MOST,
        };
        let colour = false;
        Self { columns, colour }
    }

    /// The same with colours.
    #[must_use]
    pub const fn coloured(self, colour: bool) -> Self {
        Self { colour, ..self }
    }

    /// How many columns lines have at most.
    pub const fn columns(self) -> usize {
        self.columns
    }

    /// Whether colours may be used.
    #[cfg(feature = "cli")]
    pub(in crate::report) const fn has_colour(self) -> bool {
        self.colour
    }

    fn paint(self, style: Style, words: &str) -> String {
        if self.colour {
            style.paint(words).to_string()
        } else {
            words.to_owned()
        }
    }
}

impl Default for TextLayout {
    /// Where nobody says how wide the terminal is.
    fn default() -> Self {
        Self::new(Self::MOST)
    }
}

/// A part as text. What kind of page it is and its foot are left out: who reads
/// it has just asked for it.
pub(in crate::report) fn part(part: &Part, layout: TextLayout) -> String {
    self::written(part, "", layout)
}

/// A part of a document that is kept: with what kind of page it is, and its foot.
pub(in crate::report) fn page(part: &Part, layout: TextLayout) -> String {
    let below = format!("{} · {}", part.kicker, part.foot);
    self::written(part, &below, layout)
}

fn written(part: &Part, below: &str, layout: TextLayout) -> String {
    let mut text = Writer {
        out: String::new(),
        layout,
        tight: true,
    };
    if !part.title.is_empty() {
        text.heading(&part.title);
        if !below.is_empty() {
            text.hang("", below);
        }
        text.tight = false;
    }
    for block in &part.blocks {
        text.block(block);
    }
    text.out
}

struct Writer {
    out: String,
    layout: TextLayout,
    /// Whether the next block follows without a blank line.
    tight: bool,
}

impl Writer {
    fn block(&mut self, block: &Block) {
        let heads = matches!(block, Block::Heading(_));
        if !self.tight && !matches!(block, Block::Note(_)) {
            self.out.push('\n');
        }
        self.tight = heads;
        match block {
            Block::Heading(words) => self.heading(words),
            Block::Text(words) | Block::Note(words) => self.hang("", words),
            Block::Points(points) => {
                for point in points {
                    self.hang("- ", point);
                }
            }
            Block::Facts(facts) => self.facts(facts, "not stated"),
            Block::Signature(facts) => self.facts(facts, &"_".repeat(24)),
            Block::Verdict { mark, words } => {
                let mark = self.layout.paint(Style::Strong, &mark.to_string());
                self.line(&mark);
                self.hang("", words);
            }
            Block::Answer { headline, words } => {
                let headline = self.layout.paint(Style::Strong, headline);
                self.line(&headline);
                self.hang("", words);
            }
            Block::Grid(grid) => self.grid(grid),
            Block::Figure(figure) => {
                let words = format!("{}. {}", figure.title, figure.description);
                self.hang("", &words);
            }
            Block::Cautions(cautions) => {
                for caution in cautions {
                    for line in lines(caution, self.layout.columns) {
                        self.line(&line);
                    }
                }
            }
            Block::Code { caption, text } => {
                let caption = escape::terminal(caption);
                let caption = self.layout.paint(Style::Faint, &caption);
                self.line(&caption);
                self.out.push('\n');
                for line in text.lines() {
                    // Broken lines would be another file.
                    let line = format!("    {}", escape::terminal(line));
                    self.line(line.trim_end());
                }
            }
        }
    }

    fn line(&mut self, words: &str) {
        self.out.push_str(words);
        self.out.push('\n');
    }

    fn heading(&mut self, words: &str) {
        for line in lines(words, self.layout.columns) {
            let line = self.layout.paint(Style::Strong, &line);
            self.line(&line);
        }
        self.tight = true;
    }

    /// Running text with something hung before its first line.
    fn hang(&mut self, label: &str, words: &str) {
        let room = self.layout.columns.saturating_sub(INDENT + label.width());
        let blank = " ".repeat(label.width());
        for (index, line) in lines(words, room).into_iter().enumerate() {
            let label = if index == 0 { label } else { &blank };
            let line = format!("{:INDENT$}{label}{line}", "");
            self.line(line.trim_end());
        }
    }

    fn facts(&mut self, facts: &[Fact], absent: &str) {
        let name = |fact: &Fact| escape::terminal(&fact.name).into_owned();
        let widths = facts.iter().map(|fact| name(fact).width());
        let width = widths.max().unwrap_or_default().min(24);
        for fact in facts {
            let name = name(fact);
            let fill = " ".repeat(width.saturating_sub(name.width()));
            let value = fact.value.as_deref().unwrap_or(absent);
            self.hang(&format!("{name}{fill}  "), value);
        }
    }

    fn grid(&mut self, grid: &Grid) {
        if !grid.caption.is_empty() {
            self.hang("", &grid.caption);
        }
        let cells = Cells::of(grid);
        for (index, group) in cells.groups(self.layout.columns).iter().enumerate() {
            if index > 0 {
                self.out.push('\n');
            }
            for line in cells.row(&cells.heads, group, true) {
                let line = self.layout.paint(Style::Faint, &line);
                self.line(&line);
            }
            for line in cells
                .rows
                .iter()
                .flat_map(|row| cells.row(row, group, false))
            {
                self.line(&line);
            }
        }
    }
}

/// A table's cells as clean text.
struct Cells {
    kinds: Vec<ColumnKind>,
    heads: Vec<String>,
    rows: Vec<Vec<String>>,
}

/// Columns that stand side by side, with their widths; the first names the rows.
type Group = Vec<(usize, usize)>;

impl Cells {
    fn of(grid: &Grid) -> Self {
        let clean = |text: &str| escape::terminal(text).into_owned();
        let cell = |cell: &Cell| match cell {
            Cell::Text(words) => clean(words),
            Cell::Mark(mark) => mark.to_string(),
        };
        let columns = grid.columns.iter();
        Self {
            kinds: columns.clone().map(|column| column.kind).collect(),
            heads: columns.map(|column| clean(&column.head)).collect(),
            rows: grid
                .rows
                .iter()
                .map(|row| row.cells.iter().map(cell).collect())
                .collect(),
        }
    }

    /// What a column must have and what it would like.
    fn needs(&self, column: usize, room: usize) -> (f32, f32) {
        let head = self.heads.get(column).map(String::as_str);
        let head = head.unwrap_or_default();
        // Headings break, at their comma if they have one, so that they do not
        // widen a column of figures.
        let word = fit::widest_word(head, &letters(head));
        let phrases = head.split_inclusive(", ").map(str::trim_end);
        let phrase = phrases.map(UnicodeWidthStr::width).max();
        let cells = self.rows.iter().filter_map(|row| row.get(column));
        let full = cells.clone().map(|cell| cell.width()).max();
        let full = full.unwrap_or_default() as f32;
        let natural = full.max(phrase.unwrap_or_default() as f32);
        let least = match self.kinds.get(column) {
            Some(ColumnKind::Head | ColumnKind::Words) => {
                let words = cells.map(|cell| fit::widest_word(cell, &letters(cell)));
                // A third of the width is enough for the longest word.
                let most = room as f32 / 3.0;
                words.fold(word, f32::max).min(most.max(1.0))
            }
            _ => full.max(word),
        };
        (least, natural.max(least))
    }

    /// All columns side by side; where there is no room for that, some of them
    /// below the others, each group with the names of the rows before it.
    fn groups(&self, columns: usize) -> Vec<Group> {
        let room = columns.saturating_sub(INDENT);
        let needs: Vec<(f32, f32)> = (0..self.heads.len())
            .map(|column| self.needs(column, room))
            .collect();
        let mut groups: Vec<Vec<usize>> = Vec::new();
        let mut used = 0.0;
        for (column, (least, _)) in needs.iter().enumerate() {
            let width = least + GUTTER as f32;
            match groups.last_mut() {
                Some(group) if used + least <= room as f32 => {
                    group.push(column);
                    used += width;
                }
                None => {
                    groups.push(vec![column]);
                    used = width;
                }
                Some(_) => {
                    groups.push(vec![0, column]);
                    used = needs
                        .first()
                        .map_or(0.0, |(first, _)| first + GUTTER as f32)
                        + width;
                }
            }
        }
        let widths = |group: Vec<usize>| {
            let gutters = GUTTER * group.len().saturating_sub(1);
            let of = |column: &usize| needs.get(*column).copied().unwrap_or_default();
            let (least, natural): (Vec<f32>, Vec<f32>) = group.iter().map(of).unzip();
            let room = room.saturating_sub(gutters) as f32;
            let words = |column: &usize| match self.kinds.get(*column) {
                Some(ColumnKind::Head | ColumnKind::Words) => 4.0,
                _ => 1.0,
            };
            // Headings of figures break before names do.
            let weights: Vec<f32> = group.iter().map(words).collect();
            let widths = fit::share(room, &least, &natural, &weights);
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "columns of a terminal"
            )]
            let widths = widths.into_iter().map(|width| width.max(1.0) as usize);
            group.into_iter().zip(widths).collect()
        };
        groups.into_iter().map(widths).collect()
    }

    /// One row in as many lines as its cells need. Short headings stand on the
    /// same line as the last of the long ones.
    fn row(&self, cells: &[String], group: &Group, heads: bool) -> Vec<String> {
        let broken: Vec<Vec<String>> = group
            .iter()
            .map(|&(column, width)| {
                let cell = cells.get(column).map(String::as_str);
                let cell = cell.unwrap_or_default();
                let lines = fit::wrap(cell, &letters(cell), width as f32);
                lines.into_iter().map(str::to_owned).collect()
            })
            .collect();
        let tallest = broken.iter().map(Vec::len).max().unwrap_or_default();
        (0..tallest)
            .map(|line| {
                let mut out = " ".repeat(INDENT.saturating_sub(GUTTER));
                for (&(column, width), lines) in group.iter().zip(&broken) {
                    let above = if heads { tallest - lines.len() } else { 0 };
                    let words = line.checked_sub(above).and_then(|line| lines.get(line));
                    let words = words.map(String::as_str).unwrap_or_default();
                    let fill = " ".repeat(width.saturating_sub(words.width()));
                    let gutter = " ".repeat(GUTTER);
                    // Writing into a string cannot fail.
                    let _ = match self.kinds.get(column) {
                        Some(ColumnKind::Figures) => write!(out, "{gutter}{fill}{words}"),
                        _ => write!(out, "{gutter}{words}{fill}"),
                    };
                }
                out.trim_end().to_owned()
            })
            .collect()
    }
}
