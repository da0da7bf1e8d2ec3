//! Lengths of a file, with their uncertainties, every problem collected.

use super::InstrumentFile;
use super::entries::{StatedUncertainty, UncertaintyEntry};
use super::evaluated::Evaluated;
use super::length_text::LengthText;
use super::usual::{Range, Ranges};
use crate::document::{Fault, Located, PlainOr, Problem, Problems, Span};
use crate::units::{Instrument, Length, LengthUnit, NotationFault, Uncertainty, parse_length};

/// Reads lengths in a file's units, collecting what is wrong with them.
pub(crate) struct Lengths<'a> {
    /// The unit of bare numbers, if the file states one.
    pub(crate) unit: Option<LengthUnit>,
    /// Whether a missing unit has been reported already, as a missing key.
    pub(crate) unit_is_missing: bool,
    pub(crate) problems: &'a mut Problems,
    /// The uncertainty that the file states for every length.
    pub(crate) file_wide: Option<Uncertainty>,
    /// The file's instruments.
    pub(super) instruments: &'a [Instrument],
    /// The names by which lengths can call them.
    pub(super) names: &'a [(String, InstrumentFile)],
    /// The instrument of lengths that name none.
    pub(super) usual: Option<usize>,
    /// What people took, by where it stands, until it is asked for.
    pub(super) taken: Vec<(Span, Evaluated)>,
}

impl<'a> Lengths<'a> {
    /// Lengths in this unit, of a file without instruments or a word on
    /// uncertainty.
    pub(crate) fn plain(unit: Option<LengthUnit>, problems: &'a mut Problems) -> Self {
        Self {
            unit,
            unit_is_missing: unit.is_none(),
            problems,
            file_wide: None,
            instruments: &[],
            names: &[],
            usual: None,
            taken: Vec::new(),
        }
    }

    pub(super) fn notation(&mut self, span: Span, fault: &NotationFault) {
        self.problems.add(Problem::new(
            Fault::Notation,
            span,
            fault.to_string(),
            fault.remedy(),
        ));
    }

    /// Any finite length, negative ones included.
    pub(crate) fn length(&mut self, text: &Located<LengthText>) -> Option<Length> {
        match (&text.value, self.unit) {
            (LengthText::Number(number), Some(unit)) => Some(unit.length(*number)),
            (LengthText::Number(_), None) if self.unit_is_missing => None,
            (LengthText::Number(number), None) => {
                self.notation(text.span, &NotationFault::NoUnit(number.to_string()));
                None
            }
            (LengthText::Text(words), _) => match parse_length(words) {
                Ok(length) => Some(length),
                Err(fault) => {
                    self.notation(text.span, &fault);
                    None
                }
            },
        }
    }

    /// A length that some board could have.
    pub(crate) fn within(&mut self, text: &Located<LengthText>, range: Range) -> Option<Length> {
        let length = self.length(text)?;
        self.check(length, text.span, range)
    }

    pub(crate) fn check(&mut self, length: Length, span: Span, range: Range) -> Option<Length> {
        if range.contains(length) {
            return Some(length);
        }
        // Inches leave digits beyond a nanometre that nobody wrote. What is as small as that
        // is told as it stands.
        let mm = length.as_mm();
        let told = if mm.abs() < 1e-3 {
            mm
        } else {
            (mm * 1e6).round() / 1e6
        };
        self.problems.add(Problem::new(
            Fault::OutOfRange,
            span,
            format!("{told} mm is not a possible {}", range.what),
            format!(
                "expected {} to {} mm: check the unit and the decimal point",
                range.least, range.most
            ),
        ));
        None
    }

    /// An uncertainty as it is stated.
    pub(crate) fn uncertainty(&mut self, entry: &UncertaintyEntry) -> Option<Uncertainty> {
        let usual_factor = |degrees: Option<f64>| {
            let degrees = degrees.unwrap_or(f64::INFINITY);
            Uncertainty::with_degrees(1.0, degrees).expanded().factor
        };
        let (text, factor, degrees) = match &entry.value {
            PlainOr::Plain(text) => (located(text, entry.span), usual_factor(None), None),
            PlainOr::Group(StatedUncertainty {
                expanded: Some(text),
                k,
                degrees_of_freedom,
                standard: None,
            }) => (
                text.clone(),
                k.unwrap_or_else(|| usual_factor(*degrees_of_freedom)),
                *degrees_of_freedom,
            ),
            PlainOr::Group(StatedUncertainty {
                expanded: None,
                k: None,
                degrees_of_freedom,
                standard: Some(text),
            }) => (text.clone(), 1.0, *degrees_of_freedom),
            PlainOr::Group(_) => {
                self.problems.add(Problem::new(
                    Fault::OneOf,
                    entry.span,
                    "an uncertainty is either expanded or standard",
                    "write `{ expanded: 0.05, k: 2 }` or `{ standard: 0.025 }`",
                ));
                return None;
            }
        };
        let stated = self.length(&text)?;
        if stated == Length::ZERO {
            self.problems.add(Problem::new(
                Fault::OutOfRange,
                text.span,
                "no length is known exactly: its uncertainty is above zero",
                "state how well it is known, or leave the key out if nobody knows",
            ));
            return None;
        }
        let stated = self.check(stated, text.span, Ranges::UNCERTAINTY)?;
        let degrees = degrees.unwrap_or(f64::INFINITY);
        Some(Uncertainty::with_degrees(stated.as_mm() / factor, degrees))
    }
}

pub(super) fn located(text: &LengthText, span: Span) -> Located<LengthText> {
    Located {
        value: text.clone(),
        span,
    }
}
