//! Free areas against those of the nominal board.

use super::decide::decide_sides;
use super::drivers::{Driver, drivers};
use super::nominal::{DerivedBound, NominalBand};
use super::propagate::FreeArea;
use super::{Missing, Verdict};
use crate::board::{Band, Construction, Contribution, InputId, Linear};
use crate::geometry::{Bed, Spider};
use crate::table::{BandLimit, Decision};
use crate::units::{Area, Percent, Uncertainty};

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
    /// Not computable, and nothing limits it: no check. What would be needed.
    NotComputable(Vec<Missing>),
    /// The table limits it, and it cannot be compared; what would be needed.
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
    /// How well the deviation less each bound is known; `None` where the
    /// bounds do not move with what was measured, so that the deviation's own
    /// uncertainty decides.
    pub margins: Option<Box<Margins>>,
    /// The verdict; `None` where there are no bounds.
    pub verdict: Option<Verdict>,
    /// The probability that the deviation lies within the bounds.
    pub probability: Option<f64>,
    /// The deviation from other measurements in the file, where that leads to
    /// another verdict.
    pub contradicted_by: Option<Percent>,
    /// The measured lengths behind the deviation, the largest change first.
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

/// A band's deviation less one of its bounds, where the bound moves with wires
/// of the board that no limit is about.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Margin {
    /// Its standard uncertainty, in percent of the nominal area: what a wire
    /// does to both cancels out. `None` if a length that matters states none.
    pub uncertainty: Option<Uncertainty>,
    /// Which measured lengths the uncertainty comes from.
    pub contributions: Vec<Contribution>,
    /// The measured lengths that deviation and bound depend on.
    pub inputs: Vec<InputId>,
}

/// The margins to both bounds.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Margins {
    /// The deviation less the lower bound.
    pub lower: Margin,
    /// The deviation less the upper bound.
    pub upper: Margin,
}

/// The bounds of a band, and their slopes in a board's measured lengths, in
/// percent per mm.
pub(super) struct BoundsOnBoard<'a> {
    bounds: Bounds<'a>,
    slopes: (Linear, Linear),
}

impl Margin {
    fn new(form: &Linear, construction: &Construction) -> Self {
        Self {
            uncertainty: form.uncertainty(&construction.inputs),
            contributions: form.contributions(&construction.inputs),
            inputs: form.terms().iter().map(|&(id, _)| id).collect(),
        }
    }
}

impl ComparedBand<'_> {
    /// How far one bed's free area deviates from the nominal bed's; `None` of
    /// another band's bed.
    pub fn bed_deviation(&self, bed: Bed) -> Option<Percent> {
        if !self.free.is_uneven() {
            return Some(self.deviation);
        }
        let own = self.free.area.beds.get(bed.sector())?;
        let nominal = self.nominal / self.free.area.beds.len() as f64;
        Percent::of(own.free / nominal - 1.0).ok()
    }

    /// The beds that deviate furthest to either side, the one with the least area
    /// first; `None` where all beds are the same.
    pub fn extreme_beds(&self, band: Band) -> Option<[(Bed, Percent); 2]> {
        if !self.free.is_uneven() || band.beds() < 2 {
            return None;
        }
        let beds = Bed::of_band(band).filter_map(|bed| Some((bed, self.bed_deviation(bed)?)));
        let by_size = |a: &(Bed, Percent), b: &(Bed, Percent)| a.1.value().total_cmp(&b.1.value());
        let beds: Vec<_> = beds.collect();
        let least = beds.iter().copied().min_by(by_size)?;
        Some([least, beds.iter().copied().max_by(by_size)?])
    }

    /// The margin to the nearer bound, where bounds move.
    pub fn nearer_margin(&self) -> Option<&Margin> {
        let (margins, bounds) = (self.margins.as_deref()?, self.bounds?);
        let distance = |bound: Option<Percent>| {
            bound.map_or(f64::INFINITY, |b| {
                (self.deviation.value() - b.value()).abs()
            })
        };
        let lower = distance(bounds.lower) <= distance(bounds.upper);
        Some(if lower {
            &margins.lower
        } else {
            &margins.upper
        })
    }

    /// The uncertainty that decides, and which measured lengths it comes from:
    /// that of the deviation or, where bounds move, of the margin to the
    /// nearer one.
    pub fn deciding(&self) -> (Option<Uncertainty>, &[Contribution], Vec<InputId>) {
        match self.nearer_margin() {
            Some(margin) => (
                margin.uncertainty,
                &margin.contributions,
                margin.inputs.clone(),
            ),
            None => (
                self.uncertainty,
                &self.contributions,
                self.free.inputs().collect(),
            ),
        }
    }
}

impl BandOutcome<'_> {
    /// What could not be computed: a check that is owed where something limits it.
    pub(super) const fn lacking(missing: Vec<Missing>, limited: bool) -> Self {
        if limited {
            Self::NotChecked(missing)
        } else {
            Self::NotComputable(missing)
        }
    }

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
pub(super) fn bounds<'a>(
    given: Option<&'a BandLimit>,
    derived: &(Option<DerivedBound>, Option<DerivedBound>),
    board: &Construction,
) -> Option<BoundsOnBoard<'a>> {
    if let Some(limit) = given {
        let bounds = Bounds {
            lower: Some(limit.lower),
            upper: Some(limit.upper),
            origin: BoundsOrigin::Given(limit),
        };
        return Some(BoundsOnBoard {
            bounds,
            slopes: Default::default(),
        });
    }
    let (lower, upper) = derived;
    let at = |bound: &Option<DerivedBound>| bound.as_ref().map(|bound| bound.at);
    let slopes = |bound: &Option<DerivedBound>| {
        let slopes = bound.as_ref().map(|bound| bound.slopes(board));
        slopes.unwrap_or_default()
    };
    (lower.is_some() || upper.is_some()).then(|| BoundsOnBoard {
        bounds: Bounds {
            lower: at(lower),
            upper: at(upper),
            origin: BoundsOrigin::Derived,
        },
        slopes: (slopes(lower), slopes(upper)),
    })
}

/// Compares one band with the nominal board's; without `bounds` there is no
/// verdict.
pub(super) fn compare<'a>(
    construction: &Construction,
    spider: &Spider,
    band: Band,
    nominal: (&Construction, Option<&NominalBand>),
    bounds: Option<BoundsOnBoard<'a>>,
    decision: Decision,
) -> BandOutcome<'a> {
    let limited = bounds.is_some();
    let (nominal_board, Some(nominal)) = nominal else {
        return BandOutcome::lacking(vec![Missing::NominalBand(band)], limited);
    };
    let Some(free) = FreeArea::of(construction, spider, band) else {
        return BandOutcome::lacking(Missing::for_area(construction, band), limited);
    };
    // A nominal band that its wires fill has nothing to deviate from.
    let Ok(deviation) = Percent::of((free.area.free - nominal.area) / nominal.area) else {
        return BandOutcome::lacking(vec![Missing::NominalBand(band)], limited);
    };
    let slopes = Linear::default().plus(100.0 / nominal.area.as_mm2(), &free.slopes());
    let own = Margin::new(&slopes, construction);
    let margins = bounds
        .as_ref()
        .and_then(|bounds| margins(construction, &slopes, bounds));
    let decided = bounds.as_ref().map(|BoundsOnBoard { bounds, .. }| {
        let uncertainties = match &margins {
            Some(margins) => margins.lower.uncertainty.zip(margins.upper.uncertainty),
            None => own.uncertainty.map(|u| (u, u)),
        };
        let limits = (bounds.lower, bounds.upper);
        decide_sides(deviation, uncertainties, limits, decision)
    });
    let drivers = drivers(construction, spider, &free, band, (nominal_board, nominal));
    BandOutcome::Compared(Box::new(ComparedBand {
        free,
        nominal: nominal.area,
        deviation,
        uncertainty: own.uncertainty,
        contributions: own.contributions,
        bounds: bounds.map(|bounds| bounds.bounds),
        margins: margins.map(Box::new),
        verdict: decided.map(|decided| decided.verdict),
        probability: decided.and_then(|decided| decided.probability),
        contradicted_by: None,
        drivers,
    }))
}

/// The margins of a deviation with these slopes; `None` where neither bound
/// moves with what is uncertain.
fn margins(
    construction: &Construction,
    slopes: &Linear,
    bounds: &BoundsOnBoard<'_>,
) -> Option<Margins> {
    let (lower, upper) = &bounds.slopes;
    let exact = |&(id, _): &(InputId, f64)| {
        let u = construction.input(id).and_then(|input| input.uncertainty);
        u.is_some_and(|u| u.standard() == 0.0)
    };
    if lower.terms().iter().chain(upper.terms()).all(exact) {
        return None;
    }
    let margin = |bound: &Linear| Margin::new(&slopes.clone().plus(-1.0, bound), construction);
    Some(Margins {
        lower: margin(lower),
        upper: margin(upper),
    })
}
