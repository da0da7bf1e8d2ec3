//! What was measured, put into a board file that exists: everything else in it stays as it
//! is written, comments above all.

use ringrule::board::{Board, Quantity};
use ringrule::document::{Document, Entry, Node, Source, Value, parse};

/// The parts of a board file that an inspection writes anew, key by key.
const MEASURED: [&str; 6] = [
    "inspection",
    "instruments",
    "wires",
    "rings",
    "widths",
    "overall",
];
/// Parts that a new inspection of the same board takes over from the file before.
const LASTING: [&str; 3] = ["board", "metal", "staples"];
/// What stands beside a length and is not measured with it.
const BESIDE: &str = "offset";

/// A text in lines, each with its end, and its tree.
struct Text<'a> {
    lines: Vec<&'a str>,
    document: &'a Document,
}

/// The file with what a new text says of lengths; `None` where that cannot be done without
/// losing something.
pub(super) fn into_existing(old: &Document, new: &str) -> Option<String> {
    // Bare numbers of ours are in mm.
    let units = old.root.get("units").map(|node| &node.value);
    if !matches!(units, Some(Value::Text(unit)) if unit == "mm") {
        return None;
    }
    let new = parse(Source::new("new", new)).ok()?;
    let (was, is) = (Text::of(old), Text::of(&new));
    let mut lines: Vec<String> = was.lines.iter().map(|line| (*line).to_owned()).collect();
    if let Some(last) = lines.last_mut().filter(|last| !last.ends_with('\n')) {
        last.push('\n');
    }
    let mut behind = Vec::new();
    // From the end, so that line numbers before it stay right.
    let mut replaced: Vec<(usize, usize, String)> = Vec::new();
    for entry in entries(&new.root) {
        let name = entry.key.as_str();
        let measured = MEASURED.contains(&name);
        match entries(&old.root).iter().find(|own| own.key == name) {
            None if measured || name == "profile" => behind.push(is.whole(entry, &new.root)),
            Some(own) if measured => {
                let (from, to) = was.range(own, &old.root);
                replaced.push((from, to, was.section(own, (from, to), &is, entry)));
            }
            _ => {}
        }
    }
    replaced.sort_by_key(|(from, ..)| std::cmp::Reverse(*from));
    for (from, to, text) in replaced {
        lines.splice(from..to, [text]);
    }
    let mut text: String = lines.concat();
    text.extend(behind);
    if old.source.text().contains("\r\n") {
        text = text.replace("\r\n", "\n").replace('\n', "\r\n");
    }
    proved(old, &text).then_some(text)
}

/// A new text of a board with what lasts from the file before: what it is and where it
/// hangs, in the words that stand there.
pub(super) fn carrying(old: &Document, new: &str) -> Option<String> {
    let document = parse(Source::new("new", new)).ok()?;
    let (was, is) = (Text::of(old), Text::of(&document));
    let mut lines: Vec<String> = is.lines.iter().map(|line| (*line).to_owned()).collect();
    let lasting = entries(&old.root)
        .iter()
        .filter(|entry| LASTING.contains(&entry.key.as_str()));
    for own in lasting {
        let text = was.whole(own, &old.root);
        match entries(&document.root)
            .iter()
            .find(|entry| entry.key == own.key)
        {
            Some(entry) => {
                let (from, to) = is.range(entry, &document.root);
                // In place, so that line numbers behind it stay right.
                for line in lines.get_mut(from..to)? {
                    line.clear();
                }
                *lines.get_mut(from)? = text;
            }
            None => lines.push(text),
        }
    }
    let text: String = lines.concat().replace("\r\n", "\n");
    Board::read(Source::new("new", text.clone()))
        .ok()
        .map(|_| text)
}

/// Who took which length.
fn takings(board: &Board) -> Vec<(Quantity, String)> {
    let inputs = board.construction.inputs.iter();
    let taken = inputs.filter_map(|input| Some((input.quantity, input.taken()?)));
    let people = taken.flat_map(|(quantity, taken)| {
        taken
            .takings
            .iter()
            .map(move |of| (quantity, of.by.clone()))
    });
    people.collect()
}

/// Whether a text is a board of the same id, with every comment of the old one, and the
/// readings of everybody whose readings were there.
fn proved(old: &Document, text: &str) -> bool {
    let (Ok(was), Ok(is)) = (
        Board::from_document(old.clone()),
        Board::read(Source::new("merged", text)),
    ) else {
        return false;
    };
    let there = takings(&is);
    if was.id != is.id || takings(&was).iter().any(|one| !there.contains(one)) {
        return false;
    }
    let comments = old.source.text().lines().filter_map(comment);
    comments.into_iter().all(|comment| text.contains(comment))
}

fn entries(node: &Node) -> &[Entry] {
    match &node.value {
        Value::Map(entries) => entries,
        _ => &[],
    }
}

impl<'a> Text<'a> {
    fn of(document: &'a Document) -> Self {
        let lines = document.source.text().split_inclusive('\n').collect();
        Self { lines, document }
    }

    /// The line, from 0, of a byte.
    fn line(&self, byte: usize) -> usize {
        let before = self.document.source.text().get(..byte).unwrap_or_default();
        before.matches('\n').count()
    }

    /// The lines of an entry among others: to the next one's, without blank lines and
    /// comments at the end, which belong to what follows.
    fn range(&self, entry: &Entry, among: &Node) -> (usize, usize) {
        let from = self.line(entry.key_span.start);
        let lines = entries(among)
            .iter()
            .map(|other| self.line(other.key_span.start));
        let next = lines.filter(|line| *line > from).min();
        // The last entry of a part ends where its value does.
        let last = self.line(
            entry
                .value
                .span
                .end
                .saturating_sub(1)
                .max(entry.key_span.end),
        ) + 1;
        let mut to = next.unwrap_or(last).max(from + 1);
        let idle = |line: &&str| line.trim().is_empty() || line.trim_start().starts_with('#');
        while to > from + 1 && self.lines.get(to - 1).is_some_and(idle) {
            to -= 1;
        }
        (from, to)
    }

    /// An entry's lines as they are, ended by a line's end.
    fn whole(&self, entry: &Entry, among: &Node) -> String {
        let (from, to) = self.range(entry, among);
        ended(self.lines.get(from..to).unwrap_or_default().concat())
    }

    /// A part of this file with what the same part of another says: the keys that both
    /// have are the other's, all others stay.
    fn section(
        &self,
        own: &Entry,
        (from, to): (usize, usize),
        other: &Text<'_>,
        new: &Entry,
    ) -> String {
        let block = entries(&own.value);
        let starts: Vec<usize> = block
            .iter()
            .map(|one| self.line(one.key_span.start))
            .collect();
        let mut distinct = starts.clone();
        distinct.dedup();
        let is_block =
            starts.first().is_some_and(|first| *first > from) && distinct.len() == starts.len();
        if new.key == "overall" || new.key == "inspection" || !is_block {
            return self.rebuilt(
                own,
                self.lines.get(from..to).unwrap_or_default(),
                other,
                new,
            );
        }
        let mut text: String = self
            .lines
            .get(from..starts.first().copied().unwrap_or(to))
            .unwrap_or_default()
            .concat();
        for (index, one) in block.iter().enumerate() {
            let begins = starts.get(index).copied().unwrap_or(from);
            let ends = starts.get(index + 1).copied().unwrap_or(to);
            let piece = self.lines.get(begins..ends).unwrap_or_default();
            match entries(&new.value)
                .iter()
                .find(|entry| entry.key == one.key)
            {
                None => text.extend(piece.iter().copied()),
                Some(entry) => {
                    let indent = indent(piece.first().copied().unwrap_or_default());
                    let comments = piece.iter().filter_map(|line| comment(line));
                    text.extend(comments.map(|comment| format!("{indent}{comment}\n")));
                    text += &other.placed(entry, &new.value, indent);
                    text += &self.beside(one, indent);
                }
            }
        }
        let indent = starts
            .first()
            .and_then(|line| self.lines.get(*line))
            .map_or("  ", |line| indent(line));
        for entry in entries(&new.value) {
            if !block.iter().any(|one| one.key == entry.key) {
                text += &other.placed(entry, &new.value, indent);
            }
        }
        ended(text)
    }

    /// The same where the part is written on few lines: its keys get lines of their own.
    fn rebuilt(&self, own: &Entry, lines: &[&str], other: &Text<'_>, new: &Entry) -> String {
        let comments = lines.iter().filter_map(|line| comment(line));
        let mut text: String = comments.map(|comment| format!("{comment}\n")).collect();
        text += &format!("{}:\n", own.key);
        let found =
            |among: &'_ Entry, key: &str| entries(&among.value).iter().any(|one| one.key == key);
        for one in entries(&own.value) {
            // A length of its own is replaced as one, with its uncertainty and instrument.
            if new.key != "overall" && !found(new, &one.key) {
                let value = self.document.source.slice(one.value.span);
                text += &format!("  {}: {}\n", one.key, value.trim());
            }
        }
        for entry in entries(&new.value) {
            text += &other.placed(entry, &new.value, "  ");
            let before = entries(&own.value).iter().find(|one| one.key == entry.key);
            text.extend(before.map(|before| self.beside(before, "  ")));
        }
        text
    }

    /// An entry of a part, moved to another depth.
    fn placed(&self, entry: &Entry, among: &Node, indent: &str) -> String {
        let (from, to) = self.range(entry, among);
        let lines = self.lines.get(from..to).unwrap_or_default();
        let own = lines.first().map_or(0, |line| self::indent(line).len());
        let moved = lines.iter().map(|line| {
            let rest = line.get(own..).unwrap_or(line.trim_start());
            format!("{indent}{}\n", rest.trim_end())
        });
        moved.collect()
    }

    /// What stands beside a length and stays.
    fn beside(&self, entry: &Entry, indent: &str) -> String {
        let kept = entry.value.get(BESIDE);
        kept.map_or_else(String::new, |node| {
            let value = self.document.source.slice(node.span);
            format!("{indent}  {BESIDE}: {}\n", value.trim())
        })
    }
}

/// A text with an end to its last line.
fn ended(text: String) -> String {
    if text.ends_with('\n') {
        text
    } else {
        text + "\n"
    }
}

fn indent(line: &str) -> &str {
    let length = line.len() - line.trim_start_matches(' ').len();
    line.get(..length).unwrap_or_default()
}

/// The comment at the end of a line or on its own; none in quotation marks.
pub(super) fn comment(line: &str) -> Option<&str> {
    let line = line.trim_end();
    let (mut quote, mut before) = (None, ' ');
    for (at, c) in line.char_indices() {
        match quote {
            Some(open) if c == open => quote = None,
            None if c == '#' && before.is_whitespace() => return line.get(at..),
            // Within a word it is an apostrophe.
            None if (c == '"' || c == '\'') && !before.is_alphanumeric() => quote = Some(c),
            _ => {}
        }
        before = c;
    }
    None
}
