//! The free area of all trebles, with two thicknesses of wire:
//! `cargo run --example free_areas`
#![allow(clippy::print_stdout, reason = "an example shows what it finds")]

use std::error::Error;

use ringrule::board::{Band, Board};
use ringrule::document::Source;
use ringrule::geometry::{Spider, band_area};

fn main() -> Result<(), Box<dyn Error>> {
    for wire in ["16 SWG", "0.5"] {
        let text = format!(
            "format: ringrule/board/1
board: {{ id: example }}
mounting: staples
units: mm
wires: {{ rings: {wire}, sectors: {wire} }}
rings:
  treble_inner: {{ radius: 98.2, edge: apex }}
  treble_outer: {{ radius: 107.0, edge: apex }}
"
        );
        let board = Board::read(Source::new("example.yaml", text))?;
        let spider = Spider::of(&board.construction);
        let treble = band_area(&spider, Band::Treble).ok_or("both wires are known")?;
        println!("{wire}: {:.1} mm²", treble.free.as_mm2());
    }
    Ok(())
}
