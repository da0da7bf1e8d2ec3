//! Pages as lists of what is drawn on them, and what a PDF says about them: the
//! structure tree, bookmarks, destinations. Every page is laid out before the first
//! is drawn, because each says how many there are.

use super::lines::Style;
use super::look::MARGIN;
use crate::report::draw::Figure;
use krilla::destination::XyzDestination;
use krilla::geom::{Point, Rect};
use krilla::outline::{Outline, OutlineNode};
use krilla::tagging::{BBox, Identifier, Tag, TagGroup, TagKind, TagTree};

use std::collections::HashMap;

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
    /// What a part is listed under, if it is.
    pub(super) group: Option<String>,
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

/// What of a page belongs to which place of the structure.
pub(super) type Leaves = HashMap<NodeId, Vec<Identifier>>;

pub(super) fn retag(tree: &mut Structure, node: NodeId, tag: TagKind) {
    if let Some(node) = tree.nodes.get_mut(node) {
        node.tag = tag;
    }
}

/// Says where a figure is on its page.
pub(super) fn enclose(tree: &mut Structure, node: NodeId, page: usize, rect: Rect) {
    if let Some(node) = tree.nodes.get_mut(node)
        && let TagKind::Figure(tag) = &node.tag
    {
        node.tag = tag.clone().with_bbox(Some(BBox::new(page, rect))).into();
    }
}

pub(super) fn destination((page, y): (usize, f32)) -> XyzDestination {
    // A little above, so that the words do not touch the window's edge.
    XyzDestination::new(page, Point::from_xy(MARGIN, (y - 6.0).max(0.0)))
}

/// Bookmarks: parts, with their headings under them, and under what they are listed
/// under where there are several.
pub(super) fn outline(bookmarks: &[Bookmark]) -> Outline {
    // Each with its part's place, at which its group begins if it is the first of it.
    let mut parts: Vec<(Option<&str>, &Bookmark, OutlineNode)> = Vec::new();
    for mark in bookmarks {
        let node = OutlineNode::new(mark.title.clone(), destination((mark.page, mark.y)));
        match (&mark.anchor, parts.last_mut()) {
            (None, Some((.., part))) => part.push_child(node),
            _ => parts.push((mark.group.as_deref(), mark, node)),
        }
    }
    let several = parts.iter().filter(|(group, ..)| group.is_some()).count() > 1;
    let mut groups: Vec<(Option<&str>, OutlineNode)> = Vec::new();
    for (group, mark, node) in parts {
        let Some(name) = group.filter(|_| several) else {
            groups.push((None, node));
            continue;
        };
        let mut known = groups.iter_mut();
        if let Some((_, known)) = known.find(|(known, _)| *known == Some(name)) {
            known.push_child(node);
        } else {
            let place = destination((mark.page, mark.y));
            let mut first = OutlineNode::new(name.to_owned(), place);
            first.push_child(node);
            groups.push((Some(name), first));
        }
    }
    let mut outline = Outline::new();
    for (_, node) in groups {
        outline.push_child(node);
    }
    outline
}

pub(super) fn structure(tree: &Structure, leaves: &mut Leaves) -> TagTree {
    let mut root = TagTree::new().with_lang(Some("en".to_owned()));
    for &child in tree
        .nodes
        .get(Structure::ROOT)
        .map_or(&[][..], |node| &node.children)
    {
        if let Some(group) = group(tree, leaves, child) {
            root.push(group);
        }
    }
    root
}

fn group(tree: &Structure, leaves: &mut Leaves, id: NodeId) -> Option<TagGroup> {
    let node = tree.nodes.get(id)?;
    let mut out = TagGroup::new(node.tag.clone());
    for &child in &node.children {
        if let Some(child) = group(tree, leaves, child) {
            out.push(child);
        }
    }
    for leaf in leaves.remove(&id).unwrap_or_default() {
        out.push(leaf);
    }
    Some(out)
}
