//! Every format names the same place, in the same words.
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

mod common;

use common::{json, printed, ringrule, transcript};
use serde_json::Value as Json;

/// Every object in a JSON document.
fn objects<'a>(value: &'a Json, found: &mut Vec<&'a Json>) {
    match value {
        Json::Object(map) => {
            found.push(value);
            map.values().for_each(|value| objects(value, found));
        }
        Json::Array(items) => items.iter().for_each(|item| objects(item, found)),
        _ => {}
    }
}

/// Holds every format to the place and the message that SARIF gives for the
/// first finding with this code; returns the place and the message.
fn agreed(command: &[&str], code: &str) -> (String, String) {
    let format = |format: &str| printed(&[command, &["--format", format]].concat());
    let log = json(&format("sarif"));
    let results = log["runs"][0]["results"].as_array().expect("results");
    let result = results.iter().find(|result| result["ruleId"] == code);
    let result = result.expect(code);
    let text = result["message"]["text"].as_str().expect("a text");
    let message = text.split(". What to do: ").next().expect("a part");
    let message = message.trim_end_matches('.').to_owned();
    let location = &result["locations"][0]["physicalLocation"];
    let file = location["artifactLocation"]["uri"]
        .as_str()
        .expect("a name");
    let (line, column) = (
        &location["region"]["startLine"],
        &location["region"]["startColumn"],
    );
    let place = format!("{file}:{line}:{column}");

    let junit = format("junit")
        .replace("&quot;", "\"")
        .replace("&apos;", "'");
    let junit = junit
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&");
    assert!(junit.contains(&format!("{place}\n{message}")), "{junit}");

    let github = format("github").replace("%25", "%");
    let start = format!("file={file},line={line},");
    let column_is = format!(",col={column},");
    let says =
        |row: &&str| row.contains(&start) && row.contains(&column_is) && row.contains(&message);
    assert_eq!(github.lines().filter(says).count(), 1, "{github}");

    let azure = format("azure").replace("%AZP25", "%");
    let start =
        format!("sourcepath={file};linenumber={line};columnnumber={column};code={code}]{message}");
    assert!(azure.contains(&start), "{azure}");

    let gitlab = json(&format("gitlab"));
    let issues = gitlab.as_array().expect("a list");
    assert!(
        issues.iter().any(|issue| {
            let words = issue["description"].as_str().expect("a text");
            let at = &issue["location"];
            words.starts_with(&message) && at["path"] == file && at["lines"]["begin"] == *line
        }),
        "{gitlab}"
    );

    let own = json(&format("json"));
    let mut all = Vec::new();
    objects(&own, &mut all);
    let there = |at: &Json| at["file"] == file && at["line"] == *line && at["column"] == *column;
    assert!(
        all.iter().any(|object| there(object)),
        "{place} is not in the JSON"
    );
    // A verdict is data in JSON; what is said of a file is said there too.
    let said = all
        .iter()
        .filter(|object| object["code"] == code)
        .collect::<Vec<_>>();
    let agrees = |object: &Json| object["message"] == message && there(&object["place"]);
    assert!(
        said.is_empty() || said.iter().any(|object| agrees(object)),
        "{said:?}"
    );
    (place, message)
}

#[test]
fn every_format_names_the_same_place_and_message() {
    // Drawn text is wrapped, with a bar at the start of each line.
    let text = |command: &[&str]| {
        let shown = transcript(&ringrule(command));
        shown
            .replace('│', " ")
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    let table = ["--table", "tolerances/wdf.yaml"];
    let invalid = [&["validate", "specs/broken/unknown-key.yaml"][..], &table].concat();
    let (place, message) = agreed(&invalid, "unknown-key");
    let shown = text(&invalid);
    assert!(
        shown.contains(&format!("error unknown-key: {message}")),
        "{shown}"
    );
    assert!(shown.contains(&place), "{shown}");

    let lint = [
        "lint",
        "specs/demo/06-inches.yaml",
        "specs/broken/unknown-key.yaml",
        "--no-settings",
    ];
    assert_eq!(
        agreed(&lint, "unknown-key"),
        (place, message),
        "both commands"
    );
    let (place, message) = agreed(&lint, "unit-mixed");
    let shown = text(&lint);
    assert!(
        shown.contains(&format!("note unit-mixed: {message}")),
        "{shown}"
    );
    assert!(shown.contains(&place), "{shown}");

    let judged = [
        &["validate", "specs/demo/03-narrow-treble.yaml"][..],
        &table,
    ]
    .concat();
    let log = json(&printed(&[&judged[..], &["--format", "sarif"]].concat()));
    let code = log["runs"][0]["results"][0]["ruleId"]
        .as_str()
        .expect("a code")
        .to_owned();
    let (place, _) = agreed(&judged, &code);
    let shown = text(&judged);
    assert!(shown.contains(&place), "{place}: {shown}");
}
