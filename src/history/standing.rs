//! Which inspection of a board decides.

use std::collections::HashMap;

use jiff::civil::Date;

/// Whether an inspection decides on its board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It is the only one, or the latest, or it cannot be told whether it is: two
    /// inspections that have one day, or none, stand side by side.
    Decides {
        /// The index of the one before it.
        before: Option<usize>,
    },
    /// The inspection with this index is a later one of the same board.
    Superseded {
        /// The next one.
        by: usize,
    },
}

/// Where every inspection stands among all of them: each with the id of its board
/// and its day, if known.
///
/// ```
/// use jiff::civil::date;
/// use ringrule::history::{Standing, standings};
///
/// let all = [
///     ("FL-03", Some(date(2026, 10, 3))),
///     ("FL-04", None),
///     ("FL-03", Some(date(2025, 10, 4))),
/// ];
/// assert_eq!(standings(&all), [
///     Standing::Decides { before: Some(2) },
///     Standing::Decides { before: None },
///     Standing::Superseded { by: 0 },
/// ]);
/// ```
pub fn standings<T: AsRef<str>>(all: &[(T, Option<Date>)]) -> Vec<Standing> {
    let mut dated: HashMap<&str, Vec<(Date, usize)>> = HashMap::new();
    for (index, (id, day)) in all.iter().enumerate() {
        if let Some(day) = day {
            dated.entry(id.as_ref()).or_default().push((*day, index));
        }
    }
    for inspections in dated.values_mut() {
        inspections.sort_unstable();
    }
    let one = |(id, day): &(T, Option<Date>)| {
        let (Some(day), Some(own)) = (day, dated.get(id.as_ref())) else {
            return Standing::Decides { before: None };
        };
        let later = own.iter().find(|(other, _)| other > day);
        match later {
            Some(&(_, by)) => Standing::Superseded { by },
            None => Standing::Decides {
                before: own
                    .iter()
                    .rfind(|(other, _)| other < day)
                    .map(|&(_, index)| index),
            },
        }
    };
    all.iter().map(one).collect()
}
