//! A report into its files: all of them, or none.

use std::collections::BTreeSet;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::report::{BoardLine, Compliance, PaperSize, ReportFormat};

use super::Screen;
use super::output::{Pending, Ready};

/// As what a file is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Format {
    /// Piece by piece.
    Pieces(ReportFormat),
    /// At once.
    Pdf,
}

/// The format that a file's ending asks for.
pub(super) fn format_of(path: &Path) -> Result<Format, String> {
    let ending = path.extension().and_then(|ending| ending.to_str());
    Ok(match ending.unwrap_or_default() {
        "html" => Format::Pieces(ReportFormat::Html),
        "md" => Format::Pieces(ReportFormat::Markdown),
        "json" => Format::Pieces(ReportFormat::Json),
        "pdf" => Format::Pdf,
        _ => {
            return Err(format!(
                "`{}` names no format: end it with .html, .pdf, .md or .json",
                path.display()
            ));
        }
    })
}

/// Boards that are rendered before any of them is written: enough for every
/// core, and few enough that memory does not grow with the number of boards.
/// House rule.
const AT_ONCE: usize = 64;

/// A run of less than this is over before anybody looks. House rule.
const WORTH_SHOWING: usize = 50;

/// A report and where it goes.
pub(super) struct Run<'a> {
    pub(super) report: &'a Compliance<'a>,
    pub(super) judge: &'a Judge<'a>,
    pub(super) boards: &'a [(PathBuf, Board)],
    pub(super) paper: PaperSize,
    pub(super) fonts: Vec<Vec<u8>>,
    pub(super) overwrite: bool,
    /// Files that may not be written over.
    pub(super) read: Vec<PathBuf>,
}

/// What a run has written.
pub(super) struct Written {
    pub(super) paths: Vec<PathBuf>,
    /// Characters that no font had.
    pub(super) unprinted: BTreeSet<char>,
}

impl Run<'_> {
    /// The report on standard output.
    pub(super) fn print(&self, format: ReportFormat, screen: &mut Screen) {
        screen.report(&self.report.opening(format));
        for boards in self.pairs().chunks(AT_ONCE) {
            let pieces: Vec<String> = boards
                .par_iter()
                .map(|(line, board)| self.report.board(format, line, &self.judge.judge(board)))
                .collect();
            for piece in &pieces {
                screen.report(piece);
            }
        }
        screen.report(&self.report.closing(format));
    }

    /// Every file, or none and why. A file appears only when all are complete.
    pub(super) fn files(
        &self,
        outputs: &[(PathBuf, Format)],
        each: &[(String, Format)],
    ) -> Result<Written, String> {
        let mut unprinted = BTreeSet::new();
        let names = self.names(outputs, each)?;
        let begin = |path: &Path| Pending::begin(path, self.overwrite, &self.read);
        let mut pieces = Vec::new();
        let mut whole = Vec::new();
        for (path, format) in outputs {
            match format {
                Format::Pieces(format) => pieces.push((begin(path)?, *format)),
                Format::Pdf => whole.push(begin(path)?),
            }
        }
        // What may not be written is known before anything is worked out.
        for path in names.iter().flatten() {
            drop(begin(path)?);
        }
        let bar = progress(self.boards.len());
        let mut done = Vec::new();
        for (file, format) in &mut pieces {
            file.put(self.report.opening(*format).as_bytes())?;
        }
        let pairs = self.pairs();
        for (chunk, names) in pairs.chunks(AT_ONCE).zip(names.chunks(AT_ONCE)) {
            let rendered = chunk.par_iter().zip(names).map(|(pair, names)| {
                let pieces = pieces.iter().map(|(_, format)| {
                    let (line, board) = pair;
                    self.report.board(*format, line, &self.judge.judge(board))
                });
                let pieces: Vec<String> = pieces.collect();
                let own = self.own_files(*pair, names, each)?;
                bar.inc(1);
                Ok((pieces, own))
            });
            let rendered: Vec<_> = rendered.collect::<Result<_, String>>()?;
            for (texts, own) in rendered {
                for ((file, _), text) in pieces.iter_mut().zip(texts) {
                    file.put(text.as_bytes())?;
                }
                for (file, missing) in own {
                    done.push(file);
                    unprinted.extend(missing);
                }
            }
        }
        for (mut file, format) in pieces {
            file.put(self.report.closing(format).as_bytes())?;
            done.push(file.finish()?);
        }
        for mut file in whole {
            let boards = self.boards.iter().map(|(_, board)| self.judge.judge(board));
            let pdf = self.report.pdf(boards, self.paper, self.fonts.clone());
            let pdf = pdf.map_err(|error| error.to_string())?;
            file.put(&pdf.bytes)?;
            unprinted.extend(pdf.missing);
            done.push(file.finish()?);
        }
        bar.finish_and_clear();
        let paths = done.into_iter().map(Ready::keep);
        let mut paths: Vec<PathBuf> = paths.collect::<Result<_, String>>()?;
        paths.sort();
        Ok(Written { paths, unprinted })
    }

    fn pairs(&self) -> Vec<(&BoardLine, &Board)> {
        let boards = self.boards.iter().map(|(_, board)| board);
        self.report.lines().iter().zip(boards).collect()
    }

    /// The files of its own that each board gets. Two boards may not share one.
    fn names(
        &self,
        outputs: &[(PathBuf, Format)],
        each: &[(String, Format)],
    ) -> Result<Vec<Vec<PathBuf>>, String> {
        let mut taken: BTreeSet<PathBuf> = outputs.iter().map(|(path, _)| path.clone()).collect();
        let mut names = Vec::new();
        for line in self.report.lines() {
            let mut own = Vec::new();
            for (pattern, _) in each {
                let path = PathBuf::from(pattern.replace("{id}", &file_name(&line.id)));
                if !taken.insert(path.clone()) {
                    return Err(format!(
                        "`{}` would be written twice: two boards have the mark `{}`, or all but",
                        path.display(),
                        line.id
                    ));
                }
                own.push(path);
            }
            names.push(own);
        }
        Ok(names)
    }

    /// One board's own reports.
    fn own_files(
        &self,
        (line, board): (&BoardLine, &Board),
        names: &[PathBuf],
        each: &[(String, Format)],
    ) -> Result<Vec<(Ready, BTreeSet<char>)>, String> {
        let report = self.report.of_one(line);
        let Some(line) = report.lines().first() else {
            return Ok(Vec::new());
        };
        let assessment = self.judge.judge(board);
        let mut files = Vec::new();
        for (path, (_, format)) in names.iter().zip(each) {
            let mut file = Pending::begin(path, self.overwrite, &self.read)?;
            let missing = match format {
                Format::Pieces(format) => {
                    file.put(report.opening(*format).as_bytes())?;
                    let piece = report.board(*format, line, &assessment);
                    file.put(piece.as_bytes())?;
                    file.put(report.closing(*format).as_bytes())?;
                    BTreeSet::new()
                }
                Format::Pdf => {
                    let one = std::iter::once(assessment.clone());
                    let pdf = report.pdf(one, self.paper, self.fonts.clone());
                    let pdf = pdf.map_err(|error| error.to_string())?;
                    file.put(&pdf.bytes)?;
                    pdf.missing
                }
            };
            files.push((file.finish()?, missing));
        }
        Ok(files)
    }
}

/// A mark as a part of a file's name: letters and digits of any script, and what
/// no system gives a meaning to.
fn file_name(mark: &str) -> String {
    let safe: String = mark
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

/// Progress for who watches; nothing where nobody does.
fn progress(boards: usize) -> ProgressBar {
    if boards < WORTH_SHOWING || !std::io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(u64::try_from(boards).unwrap_or(u64::MAX));
    let style = ProgressStyle::with_template("{pos} of {len} boards  {wide_bar}  {eta} to go");
    bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    bar
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_cannot_lead_out_of_its_folder() {
        assert_eq!(file_name("FL-03"), "FL-03");
        assert_eq!(file_name("../../etc/x"), "_._.._etc_x");
        assert_eq!(file_name("Schänke 7\u{202e}"), "Schänke_7_");
        assert_eq!(file_name(".."), "_.");
    }
}
