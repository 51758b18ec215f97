//! Numbers held against the ranges that their keys' comments state: what is told is what is enforced.

use super::{Bounds, Key, Shape, Table};
use toml::de::DeValue;
use toml::{Spanned, Value};

/// A value of TOML, with or without its place in a text.
pub trait Node {
    /// The number that it is.
    fn number(&self) -> Option<f64>;
    /// What stands under this key of it.
    fn entry(&self, key: &str) -> Option<&Self>;
    /// What it is a list of.
    fn items(&self) -> &[Self]
    where
        Self: Sized;
}

impl Node for Value {
    fn number(&self) -> Option<f64> {
        match self {
            Value::Integer(n) => Some(*n as f64),
            Value::Float(n) => Some(*n),
            _ => None,
        }
    }

    fn entry(&self, key: &str) -> Option<&Value> {
        self.as_table()?.get(key)
    }

    fn items(&self) -> &[Value] {
        self.as_array().map_or(&[], Vec::as_slice)
    }
}

impl Node for Spanned<DeValue<'_>> {
    fn number(&self) -> Option<f64> {
        match self.get_ref() {
            DeValue::Integer(n) => i64::from_str_radix(n.as_str(), n.radix()).ok().map(|n| n as f64),
            DeValue::Float(n) => n.as_str().parse().ok(),
            _ => None,
        }
    }

    fn entry(&self, key: &str) -> Option<&Self> {
        self.get_ref().as_table()?.get(key)
    }

    fn items(&self) -> &[Self] {
        match self.get_ref() {
            DeValue::Array(list) => list,
            _ => &[],
        }
    }
}

/// A number that lies outside of its range.
#[derive(Debug)]
pub struct Outside<'n, N> {
    /// The number at its place.
    pub node: &'n N,
    /// What is wrong, with the range: "`pitch` cannot be 1: it takes 2 to 50 mm".
    pub message: String,
}

impl Table {
    /// The first number outside of the range that its key states; `entry` gives what stands under a key.
    pub fn outside<'n, N: Node>(&self, entry: impl Fn(&str) -> Option<&'n N>) -> Option<Outside<'n, N>> {
        self.keys.iter().find_map(|key| outside(&(key.shape)(), key, key.bounds(), entry(key.name)?))
    }
}

fn outside<'n, N: Node>(shape: &Shape, key: &Key, bounds: Option<Bounds>, node: &'n N) -> Option<Outside<'n, N>> {
    match shape {
        Shape::Whole(..) | Shape::Number => {
            let (bounds, number) = (bounds?, node.number()?);
            // A number that is none (`nan`) lies within nothing.
            if bounds.hold(number) {
                return None;
            }
            let range = key.told().range.unwrap_or_default();
            Some(Outside { node, message: format!("`{}` cannot be {number}: it takes {range}", key.name) })
        }
        Shape::Table(table) => table.outside(|key| node.entry(key)),
        Shape::List(inner) => node.items().iter().find_map(|item| outside(inner, key, bounds, item)),
        Shape::Either(some) => some.iter().find_map(|one| outside(one, key, bounds, node)),
        _ => None,
    }
}
