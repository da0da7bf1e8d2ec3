//! The boundaries of all beds, prepared once for many throws.

use super::probability::{Plane, Sums, Turns};
use super::worth::{BEDS, index};
use crate::geometry::{Bed, Boundary, Curve, Point, Region};

/// Two boundaries that lie closer than this, in mm, are one.
const SAME: f64 = 1e-9;

/// A piece of boundary, the bed on its left, and the one on its right where
/// two beds meet without metal between them.
#[derive(Clone, Debug)]
struct Border {
    curve: Curve,
    left: usize,
    right: Option<usize>,
}

/// A disc that holds a bed.
#[derive(Clone, Copy, Debug, Default)]
struct Bounds {
    centre: Point,
    radius: f64,
}

/// The borders of all 82 beds, at one choice of edges.
#[derive(Clone, Debug)]
pub(super) struct Layer {
    borders: Vec<Border>,
    bounds: [Bounds; BEDS],
    areas: [f64; BEDS],
}

impl Layer {
    /// From the region of each bed.
    pub(super) fn new(regions: impl Iterator<Item = (Bed, Region)>) -> Self {
        let mut layer = Self {
            borders: Vec::new(),
            bounds: [Bounds::default(); BEDS],
            areas: [0.0; BEDS],
        };
        for (bed, region) in regions {
            let bed = index(bed);
            if let (Some(bounds), Some(area)) =
                (layer.bounds.get_mut(bed), layer.areas.get_mut(bed))
            {
                *bounds = Bounds::of(&region);
                *area = region.area().as_mm2();
            }
            for piece in region.pieces() {
                layer.insert(bed, piece);
            }
        }
        // Arcs of one length one after the other, so that each can use what the
        // one before has computed.
        layer
            .borders
            .sort_by(|a, b| sweep(&a.curve).total_cmp(&sweep(&b.curve)));
        layer
    }

    /// Adds a bed's piece of boundary, or notes the bed on the other side of
    /// one that is already there: what two beds share is integrated once.
    fn insert(&mut self, bed: usize, piece: &Boundary) {
        let curve = piece.curve;
        let reverse = |other: &&mut Border| {
            other.right.is_none()
                && (other.curve.start() - curve.end()).norm() < SAME
                && (other.curve.end() - curve.start()).norm() < SAME
                && (middle(&other.curve) - middle(&curve)).norm() < SAME
        };
        match self.borders.iter_mut().find(reverse) {
            Some(other) => other.right = Some(bed),
            None => self.borders.push(Border {
                curve,
                left: bed,
                right: None,
            }),
        }
    }

    /// The area of each bed, in mm², in the order of all beds.
    pub(super) const fn areas(&self) -> &[f64; BEDS] {
        &self.areas
    }

    /// The probability of each bed, in the order of all beds.
    pub(super) fn probabilities(&self, plane: &Plane) -> [f64; BEDS] {
        let near = self.near(plane, |_| true);
        let is_near = |bed: usize| near.get(bed).copied().unwrap_or(false);
        let (mut probabilities, mut turns) = ([0.0; BEDS], Turns::default());
        for border in &self.borders {
            let right = border.right.filter(|bed| is_near(*bed));
            if !is_near(border.left) && right.is_none() {
                continue;
            }
            let mut sums = Sums::default();
            plane.integrate::<false>(&border.curve, &mut turns, &mut sums);
            if let (true, Some(probability)) =
                (is_near(border.left), probabilities.get_mut(border.left))
            {
                *probability += sums.value;
            }
            if let Some(probability) = right.and_then(|bed| probabilities.get_mut(bed)) {
                *probability -= sums.value;
            }
        }
        // Rounding leaves about 1e-16 of either sign in beds out of reach.
        probabilities.map(|probability| probability.clamp(0.0, 1.0))
    }

    /// The probability of each bed with its derivatives, in the order of all
    /// beds.
    ///
    /// Half of the borders on each of two cores: where a throw reaches the whole
    /// board, this is most of what a leg with aims anywhere takes. The halves are
    /// always the same ones, so the sums are too.
    pub(super) fn slopes(&self, plane: &Plane) -> [Sums; BEDS] {
        let near = self.near(plane, |_| true);
        let (one, other) = self.borders.split_at(self.borders.len() / 2);
        let (mut slopes, others) = rayon::join(
            || slopes_along(one, plane, &near),
            || slopes_along(other, plane, &near),
        );
        for (slope, other) in slopes.iter_mut().zip(others) {
            slope.add(1.0, &other);
        }
        slopes
    }

    /// The mean worth of a throw, and its derivatives if `D`.
    pub(super) fn mean<const D: bool>(&self, plane: &Plane, worth: &[f64; BEDS]) -> Sums {
        let near = self.near(plane, |bed| {
            worth.get(bed).is_some_and(|worth| *worth != 0.0)
        });
        let worth = |bed: usize| match (near.get(bed), worth.get(bed)) {
            (Some(true), Some(worth)) => *worth,
            _ => 0.0,
        };
        let (mut total, mut turns) = (Sums::default(), Turns::default());
        for border in &self.borders {
            let factor = worth(border.left) - border.right.map_or(0.0, worth);
            if factor != 0.0 {
                let mut sums = Sums::default();
                plane.integrate::<D>(&border.curve, &mut turns, &mut sums);
                total.add(factor, &sums);
            }
        }
        total
    }

    /// Which beds the throw reaches, of those that count.
    fn near(&self, plane: &Plane, counts: impl Fn(usize) -> bool) -> [bool; BEDS] {
        let mut near = [false; BEDS];
        for (bed, (near, bounds)) in near.iter_mut().zip(&self.bounds).enumerate() {
            *near = counts(bed) && !plane.is_beyond(bounds.centre, bounds.radius);
        }
        near
    }
}

impl Bounds {
    fn of(region: &Region) -> Self {
        let discs = || region.pieces().map(|piece| Self::of_curve(&piece.curve));
        let count = region.pieces().count().max(1) as f64;
        let sum = discs().fold(Point::ORIGIN, |sum, disc| sum + disc.centre);
        let centre = sum * (1.0 / count);
        let reach = discs().map(|disc| (disc.centre - centre).norm() + disc.radius);
        Self {
            centre,
            radius: reach.fold(0.0, f64::max),
        }
    }

    fn of_curve(curve: &Curve) -> Self {
        match curve {
            Curve::Arc(arc) if arc.sweep.as_radians().abs() > std::f64::consts::PI => Self {
                centre: arc.centre,
                radius: arc.radius.as_mm(),
            },
            // Nothing on a curve is further from its middle than half its length.
            _ => Self {
                centre: middle(curve),
                radius: 0.5 * curve.length().as_mm(),
            },
        }
    }
}

/// What some borders add to the probabilities of the near beds, with their
/// derivatives.
fn slopes_along(borders: &[Border], plane: &Plane, near: &[bool; BEDS]) -> [Sums; BEDS] {
    let is_near = |bed: usize| near.get(bed).copied().unwrap_or(false);
    let (mut slopes, mut turns) = ([Sums::default(); BEDS], Turns::default());
    for border in borders {
        let left = Some(border.left).filter(|bed| is_near(*bed));
        let right = border.right.filter(|bed| is_near(*bed));
        if left.is_none() && right.is_none() {
            continue;
        }
        let mut sums = Sums::default();
        plane.integrate::<true>(&border.curve, &mut turns, &mut sums);
        for (bed, sign) in [(left, 1.0), (right, -1.0)] {
            if let Some(slope) = bed.and_then(|bed| slopes.get_mut(bed)) {
                slope.add(sign, &sums);
            }
        }
    }
    slopes
}

/// What arcs are sorted by; straight edges come first among what is shorter.
fn sweep(curve: &Curve) -> f64 {
    match curve {
        Curve::Arc(arc) => arc.sweep.as_radians(),
        Curve::Segment(_) => 0.0,
    }
}

fn middle(curve: &Curve) -> Point {
    match curve {
        Curve::Arc(arc) => arc.at(0.5),
        Curve::Segment(segment) => (segment.from + segment.to) * 0.5,
    }
}
