//! A report as a tagged PDF: the file that is printed, signed and filed.
//!
//! Parts are laid out into [lists](list) of what stands where, one page after
//! the other; when the number of pages is known, the lists are drawn. The same
//! input gives the same bytes: nothing asks for the time.

mod boxes;
mod face;
mod figure;
mod flow;
mod layout;
mod lines;
mod list;
mod look;
mod render;
mod table;
#[cfg(test)]
mod tests;

pub use face::is_font;

use std::collections::BTreeSet;

use jiff::civil::Date;
use krilla::configure::{Accessibility, Archival, ConfigurationBuilder};
use krilla::error::KrillaError;
use krilla::metadata::{DateTime, Metadata};
use krilla::{Document, SerializeSettings};

use super::model::Part;
use face::Faces;
use flow::{Measure, TOP};
use layout::Layout;
use list::Item;
use look::MARGIN;
use render::Renderer;

/// The paper that a report is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub enum PaperSize {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

/// What a PDF says about itself, and what it is made with. Text is raw.
#[derive(Clone, Debug, Default)]
pub(in crate::report) struct PdfHead {
    /// Stands at the head of each page, too.
    pub title: String,
    pub author: Option<String>,
    pub subject: Option<String>,
    /// The day that the report bears; without one, the file has no date.
    pub date: Option<Date>,
    pub paper: PaperSize,
    /// Whether its pages are wider than high.
    pub landscape: bool,
    /// Tells this report from every other: the same for each version of it.
    pub identifier: String,
    /// Font files for characters that our own font has not, in the order in
    /// which they are tried.
    pub fonts: Vec<Vec<u8>>,
}

impl PdfHead {
    /// That of a document of one part.
    pub(in crate::report) fn of(part: &Part, paper: PaperSize, fonts: Vec<Vec<u8>>) -> Self {
        Self {
            title: part.title.clone(),
            identifier: part.title.clone(),
            paper,
            fonts,
            ..Self::default()
        }
    }
}

/// A finished file.
#[non_exhaustive]
pub struct Pdf {
    /// The file.
    pub bytes: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// Characters that no font has; they are printed as `U+XXXX`.
    pub missing: BTreeSet<char>,
}

/// Why there is no PDF.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PdfError {
    /// There is nothing to print.
    #[error("a report without a part has no page to print")]
    Empty,
    /// More pages than are held in memory at once.
    #[error(
        "the PDF would have more than {MOST_PAGES} pages; report fewer boards at once, or each in \
         a file of its own (`--each`)"
    )]
    TooLong,
    /// A font that was given is none.
    #[error("font {number} is not a font file that can be read")]
    Font {
        /// Which of those that were given, from 1.
        number: usize,
    },
    /// Our own font is damaged.
    #[error("the built-in font cannot be read")]
    OwnFont,
    /// A drawing is not sound.
    #[error("the drawing \"{title}\" cannot be drawn: {why}")]
    Drawing {
        /// Its title.
        title: String,
        /// What is wrong.
        why: String,
    },
    /// A page or a drawing has no size.
    #[error("a page or a drawing has no size")]
    Geometry,
    /// PDF/UA-1 or PDF/A-2a would not be met.
    #[error("the PDF would not conform to PDF/UA-1 and PDF/A-2a: {0}")]
    Accessibility(String),
    /// Anything else.
    #[error("the PDF cannot be written: {0}")]
    Write(String),
}

impl PdfHead {
    fn measure(&self) -> Measure {
        let Measure { width, height } = self.paper.measure();
        if self.landscape {
            Measure {
                width: height,
                height: width,
            }
        } else {
            Measure { width, height }
        }
    }
}

impl PaperSize {
    fn measure(self) -> Measure {
        const MM: f32 = 72.0 / 25.4;
        match self {
            // Published: ISO 216.
            Self::A4 => Measure {
                width: 210.0 * MM,
                height: 297.0 * MM,
            },
            // Published: ANSI/ASME Y14.1, size A: 8.5 by 11 inches.
            Self::Letter => Measure {
                width: 612.0,
                height: 792.0,
            },
        }
    }
}

/// A page takes about 0.18 MB while the file is made (measured: 1,025 pages in 184 MB). House
/// rule.
const MOST_PAGES: usize = 2000;

/// Writes parts as a PDF.
pub(in crate::report) fn write(
    head: &PdfHead,
    parts: impl Iterator<Item = Part>,
) -> Result<Pdf, PdfError> {
    let faces = Faces::new(&head.fonts)?;
    let measure = head.measure();
    let (mut layout, title) = lay_out(head, &faces, parts)?;

    let mut document = Document::new_with(settings(head.date.is_some())?);
    document.set_metadata(metadata(head, title));
    let pages = std::mem::take(&mut layout.flow.pages);
    let count = pages.len();
    let mut renderer = Renderer::new(layout, figure::options(&head.fonts));
    for (index, page) in pages.into_iter().enumerate() {
        renderer.page(&mut document, measure, index, page)?;
    }
    let missing = std::mem::take(&mut renderer.missing);
    renderer.finish(&mut document);
    let bytes = document.finish().map_err(invalid_file)?;
    Ok(Pdf {
        bytes,
        pages: count,
        missing,
    })
}

/// All pages with their heads and feet, and the title without harmful
/// characters.
fn lay_out<'f>(
    head: &PdfHead,
    faces: &'f Faces<'f>,
    parts: impl Iterator<Item = Part>,
) -> Result<(Layout<'f>, String), PdfError> {
    let mut layout = Layout::new(faces, head.measure());
    for part in parts {
        layout.part(part);
        if layout.flow.pages.len() > MOST_PAGES {
            return Err(PdfError::TooLong);
        }
    }
    if layout.flow.pages.is_empty() {
        return Err(PdfError::Empty);
    }
    for &(mark, page, y) in &layout.flow.landed {
        if let Some(mark) = layout.bookmarks.get_mut(mark) {
            (mark.page, mark.y) = (page, y);
        }
    }
    let title = match head.title.trim() {
        // A file without a title is announced by its name; PDF/UA forbids it.
        "" => "Report".to_owned(),
        title => layout.clean(title),
    };
    running(&mut layout, &title);
    Ok((layout, title))
}

/// The head and the foot of each page.
fn running(layout: &mut Layout<'_>, title: &str) {
    let measure = layout.flow.measure;
    let width = measure.text_width();
    let style = look::RUNNING;
    let faces = layout.faces;
    let head = lines::clip(faces, title, style, width);
    let count = layout.flow.pages.len();
    for (index, page) in layout.flow.pages.iter_mut().enumerate() {
        let number = format!("page {} of {count}", index + 1);
        let number = lines::clip(faces, &number, style, 0.3 * width);
        let foot = lines::clip(faces, &page.foot, style, 0.65 * width);
        let (top, bottom) = (TOP - 14.0, measure.bottom() + 18.0);
        let right = MARGIN + width - foot.width;
        let texts = [
            (MARGIN, top, head.clone()),
            (MARGIN, bottom, number),
            (right, bottom, foot),
        ];
        for (x, y, line) in texts {
            page.items.push(Item::Text {
                x,
                y,
                words: line.words,
                width: line.width,
                style,
                node: None,
            });
        }
        for y in [top + 4.0, bottom - 10.0] {
            page.items.push(Item::Rule {
                x: MARGIN,
                y,
                length: width,
                weight: look::HAIR,
                ink: look::GUIDE,
            });
        }
    }
}

/// Export fails where PDF/UA-1 (published: ISO 14289-1) is not met, as far as a
/// program can tell; of a document with a date, where PDF/A-2a (ISO 19005-2) is not,
/// which asks for one: what is signed is kept for years.
fn settings(dated: bool) -> Result<SerializeSettings, PdfError> {
    let configuration =
        ConfigurationBuilder::new().with_accessibility_validator(Accessibility::UA1);
    let configuration = if dated {
        configuration.with_archival_validator(Archival::A2_A)
    } else {
        configuration
    };
    let configuration = configuration
        .finish()
        .map_err(|error| PdfError::Write(format!("{error:?}")))?;
    Ok(SerializeSettings {
        configuration,
        ..SerializeSettings::default()
    })
}

fn metadata(head: &PdfHead, title: String) -> Metadata {
    let plain = |text: &String| crate::report::escape::terminal(text).into_owned();
    let mut metadata = Metadata::new()
        .title(title)
        .language("en".to_owned())
        .creator(format!("Ringrule {}", env!("CARGO_PKG_VERSION")))
        .document_id(plain(&head.identifier));
    if let Some(author) = &head.author {
        metadata = metadata.authors(vec![plain(author)]);
    }
    if let Some(subject) = &head.subject {
        metadata = metadata.description(plain(subject));
    }
    if let Some(date) = head.date {
        // A PDF cannot bear a year before our era, nor can a report.
        if let (Ok(year), Ok(month), Ok(day)) = (
            u16::try_from(date.year()),
            u8::try_from(date.month()),
            u8::try_from(date.day()),
        ) {
            metadata = metadata.creation_date(DateTime::new(year).month(month).day(day));
        }
    }
    metadata
}

fn invalid_file(error: KrillaError) -> PdfError {
    match error {
        KrillaError::Validation(errors) => {
            let words: Vec<String> = errors.iter().map(|(e, _)| format!("{e:?}")).collect();
            PdfError::Accessibility(words.join("; "))
        }
        error => PdfError::Write(error.to_string()),
    }
}

/// What stands where on every page, in whole points, for a snapshot of a file
/// whose bytes nobody can read.
#[cfg(test)]
#[allow(clippy::expect_used, reason = "a test may stop")]
pub(in crate::report) fn printed(head: &PdfHead, parts: impl Iterator<Item = Part>) -> String {
    let faces = Faces::new(&head.fonts).expect("fonts");
    let (layout, _) = lay_out(head, &faces, parts).expect("laid out");
    let mut out = String::new();
    for (index, page) in layout.flow.pages.iter().enumerate() {
        out.push_str(&format!("--- page {}\n", index + 1));
        for item in &page.items {
            match item {
                Item::Text { x, y, words, .. } => {
                    out.push_str(&format!("{x:>4.0} {y:>4.0}  {words}\n"));
                }
                Item::Drawing {
                    x,
                    y,
                    width,
                    height,
                    figure,
                    ..
                } => out.push_str(&format!(
                    "{x:>4.0} {y:>4.0}  [drawing, {width:.0} by {height:.0}: {}]\n",
                    figure.title
                )),
                _ => {}
            }
        }
    }
    out
}
