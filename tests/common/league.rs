//! A folder like a league's, to run whole commands in.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

use std::ffi::OsStr;
use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

use tempfile::TempDir;

use super::root;

pub(crate) const BOARD: &str = "boards/01-round-to-rule.yaml";

/// A folder like a league's: boards, two tables of which one extends the other,
/// settings, an event, throws, a font.
pub(crate) struct League(pub(crate) TempDir);

impl League {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let copy = |from: &str, to: &str| {
            let to = folder.path().join(to);
            fs::create_dir_all(to.parent().expect("a folder")).expect("made");
            fs::copy(root().join(from), to).expect("copied");
        };
        for board in ["01-round-to-rule.yaml", "02-strip-to-rule.yaml"] {
            copy(&format!("specs/demo/{board}"), &format!("boards/{board}"));
        }
        copy("tolerances/wdf.yaml", "tables/wdf.json");
        copy("tolerances/fenwick-lane.yaml", "tables/fenwick-lane.yaml");
        copy("specs/events/fenwick-lane-autumn.yaml", "event.md");
        copy("src/report/fonts/DejaVuSansCondensed.ttf", "font.html");
        let league = Self(folder);
        league.write("throws.txt", "x,y\n1,2\n-3,4\n5,-6\n2,9\n-8,1\n4,4\n");
        let own = league.text("tables/fenwick-lane.yaml");
        league.write(
            "tables/fenwick-lane.yaml",
            &own.replace("extends: wdf.yaml", "extends: wdf.json"),
        );
        league
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub(crate) fn write(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).expect("written");
    }

    pub(crate) fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).expect("read")
    }

    pub(crate) fn command<S: AsRef<OsStr>>(&self, arguments: &[S]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ringrule"));
        command
            .args(arguments)
            .current_dir(self.0.path())
            .env_remove("CLICOLOR_FORCE")
            .env("NO_COLOR", "1");
        command
    }

    pub(crate) fn run(&self, line: &str) -> Output {
        let arguments: Vec<&str> = line.split_whitespace().collect();
        self.command(&arguments)
            .output()
            .expect("the program starts")
    }

    /// Runs a command that must change nothing, and returns what it said.
    pub(crate) fn refused(&self, line: &str) -> String {
        let before = self.files();
        let output = self.run(line);
        let said = err(&output);
        assert_eq!(output.status.code(), Some(2), "{line}\n{said}");
        assert_eq!(self.files(), before, "{line}\n{said}");
        said
    }

    pub(crate) fn good(&self, line: &str) -> Output {
        let output = self.run(line);
        assert_eq!(output.status.code(), Some(0), "{line}\n{}", err(&output));
        output
    }

    /// Every file with its bytes.
    pub(crate) fn files(&self) -> Vec<(PathBuf, Vec<u8>)> {
        let mut files = Vec::new();
        let mut folders = vec![self.0.path().to_owned()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(folder).expect("a folder") {
                let path = entry.expect("an entry").path();
                if path.is_dir() {
                    folders.push(path);
                } else {
                    files.push((path.clone(), fs::read(&path).unwrap_or_default()));
                }
            }
        }
        files.sort();
        files
    }

    pub(crate) fn names(&self) -> Vec<String> {
        let files = self.files();
        let names = files.iter().filter_map(|(path, _)| path.file_name());
        names
            .map(|name| name.to_string_lossy().into_owned())
            .collect()
    }
}

pub(crate) fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

pub(crate) fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}
