//! Values of a manifest read into types, with faults in a designer's words.
//!
//! The library's own reader says which Rust type it expected. This one knows where it is, what stands there, and which keys
//! or words would be right, and says so.

mod misfit;

pub use misfit::Misfit;

use crate::keys::{Node, Table};
use misfit::{Found, Wanted};
use serde::Deserializer;
use serde::de::value::{BorrowedStrDeserializer, StrDeserializer};
use serde::de::{DeserializeSeed, EnumAccess, Error, IntoDeserializer, MapAccess, SeqAccess, Visitor};
use std::borrow::Cow;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Names that the library gives to a value with its place, and to a date.
const SPANNED: &str = "$__serde_spanned";
const DATE: &str = "$__toml";

/// How one came to a value.
#[derive(Clone, Copy)]
struct Way<'p> {
    before: Option<&'p Way<'p>>,
    step: Step<'p>,
}

#[derive(Clone, Copy)]
enum Step<'p> {
    Key(&'p str),
    Item,
}

/// A value of a manifest, to be read into a type by serde; or none, which the type answers with what it takes.
#[derive(Clone, Copy)]
pub struct Reading<'v, 't, 'p> {
    value: Option<&'v Spanned<DeValue<'t>>>,
    way: Option<&'p Way<'p>>,
}

impl<'v, 't> Reading<'v, 't, '_> {
    /// A value that stands by itself: all of a manifest, or a part of it.
    pub fn of(value: &'v Spanned<DeValue<'t>>) -> Reading<'v, 't, 'static> {
        Reading { value: Some(value), way: None }
    }

    /// Refuses a number outside of the range that its key states.
    ///
    /// # Errors
    /// The first such number, at its place.
    pub fn kept(&self, table: &Table) -> Result<(), Misfit> {
        let outside = self.value.and_then(|value| table.outside(|key| value.entry(key)));
        outside.map_or(Ok(()), |o| Err(Misfit::custom(o.message).at(o.node.span(), self.way)))
    }

    fn span(&self) -> Range<usize> {
        self.value.map_or(0..0, Spanned::span)
    }

    fn found(&self) -> Option<&'v DeValue<'t>> {
        self.value.map(Spanned::get_ref)
    }

    /// What is said where something else was wanted.
    fn wrong(&self, wanted: Wanted) -> Misfit {
        match self.found() {
            Some(found) => Misfit::kind(wanted, &Found::of(found), self.way, self.span()),
            None => Misfit::answer(wanted),
        }
    }

    /// The same fault, with this value as its place where it has none.
    fn placed<T>(self, read: Result<T, Misfit>, wanted: Option<Wanted>) -> Result<T, Misfit> {
        read.map_err(|e| match (e.expected(), wanted) {
            (Some(said), wanted) => self.wrong(wanted.unwrap_or(Wanted::Said(said))),
            (None, _) => e.at(self.span(), self.way),
        })
    }

    fn map<V: Visitor<'v>>(self, table: &'v DeTable<'t>, visitor: V) -> Result<V::Value, Misfit> {
        let entries: Vec<_> = table.iter().collect();
        visitor.visit_map(Entries { rest: entries.into_iter(), entry: None, way: self.way })
    }

    fn whole_number(&self) -> Option<Option<i64>> {
        match self.found() {
            Some(DeValue::Integer(n)) => Some(i64::from_str_radix(n.as_str(), n.radix()).ok()),
            _ => None,
        }
    }
}

macro_rules! whole {
    ($($method:ident)*) => { $(
        fn $method<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
            match self.whole_number() {
                Some(Some(n)) => self.placed(visitor.visit_i64(n), Some(Wanted::Whole)),
                _ => Err(self.wrong(Wanted::Whole)),
            }
        }
    )* };
}

impl<'v> Deserializer<'v> for Reading<'v, '_, '_> {
    type Error = Misfit;

    fn deserialize_any<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        // Whatever says in its own words what it takes does so when it is given nothing.
        let Some(value) = self.value else { return visitor.visit_unit() };
        match value.get_ref() {
            DeValue::String(text) => self.placed(visitor.visit_str(text), None),
            DeValue::Boolean(yes) => self.placed(visitor.visit_bool(*yes), None),
            DeValue::Integer(_) => match self.whole_number().flatten() {
                Some(n) => self.placed(visitor.visit_i64(n), None),
                None => Err(self.wrong(Wanted::Whole)),
            },
            DeValue::Float(number) => match number.as_str().parse() {
                Ok(n) => self.placed(visitor.visit_f64(n), None),
                Err(_) => Err(self.wrong(Wanted::Number)),
            },
            DeValue::Datetime(_) => {
                let library = toml::de::ValueDeserializer::from(value.clone());
                self.placed(library.deserialize_any(visitor).map_err(|e| Misfit::library(e.message())), None)
            }
            DeValue::Array(list) => self.placed(visitor.visit_seq(Items::new(list, self.way)), None),
            DeValue::Table(table) => self.placed(self.map(table, visitor), None),
        }
    }

    fn deserialize_bool<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.found() {
            Some(DeValue::Boolean(yes)) => self.placed(visitor.visit_bool(*yes), None),
            _ => Err(self.wrong(Wanted::YesOrNo)),
        }
    }

    whole! { deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_u8 deserialize_u16 deserialize_u32
    deserialize_u64 }

    fn deserialize_f32<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_f64(visitor)
    }

    fn deserialize_f64<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.found() {
            Some(DeValue::Float(_) | DeValue::Integer(_)) => {
                self.deserialize_any(visitor).map_err(|e| if e.is_placed() { e } else { self.wrong(Wanted::Number) })
            }
            _ => Err(self.wrong(Wanted::Number)),
        }
    }

    fn deserialize_char<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_str(visitor)
    }

    fn deserialize_str<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.found() {
            Some(DeValue::String(text)) => self.placed(visitor.visit_str(text), None),
            _ => Err(self.wrong(Wanted::Text)),
        }
    }

    fn deserialize_string<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_str(visitor)
    }

    fn deserialize_bytes<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_str(visitor)
    }

    fn deserialize_byte_buf<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_str(visitor)
    }

    fn deserialize_option<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_some(self)
    }

    fn deserialize_unit<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_unit()
    }

    fn deserialize_unit_struct<V: Visitor<'v>>(self, _: &'static str, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'v>>(self, _: &'static str, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.found() {
            Some(DeValue::Array(list)) => self.placed(visitor.visit_seq(Items::new(list, self.way)), None),
            _ => Err(self.wrong(Wanted::List(items_of(visitor)))),
        }
    }

    fn deserialize_tuple<V: Visitor<'v>>(self, _: usize, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'v>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_map<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.found() {
            Some(DeValue::Table(table)) => self.placed(self.map(table, visitor), None),
            _ => Err(self.wrong(Wanted::Table)),
        }
    }

    fn deserialize_struct<V: Visitor<'v>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        if name.starts_with(SPANNED) {
            return visitor.visit_map(WithPlace { reading: self, fields, next: 0 });
        }
        if name.starts_with(DATE) {
            return match self.found() {
                Some(DeValue::Datetime(_)) => self.deserialize_any(visitor),
                _ => Err(self.wrong(Wanted::Date)),
            };
        }
        match self.found() {
            Some(DeValue::Table(table)) => self.placed(self.map(table, visitor), None),
            _ => Err(self.wrong(Wanted::Keys(fields))),
        }
    }

    fn deserialize_enum<V: Visitor<'v>>(
        self,
        _: &'static str,
        words: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        match self.found() {
            Some(DeValue::String(text)) => self.placed(visitor.visit_enum(Word(text)), None),
            _ => Err(self.wrong(Wanted::Words(words))),
        }
    }

    fn deserialize_identifier<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_str(visitor)
    }

    fn deserialize_ignored_any<V: Visitor<'v>>(self, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_unit()
    }
}

impl<'v> IntoDeserializer<'v, Misfit> for Reading<'v, '_, '_> {
    type Deserializer = Self;
    fn into_deserializer(self) -> Self {
        self
    }
}

/// One of the words of an enum.
struct Word<'v>(&'v str);

impl<'v> EnumAccess<'v> for Word<'v> {
    type Error = Misfit;
    type Variant = <StrDeserializer<'v, Misfit> as EnumAccess<'v>>::Variant;
    fn variant_seed<S: DeserializeSeed<'v>>(self, seed: S) -> Result<(S::Value, Self::Variant), Misfit> {
        let word: StrDeserializer<'v, Misfit> = self.0.into_deserializer();
        word.variant_seed(seed)
    }
}

/// The entries of a table.
struct Entries<'v, 't, 'p> {
    rest: std::vec::IntoIter<(&'v Spanned<Cow<'t, str>>, &'v Spanned<DeValue<'t>>)>,
    entry: Option<(&'v str, &'v Spanned<DeValue<'t>>)>,
    way: Option<&'p Way<'p>>,
}

impl<'v> MapAccess<'v> for Entries<'v, '_, '_> {
    type Error = Misfit;

    fn next_key_seed<S: DeserializeSeed<'v>>(&mut self, seed: S) -> Result<Option<S::Value>, Misfit> {
        let Some((key, value)) = self.rest.next() else { return Ok(None) };
        self.entry = Some((key.get_ref(), value));
        let name: StrDeserializer<'_, Misfit> = key.get_ref().as_ref().into_deserializer();
        seed.deserialize(name).map(Some).map_err(|e| e.at(key.span(), self.way))
    }

    fn next_value_seed<S: DeserializeSeed<'v>>(&mut self, seed: S) -> Result<S::Value, Misfit> {
        let (key, value) = self.entry.take().ok_or_else(|| Misfit::custom("a value without a key"))?;
        let way = Way { before: self.way, step: Step::Key(key) };
        seed.deserialize(Reading { value: Some(value), way: Some(&way) }).map_err(|e| e.at(value.span(), Some(&way)))
    }
}

/// The items of a list.
struct Items<'v, 't, 'p> {
    rest: std::slice::Iter<'v, Spanned<DeValue<'t>>>,
    way: Option<&'p Way<'p>>,
}

impl<'v, 't, 'p> Items<'v, 't, 'p> {
    fn new(list: &'v [Spanned<DeValue<'t>>], way: Option<&'p Way<'p>>) -> Items<'v, 't, 'p> {
        Items { rest: list.iter(), way }
    }
}

impl<'v> SeqAccess<'v> for Items<'v, '_, '_> {
    type Error = Misfit;

    fn next_element_seed<S: DeserializeSeed<'v>>(&mut self, seed: S) -> Result<Option<S::Value>, Misfit> {
        let Some(value) = self.rest.next() else { return Ok(None) };
        let way = Way { before: self.way, step: Step::Item };
        seed.deserialize(Reading { value: Some(value), way: Some(&way) })
            .map(Some)
            .map_err(|e| e.at(value.span(), Some(&way)))
    }
}

/// What the items of a list should be: asked of the type itself, by a list whose only item is none.
fn items_of<'v, V: Visitor<'v>>(visitor: V) -> Option<Box<Wanted>> {
    visitor.visit_seq(Ask(false)).err().and_then(Misfit::asked).map(Box::new)
}

/// A list of one item that is none.
struct Ask(bool);

impl<'v> SeqAccess<'v> for Ask {
    type Error = Misfit;

    fn next_element_seed<S: DeserializeSeed<'v>>(&mut self, seed: S) -> Result<Option<S::Value>, Misfit> {
        let asked = std::mem::replace(&mut self.0, true);
        if asked { Ok(None) } else { seed.deserialize(Reading { value: None, way: None }).map(Some) }
    }
}

/// A value with its place, as the library asks for it: begin, end and the value.
struct WithPlace<'v, 't, 'p> {
    reading: Reading<'v, 't, 'p>,
    fields: &'static [&'static str],
    next: usize,
}

impl<'v> MapAccess<'v> for WithPlace<'v, '_, '_> {
    type Error = Misfit;

    fn next_key_seed<S: DeserializeSeed<'v>>(&mut self, seed: S) -> Result<Option<S::Value>, Misfit> {
        let key = self.fields.get(self.next);
        self.next += 1;
        key.map(|key| seed.deserialize(BorrowedStrDeserializer::new(key))).transpose()
    }

    fn next_value_seed<S: DeserializeSeed<'v>>(&mut self, seed: S) -> Result<S::Value, Misfit> {
        let span = self.reading.span();
        match self.next {
            1 => seed.deserialize(span.start.into_deserializer()),
            2 => seed.deserialize(span.end.into_deserializer()),
            _ => seed.deserialize(self.reading),
        }
    }
}
