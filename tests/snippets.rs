//! What editors offer to fill in is what the program takes: every snippet of the board
//! schema, with its places left as they are offered, is read without a fault.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::schemas::{json_of, schema, validator};
use ringrule::board::{Board, Mounting};
use ringrule::document::{FileKind, Source, parse};
use serde_json::Value;

/// The text with what is offered at each place: `${1:this}`, the first of `${2|a,b|}`.
fn filled(body: &str) -> String {
    let mut text = String::new();
    let mut rest = body;
    while let Some((before, behind)) = rest.split_once("${") {
        let (place, after) = behind.split_once('}').expect("a place ends");
        let digits = place.trim_start_matches(|c: char| c.is_ascii_digit());
        assert!(digits.len() < place.len(), "{place} has no number");
        let choice = digits
            .strip_prefix('|')
            .and_then(|words| words.strip_suffix('|'));
        let first = choice.and_then(|words| words.split(',').next());
        let offered = digits
            .strip_prefix(':')
            .or(first)
            .expect("a text or a choice");
        text.push_str(before);
        text.push_str(offered);
        rest = after;
    }
    assert!(!rest.contains('$'), "{rest}");
    text + rest
}

fn snippets(path: &str) -> Vec<(String, String)> {
    let schema = schema(FileKind::Board);
    let place = schema.pointer(path).unwrap_or_else(|| panic!("{path}"));
    let all = place["defaultSnippets"].as_array().expect("snippets");
    let one = |snippet: &Value| {
        let text = |key: &str| snippet[key].as_str().expect("a text").to_owned();
        assert!(text("description").len() > 8);
        (text("label"), filled(&text("body")))
    };
    all.iter().map(one).collect()
}

fn read(label: &str, text: &str) -> Board {
    let board = Board::read(Source::new("fl-01.yaml", text));
    let board = board.unwrap_or_else(|invalid| panic!("{label}: {invalid}\n{text}"));
    let tree = parse(Source::new("fl-01.yaml", text)).expect("read before");
    let valid = validator(FileKind::Board).is_valid(&json_of(&tree.root));
    assert!(valid, "{label} does not meet its own schema\n{text}");
    board
}

#[test]
fn whole_boards_of_each_mounting_are_read() {
    let all = snippets("");
    let mountings: Vec<Mounting> = all
        .iter()
        .map(|(label, text)| read(label, text).construction.mounting)
        .collect();
    assert_eq!(mountings, [Mounting::Staples, Mounting::Embedded]);
}

/// What is offered below a key, in a file that has everything else.
fn below(path: &str, keys: &str, count: usize) {
    let all = snippets(path);
    assert_eq!(all.len(), count, "{path}");
    for (label, body) in all {
        let (first, more) = keys
            .split_once(' ')
            .map_or((keys, None), |(a, b)| (a, Some(b)));
        let (inner, indent) = match more {
            Some(inner) => (format!("  {inner}:\n"), "    "),
            None => (String::new(), "  "),
        };
        let lines: String = body
            .lines()
            .map(|line| format!("{indent}{line}\n"))
            .collect();
        let text = format!(
            "format: ringrule/board/1\nboard: {{ id: FL-01 }}\nmounting: staples\nunits: mm\n\
             {first}:\n{inner}{lines}"
        );
        let board = read(&label, &text);
        assert!(!board.construction.inputs.is_empty(), "{label}");
    }
}

#[test]
fn rings_and_wires_are_read() {
    below("/$defs/radius_group", "rings treble_outer", 3);
    below("/$defs/stated_wire_group", "wires rings", 2);
    below("/$defs/wires_group", "wires", 2);
}
