//! Results as rows for spreadsheets: the numbers of the JSON, and no formulas.
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

mod common;

use std::collections::HashMap;

use common::league::{BOARD, League, err, out};
use common::{json, printed};
use serde_json::Value;

/// Every row as a map from head to cell.
fn rows(text: &str) -> Vec<HashMap<String, String>> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let rows: Result<_, _> = reader.deserialize().collect();
    rows.expect("rows as long as their head")
}

/// A cell is the number of the JSON, to the last bit, or empty where there is none.
fn same(cell: &str, value: Option<&Value>, of: &str) {
    let number = value.and_then(Value::as_f64);
    let cell = (!cell.is_empty()).then(|| cell.parse::<f64>().expect("a number"));
    assert_eq!(cell, number, "{of}");
}

#[test]
fn a_row_for_each_board_and_check_has_the_numbers_of_the_json() {
    let line = |format| ["validate", "specs/demo", "-t", "wdf", "--format", format];
    let found = json(&printed(&line("json")));
    let mut rows = rows(&printed(&line("csv"))).into_iter();
    let boards = found["boards"].as_array().expect("boards");
    assert_eq!(boards.len(), 14);
    for board in boards {
        let limits = board["limits"].as_array().expect("limits").iter();
        let bands = board["bands"].as_array().expect("bands").iter();
        let checks = limits
            .map(|limit| {
                (
                    limit,
                    "value",
                    "uncertainty",
                    limit["limit"].as_str().map(str::to_owned),
                )
            })
            .chain(bands.map(|band| {
                let name = band["band"].as_str().map(|name| format!("{name}.area"));
                (band, "deviation", "deviation_uncertainty", name)
            }));
        for (check, value, uncertainty, name) in checks {
            let row = rows.next().expect("a row for each check");
            let of = format!("{} {name:?}", board["id"]);
            assert_eq!(Some(row["id"].as_str()), board["id"].as_str(), "{of}");
            assert_eq!(Some(&row["check"]), name.as_ref(), "{of}");
            let verdict = check["verdict"].as_str().unwrap_or_default();
            assert_eq!(row["verdict"], verdict, "{of}");
            same(&row["value"], check.get(value), &of);
            for key in [
                "lower",
                "upper",
                "nominal",
                "beyond",
                "probability_of_conformity",
            ] {
                same(&row[key], check.get(key), &format!("{of} {key}"));
            }
            let u = check.get(uncertainty);
            for (head, key) in [
                ("expanded_uncertainty", "expanded"),
                ("coverage_factor", "coverage_factor"),
                ("degrees_of_freedom", "degrees_of_freedom"),
            ] {
                same(
                    &row[head],
                    u.and_then(|u| u.get(key)),
                    &format!("{of} {head}"),
                );
            }
            let said = check.get("finding").map(|finding| &finding["message"]);
            let said = said.and_then(Value::as_str).unwrap_or_default();
            assert_eq!(row["finding"], said, "{of}");
        }
    }
    assert_eq!(rows.next(), None);
}

#[test]
fn every_command_writes_the_same_rows_by_the_ending() {
    let league = League::new();
    let table = "-t tables/wdf.json";
    for line in [
        format!("validate boards {table} --also a.csv"),
        format!("report boards {table} -o b.csv"),
        format!("report boards {table} --each {{id}}.csv"),
        "lint boards --also c.csv".to_owned(),
    ] {
        let output = league.run(&line);
        assert!(output.status.code() < Some(2), "{line}\n{}", err(&output));
    }
    assert_eq!(league.text("a.csv"), league.text("b.csv"));
    let whole = rows(&league.text("a.csv"));
    let own = rows(&league.text("FL-01.csv"));
    assert_eq!(own.len(), 16);
    assert!(own.iter().all(|row| whole.contains(row)));
    let found = rows(&league.text("c.csv"));
    assert!(
        found
            .iter()
            .all(|row| row["file"] == BOARD || row["file"].contains("02-strip"))
    );
    assert!(found.iter().any(|row| row["rule"] == "missing-date"));
}

#[test]
fn no_text_of_a_file_becomes_a_formula() {
    let league = League::new();
    let evil = league
        .text(BOARD)
        .replace("id: FL-01", "id: \"=1+1\"")
        .replace("\"Village hall\"", "\"@SUM(A1), \\\"x\\\"\"");
    league.write("evil.yaml", &evil);
    let text = out(&league.run("validate evil.yaml -t tables/wdf.json --format csv"));
    let rows = rows(&text);
    assert_eq!(rows.len(), 16);
    for row in rows {
        assert_eq!(row["id"], "'=1+1");
        assert_eq!(row["venue"], "'@SUM(A1), \"x\"");
    }
}

#[test]
fn files_that_cannot_be_used_have_rows_and_a_clean_run_has_its_heads() {
    let league = League::new();
    league.write("bad.yaml", "format: ringrule/board/1\nboard: 3\n");
    let output = league.run(&format!(
        "validate {BOARD} bad.yaml -t tables/wdf.json --format csv"
    ));
    assert_eq!(output.status.code(), Some(2));
    let rows = rows(&out(&output));
    let invalid: Vec<_> = rows
        .iter()
        .filter(|row| row["file"] == "bad.yaml")
        .collect();
    assert!(!invalid.is_empty());
    assert!(
        invalid
            .iter()
            .all(|row| row["check"] == "invalid file" && !row["finding"].is_empty())
    );
    let heads = out(&league.run("lint tables/wdf.json --format csv"));
    let some = out(&league.run("lint boards --no-settings --format csv"));
    assert_eq!(heads.lines().next(), some.lines().next());
}

/// The cells of a sheet as text, row by row, by our own reader of workbooks.
fn sheet(league: &League, file: &str, name: &str) -> Vec<Vec<String>> {
    let bytes = std::fs::read(league.path(file)).expect("read");
    let book = ringrule::workbook::Workbook::read(file, bytes).expect("a workbook");
    let grid = book
        .sheets
        .iter()
        .find(|own| own.name.as_deref() == Some(name));
    let grid = grid.unwrap_or_else(|| panic!("a sheet {name} in {file}"));
    let row = |row: &ringrule::workbook::GridRow| {
        let last = row.cells.last().map_or(0, |cell| cell.column + 1);
        let text = |column| {
            row.cell(column)
                .map_or_else(String::new, |cell| cell.value.text())
        };
        (0..last).map(text).collect()
    };
    grid.rows.iter().map(row).collect()
}

#[test]
fn a_workbook_holds_the_rows_of_the_csv() {
    let league = League::new();
    let text = league
        .text(BOARD)
        .replace("venue: \"Village hall\"", "venue: \"=1+1\"");
    league.write(BOARD, &text);
    let line = "validate boards -t wdf --also r.csv --also r.xlsx";
    league.run(line);
    let csv = league.text("r.csv");
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
    let sheet = sheet(&league, "r.xlsx", "checks");
    assert_eq!(rows.len(), sheet.len());
    for (row, cells) in rows.iter().zip(&sheet) {
        for (index, text) in row.iter().enumerate() {
            let cell = cells.get(index).map_or("", String::as_str);
            let number = |text: &str| text.parse::<f64>().ok();
            match (number(text), number(cell)) {
                (Some(one), Some(other)) => {
                    // A workbook keeps fifteen digits.
                    assert!((one - other).abs() <= 1e-14 * one.abs(), "{text} {cell}");
                }
                // What is no formula in a cell needs no apostrophe.
                _ => assert_eq!(text.strip_prefix('\'').unwrap_or(text), cell),
            }
        }
    }
    assert!(sheet.iter().flatten().any(|cell| cell == "=1+1"));
}

#[test]
fn every_column_of_numbers_holds_numbers_in_a_workbook() {
    // A cell that looks like a number and is kept as text would be left out of sums.
    let league = League::new();
    league.run("validate boards -t wdf --also r.xlsx");
    league.run("lint boards --also l.xlsx");
    league.run(&format!(
        "compare {BOARD} nominal:embedded -t wdf -o c.xlsx"
    ));
    league.run("history boards -t wdf -o h.xlsx");
    let words = ["id", "position", "made", "of", "part"];
    for file in ["r.xlsx", "l.xlsx", "c.xlsx", "h.xlsx"] {
        let bytes = std::fs::read(league.path(file)).expect("read");
        let book = ringrule::workbook::Workbook::read(file, bytes).expect("a workbook");
        for grid in &book.sheets {
            let (heads, rows) = grid.rows.split_first().expect("heads");
            for cell in rows.iter().flat_map(|row| &row.cells) {
                let head = heads.cell(cell.column).expect("a head").value.text();
                if let ringrule::workbook::Value::Text(text) = &cell.value {
                    let looks = text.parse::<f64>().is_ok() && !words.contains(&head.as_str());
                    assert!(!looks, "{file} {:?} {head}: {text}", grid.name);
                }
            }
        }
    }
}

#[test]
fn a_comparison_in_rows_has_the_numbers_of_the_json() {
    let line = |format| {
        let boards = [
            "compare",
            "nominal:embedded",
            "nominal:staples",
            "-t",
            "wdf",
        ];
        [boards.as_slice(), &["--format", format]].concat()
    };
    let found = json(&printed(&line("json")));
    let rows = rows(&printed(&line("csv")));
    let with = |figure: &str, of: &str, by: &str| {
        let row = rows
            .iter()
            .find(|row| row["figure"] == figure && row["of"] == of && row["by"] == by);
        row.map(|row| row["value"].clone()).expect("a row")
    };
    let treble = &found["differences"][0]["targets"];
    let treble = treble.as_array().expect("targets").iter();
    let treble = treble
        .clone()
        .find(|of| of["band"] == "treble")
        .expect("trebles");
    let area = with("times harder", "treble", "area");
    same(&area, treble.get("harder_by_area"), "area");
    let lost = with("times harder", "treble", "spread, metal all lost");
    same(&lost, treble.pointer("/harder_by_spread/lost"), "lost");
    let areas = rows
        .iter()
        .filter(|row| row["figure"] == "free area")
        .count();
    assert_eq!(areas, 12, "six bands of two boards");
}
