//! What a PDF says about its pages: the structure tree, bookmarks, destinations.

use std::collections::HashMap;

use krilla::destination::XyzDestination;
use krilla::geom::{Point, Rect};
use krilla::outline::{Outline, OutlineNode};
use krilla::tagging::{BBox, Identifier, TagGroup, TagKind, TagTree};

use super::flow::MARGIN;
use super::list::{Bookmark, NodeId, Structure};

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

/// Bookmarks: parts, with their headings under them.
pub(super) fn outline(bookmarks: &[Bookmark]) -> Outline {
    let mut outline = Outline::new();
    let mut part: Option<OutlineNode> = None;
    for mark in bookmarks {
        let node = OutlineNode::new(mark.title.clone(), destination((mark.page, mark.y)));
        match (&mark.anchor, &mut part) {
            (None, Some(part)) => part.push_child(node),
            _ => {
                if let Some(done) = part.replace(node) {
                    outline.push_child(done);
                }
            }
        }
    }
    if let Some(done) = part {
        outline.push_child(done);
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
