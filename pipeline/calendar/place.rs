//! Places of dated pages: the named spots that a link can lead to.

use crate::{Kind, Period, SetName, Unread};
use std::fmt;
use std::str::FromStr;

/// The place of a dated page: `day/2027-03-14`, `week/2027-W09/2`, `day/2027-03-14/gratitude`,
/// `day/2027-03-14/gratitude/2`. It is the same in all variants of a product that have the page.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The period.
    pub period: Period,
    /// The name of the set, where it has one.
    pub set: Option<SetName>,
    /// The page of the period: 1 is the page itself, 2 and up are its companions.
    pub page: u16,
}

impl Place {
    /// The place of a period's own page in the set without a name.
    pub fn of(period: Period) -> Place {
        Place { period, set: None, page: 1 }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.period.kind(), self.period)?;
        if let Some(set) = &self.set {
            write!(f, "/{set}")?;
        }
        if self.page > 1 {
            write!(f, "/{}", self.page)?;
        }
        Ok(())
    }
}

impl FromStr for Place {
    type Err = Unread;

    fn from_str(text: &str) -> Result<Place, Unread> {
        let mut parts = text.split('/');
        let kind: Kind = parts.next().unwrap_or_default().parse()?;
        let Some(period) = parts.next() else {
            return Err(Unread::new(
                format!("`{text}` names a kind of page without a date"),
                "add the date, as in month/2027-03 or day/2027-03-14",
            ));
        };
        let mut place = Place::of(Period::read(kind, period)?);
        let mut next = parts.next();
        if let Some(name) = next.filter(|name| !name.starts_with(|c: char| c.is_ascii_digit())) {
            place.set = Some(name.parse()?);
            next = parts.next();
        }
        if let Some(number) = next {
            place.page = match number.parse() {
                Ok(page @ 2..) if number.bytes().all(|byte| byte.is_ascii_digit()) && !number.starts_with('0') => page,
                _ => {
                    return Err(Unread::new(
                        format!("`{number}` is no page behind {kind}/{period}"),
                        "companions count from 2, as in day/2027-03-14/2; the page itself has no number",
                    ));
                }
            };
        }
        if let Some(rest) = parts.next() {
            return Err(Unread::new(
                format!("`{rest}` is one part too many in `{text}`"),
                "a place has a kind, a period, the name of a set and the number of a companion",
            ));
        }
        Ok(place)
    }
}

crate::words::as_text!(Place, "place such as day/2027-03-14");
