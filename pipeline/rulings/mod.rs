//! The built-in page designs: one file a family, one table that lists them all.
//!
//! A ruling is a struct of parameters that serde reads, with a default for each, and a drawing. `TABLE` is all that
//! the manifest and the planner know of them: adding a ruling is adding a file and a line here.

mod chart;
mod day;
mod grids;
mod habits;
mod lattices;
mod lined;
mod lists;
mod month;
mod notes;
mod params;
mod parts;
mod staves;
mod storyboard;
#[cfg(test)]
mod tests;
mod week;
mod year;

pub use params::Weekday;

use crate::draw::{Fonts, Pen};
use crate::model::{Drawing, Rect};
use serde::de::DeserializeOwned;

/// What a ruling draws on.
pub struct Desk<'a> {
    /// The writing areas, one or two (a spread has two of equal size, left first). Margins are already taken
    /// off: no line leaves them, at most half of a line's own width lies over their edge.
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

    /// The same desk with another pen.
    fn with(&self, pen: Pen) -> Desk<'_> {
        Desk { areas: self.areas.clone(), pen, fonts: self.fonts, corner: self.corner }
    }
}

/// The two halves of a page, for a template with one ruling beside another: the papers of a spread; else above and
/// below on an upright page, left and right on a wide one. `gap` points lie between them; above and below it is also
/// the baseline grid, so that the lower half goes on where the lines of the upper one would: give the pitch.
pub fn halves(areas: &[Rect], gap: f64) -> (Vec<Rect>, Vec<Rect>) {
    match areas {
        [] => (Vec::new(), Vec::new()),
        [one] if one.w > one.h => {
            let halves = one.columns(2, gap.min(one.w));
            (vec![halves[0]], vec![halves[1]])
        }
        [one] => {
            let rows = parts::fits(one.h, gap).saturating_sub(1);
            let above = (rows / 2).max(1) as f64 * gap;
            let below = (one.h - above - gap).max(0.0);
            (
                vec![Rect { h: above.min(one.h), ..*one }],
                vec![Rect::new(one.x, (one.y + above + gap).min(one.bottom()), one.w, below)],
            )
        }
        [first, rest @ ..] => (vec![*first], rest.to_vec()),
    }
}

/// A ruling: parameters with defaults, and a drawing.
trait Ruling: DeserializeOwned {
    /// What is wrong with parameters that serde accepts one by one (a range, a pair that does not fit), with a
    /// way to mend it.
    fn check(&self) -> Result<(), String> {
        Ok(())
    }

    /// Distance of its lines in points, where it has one that is fixed: what stands beside it keeps to the same grid.
    fn pitch(&self) -> Option<f64> {
        None
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
    reads: fn(&toml::Table) -> bool,
    pitch: fn(&toml::Table) -> Option<f64>,
    draw: fn(&toml::Table, &Desk) -> Option<Drawing>,
}

impl Entry {
    /// Reads parameters and says what is wrong with them: serde's error carries its own place in the text, the
    /// inner one is about the whole table.
    pub fn check(&self, with: toml::de::ValueDeserializer<'_>) -> Result<Result<(), String>, toml::de::Error> {
        (self.check)(with)
    }

    /// Whether it knows all of these parameters.
    pub fn reads(&self, with: &toml::Table) -> bool {
        (self.reads)(with)
    }

    /// Distance of its lines in points with these parameters, for `halves`; `None` where it has no fixed one.
    pub fn pitch(&self, with: &toml::Table) -> Option<f64> {
        (self.pitch)(with)
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
        reads: |with| R::deserialize(with.clone()).is_ok(),
        pitch: |with| R::deserialize(with.clone()).ok()?.pitch(),
        draw: |with, desk| {
            let ruling = R::deserialize(with.clone()).ok()?;
            ruling.check().ok()?;
            Some(ruling.draw(desk))
        },
    }
}

/// Every ruling, by name.
pub static TABLE: &[Entry] = &[
    entry::<lined::Blank>("blank", "an empty page"),
    entry::<lined::Lined>("lined", "rules from edge to edge"),
    entry::<lined::MarginRuled>("margin-ruled", "rules with a margin line"),
    entry::<lined::Titled>("titled", "rules below a title and a date"),
    entry::<grids::SquareGrid>("square-grid", "squares"),
    entry::<grids::DotGrid>("dot-grid", "dots in rows and columns"),
    entry::<lattices::Isometric>("isometric", "triangles for drawing solids"),
    entry::<lattices::Hexagons>("hexagons", "a honeycomb"),
    entry::<chart::Chart>("chart", "rows and columns below a heading row"),
    entry::<lists::TwoColumnList>("two-column-list", "two columns of rules under headings"),
    entry::<lists::Checklist>("checklist", "rows with a box to tick"),
    entry::<notes::CueNotes>("cue-notes", "notes beside cue words, with a summary at the foot"),
    entry::<day::Day>("day", "a day by the hour, with things to do and notes"),
    entry::<week::Week>("week", "a week with named days and lines"),
    entry::<week::OpenWeek>("open-week", "a week in open boxes"),
    entry::<month::Month>("month", "a month grid without dates"),
    entry::<year::Year>("year", "twelve months at a glance"),
    entry::<habits::Habits>("habits", "habits in rows, days in columns"),
    entry::<staves::Staves>("staves", "music staves"),
    entry::<storyboard::Storyboard>("storyboard", "picture frames with lines below"),
];

/// The ruling of this name.
pub fn find(name: &str) -> Option<&'static Entry> {
    TABLE.iter().find(|e| e.name == name)
}
