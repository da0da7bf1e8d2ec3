//! A table's nominal board, made ready to be compared with.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::extremes::{Extreme, Feasible};
use crate::board::{Band, Construction, Linear, PerBand, RingWire};
use crate::geometry::{Spider, free_area};
use crate::table::{Limit, Nominal};
use crate::units::{Area, Percent};

/// The deviations, below and above, that boards within the limits can have;
/// `None` where the limits leave a side open.
pub(super) type Derived = PerBand<(Option<DerivedBound>, Option<DerivedBound>)>;

/// The least or the greatest deviation that boards within the limits can have.
pub(super) struct DerivedBound {
    pub(super) at: Percent,
    /// How fast it grows, in percent per mm, with the thickness of wires that
    /// no limit is about: the board's own.
    rates: Vec<(Option<RingWire>, f64)>,
}

impl DerivedBound {
    fn of(extreme: &Extreme, nominal: Area) -> Option<Self> {
        let nominal = nominal.as_mm2();
        let rates = extreme.rates.iter();
        Some(Self {
            at: Percent::of((extreme.area - nominal) / nominal).ok()?,
            rates: rates
                .map(|&(ring, rate)| (ring, 100.0 * rate / nominal))
                .collect(),
        })
    }

    /// Its slope in each measured length of a board, in percent per mm.
    pub(super) fn slopes(&self, board: &Construction) -> Linear {
        let add = |slopes: Linear, &(ring, rate): &(Option<RingWire>, f64)| {
            let wire = match ring {
                Some(ring) => board.ring_wires[ring].as_ref(),
                None => board.sector_wires.as_ref(),
            };
            match wire {
                Some(wire) => slopes.plus(rate, wire),
                // The nominal board's wire stands in for it, and is exact.
                None => slopes,
            }
        };
        self.rates.iter().fold(Linear::default(), add)
    }
}

/// A band of the nominal board.
#[derive(Clone, Debug)]
pub(super) struct NominalBand {
    pub(super) area: Area,
}

/// A nominal board with its areas.
pub(super) struct PreparedNominal<'t> {
    pub(super) nominal: &'t Nominal,
    pub(super) bands: PerBand<Option<NominalBand>>,
    feasible: Feasible,
    /// Derived deviations, by the widths, bit for bit, of wires that no limit
    /// names: most boards of a collection share them.
    derived: Mutex<HashMap<Vec<u64>, Arc<Derived>>>,
}

impl<'t> PreparedNominal<'t> {
    pub(super) fn new(limits: &[Limit], nominal: &'t Nominal) -> Self {
        let spider = Spider::of(&nominal.construction);
        let bands = PerBand::from_fn(|band: Band| {
            let area = free_area(&spider, band)?;
            Some(NominalBand { area })
        });
        Self {
            nominal,
            bands,
            feasible: Feasible::new(limits, &nominal.construction),
            derived: Mutex::default(),
        }
    }

    /// The deviations that boards like this one can have within the limits.
    pub(super) fn derived(&self, board: &Construction) -> Arc<Derived> {
        let wires = self.feasible.unlimited_wires(board);
        let key: Vec<u64> = wires.iter().map(|width| width.to_bits()).collect();
        // A panic elsewhere cannot leave the map half written.
        let known = self.derived.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(derived) = known.get(&key) {
            return Arc::clone(derived);
        }
        drop(known);
        let derived = Arc::new(PerBand::from_fn(|band: Band| {
            let Some(nominal) = &self.bands[band] else {
                return (None, None);
            };
            let (least, greatest) = self.feasible.extremes(band, &wires);
            let bound = |extreme: Extreme| DerivedBound::of(&extreme, nominal.area);
            (least.and_then(bound), greatest.and_then(bound))
        }));
        let mut known = self.derived.lock().unwrap_or_else(PoisonError::into_inner);
        known.insert(key, Arc::clone(&derived));
        derived
    }
}
