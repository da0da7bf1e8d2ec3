//! Pages as lists of what is drawn on them. Every page is laid out before the
//! first is drawn, because each says how many there are.

use krilla::tagging::{Tag, TagKind};

use super::lines::Style;
use crate::report::draw::Figure;

/// A place in the structure tree.
pub(super) type NodeId = usize;

/// Something on a page. Lengths are in points, from the top left corner.
pub(super) enum Item {
    Text {
        x: f32,
        /// Of the baseline.
        y: f32,
        words: String,
        /// How far it reaches, by which the tests find what overlaps.
        #[cfg_attr(not(test), expect(dead_code, reason = "read by the tests"))]
        width: f32,
        style: Style,
        /// `None`: pagination or decoration, which nobody reads twice.
        node: Option<NodeId>,
    },
    Rule {
        x: f32,
        y: f32,
        length: f32,
        weight: f32,
        ink: u8,
    },
    /// A filled area.
    Bar {
        x: f32,
        y: f32,
        width: f32,
        height: f32,
        ink: u8,
    },
    Drawing {
        x: f32,
        y: f32,
        width: f32,
        height: f32,
        figure: Figure,
        node: NodeId,
    },
    Link {
        x: f32,
        y: f32,
        width: f32,
        height: f32,
        /// Which part.
        anchor: String,
        /// What it leads to, in words.
        alt: String,
        node: NodeId,
    },
}

pub(super) struct Page {
    pub(super) foot: String,
    pub(super) items: Vec<Item>,
}

/// A bookmark.
pub(super) struct Bookmark {
    pub(super) title: String,
    pub(super) page: usize,
    pub(super) y: f32,
    /// `None` for a heading within the part before it.
    pub(super) anchor: Option<String>,
}

/// What a part of the text is, for a reader who cannot see the page.
pub(super) struct Node {
    pub(super) tag: TagKind,
    pub(super) children: Vec<NodeId>,
}

/// The structure tree while it grows; node 0 is the document.
pub(super) struct Structure {
    pub(super) nodes: Vec<Node>,
}

impl Structure {
    pub(super) const ROOT: NodeId = 0;

    pub(super) fn new() -> Self {
        Self {
            nodes: vec![Node {
                tag: Tag::Part.into(),
                children: Vec::new(),
            }],
        }
    }

    pub(super) fn add(&mut self, parent: NodeId, tag: impl Into<TagKind>) -> NodeId {
        let id = self.nodes.len();
        self.nodes.push(Node {
            tag: tag.into(),
            children: Vec::new(),
        });
        if let Some(node) = self.nodes.get_mut(parent) {
            node.children.push(id);
        }
        id
    }
}
