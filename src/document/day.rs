//! Days: in files of our own in the one notation that cannot be misread, and as
//! people write them in spreadsheets.

use jiff::civil::Date;

use super::{Fault, Located, Problem, Problems};

/// A day such as `2026-11-14`; anything else is a problem.
pub fn day(text: &Located<String>, problems: &mut Problems) -> Option<Date> {
    let date = iso(&text.value);
    if date.is_some_and(|date| !is_of_a_board(date)) {
        problems.add(outside(text));
        return None;
    }
    if date.is_none() {
        problems.add(Problem::new(
            Fault::Notation,
            text.span,
            format!("`{}` is not a day", text.value),
            "write year, month and day, such as `2026-11-14`",
        ));
    }
    date
}

/// The years in which a board was made, measured or is going to be. House rule: the same
/// as of `made`.
const YEARS: std::ops::RangeInclusive<i16> = 1850..=2200;

fn is_of_a_board(date: Date) -> bool {
    YEARS.contains(&date.year())
}

fn outside(text: &Located<String>) -> Problem {
    let message = format!("`{}` lies outside of the years of dartboards", text.value);
    let remedy = format!(
        "check the year: it lies from {} to {}",
        YEARS.start(),
        YEARS.end()
    );
    Problem::new(Fault::OutOfRange, text.span, message, remedy)
}

/// Whether a text is a day as files of ours have it.
pub(crate) fn is_iso_day(text: &str) -> bool {
    iso(text).is_some()
}

fn iso(text: &str) -> Option<Date> {
    let date = text.parse::<Date>().ok()?;
    (date.to_string() == text).then_some(date)
}

/// Which of two numbers of a date is the day, where somebody has said so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DayOrder {
    /// `03/10/2026` is the third of October.
    DayFirst,
    /// `03/10/2026` is the tenth of March.
    MonthFirst,
}

/// A day as people write it, where it can be read in one way only: `2026-10-03`,
/// `03-Oct-26`, `3.10.2026`, `25/10/2026`. What could be two days, such as
/// `03/10/2026`, needs an order.
pub fn local_day(
    text: &Located<String>,
    order: Option<DayOrder>,
    problems: &mut Problems,
) -> Option<Date> {
    let (fault, message, remedy) = match local(&text.value, order) {
        Ok(date) if is_of_a_board(date) => return Some(date),
        Ok(_) => {
            problems.add(outside(text));
            return None;
        }
        Err(NoDay::Unclear(day_first, month_first)) => (
            Fault::Notation,
            format!("`{}` may be {day_first} or {month_first}", text.value),
            "declare which number is the day with `--dates day-first` or `month-first`, or write \
             `2026-11-14`",
        ),
        Err(NoDay::Short) => (
            Fault::Notation,
            format!("`{}` does not say which number is the year", text.value),
            "declare the order with `--dates day-first` or `month-first`, or write `2026-11-14`",
        ),
        Err(NoDay::Not) => (
            Fault::Notation,
            format!("`{}` is not a day", text.value),
            "write year, month and day, such as `2026-11-14`",
        ),
    };
    problems.add(Problem::new(fault, text.span, message, remedy));
    None
}

enum NoDay {
    /// Two days, depending on the order.
    Unclear(Date, Date),
    /// A year of two digits among numbers.
    Short,
    Not,
}

/// English names, by their first three letters.
const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Years of two digits are those of this century. House rule: no board was measured
/// for this program in another one.
const CENTURY: i16 = 2000;

fn local(text: &str, order: Option<DayOrder>) -> Result<Date, NoDay> {
    if let Some(date) = iso(text) {
        return Ok(date);
    }
    let separators = ['/', '.', '-', ' '];
    let parts: Vec<&str> = text.split([',', '/', '.', '-', ' ']).collect();
    let parts: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    let [a, b, c] = *parts.as_slice() else {
        return Err(NoDay::Not);
    };
    let marks: Vec<char> = text.chars().filter(|c| separators.contains(c)).collect();
    let has_dots = marks.iter().all(|&mark| mark == '.' || mark == ' ') && marks.contains(&'.');
    let date = |day: &str, month: i8, year: &str| -> Option<Date> {
        let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
        if !digits(day) || !digits(year) || day.len() > 2 {
            return None;
        }
        let number: i16 = year.parse().ok()?;
        let year = match year.len() {
            2 => CENTURY + number,
            4 => number,
            _ => return None,
        };
        Date::new(year, month, day.parse().ok()?).ok()
    };
    // 03-Oct-26, 3 October 2026, Oct 3, 2026.
    if let Some(month) = month(b) {
        return date(a, month, c).ok_or(NoDay::Not);
    }
    if let Some(month) = month(a) {
        return date(b, month, c).filter(|_| c.len() == 4).ok_or(NoDay::Not);
    }
    if a.len() == 4 {
        // 2026/10/03: nobody writes a year before the day and the month after it.
        return date(c, b.parse().map_err(|_| NoDay::Not)?, a).ok_or(NoDay::Not);
    }
    let number = |text: &str| text.parse::<i8>().ok().filter(|_| text.len() <= 2);
    let day_first = number(b).and_then(|month| date(a, month, c));
    let month_first = number(a).and_then(|month| date(b, month, c));
    match order {
        Some(DayOrder::DayFirst) => return day_first.ok_or(NoDay::Not),
        Some(DayOrder::MonthFirst) => return month_first.ok_or(NoDay::Not),
        // Where dots are written, the day comes first (CLDR, from memory).
        None if has_dots => return day_first.ok_or(NoDay::Not),
        None => {}
    }
    match (day_first, month_first) {
        (None, None) => Err(NoDay::Not),
        _ if c.len() == 2 => Err(NoDay::Short),
        (Some(day), Some(other)) if day != other => Err(NoDay::Unclear(day, other)),
        (Some(day), _) | (None, Some(day)) => Ok(day),
    }
}

fn month(text: &str) -> Option<i8> {
    let text = text.to_lowercase();
    let named = |name: &str| {
        text.len() >= 3 && name.starts_with(&text) || text == "sept" && name == "september"
    };
    let index = MONTHS.iter().position(|name| named(name))?;
    i8::try_from(index + 1).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Span;

    fn read(text: &str, order: Option<DayOrder>) -> Option<String> {
        let text = Located {
            value: text.to_owned(),
            span: Span::default(),
        };
        let mut problems = Problems::default();
        let day = local_day(&text, order, &mut problems);
        assert_eq!(day.is_none(), !problems.is_empty());
        day.map(|day| day.to_string())
    }

    #[test]
    fn days_are_read_where_they_can_be_read_in_one_way() {
        for text in [
            "2026-10-03",
            "03-Oct-26",
            "3 October 2026",
            "Oct 3, 2026",
            "03.10.2026",
            "3. 10. 2026",
            "2026/10/03",
        ] {
            assert_eq!(read(text, None).as_deref(), Some("2026-10-03"), "{text}");
        }
        assert_eq!(read("25/10/2026", None).as_deref(), Some("2026-10-25"));
        assert_eq!(read("10/25/2026", None).as_deref(), Some("2026-10-25"));
        assert_eq!(read("10/10/2026", None).as_deref(), Some("2026-10-10"));
        for unclear in ["03/10/2026", "03/10/26", "25/10/26", "3-10-2026"] {
            assert_eq!(read(unclear, None), None, "{unclear}");
        }
        for not in [
            "31/02/2026",
            "yesterday",
            "46096",
            "8.01",
            "1/2",
            "3 Oct 026",
        ] {
            assert_eq!(read(not, None), None, "{not}");
            assert_eq!(read(not, Some(DayOrder::DayFirst)), None, "{not}");
        }
    }

    #[test]
    fn an_order_that_was_declared_holds_for_all() {
        let (day, month) = (Some(DayOrder::DayFirst), Some(DayOrder::MonthFirst));
        assert_eq!(read("03/10/2026", day).as_deref(), Some("2026-10-03"));
        assert_eq!(read("03/10/26", day).as_deref(), Some("2026-10-03"));
        assert_eq!(read("03/10/2026", month).as_deref(), Some("2026-03-10"));
        assert_eq!(read("25/10/2026", month), None);
        assert_eq!(read("2026-10-03", month).as_deref(), Some("2026-10-03"));
    }
}
