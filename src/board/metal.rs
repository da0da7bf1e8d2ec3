//! What becomes of a dart that lands on metal.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use crate::units::{NotationFault, parse_percent};

/// What metal does. No published share of darts that bounce out is known, and
/// this decides most of how two boards differ: show both extremes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Metal {
    /// A dart on metal scores nothing: only free regions score. The default,
    /// by house rule: it is the assumption under which free areas, the thing
    /// that this program measures, are what counts.
    #[default]
    Lost,
    /// A dart on metal falls to the bed on its own side of the wire's apex;
    /// on the outer double wire's far side, out of play.
    Glances,
    /// That share of the darts on metal is lost; the others glance.
    Share(BounceShare),
}

/// A share of darts, 0 to 1, that bounces out off metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BounceShare(f64);

/// A share that is not one.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[error("a share of {0} of the darts cannot bounce out; write one from 0 (none) to 1 (all)")]
pub struct BounceShareError(f64);

impl BounceShare {
    /// From a share, 0 (every dart glances) to 1 (every dart is lost).
    pub fn new(share: f64) -> Result<Self, BounceShareError> {
        if (0.0..=1.0).contains(&share) {
            Ok(Self(share))
        } else {
            Err(BounceShareError(share))
        }
    }

    /// The share, 0 to 1.
    pub const fn value(self) -> f64 {
        self.0
    }
}

/// A word that says nothing of metal.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum MetalError {
    /// Neither of the two words, and no percentage.
    #[error("`{0}` does not say what metal does to a dart")]
    Word(String),
    /// A percentage that is not written as one.
    #[error(transparent)]
    Notation(#[from] NotationFault),
    /// A share that is not one.
    #[error(transparent)]
    Share(#[from] BounceShareError),
}

impl MetalError {
    /// What to write instead.
    pub fn remedy(&self) -> String {
        let forms = "write `lost`, `glances`, or the share that bounces out, such as `30 %`";
        match self {
            // Other faults of notation have remedies for lengths.
            Self::Notation(fault @ NotationFault::NoPercentSign(number))
                if number.parse().is_ok_and(|percent: f64| percent <= 100.0) =>
            {
                fault.remedy()
            }
            _ => forms.to_owned(),
        }
    }
}

impl FromStr for Metal {
    type Err = MetalError;

    /// `lost`, `glances`, or the share of darts on metal that bounces out and
    /// is lost: `30 %`.
    fn from_str(text: &str) -> Result<Self, MetalError> {
        match text.trim() {
            "lost" => Ok(Self::Lost),
            "glances" => Ok(Self::Glances),
            word if word.starts_with(|c: char| c.is_ascii_digit() || c == '-') => {
                let share = BounceShare::new(parse_percent(word)?.ratio())?;
                Ok(Self::Share(share))
            }
            word => Err(MetalError::Word(word.to_owned())),
        }
    }
}

impl Metal {
    /// The two extremes between which every board lies.
    pub const EXTREMES: [Self; 2] = [Self::Lost, Self::Glances];

    /// The share of darts on metal that is lost, 0 to 1.
    pub const fn lost_share(self) -> f64 {
        match self {
            Self::Lost => 1.0,
            Self::Glances => 0.0,
            Self::Share(share) => share.0,
        }
    }
}

impl fmt::Display for Metal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Lost => f.write_str("a dart on metal is lost"),
            Self::Glances => f.write_str("a dart on metal glances to its side of the apex"),
            Self::Share(share) => {
                let percent = 100.0 * share.0;
                write!(
                    f,
                    "{percent:.0} % of darts on metal are lost, the others glance"
                )
            }
        }
    }
}

#[cfg(test)]
#[allow(clippy::expect_used, clippy::float_cmp)]
mod tests {
    use super::*;

    #[test]
    fn files_say_what_metal_does_in_a_word_or_a_share() {
        assert_eq!("lost".parse(), Ok(Metal::Lost));
        assert_eq!("glances".parse(), Ok(Metal::Glances));
        for text in ["30 %", "30%", "30.0 %"] {
            let metal: Metal = text.parse().expect("a share");
            assert!((metal.lost_share() - 0.3).abs() < 1e-12, "{text}");
        }
        for (text, remedy) in [
            ("30", "write `30 %`"),
            ("Lost", "`glances`"),
            ("130 %", "`30 %`"),
            ("-5 %", "`30 %`"),
            ("", "`lost`"),
        ] {
            let error = text.parse::<Metal>().expect_err(text);
            assert!(
                error.remedy().contains(remedy),
                "{text}: {}",
                error.remedy()
            );
        }
    }

    #[test]
    fn a_share_is_between_none_and_all() {
        for share in [-0.1, 1.1, f64::NAN] {
            assert!(BounceShare::new(share).is_err(), "{share}");
        }
        let share = BounceShare::new(0.4).expect("a share");
        assert_eq!(Metal::Share(share).lost_share(), 0.4);
        assert_eq!(Metal::default(), Metal::Lost);
        assert!(Metal::Share(share).to_string().starts_with("40 %"));
    }
}
