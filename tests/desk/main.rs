//! The desk as a network sees it: who is let in, what cannot be reached, and what is on
//! the disk when the program is killed. `.ci/pages/desk.mjs` has it in a browser.
#![cfg(unix)]
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

mod client;
mod kept;
mod killed;

use std::fs;
use std::io::{BufRead, Write};
use std::net::TcpStream;
use std::process::Command;

use client::{BEGIN, Desk, cookie_of, folder, in_a_network, reading};

#[test]
fn nobody_is_let_in_without_the_link_and_nothing_from_elsewhere() {
    let folder = folder();
    let desk = Desk::open(folder.path(), &[]);
    let cookie = desk.cookie();
    assert_eq!(desk.get("/", &cookie).status, 200);
    // No secret, a wrong one, somebody else's.
    assert_eq!(desk.get("/", "").status, 401);
    assert_eq!(desk.get("/", "Cookie: ringrule-desk-1=x\r\n").status, 401);
    assert_eq!(
        desk.get(&format!("/enter/{}", "0".repeat(32)), "").status,
        403
    );
    assert_eq!(desk.get("/enter/", "").status, 404);
    // Another name for this computer, or a name said twice.
    let port = desk.host.rsplit(':').next().expect("a port");
    let others = [
        // With the port that the cookie is for, the name alone tells it apart.
        format!("evil.example:{port}"),
        format!("127.0.0.1.evil.example:{port}"),
        "127.0.0.1".to_owned(),
        "localhost:1".to_owned(),
    ];
    for host in others {
        let request =
            format!("GET / HTTP/1.1\r\nHost: {host}\r\n{cookie}Connection: close\r\n\r\n");
        let answer = desk.send(request.as_bytes()).expect("an answer");
        assert_eq!(answer.status, 421, "{host}");
    }
    let twice = format!("Host: evil.example\r\n{cookie}");
    assert!(desk.get("/", &twice).status >= 400);
    // What changes something must come from our own page.
    for origin in ["http://evil.example", "null", "https://127.0.0.1", ""] {
        let headers = format!("{cookie}Origin: {origin}\r\n");
        let answer = desk
            .post_with("/begin", &headers, &BEGIN)
            .expect("an answer");
        assert_eq!(answer.status, 403, "{origin}");
    }
    let bare = desk
        .post_with("/begin", &cookie, &BEGIN)
        .expect("an answer");
    assert_eq!(bare.status, 403);
    let site = format!("{cookie}Sec-Fetch-Site: cross-site\r\n");
    assert_eq!(
        desk.post_with("/begin", &site, &BEGIN)
            .expect("an answer")
            .status,
        403
    );
    assert!(!folder.path().join(".desk").exists());
    // Every answer says what browsers may do with it.
    for path in ["/", "/nowhere", "/desk.js"] {
        let answer = desk.get(path, &cookie);
        for header in [
            "content-security-policy: default-src 'none'",
            "x-content-type-options: nosniff",
            "cache-control: no-store",
            "x-frame-options: DENY",
        ] {
            assert!(answer.head.contains(header), "{path}: {header}");
        }
    }
}

#[test]
fn whoever_may_look_changes_nothing_and_a_link_for_the_room_is_good_once() {
    let folder = folder();
    if !in_a_network() {
        let alone = Command::new(env!("CARGO_BIN_EXE_ringrule"))
            .args(["desk", "--no-browser", "--share"])
            .output()
            .expect("started");
        assert_eq!(alone.status.code(), Some(2));
        return;
    }
    let mut desk = Desk::open(folder.path(), &["--share", "look"]);
    let mut line = String::new();
    desk.out.read_line(&mut line).expect("a link");
    let rest = line
        .trim()
        .strip_prefix("http://")
        .expect("a link")
        .to_owned();
    let (host, secret) = rest
        .split_once('/')
        .map(|(a, b)| (a.to_owned(), format!("/{b}")))
        .expect("a secret");
    let mut room = Desk::open(folder.path(), &[]);
    room.host = host;
    // Looking at it in advance does not use it up.
    assert_eq!(room.get(&secret, "").status, 200);
    let origin = format!("Origin: http://{}\r\n", room.host);
    let entered = room.post_with(&secret, &origin, &[]).expect("an answer");
    assert_eq!(entered.status, 303, "{}", entered.head);
    let cookie = cookie_of(&entered);
    assert_eq!(room.get("/", &cookie).status, 200);
    assert_eq!(
        room.post_with(&secret, &origin, &[])
            .expect("an answer")
            .status,
        403
    );
    assert_eq!(
        room.post("/begin", &cookie, &BEGIN)
            .expect("an answer")
            .status,
        403
    );
    // The next link is printed.
    line.clear();
    desk.out.read_line(&mut line).expect("a link");
    assert!(
        line.starts_with("http://") && !line.contains(&secret),
        "{line}"
    );
}

#[test]
fn no_field_leads_out_of_the_folder_and_markup_is_text() {
    let folder = folder();
    let outside = tempfile::tempdir().expect("a folder");
    fs::write(
        outside.path().join("secret.yaml"),
        "format: ringrule/board/1\nboard: { id: SECRET }\nmounting: staples\nunits: mm\n",
    )
    .expect("written");
    std::os::unix::fs::symlink(
        outside.path().join("secret.yaml"),
        folder.path().join("link.yaml"),
    )
    .expect("linked");
    let desk = Desk::open(folder.path(), &[]);
    let cookie = desk.cookie();
    assert!(!desk.get("/", &cookie).body.contains("SECRET"));
    let tricks = [
        "../../../tmp/x",
        "..%2f..%2fx",
        "/etc/passwd",
        "..\\..\\x",
        "a\0b",
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "x\r\nSet-Cookie: a=b",
        "\u{202e}evil",
    ];
    for trick in tricks {
        for (name, _) in BEGIN {
            let mut fields = BEGIN.to_vec();
            fields.retain(|(own, _)| *own != name);
            fields.push((name, trick));
            let answer = desk.post("/begin", &cookie, &fields).expect("an answer");
            assert!(answer.status < 500, "{name}={trick}: {}", answer.status);
            assert!(!answer.body.contains("<script>alert") && !answer.body.contains("<img src=x"));
            assert!(!answer.head.to_lowercase().contains("set-cookie: a=b"));
        }
        let answer = desk.post("/new", &cookie, &[("id", trick), ("mounting", "staples")]);
        assert!(answer.expect("an answer").status < 500);
        for path in [
            "/measure",
            "/save",
            "/begin",
            "/report/page",
            "/compare/page",
        ] {
            let query = form_urlencoded::Serializer::new(String::new())
                .extend_pairs([
                    ("board", trick),
                    ("round", trick),
                    ("by", trick),
                    ("file", trick),
                    ("name", trick),
                    ("q", trick),
                ])
                .finish();
            let answer = desk.get(&format!("{path}?{query}"), &cookie);
            assert!(answer.status < 500, "{path} {trick}: {}", answer.status);
            assert!(!answer.body.contains("<script>alert") && !answer.body.contains("<img src=x"));
        }
    }
    let list = desk.get("/", &cookie).body;
    assert!(!list.contains("<script>alert"), "{list}");
    // Everything that was written is in the folder, and nothing else was touched.
    assert_eq!(fs::read_dir(outside.path()).expect("a folder").count(), 1);
    for entry in fs::read_dir(folder.path()).expect("a folder") {
        let name = entry
            .expect("an entry")
            .file_name()
            .into_string()
            .expect("text");
        let good = |c: char| c.is_ascii_alphanumeric() || "-.".contains(c);
        assert!(name.chars().all(good), "{name}");
    }
}

#[test]
fn drafts_are_not_written_through_a_link() {
    let (folder, outside) = (folder(), tempfile::tempdir().expect("a folder"));
    std::os::unix::fs::symlink(outside.path(), folder.path().join(".desk")).expect("linked");
    let desk = Desk::open(folder.path(), &[]);
    let cookie = desk.cookie();
    let answer = desk.post("/begin", &cookie, &BEGIN).expect("an answer");
    assert_eq!(answer.status, 422);
    assert!(answer.body.contains("is a link"), "{}", answer.body);
    assert_eq!(fs::read_dir(outside.path()).expect("a folder").count(), 0);
}

#[test]
fn large_bodies_and_idle_connections_keep_nobody_out() {
    let folder = folder();
    let desk = Desk::open(folder.path(), &[]);
    let cookie = desk.cookie();
    // 100 MB announced, and as much of it sent as is taken.
    let head = format!(
        "POST /begin HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\n{cookie}\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 100000000\r\n\r\nboard=",
        desk.host
    );
    let mut stream = TcpStream::connect(&desk.host).expect("connected");
    stream.write_all(head.as_bytes()).expect("sent");
    let chunk = vec![b'x'; 1 << 16];
    let mut sent = 0;
    while sent < 100_000_000 && stream.write_all(&chunk).is_ok() {
        sent += chunk.len();
    }
    assert!(sent < 100_000_000, "all of it was taken");
    // A thousand that say nothing.
    let idle: Vec<TcpStream> = (0..1000)
        .filter_map(|_| TcpStream::connect(&desk.host).ok())
        .collect();
    assert_eq!(idle.len(), 1000);
    assert_eq!(desk.get("/", &cookie).status, 200);
    drop(idle);
    assert_eq!(desk.get("/", &cookie).status, 200);
}

#[test]
fn three_hundred_boards_are_listed_and_a_reading_is_answered() {
    let folder = folder();
    let text = fs::read_to_string("specs/demo/11-pooled.yaml").expect("the demo");
    for nth in 0..300 {
        let board = text.replace("id: FL-11", &format!("id: XX-{nth:03}"));
        fs::write(folder.path().join(format!("xx-{nth:03}.yaml")), board).expect("written");
    }
    let desk = Desk::open(folder.path(), &[]);
    let cookie = desk.cookie();
    // Anew, and from what is known.
    for _ in 0..2 {
        let list = desk.get("/", &cookie);
        assert_eq!(list.body.matches("aria-label=\"Measure ").count(), 301);
    }
    let fields: Vec<_> = BEGIN
        .iter()
        .map(|&(name, value)| {
            if name == "board" {
                (name, "XX-007")
            } else {
                (name, value)
            }
        })
        .collect();
    assert_eq!(
        desk.post("/begin", &cookie, &fields)
            .expect("an answer")
            .status,
        303
    );
    for (item, text) in [
        ("treble width||0", "8.01"),
        ("double_outer radius||0", "170.0"),
    ] {
        let mut fields = reading(item, text, "");
        fields[0] = ("board", "XX-007");
        let answer = desk.post("/typed", &cookie, &fields).expect("an answer");
        assert_eq!(answer.status, 200, "{}", answer.body);
        assert!(answer.body.contains("id=\"standing\""));
    }
}
