//! What points were taken on.

use std::fmt;
use std::str::FromStr;

use crate::board::{RingWire, SECTOR_ORDER};
use crate::units::{Length, NotationFault, parse_length};

/// What points were taken on.
///
/// ```
/// use ringrule::readings::Feature;
///
/// let wire: Feature = "sector 20/5".parse()?;
/// assert_eq!(wire, "sector 5/20".parse()?);
/// assert_eq!(wire, Feature::SectorWire(0));
/// assert_eq!(wire.to_string(), "sector 5/20");
/// assert!("sector 5/1".parse::<Feature>().is_err());
/// # Ok::<(), ringrule::readings::NoSuchFeature>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Feature {
    /// An edge of a ring wire.
    Ring(RingWire),
    /// The rim of the board.
    Overall,
    /// The centreline of the sector wire on the anticlockwise side of a sector,
    /// counted clockwise from the 20, which is 0.
    SectorWire(usize),
    /// The mark of a ruler at this length.
    RulerMark(Length),
}

/// A text that names nothing on which points are taken.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NoSuchFeature {
    /// None of the words.
    #[error("there is no feature `{0}`")]
    Unknown(String),
    /// Sectors that have no wire between them.
    #[error("no wire lies between the sectors of `{0}`")]
    NotNeighbours(String),
    /// A mark of a ruler without a length.
    #[error("`{text}` does not say which mark of the ruler it is")]
    Mark {
        /// The whole text.
        text: String,
        /// What is wrong with the length.
        source: NotationFault,
    },
}

impl NoSuchFeature {
    /// What to write instead.
    pub(super) fn remedy(&self) -> String {
        match self {
            Self::Unknown(text) => {
                let rings = RingWire::ALL.map(RingWire::key);
                let others = ["overall", "sector 5/20", "ruler 0 mm"];
                crate::document::nearest(text, &[&rings[..], &others[..]].concat())
            }
            Self::NotNeighbours(_) => {
                let pairs = (0..20).map(|index| Feature::SectorWire(index).to_string());
                let pairs: Vec<String> = pairs.map(|pair| pair.replace("sector ", "")).collect();
                format!("name two neighbours: {}", pairs.join(", "))
            }
            Self::Mark { source, .. } => match source {
                NotationFault::NoUnit(_) | NotationFault::Empty => {
                    "name the mark with its unit, such as `ruler 300 mm`".to_owned()
                }
                other => other.remedy(),
            },
        }
    }
}

impl Feature {
    /// Whether its points were taken to one of several edges.
    pub const fn has_edge(self) -> bool {
        matches!(self, Self::Ring(_))
    }

    /// The length of the mark, of a ruler's.
    pub(super) const fn mark(self) -> Option<Length> {
        match self {
            Self::RulerMark(length) => Some(length),
            _ => None,
        }
    }

    /// Whether it is round.
    pub const fn is_circle(self) -> bool {
        matches!(self, Self::Ring(_) | Self::Overall)
    }
}

impl FromStr for Feature {
    type Err = NoSuchFeature;

    fn from_str(text: &str) -> Result<Self, NoSuchFeature> {
        let lower = text.trim().to_lowercase();
        let unknown = || NoSuchFeature::Unknown(text.to_owned());
        if lower == "overall" {
            return Ok(Self::Overall);
        }
        if let Some(ring) = RingWire::ALL.into_iter().find(|ring| ring.key() == lower) {
            return Ok(Self::Ring(ring));
        }
        match lower.split_once(' ') {
            Some(("sector", pair)) => {
                let (a, b) = pair.split_once('/').ok_or_else(unknown)?;
                let [a, b] = [a, b].map(|sector| place(sector.trim()));
                let (a, b) = (a.ok_or_else(unknown)?, b.ok_or_else(unknown)?);
                let neighbours = || NoSuchFeature::NotNeighbours(text.to_owned());
                match (20 + a - b) % 20 {
                    1 => Ok(Self::SectorWire(a)),
                    19 => Ok(Self::SectorWire(b)),
                    _ => Err(neighbours()),
                }
            }
            Some(("ruler", mark)) => match parse_length(mark) {
                Ok(length) => Ok(Self::RulerMark(length)),
                Err(source) => Err(NoSuchFeature::Mark {
                    text: text.to_owned(),
                    source,
                }),
            },
            None if lower == "ruler" => Err(NoSuchFeature::Mark {
                text: text.to_owned(),
                source: NotationFault::Empty,
            }),
            _ => Err(unknown()),
        }
    }
}

/// The place of a sector, clockwise from the 20.
fn place(sector: &str) -> Option<usize> {
    let number: u8 = sector.parse().ok()?;
    SECTOR_ORDER.iter().position(|&known| known == number)
}

impl fmt::Display for Feature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sector = |place: usize| SECTOR_ORDER.get(place % 20).copied().unwrap_or_default();
        match self {
            Self::Ring(ring) => f.pad(ring.key()),
            Self::Overall => f.pad("overall"),
            Self::SectorWire(place) => {
                f.pad(&format!("sector {}/{}", sector(place + 19), sector(*place)))
            }
            Self::RulerMark(mark) => f.pad(&format!("ruler {} mm", mark.as_mm())),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test may stop")]
    use super::*;

    #[test]
    fn every_name_leads_back_to_its_feature() {
        let rings = RingWire::ALL.map(Feature::Ring);
        let wires = (0..20).map(Feature::SectorWire);
        let others = [Feature::Overall, Feature::RulerMark(Length::mm(12.5))];
        for feature in rings.into_iter().chain(wires).chain(others) {
            assert_eq!(feature.to_string().parse(), Ok(feature));
        }
        assert_eq!("Sector 1/20".parse(), Ok(Feature::SectorWire(1)));
    }

    #[test]
    fn what_is_no_feature_says_what_there_is() {
        let error = |text: &str| text.parse::<Feature>().expect_err("no feature");
        assert!(error("trebel_outer").remedy().contains("treble_outer"));
        assert!(matches!(
            error("sector 5/1"),
            NoSuchFeature::NotNeighbours(_)
        ));
        assert!(matches!(error("sector 21/1"), NoSuchFeature::Unknown(_)));
        assert!(matches!(error("sector 20"), NoSuchFeature::Unknown(_)));
        assert!(matches!(error("ruler 300"), NoSuchFeature::Mark { .. }));
        assert!(matches!(error("ruler"), NoSuchFeature::Mark { .. }));
    }
}
