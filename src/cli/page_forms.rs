//! The formats of a result that is read as pages and as figures, and its files.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};

use super::context::{Context, Output, Stop, also};
use super::pdf_choice::PdfChoice;
use ringrule::report::{PaperSize, Pdf, PdfError, results_workbook};

/// As what a result is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum PageFormat {
    /// To read.
    Text,
    /// For other programs, with everything (`ringrule schema`).
    Json,
    /// Rows for spreadsheets.
    Csv,
    /// To read, and to keep beside other text.
    Markdown,
    /// A page, with drawings.
    Html,
    // What only the ending of a file asks for.
    #[value(skip)]
    Pdf,
    #[value(skip)]
    Xlsx,
}

const ENDINGS: [(&str, PageFormat); 7] = [
    ("txt", PageFormat::Text),
    ("json", PageFormat::Json),
    ("csv", PageFormat::Csv),
    ("xlsx", PageFormat::Xlsx),
    ("md", PageFormat::Markdown),
    ("html", PageFormat::Html),
    ("pdf", PageFormat::Pdf),
];

/// Where a result goes, and as what.
#[derive(Debug, Args)]
pub(super) struct PageForms {
    /// How the result is written [default: by the ending of --output (txt, json, csv, xlsx, md,
    /// html, pdf), else text].
    #[arg(long, value_enum, value_name = "FORMAT")]
    format: Option<PageFormat>,
    #[command(flatten)]
    pdf: PdfChoice,
    #[command(flatten)]
    pub(super) output: Output,
    /// Also write to this file, in the format of its ending (txt, json, csv, xlsx, md, html,
    /// pdf). May be given several times.
    #[arg(long, value_name = "FILE", requires = "output")]
    also: Vec<PathBuf>,
}

/// A file, or standard output, and what is written there.
pub(super) type Form<'p, F> = (Option<&'p Path>, F);

impl PageForms {
    /// Every form that is asked for.
    pub(super) fn all(&self) -> Result<Vec<Form<'_, PageFormat>>, Stop> {
        let own = self
            .output
            .format(self.format, &ENDINGS, PageFormat::Text)?;
        self.after(own)
    }

    /// The same after a first one that is settled.
    pub(super) fn after<F: Copy + From<PageFormat>>(
        &self,
        first: F,
    ) -> Result<Vec<Form<'_, F>>, Stop> {
        let endings = ENDINGS.map(|(ending, format)| (ending, F::from(format)));
        also((self.output.output.as_deref(), first), &self.also, &endings)
    }

    /// A PDF, with a word on what its fonts lack.
    pub(super) fn pdf(
        &self,
        context: &mut Context,
        pdf: impl FnOnce(PaperSize, Vec<Vec<u8>>) -> Result<Pdf, PdfError>,
    ) -> Result<Vec<u8>, Stop> {
        self.pdf.make(context, pdf)
    }
}

/// A workbook of one sheet of rows.
pub(super) fn workbook(sheet: &str, rows: &str) -> Result<Vec<u8>, Stop> {
    results_workbook(&[(sheet, rows)]).map_err(Stop::said)
}
