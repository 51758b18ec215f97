//! What needs the designer's eye: dates and lists that the new months leave behind, and years left in texts and names.

use super::edits::named;
use super::told::{Eye, MANIFEST, Move, line_of};
use super::years::years;
use calendar::events::{Agenda, Event, EventSource, Occurrence, Source};
use calendar::table::CalendarTable;
use calendar::{read_csv, read_ics};
use std::collections::BTreeMap;
use toml_edit::{Document, Item};

/// Endings of files whose text pages and listings are made of.
const TEXTS: [&str; 5] = ["svg", "md", "txt", "tera", "html"];
/// Endings of lists; their dates are told by the calendar.
const LISTS: [&str; 2] = ["csv", "ics"];
/// Kinds of pages, as they stand before the year in the name of a tap area.
const PLACES: [&str; 5] = ["year/", "quarter/", "month/", "week/", "day/"];

/// So many events that fall on holidays are named before the rest is counted.
const CLASHES: usize = 12;

/// Whether a file's text is looked at.
pub fn is_read(path: &str) -> bool {
    path.rsplit('.').next().is_some_and(|ending| {
        let ending = ending.to_ascii_lowercase();
        TEXTS.contains(&ending.as_str()) || LISTS.contains(&ending.as_str())
    })
}

/// Events and lists of the manifest as they are in the new months, and which of the events fall on holidays there, one
/// sentence each.
pub fn events(manifest: &str, plan: &Move, files: &BTreeMap<String, Vec<u8>>) -> (Vec<Eye>, Vec<String>) {
    let Ok(document) = Document::parse(manifest) else { return Default::default() };
    let table = toml::from_str::<toml::Table>(manifest).ok();
    let calendar = table.and_then(|mut table| table.remove("calendar"));
    let Some(table) = calendar.and_then(|calendar| calendar.try_into::<CalendarTable>().ok()) else {
        let line = document.get("calendar").and_then(Item::span).map(|at| line_of(manifest, at.start));
        let what = "[calendar] has a fault, so that its events and lists were not looked at";
        let help = "build the product, mend what is told, and redate it again";
        return (vec![eye(MANIFEST, line, what, help)], Vec::new());
    };
    let mut out = Vec::new();
    let at = |i: usize| {
        let events = document.get("calendar").and_then(|c| c.get("event")).and_then(Item::as_array_of_tables);
        events
            .and_then(|all| all.get(i))
            .and_then(|table| table.get("on"))
            .and_then(Item::span)
            .map_or(1, |at| line_of(manifest, at.start))
    };
    let single: Vec<Event> = table
        .event
        .iter()
        .enumerate()
        .filter_map(|(i, event)| event.event(EventSource { file: MANIFEST.into(), line: at(i), column: 1 }).ok())
        .collect();
    let mut sources = vec![Source { events: single, ..Source::default() }];
    let mut holidays = vec![false];
    for list in &table.list {
        let Some(bytes) = files.get(&list.file) else {
            out.push(eye(
                &list.file,
                None,
                "the list is not in the product's folder",
                "put it there, or take it out of [[calendar.list]]",
            ));
            continue;
        };
        let calendar = list.file.to_ascii_lowercase().ends_with(".ics");
        let read = if calendar { read_ics(bytes, &list.file) } else { read_csv(bytes, &list.file) };
        out.extend(read.faults.iter().map(|f| eye(&list.file, Some(f.written_at.line), &f.what, &f.help)));
        let (name, zone) = (list.name.clone(), list.zone.clone());
        holidays.push(list.holidays);
        sources.push(Source { name, events: read.events, zone, leap: list.leap, is_list: true });
    }
    let agenda = Agenda::new(&plan.to, &sources);
    for finding in &agenda.findings {
        let at = &finding.written_at;
        out.push(eye(&at.file, Some(at.line), &finding.what(), finding.help()));
    }
    (out, clashes(&agenda, &holidays))
}

/// Events that begin on a holiday, one sentence each, and the rest counted. `holidays` says of which sources all entries are
/// holidays.
fn clashes(agenda: &Agenda, holidays: &[bool]) -> Vec<String> {
    let is_holiday = |each: &Occurrence| {
        holidays.get(each.source) == Some(&true) || each.kind.as_deref().is_some_and(|kind| kind == "holiday")
    };
    let events = agenda.occurrences.iter().filter(|each| !is_holiday(each));
    let met = events.filter_map(|event| {
        let holiday = agenda.on(event.first).find(|each| is_holiday(each))?;
        Some(format!("`{}` on {} falls on a holiday, `{}`", event.name, event.first, holiday.name))
    });
    let mut all: Vec<String> = met.collect();
    let more = all.len().saturating_sub(CLASHES);
    all.truncate(CLASHES);
    if more > 0 {
        all.push(format!("{more} more events fall on holidays"));
    }
    all
}

/// Years of the old months in texts of the folder and in the names of its files.
pub fn texts(manifest: &str, plan: &Move, files: &BTreeMap<String, Vec<u8>>) -> Vec<Eye> {
    let old = |text: &str| {
        years(text).into_iter().map(|(year, _)| year).find(|year| plan.is_old(*year) && !plan.is_new(*year))
    };
    let mut out = Vec::new();
    for (path, bytes) in files {
        if let Some(year) = old(path) {
            let help = "rename the file, and what names it; or leave it, if nobody sees the name";
            out.push(eye(path, None, &format!("the file's name has {year} in it"), help));
        }
        let ending = path.rsplit('.').next().unwrap_or_default().to_ascii_lowercase();
        if !TEXTS.contains(&ending.as_str()) {
            continue;
        }
        let text = String::from_utf8_lossy(bytes);
        let shown = if ending == "svg" { without_tags(&text) } else { text.clone().into_owned() };
        for (i, line) in shown.lines().enumerate() {
            if let Some(year) = old(line) {
                let help = "write the new year; a drawing of a dated page can take it from the page's date";
                out.push(eye(
                    path,
                    Some(i + 1),
                    &format!("the text names {year}: \u{201c}{}\u{201d}", short(line)),
                    help,
                ));
            }
        }
        for (i, line) in text.lines().enumerate().filter(|_| ending == "svg") {
            let place = PLACES.iter().find_map(|kind| {
                let after = line.split(kind).skip(1).find_map(|rest| old(rest.get(..4)?));
                after.map(|year| format!("{kind}{year}"))
            });
            if let Some(place) = place {
                let help = "name the page by the date of the drawing's page, or by the new date";
                out.push(eye(path, Some(i + 1), &format!("a tap area leads to {place}\u{2026}"), help));
            }
        }
    }
    // What the calendar tells by itself: its first month, dates of events, the date of release.
    let told = ["first", "on", "until", "since", "released"];
    for (i, line) in manifest.lines().enumerate() {
        let key = line.split('=').next().unwrap_or_default().trim();
        if line.trim_start().starts_with('#') || told.contains(&key) {
            continue;
        }
        if let Some(year) = old(line) {
            let help = "write the new year, if that is meant";
            out.push(eye(
                MANIFEST,
                Some(i + 1),
                &format!("the manifest still names {year}: \u{201c}{}\u{201d}", short(line)),
                help,
            ));
        }
    }
    out
}

/// What of the manifest was left for the designer.
pub fn manifest(manifest: &str, plan: &Move) -> Vec<Eye> {
    let Ok(document) = Document::parse(manifest) else { return Vec::new() };
    let document = &document;
    let line = |item: &Item| item.span().map(|at| line_of(manifest, at.start));
    let mut out = Vec::new();
    if let Some(item) = document.get("released") {
        let help = "write the day on which the new version comes out";
        out.push(eye(MANIFEST, line(item), "`released` is still the date of the old version", help));
    }
    if let Some(item) = document.get("launch").and_then(|launch| launch.get("on")) {
        let help = "write the day of the new launch";
        out.push(eye(MANIFEST, line(item), "`launch.on` is still the day of the old launch", help));
    }
    if document
        .get("version")
        .is_some_and(|v| v.as_str().is_none_or(|v| v.split('.').next().is_none_or(|n| n.parse::<u64>().is_err())))
    {
        out.push(eye(
            MANIFEST,
            document.get("version").and_then(line),
            "`version` could not be counted on",
            "write the new main version",
        ));
    }
    let counted = |span: &calendar::Span| span.calendar_years().count();
    for (key, at) in named(document).into_iter().filter(|_| counted(&plan.from) != counted(&plan.to)) {
        if years(&manifest[at.clone()]).iter().any(|(year, _)| plan.is_new(*year)) {
            let what = format!("`{key}` has the years of fewer or more months than there are now");
            out.push(eye(MANIFEST, Some(line_of(manifest, at.start)), &what, "write the years of the new months"));
        }
    }
    if document.get("variants").is_some_and(names_first) {
        let what = "a choice of [variants] sets months of its own";
        out.push(eye(MANIFEST, document.get("variants").and_then(line), what, "write the new months there too"));
    }
    out
}

/// Whether a choice of variants says which month is the first.
fn names_first(item: &Item) -> bool {
    let below = |item: &Item| item.get("calendar").is_some_and(|c| c.get("first").is_some()) || names_first(item);
    match item {
        Item::Table(table) => table.iter().any(|(_, item)| below(item)),
        Item::ArrayOfTables(all) => all.iter().any(|t| {
            t.get("calendar").is_some_and(|c| c.get("first").is_some()) || t.iter().any(|(_, item)| names_first(item))
        }),
        _ => false,
    }
}

/// The drawing's text alone: what stands within tags becomes blank, lines stay lines.
fn without_tags(text: &str) -> String {
    let mut inside = false;
    text.chars()
        .map(|c| {
            let hidden = inside || c == '<';
            inside = if c == '<' { true } else { inside && c != '>' };
            if hidden && c != '\n' { ' ' } else { c }
        })
        .collect()
}

fn short(line: &str) -> String {
    let line = line.trim();
    match line.char_indices().nth(60) {
        Some((end, _)) => format!("{}\u{2026}", &line[..end]),
        None => line.to_owned(),
    }
}

fn eye(file: &str, line: Option<usize>, what: &str, help: &str) -> Eye {
    Eye { file: file.to_owned(), line, what: what.to_owned(), help: help.to_owned() }
}
