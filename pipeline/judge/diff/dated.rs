//! Dated pages of two versions: which is which by its date and never by its number. A date is read off the label of a page
//! (`2027-03-14`, `W09/2`), which reader apps show as well.
//!
//! Two planners with months in common are two versions of one: 14 March is 14 March in both. Without any in common one is the
//! other's edition for other months. Its pages are paired by their place in the planner, so that links to them stay links to
//! the same thing; that the dates are others is told once.

use super::align::Alignment;
use base::model::calendar::MONTHS;
use base::model::facts::PdfFacts;
use std::collections::{BTreeMap, BTreeSet};

/// A month with fewer labels of days than so many is not one of the planner's: weeks without a number have the label of their
/// first day, which may lie before the first month.
const DAYS: usize = 3;

/// A label, with months counted from year 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Stamp {
    Year(i32),
    Quarter(i32),
    Month(i32),
    Week(i32),
    Day(i32, i32),
}

impl Stamp {
    /// Reads a label; gives what stands behind the date as well: the name of a set, the number of a companion.
    fn read(label: &str) -> Option<(Stamp, &str)> {
        let (date, behind) = label.split_once('/').unwrap_or((label, ""));
        let number = |text: &str, digits: usize| -> Option<i32> {
            let plain = text.len() == digits && text.bytes().all(|byte| byte.is_ascii_digit());
            plain.then(|| text.parse().ok()).flatten()
        };
        let month = |year: &str, month: &str| {
            Some(number(year, 4)? * 12 + number(month, 2).filter(|month| (1..=12).contains(month))? - 1)
        };
        let parts: Vec<&str> = date.split('-').collect();
        let stamp = match parts[..] {
            [year, of_year, day] => Stamp::Day(month(year, of_year)?, number(day, 2)?),
            [year, quarter] if quarter.starts_with('Q') => {
                Stamp::Quarter(number(year, 4)? * 4 + number(&quarter[1..], 1)? - 1)
            }
            [year, of_year] => Stamp::Month(month(year, of_year)?),
            [week] if week.starts_with('W') => Stamp::Week(number(&week[1..], 2)?),
            // A number of four digits may count pages; four years of a planner do not.
            [year] => Stamp::Year(number(year, 4).filter(|year| (1900..2200).contains(year))?),
            _ => return None,
        };
        // A year that begins in August is labelled `2026/27`.
        let years = matches!(stamp, Stamp::Year(_)) && behind.len() == 2;
        Some((stamp, if years { "" } else { behind }))
    }

    /// As it is counted from the first month of its planner.
    fn from(self, first: i32) -> Stamp {
        match self {
            Stamp::Year(year) => Stamp::Year(year - first.div_euclid(12)),
            Stamp::Quarter(quarter) => Stamp::Quarter(quarter - first.div_euclid(3)),
            Stamp::Month(month) => Stamp::Month(month - first),
            Stamp::Day(month, day) => Stamp::Day(month - first, day),
            Stamp::Week(_) => self,
        }
    }
}

/// What tells a dated page from all others: its date, what stands behind that, and which it is of those that have both.
type Key<'a> = (Stamp, &'a str, usize);

/// The pages of a file with their dates.
struct Dates<'a> {
    stamps: Vec<Option<(Stamp, &'a str)>>,
    months: BTreeSet<i32>,
}

impl<'a> Dates<'a> {
    fn of(pdf: &'a PdfFacts) -> Dates<'a> {
        let stamps: Vec<_> = pdf.pages.iter().map(|page| Stamp::read(page.label.as_deref()?)).collect();
        let mut months = BTreeSet::new();
        let mut days: BTreeMap<i32, BTreeSet<i32>> = BTreeMap::new();
        for (stamp, _) in stamps.iter().flatten() {
            match stamp {
                Stamp::Month(month) => {
                    months.insert(*month);
                }
                Stamp::Day(month, day) => {
                    days.entry(*month).or_default().insert(*day);
                }
                Stamp::Year(_) | Stamp::Quarter(_) | Stamp::Week(_) => {}
            }
        }
        if months.is_empty() {
            months.extend(days.iter().filter(|(_, days)| days.len() >= DAYS).map(|(month, _)| *month));
        }
        Dates { stamps, months }
    }

    /// Keys of all dated pages, counted from a first month.
    fn keys(&self, first: i32) -> Vec<Option<Key<'a>>> {
        let mut seen: BTreeMap<(Stamp, &str), usize> = BTreeMap::new();
        let key = |(stamp, behind): (Stamp, &'a str)| {
            let stamp = stamp.from(first);
            let count = seen.entry((stamp, behind)).or_default();
            *count += 1;
            (stamp, behind, *count)
        };
        let mut key = key;
        self.stamps.iter().map(|stamp| stamp.map(&mut key)).collect()
    }

    fn said(&self) -> String {
        let (Some(first), Some(last)) = (self.months.first(), self.months.last()) else { return String::new() };
        let name = |month: &i32| MONTHS[month.rem_euclid(12) as usize];
        let year = |month: &i32| month.div_euclid(12);
        match (first == last, year(first) == year(last)) {
            (true, _) => format!("{} {}", name(first), year(first)),
            (_, true) => format!("{} to {} {}", name(first), name(last), year(last)),
            _ => format!("{} {} to {} {}", name(first), year(first), name(last), year(last)),
        }
    }

    /// The years in figures, as every language writes them: `2028`, `2026/27`, and `2027-03` for a month alone.
    fn figures(&self) -> String {
        let (Some(first), Some(last)) = (self.months.first(), self.months.last()) else { return String::new() };
        let (from, to) = (first.div_euclid(12), last.div_euclid(12));
        match to - from {
            0 if first == last => format!("{from}-{:02}", first.rem_euclid(12) + 1),
            0 => from.to_string(),
            _ => format!("{from}/{:02}", to % 100),
        }
    }
}

/// Two planners, page beside page.
pub struct Paired {
    /// Old and new pages of one date, by index from 0.
    pub pairs: Vec<(usize, usize)>,
    /// Whether an old page is dated.
    pub old: Vec<bool>,
    /// Whether a new page is dated.
    pub new: Vec<bool>,
    /// Where the one is the other's edition for other months, what is told of it.
    pub edition: Option<Edition>,
}

/// An edition for other months.
pub struct Edition {
    /// In words.
    pub message: String,
    /// Its years in figures.
    pub figures: String,
}

/// Pairs the dated pages of two planners; `None` unless both are one.
pub fn pair(a: &PdfFacts, b: &PdfFacts) -> Option<Paired> {
    let (old, new) = (Dates::of(a), Dates::of(b));
    let (from, to) = (old.months.first(), new.months.first());
    let other = old.months.is_disjoint(&new.months);
    let (first, now) = match (from, to) {
        (Some(from), Some(to)) if other => (*from, *to),
        // Weeks alone, by their numbers, say nothing of the year.
        (None, _) | (_, None) => return None,
        _ => (0, 0),
    };
    let (x, y) = (old.keys(first), new.keys(now));
    let at: BTreeMap<&Key, usize> = y.iter().enumerate().filter_map(|(j, key)| Some((key.as_ref()?, j))).collect();
    let pairs: Vec<(usize, usize)> =
        x.iter().enumerate().filter_map(|(i, key)| Some((i, *at.get(key.as_ref()?)?))).collect();
    let edition = other.then(|| {
        let count = |keys: &[Option<Key>]| keys.iter().flatten().count();
        let (had, has) = (count(&x), count(&y));
        let pages = if had == has {
            format!("{has} dated pages, as before")
        } else {
            format!("{has} dated pages, before {had}")
        };
        Edition {
            message: format!("the planner is for {} and was for {}: {pages}", new.said(), old.said()),
            figures: new.figures(),
        }
    });
    let dated = |keys: &[Option<Key>]| keys.iter().map(Option::is_some).collect();
    Some(Paired { pairs, old: dated(&x), new: dated(&y), edition })
}

impl Paired {
    /// Puts the dated pages beside those that were aligned without them. `same` says whether a pair is drawn alike.
    pub fn join(&self, rest: Alignment, same: impl Fn(usize, usize) -> bool) -> Alignment {
        let mut all = rest;
        let (alike, redrawn): (Vec<_>, Vec<_>) = self.pairs.iter().copied().partition(|(i, j)| same(*i, *j));
        all.redrawn.extend(redrawn);
        all.redrawn.sort_by_key(|pair| pair.1);
        all.same.extend(alike);
        all.same.sort_unstable();
        let (kept, moved) = in_order(&all.same);
        all.same = kept;
        all.moved.extend(moved);
        all.moved.sort_by_key(|pair| pair.1);
        let paired = |of: fn(&(usize, usize)) -> usize| self.pairs.iter().map(of).collect::<BTreeSet<usize>>();
        let (x, y) = (paired(|pair| pair.0), paired(|pair| pair.1));
        let alone = |dated: &[bool], paired: &BTreeSet<usize>| -> Vec<usize> {
            (0..dated.len()).filter(|page| dated[*page] && !paired.contains(page)).collect()
        };
        all.removed.extend(alone(&self.old, &x));
        all.removed.sort_unstable();
        all.inserted.extend(alone(&self.new, &y));
        all.inserted.sort_unstable();
        all
    }
}

/// A page of the old side and one of the new.
type Pair = (usize, usize);

/// The most pairs that stand in the same order on both sides, and those that do not. `pairs` are in the order of the old side.
fn in_order(pairs: &[Pair]) -> (Vec<Pair>, Vec<Pair>) {
    // Patience: the last pair of the best run of each length, and for each pair the one before it in its run.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(pairs.len());
    for (n, (_, j)) in pairs.iter().enumerate() {
        let length = ends.partition_point(|end| pairs[*end].1 < *j);
        before.push(length.checked_sub(1).map(|last| ends[last]));
        if length == ends.len() { ends.push(n) } else { ends[length] = n }
    }
    let mut kept = BTreeSet::new();
    let mut at = ends.last().copied();
    while let Some(n) = at {
        kept.insert(n);
        at = before[n];
    }
    let (kept, moved): (Vec<_>, Vec<_>) = pairs.iter().enumerate().partition(|(n, _)| kept.contains(n));
    let bare = |list: Vec<(usize, &(usize, usize))>| list.into_iter().map(|(_, pair)| *pair).collect();
    (bare(kept), bare(moved))
}

#[cfg(test)]
mod tests {
    use super::*;
    use base::model::facts::PageFacts;

    fn labelled(labels: &[&str]) -> PdfFacts {
        let page = |label: &&str| PageFacts { label: Some((*label).to_owned()), ..PageFacts::default() };
        PdfFacts { pages: labels.iter().map(page).collect(), ..PdfFacts::default() }
    }

    #[test]
    fn labels_are_read() {
        assert_eq!(Stamp::read("2027-03-14/2"), Some((Stamp::Day(2027 * 12 + 2, 14), "2")));
        assert_eq!(Stamp::read("2026/27"), Some((Stamp::Year(2026), "")));
        assert_eq!(Stamp::read("2027-Q2"), Some((Stamp::Quarter(2027 * 4 + 1), "")));
        assert_eq!(Stamp::read("W09/gratitude"), Some((Stamp::Week(9), "gratitude")));
        for other in ["12", "iv", "Cover", "2027-13", "0099", "A-1"] {
            assert_eq!(Stamp::read(other), None, "{other}");
        }
    }

    #[test]
    fn one_date_is_one_page_wherever_it_stands() {
        let a = labelled(&["Cover", "2027-01", "2027-01-01", "2027-01-02"]);
        let b = labelled(&["Cover", "Index", "2027-01", "2027-01-02", "2027-01-01"]);
        let paired = pair(&a, &b).unwrap_or_else(|| unreachable!("both are planners"));
        assert_eq!(paired.pairs, [(1, 2), (2, 4), (3, 3)]);
        assert!(paired.edition.is_none());
        let joined = paired.join(Alignment::default(), |_, _| true);
        assert_eq!((joined.same.len(), joined.moved.len()), (2, 1));
    }

    #[test]
    fn the_next_year_is_an_edition() {
        let a = labelled(&["2027", "2027-02", "W09", "2027-02-28"]);
        let b = labelled(&["2028", "2028-02", "W09", "2028-02-28", "2028-02-29"]);
        let paired = pair(&a, &b).unwrap_or_else(|| unreachable!("both are planners"));
        assert_eq!(paired.pairs, [(0, 0), (1, 1), (2, 2), (3, 3)]);
        let edition = paired.edition.map(|edition| (edition.message, edition.figures));
        let message = "the planner is for February 2028 and was for February 2027: 5 dated pages, before 4";
        assert_eq!(edition, Some((message.to_owned(), "2028-02".to_owned())));
        assert!(pair(&a, &labelled(&["1", "2"])).is_none());
    }
}
