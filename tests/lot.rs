//! `ringrule lot`: whole commands on invented production runs.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;
use std::path::PathBuf;

use common::league::{err, out};
use common::production::{Normals, board, demo};
use common::{json, ringrule, root, transcript};
use tempfile::TempDir;

const DEMO: &str = "specs/lot/run.csv";

struct Works(TempDir);

impl Works {
    /// The demo, taken in.
    fn new() -> Self {
        let works = Self::empty();
        let into = works.path("run");
        let output = ringrule(&["intake", DEMO, "--into", &into]);
        assert_eq!(output.status.code(), Some(0), "{}", err(&output));
        works
    }

    fn empty() -> Self {
        Self(tempfile::tempdir().expect("a folder"))
    }

    fn path(&self, name: &str) -> String {
        self.0.path().join(name).to_string_lossy().into_owned()
    }

    fn file(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.file(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    }

    /// Standard error with the folder's name taken out.
    fn refused(&self, arguments: &[&str]) -> String {
        let output = ringrule(&[&["lot", "--table", "wdf"][..], arguments].concat());
        assert_eq!(output.status.code(), Some(2), "{}", transcript(&output));
        assert!(output.stdout.is_empty(), "{}", out(&output));
        err(&output).replace(&self.path(""), "")
    }
}

#[test]
fn the_demo_is_what_its_recipe_makes() {
    let committed = fs::read_to_string(root().join(DEMO)).expect("the demo is there");
    assert!(
        committed == demo(),
        "{DEMO} is stale: run `cargo test --test lot -- --ignored the_demo_is_made_anew`"
    );
}

#[test]
#[ignore = "writes the demo"]
fn the_demo_is_made_anew() {
    fs::create_dir_all(root().join("specs/lot")).expect("a folder");
    fs::write(root().join(DEMO), demo()).expect("written");
}

#[test]
fn the_demos_drift_is_named() {
    let works = Works::new();
    let output = ringrule(&["lot", &works.path("run"), "--table", "wdf"]);
    assert_eq!(output.status.code(), Some(1));
    let text = out(&output);
    insta::assert_snapshot!(text);
}

#[test]
fn every_format_comes_from_one_run() {
    let works = Works::new();
    let files = [
        "run.html", "run.json", "run.csv", "run.md", "run.txt", "run.pdf", "run.xlsx",
    ];
    let files = files.map(|name| works.path(name));
    let run = works.path("run");
    let mut arguments = vec!["lot", &run, "--table", "wdf", "--output", &files[0]];
    for file in &files[1..] {
        arguments.extend(["--also", file]);
    }
    let output = ringrule(&arguments);
    assert_eq!(output.status.code(), Some(1), "{}", transcript(&output));
    let text = |name: &str| fs::read_to_string(works.file(name)).expect("written");
    let html = text("run.html");
    assert!(
        html.contains("<svg") && html.contains("drift from 4"),
        "no chart of the drift"
    );
    assert!(!html.contains("<script"));
    let json = json(&text("run.json"));
    assert_eq!(json["boards"].as_array().map(Vec::len), Some(80));
    assert_eq!(json["stable"], false);
    let measurands = json["measurands"].as_array().expect("a list");
    let treble = measurands
        .iter()
        .find(|own| own["check"] == "treble_width_strip");
    let treble = treble.expect("the treble");
    let drift = &treble["chart"]["signals"];
    let drift = drift
        .as_array()
        .expect("a list")
        .iter()
        .find(|own| own["kind"] == "drift");
    let place = drift.expect("a drift")["begins"]["place"]
        .as_u64()
        .expect("a place");
    assert!(place.abs_diff(40) <= 8, "{place}");
    assert!(treble["capability"].is_null() && treble["withheld"].is_string());
    let csv = text("run.csv");
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<_> = reader.records().map(|row| row.expect("a row")).collect();
    assert_eq!(rows.len(), measurands.len());
    let bytes = fs::read(works.file("run.xlsx")).expect("written");
    let book = ringrule::workbook::Workbook::read("run.xlsx", bytes).expect("a workbook");
    let sheet = book.sheets.first().expect("a sheet");
    assert_eq!(sheet.rows.len(), measurands.len() + 1);
    let numbers = sheet.rows.iter().flat_map(|row| &row.cells);
    let numbers = numbers.filter(|cell| matches!(cell.value, ringrule::workbook::Value::Number(_)));
    assert!(numbers.count() > 10 * measurands.len());
    assert!(text("run.md").starts_with("# A production run of 80 boards"));
    assert!(
        fs::read(works.file("run.pdf"))
            .expect("written")
            .starts_with(b"%PDF")
    );
}

/// What a run says of the inner bull, and its values.
fn bull(run: &str) -> (serde_json::Value, Vec<f64>) {
    let output = ringrule(&["lot", run, "--table", "wdf", "--format", "json"]);
    let json = json(&out(&output));
    let measurands = json["measurands"].as_array().expect("a list").iter();
    let mut named = measurands.filter(|own| own["check"] == "inner_bull_diameter");
    let bull = named.next().expect("the bull").clone();
    let values = bull["values"].as_array().expect("values").iter();
    let values = values.map(|own| own.as_f64().expect("a number")).collect();
    (bull, values)
}

#[test]
fn the_measurement_is_taken_out() {
    // Recomputed from the values: s² less what the measurement adds anew each time.
    let check = |run: &str, noise: &dyn Fn(f64) -> f64| {
        let (bull, values) = bull(run);
        let number = |path: &str| {
            let found = bull.pointer(path).and_then(serde_json::Value::as_f64);
            found.unwrap_or_else(|| panic!("no {path} in {bull:#}"))
        };
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let squares: f64 = values.iter().map(|own| (own - mean).powi(2)).sum();
        let variance = squares / (n - 1.0);
        let process = (variance - noise(number("/measurement_deviation"))).sqrt();
        let near = |path: &str, value: f64| {
            assert!((number(path) - value).abs() < 1e-9, "{path}: {value}");
        };
        near("/capability/process_deviation", process);
        near("/capability/cp/value", 0.4 / (6.0 * process));
        let nearer = (mean - 12.5).min(12.9 - mean);
        near("/capability/cpk/value", nearer / (3.0 * process));
        near(
            "/capability/cpk/as_measured",
            nearer / (3.0 * variance.sqrt()),
        );
    };
    // The demo's recipe: a repeatability of 0.012 mm over two readings, and steps of
    // 0.01 mm; the permissible error, which all boards share, stays in.
    let works = Works::new();
    check(&works.path("run"), &|said| {
        let made = (0.012_f64.powi(2) / 2.0 + 1e-4 / 12.0).sqrt();
        assert!((said / made - 1.0).abs() < 0.1, "{said} {made}");
        said * said
    });
    let works = Works::empty();
    let mut normals = Normals::seeded(11);
    for at in 0..40 {
        let text = board(at, 0.0, &mut normals);
        let with = "units: mm\ninstrument: { resolution: 0.01 mm, max_error: 0.03 mm }\n";
        works.write(
            &format!("run/{at}.yaml"),
            &text.replace("units: mm\n", with),
        );
    }
    check(&works.path("run"), &|_| 1e-4 / 12.0);
}

#[test]
fn a_measurement_too_coarse_to_see_the_process_gives_no_capability() {
    let works = Works::empty();
    let mut normals = Normals::seeded(12);
    for at in 0..40 {
        let text = board(at, 0.0, &mut normals);
        let with = "units: mm\nuncertainty: 0.2\n";
        works.write(
            &format!("run/{at}.yaml"),
            &text.replace("units: mm\n", with),
        );
    }
    let (bull, _) = bull(&works.path("run"));
    assert!(bull["capability"].is_null());
    let why = bull["withheld"].as_str().expect("a reason");
    assert!(
        why.contains("too coarse to see the process: its s is 0.100"),
        "{why}"
    );
}

#[test]
fn the_order_is_that_of_the_files_or_of_their_making() {
    let works = Works::empty();
    let mut normals = Normals::seeded(3);
    for at in 0..4 {
        let text = board(at, 0.0, &mut normals);
        let text = text.replace("made: 2026", &format!("made: {}", 2030 - at));
        works.write(&format!("run/{at}.yaml"), &text);
    }
    let run = works.path("run");
    let ids = |order: &str| {
        let output = ringrule(&[
            "lot", &run, "--table", "wdf", "--order", order, "--format", "json",
        ]);
        let json = json(&out(&output));
        let boards = json["boards"].as_array().expect("a list").iter();
        boards
            .map(|own| own["id"].as_str().expect("an id").to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(ids("file"), ["R-000", "R-001", "R-002", "R-003"]);
    assert_eq!(ids("made"), ["R-003", "R-002", "R-001", "R-000"]);
    for at in [1, 2] {
        let text = board(at, 0.0, &mut normals).replace(", made: 2026", "");
        works.write(&format!("run/{at}.yaml"), &text);
    }
    let said = works.refused(&[&run, "--order", "made"]);
    assert!(said.contains("1.yaml") && said.contains("2.yaml"), "{said}");
    assert!(
        !said.contains("3.yaml") && said.contains("write `made`"),
        "{said}"
    );
}

#[test]
fn what_some_boards_did_not_record_makes_n_smaller() {
    let works = Works::empty();
    let mut normals = Normals::seeded(5);
    for at in 0..30 {
        let text = board(at, 0.0, &mut normals);
        let without = text.lines().filter(|line| !line.starts_with("overall"));
        let text = if at % 3 == 0 {
            without.fold(String::new(), |all, line| all + line + "\n")
        } else {
            text
        };
        works.write(&format!("run/{at:02}.yaml"), &text);
    }
    let output = ringrule(&["lot", &works.path("run"), "--table", "wdf"]);
    let text = out(&output);
    assert!(
        text.contains("overall diameter: 10 boards did not record it, so n is smaller."),
        "{text}"
    );
}

#[test]
fn wrong_input_ends_with_code_2_and_a_next_step() {
    let works = Works::empty();
    fs::create_dir(works.file("empty")).expect("made");
    let said = works.refused(&[&works.path("empty")]);
    assert!(
        said.contains("there is no .yaml or .yml file in this folder"),
        "{said}"
    );
    let mut normals = Normals::seeded(1);
    let one = board(1, 0.0, &mut normals);
    works.write("one/a.yaml", &one);
    let said = works.refused(&[&works.path("one")]);
    assert!(
        said.contains("two boards at least") && said.contains("name more board files"),
        "{said}"
    );
    works.write("twice/a.yaml", &one);
    works.write("twice/b.yaml", &one);
    let said = works.refused(&[&works.path("twice")]);
    assert!(
        said.contains("`R-001`") && said.contains("a.yaml and twice/b.yaml"),
        "{said}"
    );
    works.write("broken/a.yaml", &one);
    works.write("broken/b.yaml", &one.replace("12.", "x"));
    works.write("broken/c.yaml", "format: ringrule/bord/1\n");
    let said = works.refused(&[&works.path("broken"), "--output", &works.path("x.html")]);
    assert!(
        said.contains("b.yaml:7") && said.contains("c.yaml:1"),
        "{said}"
    );
    assert!(
        said.contains("nothing was written") && !works.file("x.html").exists(),
        "{said}"
    );
    works.write(
        "bare.yaml",
        "format: ringrule/table/1\ntitle: Bare\nsource: { document: B, provenance: invented }\n\
         limits: { held: { measurand: mounting, allowed: [embedded] } }\n",
    );
    works.write("two/a.yaml", &one);
    works.write("two/b.yaml", &board(2, 0.0, &mut normals));
    let output = ringrule(&[
        "lot",
        &works.path("two"),
        "--table",
        &works.path("bare.yaml"),
    ]);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        err(&output).contains("name another table"),
        "{}",
        err(&output)
    );
}

#[test]
fn two_boards_have_a_mean_and_no_chart() {
    let works = Works::empty();
    let mut normals = Normals::seeded(1);
    for at in 0..2 {
        works.write(&format!("run/{at}.yaml"), &board(at, 0.0, &mut normals));
    }
    let output = ringrule(&["lot", &works.path("run"), "--table", "wdf"]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    let text = out(&output);
    assert!(text.contains("Nothing could be charted"), "{text}");
    assert!(text.contains("not charted:"), "{text}");
}

#[test]
fn ids_and_titles_are_text_in_every_format() {
    let works = Works::empty();
    let mut normals = Normals::seeded(1);
    for at in 0..25 {
        let mut text = board(at, 0.0, &mut normals);
        let nasty = format!("id: \"=1+{at}<script>\"");
        text = text.replace(&format!("id: R-{at:03}"), &nasty);
        if at == 20 {
            text = text.replace("diameter: 451", "diameter: 459");
        }
        works.write(&format!("run/{at:02}.yaml"), &text);
    }
    let run = works.path("run");
    let printed = |format: &str| {
        out(&ringrule(&[
            "lot", &run, "--table", "wdf", "--format", format,
        ]))
    };
    assert!(!printed("html").contains("<script>"));
    let csv = printed("csv");
    assert!(csv.contains("'=1+20<script>"), "{csv}");
}
