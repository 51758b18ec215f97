//! What a list holds: asked of the type itself, by a list whose only item tells what is wanted of it.

use super::Misfit;
use super::misfit::Wanted;
use serde::Deserializer;
use serde::de::{DeserializeSeed, Error, MapAccess, SeqAccess, Visitor};

/// What the items of a list should be.
pub fn of<'d, V: Visitor<'d>>(visitor: V) -> Option<Box<Wanted>> {
    visitor.visit_seq(Ask(false)).err().and_then(Misfit::asked).map(Box::new)
}

/// A list of one item.
struct Ask(bool);

impl<'d> SeqAccess<'d> for Ask {
    type Error = Misfit;
    fn next_element_seed<S: DeserializeSeed<'d>>(&mut self, seed: S) -> Result<Option<S::Value>, Misfit> {
        if std::mem::replace(&mut self.0, true) { Ok(None) } else { seed.deserialize(Item).map(Some) }
    }
}

/// An item that answers with what it should be.
struct Item;

macro_rules! answer {
    ($($method:ident => $wanted:expr,)*) => { $(
        fn $method<V: Visitor<'d>>(self, _: V) -> Result<V::Value, Misfit> {
            Err(Misfit::answer($wanted))
        }
    )* };
}

impl<'d> Deserializer<'d> for Item {
    type Error = Misfit;

    answer! {
        deserialize_bool => Wanted::YesOrNo,
        deserialize_i8 => Wanted::Whole, deserialize_i16 => Wanted::Whole, deserialize_i32 => Wanted::Whole,
        deserialize_i64 => Wanted::Whole, deserialize_u8 => Wanted::Whole, deserialize_u16 => Wanted::Whole,
        deserialize_u32 => Wanted::Whole, deserialize_u64 => Wanted::Whole,
        deserialize_f32 => Wanted::Number, deserialize_f64 => Wanted::Number,
        deserialize_char => Wanted::Text, deserialize_str => Wanted::Text, deserialize_string => Wanted::Text,
        deserialize_bytes => Wanted::Text, deserialize_byte_buf => Wanted::Text, deserialize_identifier => Wanted::Text,
        deserialize_map => Wanted::Table,
    }

    fn deserialize_any<V: Visitor<'d>>(self, visitor: V) -> Result<V::Value, Misfit> {
        // Whatever says in its own words what it takes does so when it is given nothing.
        visitor.visit_unit()
    }

    fn deserialize_option<V: Visitor<'d>>(self, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_some(self)
    }

    fn deserialize_unit<V: Visitor<'d>>(self, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_unit()
    }

    fn deserialize_unit_struct<V: Visitor<'d>>(self, _: &'static str, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'d>>(self, _: &'static str, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'d>>(self, visitor: V) -> Result<V::Value, Misfit> {
        Err(Misfit::answer(Wanted::List(of(visitor))))
    }

    fn deserialize_tuple<V: Visitor<'d>>(self, _: usize, visitor: V) -> Result<V::Value, Misfit> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'d>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_struct<V: Visitor<'d>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        if name.starts_with(super::SPANNED) {
            return visitor.visit_map(Placed { fields, next: 0 });
        }
        let date = name.starts_with(super::DATE);
        Err(Misfit::answer(if date { Wanted::Date } else { Wanted::Keys(fields) }))
    }

    fn deserialize_enum<V: Visitor<'d>>(
        self,
        _: &'static str,
        words: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Misfit> {
        Err(Misfit::answer(Wanted::Words(words)))
    }

    fn deserialize_ignored_any<V: Visitor<'d>>(self, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_unit()
    }
}

/// An item with its place.
struct Placed {
    fields: &'static [&'static str],
    next: usize,
}

impl<'d> MapAccess<'d> for Placed {
    type Error = Misfit;

    fn next_key_seed<S: DeserializeSeed<'d>>(&mut self, seed: S) -> Result<Option<S::Value>, Misfit> {
        let key = self.fields.get(self.next);
        self.next += 1;
        key.map(|key| seed.deserialize(serde::de::value::BorrowedStrDeserializer::new(key))).transpose()
    }

    fn next_value_seed<S: DeserializeSeed<'d>>(&mut self, seed: S) -> Result<S::Value, Misfit> {
        use serde::de::IntoDeserializer;
        match self.next {
            0 => Err(Misfit::custom("a value without a key")),
            1 | 2 => seed.deserialize(0usize.into_deserializer()),
            _ => seed.deserialize(Item),
        }
    }
}
