//! A board's face, prepared for throws.

use super::layer::Layer;
use super::probability::{Plane, Sums};
use super::worth::BEDS;
use super::{Hits, Metal, PlayError, Throw, Worth, probability};
use crate::board::{Edge, RingWire};
use crate::geometry::{Bed, Point, Region, Spider};
use crate::units::{Angle, Area};

/// A board's face: the boundaries of its beds, free of metal and out to the
/// apexes of its wires, found once for many throws.
#[derive(Clone, Debug)]
pub struct Face {
    spider: Spider,
    free: Layer,
    apex: Layer,
    /// The disc within the outer double wire's far edge.
    rim: Region,
    /// The disc within its apex.
    apex_rim: Region,
}

/// A mean over where darts land, and how it changes with the aim.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[non_exhaustive]
pub struct Slope {
    /// The mean.
    pub value: f64,
    /// Its derivatives by the aim's x and y, in 1/mm.
    pub gradient: [f64; 2],
    /// Its Hessian: the second derivatives xx, xy and yy, in 1/mm².
    pub hessian: [f64; 3],
}

impl Face {
    /// The face of a spider all of whose wires are known.
    pub fn of(spider: &Spider) -> Result<Self, PlayError> {
        for (wire, shape) in spider.rings.iter() {
            if shape.inside.is_none() || shape.apex.is_none() || shape.outside.is_none() {
                return Err(PlayError::UnknownRing(wire));
            }
        }
        if spider.sectors.is_none() {
            return Err(PlayError::UnknownSectors);
        }
        let layer = |region: &dyn Fn(Bed) -> Option<Region>| {
            let regions =
                Bed::all().map(|bed| Ok((bed, region(bed).ok_or(PlayError::OpenBed(bed))?)));
            Ok(Layer::new(
                regions.collect::<Result<Vec<_>, _>>()?.into_iter(),
            ))
        };
        let disc = |edge| {
            let wire = RingWire::DoubleOuter;
            spider
                .ring_edge(wire, edge)
                .ok_or(PlayError::UnknownRing(wire))
        };
        Ok(Self {
            free: layer(&|bed| spider.free_region(bed))?,
            apex: layer(&|bed| spider.apex_region(bed))?,
            rim: disc(Edge::Outside)?,
            apex_rim: disc(Edge::Apex)?,
            spider: spider.clone(),
        })
    }

    /// The wires that it was made from.
    pub const fn spider(&self) -> &Spider {
        &self.spider
    }

    /// The free area of some beds together.
    pub fn free_area(&self, beds: &[Bed]) -> Area {
        let worth = Worth::any_of(beds);
        let pairs = self.free.areas().iter().zip(worth.values());
        Area::mm2(pairs.map(|(area, worth)| area * worth).sum())
    }

    /// The probability of every bed, of metal and of a miss.
    pub fn hits(&self, throw: &Throw, metal: Metal) -> Hits {
        let plane = Plane::of(throw);
        let lost = || {
            Hits::new(
                &self.free.probabilities(&plane),
                probability(throw, &self.rim),
            )
        };
        let glancing = || {
            Hits::new_without_metal(
                &self.apex.probabilities(&plane),
                probability(throw, &self.apex_rim),
            )
        };
        match metal.lost_share() {
            1.0 => lost(),
            0.0 => glancing(),
            share => lost().mixed(share, &glancing()),
        }
    }

    /// The mean worth of a throw.
    pub fn mean(&self, throw: &Throw, metal: Metal, worth: &Worth) -> f64 {
        self.sums::<false>(&Plane::of(throw), metal, worth).value
    }

    /// The mean worth of a throw, and how it changes with the aim.
    pub fn slope(&self, throw: &Throw, metal: Metal, worth: &Worth) -> Slope {
        let plane = Plane::of(throw);
        let sums = self.sums::<true>(&plane, metal, worth);
        Slope {
            value: sums.value,
            gradient: plane.slope_by_aim(sums.slope),
            hessian: plane.bend_by_aim(sums.bend),
        }
    }

    /// The probability of each bed, in the order of all beds, and how it changes
    /// with the aim.
    pub(super) fn slopes(&self, throw: &Throw, metal: Metal) -> [Slope; BEDS] {
        let plane = Plane::of(throw);
        let share = metal.lost_share();
        let mut total = [Sums::default(); BEDS];
        for (share, layer) in [(share, &self.free), (1.0 - share, &self.apex)] {
            if share > 0.0 {
                for (total, sums) in total.iter_mut().zip(layer.slopes(&plane)) {
                    total.add(share, &sums);
                }
            }
        }
        total.map(|sums| Slope {
            value: sums.value,
            gradient: plane.slope_by_aim(sums.slope),
            hessian: plane.bend_by_aim(sums.bend),
        })
    }

    fn sums<const D: bool>(&self, plane: &Plane, metal: Metal, worth: &Worth) -> Sums {
        let share = metal.lost_share();
        let mut sums = Sums::default();
        for (share, layer) in [(share, &self.free), (1.0 - share, &self.apex)] {
            if share > 0.0 {
                sums.add(share, &layer.mean::<D>(plane, worth.values()));
            }
        }
        sums
    }

    /// The middle of a bed: half-way between the facing edges of its ring
    /// wires, half-way between its sector wires; of a bull, its centre.
    pub fn middle(&self, bed: Bed) -> Point {
        let band = bed.band();
        let outer = &self.spider.rings[band.outer_wire()];
        let (Some(sectors), Some(inner), true) =
            (&self.spider.sectors, band.inner_wire(), band.has_sectors())
        else {
            return outer.centre;
        };
        let turn = |wire: usize| {
            sectors
                .bearings
                .get(wire % 20)
                .map_or(0.0, |b| b.as_radians())
        };
        let (left, right) = (turn(bed.sector()), turn(bed.sector() + 1));
        let full = std::f64::consts::TAU;
        let bearing = left + 0.5 * libm::fmod(right - left + full, full);
        let reach = |wire, edge| self.spider.reach(wire, edge, Angle::radians(bearing));
        let near = reach(inner, Edge::Outside).unwrap_or_default();
        let far = reach(band.outer_wire(), Edge::Inside).unwrap_or_default();
        let (sin, cos) = libm::sincos(bearing);
        Point::new(sin, cos) * (0.5 * (near + far).as_mm())
    }

    /// Places within a bed that goes round another: half-way between its ring
    /// wires, an eighth of a turn apart. Of other beds, the middle.
    pub(super) fn places_around(&self, bed: Bed) -> Vec<Point> {
        let band = bed.band();
        let (Some(inner), false) = (band.inner_wire(), band.has_sectors()) else {
            return vec![self.middle(bed)];
        };
        let place = |eighth: u32| {
            let bearing = Angle::radians(std::f64::consts::FRAC_PI_4 * f64::from(eighth));
            let reach = |wire, edge| self.spider.reach(wire, edge, bearing).unwrap_or_default();
            let near = reach(inner, Edge::Outside);
            let far = reach(band.outer_wire(), Edge::Inside);
            let (sin, cos) = libm::sincos(bearing.as_radians());
            Point::new(sin, cos) * (0.5 * (near + far).as_mm())
        };
        (0..8).map(place).collect()
    }
}
