//! Sets of dated pages: one for each `[[notebook.dated]]`.

use crate::{DayPage, Kind, Unread, Weekday};
use base::keys::{Described, Shape, Word};
use serde::de::{SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::collections::BTreeSet;
use std::fmt;
use std::str::FromStr;

/// The name of a set among others of its kind, as it stands in places: `gratitude` in `day/2027-03-14/gratitude`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SetName(String);

impl SetName {
    /// The name.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Described for SetName {
    fn shape() -> Shape {
        Shape::Form("small letters, digits and single hyphens, a letter first", "^[a-z][a-z0-9]*(-[a-z0-9]+)*$")
    }
}

impl fmt::Display for SetName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl FromStr for SetName {
    type Err = Unread;

    fn from_str(text: &str) -> Result<SetName, Unread> {
        let plain: String =
            text.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
        let plain = plain.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-");
        if plain == text && text.starts_with(|c: char| c.is_ascii_lowercase()) {
            return Ok(SetName(plain));
        }
        let help = "a set's name is part of its places: small letters, digits and single hyphens, a letter first";
        let plain = plain.trim_start_matches(|c: char| !c.is_ascii_lowercase());
        Err(Unread::new(
            format!("`{text}` is no name for a set"),
            if plain.is_empty() { help.to_owned() } else { format!("{help}, as in \"{plain}\"") },
        ))
    }
}

crate::words::as_text!(SetName, "name of a set");

/// The days that get a day page.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum DayChoice {
    /// Each day.
    #[default]
    All,
    /// Each day that is not of the weekend.
    Workdays,
    /// Each day; days of a weekend share one page.
    Joined,
    /// The weekdays of a list.
    Only(BTreeSet<Weekday>),
    /// The pages of a list, some of them of two weekdays.
    Shared(BTreeSet<DayPage>),
}

impl Described for DayChoice {
    fn shape() -> Shape {
        let word = |word, doc| Word { word, doc };
        let words = vec![
            word("all", "Each day."),
            word("workdays", "Each day that is not of the weekend."),
            word("joined", "Each day; days of a weekend share one page."),
        ];
        Shape::Either(vec![Shape::Words(words), Vec::<DayPage>::shape()])
    }
}

const CHOICES: [&str; 3] = ["all", "workdays", "joined"];

impl<'de> Deserialize<'de> for DayChoice {
    fn deserialize<D: Deserializer<'de>>(input: D) -> Result<DayChoice, D::Error> {
        struct Choice;
        impl<'de> Visitor<'de> for Choice {
            type Value = DayChoice;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("\"all\", \"workdays\", \"joined\", or a list as in [\"monday\", \"thursday\"] or [\"monday+tuesday\"]")
            }

            fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<DayChoice, E> {
                match text {
                    "all" => Ok(DayChoice::All),
                    "workdays" => Ok(DayChoice::Workdays),
                    "joined" => Ok(DayChoice::Joined),
                    _ if text.parse::<DayPage>().is_ok() => Err(E::custom(Unread::new(
                        format!("`{text}` stands alone"),
                        format!("a choice of weekdays is a list, as in [\"{text}\"]"),
                    ))),
                    _ => Err(E::custom(Unread::word("choice of weekdays", text, CHOICES))),
                }
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<DayChoice, A::Error> {
                let (mut days, mut pages) = (BTreeSet::new(), BTreeSet::new());
                while let Some(page) = list.next_element::<DayPage>()? {
                    pages.insert(page);
                    if let Some(day) = page.days().find(|day| !days.insert(*day)) {
                        return Err(serde::de::Error::custom(Unread::new(
                            format!("{day} is named twice"),
                            "name each day once",
                        )));
                    }
                }
                if days.is_empty() {
                    return Err(serde::de::Error::custom(Unread::new(
                        "a list without a weekday makes no page",
                        "name at least one, or leave the set out",
                    )));
                }
                let shared = pages.iter().any(|page| page.is_shared());
                Ok(if shared { DayChoice::Shared(pages) } else { DayChoice::Only(days) })
            }
        }
        input.deserialize_any(Choice)
    }
}

impl Serialize for DayChoice {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        match self {
            DayChoice::All => out.serialize_str("all"),
            DayChoice::Workdays => out.serialize_str("workdays"),
            DayChoice::Joined => out.serialize_str("joined"),
            DayChoice::Only(days) => days.serialize(out),
            DayChoice::Shared(pages) => pages.serialize(out),
        }
    }
}

/// A set of dated pages: one page for each period of a kind, and companions behind each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageSet {
    /// The kind of its periods.
    pub kind: Kind,
    /// Its name, where there is more than one set of its kind. One set of a kind may go without.
    pub name: Option<SetName>,
    /// Further pages behind each, all companions together.
    pub companions: u16,
    /// Of a set of days: which of them.
    pub weekdays: DayChoice,
}

impl PageSet {
    /// A set with a page for each period of a kind, and nothing behind it.
    pub fn of(kind: Kind) -> PageSet {
        PageSet { kind, name: None, companions: 0, weekdays: DayChoice::All }
    }

    /// Whether all sets can be told apart by kind and name.
    ///
    /// # Errors
    /// The index of each set that cannot, with what is wrong.
    pub fn check(sets: &[PageSet]) -> Result<(), Vec<(usize, Unread)>> {
        let mut seen = BTreeSet::new();
        let mut faults = Vec::new();
        for (index, set) in sets.iter().enumerate() {
            if !seen.insert((set.kind, set.name.as_ref())) {
                let what = match &set.name {
                    Some(name) => format!("two sets of {} pages are called `{name}`", set.kind),
                    None => format!("two sets of {} pages have no name", set.kind),
                };
                faults.push((index, Unread::new(what, "give this one a name of its own, as in name = \"evening\"")));
            }
            if set.kind != Kind::Day && set.weekdays != DayChoice::All {
                faults.push((
                    index,
                    Unread::new(
                        format!("weekdays stands with {} pages", set.kind),
                        "weekdays chooses among days: leave it out, or write pages = \"day\"",
                    ),
                ));
            }
        }
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }
}
