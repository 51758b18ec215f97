//! Days, weeks and months as grids have them.

use super::PageData;
use crate::week::Week;
use crate::{Form, Kind, Month, MonthGrid, Neighbours, PageId, Period, Weekday, Width};
use base::model::dated::{DayCell, DayEvent, MonthData, WeekData, WeekRow};
use jiff::civil::Date;

impl PageData<'_> {
    /// A month as a page shows it: its grid with four to six rows. The days of other months are blank in small grids,
    /// and in the large one where the product says so.
    pub(super) fn month(&self, id: PageId, month: Month, small: bool) -> MonthData {
        let settings = self.planner.settings();
        let names = |width, form| self.names.month(month.number(), width, form).to_owned();
        let neighbours = !small && settings.neighbours == Neighbours::Light;
        let rows = MonthGrid::fit(month, settings).rows.into_iter().map(|row| WeekRow {
            number: row.week.number(settings).map(|number| self.texts.number(number.number)),
            place: self.place(id, Period::Week(row.week)),
            days: row.cells.iter().map(|c| self.cell(id, c.date, c.inside, c.inside || neighbours)).collect(),
        });
        MonthData {
            iso: month.to_string(),
            number: month.number().unsigned_abs(),
            year: self.texts.year(month.year()),
            name: names(Width::Wide, Form::Alone),
            in_date: names(Width::Wide, Form::InDate),
            short: names(Width::Abbreviated, Form::Alone),
            narrow: names(Width::Narrow, Form::Alone),
            with_year: self.texts.month_and_year(month),
            days: month.days().unsigned_abs(),
            rows: rows.collect(),
            place: self.place(id, Period::Month(month)),
            inside: settings.span.contains(month.first_day()),
        }
    }

    /// A week as a page shows it.
    pub(super) fn week(&self, id: PageId, week: Week) -> WeekData {
        let number = week.number(self.planner.settings());
        WeekData {
            number: number.map(|number| self.texts.number(number.number)),
            year: number.map(|number| self.texts.year(number.year)),
            range: self.texts.days_with_year(week.first_day(), week.last_day()),
            days: week.days().map(|date| self.cell(id, date, true, true)).to_vec(),
        }
    }

    /// A day as a page shows it. `inside` says whether it belongs to the month that is drawn.
    pub(super) fn cell(&self, id: PageId, date: Date, inside: bool, shown: bool) -> DayCell {
        let settings = self.planner.settings();
        let in_span = settings.span.contains(date);
        let events: Vec<DayEvent> = if shown && in_span { self.events(id, date) } else { Vec::new() };
        let (beside, begins_beside) = self.texts.beside(date);
        DayCell {
            day: date.day().unsigned_abs(),
            iso: date.to_string(),
            number: self.texts.number(date.day().unsigned_abs()),
            beside,
            begins_beside,
            day_and_month: self.texts.in_month(date),
            place: if shown { self.place(id, Period::Day(date)) } else { None },
            inside: inside && in_span,
            shown,
            weekday: usize::from(Weekday::of(date).since(settings.first_day).unsigned_abs()),
            weekend: settings.is_weekend(date),
            holiday: events.iter().find(|event| event.holiday).map(|event| event.name.clone()),
            events,
        }
    }

    /// What happens on a day, as far as pages of this kind show it; holidays first.
    fn events(&self, id: PageId, date: Date) -> Vec<DayEvent> {
        let kind = self.planner.pages()[id].kind();
        let mut events: Vec<DayEvent> =
            self.agenda.on(date).filter_map(|occurrence| self.event(occurrence, date, kind)).collect();
        events.sort_by_key(|event| !event.holiday);
        events
    }

    fn event(&self, occurrence: &crate::Occurrence, date: Date, kind: Kind) -> Option<DayEvent> {
        let look = self.looks.get(occurrence.source)?;
        if !look.on.contains(&kind) {
            return None;
        }
        let begins = occurrence.first == date;
        let clock = self.planner.settings().clock;
        let own = look.each.get(occurrence.event).copied().flatten();
        let said = occurrence.kind.as_deref().is_some_and(|kind| kind.to_lowercase().ends_with("holiday"));
        Some(DayEvent {
            name: occurrence.name.clone(),
            time: occurrence.start.filter(|_| begins).map(|time| self.texts.time(time, clock)),
            minutes: occurrence
                .start
                .filter(|_| begins)
                .map(|time| u16::from(time.hour().unsigned_abs()) * 60 + u16::from(time.minute().unsigned_abs())),
            holiday: said || look.holidays,
            colour: own.or(look.colour),
            list: look.name.clone(),
            from_before: !begins,
            goes_on: occurrence.last > date,
        })
    }

    fn place(&self, from: PageId, period: Period) -> Option<String> {
        self.planner.lead(from, period).map(|to| self.planner.pages()[to].place.to_string())
    }
}
