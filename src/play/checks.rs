//! Probabilities against published values and against what must hold of them.

use super::*;
use crate::board::{Band, Edge, RingWire};
use crate::fixtures::{bent, round, strip, to_rule, wireless};
use crate::geometry::{Arc, Bed, Boundary, Curve, Point, Region, Side, Turn};
use crate::units::Length;

fn disc(radius: f64) -> Region {
    let curve = Curve::Arc(Arc::full(
        Point::ORIGIN,
        Length::mm(radius),
        Turn::Anticlockwise,
    ));
    let side = Side::Ring(RingWire::InnerBull, Edge::Inside);
    Region {
        loops: vec![vec![Boundary { curve, side }]],
    }
}

fn throw(x: f64, y: f64, sigma: f64) -> Throw {
    Throw::at(Point::mm(x, y), Spread::new(sigma).expect("a spread"))
}

/// Aims all over the board and off it, on apexes and edges too. Invented.
fn aims() -> [Point; 7] {
    [
        (0.0, 0.0),
        (3.0, -6.35),
        (0.0, 103.0),
        (-15.3, 96.6),
        (60.0, 80.0),
        (120.0, -120.0),
        (250.0, 10.0),
    ]
    .map(|(x, y)| Point::mm(x, y))
}

#[test]
fn an_offset_bull_is_marcums_q() {
    // Published: values of Q₁(a, b), Acta Univ. Sapientiae, Mathematica 3,
    // 2011; recomputed independently.
    for (a, b, q) in [
        (0.2, 0.6, 0.838_249_985_438_908),
        (1.2, 1.6, 0.501_536_568_390_858),
        (2.2, 2.6, 0.426_794_627_821_735),
        // Recomputed independently: Q₁(a, a) = ½(1 + e^(−a²)·I₀(a²)).
        (1.0, 1.0, 0.732_879_803_796_820_2),
    ] {
        for sigma in [0.3, 7.0, 400.0] {
            let p = probability(
                &throw(0.6 * a * sigma, 0.8 * a * sigma, sigma),
                &disc(b * sigma),
            );
            assert!(
                (1.0 - p - q).abs() < 1e-12,
                "Q({a}, {b}) at {sigma}: {}",
                1.0 - p
            );
        }
    }
    // Recomputed independently: the noncentral chi-square distribution.
    for (offset, expected) in [
        (0.0, 0.393_469_340_3),
        (0.5, 0.357_285_769_7),
        (1.0, 0.267_120_196_2),
        (2.0, 0.081_892_303_63),
        (3.0, 0.010_829_449_82),
    ] {
        let p = probability(&throw(0.0, 10.0 * offset, 10.0), &disc(10.0));
        assert!((p - expected).abs() < 1e-10, "offset {offset}: {p}");
    }
}

#[test]
fn the_treble_twenty_of_the_reference_board_is_hit_as_often_as_computed_elsewhere() {
    // Recomputed independently: boundary integral, 30-digit arithmetic, dblquad.
    let face = Face::of(&round()).expect("all wires known");
    let bed = Bed::new(Band::Treble, 0);
    let aim = face.middle(bed);
    assert!((aim - Point::mm(0.0, 107.0 - 1.6256 - 4.0)).norm() < 1e-12);
    for (metal, expected) in [
        (Metal::Lost, 0.270_238_498_703_838),
        (Metal::Glances, 0.328_592_024_779_359),
    ] {
        let p = face.hits(&throw(aim.x, aim.y, 10.0), metal).of(bed);
        assert!((p - expected).abs() < 1e-13, "{metal}: {p}");
    }
}

#[test]
fn probabilities_add_up_to_one() {
    let share = Metal::Share(BounceShare::new(0.37).expect("a share"));
    for spider in [round(), strip(0.5), wireless(), bent()] {
        let face = Face::of(&spider).expect("all wires known");
        for aim in aims() {
            for sigma in [0.01, 0.7, 3.0, 11.0, 30.0, 90.0, 1000.0] {
                for metal in [Metal::Lost, Metal::Glances, share] {
                    let hits = face.hits(&throw(aim.x, aim.y, sigma), metal);
                    let total = hits.total();
                    assert!(
                        (total - 1.0).abs() < 1e-12,
                        "{aim:?} {sigma} {metal}: {total}"
                    );
                }
            }
        }
    }
}

#[test]
fn without_wires_both_kinds_of_metal_are_the_same() {
    let face = Face::of(&wireless()).expect("all wires known");
    for aim in aims() {
        let throw = Throw::at(aim, Spread::with(6.0, 11.0, -0.4).expect("a spread"));
        let (lost, glances) = (
            face.hits(&throw, Metal::Lost),
            face.hits(&throw, Metal::Glances),
        );
        for (bed, p) in lost.iter() {
            assert!((p - glances.of(bed)).abs() < 1e-12, "{bed}");
        }
        assert!(lost.metal() < 1e-12);
    }
}

#[test]
fn one_region_alone_has_the_same_probability_as_among_all() {
    let spider = bent();
    let face = Face::of(&spider).expect("all wires known");
    let throw = Throw::at(
        Point::mm(10.0, 60.0),
        Spread::with(25.0, 18.0, 0.3).expect("a spread"),
    );
    let hits = [Metal::Lost, Metal::Glances].map(|metal| face.hits(&throw, metal));
    for bed in Bed::all() {
        let regions = [spider.free_region(bed), spider.apex_region(bed)];
        for (region, hits) in regions.into_iter().zip(&hits) {
            let alone = probability(&throw, &region.expect("known"));
            assert!((alone - hits.of(bed)).abs() < 1e-13, "{bed}: {alone}");
        }
    }
}

#[test]
fn turning_the_aim_by_one_sector_permutes_the_beds() {
    let face = Face::of(&round()).expect("all wires known");
    let (sin, cos) = libm::sincos(18.0_f64.to_radians());
    for aim in aims() {
        let turned = Point::mm(aim.x * cos + aim.y * sin, aim.y * cos - aim.x * sin);
        for metal in Metal::EXTREMES {
            let hits = face.hits(&throw(aim.x, aim.y, 12.0), metal);
            let after = face.hits(&throw(turned.x, turned.y, 12.0), metal);
            for (bed, p) in hits.iter() {
                let next = after.of(Bed::new(bed.band(), bed.sector() + 1));
                assert!((p - next).abs() < 1e-13, "{bed}: {p} {next}");
            }
        }
    }
}

#[test]
fn a_mirrored_board_mirrors_the_probabilities() {
    let spider = bent();
    let mut mirrored = spider.clone();
    for wire in RingWire::ALL {
        mirrored.rings[wire].centre.x *= -1.0;
    }
    let (Some(from), Some(to)) = (&spider.sectors, &mut mirrored.sectors) else {
        panic!("sectors");
    };
    // Wire k is the anticlockwise border of sector k: mirrored, the clockwise
    // border of sector −k, which is wire 1 − k.
    for wire in 0..20 {
        let bearing = from.bearings[(21 - wire) % 20].as_degrees();
        to.bearings[wire] = crate::units::Angle::degrees(-bearing);
    }
    let (face, mirror) = (
        Face::of(&spider).expect("known"),
        Face::of(&mirrored).expect("known"),
    );
    let spread = Spread::with(9.0, 14.0, 0.4).expect("a spread");
    let other = Spread::with(9.0, 14.0, -0.4).expect("a spread");
    for aim in aims() {
        for metal in Metal::EXTREMES {
            let hits = face.hits(&Throw::at(aim, spread), metal);
            let seen = mirror.hits(&Throw::at(Point::mm(-aim.x, aim.y), other), metal);
            for (bed, p) in hits.iter() {
                let q = seen.of(Bed::new(bed.band(), (20 - bed.sector()) % 20));
                assert!((p - q).abs() < 1e-13, "{bed}: {p} {q}");
            }
        }
    }
}

#[test]
fn at_a_large_spread_a_probability_is_density_times_area() {
    let face = Face::of(&round()).expect("all wires known");
    let sigma = 2e4;
    let hits = face.hits(&throw(0.0, 0.0, sigma), Metal::Lost);
    for (bed, p) in hits.iter() {
        let expected = face.free_area(&[bed]).as_mm2() / (std::f64::consts::TAU * sigma * sigma);
        assert!((p / expected - 1.0).abs() < 1e-4, "{bed}: {p} {expected}");
    }
}

#[test]
fn derivatives_by_the_aim_are_those_of_the_mean() {
    let face = Face::of(&bent()).expect("all wires known");
    let worth = Worth::score();
    let metal = Metal::Share(BounceShare::new(0.4).expect("a share"));
    let step = 1e-3;
    for spread in [Spread::with(8.0, 13.0, 0.35), Spread::new(20.0)] {
        let spread = spread.expect("a spread");
        for aim in aims() {
            let at = |x, y| Throw::at(aim + Point::mm(x, y), spread);
            let slope = face.slope(&at(0.0, 0.0), metal, &worth);
            let mean = |x, y| face.mean(&at(x, y), metal, &worth);
            let gradient = |x, y| face.slope(&at(x, y), metal, &worth).gradient;
            assert!((slope.value - mean(0.0, 0.0)).abs() < 1e-12);
            let [x, y] = slope.gradient;
            assert!((x - (mean(step, 0.0) - mean(-step, 0.0)) / (2.0 * step)).abs() < 1e-7);
            assert!((y - (mean(0.0, step) - mean(0.0, -step)) / (2.0 * step)).abs() < 1e-7);
            let [xx, xy, yy] = slope.hessian;
            let across = |a: [f64; 2], b: [f64; 2], i: usize| (a[i] - b[i]) / (2.0 * step);
            assert!((xx - across(gradient(step, 0.0), gradient(-step, 0.0), 0)).abs() < 1e-7);
            assert!((xy - across(gradient(0.0, step), gradient(0.0, -step), 0)).abs() < 1e-7);
            assert!((yy - across(gradient(0.0, step), gradient(0.0, -step), 1)).abs() < 1e-7);
        }
    }
}

#[test]
fn the_variance_is_that_of_the_probabilities() {
    let face = Face::of(&round()).expect("all wires known");
    let throw = throw(0.0, 101.0, 10.0);
    let score = score(&face, &throw, Metal::Lost);
    let squares = face.mean(&throw, Metal::Lost, &Worth::score_squared());
    assert!((score.mean - face.mean(&throw, Metal::Lost, &Worth::score())).abs() < 1e-11);
    assert!((score.variance - (squares - score.mean * score.mean)).abs() < 1e-9);
}

#[test]
fn a_board_with_an_unknown_wire_is_refused_by_name() {
    let mut spider = round();
    spider.rings[RingWire::TrebleInner].apex = None;
    assert_eq!(
        Face::of(&spider).err(),
        Some(PlayError::UnknownRing(RingWire::TrebleInner))
    );
    let mut spider = round();
    spider.sectors = None;
    assert_eq!(Face::of(&spider).err(), Some(PlayError::UnknownSectors));
}

#[test]
fn every_bed_agrees_with_an_independent_quadrature() {
    // Recomputed independently: tests/fixtures/hits.py, which integrates ray
    // by ray with scipy; the fixture names the version.
    let fixture: serde_json::Value =
        serde_json::from_str(include_str!("../../tests/fixtures/hits.json")).expect("JSON");
    let cases = fixture["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 8);
    for case in cases {
        let number = |value: &serde_json::Value| value.as_f64().expect("a number");
        let spider = to_rule(number(&case["wire"]), number(&case["inside"]));
        let spread = Spread::with(
            number(&case["sigma_x"]),
            number(&case["sigma_y"]),
            number(&case["rho"]),
        );
        let aim = Point::mm(number(&case["aim"][0]), number(&case["aim"][1]));
        let metal = match case["metal"].as_str() {
            Some("lost") => Metal::Lost,
            _ => Metal::Glances,
        };
        let face = Face::of(&spider).expect("all wires known");
        let hits = face.hits(&Throw::at(aim, spread.expect("a spread")), metal);
        let probabilities = case["probabilities"].as_array().expect("probabilities");
        assert_eq!(probabilities.len(), 82);
        for ((bed, p), expected) in hits.iter().zip(probabilities) {
            let expected = number(expected);
            assert!((p - expected).abs() < 1e-12, "{bed}: {p} is not {expected}");
        }
    }
}

#[test]
fn the_narrowest_and_the_widest_throws_still_add_up() {
    let face = Face::of(&bent()).expect("all wires known");
    for (sigma_x, sigma_y, rho) in [
        (1e-3, 1e-3, 0.0),
        (1e6, 1e6, 0.0),
        (0.05, 300.0, 0.9),
        (900.0, 0.2, 0.0),
    ] {
        let spread = Spread::with(sigma_x, sigma_y, rho).expect("a spread");
        for aim in aims() {
            let hits = face.hits(&Throw::at(aim, spread), Metal::Glances);
            assert!(
                (hits.total() - 1.0).abs() < 1e-10,
                "{sigma_x} {sigma_y} {aim:?}: {}",
                hits.total()
            );
        }
    }
}
