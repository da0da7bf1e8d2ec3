//! Where the next line goes: pages, margins and what must not be separated.

use super::lines::{Line, Style};
use super::list::{Item, NodeId, Page};
use super::look::MARGIN;

/// The sizes of a page, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Measure {
    pub(super) width: f32,
    pub(super) height: f32,
}

/// The first line, below the running head.
pub(super) const TOP: f32 = MARGIN + 10.0;

impl Measure {
    pub(super) fn text_width(self) -> f32 {
        self.width - 2.0 * MARGIN
    }

    /// The last line above the foot.
    pub(super) fn bottom(self) -> f32 {
        self.height - MARGIN - 12.0
    }

    pub(super) fn text_height(self) -> f32 {
        self.bottom() - TOP
    }
}

/// Words in a strip.
pub(super) struct Piece {
    /// From the left edge of the text.
    pub(super) x: f32,
    pub(super) line: Line,
    pub(super) style: Style,
    pub(super) node: Option<NodeId>,
    /// The part that a link leads to, and what it says.
    pub(super) link: Option<(String, String)>,
}

/// One line across the page, never split.
#[derive(Default)]
pub(super) struct Strip {
    pub(super) height: f32,
    pub(super) pieces: Vec<Piece>,
    /// Left edge, length, weight and ink of a rule along its lower edge.
    pub(super) rule: Option<(f32, f32, f32, u8)>,
    /// Where hairlines stand that frame room to write in.
    pub(super) sides: Vec<f32>,
}

/// Lines set one below the other.
#[derive(Default)]
pub(super) struct Strips(pub(super) Vec<Strip>);

impl Strips {
    pub(super) fn height(&self) -> f32 {
        self.0.iter().map(|strip| strip.height).sum()
    }

    pub(super) fn space(&mut self, height: f32) {
        self.0.push(Strip {
            height,
            ..Strip::default()
        });
    }

    pub(super) fn lines(&mut self, x: f32, lines: Vec<Line>, style: Style, node: Option<NodeId>) {
        self.0.extend(lines.into_iter().map(|line| Strip {
            height: style.lead,
            pieces: vec![Piece {
                x,
                line,
                style,
                node,
                link: None,
            }],
            ..Strip::default()
        }));
    }
}

/// The pages so far and the place reached on the last one.
pub(super) struct Flow {
    pub(super) measure: Measure,
    pub(super) pages: Vec<Page>,
    pub(super) y: f32,
    foot: String,
    /// Headings that wait for what they head, so that none is left alone.
    waiting: Strips,
    /// Bookmarks of the waiting headings: distance from the first, and index.
    pub(super) landed: Vec<(usize, usize, f32)>,
    waiting_marks: Vec<(usize, f32)>,
}

impl Flow {
    pub(super) fn new(measure: Measure) -> Self {
        Self {
            measure,
            pages: Vec::new(),
            y: measure.bottom(),
            foot: String::new(),
            waiting: Strips::default(),
            landed: Vec::new(),
            waiting_marks: Vec::new(),
        }
    }

    pub(super) fn begin_part(&mut self, foot: String) {
        self.foot = foot;
        self.turn();
    }

    /// A new page.
    pub(super) fn turn(&mut self) {
        self.pages.push(Page {
            foot: self.foot.clone(),
            items: Vec::new(),
        });
        self.y = TOP;
    }

    pub(super) fn room(&self) -> f32 {
        self.measure.bottom() - self.y
    }

    fn is_fresh(&self) -> bool {
        self.y <= TOP
    }

    pub(super) fn put(&mut self, item: Item) {
        if let Some(page) = self.pages.last_mut() {
            page.items.push(item);
        }
    }

    /// A heading, kept until the block that it heads is set. `mark` is the
    /// number of its bookmark.
    pub(super) fn wait(&mut self, strips: Strips, mark: usize) {
        self.waiting_marks.push((mark, self.waiting.height()));
        self.waiting.0.extend(strips.0);
    }

    pub(super) fn waiting_height(&self) -> f32 {
        self.waiting.height()
    }

    /// Makes sure that `first` points can be set in one piece on this page,
    /// below the headings that wait, and sets those.
    pub(super) fn begin(&mut self, first: f32) {
        let waiting = std::mem::take(&mut self.waiting);
        let bookmarks = std::mem::take(&mut self.waiting_marks);
        let need = waiting.height() + first.min(self.measure.text_height() - waiting.height());
        // Half a point forgives what rounding adds up to; nothing needs no page.
        if need > 0.0 && need > self.room() + 0.5 && !self.is_fresh() {
            self.turn();
        }
        let page = self.pages.len().saturating_sub(1);
        for (mark, below) in bookmarks {
            self.landed.push((mark, page, self.y + below));
        }
        for strip in waiting.0 {
            self.strip(strip);
        }
    }

    /// White space, which is not wanted at the top of a page.
    pub(super) fn gap(&mut self, height: f32) {
        if !self.is_fresh() && self.waiting.0.is_empty() {
            self.y += height;
        }
    }

    /// One strip; on the next page when it does not fit.
    pub(super) fn strip(&mut self, strip: Strip) {
        if strip.height > self.room() + 0.5 && !self.is_fresh() {
            self.turn();
        }
        let top = self.y;
        for piece in strip.pieces {
            let x = MARGIN + piece.x;
            // The baseline of type set in the middle of its lead: capitals are
            // 0.73 em high in this typeface (read from the font).
            let y = top + 0.5 * (piece.style.lead + 0.73 * piece.style.size);
            let (width, style) = (piece.line.width, piece.style);
            self.put(Item::Text {
                x,
                y,
                words: piece.line.words,
                width,
                style,
                node: piece.node,
            });
            if let (Some((anchor, alt)), Some(node)) = (piece.link, piece.node) {
                self.put(Item::Link {
                    x,
                    y: top,
                    width,
                    height: style.lead,
                    anchor,
                    alt,
                    node,
                });
            }
        }
        for x in strip.sides {
            self.put(Item::Bar {
                x: MARGIN + x,
                y: top,
                width: 0.4,
                height: strip.height,
                ink: 0,
            });
        }
        self.y = top + strip.height;
        if let Some((x, length, weight, ink)) = strip.rule {
            self.put(Item::Rule {
                x: MARGIN + x,
                y: self.y,
                length,
                weight,
                ink,
            });
        }
    }

    /// Strips that stay together if a page can hold them; if none can, each
    /// line still stays whole.
    pub(super) fn group(&mut self, strips: Strips) {
        self.begin(strips.height());
        for strip in strips.0 {
            self.strip(strip);
        }
    }

    /// Strips that may be parted after any line, though not after the first or
    /// before the last one alone.
    pub(super) fn flow(&mut self, strips: Strips) {
        let count = strips.0.len();
        let two: f32 = strips.0.iter().take(2).map(|strip| strip.height).sum();
        let last: f32 = strips
            .0
            .iter()
            .rev()
            .take(2)
            .map(|strip| strip.height)
            .sum();
        self.begin(if count <= 3 { strips.height() } else { two });
        for (n, strip) in strips.0.into_iter().enumerate() {
            let alone = n + 2 == count && count > 3 && last > self.room() + 0.5;
            if alone && !self.is_fresh() {
                self.turn();
            }
            self.strip(strip);
        }
    }
}
