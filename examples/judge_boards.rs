//! Judges board files by the built-in table, one line each:
//! `cargo run --example judge_boards -- specs/demo/*.yaml`
#![allow(clippy::print_stdout, reason = "an example shows what it finds")]

use std::error::Error;

use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::document::Source;
use ringrule::table::{BuiltIn, Table};

fn main() -> Result<(), Box<dyn Error>> {
    let rules = BuiltIn::named("wdf").ok_or("the table is built in")?;
    let table = Table::read(rules.source(), &())?;
    let judge = Judge::new(&table);
    for path in std::env::args().skip(1) {
        let text = std::fs::read_to_string(&path)?;
        // A file with errors ends this with all of them and their places.
        let board = Board::read(Source::new(path.as_str(), text))?;
        println!("{path}: {:?}", judge.judge(&board).verdict);
    }
    Ok(())
}
