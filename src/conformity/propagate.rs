//! Free areas with their sensitivity to every measured length.

use crate::board::{Band, Construction, Edge, InputId, Linear};
use crate::geometry::{BandArea, EdgeRates, Spider, band_area};
use crate::units::Length;

/// A band's free area and its slope in every measured length.
#[derive(Clone, Debug)]
pub struct FreeArea {
    /// The areas.
    pub area: BandArea,
    /// The band's three edges, in terms of measured lengths.
    edges: BandEdges,
}

/// The lengths that a band's free area depends on.
#[derive(Clone, Debug)]
struct BandEdges {
    outer: Linear,
    inner: Option<Linear>,
    sectors: Option<Linear>,
}

impl FreeArea {
    /// The free area of a band, if the lengths that it needs were recorded.
    pub fn of(construction: &Construction, spider: &Spider, band: Band) -> Option<Self> {
        let area = band_area(spider, band)?;
        let inner = match band.inner_wire() {
            Some(wire) => Some(construction.edge_radius(wire, Edge::Outside)?),
            None => None,
        };
        let sectors = if band.has_sectors() {
            Some(construction.sector_wires.clone()?)
        } else {
            None
        };
        let edges = BandEdges {
            outer: construction.edge_radius(band.outer_wire(), Edge::Inside)?,
            inner,
            sectors,
        };
        Some(Self { area, edges })
    }

    /// The slope of the free area in each measured length, in mm² per mm.
    pub fn slopes(&self) -> Linear {
        self.slopes_at(&self.area.rates)
    }

    /// The slopes for other rates of the same edges.
    pub(super) fn slopes_at(&self, rates: &EdgeRates) -> Linear {
        let mut slopes = Linear::default().plus(rates.outer_edge, &self.edges.outer);
        if let Some(inner) = &self.edges.inner {
            slopes = slopes.plus(rates.inner_edge, inner);
        }
        if let Some(sectors) = &self.edges.sectors {
            slopes = slopes.plus(rates.sector_width, sectors);
        }
        slopes
    }

    /// The standard uncertainty of the free area, in mm², to first order
    /// (JCGM 100, 5.1.2, from memory). `None` if a length that matters states
    /// none.
    pub fn standard_uncertainty(&self, construction: &Construction) -> Option<f64> {
        // A form's uncertainty is that of a length; here its factors are
        // slopes, so the number comes out in mm².
        self.slopes()
            .standard_uncertainty(&construction.inputs)
            .map(Length::as_mm)
    }

    /// The measured lengths that the area depends on.
    pub fn inputs(&self) -> impl Iterator<Item = InputId> {
        self.slopes().terms().to_vec().into_iter().map(|(id, _)| id)
    }
}
