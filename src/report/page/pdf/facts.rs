//! Facts, and lines to sign on: a name and what is stated beside it.

use krilla::tagging::{ListNumbering, Tag};

use super::super::model::Fact;
use super::flow::{Piece, Strip, Strips};
use super::layout::Layout;
use super::lines::{Line, Style};
use super::list::NodeId;
use super::look;

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
