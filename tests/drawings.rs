//! Drawings of judged boards, and `draw` as a user runs it.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;
use std::path::{Path, PathBuf};

use common::{BOARD_R, board, ringrule, root, table, transcript};
use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::document::Source;
use ringrule::report::{What, draw_png, draw_svg};
use ringrule::table::Table;

const NARROW: &str = "specs/demo/03-narrow-treble.yaml";
const HALF: &str = "specs/demo/08-half-measured.yaml";
const WDF: &str = "tolerances/wdf.yaml";

fn demo() -> Vec<(PathBuf, Board)> {
    let entries = fs::read_dir(root().join("specs/demo")).expect("the demo is there");
    let paths = entries.map(|entry| entry.expect("readable").path());
    let mut boards: Vec<(PathBuf, Board)> = paths
        .filter(|path| path.extension().is_some_and(|ending| ending == "yaml"))
        .filter(|path| !path.ends_with("ringrule.yaml"))
        .map(|path| {
            let text = fs::read_to_string(&path).expect("readable");
            (path, board(&text))
        })
        .collect();
    boards.sort_by(|a, b| a.0.cmp(&b.0));
    assert_eq!(boards.len(), 14);
    boards
}

fn svg(board: &Board, table: &Table, what: What) -> String {
    draw_svg(&Judge::new(table).judge(board), what).expect("drawn")
}

/// Width and height as a PNG's first chunk states them.
fn png_size(bytes: &[u8]) -> (u32, u32) {
    assert_eq!(bytes.get(..8), Some(&b"\x89PNG\r\n\x1a\n"[..]));
    assert_eq!(bytes.get(12..16), Some(&b"IHDR"[..]));
    let number = |from: usize| {
        let four = bytes.get(from..from + 4).expect("a header");
        u32::from_be_bytes(four.try_into().expect("four bytes"))
    };
    (number(16), number(20))
}

#[test]
fn the_section_of_a_narrow_treble() {
    let output = ringrule(&["draw", NARROW, "--table", WDF, "--what", "section"]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    let text = String::from_utf8(output.stdout).expect("text");
    // One element a line, so that a change can be read.
    insta::assert_snapshot!(text.replace("><", ">\n<"));
}

#[test]
fn every_board_that_can_be_judged_can_be_drawn() {
    for table in [table("wdf.yaml"), table("fenwick-lane.yaml")] {
        for (path, board) in demo() {
            let path = path.display();
            for what in [What::Board, What::Section, What::Both] {
                let text = svg(&board, &table, what);
                assert!(!text.contains("var("), "{path}: a colour has no value");
                assert!(!text.contains("NaN") && !text.contains("inf"), "{path}");
                resvg::usvg::Tree::from_str(&text, &resvg::usvg::Options::default())
                    .unwrap_or_else(|error| panic!("{path}: {error}"));
            }
        }
    }
}

#[test]
fn a_drawing_says_what_the_assessment_says() {
    let (wdf, boards) = (table("wdf.yaml"), demo());
    let of = |id: &str| {
        let found = boards.iter().find(|(_, board)| board.id == id);
        svg(&found.expect("a demo board").1, &wdf, What::Board)
    };
    let narrow = of("FL-03");
    // The figures of the text report for the same board.
    let label = "aria-label=\"treble: 3.60 ± 0.89 % less than nominal; does not conform\"";
    assert!(narrow.contains(label), "{narrow}");
    assert!(narrow.contains(">−3.6 % ✗</text>"));
    assert!(narrow.contains(">−0.1 % ✓</text>"), "the double");
    let half = of("FL-08");
    assert!(half.contains("treble: not checked; needs the thickness of the sector wires"));
    assert!(half.contains("Not recorded, and drawn as a thin dashed line: "));
    assert!(half.contains("place of the outer double wire"));
}

#[test]
fn a_width_is_measured_from_the_outer_wire() {
    let text = svg(&board(BOARD_R), &table("wdf.yaml"), What::Section);
    let start = text.find(">treble ring</text>").expect("a panel");
    let end = text.find(">double ring</text>").expect("a panel");
    let panel = text.get(start..end).expect("in order");
    assert!(
        panel.contains("8.00 mm, allowed 7.80 to 8.20 mm"),
        "{panel}"
    );
    // Recomputed from the table's numbers: the panel reaches from the inner
    // wire's inside edge to the upper limit on the radius, with half a
    // millimetre on either side, over 376 units from 2 on.
    let wire = 1.6256;
    let (low, high) = (97.3744 - wire - 0.5, 107.2 + 0.5);
    let x = |radius: f64| {
        let x = format!("{:.2}", 2.0 + (radius - low) * 376.0 / (high - low));
        x.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    let outer = 107.0 - wire;
    let (left, right) = (x(outer - 8.2), x(outer - 7.8));
    let bar = panel.split('M').any(|piece| {
        piece.starts_with(&format!("{left} ")) && piece.contains(&format!("H{right}V"))
    });
    assert!(bar, "no bar from {left} to {right}: {panel}");
    let tick = format!("M{} ", x(outer - 8.0));
    assert!(panel.contains(&tick), "no tick at {tick}: {panel}");
}

#[test]
fn a_board_of_which_nothing_is_recorded_is_drawn_and_has_no_section() {
    let empty = board(
        "format: ringrule/board/1\nboard: { id: E }\nmounting: staples\nunits: mm\n\
         overall: { diameter: 451 }\n",
    );
    let house = Table::read(
        Source::new(
            "house.yaml",
            "format: ringrule/table/1\ntitle: House\n\
             source: { document: House, provenance: invented }\nlimits:\n  treble: { measurand: \
             treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }\n",
        ),
        &(),
    )
    .expect("a sound table");
    // The house's table limits no band.
    for (table, word) in [
        (&table("wdf.yaml"), "not checked"),
        (&house, "not computable"),
    ] {
        let judge = Judge::new(table);
        let assessment = judge.judge(&empty);
        let text = draw_svg(&assessment, What::Both).expect("drawn");
        assert!(text.contains("place of the inner bull wire"), "{text}");
        assert!(text.contains(&format!(">– {word}</text>")));
        assert!(!text.contains("section through"));
        let error = draw_svg(&assessment, What::Section).expect_err("no section");
        assert!(error.to_string().contains("no section to draw"), "{error}");
        draw_png(&assessment, What::Board, 300).expect("a picture");
    }
}

#[test]
fn one_recorded_radius_is_enough_for_a_section() {
    let lone = board(
        "format: ringrule/board/1\nboard: { id: L }\nmounting: staples\nunits: mm\n\
         rings: { double_outer: { radius: 170, edge: outside } }\n",
    );
    let text = svg(&lone, &table("wdf.yaml"), What::Section);
    assert!(text.contains("outer double wire: outside at 170.00 mm, thickness not recorded"));
    assert!(text.contains("inner double wire: place not recorded"));
    assert!(text.contains("– not checked; needs"));
}

#[test]
fn names_cannot_break_out_of_a_drawing() {
    let names = [
        "</text></svg><script>x</script>",
        "\\\" onload=\\\"x",
        "\\u202Eabc\\u2066",
        "a\\u001b[2Jb",
        "var(--ink) url(#b)",
        "]]><!-- &amp; <![CDATA[",
        "\\uFFFE\\uFFFF",
    ];
    let wdf = table("wdf.yaml");
    let mut drawn = 0;
    for name in names {
        let text = BOARD_R.replace("id: R", &format!("id: \"{name}\""));
        let Ok(evil) = Board::read(Source::new("evil.yaml", text)) else {
            // What a board file may not say, no drawing can repeat.
            continue;
        };
        let text = svg(&evil, &wdf, What::Both);
        for forbidden in [
            "<script",
            "onload=\"",
            "\u{202e}",
            "\u{2066}",
            "\u{1b}",
            "var(",
        ] {
            assert!(!text.contains(forbidden), "{name}: {forbidden}");
        }
        assert_eq!(text.matches("</svg>").count(), 1, "{name}");
        let tree = resvg::usvg::Tree::from_str(&text, &resvg::usvg::Options::default());
        assert!(tree.is_ok(), "{name}: {:?}", tree.err());
        drawn += 1;
    }
    assert!(drawn >= 5, "only {drawn} names got into a drawing");
}

#[test]
fn a_long_name_stays_within_the_drawing() {
    let long = BOARD_R.replace("id: R", &format!("id: {}", "W".repeat(400)));
    let text = svg(&board(&long), &table("wdf.yaml"), What::Board);
    let longest = text
        .split("<text")
        .filter(|piece| piece.contains("WWW"))
        .map(|piece| piece.matches('W').count());
    // The titles of two drawings for who cannot see them, and what is seen: 340 units
    // of a letter that is 12.35 × 0.88 wide, at most.
    assert!(longest.clone().all(|letters| letters <= 1600));
    let titles: Vec<usize> = longest.filter(|letters| *letters < 100).collect();
    assert_eq!(titles.len(), 6, "three lines each and no more: {titles:?}");
    assert!(titles.iter().all(|letters| *letters <= 31), "{titles:?}");
    // What is spelt out takes the room of its spelling.
    let spelt = BOARD_R.replace("id: R", &format!("id: \"{}\"", "\\u202E".repeat(60)));
    let text = svg(&board(&spelt), &table("wdf.yaml"), What::Board);
    let lines: Vec<usize> = text
        .split("<text")
        .skip(1)
        .map(|piece| piece.matches("u{202e}").count())
        .filter(|spelt| *spelt > 0)
        .collect();
    assert_eq!(lines.len(), 6, "{lines:?}");
    assert!(lines.iter().all(|spelt| *spelt <= 8), "{lines:?}");
}

#[test]
fn a_picture_is_the_same_twice_and_as_wide_as_asked() {
    let wdf = table("wdf.yaml");
    let judge = Judge::new(&wdf);
    let narrow = board(&fs::read_to_string(root().join(NARROW)).expect("there"));
    let assessment = judge.judge(&narrow);
    let draw = || draw_png(&assessment, What::Board, 500).expect("a picture");
    let picture = draw();
    assert_eq!(picture, draw());
    let (width, height) = png_size(&picture);
    assert_eq!(width, 500);
    assert!((1100..1200).contains(&height), "{height}");
    let decoded = resvg::tiny_skia::Pixmap::decode_png(&picture).expect("sound");
    // Paper, and more than paper: text and lines are there.
    let dark = decoded.pixels().iter().filter(|pixel| pixel.red() < 80);
    assert!(decoded.pixels().iter().all(|pixel| pixel.alpha() == 255));
    let dark = dark.count();
    assert!((2_000..60_000).contains(&dark), "{dark} dark pixels");
}

#[test]
fn files_are_made_by_their_ending() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let draw = |rest: &[&str]| ringrule(&[&["draw", NARROW, "--table", WDF], rest].concat());
    let (svg, png) = (path("a.svg"), path("b.PNG"));
    let output = draw(&["--output", &svg]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    assert!(output.stdout.is_empty());
    let printed = draw(&[]);
    assert_eq!(fs::read(&svg).expect("written"), printed.stdout);
    let output = draw(&["--output", &png, "--width", "321", "--what", "board"]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    assert_eq!(png_size(&fs::read(&png).expect("written")).0, 321);
    // Not over what is there, unless that is asked for.
    let output = draw(&["--output", &svg, "--what", "board"]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(fs::read(&svg).expect("left"), printed.stdout);
    let output = draw(&["--output", &svg, "--what", "board", "--overwrite"]);
    assert_eq!(output.status.code(), Some(0));
    assert_ne!(fs::read(&svg).expect("replaced"), printed.stdout);
}

#[test]
fn what_cannot_be_drawn_says_why_and_writes_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let target = path("out.svg");
    let (other, pdf) = (path("out"), path("out.pdf"));
    let empty = path("empty.yaml");
    fs::write(
        &empty,
        "format: ringrule/board/1\nboard: { id: E }\nmounting: staples\nunits: mm\n\
         overall: { diameter: 451 }\n",
    )
    .expect("written");
    for (arguments, words) in [
        (&["nowhere.yaml", "--table", WDF][..], "nowhere.yaml"),
        (&[NARROW, "--table", "nowhere.yaml"], "nowhere.yaml"),
        (
            &["specs/broken/unknown-key.yaml", "--table", WDF],
            "unknown",
        ),
        (&[NARROW], "--table"),
        (&[NARROW, "--table", WDF, "--width", "5"], "100"),
        (&[NARROW, "--table", WDF, "--what", "dart"], "section"),
        (&[&empty, "--table", WDF, "--what", "section"], "no section"),
    ] {
        let output = ringrule(&[&["draw"], arguments, &["--output", &target]].concat());
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty(), "{arguments:?}");
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(said.contains(words), "{arguments:?}: {said}");
    }
    for name in [&other, &pdf] {
        let output = ringrule(&["draw", NARROW, "--table", WDF, "--output", name]);
        assert_eq!(output.status.code(), Some(2));
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(said.contains(".svg or .png"), "{said}");
    }
    for name in [&target, &other, &pdf] {
        assert!(!Path::new(name).exists(), "{name}");
    }
}

#[test]
fn an_input_is_never_written_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("board.svg");
    let text = fs::read_to_string(root().join(HALF)).expect("there");
    fs::write(&path, &text).expect("written");
    let name = path.to_string_lossy();
    let output = ringrule(&[
        "draw",
        &name,
        "--table",
        WDF,
        "--output",
        &name,
        "--overwrite",
    ]);
    assert_eq!(output.status.code(), Some(2), "{}", transcript(&output));
    assert_eq!(fs::read_to_string(&path).expect("left"), text);
}

#[test]
fn the_help_text() {
    insta::assert_snapshot!(transcript(&ringrule(&["draw", "--help"])));
}

#[test]
fn the_readmes_picture_is_what_the_program_draws() {
    let board = "specs/demo/03-narrow-treble.yaml";
    let table = "tolerances/wdf.yaml";
    let output = ringrule(&["draw", board, "--table", table, "--what", "board"]);
    let committed = std::fs::read(root().join("specs/pictures/fl-03.svg")).expect("there");
    assert!(
        output.stdout == committed,
        "draw specs/pictures/fl-03.svg anew"
    );
}
