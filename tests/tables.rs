//! The tables that come with the program, as a user meets them.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;

use common::league::{BOARD, League, err, out};
use common::{json, root};

/// A league with boards and no table at all.
fn without_tables() -> League {
    let league = League::new();
    fs::remove_dir_all(league.path("tables")).expect("removed");
    league
}

/// The counts of a run, which end its text.
fn counts(league: &League, line: &str) -> String {
    let output = league.run(line);
    let text = out(&output);
    let last = text.lines().last().unwrap_or_default();
    assert!(!last.is_empty(), "{line}\n{}", err(&output));
    last.to_owned()
}

#[test]
fn a_built_in_table_needs_no_file_and_judges_as_its_file_does() {
    let league = without_tables();
    fs::copy(root().join("tolerances/wdf.yaml"), league.path("own.yaml")).expect("copied");
    let built_in = counts(&league, "validate boards -t wdf --show verdicts");
    let own = counts(&league, "validate boards -t own.yaml --show verdicts");
    assert_eq!(built_in, own);
    for line in [
        format!("report {BOARD} -t wdf -o r.html"),
        format!("draw {BOARD} -t wdf"),
        "worksheet --mounting staples -t wdf".to_owned(),
        format!("compare {BOARD} nominal:embedded -t wdf"),
    ] {
        let output = league.run(&line);
        assert!(output.status.code() < Some(2), "{line}\n{}", err(&output));
    }
}

#[test]
fn a_report_names_the_version_and_the_digest_of_a_built_in_table() {
    let league = without_tables();
    let line = format!("report {BOARD} -t wdf -o r.json -o r.md");
    let output = league.run(&line);
    assert!(output.status.code() < Some(2), "{}", err(&output));
    let report = json(&league.text("r.json"));
    let file = report.pointer("/table/files/0").expect("a file");
    assert_eq!(file.pointer("/file"), Some(&"ringrule:wdf".into()));
    let version = env!("CARGO_PKG_VERSION");
    assert_eq!(file.pointer("/built_in"), Some(&version.into()));
    let text = fs::read_to_string(root().join("tolerances/wdf.yaml")).expect("read");
    let digest = ringrule::document::Source::new("wdf", text).sha256();
    assert_eq!(file.pointer("/sha256"), Some(&digest.as_str().into()));
    let page = league.text("r.md");
    let named = format!("built into Ringrule {version}, SHA-256 {digest}");
    assert!(page.replace('\\', "").contains(&named), "{page}");
}

#[test]
fn a_file_wins_over_a_built_in_table_of_its_name() {
    let league = without_tables();
    league.write("wdf", "format: ringrule/table/1\n");
    let said = league.refused(&format!("validate {BOARD} -t wdf"));
    assert!(said.contains("wdf:1:1"), "{said}");
    // It is a file that may not be written over, too.
    fs::copy(root().join("tolerances/wdf.yaml"), league.path("wdf")).expect("copied");
    league.refused(&format!(
        "report {BOARD} -t wdf --format html -o wdf --overwrite"
    ));
}

#[test]
fn settings_and_other_tables_may_name_a_built_in_table() {
    let league = without_tables();
    league.write(
        "league.yaml",
        "format: ringrule/table/1\nextends: wdf\ntitle: Own\n\
         source: { document: House rules, provenance: invented }\n\
         limits: { overall_diameter: { measurand: overall.diameter, nominal: 460 mm, tolerance: 5 mm } }\n",
    );
    let output = league.run(&format!("validate {BOARD} -t league.yaml --format json"));
    let found = json(&out(&output));
    assert_eq!(
        found.pointer("/table/files/1/file"),
        Some(&"ringrule:wdf".into()),
        "{}",
        err(&output)
    );
    let output = league.run("lint league.yaml");
    assert_eq!(output.status.code(), Some(0), "{}", out(&output));
    league.write("ringrule.yaml", "format: ringrule/settings/1\ntable: wdf\n");
    let output = league.run(&format!("validate {BOARD} --format json"));
    let found = json(&out(&output));
    assert_eq!(
        found.pointer("/table/files/0/file"),
        Some(&"ringrule:wdf".into()),
        "{}",
        err(&output)
    );
}

#[test]
fn tables_are_listed_and_printed_and_a_wrong_name_says_which_there_are() {
    let league = without_tables();
    let list = out(&league.run("tables"));
    assert!(list.starts_with("wdf: World Darts Federation"), "{list}");
    let printed = out(&league.run("tables wdf"));
    let text = fs::read_to_string(root().join("tolerances/wdf.yaml")).expect("read");
    assert_eq!(printed, text);
    let said = league.refused("tables wdff -o a.yaml");
    assert!(said.contains("did you mean `wdf`"), "{said}");
    let said = league.refused(&format!("validate {BOARD} -t wfd"));
    assert!(said.contains("no built-in table"), "{said}");
    // What is printed is a table of one's own, and is judged by like any other.
    let output = league.run("tables wdf -o own.yaml");
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    counts(&league, "validate boards -t own.yaml");
}
