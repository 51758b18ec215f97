//! What the types take that are no tables of the manifest.

use super::{Described, Shape};
use std::collections::BTreeMap;

macro_rules! whole {
    ($($kind:ty)*) => { $(
        impl Described for $kind {
            fn shape() -> Shape {
                // What TOML can write of it.
                Shape::Whole(i64::try_from(<$kind>::MIN).unwrap_or(i64::MIN), i64::try_from(<$kind>::MAX).unwrap_or(i64::MAX))
            }
        }
    )* };
}

whole! { u8 u16 u32 u64 usize i16 i64 }

macro_rules! plain {
    ($($kind:ty => $shape:expr,)*) => { $(
        impl Described for $kind {
            fn shape() -> Shape {
                $shape
            }
        }
    )* };
}

plain! {
    String => Shape::Text,
    bool => Shape::YesOrNo,
    f64 => Shape::Number,
    toml::value::Datetime => Shape::Date,
    toml::Table => Shape::Map(Box::new(Shape::Free)),
    serde::de::IgnoredAny => Shape::Free,
}

impl<T: Described> Described for Option<T> {
    fn shape() -> Shape {
        T::shape()
    }
}

impl<T: Described> Described for Box<T> {
    fn shape() -> Shape {
        T::shape()
    }
}

impl<T: Described> Described for toml::Spanned<T> {
    fn shape() -> Shape {
        T::shape()
    }
}

impl<T: Described> Described for Vec<T> {
    fn shape() -> Shape {
        Shape::List(Box::new(T::shape()))
    }
}

impl<T: Described> Described for BTreeMap<String, T> {
    fn shape() -> Shape {
        Shape::Map(Box::new(T::shape()))
    }
}
