#![allow(clippy::expect_used, clippy::print_stdout, reason = "tests")]

use statrs::distribution::{ContinuousCDF, FisherSnedecor};

use super::*;
use crate::random::Random;

/// Published: Gander, Golub and Strebel, BIT 34 (1994).
const PUBLISHED: [(f64, f64); 6] = [
    (1.0, 7.0),
    (2.0, 6.0),
    (5.0, 8.0),
    (7.0, 7.0),
    (9.0, 5.0),
    (3.0, 7.0),
];

const SCATTER: f64 = 0.639_687_183_5;
const COVARIANCE: [[f64; 3]; 3] = [
    [0.228_095_139, 0.288_608_524, -0.213_882_543],
    [0.288_608_524, 2.380_580_073, -1.845_221_679],
    [-0.213_882_543, -1.845_221_679, 1.498_957_261],
];

fn points(pairs: &[(f64, f64)]) -> Vec<Point> {
    pairs.iter().map(|&(x, y)| Point::mm(x, y)).collect()
}

fn close(value: f64, expected: f64, within: f64) {
    assert!(
        (value - expected).abs() <= within,
        "{value} is not {expected}"
    );
}

fn is_published(fit: &CircleFit) {
    close(fit.centre.x, 4.73978, 5e-6);
    close(fit.centre.y, 2.98353, 5e-6);
    close(fit.radius.as_mm(), 4.71423, 5e-6);
}

#[test]
fn the_published_example_from_both_starts() {
    let points = points(&PUBLISHED);
    is_published(&CircleFit::through(&points).expect("a circle"));
    // The algebraic circle of the paper, which it starts from.
    let start = Point::mm(5.37941, 7.25320);
    is_published(&CircleFit::from_start(&points, start, 3.03704).expect("a circle"));
}

#[test]
fn the_covariance_is_that_of_general_least_squares() {
    // Recomputed independently in Python: s²·(JᵀJ)⁻¹ with J by central differences
    // and Gauss and Jordan's elimination.
    let fit = CircleFit::through(&points(&PUBLISHED)).expect("a circle");
    close(fit.deviation.as_mm(), SCATTER, 1e-8);
    for (row, expected) in fit.covariance.iter().zip(COVARIANCE) {
        for (entry, expected) in row.iter().zip(expected) {
            close(entry.as_mm2(), expected, 1e-6 * expected.abs());
        }
    }
}

/// Points on an arc of a circle, evenly spread, each with normal errors.
fn simulated(
    random: &mut Random,
    (centre, radius): (Point, f64),
    (from, arc): (f64, f64),
    n: usize,
    scatter: f64,
) -> Vec<Point> {
    let each = (0..n).map(|index| {
        let angle = (from + arc * index as f64 / n as f64).to_radians();
        let (sin, cos) = libm::sincos(angle);
        let (dx, dy) = random.normal_pair();
        centre + Point::mm(radius * cos, radius * sin) + Point::mm(dx, dy) * scatter
    });
    each.collect()
}

#[test]
fn exact_circles_are_found_wherever_they_lie() {
    let mut random = Random::seeded(1);
    for (centre, radius) in [
        (Point::ORIGIN, 170.0),
        (Point::mm(1e6, -2e5), 107.0),
        (Point::mm(0.001, 0.0), 1e-3),
        (Point::mm(3.0, 4.0), 1e7),
    ] {
        for arc in [360.0, 90.0, 20.0] {
            let points = simulated(&mut random, (centre, radius), (30.0, arc), 12, 0.0);
            let fit = CircleFit::through(&points).expect("a circle");
            let within = 1e-8 * radius + 1e-7 * centre.norm() * 1e-3;
            close(fit.centre.x, centre.x, within);
            close(fit.centre.y, centre.y, within);
            close(fit.radius.as_mm(), radius, within);
            close(fit.arc.as_degrees(), arc * 11.0 / 12.0, 1e-5);
        }
    }
}

#[test]
fn simulated_points_lie_within_three_standard_errors() {
    let mut random = Random::seeded(20_261);
    let truth = (Point::mm(0.6, -0.3), 107.0);
    for (arc, n) in [(360.0, 40), (360.0, 8), (180.0, 30), (90.0, 40), (45.0, 60)] {
        let points = simulated(&mut random, truth, (10.0, arc), n, 0.03);
        let fit = CircleFit::through(&points).expect("a circle");
        let off = [
            fit.centre.x - truth.0.x,
            fit.centre.y - truth.0.y,
            fit.radius.as_mm() - truth.1,
        ];
        for (index, off) in off.iter().enumerate() {
            let standard = fit.covariance[index][index].as_mm2().sqrt();
            assert!(off.abs() < 3.0 * standard, "{arc}° {n}: {off} {standard}");
        }
    }
}

/// The share of simulated circles whose truth lies in the 95 % region of the
/// fit: Δᵀ·C⁻¹·Δ/3 below the quantile of F on 3 and n − 3 degrees of freedom.
fn coverage(seed: u64, arc: f64, n: usize, draws: usize) -> f64 {
    let mut random = Random::seeded(seed);
    let truth = (Point::mm(0.6, -0.3), 107.0);
    let f = FisherSnedecor::new(3.0, n as f64 - 3.0).expect("F");
    let most = 3.0 * f.inverse_cdf(0.95);
    let mut inside = 0;
    for _ in 0..draws {
        let points = simulated(&mut random, truth, (0.0, arc), n, 0.03);
        let fit = CircleFit::through(&points).expect("a circle");
        let off = [
            fit.centre.x - truth.0.x,
            fit.centre.y - truth.0.y,
            fit.radius.as_mm() - truth.1,
        ];
        let covariance = fit.covariance.map(|row| row.map(Area::as_mm2));
        let weighed = times(&inverse(&covariance).expect("definite"), &off);
        let distance: f64 = weighed.iter().zip(off).map(|(a, b)| a * b).sum();
        inside += usize::from(distance <= most);
    }
    inside as f64 / draws as f64
}

#[test]
fn the_region_of_95_percent_covers_the_truth() {
    for (seed, arc, n) in [(3, 360.0, 20), (4, 120.0, 20), (5, 60.0, 24)] {
        // Four standard errors of a share of 0.95 among 1000.
        let share = coverage(seed, arc, n, 1000);
        assert!((share - 0.95).abs() < 0.028, "{arc}°: {share}");
    }
}

#[test]
#[ignore = "twenty thousand fits each: `cargo test --release coverage -- --ignored --nocapture`"]
fn the_region_of_95_percent_covers_the_truth_at_full_size() {
    for (arc, n) in [
        (360.0, 6),
        (360.0, 24),
        (180.0, 24),
        (90.0, 24),
        (60.0, 24),
        (45.0, 40),
        (30.0, 60),
    ] {
        let share = coverage(11, arc, n, 20_000);
        println!("{arc}°, {n} points: {:.2} %", 100.0 * share);
        assert!((0.93..=0.97).contains(&share), "{arc}°: {share}");
    }
}

#[test]
fn short_arcs_are_known_as_such() {
    let mut random = Random::seeded(8);
    let truth = (Point::ORIGIN, 107.0);
    let mut fit = |arc| {
        let points = simulated(&mut random, truth, (0.0, arc), 200, 0.02);
        CircleFit::through(&points).expect("a circle")
    };
    let round = fit(360.0);
    close(round.weakness, 1.0, 0.01);
    assert!(!round.is_short());
    // By hand: with c the cosine over an even arc, √(E c²/(E c² − (E c)²)),
    // 2.298 for half a turn and 10.27 for a quarter.
    close(fit(180.0).weakness, 2.298, 0.03);
    close(fit(90.0).weakness, 10.27, 0.15);
    assert!(!fit(120.0).is_short());
    assert!(fit(60.0).is_short());
}

#[test]
fn out_of_roundness_is_the_spread_of_the_residuals() {
    // An ellipse of half axes 107.2 and 106.8: the circle between them.
    let ellipse = (0..72).map(|index| {
        let (sin, cos) = libm::sincos(f64::from(5 * index).to_radians());
        Point::mm(107.2 * cos, 106.8 * sin)
    });
    let fit = CircleFit::through(&ellipse.collect::<Vec<_>>()).expect("a circle");
    close(fit.out_of_roundness().as_mm(), 0.4, 1e-3);
    close(fit.radius.as_mm(), 107.0, 1e-3);
}

#[test]
fn what_is_no_circle_is_an_error() {
    let through = |pairs: &[(f64, f64)]| CircleFit::through(&points(pairs));
    let few = PointsError::TooFew {
        what: "circle",
        given: 3,
        needed: 4,
    };
    assert_eq!(through(&PUBLISHED[..3]), Err(few));
    let line: Vec<(f64, f64)> = (0..9)
        .map(|i| (0.1 * f64::from(i), 7.3 + 0.3 * f64::from(i)))
        .collect();
    assert_eq!(through(&line), Err(PointsError::Collinear));
    let same = [(1.0, 2.0), (3.0, 4.0), (1.0, 2.0), (3.0, 4.0), (3.0, 4.0)];
    let coincident = PointsError::Coincident {
        what: "circle",
        distinct: 2,
        needed: 3,
    };
    assert_eq!(through(&same), Err(coincident));
    let not = [(0.0, 1.0), (1.0, f64::NAN), (2.0, 0.0), (3.0, 1.0)];
    assert_eq!(through(&not), Err(PointsError::NotFinite(2)));
    let huge = [(0.0, 1.0), (1.0, 0.0), (1e200, 0.0), (3.0, 1.0)];
    assert_eq!(through(&huge), Err(PointsError::NotFinite(3)));
    // A straight wire with noise is no arc.
    let mut random = Random::seeded(2);
    let noisy: Vec<(f64, f64)> = (0..30)
        .map(|i| (f64::from(i), 1e-7 * random.normal()))
        .collect();
    assert_eq!(through(&noisy), Err(PointsError::Collinear));
}

#[test]
fn no_points_make_it_panic() {
    let mut random = Random::seeded(77);
    for _ in 0..2000 {
        let n = random.below(9);
        let points = (0..n).map(|_| {
            let size = libm::pow(10.0, 40.0 * random.uniform() - 20.0);
            let coarse = libm::round(4.0 * random.uniform());
            Point::mm(size * random.normal(), coarse)
        });
        if let Ok(fit) = CircleFit::through(&points.collect::<Vec<_>>()) {
            assert!(fit.radius.as_mm() > 0.0 && fit.weakness.is_finite());
        }
    }
}
