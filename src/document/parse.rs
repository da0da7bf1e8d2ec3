//! From text to the located tree, in one pass over the parser's events.

use std::collections::HashMap;
use std::sync::Arc;

use granit_parser::{Event, Parser, ScalarStyle, options};

use self::syntax::syntax;
use super::scalar::{Reading, read_plain};
use super::sniff::strange_bytes;
use super::{
    Document, Entry, Fault, InvalidFile, Node, Problem, Problems, Recognised, Source, Span, Value,
    budget,
};

/// Parses one YAML document.
///
/// ```
/// use ringrule::document::{Source, parse};
///
/// assert!(parse(Source::new("a.yaml", "rings: { treble_outer: 107 }")).is_ok());
/// assert!(parse(Source::new("a.yaml", "rings: { treble_outer: .nan }")).is_err());
/// ```
///
/// All problems of the text are collected, except that nothing behind a syntax
/// error or an exhausted budget can be read.
pub fn parse(source: Source) -> Result<Document, InvalidFile> {
    let source = Arc::new(source);
    let mut builder = Builder::new(&source);
    if source.text().len() > budget::BYTES {
        builder.too_large(
            Span::default(),
            format!("the file has more than {} bytes", budget::BYTES),
            "split it into several files".to_owned(),
        );
    } else if let Some(problem) = strange_bytes(source.text()) {
        builder.problems.add(problem);
    } else if let Err(stop) = builder.read_events() {
        builder.problems.add(stop);
    }
    let Builder { problems, root, .. } = builder;
    let is_map = matches!(&root, Some(root) if matches!(root.value, Value::Map(_)));
    let other = Recognised::of_text(source.text());
    // Where it is not even YAML, its faults as YAML help nobody.
    if let Some(other) = other.filter(|other| !(other.is_yaml() || is_map && problems.is_empty())) {
        let message = format!("this is {}, not a YAML file", other.phrase());
        return Err(other.invalid(source.name(), &message));
    }
    problems.into_result(&source)?;
    // A lone `---` or `null` says as little as no line at all.
    match root.filter(|root| !matches!(root.value, Value::Null)) {
        Some(root) => Ok(Document { source, root }),
        None => Err(InvalidFile::of(
            source,
            Problem::new(
                Fault::Syntax,
                Span::default(),
                "the file is empty",
                "write what it is to say; `ringrule schema` prints the format of each kind of file",
            ),
        )),
    }
}

/// From so many keys on, those of a mapping are looked up and not searched. House rule.
const MANY: usize = 16;

/// A mapping or sequence that is still being read.
struct Open {
    start: Span,
    anchor: usize,
    kind: OpenKind,
}

enum OpenKind {
    List(Vec<Node>),
    Map {
        entries: Vec<Entry>,
        /// By key, as soon as there are many.
        seen: HashMap<String, Span>,
        /// A key whose value is still to come.
        key: Pending,
    },
}

enum Pending {
    /// The next node is a key.
    None,
    /// The next node is this key's value.
    Key(String, Span),
    /// The next node belongs to a key that had a fault: it is dropped.
    Dropped,
}

struct Builder<'a> {
    source: &'a Source,
    problems: Problems,
    stack: Vec<Open>,
    anchors: HashMap<usize, Node>,
    nodes: usize,
    /// Bytes of text that aliases stand for.
    filled: usize,
    root: Option<Node>,
    documents: usize,
}

impl<'a> Builder<'a> {
    fn new(source: &'a Source) -> Self {
        Self {
            source,
            problems: Problems::default(),
            stack: Vec::new(),
            anchors: HashMap::new(),
            nodes: 0,
            filled: 0,
            root: None,
            documents: 0,
        }
    }

    fn too_large(&mut self, span: Span, message: String, remedy: String) {
        self.problems
            .add(Problem::new(Fault::TooLarge, span, message, remedy));
    }

    /// Runs through the events; an error stops the file.
    fn read_events(&mut self) -> Result<(), Problem> {
        let options = options! {
            disallow_directives: true,
            emit_comments: false,
            flow_nesting_limit: 4 * budget::DEPTH,
            block_nesting_limit: 4 * budget::DEPTH,
        };
        for event in Parser::new_from_str_with_options(self.source.text(), options) {
            let (event, span) = event.map_err(|error| syntax(self.source, &error))?;
            let span = span.byte_range().map_or_else(Span::default, |range| Span {
                start: range.start,
                end: range.end,
            });
            if let Some(tag) = event.tag() {
                self.problems.add(Problem::new(
                    Fault::Tag,
                    span,
                    format!("the tag `{}` is not used in these files", tag.original()),
                    "remove the tag; the format decides what each value is",
                ));
            }
            match event {
                Event::DocumentStart(..) => {
                    self.documents += 1;
                    if self.documents > 1 {
                        return Err(Problem::new(
                            Fault::SeveralDocuments,
                            span,
                            "a second document begins here",
                            "put each document in a file of its own",
                        ));
                    }
                }
                Event::Scalar(text, style, anchor, _) => {
                    let node = self.scalar(&text, style, span);
                    self.finish(node, anchor)?;
                }
                Event::Alias(id) => {
                    let Some(node) = self.anchors.get(&id) else {
                        return Err(Problem::new(
                            Fault::Syntax,
                            span,
                            "an alias refers to a value that contains it",
                            "write the value out",
                        ));
                    };
                    self.nodes += count(node) - 1;
                    self.filled += bytes(node);
                    if self.filled > budget::FILLED {
                        return Err(Problem::new(
                            Fault::TooLarge,
                            span,
                            format!("aliases stand for more than {} bytes", budget::FILLED),
                            "write the values out, or split the file into several",
                        ));
                    }
                    let mut node = node.clone();
                    // What is wrong with the value here is wrong at the alias.
                    node.span = span;
                    self.finish(node, 0)?;
                }
                Event::SequenceStart(_, anchor, _) => {
                    self.open(span, anchor, OpenKind::List(Vec::new()))?;
                }
                Event::MappingStart(_, anchor, _) => {
                    let kind = OpenKind::Map {
                        entries: Vec::new(),
                        seen: HashMap::new(),
                        key: Pending::None,
                    };
                    self.open(span, anchor, kind)?;
                }
                Event::SequenceEnd | Event::MappingEnd => self.close(span)?,
                _ => {}
            }
        }
        Ok(())
    }

    fn open(&mut self, start: Span, anchor: usize, kind: OpenKind) -> Result<(), Problem> {
        if self.stack.len() >= budget::DEPTH {
            return Err(Problem::new(
                Fault::TooLarge,
                start,
                format!("values are nested more than {} deep here", budget::DEPTH),
                "no board file or table needs that: check the brackets and the indentation",
            ));
        }
        self.stack.push(Open {
            start,
            anchor,
            kind,
        });
        Ok(())
    }

    fn close(&mut self, end: Span) -> Result<(), Problem> {
        let Some(open) = self.stack.pop() else {
            return Ok(());
        };
        let (value, last) = match open.kind {
            OpenKind::List(items) => {
                let last = items.last().map(|item| item.span);
                (Value::List(items), last)
            }
            OpenKind::Map { entries, .. } => {
                let last = entries
                    .last()
                    .map(|entry| entry.key_span.to(entry.value.span));
                (Value::Map(entries), last)
            }
        };
        // A block collection's end event stands at the next token; the last
        // value's end is what a reader sees. A flow collection has a bracket.
        let bracket = end.end > end.start;
        let end = match last {
            _ if bracket => end.end,
            Some(last) => last.end,
            None => open.start.end,
        };
        let span = Span {
            start: open.start.start,
            end: end.max(open.start.start),
        };
        self.finish(Node { span, value }, open.anchor)
    }

    fn scalar(&mut self, text: &str, style: ScalarStyle, span: Span) -> Node {
        if text.len() > budget::TEXT {
            self.problems.add(Problem::new(
                Fault::TooLarge,
                span,
                format!("this text has {} bytes", text.len()),
                format!("shorten it: at most {} bytes are read", budget::TEXT),
            ));
            let start = text.chars().take(16).collect();
            let value = Value::Text(start);
            return Node { span, value };
        }
        let value = if style == ScalarStyle::Plain {
            match read_plain(text) {
                Reading::Clear(value) => value,
                Reading::Doubtful { message, remedy } => {
                    self.problems
                        .add(Problem::new(Fault::AmbiguousScalar, span, message, remedy));
                    Value::Null
                }
            }
        } else {
            Value::Text(text.to_owned())
        };
        Node { span, value }
    }

    /// Puts a finished value where it belongs.
    fn finish(&mut self, node: Node, anchor: usize) -> Result<(), Problem> {
        self.nodes += 1;
        if self.nodes > budget::NODES {
            return Err(Problem::new(
                Fault::TooLarge,
                node.span,
                format!(
                    "the file has more than {} values, aliases filled in",
                    budget::NODES
                ),
                "split it into several files",
            ));
        }
        if anchor != 0 {
            self.anchors.insert(anchor, node.clone());
        }
        let text = self.source.slice(node.span);
        match self.stack.last_mut().map(|open| &mut open.kind) {
            None => self.root = Some(node),
            Some(OpenKind::List(items)) => items.push(node),
            Some(OpenKind::Map { entries, seen, key }) => {
                match std::mem::replace(key, Pending::None) {
                    Pending::None => {
                        let taken = take_key(node, text, (entries, seen), &mut self.problems);
                        *key = taken.map_or(Pending::Dropped, |(name, at)| Pending::Key(name, at));
                    }
                    Pending::Dropped => {}
                    Pending::Key(name, key_span) => entries.push(Entry {
                        key: name,
                        key_span,
                        value: node,
                    }),
                }
            }
        }
        Ok(())
    }
}

/// Turns a node into a key, or reports why it cannot be one.
fn take_key(
    node: Node,
    text: &str,
    (entries, seen): (&[Entry], &mut HashMap<String, Span>),
    problems: &mut Problems,
) -> Option<(String, Span)> {
    let span = node.span;
    let name = match node.value {
        Value::Text(name) if name != "<<" => name,
        Value::Text(_) => {
            problems.add(Problem::new(
                Fault::KeyNotPlain,
                span,
                "merge keys (`<<`) are not used in these files",
                "write the merged values out, so that each can be pointed at",
            ));
            return None;
        }
        other => {
            let remedy = match other {
                // `{ radius: 107,0 }` reads as a radius of 107 and a key 0.
                Value::Number(_) => format!(
                    "keys are plain words; if this was a decimal comma, write a point, and if it \
                     is a name, such as a sector's number, quote it: \"{text}\""
                ),
                _ => "keys are plain words such as `rings` or `treble_inner`".to_owned(),
            };
            let message = format!("`{text}` cannot be a key here");
            problems.add(Problem::new(Fault::KeyNotPlain, span, message, remedy));
            return None;
        }
    };
    let first = if entries.len() < MANY {
        let first = entries.iter().find(|entry| entry.key == name);
        first.map(|entry| entry.key_span)
    } else {
        if seen.is_empty() {
            let keys = entries.iter();
            seen.extend(keys.map(|entry| (entry.key.clone(), entry.key_span)));
        }
        let first = seen.get(&name).copied();
        seen.entry(name.clone()).or_insert(span);
        first
    };
    if let Some(first) = first {
        problems.add(
            Problem::new(
                Fault::DuplicateKey,
                span,
                format!("`{name}` is given twice"),
                "keep one of the two; which one was meant cannot be guessed",
            )
            .and(first, "given here first"),
        );
        return None;
    }
    Some((name, span))
}

fn bytes(node: &Node) -> usize {
    match &node.value {
        Value::Text(text) => text.len(),
        Value::List(items) => items.iter().map(bytes).sum(),
        Value::Map(entries) => entries.iter().map(|e| e.key.len() + bytes(&e.value)).sum(),
        _ => 0,
    }
}

fn count(node: &Node) -> usize {
    1 + match &node.value {
        Value::List(items) => items.iter().map(count).sum(),
        Value::Map(entries) => entries.iter().map(|entry| count(&entry.value)).sum(),
        _ => 0,
    }
}

mod syntax;
#[cfg(test)]
mod tests;
