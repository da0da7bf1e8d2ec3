//! How long a unit of the table is.

use super::feature::Feature;
use super::point_table::{PointTable, StatedScale, Taken};
use crate::document::{Fault, Located, Problem};
use crate::geometry::Point;
use crate::points::CircleFit;
use crate::units::{Length, LengthUnit, Uncertainty};

/// How long a unit of the table is, and how that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Scale {
    /// The length of one unit.
    pub unit: Length,
    /// From what that follows.
    pub basis: ScaleBasis,
    /// Its relative standard uncertainty, which all lengths of the board share.
    pub uncertainty: Uncertainty,
}

/// From what a scale follows.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum ScaleBasis {
    /// The unit that the table states.
    Unit(LengthUnit),
    /// The resolution of a scan.
    DotsPerInch(f64),
    /// Marks of a ruler, so many points.
    Ruler(usize),
    /// A diameter that is known.
    Diameter(Feature, Length),
}

/// The scale of a table whose circles have been laid through its points as they
/// are. `scatter` is the standard deviation of a point, in the table's unit,
/// pooled over all features.
pub(super) fn scale(
    table: &PointTable,
    circles: &[(Feature, CircleFit)],
    scatter: Uncertainty,
) -> Result<Scale, Problem> {
    let marks: Vec<(f64, &Taken)> = table
        .features
        .iter()
        .filter_map(|taken| match taken.feature {
            Feature::RulerMark(mark) => Some((mark.as_mm(), taken)),
            _ => None,
        })
        .collect();
    let stated = table.scale_uncertainty.map_or(0.0, |u| u.ratio() / 2.0);
    let stated = Uncertainty::finite(stated);
    let with = |shown: Uncertainty| Uncertainty::combined([(1.0, stated), (1.0, shown)]);
    if let (Some((_, mark)), Some(other)) = (marks.first(), &table.stated_scale) {
        let message = "the scale follows from a ruler and from something else";
        let problem = Problem::new(Fault::OneOf, other.span, message, "keep one of the two");
        return Err(problem.and(mark.span, "the ruler"));
    }
    if let Some((_, first)) = marks.first() {
        let (unit, shown) = ruler(&marks, scatter).ok_or_else(|| {
            let message = "the ruler has fewer than two marks in different places";
            let remedy = "take points at two marks at least, far apart, such as `ruler 0 mm` and \
                          `ruler 300 mm`";
            Problem::new(Fault::MissingKey, first.span, message, remedy)
        })?;
        let points = marks.iter().map(|(_, taken)| taken.points.len()).sum();
        return Ok(Scale {
            unit: Length::mm(unit),
            basis: ScaleBasis::Ruler(points),
            uncertainty: with(shown),
        });
    }
    match (&table.stated_scale, table.unit) {
        (
            Some(Located {
                value: StatedScale::Diameter(feature, diameter),
                span,
            }),
            _,
        ) => {
            let found = circles.iter().find(|(of, _)| of == feature);
            let (_, fit) = found.ok_or_else(|| {
                let message =
                    format!("the diameter of `{feature}` is stated, but it has no points");
                let remedy = "take points on it, or state the diameter of another ring";
                Problem::new(Fault::MissingKey, *span, message, remedy)
            })?;
            let radius = fit.radius.as_mm();
            Ok(Scale {
                unit: *diameter / (2.0 * radius),
                basis: ScaleBasis::Diameter(*feature, *diameter),
                uncertainty: with(fit.radius_uncertainty().scaled(1.0 / radius)),
            })
        }
        (
            Some(Located {
                value: StatedScale::DotsPerInch(dots),
                ..
            }),
            None,
        ) => Ok(Scale {
            unit: Length::inches(1.0) / *dots,
            basis: ScaleBasis::DotsPerInch(*dots),
            uncertainty: stated,
        }),
        (Some(Located { span, .. }), Some(unit)) => Err(Problem::new(
            Fault::Contradiction,
            *span,
            format!(
                "the unit is `{}`, which has no dots per inch",
                unit.symbol()
            ),
            "write `px` as the unit, or leave the dots per inch out",
        )),
        (None, Some(unit)) => Ok(Scale {
            unit: unit.length(1.0),
            basis: ScaleBasis::Unit(unit),
            uncertainty: stated,
        }),
        (None, None) => Err(Problem::new(
            Fault::MissingKey,
            table.head,
            "nothing says how large a pixel is",
            "take points at two marks of a ruler in the picture (`ruler 0 mm`, `ruler 300 mm`), or \
             add a row `dots per inch`, or a known diameter (`diameter double_outer`)",
        )),
    }
}

/// The length of a unit in mm from marks at known lengths, and its relative
/// uncertainty: the straight, evenly divided line p = a + t·d that lies nearest
/// to the points has 1/|d| mm to the unit, and s/√Σ(t − t̄)² is the uncertainty
/// of |d|.
fn ruler(marks: &[(f64, &Taken)], scatter: Uncertainty) -> Option<(f64, Uncertainty)> {
    let points = || {
        let each = marks.iter();
        each.flat_map(|(mark, taken)| taken.points.iter().map(move |&point| (*mark, point)))
    };
    let n = points().count() as f64;
    let middle = points().map(|(mark, _)| mark).sum::<f64>() / n;
    let squares: f64 = points()
        .map(|(mark, _)| (mark - middle) * (mark - middle))
        .sum();
    let slope = points().fold(Point::ORIGIN, |sum, (mark, point)| {
        sum + point * (mark - middle)
    });
    let slope = (slope * (1.0 / squares)).norm();
    let relative = 1.0 / (libm::sqrt(squares) * slope);
    let unit = 1.0 / slope;
    let usable = squares > 0.0 && unit.is_finite() && relative.is_finite();
    usable.then(|| (unit, scatter.scaled(relative)))
}
