//! Limits on single sectors and single beds: the worst of them decides.

use super::decide::decide_on;
use super::propagate::FreeArea;
use super::{Decided, Missing, Verdict};
use crate::board::{Band, Construction, InputId, Linear, TURN_RADIUS};
use crate::geometry::Bed;
use crate::table::Decision;
use crate::units::{Angle, Area, Percent, Uncertainty};

/// A quantity of a sector or of a bed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Amount {
    /// The angle of a sector.
    Angle(Angle),
    /// The deviation of a bed's free area from the nominal one.
    Deviation(Percent),
}

impl Amount {
    /// As a number of its unit.
    pub const fn number(self) -> f64 {
        match self {
            Self::Angle(angle) => angle.as_degrees(),
            Self::Deviation(percent) => percent.value(),
        }
    }

    /// The unit, as it is written behind the number.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Angle(_) => "°",
            Self::Deviation(_) => " %",
        }
    }
}

/// The sector or bed that decides a limit on all of them.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct BedFinding {
    /// The bed; of an angle, any bed of the sector.
    pub bed: Bed,
    /// What was found of it.
    pub value: Amount,
    /// Its standard uncertainty, in degrees or in percent, if the file states
    /// one.
    pub uncertainty: Option<Uncertainty>,
    /// The least value that conforms.
    pub lower: Option<Amount>,
    /// The greatest value that conforms.
    pub upper: Option<Amount>,
    /// The verdict, and the probability that this one conforms.
    pub decided: Decided,
    /// Its slope in each measured length, and in each turn of a sector wire.
    pub slopes: Linear,
    /// All sectors or beds that were judged, this one among them; empty in each
    /// of these.
    pub all: Vec<Self>,
}

impl BedFinding {
    /// How many sectors or beds do not conform.
    pub fn failing(&self) -> usize {
        let fails = |one: &&Self| one.decided.verdict == Verdict::DoesNotConform;
        self.all.iter().filter(fails).count()
    }

    /// The measured lengths that it was computed from.
    pub fn inputs(&self) -> Vec<InputId> {
        self.slopes.terms().iter().map(|&(id, _)| id).collect()
    }

    /// Where lengths contradict one another, and without one of them the verdict
    /// would be another, there is none.
    pub(super) fn doubt(&mut self, other: &Self) {
        if self.decided.verdict != other.decided.verdict {
            self.decided.verdict = Verdict::Inconclusive;
        }
    }
}

/// How bad a verdict is, the worst first.
pub(super) const fn rank(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::DoesNotConform => 0,
        Verdict::Inconclusive => 1,
        Verdict::Conforms => 2,
    }
}

/// Of several findings the one that decides.
pub(super) fn worst(found: Vec<BedFinding>) -> Option<BedFinding> {
    // How much of the way to the nearer limit is used up.
    let used = |one: &BedFinding| {
        let value = one.value.number();
        let [lower, upper] = [one.lower, one.upper].map(|limit| limit.map(Amount::number));
        let middle = match (lower, upper) {
            (Some(lower), Some(upper)) => f64::midpoint(lower, upper),
            (Some(limit), None) | (None, Some(limit)) => limit,
            (None, None) => value,
        };
        (value - middle).abs()
    };
    let decides = |a: &&BedFinding, b: &&BedFinding| {
        let verdicts = rank(a.decided.verdict).cmp(&rank(b.decided.verdict));
        verdicts.then(used(b).total_cmp(&used(a)))
    };
    let worst = found.iter().min_by(decides)?.clone();
    Some(BedFinding {
        all: found,
        ..worst
    })
}

/// The angles of all sectors. Errors of two wires are independent.
pub(super) fn angles(
    construction: &Construction,
    (lower, upper): (Option<Angle>, Option<Angle>),
    rule: Decision,
) -> Result<BedFinding, Missing> {
    let places = construction.sectors.as_deref().ok_or(Missing::Bearings)?;
    let bearings = places.bearings.as_ref().ok_or(Missing::Bearings)?;
    let wires = || bearings.iter().zip(&places.turns);
    let found = wires().zip(wires().cycle().skip(1)).enumerate().map(
        |(sector, ((left, left_turn), (right, right_turn)))| {
            let slopes = match (left_turn, right_turn) {
                (Some(left), Some(right)) => {
                    let degrees = 1.0_f64.to_degrees() / TURN_RADIUS.as_mm();
                    let turned = Linear::default().plus(degrees, right);
                    turned.plus(-degrees, left)
                }
                _ => Linear::default(),
            };
            let known = !slopes.terms().is_empty();
            let uncertainty = slopes.uncertainty(&construction.inputs).filter(|_| known);
            let width = (*right - *left).as_degrees();
            let width = width - 360.0 * libm::floor(width / 360.0);
            let width = Angle::degrees(width);
            BedFinding {
                bed: Bed::new(Band::Treble, sector),
                value: Amount::Angle(width),
                uncertainty,
                lower: lower.map(Amount::Angle),
                upper: upper.map(Amount::Angle),
                decided: decide_on(width, uncertainty, (lower, upper), rule),
                slopes,
                all: Vec::new(),
            }
        },
    );
    worst(found.collect()).ok_or(Missing::Bearings)
}

/// The free areas of a band's beds against the nominal board's bed.
pub(super) fn deviations(
    construction: &Construction,
    free: &FreeArea,
    (band, nominal): (Band, Area),
    (lower, upper): (Percent, Percent),
    rule: Decision,
) -> Vec<BedFinding> {
    let nominal = nominal.as_mm2() / band.beds() as f64;
    let beds = free.area.beds.iter().zip(Bed::of_band(band)).enumerate();
    let found = beds.filter_map(|(index, (area, bed))| {
        let deviation = Percent::of(area.free.as_mm2() / nominal - 1.0).ok()?;
        let slopes = Linear::default().plus(100.0 / nominal, &free.bed_slopes(index));
        let uncertainty = slopes.uncertainty(&construction.inputs);
        Some(BedFinding {
            bed,
            value: Amount::Deviation(deviation),
            uncertainty,
            lower: Some(Amount::Deviation(lower)),
            upper: Some(Amount::Deviation(upper)),
            decided: decide_on(deviation, uncertainty, (Some(lower), Some(upper)), rule),
            slopes,
            all: Vec::new(),
        })
    });
    found.collect()
}
