//! What several test files need: boards as text, tables from files, and the
//! program run as a user runs it.
#![allow(
    dead_code,
    clippy::expect_used,
    clippy::panic,
    reason = "each test file uses some of it"
)]

pub(crate) mod fill;
pub(crate) mod independent;
pub(crate) mod league;
pub(crate) mod production;
pub(crate) mod scan;
pub(crate) mod schemas;
pub(crate) mod sheets;
pub(crate) mod uneven;

use std::path::Path;
use std::process::{Command, Output};

use ringrule::board::Board;
use ringrule::document::Source;
use ringrule::table::{Table, shelf_of};

/// Board R, to rule with round wire.
pub(crate) const BOARD_R: &str = include_str!("../fixtures/board-r.yaml");

/// Its strip twin: 0.5 mm strip, 9.6 mm from apex to apex, the same outside
/// edges and bull diameters.
pub(crate) const STRIP_TWIN: &str = "\
format: ringrule/board/1
board: { id: S }
mounting: embedded
units: mm
wires: { rings: 0.5, sectors: 0.5 }
rings:
  inner_bull:   { diameter: 12.7, edge: inside }
  outer_bull:   { diameter: 31.8, edge: inside }
  treble_outer: { radius: 107.0, edge: outside }
  double_outer: { radius: 170.0, edge: outside }
widths:
  treble: { width: 9.6, edge: apex }
  double: { width: 9.6, edge: apex }
overall: { diameter: 451 }
";

/// The folder of the project.
pub(crate) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A board from text.
pub(crate) fn board(text: &str) -> Board {
    match Board::read(Source::new("board.yaml", text)) {
        Ok(board) => board,
        Err(invalid_file) => panic!("{invalid_file}\n{text}"),
    }
}

/// A table from the project's folder.
pub(crate) fn table(name: &str) -> Table {
    let path = root().join("tolerances").join(name);
    let text = std::fs::read_to_string(&path).expect("the table is there");
    let source = Source::new(path.display().to_string(), text);
    Table::read(source, &shelf_of(&path)).expect("the table is sound")
}

/// Runs the program in the project's folder.
pub(crate) fn ringrule(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(arguments)
        .current_dir(root())
        .env_remove("CLICOLOR_FORCE")
        .env_remove("COLUMNS")
        .env("NO_COLOR", "1")
        .output()
        .expect("the program starts")
}

/// Standard output, standard error and exit code as one text, for snapshots.
pub(crate) fn transcript(output: &Output) -> String {
    let code = output
        .status
        .code()
        .map_or("none".to_owned(), |code| code.to_string());
    let out = String::from_utf8_lossy(&output.stdout);
    let err = String::from_utf8_lossy(&output.stderr);
    format!("exit {code}\n--- stdout\n{out}--- stderr\n{err}")
}

/// What a run prints to standard output.
pub(crate) fn printed(arguments: &[&str]) -> String {
    let output = ringrule(arguments);
    String::from_utf8(output.stdout).expect("text")
}

/// JSON from text.
pub(crate) fn json(text: &str) -> serde_json::Value {
    serde_json::from_str(text).expect("JSON")
}
