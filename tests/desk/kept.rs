//! What the desk leaves as it is: drafts that it cannot read, other inspections, and what
//! another desk on the same folder keeps.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::thread;

use super::client::{BEGIN, Desk, WORK, folder, reading};

fn draft(folder: &Path) -> PathBuf {
    let mut found = Vec::new();
    let mut folders = vec![folder.join(".desk")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder").flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "csv") {
                found.push(path);
            }
        }
    }
    assert_eq!(found.len(), 1, "{found:?}");
    found.remove(0)
}

#[test]
fn a_draft_that_cannot_be_read_is_never_written_over() {
    let folder = folder();
    let desk = Desk::open(folder.path(), &[]);
    let cookie = desk.cookie();
    assert_eq!(
        desk.post("/begin", &cookie, &BEGIN)
            .expect("an answer")
            .status,
        303
    );
    let fields = reading("treble width||0", "8.01", "");
    assert_eq!(
        desk.post("/typed", &cookie, &fields)
            .expect("an answer")
            .status,
        200
    );
    let path = draft(folder.path());
    let text = fs::read(&path).expect("a draft");
    let mut latin = text.clone();
    latin.extend(b"M\xfcller,,,,\n");
    let as_spreadsheets_do = String::from_utf8_lossy(&text)
        .replace(',', ";")
        .into_bytes();
    for broken in [latin, as_spreadsheets_do] {
        fs::write(&path, &broken).expect("written");
        let page = desk.get("/begin?board=FL-80", &cookie);
        assert!(
            page.body.contains("cannot be read as a draft"),
            "{}",
            page.body
        );
        assert_eq!(
            desk.post("/begin", &cookie, &BEGIN)
                .expect("an answer")
                .status,
            422
        );
        assert_eq!(
            desk.post("/typed", &cookie, &fields)
                .expect("an answer")
                .status,
            404
        );
        assert_eq!(fs::read(&path).expect("a draft"), broken);
    }
    // Under another name somebody can still measure, but what is left out is not saved over.
    fs::write(&path, &text).expect("written");
    let again = BEGIN.map(|(name, value)| {
        (
            name,
            if name == "instrument" {
                "calliper 8"
            } else {
                value
            },
        )
    });
    assert_eq!(
        desk.post("/begin", &cookie, &again)
            .expect("an answer")
            .status,
        303
    );
    let now = fs::read_to_string(&path).expect("a draft");
    assert!(now.contains("calliper 8") && now.contains("8.01"), "{now}");
}

#[test]
fn what_a_sheet_may_not_say_and_a_day_to_come_are_refused_at_once() {
    let folder = folder();
    let desk = Desk::open(folder.path(), &[]);
    let cookie = desk.cookie();
    for (name, value) in [
        ("max_error", "-1"),
        ("resolution", "x"),
        ("calibrated", "foo"),
        ("date", "9999-12-31"),
        ("by", ""),
    ] {
        let fields = BEGIN.map(|(own, known)| (own, if own == name { value } else { known }));
        let mut fields = fields.to_vec();
        if name == "calibrated" {
            fields.push((name, value));
        }
        let answer = desk.post("/begin", &cookie, &fields).expect("an answer");
        assert_eq!(answer.status, 200, "{name}");
        assert!(answer.body.contains("role=\"alert\""), "{name}");
    }
}

#[test]
fn an_inspection_is_written_into_no_other() {
    let folder = folder();
    let path = folder.path().join("fl-80.yaml");
    let measured = "format: ringrule/board/1\nboard: { id: FL-80 }\nmounting: staples\nunits: mm\n\
                    inspection: { by: B. Birch, date: \"2026-11-26\" }\n\
                    widths: { treble: { width: 7.5, edge: inside } }\n";
    fs::write(&path, measured).expect("written");
    let desk = Desk::open(folder.path(), &[]);
    let cookie = desk.cookie();
    for (day, saved) in [("2026-11-26", false), ("2026-11-01", true)] {
        let fields = BEGIN.map(|(own, known)| (own, if own == "date" { day } else { known }));
        assert_eq!(
            desk.post("/begin", &cookie, &fields)
                .expect("an answer")
                .status,
            303
        );
        let mut fields = reading("treble width||0", "8.01", "");
        fields[1] = ("round", day);
        assert_eq!(
            desk.post("/typed", &cookie, &fields)
                .expect("an answer")
                .status,
            200
        );
        let page = desk.get(&format!("/save?board=FL-80&round={day}"), &cookie);
        let seen = page.body.split("name=\"seen\" value=\"").nth(1);
        let seen = seen.and_then(|rest| rest.split('"').next());
        assert_eq!(seen.is_some(), saved, "{day}: {}", page.body);
        if let Some(seen) = seen {
            let fields = [WORK[0], ("round", day), ("seen", seen)];
            assert_eq!(
                desk.post("/save", &cookie, &fields)
                    .expect("an answer")
                    .status,
                200
            );
        } else {
            assert!(
                page.body.contains("an inspection of the same day"),
                "{}",
                page.body
            );
        }
        assert_eq!(fs::read_to_string(&path).expect("a board"), measured);
    }
    let own = folder.path().join("fl-80-2026-11-01.yaml");
    assert!(fs::read_to_string(&own).expect("a board").contains("8.01"));
    // Nothing about the form of what is saved draws a remark of `lint`.
    let linted = Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(["lint", "--fail-at", "note"])
        .arg(&own)
        .output()
        .expect("the program runs");
    let said = String::from_utf8_lossy(&linted.stdout);
    assert_eq!(linted.status.code(), Some(0), "{said}");
}

#[test]
fn two_desks_on_one_folder_lose_nothing() {
    let folder = folder();
    let desks = [
        Desk::open(folder.path(), &[]),
        Desk::open(folder.path(), &[]),
    ];
    let cookie = desks[0].cookie();
    assert_eq!(
        desks[0]
            .post("/begin", &cookie, &BEGIN)
            .expect("an answer")
            .status,
        303
    );
    thread::scope(|scope| {
        for (desk, item) in desks.iter().zip(["treble width", "double width"]) {
            scope.spawn(move || {
                let cookie = desk.cookie();
                for nth in 0..12 {
                    let key = format!("{item}||{nth}");
                    let text = format!("8.0{nth:02}");
                    let answer = desk.post("/typed", &cookie, &reading(&key, &text, ""));
                    assert_eq!(answer.expect("an answer").status, 200);
                }
            });
        }
    });
    let text = fs::read_to_string(draft(folder.path())).expect("a draft");
    assert_eq!(text.matches("8.0").count(), 24, "{text}");
}
