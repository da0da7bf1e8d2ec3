#![allow(clippy::expect_used, reason = "a test may stop")]

use super::*;
use crate::random::Random;

/// Points along a wire at a bearing in degrees that passes the centre at an
/// offset, with normal errors across.
fn wire(random: &mut Random, bearing: f64, offset: f64, n: usize, scatter: f64) -> Vec<Point> {
    let (sin, cos) = libm::sincos(bearing.to_radians());
    let each = (0..n).map(|index| {
        let along = 20.0 + 150.0 * index as f64 / (n as f64 - 1.0);
        let across = offset + scatter * random.normal();
        Point::mm(along * sin + across * cos, along * cos - across * sin)
    });
    each.collect()
}

#[test]
fn exact_lines_are_found_in_every_direction() {
    let mut random = Random::seeded(1);
    for bearing in [-180.0, -99.0, -9.0, 0.0, 9.0, 90.0, 171.0] {
        for offset in [-0.4, 0.0, 0.25] {
            let points = wire(&mut random, bearing, offset, 5, 0.0);
            let fit = LineFit::through(&points).expect("a line");
            let line = fit.seen_from(Point::ORIGIN).expect("a side");
            let off = (line.bearing - Angle::degrees(bearing)).as_radians();
            assert!(libm::sin(off).abs() < 1e-12 && libm::cos(off) > 0.0);
            assert!((line.offset.as_mm() - offset).abs() < 1e-10);
        }
    }
}

#[test]
fn uncertainties_are_those_of_repeated_simulation() {
    // Seeded: 2000 wires; a standard deviation of so many has a standard error
    // of 1.6 %, a correlation of about -0.85 one of 0.6 %.
    let (mut random, n) = (Random::seeded(6), 2000);
    let (mut bearings, mut offsets) = (Vec::new(), Vec::new());
    let mut expected = (0.0, 0.0, 0.0);
    for _ in 0..n {
        let points = wire(&mut random, 27.0, 0.2, 12, 0.05);
        let fit = LineFit::through(&points).expect("a line");
        let line = fit.seen_from(Point::ORIGIN).expect("a side");
        bearings.push(line.bearing.as_radians() - 27_f64.to_radians());
        offsets.push(line.offset.as_mm() - 0.2);
        let square = |u: Uncertainty| u.standard() * u.standard();
        expected.0 += square(line.bearing_uncertainty) / f64::from(n);
        expected.1 += square(line.offset_uncertainty) / f64::from(n);
        expected.2 += line.correlation / f64::from(n);
    }
    let mean =
        |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>() / f64::from(n);
    let (of_bearing, of_offset) = (mean(&bearings, &bearings), mean(&offsets, &offsets));
    assert!(((of_bearing / expected.0).sqrt() - 1.0).abs() < 4.0 * 0.016);
    assert!(((of_offset / expected.1).sqrt() - 1.0).abs() < 4.0 * 0.016);
    let correlation = mean(&bearings, &offsets) / (of_bearing * of_offset).sqrt();
    assert!(
        (correlation - expected.2).abs() < 4.0 * 0.006,
        "{correlation}"
    );
}

#[test]
fn residuals_are_positive_on_the_clockwise_side() {
    let points = [(0.0, 50.0), (0.3, 100.0), (0.0, 150.0)].map(|(x, y)| Point::mm(x, y));
    let up = LineFit::through(&points).expect("a line");
    let line = up.seen_from(Point::ORIGIN).expect("a side");
    let residuals: Vec<f64> = line.residuals.iter().map(|r| r.as_mm()).collect();
    assert!(residuals[0] < 0.0 && residuals[1] > 0.0 && residuals[2] < 0.0);
    // Seen from the other end, right is left.
    let line = up.seen_from(Point::mm(0.0, 400.0)).expect("a side");
    assert!(line.residuals[1].as_mm() < 0.0);
}

#[test]
fn what_is_no_line_is_an_error() {
    let through = |pairs: &[(f64, f64)]| {
        let points: Vec<Point> = pairs.iter().map(|&(x, y)| Point::mm(x, y)).collect();
        LineFit::through(&points)
    };
    let few = PointsError::TooFew {
        what: "line",
        given: 2,
        needed: 3,
    };
    assert_eq!(through(&[(0.0, 0.0), (1.0, 1.0)]), Err(few));
    let coincident = PointsError::Coincident {
        what: "line",
        distinct: 1,
        needed: 2,
    };
    assert_eq!(through(&[(2.0, 1.0); 4]), Err(coincident));
    let not = [(0.0, 0.0), (1.0, 1.0), (f64::INFINITY, 2.0)];
    assert_eq!(through(&not), Err(PointsError::NotFinite(3)));
    let both = through(&[(-1.0, 0.0), (0.0, 0.0), (1.0, 0.0)]).expect("a line");
    assert_eq!(both.seen_from(Point::ORIGIN), Err(PointsError::NoSide));
}
