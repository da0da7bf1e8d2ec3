//! `JUnit` XML, as CI hosts read it: a suite for each file, a case for each
//! check.

use quick_junit::{NonSuccessKind, Report, TestCase, TestCaseStatus, TestSuite};

use super::{Check, Checks, State};
use crate::report::escape;

/// Every check as a case. A file without checks has one that passes, since a
/// suite without a case counts as an error with some hosts.
pub fn junit(checks: &Checks) -> Result<String, String> {
    let mut report = Report::new(format!("ringrule {}", checks.command));
    for file in &checks.files {
        let mut suite = TestSuite::new(safe(&file.name));
        for check in &file.checks {
            suite.add_test_case(case(&file.name, check));
        }
        if file.checks.is_empty() {
            let mut read = TestCase::new("the file can be read", TestCaseStatus::success());
            read.set_classname(safe(&file.name));
            suite.add_test_case(read);
        }
        report.add_test_suite(suite);
    }
    let mut text = report.to_string().map_err(|error| error.to_string())?;
    if !text.ends_with('\n') {
        text.push('\n');
    }
    Ok(text)
}

fn case(file: &str, check: &Check) -> TestCase {
    let place = format!(
        "{}:{}:{}",
        check.spot.file, check.spot.from.line, check.spot.from.column
    );
    let mut words = format!("{place}\n{}", safe(&check.message));
    if let Some(remedy) = &check.remedy {
        words.push_str(&format!("\n{}", safe(remedy)));
    }
    for other in &check.related {
        let at = other.spot.from;
        let file = safe(&other.spot.file);
        words.push_str(&format!(
            "\n{file}:{}:{}  {}",
            at.line,
            at.column,
            safe(&other.label)
        ));
    }
    let status = match &check.state {
        State::Passed => TestCaseStatus::success(),
        State::Found(severity) => {
            let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
            status.set_message(safe(&check.message));
            status.set_type(severity.word());
            status.set_description(words);
            status
        }
        State::NotMade(_) => {
            let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
            status.set_message(safe(&format!("not checked: {}", check.message)));
            status.set_type("not checked");
            status.set_description(words);
            status
        }
        State::Waived { because, .. } => {
            let mut status = TestCaseStatus::skipped();
            status.set_message(safe(&format!("waived: {because}")));
            status.set_description(words);
            status
        }
    };
    let mut case = TestCase::new(safe(&format!("{}: {}", check.rule, check.title)), status);
    case.set_classname(safe(file));
    case
}

/// XML has no place for control characters at all, so they are spelt out.
fn safe(text: &str) -> String {
    text.split('\n')
        .map(|line| escape::terminal(line))
        .collect::<Vec<_>>()
        .join("\n")
}
