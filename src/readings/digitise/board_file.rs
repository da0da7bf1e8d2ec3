//! A digitised board as a board file.

use super::digitised::DigitisedCircle;
use super::feature::Feature;
use super::point_table::PointTable;
use super::scale::{Scale, ScaleBasis};
use crate::board::{BoardBuilder, Quantity};
use crate::units::{Instrument, Uncertainty};

/// Smaller than this, in mm, an uncertainty is nothing: exact points show none.
const NOTHING: f64 = 1e-6;

/// A board file with the radius of every ring wire that has points.
pub(super) fn board_file(
    table: &PointTable,
    scale: &Scale,
    circles: &[DigitisedCircle],
) -> BoardBuilder {
    let mut builder =
        BoardBuilder::new(table.board.as_str(), table.mounting).profile(table.profile);
    if let Some(name) = &table.name {
        builder = builder.name(name.clone());
    }
    if let Some(inspector) = &table.inspector {
        builder = builder.inspection(inspector.clone(), table.date);
    }
    if let Some(name) = &table.instrument {
        builder = builder.instrument(&Instrument {
            name: Some(name.clone()),
            ..Instrument::default()
        });
    }
    if let Some(size) = table.ring_wires {
        builder = builder.ring_wires(size);
    }
    if let Some(size) = table.sector_wires {
        builder = builder.sector_wires(size);
    }
    for circle in circles {
        builder = length(builder, table, scale, circle);
    }
    builder
}

/// One length. A diameter that set the scale is what was stated, and not a
/// result.
fn length(
    builder: BoardBuilder,
    table: &PointTable,
    scale: &Scale,
    circle: &DigitisedCircle,
) -> BoardBuilder {
    let shown = Some(circle.radius_uncertainty).filter(|u| u.standard() >= NOTHING);
    let radius = circle.fit.radius;
    let edge = circle.edge;
    match (circle.feature, scale.basis) {
        (feature, ScaleBasis::Diameter(of, diameter)) if feature == of => {
            let stated = table.scale_uncertainty;
            let stated = stated.map(|u| Uncertainty::finite(diameter.as_mm() * u.ratio() / 2.0));
            match feature {
                Feature::Ring(ring) => {
                    builder.length(Quantity::Ring(ring, true), diameter, edge, stated)
                }
                _ => builder.length(Quantity::Overall, diameter, None, stated),
            }
        }
        (Feature::Ring(ring), _) => {
            builder.length(Quantity::Ring(ring, false), radius, edge, shown)
        }
        (Feature::Overall, _) => {
            let shown = shown.map(|u| u.scaled(2.0));
            builder.length(Quantity::Overall, radius * 2.0, None, shown)
        }
        _ => builder,
    }
}
