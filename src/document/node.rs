//! The tree itself.

use super::Span;

/// A value and the bytes that it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Where it stands. For a mapping, from its first key to its last value.
    pub span: Span,
    /// What it says.
    pub value: Value,
}

/// What a node says: the values that JSON has.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// Nothing, `null` or `~`.
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// A finite number in plain decimal notation.
    Number(f64),
    /// Any other scalar, and every quoted one.
    Text(String),
    /// A sequence.
    List(Vec<Node>),
    /// A mapping, in the order of the file, keys unique.
    Map(Vec<Entry>),
}

/// A key and its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The key.
    pub key: String,
    /// Where the key stands.
    pub key_span: Span,
    /// What it is set to.
    pub value: Node,
}

impl Node {
    /// The value of a key, if this is a mapping that has it.
    pub fn get(&self, key: &str) -> Option<&Self> {
        match &self.value {
            Value::Map(entries) => entries.iter().find(|e| e.key == key).map(|e| &e.value),
            _ => None,
        }
    }

    /// What kind of value this is, for messages.
    pub const fn kind(&self) -> &'static str {
        match self.value {
            Value::Null => "nothing",
            Value::Bool(_) => "a truth value",
            Value::Number(_) => "a number",
            Value::Text(_) => "a text",
            Value::List(_) => "a list",
            Value::Map(_) => "a group of keys",
        }
    }

    /// The same value as JSON, for the schema step.
    pub(super) fn to_json(&self) -> serde_json::Value {
        use serde_json::Value as Json;
        match &self.value {
            Value::Null => Json::Null,
            Value::Bool(truth) => Json::Bool(*truth),
            // Whole numbers stay whole: a year of 1979 is not 1979.0.
            #[allow(clippy::cast_possible_truncation)]
            Value::Number(number) if number.fract() == 0.0 && number.abs() < 1e15 => {
                Json::from(*number as i64)
            }
            Value::Number(number) => Json::from(*number),
            Value::Text(text) => Json::String(text.clone()),
            Value::List(items) => Json::Array(items.iter().map(Self::to_json).collect()),
            Value::Map(entries) => {
                let pairs = entries.iter().map(|e| (e.key.clone(), e.value.to_json()));
                Json::Object(pairs.collect())
            }
        }
    }
}
