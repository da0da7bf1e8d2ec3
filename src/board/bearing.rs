//! Where around the board something lies.

use std::fmt;

use serde::{Deserialize, Serialize, Serializer};

use super::length_text::{LengthText, number_or_text};
use super::parts::SECTOR_ORDER;
use crate::document::{Fault, Located, Problem, Problems};
use crate::units::Angle;

/// A bearing as it is written: a sector's number, or degrees with their sign.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(transparent)]
pub struct BearingText(pub LengthText);

impl Serialize for BearingText {
    /// A sector's number has no decimals.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if let LengthText::Number(number) = self.0
            && let Some(Bearing::Sector(index)) = sector(number)
            && let Some(own) = SECTOR_ORDER.get(index)
        {
            return own.serialize(serializer);
        }
        self.0.serialize(serializer)
    }
}

impl From<Bearing> for BearingText {
    fn from(bearing: Bearing) -> Self {
        let number = match bearing {
            Bearing::Sector(index) => SECTOR_ORDER.get(index),
            Bearing::Turned(_) => None,
        };
        Self(match number {
            Some(number) => LengthText::Number(f64::from(*number)),
            None => LengthText::Text(format!("{}°", bearing.angle().as_degrees())),
        })
    }
}

number_or_text!(
    BearingText,
    super::forms::bearing,
    "A place around the board: the number of a sector (its middle), or degrees clockwise from the top (`45°`).",
    [20, 6, "45°"]
);

/// A direction from the middle of the board.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Bearing {
    /// Through the middle of the sector with this index, clockwise from the top.
    Sector(usize),
    /// So far clockwise from the top.
    Turned(Angle),
}

impl Bearing {
    /// The sector with this number.
    ///
    /// ```
    /// use ringrule::board::Bearing;
    ///
    /// let six = Bearing::of_number(6).ok_or("no sector")?;
    /// assert!((six.angle().as_degrees() - 90.0).abs() < 1e-9);
    /// assert_eq!(Bearing::of_number(21), None);
    /// # Ok::<(), &str>(())
    /// ```
    pub fn of_number(number: u8) -> Option<Self> {
        let index = SECTOR_ORDER.iter().position(|&own| own == number)?;
        Some(Self::Sector(index))
    }

    /// Clockwise from the top.
    pub fn angle(self) -> Angle {
        match self {
            Self::Sector(index) => Angle::degrees(18.0 * index as f64),
            Self::Turned(angle) => angle,
        }
    }

    /// Whether two are one, written in whichever way.
    pub fn is(self, other: Self) -> bool {
        let apart = (self.angle() - other.angle()).as_degrees();
        let turns = libm::round(apart / 360.0);
        (apart - 360.0 * turns).abs() < 1e-6
    }

    /// Whether two are one, where what is taken `across` the board is the same
    /// from its other side.
    pub(crate) fn is_or_faces(self, other: Self, across: bool) -> bool {
        self.is(other) || (across && self.opposite().is(other))
    }

    /// How far round from the top, in degrees from 0 to below 360, and below 180
    /// for what is taken `across` the board: the order in which a person goes
    /// round.
    pub(crate) fn clockwise(self, across: bool) -> f64 {
        let turn = if across { 180.0 } else { 360.0 };
        let degrees = self.angle().as_degrees();
        let turned = degrees - turn * libm::floor(degrees / turn);
        // What rounding left of a whole turn is none.
        if turn - turned < 1e-6 { 0.0 } else { turned }
    }

    /// The one on the other side of the board.
    #[must_use]
    pub fn opposite(self) -> Self {
        match self {
            Self::Sector(index) => Self::Sector((index + 10) % 20),
            Self::Turned(angle) => Self::Turned(angle + Angle::degrees(180.0)),
        }
    }
}

impl fmt::Display for Bearing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Sector(index) => match SECTOR_ORDER.get(*index) {
                Some(number) => write!(f, "{number}"),
                None => Ok(()),
            },
            Self::Turned(angle) => {
                let hundredths = libm::round(angle.as_degrees() * 100.0) / 100.0;
                write!(f, "{hundredths}°")
            }
        }
    }
}

/// Reads a bearing.
pub(crate) fn read_bearing(
    text: &Located<BearingText>,
    problems: &mut Problems,
) -> Option<Bearing> {
    if let LengthText::Text(words) = &text.value.0
        && let Some(turned) = degrees(words).filter(|own| *own < 0.0 && *own >= -360.0)
    {
        let (written, clockwise) = (words.trim(), turned + 360.0);
        problems.add(Problem::new(
            Fault::Notation,
            text.span,
            format!("`{written}` has a sign, and degrees are counted clockwise from the top"),
            format!("write `{clockwise}°`, if anticlockwise is meant"),
        ));
        return None;
    }
    let read = match &text.value.0 {
        LengthText::Number(number) => sector(*number),
        LengthText::Text(words) => {
            let words = words.trim();
            let turned = degrees(words).filter(|degrees| (0.0..=360.0).contains(degrees));
            let turned = turned.map(|degrees| Bearing::Turned(Angle::degrees(degrees)));
            turned.or_else(|| sector(words.parse().ok()?))
        }
    };
    if read.is_none() {
        let written = match &text.value.0 {
            LengthText::Number(number) => number.to_string(),
            LengthText::Text(words) => words.clone(),
        };
        problems.add(Problem::new(
            Fault::Notation,
            text.span,
            format!("`{written}` is no place around the board"),
            "write a sector's number, such as `20`, or degrees clockwise from the top, such as \
             `45°`",
        ));
    }
    read
}

fn degrees(words: &str) -> Option<f64> {
    ["°", "degrees", "deg"].iter().find_map(|sign| {
        let number = words.trim().strip_suffix(sign)?.trim();
        number.parse::<f64>().ok().filter(|n| n.is_finite())
    })
}

fn sector(number: f64) -> Option<Bearing> {
    let index = SECTOR_ORDER
        .iter()
        .position(|&own| (f64::from(own) - number).abs() < 1e-9)?;
    Some(Bearing::Sector(index))
}
