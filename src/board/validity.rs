//! How long an inspection counts.

use std::fmt;
use std::str::FromStr;

use jiff::civil::Date;
use jiff::{Span, Unit};
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

    /// Such as `12 months`, `1 year`, `6 weeks`.
    fn from_str(text: &str) -> Result<Self, ValidityError> {
        let no = || ValidityError(text.to_owned());
        let span: Span = text.trim().parse().map_err(|_| no())?;
        let whole = span.is_positive()
            && [Unit::Day, Unit::Week, Unit::Month, Unit::Year]
                .into_iter()
                .any(|unit| only(&span, unit));
        // House rule: a century is no period between inspections.
        let few = span.get_years() <= 100
            && span.get_months() <= 1200
            && span.get_weeks() <= 5200
            && span.get_days() <= 36_500;
        (whole && few).then_some(Self(span)).ok_or_else(no)
    }
}

/// Whether a span is a number of such units and nothing else.
fn only(span: &Span, unit: Unit) -> bool {
    let alone = match unit {
        Unit::Day => Span::new().try_days(span.get_days()),
        Unit::Week => Span::new().try_weeks(span.get_weeks()),
        Unit::Month => Span::new().try_months(span.get_months()),
        _ => Span::new().try_years(span.get_years()),
    };
    alone.is_ok_and(|alone| alone.fieldwise() == span.fieldwise())
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
