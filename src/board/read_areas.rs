//! Areas that a board file records, with every problem collected.

use super::areas_file::{AreasFile, BedAreaEntry};
use super::length_text::{AreaText, LengthText};
use super::{Band, PerBand};
use crate::document::{Fault, Located, Problem, Problems, Span};
use crate::units::{Area, LengthUnit, Uncertainty, parse_area};

/// A bed's free area as somebody recorded it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct RecordedArea {
    /// The free area of one bed of the band, in the mean over its beds.
    pub bed: Area,
    /// How well it is known, in mm², if the file says.
    pub uncertainty: Option<Uncertainty>,
    /// Where the value stands.
    pub span: Span,
    /// Where it came from, in words.
    pub from: Option<String>,
}

/// The free area, in mm², that one bed of a band has on the usual boards, about.
/// Recomputed from a stapled board to rule (from memory), to two digits.
const fn usual(band: Band) -> f64 {
    match band {
        Band::InnerBull => 130.0,
        Band::OuterBull => 600.0,
        Band::InnerSingle => 1300.0,
        Band::Treble => 240.0,
        Band::OuterSingle => 2100.0,
        Band::Double => 400.0,
    }
}

/// So many times the usual area, or one part in so many of it, no bed has. House rule:
/// far wider than every board ever sold, narrow enough for another unit, or a whole
/// ring in place of a bed, to show.
const FAR: f64 = 4.0;

/// Reads the areas of a file; `factor` brings its lengths to 20 °C, and its square areas.
pub(super) fn read_areas(
    areas: &AreasFile,
    unit: Option<LengthUnit>,
    factor: f64,
    problems: &mut Problems,
) -> PerBand<Option<RecordedArea>> {
    PerBand::from_fn(|band| {
        let entry = areas.get(band)?;
        let read = read_area(band, entry, unit, problems)?;
        let square = factor * factor;
        Some(RecordedArea {
            bed: read.bed * square,
            uncertainty: read.uncertainty.map(|u| u.scaled(square)),
            ..read
        })
    })
}

fn read_area(
    band: Band,
    entry: &BedAreaEntry,
    unit: Option<LengthUnit>,
    problems: &mut Problems,
) -> Option<RecordedArea> {
    // A missing `bed` has been reported as a missing key.
    let text = entry.bed.as_ref()?;
    let bed = area(text, unit, problems);
    let stated = entry.uncertainty.as_ref();
    let uncertainty = stated.and_then(|text| Some((text.span, area(text, unit, problems)?)));
    let bed = bed?;
    let (least, most) = (usual(band) / FAR, usual(band) * FAR);
    if !(least..=most).contains(&bed.as_mm2()) {
        problems.add(Problem::new(
            Fault::OutOfRange,
            text.span,
            format!("{bed} is not a possible free area of one bed of the {band}"),
            format!(
                "expected {least} to {most} mm²: check the unit and the decimal point, and that \
                 it is one bed and not the whole ring"
            ),
        ));
        return None;
    }
    if let Some((span, stated)) = uncertainty
        && !(stated > Area::ZERO && stated < bed)
    {
        problems.add(Problem::new(
            Fault::OutOfRange,
            span,
            format!("an area of {bed} is not known to {stated}"),
            "state its expanded uncertainty (k = 2), above zero and below the area, or leave the \
             key out if nobody knows",
        ));
        return None;
    }
    Some(RecordedArea {
        bed,
        uncertainty: uncertainty.map(|(_, stated)| Uncertainty::finite(0.5 * stated.as_mm2())),
        span: text.span,
        from: entry.from.clone(),
    })
}

fn area(
    text: &Located<AreaText>,
    unit: Option<LengthUnit>,
    problems: &mut Problems,
) -> Option<Area> {
    match &text.value.0 {
        // A missing unit has been reported as a missing key.
        LengthText::Number(number) => Some(unit?.area(*number)),
        LengthText::Text(words) => match parse_area(words) {
            Ok(area) => Some(area),
            Err(fault) => {
                let remedy = fault.remedy();
                problems.add(Problem::new(
                    Fault::Notation,
                    text.span,
                    fault.to_string(),
                    remedy,
                ));
                None
            }
        },
    }
}

#[cfg(test)]
#[allow(clippy::expect_used)]
mod tests {
    use super::*;
    use crate::board::Board;
    use crate::document::Source;

    fn read(units: &str, areas: &str) -> Result<Board, String> {
        let text = format!(
            "format: ringrule/board/1\nboard: {{ id: A-1 }}\nmounting: staples\n\
             units: {units}\nareas: {areas}\n"
        );
        Board::read(Source::new("a-1.yaml", text)).map_err(|invalid| invalid.to_string())
    }

    #[test]
    fn an_area_follows_the_units_of_its_file_or_its_own() {
        // Invented values; 25.4² mm² to the square inch.
        for (units, text, mm2) in [
            ("mm", "242", 242.0),
            ("in", "0.375", 241.935),
            ("mm", "0.375 in²", 241.935),
            ("in", "242 mm2", 242.0),
        ] {
            let board = read(units, &format!("{{ treble: {{ bed: {text} }} }}")).expect("a board");
            let treble = board.construction.areas[Band::Treble].as_ref();
            let found = treble.expect("recorded").bed.as_mm2();
            assert!((found - mm2).abs() < 1e-9, "{units} {text}: {found}");
            assert!(board.construction.areas[Band::Double].is_none());
        }
    }

    #[test]
    fn an_uncertainty_is_expanded_with_two() {
        let board = read("mm", "{ double: { bed: 400, uncertainty: 5 } }").expect("a board");
        let double = board.construction.areas[Band::Double].as_ref();
        let u = double.expect("recorded").uncertainty.expect("stated");
        assert!((u.standard() - 2.5).abs() < 1e-12);
    }

    #[test]
    fn an_area_warm_is_brought_to_reference_with_the_square() {
        let text = "format: ringrule/board/1\nboard: { id: A-1 }\nmounting: staples\nunits: mm\n\
                    temperature: { at: 30 °C, expansion: 20e-6 /K }\n\
                    areas: { treble: { bed: 242 } }\n";
        let board = Board::read(Source::new("a-1.yaml", text)).expect("a board");
        let treble = board.construction.areas[Band::Treble].as_ref();
        let found = treble.expect("recorded").bed.as_mm2();
        // Closed form.
        let expected = 242.0 / (1.0002 * 1.0002);
        assert!((found - expected).abs() < 1e-9, "{found}");
    }

    #[test]
    fn what_is_no_area_is_refused_at_its_place() {
        for (areas, said) in [
            ("{ treble: { bed: -242 } }", "not a possible free area"),
            ("{ treble: { bed: 0 } }", "not a possible free area"),
            ("{ treble: { bed: 4836 } }", "not a possible free area"),
            ("{ treble: { bed: .nan } }", ".nan"),
            ("{ treble: { bed: \"242\" } }", "no unit of area"),
            ("{ treble: { bed: 242 mm } }", "not a unit of area"),
            ("{ treble: { bed: 242, uncertainty: 0 } }", "not known to"),
            ("{ treble: { bed: 242, uncertainty: -3 } }", "not known to"),
            ("{ treble: { bed: 242, uncertainty: 300 } }", "not known to"),
            ("{ treble: { uncertainty: 3 } }", "bed"),
            ("{ quadro: { bed: 242 } }", "quadro"),
        ] {
            let said_of = read("mm", areas).expect_err("invalid");
            assert!(said_of.contains(said), "{areas}: {said_of}");
        }
    }
}
