//! What can only be said when every file has been looked at: repeated ids, and
//! which waivers were needed.

use std::collections::HashMap;
use std::sync::Arc;

use jiff::civil::Date;

use super::engine::{level, sort};
use super::{FileFindings, Finding, Levels, Rule, Settings, SettingsWaiver, Waived};
use crate::document::{Diagnostic, Level, Place};

/// A file's findings, with the settings that hold for it.
pub(super) type Looked = (FileFindings, Arc<Settings>);

/// The same id in several board files that are not inspections of several days:
/// every one of them says so.
pub(super) fn repeated_ids(files: &mut [Looked], over: &Levels) {
    let Some(rule) = Rule::find("id-repeated") else {
        return;
    };
    let mut found: HashMap<String, Vec<(usize, Place, Option<Date>)>> = HashMap::new();
    for (index, (file, _)) in files.iter().enumerate() {
        if let Some(own) = &file.id {
            let place = (index, own.place.clone(), own.inspected);
            found.entry(own.id.clone()).or_default().push(place);
        }
    }
    for (id, places) in found {
        for (index, place, day) in &places {
            let others = places.iter().filter(|(other, _, their)| {
                // Two days are two inspections; without a day nobody can tell.
                other != index && (day == their || day.is_none() || their.is_none())
            });
            let number = others.clone().count() + 1;
            if number == 1 {
                continue;
            }
            let Some((file, settings)) = files.get_mut(*index) else {
                continue;
            };
            let Some(level) = level(rule, settings, over) else {
                continue;
            };
            // A thousand copies of one file need not name each other a million
            // times. House rule: three are enough to see the pattern.
            let message = format!("`{id}` is the id of {number} files");
            let found = Diagnostic::new(rule.code, level, place.clone(), message).with_remedy(
                "give every board an id of its own, and every inspection of one board its day \
                 (`inspection: { date: … }`), or lint only one of the files",
            );
            let found = others.take(3).fold(found, |found, (_, place, _)| {
                found.and(place.clone(), format!("`{id}` again"))
            });
            file.findings.push(found.into());
        }
    }
}

/// Marks waived findings, then says which waivers were not needed or are over.
/// Returns what is to be said of settings files.
pub(super) fn waive(files: &mut [Looked], over: &Levels, today: Date) -> Vec<Finding> {
    let mut settings = SettingsWaivers::default();
    for (file, own) in files.iter_mut() {
        settings.meet(file, own, today);
        in_file(file, own, over, today);
    }
    settings.findings(over, today)
}

fn in_file(file: &mut FileFindings, settings: &Settings, over: &Levels, today: Date) {
    let mut more = Vec::new();
    for waiver in &mut file.waivers {
        let fits = |finding: &&mut Finding| {
            finding.diagnostic.code == waiver.code
                && finding.diagnostic.place.from.line == waiver.line
                && finding.diagnostic.place.file == waiver.place.file
        };
        if waiver.until.is_some_and(|until| until < today) {
            let remedy = "look at the finding again; renew the waiver or remove it";
            let message = expired(waiver.code, waiver.until);
            more.push(("waiver-expired", &waiver.place, message, remedy));
            continue;
        }
        for finding in file.findings.iter_mut().filter(fits) {
            waiver.used = true;
            waived(finding, &waiver.because, waiver.until, &waiver.place);
        }
        // A rule that is not looked for finds nothing, which says nothing about
        // the waiver.
        let looked_for =
            Rule::find(waiver.code).is_some_and(|rule| level(rule, settings, over).is_some());
        if !waiver.used && looked_for {
            let message = format!("`{}` finds nothing on line {}", waiver.code, waiver.line);
            let remedy = "remove the waiver, or move it to the line of the finding";
            more.push(("waiver-unused", &waiver.place, message, remedy));
        }
    }
    let more: Vec<_> = more
        .into_iter()
        .filter_map(|(code, place, message, remedy)| {
            about(code, place, message, remedy, |rule| {
                level(rule, settings, over)
            })
        })
        .collect();
    file.findings.extend(more);
    sort(&mut file.findings);
}

/// Marks a finding, unless another waiver did.
fn waived(finding: &mut Finding, because: &str, until: Option<Date>, by: &Place) {
    finding.waived.get_or_insert_with(|| Waived {
        because: because.to_owned(),
        until,
        by: by.clone(),
    });
}

fn expired(code: &str, until: Option<Date>) -> String {
    let until = until.map(|until| until.to_string()).unwrap_or_default();
    format!("the waiver of `{code}` held until {until}")
}

fn about(
    code: &str,
    place: &Place,
    message: String,
    remedy: &str,
    level: impl Fn(&Rule) -> Option<Level>,
) -> Option<Finding> {
    let rule = Rule::find(code)?;
    let found = Diagnostic::new(rule.code, level(rule)?, place.clone(), message);
    Some(found.with_remedy(remedy).into())
}

/// What came of one waiver of a settings file: whether a file fitted it, and
/// whether it covered a finding there.
type Met = (bool, bool);

/// The waivers of every settings file of the run, by the settings that they
/// belong to, and what came of them.
#[derive(Default)]
struct SettingsWaivers {
    met: Vec<(Arc<Settings>, Vec<Met>)>,
}

impl SettingsWaivers {
    fn meet(&mut self, file: &mut FileFindings, settings: &Arc<Settings>, today: Date) {
        if settings.waivers.is_empty() {
            return;
        }
        let known = self
            .met
            .iter()
            .position(|(own, _)| Arc::ptr_eq(own, settings));
        let index = known.unwrap_or_else(|| {
            let none = vec![(false, false); settings.waivers.len()];
            self.met.push((Arc::clone(settings), none));
            self.met.len() - 1
        });
        let Some((_, met)) = self.met.get_mut(index) else {
            return;
        };
        for (waiver, (fitted, used)) in settings.waivers.iter().zip(met) {
            if !fits(waiver, settings, &file.file) {
                continue;
            }
            *fitted = true;
            if waiver.until.is_some_and(|until| until < today) {
                continue;
            }
            for finding in file
                .findings
                .iter_mut()
                .filter(|f| f.diagnostic.code == waiver.code)
            {
                *used = true;
                waived(finding, &waiver.because, waiver.until, &waiver.place);
            }
        }
    }

    fn findings(self, over: &Levels, today: Date) -> Vec<Finding> {
        let mut findings = Vec::new();
        for (settings, met) in self.met {
            for (waiver, (fitted, used)) in settings.waivers.iter().zip(met) {
                let level = |rule: &Rule| level(rule, &settings, over);
                let place = &waiver.place;
                let finding = if waiver.until.is_some_and(|until| until < today) {
                    let message = expired(waiver.code, waiver.until);
                    let remedy = "look at the findings again; renew the waiver or remove it";
                    about("waiver-expired", place, message, remedy, level)
                } else if fitted
                    && !used
                    && Rule::find(waiver.code).is_some_and(|rule| level(rule).is_some())
                {
                    let message = format!("`{}` finds nothing in these files", waiver.code);
                    let remedy = "remove the waiver, or correct its `files`";
                    about("waiver-unused", place, message, remedy, level)
                } else {
                    None
                };
                findings.extend(finding);
            }
        }
        findings
    }
}

fn fits(waiver: &SettingsWaiver, settings: &Settings, file: &str) -> bool {
    let files = waiver.files.as_ref();
    files.is_none_or(|files| files.matches(&settings.folder, std::path::Path::new(file)))
}
