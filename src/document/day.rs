//! Days, in the one notation that cannot be misread.

use jiff::civil::Date;

use super::{Fault, Located, Problem, Problems};

/// A day such as `2026-11-14`; anything else is a problem.
pub fn day(text: &Located<String>, problems: &mut Problems) -> Option<Date> {
    let date = text.value.parse::<Date>().ok();
    let date = date.filter(|date| date.to_string() == text.value);
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
