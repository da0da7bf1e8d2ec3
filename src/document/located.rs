//! A value that remembers where it stands, for raw file types.

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserialize, Deserializer, IntoDeserializer, MapAccess, SeqAccess, Visitor};
use serde::{Serialize, Serializer};

use super::Span;

/// The newtype name by which [`super::de`] knows that a place is wanted.
pub(super) const LOCATED: &str = "ringrule::Located";

/// A value of a raw file type together with its place in the file.
///
/// Serialises and describes itself exactly as `T` does; only reading from a
/// located tree fills the span.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Located<T> {
    /// What the file says.
    pub value: T,
    /// Where it says so.
    pub span: Span,
}

impl<T> Located<T> {
    /// A value that comes from no file: for files that the program writes.
    pub fn unplaced(value: T) -> Self {
        Self {
            value,
            span: Span::default(),
        }
    }
}

impl<T: Serialize> Serialize for Located<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.value.serialize(serializer)
    }
}

impl<T: JsonSchema> JsonSchema for Located<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }
    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }
    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Located<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_newtype_struct(LOCATED, LocatedVisitor(PhantomData))
    }
}

struct LocatedVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for LocatedVisitor<T> {
    type Value = Located<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value of a located tree")
    }

    /// From the tree: start, end, value.
    fn visit_seq<A: SeqAccess<'de>>(self, mut parts: A) -> Result<Self::Value, A::Error> {
        let missing = || serde::de::Error::custom("a place without a value");
        let start = parts.next_element()?.ok_or_else(missing)?;
        let end = parts.next_element()?.ok_or_else(missing)?;
        let value = parts.next_element()?.ok_or_else(missing)?;
        Ok(Located {
            value,
            span: Span { start, end },
        })
    }

    /// From any other format: no place.
    fn visit_newtype_struct<D: Deserializer<'de>>(self, inner: D) -> Result<Self::Value, D::Error> {
        T::deserialize(inner).map(Located::unplaced)
    }
}

/// A scalar, or a group of keys that says more.
///
/// Unlike an untagged enum this reads the group straight from the tree, so the
/// values in it keep their places.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum PlainOr<P, G> {
    /// The scalar alone.
    Plain(P),
    /// The group.
    Group(G),
}

impl<P: JsonSchema, G: JsonSchema> JsonSchema for PlainOr<P, G> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        format!("{}Or{}", P::schema_name(), G::schema_name()).into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let alternatives = [
            generator.subschema_for::<P>(),
            generator.subschema_for::<G>(),
        ];
        schemars::json_schema!({ "anyOf": alternatives })
    }
}

impl<'de, P: Deserialize<'de>, G: Deserialize<'de>> Deserialize<'de> for PlainOr<P, G> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(PlainOrVisitor(PhantomData))
    }
}

struct PlainOrVisitor<P, G>(PhantomData<(P, G)>);

impl<'de, P: Deserialize<'de>, G: Deserialize<'de>> Visitor<'de> for PlainOrVisitor<P, G> {
    type Value = PlainOr<P, G>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number, a text or a group of keys")
    }
    fn visit_i64<E: serde::de::Error>(self, number: i64) -> Result<Self::Value, E> {
        P::deserialize(number.into_deserializer()).map(PlainOr::Plain)
    }
    fn visit_f64<E: serde::de::Error>(self, number: f64) -> Result<Self::Value, E> {
        P::deserialize(number.into_deserializer()).map(PlainOr::Plain)
    }
    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Self::Value, E> {
        P::deserialize(text.into_deserializer()).map(PlainOr::Plain)
    }
    fn visit_map<A: MapAccess<'de>>(self, group: A) -> Result<Self::Value, A::Error> {
        G::deserialize(MapAccessDeserializer::new(group)).map(PlainOr::Group)
    }
}
