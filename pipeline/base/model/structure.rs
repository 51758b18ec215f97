//! How a notebook is put together: which parts it has and in which order, and the pages that sections begin with.

use super::placed::PlacedSticker;
use serde::Serialize;
use serde_json::{Map, Value};

/// A part of a notebook.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Part {
    /// The cover.
    Cover,
    /// The welcome page.
    Welcome,
    /// The index.
    Index,
    /// The sections with what lies behind them.
    Sections,
    /// The overview of the templates.
    Overview,
    /// A page of each template that is offered.
    Templates,
}

/// The parts of a notebook.
#[derive(Clone, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Parts {
    /// Those that there are, in their order; sections are always among them.
    pub order: Vec<Part>,
    /// Whether a divider stands before each section.
    pub dividers: bool,
    /// Whether the title stands at the foot of pages and leads to the cover.
    pub foot: bool,
    /// Whether marks at the foot lead to the overview, and without a coil to the index.
    pub marks: bool,
}

impl Default for Parts {
    /// All of them, in the usual order.
    fn default() -> Parts {
        use Part::{Cover, Index, Overview, Sections, Templates, Welcome};
        let order = vec![Cover, Welcome, Index, Sections, Overview, Templates];
        Parts { order, dividers: true, foot: true, marks: true }
    }
}

impl Parts {
    /// Whether it has this part.
    pub fn has(&self, part: Part) -> bool {
        self.order.contains(&part)
    }

    /// Whether a part comes behind the sections.
    pub fn is_behind(&self, part: Part) -> bool {
        let at = |wanted| self.order.iter().position(|p| *p == wanted);
        at(part) > at(Part::Sections)
    }
}

/// A page that stands behind a section's divider.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize)]
pub struct Leaf {
    /// Index of its template.
    pub template: usize,
    /// A name of its own; empty for that of its template.
    pub name: String,
    /// What links call it by; empty without a name.
    pub slug: String,
    /// What its drawing can say, beside the data of the product.
    #[borsh(serialize_with = "as_json")]
    pub data: Map<String, Value>,
    /// Stickers that stand on it, bottom first.
    pub stickers: Vec<PlacedSticker>,
}

impl Leaf {
    /// Pages of a template without anything of their own.
    pub fn plain(template: usize) -> Leaf {
        Leaf { template, ..Leaf::default() }
    }

    /// Whether it is like any other page of its template, but for stickers on it.
    pub fn is_plain(&self) -> bool {
        self.name.is_empty() && self.data.is_empty()
    }
}

/// Values whose shape is the designer's own, in a key: as text.
pub(super) fn as_json<W: borsh::io::Write>(value: &impl Serialize, out: &mut W) -> borsh::io::Result<()> {
    borsh::BorshSerialize::serialize(&serde_json::to_string(value).map_err(borsh::io::Error::other)?, out)
}
