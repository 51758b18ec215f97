//! `[launch]`: the day of a launch, the usual steps, and what the shop and the product change of them.

use super::raw;
use super::slug;
use super::source::Source;
use base::model::launch::{Launch, Sign, Step, usual};
use base::model::product::Date;
use std::collections::BTreeMap;
use std::ops::Range;
use toml::Spanned;

/// Days before a launch, and after it.
const DAYS: std::ops::RangeInclusive<i64> = -90..=400;
/// Years in which a launch can be: so that all of its days have four digits and lie in the present calendar.
const YEARS: std::ops::RangeInclusive<u16> = 1900..=9000;

/// Resolves the launch; `None` where there is none. Steps of the shop's file alone make no launch: the day is missing.
pub fn resolve(source: &mut Source, raw: Option<&Spanned<raw::Launch>>) -> Option<Launch> {
    let (raw, span) = (raw?.get_ref(), raw?.span());
    let steps = steps(source, &raw.step);
    match &raw.on {
        Some(on) => Some(Launch { on: day(source, on)?, steps }),
        None => {
            if !source.is_shared(&span) {
                let help = "add the day, without quotes: on = 2027-10-01".to_owned();
                source.fault(span, "the launch has no day", Some(help));
            }
            None
        }
    }
}

fn day(source: &mut Source, on: &Spanned<toml::value::Datetime>) -> Option<Date> {
    match (on.get_ref().date, on.get_ref().time) {
        (Some(d), None) if YEARS.contains(&d.year) => Some(Date { year: d.year, month: d.month, day: d.day }),
        (Some(_), None) => {
            let help = format!("write a year from {} to {}", YEARS.start(), YEARS.end());
            source.fault(on.span(), "no launch is in that year", Some(help));
            None
        }
        _ => {
            let help = "write a date without a time: 2027-10-01".to_owned();
            source.fault(on.span(), "the launch is on a day", Some(help));
            None
        }
    }
}

/// What is said of a step, the product's word before the shop's.
struct Said {
    span: Range<usize>,
    step: raw::LaunchStep,
}

fn steps(source: &mut Source, raw: &[Spanned<raw::LaunchStep>]) -> Vec<Step> {
    // By name, in the order in which they are first named; the product's come first.
    let mut order: Vec<String> = Vec::new();
    let mut said: BTreeMap<String, Said> = BTreeMap::new();
    let mut seen: BTreeMap<(String, bool), usize> = BTreeMap::new();
    for entry in raw {
        let (span, step) = (entry.span(), entry.get_ref());
        let Some(name) = name(source, &span, step) else { continue };
        sound(source, step);
        let at = step.name.as_ref().map_or(span.clone(), Spanned::span);
        let shared = source.is_shared(&span);
        if let Some(first) = seen.insert((name.clone(), shared), at.start) {
            let line = source.span(first..first).line;
            let help = "take one of them out".to_owned();
            source.fault(at, format!("the step `{name}` stands in line {line} as well"), Some(help));
            continue;
        }
        match said.get_mut(&name) {
            Some(own) => {
                let own = &mut own.step;
                own.title = own.title.take().or_else(|| step.title.clone());
                own.days_before = own.days_before.take().or_else(|| step.days_before.clone());
                own.shown_by = own.shown_by.or(step.shown_by);
                own.leave_out = own.leave_out.or(step.leave_out);
            }
            None => {
                order.push(name.clone());
                said.insert(name, Said { span, step: step.clone() });
            }
        }
    }
    let mut out = usual();
    for name in order {
        let Some(Said { span, step }) = said.remove(&name) else { continue };
        let known = out.iter().position(|usual| usual.name == name);
        if step.leave_out == Some(true) {
            if let Some(at) = known {
                out.remove(at);
            }
            continue;
        }
        let title = step.title.as_ref().map(|title| title.get_ref().trim().to_owned());
        let days = step.days_before.as_ref().and_then(|days| i16::try_from(*days.get_ref()).ok());
        let shown_by = step.shown_by.map(sign);
        if let Some(at) = known {
            let usual = &mut out[at];
            usual.title = title.unwrap_or_else(|| usual.title.clone());
            usual.days_before = days.unwrap_or(usual.days_before);
            usual.shown_by = shown_by.or(usual.shown_by);
            continue;
        }
        if title.is_none() {
            let help = "add title = \"…\", or take the name of a usual step".to_owned();
            source.fault(span.clone(), format!("the step `{name}` is one of your own and has no title"), Some(help));
        }
        if step.days_before.is_none() {
            let help = "add days-before = 7, or another number of days".to_owned();
            source.fault(span, format!("the step `{name}` is one of your own and has no days-before"), Some(help));
        }
        let (title, days_before) = (title.unwrap_or_default(), days.unwrap_or_default());
        out.push(Step { name, title, days_before, shown_by, for_past_buyers: false });
    }
    out
}

/// The name of a step, where it has a sound one.
fn name(source: &mut Source, span: &Range<usize>, step: &raw::LaunchStep) -> Option<String> {
    let Some(name) = &step.name else {
        source.fault(span.clone(), "which step is it?", Some("add name = \"announce\", or a name of your own".into()));
        return None;
    };
    let given = name.get_ref();
    if !given.is_empty() && slug(given) == *given && given.len() <= 40 && given != LAUNCH {
        return Some(given.clone());
    }
    let better = slug(given);
    let help = match better.is_empty() || better == *given {
        true => "such as announce, film or letter".to_owned(),
        false => format!("write it as `{better}`"),
    };
    let message = match given == LAUNCH {
        true => "the launch itself is no step: its day is `on`",
        false => "the name of a step has 1 to 40 lower-case letters, digits and hyphens",
    };
    source.fault(name.span(), message, Some(help));
    None
}

/// What the day itself is called in the plan.
const LAUNCH: &str = "launch";

/// What of a step can be wrong by itself.
fn sound(source: &mut Source, step: &raw::LaunchStep) {
    if let Some(title) = &step.title {
        let text = title.get_ref().trim();
        if text.is_empty() || text.chars().any(char::is_control) || text.chars().count() > 200 {
            let help = "write what is to be done in a line of at most 200 characters".to_owned();
            source.fault(title.span(), "the title of a step is a line of text", Some(help));
        }
    }
    if let Some(days) = step.days_before.as_ref().filter(|days| !DAYS.contains(days.get_ref())) {
        let help = format!("{} to {} days; below 0 is after the launch", DAYS.start(), DAYS.end());
        source.fault(days.span(), format!("{} days before the launch is out of range", days.get_ref()), Some(help));
    }
}

fn sign(raw: raw::ShownBy) -> Sign {
    match raw {
        raw::ShownBy::Built => Sign::Built,
        raw::ShownBy::Clean => Sign::Clean,
        raw::ShownBy::Pictures => Sign::Pictures,
        raw::ShownBy::Issued => Sign::Issued,
    }
}
