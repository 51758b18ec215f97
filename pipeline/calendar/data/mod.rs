//! What each dated page says, in words and figures: from planner, names and agenda to [`DatedPage`].

mod cells;
mod text;

use crate::{Agenda, Kind, Names, PageId, Period, Planner, Width};
use base::model::Rgb;
use base::model::dated::{DatedKind, DatedPage, HourName, LegendEntry, Step, WeekdayName};
use base::model::units::spoken;
use text::Texts;

/// The few words beside names and numbers that dated pages say themselves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words {
    /// Before the number of a week, or around it.
    pub week: String,
    /// Over a column of week numbers.
    pub week_short: String,
    /// The same of a quarter.
    pub quarter: String,
}

impl Words {
    /// Those of a product's words.
    pub fn of(words: &base::model::words::Words) -> Words {
        let (week, week_short) = (words.week_number.clone(), words.week_short.clone());
        Words { week, week_short, quarter: words.quarter.clone() }
    }
}

/// How the events of one of the agenda's sources are shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Look {
    /// The heading in the legend; `None` for the single events of the manifest.
    pub name: Option<String>,
    /// The colour of the mark.
    pub colour: Option<Rgb>,
    /// Colours of single events, by their index; where there is one, it wins.
    pub each: Vec<Option<Rgb>>,
    /// The kinds of pages on which they are shown.
    pub on: Vec<Kind>,
    /// Whether all of them are holidays. An event whose kind ends in `holiday` is one in any list.
    pub holidays: bool,
}

/// Makes what the pages of a planner say.
pub struct PageData<'a> {
    planner: &'a Planner,
    names: &'a Names,
    agenda: &'a Agenda,
    looks: &'a [Look],
    words: &'a Words,
    texts: Texts<'a>,
    /// By set, the names of its companions.
    companions: &'a [Vec<String>],
}

impl<'a> PageData<'a> {
    /// The data of a planner. `looks` are those of the agenda's sources, in their order; `companions` names the
    /// companions of each set, and one without a name is called by its number.
    pub fn new(
        planner: &'a Planner,
        names: &'a Names,
        agenda: &'a Agenda,
        looks: &'a [Look],
        words: &'a Words,
        companions: &'a [Vec<String>],
    ) -> PageData<'a> {
        let texts = Texts::new(names, words, planner.settings());
        PageData { planner, names, agenda, looks, words, texts, companions }
    }

    /// What a page says.
    ///
    /// # Panics
    /// When there is no such page.
    pub fn page(&self, id: PageId) -> DatedPage {
        let (planner, texts) = (self.planner, &self.texts);
        let page = &planner.pages()[id];
        let nth = usize::from(page.place.page);
        let around = planner.around(id);
        let settings = planner.settings();
        let (heading, beside) = self.heading(id);
        let filed = planner.month_of(page.place.period);
        let months: Vec<_> = match page.place.period {
            Period::Year(_) | Period::Quarter(_) => {
                let within = settings.span.months().filter(|month| page.covers(month.first_day()));
                within.map(|month| self.month(id, month, true)).collect()
            }
            _ => vec![self.month(id, filed, true)],
        };
        let small = match page.kind() {
            Kind::Year | Kind::Quarter => Vec::new(),
            Kind::Month => vec![filed.plus(-1), filed.plus(1)],
            Kind::Week | Kind::Day => vec![filed, filed.plus(1)],
        };
        let week = match page.place.period {
            Period::Week(week) => Some(self.week(id, week)),
            Period::Day(date) => Some(self.week(id, planner.week_of(date))),
            _ => None,
        };
        let days = match page.kind() {
            Kind::Day => crate::span::days(page.first, page.last).map(|date| self.cell(id, date, true, true)).collect(),
            _ => Vec::new(),
        };
        let weekdays = settings.first_day.week().map(|day| WeekdayName {
            name: self.names.weekday(day, Width::Wide).to_owned(),
            short: self.names.weekday(day, Width::Abbreviated).to_owned(),
            narrow: self.names.weekday(day, Width::Narrow).to_owned(),
            weekend: settings.weekend.contains(&day),
        });
        let mut said = DatedPage {
            kind: kind(page.kind()),
            place: page.place.to_string(),
            nth,
            heading,
            beside_short: self.short(id).unwrap_or_else(|| beside.clone()),
            beside,
            days,
            month: self.month(id, filed, false),
            months,
            small: small.into_iter().map(|month| self.month(id, month, true)).collect(),
            week,
            weekdays: weekdays.to_vec(),
            week_word: (settings.week_numbers != crate::WeekScheme::None).then(|| self.words.week_short.clone()),
            hours: (0u8..).zip(&texts.hours).map(|(hour, name)| HourName { hour, name: name.clone() }).collect(),
            previous: around.previous.map(|to| self.step(to)),
            next: around.next.map(|to| self.step(to)),
            up: around.up.map(|to| self.step(to)),
            // Of a page: its first companion, and the next set's page of the same period. Of a companion: the page itself, and
            // the companion after it. Page by page that leads round to all of them.
            companions: match around.back {
                Some(back) => {
                    let after = around.companions.iter().find(|to| **to > id);
                    std::iter::once(self.step(back)).chain(after.map(|to| self.companion(*to))).collect()
                }
                None => {
                    let mut beside: Vec<Step> = around.companions.iter().map(|to| self.companion(*to)).collect();
                    let other = planner.of_next_set(id).map(|to| self.of_set(to));
                    beside.splice(beside.len().min(1)..beside.len().min(1), other);
                    beside
                }
            },
            legend: Vec::new(),
        };
        said.legend = self.legend(&said);
        said
    }

    /// What a page is called in the outline: "2027", "March 2027", "Week 9", and for all that have one, its days.
    pub fn title(&self, id: PageId) -> String {
        let page = &self.planner.pages()[id];
        let (heading, beside) = self.heading(id);
        let title = match page.kind() {
            Kind::Year => heading,
            Kind::Month => format!("{heading} {beside}"),
            _ => format!("{heading}, {beside}"),
        };
        let set = page.place.set.as_ref().map(|set| spoken(set.as_str()));
        let title = set.map_or(title.clone(), |set| format!("{title}: {set}"));
        if page.place.page > 1 { format!("{title}: {}", self.companion(id).name) } else { title }
    }

    /// What stands beside the heading where there is little room, if that is anything shorter.
    fn short(&self, id: PageId) -> Option<String> {
        let (page, texts) = (&self.planner.pages()[id], &self.texts);
        let last = crate::Month::of(page.last);
        match page.place.period {
            Period::Quarter(first) => Some(texts.months_short(first, first.plus(2))),
            Period::Year(first) if first.year() != last.year() => Some(texts.months_short(first, last)),
            Period::Week(week) => week.number(self.planner.settings()).map(|_| texts.days_short(page.first, page.last)),
            Period::Day(_) => Some(texts.days_short(page.first, page.last)),
            Period::Year(_) | Period::Month(_) => None,
        }
    }

    /// The heading of a page, and what stands beside it.
    fn heading(&self, id: PageId) -> (String, String) {
        let (page, texts) = (&self.planner.pages()[id], &self.texts);
        let settings = self.planner.settings();
        let last = crate::Month::of(page.last);
        match page.place.period {
            Period::Year(first) if first.year() == last.year() => {
                (texts.year(first.year()), text::joined(&texts.month(first), &texts.month(last)))
            }
            Period::Year(first) => (texts.years(first, last), texts.months_with_year(first, last)),
            Period::Quarter(first) => (texts.quarter(first), texts.months_with_year(first, first.plus(2))),
            Period::Month(month) => (texts.month(month), texts.year(month.year())),
            Period::Week(week) => match week.number(settings) {
                Some(number) => (texts.week(number), texts.days_with_year(page.first, page.last)),
                None => {
                    let years = texts.years(crate::Month::of(page.first), last);
                    (texts.days_alone(page.first, page.last), years)
                }
            },
            Period::Day(date) if page.last == date => (texts.weekday(date, Width::Wide), texts.in_both(date)),
            Period::Day(date) => {
                let days = text::joined(&texts.weekday(date, Width::Wide), &texts.weekday(page.last, Width::Wide));
                (days, texts.days_with_year(date, page.last))
            }
        }
    }

    fn step(&self, to: PageId) -> Step {
        let page = &self.planner.pages()[to];
        let name = self.texts.short(page.place.period, page.last, self.planner.settings());
        Step { name, place: page.place.to_string() }
    }

    /// The way to a page of another set, by the set's name.
    fn of_set(&self, to: PageId) -> Step {
        let step = self.step(to);
        let name = self.planner.pages()[to].place.set.as_ref().map(|set| spoken(set.as_str()));
        Step { name: name.unwrap_or(step.name), ..step }
    }

    /// The way to a companion, by the companion's own name.
    fn companion(&self, to: PageId) -> Step {
        let page = &self.planner.pages()[to];
        let index = usize::from(page.place.page).saturating_sub(2);
        let name = self.companions.get(page.set).and_then(|names| names.get(index)).filter(|name| !name.is_empty());
        let name = name.cloned().unwrap_or_else(|| self.names.number(i64::from(page.place.page)));
        Step { name, place: page.place.to_string() }
    }

    /// The lists whose events stand on a page, in the order of the manifest.
    fn legend(&self, said: &DatedPage) -> Vec<LegendEntry> {
        let months = said.months.iter().chain(&said.small).flat_map(|month| &month.rows).flat_map(|row| &row.days);
        let cells = months.chain(said.week.iter().flat_map(|week| &week.days)).chain(&said.days);
        let on: std::collections::BTreeSet<&str> = cells
            .filter(|cell| cell.shown && cell.inside)
            .flat_map(|cell| &cell.events)
            .filter_map(|event| event.list.as_deref())
            .collect();
        let named = self.looks.iter().filter_map(|look| Some((look.name.as_deref()?, look.colour)));
        let named = named.filter(|(name, _)| on.contains(name));
        named.map(|(name, colour)| LegendEntry { name: name.to_owned(), colour }).collect()
    }
}

/// A kind as drawings have it.
pub fn kind(kind: Kind) -> DatedKind {
    match kind {
        Kind::Year => DatedKind::Year,
        Kind::Quarter => DatedKind::Quarter,
        Kind::Month => DatedKind::Month,
        Kind::Week => DatedKind::Week,
        Kind::Day => DatedKind::Day,
    }
}
