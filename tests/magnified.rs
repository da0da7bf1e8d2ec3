//! What a drawing points at and magnifies, against the geometry and the limits.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;

use common::{board, root, table};
use ringrule::board::{Edge, RingWire};
use ringrule::conformity::{Assessment, Judge, Outcome};
use ringrule::geometry::Spider;
use ringrule::report::{What, draw_svg};
use ringrule::units::Angle;

/// A number as drawings write it.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A demo board judged by the demo's table, and its drawing.
fn drawn(name: &str, look: impl Fn(&Assessment<'_>, &str)) {
    let text = fs::read_to_string(root().join("specs/demo").join(name)).expect("there");
    let (board, table) = (board(&text), table("wdf.yaml"));
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    let svg = draw_svg(&assessment, What::Board).expect("drawn");
    look(&assessment, &svg);
}

#[test]
fn a_width_is_marked_along_the_facing_edges_of_its_wires() {
    drawn("03-narrow-treble.yaml", |assessment, svg| {
        let spider = Spider::of(&assessment.construction);
        // The first mark begins 11° before 40° (invented, spots.rs).
        let (sin, cos) = f64::to_radians(29.0).sin_cos();
        for (wire, edge) in [
            (RingWire::TrebleInner, Edge::Outside),
            (RingWire::TrebleOuter, Edge::Inside),
        ] {
            let reach = spider.reach(wire, edge, Angle::degrees(29.0));
            let reach = reach.expect("a wire that is known").as_mm();
            let begins = format!("M{} {}L", number(reach * sin), number(-reach * cos));
            assert!(svg.contains(&begins), "{wire}: {begins}");
        }
    });
}

#[test]
fn a_magnified_length_lies_where_it_is_between_its_limits() {
    drawn("03-narrow-treble.yaml", |assessment, svg| {
        let mut widths = assessment.limits.iter().filter_map(|found| {
            let is_it = found.limit.measurand.key() == "treble.width";
            match &found.outcome {
                Outcome::Length(length) if is_it => Some(length),
                _ => None,
            }
        });
        let found = widths.next_back().expect("a treble width");
        let mm = |limit: Option<ringrule::units::Length>| limit.expect("a limit").as_mm();
        let (lower, upper) = (mm(found.interval.lower), mm(found.interval.upper));
        let value = found.value.as_mm();
        let u = found.uncertainty.expect("stated").expanded().expanded;
        // From the demo: 7.70 mm is too narrow, and all of it lies within a millimetre,
        // which the strip then shows over 376 units from 2 on (house rule, lens.rs).
        assert!((value - 7.7).abs() < 1e-3 && upper - (value - u) < 1.0);
        let from = 0.5 * (upper + value - u) - 0.5;
        let x = |length: f64| 2.0 + (length - from) * 376.0;
        for (limit, lip) in [(lower, 6.0), (upper, -6.0)] {
            let bracket = format!("M{} ", number(x(limit) + lip));
            let back = format!("H{}V", number(x(limit)));
            let is_there = svg
                .split('M')
                .any(|piece| format!("M{piece}").starts_with(&bracket) && piece.contains(&back));
            assert!(is_there, "{bracket} {back}");
        }
        let whiskers = format!("H{}\"", number(x(value + u)));
        assert!(svg.contains(&whiskers), "{whiskers}");
        let edge = format!("M{} ", number(x(value)));
        assert!(svg.contains(&edge), "{edge}");
    });
}

#[test]
fn bars_are_as_long_as_their_deviations() {
    drawn("03-narrow-treble.yaml", |assessment, svg| {
        let mut looked = 0;
        for finding in &assessment.bands {
            let ringrule::conformity::BandOutcome::Compared(band) = &finding.outcome else {
                continue;
            };
            // Ten percent reach the ends, 188 units from the middle (house rule, bars.rs).
            let width = number((band.deviation.value() / 10.0 * 188.0).abs());
            let bar = format!("width=\"{width}\" height=\"9\"");
            assert!(svg.contains(&bar), "{}: {bar}", finding.band);
            looked += 1;
        }
        assert_eq!(looked, 6);
        assert!(
            svg.contains("the bars' ends: 10 % less")
                || svg.contains("the bars&#39; ends: 10 % less")
        );
    });
}
