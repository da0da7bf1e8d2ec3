//! From the temperature in a file to what it did to lengths.

use super::TemperatureFile;
use super::length_text::{ExpansionText, LengthText, TemperatureText};
use super::temperature::MeasuringTemperature;
use crate::document::{Fault, Located, PlainOr, Problem, Problems, Span};
use crate::units::{
    Expansion, NotationFault, Temperature, Uncertainty, parse_expansion, parse_kelvins,
    parse_temperature,
};

/// Where people measure boards, in °C. House rule.
const TEMPERATURES: (f64, f64) = (-30.0, 60.0);
/// U of a temperature, in K. House rule: more is not to know it.
const KELVINS: (f64, f64) = (0.0, 20.0);
/// Coefficients of expansion, per kelvin. House rule: from none to that of the
/// softest plastics.
const EXPANSIONS: (f64, f64) = (0.0, 300e-6);

/// A number that is read, and what it may be.
struct Kind {
    read: fn(&str) -> Result<f64, NotationFault>,
    what: &'static str,
    range: (f64, f64),
    expected: &'static str,
    forms: &'static str,
}

const TEMPERATURE: Kind = Kind {
    read: |text| parse_temperature(text).map(Temperature::as_celsius),
    what: "temperature of measurement",
    range: TEMPERATURES,
    expected: "expected -30 to 60 °C: check the unit and the decimal point",
    forms: "write the temperature with its unit: `27 °C` or `80.5 °F`",
};
const DIFFERENCE: Kind = Kind {
    read: parse_kelvins,
    what: "uncertainty of a temperature",
    range: KELVINS,
    expected: "expected 0 to 20 K: check the unit and the decimal point",
    forms: "write the difference with its unit: `1 K`",
};
const COEFFICIENT: Kind = Kind {
    read: parse_expansion,
    what: "coefficient of expansion",
    range: EXPANSIONS,
    expected: "expected 0 to 300e-6 /K: check the unit and the exponent",
    forms: "write the coefficient with its unit: `11.5e-6 /K` or `11.5 ppm/K`",
};

/// Reads it, and collects what is wrong with it.
pub(super) fn read_temperature(
    entry: &Located<PlainOr<TemperatureText, TemperatureFile>>,
    problems: &mut Problems,
) -> Option<MeasuringTemperature> {
    let file = match &entry.value {
        PlainOr::Plain(text) => TemperatureFile {
            at: Some(Located {
                value: text.clone(),
                span: entry.span,
            }),
            ..TemperatureFile::default()
        },
        PlainOr::Group(file) => file.clone(),
    };
    let at = temperature(file.at.as_ref(), &TEMPERATURE, problems);
    let of_at = temperature(file.uncertainty.as_ref(), &DIFFERENCE, problems);
    let expansion = read_expansion(
        file.expansion.as_ref(),
        file.expansion_uncertainty.as_ref(),
        "`expansion: 11.5e-6 /K`",
        problems,
    );
    let of_instruments = read_expansion(
        file.instrument_expansion.as_ref(),
        file.instrument_expansion_uncertainty.as_ref(),
        "`instrument_expansion: 11.5e-6 /K`",
        problems,
    );
    if let (None, Some(own)) = (&file.expansion, &file.instrument_expansion) {
        without(
            own.span,
            "the expansion of the instruments is given, and that of the board is not",
            "`expansion: 11.5e-6 /K`",
            problems,
        );
    }
    Some(MeasuringTemperature {
        at: Temperature::finite(at?),
        uncertainty: expanded(of_at),
        expansion,
        of_instruments,
    })
}

fn read_expansion(
    value: Option<&Located<ExpansionText>>,
    uncertainty: Option<&Located<ExpansionText>>,
    missing: &str,
    problems: &mut Problems,
) -> Option<Expansion> {
    let mut number = |text: Option<&Located<ExpansionText>>| {
        let text = text?;
        number(&text.value.0, text.span, &COEFFICIENT, problems)
    };
    let (per_kelvin, of_it) = (number(value), number(uncertainty));
    if let (None, Some(alone)) = (value, uncertainty) {
        let what = "a coefficient of expansion that is not given has no uncertainty";
        without(alone.span, what, missing, problems);
    }
    Some(Expansion::finite(per_kelvin?, expanded(of_it)))
}

fn temperature(
    text: Option<&Located<TemperatureText>>,
    kind: &Kind,
    problems: &mut Problems,
) -> Option<f64> {
    let text = text?;
    number(&text.value.0, text.span, kind, problems)
}

/// From U with k = 2; zero if none is stated.
fn expanded(u: Option<f64>) -> Uncertainty {
    Uncertainty::finite(u.unwrap_or(0.0) / 2.0)
}

fn number(text: &LengthText, span: Span, kind: &Kind, problems: &mut Problems) -> Option<f64> {
    let read = match text {
        LengthText::Number(number) => Err(NotationFault::NoUnit(number.to_string())),
        LengthText::Text(words) => (kind.read)(words),
    };
    let (fault, message, remedy) = match read {
        Ok(number) if (kind.range.0..=kind.range.1).contains(&number) => return Some(number),
        Ok(_) => {
            let written = match text {
                LengthText::Number(number) => number.to_string(),
                LengthText::Text(words) => words.clone(),
            };
            let message = format!("`{written}` is not a possible {}", kind.what);
            (Fault::OutOfRange, message, kind.expected)
        }
        Err(fault) => (Fault::Notation, fault.to_string(), kind.forms),
    };
    problems.add(Problem::new(fault, span, message, remedy));
    None
}

fn without(span: Span, what: &str, missing: &str, problems: &mut Problems) {
    problems.add(Problem::new(
        Fault::Contradiction,
        span,
        what.to_owned(),
        format!("add {missing}, or remove the key"),
    ));
}
