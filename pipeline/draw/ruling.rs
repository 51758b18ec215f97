//! What a page design is to those who use one: a row of a table, with a name, parameters and a drawing.
//!
//! The designs themselves stand in the crate `rulings`, which only the program names: it hands their table to the stages.
//! So a change in one of them compiles that crate and the program, and nothing else.

use crate::{Fonts, Pen};
use base::keys::{self, Described, Shape};
use base::model::dated::{DatedKind, DatedPage};
use base::model::{Drawing, Rect};
use base::reading::{Misfit, Reading};
use serde::de::DeserializeOwned;

/// The rulings that there are.
pub type Table = &'static [Entry];

/// The ruling of this name.
pub fn find(table: Table, name: &str) -> Option<&'static Entry> {
    table.iter().find(|e| e.name == name)
}

/// How often a whole length fits into a span; a hair of rounding does not cost a row.
pub fn fits(span: f64, length: f64) -> usize {
    if length <= 0.0 || !span.is_finite() { 0 } else { ((span + 1e-6) / length).floor().max(0.0) as usize }
}

/// What a ruling draws on.
pub struct RulingContext<'a> {
    /// The writing areas, one or two (a spread has two of equal size, left first). Margins are already taken
    /// off: no line leaves them, at most half of a line's own width lies over their edge.
    pub areas: Vec<Rect>,
    /// Line weights and colours.
    pub pen: Pen,
    /// The product's fonts.
    pub fonts: &'a Fonts,
    /// Corner radius of boxes in points.
    pub corner: f64,
    /// Whether the left hand writes: margins, cue columns and boxes to tick lie on the right then.
    pub left: bool,
    /// The longer side of the page in points: the longer it is, the smaller a screen shows what is drawn on it.
    pub long_side: f64,
}

impl RulingContext<'_> {
    /// The same context with other areas.
    pub fn on(&self, areas: Vec<Rect>) -> RulingContext<'_> {
        RulingContext { areas, ..*self }
    }

    /// The same context with another pen.
    pub fn with(&self, pen: Pen) -> RulingContext<'_> {
        RulingContext { areas: self.areas.clone(), pen, ..*self }
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
            let rows = fits(one.h, gap).saturating_sub(1);
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
pub trait Ruling: DeserializeOwned + Described {
    /// What is wrong with parameters that are good one by one (a pair that does not fit), with a way to mend it. Ranges
    /// of numbers are those that the comments of their keys state, and are held before this is asked.
    fn check(&self) -> Result<(), String> {
        Ok(())
    }

    /// Distance of its lines in points, where it has one that is fixed: what stands beside it keeps to the same grid.
    fn pitch(&self) -> Option<f64> {
        None
    }

    /// Draws it.
    fn draw(&self, context: &RulingContext) -> Drawing;
}

/// A row of the table.
pub struct Entry {
    /// Its name in the manifest.
    pub name: &'static str,
    /// What it is, in a few words.
    pub what: &'static str,
    shape: fn() -> Shape,
    check: fn(Reading) -> Result<Result<(), String>, Misfit>,
    reads: fn(&toml::Table) -> bool,
    pitch: fn(&toml::Table) -> Option<f64>,
    draw: fn(&toml::Table, &RulingContext) -> Option<Drawing>,
}

impl Entry {
    /// Its parameters.
    pub fn parameters(&self) -> keys::Table {
        table_of(self.shape)
    }

    /// Reads parameters and says what is wrong with them: a misfit carries its own place in the text, the inner one is
    /// about the whole table.
    pub fn check(&self, with: Reading) -> Result<Result<(), String>, Misfit> {
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
    pub fn draw(&self, with: &toml::Table, context: &RulingContext) -> Option<Drawing> {
        (self.draw)(with, context)
    }
}

/// A row of the table for a ruling.
pub const fn entry<R: Ruling>(name: &'static str, what: &'static str) -> Entry {
    Entry {
        name,
        what,
        shape: R::shape,
        check: |with| {
            let ruling = R::deserialize(with)?;
            with.kept(&table_of(R::shape))?;
            Ok(ruling.check())
        },
        reads: |with| R::deserialize(with.clone()).is_ok(),
        pitch: |with| R::deserialize(with.clone()).ok()?.pitch(),
        draw: |with, context| Some(good::<R>(with)?.draw(context)),
    }
}

/// The keys of a ruling's parameters.
fn table_of(shape: fn() -> Shape) -> keys::Table {
    match shape() {
        Shape::Table(table) => table,
        _ => keys::Table { name: "", doc: "", keys: Vec::new() },
    }
}

/// A ruling with parameters that nothing is wrong with.
fn good<R: Ruling>(with: &toml::Table) -> Option<R> {
    let ruling = R::deserialize(with.clone()).ok()?;
    let kept = table_of(R::shape).outside(|key| with.get(key)).is_none();
    (kept && ruling.check().is_ok()).then_some(ruling)
}

/// What a dated ruling drew: what all pages of a set may share, what is this page's own, and where its numbers and names
/// lead. The planner keeps equal grounds once.
#[derive(Clone, Debug, Default)]
pub struct DatedDrawing {
    /// Lines and words that hold no date: the same for all pages of a set that are laid out alike.
    pub ground: Drawing,
    /// Numbers, names, events, and whatever else is this page's own.
    pub layer: Drawing,
    /// Tap areas, with the places that they lead to.
    pub taps: Vec<(Rect, String)>,
    /// Of a blank page the areas below its head, where a ruling that knows no dates may be drawn.
    pub free: Vec<Rect>,
}

/// A ruling that can be drawn for a date.
pub trait DatedRuling: Ruling {
    /// The kinds of pages that it is made for.
    const KINDS: &'static [DatedKind];

    /// Draws it for a page.
    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing;
}

/// All rulings: those without dates, and those with.
#[derive(Clone, Copy)]
pub struct Rulings {
    /// Rulings of templates.
    pub plain: Table,
    /// Rulings of dated pages.
    pub dated: DatedTable,
}

impl Rulings {
    /// The dated ruling of this name that is made for this kind of page.
    pub fn dated(&self, name: &str, kind: DatedKind) -> Option<&'static DatedEntry> {
        self.dated.iter().find(|entry| entry.entry.name == name && entry.kinds.contains(&kind))
    }

    /// The dated ruling that a kind of page has where nothing is said: the first that is made for it before all.
    pub fn usual(&self, kind: DatedKind) -> Option<&'static DatedEntry> {
        let first = self.dated.iter().find(|entry| entry.kinds.first() == Some(&kind));
        first.or_else(|| self.dated.iter().find(|entry| entry.kinds.contains(&kind)))
    }
}

/// The dated rulings that there are.
pub type DatedTable = &'static [DatedEntry];

/// A row of the table of dated rulings.
pub struct DatedEntry {
    /// Its name and its parameters, as of any ruling.
    pub entry: Entry,
    /// The kinds of pages that it is made for, the one that takes it by default first.
    pub kinds: &'static [DatedKind],
    draw: fn(&toml::Table, &RulingContext, &DatedPage) -> Option<DatedDrawing>,
}

impl DatedEntry {
    /// Draws it with these parameters; `None` when `check` would refuse them.
    pub fn draw(&self, with: &toml::Table, context: &RulingContext, page: &DatedPage) -> Option<DatedDrawing> {
        (self.draw)(with, context, page)
    }
}

/// A row of the table for a dated ruling.
pub const fn dated<R: DatedRuling>(name: &'static str, what: &'static str) -> DatedEntry {
    DatedEntry {
        entry: entry::<R>(name, what),
        kinds: R::KINDS,
        draw: |with, context, page| Some(good::<R>(with)?.draw_dated(context, page)),
    }
}
