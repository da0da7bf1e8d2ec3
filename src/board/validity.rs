//! How long an inspection counts.

use std::fmt;
use std::str::FromStr;

use jiff::Span;
use jiff::civil::Date;
use thiserror::Error;

/// How long an inspection of a board is valid, and how long before its end the
/// board is due.
#[derive(Clone, Copy, Debug)]
pub struct Validity {
    /// From the day of inspection.
    pub lasts: Period,
    /// How long before the end a board counts as due.
    pub remind: Period,
}

/// A number of days, weeks, months or years.
#[derive(Clone, Copy, Debug)]
pub struct Period(Span);

/// Where an inspection stands on a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Due {
    /// The last day on which it is valid.
    pub until: Date,
    /// Whether that is soon, or over.
    pub state: DueState,
}

words! {
    /// Whether a board has to be inspected again.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
    pub enum DueState {
        /// Its inspection is valid, and stays so for a while.
        Valid = "valid",
        /// Its inspection is valid, but not for long.
        Due = "due",
        /// Its inspection is no longer valid.
        Overdue = "overdue",
    }

    /// The word for it.
    fn word;
    impl Display = word;
}

/// Why a text is no period.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("`{0}` is not a period of whole days, weeks, months or years")]
pub struct ValidityError(String);

impl FromStr for Period {
    type Err = ValidityError;

    /// Such as `12 months`, `1 year`, `6 weeks`: a number and one unit.
    fn from_str(text: &str) -> Result<Self, ValidityError> {
        let no = || ValidityError(text.to_owned());
        let written = text.trim();
        let cut = written.find(|c: char| !c.is_ascii_digit());
        let (number, unit) = written.split_at_checked(cut.unwrap_or(0)).ok_or_else(no)?;
        let number: i64 = number.parse().map_err(|_| no())?;
        // House rule: a century is no period between inspections.
        let (most, span) = match unit.trim_start() {
            "d" | "day" | "days" => (36_500, Span::new().try_days(number)),
            "w" | "wk" | "wks" | "week" | "weeks" => (5200, Span::new().try_weeks(number)),
            "mo" | "mos" | "month" | "months" => (1200, Span::new().try_months(number)),
            "y" | "yr" | "yrs" | "year" | "years" => (100, Span::new().try_years(number)),
            _ => return Err(no()),
        };
        let span = span.map_err(|_| no())?;
        let some = (1..=most).contains(&number);
        some.then_some(Self(span)).ok_or_else(no)
    }
}

impl Period {
    /// Whether it ends with another that begins on the same day, or after it. House rule:
    /// months and years as from the first of 2026, in which no day is a leap day.
    pub(crate) fn reaches(self, other: Self) -> bool {
        let begin = jiff::civil::date(2026, 1, 1);
        let end = |period: Self| begin.checked_add(period.0).ok();
        end(self) >= end(other)
    }
}

impl fmt::Display for Period {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let span = self.0;
        let (number, unit) = if span.get_years() > 0 {
            (i32::from(span.get_years()), "year")
        } else if span.get_months() > 0 {
            (span.get_months(), "month")
        } else if span.get_weeks() > 0 {
            (span.get_weeks(), "week")
        } else {
            (span.get_days(), "day")
        };
        let s = if number == 1 { "" } else { "s" };
        write!(f, "{number} {unit}{s}")
    }
}

impl Validity {
    /// Where an inspection of this day stands on another.
    ///
    /// ```
    /// use jiff::civil::date;
    /// use ringrule::board::{DueState, Validity};
    ///
    /// let validity = Validity { lasts: "1 year".parse()?, remind: "6 weeks".parse()? };
    /// let inspected = date(2025, 10, 4);
    /// let state = |on| validity.due(inspected, on).map(|due| due.state);
    /// assert_eq!(state(date(2026, 8, 1)), Some(DueState::Valid));
    /// assert_eq!(state(date(2026, 9, 1)), Some(DueState::Due));
    /// assert_eq!(state(date(2026, 10, 4)), Some(DueState::Due));
    /// assert_eq!(state(date(2026, 10, 5)), Some(DueState::Overdue));
    /// # Ok::<(), ringrule::board::ValidityError>(())
    /// ```
    ///
    /// `None` where the calendar ends before the period does.
    pub fn due(&self, inspected: Date, on: Date) -> Option<Due> {
        let until = inspected.checked_add(self.lasts.0).ok()?;
        let from = until.checked_sub(self.remind.0).ok()?;
        let state = match on {
            on if on > until => DueState::Overdue,
            on if on >= from => DueState::Due,
            _ => DueState::Valid,
        };
        Some(Due { until, state })
    }
}
