//! A digitised board as a board file.

use super::digitised::{DigitisedCircle, DigitisedWire, Origin};
use super::feature::Feature;
use super::point_table::PointTable;
use super::scale::{Scale, ScaleBasis};
use crate::board::{BoardBuilder, LengthText, Quantity, SectorsFile};
use crate::document::{Located, PlainOr};
use crate::points::SeenLine;
use crate::units::{Area, Instrument, Length, Uncertainty};

/// Smaller than this, in mm, an uncertainty is nothing: exact points show none.
const NOTHING: f64 = 1e-6;

/// A board file with the radius of every ring wire that has points and its offset
/// from the origin, and the sector wires, if all of them were taken.
pub(super) fn board_file(
    table: &PointTable,
    scale: &Scale,
    circles: &[DigitisedCircle],
    wires: &[DigitisedWire],
    (origin, covariance): (Origin, &[[Area; 2]; 2]),
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
        builder = offset(builder, circle, origin, covariance);
    }
    match sectors(wires, covariance) {
        Some(sectors) => builder.sectors(sectors),
        None => builder,
    }
}

/// Where a ring's centre lies, if it is not what the others are seen from.
fn offset(
    builder: BoardBuilder,
    circle: &DigitisedCircle,
    origin: Origin,
    covariance: &[[Area; 2]; 2],
) -> BoardBuilder {
    let Feature::Ring(ring) = circle.feature else {
        return builder;
    };
    if origin == Origin::Centre(circle.feature) {
        return builder;
    }
    let (right, up) = (circle.fit.centre.x(), circle.fit.centre.y());
    let uncertainty = circle.offset_uncertainty(covariance);
    if uncertainty.standard() < NOTHING {
        return builder.offset(ring, right, up);
    }
    let (right, up) = (rounded(right, uncertainty), rounded(up, uncertainty));
    builder
        .offset(ring, right, up)
        .offset_known(ring, uncertainty)
}

/// A length to the second digit of its expanded uncertainty (JCGM 100, 7.2.6, from
/// memory): what a file keeps beyond that is noise.
fn rounded(length: Length, uncertainty: Uncertainty) -> Length {
    let expanded = uncertainty.expanded().expanded;
    let scale = libm::pow(10.0, 1.0 - libm::floor(libm::log10(expanded)));
    Length::mm(libm::round(length.as_mm() * scale) / scale)
}

/// The sector wires, where all of them were taken: a file has all or none. What is
/// known of each by itself is brought together, since one uncertainty serves all.
fn sectors(wires: &[DigitisedWire], covariance: &[[Area; 2]; 2]) -> Option<SectorsFile> {
    // Clockwise from the wire between 20 and 1; ours begin with the one before.
    let mut clockwise: Vec<&DigitisedWire> = wires.iter().collect();
    if clockwise.len() != 20 {
        return None;
    }
    clockwise.rotate_left(1);
    let bearing = |wire: &&DigitisedWire| {
        let degrees = wire.line.bearing.as_degrees();
        let positive = if degrees < 0.0 {
            degrees + 360.0
        } else {
            degrees
        };
        libm::round(positive * 1e4) / 1e4
    };
    let mean_square = |of: fn(&SeenLine) -> Uncertainty| {
        let squares = wires.iter().map(|wire| of(&wire.line).standard());
        squares.map(|u| u * u).sum::<f64>() / 20.0
    };
    let turns = 2.0 * libm::sqrt(mean_square(|line| line.bearing_uncertainty)).to_degrees();
    let [[xx, _], [_, yy]] = covariance.map(|row| row.map(Area::as_mm2));
    let shifts = mean_square(|line| line.offset_uncertainty) + xx.max(yy);
    let shifts = 2.0 * libm::sqrt(shifts);
    let known = |u: f64| u >= NOTHING;
    let offset = |wire: &&DigitisedWire| {
        let own = wire.line.offset;
        let own = if known(shifts) {
            rounded(own, Uncertainty::finite(shifts / 2.0))
        } else {
            own
        };
        LengthText::mm(own.as_mm())
    };
    Some(SectorsFile {
        bearings: Some(Located::unplaced(clockwise.iter().map(bearing).collect())),
        uncertainty: known(turns).then(|| Located::unplaced(libm::round(turns * 1e6) / 1e6)),
        offsets: Some(Located::unplaced(clockwise.iter().map(offset).collect())),
        offset_uncertainty: known(shifts)
            .then(|| Located::unplaced(PlainOr::Plain(LengthText::mm(shifts)))),
        ..SectorsFile::default()
    })
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
    let kept = |length: Length, u: Option<Uncertainty>| u.map_or(length, |u| rounded(length, u));
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
        (Feature::Ring(ring), _) => builder.length(
            Quantity::Ring(ring, false),
            kept(radius, shown),
            edge,
            shown,
        ),
        (Feature::Overall, _) => {
            let shown = shown.map(|u| u.scaled(2.0));
            builder.length(Quantity::Overall, kept(radius * 2.0, shown), None, shown)
        }
        _ => builder,
    }
}
