//! From the instruments of a file to what they add to lengths.

use super::InstrumentFile;
use super::entries::StatedUncertainty;
use super::file::BoardFile;
use super::instrument_file::CorrectionFile;
use super::length_text::LengthText;
use super::lengths::Lengths;
use super::usual::Ranges;
use crate::document::{Fault, Located, PlainOr, Problem, Problems, day, nearest};
use crate::units::{Correction, Instrument, Length, LengthUnit};

/// The instruments of a file, and the one of lengths that name none.
pub(super) struct Instruments {
    pub(super) all: Vec<Instrument>,
    pub(super) usual: Option<usize>,
}

impl Instruments {
    /// Reads every description. A single one serves all lengths.
    pub(super) fn read(file: &BoardFile, problems: &mut Problems) -> Self {
        let unit = file.units.as_ref().map(|units| units.value);
        let named = file.instruments.as_ref().map_or(&[][..], |named| &named.0);
        let read = |(name, entry): &(String, InstrumentFile)| {
            let own = entry.name.as_ref().unwrap_or(name);
            let is_known = entry.unidentified != Some(true);
            Instrument {
                name: is_known.then(|| own.clone()),
                ..read_instrument(entry, unit, problems)
            }
        };
        let mut all: Vec<Instrument> = named.iter().map(read).collect();
        let usual = match &file.instrument {
            None => (all.len() == 1).then_some(0),
            Some(entry) => match &entry.value {
                PlainOr::Plain(name) => find(named, name, entry.span, problems),
                PlainOr::Group(entry) => {
                    all.push(read_instrument(entry, unit, problems));
                    Some(all.len() - 1)
                }
            },
        };
        Self { all, usual }
    }
}

/// The index of an instrument by its name in the file; reported if there is
/// none.
pub(super) fn find(
    named: &[(String, InstrumentFile)],
    name: &str,
    span: crate::document::Span,
    problems: &mut Problems,
) -> Option<usize> {
    let found = named.iter().position(|(known, _)| known == name);
    if found.is_none() {
        let known: Vec<&str> = named.iter().map(|(known, _)| known.as_str()).collect();
        let remedy = if known.is_empty() {
            format!("describe it: `instruments: {{ {name}: {{ resolution: 0.01 }} }}`")
        } else {
            nearest(name, &known)
        };
        problems.add(Problem::new(
            Fault::UnknownWord,
            span,
            format!("`{name}` is not one of the file's instruments"),
            remedy,
        ));
    }
    found
}

fn read_instrument(
    entry: &InstrumentFile,
    unit: Option<LengthUnit>,
    problems: &mut Problems,
) -> Instrument {
    let mut date = |text: &Option<Located<String>>| day(text.as_ref()?, problems);
    let (calibrated, due) = (date(&entry.calibrated), date(&entry.due));
    if let (Some(from), Some(to), Some(text)) = (calibrated, due, &entry.due)
        && to < from
    {
        let problem = Problem::new(
            Fault::Contradiction,
            text.span,
            format!("the calibration is due on {to}, before it was done on {from}"),
            "check both days: an instrument is due after it was calibrated",
        );
        let first = entry.calibrated.as_ref().map(|own| own.span);
        problems.add(match first {
            Some(first) => problem.and(first, "the day of the calibration"),
            None => problem,
        });
    }
    let mut lengths = Lengths::plain(unit, problems);
    let mut step =
        |text: &Option<Located<LengthText>>| lengths.within(text.as_ref()?, Ranges::UNCERTAINTY);
    let (resolution, max_error) = (step(&entry.resolution), step(&entry.max_error));
    Instrument {
        name: entry.name.clone(),
        resolution,
        max_error,
        errors: entry.errors.unwrap_or_default(),
        range: entry
            .range
            .as_deref()
            .and_then(|range| read_range(range, &mut lengths)),
        correction: entry
            .correction
            .as_ref()
            .and_then(|known| read_correction(known, &mut lengths)),
        certificate: entry.certificate.clone(),
        calibrated,
        due,
    }
}

fn read_range(ends: &[Located<LengthText>], lengths: &mut Lengths<'_>) -> Option<(Length, Length)> {
    let [least, most] = ends else { return None };
    let span = most.span;
    let (least, most) = (lengths.length(least)?, lengths.length(most)?);
    if least < most {
        return Some((least, most));
    }
    lengths.problems.add(Problem::new(
        Fault::Contradiction,
        span,
        format!("a range from {least} to {most} holds no length"),
        "write the shortest length first: `range: [0, 150]`",
    ));
    None
}

fn read_correction(known: &CorrectionFile, lengths: &mut Lengths<'_>) -> Option<Correction> {
    let text = known.value.as_ref()?;
    let value = lengths.length(text)?;
    if !Ranges::UNCERTAINTY.contains(value.abs()) && value != Length::ZERO {
        lengths.problems.add(Problem::new(
            Fault::OutOfRange,
            text.span,
            format!("{value} is not a possible correction"),
            "expected at most 5 mm either way: check the unit and the decimal mark",
        ));
        return None;
    }
    let stated = StatedUncertainty {
        expanded: known.expanded.clone(),
        k: known.k,
        degrees_of_freedom: None,
        standard: known.standard.clone(),
    };
    let is_stated = stated.expanded.is_some() || stated.standard.is_some();
    let uncertainty = is_stated.then_some(Located {
        value: PlainOr::Group(stated),
        span: text.span,
    });
    Some(Correction {
        value,
        uncertainty: uncertainty.and_then(|entry| lengths.uncertainty(&entry)),
    })
}
