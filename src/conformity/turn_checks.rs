//! Bearings as parameters of the adjustment: what their uncertainty does to areas.

use super::FreeArea;
use crate::board::{Band, Board, Edge, Quantity};
use crate::document::Source;
use crate::geometry::Spider;

/// Common practice, as its own comment says; the bearings are invented.
const BOARD_R: &str = include_str!("../../tests/fixtures/board-r.yaml");

/// Board R with lengths that are known far better than its bearings: u of 0.2 degrees.
fn board() -> Board {
    let text = BOARD_R.replace("16 SWG", "1.6256");
    let bearings: Vec<String> = (0..20).map(|wire| (9 + 18 * wire).to_string()).collect();
    let text = format!(
        "{text}uncertainty: 0.000002\nsectors:\n  bearings: [{}]\n  uncertainty: 0.4\n",
        bearings.join(", ")
    );
    Board::read(Source::new("board.yaml", text)).expect("a sound board")
}

#[test]
fn a_bed_is_as_uncertain_as_its_two_wires_turn() {
    let board = board();
    let construction = &board.construction;
    let spider = Spider::of(construction);
    let free = FreeArea::of(construction, &spider, Band::Treble).expect("an area");
    let radius = |wire, edge| {
        let form = construction.edge_radius(wire, edge).expect("recorded");
        construction.value(&form).as_mm()
    };
    // Closed form: a wire that turns by an angle sweeps half the difference of the squared
    // radii times the angle, and a bed has two wires whose errors are independent.
    let band = Band::Treble;
    let outer = radius(band.outer_wire(), Edge::Inside);
    let inner = radius(band.inner_wire().expect("a ring"), Edge::Outside);
    let swept = 0.5 * (outer * outer - inner * inner) * 0.2_f64.to_radians();
    for bed in [0, 7, 19] {
        let found = free.bed_slopes(bed).uncertainty(&construction.inputs);
        let found = found.expect("stated").standard();
        let expected = std::f64::consts::SQRT_2 * swept;
        assert!((found / expected - 1.0).abs() < 1e-4, "{found} {expected}");
    }
    // The band is as it would be without bearings, to the last digit: beds that are alike
    // stay alike, and what one gains by a turn its neighbour loses.
    let text = BOARD_R.replace("16 SWG", "1.6256") + "uncertainty: 0.000002\n";
    let plain = Board::read(Source::new("plain.yaml", text)).expect("a sound board");
    let other = FreeArea::of(&plain.construction, &Spider::of(&plain.construction), band);
    let other = other.expect("an area");
    assert_eq!(free.area, other.area);
    assert_eq!(
        free.uncertainty(construction),
        other.uncertainty(&plain.construction)
    );
    assert!(!free.is_uneven());
    let turns = |id| {
        let input = construction.input(id).expect("there");
        matches!(input.quantity, Quantity::Turn(_))
    };
    assert!(!free.inputs().any(turns));
    assert!(free.bed_slopes(0).terms().iter().any(|&(id, _)| turns(id)));
}

#[test]
fn a_turn_is_no_length_that_somebody_took() {
    let board = board();
    let turns = board.construction.inputs.len() - board.construction.lengths().count();
    assert_eq!(turns, 20);
}
