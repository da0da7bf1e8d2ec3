//! The JSON Schema step: all structural problems of a file in one run.
//!
//! The schema is generated from the raw Rust type of the format. What it finds
//! is reported, then cut out of a copy of the tree, so that the typed step can
//! still check everything else in the same run.

use jsonschema::Validator;
use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde::de::DeserializeOwned;
use serde_json::Value as Json;

use super::de::FromNode;
use super::translate::Translator;
use super::{Document, Fault, Node, Problem, Problems, Span, Value, for_editors, group_names};

/// The shape of one file format: its JSON Schema, generated and compiled.
pub struct Shape {
    /// With every form of every value, for editors and other programs.
    printed: Json,
    /// What the schema step asks: the rest has readers.
    structure: Json,
    validator: Option<Validator>,
}

impl Shape {
    /// The shape of a raw file type. `title` heads the schema. A key that is
    /// there has a value: `null` is none.
    pub fn of<T: JsonSchema>(title: &str) -> Self {
        Self::generated::<T>(title, true)
    }

    /// The shape of a report, in which a value that there is none of may be
    /// `null`.
    pub fn of_report<T: JsonSchema>(title: &str) -> Self {
        Self::generated::<T>(title, false)
    }

    fn generated<T: JsonSchema>(title: &str, null_is_none: bool) -> Self {
        let mut schema = SchemaSettings::draft2020_12()
            .into_generator()
            .into_root_schema_for::<T>()
            .to_value();
        for_editors::put(&mut schema);
        if null_is_none {
            forbid_null(&mut schema);
        }
        if let Some(top) = schema.as_object_mut() {
            top.insert("title".to_owned(), Json::from(title));
        }
        let structure = for_editors::structure(schema.clone());
        let mut printed = for_editors::printed(schema);
        if null_is_none {
            for_editors::explain_groups(&mut printed);
            for_editors::mark_down(&mut printed);
            group_names::put(&mut printed);
        }
        let validator = jsonschema::validator_for(&structure).ok();
        Self {
            printed,
            structure,
            validator,
        }
    }

    /// The schema as it is committed and printed: indented, one final newline.
    pub fn to_text(&self) -> String {
        format!("{:#}\n", self.printed)
    }

    /// Reads a document as `T`. `None` if the structure is too broken for the
    /// typed step to look at the rest; `problems` then says why.
    pub fn read<T: DeserializeOwned>(
        &self,
        document: &Document,
        problems: &mut Problems,
    ) -> Option<T> {
        let instance = document.root.to_json();
        let valid = self
            .validator
            .as_ref()
            .is_some_and(|v| v.is_valid(&instance));
        if valid {
            return match T::deserialize(FromNode(&document.root)) {
                Ok(file) => Some(file),
                Err(error) => {
                    problems.add(Problem::new(
                        Fault::WrongKind,
                        error.span.unwrap_or(document.root.span),
                        error.message,
                        "see the format's schema: `ringrule schema` prints it",
                    ));
                    None
                }
            };
        }
        let mut translator = Translator {
            schema: &self.structure,
            document,
            problems,
            cuts: Vec::new(),
        };
        if let Some(validator) = &self.validator {
            for error in validator.iter_errors(&instance) {
                translator.translate(&error);
            }
        }
        let cuts = translator.cuts;
        if problems.has(Fault::WrongFormat) {
            // What else is wrong with a file of another kind helps nobody.
            problems.keep_only(Fault::WrongFormat);
            return None;
        }
        let rest = without(&document.root, &cuts, problems)?;
        T::deserialize(FromNode(&rest)).ok()
    }
}

/// An optional key may be left out but not be empty: `null` is never a value
/// in these files, so the schema does not offer it.
fn forbid_null(schema: &mut Json) {
    match schema {
        Json::Array(items) => items.iter_mut().for_each(forbid_null),
        Json::Object(map) => {
            if let Some(Json::Array(types)) = map.get_mut("type") {
                types.retain(|t| t != "null");
                if let [only] = types.as_slice() {
                    let only = only.clone();
                    map.insert("type".to_owned(), only);
                }
            }
            let alternatives = map.get_mut("anyOf").and_then(Json::as_array_mut);
            let only = alternatives.and_then(|list| {
                let before = list.len();
                list.retain(|option| option.get("type") != Some(&Json::from("null")));
                (before == 2 && list.len() == 1).then(|| list.remove(0))
            });
            if let Some(Json::Object(only)) = only {
                map.remove("anyOf");
                for (key, value) in only {
                    map.entry(key).or_insert(value);
                }
            }
            map.remove("default");
            map.values_mut().for_each(forbid_null);
        }
        _ => {}
    }
}

/// A copy of the tree without the values at these spans; `None` if the root
/// itself is one of them.
fn without(node: &Node, cuts: &[Span], problems: &mut Problems) -> Option<Node> {
    if cuts.contains(&node.span) {
        return None;
    }
    let value = match &node.value {
        Value::List(items) => Value::List(
            items
                .iter()
                .filter_map(|item| without(item, cuts, problems))
                .collect(),
        ),
        Value::Map(entries) => {
            let kept = entries.iter().filter(|e| !cuts.contains(&e.key_span));
            let kept = kept.filter_map(|entry| {
                let value = without(&entry.value, cuts, problems)?;
                Some(super::Entry {
                    value,
                    ..entry.clone()
                })
            });
            let kept: Vec<_> = kept.collect();
            if kept.len() < entries.len() {
                for entry in &kept {
                    problems.lost_beside(entry.value.span);
                }
            }
            Value::Map(kept)
        }
        other => other.clone(),
    };
    Some(Node {
        span: node.span,
        value,
    })
}
