//! The order in which pages stand.

use super::{Page, periods};
use crate::week::Week;
use crate::{Kind, Month, Order, PageSet, Period, Place, Settings};
use jiff::civil::Date;

/// All pages, in order.
pub(super) fn pages(settings: &Settings, sets: &[PageSet]) -> Vec<Page> {
    let mut pages = Vec::new();
    for (set, about) in sets.iter().enumerate() {
        for (time, (period, first, last)) in periods(settings, about).into_iter().enumerate() {
            for page in 1..=1 + about.companions {
                let place = Place { period, set: about.name.clone(), page };
                let key = match settings.order {
                    Order::ByKind => Key { set, time, page, ..Key::default() },
                    Order::ByMonth => Key { page, set, ..key(settings, sets, period) },
                };
                pages.push((key, Page { set, place, first, last }));
            }
        }
    }
    pages.sort_by_key(|(key, _)| *key);
    pages.into_iter().map(|(_, page)| page).collect()
}

/// What pages are sorted by, the first that differs deciding.
#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    /// The month under which the page is filed.
    month: Option<Month>,
    /// Within a month: what is coarser than weeks, coarse to fine, before weeks and days.
    coarse: u8,
    /// The week, where there are week pages.
    week: Option<Date>,
    /// A week's own pages before those of its days.
    fine: u8,
    day: Option<Date>,
    set: usize,
    time: usize,
    page: u16,
}

/// Where a period stands when pages go by month. A day stands with its week where there are week pages, even if the week
/// is filed under another month than the day's.
fn key(settings: &Settings, sets: &[PageSet], period: Period) -> Key {
    let span = &settings.span;
    let filed = Month::of(period.filed(span));
    match period {
        Period::Year(_) | Period::Quarter(_) | Period::Month(_) => {
            Key { month: Some(filed), coarse: period.kind() as u8, ..Key::default() }
        }
        Period::Week(week) => {
            Key { month: Some(filed), coarse: Kind::Week as u8, week: Some(week.first_day()), ..Key::default() }
        }
        Period::Day(day) => {
            let week = sets.iter().any(|set| set.kind == Kind::Week).then(|| Week::of(day, settings.first_day));
            Key {
                month: Some(week.map_or(filed, |week| Month::of(week.filed(span)))),
                coarse: Kind::Week as u8,
                week: week.map(Week::first_day),
                fine: 1,
                day: Some(day),
                ..Key::default()
            }
        }
    }
}
