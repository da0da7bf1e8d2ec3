//! Boards as lines of a stream: a part gives the records that the whole gives.
#![allow(clippy::expect_used, reason = "a test may stop")]

mod common;

use std::collections::BTreeSet;
use std::io::Write;
use std::process::{Command, Output, Stdio};

use common::{json, printed, ringrule, root};
use serde_json::Value;

/// A board to rule but for its treble, which is so many mm wide inside to inside. Invented.
fn line(id: &str, treble: f64) -> String {
    let inner = 107.0 - 1.6256 - treble;
    format!(
        r#"{{"format":"ringrule/board/1","board":{{"id":"{id}"}},"mounting":"staples","units":"mm","uncertainty":0.02,"wires":{{"rings":1.6256,"sectors":1.6256}},"rings":{{"inner_bull":{{"diameter":12.7,"edge":"inside"}},"outer_bull":{{"diameter":31.8,"edge":"inside"}},"treble_inner":{{"radius":{inner},"edge":"outside"}},"treble_outer":{{"radius":107,"edge":"outside"}},"double_inner":{{"radius":160.3744,"edge":"outside"}},"double_outer":{{"radius":170,"edge":"outside"}}}},"overall":{{"diameter":451}}}}"#
    )
}

fn run(text: &[u8], more: &[&str]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(["validate", "--records", "--table", "wdf"])
        .args(more)
        .current_dir(root())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut input = child.stdin.take().expect("a pipe");
    let text = text.to_owned();
    let writer = std::thread::spawn(move || input.write_all(&text));
    let output = child.wait_with_output().expect("it ends");
    writer.join().expect("no panic").expect("all is read");
    output
}

fn lines(output: &Output) -> Vec<String> {
    let text = String::from_utf8(output.stdout.clone()).expect("text");
    text.lines().map(str::to_owned).collect()
}

/// More than are read at once.
fn many() -> Vec<String> {
    (0..600)
        .map(|n| line(&format!("B-{n}"), 7.6 + 0.001 * f64::from(n)))
        .collect()
}

#[test]
fn parts_give_the_records_of_the_whole() {
    let many = many();
    let whole = run((many.join("\n") + "\n").as_bytes(), &[]);
    assert_eq!(whole.status.code(), Some(1));
    let whole = lines(&whole);
    assert_eq!(whole.len(), many.len());
    let ids = whole.iter().map(|line| json(line)["board"]["id"].clone());
    let expected = (0..600).map(|n| Value::from(format!("B-{n}")));
    assert!(ids.eq(expected));
    let parts = many.chunks(77);
    let parts = parts.flat_map(|part| lines(&run(part.join("\n").as_bytes(), &[])));
    assert!(parts.eq(whole.iter().cloned()));
    let unordered = lines(&run(many.join("\n").as_bytes(), &["--unordered"]));
    assert_eq!(unordered.len(), whole.len());
    let set = |lines: Vec<String>| lines.into_iter().collect::<BTreeSet<String>>();
    assert_eq!(set(unordered), set(whole));
}

#[test]
fn a_board_as_a_line_and_as_a_file_is_found_to_be_the_same() {
    let path = "specs/demo/03-narrow-treble.yaml";
    let findings = json(&printed(&[
        "validate", path, "--table", "wdf", "--format", "json",
    ]));
    for named in [path.to_owned(), format!("\"{path}\"")] {
        let found = run(named.as_bytes(), &[]);
        assert_eq!(found.status.code(), Some(1));
        assert_eq!(json(&lines(&found)[0])["board"], findings["boards"][0]);
    }
    // The same text as a file: JSON is YAML.
    let text = line("B-1", 7.5);
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("b-1.yaml");
    std::fs::write(&path, &text).expect("written");
    let path = path.display().to_string();
    let whole = printed(&["validate", &path, "--table", "wdf", "--format", "json"]);
    // Every place names its file.
    let whole = json(&whole.replace(&path, "record"));
    let record = json(&lines(&run(text.as_bytes(), &[]))[0]);
    assert!(record["board"] == whole["boards"][0]);
    assert_eq!(record["line_sha256"], record["board"]["sha256"]);
}

#[test]
fn a_line_that_is_no_board_keeps_its_place_and_says_why() {
    let good = line("B-1", 8.0);
    let cut = &good[..good.len() / 2];
    let long = format!("{{\"x\":\"{}\"}}", "a".repeat(3 << 20));
    let text = [
        &good,
        "",
        cut,
        "\u{fffd}",
        "no/such/file.yaml",
        "specs",
        "[\"specs/demo/01.yaml\"]",
        "107",
        &long,
        &good,
    ]
    .join("\n");
    let mut bytes = text.into_bytes();
    bytes.extend(b"\n{\xff}\n");
    let output = run(&bytes, &[]);
    assert_eq!(output.status.code(), Some(2));
    let found: Vec<Value> = lines(&output).iter().map(|line| json(line)).collect();
    let says = |record: &Value| match record["invalid"]["problems"][0]["message"].as_str() {
        Some(message) => message.to_owned(),
        None => record["board"]["verdict"].to_string(),
    };
    let said: Vec<String> = found.iter().map(says).collect();
    insta::assert_snapshot!(said.join("\n"));
    let said = String::from_utf8(output.stderr).expect("text");
    assert_eq!(said, "2 of 10 records are boards that were checked\n");
    assert_eq!(found[0], found[8]);
}

#[test]
fn every_record_meets_the_schema() {
    let schema = json(&printed(&["schema", "record"]));
    let schema = jsonschema::validator_for(&schema).expect("a schema");
    let text = [line("B-1", 8.0), line("B-2", 7.0), "{".to_owned()].join("\n");
    let found = lines(&run(text.as_bytes(), &[]));
    assert_eq!(found.len(), 3);
    for line in found {
        assert!(schema.is_valid(&json(&line)), "{line}");
    }
}

#[test]
fn endings_are_those_of_a_run_over_files() {
    let code = |text: &str, more: &[&str]| run(text.as_bytes(), more).status.code();
    assert_eq!(code(&line("B-1", 8.0), &["--quiet"]), Some(0));
    assert_eq!(code(&line("B-1", 7.0), &[]), Some(1));
    assert_eq!(
        code(&line("B-1", 7.8), &["--accept", "inconclusive"]),
        Some(0)
    );
    assert_eq!(code("", &[]), Some(2));
    let alone = ["validate", "--unordered", "specs/demo", "--table", "wdf"];
    let alone = ringrule(&alone);
    assert_eq!(alone.status.code(), Some(2));
    assert!(alone.stdout.is_empty());
    let both = run(b"", &["specs/demo"]);
    assert_eq!(both.status.code(), Some(2));
    assert!(both.stdout.is_empty());
}

#[test]
fn who_stops_listening_ends_the_run() {
    // A reader that takes one line and closes the pipe.
    let mut child = Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(["validate", "--records", "--table", "wdf", "--quiet"])
        .current_dir(root())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    drop(child.stdout.take());
    let mut input = child.stdin.take().expect("a pipe");
    let line = line("B-1", 8.0) + "\n";
    // Endless input: writing fails once the program has ended.
    let wrote = (0..1_000_000).find(|_| input.write_all(line.as_bytes()).is_err());
    assert!(wrote.is_some());
    assert_eq!(child.wait().expect("it ends").code(), Some(0));
}
