//! Calendars as RFC 5545 has them: all-day and timed events, recurrences, exceptions.
//!
//! The lines are read here (`lines`), since the libraries for this format do not say where in the file a fault is and
//! follow nested components by recursion without end. Recurrences are the library's (`recur`), zones the tz database's.

mod appointment;
mod lines;
mod moment;
mod recur;
mod values;

pub use appointment::{Appointment, Between, Stretch};
pub use recur::Limits;

use super::{Fault, Read, text};
use crate::{Event, EventSource, When};
use lines::Line;
use std::collections::BTreeMap;
use values::{Draft, Kind};

/// How deep components may stand in each other. The standard needs three.
const DEEPEST: usize = 16;

/// Reads a calendar. To-dos, journals, alarms and free/busy times are passed over. `file` is what faults name.
pub fn read_ics(bytes: &[u8], file: &str) -> Read {
    let text = match text(bytes, file) {
        Ok(text) => text,
        Err(fault) => return Read { faults: vec![fault], ..Read::default() },
    };
    let mut reader =
        Reader { file, drafts: Vec::new(), faults: Vec::new(), open: Vec::new(), skipped: 0, calendars: 0 };
    let mut last = 1;
    for line in lines::lines(text) {
        match line {
            Ok(line) => {
                last = line.line;
                reader.line(&line);
            }
            Err(odd) => {
                // Alarms and the like are not ours to judge.
                if reader.in_event() {
                    reader.fault(odd.line, odd.column, odd.what, odd.help);
                }
            }
        }
    }
    if let Some((name, line)) = reader.open.pop() {
        reader.fault(
            line,
            1,
            format!("{name} is not ended"),
            format!("the file ends at line {last} before END:{name}; export it anew"),
        );
    } else if reader.calendars == 0 {
        reader.fault(
            1,
            1,
            "the file is no calendar".into(),
            "export a calendar as .ics: it begins with BEGIN:VCALENDAR".into(),
        );
    }
    reader.finish()
}

struct Reader<'a> {
    file: &'a str,
    drafts: Vec<Draft>,
    faults: Vec<Fault>,
    /// The components that are open, with the lines on which they begin.
    open: Vec<(String, usize)>,
    /// Components too deep to be followed.
    skipped: usize,
    calendars: usize,
}

impl Reader<'_> {
    fn in_event(&self) -> bool {
        self.skipped == 0
            && matches!(&self.open[..], [(first, _), (second, _)] if first == "VCALENDAR" && second == "VEVENT")
    }

    fn fault(&mut self, line: usize, column: usize, what: String, help: String) {
        self.faults.push(Fault { written_at: EventSource { file: self.file.to_owned(), line, column }, what, help });
    }

    fn line(&mut self, line: &Line) {
        match line.name.as_str() {
            "BEGIN" => self.begin(line),
            "END" => self.end(line),
            _ if self.in_event() => {
                if let Some(draft) = self.drafts.last_mut()
                    && let Err(unread) = draft.take(line)
                {
                    self.fault(line.line, line.value_column, unread.what, unread.help);
                }
            }
            _ => {}
        }
    }

    fn begin(&mut self, line: &Line) {
        let name = line.value.trim().to_ascii_uppercase();
        if self.open.len() >= DEEPEST {
            if self.skipped == 0 {
                self.fault(
                    line.line,
                    1,
                    format!("components stand deeper than {DEEPEST} in each other"),
                    "export the calendar anew".into(),
                );
            }
            self.skipped += 1;
            return;
        }
        if name == "VCALENDAR" {
            self.calendars += 1;
        }
        self.open.push((name, line.line));
        if self.in_event() {
            self.drafts.push(Draft::at(line.line));
        }
    }

    fn end(&mut self, line: &Line) {
        let name = line.value.trim().to_ascii_uppercase();
        if self.skipped > 0 {
            self.skipped -= 1;
            return;
        }
        match self.open.last() {
            Some((open, _)) if *open == name => {
                self.open.pop();
            }
            Some((open, at)) => {
                let what = format!("END:{} where {open} of line {at} is open", super::short(&name));
                self.fault(line.line, 1, what, format!("end {open} first; export the calendar anew"));
                // What was meant ends here, if it is open at all.
                if let Some(depth) = self.open.iter().rposition(|(open, _)| *open == name) {
                    self.open.truncate(depth);
                }
            }
            None => self.fault(
                line.line,
                1,
                format!("END:{} where nothing is open", super::short(&name)),
                "take the line out".into(),
            ),
        }
    }

    /// Makes events of the drafts; changed dates of a recurrence go to the event that recurs.
    fn finish(mut self) -> Read {
        let mut events: Vec<Event> = Vec::new();
        let mut masters: BTreeMap<String, usize> = BTreeMap::new();
        let mut changes = Vec::new();
        for draft in std::mem::take(&mut self.drafts) {
            let line = draft.line;
            match draft.finish() {
                Ok((uid, Kind::Whole { name, category, appointment })) => {
                    let written_at = EventSource { file: self.file.to_owned(), line, column: 1 };
                    if let Some(uid) = uid.filter(|_| appointment.recurs()) {
                        masters.insert(uid, events.len());
                    }
                    events.push(Event {
                        name,
                        kind: category,
                        written_at,
                        when: When::Appointment(Box::new(appointment)),
                    });
                }
                Ok((_, Kind::Cancelled)) => {}
                Ok((uid, Kind::Change(change))) => changes.push((uid, line, change)),
                Err(odd) => self.fault(odd.line, odd.column, odd.what, odd.help),
            }
        }
        for (uid, line, change) in changes {
            let master = uid.as_ref().and_then(|uid| masters.get(uid)).and_then(|index| events.get_mut(*index));
            let changed = match master {
                Some(Event { when: When::Appointment(appointment), .. }) => appointment.change(&change),
                // The list holds only the changed date of a recurrence that stands elsewhere.
                _ => true,
            };
            let written_at = EventSource { file: self.file.to_owned(), line, column: 1 };
            if let (true, Some(appointment)) = (changed, change.now) {
                events.push(Event {
                    name: change.name,
                    kind: change.category,
                    written_at,
                    when: When::Appointment(Box::new(appointment)),
                });
            }
        }
        self.faults.sort_by(|a, b| a.written_at.cmp(&b.written_at));
        Read { events, faults: self.faults }
    }
}
