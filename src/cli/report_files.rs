//! The files that a report is written to.

use std::path::{Path, PathBuf};

use super::board_name::each_path;
use super::context::Stop;
use ringrule::report::{BoardLine, ReportFormat, TextLayout};

/// As what a file is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Format {
    /// Piece by piece.
    Pieces(ReportFormat),
    /// At once.
    Pdf,
    /// At once, too: rows as a workbook.
    Xlsx,
}

const TEXT: ReportFormat = ReportFormat::Text(TextLayout::new(TextLayout::MOST));

pub(super) const ENDINGS: [(&str, Format); 7] = [
    ("txt", Format::Pieces(TEXT)),
    ("html", Format::Pieces(ReportFormat::Html)),
    ("pdf", Format::Pdf),
    ("md", Format::Pieces(ReportFormat::Markdown)),
    ("json", Format::Pieces(ReportFormat::Json)),
    ("csv", Format::Pieces(ReportFormat::Csv)),
    ("xlsx", Format::Xlsx),
];

/// What is asked for: the whole report, and a report on each board under names of
/// this pattern.
pub(super) struct Forms<'a> {
    pub(super) whole: Vec<(Option<&'a Path>, Format)>,
    pub(super) each: Vec<(&'a str, Format)>,
}

impl Forms<'_> {
    /// Every result: first the whole reports, then board by board the files of its
    /// own that each gets.
    pub(super) fn all(&self, lines: &[BoardLine]) -> Result<Vec<(Option<PathBuf>, Format)>, Stop> {
        let whole = self.whole.iter();
        let whole = whole.map(|&(path, format)| (path.map(Path::to_owned), format));
        let mut all: Vec<_> = whole.collect();
        let boards = || lines.iter().map(|line| (line.id.as_str(), line.inspected));
        let each = self.each.iter();
        let each = each.map(|&(pattern, format)| Ok((each_path(pattern, boards())?, format)));
        let each = each.collect::<Result<Vec<_>, Stop>>()?;
        for index in 0..lines.len() {
            let own = each.iter();
            all.extend(own.map(|(paths, format)| (paths.get(index).cloned(), *format)));
        }
        Ok(all)
    }
}
