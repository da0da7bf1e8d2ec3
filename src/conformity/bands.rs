//! Free areas against those of the nominal board.

use super::decide::decide_on;
use super::nominal::NominalBand;
use super::propagate::FreeArea;
use super::{Missing, Verdict};
use crate::board::{
    Band, Construction, Contribution, Edge, Input, InputId, Linear, Quantity, RingWire,
};
use crate::geometry::Spider;
use crate::table::{BandLimit, Decision};
use crate::units::{Area, Length, Percent, Uncertainty};

/// One band of one board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct BandFinding<'a> {
    /// The band.
    pub band: Band,
    /// What came of it.
    pub outcome: BandOutcome<'a>,
}

/// What came of comparing a band.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub enum BandOutcome<'a> {
    /// Its free area was compared with the nominal board's.
    Compared(Box<ComparedBand<'a>>),
    /// The table has no nominal board for this mounting; the area stands alone.
    NoNominal(Box<FreeArea>),
    /// Not comparable; what would be needed.
    NotChecked(Vec<Missing>),
}

/// A band's free area beside the nominal one.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct ComparedBand<'a> {
    /// The band's areas.
    pub free: FreeArea,
    /// The nominal free area of the whole band.
    pub nominal: Area,
    /// 100·(free − nominal)/nominal.
    pub deviation: Percent,
    /// Standard uncertainty of the deviation, in percent of the nominal area, if
    /// stated; the nominal board has none.
    pub uncertainty: Option<Uncertainty>,
    /// Which measured lengths the uncertainty comes from.
    pub contributions: Vec<Contribution>,
    /// The deviations that conform; `None` where the table sets none.
    pub bounds: Option<Bounds<'a>>,
    /// The verdict; `None` where there are no bounds.
    pub verdict: Option<Verdict>,
    /// The probability that the deviation lies within the bounds.
    pub probability: Option<f64>,
    /// The deviation from other measurements in the file, where that leads to
    /// another verdict.
    pub contradicted_by: Option<Percent>,
    /// The measured lengths behind the deviation, largest share first.
    pub drivers: Vec<Driver>,
}

/// Deviations of a band's free area that conform.
#[derive(Clone, Copy, Debug)]
#[non_exhaustive]
pub struct Bounds<'a> {
    /// The most negative one, if there is a limit on that side.
    pub lower: Option<Percent>,
    /// The most positive one, if there is a limit on that side.
    pub upper: Option<Percent>,
    /// Where they come from.
    pub origin: BoundsOrigin<'a>,
}

/// Where a band's bounds come from.
#[derive(Clone, Copy, Debug)]
#[non_exhaustive]
pub enum BoundsOrigin<'a> {
    /// The table states them.
    Given(&'a BandLimit),
    /// They are the extremes that boards within the table's limits can have.
    Derived,
}

/// The part of a band's deviation that one measured length accounts for.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Driver {
    /// The measured length.
    pub input: InputId,
    /// The same length on the nominal board.
    pub nominal: Length,
    /// Its part of the deviation, in percent of the nominal area.
    pub share: Percent,
}

impl BandOutcome<'_> {
    /// Where the same band comes out differently from other measurements in
    /// the file, nothing can be said.
    pub(super) fn doubt(&mut self, other: &Self) {
        if let (Self::Compared(own), Self::Compared(other)) = (self, other)
            && own.verdict != other.verdict
        {
            own.verdict = own.verdict.map(|_| Verdict::Inconclusive);
            own.contradicted_by = Some(other.deviation);
        }
    }
}

/// The bounds that hold: the table's own, or the derived ones.
pub(super) fn bounds(
    given: Option<&BandLimit>,
    derived: (Option<Percent>, Option<Percent>),
) -> Option<Bounds<'_>> {
    let given = given.map(|limit| Bounds {
        lower: Some(limit.lower),
        upper: Some(limit.upper),
        origin: BoundsOrigin::Given(limit),
    });
    let (lower, upper) = derived;
    let derived = (lower.is_some() || upper.is_some()).then_some(Bounds {
        lower,
        upper,
        origin: BoundsOrigin::Derived,
    });
    given.or(derived)
}

/// Compares one band with the nominal board's; without `bounds` there is no
/// verdict.
pub(super) fn compare<'a>(
    construction: &Construction,
    spider: &Spider,
    band: Band,
    nominal: (&Construction, Option<&NominalBand>),
    bounds: Option<Bounds<'a>>,
    decision: Decision,
) -> BandOutcome<'a> {
    let (nominal_board, Some(nominal)) = nominal else {
        return BandOutcome::NotChecked(vec![Missing::NominalBand(band)]);
    };
    let Some(free) = FreeArea::of(construction, spider, band) else {
        return BandOutcome::NotChecked(Missing::for_area(construction, band));
    };
    // A nominal band that its wires fill has nothing to deviate from.
    let Ok(deviation) = Percent::of((free.area.free - nominal.area) / nominal.area) else {
        return BandOutcome::NotChecked(vec![Missing::NominalBand(band)]);
    };
    let uncertainty = free.uncertainty(construction);
    let uncertainty = uncertainty.map(|u| u.scaled(100.0 / nominal.area.as_mm2()));
    let decided = bounds.map(|bounds| {
        decide_on(
            deviation,
            uncertainty,
            (bounds.lower, bounds.upper),
            decision,
        )
    });
    let drivers = drivers(construction, &free, band, nominal_board, nominal);
    let contributions = free.slopes().contributions(&construction.inputs);
    BandOutcome::Compared(Box::new(ComparedBand {
        free,
        nominal: nominal.area,
        deviation,
        uncertainty,
        contributions,
        bounds,
        verdict: decided.map(|decided| decided.verdict),
        probability: decided.and_then(|decided| decided.probability),
        contradicted_by: None,
        drivers,
    }))
}

/// Splits the deviation over the measured lengths: slope times distance from
/// the nominal board's length. An area is almost quadratic in its edges, so
/// the mean of both boards' slopes makes the parts add up to the whole.
fn drivers(
    construction: &Construction,
    free: &FreeArea,
    band: Band,
    nominal_board: &Construction,
    nominal: &NominalBand,
) -> Vec<Driver> {
    let mut drivers: Vec<Driver> = Vec::new();
    for edge in &free.edges {
        let nominal_rate = match edge.ring {
            Some(ring) if ring == band.outer_wire() => nominal.rates.outer_edge,
            Some(_) => nominal.rates.inner_edge,
            None => nominal.rates.sector_width,
        };
        let rate = f64::midpoint(edge.rate.as_mm(), nominal_rate.as_mm());
        for &(id, factor) in edge.form.terms() {
            let Some(input) = construction.input(id) else {
                continue;
            };
            let Some(form) = counterpart(nominal_board, input, edge.ring) else {
                continue;
            };
            let length = nominal_board.value(&form);
            let change = rate * factor * (input.value - length).as_mm();
            let share = 100.0 * change / nominal.area.as_mm2();
            match drivers.iter_mut().find(|driver| driver.input == id) {
                Some(driver) => driver.share = Percent::finite(driver.share.value() + share),
                None => drivers.push(Driver {
                    input: id,
                    nominal: length,
                    share: Percent::finite(share),
                }),
            }
        }
    }
    drivers.sort_by(|a, b| b.share.value().abs().total_cmp(&a.share.value().abs()));
    drivers
}

/// The length on the nominal board that a measured length corresponds to;
/// `ring` is the wire whose edge it helps to place.
fn counterpart(nominal: &Construction, input: &Input, ring: Option<RingWire>) -> Option<Linear> {
    let edge = input.edge.unwrap_or(Edge::Apex);
    match input.quantity {
        Quantity::Ring(ring, is_diameter) => {
            let radius = nominal.edge_radius(ring, edge)?;
            let factor = if is_diameter { 2.0 } else { 1.0 };
            Some(Linear::default().plus(factor, &radius))
        }
        Quantity::RingWire(ring) => nominal.ring_wires[ring].clone(),
        Quantity::RingWires => nominal.ring_wires[ring?].clone(),
        Quantity::SectorWires => nominal.sector_wires.clone(),
        Quantity::Width(band) => nominal.width_from_radii(band, edge),
        Quantity::Overall => None,
    }
}
