//! Limits on single sectors and single beds: the worst of them decides.

use super::decide::decide_on;
use super::propagate::FreeArea;
use super::{Decided, Missing, Verdict};
use crate::board::{Band, Construction, InputId, Linear};
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
    /// How many sectors or beds do not conform.
    pub failing: usize,
    /// The probability that all of them conform, their errors counted as
    /// independent.
    pub of_all: Option<f64>,
    /// The measured lengths that it was computed from.
    pub inputs: Vec<InputId>,
}

/// How bad a verdict is, the worst first.
pub(super) const fn rank(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::DoesNotConform => 0,
        Verdict::Inconclusive => 1,
        Verdict::Conforms => 2,
    }
}

/// Of several findings the one that decides, how many fail, and the probability
/// that all conform.
fn worst(found: Vec<BedFinding>) -> Option<BedFinding> {
    let failing = found
        .iter()
        .filter(|one| one.decided.verdict == Verdict::DoesNotConform)
        .count();
    let of_all: Option<f64> = found.iter().map(|one| one.decided.probability).product();
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
    let decides = |a: &BedFinding, b: &BedFinding| {
        let verdicts = rank(a.decided.verdict).cmp(&rank(b.decided.verdict));
        verdicts.then(used(b).total_cmp(&used(a)))
    };
    let mut worst = found.into_iter().min_by(decides)?;
    (worst.failing, worst.of_all) = (failing, of_all);
    Some(worst)
}

/// The angles of all sectors. Errors of two wires are independent.
pub(super) fn angles(
    construction: &Construction,
    (lower, upper): (Option<Angle>, Option<Angle>),
    rule: Decision,
) -> Result<BedFinding, Missing> {
    let places = construction.sectors.as_deref().ok_or(Missing::Bearings)?;
    let bearings = places.bearings.as_ref().ok_or(Missing::Bearings)?;
    let both = places.uncertainty;
    let both = both.map(|u| Uncertainty::combined([(1.0, u), (1.0, u)]));
    let next = bearings.iter().cycle().skip(1);
    let found = bearings
        .iter()
        .zip(next)
        .enumerate()
        .map(|(sector, (left, right))| {
            let width = (*right - *left).as_degrees();
            let width = width - 360.0 * libm::floor(width / 360.0);
            let value = Percent::new(width).unwrap_or_default();
            let limit = |angle: Option<Angle>| Percent::new(angle?.as_degrees()).ok();
            BedFinding {
                bed: Bed::new(Band::Treble, sector),
                value: Amount::Angle(Angle::degrees(width)),
                uncertainty: both,
                lower: lower.map(Amount::Angle),
                upper: upper.map(Amount::Angle),
                decided: decide_on(value, both, (limit(lower), limit(upper)), rule),
                failing: 0,
                of_all: None,
                inputs: Vec::new(),
            }
        });
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
        let lengths = slopes.uncertainty(&construction.inputs);
        let turns = bearing_part(construction, free, band).map(|mm2| 100.0 * mm2 / nominal);
        let uncertainty = lengths.map(|u| match turns {
            Some(part) => Uncertainty::combined([(1.0, u), (1.0, Uncertainty::finite(part))]),
            None => u,
        });
        Some(BedFinding {
            bed,
            value: Amount::Deviation(deviation),
            uncertainty,
            lower: Some(Amount::Deviation(lower)),
            upper: Some(Amount::Deviation(upper)),
            decided: decide_on(deviation, uncertainty, (Some(lower), Some(upper)), rule),
            failing: 0,
            of_all: None,
            inputs: slopes.terms().iter().map(|&(id, _)| id).collect(),
        })
    });
    found.collect()
}

/// What the bearings of its two wires add to the uncertainty of a bed's area, in
/// mm²: each wire sweeps half the difference of the squared radii.
fn bearing_part(construction: &Construction, free: &FreeArea, band: Band) -> Option<f64> {
    let u = construction.sectors.as_deref()?.uncertainty?;
    let sweep = free.area.free.as_mm2() / std::f64::consts::TAU;
    let radians = u.standard().to_radians();
    band.has_sectors()
        .then_some(std::f64::consts::SQRT_2 * sweep * radians)
}

/// The bed that decides among those of several bands.
pub(super) fn decides(found: Vec<BedFinding>) -> Option<BedFinding> {
    worst(found)
}
