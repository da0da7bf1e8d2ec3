//! Legs against values computed elsewhere, and what must hold of them.

use super::*;
use crate::board::Band;
use crate::fixtures::round;
use crate::geometry::Bed;
use crate::play::{Face, Metal, Setup, Spread};

fn solve(face: &Face, sigma: f64, options: LegOptions) -> Leg {
    let setup = Setup { face, metal: Metal::Lost };
    Leg::solve(setup, Spread::new(sigma).expect("a spread"), options).expect("a leg")
}

fn board_r() -> Face {
    Face::of(&round()).expect("all wires known")
}

#[test]
fn legs_take_as_many_darts_as_computed_elsewhere() {
    // Recomputed independently: aims at 81 middles, metal lost, spread 10 mm.
    let leg = solve(&board_r(), 10.0, LegOptions::from(501));
    for (total, expected) in [
        (501, 21.398_149),
        (301, 13.918_828),
        (170, 8.979_364),
        (40, 3.427_175),
        (32, 3.309_921),
        (2, 4.628_785),
    ] {
        let darts = leg.expected_darts_from(total).expect("solved");
        assert!((darts - expected).abs() < 6e-7, "{total}: {darts}");
    }
    let treble = |number| bed(Band::Treble, number);
    for (total, bed) in [
        (501, treble(20)),
        (121, treble(19)),
        (50, bed(Band::OuterSingle, 18)),
        (41, bed(Band::OuterSingle, 9)),
    ] {
        let choice = leg.choice(total, total, 3).expect("solved");
        assert_eq!(choice.bed, bed, "{total}");
    }
}

fn bed(band: Band, number: u8) -> Bed {
    Bed::of_band(band).find(|bed| bed.number() == number).expect("on the board")
}
