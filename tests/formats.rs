//! Findings in the formats of CI hosts.
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

mod common;

use common::{json, printed, ringrule, root, transcript};
use serde_json::Value as Json;

const RUN: [&str; 5] = [
    "validate",
    "specs/demo",
    "specs/broken/unknown-key.yaml",
    "--table",
    "tolerances/fenwick-lane.yaml",
];

fn validated(format: &str) -> String {
    printed(&[&RUN[..], &["--format", format]].concat())
}

/// Holds a log against the schema that the standard publishes
/// (OASIS SARIF 2.1.0, sarif-schema-2.1.0.json, committed unchanged).
fn assert_sarif(log: &Json) {
    let path = root().join("tests/fixtures/sarif-schema-2.1.0.json");
    let mut schema = json(&std::fs::read_to_string(path).expect("the schema is there"));
    // The schema's pattern for a language has a bracket too many, which not
    // every engine forgives. We write no language.
    for owner in ["run", "toolComponent"] {
        let language = format!("/definitions/{owner}/properties/language");
        let language = schema.pointer_mut(&language).and_then(Json::as_object_mut);
        language.expect("a property").remove("pattern");
    }
    let validator = jsonschema::validator_for(&schema).expect("a sound schema");
    let errors: Vec<_> = validator.iter_errors(log).map(|e| e.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
}

#[test]
fn sarif_meets_the_standards_schema_and_every_result_has_a_place() {
    let log = json(&validated("sarif"));
    assert_sarif(&log);
    let run = &log["runs"][0];
    let rules = run["tool"]["driver"]["rules"].as_array().expect("rules");
    let results = run["results"].as_array().expect("results");
    assert!(results.len() > 20, "{}", results.len());
    for result in results {
        let index = usize::try_from(result["ruleIndex"].as_u64().expect("an index"));
        assert_eq!(rules[index.expect("small")]["id"], result["ruleId"]);
        let place = &result["locations"][0]["physicalLocation"];
        let uri = place["artifactLocation"]["uri"].as_str().expect("a URI");
        assert!(
            uri.starts_with("specs/") && !uri.contains(['\\', ' ']),
            "{uri}"
        );
        assert!(place["region"]["startLine"].as_u64().expect("a line") >= 1);
    }
}

#[test]
fn a_region_is_the_value_in_the_file() {
    let file = "specs/demo/03-narrow-treble.yaml";
    let run = [
        "validate",
        file,
        "-t",
        "tolerances/wdf.yaml",
        "--format",
        "sarif",
    ];
    let log = json(&printed(&run));
    let results = log["runs"][0]["results"].as_array().expect("results");
    let width = results.iter().find(|r| r["ruleId"] == "treble_width_round");
    let region = &width.expect("found")["locations"][0]["physicalLocation"]["region"];
    let at = |key: &str| usize::try_from(region[key].as_u64().expect("a number")).expect("small");
    let text = std::fs::read_to_string(root().join(file)).expect("there");
    let line = text.lines().nth(at("startLine") - 1).expect("a line");
    assert_eq!(at("endLine"), at("startLine"));
    // Columns count code points from 1, and this line is ASCII.
    assert_eq!(&line[at("startColumn") - 1..at("endColumn") - 1], "107.00");
    let bytes = at("byteOffset")..at("byteOffset") + at("byteLength");
    assert_eq!(&text[bytes], "107.00");
}

#[test]
fn a_fingerprint_does_not_depend_on_the_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("board.yaml");
    let text = std::fs::read_to_string(root().join("specs/demo/03-narrow-treble.yaml"));
    let text = text.expect("there");
    let prints = |text: &str| {
        std::fs::write(&path, text).expect("written");
        let path = path.to_str().expect("plain");
        let arguments = [
            "validate",
            path,
            "-t",
            "tolerances/wdf.yaml",
            "--format",
            "sarif",
        ];
        let log = json(&printed(&arguments));
        let results = log["runs"][0]["results"]
            .as_array()
            .expect("results")
            .clone();
        let of = |r: &Json| (r["partialFingerprints"].clone(), r["locations"].clone());
        results.iter().map(of).unzip::<Json, Json, Vec<_>, Vec<_>>()
    };
    let (before, places) = prints(&text);
    let (after, moved) = prints(&format!("# one line more\n{text}"));
    assert_eq!(before, after);
    assert_ne!(places, moved);
    let mut different = before.clone();
    different.dedup();
    assert_eq!(before.len(), different.len());
}

#[test]
fn junit_has_a_case_for_each_check() {
    let findings = json(&validated("json"));
    let report = quick_junit::Report::deserialize_from_str(&validated("junit")).expect("JUnit");
    let boards = findings["boards"].as_array().expect("boards");
    let checks = |board: &Json| {
        let limits = board["limits"].as_array().expect("limits").len();
        let bands = board["bands"].as_array().expect("bands").iter();
        limits + bands.filter(|band| !band["verdict"].is_null()).count()
    };
    let wanted: usize = boards.iter().map(checks).sum();
    let refused = findings["invalid_files"].as_array().expect("refused").len();
    assert_eq!(report.test_suites.len(), boards.len() + refused);
    let cases = report
        .test_suites
        .iter()
        .map(|suite| suite.test_cases.len());
    assert_eq!(cases.sum::<usize>(), wanted + refused);
    let failing = report
        .test_suites
        .iter()
        .map(|suite| suite.failures)
        .sum::<usize>();
    let not_passed = boards.iter().map(|board| {
        let c = &board["checks"];
        ["do_not_conform", "inconclusive", "not_checked"]
            .iter()
            .map(|key| c[key].as_u64().expect("a number"))
            .sum::<u64>()
    });
    let not_passed: u64 = not_passed.sum();
    assert_eq!(failing as u64, not_passed + refused as u64);
}

#[test]
fn annotations_are_a_line_each_in_the_hosts_syntax() {
    for (format, start) in [("github", "::"), ("azure", "##vso[task.logissue ")] {
        let text = validated(format);
        assert!(text.lines().count() > 20);
        for line in text.lines() {
            assert!(line.starts_with(start), "{line}");
        }
    }
    let report = json(&validated("gitlab"));
    let mut prints = Vec::new();
    for issue in report.as_array().expect("a list") {
        assert!(
            issue["location"]["lines"]["begin"]
                .as_u64()
                .expect("a line")
                >= 1
        );
        prints.push(issue["fingerprint"].as_str().expect("a text").to_owned());
    }
    let all = prints.len();
    prints.sort_unstable();
    prints.dedup();
    assert_eq!(prints.len(), all, "two findings have one fingerprint");
    insta::assert_snapshot!(
        "annotations-github",
        printed(&[
            "validate",
            "specs/demo/03-narrow-treble.yaml",
            "--table",
            "tolerances/wdf.yaml",
            "--format",
            "github",
        ])
    );
}

#[test]
fn several_files_come_from_one_run() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = |name: &str| folder.path().join(name).to_str().expect("plain").to_owned();
    let files = ["f.txt", "f.json", "f.sarif", "f.xml"].map(file);
    let also: Vec<&str> = files.iter().flat_map(|f| ["--also", f]).collect();
    let output = ringrule(&[&RUN[..], &also].concat());
    assert_eq!(output.status.code(), Some(2), "one file is refused");
    let read = |name: &str| std::fs::read_to_string(file(name)).expect("written");
    assert_eq!(
        read("f.txt"),
        String::from_utf8(output.stdout).expect("text")
    );
    assert_eq!(read("f.json"), validated("json"));
    assert_eq!(read("f.sarif"), validated("sarif"));
    assert_eq!(read("f.xml"), validated("junit"));

    let output = ringrule(&[&RUN[..], &["--also", "f.docx"]].concat());
    assert_eq!(output.status.code(), Some(2), "{}", transcript(&output));
    assert!(output.stdout.is_empty());
}

#[test]
fn names_cannot_break_out_of_a_command_or_of_xml() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("a,b]c;d%0A e.yaml");
    let text = std::fs::read_to_string(root().join("specs/demo/03-narrow-treble.yaml"));
    let text = text
        .expect("there")
        .replace("1994", "1994, colour: \"]]>\\n::error::x\\e[2J\"");
    std::fs::write(&path, text).expect("written");
    let path = path.to_str().expect("plain");
    for format in ["github", "azure", "junit", "sarif", "gitlab"] {
        let text = printed(&[
            "validate",
            path,
            "-t",
            "tolerances/wdf.yaml",
            "--format",
            format,
        ]);
        assert!(!text.contains('\u{1b}'), "{format}");
        match format {
            "github" => assert!(text.lines().all(|line| line.starts_with("::error file="))),
            "azure" => assert!(text.lines().all(|line| line.starts_with("##vso["))),
            "junit" => {
                quick_junit::Report::deserialize_from_str(&text).expect("JUnit");
            }
            "sarif" => assert_sarif(&json(&text)),
            _ => assert!(json(&text).is_array()),
        }
    }
}

#[test]
fn lint_writes_the_same_formats() {
    let run = ["lint", "specs/demo", "specs/broken", "--on", "2026-11-25"];
    let printed = |format: &str| printed(&[&run[..], &["--format", format]].concat());
    let findings = json(&printed("json"));
    let waived = |finding: &&Json| !finding["waived"].is_null();
    let all = findings["findings"].as_array().expect("findings");
    let log = json(&printed("sarif"));
    assert_sarif(&log);
    let results = log["runs"][0]["results"].as_array().expect("results");
    assert_eq!(results.len(), all.len());
    let suppressed = results.iter().filter(|r| !r["suppressions"].is_null());
    assert_eq!(suppressed.count(), all.iter().filter(waived).count());

    let report = quick_junit::Report::deserialize_from_str(&printed("junit")).expect("JUnit");
    let suites = &report.test_suites;
    assert!(suites.iter().all(|suite| !suite.test_cases.is_empty()));
    let failures: usize = suites.iter().map(|suite| suite.failures).sum();
    let skipped: usize = suites.iter().map(|suite| suite.skipped).sum();
    let waived = all.iter().filter(waived).count();
    assert_eq!(failures, all.len() - waived);
    assert_eq!(skipped, waived);
    assert_eq!(printed("github").lines().count(), all.len() - waived);
}

#[test]
fn notation_is_tidied_once_and_shown_before() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("board.yaml");
    let text = std::fs::read_to_string(root().join("specs/demo/03-narrow-treble.yaml"));
    let text = text.expect("there");
    let untidy = text.replace("rings: 16 SWG", "rings: 16SWG  ") + "\n\n";
    std::fs::write(&path, &untidy).expect("written");
    let name = path.to_str().expect("plain").to_owned();
    let read = || std::fs::read_to_string(&path).expect("there");

    let preview = ringrule(&["lint", &name, "--tidy", "--preview"]);
    assert_eq!(preview.status.code(), Some(1));
    assert_eq!(read(), untidy, "a preview writes nothing");
    let shown = String::from_utf8(preview.stdout).expect("text");
    assert!(shown.contains("-wires: { rings: 16SWG  ,"), "{shown}");

    let first = ringrule(&["lint", &name, "--tidy"]);
    assert_eq!(first.status.code(), Some(0), "{}", transcript(&first));
    let tidied = read();
    assert_eq!(tidied, text.replace("rings: 16 SWG,", "rings: 16 SWG  ,"));
    let second = ringrule(&["lint", &name, "--tidy"]);
    assert_eq!(second.status.code(), Some(0));
    assert!(second.stdout.is_empty(), "{}", transcript(&second));
    assert_eq!(read(), tidied);

    // The demo is tidy, and a file that cannot be read stops the rest.
    let demo = ringrule(&[
        "lint",
        "specs/demo",
        "specs/events",
        "tolerances",
        "--tidy",
        "--preview",
    ]);
    assert_eq!(demo.status.code(), Some(0), "{}", transcript(&demo));
    std::fs::write(&path, &untidy).expect("written");
    let output = ringrule(&["lint", &name, "no-such-file.yaml", "--tidy"]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(read(), untidy);
}

#[test]
fn a_board_from_standard_input_has_the_name_that_it_is_given() {
    use std::io::Write;
    let text = std::fs::read(root().join("specs/demo/03-narrow-treble.yaml")).expect("there");
    let mut run = std::process::Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args([
            "validate",
            "-",
            "--stdin-name",
            "draft.yaml",
            "-t",
            "tolerances/wdf.yaml",
        ])
        .args(["--format", "github"])
        .current_dir(root())
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .expect("the program starts");
    run.stdin
        .take()
        .expect("a pipe")
        .write_all(&text)
        .expect("read");
    let output = run.wait_with_output().expect("an end");
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8(output.stdout).expect("text");
    assert!(
        said.starts_with("::error file=draft.yaml,line=14,"),
        "{said}"
    );
}

#[test]
fn neither_locale_nor_threads_change_a_byte() {
    let run = |locale: &str, threads: &str, command: &str| {
        let table = ["--table", "tolerances/fenwick-lane.yaml"];
        let more: &[&str] = if command == "validate" {
            &table
        } else {
            &["--on", "2026-11-25"]
        };
        let output = std::process::Command::new(env!("CARGO_BIN_EXE_ringrule"))
            .args([command, "specs/demo", "specs/broken", "--format", "sarif"])
            .args(more)
            .current_dir(root())
            .env("LC_ALL", locale)
            .env("LANG", locale)
            .env("RAYON_NUM_THREADS", threads)
            .output()
            .expect("the program starts");
        output.stdout
    };
    for command in ["lint", "validate"] {
        let first = run("C", "1", command);
        assert!(first.len() > 1000);
        for (locale, threads) in [("de_DE.UTF-8", "2"), ("tr_TR.UTF-8", "5")] {
            assert!(
                run(locale, threads, command) == first,
                "{command} in {locale}"
            );
        }
    }
}

#[test]
fn every_rule_of_a_log_says_in_full_what_it_asks() {
    // From memory: a host's ingestion rules want a short and a full description of each rule.
    let lint = ["lint", "specs/demo", "--format", "sarif"];
    for log in [json(&validated("sarif")), json(&printed(&lint))] {
        let driver = &log["runs"][0]["tool"]["driver"];
        let page = driver["informationUri"].as_str().expect("a page");
        assert!(page.ends_with(env!("CARGO_PKG_VERSION")), "{page}");
        for rule in driver["rules"].as_array().expect("rules") {
            let short = rule["shortDescription"]["text"].as_str().expect("short");
            let full = rule["fullDescription"]["text"].as_str().expect("full");
            assert!(
                full.len() > short.len() && full.starts_with(short),
                "{full}"
            );
            assert_ne!(short, "the file can be used");
        }
    }
}
