//! A report into its files.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::report::{BoardLine, Compliance, PaperSize, ReportFormat, TextLayout};

use super::context::{Claim, Context, Outputs};

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

/// A report to be written.
pub(super) struct Run<'a> {
    pub(super) report: &'a Compliance<'a>,
    pub(super) judge: &'a Judge<'a>,
    pub(super) boards: &'a [Board],
    pub(super) paper: PaperSize,
    pub(super) fonts: Vec<Vec<u8>>,
}

/// Characters that no font had.
type Unprinted = BTreeSet<char>;

impl Run<'_> {
    /// The report on standard output.
    pub(super) fn print(&self, format: ReportFormat, context: &mut Context) {
        context.report(&self.report.opening(format));
        for boards in self.pairs().chunks(AT_ONCE) {
            let pieces: Vec<String> = boards
                .par_iter()
                .map(|(line, board)| self.report.board(format, line, &self.judge.judge(board)))
                .collect();
            for piece in &pieces {
                context.report(piece);
            }
        }
        context.report(&self.report.closing(format));
    }

    /// Writes every file: those of the whole report, and those of each board.
    pub(super) fn files(
        &self,
        whole: &[(&Path, Format)],
        each: &[(&str, Format)],
        outputs: &mut Outputs,
    ) -> Result<Unprinted, String> {
        // What may not be written is known before anything is worked out.
        let mut pieces = Vec::new();
        let mut at_once = Vec::new();
        for (path, format) in whole {
            let claim = outputs.claim(path)?;
            match format {
                Format::Pieces(format) => pieces.push((claim, *format)),
                Format::Pdf => at_once.push(claim),
            }
        }
        let own = self.claims(each, outputs)?;
        let bar = Context::progress(self.boards.len());
        let mut unprinted = Unprinted::new();
        for (file, format) in &pieces {
            file.append(self.report.opening(*format).as_bytes())?;
        }
        let pairs = self.pairs();
        for (pairs, own) in pairs.chunks(AT_ONCE).zip(own.chunks(AT_ONCE)) {
            let rendered = pairs.par_iter().zip(own).map(|(pair, own)| {
                let (line, board) = pair;
                let texts = pieces
                    .iter()
                    .map(|(_, format)| self.report.board(*format, line, &self.judge.judge(board)));
                let texts: Vec<String> = texts.collect();
                let missing = self.own_files(*pair, own)?;
                bar.inc(1);
                Ok((texts, missing))
            });
            for (texts, missing) in rendered.collect::<Result<Vec<_>, String>>()? {
                for ((file, _), text) in pieces.iter().zip(texts) {
                    file.append(text.as_bytes())?;
                }
                unprinted.extend(missing);
            }
        }
        for (file, format) in &pieces {
            file.append(self.report.closing(*format).as_bytes())?;
        }
        for file in at_once {
            let boards = self.boards.iter().map(|board| self.judge.judge(board));
            let pdf = self.report.pdf(boards, self.paper, self.fonts.clone());
            let pdf = pdf.map_err(|error| error.to_string())?;
            file.append(&pdf.bytes)?;
            unprinted.extend(pdf.missing);
        }
        bar.finish_and_clear();
        Ok(unprinted)
    }

    fn pairs(&self) -> Vec<(&BoardLine, &Board)> {
        self.report.lines().iter().zip(self.boards).collect()
    }

    /// The files of its own that each board gets. Two boards may not share one.
    fn claims(
        &self,
        each: &[(&str, Format)],
        outputs: &mut Outputs,
    ) -> Result<Vec<Vec<(Claim, Format)>>, String> {
        let mut taken = BTreeSet::new();
        let mut all = Vec::new();
        for line in self.report.lines() {
            let mut own = Vec::new();
            for (pattern, format) in each {
                let path = PathBuf::from(pattern.replace("{id}", &file_name(&line.id)));
                if !taken.insert(path.clone()) {
                    return Err(format!(
                        "`{}` would be written twice: two boards have the id `{}`, or ids that give the same file name",
                        path.display(),
                        line.id
                    ));
                }
                own.push((outputs.claim(&path)?, *format));
            }
            all.push(own);
        }
        Ok(all)
    }

    /// One board's own reports.
    fn own_files(
        &self,
        (line, board): (&BoardLine, &Board),
        own: &[(Claim, Format)],
    ) -> Result<Unprinted, String> {
        let mut unprinted = Unprinted::new();
        if own.is_empty() {
            return Ok(unprinted);
        }
        let report = self.report.of_one(line);
        let Some(line) = report.lines().first() else {
            return Ok(unprinted);
        };
        let assessment = self.judge.judge(board);
        for (file, format) in own {
            match format {
                Format::Pieces(format) => {
                    let pieces = [
                        report.opening(*format),
                        report.board(*format, line, &assessment),
                        report.closing(*format),
                    ];
                    file.append(pieces.concat().as_bytes())?;
                }
                Format::Pdf => {
                    let one = std::iter::once(assessment.clone());
                    let pdf = report.pdf(one, self.paper, self.fonts.clone());
                    let pdf = pdf.map_err(|error| error.to_string())?;
                    file.append(&pdf.bytes)?;
                    unprinted.extend(pdf.missing);
                }
            }
        }
        Ok(unprinted)
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
