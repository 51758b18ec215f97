//! What can be written in a manifest, told by the types that it is read into: the one source of the manual, of the schema for
//! editors and of `explain`.
//!
//! `#[derive(Described)]` takes names and doc comments of a table; a type that reads its value by hand says by hand what it
//! takes. In the comment of a key, after what it does, may follow: `Range: 36 to 2400 dpi.`, `Default: 300.` and
//! `Example: …`, which is what one would write, as many lines as are needed. The schema takes the bounds of a number out of
//! its range.

mod kinds;
mod ranges;

pub use describe::Described;
pub use ranges::{Node, Outside};

/// The form of a colour.
pub const COLOUR: &str = r"^\s*#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})\s*$";

/// A type that a value of the manifest is read into.
pub trait Described {
    /// What may stand there.
    fn shape() -> Shape;
}

/// What may stand in the place of a value.
#[derive(Clone, Debug)]
pub enum Shape {
    /// A text of any kind.
    Text,
    /// A text of a form: what it is in words, and as a regular expression of ECMA-262, which JSON Schema uses.
    Form(&'static str, &'static str),
    /// A whole number, with the bounds that its type has.
    Whole(i64, i64),
    /// A number.
    Number,
    /// `true` or `false`.
    YesOrNo,
    /// A day, or a day with a time, as TOML writes it.
    Date,
    /// One of these words.
    Words(Vec<Word>),
    /// One of these numbers.
    Numbers(&'static [i64]),
    /// A table with keys of its own.
    Table(Table),
    /// A list of such.
    List(Box<Shape>),
    /// A table with keys of any name.
    Map(Box<Shape>),
    /// Anything at all.
    Free,
    /// One of several.
    Either(Vec<Shape>),
}

/// A word that a key takes.
#[derive(Clone, Copy, Debug)]
pub struct Word {
    /// As it is written.
    pub word: &'static str,
    /// What it means.
    pub doc: &'static str,
}

/// A table of the manifest.
#[derive(Clone, Debug)]
pub struct Table {
    /// The name of its type: the same table at two places has one name.
    pub name: &'static str,
    /// What it is for.
    pub doc: &'static str,
    /// Its keys, in their order.
    pub keys: Vec<Key>,
}

impl Table {
    /// The key of this name.
    pub fn key(&self, name: &str) -> Option<&Key> {
        self.keys.iter().find(|key| key.name == name)
    }
}

/// A key of a table.
#[derive(Clone, Debug)]
pub struct Key {
    /// As it is written.
    pub name: &'static str,
    /// Its comment, as it stands above the field.
    pub doc: &'static str,
    /// The table of names that its text is out of, where only the program knows it: `ruling`, `motif`, …
    pub of: Option<&'static str>,
    /// Whether it cannot be left out.
    pub needed: bool,
    /// What it takes. A table may lead back to itself, so it is asked for where it is wanted.
    pub shape: fn() -> Shape,
}

/// The parts of a key's comment.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Doc {
    /// What the key does.
    pub text: String,
    /// From where to where, with the unit.
    pub range: Option<String>,
    /// What counts where the key is left out.
    pub default: Option<String>,
    /// What one would write.
    pub example: Option<String>,
}

impl Key {
    /// The parts of its comment.
    pub fn told(&self) -> Doc {
        Doc::of(self.doc)
    }

    /// The bounds of its range. Asked for each page that is drawn, so only the range is read.
    pub fn bounds(&self) -> Option<Bounds> {
        Bounds::of(self.doc.split_once("Range: ")?.1)
    }
}

impl Doc {
    /// Takes a comment apart. An example stands between grave accents, one for each line.
    pub fn of(doc: &str) -> Doc {
        let mut out = Doc::default();
        let (before, example) = doc.split_once("Example: ").map_or((doc, None), |(b, e)| (b, Some(e)));
        out.example = example.map(|e| {
            let lines: Vec<&str> = e.lines().map(|l| l.trim().trim_end_matches('.').trim_matches('`')).collect();
            lines.join("\n")
        });
        let plain = before.split_whitespace().collect::<Vec<_>>().join(" ");
        let (plain, default) = plain.split_once("Default: ").map_or((plain.as_str(), None), |(b, d)| (b, Some(d)));
        let (text, range) = plain.split_once("Range: ").map_or((plain, None), |(t, r)| (t, Some(r)));
        let whole = |part: &str| part.trim().trim_end_matches('.').to_owned();
        out.text = text.trim().to_owned();
        out.range = range.map(whole);
        out.default = default.map(whole);
        out
    }

    /// The bounds of its range.
    pub fn bounds(&self) -> Option<Bounds> {
        Bounds::of(self.range.as_deref()?)
    }
}

/// From where to where a number may go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// The least.
    pub from: f64,
    /// Whether the least is itself too little.
    pub beyond: bool,
    /// The most, which is allowed.
    pub to: Option<f64>,
}

impl Bounds {
    /// Those that a range begins with: `36 to 2400 dpi`, `0 or more`, `more than 0 megabytes`.
    fn of(range: &str) -> Option<Bounds> {
        let number = |word: &str| word.trim_end_matches('.').replace(',', "").parse::<f64>().ok();
        let mut words = range.split_whitespace();
        let (first, second, third) = (words.next()?, words.next()?, words.next()?);
        match (first, second, third) {
            ("more", "than", from) => Some(Bounds { from: number(from)?, beyond: true, to: None }),
            (from, "or", more) if more.trim_end_matches('.') == "more" => {
                Some(Bounds { from: number(from)?, beyond: false, to: None })
            }
            (from, "to", to) => Some(Bounds { from: number(from)?, beyond: false, to: Some(number(to)?) }),
            _ => None,
        }
    }

    /// Whether a number lies within.
    pub fn hold(self, number: f64) -> bool {
        let above = if self.beyond { number > self.from } else { number >= self.from };
        above && self.to.is_none_or(|to| number <= to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What it is.
    #[derive(Default, serde::Deserialize, Described)]
    #[serde(rename_all = "kebab-case", default)]
    #[keys(here)]
    #[allow(dead_code, reason = "it is only described")]
    struct Mat {
        /// How long it is.
        /// Range: 1 to 2.5 m. Default: as it comes.
        /// Example: `length-of-mat = 2`
        /// `other = "a. b"`
        length_of_mat: Option<u8>,
        /// Its weave.
        #[serde(rename = "with")]
        weave: Weave,
        /// Mats on it.
        more: Vec<Mat>,
    }

    #[derive(Default, serde::Deserialize, Described)]
    #[serde(rename_all = "kebab-case")]
    #[keys(here)]
    #[allow(dead_code, reason = "it is only described")]
    enum Weave {
        /// Over and under.
        #[default]
        OverUnder,
    }

    #[test]
    fn names_and_comments_are_those_of_the_fields() {
        let Shape::Table(mat) = Mat::shape() else { panic!("a table") };
        assert_eq!(mat.keys.iter().map(|k| k.name).collect::<Vec<_>>(), ["length-of-mat", "with", "more"]);
        let told = mat.keys[0].told();
        assert_eq!(told.text, "How long it is.");
        assert_eq!(told.default.as_deref(), Some("as it comes"));
        assert_eq!(told.bounds(), Some(Bounds { from: 1.0, beyond: false, to: Some(2.5) }));
        let more = Doc { range: Some("more than 0 m".into()), ..Doc::default() };
        assert_eq!(more.bounds(), Some(Bounds { from: 0.0, beyond: true, to: None }));
        assert_eq!(mat.keys[0].bounds(), told.bounds(), "read out of the whole comment as out of its part");
        let at_the_end = |doc| Key { doc, ..mat.keys[0].clone() }.bounds();
        assert_eq!(
            at_the_end("A share. Range: 0.15 to 0.6."),
            Some(Bounds { from: 0.15, beyond: false, to: Some(0.6) })
        );
        assert_eq!(at_the_end("Rows. Range: 1 or more."), Some(Bounds { from: 1.0, beyond: false, to: None }));
        assert_eq!(told.example.as_deref(), Some("length-of-mat = 2\nother = \"a. b\""));
        assert!(!mat.keys[0].needed);
        let Shape::Words(words) = (mat.keys[1].shape)() else { panic!("words") };
        assert_eq!((words[0].word, words[0].doc), ("over-under", "Over and under."));
        let Shape::List(inner) = (mat.keys[2].shape)() else { panic!("a list") };
        assert!(matches!(*inner, Shape::Table(t) if t.name == "Mat"), "a table may hold itself");
    }
}
