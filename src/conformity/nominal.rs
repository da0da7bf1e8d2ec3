//! A table's nominal board, made ready to be compared with.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::extremes::Feasible;
use crate::board::{Band, Construction, PerBand};
use crate::geometry::{EdgeRates, Spider, band_area};
use crate::table::{Limit, Nominal};
use crate::units::{Area, Percent};

/// The deviations, below and above, that boards within the limits can have;
/// `None` where the limits leave a side open.
pub(super) type Derived = PerBand<(Option<Percent>, Option<Percent>)>;

/// A band of the nominal board.
#[derive(Clone, Debug)]
pub(super) struct NominalBand {
    pub(super) area: Area,
    pub(super) rates: EdgeRates,
}

/// A nominal board with its areas.
pub(super) struct PreparedNominal<'t> {
    pub(super) nominal: &'t Nominal,
    pub(super) bands: PerBand<Option<NominalBand>>,
    feasible: Option<Feasible>,
    /// Derived deviations, by the widths, bit for bit, of wires that no limit
    /// names: most boards of a collection share them.
    derived: Mutex<HashMap<Vec<u64>, Arc<Derived>>>,
}

impl<'t> PreparedNominal<'t> {
    pub(super) fn new(limits: &[Limit], nominal: &'t Nominal) -> Self {
        let spider = Spider::of(&nominal.construction);
        let bands = PerBand::from_fn(|band: Band| {
            let area = band_area(&spider, band)?;
            Some(NominalBand {
                area: area.free,
                rates: area.rates,
            })
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
        let Some(feasible) = &self.feasible else {
            return Arc::default();
        };
        let wires = feasible.unlimited_wires(board);
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
            let (least, greatest) = feasible.extremes(band, &wires);
            let nominal = nominal.area.as_mm2();
            let percent = |area: f64| Percent::of((area - nominal) / nominal).ok();
            (least.and_then(percent), greatest.and_then(percent))
        }));
        let mut known = self.derived.lock().unwrap_or_else(PoisonError::into_inner);
        known.insert(key, Arc::clone(&derived));
        derived
    }
}
