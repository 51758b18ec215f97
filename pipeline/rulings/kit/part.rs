//! What a part is, as it is written in a manifest, and what may be wrong with it.

use super::super::params::{Mark, length};
use base::keys::Described;
use serde::Deserialize;

/// A part of a page.
#[derive(Clone, Debug, Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Part {
    /// What it is.
    pub part: Kind,
    /// What stands above it; of a text the text itself.
    #[serde(default)]
    pub label: String,
    /// Names of its fields, columns, boxes, bars or rings, from the left and from above; `""` leaves one to write in.
    #[serde(default)]
    pub labels: Vec<String>,
    /// What stands at the left of its rows, one for each row: of a table, of dots.
    #[serde(default)]
    pub names: Vec<String>,
    /// How many rows there are; by default as many as the page has room for.
    /// Range: 1 to 200.
    #[serde(default)]
    pub rows: Option<usize>,
    /// Boxes, cards or rows to tick side by side; by default what suits the width.
    /// Range: 1 to 8.
    #[serde(default)]
    pub columns: Option<usize>,
    /// Widths of its fields or columns, in proportion.
    /// Range: 0.1 to 20.
    #[serde(default)]
    pub widths: Vec<f64>,
    /// What each column of a table holds, from the left: `text`, `tick` or `dots`; text by default.
    #[serde(default)]
    pub holds: Vec<Holds>,
    /// Dots in a row, steps of a bar, a ring or a scale, stations of a timeline, cards.
    /// Range: 1 to 100.
    #[serde(default)]
    pub count: Option<usize>,
    /// What its boxes hold.
    #[serde(default)]
    pub fill: Fill,
    /// Box or circle, where something is ticked.
    #[serde(default)]
    pub mark: Mark,
    /// Whether it stands beside the part before it, where there is width for both.
    #[serde(default)]
    pub beside: bool,
    /// Its share of the height that is free; 1 by default.
    /// Range: 0.1 to 10.
    #[serde(default)]
    pub share: Option<f64>,
    /// Its share of the width beside others; 1 by default.
    /// Range: 0.1 to 10.
    #[serde(default)]
    pub width: Option<f64>,
    /// Whether its rows are as high as the page has room for, where less would be enough and nothing else can grow.
    #[serde(skip)]
    pub stretched: bool,
}

/// What a part is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Lines to write on.
    #[default]
    Lines,
    /// Rows with a box to tick.
    Ticks,
    /// Named fields side by side, each a line to write on.
    Fields,
    /// Rows and columns below a heading row.
    Table,
    /// Boxes with names.
    Boxes,
    /// Cards, each with the same named lines.
    Cards,
    /// Rows of circles to fill in.
    Dots,
    /// Bars to fill in step by step, each with a name.
    Bars,
    /// Rings to fill in step by step, each with a name.
    Rings,
    /// One row of numbered circles, with a name at either end.
    Scale,
    /// Stations on a line from above downwards, each with room for a date and lines.
    Timeline,
    /// A few sentences.
    Text,
}

/// What a column of a table holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum Holds {
    /// Room to write.
    #[default]
    Text,
    /// A box to tick.
    Tick,
    /// Circles to fill in; `count` says how many, 5 by default.
    Dots,
}

/// What boxes hold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum Fill {
    /// Nothing.
    #[default]
    Open,
    /// Lines, without a frame.
    Lines,
    /// Rows to tick, without a frame.
    Ticks,
    /// A dot grid.
    Dots,
    /// Cards one below another, to write on.
    Slips,
}

impl Kind {
    /// As it is written, and the keys that it takes beside those that all take.
    fn told(self) -> (&'static str, &'static [&'static str]) {
        match self {
            Kind::Lines => ("lines", &["rows"]),
            Kind::Ticks => ("ticks", &["rows", "columns"]),
            Kind::Fields => ("fields", &["labels", "widths", "rows"]),
            Kind::Table => ("table", &["labels", "names", "rows", "widths", "holds", "count"]),
            Kind::Boxes => ("boxes", &["labels", "columns", "fill", "rows"]),
            Kind::Cards => ("cards", &["labels", "columns", "count"]),
            Kind::Dots => ("dots", &["names", "count"]),
            Kind::Bars => ("bars", &["labels", "count"]),
            Kind::Rings => ("rings", &["labels", "count", "rows"]),
            Kind::Scale => ("scale", &["labels", "count"]),
            Kind::Timeline => ("timeline", &["count", "rows"]),
            Kind::Text => ("text", &[]),
        }
    }
}

impl Part {
    /// What is wrong with it as the part number `i`, from 0.
    pub fn check(&self, i: usize) -> Result<(), String> {
        let (kind, takes) = self.part.told();
        let here = format!("part {} ({kind})", i + 1);
        let said = |what: String| format!("{here}: {what}");
        let given = [
            ("labels", !self.labels.is_empty()),
            ("names", !self.names.is_empty()),
            ("rows", self.rows.is_some()),
            ("columns", self.columns.is_some()),
            ("widths", !self.widths.is_empty()),
            ("holds", !self.holds.is_empty()),
            ("count", self.count.is_some()),
            ("fill", self.fill != Fill::Open),
        ];
        if let Some((key, _)) = given.iter().find(|(key, given)| *given && !takes.contains(key)) {
            let others =
                if takes.is_empty() { "label alone".to_owned() } else { format!("label, {}", takes.join(", ")) };
            return Err(said(format!("it has no use for {key}; it takes {others}, and where it stands")));
        }
        if i == 0 && self.beside {
            return Err(said("it is the first, and stands beside none; take beside out".into()));
        }
        let needs = match self.part {
            Kind::Fields | Kind::Table | Kind::Boxes | Kind::Cards | Kind::Bars | Kind::Rings => {
                self.labels.is_empty().then_some("labels, one for each")
            }
            Kind::Dots => self.names.is_empty().then_some("names, one for each row"),
            Kind::Text => self.label.is_empty().then_some("label, the text itself"),
            Kind::Lines | Kind::Ticks | Kind::Scale | Kind::Timeline => None,
        };
        if let Some(needs) = needs {
            return Err(said(format!("it needs {needs}")));
        }
        let lengths = [("labels", self.labels.len(), 0..=40), ("names", self.names.len(), 0..=60)];
        lengths.into_iter().try_for_each(|(key, n, range)| length(key, n, range).map_err(said))?;
        for (key, n) in [("widths", self.widths.len()), ("holds", self.holds.len())] {
            if n > self.labels.len() {
                let fields = self.labels.len();
                return Err(said(format!("{key} has {n} entries for {fields} labels; give at most one for each")));
            }
        }
        Ok(())
    }

    /// What column `i` of a table holds.
    pub fn held(&self, i: usize) -> Holds {
        self.holds.get(i).copied().unwrap_or_default()
    }

    /// The width of column or field `i`, in proportion.
    pub fn wide(&self, i: usize) -> f64 {
        self.widths.get(i).copied().unwrap_or(1.0)
    }

    /// Circles of a row, or steps.
    pub fn steps(&self, usual: usize) -> usize {
        self.count.unwrap_or(usual)
    }
}
