//! Properties that hold for every board, checked on seeded random ones.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fmt::Write;

use common::{board, table};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};
use ringrule::board::{Band, Board, Edge, RingWire};
use ringrule::conformity::{Judge, Verdict};
use ringrule::document::Source;
use ringrule::geometry::{Spider, band_area};
use ringrule::table::Table;

/// A board in numbers: radii of the apexes, thickness of each ring wire and of
/// the sector wires, all in mm, and the edge that each radius is written for.
#[derive(Clone, Debug)]
struct Numbers {
    apexes: [f64; 6],
    wires: [f64; 6],
    sectors: f64,
    edges: [Edge; 6],
}

impl Numbers {
    fn radius(&self, ring: usize) -> f64 {
        self.apexes[ring] - self.edges[ring].apex_offset() * self.wires[ring]
    }

    /// The board file in a unit of so many mm.
    fn file(&self, unit: &str, mm: f64) -> String {
        let mut text = format!(
            "format: ringrule/board/1\nboard: {{ id: P }}\nmounting: staples\nunits: {unit}\n\
             wires:\n  sectors: {}\n",
            self.sectors / mm
        );
        for (index, ring) in RingWire::ALL.into_iter().enumerate() {
            writeln!(text, "  {}: {}", ring.key(), self.wires[index] / mm).expect("a string");
        }
        text.push_str("rings:\n");
        for (index, ring) in RingWire::ALL.into_iter().enumerate() {
            let radius = self.radius(index) / mm;
            let edge = self.edges[index];
            writeln!(
                text,
                "  {}: {{ radius: {radius}, edge: {edge} }}",
                ring.key()
            )
            .expect("a string");
        }
        text
    }
}

fn numbers() -> impl Strategy<Value = Numbers> {
    let edge = prop::sample::select(Edge::ALL.to_vec());
    (
        prop::array::uniform6(-0.4..0.4_f64),
        prop::array::uniform6(0.3..1.9_f64),
        0.3..1.9_f64,
        prop::array::uniform6(edge),
    )
        .prop_map(|(shifts, wires, sectors, edges)| {
            let near = [7.2, 16.7, 96.6, 106.2, 159.6, 169.2];
            Numbers {
                apexes: std::array::from_fn(|ring| near[ring] + shifts[ring]),
                wires,
                sectors,
                edges,
            }
        })
}

/// The same numbers on every run.
fn seeded() -> Config {
    Config {
        cases: 128,
        rng_seed: RngSeed::Fixed(20),
        failure_persistence: None,
        ..Config::default()
    }
}

fn free(board: &Board, band: Band) -> f64 {
    let area = band_area(&Spider::of(&board.construction), band).expect("all wires are known");
    area.free.as_mm2()
}

fn verdicts(table: &Table, board: &Board) -> Vec<Option<Verdict>> {
    let judge = Judge::new(table);
    let assessment = judge.judge(board);
    assessment
        .limits
        .iter()
        .map(|finding| finding.outcome.verdict())
        .collect()
}

proptest! {
    #![proptest_config(seeded())]

    #[test]
    fn inches_and_millimetres_give_the_same_verdicts_and_areas(numbers in numbers()) {
        let table = table("wdf.yaml");
        let (mm, inches) = (board(&numbers.file("mm", 1.0)), board(&numbers.file("in", 25.4)));
        prop_assert_eq!(verdicts(&table, &mm), verdicts(&table, &inches));
        for band in Band::ALL {
            let (a, b) = (free(&mm, band), free(&inches, band));
            prop_assert!((a / b - 1.0).abs() < 1e-12, "{}: {} {}", band, a, b);
        }
    }

    #[test]
    fn another_edge_and_a_moved_radius_are_the_same_board(
        numbers in numbers(),
        edges in prop::array::uniform6(prop::sample::select(Edge::ALL.to_vec())),
    ) {
        let other = Numbers { edges, ..numbers.clone() };
        let (a, b) = (board(&numbers.file("mm", 1.0)), board(&other.file("mm", 1.0)));
        for band in Band::ALL {
            let (a, b) = (free(&a, band), free(&b, band));
            prop_assert!((a / b - 1.0).abs() < 1e-11, "{}: {} {}", band, a, b);
        }
    }

    #[test]
    fn areas_grow_with_the_square_of_the_scale(numbers in numbers(), scale in 0.8..1.2_f64) {
        let scaled = Numbers {
            apexes: numbers.apexes.map(|apex| apex * scale),
            wires: numbers.wires.map(|wire| wire * scale),
            sectors: numbers.sectors * scale,
            edges: numbers.edges,
        };
        let (a, b) = (board(&numbers.file("mm", 1.0)), board(&scaled.file("mm", 1.0)));
        for band in Band::ALL {
            let (a, b) = (free(&a, band) * scale * scale, free(&b, band));
            prop_assert!((a / b - 1.0).abs() < 1e-11, "{}: {} {}", band, a, b);
        }
    }

    #[test]
    fn free_areas_and_metal_make_up_the_disc(numbers in numbers()) {
        // The metal in closed form, which the engine does not use: rings as
        // annuli, strips by S(R) = h√(R² − h²) + R² asin(h/R).
        let made = board(&numbers.file("mm", 1.0));
        let pi = std::f64::consts::PI;
        let half = numbers.sectors / 2.0;
        let strip = |radius: f64| {
            half * (radius * radius - half * half).sqrt() + radius * radius * (half / radius).asin()
        };
        let inside = |ring: usize| numbers.apexes[ring] - numbers.wires[ring] / 2.0;
        let outside = |ring: usize| numbers.apexes[ring] + numbers.wires[ring] / 2.0;
        let mut sum: f64 = Band::ALL.into_iter().map(|band| free(&made, band)).sum();
        for ring in 0..6 {
            sum += pi * (outside(ring).powi(2) - inside(ring).powi(2));
        }
        for ring in 1..5 {
            sum += 20.0 * (strip(inside(ring + 1)) - strip(outside(ring)));
        }
        let disc = pi * outside(5).powi(2);
        prop_assert!((sum / disc - 1.0).abs() < 1e-12, "{} {}", sum, disc);
    }

    #[test]
    fn a_board_that_meets_every_limit_meets_every_derived_bound(numbers in numbers()) {
        // Drawn towards the rule, so that a good share conforms.
        let near: [f64; 6] = [7.0, 16.55, 96.8, 106.3, 159.8, 169.3];
        let tame = Numbers {
            apexes: std::array::from_fn(|r| near[r] + (numbers.apexes[r] - near[r]) * 0.2),
            wires: numbers.wires.map(|wire| 1.22 + wire / 5.0),
            sectors: 1.22 + numbers.sectors / 5.0,
            edges: numbers.edges,
        };
        let table = table("wdf.yaml");
        let board = board(&tame.file("mm", 1.0));
        let judge = Judge::new(&table);
        let assessment = judge.judge(&board);
        prop_assume!(assessment.limit_tally().do_not_conform == 0);
        prop_assert_eq!(assessment.band_tally().do_not_conform, 0);
    }

    #[test]
    fn no_text_makes_reading_panic(text in "\\PC*", noise in prop::collection::vec(any::<u8>(), 0..200)) {
        // Both must come back, whatever they say; a sound file is possible
        // but not drawn.
        prop_assert!(Board::read(Source::new("a", text.as_str())).is_err());
        let noise = String::from_utf8_lossy(&noise).into_owned();
        prop_assert!(Table::read(Source::new("a", noise), &()).is_err());
    }

    #[test]
    fn no_changed_byte_makes_reading_panic(at in 0..common::BOARD_R.len(), byte in 0x20..0x7f_u8) {
        let mut bytes = common::BOARD_R.as_bytes().to_vec();
        bytes[at] = byte;
        let text = String::from_utf8(bytes).expect("still ASCII");
        if let Err(invalid_file) = Board::read(Source::new("a", text)) {
            prop_assert!(!invalid_file.diagnostics.is_empty());
            for found in &invalid_file.diagnostics {
                prop_assert!(found.place.span.end <= invalid_file.file.text().len());
                prop_assert!(found.remedy.is_some());
            }
        }
    }
}
