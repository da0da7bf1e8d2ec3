//! What several people measured: their readings kept, combined and doubted, from
//! sheets and as they stand in a board file.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;
use std::path::Path;

use common::{board, ringrule, root, transcript};
use ringrule::board::{Band, Board, Cause, Input, Quantity};
use serde_json::Value;

const WDF: &str = "tolerances/wdf.yaml";

/// A board with nothing but the treble's width, and what is said of it.
fn width(head: &str, width: &str) -> String {
    format!(
        "format: ringrule/board/1\nboard: {{ id: X }}\nmounting: staples\nunits: mm\n{head}\
         widths:\n  treble: {{ edge: inside, width: {width} }}\n"
    )
}

fn first(board: &Board) -> &Input {
    board.construction.inputs.first().expect("the width")
}

fn expanded(board: &Board) -> f64 {
    let u = first(board).uncertainty.expect("known");
    u.expanded().expanded
}

fn json(arguments: &[&str]) -> Value {
    let output = ringrule(&[arguments, &["--format", "json"]].concat());
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// The standard output of a run with this exit code.
fn text(arguments: &[&str], code: i32) -> String {
    let output = ringrule(arguments);
    assert_eq!(output.status.code(), Some(code), "{}", transcript(&output));
    // Lines are broken anywhere: one space stands for all.
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn written(folder: &Path, name: &str, text: &str) -> String {
    let path = folder.join(name);
    fs::write(&path, text).expect("written");
    path.to_string_lossy().into_owned()
}

/// Two people with one calliper; readings invented.
const ONE_CALLIPER: &str = "instruments: { c: { resolution: 0.01, max_error: 0.05 } }\n";

#[test]
fn two_people_with_one_calliper() {
    // By hand: half the difference, 0.015, and the calliper's 0.05/√3, which the
    // second person cannot make smaller: U = 2·√(0.015² + 0.05²/3) = 0.0651. The
    // Birge ratio on the whole would give 0.425.
    let found = board(&width(
        ONE_CALLIPER,
        "{ taken: [ { by: A, readings: [8.00, 8.00, 8.00] }, { by: B, readings: [8.03, 8.03, \
         8.03] } ] }",
    ));
    assert!((first(&found).value.as_mm() - 8.015).abs() < 1e-9);
    assert!(
        (expanded(&found) - 0.0651).abs() < 5e-5,
        "{}",
        expanded(&found)
    );
    let errors = &first(&found).errors;
    let of = |cause| errors.iter().find(|part| part.cause == cause);
    let error = of(Cause::PermissibleError).expect("the calliper's");
    assert!((error.uncertainty.standard() - 0.05 / 3.0_f64.sqrt()).abs() < 1e-12);
    assert!(of(Cause::BetweenPeople).is_some());
    assert!(first(&found).taken().expect("two").is_disputed());
}

#[test]
fn one_reading_does_not_outweigh_ten() {
    // By hand: 7.97e-5 for the single reading, 1.55e-5 for ten: a weight of 16 %.
    let found = board(&width(
        "instruments: { c: { resolution: 0.01 } }\n",
        "{ taken: [ { by: A, readings: [8.01, 8.00, 8.00, 8.02, 8.00, 8.01, 8.00, 8.01, 7.99, \
         8.00] }, { by: B, readings: [8.01] } ] }",
    ));
    let weights = &first(&found).taken().expect("two").takings;
    assert!((weights[1].weight - 0.163).abs() < 0.001, "{weights:?}");
}

#[test]
fn plain_readings_stay_as_they_were() {
    // What people took elsewhere in the file lends nothing to them.
    let plain = "  double: { edge: inside, width: { readings: [7.99, 8.01, 8.03] } }\n";
    let alone = width(ONE_CALLIPER, "8.0") + plain;
    let beside = width(
        ONE_CALLIPER,
        "{ taken: [ { by: A, readings: [8.00, 8.01] }, { by: B, readings: [8.00, 8.02] } ] }",
    ) + plain;
    let [alone, beside] = [alone, beside].map(|text| {
        let board = board(&text);
        let inputs = board.construction.inputs.into_iter();
        let double = |input: &Input| input.quantity == Quantity::Width(Band::Double);
        let found = inputs
            .filter(double)
            .map(|input| (input.value, input.errors));
        found.collect::<Vec<_>>()
    });
    assert_eq!(alone, beside);
}

#[test]
fn what_people_took_is_read_with_care() {
    let faults = |text: String| {
        let source = ringrule::document::Source::new("b.yaml", text.as_str());
        let invalid = Board::read(source).expect_err(&text);
        let messages = invalid.diagnostics.into_iter().map(|found| found.message);
        messages.collect::<Vec<_>>()
    };
    for (taken, words) in [
        ("{ taken: [ { readings: [8.0] } ] }", "by"),
        ("{ taken: [ { by: A } ] }", "readings"),
        (
            "{ taken: [ { by: \" \", readings: [8.0] } ] }",
            "nobody is named",
        ),
        (
            "{ taken: [ { by: A, readings: [80.0] } ] }",
            "not a possible band width",
        ),
        (
            "{ taken: [ { by: A, date: 8.11.2026, readings: [8.0] } ] }",
            "not a day",
        ),
        (
            "{ taken: [ { by: A, instrument: c, readings: [8.0] } ] }",
            "`c` is not one of",
        ),
        (
            "{ readings: [8.0], taken: [ { by: A, readings: [8.0] } ] }",
            "either readings or",
        ),
        ("{}", "either readings or"),
        ("{ taken: [] }", "this list is empty"),
    ] {
        let found = faults(width("", taken));
        assert_eq!(found.len(), 1, "{taken}: {found:?}");
        assert!(found[0].contains(words), "{taken}: {found:?}");
    }
    let stated = width("", "{ taken: [ { by: A, readings: [8.0] } ] }");
    let stated = stated.replace("edge: inside", "edge: inside, uncertainty: 0.05");
    let found = faults(stated);
    assert!(
        found.len() == 1 && found[0].contains("that follows from it"),
        "{found:?}"
    );
}

/// The rows of a demo sheet, typed into a board file by hand: rings, widths and
/// wires with `taken`, in inches or mm.
fn typed(people: [&str; 2], inches: bool) -> String {
    let sheets = people.map(|who| {
        let path = root().join(format!("specs/demo/sheets/fl-11-{who}.csv"));
        fs::read_to_string(path).expect("there")
    });
    let fact = |sheet: &str, key: &str| {
        let line = sheet.lines().find(|line| line.starts_with(key));
        line.and_then(|line| line.split(',').nth(3))
            .expect("there")
            .to_owned()
    };
    let taken = |item: &str| {
        let entries = sheets.iter().map(|sheet| {
            let line = sheet
                .lines()
                .find(|line| line.starts_with(item))
                .expect("there");
            let cells = line.split(',').skip(3).filter(|cell| !cell.is_empty());
            let readings = cells.map(|cell| {
                let mm: f64 = cell.parse().expect("a number");
                if inches {
                    format!("{} in", mm / 25.4)
                } else {
                    cell.to_owned()
                }
            });
            let readings = readings.collect::<Vec<_>>().join(", ");
            let (who, with) = (fact(sheet, "inspector"), fact(sheet, "instrument"));
            format!("{{ by: {who}, instrument: {with}, readings: [{readings}] }}")
        });
        format!(
            "{{ taken: [ {} ] }}",
            entries.collect::<Vec<_>>().join(", ")
        )
    };
    format!(
        "format: ringrule/board/1\nboard: {{ id: FL-11 }}\nmounting: staples\nunits: mm\n\
         instruments:\n  league calliper 2: {{ resolution: 0.01, max_error: 0.03 }}\n  \
         own calliper: {{ resolution: 0.02, max_error: 0.04 }}\n\
         overall: {{ diameter: {} }}\nwidths:\n  treble: {{ edge: inside, width: {} }}\n  \
         double: {{ edge: inside, width: {} }}\nrings:\n  \
         inner_bull: {{ edge: inside, diameter: {} }}\n  \
         outer_bull: {{ edge: inside, diameter: {} }}\n  \
         treble_outer: {{ edge: outside, radius: {} }}\n  \
         double_outer: {{ edge: outside, radius: {} }}\nwires:\n  rings: {}\n  sectors: {}\n",
        taken("overall diameter"),
        taken("treble width"),
        taken("double width"),
        taken("inner_bull diameter"),
        taken("outer_bull diameter"),
        taken("treble_outer radius"),
        taken("double_outer radius"),
        taken("ring wires"),
        taken("sector wires"),
    )
}

#[test]
fn readings_typed_into_a_board_file_are_judged_as_pooled_ones() {
    let folder = tempfile::tempdir().expect("a folder");
    let pooled = folder
        .path()
        .join("pooled.yaml")
        .to_string_lossy()
        .into_owned();
    let sheets = ["ashdown", "birch"].map(|who| format!("specs/demo/sheets/fl-11-{who}.csv"));
    text(&["pool", &sheets[0], &sheets[1], "--output", &pooled], 0);
    let judged = |file: &str| {
        let found = json(&["validate", file, "--table", WDF]);
        let board = &found["boards"][0];
        let limits = board["limits"].as_array().expect("limits").iter();
        let figures = limits.map(|limit| {
            let number = |value: &Value| value.as_f64().unwrap_or_default();
            (
                number(&limit["value"]),
                number(&limit["uncertainty"]["expanded"]),
            )
        });
        (board["verdict"].clone(), figures.collect::<Vec<_>>())
    };
    let expected = judged(&pooled);
    assert!(
        expected.1.iter().filter(|(_, u)| *u > 0.0).count() >= 8,
        "{expected:?}"
    );
    for (people, inches) in [(["ashdown", "birch"], false), (["birch", "ashdown"], true)] {
        let by_hand = written(folder.path(), "typed.yaml", &typed(people, inches));
        let found = judged(&by_hand);
        assert_eq!(found.0, expected.0);
        for (a, b) in found.1.iter().zip(&expected.1) {
            assert!(
                (a.0 - b.0).abs() < 1e-6 && (a.1 - b.1).abs() < 1e-6,
                "{a:?} {b:?}"
            );
        }
    }
    // Nothing is to be said against the program's own file.
    let linted = text(&["lint", &pooled], 0);
    assert!(linted.contains("1 file: nothing found"), "{linted}");
}

#[test]
fn a_mistyped_reading_is_named_beside_the_verdict() {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, value) in [
        ("plain.yaml", "{ readings: [8.00, 7.97, 8.60] }"),
        (
            "taken.yaml",
            "{ taken: [ { by: B. Birch, readings: [8.00, 7.97, 8.60] } ] }",
        ),
    ] {
        let file = written(folder.path(), name, &width("", value));
        // By hand: 8.60 lies 0.615 from 7.985.
        let words = "a reading stands apart: direct treble width 8.600 mm";
        for show in ["verdicts", "deviations"] {
            let said = text(&["validate", &file, "--table", WDF, "--show", show], 1);
            assert!(said.contains(words) && said.contains("0.615 mm"), "{said}");
        }
        let said = text(
            &["report", &file, "--table", WDF, "--format", "markdown"],
            0,
        );
        assert!(said.contains("Readings to look at again"), "{said}");
        assert!(said.contains("8.600 mm"), "{said}");
        let found = json(&["validate", &file, "--table", WDF]);
        let apart = &found["boards"][0]["readings_apart"];
        assert_eq!(apart.as_array().expect("a list").len(), 1);
        assert_eq!(apart[0]["reading"], 3);
        assert_eq!(apart[0]["value"], 8.6);
        assert_eq!(apart[0]["quantity"], "direct treble width");
        let linted = text(&["lint", &file, "--fail-at", "warning"], 1);
        assert!(linted.contains("reading-apart"), "{linted}");
    }
    let sound = width("", "{ readings: [8.00, 7.97, 8.02] }");
    assert_eq!(board(&sound).apart, []);
}

#[test]
fn a_dispute_goes_with_the_board_wherever_it_is_judged() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder
        .path()
        .join("fl-12.yaml")
        .to_string_lossy()
        .into_owned();
    let sheets = ["ashdown", "birch"].map(|who| format!("specs/demo/sheets/fl-12-{who}.csv"));
    let pool = ["pool", &sheets[0], &sheets[1], "--output", &file];
    text(&pool, 1);
    assert!(
        !Path::new(&file).exists(),
        "nothing is written of a dispute"
    );
    text(&[&pool[..], &["--disagreement", "widen"]].concat(), 0);

    let found = json(&["validate", &file, "--table", WDF]);
    let disputes = found["boards"][0]["disputes"].as_array().expect("a list");
    let [dispute] = disputes.as_slice() else {
        panic!("{disputes:?}");
    };
    assert_eq!(dispute["quantity"], "direct treble width");
    assert_eq!(dispute["people"][0]["by"], "A. Ashdown");
    assert_eq!(dispute["people"][1]["instrument"], "own calliper");
    assert_eq!(dispute["people"][1]["date"], "2026-11-08");
    assert_eq!(
        dispute["people"][1]["readings"],
        serde_json::json!([7.8, 7.82, 7.8, 7.82])
    );
    assert!(dispute["corrected_probability"].as_f64().expect("p") < 0.001);
    // By hand: two results 0.23 apart; half of that is their standard deviation
    // about the mean, so that U is about 0.23.
    let expanded = dispute["expanded_uncertainty"].as_f64().expect("U");
    assert!((expanded - 0.23).abs() < 0.005, "{expanded}");
    assert!(dispute["widened"].as_f64().expect("a factor") > 5.0);

    let said = text(
        &["validate", &file, "--table", WDF, "--show", "verdicts"],
        1,
    );
    let words = "people disagree on the direct treble width: A. Ashdown 8.040 mm (3 readings), \
                 B. Birch 7.810 mm (4 readings); p < 0.001";
    assert!(said.contains(words), "{said}");
    assert!(said.contains("U is ± 0.23 mm, 5.7 times"), "{said}");
    let said = text(
        &[
            "report", &file, "--table", WDF, "--format", "text", "--detail", "full",
        ],
        0,
    );
    assert!(
        said.contains("people disagree on the direct treble width"),
        "{said}"
    );
    assert!(said.contains("they disagree (p < 0.001)"), "{said}");
    assert!(said.contains("calibrated 2026-05-02"), "{said}");
}

#[test]
fn machine_formats_carry_stray_readings_and_disputes() {
    // Invented: a slip of 0.6 mm in the treble, and two people half a millimetre
    // apart in the double.
    let folder = tempfile::tempdir().expect("a folder");
    let board = "format: ringrule/board/1
board: { id: X }
mounting: staples
units: mm
instrument: { name: c, resolution: 0.01, max_error: 0.03 }
inspection: { by: A. Ashdown, date: 2026-11-07 }
widths:
  treble: { edge: inside, width: { readings: [8.00, 7.97, 8.60] } }
  double:
    edge: inside
    width:
      taken:
      - { by: A. Ashdown, readings: [8.00, 8.01, 8.00] }
      - { by: B. Birch, readings: [8.50, 8.51, 8.50] }
";
    let path = written(folder.path(), "x.yaml", board);
    let arguments = [vec!["validate", &path, "--table", WDF], vec!["lint", &path]];
    for arguments in arguments {
        for format in ["sarif", "junit", "github", "azure", "gitlab", "text"] {
            let output = ringrule(&[&arguments[..], &["--format", format]].concat());
            let shown = String::from_utf8_lossy(&output.stdout).into_owned();
            let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
            for words in ["8.600 mm", "people disagree on the direct double width"] {
                assert!(shown.contains(words), "{arguments:?} {format}: {shown}");
            }
            if !matches!(format, "azure" | "github" | "text") {
                for code in ["reading-apart", "people-disagree"] {
                    assert!(shown.contains(code), "{arguments:?} {format}: {shown}");
                }
            }
        }
    }
}
