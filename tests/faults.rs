//! What may go wrong around a run: outputs that cannot be written, odd names, odd settings
//! of the system. Old files stay, the exit code is right, and nothing is left lying about.
#![cfg(unix)]
#![allow(clippy::expect_used, reason = "a test may stop")]

mod common;

use std::ffi::OsStr;
use std::fs::{self, File};
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Command, Output};

use common::{BOARD_R, root};

fn command(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringrule"));
    command.current_dir(folder);
    command
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("b.yaml"), BOARD_R).expect("written");
    folder
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Everything in a folder by its name, and the contents of files.
fn contents(folder: &Path) -> Vec<(std::ffi::OsString, Option<Vec<u8>>)> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut all: Vec<_> = entries
        .map(|entry| entry.expect("an entry"))
        .map(|entry| (entry.file_name(), fs::read(entry.path()).ok()))
        .collect();
    all.sort();
    all
}

const REPORT: [&str; 4] = ["report", "b.yaml", "--table", "wdf"];

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_is_no_success() {
    let folder = folder();
    for arguments in [
        &["validate", "b.yaml", "--table", "wdf"][..],
        &["validate", "b.yaml", "--table", "wdf", "--format", "json"],
        &REPORT,
        &["worksheet", "--table", "wdf", "--mounting", "staples"],
        &["lint", "b.yaml"],
        &["schema", "board"],
        &["compare", "b.yaml", "b.yaml", "--spread", "12"],
    ] {
        let full = File::options().write(true).open("/dev/full");
        let mut command = command(folder.path());
        let output = command.args(arguments).stdout(full.expect("a device"));
        let output = output.output().expect("it runs");
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let said = said(&output);
        assert!(
            said.contains("could not be written"),
            "{arguments:?}: {said}"
        );
    }
}

#[test]
fn an_output_that_cannot_be_leaves_everything_as_it_was() {
    let folder = folder();
    let path = folder.path();
    fs::create_dir(path.join("dir.html")).expect("a folder");
    fs::write(path.join("old.html"), "old").expect("written");
    symlink("nowhere/at/all", path.join("broken.html")).expect("a link");
    let before = contents(path);
    for (name, more) in [
        ("dir.html", "--overwrite"),
        ("no/such/folder/x.html", "--overwrite"),
        ("old.html", "--quiet"),
        ("broken.html", "--overwrite"),
        ("b.yaml/x.html", "--overwrite"),
        ("/dev/full/x.html", "--overwrite"),
    ] {
        let mut command = command(path);
        let output = command.args(REPORT).args(["-o", name, more]).output();
        let output = output.expect("it runs");
        let said = said(&output);
        assert_eq!(output.status.code(), Some(2), "{name}: {said}");
        let file = name.split('/').next_back().expect("a name");
        assert!(said.contains(file), "{name}: {said}");
        assert!(contents(path) == before, "{name}");
    }
}

#[test]
fn a_name_of_bytes_that_are_no_text_is_a_name() {
    let folder = folder();
    for name in [&b"a b.html"[..], b"new\nline.html", b"no\xfftext.html"] {
        let name = OsStr::from_bytes(name);
        let mut command = command(folder.path());
        let output = command.args(REPORT).arg("-o").arg(name).output();
        let output = output.expect("it runs");
        assert_eq!(output.status.code(), Some(0), "{name:?}: {}", said(&output));
        let text = fs::read(folder.path().join(name)).expect("the report");
        assert!(text.starts_with(b"<!DOCTYPE html>"));
    }
}

#[test]
fn where_a_run_takes_place_changes_nothing() {
    let board = root().join("specs/demo/03-narrow-treble.yaml");
    let run = |settings: &[(&str, &str)]| {
        let mut command = command(root());
        command.env_clear().envs(settings.iter().copied());
        let arguments = ["report", "--table", "wdf", "--issued", "2026-11-20"];
        let output = command.args(arguments).arg(&board).output();
        let output = output.expect("it runs");
        assert_eq!(output.status.code(), Some(0), "{settings:?}");
        output.stdout
    };
    let usual = run(&[]);
    for settings in [
        &[("HOME", "/nowhere"), ("LC_ALL", "tr_TR.UTF-8")][..],
        &[("LANG", "xx"), ("LC_NUMERIC", "de_DE.UTF-8")],
        &[("TZ", "Nowhere/At-All"), ("COLUMNS", "many")],
        &[("TMPDIR", "/nowhere"), ("RAYON_NUM_THREADS", "1")],
    ] {
        assert!(run(settings) == usual, "{settings:?}");
    }
}
