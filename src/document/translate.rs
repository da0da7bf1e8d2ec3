//! From what a schema finds to problems that a person can mend.

use jsonschema::ValidationError;
use jsonschema::error::ValidationErrorKind as Kind;
use serde_json::Value as Json;

use super::rule_words::{first_sentence, keys_of, text_only, words};
use super::{Document, Fault, Node, Problem, Problems, Recognised, Span, Value, nearest};

/// Turns what the schema step says into problems with places and remedies.
pub(super) struct Translator<'a> {
    pub(super) schema: &'a Json,
    pub(super) document: &'a Document,
    pub(super) problems: &'a mut Problems,
    /// Values (by span) and keys (by key span) to leave out of the rest.
    pub(super) cuts: Vec<Span>,
}

impl Translator<'_> {
    pub(super) fn translate(&mut self, error: &ValidationError<'_>) {
        let path = error.instance_path().to_string();
        let Some((node, key_span)) = find(&self.document.root, &path) else {
            return;
        };
        let schema_path = error.schema_path().to_string();
        let owner = schema_path.rsplit_once('/').map_or("", |(owner, _)| owner);
        let rule = self.rule_at(owner);
        let can_go = self.may_be_left_out(owner);
        // A group is pointed at by its key: the whole of it would be a wall.
        let place = match (&node.value, key_span) {
            (Value::Map(_) | Value::List(_), Some(key_span)) => key_span,
            (Value::Map(entries), None) => entries.first().map_or(node.span, |e| e.key_span),
            _ => node.span,
        };
        match error.kind() {
            // What is no text is no word either, and is told as that.
            Kind::Enum { .. } if !matches!(node.value, Value::Text(_)) => return,
            Kind::AdditionalProperties { unexpected } => {
                for name in unexpected {
                    self.unknown_key(node, name, &rule);
                }
                return;
            }
            Kind::Required { property } => {
                let name = property.as_str().unwrap_or_default();
                self.missing_key(place, name, &path, &rule);
                return;
            }
            Kind::OneOfNotValid { context } | Kind::AnyOf { context }
                if words(&rule).is_empty() =>
            {
                self.descend(node, &rule, context, can_go);
                return;
            }
            _ if path == "/format" => {
                let expected = words(&rule).concat();
                let wanted = Recognised::of_text(&format!("format: {expected}"));
                let (message, remedy) = match Recognised::of_text(self.document.source.text()) {
                    Some(other) if Some(other) != wanted => {
                        let wanted = wanted.map_or("a file of this kind", Recognised::phrase);
                        let message = format!("this is {}, not {wanted}", other.phrase());
                        (message, other.remedy().to_owned())
                    }
                    _ => (
                        format!("{} is not the expected format", self.quoted(node)),
                        format!("write `format: {expected}`"),
                    ),
                };
                self.problems
                    .add(Problem::new(Fault::WrongFormat, place, message, remedy));
            }
            Kind::Minimum { limit } => self.out_of_range(place, node, "least", limit),
            Kind::Maximum { limit } => self.out_of_range(place, node, "greatest", limit),
            Kind::MinItems { limit: 0 | 1 } => self.problems.add(Problem::new(
                Fault::WrongKind,
                place,
                "this list is empty",
                or_removed("write at least one value", can_go),
            )),
            Kind::MaxItems { limit } => self.problems.add(Problem::new(
                Fault::WrongKind,
                place,
                "this list is too long",
                or_removed(&format!("write {limit} values"), can_go),
            )),
            Kind::MinItems { limit } => self.problems.add(Problem::new(
                Fault::WrongKind,
                place,
                "this list is too short",
                or_removed(&format!("write {limit} values"), can_go),
            )),
            _ => {
                let words = words(&rule);
                if words.is_empty() || !matches!(node.value, Value::Text(_)) {
                    self.wrong_kind(place, node, &rule, can_go);
                } else {
                    self.unknown_word(node, &words);
                }
            }
        }
        self.cuts.push(node.span);
    }

    /// Whether the group that has this key is sound without it, by the schema's path to what
    /// is said of the key's value.
    fn may_be_left_out(&self, path: &str) -> bool {
        let Some((owner, rest)) = path.rsplit_once("/properties/") else {
            return false;
        };
        let name = rest.split('/').next().unwrap_or_default();
        let is_entry = rest.split('/').any(|step| step == "items");
        let owner = self.rule_at(owner);
        let required = owner.get("required").and_then(Json::as_array);
        let is_required = required.is_some_and(|keys| keys.iter().any(|key| key == name));
        !is_entry && !is_required && !ONE_OF_SEVERAL.contains(&name)
    }

    /// The rule at a path through the schema, references followed.
    fn rule_at(&self, path: &str) -> Json {
        let mut rule = self.schema;
        for step in path.split('/').skip(1).filter(|&step| step != "$ref") {
            let step = step.replace("~1", "/").replace("~0", "~");
            rule = self.target(rule);
            let next = match rule {
                Json::Array(items) => step.parse().ok().and_then(|index: usize| items.get(index)),
                other => other.get(&step),
            };
            let Some(next) = next else {
                return Json::Null;
            };
            rule = next;
        }
        self.target(rule).clone()
    }

    /// What a rule refers to, if it only refers.
    fn target<'s>(&'s self, rule: &'s Json) -> &'s Json {
        let reference = rule.get("$ref").and_then(Json::as_str);
        let target = reference.and_then(|r| self.schema.pointer(r.strip_prefix('#')?));
        target.unwrap_or(rule)
    }

    /// Reports the problems of the alternative that the value comes closest
    /// to: the one of its own kind.
    fn descend(
        &mut self,
        node: &Node,
        rule: &Json,
        context: &[Vec<ValidationError<'static>>],
        can_go: bool,
    ) {
        let options = ["oneOf", "anyOf"]
            .iter()
            .find_map(|key| rule.get(key)?.as_array());
        let kind = match node.value {
            Value::Map(_) => "object",
            Value::List(_) => "array",
            Value::Number(_) => "number",
            Value::Text(_) => "string",
            _ => "none",
        };
        let same_kind = options.into_iter().flatten().position(|option| {
            let types = self.target(option).get("type");
            types.is_some_and(|types| match types {
                Json::Array(types) => types.iter().any(|t| t == kind),
                one => one == kind,
            })
        });
        match same_kind.and_then(|index| context.get(index)) {
            Some(errors) if !errors.is_empty() => {
                for error in errors {
                    self.translate(error);
                }
            }
            _ => {
                self.wrong_kind(node.span, node, rule, can_go);
                self.cuts.push(node.span);
            }
        }
    }

    fn unknown_key(&mut self, node: &Node, name: &str, rule: &Json) {
        let Value::Map(entries) = &node.value else {
            return;
        };
        let Some(entry) = entries.iter().find(|entry| entry.key == name) else {
            return;
        };
        let known = rule.get("properties").and_then(Json::as_object);
        let known: Vec<&str> = known
            .into_iter()
            .flatten()
            .map(|(key, _)| key.as_str())
            .collect();
        self.problems.add(Problem::new(
            Fault::UnknownKey,
            entry.key_span,
            format!("there is no key `{name}` here"),
            nearest(name, &known),
        ));
        self.cuts.push(entry.key_span);
    }

    fn missing_key(&mut self, place: Span, name: &str, path: &str, rule: &Json) {
        let what = rule
            .pointer(&format!("/properties/{name}/description"))
            .and_then(Json::as_str)
            .map(first_sentence)
            .unwrap_or_default();
        let owner = match path.rsplit_once('/') {
            Some((_, owner)) if !owner.is_empty() => format!("`{owner}`"),
            _ => "the file".to_owned(),
        };
        let fault = if name == "format" {
            Fault::WrongFormat
        } else {
            Fault::MissingKey
        };
        let remedy = if what.is_empty() {
            format!("add `{name}:`")
        } else {
            format!("add `{name}:` ({what})")
        };
        self.problems.add(Problem::new(
            fault,
            place,
            format!("{owner} lacks the key `{name}`"),
            remedy,
        ));
    }

    fn out_of_range(&mut self, place: Span, node: &Node, end: &str, limit: &Json) {
        self.problems.add(Problem::new(
            Fault::OutOfRange,
            place,
            format!("{} is out of range", self.quoted(node)),
            format!("the {end} value here is {limit}"),
        ));
    }

    fn unknown_word(&mut self, node: &Node, words: &[String]) {
        let Value::Text(word) = &node.value else {
            return;
        };
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        self.problems.add(Problem::new(
            Fault::UnknownWord,
            node.span,
            format!("`{word}` is not one of the words that are allowed here"),
            nearest(word, &words),
        ));
    }

    fn wrong_kind(&mut self, place: Span, node: &Node, rule: &Json, can_go: bool) {
        let what = rule
            .get("description")
            .and_then(Json::as_str)
            .map(first_sentence);
        let words = words(rule);
        let remedy = match (what, &node.value, text_only(rule)) {
            (_, Value::Number(_) | Value::Bool(_), _) if !words.is_empty() => {
                format!("write one of these words: {}", words.join(", "))
            }
            // `0.3` is a share, and no text that is read as one.
            (Some(what), Value::Number(number), true) if what.contains('%') => {
                let share = number.abs() <= 1.0;
                let percent = if share {
                    (number * 1e6).round() / 1e4
                } else {
                    *number
                };
                format!("write `{percent} %` ({what})")
            }
            (_, Value::Number(_), true) => {
                format!(
                    "quote it to make it a text: \"{}\"",
                    self.document.source.slice(node.span)
                )
            }
            (Some(what), Value::Null, _) => or_removed(&format!("fill it in ({what})"), can_go),
            (None, Value::Null, _) => or_removed("fill it in", can_go),
            (Some(what), _, _) => match keys_of(rule) {
                Some(keys) => format!("write a group of keys, such as `{{ {keys} }}` ({what})"),
                None => format!("expected here: {what}"),
            },
            (None, _, _) => "see the format's schema: `ringrule schema` prints it".to_owned(),
        };
        let message = match &node.value {
            Value::Text(text) if text.parse::<f64>().is_ok() => {
                format!("{} in quotes is a text, not a number", self.quoted(node))
            }
            Value::Null => "there is no value here".to_owned(),
            Value::Map(_) | Value::List(_) => format!("{} is not allowed here", node.kind()),
            _ => format!(
                "{} is {}, which is not allowed here",
                self.quoted(node),
                node.kind()
            ),
        };
        self.problems
            .add(Problem::new(Fault::WrongKind, place, message, remedy));
    }

    fn quoted(&self, node: &Node) -> String {
        let text = self.document.source.slice(node.span).trim_matches('"');
        let short: String = text.chars().take(60).collect();
        let more = if short.len() < text.len() { "…" } else { "" };
        format!("`{short}{more}`")
    }
}

/// Keys that stand for one another: without the one that is there, a group says nothing.
const ONE_OF_SEVERAL: [&str; 9] = [
    "radius",
    "diameter",
    "readings",
    "taken",
    "expanded",
    "standard",
    "count",
    "at",
    "tolerance",
];

fn or_removed(what: &str, can_go: bool) -> String {
    if can_go {
        format!("{what}, or remove the key")
    } else {
        what.to_owned()
    }
}

/// The node at a JSON Pointer, and its key's place if it stands in a mapping.
fn find<'a>(root: &'a Node, pointer: &str) -> Option<(&'a Node, Option<Span>)> {
    let mut at = (root, None);
    for step in pointer.split('/').skip(1) {
        let step = step.replace("~1", "/").replace("~0", "~");
        at = match &at.0.value {
            Value::Map(entries) => {
                let entry = entries.iter().find(|entry| entry.key == step)?;
                (&entry.value, Some(entry.key_span))
            }
            Value::List(items) => (items.get(step.parse::<usize>().ok()?)?, None),
            _ => return None,
        };
    }
    Some(at)
}
