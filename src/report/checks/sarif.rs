//! SARIF 2.1.0, the part of it that we write.
//!
//! Source: OASIS Standard "Static Analysis Results Interchange Format (SARIF)
//! Version 2.1.0"; clause numbers below are its own. A test holds the output
//! against the standard's schema.

use std::collections::HashMap;

use serde::Serialize;
use serde_json::json;
use serde_with::skip_serializing_none;
use sha2::{Digest, Sha256};

use super::{Checks, Found, Standing};
use crate::document::Place;
use crate::report::escape;

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Log<'a> {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run<'a>; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run<'a> {
    tool: serde_json::Value,
    /// 3.14.11: says so where results were left out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    invocations: Vec<serde_json::Value>,
    /// 3.14.17: columns are counted as our own diagnostics count them.
    column_kind: &'static str,
    results: Vec<SarifResult<'a>>,
}

#[skip_serializing_none]
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct SarifResult<'a> {
    rule_id: &'a str,
    rule_index: Option<usize>,
    level: &'static str,
    message: Message,
    /// 3.27.12: every result has one, for hosts that cannot show it otherwise.
    locations: [Location; 1],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
    /// 3.27.17: the same finding on another line keeps its fingerprint.
    partial_fingerprints: HashMap<&'static str, String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    suppressions: Vec<Suppression<'a>>,
}

#[derive(Serialize)]
struct Message {
    text: String,
}

#[derive(Serialize)]
struct Suppression<'a> {
    kind: &'static str,
    justification: &'a str,
}

#[skip_serializing_none]
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    id: Option<usize>,
    #[serde(rename = "physicalLocation")]
    place: PhysicalLocation,
    message: Option<Message>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct PhysicalLocation {
    artifact_location: ArtifactLocation,
    region: Region,
}

#[derive(Serialize)]
struct ArtifactLocation {
    uri: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: usize,
    start_column: usize,
    end_line: usize,
    end_column: usize,
    byte_offset: usize,
    byte_length: usize,
}

/// Results in a run; hosts refuse a log with more. From memory: the limit that a
/// code host documents for uploads.
const MOST_RESULTS: usize = 25_000;

/// Everything that was found, as one SARIF log. Checks that passed are left
/// out: readers of SARIF show what is to be looked at. Where there are more than
/// 25,000 results, the log has those that count before those that are waived,
/// errors before warnings before notes, otherwise in the order of the run; a
/// notification says how many were left out.
pub fn sarif(checks: &Checks) -> Result<String, serde_json::Error> {
    with_at_most(checks, MOST_RESULTS)
}

fn with_at_most(checks: &Checks, most: usize) -> Result<String, serde_json::Error> {
    let mut found: Vec<&Found> = checks.found().collect();
    let all = found.len();
    let mut invocations = Vec::new();
    if all > most {
        found.sort_by_key(|found| {
            let waived = matches!(found.standing, Standing::Waived { .. });
            (waived, std::cmp::Reverse(found.diagnostic.level))
        });
        found.truncate(most);
        let text = format!(
            "{} of {all} results were left out, the least important ones: hosts take {most} in a \
             run. Check fewer files at once to see all.",
            all - most
        );
        invocations.push(json!({
            "executionSuccessful": true,
            "toolExecutionNotifications": [{ "level": "warning", "message": { "text": text } }],
        }));
    }
    let index: HashMap<&str, usize> = checks
        .rules
        .iter()
        .enumerate()
        .map(|(index, rule)| (rule.id.as_str(), index))
        .collect();
    let log = Log {
        schema: "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        version: "2.1.0",
        runs: [Run {
            tool: tool(checks),
            column_kind: "unicodeCodePoints",
            invocations,
            results: found.iter().map(|found| result(found, &index)).collect(),
        }],
    };
    let mut text = escape::json(&serde_json::to_string_pretty(&log)?).into_owned();
    text.push('\n');
    Ok(text)
}

/// Where a reader finds more about this version of the program (3.19.13): its documentation,
/// as the package says.
const PAGE: &str = concat!(
    "https://docs.rs/",
    env!("CARGO_PKG_NAME"),
    "/",
    env!("CARGO_PKG_VERSION")
);

fn tool(checks: &Checks) -> serde_json::Value {
    let rules: Vec<_> = checks
        .rules
        .iter()
        .map(|rule| {
            json!({
                "id": rule.id,
                "shortDescription": { "text": rule.summary },
                "fullDescription": { "text": format!("{}. {}", trimmed(&rule.summary), rule.help) },
                "help": { "text": rule.help },
                "defaultConfiguration": { "level": rule.level.word() },
            })
        })
        .collect();
    // No `helpUri` (3.49.12): each rule carries its help instead.
    json!({ "driver": {
        "name": "Ringrule",
        "semanticVersion": env!("CARGO_PKG_VERSION"),
        "informationUri": PAGE,
        "rules": rules,
    } })
}

fn result<'a>(found: &'a Found, index: &HashMap<&str, usize>) -> SarifResult<'a> {
    let diagnostic = &found.diagnostic;
    let suppressions = match &found.standing {
        Standing::Counts | Standing::NotMade => Vec::new(),
        Standing::Waived { because, in_file } => vec![Suppression {
            // 3.35.2: in the file itself, or anywhere else.
            kind: if *in_file { "inSource" } else { "external" },
            justification: because,
        }],
    };
    let text = match &diagnostic.remedy {
        Some(remedy) => format!("{}. What to do: {remedy}.", trimmed(&diagnostic.message)),
        None => format!("{}.", trimmed(&diagnostic.message)),
    };
    let related = diagnostic.related.iter().enumerate();
    SarifResult {
        rule_id: &diagnostic.code,
        rule_index: index.get(&*diagnostic.code).copied(),
        level: diagnostic.level.word(),
        message: Message { text },
        locations: [location(&diagnostic.place, None, None)],
        related_locations: related
            .map(|(id, other)| location(&other.place, Some(id + 1), Some(&other.label)))
            .collect(),
        partial_fingerprints: HashMap::from([("ringrule/1", fingerprint(found))]),
        suppressions,
    }
}

fn trimmed(message: &str) -> &str {
    message.trim_end_matches('.')
}

fn location(place: &Place, id: Option<usize>, label: Option<&str>) -> Location {
    Location {
        id,
        place: PhysicalLocation {
            artifact_location: ArtifactLocation {
                uri: uri(&place.file),
            },
            region: Region {
                start_line: place.from.line,
                start_column: place.from.column,
                end_line: place.to.line,
                end_column: place.to.column,
                byte_offset: place.span.start,
                byte_length: place.span.end.saturating_sub(place.span.start),
            },
        },
        message: label.map(|label| Message {
            text: label.to_owned(),
        }),
    }
}

/// What makes the finding the same one after lines were added above it: rule,
/// file and what it is about.
pub(super) fn fingerprint(found: &Found) -> String {
    let Found {
        diagnostic, key, ..
    } = found;
    let file = plain_path(&diagnostic.place.file);
    let parts = [&*diagnostic.code, &*file, key];
    let digest = Sha256::digest(parts.join("\n").as_bytes());
    let half = digest.iter().take(16);
    half.map(|byte| format!("{byte:02x}")).collect()
}

/// A path in one spelling, however the user named the file: `/` between its parts,
/// no part that is empty or `.`.
pub(super) fn plain_path(path: &str) -> String {
    let path = path.replace('\\', "/");
    let parts: Vec<&str> = path.split('/').filter(|p| !["", "."].contains(p)).collect();
    let root = if path.starts_with('/') { "/" } else { "" };
    root.to_owned() + &parts.join("/")
}

/// A path as a URI reference (RFC 3986): relative ones stay relative, and
/// whatever is not unreserved is percent-encoded.
fn uri(path: &str) -> String {
    let path = plain_path(path);
    let mut uri = String::new();
    let bytes = path.as_bytes();
    let drive = matches!(bytes, [letter, b':', b'/', ..] if letter.is_ascii_alphabetic());
    if drive {
        uri.push_str("file:///");
    } else if path.starts_with('/') {
        uri.push_str("file://");
    }
    for (at, byte) in path.bytes().enumerate() {
        let plain = byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte);
        if plain || (drive && at == 1) {
            uri.push(char::from(byte));
        } else {
            uri.push_str(&format!("%{byte:02X}"));
        }
    }
    uri
}

#[cfg(test)]
mod tests {
    use super::super::CheckOutcome;
    use super::*;
    use crate::document::Level;

    #[test]
    fn the_page_about_the_program_is_the_one_that_the_package_names() {
        let package = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"));
        let package = package.expect("the package's description");
        let named = package
            .lines()
            .find_map(|line| line.strip_prefix("documentation = \"")?.strip_suffix('"'));
        let page = PAGE.strip_suffix(concat!("/", env!("CARGO_PKG_VERSION")));
        assert_eq!(page, named);
    }

    #[test]
    fn too_many_results_leave_the_least_important_out_and_say_so() {
        let files = crate::document::InvalidFile::unreadable;
        let mut checks = Checks::default();
        for (name, level) in [
            ("a", Level::Note),
            ("b", Level::Error),
            ("c", Level::Warning),
        ] {
            checks.leave_out(&files(name, "cannot be read", "check the path"));
            if let Some(CheckOutcome::Found(found)) = checks
                .files
                .last_mut()
                .and_then(|file| file.outcomes.last_mut())
            {
                found.diagnostic.level = level;
            }
        }
        let read = |most| -> serde_json::Value {
            let text = with_at_most(&checks, most).expect("a log");
            serde_json::from_str(&text).expect("JSON")
        };
        let (all, cut) = (read(3), read(2));
        assert!(all.pointer("/runs/0/invocations").is_none());
        let levels = |log: &serde_json::Value| -> Vec<String> {
            let results = log.pointer("/runs/0/results").and_then(|r| r.as_array());
            let level = |r: &serde_json::Value| r["level"].as_str().unwrap_or_default().to_owned();
            results.expect("results").iter().map(level).collect()
        };
        // Nothing left out: the order of the run.
        assert_eq!(levels(&all), ["note", "error", "warning"]);
        assert_eq!(levels(&cut), ["error", "warning"]);
        let note = "/runs/0/invocations/0/toolExecutionNotifications/0/message/text";
        let note = cut.pointer(note).and_then(|text| text.as_str());
        assert!(note.expect("a note").starts_with("1 of 3 results"));
    }

    #[test]
    fn one_file_has_one_name() {
        for path in [
            "a/b.yaml",
            "./a/b.yaml",
            "a\\b.yaml",
            "a/./b.yaml",
            ".\\a//b.yaml",
        ] {
            assert_eq!(plain_path(path), "a/b.yaml", "{path}");
        }
        assert_eq!(plain_path("/a/b.yaml"), "/a/b.yaml");
    }

    #[test]
    fn paths_become_uri_references() {
        // RFC 3986: unreserved characters, and percent-encoding of the rest.
        assert_eq!(uri("specs/demo/01.yaml"), "specs/demo/01.yaml");
        assert_eq!(uri("./a b/[x].yaml"), "a%20b/%5Bx%5D.yaml");
        assert_eq!(uri("Schänke.yaml"), "Sch%C3%A4nke.yaml");
        assert_eq!(uri("/tmp/x.yaml"), "file:///tmp/x.yaml");
        assert_eq!(uri("C:\\boards\\x.yaml"), "file:///C:/boards/x.yaml");
        assert_eq!(uri("boards\\x#1.yaml"), "boards/x%231.yaml");
    }
}
