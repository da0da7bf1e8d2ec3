//! From what a file says of offsets, single sector wires and staples to a
//! construction.

use super::bearing::read_bearing;
use super::entries::UncertaintyEntry;
use super::evaluated::{Beside, Evaluated};
use super::inputs::{add, plain_input};
use super::length_text::LengthText;
use super::lengths::{Lengths, located};
use super::shape_file::{SectorsFile, StaplesEntry, StaplesFile};
use super::usual::{Range, Ranges};
use super::{
    Axis, Basis, Bearing, Cause, Construction, ErrorPart, Linear, Quantity, RingWire, SECTOR_ORDER,
    SectorPlaces, Sharing, StaplePlace, TURN_RADIUS,
};
use crate::document::{Fault, Located, Problem, Problems, Span};
use crate::units::{Angle, Length, Uncertainty};

/// The least and the greatest width of a sector, in degrees. House rule: no wire
/// is bent so far on a board that anybody throws at.
const SECTOR: (f64, f64) = (12.0, 24.0);

/// An uncertainty of what is not there.
pub(super) fn without(lengths: &mut Lengths<'_>, span: Span, (key, of): (&str, &str)) {
    lengths.problems.add(Problem::new(
        Fault::Contradiction,
        span,
        format!("`{key}` is stated, but no `{of}`"),
        format!("add `{of}:`, or remove `{key}`"),
    ));
}

/// Reads the offset of a ring's centre.
pub(super) fn read_offset(
    ring: RingWire,
    pair: &Located<Vec<LengthText>>,
    uncertainty: Option<&UncertaintyEntry>,
    construction: &mut Construction,
    lengths: &mut Lengths<'_>,
) -> Option<[Linear; 2]> {
    let span = pair.span;
    let [across, up] = pair.value.as_slice() else {
        wrong_count(lengths, span, "an offset has two lengths", "`[0.6, -0.3]`");
        return None;
    };
    let mut one = |axis, text: &LengthText| {
        let quantity = Quantity::Offset(ring, axis);
        read_plain(
            quantity,
            text,
            span,
            uncertainty,
            Ranges::OFFSET,
            construction,
            lengths,
        )
    };
    Some([one(Axis::Across, across)?, one(Axis::Up, up)?])
}

fn read_plain(
    quantity: Quantity,
    text: &LengthText,
    span: Span,
    uncertainty: Option<&UncertaintyEntry>,
    range: Range,
    construction: &mut Construction,
    lengths: &mut Lengths<'_>,
) -> Option<Linear> {
    let value = lengths.within(&located(text, span), range)?;
    let beside = Beside {
        uncertainty,
        instrument: None,
        across: false,
    };
    let mut evaluated: Evaluated = lengths.plain_value(value, beside);
    // An offset comes from differences of readings: an error that they share has
    // gone, and what remains of the instrument's is its own.
    for part in &mut evaluated.errors {
        part.sharing = Sharing::Own;
    }
    let input = plain_input(quantity, evaluated, span);
    Some(Linear::input(add(construction, input), 1.0))
}

/// Reads where the sector wires lie, and the widths of single ones.
pub(super) fn read_sectors(
    file: &SectorsFile,
    construction: &mut Construction,
    lengths: &mut Lengths<'_>,
) -> SectorPlaces {
    for (stated, is_there, key, of) in [
        (
            file.uncertainty.as_ref().map(|own| own.span),
            file.bearings.is_some(),
            "uncertainty",
            "bearings",
        ),
        (
            file.offset_uncertainty.as_ref().map(|own| own.span),
            file.offsets.is_some(),
            "offset_uncertainty",
            "offsets",
        ),
    ] {
        if let Some(span) = stated.filter(|_| !is_there) {
            without(lengths, span, (key, of));
        }
    }
    let mut places = SectorPlaces {
        bearings: file
            .bearings
            .as_ref()
            .and_then(|bearings| read_bearings(bearings, lengths)),
        ..SectorPlaces::default()
    };
    if let Some(stated) = &file.uncertainty {
        let turns = read_turns(stated, construction, lengths);
        // Of bearings that were not taken there is nothing to know.
        if let Some(turns) = turns.filter(|_| places.bearings.is_some()) {
            places.turns = turns;
        }
    }
    if let Some(offsets) = &file.offsets {
        if offsets.value.len() == 20 {
            for (index, text) in offsets.value.iter().enumerate() {
                let wire = wire_after(index);
                let quantity = Quantity::SectorOffset(wire);
                let stated = file.offset_uncertainty.as_ref();
                let form = read_plain(
                    quantity,
                    text,
                    offsets.span,
                    stated,
                    Ranges::OFFSET,
                    construction,
                    lengths,
                );
                if let Some(own) = places.offsets.get_mut(usize::from(wire)) {
                    *own = form;
                }
            }
        } else {
            let found = offsets.value.len();
            let what = format!("there are twenty sector wires, not {found}");
            wrong_count(lengths, offsets.span, &what, "one offset for each");
        }
    }
    for (name, entry) in file.widths.iter().flat_map(|named| &named.0) {
        // As it is written on the board: `06` would be a second key for the 6.
        let number = name.parse().ok();
        let number = number.filter(|number: &u8| number.to_string() == *name);
        let index = number.and_then(|number| SECTOR_ORDER.iter().position(|&own| own == number));
        let Some(index) = index else {
            lengths.problems.add(Problem::new(
                Fault::Notation,
                entry.span,
                format!("`{name}` is no sector's number"),
                "write the number of the sector whose clockwise border the wire is, such as `20`",
            ));
            continue;
        };
        let wire = wire_after(index);
        if let Some((evaluated, size, span)) = lengths.wire_entry(entry) {
            let mut input = plain_input(Quantity::SectorWire(wire), evaluated, span);
            input.wire = Some(size);
            let form = Linear::input(add(construction, input), 1.0);
            if let Some(own) = places.widths.get_mut(usize::from(wire)) {
                *own = Some(form);
            }
        }
    }
    places
}

/// How far each wire may be turned from its bearing, where that is known so well.
fn read_turns(
    stated: &Located<f64>,
    construction: &mut Construction,
    lengths: &mut Lengths<'_>,
) -> Option<[Option<Linear>; 20]> {
    if !(stated.value > 0.0 && stated.value <= 5.0) {
        lengths.problems.add(Problem::new(
            Fault::OutOfRange,
            stated.span,
            "a bearing's uncertainty lies above 0 and at most at 5 degrees",
            "state the expanded uncertainty (k = 2) in degrees, such as `0.2`",
        ));
        return None;
    }
    let arc = TURN_RADIUS.as_mm() * stated.value.to_radians();
    let known = Uncertainty::finite(arc / 2.0);
    Some(std::array::from_fn(|wire| {
        let evaluated = Evaluated {
            value: Length::ZERO,
            errors: vec![ErrorPart::own(Cause::Stated, known)],
            basis: Basis::Stated,
            instrument: None,
            places: Vec::new(),
        };
        let quantity = Quantity::Turn(u8::try_from(wire).unwrap_or_default());
        let input = plain_input(quantity, evaluated, stated.span);
        Some(Linear::input(add(construction, input), 1.0))
    }))
}

/// The wire on the clockwise side of a sector.
fn wire_after(sector: usize) -> u8 {
    u8::try_from((sector + 1) % 20).unwrap_or_default()
}

fn read_bearings(bearings: &Located<Vec<f64>>, lengths: &mut Lengths<'_>) -> Option<[Angle; 20]> {
    let found = bearings.value.len();
    if found != 20 {
        let what = format!("there are twenty sector wires, not {found}");
        wrong_count(lengths, bearings.span, &what, "one bearing for each");
        return None;
    }
    if let Some(wrong) = bearings
        .value
        .iter()
        .find(|b| b.is_nan() || b.abs() > 720.0)
    {
        lengths.problems.add(Problem::new(
            Fault::OutOfRange,
            bearings.span,
            format!("{wrong} is no bearing"),
            "write degrees clockwise from the top",
        ));
        return None;
    }
    let mut read = [Angle::ZERO; 20];
    for (index, bearing) in bearings.value.iter().enumerate() {
        if let Some(own) = read.get_mut(usize::from(wire_after(index))) {
            // The even bearings themselves, to the last digit: the wire beside
            // the 20 on its anticlockwise side lies at -9 degrees.
            let turn = if index == 19 && *bearing > 180.0 {
                360.0
            } else {
                0.0
            };
            *own = Angle::degrees(bearing - turn);
        }
    }
    let mut sound = true;
    for sector in 0..20 {
        let wires = read.get(sector).zip(read.get((sector + 1) % 20));
        let Some((&left, &right)) = wires else {
            continue;
        };
        let width = (right - left).as_degrees();
        let width = width - 360.0 * libm::floor(width / 360.0);
        if !(SECTOR.0..=SECTOR.1).contains(&width) {
            let number = SECTOR_ORDER.get(sector).copied().unwrap_or_default();
            let degrees = |angle: Angle| libm::round(angle.as_degrees() * 100.0) / 100.0;
            lengths.problems.add(Problem::new(
                Fault::Contradiction,
                bearings.span,
                format!(
                    "the wires of the {number} lie at {} and {} degrees: {:.2} degrees wide",
                    degrees(left),
                    degrees(right),
                    width
                ),
                format!(
                    "sectors are {} to {} degrees wide: check the order, which begins with the \
                     wire between 20 and 1 and goes round clockwise",
                    SECTOR.0, SECTOR.1
                ),
            ));
            sound = false;
        }
    }
    sound.then_some(read)
}

/// Reads the staples of every ring wire.
pub(super) fn read_staples(file: &StaplesFile, lengths: &mut Lengths<'_>) -> Vec<StaplePlace> {
    let mut staples = Vec::new();
    for ring in RingWire::ALL {
        if let Some(entry) = file.get(ring) {
            staples.extend(
                read_ring_staples(ring, entry, lengths)
                    .into_iter()
                    .flatten(),
            );
        }
    }
    staples
}

fn read_ring_staples(
    ring: RingWire,
    entry: &StaplesEntry,
    lengths: &mut Lengths<'_>,
) -> Option<Vec<StaplePlace>> {
    let size = entry.size.as_ref()?;
    let [width, length] = size.value.as_slice() else {
        let what = "a staple's size is its width along the wire and its length across it";
        wrong_count(lengths, size.span, what, "`[2, 9]`");
        return None;
    };
    let width = lengths.within(&located(width, size.span), Ranges::STAPLE_WIDTH);
    let length = lengths.within(&located(length, size.span), Ranges::STAPLE_LENGTH);
    let bearings: Vec<Bearing> = match (&entry.count, &entry.at) {
        (Some(count), None) => {
            let count = count.value;
            let step = 360.0 / f64::from(count.max(1));
            let turned = |index: u16| Bearing::Turned(Angle::degrees(step * f64::from(index)));
            (0..count).map(turned).collect()
        }
        (None, Some(at)) => {
            let read = at.iter().map(|text| read_bearing(text, lengths.problems));
            read.collect::<Vec<_>>().into_iter().flatten().collect()
        }
        _ => {
            lengths.problems.add(Problem::new(
                Fault::OneOf,
                size.span,
                "staples are either counted or placed",
                "write `count: 20`, or `at: [20, 1, …]` with the place of each",
            ));
            return None;
        }
    };
    if bearings.is_empty() && entry.at.as_ref().is_some_and(Vec::is_empty) {
        lengths.problems.add(Problem::new(
            Fault::OneOf,
            size.span,
            format!("`at` names no place of a staple on the {ring}"),
            "write `at: [20, 1, …]` with the place of each, or leave the ring's entry out if it has \
             none",
        ));
    }
    check_repeated(ring, entry, lengths);
    let (width, length): (Length, Length) = (width?, length?);
    let staple = |at| StaplePlace {
        ring,
        at,
        assumed: entry.count.is_some(),
        width,
        length,
    };
    Some(bearings.into_iter().map(staple).collect())
}

/// Two staples are not in one place.
fn check_repeated(ring: RingWire, entry: &StaplesEntry, lengths: &mut Lengths<'_>) {
    let mut seen: Vec<(Bearing, Span)> = Vec::new();
    for text in entry.at.iter().flatten() {
        // What is no place is reported where it is read.
        let Some(bearing) = read_bearing(text, &mut Problems::default()) else {
            continue;
        };
        if let Some((_, first)) = seen.iter().find(|(own, _)| own.is(bearing)) {
            let message = format!("a second staple on the {ring} at {bearing}");
            let remedy = "name each place once";
            let problem = Problem::new(Fault::Contradiction, text.span, message, remedy);
            lengths.problems.add(problem.and(*first, "the first"));
        }
        seen.push((bearing, text.span));
    }
}

fn wrong_count(lengths: &mut Lengths<'_>, span: Span, what: &str, write: &str) {
    lengths.problems.add(Problem::new(
        Fault::OutOfRange,
        span,
        what.to_owned(),
        format!("write {write}"),
    ));
}
