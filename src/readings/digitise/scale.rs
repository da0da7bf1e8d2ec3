//! How long a unit of the table is.

use super::digitised::OutlyingPoint;
use super::feature::Feature;
use super::point_table::{PointTable, StatedScale};
use super::ruler::{Ruler, ruler};
use crate::document::{Fault, Located, Problem};
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
/// pooled over all other features. Beside it, a mark of the ruler that lies too far from
/// where the others have it.
pub(super) fn scale(
    table: &PointTable,
    circles: &[(Feature, CircleFit)],
    scatter: Uncertainty,
) -> Result<(Scale, Option<OutlyingPoint>), Problem> {
    let stated = table.scale_uncertainty.map_or(0.0, |u| u.ratio() / 2.0);
    let stated = Uncertainty::finite(stated);
    let with = |shown: Uncertainty| Uncertainty::combined([(1.0, stated), (1.0, shown)]);
    let marks = table
        .features
        .iter()
        .find(|taken| taken.feature.mark().is_some());
    if let (Some(mark), Some(other)) = (marks, &table.stated_scale) {
        let message = "the scale follows from a ruler and from something else";
        let problem = Problem::new(Fault::OneOf, other.span, message, "keep one of the two");
        return Err(problem.and(mark.span, "the ruler"));
    }
    if let Some(found) = ruler(table, scatter) {
        let Ruler {
            unit,
            uncertainty,
            points,
            outlying,
        } = found?;
        let scale = Scale {
            unit: Length::mm(unit),
            basis: ScaleBasis::Ruler(points),
            uncertainty: with(uncertainty),
        };
        return Ok((scale, outlying));
    }
    Ok((without_ruler(table, circles, stated)?, None))
}

/// The same of a table in which there is no ruler; `stated` is what it says of how well its
/// scale is known.
fn without_ruler(
    table: &PointTable,
    circles: &[(Feature, CircleFit)],
    stated: Uncertainty,
) -> Result<Scale, Problem> {
    let with = |shown: Uncertainty| Uncertainty::combined([(1.0, stated), (1.0, shown)]);
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
