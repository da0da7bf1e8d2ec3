//! From a spreadsheet of many boards to their files, as a person goes about it.
//! Every board and every reading here is invented.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

#[path = "../common/mod.rs"]
mod common;

mod blank;
mod csv;
mod habits;
mod ods;
mod pool;

use std::fs;
use std::path::{Path, PathBuf};

use common::{board, ringrule, transcript};
use ringrule::board::Board;
use rust_xlsxwriter::{Workbook, Worksheet};

/// A folder for a workbook and what is made of it.
struct Desk(tempfile::TempDir);

impl Desk {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder"))
    }

    fn path(&self, name: &str) -> String {
        self.0.path().join(name).to_string_lossy().into_owned()
    }

    /// A workbook with one sheet.
    fn book(&self, fill: impl FnOnce(&mut Worksheet)) -> String {
        let mut book = Workbook::new();
        fill(book.add_worksheet());
        let path = self.path("boards.xlsx");
        book.save(&path).expect("saved");
        path
    }

    /// Takes a workbook in, and returns the exit code and what was said.
    fn intake(&self, book: &str, more: &[&str]) -> (Option<i32>, String) {
        let into = self.path("boards");
        let output = ringrule(&[&["intake", book, "--into", &into], more].concat());
        // Without the ends of lines, which depend on the names of folders.
        let said = transcript(&output).replace('│', "");
        let words: Vec<&str> = said.split_whitespace().collect();
        (output.status.code(), words.join(" "))
    }

    /// The names of the board files.
    fn made(&self) -> Vec<String> {
        let Ok(folder) = fs::read_dir(self.0.path().join("boards")) else {
            return Vec::new();
        };
        let names = folder.map(|entry| entry.expect("an entry").file_name());
        let mut names: Vec<String> = names
            .map(|name| name.to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    fn board(&self, id: &str) -> Board {
        let path: PathBuf = self.0.path().join("boards").join(format!("{id}.yaml"));
        board(&fs::read_to_string(path).expect("the board was made"))
    }
}

const HEAD: [&str; 15] = [
    "board",
    "mounting",
    "inspected by",
    "date",
    "instrument",
    "resolution (mm)",
    "max error (mm)",
    "treble width 1 (mm, inside)",
    "treble width 2",
    "treble width 3",
    "treble outer radius 1 (mm, outside)",
    "treble outer radius 2 (mm)",
    "ring wires 1 (mm)",
    "name",
    "venue",
];

/// Writes rows of text into a sheet, from a row on: what looks like a number is one.
fn write(sheet: &mut Worksheet, from: u32, rows: &[&[&str]]) {
    for (row, cells) in (from..).zip(rows) {
        for (column, cell) in (0..).zip(*cells) {
            let done = match cell.parse::<f64>() {
                _ if cell.is_empty() => continue,
                Ok(number) => sheet.write_number(row, column, number),
                Err(_) => sheet.write_string(row, column, *cell),
            };
            done.expect("written");
        }
    }
}

/// A sound row.
const A: [&str; 15] = [
    "A-1",
    "staples",
    "R. Example",
    "2026-11-21",
    "calliper 7",
    "0.01",
    "0.02",
    "8.01",
    "7.99",
    "8.02",
    "107.02",
    "107.05",
    "16 SWG",
    "Stage",
    "Village hall",
];

#[test]
fn a_row_becomes_a_board_and_several_peoples_are_pooled() {
    let desk = Desk::new();
    let mut second = A;
    (second[1], second[2], second[13]) = ("", "B. Birch", "");
    (second[5], second[6]) = ("", "");
    (second[7], second[8], second[9]) = ("8.00", "8.01", "7.98");
    let mut other = A;
    other[0] = "A-2";
    other[9] = "";
    let book = desk.book(|sheet| write(sheet, 0, &[&HEAD, &A, &other, &second]));
    let (code, said) = desk.intake(&book, &[]);
    assert_eq!(code, Some(0), "{said}");
    assert_eq!(desk.made(), ["A-1.yaml", "A-2.yaml"]);
    let pooled = desk.board("A-1");
    let file = fs::read_to_string(desk.path("boards/A-1.yaml")).expect("made");
    assert!(file.contains("readings: [8.01, 7.99, 8.02]"), "{file}");
    assert!(file.contains("readings: [8.0, 8.01, 7.98]"), "{file}");
    assert!(file.contains("by: R. Example, B. Birch"), "{file}");
    assert!(file.contains("date: \"2026-11-21\""), "{file}");
    assert_eq!(pooled.name.as_deref(), Some("Stage"));
    assert_eq!(pooled.venue.as_deref(), Some("Village hall"));
    assert_eq!(pooled.instruments.len(), 1, "{file}");
    let (code, said) = desk.intake(&book, &[]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("is there already"), "{said}");
    let (code, said) = desk.intake(&book, &["--overwrite"]);
    assert_eq!(code, Some(0), "{said}");
    let table = "tolerances/wdf.yaml";
    let judged = ringrule(&["validate", &desk.path("boards"), "--table", table]);
    assert_eq!(judged.status.code(), Some(1), "{}", transcript(&judged));
}

#[test]
fn everything_is_said_at_once_and_good_rows_are_kept_if_asked_for() {
    let desk = Desk::new();
    let row = |id: &'static str, column: usize, cell: &'static str| {
        let mut row = A;
        row[0] = id;
        row[column] = cell;
        row
    };
    let empty = {
        let mut row = [""; 15];
        row[0] = "A-9";
        row
    };
    let rows = [
        HEAD,
        A,
        row("A-2", 1, ""),
        row("A-3", 2, ""),
        row("A-4", 7, "8,01"),
        row("", 0, ""),
        row("a-1", 2, "B. Birch"),
        row("A-5", 0, "A-5"),
        row("A-5", 7, "8.03"),
        row("A-6", 4, "gauge 1"),
        row("A-7", 5, "0.05"),
        empty,
    ];
    let rows: Vec<&[&str]> = rows.iter().map(<[&str; 15]>::as_slice).collect();
    let book = desk.book(|sheet| write(sheet, 0, &rows));
    let (code, said) = desk.intake(&book, &[]);
    assert_eq!(code, Some(2), "{said}");
    for (cell, words) in [
        ("A3", "how its spider is held"),
        ("A4", "who took its readings"),
        ("H5", "8,01"),
        ("B6", "which board it is of"),
        ("A7", "differ in capitals alone"),
        ("H9", "two rows of `A-5`"),
        ("E11", "described otherwise"),
    ] {
        let place = format!("Sheet1!{cell}: error");
        assert!(said.contains(&place), "{cell}: {said}");
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(said.ends_with("nothing was written"), "{said}");
    assert_eq!(desk.made(), Vec::<String>::new());
    assert!(!Path::new(&desk.path("boards")).exists());
    let (code, said) = desk.intake(&book, &["--keep-good"]);
    assert_eq!(code, Some(2), "{said}");
    assert!(
        said.contains("without readings, and skipped: A-9"),
        "{said}"
    );
    assert_eq!(desk.made(), ["A-6.yaml"]);
}

#[test]
fn people_who_disagree_are_not_pooled_unasked() {
    let desk = Desk::new();
    let mut second = A;
    second[2] = "B. Birch";
    (second[7], second[8], second[9]) = ("8.41", "8.39", "8.42");
    let mut other = A;
    other[0] = "A-2";
    let book = desk.book(|sheet| write(sheet, 0, &[&HEAD, &A, &second, &other]));
    let (code, said) = desk.intake(&book, &[]);
    assert_eq!(code, Some(1), "{said}");
    assert!(said.contains("people disagree on A-1"), "{said}");
    assert_eq!(desk.made(), Vec::<String>::new());
    let (code, said) = desk.intake(&book, &["--keep-good"]);
    assert_eq!(code, Some(1), "{said}");
    assert_eq!(desk.made(), ["A-2.yaml"]);
    let (code, said) = desk.intake(&book, &["--disagreement", "widen", "--overwrite"]);
    assert_eq!(code, Some(0), "{said}");
    assert_eq!(desk.made(), ["A-1.yaml", "A-2.yaml"]);
}

#[test]
fn places_are_those_of_a_sheet_with_places() {
    let desk = Desk::new();
    let head = [
        "board",
        "mounting",
        "inspected by",
        "treble width at 20 1 (mm, inside)",
        "treble width at 20 2",
        "treble width at 6 1",
        "treble width at 45° 1",
    ];
    let row = [
        "A-1",
        "staples",
        "R. Example",
        "8.01",
        "8.03",
        "7.95",
        "7.99",
    ];
    let book = desk.book(|sheet| write(sheet, 0, &[&head, &row]));
    let (code, said) = desk.intake(&book, &[]);
    assert_eq!(code, Some(0), "{said}");
    let file = fs::read_to_string(desk.path("boards/A-1.yaml")).expect("made");
    for at in ["at: 20", "at: 6", "at: 45°", "readings: [8.01, 8.03]"] {
        assert!(file.contains(at), "{at}: {file}");
    }
}

#[test]
fn a_file_that_is_no_workbook_is_refused() {
    let desk = Desk::new();
    for (name, bytes) in [
        ("a.xlsx", b"PK\x03\x04 and nothing more".as_slice()),
        ("a.xls", b"\xd0\xcf\x11\xe0 old".as_slice()),
        ("a.csv", b"a,b\n1,2\n".as_slice()),
        ("empty.csv", b"".as_slice()),
    ] {
        let path = desk.path(name);
        fs::write(&path, bytes).expect("written");
        let (code, said) = desk.intake(&path, &[]);
        assert_eq!(code, Some(2), "{name}: {said}");
        assert!(said.contains("nothing was written"), "{name}: {said}");
    }
    let (code, said) = desk.intake(&desk.path("none.xlsx"), &[]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("check the path"), "{said}");
    assert_eq!(desk.made(), Vec::<String>::new());
}
