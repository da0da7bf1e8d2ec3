//! From a blank workbook to verdicts, as a person goes about it.

use std::fs;

use ringrule::workbook::{Grid, Workbook as Read};
use rust_xlsxwriter::Workbook;

use super::common::{fill::sound, ringrule, transcript};
use super::{Desk, write};

const WDF: &str = "tolerances/wdf.yaml";

fn read(path: &str) -> Read {
    let bytes = fs::read(path).expect("the workbook is there");
    Read::read("blank.xlsx", bytes).expect("a workbook")
}

/// The texts of a sheet, row by row.
fn texts(grid: &Grid) -> Vec<Vec<String>> {
    let rows = grid.rows.iter().map(|row| {
        let last = row.cells.last().map_or(0, |cell| cell.column);
        let text = |column| {
            row.cell(column)
                .map_or(String::new(), |cell| cell.value.text())
        };
        (0..=last).map(text).collect()
    });
    rows.collect()
}

/// A blank workbook as a person fills it in: every cell of a length that has a
/// value, with readings that scatter by 0.01 mm. Invented.
fn fill(blank: &Read, to: &str) {
    let mut book = Workbook::new();
    for grid in &blank.sheets {
        let sheet = book.add_worksheet();
        let name = grid.name.as_deref().expect("a name");
        sheet.set_name(name).expect("a name");
        let mut rows = texts(grid);
        let head = rows.first().cloned().expect("a head");
        for (number, row) in rows.iter_mut().enumerate().skip(2) {
            if head[0] != "board" {
                continue;
            }
            row.resize(head.len(), String::new());
            let person = f64::from(u8::try_from(number % 2).expect("small"));
            for (cell, head) in row.iter_mut().zip(&head) {
                let (name, _) = head.split_once('(').unwrap_or((head, ""));
                let (item, reading) = name.trim().rsplit_once(' ').unwrap_or((name.trim(), ""));
                let item = item.split(" at ").next().unwrap_or(item);
                let of_item = item.replace(' ', "_");
                let item = of_item
                    .replace("_width", " width")
                    .replace("_radius", " radius")
                    .replace("_diameter", " diameter")
                    .replace("_wires", " wires");
                match head.as_str() {
                    "date" => "2026-11-21".clone_into(cell),
                    "instrument" => "calliper 7".clone_into(cell),
                    "resolution (mm)" => "0.01".clone_into(cell),
                    "max error (mm)" => "0.02".clone_into(cell),
                    _ => {
                        let strip = name.contains("width") && head.contains("apex");
                        let value = sound(&item).map(|value| if strip { 9.6 } else { value });
                        let value = value.map(|value| {
                            if item.ends_with("wires") && head_is_strip(grid) {
                                0.5
                            } else {
                                value
                            }
                        });
                        if let (Some(value), Ok(number)) = (value, reading.parse::<f64>()) {
                            *cell =
                                format!("{:.2}", value + 0.01 * (number - 2.0) + 0.005 * person);
                        }
                    }
                }
            }
        }
        let rows: Vec<Vec<&str>> = rows
            .iter()
            .map(|row| row.iter().map(String::as_str).collect())
            .collect();
        let rows: Vec<&[&str]> = rows.iter().map(Vec::as_slice).collect();
        write(sheet, 0, &rows);
    }
    book.save(to).expect("saved");
}

fn head_is_strip(grid: &Grid) -> bool {
    grid.name.as_deref() == Some("embedded")
}

#[test]
fn a_workbook_goes_round_from_blank_to_verdicts() {
    let desk = Desk::new();
    let run = |arguments: &[&str], code: i32| {
        let output = ringrule(arguments);
        assert_eq!(output.status.code(), Some(code), "{}", transcript(&output));
        transcript(&output)
    };
    let (blank, filled) = (desk.path("blank.xlsx"), desk.path("filled.xlsx"));
    let boards = [
        "specs/demo/01-round-to-rule.yaml",
        "specs/demo/02-strip-to-rule.yaml",
    ];
    let made = [
        "intake",
        "--blank",
        &blank,
        "--table",
        WDF,
        "--boards",
        boards[0],
        "--boards",
        boards[1],
        "--by",
        "A. Ashdown",
        "--by",
        "B. Birch",
    ];
    run(&made, 0);
    let bytes = fs::read(&blank).expect("made");
    assert!(run(&made, 2).contains("is there already"));
    run(&[&made[..], &["--overwrite"]].concat(), 0);
    assert_eq!(
        fs::read(&blank).expect("made"),
        bytes,
        "the same from the same input"
    );

    let book = read(&blank);
    let names: Vec<_> = book
        .sheets
        .iter()
        .filter_map(|grid| grid.name.as_deref())
        .collect();
    assert_eq!(names, ["staples", "embedded", "explanations"]);
    // As it is, the workbook holds no readings, and says so.
    let (code, said) = desk.intake(&blank, &[]);
    assert_eq!(code, Some(2), "{said}");
    assert!(
        said.contains("without readings, and skipped: FL-01, FL-02"),
        "{said}"
    );

    fill(&book, &filled);
    let (code, said) = desk.intake(&filled, &[]);
    assert_eq!(code, Some(0), "{said}");
    assert_eq!(desk.made(), ["FL-01.yaml", "FL-02.yaml"]);
    let file = fs::read_to_string(desk.path("boards/FL-01.yaml")).expect("made");
    assert!(file.contains("by: A. Ashdown, B. Birch"), "{file}");
    assert!(file.contains("position: stage end"), "{file}");
    let said = run(&["validate", &desk.path("boards"), "--table", WDF], 0);
    assert!(said.contains("conforms          FL-01"), "{said}");
    assert!(said.contains("conforms          FL-02"), "{said}");
}

#[test]
fn a_blank_workbook_asks_for_what_a_worksheet_asks_for() {
    let desk = Desk::new();
    let blank = desk.path("blank.xlsx");
    for (table, mounting) in [
        (WDF, "staples"),
        (WDF, "embedded"),
        ("tolerances/fenwick-lane.yaml", "staples"),
    ] {
        let more = ["--mounting", mounting, "--readings", "1", "--overwrite"];
        let output =
            ringrule(&[&["intake", "--blank", &blank, "--table", table], &more[..]].concat());
        assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
        let book = read(&blank);
        let head = texts(&book.sheets[0]).swap_remove(0);
        let output = ringrule(&["worksheet", "--table", table, "--mounting", mounting]);
        let sheet = String::from_utf8(output.stdout).expect("text");
        let mut reader = ::csv::Reader::from_reader(sheet.as_bytes());
        let names = reader.headers().expect("a head").clone();
        let column = |name: &str| names.iter().position(|own| own == name);
        let (edge, at) = (column("edge").expect("edges"), column("at"));
        let mut asked = 0;
        for row in reader.records() {
            let row = row.expect("a row");
            if row[column("unit").expect("units")].is_empty() {
                continue;
            }
            asked += 1;
            let place = at.map(|at| &row[at]).filter(|at| !at.is_empty());
            let place = place.map_or(String::new(), |at| format!(" at {at}"));
            let edge = Some(&row[edge]).filter(|edge| !edge.is_empty());
            let edge = edge.map_or(String::new(), |edge| format!(", {edge}"));
            let name = format!("{}{place} 1 (mm{edge})", row[0].replace('_', " "));
            assert!(head.contains(&name), "{name}: {head:?}");
        }
        let of_lengths = head.iter().filter(|name| name.contains(" 1 (mm"));
        assert_eq!(of_lengths.count(), asked, "{head:?}");
    }
}

#[test]
fn limits_words_and_explanations_are_in_the_workbook() {
    let desk = Desk::new();
    let blank = desk.path("blank.xlsx");
    let output = ringrule(&[
        "intake",
        "--blank",
        &blank,
        "--table",
        WDF,
        "--mounting",
        "staples",
    ]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    let book = read(&blank);
    let [boards, explained] = book.sheets.as_slice() else {
        panic!("two sheets");
    };
    let rows = texts(boards);
    let head = &rows[0];
    let at = head
        .iter()
        .position(|name| name == "treble width 1 (mm, inside)");
    let at = at.expect("a width");
    assert_eq!(rows[1][0], "# limits");
    assert_eq!(rows[1][at], "7.80 to 8.20 mm");
    let words = texts(explained).concat().join("\n");
    assert!(
        words.starts_with("# How to fill in this workbook"),
        "{words}"
    );
    for part in [
        "Take the darts out",
        "staples or embedded",
        "between the two treble wires",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
    let wrong = ringrule(&["intake", "--blank", &desk.path("blank.ods"), "--table", WDF]);
    assert_eq!(wrong.status.code(), Some(2));
    let into = ringrule(&["intake", "boards.xlsx"]);
    assert_eq!(into.status.code(), Some(2));
}
