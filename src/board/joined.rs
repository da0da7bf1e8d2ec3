//! The lengths of two inspections, of one board or of two, on one list, so that what
//! their errors have in common cancels out of a difference.

use super::{Basis, CommonError, Input, InputId, Linear, Sharing};
use crate::units::{Instrument, Uncertainty};

/// The measured lengths of an earlier inspection and of a later one; or of one board and
/// of another.
#[derive(Debug)]
pub(crate) struct Joined {
    /// Each list of the same lengths in the same order, its errors in common as one
    /// of the things that may be true of instruments of which that is not known.
    lists: Vec<Vec<Input>>,
    /// Where each of the later lengths stands.
    later: Vec<InputId>,
}

/// Whether an instrument has the error that it had when the board was measured before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum SameError {
    /// It is the same instrument, and was not calibrated in between.
    Yes,
    /// The files do not say enough.
    Unknown,
    No,
}

/// The lengths of an inspection, and what they were taken with.
pub(crate) type Taking<'a> = (&'a [Input], &'a [Instrument]);

/// What two inspections are of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Of {
    OneBoard,
    TwoBoards,
}

impl Joined {
    /// Joins two inspections of one board.
    pub(crate) fn of_one_board(earlier: Taking<'_>, later: Taking<'_>) -> Self {
        Self::new(Of::OneBoard, earlier, later)
    }

    /// Joins the inspections of two boards, of which neither need be the earlier one.
    pub(crate) fn of_two_boards(one: Taking<'_>, other: Taking<'_>) -> Self {
        Self::new(Of::TwoBoards, one, other)
    }

    fn new(of: Of, (first, old): Taking<'_>, (second, young): Taking<'_>) -> Self {
        let mut new = Vec::new();
        let places = second.iter().map(|input| {
            // A wire that was named by the same gauge both times is the same
            // wire: what it is off by cancels out.
            let same = |known| of == Of::OneBoard && is_same_gauge(known, input);
            let same = first.iter().position(same);
            InputId::new(same.unwrap_or_else(|| {
                new.push(input);
                first.len() + new.len() - 1
            }))
        });
        let places = places.collect();
        let pairs = pairs(old, young);
        let unsure = pairs.iter().any(|(_, same)| *same == SameError::Unknown);
        let assumptions: &[bool] = if unsure { &[true, false] } else { &[false] };
        let between = between_people(first);
        let list = |&unknown: &bool| {
            let moved = |input: &&Input| moved(input, of, &pairs, unknown, between);
            first.iter().cloned().chain(new.iter().map(moved)).collect()
        };
        Self {
            lists: assumptions.iter().map(list).collect(),
            later: places,
        }
    }

    /// What a later length is in the joined list, less what an earlier one is.
    pub(crate) fn difference(&self, later: &Linear, earlier: &Linear) -> Linear {
        self.moved(later).plus(-1.0, earlier)
    }

    /// The same with a factor of its own for each.
    pub(crate) fn scaled(&self, later: (f64, &Linear), earlier: (f64, &Linear)) -> Linear {
        let of = Linear::default().plus(later.0, &self.moved(later.1));
        of.plus(-earlier.0, earlier.1)
    }

    fn moved(&self, form: &Linear) -> Linear {
        let terms = form.terms().iter();
        let terms = terms.filter_map(|&(id, factor)| Some((*self.later.get(id.index())?, factor)));
        terms.fold(Linear::default(), |sum, (id, factor)| {
            sum.plus(1.0, &Linear::input(id, factor))
        })
    }

    /// The standard uncertainty of a form in the joined list; where it is not known
    /// which errors are common, the larger. `None` if a length states none.
    pub(crate) fn uncertainty(&self, form: &Linear) -> Option<Uncertainty> {
        let all = self.lists.iter().map(|inputs| form.uncertainty(inputs));
        let all: Option<Vec<_>> = all.collect();
        let larger = |a: &Uncertainty, b: &Uncertainty| a.standard().total_cmp(&b.standard());
        all?.into_iter().max_by(larger)
    }
}

fn is_same_gauge(one: &Input, other: &Input) -> bool {
    matches!((&one.basis, &other.basis), (Basis::Gauge(a), Basis::Gauge(b)) if a == b)
        && one.quantity == other.quantity
        && one.wire == other.wire
}

/// Whether an instrument of one list may be one of the other.
pub(crate) fn shares_instruments(some: &[Instrument], others: &[Instrument]) -> bool {
    let pairs = pairs(some, others);
    pairs.iter().any(|(_, same)| *same != SameError::No)
}

/// For each of the later instruments the earlier one that it may be.
fn pairs(earlier: &[Instrument], later: &[Instrument]) -> Vec<(usize, SameError)> {
    let pair = |new: &Instrument| {
        let found = earlier.iter().position(|old| is_named_alike(old, new));
        let same = found.and_then(|index| Some((index, same_error(earlier.get(index)?, new))));
        same.unwrap_or((0, SameError::No))
    };
    later.iter().map(pair).collect()
}

/// One without a name is taken for another: that can only make a change less certain.
fn is_named_alike(old: &Instrument, new: &Instrument) -> bool {
    old.name.is_some() && old.name == new.name
}

fn same_error(old: &Instrument, new: &Instrument) -> SameError {
    if old.max_error != new.max_error || old.correction != new.correction {
        return SameError::No;
    }
    let both = |old: Option<String>, new: Option<String>| Some(old? == new?);
    let day = |of: &Instrument| of.calibrated.map(|day| day.to_string());
    let certificate = both(old.certificate.clone(), new.certificate.clone());
    match certificate.or_else(|| both(day(old), day(new))) {
        Some(true) => SameError::Yes,
        Some(false) => SameError::No,
        None => SameError::Unknown,
    }
}

/// How many lengths of a list people took at places.
fn between_people(inputs: &[Input]) -> usize {
    let errors = inputs.iter().flat_map(|input| &input.errors);
    let indices = errors.filter_map(|part| match part.sharing {
        Sharing::Common(CommonError::BetweenPeople(index))
        | Sharing::Unknown(CommonError::BetweenPeople(index)) => Some(index + 1),
        _ => None,
    });
    indices.max().unwrap_or_default()
}

/// A later length with the names that its errors have in the joined list.
fn moved(
    input: &Input,
    of: Of,
    pairs: &[(usize, SameError)],
    unknown: bool,
    between: usize,
) -> Input {
    let instrument = |index: usize| match pairs.get(index) {
        Some(&(old, SameError::Yes)) => old,
        Some(&(old, SameError::Unknown)) if unknown => old,
        // No board has as many instruments.
        _ => usize::MAX - index,
    };
    let name = |error: CommonError| match error {
        CommonError::Instrument(index) => CommonError::Instrument(instrument(index)),
        CommonError::Correction(index) => CommonError::Correction(instrument(index)),
        CommonError::BetweenPeople(index) => CommonError::BetweenPeople(between + index),
        CommonError::Temperature(day) => CommonError::Temperature(day + 1),
        // Another board need not be of the same material.
        CommonError::Expansion if of == Of::TwoBoards => CommonError::OtherExpansion,
        // The board and, for want of anything better, the instruments are of the
        // same material as before.
        CommonError::Expansion | CommonError::OtherExpansion | CommonError::InstrumentExpansion => {
            error
        }
    };
    let mut moved = input.clone();
    for part in &mut moved.errors {
        part.sharing = match part.sharing {
            Sharing::Common(error) => Sharing::Common(name(error)),
            Sharing::Unknown(error) => Sharing::Unknown(name(error)),
            Sharing::Own => Sharing::Own,
        };
    }
    moved
}
