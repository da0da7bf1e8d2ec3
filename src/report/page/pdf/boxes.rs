//! What is set apart: the verdict in a frame, cautions beside a bar.

use crate::report::mark::Mark;
use krilla::tagging::{ListNumbering, Tag};

use super::flow::{MARGIN, Strips};
use super::layout::Layout;
use super::lines::wrap;
use super::list::{Item, NodeId};
use super::look;

/// From a frame to its words, in points. House rule.
const PAD: f32 = 11.0;
/// From the bar to its cautions, in points. House rule.
const INDENT: f32 = 10.0;

impl Layout<'_> {
    pub(super) fn verdict(&mut self, mark: Mark, words: &str, parent: NodeId) {
        let node = self.tree.add(parent, Tag::P);
        let room = self.width() - 2.0 * PAD;
        let head = mark.to_string();
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
        // A fault has the heaviest frame, so that it is seen without colour.
        let weight = match mark {
            Mark::DoesNotConform => 2.4,
            _ => 1.0,
        };
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
