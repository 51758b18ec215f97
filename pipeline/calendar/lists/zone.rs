//! Time zones of the tz database, compiled in: the same on every machine.

use crate::Unread;
use base::keys::{Described, Shape};
use icu_time::zone::iana::IanaParserExtended;
use icu_time::zone::windows::WindowsParser;
use jiff::tz::{TimeZone, TimeZoneDatabase};
use std::fmt;
use std::str::FromStr;

/// A time zone of the tz database, as `Europe/Lisbon`.
#[derive(Clone, Debug)]
pub struct Zone {
    name: String,
    zone: TimeZone,
}

impl Described for Zone {
    fn shape() -> Shape {
        Shape::Text
    }
}

impl Zone {
    /// Coordinated universal time.
    pub fn utc() -> Zone {
        Zone { name: "UTC".into(), zone: TimeZone::UTC }
    }

    /// The name in the tz database.
    pub fn name(&self) -> &str {
        &self.name
    }

    pub(super) fn zone(&self) -> TimeZone {
        self.zone.clone()
    }

    /// The zone that a calendar program means. Besides names of the tz database these are paths that end in one, and
    /// the names of Windows (CLDR, windowsZones).
    pub(super) fn meant(id: &str) -> Option<Zone> {
        let id = id.trim().trim_matches('"');
        if id.len() > 100 {
            return None;
        }
        let parts: Vec<&str> = id.split('/').filter(|part| !part.is_empty()).collect();
        let ends = (0..parts.len()).map(|from| parts[from..].join("/"));
        // A path's last part alone is no zone of the database, unless it is the whole: `Cuba`, `UTC`.
        let named = ends.filter(|end| end.contains('/') || end == id).find_map(|end| known(&end));
        named.or_else(|| {
            let zone = WindowsParser::new().parse(id, None)?;
            let name = IanaParserExtended::new().iter().find(|each| each.time_zone == zone)?.canonical;
            known(name)
        })
    }
}

fn known(name: &str) -> Option<Zone> {
    let zone = TimeZoneDatabase::bundled().get(name).ok()?;
    let name = zone.iana_name().unwrap_or(name).to_owned();
    Some(Zone { name, zone })
}

impl PartialEq for Zone {
    fn eq(&self, other: &Zone) -> bool {
        self.name == other.name
    }
}

impl fmt::Display for Zone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.name)
    }
}

impl FromStr for Zone {
    type Err = Unread;

    fn from_str(text: &str) -> Result<Zone, Unread> {
        known(text).ok_or_else(|| {
            let names: Vec<String> = TimeZoneDatabase::bundled().available().map(|name| name.to_string()).collect();
            let lower: Vec<(String, &String)> = names.iter().map(|name| (name.to_lowercase(), name)).collect();
            let near = crate::unread::nearest(text, lower.iter().map(|(lower, _)| lower.as_str()));
            let near = near.and_then(|near| lower.iter().find(|(lower, _)| lower == near)).map(|(_, name)| name);
            let help = match near {
                Some(name) => format!("did you mean `{name}`?"),
                None => "write continent and city, as \"Europe/Lisbon\" or \"America/Sao_Paulo\"".to_owned(),
            };
            Unread::new(format!("`{}` is no time zone of the tz database", super::short(text)), help)
        })
    }
}

crate::words::as_text!(Zone, "time zone such as Europe/Lisbon");
