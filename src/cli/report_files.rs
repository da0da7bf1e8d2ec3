//! A report into its files.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::{Assessment, Judge};
use ringrule::report::{Compliance, PaperSize, ReportFormat, TextLayout};

use super::context::{Context, Stop};
use super::pdf_choice::say_missing;

/// As what a file is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Format {
    /// Piece by piece.
    Pieces(ReportFormat),
    /// At once.
    Pdf,
}

const TEXT: ReportFormat = ReportFormat::Text(TextLayout::new(TextLayout::MOST));

pub(super) const ENDINGS: [(&str, Format); 5] = [
    ("txt", Format::Pieces(TEXT)),
    ("html", Format::Pieces(ReportFormat::Html)),
    ("pdf", Format::Pdf),
    ("md", Format::Pieces(ReportFormat::Markdown)),
    ("json", Format::Pieces(ReportFormat::Json)),
];

/// Boards that are rendered before any of them is written: enough for every
/// core, and few enough that memory does not grow with the number of boards.
/// House rule.
const AT_ONCE: usize = 64;

/// What is asked for: the whole report, and a report on each board under names of
/// this pattern.
pub(super) struct Forms<'a> {
    pub(super) whole: Vec<(Option<&'a Path>, Format)>,
    pub(super) each: Vec<(&'a str, Format)>,
}

/// A report to be written.
pub(super) struct Run<'a> {
    pub(super) report: &'a Compliance<'a>,
    pub(super) judge: &'a Judge<'a>,
    pub(super) boards: &'a [Board],
    pub(super) paper: PaperSize,
    pub(super) fonts: Vec<Vec<u8>>,
}

/// A document, and the characters that no font had.
type Made = (Vec<u8>, BTreeSet<char>);

impl Run<'_> {
    /// Writes everything: the whole report, and those of each board.
    pub(super) fn write(
        &self,
        forms: &Forms<'_>,
        overwrite: bool,
        context: &mut Context,
    ) -> Result<(), Stop> {
        let whole = forms.whole.iter();
        let whole = whole.map(|&(path, format)| (path.map(Path::to_owned), format));
        let all: Vec<_> = whole.chain(self.of_each(&forms.each)?).collect();
        // What may not be written is known before anything is worked out.
        let results = context.begin(all, overwrite)?;
        let (whole, own) = results.all().split_at(forms.whole.len());
        let pieces = whole.iter().filter_map(|(claim, format)| match format {
            Format::Pieces(format) => Some((claim.as_ref(), *format)),
            Format::Pdf => None,
        });
        let pieces: Vec<_> = pieces.collect();
        let bar = Context::progress(if results.in_files() {
            self.boards.len()
        } else {
            0
        });
        let mut unprinted = BTreeSet::new();
        for &(claim, format) in &pieces {
            context.put(claim, self.report.opening(format).as_bytes())?;
        }
        let lines: Vec<_> = self
            .report
            .lines()
            .iter()
            .zip(self.boards)
            .enumerate()
            .collect();
        for lines in lines.chunks(AT_ONCE) {
            let made = lines.par_iter().map(|&(index, (line, board))| {
                let assessment = self.judge.judge(board);
                let mut made = Vec::new();
                for &(claim, format) in &pieces {
                    let piece = self.report.board(format, line, &assessment);
                    made.push((claim, (piece.into_bytes(), BTreeSet::new())));
                }
                let each = forms.each.len();
                let own = own.iter().skip(index * each).take(each);
                for (claim, format) in own {
                    let report = self.report.of_one(line);
                    made.push((
                        claim.as_ref(),
                        self.document(&report, *format, &assessment)?,
                    ));
                }
                bar.inc(1);
                Ok(made)
            });
            for (claim, (bytes, missing)) in made
                .collect::<Result<Vec<_>, Stop>>()?
                .into_iter()
                .flatten()
            {
                context.put(claim, &bytes)?;
                unprinted.extend(missing);
            }
        }
        for &(claim, format) in &pieces {
            context.put(claim, self.report.closing(format).as_bytes())?;
        }
        for (claim, _) in whole.iter().filter(|(_, format)| *format == Format::Pdf) {
            let boards = self.boards.iter().map(|board| self.judge.judge(board));
            let (bytes, missing) = self.pdf(self.report, boards)?;
            context.put(claim.as_ref(), &bytes)?;
            unprinted.extend(missing);
        }
        bar.finish_and_clear();
        context.keep_all(results)?;
        say_missing(&unprinted, context);
        Ok(())
    }

    /// The files of its own that each board gets. Two boards may not share one.
    fn of_each(&self, each: &[(&str, Format)]) -> Result<Vec<(Option<PathBuf>, Format)>, String> {
        let mut taken = BTreeSet::new();
        let mut all = Vec::new();
        for line in self.report.lines() {
            for (pattern, format) in each {
                let path = PathBuf::from(pattern.replace("{id}", &file_name(&line.id)));
                if !taken.insert(path.clone()) {
                    return Err(format!(
                        "`{}` would be written twice: two boards have the id `{}`, or ids that give the same file name",
                        path.display(),
                        line.id
                    ));
                }
                all.push((Some(path), *format));
            }
        }
        Ok(all)
    }

    /// A report on one board.
    fn document(
        &self,
        report: &Compliance<'_>,
        format: Format,
        assessment: &Assessment<'_>,
    ) -> Result<Made, Stop> {
        let Format::Pieces(format) = format else {
            return self.pdf(report, std::iter::once(assessment.clone()));
        };
        let lines = report.lines().iter();
        let board = lines.map(|line| report.board(format, line, assessment));
        let board: String = board.collect();
        let text = report.opening(format) + &board + &report.closing(format);
        Ok((text.into_bytes(), BTreeSet::new()))
    }

    fn pdf<'b>(
        &self,
        report: &Compliance<'_>,
        boards: impl Iterator<Item = Assessment<'b>>,
    ) -> Result<Made, Stop> {
        let pdf = report.pdf(boards, self.paper, self.fonts.clone());
        let pdf = pdf.map_err(Stop::said)?;
        Ok((pdf.bytes, pdf.missing))
    }
}

/// An id as a part of a file's name: letters and digits of any script, and what
/// no system gives a meaning to.
fn file_name(id: &str) -> String {
    let safe: String = id
        .chars()
        .map(|c| {
            if c.is_alphanumeric() || "-_.".contains(c) {
                c
            } else {
                '_'
            }
        })
        .collect();
    // A leading dot hides a file, and `..` is a folder.
    match safe.strip_prefix('.') {
        Some(rest) => format!("_{rest}"),
        None => safe,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_cannot_lead_out_of_its_folder() {
        assert_eq!(file_name("FL-03"), "FL-03");
        assert_eq!(file_name("../../etc/x"), "_._.._etc_x");
        assert_eq!(file_name("Schänke 7\u{202e}"), "Schänke_7_");
        assert_eq!(file_name(".."), "_.");
    }
}
