//! Laid-out pages drawn into a PDF.

use std::collections::{BTreeSet, HashMap};

use krilla::Document;
use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point, Rect, Size, Transform};
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, Identifier, Tag};
use krilla_svg::{SurfaceExt, SvgSettings};
use resvg::usvg::Options;

use super::face::Faces;
use super::flow::Measure;
use super::layout::Layout;
use super::lines::Style;
use super::list::{Bookmark, Item, NodeId, Page, Structure};
use super::list::{Leaves, destination, enclose, outline, retag, structure};
use super::{PdfError, figure, look};
use crate::report::draw::Figure;

/// Where each part begins.
type Anchors = HashMap<String, (usize, f32)>;

/// What drawing needs to know of the whole document.
pub(super) struct Renderer<'a> {
    faces: &'a Faces<'a>,
    options: Options<'a>,
    tree: Structure,
    bookmarks: Vec<Bookmark>,
    anchors: Anchors,
    leaves: Leaves,
    pub(super) missing: BTreeSet<char>,
}

/// A link, added when everything else of its page is drawn.
struct Pending {
    rect: Rect,
    target: (usize, f32),
    alt: String,
    node: NodeId,
}

impl<'a> Renderer<'a> {
    pub(super) fn new(layout: Layout<'a>, options: Options<'a>) -> Self {
        let anchors = layout
            .bookmarks
            .iter()
            .filter_map(|mark| Some((mark.anchor.clone()?, (mark.page, mark.y))))
            .collect();
        Self {
            faces: layout.faces,
            options,
            tree: layout.tree,
            bookmarks: layout.bookmarks,
            anchors,
            leaves: Leaves::new(),
            missing: layout.missing,
        }
    }

    pub(super) fn page(
        &mut self,
        document: &mut Document,
        measure: Measure,
        index: usize,
        page: Page,
    ) -> Result<(), PdfError> {
        let size = Size::from_wh(measure.width, measure.height).ok_or(PdfError::Geometry)?;
        let mut sheet = document.start_page_with(PageSettings::new(size));
        let mut links = Vec::new();
        {
            let mut surface = sheet.surface();
            for item in page.items {
                links.extend(self.item(&mut surface, index, item)?);
            }
        }
        for link in links {
            let target = destination(link.target);
            let annotation = LinkAnnotation::new(link.rect, Target::Destination(target.into()));
            let alt = Some(format!("Go to {}", link.alt));
            let id = sheet.add_tagged_annotation(Annotation::new_link(annotation, alt));
            self.leaf(link.node, id);
        }
        Ok(())
    }

    /// The structure and the bookmarks, when all pages are drawn.
    pub(super) fn finish(mut self, document: &mut Document) {
        document.set_tag_tree(structure(&self.tree, &mut self.leaves));
        document.set_outline(outline(&self.bookmarks));
    }

    fn leaf(&mut self, node: NodeId, id: Identifier) {
        self.leaves.entry(node).or_default().push(id);
    }

    fn item(
        &mut self,
        surface: &mut Surface<'_>,
        page: usize,
        item: Item,
    ) -> Result<Option<Pending>, PdfError> {
        match item {
            Item::Text {
                x,
                y,
                words,
                style,
                node,
                ..
            } => self.text(surface, (x, y), &words, style, node),
            Item::Rule {
                x,
                y,
                length,
                weight,
                ink,
            } => bar(surface, [x, y - 0.5 * weight, length, weight], ink),
            Item::Bar {
                x,
                y,
                width,
                height,
                ink,
            } => bar(surface, [x, y, width, height], ink),
            Item::Drawing {
                x,
                y,
                width,
                height,
                figure,
                node,
            } => {
                let rect = Rect::from_xywh(x, y, width, height).ok_or(PdfError::Geometry)?;
                self.drawing(surface, &figure, rect, node)?;
                enclose(&mut self.tree, node, page, rect);
            }
            Item::Link {
                x,
                y,
                width,
                height,
                anchor,
                alt,
                node,
            } => match (
                self.anchors.get(&anchor),
                Rect::from_xywh(x, y, width, height),
            ) {
                (Some(&target), Some(rect)) => {
                    bar(surface, [x, y + height - 1.2, width, 0.35], look::GUIDE);
                    return Ok(Some(Pending {
                        rect,
                        target,
                        alt,
                        node,
                    }));
                }
                // Nothing there to lead to: plain words.
                _ => retag(&mut self.tree, node, Tag::Span.into()),
            },
        }
        Ok(None)
    }

    fn text(
        &mut self,
        surface: &mut Surface<'_>,
        (x, y): (f32, f32),
        words: &str,
        style: Style,
        node: Option<NodeId>,
    ) {
        let shaped = self.faces.shape(words, style.bold);
        // No /ActualText for what runs from right to left: its glyphs stand in
        // the order of the eye, and programs that read a PDF turn them round
        // themselves. Given the order of the text they would turn that.
        let tag = match node {
            Some(_) => ContentTag::Other,
            None => ContentTag::Artifact(Artifact::with_kind(ArtifactType::PaginationOther)),
        };
        let id = surface.start_tagged(tag);
        surface.set_fill(Some(fill(style.ink)));
        let mut x = x;
        for piece in shaped.pieces {
            if !piece.glyphs.is_empty() {
                let start = Point::from_xy(x, y);
                surface.draw_glyphs(start, &piece.glyphs, piece.font, words, style.size, false);
            }
            x += piece.width * style.size;
        }
        surface.end_tagged();
        if let Some(node) = node {
            self.leaf(node, id);
        }
    }

    fn drawing(
        &mut self,
        surface: &mut Surface<'_>,
        figure: &Figure,
        rect: Rect,
        node: NodeId,
    ) -> Result<(), PdfError> {
        let svg = figure::file(figure, self.faces, &mut self.missing);
        let svg = figure::read(&svg, figure, &self.options)?;
        let size = Size::from_wh(rect.width(), rect.height()).ok_or(PdfError::Geometry)?;
        let id = surface.start_tagged(ContentTag::Other);
        surface.push_transform(&Transform::from_translate(rect.left(), rect.top()));
        // The letters of a drawing stay letters: they can be found and copied.
        let drawn = surface.draw_svg(&svg, size, SvgSettings::default());
        surface.pop();
        surface.end_tagged();
        self.leaf(node, id);
        drawn.ok_or(PdfError::Geometry)
    }
}

fn area([x, y, width, height]: [f32; 4]) -> Option<Path> {
    let mut path = PathBuilder::new();
    path.push_rect(Rect::from_xywh(x, y, width, height)?);
    path.finish()
}

fn fill(ink: u8) -> Fill {
    Fill {
        paint: luma::Color::new(ink).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::NonZero,
    }
}

fn bar(surface: &mut Surface<'_>, rect: [f32; 4], ink: u8) {
    let Some(path) = area(rect) else { return };
    let artifact = Artifact::with_kind(ArtifactType::Layout);
    surface.start_tagged(ContentTag::Artifact(artifact));
    surface.set_fill(Some(fill(ink)));
    surface.draw_path(&path);
    surface.end_tagged();
}
