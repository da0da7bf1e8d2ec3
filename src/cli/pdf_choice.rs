//! How a PDF is made, for every command that writes one.

use std::collections::BTreeSet;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::report::{PaperSize, Pdf, PdfError, is_font};

use super::context::{Context, Stop};

#[derive(Debug, Args)]
pub(crate) struct PdfChoice {
    /// The paper of a PDF.
    #[arg(long, value_enum, default_value_t = Paper::A4, value_name = "SIZE")]
    paper: Paper,
    /// A font file for characters that the built-in font does not have; for PDF.
    /// May be given several times.
    #[arg(long, value_name = "FILE")]
    font: Vec<PathBuf>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Paper {
    A4,
    Letter,
}

impl PdfChoice {
    pub(crate) const fn paper(&self) -> PaperSize {
        match self.paper {
            Paper::A4 => PaperSize::A4,
            Paper::Letter => PaperSize::Letter,
        }
    }

    pub(crate) fn fonts(&self, context: &Context) -> Result<Vec<Vec<u8>>, Stop> {
        let read = |path: &PathBuf| {
            let bytes = context.inputs().bytes(path);
            let name = path.display();
            match bytes {
                Ok(bytes) if is_font(&bytes) => Ok(bytes),
                Ok(_) => Err(Stop::Said(format!(
                    "`{name}` is not a font file that can be read: name a file such as `.ttf` or \
                     `.otf`"
                ))),
                Err(error) => Err(Stop::Said(format!("font `{name}` cannot be read: {error}"))),
            }
        };
        self.font.iter().map(read).collect()
    }

    /// Makes a PDF, with a word on what its fonts lack.
    pub(crate) fn make(
        &self,
        context: &mut Context,
        pdf: impl FnOnce(PaperSize, Vec<Vec<u8>>) -> Result<Pdf, PdfError>,
    ) -> Result<Vec<u8>, Stop> {
        let pdf = pdf(self.paper(), self.fonts(context)?).map_err(Stop::said)?;
        say_missing(&pdf.missing, context);
        Ok(pdf.bytes)
    }
}

/// Says which characters no font had.
pub(crate) fn say_missing(missing: &BTreeSet<char>, context: &mut Context) {
    if missing.is_empty() {
        return;
    }
    let characters: Vec<String> = missing.iter().map(char::to_string).collect();
    context.note(&format!(
        "note: no font has {}, printed by number: add `--font FILE` with one that does",
        characters.join(" ")
    ));
}
