//! Places by the names that art calls them: `index`, `section/3`, `template/dot-grid`, `section/*`, an address.

use super::chrome::Chrome;
use base::model::art::{ArtPage, ArtSource};
use base::model::dated::{DatedPage, Step};
use base::model::fault::suggest;
use base::model::product::{CoverDesign, Notebook};
use base::model::structure::Part;
use base::model::{Fault, Place, Target};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The places of a file, with what a screen reader says of a link to each.
pub struct Places {
    /// In the order of the notebook.
    known: Vec<(Place, String)>,
    /// Pages with names of their own: what links call them, section and page, both from 1.
    named: Vec<(String, usize, usize)>,
    /// The section that the art belongs to, from 1: `page/2` is a page of it.
    section: Option<usize>,
    go_to: String,
    /// Pages of PDF files that are art here, and the first place where each is.
    shown: BTreeMap<(String, usize), Place>,
    /// Dated pages by their places, with their names.
    dated: Rc<BTreeMap<String, String>>,
    /// Of a dated page: what the names of its steps lead to.
    here: BTreeMap<String, Vec<String>>,
}

impl Places {
    /// The places of a notebook; `dated` are those of its dated pages, with their names.
    pub fn new(chrome: &Chrome, notebook: &Notebook, dated: BTreeMap<String, String>) -> Places {
        let words = chrome.words;
        let front = [
            (Part::Cover, Place::Cover, words.cover.as_str()),
            (Part::Welcome, Place::Welcome, words.welcome.as_str()),
            (Part::Index, Place::Index, words.index.as_str()),
            (Part::Overview, Place::Templates, words.templates.as_str()),
        ];
        let front = front.into_iter().filter(|(part, ..)| notebook.parts.has(*part));
        let mut known: Vec<(Place, String)> = front.map(|(_, place, name)| (place, name.to_owned())).collect();
        let mut named = Vec::new();
        for (i, section) in notebook.sections.iter().enumerate() {
            let title = chrome.section_title(i, &section.name);
            known.push((Place::Section(i + 1), title));
            for (k, leaf) in section.pages.iter().enumerate() {
                let name = leaf.title(notebook);
                known.push((Place::Leaf(i + 1, k + 1), format!("{} {}: {name}", words.page, k + 1)));
                if !leaf.slug.is_empty() {
                    named.push((leaf.slug.clone(), i + 1, k + 1));
                }
            }
            for n in 0..section.within.len() {
                known.push((Place::Within(i + 1, n + 1), chrome.title_within(i, n)));
            }
        }
        let with_pages = notebook.parts.has(Part::Templates);
        for (_, template) in notebook.offered().filter(|_| with_pages) {
            known.push((Place::Template(template.slug.as_str().into()), template.name.clone()));
        }
        let (dated, here) = (Rc::new(dated), BTreeMap::new());
        Places { known, named, section: None, go_to: words.go_to.clone(), shown: shown(notebook), dated, here }
    }

    /// No places at all: only addresses can be led to.
    pub fn none() -> Places {
        let (dated, here) = (Rc::default(), BTreeMap::new());
        Places {
            known: Vec::new(),
            named: Vec::new(),
            section: None,
            go_to: String::new(),
            shown: BTreeMap::new(),
            dated,
            here,
        }
    }

    /// The same for art that belongs to a section, from 1.
    pub fn of_section(&self, section: usize) -> Places {
        Places {
            known: self.known.clone(),
            named: self.named.clone(),
            section: Some(section),
            shown: self.shown.clone(),
            go_to: self.go_to.clone(),
            dated: self.dated.clone(),
            here: BTreeMap::new(),
        }
    }

    /// The same for a dated page, from which there are steps: `previous`, `next`, `up`, `month`, `week`, `day/*`.
    pub fn of_dated(&self, page: &DatedPage) -> Places {
        Places { here: steps(page), section: None, ..self.of_section(0) }
    }

    /// What a name leads to on a dated page; `None` where it is no name of that kind.
    fn of_date(&self, to: &str) -> Option<Vec<(Target, String)>> {
        let link = |place: &String| {
            let title = self.dated.get(place)?;
            Some((Target::Place(Place::Dated(place.as_str().into())), format!("{} {title}", self.go_to)))
        };
        if let Some(places) = self.here.get(to) {
            return Some(places.iter().filter_map(link).collect());
        }
        if let Some(found) = link(&to.to_owned()) {
            return Some(vec![found]);
        }
        // A date without a page of its own is left out; whatever is no date is told of.
        let dated = !self.dated.is_empty() && to.parse::<calendar::Place>().is_ok();
        dated.then(Vec::new)
    }

    /// The place that shows a page of a PDF file, counted from 0.
    pub fn showing(&self, file: &str, page: usize) -> Option<&Place> {
        self.shown.get(&(file.to_owned(), page))
    }

    /// Whether a region can lead to no place but an address.
    pub fn is_empty(&self) -> bool {
        self.known.is_empty()
    }

    /// What a region leads to: one target, or several that share its area.
    pub fn find(&self, to: &str) -> Result<Vec<(Target, String)>, Fault> {
        let to = to.trim();
        if to.contains("://") || to.starts_with("mailto:") {
            let sound = (to.starts_with("https://") && to.len() > 10 || to.starts_with("mailto:"))
                && !to.chars().any(char::is_whitespace);
            return if sound {
                Ok(vec![(Target::Address(to.into()), to.to_owned())])
            } else {
                Err(Fault::new(format!("`link:{to}` is not an address that a notebook may lead to"))
                    .help("give the whole address, beginning with https://"))
            };
        }
        if self.is_empty() {
            // A file of covers has no places; the notebook's own cover has.
            return Ok(Vec::new());
        }
        if let Some(found) = self.of_date(to) {
            return Ok(found);
        }
        let whole = self.whole(to);
        if let Some(group) = whole.strip_suffix("/*") {
            return self.group(group, to);
        }
        let found = |name: &str| self.known.iter().find(|(place, _)| place.to_string() == name);
        let forms = forms(to).into_iter().map(|form| self.whole(&form));
        match std::iter::once(whole.clone()).chain(forms).find_map(|form| found(&form)) {
            Some((place, title)) => Ok(vec![self.link(place, title)]),
            None => Err(self.unknown(to)),
        }
    }

    /// The full name of a place: the overview has two names, and pages are those of the art's own section.
    fn whole(&self, to: &str) -> String {
        if let Some(place) = self.by_name(to) {
            return place.to_string();
        }
        match (to, self.section) {
            ("overview", _) => "templates".to_owned(),
            (_, Some(section)) if to.starts_with("page/") => format!("section/{section}/{to}"),
            _ => to.to_owned(),
        }
    }

    /// A page that is called by its name: that of the art's own section before all others, or of the section that is named
    /// with it.
    fn by_name(&self, to: &str) -> Option<Place> {
        let (section, name) = match to.strip_prefix("page/") {
            Some(name) => (None, name),
            None => {
                let (section, name) = to.strip_prefix("section/")?.split_once("/page/")?;
                (Some(section.parse::<usize>().ok()?), name)
            }
        };
        let called = |(slug, of, _): &&(String, usize, usize)| slug == name && section.is_none_or(|s| s == *of);
        let own = self.named.iter().filter(called).find(|(_, of, _)| Some(*of) == self.section);
        own.or_else(|| self.named.iter().find(called)).map(|(_, of, page)| Place::Leaf(*of, *page))
    }

    fn group(&self, group: &str, to: &str) -> Result<Vec<(Target, String)>, Fault> {
        let belongs = |place: &Place| match (group, place) {
            ("section", Place::Section(_)) | ("template", Place::Template(_)) => true,
            (_, Place::Leaf(section, _)) => group == format!("section/{section}/page"),
            (_, Place::Within(section, _)) => group == format!("section/{section}/section"),
            _ => false,
        };
        let all: Vec<_> = self.known.iter().filter(|(p, _)| belongs(p)).map(|(p, t)| self.link(p, t)).collect();
        // A section without pages of its own has no links to them.
        let pages = group.starts_with("section/") && group.ends_with("/page");
        if all.is_empty() && !pages { Err(self.unknown(to)) } else { Ok(all) }
    }

    fn link(&self, place: &Place, title: &str) -> (Target, String) {
        (Target::Place(place.clone()), format!("{} {title}", self.go_to))
    }

    fn unknown(&self, to: &str) -> Fault {
        let mut names: Vec<String> = self.known.iter().map(|(p, _)| p.to_string()).collect();
        names.extend(["section/*".to_owned(), "template/*".to_owned()]);
        names.extend(self.named.iter().map(|(slug, ..)| format!("page/{slug}")));
        let near = suggest(to, names.iter().map(String::as_str));
        let help = if near.starts_with("valid here") {
            let sections = self.known.iter().filter(|(p, _)| matches!(p, Place::Section(_))).count();
            let front = self.known.iter().map(|(p, _)| p);
            let front: Vec<String> = front
                .filter(|p| matches!(p, Place::Cover | Place::Welcome | Place::Index | Place::Templates))
                .map(|p| format!("{p}, "))
                .collect();
            let named = if self.named.is_empty() { "" } else { "page/… with the name of a page, " };
            format!(
                "places are {}section/1 to section/{sections}, {named}template/… with a template's slug, section/*, template/*, or an https address",
                front.concat()
            )
        } else {
            near
        };
        Fault::new(format!("`link:{to}` leads to no place of this notebook")).help(help)
    }
}

/// What may have been meant by a name: without the number that drawing programs give to copies (`index-2`, `index_1_`,
/// `index copy 2`), in small letters, and with a slash where an id may not have one (`section-2`).
fn forms(to: &str) -> Vec<String> {
    let small = to.trim().to_lowercase();
    let slashed = |name: &str| {
        let kind = ["section", "template", "page", "month", "week", "day"]
            .into_iter()
            .find(|kind| name.strip_prefix(kind).is_some_and(|rest| rest.starts_with(['-', '_', ' ', '.'])));
        kind.map(|kind| format!("{kind}/{}", &name[kind.len() + 1..]))
    };
    let mut out: Vec<String> = Vec::new();
    for name in [Some(small.clone()), slashed(&small)].into_iter().flatten() {
        let dashed = name.replace([' ', '_'], "-");
        for name in [name, dashed] {
            let bare = copied(&name).to_owned();
            // A place may end in a number of its own, which is asked for first.
            out.extend([name.clone(), bare]);
        }
    }
    out
}

/// A name without the number of a copy.
fn copied(name: &str) -> &str {
    let bare = name.trim_end_matches(['_', '-', ' ']);
    let bare = bare.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end_matches(['-', '_', ' ']);
    bare.strip_suffix("copy").map_or(bare, |b| b.trim_end_matches(['-', '_', ' ']))
}

/// What the names of steps lead to from a dated page. One that is not there leads nowhere, which is no fault.
fn steps(page: &DatedPage) -> BTreeMap<String, Vec<String>> {
    let one = |step: &Option<Step>| step.iter().map(|step| step.place.clone()).collect::<Vec<_>>();
    let cells = match &page.week {
        Some(week) => week.days.iter().collect::<Vec<_>>(),
        None => page.months.iter().flat_map(|m| &m.rows).flat_map(|r| &r.days).filter(|c| c.inside).collect(),
    };
    let week = page.month.rows.iter().find(|row| page.days.iter().any(|day| row.days.iter().any(|c| c.iso == day.iso)));
    let named = [
        ("previous", one(&page.previous)),
        ("next", one(&page.next)),
        ("up", one(&page.up)),
        ("month", page.month.place.iter().cloned().collect()),
        ("week", week.and_then(|row| row.place.clone()).into_iter().collect()),
        ("day/*", cells.iter().filter_map(|cell| cell.place.clone()).collect()),
        ("month/*", page.months.iter().filter_map(|month| month.place.clone()).collect()),
    ];
    let mut out: BTreeMap<String, Vec<String>> = named.into_iter().map(|(name, to)| (name.to_owned(), to)).collect();
    for step in &page.companions {
        let name = match step.place.rsplit_once('/') {
            Some((_, number)) if page.nth == 1 => format!("companion/{number}"),
            _ => "back".to_owned(),
        };
        out.insert(name, vec![step.place.clone()]);
    }
    out
}

/// Every page of a PDF file that the notebook shows, with the first place that shows it.
fn shown(notebook: &Notebook) -> BTreeMap<(String, usize), Place> {
    let mut out = BTreeMap::new();
    let mut note = |art: Option<&ArtPage>, place: Place| {
        if let Some(art) = art
            && let ArtSource::Pdf { page, .. } = art.source
        {
            out.entry((art.file.clone(), page)).or_insert(place);
        }
    };
    if let CoverDesign::Art(art) = &notebook.cover.design {
        note(Some(art), Place::Cover);
    }
    note(notebook.art.welcome.as_ref(), Place::Welcome);
    note(notebook.art.index.as_ref(), Place::Index);
    note(notebook.art.overview.as_ref(), Place::Templates);
    for (i, section) in notebook.sections.iter().enumerate() {
        note(section.art.as_ref(), Place::Section(i + 1));
    }
    for (_, template) in notebook.offered() {
        note(template.art.as_ref(), Place::Template(template.slug.as_str().into()));
    }
    out
}
