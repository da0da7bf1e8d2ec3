//! What is on the disk when the program is killed.

use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::Duration;

use super::client::{BEGIN, Desk, WORK, folder, reading};

/// What the desk confirmed is there whenever it is killed, and every file is whole.
fn killed(times: u32, seed: u64) -> (u32, u32) {
    let folder = folder();
    let mut random = seed;
    let mut confirmed: Vec<String> = Vec::new();
    let (mut written, mut saved) = (0, 0);
    for round in 0..times {
        let desk = Desk::open(folder.path(), &[]);
        let cookie = desk.cookie();
        assert!(
            desk.post("/begin", &cookie, &BEGIN)
                .expect("an answer")
                .status
                < 400
        );
        random = random
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let after = Duration::from_micros(random >> 33 & 0x3_ffff);
        let pid = desk.child.id();
        let killer = std::thread::spawn(move || {
            std::thread::sleep(after);
            let _ = Command::new("kill").args(["-9", &pid.to_string()]).status();
        });
        // Typed over, and killed before that was confirmed: either may be there.
        let mut over = None;
        // Readings that cannot be mistaken for each other, one field after the other.
        for nth in 0..12 {
            let key = format!("double_outer radius||{nth}");
            let text = format!("170.{round:03}{nth:02}");
            let seen = confirmed.get(nth).cloned().unwrap_or_default();
            let Some(answer) = desk.post("/typed", &cookie, &reading(&key, &text, &seen)) else {
                over = Some((nth, text));
                break;
            };
            if answer.status == 409 {
                // Kept, and killed before it was said: whoever types sees it, and goes on.
                let there = answer
                    .body
                    .split("data-there=\"")
                    .nth(1)
                    .and_then(|rest| rest.split('"').next());
                let there = there.expect("what is there").to_owned();
                confirmed.resize(confirmed.len().max(nth + 1), String::new());
                confirmed[nth] = there;
                continue;
            }
            if answer.status != 200 {
                break;
            }
            confirmed.resize(confirmed.len().max(nth + 1), String::new());
            confirmed[nth] = text;
            written += 1;
            if nth % 3 == 2 {
                let page = desk.get_if(&format!("/save?{}", query(&WORK[..2])), &cookie);
                let seen = page.as_ref().and_then(|page| {
                    page.body
                        .split("name=\"seen\" value=\"")
                        .nth(1)?
                        .split('"')
                        .next()
                });
                let Some(seen) = seen else { continue };
                let fields = [WORK[0], WORK[1], ("seen", seen)];
                let done = desk.post("/save", &cookie, &fields);
                saved += u32::from(done.is_some_and(|done| done.status == 200));
            }
        }
        killer.join().expect("killed");
        drop(desk);
        let drafts = all_below(&folder.path().join(".desk"));
        let drafts: Vec<String> = drafts
            .into_iter()
            .filter(|(name, _)| name.contains(".csv"))
            .map(|(_, text)| text)
            .collect();
        assert_eq!(drafts.len(), 1);
        for (nth, text) in confirmed.iter().enumerate() {
            let newer = over.as_ref().filter(|(own, _)| *own == nth);
            let there = |text: &String| drafts[0].contains(text.as_str());
            let whole =
                text.is_empty() || there(text) || newer.is_some_and(|(_, newer)| there(newer));
            assert!(whole, "{text} is lost:\n{}", drafts[0]);
        }
        if let Some((nth, newer)) = over.filter(|(_, newer)| drafts[0].contains(newer.as_str())) {
            confirmed.resize(confirmed.len().max(nth + 1), String::new());
            confirmed[nth] = newer;
        }
        let board = fs::read_to_string(folder.path().join("fl-80.yaml")).expect("the board");
        assert!(board.starts_with("# Bought used.\n"), "{board}");
        let source = ringrule::document::Source::new("fl-80.yaml", board);
        assert!(ringrule::board::Board::read(source).is_ok());
    }
    (written, saved)
}

fn query(fields: &[(&str, &str)]) -> String {
    form_urlencoded::Serializer::new(String::new())
        .extend_pairs(fields)
        .finish()
}

fn all_below(folder: &Path) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            found.extend(all_below(&path));
        } else {
            let name = path.display().to_string();
            found.push((name, fs::read_to_string(&path).unwrap_or_default()));
        }
    }
    found
}

#[test]
fn nothing_confirmed_is_lost_when_it_is_killed() {
    let (written, _) = killed(8, 1);
    assert!(
        written > 0,
        "no reading was confirmed before the program was killed"
    );
}

#[test]
#[ignore = "a minute: 200 times"]
fn nothing_confirmed_is_lost_when_it_is_killed_200_times() {
    let (written, saved) = killed(200, 2);
    assert!(written > 200 && saved > 20, "{written}, {saved}");
}
