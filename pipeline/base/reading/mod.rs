//! Values of a manifest read into types, with faults in a designer's words.
//!
//! The library's own reader says which Rust type it expected. This one knows where it is, what stands there, and which keys
//! or words would be right, and says so.
//!
//! A manifest has some hundred types, and serde compiles each of them once for every kind of reader, of list and of table
//! that it meets: so there is one of each, for what stands in the text and for what the library asks beside it.

mod misfit;

pub use misfit::Misfit;

use crate::keys::{Node, Table};
use misfit::{Found, Wanted};
use serde::Deserializer;
use serde::de::value::{BorrowedStrDeserializer, StrDeserializer};
use serde::de::{DeserializeSeed, EnumAccess, Error, IntoDeserializer, MapAccess, SeqAccess, Visitor};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use toml::value::Datetime;

/// Names that the library gives to a value with its place, to a date, and to the one key of a date.
const SPANNED: &str = "$__serde_spanned";
const DATE: &str = "$__toml";
const DAY: &str = "$__toml_private_datetime";

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

/// What is read into a type.
#[derive(Clone, Copy)]
enum What<'v, 't> {
    /// A value as it stands in the text.
    Value(&'v Spanned<DeValue<'t>>),
    /// Nothing, which the type answers with what it takes.
    Nothing,
    /// Where a value begins or ends, in bytes.
    Place(usize),
    /// A date, which the library asks for as it is written.
    Day(Datetime),
}

/// A value of a manifest, to be read into a type by serde; or none, which the type answers with what it takes.
#[derive(Clone, Copy)]
pub struct Reading<'v, 't, 'p> {
    what: What<'v, 't>,
    way: Option<&'p Way<'p>>,
}

impl<'v, 't> Reading<'v, 't, '_> {
    /// A value that stands by itself: all of a manifest, or a part of it.
    pub fn of(value: &'v Spanned<DeValue<'t>>) -> Reading<'v, 't, 'static> {
        Reading { what: What::Value(value), way: None }
    }

    /// Refuses a number outside of the range that its key states.
    ///
    /// # Errors
    /// The first such number, at its place.
    pub fn kept(&self, table: &Table) -> Result<(), Misfit> {
        let What::Value(value) = self.what else { return Ok(()) };
        let outside = table.outside(|key| value.entry(key));
        outside.map_or(Ok(()), |o| Err(Misfit::custom(o.message).at(o.node.span(), self.way)))
    }

    fn span(&self) -> Range<usize> {
        self.what.span()
    }

    fn found(&self) -> Option<&'v DeValue<'t>> {
        match self.what {
            What::Value(value) => Some(value.get_ref()),
            _ => None,
        }
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
        read.map_err(|e| self.settled(e, wanted))
    }

    fn settled(self, e: Misfit, wanted: Option<Wanted>) -> Misfit {
        match (e.expected(), wanted) {
            (Some(said), wanted) => self.wrong(wanted.unwrap_or(Wanted::Said(said))),
            (None, _) => e.at(self.span(), self.way),
        }
    }

    fn whole_number(&self) -> Option<Option<i64>> {
        match self.what {
            What::Value(value) => match value.get_ref() {
                DeValue::Integer(n) => Some(i64::from_str_radix(n.as_str(), n.radix()).ok()),
                _ => None,
            },
            What::Place(byte) => Some(i64::try_from(byte).ok()),
            _ => None,
        }
    }
}

impl What<'_, '_> {
    fn span(&self) -> Range<usize> {
        match self {
            What::Value(value) => value.span(),
            _ => 0..0,
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
        let value = match self.what {
            What::Value(value) => value,
            // Whatever says in its own words what it takes does so when it is given nothing.
            What::Nothing => return visitor.visit_unit(),
            What::Place(_) => return self.deserialize_u64(visitor),
            What::Day(_) => return self.deserialize_str(visitor),
        };
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
            DeValue::Datetime(date) => self.placed(visitor.visit_map(Entries::of_date(*date, self.way)), None),
            DeValue::Array(list) => self.placed(visitor.visit_seq(Items::new(list, self.way)), None),
            DeValue::Table(table) => self.placed(visitor.visit_map(Entries::of(table, self.way)), None),
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
        match (self.what, self.found()) {
            (_, Some(DeValue::String(text))) => self.placed(visitor.visit_str(text), None),
            (What::Day(date), _) => visitor.visit_str(&date.to_string()),
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
            Some(DeValue::Table(table)) => self.placed(visitor.visit_map(Entries::of(table, self.way)), None),
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
            return visitor.visit_map(Entries::with_place(self, fields));
        }
        if name.starts_with(DATE) {
            return match self.found() {
                Some(DeValue::Datetime(_)) => self.deserialize_any(visitor),
                _ => Err(self.wrong(Wanted::Date)),
            };
        }
        match self.found() {
            Some(DeValue::Table(table)) => self.placed(visitor.visit_map(Entries::of(table, self.way)), None),
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

/// An entry of a table: its key with where it stands, and its value.
type Entry<'v, 't> = (&'v str, Range<usize>, What<'v, 't>);

/// The entries of a table, or what the library takes for one.
struct Entries<'v, 't, 'p> {
    rest: std::vec::IntoIter<Entry<'v, 't>>,
    value: Option<(&'v str, What<'v, 't>)>,
    way: Option<&'p Way<'p>>,
    /// Whether its keys are steps of the way. What is no entry of the text leaves its faults to the value that it stands for.
    steps: bool,
}

impl<'v, 't, 'p> Entries<'v, 't, 'p> {
    fn new(entries: Vec<Entry<'v, 't>>, way: Option<&'p Way<'p>>, steps: bool) -> Entries<'v, 't, 'p> {
        Entries { rest: entries.into_iter(), value: None, way, steps }
    }

    fn of(table: &'v DeTable<'t>, way: Option<&'p Way<'p>>) -> Entries<'v, 't, 'p> {
        let entries = table.iter().map(|(key, value)| (key.get_ref().as_ref(), key.span(), What::Value(value)));
        Entries::new(entries.collect(), way, true)
    }

    /// A value with its place, as the library asks for it: begin, end and the value.
    fn with_place(reading: Reading<'v, 't, 'p>, fields: &'static [&'static str]) -> Entries<'v, 't, 'p> {
        let span = reading.span();
        let whats = [What::Place(span.start), What::Place(span.end), reading.what];
        let entries = fields.iter().zip(whats).map(|(key, what)| (*key, 0..0, what));
        Entries::new(entries.collect(), reading.way, false)
    }

    /// A date, as the library asks for it.
    fn of_date(date: Datetime, way: Option<&'p Way<'p>>) -> Entries<'v, 't, 'p> {
        Entries::new(vec![(DAY, 0..0, What::Day(date))], way, false)
    }
}

impl<'v> MapAccess<'v> for Entries<'v, '_, '_> {
    type Error = Misfit;

    fn next_key_seed<S: DeserializeSeed<'v>>(&mut self, seed: S) -> Result<Option<S::Value>, Misfit> {
        let Some((key, span, value)) = self.rest.next() else { return Ok(None) };
        self.value = Some((key, value));
        let read = seed.deserialize(BorrowedStrDeserializer::new(key)).map(Some);
        read.map_err(|e: Misfit| if self.steps { e.at(span, self.way) } else { e })
    }

    fn next_value_seed<S: DeserializeSeed<'v>>(&mut self, seed: S) -> Result<S::Value, Misfit> {
        let (key, what) = self.value.take().ok_or_else(|| Misfit::custom("a value without a key"))?;
        let step = Way { before: self.way, step: Step::Key(key) };
        let way = if self.steps { Some(&step) } else { self.way };
        seed.deserialize(Reading { what, way }).map_err(|e| if self.steps { e.at(what.span(), way) } else { e })
    }
}

/// The items of a list.
struct Items<'v, 't, 'p> {
    rest: std::slice::Iter<'v, Spanned<DeValue<'t>>>,
    /// Whether the list begins with an item that is none.
    asks: bool,
    way: Option<&'p Way<'p>>,
}

impl<'v, 't, 'p> Items<'v, 't, 'p> {
    fn new(list: &'v [Spanned<DeValue<'t>>], way: Option<&'p Way<'p>>) -> Items<'v, 't, 'p> {
        Items { rest: list.iter(), asks: false, way }
    }
}

impl<'v> SeqAccess<'v> for Items<'v, '_, '_> {
    type Error = Misfit;

    fn next_element_seed<S: DeserializeSeed<'v>>(&mut self, seed: S) -> Result<Option<S::Value>, Misfit> {
        if std::mem::take(&mut self.asks) {
            return seed.deserialize(Reading { what: What::Nothing, way: None }).map(Some);
        }
        let Some(value) = self.rest.next() else { return Ok(None) };
        let way = Way { before: self.way, step: Step::Item };
        seed.deserialize(Reading { what: What::Value(value), way: Some(&way) })
            .map(Some)
            .map_err(|e| e.at(value.span(), Some(&way)))
    }
}

/// What the items of a list should be: asked of the type itself, by a list whose only item is none.
fn items_of<'v, V: Visitor<'v>>(visitor: V) -> Option<Box<Wanted>> {
    let asking = Items { rest: [].iter(), asks: true, way: None };
    visitor.visit_seq(asking).err().and_then(Misfit::asked).map(Box::new)
}
