//! `JUnit` XML, as CI hosts read it: a suite for each file, a case for each
//! check.

use quick_junit::{NonSuccessKind, Report, TestCase, TestCaseStatus, TestSuite};

use super::{CheckOutcome, Checks, Found, Standing};
use crate::document::Level;
use crate::report::escape;

/// Every check as a case. A file without checks has one that passes, since a
/// suite without a case counts as an error with some hosts.
pub fn junit(checks: &Checks) -> Result<String, quick_junit::SerializeError> {
    let mut report = Report::new(format!("ringrule {}", checks.command));
    for file in &checks.files {
        let mut suite = TestSuite::new(safe(&file.name));
        for outcome in &file.outcomes {
            let (code, title, status) = match outcome {
                CheckOutcome::Passed { code, title } => {
                    (code.as_str(), title, TestCaseStatus::success())
                }
                CheckOutcome::Found(found) => (
                    &*found.diagnostic.code,
                    &found.title,
                    status(found, checks.fails_at),
                ),
            };
            let mut case = TestCase::new(safe(&format!("{code}: {title}")), status);
            case.set_classname(safe(&file.name));
            suite.add_test_case(case);
        }
        if file.outcomes.is_empty() {
            let mut read = TestCase::new("the file can be read", TestCaseStatus::success());
            read.set_classname(safe(&file.name));
            suite.add_test_case(read);
        }
        report.add_test_suite(suite);
    }
    let mut text = without_skipped(&report.to_string()?);
    if !text.ends_with('\n') {
        text.push('\n');
    }
    Ok(text)
}

/// The schema that many hosts go by has no such attribute on the whole report; the
/// suites say the same.
fn without_skipped(text: &str) -> String {
    let Some((head, rest)) = text.split_once("<testsuites") else {
        return text.to_owned();
    };
    let Some((tag, rest)) = rest.split_once('>') else {
        return text.to_owned();
    };
    let cut = tag.split_once(" skipped=\"").and_then(|(before, after)| {
        let (_, after) = after.split_once('"')?;
        Some(before.to_owned() + after)
    });
    format!("{head}<testsuites{}>{rest}", cut.as_deref().unwrap_or(tag))
}

fn status(found: &Found, fails_at: Option<Level>) -> TestCaseStatus {
    let diagnostic = &found.diagnostic;
    let message = safe(&diagnostic.message);
    let mut words = format!("{}\n{message}", safe(&diagnostic.place.to_string()));
    if let Some(remedy) = &diagnostic.remedy {
        words.push_str(&format!("\n{}", safe(remedy)));
    }
    for other in &diagnostic.related {
        words.push_str(&format!(
            "\n{}",
            safe(&format!("{}  {}", other.place, other.label))
        ));
    }
    let failure = || TestCaseStatus::non_success(NonSuccessKind::Failure);
    let mut status = match &found.standing {
        // The run passes in spite of it.
        Standing::Counts if fails_at.is_some_and(|least| diagnostic.level < least) => {
            let mut status = TestCaseStatus::skipped();
            let level = diagnostic.level.word();
            status.set_message(format!(
                "a {level}, which does not fail this run: {message}"
            ));
            status
        }
        Standing::Counts => {
            let mut status = failure();
            status.set_message(message);
            status.set_type(diagnostic.level.word());
            status
        }
        Standing::NotMade => {
            let mut status = failure();
            status.set_message(format!("not checked: {message}"));
            status.set_type("not checked");
            status
        }
        Standing::Waived { because, .. } => {
            let mut status = TestCaseStatus::skipped();
            status.set_message(safe(&format!("waived: {because}")));
            status
        }
    };
    status.set_description(words);
    status
}

/// XML has no place for control characters at all, so they are spelt out.
fn safe(text: &str) -> String {
    text.split('\n')
        .map(|line| escape::terminal(line))
        .collect::<Vec<_>>()
        .join("\n")
}
