//! Values on the command line, with what to write instead where one is wrong.

use std::ops::RangeInclusive;

use jiff::civil::Date;
use jiff::{Timestamp, tz::TimeZone};
use ringrule::lint::{Rule, RuleLevel, UnknownRuleLevel};
use thiserror::Error;

/// A value that an option does not take. Its words say what to write instead.
#[derive(Clone, Debug, Error, PartialEq)]
pub(crate) enum ValueError {
    #[error("give the number without a unit: write `{0}`")]
    Unit(String),
    #[error("decimals stand after a point: write `{0}`")]
    Comma(String),
    #[error("give a plain decimal number, such as `12` or `12.5`")]
    NotANumber,
    #[error(
        "these are two numbers, {whole} and {decimals}: write `{whole}.{decimals}` if they are \
         one, and `{whole},{decimals}.0` if they are two"
    )]
    Two { whole: String, decimals: String },
    #[error("give a whole number from {least} up, such as `{example}`")]
    Below { least: u64, example: u64 },
    #[error("give a whole number from {least} to {most}, such as `{example}`")]
    Outside { least: u64, most: u64, example: u64 },
    #[error(
        "a total has no decimals: write `{whole}` for one total, and give the option twice if \
         {whole} and {decimals} are two"
    )]
    Decimals { whole: String, decimals: String },
    #[error("give whole numbers, such as `501` or `301,501`")]
    NotTotals,
    #[error("write year, month and day, such as `2026-11-25`")]
    NotADay,
    #[error("write a rule and a level, such as `unit-mixed=ignore`")]
    NoLevel,
    #[error("there is no rule `{0}`: `ringrule rules` lists them")]
    NoRule(String),
    #[error(transparent)]
    Level(#[from] UnknownRuleLevel),
}

/// Numbers that one option gives, separated by commas.
#[derive(Clone, Debug)]
pub(crate) struct List<T>(Vec<T>);

/// The numbers of an option that may be given several times.
pub(crate) fn all<T: Copy>(lists: &[List<T>]) -> Vec<T> {
    lists.iter().flat_map(|list| list.0.clone()).collect()
}

impl<T> List<T> {
    pub(crate) fn as_slice(&self) -> &[T] {
        &self.0
    }
}

/// Reads a plain decimal number.
pub(crate) fn number(text: &str) -> Result<f64, ValueError> {
    let finite = |text: &str| text.parse().ok().filter(|number: &f64| number.is_finite());
    if let Some(number) = finite(text) {
        return Ok(number);
    }
    let bare = without_unit(text);
    let pointed = bare.replacen(',', ".", 1);
    Err(match finite(&pointed) {
        Some(_) if pointed == bare && bare != text => ValueError::Unit(bare.to_owned()),
        Some(_) if pointed != bare => ValueError::Comma(pointed),
        _ => ValueError::NotANumber,
    })
}

/// Reads numbers separated by commas.
pub(crate) fn numbers(text: &str) -> Result<List<f64>, ValueError> {
    if let Some((whole, decimals)) = decimal_comma(text) {
        return Err(ValueError::Two {
            whole: whole.to_owned(),
            decimals: decimals.to_owned(),
        });
    }
    let read = text.split(',').map(|one| number(one.trim()));
    read.collect::<Result<_, _>>().map(List)
}

/// A parser of whole numbers from the least to the most that an option takes.
pub(crate) fn whole<T: TryFrom<u64>>(
    taken: RangeInclusive<u64>,
    example: u64,
) -> impl Fn(&str) -> Result<T, ValueError> + Clone {
    move |text| {
        let read = |text: &str| {
            let number: u64 = text.parse().ok()?;
            T::try_from(number).ok().filter(|_| taken.contains(&number))
        };
        if let Some(number) = read(text) {
            return Ok(number);
        }
        let bare = without_unit(text);
        let (least, most) = (*taken.start(), *taken.end());
        Err(match read(bare) {
            Some(_) => ValueError::Unit(bare.to_owned()),
            None if most == u64::MAX => ValueError::Below { least, example },
            None => ValueError::Outside {
                least,
                most,
                example,
            },
        })
    }
}

/// Reads start totals separated by commas. Which of them can be played is the
/// library's business.
pub(crate) fn totals(text: &str) -> Result<List<u32>, ValueError> {
    if let Some((whole, decimals)) = decimal_comma(text) {
        return Err(ValueError::Decimals {
            whole: whole.to_owned(),
            decimals: decimals.to_owned(),
        });
    }
    let total = whole::<u32>(0..=u64::from(u32::MAX), 501);
    let read = text.split(',').map(|one| total(one.trim()));
    let read: Option<_> = read.map(Result::ok).collect();
    read.map(List).ok_or(ValueError::NotTotals)
}

/// Two numbers that look like one with a decimal comma. House rule: the first has
/// two digits or more and the second a single one, as in `12,5`; `10,14` is two.
fn decimal_comma(text: &str) -> Option<(&str, &str)> {
    let (whole, decimals) = text.split_once(',')?;
    let (whole, decimals) = (whole.trim(), decimals.trim());
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let looks = whole.len() >= 2 && decimals.len() == 1 && digits(whole) && digits(decimals);
    looks.then_some((whole, decimals))
}

fn without_unit(text: &str) -> &str {
    let bare = text.trim().trim_end_matches(|c: char| c.is_alphabetic());
    bare.trim_end()
}

/// Reads a day as files write it.
pub(crate) fn day(text: &str) -> Result<Date, ValueError> {
    let date = text.parse::<Date>().ok();
    date.filter(|date| date.to_string() == text)
        .ok_or(ValueError::NotADay)
}

/// The day by the system's clock, in UTC: no file of time zones is needed, and
/// a waiver's last day is not a matter of hours.
pub(crate) fn today() -> Date {
    TimeZone::UTC.to_datetime(Timestamp::now()).date()
}

/// Reads a rule and the level that it gets.
pub(crate) fn rule_and_level(text: &str) -> Result<(&'static Rule, RuleLevel), ValueError> {
    let (code, level) = text.split_once('=').ok_or(ValueError::NoLevel)?;
    let rule = Rule::find(code).ok_or_else(|| ValueError::NoRule(code.to_owned()))?;
    Ok((rule, level.parse()?))
}
