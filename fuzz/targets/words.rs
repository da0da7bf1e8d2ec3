//! What is written in a cell or behind an option: routes, targets, lengths, gauges, percentages,
//! areas, temperatures, periods, ratios, items, features. What prints reads back the same.
#![no_main]

use std::fmt::{Debug, Display};
use std::str::FromStr;

use libfuzzer_sys::fuzz_target;
use ringrule::board::{Metal, Period};
use ringrule::comparison::GivenRatio;
use ringrule::lint::RuleLevel;
use ringrule::play::{Route, Target};
use ringrule::readings::{Feature, Item};
use ringrule::units::{
    Gauge, parse_area, parse_expansion, parse_kelvins, parse_length, parse_percent,
    parse_temperature, parse_wire,
};

fuzz_target!(|bytes: &[u8]| {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    prints_and_reads::<Route>(text);
    prints_and_reads::<Target>(text);
    prints_and_reads::<Gauge>(text);
    prints_and_reads::<Item>(text);
    let _ = text.parse::<Feature>();
    let _ = text.parse::<Metal>();
    let _ = text.parse::<Period>();
    let _ = text.parse::<RuleLevel>();
    if let Ok(ratio) = text.parse::<GivenRatio>() {
        assert!(ratio.times > 0.0 && ratio.times.is_finite(), "{ratio:?}");
    }
    let numbers = [
        parse_length(text).ok().map(|own| own.as_mm()),
        parse_wire(text).ok().map(|own| own.width.as_mm()),
        parse_percent(text).ok().map(|own| own.value()),
        parse_area(text).ok().map(|own| own.as_mm2()),
    ];
    for number in numbers.into_iter().flatten() {
        assert!(number.is_finite(), "{number}");
    }
    let _ = parse_temperature(text);
    let _ = parse_kelvins(text);
    let _ = parse_expansion(text);
});

fn prints_and_reads<T: FromStr + Display + PartialEq + Debug>(text: &str) {
    if let Ok(read) = text.parse::<T>() {
        let printed = read.to_string();
        let again = printed.parse::<T>().ok();
        assert_eq!(
            again.as_ref(),
            Some(&read),
            "`{text}` prints as `{printed}`"
        );
    }
}
