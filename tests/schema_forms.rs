//! The printed schemas say of every value how it may be written: what the readers take,
//! and no more.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::schemas::{validator, value};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use ringrule::board::{Metal, Period};
use ringrule::document::FileKind;
use ringrule::lint::Rule;
use ringrule::units::{self, NotationFault};
use serde_json::{Value, json};

/// Pieces of which people make numbers and units, put together at random.
fn texts(pieces: &'static [&'static str]) -> impl Strategy<Value = String> {
    prop::collection::vec(prop::sample::select(pieces), 1..7).prop_map(|parts| parts.concat())
}

const NUMBERS: &[&str] = &[
    "0", "1", "8", "16", "50", "100", "0.5", "3.25", ".", "/", "5/16", "/0", " ", "  ", "-", "+",
    ",", "e-6", "E3", "\t",
];
const LENGTHS: &[&str] = &[
    "0", "8", "16", "0.5", "5/16", "3/0", " ", "-", "mm", "in", "MM", "cm", ".", ",", "%", "\"",
    "SWG", "swg", "awg", "BWG", "g", "2/0", "51", "00",
];
const SHARES: &[&str] = &[
    "0", "3", "50", "99.9", "100", "1/2", " ", "-", "%", "lost", "glances", "any", ".", "0.5",
];
const DEGREES: &[&str] = &[
    "0",
    "27",
    "80.5",
    ".",
    "-",
    "+",
    " ",
    "°C",
    "C",
    "°F",
    "F",
    "K",
    "/K",
    "ppm/K",
    "ppm",
    "µm/(m·K)",
    "um/(m K)",
    "/°C",
    "ppm/°F",
    "e-6",
    "E-5",
    "0.00",
    "nan",
    "inf",
    "°",
    "deg",
    "degrees",
];
const DAYS: &[&str] = &[
    "2026", "1999", "-", "-0", "1", "2", "11", "12", "30", "31", "28", "29", "T", " ",
];
const PERIODS: &[&str] = &[
    "1", "0", "6", "12", " ", "year", "years", "yr", "y", "Y", "months", "mo", "m", "weeks", "wk",
    "days", "d", "h", "P", "s", "-", "1.5",
];

/// Each text in each way, and what went wrong.
fn hold(pieces: &'static [&'static str], check: impl Fn(&str) -> Result<(), TestCaseError>) {
    let mut runner = TestRunner::new(ProptestConfig {
        cases: 4000,
        ..ProptestConfig::default()
    });
    let held = runner.run(&texts(pieces), |text| check(&text));
    held.unwrap_or_else(|error| panic!("{error}"));
}

/// Whether a fraction behind a whole number is one or more, which no pattern can tell.
fn is_improper<T>(read: &Result<T, NotationFault>) -> bool {
    matches!(read, Err(NotationFault::ImproperFraction(_)))
}

const RANGE: &str = "/$defs/instrument_group/properties/range/items";

#[test]
fn lengths_and_wires_are_what_the_readers_take() {
    let length = value(FileKind::Board, RANGE);
    let wire = value(
        FileKind::Board,
        "/$defs/wires_group/properties/rings/anyOf/0",
    );
    hold(LENGTHS, |text| {
        if is_improper(&units::parse_length(text)) {
            return Ok(());
        }
        prop_assert_eq!(
            length.is_valid(&json!(text)),
            units::parse_length(text).is_ok()
        );
        // A wire below nothing is read, and refused by its range.
        let read = units::parse_wire(text).is_ok() && !text.contains('-');
        prop_assert_eq!(wire.is_valid(&json!(text)), read);
        Ok(())
    });
}

#[test]
fn numbers_before_a_unit_are_what_the_readers_take() {
    let length = value(FileKind::Board, RANGE);
    let area = value(FileKind::Board, "/$defs/bed_area_group/properties/bed");
    hold(NUMBERS, |number| {
        let text = format!("{number} mm");
        if is_improper(&units::parse_length(&text)) {
            return Ok(());
        }
        prop_assert_eq!(
            length.is_valid(&json!(text)),
            units::parse_length(&text).is_ok()
        );
        let text = format!("{number}mm²");
        let read = units::parse_area(&text).is_ok() && !text.contains('-');
        prop_assert_eq!(area.is_valid(&json!(text)), read);
        Ok(())
    });
}

#[test]
fn shares_are_what_the_readers_take() {
    let percent = value(FileKind::Table, "/$defs/percent_group/properties/lower");
    let metal = value(FileKind::Board, "/properties/metal");
    hold(SHARES, |text| {
        let read = units::parse_percent(text);
        if is_improper(&read) {
            return Ok(());
        }
        let is_signed = text.contains('-');
        prop_assert_eq!(percent.is_valid(&json!(text)), read.is_ok() && !is_signed);
        // What a fraction comes to is left to the reader.
        let is_large = text.contains('/') && read.is_ok_and(|p| p.value() > 100.0);
        let is_metal = text.parse::<Metal>().is_ok() || is_large;
        prop_assert_eq!(metal.is_valid(&json!(text)), is_metal && !is_signed);
        Ok(())
    });
}

#[test]
fn temperatures_are_what_the_readers_take() {
    let temperature = value(FileKind::Board, "/$defs/temperature_group/properties/at");
    let kelvins = value(
        FileKind::Board,
        "/$defs/temperature_group/properties/uncertainty",
    );
    let expansion = value(
        FileKind::Board,
        "/$defs/temperature_group/properties/expansion",
    );
    hold(DEGREES, |text| {
        let read = units::parse_temperature(text).is_ok();
        prop_assert_eq!(temperature.is_valid(&json!(text)), read);
        // A zero with a sign is read, and left out of the schemas.
        let is_signed = text.trim_start().starts_with('-');
        let read = units::parse_kelvins(text).is_ok() && !is_signed;
        prop_assert_eq!(kelvins.is_valid(&json!(text)), read);
        let read = units::parse_expansion(text);
        if expansion.is_valid(&json!(text)) {
            prop_assert!(read.is_ok() && !is_signed);
        } else {
            // The reader's bound is 300e-6 /K (house rule).
            prop_assert!(is_signed || !read.is_ok_and(|read| read <= 300e-6));
        }
        Ok(())
    });
}

#[test]
fn days_are_what_the_reader_takes() {
    let day = value(FileKind::Board, "/$defs/inspection_group/properties/date");
    hold(DAYS, |text| {
        let read = text.parse::<jiff::civil::Date>();
        let read = read.is_ok_and(|day| day.to_string() == text);
        // Which years leap is left to the reader.
        if text.ends_with("02-29") && text.len() == 10 {
            prop_assert!(!read || day.is_valid(&json!(text)));
        } else {
            prop_assert_eq!(day.is_valid(&json!(text)), read);
        }
        Ok(())
    });
}

#[test]
fn periods_are_what_the_reader_takes() {
    let period = value(
        FileKind::Settings,
        "/$defs/inspections_group/properties/valid",
    );
    hold(PERIODS, |text| {
        let read = text.parse::<Period>().is_ok();
        // How long one may be is left to the reader.
        let is_long = text.bytes().filter(u8::is_ascii_digit).count() > 2;
        prop_assert!(period.is_valid(&json!(text)) == read || is_long && !read);
        Ok(())
    });
}

/// Every gauge of every system, in three ways, and the numbers beside the series.
#[test]
fn gauges_are_those_of_the_series() {
    let wire = value(
        FileKind::Board,
        "/$defs/wires_group/properties/rings/anyOf/0",
    );
    for system in ["SWG", "awg", "Bwg"] {
        for number in 0..60 {
            for text in [format!("{number} {system}"), format!("{number}/0{system}")] {
                let read = text.parse::<units::Gauge>().is_ok();
                assert_eq!(wire.is_valid(&json!(text)), read, "{text}");
            }
        }
    }
}

/// Settings name rules, and nothing else: a slip of the pen is seen while it is typed.
#[test]
fn settings_know_the_rules_by_name() {
    let validator = validator(FileKind::Settings);
    let with = |levels: Value| json!({ "format": "ringrule/settings/1", "levels": levels });
    for rule in Rule::ALL {
        assert!(
            validator.is_valid(&with(json!({ rule.code: "note" }))),
            "{}",
            rule.code
        );
    }
    for wrong in [
        json!({ "unit-mixt": "note" }),
        json!({ "unit-mixed": "warn" }),
    ] {
        assert!(!validator.is_valid(&with(wrong.clone())), "{wrong}");
    }
    let waiver = |rule: &str| {
        json!({ "format": "ringrule/settings/1",
                "waivers": [{ "rule": rule, "because": "the sheet was lost" }] })
    };
    assert!(validator.is_valid(&waiver("missing-date")));
    assert!(!validator.is_valid(&waiver("missing-day")));
}
