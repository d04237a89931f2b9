//! A script's value as serde reads it.

use rhai::{Array, Dynamic, ImmutableString, Map};
use serde::de::value::{MapAccessDeserializer, MapDeserializer, SeqDeserializer, StringDeserializer};
use serde::de::{Deserializer, IntoDeserializer, Visitor};
use serde::forward_to_deserialize_any;

use super::Problem;
use crate::explain::value_words;

/// Lists and maps inside one another that are read at most.
const DEPTH: usize = 64;

/// Reads one value. Whole numbers reach types that want a number, since these accept both.
pub(super) struct Reader {
    value: Dynamic,
    depth: usize,
}

impl Reader {
    pub(super) fn new(value: Dynamic) -> Self {
        Self {
            value: value.flatten(),
            depth: 0,
        }
    }

    fn inside(value: Dynamic, depth: usize) -> Self {
        Self {
            value: value.flatten(),
            depth,
        }
    }

    fn deeper(&self) -> Result<usize, Problem> {
        if self.depth < DEPTH {
            Ok(self.depth + 1)
        } else {
            Err(Problem::TooDeep)
        }
    }
}

impl IntoDeserializer<'_, Problem> for Reader {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for Reader {
    type Error = Problem;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        let depth = self.deeper()?;
        let value = self.value;
        if value.is_unit() {
            return visitor.visit_unit();
        }
        match (value.as_bool(), value.as_int(), value.as_float(), value.as_char()) {
            (Ok(truth), ..) => return visitor.visit_bool(truth),
            (_, Ok(whole), ..) => return visitor.visit_i64(whole),
            (_, _, Ok(number), _) if number.is_finite() => return visitor.visit_f64(number),
            (_, _, Ok(number), _) => return Err(Problem::NotFinite(number)),
            (.., Ok(letter)) => return visitor.visit_char(letter),
            _ => {}
        }
        if value.is_string() {
            let text = value.try_cast::<ImmutableString>().unwrap_or_default();
            visitor.visit_string(text.into_owned())
        } else if value.is_array() {
            let items = value.try_cast::<Array>().unwrap_or_default();
            let mut list = SeqDeserializer::new(items.into_iter().map(|item| Self::inside(item, depth)));
            let read = visitor.visit_seq(&mut list)?;
            // A list that is too long is as wrong as one that is too short.
            list.end()?;
            Ok(read)
        } else if value.is_map() {
            let entries = value.try_cast::<Map>().unwrap_or_default();
            visitor.visit_map(MapDeserializer::new(
                entries
                    .into_iter()
                    .map(|(key, value)| (key.to_string(), Self::inside(value, depth))),
            ))
        } else {
            Err(Problem::Unusable(value_words(&value)))
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        if self.value.is_unit() {
            visitor.visit_none()
        } else {
            visitor.visit_some(self)
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Problem> {
        visitor.visit_newtype_struct(self)
    }

    /// A choice is a text, or a map of one key when the choice carries a value.
    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Problem> {
        let depth = self.deeper()?;
        if self.value.is_string() {
            let text = self.value.try_cast::<ImmutableString>().unwrap_or_default();
            let text: StringDeserializer<Problem> = text.into_owned().into_deserializer();
            visitor.visit_enum(text)
        } else if self.value.is_map() {
            let entries = self.value.try_cast::<Map>().unwrap_or_default();
            let map = MapDeserializer::new(
                entries
                    .into_iter()
                    .map(|(key, value)| (key.to_string(), Self::inside(value, depth))),
            );
            visitor.visit_enum(MapAccessDeserializer::new(map))
        } else {
            Err(Problem::WrongKind {
                expected: "a text that names a choice".to_owned(),
                got: value_words(&self.value),
            })
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct
        seq tuple tuple_struct map struct identifier ignored_any
    }
}
