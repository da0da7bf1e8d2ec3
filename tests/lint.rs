//! `ringrule lint` and `ringrule rules`, run as a user runs them.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;
use std::path::Path;

use common::{ringrule, root, transcript};
use ringrule::lint::{Rule, Settings};

const DAY: [&str; 2] = ["--on", "2026-11-25"];

fn linted(paths: &[&str], more: &[&str]) -> std::process::Output {
    ringrule(&[&["lint"][..], paths, &DAY, more].concat())
}

#[test]
fn the_demo_has_the_findings_that_its_settings_waive_and_no_other() {
    let paths = ["specs/demo", "specs/events", "tolerances"];
    let output = linted(&paths, &["--fail-at", "note"]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    let output = linted(&paths, &["--waived"]);
    insta::assert_snapshot!(transcript(&output));
}

#[test]
fn without_settings_the_demo_shows_its_findings() {
    let output = linted(&["specs/demo"], &["--no-settings"]);
    assert_eq!(output.status.code(), Some(1));
    insta::assert_snapshot!(transcript(&output));
}

#[test]
fn a_broken_file_is_a_finding_and_the_rest_is_looked_at() {
    let output = linted(
        &["specs/broken/unknown-key.yaml", "specs/demo/06-inches.yaml"],
        &["--no-settings"],
    );
    assert_eq!(output.status.code(), Some(1));
    let out = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(
        out.contains(" unknown-key: ") && out.contains(" unit-mixed: "),
        "{out}"
    );
    // Every broken file is one finding; what is no text cannot be read at all.
    for folder in ["specs/broken", "specs/broken/tables", "specs/broken/events"] {
        for entry in fs::read_dir(root().join(folder)).expect("a folder") {
            let path = entry.expect("readable").path();
            if path.is_dir() {
                continue;
            }
            let output = linted(&[&path.to_string_lossy()], &["--no-settings"]);
            let expected = if path.ends_with("not-utf8.yaml") {
                2
            } else {
                1
            };
            assert_eq!(output.status.code(), Some(expected), "{}", path.display());
        }
    }
}

#[test]
fn json_meets_its_schema_and_points_into_the_files() {
    let output = linted(&["specs/demo", "specs/broken"], &["--format", "json"]);
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let schema = fs::read_to_string(root().join("specs/lint.schema.json")).expect("committed");
    let schema: serde_json::Value = serde_json::from_str(&schema).expect("JSON");
    let validator = jsonschema::validator_for(&schema).expect("a sound schema");
    let errors: Vec<_> = validator
        .iter_errors(&json)
        .map(|e| e.to_string())
        .collect();
    assert!(errors.is_empty(), "{errors:?}");
    let findings = json["findings"].as_array().expect("a list");
    assert!(findings.len() > 20);
    for finding in findings {
        let place = &finding["place"];
        let path = root().join(place["file"].as_str().expect("a name"));
        let length = fs::metadata(&path).expect("a file").len();
        assert!(place["start"].as_u64() <= place["end"].as_u64());
        assert!(place["end"].as_u64().expect("a byte") <= length, "{place}");
    }
}

#[test]
fn exit_codes() {
    let code = |paths: &[&str], more: &[&str]| linted(paths, more).status.code();
    let inches = "specs/demo/06-inches.yaml";
    let bare = ["--no-settings"];
    assert_eq!(code(&[inches], &bare), Some(1), "a warning");
    assert_eq!(
        code(&[inches], &["--no-settings", "--fail-at", "error"]),
        Some(0)
    );
    let ignored = ["--no-settings", "--level", "missing-date=ignore"];
    assert_eq!(code(&[inches], &ignored), Some(0));
    assert_eq!(
        code(&[inches], &[&ignored[..], &["--fail-at", "note"]].concat()),
        Some(1)
    );
    assert_eq!(code(&["specs/nowhere.yaml"], &bare), Some(2));
    assert_eq!(code(&["specs/demo/*.yml"], &bare), Some(2), "nothing fits");
    assert_eq!(
        code(&["specs/demo/0[67]*.yaml"], &["--fail-at", "error"]),
        Some(0)
    );
    assert_eq!(code(&[inches], &["--level", "no-rule=ignore"]), Some(2));
    assert_eq!(
        code(&[inches], &["--settings", "specs/nowhere.yaml"]),
        Some(2)
    );
}

#[test]
fn standard_input_has_the_name_that_it_is_given() {
    use std::io::Write;
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(["lint", "-", "--stdin-name", "fl-04.yaml", "--no-settings"])
        .args(DAY)
        .env("NO_COLOR", "1")
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .expect("the program starts");
    let rule = Rule::find("id-unlike-name").expect("a rule");
    let mut stdin = child.stdin.take().expect("piped");
    stdin
        .write_all(rule.failing.text().as_bytes())
        .expect("read");
    drop(stdin);
    let output = child.wait_with_output().expect("ends");
    assert_eq!(output.status.code(), Some(1));
    let out = String::from_utf8_lossy(&output.stdout);
    assert!(
        out.contains("[fl-04.yaml:2:10]") && out.contains(" id-unlike-name: "),
        "{out}"
    );
}

#[test]
fn settings_set_levels_waive_exclude_and_expire() {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    };
    let rule = Rule::find("missing-date").expect("a rule");
    write("new/fl-03.yaml", &rule.failing.text());
    write("old/fl-03.yaml", &rule.failing.text());
    let run = |settings: &str, more: &[&str]| {
        let text = format!("format: ringrule/settings/1\n{settings}");
        write("ringrule.yaml", &text);
        let output = linted(&[&folder.path().to_string_lossy()], more);
        let out = String::from_utf8_lossy(&output.stdout).into_owned();
        (output.status.code(), out)
    };
    let (code, out) = run("exclude: [old/**]\n", &[]);
    assert!(
        code == Some(1) && out.contains("1 file: 1 warning"),
        "{out}"
    );
    let levels = "exclude: [old/**]\nlevels: { missing-date: ignore }\n";
    assert_eq!(run(levels, &[]).0, Some(0));
    let (code, out) = run(levels, &["--level", "missing-date=error"]);
    assert!(code == Some(1) && out.contains("1 error"), "{out}");
    let waive = "waivers:\n  - { rule: missing-date, files: ['new/*'], because: lost, until: 2027-01-01 }\n";
    let excluded = format!("exclude: [old/**]\n{waive}");
    let (code, out) = run(&excluded, &[]);
    assert!(code == Some(0) && out.contains("1 waived"), "{out}");
    let (code, out) = run(&excluded.replace("2027", "2026"), &[]);
    assert!(
        code == Some(1) && out.contains(" waiver-expired: "),
        "{out}"
    );
    assert!(
        out.contains(" missing-date: "),
        "what is over waives nothing: {out}"
    );
    let unused = excluded.replace("missing-date", "missing-inspector");
    let (_, out) = run(&unused, &[]);
    assert!(out.contains(" waiver-unused: "), "{out}");
    let (_, out) = run(&unused, &["--level", "missing-inspector=ignore"]);
    assert!(!out.contains(" waiver-unused: "), "{out}");
    // Two files with one id, and a settings file that cannot be used.
    let (_, out) = run("{}\n".trim_start_matches("{}"), &[]);
    assert_eq!(out.matches(" id-repeated: ").count(), 2, "{out}");
    let (code, out) = run("levels: { missing-dat: ignore }\n", &[]);
    assert!(code == Some(2) && out.contains(" unknown-word: "), "{out}");
    let (code, out) = run("level: {}\n", &[]);
    assert!(code == Some(2) && out.contains(" unknown-key: "), "{out}");
}

#[test]
fn validate_takes_the_table_of_the_settings() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    fs::copy(root().join("tolerances/wdf.yaml"), path("wdf.yaml")).expect("copied");
    fs::copy(
        root().join("specs/demo/01-round-to-rule.yaml"),
        path("fl-01.yaml"),
    )
    .expect("copied");
    let board = path("fl-01.yaml").to_string_lossy().into_owned();
    let output = ringrule(&["validate", &board]);
    assert_eq!(output.status.code(), Some(2), "{}", transcript(&output));
    let settings = "format: ringrule/settings/1\ntable: wdf.yaml\n";
    fs::write(path("ringrule.yaml"), settings).expect("written");
    let output = ringrule(&["validate", &board]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
}

#[test]
fn the_documentation_of_rules_is_current() {
    let output = ringrule(&["rules", "--markdown"]);
    let printed = String::from_utf8(output.stdout).expect("text");
    let committed = fs::read_to_string(root().join("specs/rules.md")).expect("committed");
    assert!(
        printed == committed,
        "specs/rules.md is stale: run `cargo run -- rules --markdown > specs/rules.md`"
    );
    for rule in Rule::ALL {
        assert!(
            committed.contains(&format!("\n## {}\n", rule.code)),
            "{}",
            rule.code
        );
    }
}

#[test]
fn rules_are_listed_and_explained() {
    insta::assert_snapshot!(transcript(&ringrule(&["rules"])));
    insta::assert_snapshot!(transcript(&ringrule(&["rules", "edge-mistaken"])));
    let output = ringrule(&["rules", "edge-mistakn"]);
    assert_eq!(output.status.code(), Some(2));
    let err = String::from_utf8_lossy(&output.stderr);
    assert!(err.contains("edge-mistaken"), "{err}");
}

#[test]
fn the_committed_schemas_are_current() {
    for (format, path) in [
        ("lint", "specs/lint.schema.json"),
        ("settings", "specs/settings.schema.json"),
    ] {
        let output = ringrule(&["schema", format]);
        let printed = String::from_utf8(output.stdout).expect("text");
        let committed = fs::read_to_string(root().join(path)).expect("committed");
        assert!(
            printed == committed,
            "{path} is stale: run `cargo run -- schema {format} > {path}`"
        );
    }
}

#[test]
fn settings_for_nothing_are_those_of_nobody() {
    let settings = Settings::default();
    assert!(!settings.excludes(Path::new("a/b.yaml")));
    for rule in Rule::ALL {
        assert_eq!(settings.level(rule), Some(rule.level));
    }
}

#[test]
fn what_settings_exclude_is_neither_judged_nor_reported() {
    let folder = tempfile::tempdir().expect("a folder");
    let inside = |name: &str| folder.path().join(name);
    for board in ["01-round-to-rule.yaml", "03-narrow-treble.yaml"] {
        std::fs::copy(root().join("specs/demo").join(board), inside(board)).expect("copied");
    }
    let table = root().join("tolerances/wdf.yaml");
    let settings = "format: ringrule/settings/1\nexclude: [\"03-*.yaml\"]\n";
    std::fs::write(inside("ringrule.yaml"), settings).expect("written");
    let path = folder.path().to_str().expect("plain").to_owned();
    let table = table.to_str().expect("plain");
    let judged = ringrule(&["validate", &path, "--table", table, "--show", "verdicts"]);
    assert_eq!(judged.status.code(), Some(0), "{}", transcript(&judged));
    let reported = ringrule(&["report", &path, "--table", table, "--format", "json"]);
    let text = String::from_utf8(reported.stdout).expect("text");
    assert!(text.contains("FL-01") && !text.contains("FL-03"), "{text}");
    // Naming a file counts before excluding it.
    let named = inside("03-narrow-treble.yaml");
    let named = named.to_str().expect("plain");
    let judged = ringrule(&["validate", named, "--table", table]);
    assert_eq!(judged.status.code(), Some(1), "{}", transcript(&judged));
}
