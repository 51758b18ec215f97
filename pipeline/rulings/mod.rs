//! The built-in page designs: one file a family, one table that lists them all.
//!
//! A ruling is a struct of parameters that serde reads, with a default for each, and a drawing. `TABLE` is all that
//! the manifest and the planner know of them: adding a ruling is adding a file and a line here.

mod lined;

use crate::draw::{Fonts, Pen};
use crate::model::{Drawing, Rect};
use serde::de::DeserializeOwned;

/// What a ruling draws on.
pub struct Desk<'a> {
    /// The writing areas, one or two (a spread has two of equal size, left first). Margins are already taken
    /// off: nothing may be drawn outside of them.
    pub areas: Vec<Rect>,
    /// Line weights and colours.
    pub pen: Pen,
    /// The product's fonts.
    pub fonts: &'a Fonts,
    /// Corner radius of boxes in points.
    pub corner: f64,
}

impl Desk<'_> {
    /// The same desk with other areas.
    pub fn on(&self, areas: Vec<Rect>) -> Desk<'_> {
        Desk { areas, pen: self.pen, fonts: self.fonts, corner: self.corner }
    }
}

/// A ruling: parameters with defaults, and a drawing.
trait Ruling: DeserializeOwned {
    /// What is wrong with parameters that serde accepts one by one (a range, a pair that does not fit), with a
    /// way to mend it.
    fn check(&self) -> Result<(), String> {
        Ok(())
    }

    /// Draws it.
    fn draw(&self, desk: &Desk) -> Drawing;
}

/// A row of the table.
pub struct Entry {
    /// Its name in the manifest.
    pub name: &'static str,
    /// What it is, in a few words.
    pub what: &'static str,
    check: fn(toml::de::ValueDeserializer<'_>) -> Result<Result<(), String>, toml::de::Error>,
    draw: fn(&toml::Table, &Desk) -> Option<Drawing>,
}

impl Entry {
    /// Reads parameters and says what is wrong with them: serde's error carries its own place in the text, the
    /// inner one is about the whole table.
    pub fn check(&self, with: toml::de::ValueDeserializer<'_>) -> Result<Result<(), String>, toml::de::Error> {
        (self.check)(with)
    }

    /// Draws it with these parameters; `None` when `check` would refuse them.
    pub fn draw(&self, with: &toml::Table, desk: &Desk) -> Option<Drawing> {
        (self.draw)(with, desk)
    }
}

const fn entry<R: Ruling>(name: &'static str, what: &'static str) -> Entry {
    Entry {
        name,
        what,
        check: |with| R::deserialize(with).map(|r| r.check()),
        draw: |with, desk| {
            let ruling = R::deserialize(with.clone()).ok()?;
            ruling.check().ok()?;
            Some(ruling.draw(desk))
        },
    }
}

/// Every ruling, by name.
pub static TABLE: &[Entry] = &[entry::<lined::Lined>("lined", "rules from edge to edge")];

/// The ruling of this name.
pub fn find(name: &str) -> Option<&'static Entry> {
    TABLE.iter().find(|e| e.name == name)
}
