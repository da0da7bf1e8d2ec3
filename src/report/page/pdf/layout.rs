//! Blocks laid out on pages.

use std::collections::BTreeSet;
use std::num::NonZeroU16;

use krilla::tagging::{ListNumbering, Tag};

use super::super::model::{Block, Part, beside};
use super::face::Faces;
use super::flow::{Flow, Measure, Piece, Strip, Strips};
use super::lines::{Line, Style, wrap};
use super::list::{Bookmark, NodeId, Structure};
use super::look;

/// How large the drawings of a part are that shall stand on one page, from large to
/// small. House rule: a board at half its size can still be read.
const SCALES: [f32; 7] = [1.0, 0.9, 0.83, 0.75, 0.7, 0.6, 0.5];

pub(super) struct Layout<'f> {
    pub(super) faces: &'f Faces<'f>,
    pub(super) flow: Flow,
    pub(super) tree: Structure,
    pub(super) bookmarks: Vec<Bookmark>,
    pub(super) missing: BTreeSet<char>,
    /// How large drawings are: 1 as a rule, less where a part has to stand on one page.
    pub(super) scale: f32,
}

impl<'f> Layout<'f> {
    pub(super) fn new(faces: &'f Faces<'f>, measure: Measure) -> Self {
        Self {
            faces,
            flow: Flow::new(measure),
            tree: Structure::new(),
            bookmarks: Vec::new(),
            missing: BTreeSet::new(),
            scale: 1.0,
        }
    }

    pub(super) fn width(&self) -> f32 {
        self.flow.measure.text_width()
    }

    pub(super) fn clean(&mut self, text: &str) -> String {
        self.faces.clean(text, &mut self.missing)
    }

    /// A raw text in lines.
    pub(super) fn set(&mut self, text: &str, style: Style, room: f32) -> Vec<Line> {
        let text = self.clean(text);
        wrap(self.faces, &text, style, room)
    }

    /// A part, its drawings as small as it needs to stand on one page if it shall.
    pub(super) fn part(&mut self, part: Part) {
        self.scale = 1.0;
        if part.on_one_page {
            let fits = |scale: &f32| {
                let mut alone = Layout::new(self.faces, self.flow.measure);
                alone.scale = *scale;
                alone.blocks(part.clone());
                alone.flow.pages.len() <= 1
            };
            self.scale = SCALES.into_iter().find(fits).unwrap_or(1.0);
        }
        self.blocks(part);
    }

    fn blocks(&mut self, part: Part) {
        let foot = self.clean(&part.foot);
        self.flow.begin_part(foot);
        let section = self.tree.add(Structure::ROOT, Tag::Section);
        self.title(&part, section);
        let mut blocks = part.blocks.into_iter().peekable();
        while let Some(block) = blocks.next() {
            match block {
                Block::Heading(words) => self.heading(&words, section),
                Block::Text(words) => self.text(&words, look::BODY, section),
                Block::Note(words) => self.text(&words, look::CAPTION, section),
                Block::Code { caption, text } => self.code(&caption, &text, section),
                Block::Points(points) => self.points(&points, section),
                Block::Facts(facts) => self.facts(&facts, section),
                Block::Verdict { mark, words } => self.verdict(mark, &words, section),
                Block::Answer { headline, words } => {
                    self.stated(&headline, &words, 1.6, section);
                }
                Block::Grid(grid) => self.grid(&grid, section),
                Block::Figure(figure) => {
                    let next = blocks.next_if(
                        |next| matches!(next, Block::Figure(next) if beside(&figure, next)),
                    );
                    let mut figures = vec![figure];
                    if let Some(Block::Figure(second)) = next {
                        figures.push(second);
                    }
                    self.figures(figures, section);
                }
                Block::Signature(facts) => self.signature(&facts, section),
                Block::Cautions(words) => self.cautions(&words, section),
            }
        }
        // A heading that heads nothing is set all the same.
        self.flow.begin(0.0);
    }

    fn mark(&mut self, title: String, part: Option<&Part>) -> usize {
        let group = part.and_then(|part| part.listed.as_ref());
        let group = group.map(|listed| self.clean(&listed.group));
        self.bookmarks.push(Bookmark {
            title,
            page: 0,
            y: 0.0,
            anchor: part.map(|part| part.anchor.clone()),
            group,
        });
        self.bookmarks.len() - 1
    }

    fn title(&mut self, part: &Part, parent: NodeId) {
        let name = match part.title.trim() {
            "" => "Untitled".to_owned(),
            title => self.clean(title),
        };
        let mark = self.mark(name.clone(), Some(part));
        let mut strips = Strips::default();
        let width = self.width();
        if !part.kicker.trim().is_empty() {
            let node = self.tree.add(parent, Tag::P);
            let lines = self.set(&part.kicker, look::KICKER, width);
            strips.lines(0.0, lines, look::KICKER, Some(node));
        }
        let node = self
            .tree
            .add(parent, Tag::Hn(NonZeroU16::MIN, Some(name.clone())));
        let lines = wrap(self.faces, &name, look::TITLE, width);
        strips.lines(0.0, lines, look::TITLE, Some(node));
        // The double rule of a worksheet.
        for (height, weight) in [(5.0, look::HEAVY), (2.2, look::LIGHT)] {
            strips.0.push(Strip {
                height,
                rule: Some((0.0, width, weight, 0)),
                ..Strip::default()
            });
        }
        strips.space(look::GAP);
        if strips.height() < 0.5 * self.flow.measure.text_height() {
            self.flow.wait(strips, mark);
        } else {
            // A title that fills pages is not kept with anything.
            self.flow
                .landed
                .push((mark, self.flow.pages.len() - 1, self.flow.y));
            self.flow.flow(strips);
        }
    }

    fn heading(&mut self, words: &str, parent: NodeId) {
        let name = match words.trim() {
            "" => "Untitled".to_owned(),
            words => self.clean(words),
        };
        let level = NonZeroU16::MIN.saturating_add(1);
        let node = self.tree.add(parent, Tag::Hn(level, Some(name.clone())));
        let lines = wrap(self.faces, &name, look::HEADING, self.width());
        let mark = self.mark(name, None);
        let mut strips = Strips::default();
        self.flow.gap(0.6 * look::GAP);
        strips.lines(0.0, lines, look::HEADING, Some(node));
        strips.space(3.0);
        if self.flow.waiting_height() + strips.height() > 0.5 * self.flow.measure.text_height() {
            self.flow.begin(0.0);
            self.flow
                .landed
                .push((mark, self.flow.pages.len() - 1, self.flow.y));
            self.flow.flow(strips);
        } else {
            self.flow.wait(strips, mark);
        }
    }

    fn text(&mut self, words: &str, style: Style, parent: NodeId) {
        let node = self.tree.add(parent, Tag::P);
        let lines = self.set(words, style, self.width());
        let mut strips = Strips::default();
        strips.lines(0.0, lines, style, Some(node));
        self.flow.flow(strips);
        self.flow.gap(0.7 * look::GAP);
    }

    /// A file, each of its lines by itself.
    fn code(&mut self, caption: &str, code: &str, parent: NodeId) {
        self.text(caption, look::CAPTION, parent);
        let node = self.tree.add(parent, Tag::Code);
        let mut strips = Strips::default();
        for line in code.lines() {
            let lines = self.set(line, look::CAPTION, self.width());
            strips.lines(0.0, lines, look::CAPTION, Some(node));
        }
        self.flow.flow(strips);
        self.flow.gap(look::GAP);
    }

    /// One point of a list: a dash hangs in the margin of its text.
    pub(super) fn point(&mut self, x: f32, words: &str, list: NodeId) -> Strips {
        const HANG: f32 = 12.0;
        let item = self.tree.add(list, Tag::LI);
        let label = self.tree.add(item, Tag::Lbl);
        let body = self.tree.add(item, Tag::LBody);
        let room = self.width() - x - HANG - x;
        let lines = self.set(words, look::BODY, room);
        let mut strips = Strips::default();
        strips.lines(x + HANG, lines, look::BODY, Some(body));
        let bullet = Piece {
            x,
            line: self.line("–", look::BODY),
            style: look::BODY,
            node: Some(label),
            link: None,
        };
        if let Some(first) = strips.0.first_mut() {
            first.pieces.insert(0, bullet);
        }
        strips
    }

    /// A short text of our own in one line.
    fn line(&self, words: &str, style: Style) -> Line {
        Line {
            words: words.to_owned(),
            width: self.faces.width(words, style.bold) * style.size,
        }
    }

    fn points(&mut self, points: &[String], parent: NodeId) {
        if points.is_empty() {
            return;
        }
        let list = self.tree.add(parent, Tag::L(ListNumbering::None));
        for point in points {
            let strips = self.point(0.0, point, list);
            self.flow.flow(strips);
            self.flow.gap(2.0);
        }
        self.flow.gap(0.6 * look::GAP);
    }
}
