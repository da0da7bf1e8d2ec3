//! From the raw file to an event, with every problem collected.

use std::sync::LazyLock;

use jiff::civil::Date;

use super::file::{EventFile, PersonEntry};
use crate::document::{
    Document, Fault, InvalidFile, Located, PlainOr, Problem, Problems, Shape, Source, day, parse,
};

/// The occasion of an inspection. What is `None` or empty was not stated.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub struct Event {
    /// What the boards were inspected for.
    pub name: Option<String>,
    /// Where.
    pub place: Option<String>,
    /// The day of the inspection, for boards whose own file does not say.
    pub inspected: Option<Date>,
    /// The number of the report.
    pub report_number: Option<String>,
    /// The day on which the report is issued.
    pub issued: Option<Date>,
    /// Who ordered the inspection.
    pub ordered_by: Option<Person>,
    /// Who inspected boards whose own file does not say.
    pub inspected_by: Option<Person>,
    /// Who authorises the report.
    pub authorised_by: Option<Person>,
    /// The conditions of the inspection.
    pub conditions: Option<String>,
    /// What was done otherwise than the method says.
    pub departures: Option<String>,
    /// Anything else.
    pub remarks: Option<String>,
}

/// A person or a body.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub struct Person {
    /// The name.
    pub name: String,
    /// In which capacity.
    pub role: Option<String>,
    /// How to reach them.
    pub contact: Option<String>,
}

impl Person {
    /// Somebody of whom only the name is known.
    pub fn named(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            ..Self::default()
        }
    }
}

impl std::fmt::Display for Person {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)?;
        for more in [&self.role, &self.contact].into_iter().flatten() {
            write!(f, ", {more}")?;
        }
        Ok(())
    }
}

impl Event {
    /// Reads an event from text, or says everything that is wrong with it.
    ///
    /// ```
    /// use ringrule::document::Source;
    /// use ringrule::event::Event;
    ///
    /// let text = "format: ringrule/event/1\nname: Winter league\nissued: \"2026-11-20\"\n";
    /// let event = Event::read(Source::new("event.yaml", text)).unwrap();
    /// assert_eq!(event.name.as_deref(), Some("Winter league"));
    /// assert_eq!(event.report_number, None);
    /// ```
    pub fn read(source: Source) -> Result<Self, InvalidFile> {
        Self::from_document(&parse(source)?)
    }

    /// Reads an event from a parsed file.
    pub fn from_document(document: &Document) -> Result<Self, InvalidFile> {
        let mut problems = Problems::default();
        let file = shape().read::<EventFile>(document, &mut problems);
        let event = file.map(|file| read(file, &mut problems));
        problems.into_result_in(document)?;
        // A file without problems was read.
        Ok(event.unwrap_or_default())
    }
}

fn read(file: EventFile, problems: &mut Problems) -> Event {
    check(&file, problems);
    let text = |located: Option<Located<String>>| located.map(|located| located.value);
    let mut date = |entry: &Option<Located<String>>| entry.as_ref().and_then(|d| day(d, problems));
    Event {
        inspected: date(&file.inspected),
        issued: date(&file.issued),
        name: text(file.name),
        place: file.place,
        report_number: text(file.report_number),
        ordered_by: file.ordered_by.map(person),
        inspected_by: file.inspected_by.map(person),
        authorised_by: file.authorised_by.map(person),
        conditions: file.conditions,
        departures: file.departures,
        remarks: file.remarks,
    }
}

/// What is written says something.
fn check(file: &EventFile, problems: &mut Problems) {
    let people = [&file.ordered_by, &file.inspected_by, &file.authorised_by];
    let people = people
        .into_iter()
        .flatten()
        .filter_map(|entry| match &entry.value {
            PlainOr::Plain(name) => Some((name, entry.span)),
            PlainOr::Group(group) => group.name.as_ref().map(|name| (&name.value, name.span)),
        });
    let no_name = ("this person has no name", "write the name");
    let of_event = (
        "the event has no name",
        "write what the boards were inspected for, such as `name: Winter league`",
    );
    let of_number = (
        "the report's number is empty",
        "write it, or leave the key out",
    );
    let texts = [(&file.name, of_event), (&file.report_number, of_number)];
    let texts = texts.into_iter().filter_map(|(text, words)| {
        let text = text.as_ref()?;
        Some((&text.value, text.span, words))
    });
    let people = people.map(|(name, span)| (name, span, no_name));
    for (text, span, (message, remedy)) in texts.chain(people) {
        if text.trim().is_empty() {
            problems.add(Problem::new(Fault::Notation, span, message, remedy));
        }
    }
}

fn person(entry: PersonEntry) -> Person {
    match entry.value {
        PlainOr::Plain(name) => Person::named(name),
        PlainOr::Group(group) => Person {
            name: group.name.map(|name| name.value).unwrap_or_default(),
            role: group.role,
            contact: group.contact,
        },
    }
}

/// The shape of an event file, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of::<EventFile>("The occasion of an inspection, for Ringrule"));
    &SHAPE
}
