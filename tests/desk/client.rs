//! A desk that runs, and what a network can say to it.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, ChildStderr, ChildStdout, Command, Stdio};
use std::time::Duration;

use tempfile::TempDir;

/// A running desk. It is killed when the test ends.
pub(super) struct Desk {
    pub(super) child: Child,
    pub(super) host: String,
    secret: String,
    pub(super) out: BufReader<ChildStdout>,
    _err: ChildStderr,
}

impl Drop for Desk {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// What came back.
pub(super) struct Answer {
    pub(super) status: u16,
    pub(super) head: String,
    pub(super) body: String,
}

impl Desk {
    pub(super) fn open(folder: &Path, more: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_ringrule"))
            .args(["desk", "--no-browser"])
            .arg(folder)
            .args(more)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("started");
        let mut out = BufReader::new(child.stdout.take().expect("piped"));
        let err = child.stderr.take().expect("piped");
        let mut line = String::new();
        out.read_line(&mut line).expect("an address");
        let rest = line.trim().strip_prefix("http://").expect("an address");
        let (host, secret) = rest.split_once("/enter/").expect("a secret");
        Self {
            host: host.to_owned(),
            secret: secret.to_owned(),
            child,
            out,
            _err: err,
        }
    }

    pub(super) fn send(&self, request: &[u8]) -> Option<Answer> {
        let mut stream = TcpStream::connect(&self.host).ok()?;
        stream
            .set_read_timeout(Some(Duration::from_secs(30)))
            .ok()?;
        stream.write_all(request).ok()?;
        let mut answer = Vec::new();
        // Killed in between, it says nothing more.
        let _ = stream.read_to_end(&mut answer);
        let text = String::from_utf8_lossy(&answer).into_owned();
        let (head, body) = text.split_once("\r\n\r\n")?;
        let status = head.split(' ').nth(1)?.parse().ok()?;
        Some(Answer {
            status,
            head: head.to_owned(),
            body: body.to_owned(),
        })
    }

    pub(super) fn get(&self, path: &str, headers: &str) -> Answer {
        let request = format!(
            "GET {path} HTTP/1.1\r\nHost: {}\r\n{headers}Connection: close\r\n\r\n",
            self.host
        );
        self.send(request.as_bytes()).expect("an answer")
    }

    /// A cookie that is good.
    pub(super) fn cookie(&self) -> String {
        let answer = self.get(&format!("/enter/{}", self.secret), "");
        assert_eq!(answer.status, 303, "{}", answer.head);
        cookie_of(&answer)
    }

    pub(super) fn post(&self, path: &str, cookie: &str, fields: &[(&str, &str)]) -> Option<Answer> {
        let origin = format!("Origin: http://{}\r\n", self.host);
        self.post_with(path, &format!("{cookie}{origin}"), fields)
    }

    pub(super) fn post_with(
        &self,
        path: &str,
        headers: &str,
        fields: &[(&str, &str)],
    ) -> Option<Answer> {
        let body = form_urlencoded::Serializer::new(String::new())
            .extend_pairs(fields)
            .finish();
        let request = format!(
            "POST {path} HTTP/1.1\r\nHost: {}\r\n{headers}Connection: close\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
            self.host,
            body.len()
        );
        self.send(request.as_bytes())
    }
}

/// Whether this computer is in a network that it could share in.
pub(super) fn in_a_network() -> bool {
    let socket = std::net::UdpSocket::bind("0.0.0.0:0").expect("a socket");
    let found = socket
        .connect("192.0.2.1:9")
        .and_then(|()| socket.local_addr());
    found.is_ok_and(|address| !address.ip().is_loopback())
}

pub(super) fn cookie_of(answer: &Answer) -> String {
    let mut lines = answer.head.lines();
    let line = lines.find_map(|line| line.strip_prefix("set-cookie: "));
    let line = line.expect("a cookie");
    assert!(line.contains("HttpOnly; SameSite=Strict"), "{line}");
    format!("Cookie: {}\r\n", line.split(';').next().expect("a value"))
}

/// A folder with one board. Invented.
pub(super) fn folder() -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(
        folder.path().join("fl-80.yaml"),
        "# Bought used.\nformat: ringrule/board/1\nboard: { id: FL-80 }\nmounting: staples\nunits: mm\n",
    )
    .expect("written");
    folder
}

pub(super) const BEGIN: [(&str, &str); 6] = [
    ("board", "FL-80"),
    ("by", "A. Ashdown"),
    ("date", "2026-11-27"),
    ("instrument", "calliper 7"),
    ("resolution", "0.01"),
    ("max_error", "0.03"),
];

pub(super) const WORK: [(&str, &str); 3] = [
    ("board", "FL-80"),
    ("round", "2026-11-27"),
    ("by", "A. Ashdown"),
];

pub(super) fn reading<'a>(nth: &'a str, text: &'a str, seen: &'a str) -> Vec<(&'a str, &'a str)> {
    let mut fields = WORK.to_vec();
    fields.extend([("field", nth), ("text", text), ("seen", seen)]);
    fields
}

impl Desk {
    pub(super) fn get_if(&self, path: &str, headers: &str) -> Option<Answer> {
        let request = format!(
            "GET {path} HTTP/1.1\r\nHost: {}\r\n{headers}Connection: close\r\n\r\n",
            self.host
        );
        self.send(request.as_bytes())
    }
}
