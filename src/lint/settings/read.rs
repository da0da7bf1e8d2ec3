//! From the raw file to settings, with every problem collected.

use std::path::Path;
use std::sync::LazyLock;

use jiff::civil::Date;

use super::file::{InspectionsEntry, SettingsFile, WaiverEntry};
use super::{Levels, Patterns, Settings, Thresholds};
use crate::board::{Period, Validity, ValidityError};
use crate::document::{
    Document, Fault, InvalidFile, Located, Place, Problem, Problems, Shape, Source, Span, Value,
    day, nearest, parse,
};
use crate::lint::Rule;
use crate::table::TableName;

/// A waiver in a settings file.
#[derive(Clone, Debug)]
pub struct SettingsWaiver {
    /// The rule.
    pub code: &'static str,
    /// In which files; `None` in all.
    pub files: Option<Patterns>,
    /// Why.
    pub because: String,
    /// The last day on which it holds.
    pub until: Option<Date>,
    /// Where it is written.
    pub place: Place,
}

/// The shape of a settings file, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> = LazyLock::new(|| {
        Shape::of::<SettingsFile>("What a project asks of its files, for Ringrule")
    });
    &SHAPE
}

impl Settings {
    /// Reads settings from text, or says everything that is wrong with them.
    ///
    /// ```
    /// use ringrule::document::Source;
    /// use ringrule::lint::Settings;
    ///
    /// let text = "format: ringrule/settings/1\nlevels: { unit-mixed: ignore }\n";
    /// assert!(Settings::read(Source::new("ringrule.yaml", text)).is_ok());
    ///
    /// let text = "format: ringrule/settings/1\nlevels: { unit-mixt: ignore }\n";
    /// let invalid_file = Settings::read(Source::new("ringrule.yaml", text)).unwrap_err();
    /// let remedy = invalid_file.diagnostics[0].remedy.as_deref().unwrap_or_default();
    /// assert!(remedy.starts_with("did you mean `unit-mixed`?"));
    /// ```
    pub fn read(source: Source) -> Result<Self, InvalidFile> {
        Self::from_document(&parse(source)?)
    }

    /// Reads settings from a parsed file.
    pub fn from_document(document: &Document) -> Result<Self, InvalidFile> {
        let mut problems = Problems::default();
        let file = shape().read::<SettingsFile>(document, &mut problems);
        let settings = file.map(|file| read(file, document, &mut problems));
        problems.into_result_in(document)?;
        // A file without problems was read.
        Ok(settings.unwrap_or_default())
    }
}

fn read(file: SettingsFile, document: &Document, problems: &mut Problems) -> Settings {
    let folder = Path::new(document.source.name()).parent();
    let folder = folder.unwrap_or(Path::new("")).to_owned();
    let mut levels = Levels::default();
    for (code, level) in file.levels.map(|named| named.0).unwrap_or_default() {
        let span = key_span(document, &code).unwrap_or(level.span);
        if let Some(rule) = rule(&code, span, problems) {
            levels.set(rule, level.value);
        }
    }
    if let Some(table) = file
        .table
        .as_ref()
        .filter(|own| own.value.trim().is_empty())
    {
        problems.add(Problem::new(
            Fault::Notation,
            table.span,
            "`table` names no table",
            "write its path relative to this file, such as `rules/house.yaml`, or the name of one \
             that comes with the program, such as `wdf`, or leave the key out",
        ));
    }
    let exclude = file.exclude.unwrap_or_default();
    let exclude = patterns(&exclude, problems).unwrap_or_default();
    let thresholds = file.calibrated_within;
    let thresholds = thresholds.map_or_else(Thresholds::default, |calibrated_within| Thresholds {
        calibrated_within,
    });
    let inspections = file.inspections.as_ref();
    let validity = inspections.and_then(|entry| validity(entry, problems));
    let waivers = file.waivers.unwrap_or_default();
    let waivers = waivers
        .iter()
        .filter_map(|entry| waiver(&entry.value, entry.span, document, problems))
        .collect();
    Settings {
        table: file
            .table
            .map(|table| TableName::beside(&folder, Path::new(&table.value))),
        folder,
        levels,
        exclude,
        thresholds,
        validity,
        waivers,
    }
}

/// How long before its end an inspection's board is due, unless settings say.
/// House rule.
const REMIND: &str = "4 weeks";

fn validity(entry: &InspectionsEntry, problems: &mut Problems) -> Option<Validity> {
    let mut period = |text: &Located<String>| -> Option<Period> {
        let read = text.value.parse();
        read.map_err(|error: ValidityError| {
            problems.add(Problem::new(
                Fault::Notation,
                text.span,
                error.to_string(),
                "write a number and a unit, such as `1 year`, `6 months` or `90 days`",
            ));
        })
        .ok()
    };
    let lasts = entry.valid.as_ref().and_then(&mut period);
    let remind = match &entry.remind {
        Some(text) => period(text),
        None => REMIND.parse().ok(),
    };
    let (lasts, remind) = (lasts?, remind?);
    if let Some(text) = entry.remind.as_ref()
        && remind.reaches(lasts)
    {
        problems.add(Problem::new(
            Fault::Contradiction,
            text.span,
            format!(
                "with `{}` every board is due from the day of its inspection",
                text.value
            ),
            "write a shorter period than `valid` has, or leave `remind` out: 4 weeks",
        ));
    }
    Some(Validity { lasts, remind })
}

fn waiver(
    entry: &WaiverEntry,
    span: Span,
    document: &Document,
    problems: &mut Problems,
) -> Option<SettingsWaiver> {
    let name = entry.rule.as_ref();
    let rule = name.and_then(|name| rule(&name.value, name.span, problems));
    let until = entry.until.as_ref();
    let until = until.map(|until| day(until, problems));
    let files = entry.files.as_ref();
    let files = files.map(|files| patterns(files, problems));
    let because = entry.because.as_ref()?;
    if because.value.trim().is_empty() {
        problems.add(Problem::new(
            Fault::Notation,
            because.span,
            "this waiver gives no reason",
            "say why the finding is accepted",
        ));
    }
    let span = name.map_or(span, |name| name.span);
    Some(SettingsWaiver {
        code: rule?.code,
        // A pattern or a day that could not be read is a problem already.
        files: match files {
            Some(files) => Some(files?),
            None => None,
        },
        because: because.value.clone(),
        until: match until {
            Some(until) => Some(until?),
            None => None,
        },
        place: Place::in_document(document, span),
    })
}

fn patterns(texts: &[Located<String>], problems: &mut Problems) -> Option<Patterns> {
    for text in texts {
        if let Some(why) = never_fits(&text.value) {
            problems.add(Problem::new(
                Fault::Notation,
                text.span,
                format!("`{}` can fit no file: {why}", text.value),
                "write a path relative to this file, below its folder, such as `old` or `*.csv`",
            ));
        }
    }
    match Patterns::new(texts.iter().map(|text| text.value.as_str())) {
        Ok(patterns) => Some(patterns),
        Err(error) => {
            let faulty = texts
                .iter()
                .find(|located| located.value == error.pattern());
            problems.add(Problem::new(
                Fault::Notation,
                faulty.map(|faulty| faulty.span).unwrap_or_default(),
                error.message(),
                error.remedy(),
            ));
            None
        }
    }
}

/// Why a pattern fits no path below the folder of the settings.
fn never_fits(pattern: &str) -> Option<&'static str> {
    let bare = pattern.strip_prefix("./").unwrap_or(pattern);
    match bare {
        _ if bare.trim_matches('/').trim().is_empty() || bare == "." => Some("it names nothing"),
        _ if bare.starts_with('/') => {
            Some("it begins at the root, and patterns at this file's folder")
        }
        _ if bare.split('/').any(|part| part == "..") => Some("it leads out of this file's folder"),
        _ => None,
    }
}

fn rule(code: &str, span: Span, problems: &mut Problems) -> Option<&'static Rule> {
    let rule = Rule::find(code);
    if rule.is_none() {
        let structural = Fault::with_code(code).is_some();
        let known: Vec<&str> = Rule::ALL.iter().map(|rule| rule.code).collect();
        let (message, remedy) = if structural {
            (
                format!("`{code}` is a fault of structure, which always counts"),
                "mend the file: nothing can be said of one that cannot be read".to_owned(),
            )
        } else {
            (format!("there is no rule `{code}`"), nearest(code, &known))
        };
        problems.add(Problem::new(Fault::UnknownWord, span, message, remedy));
    }
    rule
}

/// Where a rule's name stands among the levels.
fn key_span(document: &Document, code: &str) -> Option<Span> {
    let Value::Map(entries) = &document.root.get("levels")?.value else {
        return None;
    };
    let entry = entries.iter().find(|entry| entry.key == code)?;
    Some(entry.key_span)
}
