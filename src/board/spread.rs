//! Readings of one length that differ by more than repeatability explains: most
//! likely the length itself differs from place to place.

use statrs::distribution::{ChiSquared, ContinuousCDF, FisherSnedecor};

use super::{Basis, Construction, InputId, ReadingApart};
use crate::document::Span;
use crate::units::{Instrument, Length};

/// Readings that their instrument and the person's touch do not explain.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct WideSpread {
    /// Of which length.
    pub input: InputId,
    /// The standard deviation of a single reading.
    pub deviation: Length,
    /// What it should be.
    pub explained: Length,
    /// Whether that follows from the other lengths of the file, or is what the
    /// instrument explains.
    pub from_others: bool,
    /// The probability of so large a spread.
    pub probability: f64,
    /// Where the length stands.
    pub span: Span,
}

/// The probability below which a spread is not chance. House rule: a file of
/// twenty lengths is then named in one of fifty for nothing.
const LEAST: f64 = 0.001;

/// The standard deviation, in mm, that a touch explains where no instrument is
/// described: what U of 0.1 mm means. House rule.
const TOUCH: f64 = 0.05;

/// The degrees of freedom of other lengths from which they tell what
/// repeatability is. House rule.
const ENOUGH: f64 = 5.0;

/// Finds them among the lengths that one person read several times without
/// saying where.
pub(super) fn wide_spreads(
    construction: &Construction,
    instruments: &[Instrument],
    apart: &[ReadingApart],
) -> Vec<WideSpread> {
    let inputs = construction.inputs.iter().enumerate();
    let repeated: Vec<_> = inputs
        .filter_map(|(index, input)| match &input.basis {
            Basis::Readings { series, .. } => {
                let free = series.readings().len() as f64 - 1.0;
                let deviation = series.deviation().filter(|_| free >= 2.0)?;
                Some((index, input, deviation, free))
            }
            _ => None,
        })
        .collect();
    let find = |&(index, input, deviation, free): &(usize, &super::Input, f64, f64)| {
        // What was read at one place cannot differ from place to place.
        if input.at.is_some() {
            return None;
        }
        // A single slip has been named already.
        if apart.iter().any(|known| known.input.index() == index) {
            return None;
        }
        let others = repeated.iter().filter(|other| other.0 != index);
        let others = others.filter(|other| other.1.instrument == input.instrument);
        let (squares, degrees) = others.fold((0.0, 0.0), |(squares, degrees), other| {
            (squares + other.3 * other.2 * other.2, degrees + other.3)
        });
        let described = input.instrument.and_then(|index| instruments.get(index));
        let mm = |length: Option<Length>| length.map_or(0.0, Length::as_mm);
        let instrument = described.map_or(TOUCH, |known| {
            mm(known.resolution)
                .max(mm(known.max_error))
                .max(TOUCH / 2.0)
        });
        let from_others = degrees >= ENOUGH && squares > 0.0;
        let (explained, probability) = if from_others {
            // Not less than the instrument can tell apart.
            let step = described.map_or(0.0, |known| mm(known.resolution) / libm::sqrt(12.0));
            let own = libm::sqrt(squares / degrees).max(step);
            let ratio = (deviation / own) * (deviation / own);
            (own, FisherSnedecor::new(free, degrees).ok()?.sf(ratio))
        } else {
            let ratio = (deviation / instrument) * (deviation / instrument);
            (instrument, ChiSquared::new(free).ok()?.sf(free * ratio))
        };
        // A spread that an instrument explains is none, however steady the other
        // lengths were.
        (probability < LEAST && deviation > instrument).then(|| WideSpread {
            input: InputId::new(index),
            deviation: Length::mm(deviation),
            explained: Length::mm(explained),
            from_others,
            probability,
            span: input.span,
        })
    };
    repeated.iter().filter_map(find).collect()
}
