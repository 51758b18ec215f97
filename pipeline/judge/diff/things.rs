//! The changes as a buyer counts them: things and not files. A sticker is one thing, loose, packed, on its sheet and in the
//! guide; a page that came in eight variants is one page to whoever has one of them.

use super::names::name;
use base::model::Kind;
use base::model::change::Change;
use base::model::difference::{Comparison, Difference};
use base::model::variant::{self, Variant};
use std::collections::BTreeMap;

/// What a list of the note counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Of {
    Pages,
    Covers,
    Links,
    Stickers,
    /// The months of a planner.
    Dates,
    /// Files that are none of these.
    Files,
    /// Pictures that are none of these.
    Pictures,
}

/// Which list of the note.
#[allow(missing_docs)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    DatesMoved,
    PagesNew,
    CoversNew,
    StickersNew,
    LinksNew,
    FilesNew,
    PagesRedrawn,
    CoversRedrawn,
    StickersRedrawn,
    PicturesChanged,
    PagesMoved,
    LinksChanged,
    FilesRenamed,
    PagesGone,
    CoversGone,
    StickersGone,
    LinksGone,
    FilesGone,
}

/// What a list of the note tells.
pub struct Told {
    /// Which list.
    pub key: Key,
    /// How many things.
    pub count: usize,
    /// What they are called; nothing where that would be too many.
    pub names: Vec<String>,
}

/// A list of the note: which it is, what it counts, and the changes that it tells.
pub struct List(Key, Of, &'static [Change]);

/// All lists, in the order in which they are told.
pub const LISTS: [List; 18] = [
    List(Key::DatesMoved, Of::Dates, &[Change::DatesMoved]),
    List(Key::PagesNew, Of::Pages, &[Change::PageInserted]),
    List(Key::CoversNew, Of::Covers, &[Change::PageInserted]),
    List(Key::StickersNew, Of::Stickers, &[Change::FileAdded]),
    List(Key::LinksNew, Of::Links, &[Change::LinkAdded]),
    List(Key::FilesNew, Of::Files, &[Change::FileAdded]),
    List(Key::PagesRedrawn, Of::Pages, &[Change::PageRedrawn, Change::TextChanged]),
    List(Key::CoversRedrawn, Of::Covers, &[Change::PageRedrawn, Change::TextChanged]),
    List(Key::StickersRedrawn, Of::Stickers, &[Change::ImageChanged]),
    List(Key::PicturesChanged, Of::Pictures, &[Change::ImageChanged]),
    List(Key::PagesMoved, Of::Pages, &[Change::PageMoved]),
    List(Key::LinksChanged, Of::Links, &[Change::LinkRetargeted, Change::LinkMoved]),
    List(Key::FilesRenamed, Of::Files, &[Change::FileRenamed]),
    List(Key::PagesGone, Of::Pages, &[Change::PageRemoved]),
    List(Key::CoversGone, Of::Covers, &[Change::PageRemoved]),
    List(Key::StickersGone, Of::Stickers, &[Change::FileRemoved]),
    List(Key::LinksGone, Of::Links, &[Change::LinkRemoved]),
    List(Key::FilesGone, Of::Files, &[Change::FileRemoved]),
];

/// What is known of the files that changed.
pub struct Things<'a> {
    kinds: &'a BTreeMap<String, Kind>,
    variants: &'a [Variant],
}

impl<'a> Things<'a> {
    /// As the records of both versions say.
    pub fn of(found: &'a Comparison) -> Things<'a> {
        Things { kinds: &found.kinds, variants: &found.variants }
    }

    fn kind(&self, path: &str) -> Option<Kind> {
        self.kinds.get(path).copied()
    }

    /// What a change is a change of; `None` for what follows from other things.
    fn thing(&self, d: &Difference) -> Option<Of> {
        let of_page = d.page_new.or(d.page_old).is_some();
        let link =
            matches!(d.kind, Change::LinkAdded | Change::LinkRemoved | Change::LinkRetargeted | Change::LinkMoved);
        match self.kind(&d.path) {
            // Sheets show the stickers, guide and first text speak of the rest.
            Some(Kind::Sheet | Kind::Guide | Kind::StartHere | Kind::Upload | Kind::DeliveryCard) => None,
            Some(Kind::Sticker) => Some(Of::Stickers),
            _ if d.kind == Change::DatesMoved => Some(Of::Dates),
            _ if link => of_page.then_some(Of::Links),
            Some(Kind::Covers) if of_page => Some(Of::Covers),
            _ if of_page => Some(Of::Pages),
            _ if d.kind == Change::ImageChanged => Some(Of::Pictures),
            _ => Some(Of::Files),
        }
    }

    /// The changes of a list: how many things, and what they are called. Of variants the one with the most counts.
    pub fn list(&self, list: &List, told: &[&Difference], named: usize) -> Option<Told> {
        let List(key, of, kinds) = list;
        let mut seen: Vec<(&str, Option<usize>, Option<usize>)> = Vec::new();
        let mut names: Vec<String> = Vec::new();
        let mut counts: BTreeMap<Option<usize>, usize> = BTreeMap::new();
        for d in told.iter().filter(|d| kinds.contains(&d.kind) && self.thing(d) == Some(*of)) {
            let place = (d.path.as_str(), d.page_old, d.page_new);
            if *of != Of::Links && seen.contains(&place) {
                continue;
            }
            seen.push(place);
            *counts.entry(variant::of(self.variants, &d.path)).or_default() += 1;
            let called = match of {
                Of::Pages | Of::Covers | Of::Dates => d.name.clone(),
                Of::Links => None,
                Of::Stickers => Some(sticker(&d.path)),
                Of::Files | Of::Pictures => Some(name(&variant::common(self.variants, &d.path)).to_owned()),
            };
            if let Some(called) = called.filter(|c| !names.contains(c)) {
                names.push(called);
            }
        }
        let shared = counts.remove(&None).unwrap_or(0);
        let mut count = shared + counts.values().max().copied().unwrap_or(0);
        if *of == Of::Stickers {
            // One name is one sticker, whichever variants have it.
            count = names.len();
        }
        let names = if names.len() > named { Vec::new() } else { names };
        (count > 0).then_some(Told { key: *key, count, names })
    }

    /// Whether the guide says something else: other numbers alone, such as that of the version, are nothing to tell.
    pub fn guide(&self, told: &[&Difference]) -> bool {
        let mut guides = told.iter().filter(|d| self.kind(&d.path) == Some(Kind::Guide));
        guides.any(|d| d.kind == Change::TextChanged && !d.figures)
    }
}

/// The name of a sticker as people read it: the file's without number and ending.
fn sticker(path: &str) -> String {
    let name = name(path);
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    stem.trim_start_matches(|c: char| c.is_ascii_digit()).trim_start_matches('-').replace('-', " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stickers_are_called_as_people_read_them() {
        assert_eq!(sticker("contents/stickers/07-tea-pot.png"), "tea pot");
        assert_eq!(sticker("contents/moss/stickers/101-3-beans.png"), "3 beans");
    }
}
