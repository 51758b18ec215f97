//! What holds for every planner: any first month from 1950 to 2099, 1 to 24 months, seven first weekdays, four ways to
//! number weeks, any set of kinds, both orders.

mod fixtures;

use calendar::{
    DayChoice, DayPage, Kind, Month, Order, PageId, PageSet, Period, Place, Planner, Settings, Span, WeekScheme,
    Weekday,
};
use proptest::prelude::*;
use std::collections::BTreeSet;

/// Two days a page, from any day of the week on, with the seventh alone or left out.
fn pairs() -> impl Strategy<Value = DayChoice> {
    (0_usize..7, any::<bool>()).prop_map(|(from, whole)| {
        let day = |n: usize| Weekday::ALL[(from + n) % 7];
        let pairs = [0, 2, 4].map(|n| DayPage::of(day(n), true));
        DayChoice::Shared(pairs.into_iter().chain(whole.then(|| DayPage::of(day(6), false))).collect())
    })
}

fn choice() -> impl Strategy<Value = DayChoice> {
    prop_oneof![
        2 => Just(DayChoice::All),
        1 => Just(DayChoice::Workdays),
        1 => Just(DayChoice::Joined),
        1 => pairs(),
        1 => proptest::sample::subsequence(Weekday::ALL.to_vec(), 1..7).prop_map(|days| DayChoice::Only(days.into_iter().collect())),
    ]
}

fn sets() -> impl Strategy<Value = Vec<PageSet>> {
    let kinds = proptest::sample::subsequence(Kind::ALL.to_vec(), 1..=5).prop_shuffle();
    (kinds, choice(), 0u16..3, any::<bool>()).prop_map(|(kinds, weekdays, companions, second)| {
        let mut sets: Vec<PageSet> = kinds.into_iter().map(PageSet::of).collect();
        for set in sets.iter_mut().filter(|set| set.kind == Kind::Day) {
            set.weekdays = weekdays.clone();
        }
        sets[0].companions = companions;
        if second {
            let name = Some("evening".parse().expect("a name"));
            sets.push(PageSet { name, ..sets[0].clone() });
        }
        sets
    })
}

fn settings() -> impl Strategy<Value = Settings> {
    let start = (1950i16..=2099, 1i8..=12, 1i64..=24);
    let weekend = proptest::sample::subsequence(Weekday::ALL.to_vec(), 0..=3);
    (start, 0usize..7, 0usize..4, any::<bool>(), weekend).prop_map(
        |((year, month, months), day, scheme, by_kind, weekend)| {
            let span = Span::new(Month::new(year, month).expect("a month"), months).expect("a span");
            let first_day = Weekday::ALL[day];
            let scheme = WeekScheme::ALL[scheme];
            Settings {
                week_numbers: if scheme == WeekScheme::Iso && first_day != Weekday::Monday {
                    WeekScheme::None
                } else {
                    scheme
                },
                order: if by_kind { Order::ByKind } else { Order::ByMonth },
                weekend,
                ..Settings::plain(span, first_day)
            }
        },
    )
}

fn planner() -> impl Strategy<Value = Planner> {
    (settings(), sets()).prop_map(|(settings, sets)| Planner::new(settings, sets).expect("the sets differ"))
}

/// The pages of a set, without companions.
fn own(planner: &Planner, kind: Kind) -> Vec<PageId> {
    let own = |id: &PageId| {
        let page = &planner.pages()[*id];
        page.kind() == kind && page.place.page == 1 && page.place.set.is_none()
    };
    (0..planner.pages().len()).filter(own).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn each_day_once(settings in settings(), choice in choice(), sets in sets()) {
        let mut sets: Vec<PageSet> = sets.into_iter().filter(|set| set.kind != Kind::Day).collect();
        sets.push(PageSet { weekdays: choice.clone(), ..PageSet::of(Kind::Day) });
        let planner = Planner::new(settings.clone(), sets).expect("the sets differ");
        let mut seen = BTreeSet::new();
        for id in own(&planner, Kind::Day) {
            let page = &planner.pages()[id];
            for day in settings.span.days().filter(|day| page.covers(*day)) {
                prop_assert!(seen.insert(day), "{day} twice");
            }
            prop_assert!(settings.span.contains(page.first) && settings.span.contains(page.last));
        }
        let wanted = |day: &calendar::Date| match &choice {
            DayChoice::All | DayChoice::Joined => true,
            DayChoice::Workdays => !settings.is_weekend(*day),
            DayChoice::Only(days) => days.contains(&Weekday::of(*day)),
            DayChoice::Shared(pages) => pages.iter().any(|page| page.days().any(|one| one == Weekday::of(*day))),
        };
        prop_assert_eq!(seen, settings.span.days().filter(wanted).collect::<BTreeSet<_>>());
    }

    #[test]
    fn weeks_cover_the_span_and_overlap_nowhere(planner in planner()) {
        let weeks: Vec<_> = planner.weeks().collect();
        let span = *planner.span();
        prop_assert!(weeks[0].first_day() <= span.first_day() && weeks[0].last_day() >= span.first_day());
        prop_assert!(weeks.iter().rev().take(1).all(|week| week.first_day() <= span.last_day() && week.last_day() >= span.last_day()));
        prop_assert!(weeks.windows(2).all(|pair| pair[0].last_day().tomorrow().ok() == Some(pair[1].first_day())));
        let pages = own(&planner, Kind::Week);
        prop_assert!(pages.is_empty() || pages.len() == weeks.len());
    }

    #[test]
    fn previous_and_next_are_inverse(planner in planner()) {
        for id in 0..planner.pages().len() {
            let around = planner.around(id);
            if let Some(next) = around.next {
                prop_assert_eq!(planner.around(next).previous, Some(id));
                prop_assert!(planner.pages()[next].first > planner.pages()[id].last);
                prop_assert_eq!(planner.pages()[next].set, planner.pages()[id].set);
            }
            if let Some(previous) = around.previous {
                prop_assert_eq!(planner.around(previous).next, Some(id));
            }
            // Only the ends have no neighbour.
            let ends = |first: bool| planner.pages().iter().filter(|page| page.set == planner.pages()[id].set)
                .all(|page| if first { page.first >= planner.pages()[id].first } else { page.first <= planner.pages()[id].first });
            if id % 37 == 0 {
                prop_assert_eq!(around.previous.is_none(), ends(true));
                prop_assert_eq!(around.next.is_none(), ends(false));
            }
        }
    }

    #[test]
    fn up_holds_the_child(planner in planner()) {
        let kinds: BTreeSet<Kind> = planner.sets().iter().map(|set| set.kind).collect();
        for (id, page) in planner.pages().iter().enumerate() {
            let around = planner.around(id);
            let next_coarser = kinds.iter().rev().find(|kind| **kind < page.kind());
            prop_assert_eq!(around.up.map(|up| planner.pages()[up].kind()), next_coarser.copied());
            if let Some(up) = around.up {
                let filed = page.place.period.filed(planner.span());
                prop_assert!(planner.pages()[up].covers(filed), "{} does not hold {}", planner.pages()[up].place, page.place);
            }
            for companion in &around.companions {
                prop_assert_eq!(planner.pages()[*companion].place.period, page.place.period);
            }
            prop_assert_eq!(around.back.is_some(), page.place.page > 1);
            let back = planner.pages()[around.back.unwrap_or(id)].place.clone();
            prop_assert_eq!(back, Place { page: 1, ..page.place.clone() });
        }
    }

    #[test]
    fn links_lead_to_what_they_mean(planner in planner()) {
        for (id, page) in planner.pages().iter().enumerate() {
            for period in planner.contents(id) {
                let filed = period.filed(planner.span());
                let (first, last) = period.days();
                prop_assert!(first <= page.last && page.first <= last, "{period} is not on {}", page.place);
                match planner.lead(id, period) {
                    Some(to) => {
                        prop_assert!(to < planner.pages().len() && to != id);
                        prop_assert!(planner.pages()[to].covers(filed));
                        prop_assert!(planner.pages()[to].kind() <= period.kind());
                    }
                    // Nothing finer than the page itself holds it.
                    None => prop_assert!(period.kind().and_coarser().filter(|kind| *kind > page.kind()).all(|kind| planner.at(kind, filed, None).is_none())),
                }
            }
        }
        for month in planner.span().months() {
            if let Some(to) = planner.tab(month) {
                let coarse = planner.pages()[to].covers(month.first_day());
                prop_assert!(coarse || planner.month_of(planner.pages()[to].place.period) == month);
            }
        }
        let outside = planner.span().last_day().tomorrow().expect("a date");
        prop_assert_eq!(planner.lead(0, Period::Day(outside)), None);
    }

    #[test]
    fn places_are_their_own_and_are_found(planner in planner()) {
        let mut seen = BTreeSet::new();
        for (id, page) in planner.pages().iter().enumerate() {
            prop_assert!(seen.insert(page.place.clone()), "{} twice", page.place);
            prop_assert_eq!(page.place.to_string().parse::<Place>(), Ok(page.place.clone()));
            prop_assert_eq!(planner.find(&page.place), Some(id));
            if page.place.page == 1 && page.place.set.is_none() {
                prop_assert_eq!(planner.own(page.place.period), Some(id));
            }
        }
    }

    /// A place of an ISO week, written by hand, finds a page in every variant; all other places are the same in each.
    #[test]
    fn places_hold_in_variants_with_other_week_starts(settings in settings(), other in 0usize..7) {
        let sets: Vec<PageSet> = Kind::ALL.iter().map(|kind| PageSet::of(*kind)).collect();
        let of = |first_day| Planner::new(Settings { first_day, week_numbers: WeekScheme::None, ..settings.clone() }, sets.clone()).expect("the sets differ");
        let (iso, other) = (of(Weekday::Monday), of(Weekday::ALL[other]));
        for page in iso.pages() {
            let found = other.find(&page.place);
            match page.place.period {
                Period::Week(week) if settings.span.contains(week.middle()) => {
                    let found = &other.pages()[found.expect("a week holds the fourth day")];
                    prop_assert!(found.covers(week.middle()));
                }
                Period::Week(_) => {}
                _ => prop_assert_eq!(found.map(|id| &other.pages()[id].place), Some(&page.place)),
            }
        }
    }

    #[test]
    fn both_orders_have_the_same_places_and_links(settings in settings(), sets in sets()) {
        let of = |order| Planner::new(Settings { order, ..settings.clone() }, sets.clone()).expect("the sets differ");
        let links = |planner: &Planner| {
            let place = |id: Option<PageId>| id.map(|id| planner.pages()[id].place.clone());
            (0..planner.pages().len()).map(|id| {
                let around = planner.around(id);
                (planner.pages()[id].place.clone(), place(around.previous), place(around.next), place(around.up), place(around.back), planner.label(id))
            }).collect::<BTreeSet<_>>()
        };
        let (by_month, by_kind) = (of(Order::ByMonth), of(Order::ByKind));
        prop_assert_eq!(links(&by_month), links(&by_kind));
        // By kind, a set stands in one run; by month, nothing is filed before the month it follows.
        prop_assert!(by_kind.pages().windows(2).all(|pair| pair[0].set <= pair[1].set));
        let days: Vec<_> = own(&by_month, Kind::Day).into_iter().map(|id| by_month.pages()[id].first).collect();
        prop_assert!(days.is_sorted());
        // A companion stands right behind its page.
        for planner in [&by_month, &by_kind] {
            for (id, page) in planner.pages().iter().enumerate().filter(|(_, page)| page.place.page > 1) {
                let before = Place { page: page.place.page - 1, ..page.place.clone() };
                prop_assert_eq!(&planner.pages()[id - 1].place, &before);
            }
        }
    }

    #[test]
    fn week_numbers_rise_by_one(settings in settings()) {
        let planner = Planner::new(settings.clone(), vec![PageSet::of(Kind::Week)]).expect("one set");
        let numbers: Vec<_> = planner.weeks().map(|week| week.number(&settings)).collect();
        for pair in numbers.windows(2) {
            match (pair[0], pair[1]) {
                (None, None) => prop_assert_eq!(settings.week_numbers, WeekScheme::None),
                (Some(one), Some(two)) => prop_assert!(
                    (two.year, two.number) == (one.year, one.number + 1)
                        || (two.year == one.year + 1 && two.number == 1 && one.number >= 52 && settings.week_numbers != WeekScheme::FromStart)
                ),
                _ => prop_assert!(false, "some weeks have numbers and some have none"),
            }
        }
    }

    #[test]
    fn the_outline_has_every_year_month_and_week_once(planner in planner()) {
        fn count(entries: &[calendar::planner::Entry]) -> usize {
            entries.iter().map(|entry| 1 + count(&entry.below)).sum()
        }
        let outline = planner.outline();
        let kinds = [Kind::Year, Kind::Month, Kind::Week];
        prop_assert_eq!(count(&outline), kinds.iter().map(|kind| planner.count(*kind)).sum::<usize>());
    }

    #[test]
    fn reading_never_panics(text in "\\PC{0,40}", bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        let _ = text.parse::<calendar::Rule>();
        let _ = text.parse::<Place>();
        let _ = text.parse::<Month>();
        let _ = calendar::Names::new(&text);
        let _ = calendar::read_csv(&bytes, "x");
        let _ = calendar::read_ics(&bytes, "x");
        let lines = format!("BEGIN:VCALENDAR\nBEGIN:VEVENT\nDTSTART:20270101\nRRULE:{text}\nEND:VEVENT\nEND:VCALENDAR\n");
        let _ = calendar::read_ics(lines.as_bytes(), "x");
    }
}
