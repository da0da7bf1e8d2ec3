//! What is looked at before a workbook's reader sees it: how much its parts unpack to, and
//! names of cells and counts that no spreadsheet program writes.
//!
//! The reader takes such names and counts at their word: a file of a kilobyte that asks for two
//! thousand million blanks would get them.

use std::io::{Cursor, Read};
use std::path::Path;

use zip::ZipArchive;

use super::open::{Refused, broken};
use super::open_document::{Sketch, sketches};

/// Bytes that the parts of a workbook unpack to. House rule: twice what a million cells take.
const UNPACKED: u64 = 64 << 20;

/// Blanks that one mark in a text may stand for. House rule: no cell that is read needs ten.
const BLANKS: u64 = 10_000;

/// Texts that the cells of a workbook share: as many as it may have cells.
const SHARED: usize = 500_000;

/// The last row and column of a sheet (ECMA-376, from memory: 2²⁰ rows, 2¹⁴ columns).
const LAST: (u32, u32) = (1 << 20, 1 << 14);

/// Whether a workbook can be handed to its reader; of an open document also what its sheets hold.
pub(super) fn check(bytes: &[u8], is_ods: bool) -> Result<Vec<Sketch>, Refused> {
    let mut parts = ZipArchive::new(Cursor::new(bytes)).map_err(broken)?;
    let mut left = UNPACKED;
    let mut sheets = Vec::new();
    for index in 0..parts.len() {
        let part = parts.by_index(index).map_err(broken)?;
        let name = part.name().map_err(broken)?.into_owned();
        let mut content = Vec::new();
        let mut part = part.take(left + 1);
        // The reader may take what comes before the end of a part that has none, or the wrong
        // sum: what was not looked at is not read.
        part.read_to_end(&mut content)
            .map_err(|why| broken(format!("`{}` cannot be unpacked: {why}", shortened(&name))))?;
        let length = u64::try_from(content.len()).unwrap_or(u64::MAX);
        left = left
            .checked_sub(length)
            .ok_or(Refused::Unpacked(UNPACKED))?;
        if Path::new(&name)
            .extension()
            .is_some_and(|ending| ending.eq_ignore_ascii_case("xml"))
        {
            let text = String::from_utf8_lossy(&content);
            look_at(&name, &text)?;
            if is_ods && name == "content.xml" {
                sheets = sketches(&text)?;
            }
        }
    }
    Ok(sheets)
}

fn look_at(name: &str, text: &str) -> Result<(), Refused> {
    if let Some(count) = attributes(text, "text:c").find(|count| blanks(count) > BLANKS) {
        return Err(broken(format!(
            "a text asks for {} blanks",
            shortened(count)
        )));
    }
    // Each of them costs memory, however short, and is there to be named by a cell.
    let texts = text.match_indices("<si").take(SHARED + 1).count();
    if texts > SHARED {
        return Err(Refused::Shared);
    }
    // Which part is a sheet, another part says, and an attribute may stand anywhere in its
    // element: so all are looked at. Elsewhere `r` is a number, of a row or with a point.
    let cells = attributes(text, "r").filter(|name| {
        let is_plain = name.bytes().all(|byte| byte.is_ascii_alphanumeric());
        is_plain && parse_row(name).is_none()
    });
    let wrong = cells.filter(|name| cell(name).is_none());
    let is_range = |range: &str| {
        let (from, to) = range.split_once(':').unwrap_or((range, range));
        cell(from)
            .zip(cell(to))
            .is_some_and(|(from, to)| from.0 <= to.0 && from.1 <= to.1)
    };
    let wrong = wrong.chain(attributes(text, "ref").filter(|range| !is_range(range)));
    match { wrong }.next() {
        Some(wrong) => Err(broken(format!(
            "`{}` in `{name}` is no cell of a sheet",
            shortened(wrong)
        ))),
        None => Ok(()),
    }
}

/// A number that is short enough for a row's, or for any that a reader multiplies.
fn parse_row(text: &str) -> Option<u32> {
    text.parse().ok().filter(|_| text.len() < 10)
}

/// What the attributes of this name say, in whatever element.
fn attributes<'a>(text: &'a str, name: &'a str) -> impl Iterator<Item = &'a str> {
    text.match_indices(name).filter_map(move |(at, _)| {
        let before = text.get(..at)?;
        if !before.ends_with(|last: char| last.is_ascii_whitespace()) {
            return None;
        }
        let after = text.get(at + name.len()..)?.trim_ascii_start();
        let value = after.strip_prefix('=')?.trim_ascii_start();
        let quote = value.chars().next().filter(|q| matches!(q, '"' | '\''))?;
        value.get(1..)?.split(quote).next()
    })
}

fn blanks(count: &str) -> u64 {
    count.trim().parse().unwrap_or(u64::MAX)
}

/// Row and column of a cell such as `AB12`, counted from one.
fn cell(name: &str) -> Option<(u32, u32)> {
    let letters = name.find(|c: char| !c.is_ascii_uppercase())?;
    let (column, row) = name.split_at_checked(letters)?;
    if column.is_empty() || column.len() > 3 || row.len() > 7 {
        return None;
    }
    let column = column
        .bytes()
        .fold(0, |sum, letter| 26 * sum + u32::from(letter - b'A') + 1);
    let row = row.parse().ok().filter(|row| (1..=LAST.0).contains(row))?;
    (column <= LAST.1).then_some((row, column))
}

pub(super) fn shortened(text: &str) -> String {
    text.chars().take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_is_one_of_a_sheet() {
        assert_eq!(cell("A1"), Some((1, 1)));
        assert_eq!(cell("XFD1048576"), Some(LAST));
        for wrong in [
            "",
            "A",
            "1",
            "A0",
            "XFE1",
            "A1048577",
            "a1",
            "AAAA1",
            "A99999999",
            "A1:B2",
        ] {
            assert_eq!(cell(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn ranges_run_from_the_first_corner_to_the_last() {
        let sheet = |range: &str| format!("<dimension ref=\"{range}\"/><c r=\"B2\">");
        let name = "xl/worksheets/sheet1.xml";
        for good in ["A1", "A1:B2"] {
            assert!(look_at(name, &sheet(good)).is_ok(), "{good}");
        }
        for wrong in ["B2:A1", "nonsense", "A1:B99999999"] {
            assert!(look_at(name, &sheet(wrong)).is_err(), "{wrong}");
        }
        assert!(look_at("content.xml", "<text:s text:c=\"3\"/>").is_ok());
        assert!(look_at("content.xml", "<text:s text:c=\"2000000000\"/>").is_err());
    }
}
