//! Ratios as somebody states them: `treble=1.16±0.01`.

use std::str::FromStr;

use thiserror::Error;

use crate::board::{Band, PerBand};
use crate::units::Uncertainty;

/// How many times harder a band's beds are than on the first board, as somebody says.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct GivenRatio {
    /// Which band.
    pub band: Band,
    /// How many times harder: above zero.
    pub times: f64,
    /// How well that is known, if it was said.
    pub uncertainty: Option<Uncertainty>,
}

/// Ratios of as many bands as were named. The others are as hard as on the first board,
/// exactly.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GivenRatios(PerBand<Option<GivenRatio>>);

/// A text that is no ratio. Its words say what to write instead.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum RatioError {
    /// Nothing that names a band and a number.
    #[error("`{0}` is not a band and its ratio; write `treble=1.16`, or `treble=1.16±0.01`")]
    Form(String),
    /// A word that is no band.
    #[error(
        "there is no band `{0}`; write treble, double, outer-single, inner-single, outer-bull or inner-bull"
    )]
    NoBand(String),
    /// What should be a number, and is none.
    #[error("`{0}` is not a number; write a plain decimal number, such as `1.16`")]
    NotANumber(String),
    /// A ratio of nothing, below nothing, or without end.
    #[error("no bed is {0} times as hard; a ratio is above 0, and 1 where nothing changed")]
    NotARatio(f64),
    /// An uncertainty that is none.
    #[error(
        "a ratio of {times} is not known to ±{stated}; write its expanded uncertainty (k = 2), \
         above 0 and below the ratio, or leave it out if nobody knows it"
    )]
    Uncertainty {
        /// The ratio.
        times: f64,
        /// What was stated.
        stated: f64,
    },
    /// One band named twice.
    #[error("the {0} is given two ratios; keep one of them")]
    Twice(Band),
}

impl GivenRatio {
    /// From numbers; `expanded` is the expanded uncertainty (k = 2).
    pub fn new(band: Band, times: f64, expanded: Option<f64>) -> Result<Self, RatioError> {
        if !(times > 0.0 && times.is_finite()) {
            return Err(RatioError::NotARatio(times));
        }
        if let Some(stated) = expanded
            && !(stated > 0.0 && stated < times)
        {
            return Err(RatioError::Uncertainty { times, stated });
        }
        Ok(Self {
            band,
            times,
            uncertainty: expanded.map(|expanded| Uncertainty::finite(0.5 * expanded)),
        })
    }
}

impl FromStr for GivenRatio {
    type Err = RatioError;

    /// `BAND=RATIO`, or `BAND=RATIO±U` (`+-` will do), U being an expanded uncertainty
    /// with k = 2. A band is written as in files (`outer_single`), or with hyphens or
    /// blanks.
    fn from_str(text: &str) -> Result<Self, RatioError> {
        let form = || RatioError::Form(text.to_owned());
        let (word, value) = text.split_once('=').ok_or_else(form)?;
        if word.trim().is_empty() || value.trim().is_empty() {
            return Err(form());
        }
        let key = word.trim().to_ascii_lowercase().replace(['-', ' '], "_");
        let band = Band::ALL.into_iter().find(|band| band.key() == key);
        let band = band.ok_or_else(|| RatioError::NoBand(word.trim().to_owned()))?;
        let parts = value.split_once('±').or_else(|| value.split_once("+-"));
        let (times, expanded) = match parts {
            Some((times, expanded)) => (times, Some(expanded)),
            None => (value, None),
        };
        let times = number(times).ok_or_else(|| not_a_number(times, text))?;
        let expanded = expanded
            .map(|expanded| number(expanded).ok_or_else(|| not_a_number(expanded, text)))
            .transpose()?;
        Self::new(band, times, expanded)
    }
}

/// What is written in place of a number; with nothing there, the whole text.
fn not_a_number(part: &str, whole: &str) -> RatioError {
    match part.trim() {
        "" => RatioError::Form(whole.to_owned()),
        part => RatioError::NotANumber(part.to_owned()),
    }
}

/// A finite number; what lies beyond every finite one is none.
fn number(text: &str) -> Option<f64> {
    let number: f64 = text.trim().parse().ok()?;
    number.is_finite().then_some(number)
}

impl GivenRatios {
    /// Of any bands, each named once.
    pub fn new(ratios: impl IntoIterator<Item = GivenRatio>) -> Result<Self, RatioError> {
        let mut all = Self::default();
        for ratio in ratios {
            if all.0[ratio.band].replace(ratio).is_some() {
                return Err(RatioError::Twice(ratio.band));
            }
        }
        Ok(all)
    }

    /// What was said of a band.
    pub fn of(&self, band: Band) -> Option<GivenRatio> {
        self.0[band]
    }

    /// How many times harder a band is: exactly 1 where nothing was said.
    pub fn times(&self, band: Band) -> f64 {
        self.of(band).map_or(1.0, |given| given.times)
    }
}
