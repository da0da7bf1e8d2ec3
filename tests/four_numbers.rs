//! Boards of which nobody knows more than a few areas, or ratios, as a user has them.
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

mod common;

use std::fs;

use common::{ringrule, transcript};
use serde_json::Value;

/// Invented demo data, as everything under `specs`.
const STRIP: &str = "specs/demo/02-strip-to-rule.yaml";
const ROUND: &str = "specs/demo/01-round-to-rule.yaml";
const HALF: &str = "specs/demo/08-half-measured.yaml";
const AREAS: &str = "specs/areas/fl-31.yaml";

fn compare(more: &[&str]) -> (Option<i32>, String) {
    let arguments: Vec<&str> = ["compare"].iter().chain(more).copied().collect();
    let output = ringrule(&arguments);
    (output.status.code(), transcript(&output))
}

fn json(more: &[&str]) -> Value {
    let arguments: Vec<&str> = ["compare", "--format", "json"]
        .iter()
        .chain(more)
        .copied()
        .collect();
    let output = ringrule(&arguments);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// The entry of a list whose key has a value.
fn entry<'a>(list: &'a Value, key: &str, value: &str) -> &'a Value {
    let mut all = list.as_array().expect("a list").iter();
    all.find(|one| one[key] == value).expect("an entry")
}

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() < within, "{found} {expected}");
}

/// A board file in a folder of its own.
fn board(text: &str) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("board.yaml");
    let head = "format: ringrule/board/1\nboard: { id: A-1 }\nmounting: staples\nunits: mm\n";
    fs::write(&path, format!("{head}{text}\n")).expect("written");
    let path = path.to_string_lossy().into_owned();
    (folder, path)
}

#[test]
fn two_ratios_in_words() {
    let (code, said) = compare(&[
        STRIP,
        "--ratio",
        "treble=1.16±0.01",
        "--ratio",
        "double=1.14",
        "--average",
        "100",
    ]);
    assert_eq!(code, Some(0), "{said}");
    insta::assert_snapshot!(said);
}

#[test]
fn two_areas_in_words() {
    let (code, said) = compare(&[STRIP, AREAS, "--average", "100"]);
    assert_eq!(code, Some(0), "{said}");
    insta::assert_snapshot!(said);
}

#[test]
fn a_completed_board_lists_what_is_nominal() {
    let (code, said) = compare(&[ROUND, HALF, "--fill", "wdf"]);
    assert_eq!(code, Some(0), "{said}");
    let line = said
        .lines()
        .find(|line| line.contains("nominal, not measured"));
    assert!(line.is_some_and(|line| line.contains("FL-08")), "{said}");
    let found = json(&[ROUND, HALF, "--fill", "wdf"]);
    assert_eq!(found["format"], "ringrule/comparison/2");
    let filled = &found["boards"][1]["filled"];
    // The file leaves out these four; the values are the table's (from memory), the wire
    // 16 SWG (published: the Imperial Standard, 0.064 in).
    for (length, value) in [
        ("outer_bull radius", 15.9),
        ("double_outer radius", 170.0),
        ("double_inner radius", 160.3744),
        ("sector wire width", 1.6256),
    ] {
        let one = entry(filled, "length", length);
        near(number(&one["value_mm"]), value, 1e-9);
        assert_eq!(one["from"], "nominal, not measured");
    }
    assert_eq!(filled.as_array().expect("a list").len(), 4);
    assert_eq!(
        found["boards"][0]["filled"]
            .as_array()
            .expect("a list")
            .len(),
        0
    );
    // What rests on a filled length states no uncertainty; what does not, does.
    let bands = &found["boards"][1]["bands"];
    assert!(
        entry(bands, "band", "treble")
            .get("expanded_uncertainty_mm2")
            .is_none()
    );
    assert!(number(&entry(bands, "band", "inner_bull")["expanded_uncertainty_mm2"]) > 0.0);
    let (_, rows) = compare(&[ROUND, HALF, "--fill", "wdf", "--format", "csv"]);
    assert_eq!(
        rows.matches("\"nominal, not measured\"").count(),
        4,
        "{rows}"
    );
}

#[test]
fn a_leg_on_a_completed_board_lists_what_is_nominal() {
    let leg = ["leg", HALF, "--spread", "12", "--start", "40"];
    let refused = ringrule(&leg);
    assert_eq!(refused.status.code(), Some(2));
    let said = transcript(&refused);
    assert!(
        said.contains("sector wire width") && said.contains("--fill wdf"),
        "{said}"
    );
    let filled = ringrule(&[&leg[..], &["--fill", "wdf"]].concat());
    assert_eq!(filled.status.code(), Some(0), "{}", transcript(&filled));
    assert!(transcript(&filled).contains("nominal, not measured"));
    // The file states an uncertainty for all that was measured: that remedy is not named.
    assert!(transcript(&filled).contains("before it is measured"));
    assert!(!transcript(&filled).contains("`uncertainty"));
    let found = ringrule(&[&leg[..], &["--fill", "wdf", "--format", "json"]].concat());
    let found: Value = serde_json::from_slice(&found.stdout).expect("JSON");
    assert_eq!(
        found["boards"][0]["filled"]
            .as_array()
            .expect("a list")
            .len(),
        4
    );
}

#[test]
fn a_half_measured_board_gives_what_its_areas_give() {
    let found = json(&[STRIP, HALF]);
    assert_eq!(found["format"], "ringrule/areas-compared/1");
    let targets = &found["differences"][0]["targets"];
    // Closed form: the squares of the inner bulls' inside diameters as recorded.
    let ratio = 12.72 * 12.72 / (12.74 * 12.74);
    let bull = number(&entry(targets, "band", "inner_bull")["harder"]["value"]);
    near(bull, ratio, 5e-3);
    assert!(entry(targets, "band", "treble").get("harder").is_none());
    let (_, said) = compare(&[STRIP, HALF]);
    for part in [
        "FL-08 lacks",
        "sector wire width",
        "`--fill wdf`",
        "No averages",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn treble_and_double_rings_with_their_wires_are_enough() {
    let (_folder, path) = board(
        "uncertainty: 0.05\nwires: { rings: 16 SWG, sectors: 16 SWG }\nrings:\n  \
         treble_inner: { radius: 97.374, edge: outside }\n  \
         treble_outer: { radius: 107.0, edge: outside }\n  \
         double_inner: { radius: 160.374, edge: outside }\n  \
         double_outer: { radius: 170.0, edge: outside }",
    );
    let found = json(&[STRIP, &path]);
    let whole = json(&[STRIP, ROUND]);
    let by_area = &whole["differences"][0]["targets"];
    let targets = &found["differences"][0]["targets"];
    for band in ["treble", "double", "outer_single"] {
        let own = number(&entry(targets, "band", band)["harder"]["value"]);
        near(
            own,
            number(&entry(by_area, "band", band)["harder_by_area"]),
            1e-9,
        );
    }
    assert!(entry(targets, "band", "outer_bull").get("harder").is_none());
}

#[test]
fn a_recorded_area_stands_beside_the_rings_that_are_used() {
    let text = fs::read_to_string(ROUND).expect("a demo board");
    let (_folder, path) = board("");
    let areas =
        "areas:\n  treble: { bed: 260, uncertainty: 3 }\n  double: { bed: 401, uncertainty: 5 }\n";
    fs::write(&path, text + areas).expect("written");
    let found = json(&[STRIP, &path]);
    let beside = &found["boards"][1]["beside"];
    assert_eq!(entry(beside, "band", "treble")["contradicts"], true);
    assert_eq!(entry(beside, "band", "double")["contradicts"], false);
    // The rings' own figure, recomputed independently, stays.
    near(
        number(&entry(beside, "band", "treble")["from_rings_mm2"]),
        241.79,
        0.1,
    );
    let targets = &found["differences"][0]["targets"];
    near(
        number(&entry(targets, "band", "treble")["harder_by_area"]),
        1.189,
        5e-4,
    );
    let (_, said) = compare(&[STRIP, &path]);
    assert!(said.contains("measure again"), "{said}");
    let linted = transcript(&ringrule(&["lint", &path]));
    assert!(linted.contains("area-against-rings"), "{linted}");
}

#[test]
fn rows_pages_and_json_say_the_same() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let names = [
        "a.json", "a.csv", "a.md", "a.html", "a.pdf", "a.xlsx", "a.txt",
    ];
    let paths = names.map(path);
    let mut asked = vec!["--ratio", "treble=1.16+-0.01", "--output", &paths[0]];
    for also in &paths[1..] {
        asked.extend(["--also", also]);
    }
    let (code, said) = compare(&asked);
    assert_eq!(code, Some(0), "{said}");
    let read = |index: usize| fs::read_to_string(&paths[index]).expect("text");
    let found = common::json(&read(0));
    let routes = &found["differences"][0]["routes"];
    let maximum = &entry(routes, "name", "maximum")["harder"];
    // Closed form: 1.16³, and its ends with 3·0.0098/1.16 in the logarithm: 1.96 standard
    // uncertainties, of which 0.01 is two.
    let (value, factor) = (1.16_f64 * 1.16 * 1.16, (0.0294_f64 / 1.16).exp());
    near(number(&maximum["value"]), value, 1e-9);
    let ends = &maximum["certainty"];
    near(number(&ends["low"]), value / factor, 1e-5);
    near(number(&ends["high"]), value * factor, 1e-5);
    let cells = ["1.561", "1.522 to 1.601"];
    for index in [2, 3, 6] {
        let page = read(index);
        assert!(cells.iter().all(|cell| page.contains(cell)), "{page}");
    }
    let row = read(1);
    let row = row
        .lines()
        .find(|line| line.contains("maximum"))
        .expect("a row");
    assert!(row.contains(&number(&ends["low"]).to_string()), "{row}");
    for index in [4, 5] {
        assert!(fs::metadata(&paths[index]).expect("a file").len() > 1000);
    }
}

#[test]
fn wrong_input_ends_with_code_2_and_a_remedy() {
    for (asked, said) in [
        (&["--ratio", "quadro=1.16"][..], "no band `quadro`"),
        (&["--ratio", "treble=0"], "no bed is 0 times"),
        (&["--ratio", "treble=-1"], "no bed is -1 times"),
        (&["--ratio", "treble=nan"], "`nan` is not a number"),
        (&["--ratio", "treble=1.16+-"], "write `treble=1.16`"),
        (&["--ratio", "1.16"], "write `treble=1.16`"),
        (
            &["--ratio", "treble=1.1", "--ratio", "treble=1.2"],
            "two ratios",
        ),
        (
            &[STRIP, ROUND, "--ratio", "treble=1.1"],
            "name the first board alone",
        ),
        (&[STRIP], "at least two boards"),
        (&[], "required"),
        (
            &[STRIP, "--ratio", "treble=1.1", "--spread", "9"],
            "in place of `--ratio`",
        ),
        (
            &[STRIP, "--ratio", "treble=1.1", "--metal", "lost"],
            "in place of `--ratio`",
        ),
        (
            &[STRIP, "--ratio", "treble=1.1", "--plot", "odds"],
            "cannot be used with",
        ),
        (
            &[STRIP, "--ratio", "treble=1.1", "--average", "50"],
            "60 to 180, not 50",
        ),
        (&[STRIP, HALF, "--player-average", "80"], "--fill wdf"),
        (&[STRIP, HALF, "--plot", "boards"], "--fill wdf"),
        (&[STRIP, AREAS, "--plot", "boards"], "measure them"),
        (&[STRIP, AREAS, "--fill", "wdf"], "`nominal:staples`"),
        (&[STRIP, HALF, "--fill", "nowhere"], "no built-in table"),
        (
            &[AREAS, HALF],
            "no band's free area is known both on FL-31 and on FL-08",
        ),
    ] {
        let (code, found) = compare(asked);
        assert_eq!(code, Some(2), "{asked:?}: {found}");
        assert!(found.contains(said), "{asked:?}: {found}");
    }
    // An areas-only board has no ring to complete, so that the remedy is not named.
    let (_, found) = compare(&[STRIP, AREAS, "--plot", "boards"]);
    assert!(!found.contains("--fill"), "{found}");
}

#[test]
fn a_board_that_the_nominal_lengths_do_not_fit_is_not_completed() {
    for (measured, said) in [
        (
            "wires: { rings: 16 SWG, sectors: 16 SWG }\nrings: { treble_inner: { radius: 107.5, \
             edge: outside } }",
            "would overlap",
        ),
        (
            "profile: strip\nrings: { treble_inner: { radius: 97.5, edge: outside } }",
            "a nominal board with round wire",
        ),
    ] {
        let (_folder, path) = board(measured);
        let (code, found) = compare(&[STRIP, &path, "--fill", "wdf"]);
        assert_eq!(code, Some(2), "{measured}: {found}");
        assert!(found.contains(said), "{measured}: {found}");
    }
}

#[test]
fn wrong_areas_are_reported_at_their_place() {
    for (areas, said) in [
        ("{ treble: { bed: -242 } }", "not a possible free area"),
        ("{ treble: { bed: 4836 } }", "4836.00 mm²"),
        ("{ treble: { bed: 242, uncertainty: 0 } }", "not known to"),
        ("{ treble: { bed: 242 mm } }", "`mm²`"),
        ("{ quadro: { bed: 242 } }", "quadro"),
        ("{ treble: {} }", "bed"),
    ] {
        let (_folder, path) = board(&format!("areas: {areas}"));
        let (code, found) = compare(&[STRIP, &path]);
        assert_eq!(code, Some(2), "{areas}: {found}");
        assert!(
            found.contains(said) && found.contains(":5:"),
            "{areas}: {found}"
        );
    }
}

#[test]
fn a_verdict_never_rests_on_a_recorded_area() {
    let found = ringrule(&["validate", AREAS, "--table", "wdf", "--format", "json"]);
    assert_eq!(found.status.code(), Some(1), "{}", transcript(&found));
    let said = transcript(&ringrule(&["validate", AREAS, "--table", "wdf"]));
    assert!(said.contains("treble area: needs the radius"), "{said}");
    assert!(
        said.contains("0 of 16 checks conform, 16 not checked"),
        "{said}"
    );
}
