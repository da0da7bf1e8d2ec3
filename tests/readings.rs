//! From a blank sheet to a verdict, as a person goes about it.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;

use common::sheets::{sheet, small, yaml};
use common::{ringrule, root, transcript};
use ringrule::document::{CsvFormat, Separator, Source};
use ringrule::readings::{Sheet, pool};

const WDF: &str = "tolerances/wdf.yaml";

fn demo(name: &str) -> String {
    fs::read_to_string(root().join("specs/demo/sheets").join(name)).expect("the sheet is there")
}

#[test]
fn a_sheet_goes_round_from_blank_to_verdict() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let run = |arguments: &[&str], code: i32| {
        let output = ringrule(arguments);
        assert_eq!(output.status.code(), Some(code), "{}", transcript(&output));
        output
    };
    let blank = path("blank.csv");
    let board = "specs/demo/01-round-to-rule.yaml";
    run(&["worksheet", board, "--table", WDF, "--output", &blank], 0);

    // Invented readings, by two people who agree.
    let filled = |inspector: &str, shift: f64| {
        let blank = fs::read_to_string(&blank).expect("written");
        let lines = blank.lines().map(|line| {
            let item = line.split(',').next().unwrap_or_default();
            let value = match item {
                "inner_bull diameter" => 12.70,
                "outer_bull diameter" => 31.80,
                "treble width" | "double width" => 8.00,
                "treble_outer radius" => 107.00,
                "double_outer radius" => 170.00,
                "overall diameter" => 451.00,
                "ring wires" | "sector wires" => 1.55,
                "inspector" => return line.replacen(",,,,,,", &format!(",{inspector},,,,,"), 1),
                "instrument" => return line.replacen(",,,,,,", ",calliper 1,,,,,", 1),
                "resolution" => return line.replacen(",,,,,,", ",0.01 mm,,,,,", 1),
                "max error" => return line.replacen(",,,,,,", ",0.02 mm,,,,,", 1),
                _ => return line.to_owned(),
            };
            let [a, b, c] = [-0.01, 0.0, 0.01].map(|step| value + shift + step);
            line.strip_suffix(",,,,,,").map_or_else(
                || panic!("no room in {line}"),
                |start| format!("{start},{a:.2},{b:.2},{c:.2},,,"),
            )
        });
        lines.collect::<Vec<_>>().join("\r\n")
    };
    let (a, b) = (path("a.csv"), path("b.csv"));
    fs::write(&a, format!("\u{feff}{}", filled("A. Ashdown", 0.0))).expect("written");
    fs::write(&b, filled("B. Birch", 0.01)).expect("written");

    let made = path("fl-01.yaml");
    run(&["pool", &a, &b, "--output", &made], 0);
    let before = fs::read(&made).expect("made");
    let again = run(&["pool", &a, "--output", &made], 2);
    assert!(String::from_utf8_lossy(&again.stderr).contains("is there already"));
    assert_eq!(
        fs::read(&made).expect("still there"),
        before,
        "never overwritten unasked"
    );
    run(&["pool", &a, &b, "--output", &made, "--overwrite"], 0);
    let output = run(
        &["validate", &made, "--table", "tolerances/fenwick-lane.yaml"],
        0,
    );
    assert!(String::from_utf8_lossy(&output.stdout).starts_with("conforms          FL-01"));

    let input = run(&["pool", &a, "--output", &a, "--overwrite"], 2);
    assert!(String::from_utf8_lossy(&input.stderr).contains("end it with .yaml"));
}

#[test]
fn the_demo_leagues_two_inspectors() {
    for (board, code) in [("fl-11", 0), ("fl-12", 1)] {
        let sheets = ["ashdown", "birch"].map(|who| format!("specs/demo/sheets/{board}-{who}.csv"));
        let output = ringrule(&["pool", &sheets[0], &sheets[1]]);
        assert_eq!(output.status.code(), Some(code), "{board}");
        insta::assert_snapshot!(format!("pool-{board}"), transcript(&output));
    }
    let output = ringrule(&[
        "pool",
        "specs/demo/sheets/fl-12-ashdown.csv",
        "specs/demo/sheets/fl-12-birch.csv",
        "--disagreement",
        "widen",
    ]);
    assert_eq!(output.status.code(), Some(0));
    let (file, said) = (&output.stdout, &output.stderr);
    assert!(String::from_utf8_lossy(file).contains("readings: [7.8, 7.82, 7.8, 7.82]"));
    assert!(String::from_utf8_lossy(said).contains("times what it would be if they agreed"));
}

#[test]
fn the_demos_pooled_board_is_made_of_its_sheets() {
    let committed = fs::read_to_string(root().join("specs/demo/11-pooled.yaml")).expect("there");
    let made = yaml(&[
        sheet(&demo("fl-11-ashdown.csv")),
        sheet(&demo("fl-11-birch.csv")),
    ]);
    let body = |text: &str| {
        let lines = text.lines().filter(|line| !line.starts_with('#'));
        lines.map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(body(&committed), body(&made));
}

#[test]
fn the_order_of_rows_and_columns_says_nothing() {
    let text = demo("fl-11-ashdown.csv");
    let mut lines: Vec<&str> = text.lines().collect();
    lines[1..].reverse();
    let reversed = lines.join("\n");
    let columns: Vec<String> = text
        .lines()
        .map(|line| {
            let mut cells: Vec<&str> = line.split(',').collect();
            // The name is quoted and holds a comma; this test does without it.
            if line.starts_with("name") {
                return String::new();
            }
            cells.rotate_left(3);
            cells.join(",")
        })
        .collect();
    let birch = sheet(&demo("fl-11-birch.csv"));
    let expected = yaml(&[sheet(&text), birch.clone()]);
    assert_eq!(yaml(&[sheet(&reversed), birch.clone()]), expected);
    assert_eq!(yaml(&[sheet(&columns.join("\n")), birch]), expected);
}

#[test]
fn sheets_of_two_boards_or_two_edges_are_not_mixed() {
    let one = sheet(&small("A", "c", "8.01,,"));
    let other_board = sheet(&small("B", "c", "8.01,,").replace("board,,,X", "board,,,Y"));
    let other_edge = sheet(&small("B", "c", "9.61,,").replace("inside", "apex"));
    for other in [other_board, other_edge] {
        let faults = pool(&[one.clone(), other]).expect_err("refused");
        assert_eq!(faults.len(), 1, "{faults:?}");
    }
}

#[test]
fn semicolons_and_decimal_commas_where_they_are_declared() {
    let text = small("A", "c", "8.01,8.02,8.03");
    let continental = text
        .lines()
        .map(|line| line.replace(',', ";").replace('.', ","))
        .collect::<Vec<_>>()
        .join("\r\n");
    let format = CsvFormat {
        separator: Separator::Semicolon,
        decimal: ringrule::document::DecimalMark::Comma,
    };
    let read = Sheet::read(Source::new("s.csv", continental.as_str()), format).expect("declared");
    assert_eq!(read.entries[0].value, sheet(&text).entries[0].value);
    assert!(Sheet::read(Source::new("s.csv", continental), CsvFormat::default()).is_err());
}

#[test]
fn units_stand_in_the_head_the_cell_or_the_row() {
    let text = small("A", "c", "8.001,,");
    let expected = sheet(&text).entries[0].value.clone();
    let head = text
        .replace(",mm,", ",,")
        .replace("reading 1", "reading 1 (mm)");
    let cell = text.replace(",mm,8.001", ",,8.001 mm");
    let inches = text.replace(",mm,8.001", ",in,0.315");
    for variant in [head, cell, inches] {
        assert_eq!(sheet(&variant).entries[0].value, expected, "{variant}");
    }
}

#[test]
fn every_bad_cell_is_reported_at_its_place_in_one_run() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("bad.csv");
    let text = "item,edge,unit,reading 1,reading 2,remark\nboard,,,FL-1,,\nmounting,,,stapled,,\n\
                date,,,14.11.2026,,\nresolution,,,0.01,,\ntreble width,inside,mm,8.0x,\"8,01\",\n\
                trebel width,inside,mm,8.0,,\ndouble width,,mm,8.0,,\n\
                overall diameter,,cm,45.1,,\ninner_bull diameter,inside,mm,-12.7,,\n\
                sector wires,,,16 swg,,\n,,mm,8.0,,\n";
    fs::write(&path, text).expect("written");
    let output = ringrule(&["pool", &path.to_string_lossy()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let said = String::from_utf8_lossy(&output.stderr);
    insta::assert_snapshot!(said.replace(&*folder.path().to_string_lossy(), "FOLDER"));
}

#[test]
fn a_worksheet_asks_for_what_the_table_needs() {
    for (name, arguments) in [
        ("worksheet-staples", &["--mounting", "staples"][..]),
        (
            "worksheet-embedded",
            &["--mounting", "embedded", "--separator", "semicolon"][..],
        ),
    ] {
        let output = ringrule(&[&["worksheet", "--table", WDF][..], arguments].concat());
        insta::assert_snapshot!(name, transcript(&output));
    }
    let board = "specs/demo/02-strip-to-rule.yaml";
    let output = ringrule(&["worksheet", board, "--table", WDF, "--format", "html"]);
    insta::assert_snapshot!("worksheet-page", transcript(&output));
}

#[test]
fn names_cannot_break_out_of_a_sheet() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("evil.yaml");
    let good = fs::read_to_string(root().join("specs/demo/01-round-to-rule.yaml")).expect("there");
    let evil = good
        .replace("FL-01", "\\\"=1+1")
        .replace("id: \\\"=1+1", "id: \"=1+1\"")
        .replace("Village hall", "<script>alert(1)</script>, \\\"x\\\"");
    fs::write(&path, evil).expect("written");
    let path = path.to_string_lossy();
    let html = ringrule(&["worksheet", &path, "--table", WDF, "--format", "html"]);
    let html = String::from_utf8_lossy(&html.stdout).into_owned();
    assert!(
        html.contains("&lt;script&gt;alert(1)") && !html.contains("<script>"),
        "{html}"
    );
    let csv = ringrule(&["worksheet", &path, "--table", WDF]);
    let csv = String::from_utf8_lossy(&csv.stdout).into_owned();
    assert!(csv.contains(",'=1+1,"), "{csv}");
}

#[test]
fn help_texts() {
    for command in ["worksheet", "pool"] {
        let output = ringrule(&[command, "--help"]);
        insta::assert_snapshot!(format!("help-{command}"), transcript(&output));
    }
}

fn faults(text: &str, format: CsvFormat) -> usize {
    let invalid_file = Sheet::read(Source::new("s.csv", text), format).expect_err("refused");
    invalid_file.diagnostics.len()
}

#[test]
fn nothing_in_a_sheet_is_silently_skipped() {
    let text = small("A", "c", "8.01,8.02,8.03");
    let read = |from: &str, to: &str| faults(&text.replace(from, to), CsvFormat::default());
    assert_eq!(
        read("8.01,8.02,8.03", "8.01,8.02,8.03,8.90"),
        1,
        "beyond the header"
    );
    assert_eq!(read("reading 2", ""), 1, "under a blank head");
    assert_eq!(
        read("max error,,,", "max error,0.03 mm,,"),
        1,
        "in another column"
    );
    assert_eq!(read("reading 2", "reading 1"), 1, "a head twice");
    assert_eq!(read("reading 2", "readings of B"), 1, "a head that is none");
    assert_eq!(read("reading 1,", "reading 1 (in),"), 1, "two units");
    assert_eq!(read("8.01,", "80.1,"), 1, "no width of a band");
    let comma = CsvFormat {
        separator: Separator::Semicolon,
        decimal: ringrule::document::DecimalMark::Comma,
    };
    let point = text
        .replace(',', ";")
        .replace("8.01", "1.234")
        .replace("0.0", "0,0");
    assert_eq!(
        faults(&point, comma),
        3,
        "points where the comma was declared"
    );
}

#[test]
fn quotes_and_apostrophes_are_text_where_they_stand_in_it() {
    let text = small("'t Hooft", "c", "8.01,,") + "name,,,The 5\" bar,,\n";
    let read = sheet(&text);
    assert_eq!(read.inspector, "'t Hooft");
    assert_eq!(read.name.as_deref(), Some("The 5\" bar"));
}

#[test]
fn few_readings_stay_few_on_their_way_through_a_file() {
    let bare = small("A", "c", "8.175,8.185,8.195")
        .replace("resolution,,,0.0001 mm,,\n", "")
        .replace("max error,,,0.03 mm,,\n", "");
    let text = yaml(&[sheet(&bare)]);
    let board = common::board(&text);
    let input = board.construction.inputs.first().expect("the width");
    let u = input.uncertainty.expect("type A");
    // By hand: the scatter s/√3 and the touch 1.25·s (house rule), s = 0.01.
    let expected = 0.01 * (1.0 / 3.0 + 1.25 * 1.25_f64).sqrt();
    assert!(u.degrees_of_freedom() < 3.0, "{u:?}");
    assert!((u.standard() - expected).abs() < 1e-6, "{u:?}");
    // Two readings have k = 13.97, and the file can still be read.
    let two = yaml(&[sheet(&bare.replace("8.175,8.185,8.195", "8.18,8.20,"))]);
    assert!(common::board(&two).construction.inputs.len() == 1);
}

#[test]
fn a_radius_and_a_diameter_of_one_ring_are_not_pooled() {
    let one = small("A", "c", "8.01,,").replace("treble width", "treble_outer radius");
    let one = one.replace("8.01", "107.0");
    let other = one.replace("radius", "diameter").replace("107.0", "214.0");
    let faults = pool(&[sheet(&one), sheet(&other)]).expect_err("refused");
    assert_eq!(faults.len(), 1, "{faults:?}");
}

#[test]
fn a_third_person_does_not_settle_a_dispute() {
    // Two with one instrument differ by far more than they scatter; a third,
    // with another one, lies between them.
    let scatter = |name: &str, instrument: &str, readings: &str| {
        sheet(&small(name, instrument, readings).replace("0.0001 mm", "0.01 mm"))
    };
    let a = scatter("A", "x", "8.00,8.01,8.00");
    let b = scatter("B", "x", "8.05,8.05,8.06");
    let c = scatter("C", "z", "8.02,8.03,8.03");
    for sheets in [vec![a.clone(), b.clone()], vec![a, b, c]] {
        let pooled = pool(&sheets).expect("poolable");
        assert_eq!(pooled.disputed().count(), 1, "{} people", sheets.len());
    }
}

#[test]
fn a_sheet_given_twice_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let original = "specs/demo/sheets/fl-11-ashdown.csv";
    let sheet = fs::read_to_string(root().join(original)).expect("there");
    let renamed = sheet
        .replace("A. Ashdown", "C. Cole")
        .replace("league calliper 2", "other");
    let path = folder.path().join("cole.csv");
    fs::write(&path, renamed).expect("written");
    let renamed = path.to_string_lossy().into_owned();
    for copy in [original, &renamed] {
        let output = ringrule(&["pool", original, copy]);
        assert_eq!(output.status.code(), Some(2), "{}", transcript(&output));
        assert!(output.stdout.is_empty());
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains("has the same readings as"), "{said}");
        assert!(said.contains("fl-11-ashdown.csv"), "{said}");
        assert!(copy == original || said.contains("cole.csv"), "{said}");
    }
}
