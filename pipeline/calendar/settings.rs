//! What holds for the whole planner: span, week, numbers, order.

use crate::choices::{Clock, Neighbours, Order, WeekScheme};
use crate::second::SecondDays;
use crate::table::CalendarTable;
use crate::{Names, SecondCalendar, Span, Unread, Weekday};
use jiff::civil::Date;

/// What holds for all dated pages.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settings {
    /// The months.
    pub span: Span,
    /// The day on which weeks begin.
    pub first_day: Weekday,
    /// How weeks are numbered.
    pub week_numbers: WeekScheme,
    /// The days of the weekend, in the order of the week; at most six.
    pub weekend: Vec<Weekday>,
    /// 12 or 24 hours.
    pub clock: Clock,
    /// The order of pages.
    pub order: Order,
    /// Days of other months in a grid.
    pub neighbours: Neighbours,
    /// A second calendar, in small figures.
    pub beside: Option<SecondCalendar>,
}

/// A key of `[calendar]` whose value cannot be taken.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{key}: {unread}")]
pub struct SettingFault {
    /// The key, as `week-numbers`.
    pub key: &'static str,
    /// What is wrong with its value, and how to mend it.
    pub unread: Unread,
}

/// How to say where a planner begins.
const BEGIN: &str = "add the first month, as in first = \"2027-01\"";

impl Settings {
    /// Settings with everything by default, for weeks that begin on a given day.
    pub fn plain(span: Span, first_day: Weekday) -> Settings {
        Settings {
            span,
            first_day,
            week_numbers: default_scheme(first_day),
            weekend: vec![Weekday::Saturday, Weekday::Sunday],
            clock: Clock::TwentyFour,
            order: Order::ByMonth,
            neighbours: Neighbours::Light,
            beside: None,
        }
    }

    /// Fills in what the designer left unsaid by the language's region.
    ///
    /// # Errors
    /// Every value that cannot be taken, with its key.
    pub fn resolve(table: &CalendarTable, names: &Names) -> Result<Settings, Vec<SettingFault>> {
        let mut faults = Vec::new();
        let mut fault =
            |key, what: String, help: String| faults.push(SettingFault { key, unread: Unread::new(what, help) });
        let first_day = table.first_day.unwrap_or(names.first_day());
        let week_numbers = table.week_numbers.unwrap_or(default_scheme(first_day));
        if week_numbers == WeekScheme::Iso && first_day != Weekday::Monday {
            fault(
                "week-numbers",
                format!("ISO week numbers are for weeks from Monday, and these begin on {first_day}"),
                "write first-day = \"monday\", or week-numbers = \"january-first\", \"from-start\" or \"none\"".into(),
            );
        }
        let mut weekend: Vec<Weekday> = table.weekend.clone().unwrap_or_else(|| names.weekend().to_vec());
        weekend.sort_by_key(|day| day.since(first_day));
        if let Some(pair) = weekend.windows(2).find(|pair| pair[0] == pair[1]) {
            fault("weekend", format!("{} is named twice", pair[0]), "name each day once".into());
        }
        weekend.dedup();
        if weekend.len() == 7 {
            fault("weekend", "a week of weekend days only".into(), "leave at least one workday".into());
        }
        if let Some(Err(Unread { what, help })) = table.beside.map(|second| SecondDays::new(second, names)) {
            fault("beside", what, help);
        }
        let begin = || Unread::new("the calendar does not say where it begins", BEGIN);
        let first = table.first.ok_or_else(begin);
        let span = match first.and_then(|first| Span::new(first, table.months.unwrap_or(12))) {
            Ok(span) => Some(span),
            Err(unread) if table.first.is_none() => {
                faults.push(SettingFault { key: "first", unread });
                None
            }
            Err(unread) => {
                faults.push(SettingFault { key: "months", unread });
                None
            }
        };
        match span {
            Some(span) if faults.is_empty() => Ok(Settings {
                span,
                first_day,
                week_numbers,
                weekend,
                clock: table.clock.unwrap_or(names.clock()),
                order: table.order.unwrap_or(Order::ByMonth),
                neighbours: table.neighbours.unwrap_or(Neighbours::Light),
                beside: table.beside,
            }),
            _ => Err(faults),
        }
    }

    /// Whether a date is a day of the weekend.
    pub fn is_weekend(&self, date: Date) -> bool {
        self.weekend.contains(&Weekday::of(date))
    }
}

/// ISO 8601 where it can be meant, else the count from 1 January.
fn default_scheme(first_day: Weekday) -> WeekScheme {
    if first_day == Weekday::Monday { WeekScheme::Iso } else { WeekScheme::JanuaryFirst }
}
