//! The layouts of listing pictures that come with the tool: their names, and what they show. Their words are in `wording`.
//!
//! Both the manifest, which looks names up, and the stage that composes pictures (and holds the drawings) read this table. A layout is one
//! thought: one thing that leads, a few words, the product over most of the area.

/// A layout that comes with the tool.
pub struct Layout {
    /// Its name in the manifest.
    pub name: &'static str,
    /// What must be there for it.
    pub needs: Needs,
    /// Whether it moves.
    pub moves: bool,
    /// What it shows.
    pub shows: &'static str,
    /// The pages that it picks: places, the first that are there count. A `*` stands for every place of that kind,
    /// and `dated/*` for a month, a week, a day, a year and a quarter that belong together.
    pub pages: &'static [&'static str],
}

/// What a layout shows first of all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Needs {
    /// Pages of a notebook.
    Notebook,
    /// The cover of a notebook.
    Cover,
    /// Templates that are offered.
    Templates,
    /// Sections.
    Sections,
    /// Alternate covers.
    Covers,
    /// Stickers.
    Stickers,
    /// Variants of a notebook.
    Variants,
    /// Dated pages.
    Dates,
    /// Products that go with it, or that it is made of.
    Kin,
}

impl Needs {
    /// The same in words.
    pub const fn words(self) -> &'static str {
        match self {
            Needs::Notebook => "a notebook",
            Needs::Cover => "a notebook with \"cover\" among its parts",
            Needs::Templates => "a notebook with \"templates\" among its parts",
            Needs::Sections => "a notebook with sections",
            Needs::Covers => "alternate covers",
            Needs::Stickers => "stickers",
            Needs::Dates => "[calendar] and [[notebook.dated]]",
            Needs::Kin => "goes-with, or a [set]",
            Needs::Variants => "[variants] whose notebooks look different from outside",
        }
    }
}

/// Every layout, in the order of the usual set.
pub const TABLE: &[Layout] = &[
    Layout {
        name: "cover",
        needs: Needs::Cover,
        moves: false,
        shows: "the closed notebook, and on a level picture pages behind an upright one",
        pages: &["cover", "dated/*", "template/*"],
    },
    Layout {
        name: "year",
        needs: Needs::Dates,
        moves: false,
        shows: "the year of a planner set large above its page",
        pages: &["year/*", "dated/*"],
    },
    Layout {
        name: "dates",
        needs: Needs::Dates,
        moves: false,
        shows: "a month, a week and a day of a planner beside each other",
        pages: &["dated/*"],
    },
    Layout {
        name: "inside",
        needs: Needs::Notebook,
        moves: false,
        shows: "what is in the bundle, with its numbers",
        pages: &["dated/*", "section/*", "index", "template/*"],
    },
    Layout {
        name: "fan",
        needs: Needs::Notebook,
        moves: false,
        shows: "a fan of pages",
        pages: &["dated/*", "template/*", "section/*", "index"],
    },
    Layout {
        name: "templates",
        needs: Needs::Templates,
        moves: false,
        shows: "page templates with their names: all, or of more than twelve the nine that show most, or those that `pages` names",
        pages: &["template/*"],
    },
    Layout {
        name: "tabs",
        needs: Needs::Sections,
        moves: false,
        shows: "the tabs from near by",
        pages: &["first-month", "index"],
    },
    Layout {
        name: "frame",
        needs: Needs::Notebook,
        moves: false,
        shows: "a page in a plain frame",
        pages: &["dated/*", "section/*", "template/*"],
    },
    Layout { name: "covers", needs: Needs::Covers, moves: false, shows: "the covers beside each other", pages: &[] },
    Layout {
        name: "colourways",
        needs: Needs::Variants,
        moves: false,
        shows: "the variants beside each other",
        pages: &[],
    },
    Layout {
        name: "stickers",
        needs: Needs::Stickers,
        moves: false,
        shows: "the stickers laid out at one scale",
        pages: &[],
    },
    Layout {
        name: "together",
        needs: Needs::Kin,
        moves: false,
        shows: "the product beside those that go with it, or the products of a set beside each other",
        pages: &[],
    },
    Layout {
        name: "flip-through",
        needs: Needs::Notebook,
        moves: true,
        shows: "a short silent loop through pages, a dot where one taps; with `format = \"mp4\"` a film in which pages turn",
        pages: &[],
    },
];

/// The layout of this name.
pub fn find(name: &str) -> Option<&'static Layout> {
    TABLE.iter().find(|l| l.name == name)
}

/// The names of all layouts.
pub fn names() -> Vec<&'static str> {
    TABLE.iter().map(|l| l.name).collect()
}
