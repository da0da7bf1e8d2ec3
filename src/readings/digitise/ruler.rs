//! The marks of a ruler in the picture: the scale that follows, and marks that do not lie
//! where the others have them.

use statrs::distribution::{ContinuousCDF, FisherSnedecor};

use super::digitised::OutlyingPoint;
use super::point_table::{PointTable, Taken};
use crate::document::{Fault, Problem, Span};
use crate::geometry::Point;
use crate::units::{Length, Uncertainty};

/// How often a sound ruler has such a mark, or such a scatter, all the same. House rule.
const LEVEL: f64 = 0.01;

/// A mark that lies further from where the others have it than this share of the ruler is a
/// slip, and no scatter. House rule: a figure left out or read wrongly moves a mark by
/// more, and nobody's hand by as much.
const SLIP: f64 = 0.01;

/// Below this share of the ruler a departure is the table's own rounding. House rule.
const ROUNDING: f64 = 1e-4;

/// A scale and what there is to say of the marks that it follows from.
pub(super) struct Ruler {
    /// The length of a unit in mm.
    pub(super) unit: f64,
    /// Its relative standard uncertainty.
    pub(super) uncertainty: Uncertainty,
    /// How many points it follows from.
    pub(super) points: usize,
    /// A mark that lies too far from where the others have it.
    pub(super) outlying: Option<OutlyingPoint>,
}

/// A point on a mark.
#[derive(Clone, Copy)]
struct Mark {
    at: f64,
    point: Point,
    span: Span,
}

/// The straight, evenly divided line p = a + t·d that lies nearest to the points.
struct Line {
    middle: f64,
    mean: Point,
    slope: Point,
    squares: f64,
    n: f64,
}

impl Line {
    /// `None` where all of the marks are in one place.
    fn through(marks: &[Mark]) -> Option<Self> {
        let n = marks.len() as f64;
        let middle = marks.iter().map(|mark| mark.at).sum::<f64>() / n;
        let sum = marks.iter().fold(Point::ORIGIN, |sum, m| sum + m.point);
        let squares: f64 = marks
            .iter()
            .map(|m| (m.at - middle) * (m.at - middle))
            .sum();
        let slope = marks.iter().fold(Point::ORIGIN, |sum, mark| {
            sum + mark.point * (mark.at - middle)
        });
        let slope = slope * (1.0 / squares);
        let unit = 1.0 / slope.norm();
        let usable = squares > 0.0 && unit.is_finite() && unit > 0.0;
        usable.then_some(Self {
            middle,
            mean: sum * (1.0 / n),
            slope,
            squares,
            n,
        })
    }

    fn unit(&self) -> f64 {
        1.0 / self.slope.norm()
    }

    fn residual(&self, mark: &Mark) -> Point {
        mark.point - (self.mean + self.slope * (mark.at - self.middle))
    }

    fn sum_of_squares(&self, marks: &[Mark]) -> f64 {
        let residuals = marks.iter().map(|mark| self.residual(mark));
        residuals.map(|r| r.dot(r)).sum()
    }

    /// The variance of a predicted place as a multiple of a point's.
    fn share_at(&self, at: f64) -> f64 {
        let away = at - self.middle;
        1.0 / self.n + away * away / self.squares
    }
}

/// The scale that follows from the marks of a table, `None` where there is no ruler in it.
/// `scatter` is the standard deviation of a point, in the table's unit, pooled over the
/// other features.
pub(super) fn ruler(table: &PointTable, scatter: Uncertainty) -> Option<Result<Ruler, Problem>> {
    let taken = table.features.iter();
    let taken = taken.filter_map(|taken| Some((taken.feature.mark()?.as_mm(), taken)));
    let points = |(at, taken): (f64, &'_ Taken)| {
        let each = taken.points.iter().zip(&taken.places);
        let each = each.map(move |(&point, &span)| Mark { at, point, span });
        each.collect::<Vec<_>>()
    };
    let marks: Vec<Mark> = taken.flat_map(points).collect();
    let first = marks.first()?;
    let Some(line) = Line::through(&marks) else {
        let message = "the ruler has fewer than two marks in different places";
        let remedy = "take points at two marks at least, far apart, such as `ruler 0 mm` and \
                      `ruler 300 mm`";
        let problem = Problem::new(Fault::MissingKey, first.span, message, remedy);
        return Some(Err(problem));
    };
    let departure = furthest(&marks, scatter);
    if let Some(problem) = departure.as_ref().and_then(Departure::slip) {
        return Some(Err(problem));
    }
    let relative = 1.0 / (libm::sqrt(line.squares) * line.slope.norm());
    Some(Ok(Ruler {
        unit: line.unit(),
        uncertainty: larger(&line, &marks, scatter).scaled(relative),
        points: marks.len(),
        outlying: departure.map(|found| OutlyingPoint {
            line: table.source.position(found.span.start).line,
            residual: found.distance,
        }),
    }))
}

/// The scatter of the marks about their line, where it is beyond chance larger than that of
/// the other features (F test of two variances), and otherwise that of the other features,
/// which is known from many more points.
fn larger(line: &Line, marks: &[Mark], scatter: Uncertainty) -> Uncertainty {
    let degrees = 2.0 * line.n - 4.0;
    let own = libm::sqrt(line.sum_of_squares(marks) / degrees);
    // Two points leave nothing to be scattered.
    if !own.is_finite() || own <= scatter.standard() {
        return scatter;
    }
    let ratio = own / scatter.standard();
    let others = scatter.degrees_of_freedom();
    let most = FisherSnedecor::new(degrees, others).map(|f| f.inverse_cdf(1.0 - LEVEL));
    match most {
        Ok(most) if ratio * ratio <= most => scatter,
        _ => Uncertainty::with_degrees(own, degrees),
    }
}

/// How far a mark lies from where the others have it.
struct Departure {
    at: f64,
    span: Span,
    distance: Length,
    /// As a share of the ruler.
    share: f64,
    /// Whether the marks that are left show that they agree without it.
    is_told: bool,
}

impl Departure {
    fn slip(&self) -> Option<Problem> {
        if self.share < SLIP {
            return None;
        }
        let Self { at, distance, .. } = self;
        let message = if self.is_told {
            format!("`ruler {at} mm` lies {distance:.1} from where the other marks have it")
        } else {
            format!(
                "the marks of the ruler contradict each other: `ruler {at} mm` lies {distance:.1} \
                 from where two others have it"
            )
        };
        let remedy = "check the length of the mark and both coordinates, or take the mark again: \
                      a figure may be wrong";
        Some(Problem::new(
            Fault::Contradiction,
            self.span,
            message,
            remedy,
        ))
    }
}

/// The point, or else the mark with all of its points, without which the others agree best,
/// if it lies further from where they have it than chance explains: its residual about a
/// line laid without it (deleted residuals: Cook and Weisberg, Residuals and Influence in
/// Regression, 1982, from memory), against the scatter of a point, on a level that allows
/// for as many points as there are (Bonferroni).
fn furthest(marks: &[Mark], scatter: Uncertainty) -> Option<Departure> {
    let one = best(marks, (0..marks.len()).map(|at| vec![at]));
    let of_mark = |at: f64| {
        (0..marks.len()).filter(move |&i| marks.get(i).is_some_and(|m| m.at.total_cmp(&at).is_eq()))
    };
    let mut lengths: Vec<f64> = marks.iter().map(|mark| mark.at).collect();
    lengths.sort_by(f64::total_cmp);
    lengths.dedup();
    let all = best(marks, lengths.iter().map(|&at| of_mark(at).collect()));
    let ruler = lengths.last()? - lengths.first()?;
    // A whole mark only where that says more than its worst point.
    let found = match (one, all) {
        (Some(one), Some(all)) if all.rest < 0.5 * one.rest => all,
        (Some(one), _) => one,
        (None, all) => all?,
    };
    let share = found.distance.as_mm() / ruler;
    let far = found.statistic > most(scatter, marks.len()) * scatter.standard();
    (far && share > ROUNDING).then_some(Departure {
        at: found.at,
        span: found.span,
        distance: found.distance,
        share,
        is_told: found.is_told,
    })
}

/// How far a point lies at most, in standard deviations of one coordinate: the square of a
/// departure in the plane has an F distribution with two degrees of freedom, of which the
/// quantile has a closed form.
fn most(scatter: Uncertainty, points: usize) -> f64 {
    let level = LEVEL / points as f64;
    let degrees = scatter.degrees_of_freedom();
    let f = if degrees.is_finite() {
        0.5 * degrees * (libm::pow(level, -2.0 / degrees) - 1.0)
    } else {
        -libm::log(level)
    };
    libm::sqrt(2.0 * f)
}

/// What is left out, and what is left.
struct Left {
    at: f64,
    span: Span,
    distance: Length,
    /// The distance in the table's unit, over the root of its variance in those of a point.
    statistic: f64,
    /// The sum of squares of the rest.
    rest: f64,
    is_told: bool,
}

/// Leaves out each of these in turn, and returns that without which the rest agree best.
fn best(marks: &[Mark], candidates: impl Iterator<Item = Vec<usize>>) -> Option<Left> {
    let tried = candidates.filter_map(|out| {
        let each = || marks.iter().enumerate();
        let rest: Vec<Mark> = each()
            .filter(|(i, _)| !out.contains(i))
            .map(|(_, &m)| m)
            .collect();
        let line = Line::through(&rest)?;
        let gone: Vec<Mark> = each()
            .filter(|(i, _)| out.contains(i))
            .map(|(_, &m)| m)
            .collect();
        let first = gone.first()?;
        let share = 1.0 / gone.len() as f64;
        let sum = gone
            .iter()
            .fold(Point::ORIGIN, |sum, m| sum + line.residual(m));
        let away = (sum * share).norm();
        let mut places: Vec<f64> = rest.iter().map(|mark| mark.at).collect();
        places.sort_by(f64::total_cmp);
        places.dedup();
        Some(Left {
            at: first.at,
            span: first.span,
            distance: Length::mm(away * line.unit()),
            statistic: away / libm::sqrt(share + line.share_at(first.at)),
            rest: line.sum_of_squares(&rest),
            is_told: places.len() > 2,
        })
    });
    // Where nothing is left to choose by, what lies furthest.
    tried.max_by(|a, b| {
        b.rest
            .total_cmp(&a.rest)
            .then(a.statistic.total_cmp(&b.statistic))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marks(of: &[(f64, f64, f64)]) -> Vec<Mark> {
        let each = of.iter().map(|&(at, x, y)| Mark {
            at,
            point: Point::new(x, y),
            span: Span::default(),
        });
        each.collect()
    }

    /// Two pixels to the mm, along the x axis.
    fn sound() -> Vec<Mark> {
        marks(&[
            (0.0, 10.0, 0.1),
            (100.0, 210.1, 0.0),
            (200.0, 409.9, -0.1),
            (300.0, 610.0, 0.1),
        ])
    }

    fn scatter(of: f64) -> Uncertainty {
        Uncertainty::with_degrees(of, 40.0)
    }

    #[test]
    fn a_sound_ruler_is_left_alone() {
        assert!(furthest(&sound(), scatter(0.1)).is_none());
    }

    #[test]
    fn the_mark_that_slipped_is_named_though_it_draws_the_line() {
        let mut slipped = sound();
        slipped[3].point = Point::new(61.0, 0.1);
        let found = furthest(&slipped, scatter(0.1)).expect("far out");
        assert_eq!((found.at, found.is_told), (300.0, true));
        // Recomputed independently: 610 - 61 = 549 px of two to the mm.
        assert!((found.distance.as_mm() - 274.5).abs() < 0.5);
        assert!(found.slip().is_some());
    }

    #[test]
    fn a_mark_with_another_length_is_named_whichever_its_points() {
        let mut wrong = [sound(), sound(), sound()].concat();
        for mark in &mut wrong {
            if mark.at > 250.0 {
                mark.at = 30.0;
            }
        }
        let found = furthest(&wrong, scatter(0.1)).expect("far out");
        assert!(found.at.total_cmp(&30.0).is_eq());
        assert!(found.slip().is_some());
    }

    #[test]
    fn a_millimetre_is_suspect_and_no_slip() {
        let mut off = sound();
        off[1].point = Point::new(212.0, 0.0);
        let found = furthest(&off, scatter(0.1)).expect("suspect");
        assert!(found.at.total_cmp(&100.0).is_eq() && found.slip().is_none());
    }

    #[test]
    fn two_marks_fit_any_scale() {
        let two = marks(&[(0.0, 0.0, 0.0), (300.0, 61.0, 0.0)]);
        assert!(furthest(&two, scatter(0.1)).is_none());
    }

    #[test]
    fn a_scatter_of_its_own_counts() {
        let marks = sound();
        let line = Line::through(&marks).expect("two marks");
        let of = |other: f64| larger(&line, &marks, scatter(other)).standard();
        assert!((of(0.1) - 0.1).abs() < 1e-12);
        // Recomputed independently: residuals of 0.03, 0.09, 0.09, 0.03 in x and of 0.06,
        // 0.03, 0.12, 0.09 in y about 1.9998 and -0.0001 px to the mm, on four degrees of
        // freedom.
        assert!((of(0.001) - libm::sqrt(0.045 / 4.0)).abs() < 1e-9);
    }

    #[test]
    fn the_limit_is_that_of_the_plane() {
        // With ever more degrees of freedom -ln(level) is χ²/2 with two degrees.
        let limit = most(Uncertainty::with_degrees(1.0, 1e9), 10);
        assert!((limit * limit / 2.0 + libm::log(0.001)).abs() < 1e-4);
    }
}
