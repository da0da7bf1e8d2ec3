//! Several people's workbooks of one board, brought together by `pool`.

use super::Desk;
use super::common::{ringrule, transcript};
use rust_xlsxwriter::Workbook;
use std::fs;

/// One person's workbook of a board; a row for each board. Invented.
fn book(desk: &Desk, name: &str, by: &str, boards: &[&str], treble: [f64; 3]) -> String {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    let heads = [
        "board",
        "venue",
        "mounting",
        "inspected by",
        "date",
        "instrument",
        "resolution (mm)",
        "max error (mm)",
        "treble width 1 (mm, inside)",
        "treble width 2",
        "treble width 3",
    ];
    sheet.write_row(0, 0, heads).expect("written");
    for (row, board) in (1..).zip(boards) {
        let words = [board, "Mill", "staples", by, "2026-10-03", "calliper 3"];
        sheet.write_row(row, 0, words).expect("written");
        sheet.write_row(row, 6, [0.01, 0.03]).expect("written");
        sheet.write_row(row, 8, treble).expect("written");
    }
    let path = desk.path(name);
    book.save(&path).expect("saved");
    path
}

fn words(output: &std::process::Output) -> String {
    let said = transcript(output).replace('│', "");
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn two_peoples_workbooks_give_what_intake_gives() {
    let desk = Desk::new();
    let one = book(&desk, "a.xlsx", "A. Ashdown", &["W-01"], [8.01, 7.99, 8.02]);
    let two = book(&desk, "b.xlsx", "B. Birch", &["W-01"], [8.00, 8.02, 8.01]);
    let file = desk.path("w-01.yaml");
    let output = ringrule(&["pool", &one, &two, "--output", &file]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    assert!(
        transcript(&output).contains("A. Ashdown"),
        "what people read is said"
    );
    let pooled = fs::read_to_string(&file).expect("written");
    assert!(pooled.contains("from 2 workbooks"), "{pooled}");
    let into = desk.path("boards");
    let output = ringrule(&["intake", &one, &two, "--into", &into]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    let taken = fs::read_to_string(desk.path("boards/W-01.yaml")).expect("written");
    let board = |text: &str| text.split_once("format:").map(|(_, rest)| rest.to_owned());
    assert_eq!(board(&pooled), board(&taken));
    assert!(pooled.contains("venue: Mill"), "{pooled}");
}

#[test]
fn people_who_disagree_and_boards_that_are_several_are_refused() {
    let desk = Desk::new();
    let one = book(&desk, "a.xlsx", "A. Ashdown", &["W-01"], [8.01, 7.99, 8.02]);
    let far = book(&desk, "b.xlsx", "B. Birch", &["W-01"], [8.60, 8.62, 8.61]);
    let file = desk.path("w-01.yaml");
    let output = ringrule(&["pool", &one, &far, "--output", &file]);
    assert_eq!(output.status.code(), Some(1), "{}", transcript(&output));
    assert!(!std::path::Path::new(&file).exists());
    let output = ringrule(&[
        "pool",
        &one,
        &far,
        "--disagreement",
        "widen",
        "--output",
        &file,
    ]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));

    let several = book(
        &desk,
        "c.xlsx",
        "C. Cole",
        &["W-01", "W-02"],
        [8.01, 8.00, 8.02],
    );
    let sheet = desk.path("sheet.csv");
    fs::write(&sheet, "row,edge,unit\n").expect("written");
    for (inputs, expected) in [
        (
            vec![several.as_str()],
            "`ringrule intake` with `--into FOLDER`",
        ),
        (vec![one.as_str(), sheet.as_str()], "cannot be mixed"),
    ] {
        let output = ringrule(&[["pool"].as_slice(), &inputs].concat());
        assert_eq!(output.status.code(), Some(2), "{}", transcript(&output));
        assert!(words(&output).contains(expected), "{}", words(&output));
        assert!(output.stdout.is_empty());
    }
    // Never over a workbook that was read.
    let output = ringrule(&["pool", &one, "--output", &one, "--overwrite"]);
    assert_eq!(output.status.code(), Some(2), "{}", transcript(&output));
}
