//! Comments and everything else that stays in a board file.
#![allow(clippy::expect_used, reason = "a test may stop")]

use ringrule::board::Board;
use ringrule::document::{Document, Source, parse};

use super::keep::{carrying, comment, into_existing};

fn document(text: &str) -> Document {
    parse(Source::new("old.yaml", text)).expect("YAML")
}

/// Invented, as all boards here.
const NEW: &str = "format: ringrule/board/1
board:
  id: FL-40
mounting: staples
profile: round
units: mm
inspection:
  by: A. Ashdown
  date: \"2026-11-27\"
rings:
  treble_outer:
    radius:
      taken:
      - by: A. Ashdown
        readings: [107.01, 107.0]
    edge: outside
widths:
  treble:
    width:
      taken:
      - by: A. Ashdown
        readings: [8.02, 8.01, 8.03]
    edge: inside
";

#[test]
fn comments_and_everything_that_was_not_measured_stay() {
    for old in [
        "# Hangs in the back room.
format: ringrule/board/1
board: { id: FL-40, name: \"Bar # 2\" } # bought used
mounting: staples
units: mm
# the spider was bent once
rings:
  # seen through a glass
  treble_outer: { radius: 106.8, edge: outside, offset: [0.1, 0] } # by eye
  double_outer: { radius: 170.1, edge: outside }
  # end of rings
# last
",
        "format: ringrule/board/1 # one
board: # two
  id: FL-40 # three
mounting: staples
units: mm
rings: { double_outer: { radius: 170.1, edge: outside }, # four
  treble_outer: { radius: 106.8, edge: outside, offset: [0.1, 0] } } # five
inspection: { by: B. Birch, date: \"2026-11-27\" } # six
widths:
    treble: # seven
        width: 7.9
        # eight
        edge: inside
# nine",
    ] {
        let old = document(old);
        let text = into_existing(&old, NEW).expect("merged");
        let board = Board::read(Source::new("merged", text.clone())).expect("a board");
        let again = document(&text);
        for (path, part) in [("treble_outer", "radius"), ("double_outer", "radius")] {
            let ring = again.root.get("rings").and_then(|rings| rings.get(path));
            assert!(ring.and_then(|ring| ring.get(part)).is_some(), "{text}");
        }
        assert!(text.contains("offset: [0.1, 0]"), "{text}");
        assert!(text.contains("170.1") && !text.contains("106.8"), "{text}");
        assert_eq!(
            board.inspection.and_then(|own| own.by).as_deref(),
            Some("A. Ashdown")
        );
        let measured = board.construction.inputs.iter();
        assert_eq!(measured.filter(|input| input.taken().is_some()).count(), 2);
        for comment in old.source.text().lines().filter_map(comment) {
            assert_eq!(text.matches(comment).count(), 1, "{comment} in {text}");
        }
        // What was saved is saved again without a change.
        assert_eq!(into_existing(&again, NEW).as_deref(), Some(text.as_str()));
    }
}

#[test]
fn a_file_in_inches_is_left_alone() {
    let old = "format: ringrule/board/1\nboard: { id: FL-40 }\nmounting: staples\nunits: in\n";
    assert_eq!(into_existing(&document(old), NEW), None);
}

#[test]
fn the_next_inspection_takes_over_what_the_board_is_and_no_reading() {
    let old = document(
        "format: ringrule/board/1
board: # where it hangs
  id: FL-40
  venue: The Lantern
mounting: staples
units: mm
metal: 30 %
widths: { treble: { width: 7.5, edge: inside } }
",
    );
    let text = carrying(&old, NEW).expect("a board");
    let board = Board::read(Source::new("new", text.clone())).expect("a board");
    assert_eq!(board.venue.as_deref(), Some("The Lantern"));
    assert!(board.metal.is_some() && text.contains("# where it hangs"));
    assert!(!text.contains("7.5"), "{text}");
}
