//! What the calendar does to a planner when it moves: how many days and weeks it has, where the leap day lies, how high
//! the grids of its months are.

use super::told::Move;
use calendar::{Names, Span, Week, Weekday};
use toml_edit::Item;

/// Tells what is other than before, one sentence each.
pub fn outlook(plan: &Move, calendar: &Item) -> Vec<String> {
    let mut out = Vec::new();
    let count = |n: usize, what: &str| format!("{n} {what}{}", if n == 1 { "" } else { "s" });
    let (days, had) = (plan.to.day_count(), plan.from.day_count());
    out.push(changed(&count(days, "day"), days == had, had));
    match (leap_day(&plan.from), leap_day(&plan.to)) {
        (None, Some(day)) => out.push(format!("{day} is a leap day")),
        (Some(_), None) => out.push("there is no leap day any more".to_owned()),
        _ => {}
    }
    // Without a word on it, weeks begin as the language's region has them; the build tells that.
    let said = calendar
        .get("first-day")
        .and_then(Item::as_str)
        .and_then(|word| Weekday::ALL.iter().copied().find(|day| day.to_string() == word));
    let first_day = said.unwrap_or_else(|| Names::new("en-GB").map_or(Weekday::Monday, |names| names.first_day()));
    let weeks = |span: &Span| Week::all(span, first_day).count();
    let (now, had) = (weeks(&plan.to), weeks(&plan.from));
    out.push(format!("{}, for weeks from {first_day}", changed(&count(now, "week"), now == had, had)));
    for height in [4, 5, 6] {
        let of = |span: &Span| -> Vec<String> {
            span.months().filter(|m| Week::all(&one(*m), first_day).count() == height).map(|m| m.to_string()).collect()
        };
        let months = of(&plan.to);
        if height != 5 && !months.is_empty() {
            out.push(format!("{height} rows in the grid of {}", months.join(", ")));
        }
    }
    out
}

/// A span of one month.
fn one(month: calendar::Month) -> Span {
    Span::new(month, 1).expect("one month is a span")
}

fn changed(now: &str, same: bool, had: usize) -> String {
    if same { format!("{now}, as before") } else { format!("{now}, before {had}") }
}

fn leap_day(span: &Span) -> Option<String> {
    span.months().find(|m| m.number() == 2 && m.days() == 29).map(|m| m.last_day().to_string())
}
