//! Raw file types read themselves from the tree through serde, so that one
//! definition serves the schema, reading and writing.

use std::fmt;

use serde::de::value::{MapDeserializer, SeqDeserializer, StrDeserializer};
use serde::de::{
    DeserializeSeed, Deserializer, EnumAccess, IntoDeserializer, SeqAccess, VariantAccess, Visitor,
};

use super::located::LOCATED;
use super::{Node, Span, Value};

/// A value that the schema let pass but its type cannot hold.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct ShapeError {
    /// What is wrong.
    pub message: String,
    /// Where it stands, as far as known.
    pub span: Option<Span>,
}

impl serde::de::Error for ShapeError {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self {
            message: message.to_string(),
            span: None,
        }
    }
}

/// Reads any type from a node.
#[derive(Clone, Copy)]
pub(super) struct FromNode<'a>(pub(super) &'a Node);

impl<'de> IntoDeserializer<'de, ShapeError> for FromNode<'de> {
    type Deserializer = Self;
    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> FromNode<'de> {
    /// Adds the place to an error that has none yet.
    fn placed<T>(self, result: Result<T, ShapeError>) -> Result<T, ShapeError> {
        result.map_err(|mut error| {
            error.span.get_or_insert(self.0.span);
            error
        })
    }

    fn visit<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ShapeError> {
        match &self.0.value {
            Value::Null => visitor.visit_unit(),
            Value::Bool(truth) => visitor.visit_bool(*truth),
            // Whole numbers are offered as such, for counts and years.
            #[allow(clippy::cast_possible_truncation)]
            Value::Number(number) if number.fract() == 0.0 && number.abs() < 1e15 => {
                visitor.visit_i64(*number as i64)
            }
            Value::Number(number) => visitor.visit_f64(*number),
            Value::Text(text) => visitor.visit_borrowed_str(text),
            Value::List(items) => {
                visitor.visit_seq(SeqDeserializer::new(items.iter().map(FromNode)))
            }
            Value::Map(entries) => visitor.visit_map(MapDeserializer::new(
                entries.iter().map(|e| (e.key.as_str(), FromNode(&e.value))),
            )),
        }
    }
}

impl<'de> Deserializer<'de> for FromNode<'de> {
    type Error = ShapeError;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ShapeError> {
        self.placed(self.visit(visitor))
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ShapeError> {
        match self.0.value {
            Value::Null => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, ShapeError> {
        if name == LOCATED {
            self.placed(visitor.visit_seq(Parts {
                node: self.0,
                next: 0,
            }))
        } else {
            self.placed(visitor.visit_newtype_struct(self))
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _name: &'static str,
        _variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, ShapeError> {
        match &self.0.value {
            Value::Text(word) => self.placed(visitor.visit_enum(Word(word))),
            _ => self.deserialize_any(visitor),
        }
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string
        bytes byte_buf unit unit_struct seq tuple tuple_struct map struct
        identifier ignored_any
    }
}

/// Start, end and value of one node, for [`super::Located`].
struct Parts<'a> {
    node: &'a Node,
    next: u8,
}

impl<'de> SeqAccess<'de> for Parts<'de> {
    type Error = ShapeError;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, ShapeError> {
        self.next += 1;
        match self.next {
            1 => seed.deserialize(self.node.span.start.into_deserializer()),
            2 => seed.deserialize(self.node.span.end.into_deserializer()),
            3 => seed.deserialize(FromNode(self.node)),
            _ => return Ok(None),
        }
        .map(Some)
    }
}

/// A word that stands for a variant without content.
struct Word<'a>(&'a str);

impl Word<'_> {
    fn no_value(&self) -> ShapeError {
        serde::de::Error::custom(format!("`{}` takes no value", self.0))
    }
}

impl<'de> EnumAccess<'de> for Word<'de> {
    type Error = ShapeError;
    type Variant = Self;

    fn variant_seed<S: DeserializeSeed<'de>>(
        self,
        seed: S,
    ) -> Result<(S::Value, Self), ShapeError> {
        let word: StrDeserializer<'_, ShapeError> = self.0.into_deserializer();
        Ok((seed.deserialize(word)?, self))
    }
}

impl<'de> VariantAccess<'de> for Word<'de> {
    type Error = ShapeError;

    fn unit_variant(self) -> Result<(), ShapeError> {
        Ok(())
    }
    fn newtype_variant_seed<S: DeserializeSeed<'de>>(self, _: S) -> Result<S::Value, ShapeError> {
        Err(self.no_value())
    }
    fn tuple_variant<V: Visitor<'de>>(self, _: usize, _: V) -> Result<V::Value, ShapeError> {
        Err(self.no_value())
    }
    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, ShapeError> {
        Err(self.no_value())
    }
}
