//! `ringrule validate --records`: boards as lines of a stream, findings as lines of another.

use std::io::{self, BufRead, BufReader};
use std::path::Path;
use std::sync::mpsc;

use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::{Accepted, Judge};
use ringrule::document::{InvalidFile, Source, next_line, sha256};
use ringrule::report::StreamedRecord;
use ringrule::table::Table;
use serde_json::Value;

use super::context::{Context, Ending, Stop};

/// What a board is called that came as a line: the same whatever line it was, so that the
/// records of a part are those of the whole.
const NAME: &str = "record";

/// Lines that are read before they are judged: enough for every core, and few enough that
/// memory does not grow with their number. House rule.
const AT_ONCE: usize = 256;

/// How records are judged and printed.
pub(super) struct Records<'a> {
    pub(super) table: &'a Table,
    pub(super) accepted: Accepted,
    /// Printed as soon as they are judged, and not in the order of the lines.
    pub(super) unordered: bool,
}

/// A line that was judged.
struct Found {
    line: String,
    ending: Ending,
}

impl Records<'_> {
    pub(super) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let judge = Judge::new(self.table);
        let mut stream = BufReader::new(io::stdin().lock());
        let (mut boards, mut invalid, mut ending) = (0_u64, 0_u64, Ending::Good);
        let mut print = |found: Result<Found, Stop>, context: &mut Context| {
            let found = found?;
            match found.ending {
                Ending::Unusable => invalid += 1,
                _ => boards += 1,
            }
            ending = ending.max(found.ending);
            context.report_at_once(&found.line);
            Ok::<(), Stop>(())
        };
        loop {
            let lines = some(&mut stream)?;
            if lines.is_empty() || context.has_lost_its_reader() {
                break;
            }
            if self.unordered {
                let (sender, found) = mpsc::channel();
                rayon::in_place_scope(|scope| {
                    for line in &lines {
                        let (sender, judge) = (sender.clone(), &judge);
                        // Who does not listen has ended.
                        scope.spawn(move |_| drop(sender.send(self.look(line, judge))));
                    }
                    drop(sender);
                    found
                        .into_iter()
                        .try_for_each(|found| print(found, context))
                })?;
            } else {
                let found = lines.par_iter().map(|line| self.look(line, &judge));
                for found in found.collect::<Vec<_>>() {
                    print(found, context)?;
                }
            }
        }
        if boards + invalid == 0 {
            context.complain(
                "there was no record to check: give board files as JSON, or their paths, a line \
                 each, on standard input",
            );
            return Ok(Ending::Unusable);
        }
        context.note(&format!(
            "{boards} of {} records are boards that were checked",
            boards + invalid
        ));
        Ok(ending)
    }

    fn look(&self, line: &[u8], judge: &Judge<'_>) -> Result<Found, Stop> {
        let board = read(line).and_then(Board::read);
        let assessment = board.as_ref().map(|board| judge.judge(board));
        let ending = match &assessment {
            Err(_) => Ending::Unusable,
            Ok(found) if found.passes(self.accepted) => Ending::Good,
            Ok(_) => Ending::Findings,
        };
        let found = assessment.as_ref().map_err(|invalid| *invalid);
        let record = StreamedRecord::new(sha256(line), found);
        let line = record.to_line().map_err(Stop::said)?;
        Ok(Found { line, ending })
    }
}

/// The next lines that hold anything; none at the end.
fn some(stream: &mut impl BufRead) -> Result<Vec<Vec<u8>>, Stop> {
    let mut lines = Vec::with_capacity(AT_ONCE);
    while lines.len() < AT_ONCE {
        let line = next_line(stream);
        let line =
            line.map_err(|why| Stop::said(format!("standard input cannot be read: {why}")))?;
        match line {
            None => break,
            Some(line) if line.trim_ascii().is_empty() => {}
            Some(line) => lines.push(line),
        }
    }
    Ok(lines)
}

/// A board as JSON, or the text of the file that the line names.
fn read(line: &[u8]) -> Result<Source, InvalidFile> {
    if line.trim_ascii_start().starts_with(b"{") {
        return Source::from_reader(line, NAME);
    }
    let named = Source::from_reader(line, NAME)?;
    let path = match serde_json::from_str(named.text()) {
        Ok(Value::String(path)) => path,
        Ok(_) => {
            return Err(InvalidFile::unreadable(
                NAME,
                "this line is JSON, and neither a board nor a path",
                "give a board as an object in braces; a file whose name looks like this, in double \
                 quotes",
            ));
        }
        Err(_) => named.text().to_owned(),
    };
    Source::read(Path::new(&path), &path)
}
