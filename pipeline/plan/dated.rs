//! Dated pages: their order, drawings, links, labels and outline.
//!
//! The calendar says what a page says and where it leads; a dated ruling draws it, or a ruling that knows no dates below
//! a head with the date, or the designer's own art. What pages have in common is stored once.

mod art;
mod index;

pub use index::index;

use super::builder::{Builder, whole};
use super::chrome::{MonthTab, State};
use super::ruling_words;
use base::model::dated::DatedPage;
use base::model::pdf_plan::{Entry, LabelRun, LabelStyle};
use base::model::planner::{Dated, Design, TabLabel};
use base::model::product::{Notebook, Product};
use base::model::{Drawing, Fault, Link, Place, Rect, Target};
use calendar::data::{Look, PageData, Words};
use calendar::{Agenda, Form, Kind, Names, PageId, Planner, Width, stored};
use draw::ruling;
use std::collections::{BTreeMap, HashMap};

/// Everything that dated pages are made of.
pub struct Calendar<'a> {
    pub dated: &'a Dated,
    pub planner: Planner,
    names: Names,
    agenda: Agenda,
    looks: Vec<Look>,
    words: Words,
    companions: Vec<Vec<String>>,
    /// What a screen reader says of each page, by its place.
    titles: HashMap<String, String>,
}

impl<'a> Calendar<'a> {
    /// The calendar of a notebook; `None` where it has no dated pages.
    ///
    /// # Errors
    /// When the product holds what no manifest could have said.
    pub fn new(product: &Product, notebook: &'a Notebook) -> Result<Option<Calendar<'a>>, Vec<Fault>> {
        let Some(dated) = notebook.dated.as_deref() else { return Ok(None) };
        let fault = |unread: calendar::Unread| vec![Fault::new(unread.what).help(unread.help)];
        let planner = stored::planner(dated).map_err(fault)?;
        let names = Names::new(&product.language).map_err(fault)?;
        let companions = dated.sets.iter().map(|set| set.companions.iter().map(|c| c.name.clone()).collect());
        let mut calendar = Calendar {
            dated,
            planner,
            names,
            agenda: stored::agenda(&dated.happenings),
            looks: stored::looks(&dated.lists),
            words: Words::of(&product.words),
            companions: companions.collect(),
            titles: HashMap::new(),
        };
        let data = calendar.data();
        let pages = calendar.planner.pages().iter().enumerate();
        let titles = pages.map(|(id, page)| (page.place.to_string(), data.title(id))).collect();
        calendar.titles = titles;
        Ok(Some(calendar))
    }

    /// What the pages say.
    pub fn data(&self) -> PageData<'_> {
        PageData::new(&self.planner, &self.names, &self.agenda, &self.looks, &self.words, &self.companions)
    }

    /// The place of a page, as it is written.
    pub fn place(&self, id: PageId) -> String {
        self.planner.pages()[id].place.to_string()
    }

    /// What a page is called, by its place; `None` where there is no such page.
    pub fn title(&self, place: &str) -> Option<&str> {
        self.titles.get(place).map(String::as_str)
    }

    /// The pages in order, with their names.
    pub fn known(&self) -> impl Iterator<Item = (String, String)> + '_ {
        (0..self.planner.pages().len()).map(|id| {
            let place = self.place(id);
            let title = self.titles.get(&place).cloned().unwrap_or_default();
            (place, title)
        })
    }

    /// The tabs of the months.
    pub fn tabs(&self) -> Vec<MonthTab> {
        let tabs = &self.dated.tabs;
        let months = self.planner.span().months().zip(&tabs.colours);
        let tab = |(month, colour): (calendar::Month, &base::model::Rgb)| {
            let number = self.names.number(i64::from(month.number()));
            let name = |width| self.names.month(month.number(), width, Form::Alone).to_owned();
            Some(MonthTab {
                label: match tabs.label {
                    TabLabel::Short => name(Width::Abbreviated),
                    TabLabel::Narrow => name(Width::Narrow),
                    TabLabel::Number => number.clone(),
                },
                number,
                colour: *colour,
                place: Place::Dated(self.place(self.planner.tab(month)?).into()),
                title: self.names.month_and_year(month),
            })
        };
        months.filter_map(tab).collect()
    }

    /// Which tabs are passed and which is open on a page.
    fn state(&self, id: PageId) -> State {
        let page = &self.planner.pages()[id];
        let first = self.planner.span().first();
        let month = self.planner.month_of(page.place.period);
        let index = usize::try_from(month.since(first)).unwrap_or(0);
        State { months: index, month: self.planner.open_month(id).map(|_| index), ..State::default() }
    }

    /// How a page is drawn.
    fn design(&self, id: PageId) -> Option<&Design> {
        let page = &self.planner.pages()[id];
        let set = self.dated.sets.get(page.set)?;
        match usize::from(page.place.page).checked_sub(2) {
            None => Some(&set.design),
            Some(behind) => set.companions.get(behind).map(|companion| &companion.design),
        }
    }

    /// The outline: years, their months, their weeks. What stands below a year is seen from the start.
    pub fn outline(&self, first: usize) -> Vec<Entry> {
        let data = self.data();
        self.planner.outline().iter().map(|entry| self.entry(entry, &data, first)).collect()
    }

    fn entry(&self, entry: &calendar::planner::Entry, data: &PageData, first: usize) -> Entry {
        Entry {
            title: data.title(entry.page),
            page: first + entry.page,
            children: entry.below.iter().map(|below| self.entry(below, data, first)).collect(),
            open: entry.open,
        }
    }

    /// A label for each page, and that only.
    pub fn labels(&self, first: usize) -> impl Iterator<Item = LabelRun> + '_ {
        (0..self.planner.pages().len()).map(move |id| LabelRun {
            page: first + id,
            prefix: self.planner.label(id),
            style: LabelStyle::None,
        })
    }

    /// How many pages of a kind lead to others: whether there are any.
    fn has(&self, kind: Kind) -> bool {
        self.planner.sets().iter().any(|set| set.kind == kind)
    }
}

/// Adds all dated pages.
pub fn pages(b: &mut Builder, calendar: &Calendar) {
    let data = calendar.data();
    let begin = b.pages.len();
    let mut grounds: BTreeMap<(usize, u16), Vec<usize>> = BTreeMap::new();
    for (id, page) in calendar.planner.pages().iter().enumerate() {
        let said = data.page(id);
        let state = calendar.state(id);
        let place = Place::Dated(said.place.as_str().into());
        let drawn = match calendar.design(id) {
            Some(Design::Art(art)) => {
                let places = b.places.of_dated(&said);
                let data = art::data(b, calendar, id, &said);
                b.art(state, art, &data, &places, Some(place));
                continue;
            }
            Some(Design::Dated(name, with)) => {
                let entry = b.rulings.dated(name, said.kind);
                let with = ruling_words::dated(b.product, name, &with.0);
                entry.and_then(|entry| entry.draw(&with, &b.ruling_context(b.frame.areas.clone()), &said))
            }
            Some(Design::Plain(name, with)) => Some(plain(b, name, &with.0, &said)),
            None => None,
        };
        let drawn = drawn.unwrap_or_default();
        let links = drawn.taps.into_iter().filter_map(|(rect, to)| link(b, calendar, rect, to)).collect();
        let known = grounds.entry((page.set, page.place.page)).or_default();
        let mut drawing = ground(b, known, drawn.ground);
        drawing.extend(drawn.layer);
        b.page(state, drawing, links, Some(place));
    }
    art::share(&mut b.pages[begin..]);
}

/// A ground, stored once for all pages of a set whose ground is the same.
fn ground(b: &mut Builder, known: &mut Vec<usize>, ground: Drawing) -> Drawing {
    if ground == Drawing::default() {
        return ground;
    }
    let form = known.iter().copied().find(|form| b.forms[*form] == ground).unwrap_or_else(|| {
        b.forms.push(ground);
        known.push(b.forms.len() - 1);
        b.forms.len() - 1
    });
    whole(form)
}

/// A link to a place, if there is one of that name.
fn link(b: &Builder, calendar: &Calendar, rect: Rect, to: String) -> Option<Link> {
    let says = format!("{} {}", b.chrome.words.go_to, calendar.title(&to)?);
    Some(Link { rect, target: Target::Place(Place::Dated(to.into())), says: says.into() })
}

/// A ruling that knows no dates, below the head of a blank page for the date.
fn plain(b: &Builder, name: &str, with: &toml::Table, said: &DatedPage) -> ruling::DatedDrawing {
    let blank = toml::Table::from_iter([("style".to_owned(), "blank".into())]);
    let head = b.rulings.dated("notes", said.kind);
    let head = head.and_then(|entry| entry.draw(&blank, &b.ruling_context(b.frame.areas.clone()), said));
    let mut drawn = head.unwrap_or_default();
    let areas = if drawn.free.is_empty() { b.frame.areas.clone() } else { drawn.free.clone() };
    let with = ruling_words::plain(b.product, b.rulings, name, with);
    let below = ruling::find(b.rulings.plain, name).and_then(|entry| entry.draw(&with, &b.ruling_context(areas)));
    drawn.ground.extend(below.unwrap_or_default());
    drawn
}
