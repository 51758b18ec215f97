//! Lists as CSV: a heading line, then an event a line. Commas or semicolons, as the heading has them.

use super::{Fault, Read, short, text};
use crate::events::ByRule;
use crate::unread::suggest;
use crate::{Event, EventSource, Leap, Rule, Unread, When};

/// The columns, in any order. `date` and `name` must be there.
const COLUMNS: [&str; 6] = ["date", "name", "kind", "until", "leap", "since"];

/// Reads a list as CSV.
///
/// The heading names the columns: `date` (a date or a rule), `name`, and if wanted `kind`, `until` (last day), `leap`
/// (29 February in common years), `since` (the year from which an anniversary counts). Lines that begin with `#` are
/// remarks. `file` is what faults name.
pub fn read_csv(bytes: &[u8], file: &str) -> Read {
    let mut read = Read::default();
    let text = match text(bytes, file) {
        Ok(text) => text,
        Err(fault) => return Read { faults: vec![fault], ..read },
    };
    let lines: Vec<&str> = text.lines().collect();
    let heading = lines.iter().find(|line| !line.trim().is_empty() && !line.starts_with('#')).unwrap_or(&"");
    let delimiter = if heading.matches(';').count() > heading.matches(',').count() { b';' } else { b',' };
    let mut source = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .comment(Some(b'#'))
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut columns = None;
    for record in source.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let line = error.position().map_or(1, |place| usize::try_from(place.line()).unwrap_or(1));
                let written_at = EventSource { file: file.to_owned(), line, column: 1 };
                read.faults.push(Fault {
                    written_at,
                    what: format!("the line is not CSV ({error})"),
                    help: "close every quotation mark".into(),
                });
                continue;
            }
        };
        let line = line_of(&record, &lines);
        if record.iter().all(str::is_empty) {
            continue;
        }
        let row = Row { record: &record, line, text: lines.get(line - 1).unwrap_or(&""), file, delimiter };
        match &columns {
            None => match row.heading() {
                Ok(found) => columns = Some(found),
                Err(faults) => {
                    read.faults = faults;
                    return read;
                }
            },
            Some(columns) => match row.event(columns) {
                Ok(event) => read.events.push(event),
                Err(faults) => read.faults.extend(faults),
            },
        }
    }
    if columns.is_none() {
        let written_at = EventSource { file: file.to_owned(), line: 1, column: 1 };
        read.faults.push(Fault {
            written_at,
            what: "the list is empty".into(),
            help: "begin it with the line `date,name,kind`".into(),
        });
    }
    read
}

/// The line on which a record begins, from 1. The reader tells where it began to look: before empty lines and remarks.
fn line_of(record: &csv::StringRecord, lines: &[&str]) -> usize {
    let from = record.position().map_or(1, |place| usize::try_from(place.line()).unwrap_or(1)).max(1);
    let skipped = lines.iter().skip(from - 1).take_while(|line| line.is_empty() || line.starts_with('#')).count();
    from + skipped
}

struct Row<'a> {
    record: &'a csv::StringRecord,
    line: usize,
    text: &'a str,
    file: &'a str,
    delimiter: u8,
}

/// Which column stands where.
type Columns = Vec<&'static str>;

impl Row<'_> {
    fn heading(&self) -> Result<Columns, Vec<Fault>> {
        let mut columns: Columns = Vec::new();
        let mut faults = Vec::new();
        for (index, name) in self.record.iter().enumerate() {
            match COLUMNS.into_iter().find(|column| *column == name.to_lowercase()) {
                Some(column) if columns.contains(&column) => {
                    faults.push(self.fault(
                        index,
                        format!("the column `{column}` stands twice"),
                        "take one of them out".into(),
                    ));
                }
                Some(column) => columns.push(column),
                None => {
                    let what = format!("`{}` is no column of a list", short(name));
                    faults.push(self.fault(index, what, suggest(name, COLUMNS)));
                    columns.push("");
                }
            }
        }
        for needed in ["date", "name"] {
            if !columns.contains(&needed) && faults.is_empty() {
                let what = format!("the list has no column `{needed}`");
                faults.push(self.fault(0, what, "begin it with the line `date,name,kind`".into()));
            }
        }
        if faults.is_empty() { Ok(columns) } else { Err(faults) }
    }

    fn event(&self, columns: &Columns) -> Result<Event, Vec<Fault>> {
        let mut faults = Vec::new();
        let index = |name: &str| columns.iter().position(|column| *column == name).unwrap_or(0);
        let get = |name: &str| {
            let index = columns.iter().position(|column| *column == name)?;
            self.record.get(index).filter(|value| !value.is_empty())
        };
        if self.record.len() > columns.len() {
            let what = format!("the line has {} columns, the heading {}", self.record.len(), columns.len());
            faults.push(self.fault(
                columns.len(),
                what,
                "put quotation marks around a text with a comma or semicolon".into(),
            ));
        }
        let mut lacks = |name: &str| {
            faults.push(self.fault(
                index(name),
                format!("the line has no {name}"),
                format!("fill in the column `{name}`"),
            ));
        };
        if get("date").is_none() {
            lacks("date");
        }
        let name = get("name").unwrap_or_else(|| {
            lacks("name");
            ""
        });
        let mut odd = |name: &str, unread: Unread| faults.push(self.fault(index(name), unread.what, unread.help));
        let rule = get("date").and_then(|value| value.parse::<Rule>().map_err(|unread| odd("date", unread)).ok());
        let until = get("until").map(|value| value.parse::<Rule>().map_err(|unread| odd("until", unread)));
        let leap = get("leap").map(|value| value.to_lowercase().parse::<Leap>().map_err(|unread| odd("leap", unread)));
        let since = get("since").map(|value| {
            let year = value.parse::<i16>().ok().filter(|year| (1..=2199).contains(year));
            let unread = || Unread::new(format!("`{}` is no year", short(value)), "write a year of four digits");
            year.ok_or_else(|| odd("since", unread()))
        });
        if let (Some(rule), true) = (rule, faults.is_empty()) {
            let when =
                ByRule::new(rule, until.and_then(Result::ok), leap.and_then(Result::ok), since.and_then(Result::ok));
            match when {
                Ok(when) => {
                    let written_at = self.written_at(index("date"));
                    return Ok(Event {
                        name: name.to_owned(),
                        kind: get("kind").map(str::to_owned),
                        written_at,
                        when: When::Rule(when),
                    });
                }
                Err(unread) => faults.push(self.fault(index("until"), unread.what, unread.help)),
            }
        }
        Err(faults)
    }

    fn fault(&self, index: usize, what: String, help: String) -> Fault {
        Fault { written_at: self.written_at(index), what, help }
    }

    /// Where a column begins. The reader does not tell it, so the line is counted through once more.
    fn written_at(&self, index: usize) -> EventSource {
        let (mut seen, mut quoted, mut column) = (0, false, 1);
        for (at, character) in self.text.chars().enumerate() {
            if seen == index {
                break;
            }
            match character {
                '"' => quoted = !quoted,
                _ if !quoted && u32::from(character) == u32::from(self.delimiter) => {
                    seen += 1;
                    column = at + 2;
                }
                _ => {}
            }
        }
        EventSource { file: self.file.to_owned(), line: self.line, column }
    }
}
