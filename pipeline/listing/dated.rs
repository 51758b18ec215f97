//! What a buyer asks of a planner: which months, on which day weeks begin, how many pages of each kind.

use super::counted;
use base::model::Product;
use base::model::planner::Dated;
use calendar::{Form, Kind, Month, Names, Planner, Width, stored};

/// A sentence on the dated pages of all variants; `None` where there are none. Where variants differ it names each.
pub fn sentence(products: &[&Product]) -> Option<String> {
    let dated: Vec<&Dated> = products.iter().filter_map(|p| p.notebook.as_ref()?.dated.as_deref()).collect();
    let planners: Vec<Planner> = dated.iter().filter_map(|dated| stored::planner(dated).ok()).collect();
    let names = Names::new("en").ok()?;
    if planners.is_empty() {
        return None;
    }
    let months = each(planners.iter().map(|planner| months(&names, planner)));
    let starts =
        each(planners.iter().map(|planner| names.weekday(planner.settings().first_day, Width::Wide).to_owned()));
    let kinds = [(Kind::Month, "month", "months"), (Kind::Week, "week", "weeks"), (Kind::Day, "day", "days")];
    let counts = kinds.into_iter().filter_map(|(kind, one, many)| {
        let mut counts: Vec<usize> = planners.iter().map(|planner| count(planner, kind)).filter(|n| *n > 0).collect();
        counts.sort_unstable();
        counts.dedup();
        match counts[..] {
            [] => None,
            [count] => Some(counted(count, one, many)),
            _ => Some(format!("{} {many}", each(counts.iter().map(ToString::to_string)))),
        }
    });
    let counts = counts.collect::<Vec<_>>().join(", ");
    let some = if dated.len() < products.len() { ", in the dated variants" } else { "" };
    let colon = if counts.is_empty() { "" } else { ": " };
    Some(format!("**Dated {months}**, {starts} start{some}{colon}{counts}"))
}

/// Periods that have a page. Days that share one count each.
fn count(planner: &Planner, kind: Kind) -> usize {
    match kind {
        Kind::Day => planner.span().days().filter(|day| planner.at(Kind::Day, *day, None).is_some()).count(),
        _ => planner.count(kind),
    }
}

/// "January to December 2027", "August 2026 to July 2027".
fn months(names: &Names, planner: &Planner) -> String {
    let (first, last) = (planner.span().first(), planner.span().last());
    let name = |month: Month| names.month(month.number(), Width::Wide, Form::Alone).to_owned();
    match (first == last, first.year() == last.year()) {
        (true, _) => format!("{} {}", name(first), first.year()),
        (_, true) => format!("{} to {} {}", name(first), name(last), last.year()),
        _ => format!("{} {} to {} {}", name(first), first.year(), name(last), last.year()),
    }
}

/// Each of them once, with an "or" between.
fn each(all: impl Iterator<Item = String>) -> String {
    let mut out: Vec<String> = Vec::new();
    for one in all {
        if !out.contains(&one) {
            out.push(one);
        }
    }
    out.join(" or ")
}
