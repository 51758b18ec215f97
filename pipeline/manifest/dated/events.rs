//! `[[calendar.list]]` and `[[calendar.event]]`: lists of dates, and single ones.

use super::key;
use crate::Context;
use crate::source::suggest;
use base::model::plan::{About, Remark};
use base::model::planner::EventList;
use base::model::{Fault, Rgb, SourceSpan, Where};
use calendar::events::{Source, Trouble};
use calendar::table::{CalendarTable, ListTable};
use calendar::{Agenda, EventSource, Kind, Span};
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::DeTable;

/// What happens in the span.
pub struct Events {
    pub lists: Vec<EventList>,
    pub agenda: Agenda,
    pub remarks: Vec<Remark>,
}

/// Most faults of one list that are told of: a file of another kind has one on every line.
const MOST_TOLD: usize = 20;

/// Reads all lists and events.
pub fn resolve(cx: &mut Context, table: &CalendarTable, tables: &Spanned<DeTable>, span: &Span) -> Events {
    let (mut lists, mut sources) = (Vec::new(), Vec::new());
    let mut texts = BTreeMap::new();
    for (i, list) in table.list.iter().enumerate() {
        let index = i.to_string();
        let at = |name: &str| key(tables, &["calendar", "list", &index, name]).unwrap_or(0..0);
        let colour = colour(cx, list.mark.as_deref(), at("mark"));
        let events = read(cx, list, at("file"), &mut texts);
        let source =
            Source { name: list.name.clone(), events, zone: list.zone.clone(), leap: list.leap, is_list: true };
        sources.push(source);
        lists.push(EventList {
            name: Some(list.name.clone()),
            file: Some(list.file.clone()),
            colour,
            each: Vec::new(),
            on: kinds(list.on.as_deref()),
            holidays: list.holidays,
        });
    }
    let mut single = Source::default();
    let mut each = Vec::new();
    for (i, event) in table.event.iter().enumerate() {
        let index = i.to_string();
        let at = |name: &str| key(tables, &["calendar", "event", &index, name]);
        let on = at("on").unwrap_or(0..0);
        let place = cx.source.span(on.clone());
        let written_at = EventSource { file: crate::FILE.to_owned(), line: place.line, column: place.column };
        match event.event(written_at) {
            Ok(read) => {
                single.events.push(read);
                each.push(colour(cx, event.mark.as_deref(), at("mark").unwrap_or(on)));
            }
            Err(unread) => cx.source.fault(at("until").unwrap_or(on), unread.what, Some(unread.help)),
        }
    }
    if !single.events.is_empty() {
        sources.push(single);
        lists.push(EventList { name: None, file: None, colour: None, each, on: kinds(None), holidays: false });
    }
    let mut agenda = Agenda::new(span, &sources);
    let found = std::mem::take(&mut agenda.findings);
    let remarks = found.iter().map(|finding| remark(cx, finding, &texts)).collect();
    Events { lists, agenda, remarks }
}

fn kinds(on: Option<&[Kind]>) -> Vec<base::model::dated::DatedKind> {
    on.unwrap_or(Kind::ALL).iter().copied().map(calendar::data::kind).collect()
}

/// A colour of the manifest.
fn colour(cx: &mut Context, written: Option<&str>, span: std::ops::Range<usize>) -> Option<Rgb> {
    let text = written?;
    let colour = Rgb::parse(text.trim());
    if colour.is_none() {
        let help = "write it as #rrggbb, such as \"#b8564f\"".to_owned();
        cx.source.fault(span, format!("`{text}` is no colour"), Some(help));
    }
    colour
}

/// The events of a list. Its faults are told with their own file, line and column.
fn read(
    cx: &mut Context,
    list: &ListTable,
    span: std::ops::Range<usize>,
    texts: &mut BTreeMap<String, String>,
) -> Vec<calendar::Event> {
    let bytes = match cx.world.read(&list.file) {
        Ok(bytes) => bytes,
        Err(fault) => {
            let near = cx.world.nearby(&list.file);
            let missing = fault.message.contains("no such file");
            let help =
                fault.help.clone().or_else(|| missing.then(|| suggest(&list.file, near.iter().map(String::as_str))));
            cx.source.fault(span, fault.message, help);
            return Vec::new();
        }
    };
    let ending = list.file.rsplit_once('.').map_or(String::new(), |(_, ending)| ending.to_ascii_lowercase());
    let read = match ending.as_str() {
        "csv" => calendar::read_csv(&bytes, &list.file),
        "ics" => calendar::read_ics(&bytes, &list.file),
        _ => {
            let help = "give a .csv file with the columns date and name, or an .ics calendar".to_owned();
            cx.source.fault(span, format!("{:?} is no list of dates that can be read", list.file), Some(help));
            return Vec::new();
        }
    };
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let more = read.faults.len().saturating_sub(MOST_TOLD);
    for fault in read.faults.iter().take(MOST_TOLD) {
        let place = place(&text, &fault.written_at);
        cx.source.tell(Fault::new(&fault.what).in_file(&list.file).at(place).help(&fault.help));
    }
    if more > 0 {
        cx.source.fault(span, format!("{:?} has {more} further faults", list.file), None);
    }
    texts.insert(list.file.clone(), text);
    read.events
}

/// A place in a list, with its line.
fn place(text: &str, written_at: &EventSource) -> SourceSpan {
    let line = text.lines().nth(written_at.line.saturating_sub(1)).unwrap_or_default();
    SourceSpan::short(written_at.line, written_at.column, line, 1)
}

/// What is worth telling, at its place.
fn remark(cx: &Context, finding: &calendar::Finding, texts: &BTreeMap<String, String>) -> Remark {
    let about = match finding.trouble {
        Trouble::NeverHappens | Trouble::OutsideSpan(_) => About::DatesOutside,
        Trouble::ListEnds(_) | Trouble::ListBegins(_) => About::DatesStale,
        Trouble::NotUnderstood(_) | Trouble::TooManySteps(_) => About::RuleUnread,
        Trouble::WithoutZone | Trouble::ZoneUnsaid(_) | Trouble::ZoneUnknown(_) => About::ZoneUnsaid,
        Trouble::LeapUnsaid => About::LeapUnsaid,
    };
    let at = &finding.written_at;
    let span = match texts.get(&at.file) {
        Some(text) => place(text, at),
        None => cx.source.line(at.line, at.column),
    };
    Remark {
        about,
        place: Where::file(&at.file).span(span),
        message: format!("{}; {}", finding.what(), finding.help()),
    }
}
