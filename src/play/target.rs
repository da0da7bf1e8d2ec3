//! What a dart is thrown at, written as the trade writes it.

use std::fmt;
use std::str::FromStr;

use super::PlayError;
use crate::board::{Band, SECTOR_ORDER};
use crate::geometry::Bed;

/// A target: a number's single, double or treble, the 25 ring, or the bull.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Target {
    /// A single of a number, 1 to 20: either of its two beds.
    Single(Number),
    /// The double of a number.
    Double(Number),
    /// The treble of a number.
    Treble(Number),
    /// The 25 ring.
    OuterBull,
    /// The inner bull, 50: a double.
    Bull,
}

/// A number on the board, 1 to 20.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Number(u8);

impl Number {
    /// A number from 1 to 20.
    pub const fn new(number: u8) -> Option<Self> {
        match number {
            1..=20 => Some(Self(number)),
            _ => None,
        }
    }

    /// The number.
    pub const fn value(self) -> u8 {
        self.0
    }

    fn all() -> impl Iterator<Item = Self> {
        (1..=20).map(Self)
    }

    /// Its sector's index, clockwise from the top.
    pub fn sector(self) -> usize {
        SECTOR_ORDER
            .iter()
            .position(|number| *number == self.0)
            .unwrap_or_default()
    }
}

impl Target {
    /// All 62: singles, doubles and trebles by number, 25 and bull.
    pub fn all() -> impl Iterator<Item = Self> {
        let kinds = [Self::Single, Self::Double, Self::Treble];
        let numbers = kinds.into_iter().flat_map(|kind| Number::all().map(kind));
        numbers.chain([Self::OuterBull, Self::Bull])
    }

    /// What a dart in it scores.
    pub const fn score(self) -> u8 {
        match self {
            Self::Single(number) => number.0,
            Self::Double(number) => 2 * number.0,
            Self::Treble(number) => 3 * number.0,
            Self::OuterBull => 25,
            Self::Bull => 50,
        }
    }

    /// Whether a leg may end on it: a double, or the bull, which counts as one.
    pub const fn is_double(self) -> bool {
        matches!(self, Self::Double(_) | Self::Bull)
    }

    /// The beds that it is: one, or two for a single.
    pub fn beds(self) -> Vec<Bed> {
        let bed = |band, number: Number| Bed::new(band, number.sector());
        match self {
            Self::Single(n) => vec![bed(Band::InnerSingle, n), bed(Band::OuterSingle, n)],
            Self::Double(n) => vec![bed(Band::Double, n)],
            Self::Treble(n) => vec![bed(Band::Treble, n)],
            Self::OuterBull => vec![Bed::new(Band::OuterBull, 0)],
            Self::Bull => vec![Bed::new(Band::InnerBull, 0)],
        }
    }

    /// The bed whose middle is aimed at: for a single the larger one, outside
    /// the treble.
    pub fn main_bed(self) -> Bed {
        let beds = self.beds();
        beds.last().copied().unwrap_or(Bed::new(Band::InnerBull, 0))
    }
}

impl fmt::Display for Target {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Single(number) => write!(f, "S{}", number.0),
            Self::Double(number) => write!(f, "D{}", number.0),
            Self::Treble(number) => write!(f, "T{}", number.0),
            Self::OuterBull => f.write_str("25"),
            Self::Bull => f.write_str("Bull"),
        }
    }
}

impl FromStr for Target {
    type Err = PlayError;

    /// Capitals or not; `DB` and `50` are the bull too, `SB` is the 25.
    fn from_str(word: &str) -> Result<Self, PlayError> {
        let unknown = || PlayError::NotATarget(word.to_owned());
        let upper = word.to_ascii_uppercase();
        match upper.as_str() {
            "BULL" | "DB" | "50" => return Ok(Self::Bull),
            "25" | "SB" => return Ok(Self::OuterBull),
            _ => {}
        }
        let kind: fn(Number) -> Self = match upper.as_bytes().first() {
            Some(b'T') => Self::Treble,
            Some(b'D') => Self::Double,
            _ => Self::Single,
        };
        let digits = upper.strip_prefix(['T', 'D', 'S']).unwrap_or(&upper);
        if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(unknown());
        }
        let number: u32 = digits.parse().map_err(|_| unknown())?;
        let valid = u8::try_from(number).ok().and_then(Number::new);
        valid.map(kind).ok_or_else(|| PlayError::NoSuchNumber {
            word: word.to_owned(),
            number,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_target_reads_back_as_itself_and_scores_as_its_beds_do() {
        assert_eq!(Target::all().count(), 62);
        for target in Target::all() {
            assert_eq!(target.to_string().parse(), Ok(target));
            assert_eq!(target.to_string().to_lowercase().parse(), Ok(target));
            for bed in target.beds() {
                assert_eq!(bed.score(), target.score(), "{target}: {bed}");
            }
        }
    }

    #[test]
    fn other_spellings_mean_the_same() {
        for (word, target) in [("20", "S20"), ("db", "Bull"), ("50", "Bull"), ("sb", "25")] {
            assert_eq!(word.parse::<Target>(), target.parse(), "{word}");
        }
    }

    #[test]
    fn what_is_no_target_is_refused_by_name() {
        for word in [
            "",
            "T",
            "X20",
            "T2O",
            "T-1",
            "TT20",
            "D20.",
            "T99999999999",
            "é",
        ] {
            assert_eq!(
                word.parse::<Target>(),
                Err(PlayError::NotATarget(word.to_owned()))
            );
        }
        for (word, number) in [("T21", 21), ("D0", 0), ("D25", 25), ("26", 26)] {
            let word = word.to_owned();
            assert_eq!(
                word.parse::<Target>(),
                Err(PlayError::NoSuchNumber { word, number })
            );
        }
    }

    #[test]
    fn a_dart_has_forty_three_different_scores() {
        // Recomputed independently.
        let scores: std::collections::BTreeSet<u8> = Target::all().map(Target::score).collect();
        assert_eq!(scores.len(), 43);
    }
}
