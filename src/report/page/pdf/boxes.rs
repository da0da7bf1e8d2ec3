//! What is set apart: the verdict in a frame, facts, lines to sign on, cautions
//! beside a bar.

use super::super::model::Fact;
use super::flow::{Piece, Strip, Strips};
use super::layout::Layout;
use super::lines::wrap;
use super::lines::{Line, Style};
use super::list::{Item, NodeId};
use super::look;
use super::look::MARGIN;
use crate::report::style::Mark;
use krilla::tagging::{ListNumbering, Tag};

/// From a frame to its words, in points. House rule.
const PAD: f32 = 11.0;
/// From the bar to its cautions, in points. House rule.
const INDENT: f32 = 10.0;

impl Layout<'_> {
    pub(super) fn verdict(&mut self, mark: Mark, words: &str, parent: NodeId) {
        // A fault has the heaviest frame, so that it is seen without colour.
        let weight = match mark {
            Mark::DoesNotConform => 2.4,
            _ => 1.0,
        };
        self.stated(&mark.to_string(), words, weight, parent);
    }

    /// An answer and what there is to add, in a frame.
    pub(super) fn stated(&mut self, head: &str, words: &str, weight: f32, parent: NodeId) {
        let node = self.tree.add(parent, Tag::P);
        let room = self.width() - 2.0 * PAD;
        let head = self.clean(head);
        let head = wrap(self.faces, &head, look::VERDICT, room);
        let mut strips = Strips::default();
        strips.space(6.0);
        strips.lines(PAD, head, look::VERDICT, Some(node));
        if !words.trim().is_empty() {
            let node = self.tree.add(parent, Tag::P);
            let lines = self.set(words, look::BODY, room);
            strips.lines(PAD, lines, look::BODY, Some(node));
        }
        strips.space(7.0);
        self.framed(strips, weight);
        self.flow.gap(look::GAP + 2.0);
    }

    /// Strips in a frame; where they are too long for a page, each page's share
    /// has a frame of its own.
    fn framed(&mut self, strips: Strips, weight: f32) {
        let width = self.width();
        self.flow.begin(strips.height());
        let mut top = self.flow.y;
        let mut strips = strips.0.into_iter().peekable();
        while let Some(strip) = strips.next() {
            self.flow.strip(strip);
            let full = strips
                .peek()
                .is_none_or(|next| next.height > self.flow.room() + 0.5);
            if full {
                let (x, height) = (MARGIN, self.flow.y - top);
                let ink = 0;
                let half = 0.5 * weight;
                for (y, x, length) in [(top, x, width), (self.flow.y, x, width)] {
                    self.flow.put(Item::Rule {
                        x,
                        y,
                        length,
                        weight,
                        ink,
                    });
                }
                for x in [x - half, x + width - half] {
                    self.flow.put(Item::Bar {
                        x,
                        y: top - half,
                        width: weight,
                        height: height + weight,
                        ink,
                    });
                }
                if strips.peek().is_some() {
                    self.flow.turn();
                    top = self.flow.y;
                }
            }
        }
    }

    pub(super) fn cautions(&mut self, words: &[String], parent: NodeId) {
        if words.is_empty() {
            return;
        }
        let list = self.tree.add(parent, Tag::L(ListNumbering::None));
        self.flow.gap(3.0);
        let points = words.iter().map(|words| self.point(INDENT, words, list));
        let points: Vec<_> = points.collect();
        // All of them together, so that no page begins with the last of them;
        // unless they are most of a page themselves.
        let height: f32 = points.iter().map(super::flow::Strips::height).sum();
        self.flow
            .begin(height.min(0.5 * self.flow.measure.text_height()));
        for strips in points {
            for strip in strips.0 {
                let height = strip.height;
                self.flow.strip(strip);
                // A grey bar down the side; it grows line by line, so that it
                // follows the text over pages.
                let y = self.flow.y - height;
                self.flow.put(Item::Bar {
                    x: MARGIN,
                    y,
                    width: 2.5,
                    height,
                    ink: look::GUIDE,
                });
            }
        }
        self.flow.gap(look::GAP);
    }
}

/// What a reader finds where nobody stated a value.
const NOT_STATED: &str = "not stated";

impl Layout<'_> {
    /// Names at the left, what is stated at the right. Names take the room they
    /// need, up to a third of the width.
    fn pairs(&mut self, facts: &[Fact]) -> (f32, f32) {
        let width = self.width();
        let mut names: f32 = 0.0;
        for fact in facts {
            let name = self.clean(&fact.name);
            names = names.max(self.faces.width(&name, false) * look::NAME.size);
        }
        let names = names.clamp(0.18 * width, 0.34 * width);
        (names, names + 1.5 * look::GUTTER)
    }

    pub(super) fn facts(&mut self, facts: &[Fact], parent: NodeId) {
        let list = self.tree.add(parent, Tag::L(ListNumbering::None));
        let (names, x) = self.pairs(facts);
        let width = self.width();
        for fact in facts {
            let (value, style) = match &fact.value {
                Some(value) => (value.as_str(), look::BODY),
                None => (NOT_STATED, look::NAME),
            };
            let values = self.set(value, style, width - x);
            let strips = self.pair(fact, names, x, values, style, list);
            self.flow.group(strips);
        }
        self.flow.gap(look::GAP);
    }

    /// A name and the lines beside it, with a hairline under both.
    fn pair(
        &mut self,
        fact: &Fact,
        names: f32,
        x: f32,
        values: Vec<Line>,
        style: Style,
        list: NodeId,
    ) -> Strips {
        let item = self.tree.add(list, Tag::LI);
        let label = self.tree.add(item, Tag::Lbl);
        let body = self.tree.add(item, Tag::LBody);
        let mut left = self.set(&fact.name, look::NAME, names).into_iter();
        let mut right = values.into_iter();
        let mut strips = Strips::default();
        loop {
            let (name, value) = (left.next(), right.next());
            if name.is_none() && value.is_none() {
                break;
            }
            let piece = |x, line, style, node| Piece {
                x,
                line,
                style,
                node: Some(node),
                link: None,
            };
            let name = name.map(|line| piece(0.0, line, look::NAME, label));
            let value = value.map(|line| piece(x, line, style, body));
            strips.0.push(Strip {
                height: look::BODY.lead,
                pieces: name.into_iter().chain(value).collect(),
                ..Strip::default()
            });
        }
        let width = self.width();
        strips.0.push(Strip {
            height: 2.0,
            rule: Some((0.0, width, look::HAIR, look::GUIDE)),
            ..Strip::default()
        });
        strips.space(1.5);
        strips
    }

    pub(super) fn signature(&mut self, facts: &[Fact], parent: NodeId) {
        let list = self.tree.add(parent, Tag::L(ListNumbering::None));
        let (names, x) = self.pairs(facts);
        let width = self.width();
        let mut strips = Strips::default();
        for fact in facts {
            let value = fact.value.as_deref().unwrap_or_default();
            let values = self.set(value, look::BODY, width - x);
            let mut lines = self.pair(fact, names, x, values, look::BODY, list);
            strips.space((look::SIGN - lines.height()).max(0.0));
            // The line to write on, in place of the hairline.
            let last = lines.0.iter_mut().rev().find(|strip| strip.rule.is_some());
            if let Some(strip) = last {
                strip.rule = Some((x, width - x, look::LIGHT + 0.2, 0));
            }
            strips.0.extend(lines.0);
        }
        // Who signs must see all that is signed.
        self.flow.group(strips);
        self.flow.gap(look::GAP);
    }
}
