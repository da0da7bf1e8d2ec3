//! Every output of a run is written, or none is; and what is replaced keeps its
//! mode.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;
use std::process::Command;

use common::league::{BOARD, League, err};

#[test]
fn one_file_is_not_two_outputs() {
    let league = League::new();
    let report = format!("report {BOARD} --table tables/wdf.json");
    let whole = league.path("a.html").display().to_string();
    for (one, other) in [
        ("a.html", "a.html"),
        ("a.html", "./a.html"),
        ("a.html", &whole),
    ] {
        let said = league.refused(&format!("{report} -o {one} -o {other}"));
        assert!(said.contains("named twice"), "{said}");
        assert!(said.contains("nothing was written"), "{said}");
    }
    let said = league.refused(&format!(
        "{report} -o 01.html --each {{id}}.html -o FL-01.html"
    ));
    assert!(said.contains("FL-01.html"), "{said}");
    for command in ["validate --table tables/wdf.json", "lint"] {
        let said = league.refused(&format!(
            "{command} {BOARD} --also a.json --also boards/../a.json"
        ));
        assert!(said.contains("named twice"), "{said}");
    }
    let compare = "compare boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml";
    let said = league.refused(&format!("{compare} -o a.txt --also ./a.txt"));
    assert!(said.contains("named twice"), "{said}");
    league.write("x.html", "x");
    fs::hard_link(league.path("x.html"), league.path("y.html")).expect("linked");
    let said = league.refused(&format!("{report} -o x.html -o y.html --overwrite"));
    assert!(said.contains("named twice"), "{said}");
}

#[test]
fn nothing_is_written_where_one_output_cannot_be() {
    let league = League::new();
    let long = format!("{}.json", "n".repeat(300));
    fs::create_dir(league.path("folder.json")).expect("made");
    league.write("there.json", "kept");
    for bad in [
        long.as_str(),
        "nowhere/x.json",
        "folder.json",
        "there.json",
        "throws.txt/x.json",
        "x.json/",
    ] {
        for line in [
            format!("report {BOARD} --table tables/wdf.json -o first.html -o {bad}"),
            format!("validate {BOARD} --table tables/wdf.json --also first.txt --also {bad}"),
            format!("lint {BOARD} --also first.txt --also {bad}"),
            format!("compare {BOARD} boards/02-strip-to-rule.yaml -o first.txt --also {bad}"),
        ] {
            let said = league.refused(&line);
            assert!(said.contains(bad), "{line}\n{said}");
        }
    }
    // An id may make a name too long that the pattern does not.
    let board = league
        .text(BOARD)
        .replace("id: FL-01", &format!("id: {}", "n".repeat(300)));
    league.write("boards/03.yaml", &board);
    league.refused("report boards --table tables/wdf.json --each {id}.html");
}

#[test]
#[cfg(unix)]
fn a_file_that_is_replaced_keeps_its_mode() {
    use std::os::unix::fs::PermissionsExt;
    let league = League::new();
    let mode = |name: &str| {
        let found = fs::metadata(league.path(name)).expect("there");
        found.permissions().mode() & 0o7777
    };
    let set = |name: &str, mode: u32| {
        fs::set_permissions(league.path(name), fs::Permissions::from_mode(mode)).expect("set");
    };
    for wanted in [0o600, 0o444, 0o755, 0o664] {
        league.write("a.html", "before");
        set("a.html", wanted);
        league.good(&format!(
            "report {BOARD} --table tables/wdf.json -o a.html --overwrite"
        ));
        assert_eq!(mode("a.html"), wanted);
        assert!(league.text("a.html").len() > 1000);
        fs::remove_file(league.path("a.html")).expect("removed");
    }
    let untidy = league.text(BOARD).replace("rings: 16 SWG", "rings: 16SWG");
    league.write(BOARD, &untidy);
    set(BOARD, 0o600);
    league.good(&format!("lint --tidy {BOARD}"));
    assert_eq!(mode(BOARD), 0o600);
    assert!(!league.text(BOARD).contains("rings: 16SWG"));
    assert!(league.names().iter().all(|name| !name.starts_with('.')));
}

#[test]
#[cfg(target_os = "linux")]
fn a_run_that_is_ended_leaves_nothing_behind() {
    for (name, number) in [("TERM", 15), ("INT", 2), ("HUP", 1)] {
        // On a busy machine a run may be over before it is told to end.
        let ended = (0..8).find_map(|_| ended_while_writing(name));
        let (signal, left) = ended.expect("a run that had not ended already");
        assert_eq!(signal, number, "as any other run that is ended");
        let left: Vec<_> = left
            .iter()
            .filter(|n| n.starts_with('.') || n.ends_with('l'))
            .collect();
        assert!(
            left.iter()
                .all(|name| name.ends_with("yaml") || *name == "font.html"),
            "{left:?}"
        );
    }
}

/// What ended a long run, and the files that it left; nothing if it ended by itself.
#[cfg(target_os = "linux")]
fn ended_while_writing(signal: &str) -> Option<(i32, Vec<String>)> {
    use std::os::unix::process::ExitStatusExt;
    let league = League::new();
    let board = league.text(BOARD);
    for number in 0..400 {
        let board = board.replace("id: FL-01", &format!("id: N-{number}"));
        league.write(&format!("boards/n-{number}.yaml"), &board);
    }
    let line = "report boards --table tables/wdf.json --each {id}.html --each {id}.pdf -o a.html";
    // Tests that run in the background are deaf to INT, and so is what they start.
    let mut run = Command::new("env")
        .args(["--default-signal", env!("CARGO_BIN_EXE_ringrule")])
        .args(line.split_whitespace())
        .current_dir(league.path("."))
        .stderr(std::process::Stdio::null())
        .spawn()
        .expect("the program starts");
    let unfinished = || league.names().iter().any(|name| name.starts_with(".tmp"));
    while !unfinished() && run.try_wait().expect("asked").is_none() {
        std::thread::yield_now();
    }
    Command::new("kill")
        .args(["-s", signal, &run.id().to_string()])
        .stderr(std::process::Stdio::null())
        .status()
        .expect("kill runs");
    let ended = run.wait().expect("it ends").signal()?;
    Some((ended, league.names()))
}

#[test]
fn a_file_that_cannot_be_parsed_is_not_tidy() {
    let league = League::new();
    league.write("boards/broken.yaml", "board: [\n");
    let untidy = league.text(BOARD).replace("rings: 16 SWG", "rings: 16SWG");
    league.write(BOARD, &untidy);
    for preview in ["", "--preview"] {
        let said = league.refused(&format!("lint boards --tidy {preview}"));
        assert!(said.contains("broken.yaml"), "{said}");
        assert!(!said.contains("every file is tidy"), "{said}");
    }
}

#[test]
fn a_report_can_leave_invalid_files_out_and_says_so() {
    let league = League::new();
    league.write(
        "boards/broken.yaml",
        "format: ringrule/board/1\nboard: { idd: X }\n",
    );
    league.write("boards/torn.yaml", "board: [\n");
    let line =
        "report boards --table tables/wdf.json -o r.html -o r.json -o r.pdf -o r.md -o r.txt";
    let said = league.refused(line);
    assert!(
        said.contains("broken.yaml") && said.contains("nothing was written"),
        "{said}"
    );
    for flag in ["--skip-invalid", "--skip-refused"] {
        let output = league.run(&format!("{line} {flag} --overwrite"));
        assert_eq!(output.status.code(), Some(2));
        assert!(err(&output).contains("torn.yaml") && err(&output).contains("written: r.pdf"));
        for name in ["r.html", "r.md", "r.txt"] {
            // Lines of text end where the next word has no room.
            let text = league.text(name);
            let text: Vec<&str> = text.split_whitespace().collect();
            let text = text.join(" ");
            // A page begins with a list to jump by.
            let text = text.split_once("</nav>").map_or(&*text, |(_, rest)| rest);
            let (front, _) = text.split_once("FL-01").expect("the boards follow");
            assert!(
                front.contains("2 files were invalid and are left out"),
                "{name}"
            );
            assert!(
                front.contains("broken") && front.contains("line 1"),
                "{name}"
            );
        }
        let json: serde_json::Value = serde_json::from_str(&league.text("r.json")).expect("JSON");
        assert_eq!(json["invalid_files"].as_array().map(Vec::len), Some(2));
        assert_eq!(json["boards"].as_array().map(Vec::len), Some(2));
    }
    // A table or an event cannot be left out, nor can every board.
    league.write("tables/broken.yaml", "format: ringrule/table/1\n");
    league.refused(&format!(
        "report {BOARD} --table tables/broken.yaml -o s.html --skip-invalid"
    ));
    league.refused("report boards/torn.yaml --table tables/wdf.json -o s.html --skip-invalid");
}
