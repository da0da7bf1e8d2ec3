//! What comes of an aim, from what comes of the aims about it.
//!
//! The probability of a bed is the bed seen through the spread: so smooth that about any
//! place a polynomial tells it to 1e-10, and its slopes with it, as soon as it is known on
//! a honeycomb a good deal finer than the spread. That takes less time than to integrate
//! along the borders of all beds again.

use std::array::from_fn;

use crate::geometry::Point;
use crate::play::Slope;
use crate::play::worth::BEDS;

/// The degree of the polynomials. Of 10, 11 and 12 on honeycombs of 0.36 to 0.45 of the
/// spread, strips and corners as narrow as a fifth of it were told to 3e-11 with this one
/// on 0.4 (measured); with 13 the values no longer settle all terms.
const DEGREE: usize = 12;
const TERMS: usize = (DEGREE + 1) * (DEGREE + 2) / 2;
/// How many steps from its middle a patch reaches for values.
pub(super) const RINGS: i32 = 2;
/// A middle, and the two rings about it.
pub(super) const PLACES: usize = 19;
/// Less than this is out of reach: rounding leaves about 1e-16. House rule.
const FAINT: f64 = 1e-14;
/// A value, two first and three second derivatives.
const KINDS: usize = 6;
const VALUES: usize = KINDS * PLACES;

/// How the polynomials of all patches follow from values: the places about all middles lie
/// alike.
#[derive(Clone, Debug)]
pub(super) struct Fit {
    /// The unit in which polynomials are written.
    unit: f64,
    /// By term: what each value counts.
    weights: Vec<[f64; VALUES]>,
}

/// The probability of every bed about a place.
#[derive(Clone, Debug)]
pub(super) struct Patch {
    middle: Point,
    unit: f64,
    /// The beds within reach, and the polynomial of each.
    beds: Vec<(usize, [f64; TERMS])>,
}

/// What comes of an aim: the beds within its reach. With a narrow spread these are few.
#[derive(Clone, Debug)]
pub(super) struct InReach(Box<[(usize, Slope)]>);

impl InReach {
    pub(super) fn of(slopes: &[Slope; BEDS]) -> Self {
        let is_in_reach = |(_, slope): &(usize, &Slope)| {
            let ([x, y], [xx, xy, yy]) = (slope.gradient, slope.hessian);
            [slope.value, x, y, xx, xy, yy]
                .iter()
                .any(|value| value.abs() >= FAINT)
        };
        let in_reach = slopes.iter().enumerate().filter(is_in_reach);
        Self(in_reach.map(|(bed, slope)| (bed, *slope)).collect())
    }

    /// Of every bed.
    pub(super) fn all(&self) -> [Slope; BEDS] {
        let mut all = [Slope::default(); BEDS];
        for (bed, slope) in &self.0 {
            if let Some(place) = all.get_mut(*bed) {
                *place = *slope;
            }
        }
        all
    }
}

impl Fit {
    /// For places that lie like these about the middle; the last of them are one `unit` away.
    pub(super) fn of(around: &[Point; PLACES], unit: f64) -> Self {
        let places = around.iter().map(|place| *place * (1.0 / unit));
        let rows: Vec<[f64; TERMS]> = places.flat_map(rows).collect();
        Self {
            unit,
            weights: least_squares(&rows),
        }
    }

    /// About a place, from the slopes at it and about it.
    pub(super) fn patch<'s>(
        &self,
        middle: Point,
        slopes: impl Iterator<Item = &'s InReach>,
    ) -> Patch {
        let unit = self.unit;
        let mut values: Vec<Option<Box<[f64; VALUES]>>> = vec![None; BEDS];
        for (place, InReach(slopes)) in slopes.enumerate() {
            for (bed, slope) in slopes {
                let own = values.get_mut(*bed).map(|own| own.get_or_insert_with(none));
                let ([x, y], [xx, xy, yy]) = (slope.gradient, slope.hessian);
                let bends = [xx, xy, yy].map(|bend| unit * unit * bend);
                let kinds = [[slope.value, unit * x, unit * y], bends];
                let places = own.map_or(&mut [][..], |own| own.as_mut_slice());
                let places = places.iter_mut().skip(KINDS * place);
                for (place, value) in places.zip(kinds.as_flattened()) {
                    *place = *value;
                }
            }
        }
        let polynomial = |(bed, values): (usize, Option<Box<[f64; VALUES]>>)| {
            let values = values?;
            let mut terms = [0.0; TERMS];
            for (term, weights) in terms.iter_mut().zip(&self.weights) {
                *term = dot(weights, &values);
            }
            Some((bed, terms))
        };
        Patch {
            middle,
            unit,
            beds: values
                .into_iter()
                .enumerate()
                .filter_map(polynomial)
                .collect(),
        }
    }
}

impl Patch {
    /// The probability of every bed for an aim near its middle.
    pub(super) fn values(&self, aim: Point) -> [f64; BEDS] {
        let [row, ..] = self.rows(aim);
        let mut values = [0.0; BEDS];
        for (bed, terms) in &self.beds {
            if let Some(value) = values.get_mut(*bed) {
                *value = dot(&row, terms);
            }
        }
        values
    }

    /// A sum over beds, each times a weight, for such an aim.
    pub(super) fn slope(&self, aim: Point, weights: &[f64; BEDS]) -> Slope {
        let mut terms = [0.0; TERMS];
        for (bed, own) in &self.beds {
            subtract(&mut terms, -part(weights, *bed), own);
        }
        let [value, x, y, xx, xy, yy] = self.rows(aim).map(|row| dot(&row, &terms));
        let (first, second) = (1.0 / self.unit, 1.0 / (self.unit * self.unit));
        Slope {
            value,
            gradient: [x, y].map(|slope| first * slope),
            hessian: [xx, xy, yy].map(|bend| second * bend),
        }
    }

    fn rows(&self, aim: Point) -> [[f64; TERMS]; KINDS] {
        rows((aim - self.middle) * (1.0 / self.unit))
    }
}

fn none() -> Box<[f64; VALUES]> {
    Box::new([0.0; VALUES])
}

/// The powers of a number, and their first and second derivatives by it.
#[derive(Clone, Copy)]
struct Powers([[f64; DEGREE + 1]; 3]);

impl Powers {
    fn of(base: f64) -> Self {
        let mut all = [[0.0; DEGREE + 1]; 3];
        let (mut power, mut below, mut below_that) = (1.0, 0.0, 0.0);
        let mut n = 0.0;
        let [powers, firsts, seconds] = &mut all;
        for ((p, first), second) in powers.iter_mut().zip(firsts).zip(seconds) {
            (*p, *first, *second) = (power, n * below, n * (n - 1.0) * below_that);
            (below_that, below, power) = (below, power, power * base);
            n += 1.0;
        }
        Self(all)
    }
}

/// What each term counts in a value and in its five derivatives at a place.
fn rows(at: Point) -> [[f64; TERMS]; KINDS] {
    let (Powers([x, x1, x2]), Powers([y, y1, y2])) = (Powers::of(at.x), Powers::of(at.y));
    let kinds = [(x, y), (x1, y), (x, y1), (x2, y), (x1, y1), (x, y2)];
    kinds.map(|(x, y)| {
        let mut row = [0.0; TERMS];
        let terms = (0..=DEGREE).flat_map(|n| (0..=n).map(move |m| (m, n - m)));
        for (place, (m, n)) in row.iter_mut().zip(terms) {
            *place = part(&x, m) * part(&y, n);
        }
        row
    })
}

/// The map from values to the terms that fit them best, each value counting alike: by
/// orthogonal columns, made so twice over, which is as good as in exact arithmetic
/// (Giraud and others, Numerische Mathematik 101, 2005, from memory).
fn least_squares(rows: &[[f64; TERMS]]) -> Vec<[f64; VALUES]> {
    let column = |term: usize| -> [f64; VALUES] {
        from_fn(|value| rows.get(value).map_or(0.0, |row| part(row, term)))
    };
    // Orthogonal directions, and the terms that each of them is made of.
    let mut known: Vec<([f64; VALUES], [f64; TERMS])> = Vec::with_capacity(TERMS);
    for term in 0..TERMS {
        let (mut direction, mut made_of) = (column(term), [0.0; TERMS]);
        if let Some(own) = made_of.get_mut(term) {
            *own = 1.0;
        }
        for _ in 0..2 {
            for (other, of) in &known {
                let share = dot(&direction, other);
                subtract(&mut direction, share, other);
                subtract(&mut made_of, share, of);
            }
        }
        let length = libm::sqrt(dot(&direction, &direction)).max(f64::MIN_POSITIVE);
        known.push((
            direction.map(|part| part / length),
            made_of.map(|part| part / length),
        ));
    }
    let weights = |term: usize| {
        let mut weights = [0.0; VALUES];
        for (direction, made_of) in &known {
            subtract(&mut weights, -part(made_of, term), direction);
        }
        weights
    };
    (0..TERMS).map(weights).collect()
}

/// One of many numbers.
fn part(of: &[f64], at: usize) -> f64 {
    of.get(at).copied().unwrap_or_default()
}

/// In four sums side by side, since a processor adds them at once.
fn dot<const N: usize>(a: &[f64; N], b: &[f64; N]) -> f64 {
    let ((fours, rest), (others, other_rest)) = (a.as_chunks::<4>(), b.as_chunks::<4>());
    let mut sums = [0.0; 4];
    for (a, b) in fours.iter().zip(others) {
        for ((sum, a), b) in sums.iter_mut().zip(a).zip(b) {
            *sum += a * b;
        }
    }
    let rest = rest.iter().zip(other_rest).map(|(a, b)| a * b);
    sums.into_iter().chain(rest).sum()
}

fn subtract(from: &mut [f64], share: f64, other: &[f64]) {
    for (from, other) in from.iter_mut().zip(other) {
        *from -= share * other;
    }
}
