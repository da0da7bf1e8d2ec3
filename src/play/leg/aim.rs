//! An aim, and what is picked among aims.

use super::climb::Place;
use super::line::Line;
use super::outcome::{ByOutcome, SCORES, is_double, outcome};
use super::scale::Scale;
use crate::board::{Band, SECTOR_ORDER};
use crate::geometry::{Bed, Point};

/// A place to aim at, and what comes of it.
#[derive(Clone, Debug)]
pub(super) struct Aim {
    pub(super) place: Point,
    /// The bed whose middle it is, or is nearest to: a wide spread hits the large bed beside
    /// a double more often than the double that it is aimed at.
    pub(super) bed: Bed,
    pub(super) chances: ByOutcome,
}

impl Aim {
    /// Named by the nearest of some places.
    pub(super) fn of(place: &Place, scale: Scale, names: &[(Point, Bed)]) -> Self {
        let at = scale.place(place.at);
        let away = |(named, _): &&(Point, Bed)| {
            let away = *named - at;
            away.dot(away)
        };
        let nearest = names
            .iter()
            .min_by(|a, b| away(a).total_cmp(&away(b)))
            .map_or(Bed::new(Band::InnerBull, 0), |(_, bed)| *bed);
        Self {
            place: at,
            bed: nearest,
            chances: place.chances,
        }
    }

    /// Whether it is aimed at a double that wins with so much left.
    pub(super) fn would_win(&self, left: usize) -> bool {
        let aimed = outcome(self.bed);
        is_double(aimed) && SCORES.get(aimed) == Some(&left)
    }
}

/// What was chosen: which aim, and what it costs.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pick {
    pub(super) aim: usize,
    pub(super) line: Line,
}

/// The beds whose middles are aimed at, in the order in which ties are settled.
/// The 25 ring has no middle of its own.
pub(super) fn middles() -> impl Iterator<Item = Bed> {
    let band = |band| (1..=20).rev().map(move |number| bed(band, number));
    band(Band::Treble)
        .chain([Bed::new(Band::InnerBull, 0)])
        .chain(band(Band::Double))
        .chain(band(Band::OuterSingle))
        .chain(band(Band::InnerSingle))
}

fn bed(band: Band, number: u8) -> Bed {
    let sector = SECTOR_ORDER.iter().position(|other| *other == number);
    Bed::new(band, sector.unwrap_or_default())
}
