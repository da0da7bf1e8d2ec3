//! A report, written into all that is asked for at once.

use std::borrow::Cow;
use std::collections::BTreeSet;

use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::{Assessment, Judge};
use ringrule::report::{Compliance, PaperSize};

use super::context::{Context, Stop};
use super::pdf_choice::say_missing;
use super::report_files::{Format, Forms};

/// Boards that are judged at once, and rendered before any of them is written: enough for every
/// core, and few enough that memory does not grow with the number of boards.
/// House rule.
pub(super) const AT_ONCE: usize = 64;

/// Boards whose assessments are kept from the summary to their pages; those of more are
/// worked out again, so that memory does not grow with them. House rule.
pub(super) const KEPT: usize = 2000;

/// A report to be written.
pub(super) struct Run<'a> {
    pub(super) report: &'a Compliance<'a>,
    pub(super) judge: &'a Judge<'a>,
    pub(super) boards: &'a [Board],
    /// The assessments of the first boards.
    pub(super) kept: Vec<Assessment<'a>>,
    pub(super) paper: PaperSize,
    pub(super) fonts: Vec<Vec<u8>>,
}

/// A document, and the characters that no font had.
type Made = (Vec<u8>, BTreeSet<char>);

impl<'a> Run<'a> {
    /// Writes everything: the whole report, and those of each board.
    pub(super) fn write(
        &self,
        forms: &Forms<'_>,
        overwrite: bool,
        context: &mut Context,
    ) -> Result<(), Stop> {
        // What may not be written is known before anything is worked out.
        let results = context.begin(forms.all(self.report.lines())?, overwrite)?;
        let (whole, own) = results.all().split_at(forms.whole.len());
        let pieces = whole.iter().filter_map(|(claim, format)| match format {
            Format::Pieces(format) => Some((claim.as_ref(), *format)),
            Format::Pdf | Format::Xlsx => None,
        });
        let pieces: Vec<_> = pieces.collect();
        let bar = results.progress(self.boards.len());
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
                let assessment = self.assessment(index, board);
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
        for (claim, format) in whole {
            let boards = self.boards.iter().enumerate();
            let boards = boards.map(|(index, board)| self.assessment(index, board).into_owned());
            let (bytes, missing) = match format {
                Format::Pieces(_) => continue,
                Format::Pdf => self.pdf(self.report, boards)?,
                Format::Xlsx => workbook(self.report, boards)?,
            };
            context.put(claim.as_ref(), &bytes)?;
            unprinted.extend(missing);
        }
        bar.finish_and_clear();
        context.keep_all(results)?;
        say_missing(&unprinted, context);
        Ok(())
    }

    /// What came of a board: as kept, or worked out again.
    fn assessment(&self, index: usize, board: &'a Board) -> Cow<'_, Assessment<'a>> {
        let kept = self.kept.get(index).map(Cow::Borrowed);
        kept.unwrap_or_else(|| Cow::Owned(self.judge.judge(board)))
    }

    /// A report on one board.
    fn document(
        &self,
        report: &Compliance<'_>,
        format: Format,
        assessment: &Assessment<'_>,
    ) -> Result<Made, Stop> {
        let one = std::iter::once(assessment.clone());
        let format = match format {
            Format::Pieces(format) => format,
            Format::Pdf => return self.pdf(report, one),
            Format::Xlsx => return workbook(report, one),
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

fn workbook<'b>(
    report: &Compliance<'_>,
    boards: impl Iterator<Item = Assessment<'b>>,
) -> Result<Made, Stop> {
    let bytes = report.workbook(boards).map_err(Stop::said)?;
    Ok((bytes, BTreeSet::new()))
}
