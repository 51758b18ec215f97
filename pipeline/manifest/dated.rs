//! Dated pages: `[calendar]` and `[[notebook.dated]]`.

mod events;
mod sets;

use super::notebook::MOST_SECTIONS;
use super::{Context, raw};
use base::colour;
use base::model::planner::{Dated, MonthTabs, TabEdge, TabLabel};
use base::model::product::Style;
use calendar::{Neighbours, Order, Planner, Settings, Span, stored};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Most dated pages, companions among them; a reader app opens no larger file with ease.
const MOST_PAGES: usize = 8_000;

/// Resolves the dated pages of a notebook; `None` where there are none, or where something is wrong with them.
pub fn resolve<'t>(
    cx: &mut Context<'_, 't>,
    raw: &raw::Manifest,
    tables: &Spanned<DeTable<'t>>,
    language: &str,
    style: Option<&Style>,
    sections: usize,
) -> Option<Dated> {
    let none = raw::Notebook::default();
    let book = raw.notebook.as_ref().unwrap_or(&none);
    let Some(table) = &raw.calendar else {
        // A calendar that could not be read has been told of.
        if let (Some(set), None) = (book.dated.first(), tables.get_ref().get("calendar")) {
            let help = "add [calendar] and below it, for instance, first = \"2027-01\"".to_owned();
            cx.source.fault(set.span(), "dated pages of which months?", Some(help));
        }
        return None;
    };
    let whole = table.span();
    if book.dated.is_empty() && !cx.varied {
        let help = "add [[notebook.dated]] and below it, for instance, pages = \"month\"".to_owned();
        cx.source.fault(whole.clone(), "a calendar without dated pages does nothing", Some(help));
    }
    let names = match calendar::Names::new(language) {
        Ok(names) => names,
        Err(unread) => {
            let span = raw.language.as_ref().map_or(whole, Spanned::span);
            cx.source.fault(span, unread.what, Some(unread.help));
            return None;
        }
    };
    let table = table.get_ref();
    let settings = match Settings::resolve(table, &names) {
        Ok(settings) => Some(settings),
        Err(faults) => {
            // A first month that could not be read has been told of.
            let told = |key: &str| key == "first" && value(tables, &["calendar", "first"]).is_some();
            for fault in faults.into_iter().filter(|fault| !told(fault.key)) {
                let span = key(tables, &["calendar", fault.key]).unwrap_or(whole.clone());
                cx.source.fault(span, fault.unread.what, Some(fault.unread.help));
            }
            None
        }
    };
    // Whatever is wrong with the calendar, sets and lists are read: all faults come in one run.
    let sets = sets::resolve(cx, book, tables);
    let span = match (&settings, table.first) {
        (Some(settings), _) => settings.span,
        (None, Some(first)) => Span::new(first, 12).ok()?,
        (None, None) => return None,
    };
    let events = events::resolve(cx, table, tables, &span);
    let settings = settings?;
    if sets.is_empty() {
        return None;
    }
    let tabs = tabs(cx, book, raw, style?, &span, sections, &whole);
    let dated = Dated {
        first: (span.first().year(), span.first().number()),
        months: u8::try_from(span.len()).unwrap_or(24),
        first_day: stored::to_day(settings.first_day),
        week_numbers: settings.week_numbers.word().to_owned(),
        weekend: settings.weekend.iter().copied().map(stored::to_day).collect(),
        hours: if settings.clock == calendar::Clock::Twelve { 12 } else { 24 },
        by_kind: settings.order == Order::ByKind,
        blank_neighbours: settings.neighbours == Neighbours::Blank,
        beside: settings.beside.map(|second| second.to_string()),
        sets,
        tabs,
        lists: events.lists,
        happenings: stored::happenings(&events.agenda),
        remarks: events.remarks,
    };
    // Sets that could not be told apart, or were left out for a fault, have been told of.
    let pages = stored::planner(&dated).ok()?.pages().len();
    if pages > MOST_PAGES {
        let help = "take fewer months, companions or sets; or make a product for each part of the year".to_owned();
        let message = format!("{pages} dated pages are too many; {MOST_PAGES} are the most");
        cx.source.fault(whole, message, Some(help));
    }
    Some(dated)
}

/// Whether sets can be told apart, with the faults at their tables.
fn told_apart(cx: &mut Context, sets: &[calendar::PageSet], spans: &[Range<usize>]) {
    let plain = Settings::plain(
        Span::new(calendar::Month::of(calendar::Date::constant(2000, 1, 1)), 1).expect("one month is a span"),
        calendar::Weekday::Monday,
    );
    if let Err(faults) = Planner::new(plain, sets.to_vec()) {
        for (index, unread) in faults {
            cx.source.fault(spans[index].clone(), unread.what, Some(unread.help));
        }
    }
}

/// The tabs of the months.
fn tabs(
    cx: &mut Context,
    book: &raw::Notebook,
    raw: &raw::Manifest,
    style: &Style,
    span: &Span,
    sections: usize,
    whole: &Range<usize>,
) -> MonthTabs {
    let keys = book.months.as_ref();
    let count = span.len();
    if count + sections > MOST_SECTIONS {
        let help = format!("months and sections share {MOST_SECTIONS} tabs: take fewer months or fewer sections");
        let message = format!("{count} months and {sections} sections are too many tabs");
        cx.source.fault(whole.clone(), message, Some(help));
    }
    let hue = colour::to_oklch(style.accent)[2];
    let of_sections = || raw.style.sections.iter().map(|colour| colour.0).collect();
    let listed: Vec<_> = match keys.and_then(|keys| keys.colours.as_ref()) {
        Some(written) => match written.get_ref() {
            raw::MonthColours::Each(list) if list.is_empty() => {
                let help = "name one or more, or leave `colours` out".to_owned();
                cx.source.fault(written.span(), "no colour for the months", Some(help));
                Vec::new()
            }
            raw::MonthColours::Each(list) => list.iter().map(|colour| colour.0).collect(),
            raw::MonthColours::Sections => of_sections(),
        },
        // A look's colours belong together, and no others to them.
        None if raw.style.look.is_some() => of_sections(),
        None => Vec::new(),
    };
    let family = colour::family(count, 0.84, 0.06, hue);
    MonthTabs {
        edge: keys.and_then(|keys| keys.edge).map(|edge| match edge {
            raw::MonthsEdge::Side => TabEdge::Side,
            raw::MonthsEdge::Top => TabEdge::Top,
        }),
        label: match keys.and_then(|keys| keys.label) {
            Some(raw::MonthLabel::Narrow) => TabLabel::Narrow,
            Some(raw::MonthLabel::Number) => TabLabel::Number,
            Some(raw::MonthLabel::Short) | None => TabLabel::Short,
        },
        colours: (0..count).map(|i| if listed.is_empty() { family[i] } else { listed[i % listed.len()] }).collect(),
    }
}

/// A value of the manifest, by the keys and numbers that lead to it.
fn value<'a, 't>(tables: &'a Spanned<DeTable<'t>>, path: &[&str]) -> Option<&'a Spanned<DeValue<'t>>> {
    let (first, rest) = path.split_first()?;
    let mut at = tables.get_ref().get(*first)?;
    for step in rest {
        at = match at.get_ref() {
            DeValue::Array(list) => list.get(step.parse::<usize>().ok()?)?,
            other => other.get(*step)?,
        };
    }
    Some(at)
}

/// Where a value of the manifest is written.
fn key(tables: &Spanned<DeTable>, path: &[&str]) -> Option<Range<usize>> {
    value(tables, path).map(Spanned::span)
}
