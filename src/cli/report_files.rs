//! The files that a report is written to.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use super::board_name::file_name;
use super::context::OutputError;
use ringrule::report::{BoardLine, ReportFormat, TextLayout};

/// As what a file is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Format {
    /// Piece by piece.
    Pieces(ReportFormat),
    /// At once.
    Pdf,
}

const TEXT: ReportFormat = ReportFormat::Text(TextLayout::new(TextLayout::MOST));

pub(super) const ENDINGS: [(&str, Format); 6] = [
    ("txt", Format::Pieces(TEXT)),
    ("html", Format::Pieces(ReportFormat::Html)),
    ("pdf", Format::Pdf),
    ("md", Format::Pieces(ReportFormat::Markdown)),
    ("json", Format::Pieces(ReportFormat::Json)),
    ("csv", Format::Pieces(ReportFormat::Csv)),
];

/// What is asked for: the whole report, and a report on each board under names of
/// this pattern.
pub(super) struct Forms<'a> {
    pub(super) whole: Vec<(Option<&'a Path>, Format)>,
    pub(super) each: Vec<(&'a str, Format)>,
}

impl Forms<'_> {
    /// Every result: first the whole reports, then board by board the files of its
    /// own that each gets. Two boards may not share one.
    pub(super) fn all(
        &self,
        lines: &[BoardLine],
    ) -> Result<Vec<(Option<PathBuf>, Format)>, OutputError> {
        let whole = self.whole.iter();
        let whole = whole.map(|&(path, format)| (path.map(Path::to_owned), format));
        let mut all: Vec<_> = whole.collect();
        let mut taken = BTreeSet::new();
        for line in lines {
            for (pattern, format) in &self.each {
                let day = line.inspected.map(|day| day.to_string());
                let day = day.as_deref().unwrap_or("undated");
                let name = pattern.replace("{day}", day);
                let path = PathBuf::from(name.replace("{id}", &file_name(&line.id)));
                if !taken.insert(path.clone()) {
                    let id = line.id.clone();
                    return Err(OutputError::SharedId { path, id });
                }
                all.push((Some(path), *format));
            }
        }
        Ok(all)
    }
}
