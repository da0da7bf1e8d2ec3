//! Areas of bands and beds, and how they change when a wire's edge moves.

use super::{Bed, Region, Spider};
use crate::board::{Band, Edge};
use crate::units::{Area, Length, Percent};

/// The area of a band.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct BandArea {
    /// Each bed, clockwise from the top.
    pub beds: Vec<BedArea>,
    /// Free area of all beds together.
    pub free: Area,
    /// Area of the band out to the apexes of its wires, if those are known.
    pub apex_to_apex: Option<Area>,
    /// How the free area of the whole band changes with its edges.
    pub rates: EdgeRates,
    /// How the area out to the apexes changes with the apexes, if those are
    /// known.
    pub apex_rates: Option<EdgeRates>,
}

/// The area of one bed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct BedArea {
    /// The part that is not metal.
    pub free: Area,
    /// Out to the apexes of the wires around it, if those are known.
    pub apex_to_apex: Option<Area>,
}

impl BedArea {
    /// The share of the bed, out to the apexes of its wires, that is metal.
    pub fn metal_share(&self) -> Option<Percent> {
        Percent::of(1.0 - self.free / self.apex_to_apex?).ok()
    }
}

/// Change of a band's free area with a movement, in mm² per mm: a length, that
/// of the edge which moves.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[non_exhaustive]
pub struct EdgeRates {
    /// When the outer wire's near edge moves outwards.
    pub outer_edge: Length,
    /// When the inner wire's far edge moves outwards (negative).
    pub inner_edge: Length,
    /// When every sector wire becomes wider (negative).
    pub sector_width: Length,
}

impl BandArea {
    /// The share of the band, out to the apexes of its wires, that is metal.
    pub fn metal_share(&self) -> Option<Percent> {
        let whole = self.apex_to_apex?;
        Percent::of(1.0 - self.free / whole).ok()
    }

    /// The free area of the mean bed.
    pub fn mean_bed(&self) -> Area {
        self.free / self.beds.len().max(1) as f64
    }
}

impl EdgeRates {
    /// Adds a region's arcs along its outer and its inner wire.
    fn add(&mut self, times: f64, region: &Region, band: Band, outer: Edge, inner: Edge) {
        let rate = region.rate_of_ring_edge(band.outer_wire(), outer);
        self.outer_edge = self.outer_edge + rate * times;
        if let Some(wire) = band.inner_wire() {
            self.inner_edge = self.inner_edge + region.rate_of_ring_edge(wire, inner) * times;
        }
    }
}

/// The area of a band; `None` if a wire that bounds it is not known.
pub fn band_area(spider: &Spider, band: Band) -> Option<BandArea> {
    let first = Bed::new(band, 0);
    // Twenty equal beds are computed once: it is exact, and what most boards
    // are described as.
    let (measured, copies) = if spider.is_regular(first) {
        (vec![first], band.beds())
    } else {
        (Bed::of_band(band).collect(), 1)
    };
    let times = copies as f64;
    let mut beds = Vec::with_capacity(band.beds());
    let mut rates = EdgeRates::default();
    let mut apex_rates = EdgeRates::default();
    let mut free = Area::ZERO;
    let mut apex_to_apex = Some(Area::ZERO);
    for bed in measured {
        let region = spider.free_region(bed)?;
        let area = region.area();
        let apex_region = spider.apex_region(bed);
        let apex = apex_region.as_ref().map(Region::area);
        let own = BedArea {
            free: area,
            apex_to_apex: apex,
        };
        free = free + area * times;
        beds.extend(std::iter::repeat_n(own, copies));
        rates.add(times, &region, band, Edge::Inside, Edge::Outside);
        rates.sector_width = rates.sector_width + region.rate_of_sector_width() * times;
        apex_to_apex = apex_to_apex.zip(apex).map(|(sum, apex)| sum + apex * times);
        if let Some(region) = &apex_region {
            apex_rates.add(times, region, band, Edge::Apex, Edge::Apex);
        }
    }
    Some(BandArea {
        beds,
        free,
        apex_to_apex,
        rates,
        apex_rates: apex_to_apex.map(|_| apex_rates),
    })
}

/// The free area of a band alone, without its slopes and what its metal takes;
/// `None` if a wire that bounds it is not known.
pub fn free_area(spider: &Spider, band: Band) -> Option<Area> {
    let first = Bed::new(band, 0);
    if spider.is_regular(first) {
        let area = spider.free_region(first)?.area();
        return Some(Area::mm2(band.beds() as f64 * area.as_mm2()));
    }
    let areas = Bed::of_band(band).map(|bed| Some(spider.free_region(bed)?.area()));
    let whole: Option<f64> = areas.map(|area| Some(area?.as_mm2())).sum();
    whole.map(Area::mm2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::RingWire;
    use crate::fixtures::{bent, round};
    use crate::geometry::{Point, RingShape, SectorShape};

    /// The free area of a bed by midpoint quadrature over the bearing, from
    /// ray-and-circle distances alone: no boundary, no Green's theorem.
    fn by_quadrature(spider: &Spider, bed: Bed) -> f64 {
        const STEPS: usize = 200_000;
        let sectors = spider.sectors.expect("sector wires");
        let band = bed.band();
        let exit = |wire: RingWire, radius: Length, (sin, cos): (f64, f64)| {
            let centre = spider.rings[wire].centre;
            let radius = radius.as_mm();
            let along = centre.x * sin + centre.y * cos;
            let across = centre.x * cos - centre.y * sin;
            along + libm::sqrt(radius * radius - across * across)
        };
        let (left, right) = if band.has_sectors() {
            let left = sectors.bearings[bed.sector()].as_radians();
            let right = sectors.bearings[(bed.sector() + 1) % 20].as_radians();
            let full = std::f64::consts::TAU;
            (left, left + libm::fmod(right - left + full, full))
        } else {
            (0.0, std::f64::consts::TAU)
        };
        let step = (right - left) / STEPS as f64;
        let mut sum = 0.0;
        for i in 0..STEPS {
            let bearing = left + (i as f64 + 0.5) * step;
            let direction = libm::sincos(bearing);
            let outer = spider.rings[band.outer_wire()].inside.expect("an edge");
            let far = exit(band.outer_wire(), outer, direction);
            let mut near = band.inner_wire().map_or(0.0, |wire| {
                exit(
                    wire,
                    spider.rings[wire].outside.expect("an edge"),
                    direction,
                )
            });
            if band.has_sectors() {
                // A ray leaves a strip where its distance from the centreline
                // is half the width.
                let half = sectors.widths[0].as_mm() / 2.0;
                near = near.max(half / libm::sin(bearing - left));
                near = near.max(half / libm::sin(right - bearing));
            }
            sum += (far * far - near * near).max(0.0);
        }
        0.5 * sum * step
    }

    #[test]
    fn free_areas_of_the_reference_board_are_exact() {
        // Recomputed independently: closed form to 30 digits, by quadrature
        // and by polygons.
        for (band, expected) in [
            (Band::InnerBull, 126.676_869_774_374),
            (Band::OuterBull, 594.388_716_317_648),
            (Band::InnerSingle, 1_264.665_328_499_62),
            (Band::Treble, 241.776_716_684_372),
            (Band::OuterSingle, 2_076.064_224_197_336),
            (Band::Double, 400.113_072_953_577),
        ] {
            let area = band_area(&round(), band).expect("all wires are known");
            let bed = area.mean_bed().as_mm2();
            assert!(
                (bed - expected).abs() < 1e-9,
                "{band}: {bed} is not {expected}"
            );
        }
    }

    #[test]
    fn areas_agree_with_quadrature_on_concentric_and_bent_boards() {
        for spider in [round(), bent()] {
            for bed in Bed::all().filter(|bed| bed.sector() % 7 == 0) {
                let region = spider.free_region(bed).expect("all wires are known");
                let (exact, numeric) = (region.area().as_mm2(), by_quadrature(&spider, bed));
                assert!(
                    (exact / numeric - 1.0).abs() < 1e-6,
                    "{bed}: {exact} {numeric}"
                );
                assert!(region.largest_gap().as_mm() < 1e-12, "{bed}: open boundary");
            }
        }
    }

    #[test]
    fn twenty_equal_beds_are_the_same_as_twenty_computed_ones() {
        let even = round();
        let mut computed = round();
        for ring in RingWire::ALL {
            // Too small a shift to matter, enough to be computed bed by bed.
            computed.rings[ring].centre = Point::new(1e-13, 0.0);
        }
        for band in Band::ALL {
            let a = band_area(&even, band).expect("known");
            let b = band_area(&computed, band).expect("known");
            assert!((a.free / b.free - 1.0).abs() < 1e-12, "{band}");
            assert_eq!(a.beds.len(), b.beds.len());
            let beds: Area = b.beds.iter().map(|bed| bed.free).sum();
            assert!((beds / b.free - 1.0).abs() < 1e-12, "{band}");
        }
    }

    #[test]
    fn rates_are_the_derivatives_of_the_areas() {
        let step = 1e-4;
        let spider = bent();
        for band in Band::ALL {
            let rates = band_area(&spider, band).expect("known").rates;
            let slope = |change: &dyn Fn(&mut Spider, f64)| {
                let area = |delta| {
                    let mut moved = spider.clone();
                    change(&mut moved, delta);
                    band_area(&moved, band).expect("known").free.as_mm2()
                };
                (area(step) - area(-step)) / (2.0 * step)
            };
            let outer = slope(&|spider, delta| {
                let edge = &mut spider.rings[band.outer_wire()].inside;
                *edge = edge.map(|radius| radius + Length::mm(delta));
            });
            assert!(
                (outer - rates.outer_edge.as_mm()).abs() < 1e-4,
                "{band}: {outer}"
            );
            if let Some(wire) = band.inner_wire() {
                let inner = slope(&|spider, delta| {
                    let edge = &mut spider.rings[wire].outside;
                    *edge = edge.map(|radius| radius + Length::mm(delta));
                });
                assert!(
                    (inner - rates.inner_edge.as_mm()).abs() < 1e-4,
                    "{band}: {inner}"
                );
            }
            let width = slope(&|spider, delta| {
                spider.sectors = spider.sectors.map(|s| s.widened(Length::mm(delta)));
            });
            assert!(
                (width - rates.sector_width.as_mm()).abs() < 1e-4,
                "{band}: {width}"
            );
        }
    }

    #[test]
    fn free_area_and_metal_make_up_the_disc() {
        // The strip's area in closed form, S(R) = h√(R² − h²) + R² asin(h/R),
        // is a formula that the engine does not use.
        let spider = round();
        let w = 1.6256;
        let half_strip = |radius: f64| {
            let h = w / 2.0;
            h * libm::sqrt(radius * radius - h * h) + radius * radius * libm::asin(h / radius)
        };
        let ring = |wire: RingWire, edge: Edge| {
            let radius = spider.rings[wire].radius(edge).expect("known");
            radius.as_mm()
        };
        let pi = std::f64::consts::PI;
        let mut sum = 0.0;
        for band in Band::ALL {
            let outer = ring(band.outer_wire(), Edge::Inside);
            sum += band_area(&spider, band).expect("known").free.as_mm2();
            if band.has_sectors() {
                let inner = band.inner_wire().map(|wire| ring(wire, Edge::Outside));
                sum += 20.0 * (half_strip(outer) - half_strip(inner.expect("an inner wire")));
            }
        }
        for wire in RingWire::ALL {
            let (inside, outside) = (ring(wire, Edge::Inside), ring(wire, Edge::Outside));
            sum += pi * (outside * outside - inside * inside);
        }
        assert!((sum / (pi * 170.0 * 170.0) - 1.0).abs() < 1e-12, "{sum}");
    }

    #[test]
    fn wires_that_meet_leave_a_tip_or_nothing() {
        let mut spider = round();
        // 12 mm wires 18° apart meet 38 mm out: beyond the outer bull.
        spider.sectors = Some(SectorShape::even(Length::mm(12.0)));
        let tip = spider
            .free_region(Bed::new(Band::InnerSingle, 3))
            .expect("known");
        assert_eq!(tip.pieces().count(), 3);
        let numeric = by_quadrature(&spider, Bed::new(Band::InnerSingle, 3));
        assert!(
            (tip.area().as_mm2() / numeric - 1.0).abs() < 1e-6,
            "{} {numeric}",
            tip.area()
        );
        // 60 mm wires meet 189 mm out: beyond the board.
        spider.sectors = Some(SectorShape::even(Length::mm(60.0)));
        let none = spider
            .free_region(Bed::new(Band::Double, 3))
            .expect("known");
        assert_eq!(none, crate::geometry::Region::default());
    }

    #[test]
    fn a_wire_of_no_width_takes_no_area() {
        let mut spider = round();
        for ring in RingWire::ALL {
            let apex = spider.rings[ring].apex.expect("known");
            spider.rings[ring] = RingShape::around_apex(Point::ORIGIN, apex, Length::ZERO);
        }
        spider.sectors = Some(SectorShape::even(Length::ZERO));
        for band in Band::ALL {
            let share = band_area(&spider, band)
                .expect("known")
                .metal_share()
                .expect("apexes");
            assert!(share.value().abs() < 1e-9, "{band}: {share}");
        }
    }

    #[test]
    fn a_band_whose_wires_are_not_known_has_no_area() {
        let mut spider = round();
        spider.rings[RingWire::TrebleInner] = RingShape::default();
        assert_eq!(band_area(&spider, Band::Treble), None);
        assert!(band_area(&spider, Band::Double).is_some());
        spider.sectors = None;
        assert_eq!(band_area(&spider, Band::Double), None);
        assert!(band_area(&spider, Band::OuterBull).is_some());
    }
}
