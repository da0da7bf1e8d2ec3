//! Fonts, parsed once, and text shaped with them. What is measured here is what
//! is drawn later: both come from the same shaping.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;
use std::rc::Rc;
use std::sync::LazyLock;

use krilla::text::{Font, GlyphId, KrillaGlyph};
use rustybuzz::{Direction, Face as Shaper, ShapePlan, UnicodeBuffer};
use unicode_bidi::{LTR_LEVEL, Level, ParagraphBidiInfo};
use unicode_script::{Script, UnicodeScript};

use super::super::super::{escape, fonts};
use super::PdfError;

/// Parsing takes longer than setting a page, so a run of a thousand reports
/// must not do it a thousand times.
static REGULAR: LazyLock<Option<Font>> = LazyLock::new(|| Font::new(fonts::REGULAR.into(), 0));
static BOLD: LazyLock<Option<Font>> = LazyLock::new(|| Font::new(fonts::BOLD.into(), 0));

struct Face<'a> {
    font: Font,
    shaper: Shaper<'a>,
    /// How the font shapes each script in each direction. To find that out takes
    /// longer than to shape a word.
    plans: RefCell<Vec<(bool, Script, Rc<ShapePlan>)>>,
}

impl<'a> Face<'a> {
    fn new(font: Font, data: &'a [u8]) -> Option<Self> {
        Some(Self {
            font,
            shaper: Shaper::from_slice(data, 0)?,
            plans: RefCell::default(),
        })
    }

    fn plan(&self, back: bool, script: Script) -> Rc<ShapePlan> {
        let mut plans = self.plans.borrow_mut();
        if let Some((.., plan)) = plans.iter().find(|(b, s, _)| *b == back && *s == script) {
            return Rc::clone(plan);
        }
        let plan = ShapePlan::new(
            &self.shaper,
            direction(back),
            Some(shaping(script)),
            None,
            &[],
        );
        let plan = Rc::new(plan);
        plans.push((back, script, Rc::clone(&plan)));
        plan
    }
}

const fn direction(back: bool) -> Direction {
    if back {
        Direction::RightToLeft
    } else {
        Direction::LeftToRight
    }
}

fn shaping(script: Script) -> rustybuzz::Script {
    let script = script.short_name().parse();
    script.unwrap_or(rustybuzz::script::COMMON)
}

/// The fonts of one document in the order in which they are tried.
pub(super) struct Faces<'a> {
    regular: Face<'static>,
    bold: Face<'static>,
    more: Vec<Face<'a>>,
}

/// Glyphs of one font, one direction and one script; a piece of a line.
pub(super) struct Piece {
    pub(super) font: Font,
    pub(super) glyphs: Vec<KrillaGlyph>,
    /// In ems.
    pub(super) width: f32,
}

/// A line in visual order.
pub(super) struct Shaped {
    pub(super) pieces: Vec<Piece>,
    /// In ems.
    pub(super) width: f32,
}

/// Whether these bytes are a font that a PDF can be set in.
pub fn is_font(data: &[u8]) -> bool {
    let font = Font::new(data.to_vec().into(), 0);
    font.is_some_and(|font| Face::new(font, data).is_some())
}

impl<'a> Faces<'a> {
    pub(super) fn new(more: &'a [Vec<u8>]) -> Result<Self, PdfError> {
        let own = |font: &Option<Font>, data| Face::new(font.clone()?, data);
        let extra = |(index, data): (usize, &'a Vec<u8>)| {
            Font::new(data.clone().into(), 0)
                .and_then(|font| Face::new(font, data))
                .ok_or(PdfError::Font { number: index + 1 })
        };
        Ok(Self {
            regular: own(&REGULAR, fonts::REGULAR).ok_or(PdfError::OwnFont)?,
            bold: own(&BOLD, fonts::BOLD).ok_or(PdfError::OwnFont)?,
            more: more
                .iter()
                .enumerate()
                .map(extra)
                .collect::<Result<_, _>>()?,
        })
    }

    fn at(&self, bold: bool, index: usize) -> &Face<'_> {
        match (index, bold) {
            (0, true) | (1, false) => &self.bold,
            (0, false) | (1, true) => &self.regular,
            // Indices come from `find`, so the last arm's fallback is never taken.
            (n, _) => self.more.get(n - 2).unwrap_or(&self.regular),
        }
    }

    /// The first font that can draw a character.
    fn find(&self, c: char, bold: bool) -> Option<usize> {
        (0..self.more.len() + 2).find(|&n| self.at(bold, n).shaper.glyph_index(c).is_some())
    }

    /// A line without a character that would be invisible, harmful or missing:
    /// those are spelt out, and the missing ones noted.
    pub(super) fn clean(&self, text: &str, missing: &mut BTreeSet<char>) -> String {
        self.cover(&escape::terminal(text), missing)
    }

    /// What no font has, spelt out. Line breaks stay: drawings have them.
    pub(super) fn cover(&self, text: &str, missing: &mut BTreeSet<char>) -> String {
        let plain = |c: char| matches!(c, ' '..='~' | '\n' | '\t' | '\r');
        let mut out = String::with_capacity(text.len());
        for c in text.chars() {
            // A private character means whatever its font says, which no reader
            // and no search can know.
            if plain(c) || (!is_private(c) && self.find(c, false).is_some()) {
                out.push(c);
            } else {
                missing.insert(c);
                out.push_str(&format!("U+{:04X}", u32::from(c)));
            }
        }
        out
    }

    /// A clean line as it is drawn.
    pub(super) fn shape(&self, text: &str, bold: bool) -> Shaped {
        if text.is_ascii() {
            let piece = shape_run(self.at(bold, 0), text, 0..text.len(), false, Script::Latin);
            return Shaped {
                width: piece.width,
                pieces: vec![piece],
            };
        }
        let mut shaped = Shaped {
            pieces: Vec::new(),
            width: 0.0,
        };
        // The document reads from left to right; names within it may not.
        let bidi = ParagraphBidiInfo::new(text, Some(LTR_LEVEL));
        let (levels, runs) = bidi.visual_runs(0..text.len());
        for run in runs {
            let back = levels.get(run.start).is_some_and(Level::is_rtl);
            let mut parts = self.split(text, run, bold);
            if back {
                parts.reverse();
            }
            for (range, face, script) in parts {
                let piece = shape_run(self.at(bold, face), text, range, back, script);
                shaped.width += piece.width;
                shaped.pieces.push(piece);
            }
        }
        shaped
    }

    /// Parts of a run that one font and one script can do.
    fn split(
        &self,
        text: &str,
        run: Range<usize>,
        bold: bool,
    ) -> Vec<(Range<usize>, usize, Script)> {
        let mut parts: Vec<(Range<usize>, usize, Script)> = Vec::new();
        for (offset, c) in text.get(run.clone()).unwrap_or_default().char_indices() {
            let start = run.start + offset;
            let end = start + c.len_utf8();
            let face = self.find(c, bold).unwrap_or(0);
            let own = c.script();
            let neutral = matches!(own, Script::Common | Script::Inherited);
            match parts.last_mut() {
                Some((range, f, script)) if *f == face && (neutral || *script == own) => {
                    range.end = end;
                }
                // A run that begins with brackets or digits takes its script
                // from the first letter.
                Some((range, f, script)) if *f == face && *script == Script::Common => {
                    range.end = end;
                    *script = own;
                }
                _ => parts.push((start..end, face, if neutral { Script::Common } else { own })),
            }
        }
        parts
    }

    pub(super) fn width(&self, text: &str, bold: bool) -> f32 {
        self.shape(text, bold).width
    }

    /// Where each cluster of a text starts and how wide it is, in ems and in
    /// reading order. A word may be broken between clusters.
    pub(super) fn clusters(&self, text: &str, bold: bool) -> Vec<(usize, f32)> {
        let mut all: Vec<(usize, f32)> = Vec::new();
        let shaped = self.shape(text, bold);
        for glyph in shaped.pieces.iter().flat_map(|piece| &piece.glyphs) {
            let start = glyph.text_range.start;
            match all.last_mut() {
                Some((last, width)) if *last == start => *width += glyph.x_advance,
                _ => all.push((start, glyph.x_advance)),
            }
        }
        all.sort_by_key(|&(start, _)| start);
        all
    }
}

/// Private use, and values that are no characters.
fn is_private(c: char) -> bool {
    let n = u32::from(c);
    matches!(n, 0xe000..=0xf8ff | 0xf_0000.. | 0xfdd0..=0xfdef) || n & 0xfffe == 0xfffe
}

fn shape_run(
    face: &Face<'_>,
    text: &str,
    range: Range<usize>,
    back: bool,
    script: Script,
) -> Piece {
    let words = text.get(range.clone()).unwrap_or_default();
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(words);
    buffer.set_direction(direction(back));
    buffer.set_script(shaping(script));
    let plan = face.plan(back, script);
    let output = rustybuzz::shape_with_plan(&face.shaper, &plan, buffer);

    // A cluster ends where the next one in reading order starts.
    let mut starts: Vec<usize> = output
        .glyph_infos()
        .iter()
        .map(|i| i.cluster as usize)
        .collect();
    starts.sort_unstable();
    starts.dedup();
    let upem = face.font.units_per_em();
    let ems = |units: i32| units as f32 / upem;
    let mut width = 0.0;
    let glyphs = output
        .glyph_infos()
        .iter()
        .zip(output.glyph_positions())
        .map(|(info, place)| {
            let start = info.cluster as usize;
            let next = starts.partition_point(|&s| s <= start);
            let end = starts.get(next).copied().unwrap_or(words.len());
            width += ems(place.x_advance);
            KrillaGlyph::new(
                GlyphId::new(info.glyph_id),
                ems(place.x_advance),
                ems(place.x_offset),
                ems(place.y_offset),
                ems(place.y_advance),
                range.start + start..range.start + end,
                None,
            )
        })
        .collect();
    Piece {
        font: face.font.clone(),
        glyphs,
        width,
    }
}
