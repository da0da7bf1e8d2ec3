//! Where the origin of a board is, and where its top.

use super::digitised::Origin;
use super::feature::Feature;
use crate::board::RingWire;
use crate::geometry::Point;
use crate::points::{CircleFit, LineFit};
use crate::units::{Angle, Area};

/// Lines that are so nearly parallel do not show where they meet: the lesser
/// eigenvalue of their normal matrix as a share of the greater. House rule; two
/// neighbouring wires alone have 0.025.
const PARALLEL: f64 = 0.01;

/// Half a sector: further out of place than this, a wire is another one.
const HALF_SECTOR: f64 = 9.0;

/// The least-squares meeting point of lines, each weighing as much as the number
/// and the places of its points allow, with its covariance. Points of all lines
/// count as equally good: the scatter of a few would give some lines far more
/// weight than others by chance. `None` if lines are too few or too nearly
/// parallel.
fn meeting_point(lines: &[LineFit], first: Point) -> Option<(Point, [[Area; 2]; 2])> {
    let mut point = first;
    let mut inverse = None;
    // Weights depend on the place, but little: three rounds settle them.
    for _ in 0..3 {
        let [mut xx, mut xy, mut yy, mut x, mut y] = [0.0; 5];
        for line in lines {
            let [along, right] = line.steps();
            let away = (point - line.middle).dot(along);
            let weight = 1.0 / line.share_at(away);
            let across = line.middle.dot(right);
            xx += weight * right.x * right.x;
            xy += weight * right.x * right.y;
            yy += weight * right.y * right.y;
            x += weight * right.x * across;
            y += weight * right.y * across;
        }
        let determinant = xx * yy - xy * xy;
        let trace = xx + yy;
        let root = libm::sqrt((trace * trace - 4.0 * determinant).max(0.0));
        let share = (trace - root) / (trace + root);
        if share.is_nan() || share <= PARALLEL {
            return None;
        }
        point = Point::new(
            (yy * x - xy * y) / determinant,
            (xx * y - xy * x) / determinant,
        );
        inverse = Some([[yy, -xy], [-xy, xx]].map(|row| row.map(|entry| entry / determinant)));
    }
    let degrees: f64 = lines.iter().map(LineFit::degrees_of_freedom).sum();
    let squares = lines.iter().map(|line| {
        let deviation = line.deviation.as_mm();
        line.degrees_of_freedom() * deviation * deviation
    });
    let variance = squares.sum::<f64>() / degrees;
    let covariance = inverse?.map(|row| row.map(|entry| Area::mm2(variance * entry)));
    Some((point, covariance))
}

/// The origin: where the sector wires meet; otherwise the centre of the bull, or
/// of the innermost feature that there is.
pub(super) fn origin(
    circles: &[(Feature, CircleFit)],
    lines: &[(usize, LineFit)],
) -> Option<(Origin, Point, [[Area; 2]; 2])> {
    let innermost = RingWire::ALL
        .into_iter()
        .map(Feature::Ring)
        .chain([Feature::Overall])
        .find_map(|feature| circles.iter().find(|(of, _)| *of == feature));
    let (feature, fit) = innermost?;
    let only: Vec<LineFit> = lines.iter().map(|(_, line)| line.clone()).collect();
    if let Some((point, covariance)) = meeting_point(&only, fit.centre) {
        return Some((Origin::SectorWires(lines.len()), point, covariance));
    }
    let [[xx, xy, _], [_, yy, _], _] = fit.covariance;
    Some((Origin::Centre(*feature), fit.centre, [[xx, xy], [xy, yy]]))
}

/// Why wires show no top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum NoTop {
    /// Their numbers run anticlockwise.
    Mirrored,
    /// This wire, of those given, lies so many degrees out of its place.
    OutOfPlace(usize, f64),
}

/// By how much a board has to be turned anticlockwise: so that the middle of the
/// 20 is at the top, or, where one of its wires was not taken, so that the wires
/// that were are nearest to their places. `wires` are sectors with bearings.
pub(super) fn turn(wires: &[(usize, Angle)]) -> Result<Option<Angle>, NoTop> {
    if wires.is_empty() {
        return Ok(None);
    }
    let Err(problem) = turn_of(wires) else {
        return turn_of(wires).map(Some);
    };
    let mirrored: Vec<_> = wires.iter().map(|&(sector, b)| (sector, -b)).collect();
    Err(match turn_of(&mirrored) {
        Ok(_) if wires.len() > 1 => NoTop::Mirrored,
        _ => problem,
    })
}

fn turn_of(wires: &[(usize, Angle)]) -> Result<Angle, NoTop> {
    let out = |&(sector, bearing): &(usize, Angle)| {
        bearing - Angle::degrees(18.0 * sector as f64 - HALF_SECTOR)
    };
    let mean = |wires: &[(usize, Angle)]| {
        let sum = wires.iter().map(out).fold((0.0, 0.0), |sum, angle| {
            let (sin, cos) = libm::sincos(angle.as_radians());
            (sum.0 + sin, sum.1 + cos)
        });
        Angle::radians(libm::atan2(sum.0, sum.1))
    };
    let of_the_20: Vec<_> = wires
        .iter()
        .filter(|(sector, _)| *sector < 2)
        .copied()
        .collect();
    let turn = if of_the_20.len() == 2 {
        mean(&of_the_20)
    } else {
        mean(wires)
    };
    let away = wires.iter().enumerate().map(|(index, wire)| {
        let turned = (out(wire) - turn).as_radians();
        let (sin, cos) = libm::sincos(turned);
        (index, libm::atan2(sin, cos).to_degrees())
    });
    let worst = away.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    match worst {
        Some((index, degrees)) if degrees.abs() >= HALF_SECTOR => {
            Err(NoTop::OutOfPlace(index, degrees))
        }
        _ => Ok(turn),
    }
}

/// A place seen from the origin, with the board turned anticlockwise.
pub(super) fn turned(place: Point, origin: Point, turn: Angle) -> Point {
    let away = place - origin;
    let (sin, cos) = libm::sincos(turn.as_radians());
    Point::new(away.x * cos - away.y * sin, away.x * sin + away.y * cos)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test may stop")]
    use super::*;

    fn wires(turned: f64, factor: f64) -> Vec<(usize, Angle)> {
        let each = (0..20).map(|sector| {
            let bearing = factor * (18.0 * sector as f64 - 9.0 + turned);
            (sector, Angle::degrees(bearing))
        });
        each.collect()
    }

    #[test]
    fn the_20_comes_to_the_top_however_the_board_lay() {
        for turned in [-170.0, -3.2, 0.0, 45.0, 179.0] {
            let found = turn(&wires(turned, 1.0)).expect("in place").expect("known");
            let off = libm::sin((found - Angle::degrees(turned)).as_radians());
            assert!(off.abs() < 1e-12, "{turned}: {found}");
            let without_the_20 = wires(turned, 1.0).split_off(2);
            let found = turn(&without_the_20).expect("in place").expect("known");
            let off = libm::sin((found - Angle::degrees(turned)).as_radians());
            assert!(off.abs() < 1e-12, "{turned}: {found}");
        }
        assert_eq!(turn(&[]), Ok(None));
    }

    #[test]
    fn wires_in_wrong_places_and_mirrored_boards_are_told_apart() {
        assert_eq!(turn(&wires(5.0, -1.0)), Err(NoTop::Mirrored));
        let mut swapped = wires(0.0, 1.0);
        swapped[7].1 = Angle::degrees(18.0 * 9.0 - 9.0);
        let Err(NoTop::OutOfPlace(index, degrees)) = turn(&swapped) else {
            panic!("a wire is out of place");
        };
        assert_eq!(index, 7);
        assert!((degrees - 36.0).abs() < 1e-9);
    }
}
