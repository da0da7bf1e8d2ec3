//! One free region that scores.

use std::fmt;

use crate::board::{Band, SECTOR_ORDER};

/// A bed: a bull, or a band within one sector.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Bed {
    band: Band,
    /// Index clockwise from the top; 0 for the bulls.
    sector: u8,
}

impl Bed {
    /// The bed of a band in the sector with this index, counted clockwise from
    /// the top (0 is the 20) and taken modulo twenty. The bulls have one bed,
    /// whatever the index.
    pub const fn new(band: Band, sector: usize) -> Self {
        #[allow(clippy::cast_possible_truncation)]
        let sector = if band.has_sectors() {
            (sector % 20) as u8
        } else {
            0
        };
        Self { band, sector }
    }

    /// The beds of a band, clockwise from the top.
    pub fn of_band(band: Band) -> impl Iterator<Item = Self> {
        (0..band.beds()).map(move |sector| Self::new(band, sector))
    }

    /// All 82 beds, from the bull outwards.
    pub fn all() -> impl Iterator<Item = Self> {
        Band::ALL.into_iter().flat_map(Self::of_band)
    }

    /// The band.
    pub const fn band(self) -> Band {
        self.band
    }

    /// The sector's index, clockwise from the top.
    pub const fn sector(self) -> usize {
        self.sector as usize
    }

    /// The number of its sector; of the bulls, that of the top.
    pub fn number(self) -> u8 {
        SECTOR_ORDER.get(self.sector()).copied().unwrap_or_default()
    }

    /// What a dart in it scores.
    pub fn score(self) -> u8 {
        let number = self.number();
        match self.band {
            Band::InnerBull => 50,
            Band::OuterBull => 25,
            Band::InnerSingle | Band::OuterSingle => number,
            Band::Treble => 3 * number,
            Band::Double => 2 * number,
        }
    }
}

impl fmt::Display for Bed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.band {
            Band::InnerBull | Band::OuterBull => write!(f, "{}", self.band),
            band => write!(f, "{band} {}", self.number()),
        }
    }
}
