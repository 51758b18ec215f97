//! `[[notebook.dated]]`: sets of pages, how each is drawn, and what stands behind it.

use super::{told_apart, value};
use crate::source::suggest;
use crate::{Context, art, raw};
use base::model::dated::DatedKind;
use base::model::planner::{Companion, DatedSet, DaysWanted, Design, Parameters};
use base::model::units::spoken;
use calendar::{DayChoice, Kind, PageSet, stored};
use draw::ruling;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Most pages behind a dated one.
const MOST_BEHIND: u32 = 50;

/// The sets. What is at fault is told of, and left out.
pub fn resolve<'t>(cx: &mut Context<'_, 't>, book: &raw::Notebook, tables: &Spanned<DeTable<'t>>) -> Vec<DatedSet> {
    let (mut out, mut known, mut spans) = (Vec::new(), Vec::new(), Vec::new());
    for (i, entry) in book.dated.iter().enumerate() {
        let set = entry.get_ref();
        let index = i.to_string();
        let path = ["notebook", "dated", index.as_str()];
        let written = value(tables, &path);
        let Some(pages) = &set.pages else {
            // A kind that could not be read has been told of.
            if written.is_some_and(|written| written.get_ref().get("pages").is_some()) {
                continue;
            }
            let help = "add pages = \"year\", \"quarter\", \"month\", \"week\" or \"day\"".to_owned();
            cx.source.fault(entry.span(), "a set of which pages?", Some(help));
            continue;
        };
        let kind = *pages.get_ref();
        let drawn = Drawn { ruling: set.ruling.as_ref(), with: &set.parameters, art: set.art_keys() };
        let design = design(cx, kind, drawn, written);
        let companions = set.companions.iter().enumerate().flat_map(|(k, companion)| {
            let place = written.and_then(|w| w.get_ref().get("companions")).and_then(|list| list.get_ref().get(k));
            behind(cx, kind, companion, place)
        });
        let companions: Vec<Companion> = companions.collect();
        let choice = set.weekdays.clone().unwrap_or_default();
        let name = set.name.as_ref().map(|name| name.get_ref().clone());
        known.push(PageSet {
            kind,
            name: name.clone(),
            companions: u16::try_from(companions.len()).unwrap_or(u16::MAX),
            weekdays: choice.clone(),
        });
        spans.push(set.name.as_ref().map_or(pages.span(), Spanned::span));
        let Some(design) = design else { continue };
        out.push(DatedSet {
            kind: calendar::data::kind(kind),
            name: name.map(|name| name.to_string()),
            days: days(&choice),
            design,
            companions,
        });
    }
    told_apart(cx, &known, &spans);
    out
}

fn days(choice: &DayChoice) -> DaysWanted {
    match choice {
        DayChoice::All => DaysWanted::All,
        DayChoice::Workdays => DaysWanted::Workdays,
        DayChoice::Joined => DaysWanted::Joined,
        DayChoice::Only(days) => DaysWanted::Only(days.iter().copied().map(stored::to_day).collect()),
        DayChoice::Shared(pages) => {
            DaysWanted::Shared(pages.iter().map(|page| (stored::to_day(page.first()), page.is_shared())).collect())
        }
    }
}

/// The pages of one entry of `companions`.
fn behind<'t>(
    cx: &mut Context<'_, 't>,
    kind: Kind,
    raw: &Spanned<raw::Companion>,
    written: Option<&Spanned<DeValue<'t>>>,
) -> Vec<Companion> {
    let keys = raw.get_ref();
    let count = keys.count.as_ref().map_or(1, |count| *count.get_ref());
    if count == 0 || count > MOST_BEHIND {
        let span = keys.count.as_ref().map_or(raw.span(), Spanned::span);
        cx.source.fault(span, format!("1 to {MOST_BEHIND} pages stand behind a dated one"), None);
        return Vec::new();
    }
    if keys.ruling.is_none() && keys.art.is_none() {
        let help = "add ruling = \"lined\", or another, or art = \"art/….svg\"".to_owned();
        cx.source.fault(raw.span(), "a companion needs a ruling or art", Some(help));
        return Vec::new();
    }
    let drawn = Drawn { ruling: keys.ruling.as_ref(), with: &keys.parameters, art: keys.art_keys() };
    let Some(design) = design(cx, kind, drawn, written) else { return Vec::new() };
    let named = keys.name.as_ref().map(|name| name.get_ref().trim().to_owned()).filter(|name| !name.is_empty());
    let name = named.unwrap_or_else(|| match &design {
        Design::Dated(name, _) | Design::Plain(name, _) => spoken(name),
        Design::Art(_) => "Notes".to_owned(),
    });
    let numbered = |n: u32| if count > 1 { format!("{name} {n}") } else { name.clone() };
    (1..=count).map(|n| Companion { name: numbered(n), design: design.clone() }).collect()
}

/// What a table says of how its pages are drawn.
struct Drawn<'r> {
    ruling: Option<&'r Spanned<String>>,
    with: &'r toml::Table,
    art: raw::ArtKeys<'r>,
}

/// How pages of a kind are drawn: by art, by the ruling that is named, or by the usual one of the kind.
fn design<'t>(
    cx: &mut Context<'_, 't>,
    kind: Kind,
    drawn: Drawn,
    written: Option<&Spanned<DeValue<'t>>>,
) -> Option<Design> {
    let (named, with) = (drawn.ruling, Parameters(drawn.with.clone()));
    let has_art = drawn.art.art.is_some();
    let art = art::resolve(cx, drawn.art);
    if has_art {
        if let Some(name) = named {
            let help = "take one of the two out".to_owned();
            cx.source.fault(name.span(), "dated pages have `ruling` or `art`, not both", Some(help));
        }
        return art.map(|art| Design::Art(Box::new(art)));
    }
    let kind = calendar::data::kind(kind);
    let parameters = written.and_then(|written| written.get_ref().get("with"));
    let check = |cx: &mut Context<'_, 't>, entry: &'static ruling::Entry| {
        if let Some(parameters) = parameters {
            cx.source.each_fault(parameters, |with| entry.check(with));
        }
    };
    let Some(name) = named else {
        let Some(usual) = cx.rulings.usual(kind) else {
            return Some(Design::Plain("blank".to_owned(), Parameters::default()));
        };
        check(cx, &usual.entry);
        return Some(Design::Dated(usual.entry.name.to_owned(), with));
    };
    if let Some(entry) = cx.rulings.dated(name.get_ref(), kind) {
        check(cx, &entry.entry);
        return Some(Design::Dated(entry.entry.name.to_owned(), with));
    }
    // A ruling that is made for other periods would show the wrong ones.
    let elsewhere = cx.rulings.dated.iter().find(|entry| entry.entry.name == *name.get_ref());
    if let Some(elsewhere) = elsewhere {
        let kinds: Vec<&str> = elsewhere.kinds.iter().map(|kind| word(*kind)).collect();
        let message = format!("`{}` is a drawing for {} pages", name.get_ref(), kinds.join(" and "));
        cx.source.fault(name.span(), message, Some(format!("for {} pages there are {}", word(kind), valid(cx, kind))));
        return None;
    }
    match ruling::find(cx.rulings.plain, name.get_ref()) {
        Some(entry) => {
            check(cx, entry);
            Some(Design::Plain(entry.name.to_owned(), with))
        }
        None => {
            let dated = cx.rulings.dated.iter().filter(|entry| entry.kinds.contains(&kind)).map(|e| e.entry.name);
            let help = suggest(name.get_ref(), dated.chain(cx.rulings.plain.iter().map(|entry| entry.name)));
            cx.source.fault(name.span(), format!("there is no ruling `{}`", name.get_ref()), Some(help));
            None
        }
    }
}

fn word(kind: DatedKind) -> &'static str {
    stored::from_kind(kind).word()
}

fn valid(cx: &Context, kind: DatedKind) -> String {
    let names = cx.rulings.dated.iter().filter(|entry| entry.kinds.contains(&kind)).map(|entry| entry.entry.name);
    names.collect::<Vec<_>>().join(", ")
}
