//! Areas with their sensitivity to every measured length.

use super::slopes::bed_slopes;
use crate::board::{Band, Construction, Edge, Input, InputId, Linear, Quantity, RingWire};
use crate::geometry::{BandArea, Bed, EdgeRates, Spider, band_area};
use crate::units::{Length, Percent, Uncertainty};

/// A band's free area and its slope in every measured length.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct FreeArea {
    /// The areas.
    pub area: BandArea,
    /// The edges that bound the free area.
    pub(super) edges: Vec<BandEdge>,
    /// The slopes of each bed's area, where the beds are not all the same.
    beds: Option<Vec<Linear>>,
    /// Where they are: the slopes of each in the turns of its wires, as far as it is known
    /// how well their bearings are.
    turns: Vec<Linear>,
    /// The apexes that bound the area with its metal, if known.
    apexes: Option<Vec<BandEdge>>,
}

/// A length that a band's area depends on.
#[derive(Clone, Debug)]
pub(super) struct BandEdge {
    /// The ring wire; `None` for the sector wires.
    pub(super) ring: Option<RingWire>,
    /// The radius of its edge, or the sector wires' width, in terms of
    /// measured lengths.
    pub(super) form: Linear,
    /// How fast the area grows with it, in mm² per mm: a length.
    pub(super) rate: Length,
}

impl FreeArea {
    /// The free area of a band, if the lengths that it needs were recorded.
    pub fn of(construction: &Construction, spider: &Spider, band: Band) -> Option<Self> {
        let area = band_area(spider, band)?;
        let facing = (Edge::Inside, Edge::Outside);
        let edges = self::edges(construction, band, facing, &area.rates)?;
        let apex = (Edge::Apex, Edge::Apex);
        let rates = area.apex_rates.as_ref();
        let apexes = rates.and_then(|rates| self::edges(construction, band, apex, rates));
        let are_alike = spider.is_regular(Bed::new(band, 0));
        let is_turn = |input: &Input| matches!(input.quantity, Quantity::Turn(_));
        let beds = if are_alike {
            None
        } else {
            bed_slopes(construction, band, |_| true)
        };
        let turns = (are_alike && construction.may_turn())
            .then(|| bed_slopes(construction, band, is_turn))
            .flatten();
        Some(Self {
            area,
            edges,
            beds,
            turns: turns.unwrap_or_default(),
            apexes,
        })
    }

    /// The slope of the free area in each measured length, in mm² per mm. Of an even band it
    /// has none in the turns of sector wires: what one bed gains its neighbour loses.
    pub fn slopes(&self) -> Linear {
        match &self.beds {
            None => slopes(&self.edges),
            Some(beds) => {
                let all = beds.iter();
                let all = all.fold(Linear::default(), |sum, own| sum.plus(1.0, own));
                all.without_noise(1e-7)
            }
        }
    }

    /// The slope of one bed's free area in each measured length, in mm² per mm,
    /// by the bed's index clockwise from the top.
    pub fn bed_slopes(&self, bed: usize) -> Linear {
        match &self.beds {
            None => {
                let share = 1.0 / self.area.beds.len().max(1) as f64;
                let even = Linear::default().plus(share, &self.slopes());
                match self.turns.get(bed) {
                    Some(turns) => even.plus(1.0, turns),
                    None => even,
                }
            }
            Some(beds) => beds.get(bed).cloned().unwrap_or_default(),
        }
    }

    /// Whether the beds are not all the same.
    pub const fn is_uneven(&self) -> bool {
        self.beds.is_some()
    }

    /// The standard uncertainty of the free area, in mm², to first order
    /// (JCGM 100, 5.1.2, from memory). `None` if a length that matters states
    /// none.
    pub fn uncertainty(&self, construction: &Construction) -> Option<Uncertainty> {
        self.slopes().uncertainty(&construction.inputs)
    }

    /// The measured lengths that the free area depends on.
    pub fn inputs(&self) -> impl Iterator<Item = InputId> {
        self.slopes().terms().to_vec().into_iter().map(|(id, _)| id)
    }

    /// The slope of the metal share, as a ratio per mm, in each measured
    /// length: of 1 − F/C, where F is the free area and C that to the apexes.
    pub fn metal_slopes(&self) -> Option<Linear> {
        let whole = self.area.apex_to_apex?.as_mm2();
        let free = self.area.free.as_mm2();
        let apexes = slopes(self.apexes.as_ref()?);
        let by_free = Linear::default().plus(-1.0 / whole, &self.slopes());
        Some(by_free.plus(free / (whole * whole), &apexes))
    }

    /// The standard uncertainty of the metal share, in percent.
    pub fn metal_uncertainty(&self, construction: &Construction) -> Option<Percent> {
        let u = self.metal_slopes()?.uncertainty(&construction.inputs)?;
        Percent::of(u.standard()).ok()
    }
}

fn slopes(edges: &[BandEdge]) -> Linear {
    let add = |slopes: Linear, edge: &BandEdge| slopes.plus(edge.rate.as_mm(), &edge.form);
    edges.iter().fold(Linear::default(), add)
}

/// The edges of a band, `sides` being those of its outer and its inner wire.
fn edges(
    construction: &Construction,
    band: Band,
    sides: (Edge, Edge),
    rates: &EdgeRates,
) -> Option<Vec<BandEdge>> {
    let outer = band.outer_wire();
    let mut edges = vec![BandEdge {
        ring: Some(outer),
        form: construction.edge_radius(outer, sides.0)?,
        rate: rates.outer_edge,
    }];
    if let Some(inner) = band.inner_wire() {
        edges.push(BandEdge {
            ring: Some(inner),
            form: construction.edge_radius(inner, sides.1)?,
            rate: rates.inner_edge,
        });
    }
    if band.has_sectors() && rates.sector_width != Length::ZERO {
        edges.push(BandEdge {
            ring: None,
            form: construction.sector_wires.clone()?,
            rate: rates.sector_width,
        });
    }
    Some(edges)
}
