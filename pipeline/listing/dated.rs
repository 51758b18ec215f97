//! What a buyer asks of a planner: which months, on which day weeks begin, how many pages of each kind; and which of its
//! pages show it best.

use super::facts::{DatedFacts, DatedKindFacts};
use base::model::Product;
use base::model::planner::{Dated, Happening};
use calendar::{Form, Kind, Month, Planner, Width, stored};
use wording::{Count, Tongue, fill};

/// Kinds in the order in which they please on a picture.
const KINDS: [Kind; 5] = [Kind::Month, Kind::Week, Kind::Day, Kind::Year, Kind::Quarter];

/// What there is to say of the dated pages of all variants; `None` where there are none. Where variants differ each is named.
pub fn facts(products: &[&Product], tongue: &Tongue) -> Option<DatedFacts> {
    let dated: Vec<&Dated> = products.iter().filter_map(|p| p.notebook.as_ref()?.dated.as_deref()).collect();
    let planners: Vec<Planner> = dated.iter().filter_map(|dated| stored::planner(dated).ok()).collect();
    let (lead, happenings) = (planners.first()?, &dated.first()?.happenings);
    let places = places(lead, happenings);
    let kinds: Vec<DatedKindFacts> = KINDS
        .into_iter()
        .filter_map(|kind| {
            let (number, most) = numbers(&planners, kind, tongue)?;
            let said = tongue.several(&number, most, noun(kind, tongue));
            let place = places.iter().find(|(of, _)| *of == kind).map(|(_, place)| place.clone());
            Some(DatedKindFacts { kind: kind.to_string(), said, number, most, place })
        })
        .collect();
    Some(DatedFacts {
        sentence: sentence(&planners, dated.len() < products.len(), tongue)?,
        years: each(planners.iter().map(|planner| years(tongue, planner)), tongue),
        months: each(planners.iter().map(|planner| months(tongue, planner)), tongue),
        every: every(&planners, &kinds, tongue),
        kinds,
    })
}

/// How many pages of a kind there are; where planners differ, each number. Then the largest of them.
fn numbers(planners: &[Planner], kind: Kind, tongue: &Tongue) -> Option<(String, usize)> {
    let mut counts: Vec<usize> = planners.iter().map(|planner| count(planner, kind)).filter(|n| *n > 0).collect();
    counts.sort_unstable();
    counts.dedup();
    let most = counts.last().copied()?;
    Some((each(counts.iter().map(|n| tongue.number(*n as u64)), tongue), most))
}

/// The same with what is counted.
fn said(planners: &[Planner], kind: Kind, tongue: &Tongue) -> Option<String> {
    let (number, most) = numbers(planners, kind, tongue)?;
    Some(tongue.several(&number, most, noun(kind, tongue)))
}

fn noun(kind: Kind, tongue: &Tongue) -> Count {
    let says = &tongue.documents().listing;
    match kind {
        Kind::Day => says.days,
        Kind::Week => says.weeks,
        Kind::Month => says.months,
        Kind::Quarter => says.quarters,
        Kind::Year => says.years,
    }
}

/// What a description says of the dates, in its language.
fn sentence(planners: &[Planner], some: bool, tongue: &Tongue) -> Option<String> {
    let (says, names) = (&tongue.documents().listing, tongue.names()?);
    let start = |planner: &Planner| names.weekday(planner.settings().first_day, Width::Wide).to_owned();
    let counts = [Kind::Month, Kind::Week, Kind::Day].into_iter().filter_map(|kind| said(planners, kind, tongue));
    let counts = counts.collect::<Vec<_>>().join(tongue.documents().start.comma);
    let counts = if counts.is_empty() { counts } else { fill(says.dated_counts, &[("counts", &counts)]) };
    let months = each(planners.iter().map(|planner| months(tongue, planner)), tongue);
    let days = each(planners.iter().map(start), tongue);
    let some = if some { says.dated_some } else { "" };
    Some(fill(says.dated, &[("months", &months), ("day", &days), ("some", some), ("counts", &counts)]))
}

/// A page of each kind, all on one day: the fullest of the fullest month, or else one in the middle of the third month, where
/// some tabs are passed and others are to come.
fn places(planner: &Planner, happenings: &[Happening]) -> Vec<(Kind, String)> {
    let full = |first: &dyn Fn((i16, i8, i8)) -> bool| happenings.iter().filter(|each| first(each.first)).count();
    let months: Vec<Month> = planner.span().months().collect();
    let worth = |(at, month): &(usize, &Month)| {
        let count = full(&|(year, number, _)| (year, number) == (month.year(), month.number()));
        (count, std::cmp::Reverse(at.abs_diff(2)))
    };
    let Some((_, month)) = months.iter().enumerate().max_by_key(worth) else { return Vec::new() };
    let days = planner.span().days().filter(|day| Month::of(*day) == *month);
    let paged = days.filter(|day| {
        planner.at(Kind::Day, *day, None).is_some() || planner.sets().iter().all(|set| set.kind != Kind::Day)
    });
    let worth = |day: &_| {
        let day: &calendar::Date = day;
        let count = full(&|first| first == (day.year(), day.month(), day.day()));
        (count, std::cmp::Reverse(day.day().abs_diff(14)))
    };
    let Some(day) = paged.max_by_key(worth) else { return Vec::new() };
    let place = |kind: Kind| {
        let page = planner.at(kind, day, None)?;
        Some((kind, planner.pages()[page].place.to_string()))
    };
    KINDS.into_iter().filter_map(place).collect()
}

/// "Every month, week and day", where each has a page; "Months, weeks and days" where some days have none.
fn every(planners: &[Planner], kinds: &[DatedKindFacts], tongue: &Tongue) -> String {
    let says = &tongue.documents().pictures;
    let whole = |planner: &Planner| match count(planner, Kind::Day) {
        0 => true,
        days => days == planner.span().days().count(),
    };
    let whole = planners.iter().all(whole);
    let shown = kinds.iter().take(3);
    let nouns = shown.filter_map(|shown| KINDS.iter().find(|kind| kind.to_string() == shown.kind));
    let nouns = nouns.map(|kind| match (kind, whole) {
        (Kind::Month, true) => says.every_month,
        (Kind::Week, true) => says.every_week,
        (Kind::Day, true) => says.every_day,
        (Kind::Quarter, true) => says.every_quarter,
        (Kind::Year, true) => says.every_year,
        (Kind::Month, false) => says.several_months,
        (Kind::Week, false) => says.several_weeks,
        (Kind::Day, false) => says.several_days,
        (Kind::Quarter, false) => says.several_quarters,
        (Kind::Year, false) => says.several_years,
    });
    let row = tongue.row(&nouns.map(str::to_owned).collect::<Vec<_>>());
    let row = if whole { fill(says.every, &[("row", &row)]) } else { row };
    let mut letters = row.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `2027`, `2026/27`; over three years the first and the last, with a dash between.
fn years(tongue: &Tongue, planner: &Planner) -> String {
    let (first, last) = (planner.span().first().year(), planner.span().last().year());
    let (year, short) =
        (|year: i16| tongue.measure(&year.to_string()), |year: i16| tongue.measure(&format!("{:02}", year % 100)));
    match last - first {
        0 => year(first),
        1 => format!("{}/{}", year(first), short(last)),
        _ => format!("{}\u{2013}{}", year(first), short(last)),
    }
}

/// Periods that have a page. Days that share one count each.
fn count(planner: &Planner, kind: Kind) -> usize {
    match kind {
        Kind::Day => planner.span().days().filter(|day| planner.at(Kind::Day, *day, None).is_some()).count(),
        _ => planner.count(kind),
    }
}

/// "January to December 2027", "August 2026 to July 2027".
fn months(tongue: &Tongue, planner: &Planner) -> String {
    let (says, Some(names)) = (&tongue.documents().listing, tongue.names()) else { return String::new() };
    let (first, last) = (planner.span().first(), planner.span().last());
    let name = |month: Month| names.month(month.number(), Width::Wide, Form::Alone).to_owned();
    let [from, to] = [first, last].map(|month| tongue.measure(&month.year().to_string()));
    let (start, end) = (name(first), name(last));
    match (first == last, from == to) {
        (true, _) => fill(says.month_year, &[("month", &start), ("year", &from)]),
        (_, true) => fill(says.months_of_year, &[("first", &start), ("last", &end), ("year", &to)]),
        _ => fill(says.months_of_years, &[("first", &start), ("from", &from), ("last", &end), ("to", &to)]),
    }
}

/// Each of them once, with an "or" between.
fn each(all: impl Iterator<Item = String>, tongue: &Tongue) -> String {
    let mut out: Vec<String> = Vec::new();
    for one in all {
        if !out.contains(&one) {
            out.push(one);
        }
    }
    out.join(tongue.documents().start.or)
}
