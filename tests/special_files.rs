//! Pipes, devices, and links that lead out of a folder: none is waited for or read. A file
//! that is too large is refused and not cut.
#![cfg(unix)]
#![allow(clippy::expect_used, reason = "a test may stop")]

mod common;

use std::fs;
use std::os::unix::fs::symlink;
use std::process::{Command, Output};
use std::thread;
use std::time::{Duration, Instant};

/// Runs the program, which must end by itself.
fn ended(arguments: &[&str]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(arguments)
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("started");
    let begun = Instant::now();
    while child.try_wait().expect("known").is_none() {
        if begun.elapsed() > Duration::from_mins(1) {
            let _ = child.kill();
            break;
        }
        thread::sleep(Duration::from_millis(5));
    }
    child.wait_with_output().expect("ended")
}

const BOARD: &str = "format: ringrule/board/1\nboard: { id: XX-1 }\nmounting: staples\nunits: mm\n";

#[test]
fn a_pipe_or_a_device_is_refused_wherever_it_is_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).display().to_string();
    let made = Command::new("mkfifo").arg(path("pipe")).status();
    assert!(made.expect("mkfifo").success());
    fs::write(path("board.yaml"), BOARD).expect("written");
    // Invented: a table that extends a pipe.
    let table = "format: ringrule/table/1\ntitle: x\nextends: pipe\n\
                 source: { document: House rules, provenance: invented }\nlimits: {}\n";
    fs::write(path("table.yaml"), table).expect("written");
    let (pipe, board) = (path("pipe"), path("board.yaml"));
    for arguments in [
        &["validate", &board, "--table", &path("table.yaml")][..],
        &["validate", &board, "--table", &pipe],
        &["validate", &pipe, "--table", "wdf"],
        &["validate", "/dev/zero", "--table", "wdf"],
        &["lint", &pipe],
        &["lint", "/dev/zero"],
        &["pool", &pipe],
        &["pool", "/dev/zero"],
        &["intake", &pipe, "--into", &path("new")],
        &["digitise", "/dev/zero"],
        &["report", &board, "--table", "wdf", "--event", &pipe],
        &[
            "report",
            &board,
            "--table",
            "wdf",
            "--font",
            "/dev/zero",
            "-o",
            &path("r.pdf"),
        ],
        &[
            "compare",
            "specs/demo/01-round-to-rule.yaml",
            "specs/demo/02-strip-to-rule.yaml",
            "--throws",
            &pipe,
        ],
    ] {
        let output = ended(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let said = [&output.stderr, &output.stdout].map(|text| String::from_utf8_lossy(text));
        let said = said.concat().replace(['\n', '│'], " ");
        let words = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            words.contains("a pipe or a device"),
            "{arguments:?}: {words}"
        );
    }
}

#[test]
fn a_link_that_leads_out_of_a_folder_is_not_followed() {
    let (folder, outside) = (tempfile::tempdir(), tempfile::tempdir());
    let (folder, outside) = (folder.expect("a folder"), outside.expect("a folder"));
    let secret = outside.path().join("secret.yaml");
    fs::write(&secret, format!("{BOARD}password: [unclosed\n")).expect("written");
    fs::write(folder.path().join("board.yaml"), BOARD).expect("written");
    symlink(&secret, folder.path().join("link.yaml")).expect("linked");
    // One within the folder is a second name of a file, which is read once.
    symlink("board.yaml", folder.path().join("second.yaml")).expect("linked");
    let all = folder.path().display().to_string();
    for arguments in [&["validate", &all, "--table", "wdf"][..], &["lint", &all]] {
        let output = ended(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let said =
            String::from_utf8_lossy(&output.stderr) + String::from_utf8_lossy(&output.stdout);
        assert!(said.contains("leads out of the folder"), "{said}");
        assert!(!said.contains("password"), "{said}");
    }
    // It is said, and the folder's own files are tidied all the same.
    let board = folder.path().join("board.yaml");
    fs::write(&board, BOARD.replace("units: mm", "units: mm  ")).expect("written");
    let output = ended(&["lint", &all, "--tidy"]);
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("leads out of the folder"), "{said}");
    assert_eq!(fs::read_to_string(&board).expect("read"), BOARD);
}

#[test]
fn a_file_of_throws_that_is_too_large_is_refused_and_not_cut() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("throws.csv");
    // Invented: as many throws as nobody writes down, and all of them count or none.
    let text = format!("x,y\n{}", "0,100\n".repeat(200_000));
    fs::write(&path, text).expect("written");
    let boards = [
        "specs/demo/01-round-to-rule.yaml",
        "specs/demo/02-strip-to-rule.yaml",
    ];
    let path = path.display().to_string();
    let throws = ["--throws", &path, "--at", "T20"];
    let output = ended(&[&["compare"], &boards[..], &throws].concat());
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("more than 1048576 bytes"), "{said}");
}
