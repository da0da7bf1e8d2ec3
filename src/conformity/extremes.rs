//! The extreme free areas that boards within a table's limits can have.
//!
//! Limits are intervals on lengths that depend linearly on the apexes and wire
//! widths; a band's free area grows or shrinks steadily in each. So each
//! extreme lies at a vertex of the region that the limits leave, and a linear
//! programme on the area's slopes finds it; the slopes are then taken afresh at
//! the vertex until it stays the same. That is done once, with the nominal
//! board's wires: where the limits do not name a wire, and a board has it
//! thicker, the same limits mostly make the extreme, and it need only be moved.

use std::sync::OnceLock;

use microlp::OptimizationDirection;

use super::programme::Model;
use super::vertex::{Lengths, Vertex};
use crate::board::{Band, Construction, Edge, InputId, Linear, PerBand, PerRing, RingWire};
use crate::geometry::{EdgeRates, Point, RingShape, SectorShape, Spider, band_area};
use crate::table::{Interval, Limit};
use crate::units::Length;

/// How often a vertex is looked at again with the slopes found there. House
/// rule: two rounds have been enough for every table seen, the rest is margin.
const ROUNDS: usize = 6;

/// How much a wire is thickened, in mm, to see how an extreme moves with it.
/// House rule: a vertex moves in proportion, so any small step does.
const STEP: f64 = 0.01;

/// The limits of a table for one kind of board.
pub(super) struct Feasible {
    model: Model,
    /// The value of each of the model's lengths on the nominal board; not a
    /// number where it has none.
    nominal: Vec<f64>,
    /// Wires that no limit is about: ring wires or, as `None`, the sector wires.
    unlimited: Vec<Option<RingWire>>,
    /// What matters for each band.
    bands: PerBand<Bearing>,
    /// The vertices of the least and of the greatest area with the nominal
    /// board's wires, whoever asks first: results do not depend on the order of
    /// boards.
    vertices: OnceLock<PerBand<[Option<Vertex>; 2]>>,
}

/// What has a bearing on the free area of one band.
#[derive(Default)]
struct Bearing {
    /// The lengths that the area depends on.
    own: Vec<InputId>,
    /// The limits on those lengths, and on any that these limits tie to them.
    bounds: Vec<(Linear, Interval)>,
    /// The lengths that those limits are about, and the area's own.
    tied: Vec<InputId>,
    /// The thicknesses among those lengths that no limit is about, each with
    /// the index of its wire in the whole list.
    unlimited: Vec<(InputId, usize)>,
    /// The lengths among those that vary.
    free: Vec<InputId>,
}

/// The least or the greatest free area of a band.
pub(super) struct Extreme {
    /// The area, in mm².
    pub(super) area: f64,
    /// How fast it grows, in mm² per mm, with the thickness of wires that no
    /// limit is about.
    pub(super) rates: Vec<(Option<RingWire>, f64)>,
}

impl Feasible {
    /// Boards of the nominal board's kind that meet these limits.
    pub(super) fn new(limits: &[Limit], nominal: &Construction) -> Self {
        let model = Model::new(nominal.mounting, nominal.profile);
        let applies = |limit: &&Limit| limit.when.matches(nominal.mounting, nominal.profile);
        let limits = limits.iter().filter(applies);
        let bounds: Vec<_> = limits.flat_map(|limit| model.bounds(limit)).collect();
        let wires = RingWire::ALL.into_iter().map(Some).chain([None]);
        let unlimited = wires.filter(|&ring| {
            let form = wire(&model.construction, ring);
            !bounds.iter().any(|(bound, _)| Some(bound) == form)
        });
        let unlimited: Vec<_> = unlimited.collect();
        Self {
            nominal: Model::values(nominal),
            bands: PerBand::from_fn(|band| {
                Bearing::on(band, &model.construction, &bounds, &unlimited)
            }),
            unlimited,
            model,
            vertices: OnceLock::new(),
        }
    }

    /// The thickness, in mm, of each wire that no limit is about: a board's
    /// own, or the nominal board's where the file records none. No board may
    /// be condemned for what no limit forbids.
    pub(super) fn unlimited_wires(&self, board: &Construction) -> Vec<f64> {
        let nominal = |ring| wire(&self.model.construction, ring).map(|w| w.at(&self.nominal));
        let width = |&ring: &Option<RingWire>| match wire(board, ring) {
            Some(recorded) => board.value(recorded).as_mm(),
            None => nominal(ring).unwrap_or(f64::NAN),
        };
        self.unlimited.iter().map(width).collect()
    }

    /// The least and the greatest free area of a band, of boards whose
    /// unlimited wires are this thick. `None` where the limits leave a side
    /// open: no extreme, or only one at which the band's wires overlap.
    pub(super) fn extremes(
        &self,
        band: Band,
        unlimited: &[f64],
    ) -> (Option<Extreme>, Option<Extreme>) {
        (
            self.extreme(band, unlimited, OptimizationDirection::Minimize),
            self.extreme(band, unlimited, OptimizationDirection::Maximize),
        )
    }

    /// The extreme at the vertex that is known, if it is the one.
    fn extreme(
        &self,
        band: Band,
        unlimited: &[f64],
        direction: OptimizationDirection,
    ) -> Option<Extreme> {
        let [least, greatest] = &self.vertices()[band];
        let vertex = match direction {
            OptimizationDirection::Minimize => least,
            OptimizationDirection::Maximize => greatest,
        };
        let moved = vertex.as_ref();
        let moved = moved.and_then(|vertex| self.moved(band, unlimited, vertex));
        moved.or_else(|| self.programmed(band, unlimited, direction))
    }

    fn vertices(&self) -> &PerBand<[Option<Vertex>; 2]> {
        self.vertices.get_or_init(|| {
            let thickness = |&ring: &Option<RingWire>| {
                wire(&self.model.construction, ring).map_or(f64::NAN, |w| w.at(&self.nominal))
            };
            let wires: Vec<f64> = self.unlimited.iter().map(thickness).collect();
            PerBand::from_fn(|band| {
                let both = [
                    OptimizationDirection::Minimize,
                    OptimizationDirection::Maximize,
                ];
                both.map(|direction| {
                    let (at, _) = self.settled(band, &wires, direction)?;
                    Vertex::found(at, self.bands[band].lengths(), direction)
                })
            })
        })
    }

    /// The extreme where the vertex goes with wires of these thicknesses; `None`
    /// if another vertex is the extreme there.
    fn moved(&self, band: Band, unlimited: &[f64], vertex: &Vertex) -> Option<Extreme> {
        let lengths = self.bands[band].lengths();
        let at = vertex.with(unlimited, lengths)?;
        let spider = self.spider(&at)?;
        if overlaps(&spider, band) {
            return None;
        }
        let area = band_area(&spider, band)?;
        let slopes = self.slopes_of(band, &area.rates)?;
        if !vertex.is_farthest(&slopes, lengths) {
            return None;
        }
        let named = |(index, rate)| Some((*self.unlimited.get(index)?, rate));
        Some(Extreme {
            area: area.free.as_mm2(),
            rates: vertex.rates(&slopes).filter_map(named).collect(),
        })
    }

    /// The extreme by linear programmes alone.
    fn programmed(
        &self,
        band: Band,
        unlimited: &[f64],
        direction: OptimizationDirection,
    ) -> Option<Extreme> {
        let (at, area) = self.settled(band, unlimited, direction)?;
        let slopes = self.slopes(band, &at)?;
        let growth = |index: usize, step: f64| {
            let mut thicker = unlimited.to_vec();
            *thicker.get_mut(index)? += step;
            let moved = self.vertex(band, &slopes, &thicker, direction)?;
            Some((slopes.at(&moved) - slopes.at(&at)) / step)
        };
        let rate = |&(_, index): &(InputId, usize)| {
            // The limits may leave room on one side only.
            let growth = growth(index, STEP).or_else(|| growth(index, -STEP))?;
            Some((*self.unlimited.get(index)?, growth))
        };
        Some(Extreme {
            area,
            rates: self.bands[band].unlimited.iter().filter_map(rate).collect(),
        })
    }

    /// The vertex that stays the same with the slopes found there, and the area.
    fn settled(
        &self,
        band: Band,
        unlimited: &[f64],
        direction: OptimizationDirection,
    ) -> Option<(Vec<f64>, f64)> {
        let bearing = &self.bands[band];
        let known = |values: &[f64], index: usize| values.get(index).is_some_and(|v| !v.is_nan());
        if !bearing
            .own
            .iter()
            .all(|id| known(&self.nominal, id.index()))
            || !bearing
                .unlimited
                .iter()
                .all(|&(_, wire)| known(unlimited, wire))
        {
            return None;
        }
        let mut at = self.nominal.clone();
        let mut area = f64::NAN;
        for _ in 0..ROUNDS {
            let vertex = self.vertex(band, &self.slopes(band, &at)?, unlimited, direction)?;
            let spider = self.spider(&vertex)?;
            if overlaps(&spider, band) {
                return None;
            }
            let there = band_area(&spider, band)?.free.as_mm2();
            let settled = (there - area).abs() <= 1e-9 * there;
            (at, area) = (vertex, there);
            if settled {
                break;
            }
        }
        Some((at, area))
    }

    fn slopes(&self, band: Band, at: &[f64]) -> Option<Linear> {
        self.slopes_of(band, &band_area(&self.spider(at)?, band)?.rates)
    }

    fn slopes_of(&self, band: Band, rates: &EdgeRates) -> Option<Linear> {
        let board = &self.model.construction;
        let outer = board.edge_radius(band.outer_wire(), Edge::Inside)?;
        let mut slopes = Linear::default().plus(rates.outer_edge.as_mm(), &outer);
        if let Some(wire) = band.inner_wire() {
            let inner = board.edge_radius(wire, Edge::Outside)?;
            slopes = slopes.plus(rates.inner_edge.as_mm(), &inner);
        }
        if band.has_sectors() {
            slopes = slopes.plus(rates.sector_width.as_mm(), wire(board, None)?);
        }
        Some(slopes)
    }

    /// The vertex of the limits that lies farthest along these slopes.
    fn vertex(
        &self,
        band: Band,
        slopes: &Linear,
        unlimited: &[f64],
        direction: OptimizationDirection,
    ) -> Option<Vec<f64>> {
        let bearing = &self.bands[band];
        // What does not matter stays where the nominal board has it.
        let fixed = |index: usize| {
            let id = InputId::new(index);
            if !bearing.tied.contains(&id) {
                return Some(self.nominal.get(index).copied().unwrap_or(0.0));
            }
            let (_, wire) = bearing.unlimited.iter().find(|(own, _)| *own == id)?;
            unlimited.get(*wire).copied()
        };
        let mut programme = self.model.programme(slopes, direction, fixed);
        for (form, interval) in &bearing.bounds {
            programme.within(form, *interval);
        }
        programme.vertex()
    }

    /// The spider at a point of the programme.
    fn spider(&self, at: &[f64]) -> Option<Spider> {
        let board = &self.model.construction;
        let mut rings = PerRing::default();
        for ring in RingWire::ALL {
            let apex = board.edge_radius(ring, Edge::Apex)?.at(at);
            let width = wire(board, Some(ring))?.at(at);
            rings[ring] =
                RingShape::around_apex(Point::ORIGIN, Length::mm(apex), Length::mm(width));
        }
        Some(Spider {
            rings,
            sectors: Some(SectorShape::even(Length::mm(wire(board, None)?.at(at)))),
            staples: Vec::new(),
        })
    }
}

impl Bearing {
    fn lengths(&self) -> Lengths<'_> {
        Lengths {
            free: &self.free,
            wires: &self.unlimited,
            bounds: &self.bounds,
        }
    }

    fn on(
        band: Band,
        board: &Construction,
        bounds: &[(Linear, Interval)],
        unlimited: &[Option<RingWire>],
    ) -> Self {
        let rings = [Some(band.outer_wire()), band.inner_wire()];
        let rings = rings.into_iter().flatten();
        let places = rings.flat_map(|ring| {
            let apex = board.edge_radius(ring, Edge::Apex);
            [apex, board.ring_wires[ring].clone()]
        });
        let sectors = band.has_sectors().then(|| board.sector_wires.clone());
        let lengths = places.chain(sectors).flatten();
        let own: Vec<InputId> = lengths
            .flat_map(|form| ids(&form).collect::<Vec<_>>())
            .collect();
        // Whatever a limit ties to a length that matters, matters.
        let mut tied = own.clone();
        let mut before = 0;
        while tied.len() > before {
            before = tied.len();
            for (form, _) in bounds {
                if ids(form).any(|id| tied.contains(&id)) {
                    let new: Vec<_> = ids(form).filter(|id| !tied.contains(id)).collect();
                    tied.extend(new);
                }
            }
        }
        let ties = |form: &Linear| ids(form).any(|id| tied.contains(&id));
        let unlimited = unlimited.iter().enumerate().filter_map(|(index, &ring)| {
            let (id, _) = *wire(board, ring)?.terms().first()?;
            tied.contains(&id).then_some((id, index))
        });
        let unlimited: Vec<_> = unlimited.collect();
        let is_free = |id: &InputId| unlimited.iter().all(|(wire, _)| wire != id);
        Self {
            bounds: bounds
                .iter()
                .filter(|(form, _)| ties(form))
                .cloned()
                .collect(),
            free: tied.iter().copied().filter(is_free).collect(),
            unlimited,
            own,
            tied,
        }
    }
}

fn ids(form: &Linear) -> impl Iterator<Item = InputId> {
    form.terms().iter().map(|&(id, _)| id)
}

/// The thickness of a ring wire or, for `None`, of the sector wires.
fn wire(board: &Construction, ring: Option<RingWire>) -> Option<&Linear> {
    match ring {
        Some(ring) => board.ring_wires[ring].as_ref(),
        None => board.sector_wires.as_ref(),
    }
}

/// Whether the wires around a band overlap, or leave no bull within them.
fn overlaps(spider: &Spider, band: Band) -> bool {
    let outer = &spider.rings[band.outer_wire()];
    let inner = band.inner_wire().map(|ring| &spider.rings[ring]);
    let innermost = inner.unwrap_or(outer);
    innermost.inside <= Some(Length::ZERO)
        || inner.is_some_and(|inner| inner.outside >= outer.inside)
}

#[cfg(test)]
mod tests;
