//! The printed schemas, and files as programs that know no format of ours see them.

use jsonschema::Validator;
use ringrule::document::{FileKind, Node, Value as Tree};
use serde_json::{Value, json};

use super::root;

pub(crate) fn schema(kind: FileKind) -> Value {
    let path = match kind {
        FileKind::Board => "specs/board.schema.json",
        FileKind::Table => "tolerances/table.schema.json",
        FileKind::Event => "specs/event.schema.json",
        _ => "specs/settings.schema.json",
    };
    let text = std::fs::read_to_string(root().join(path)).expect("the schema is there");
    serde_json::from_str(&text).expect("JSON")
}

pub(crate) fn validator(kind: FileKind) -> Validator {
    jsonschema::validator_for(&schema(kind)).expect("a sound schema")
}

/// The tree as other readers of YAML see it.
pub(crate) fn json_of(node: &Node) -> Value {
    match &node.value {
        Tree::Null => Value::Null,
        Tree::Bool(bool) => json!(bool),
        Tree::Number(number) => json!(number),
        Tree::Text(text) => json!(text),
        Tree::List(items) => items.iter().map(json_of).collect(),
        Tree::Map(entries) => {
            let entries = entries.iter();
            Value::Object(
                entries
                    .map(|entry| (entry.key.clone(), json_of(&entry.value)))
                    .collect(),
            )
        }
    }
}

/// What stands at a path through a schema.
pub(crate) fn at<'a>(schema: &'a Value, path: &str) -> &'a Value {
    schema.pointer(path).unwrap_or_else(|| panic!("{path}"))
}

/// The schema of one value, made once for all cases of a test.
pub(crate) fn value(kind: FileKind, path: &str) -> Validator {
    jsonschema::validator_for(at(&schema(kind), path)).expect("a sound schema")
}
