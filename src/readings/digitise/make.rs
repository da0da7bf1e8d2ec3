//! Points into a board.

use std::sync::Arc;

use super::board_file::board_file;
use super::digitised::{Digitised, DigitisedCircle, DigitisedWire, OutlyingPoint};
use super::feature::Feature;
use super::frame::{NoTop, origin, turn, turned};
use super::point_table::{PointTable, Taken};
use super::scale::scale;
use crate::board::Quantity;
use crate::board::usual::Ranges;
use crate::document::{Fault, InvalidFile, Problem, Problems};
use crate::geometry::Point;
use crate::points::{CircleFit, LineFit, PointsError, outlying};
use crate::units::{Angle, Length, Uncertainty};

/// Lays circles and lines through the points of a table and makes a board of
/// them, or says of which points none can be made.
pub fn digitise(table: &PointTable) -> Result<Digitised, InvalidFile> {
    let mut problems = Problems::default();
    let made = make(table, &mut problems);
    problems.into_result(&table.source)?;
    // Without problems there is a board.
    made.ok_or_else(|| {
        let message = "no board can be made of these points";
        let problem = Problem::new(Fault::MissingKey, table.head, message, "");
        InvalidFile::of(Arc::clone(&table.source), problem)
    })
}

/// What is wrong with a feature's points.
fn unfit(taken: &Taken, error: PointsError) -> Problem {
    let fault = match error {
        PointsError::TooFew { .. } => Fault::MissingKey,
        PointsError::NotFinite(_) => Fault::OutOfRange,
        _ => Fault::Contradiction,
    };
    let message = format!("`{}`: {error}", taken.feature);
    Problem::new(fault, taken.span, message, error.remedy())
}

/// Features with what was laid through their points.
#[derive(Default)]
struct Fits {
    circles: Vec<(Feature, CircleFit)>,
    lines: Vec<(usize, LineFit)>,
}

impl Fits {
    /// Of every feature that is no ruler, its points moved.
    fn of(table: &PointTable, moved: impl Fn(Point) -> Point, problems: &mut Problems) -> Self {
        let mut fits = Self::default();
        for taken in &table.features {
            let points: Vec<Point> = taken.points.iter().map(|&point| moved(point)).collect();
            let fitted = match taken.feature {
                feature @ (Feature::Ring(_) | Feature::Overall) => {
                    CircleFit::through(&points).map(|circle| fits.circles.push((feature, circle)))
                }
                Feature::SectorWire(sector) => {
                    LineFit::through(&points).map(|line| fits.lines.push((sector, line)))
                }
                Feature::RulerMark(_) => Ok(()),
            };
            if let Err(error) = fitted {
                problems.add(unfit(taken, error));
            }
        }
        fits
    }

    /// The standard deviation of a point, pooled over all features.
    fn scatter(&self) -> Uncertainty {
        let circles = self.circles.iter();
        let circles = circles.map(|(_, fit)| (fit.deviation, fit.degrees_of_freedom()));
        let lines = self.lines.iter();
        let lines = lines.map(|(_, fit)| (fit.deviation, fit.degrees_of_freedom()));
        let (mut squares, mut degrees) = (0.0, 0.0);
        for (deviation, own) in circles.chain(lines) {
            squares += own * deviation.as_mm() * deviation.as_mm();
            degrees += own;
        }
        Uncertainty::with_degrees(libm::sqrt(squares / degrees), degrees)
    }
}

fn make(table: &PointTable, problems: &mut Problems) -> Option<Digitised> {
    let raw = Fits::of(table, |point| point, problems);
    if problems.is_empty() && raw.circles.is_empty() {
        let message = "there are no points on a ring wire";
        let remedy = "take points on one ring wire at least, such as `double_outer`";
        problems.add(Problem::new(Fault::MissingKey, table.head, message, remedy));
    }
    if !problems.is_empty() {
        return None;
    }
    let (scale, outlying_mark) = match scale(table, &raw.circles, raw.scatter()) {
        Ok(scale) => scale,
        Err(problem) => {
            problems.add(problem);
            return None;
        }
    };
    let unit = scale.unit.as_mm();
    let in_mm = Fits::of(table, |point| point * unit, problems);
    check_sizes(table, &in_mm, problems);
    if !problems.is_empty() {
        return None;
    }
    let (basis, place, origin_covariance) = origin(&in_mm.circles, &in_mm.lines)?;
    let turn = top(table, &in_mm, place, problems)?;
    let moved = |point: Point| turned(point * unit, place, turn.unwrap_or(Angle::ZERO));
    let fits = Fits::of(table, moved, problems);
    let points_of = |feature: Feature| {
        let taken = table.features.iter().find(|taken| taken.feature == feature);
        let points = taken.map_or(&[][..], |taken| &taken.points);
        points.iter().map(|&point| moved(point)).collect::<Vec<_>>()
    };
    let edge_of = |feature: Feature| {
        let taken = table.features.iter().find(|taken| taken.feature == feature);
        taken?.edge.map(|(edge, _)| edge)
    };
    let circles = fits.circles.into_iter().map(|(feature, fit)| {
        let own = fit.radius_uncertainty();
        let of_scale = scale.uncertainty.scaled(fit.radius.as_mm());
        DigitisedCircle {
            feature,
            edge: edge_of(feature),
            radius_uncertainty: Uncertainty::combined([(1.0, own), (1.0, of_scale)]),
            points: points_of(feature),
            outlying: apart(table, feature, &fit.residuals, fit.degrees_of_freedom()),
            fit,
        }
    });
    let circles: Vec<DigitisedCircle> = circles.collect();
    let wires = fits.lines.iter().filter_map(|(sector, line)| {
        let feature = Feature::SectorWire(*sector);
        let degrees = line.degrees_of_freedom();
        let line = line.seen_from(Point::ORIGIN).ok()?;
        Some(DigitisedWire {
            sector: *sector,
            points: points_of(feature),
            outlying: apart(table, feature, &line.residuals, degrees),
            line,
        })
    });
    let mut wires: Vec<DigitisedWire> = wires.collect();
    wires.sort_by_key(|wire| wire.sector);
    let builder = board_file(table, &scale, &circles, &wires, (basis, &origin_covariance));
    let file = builder.clone().into_file();
    let board = match builder.build() {
        Ok(board) => board,
        Err(error) => {
            for fault in &error.faults {
                let message = format!("the board that follows from the points cannot be: {fault}");
                let remedy = "check which feature and which edge each point belongs to";
                problems.add(Problem::new(
                    Fault::Contradiction,
                    table.head,
                    message,
                    remedy,
                ));
            }
            return None;
        }
    };
    Some(Digitised {
        board,
        file,
        scale,
        outlying_mark,
        origin: basis,
        origin_covariance,
        turn,
        circles,
        wires,
    })
}

/// A feature's point that lies too far out, with its line.
fn apart(
    table: &PointTable,
    feature: Feature,
    residuals: &[Length],
    degrees_of_freedom: f64,
) -> Option<OutlyingPoint> {
    let index = outlying(residuals, degrees_of_freedom)?;
    let taken = table.features.iter().find(|taken| taken.feature == feature);
    let place = taken?.places.get(index)?;
    Some(OutlyingPoint {
        line: table.source.position(place.start).line,
        residual: *residuals.get(index)?,
    })
}

/// Radii that no board has: the scale or the unit must be another one.
fn check_sizes(table: &PointTable, fits: &Fits, problems: &mut Problems) {
    for (feature, fit) in &fits.circles {
        let (what, size, range) = match *feature {
            Feature::Ring(ring) => {
                let range = Ranges::of(Quantity::Ring(ring, false));
                ("radius", fit.radius, range)
            }
            _ => ("diameter", fit.radius * 2.0, Ranges::of(Quantity::Overall)),
        };
        let taken = table
            .features
            .iter()
            .find(|taken| taken.feature == *feature);
        if let (false, Some(taken)) = (range.contains(size), taken) {
            let message = format!("`{feature}` would have a {what} of {size}");
            let remedy = format!("{}, and what sets the scale", range.words());
            problems.add(Problem::new(Fault::OutOfRange, taken.span, message, remedy));
        }
    }
}

/// By how much the board is to be turned: `Some(None)` where nothing says where
/// the top is.
#[allow(clippy::option_option)]
fn top(
    table: &PointTable,
    fits: &Fits,
    place: Point,
    problems: &mut Problems,
) -> Option<Option<Angle>> {
    let taken_of = |sector: usize| {
        let feature = Feature::SectorWire(sector);
        table.features.iter().find(|taken| taken.feature == feature)
    };
    let mut bearings = Vec::new();
    for (sector, line) in &fits.lines {
        match (line.seen_from(place), taken_of(*sector)) {
            (Ok(seen), _) => bearings.push((*sector, seen.bearing)),
            (Err(error), Some(taken)) => problems.add(unfit(taken, error)),
            (Err(_), None) => {}
        }
    }
    if !problems.is_empty() {
        return None;
    }
    let problem = match turn(&bearings) {
        Ok(turn) => return Some(turn),
        Err(NoTop::Mirrored) => Problem::new(
            Fault::Contradiction,
            table.head,
            "the sectors run anticlockwise",
            "turn the `y axis` over: `down` as in pictures, `up` as in drawings",
        ),
        Err(NoTop::OutOfPlace(index, degrees)) => {
            let taken = bearings
                .get(index)
                .and_then(|&(sector, _)| taken_of(sector))?;
            let message = format!(
                "`{}` lies {degrees:.1}° from its place among the others",
                taken.feature
            );
            let remedy = "name the sectors on both sides of the wire as they stand on the board";
            Problem::new(Fault::Contradiction, taken.span, message, remedy)
        }
    };
    problems.add(problem);
    None
}
