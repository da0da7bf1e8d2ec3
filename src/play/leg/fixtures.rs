//! What the tests of legs share.

use super::{Aims, Leg, LegOptions};
use crate::board::Band;
use crate::geometry::{Bed, Spider};
use crate::play::{Face, Metal, Setup, Spread};

pub(super) fn face(spider: &Spider) -> Face {
    Face::of(spider).expect("all wires known")
}

pub(super) fn spread(sigma: f64) -> Spread {
    Spread::new(sigma).expect("a spread")
}

pub(super) fn solve(face: &Face, spread: Spread, options: LegOptions) -> Leg {
    let setup = Setup {
        face,
        metal: Metal::Lost,
    };
    Leg::solve(setup, spread, options).expect("a leg")
}

pub(super) fn bed(band: Band, number: u8) -> Bed {
    let bed = Bed::of_band(band).find(|bed| bed.number() == number);
    bed.expect("on the board")
}

pub(super) fn from(start: u32) -> LegOptions {
    LegOptions::from(start)
}

pub(super) fn continuous(start: u32) -> LegOptions {
    LegOptions {
        aims: Aims::Continuous,
        ..from(start)
    }
}
