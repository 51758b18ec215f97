//! Sections within sections: their tabs along the top of the pages of their section, or along the bottom where something else
//! has the top.

use super::chrome::{Chrome, State, TabAt};
use super::frame::TAB_INWARD;
use super::labels::TabLabels;
use super::tab::Edge;
use base::model::product::Section;
use base::model::{Drawing, Link, Mm, Place, Rect, Target};

impl Chrome<'_> {
    /// The section that a page in this state belongs to, where it has sections within, and its number from 0.
    fn divided(&self, state: State) -> Option<(usize, &Section)> {
        let section = self.notebook.sections.get(state.passed).filter(|s| state.inside && !s.within.is_empty())?;
        Some((state.passed, section))
    }

    /// Name of a section within a section, or its number where it has none.
    pub fn title_within(&self, section: usize, within: usize) -> String {
        let name = self.notebook.sections[section].within[within].name.as_str();
        if name.is_empty() { self.words.within_number(section, within) } else { name.to_owned() }
    }

    /// Draws those of these tabs that are closed, or the one that is open.
    pub fn tabs_within(&self, d: &mut Drawing, state: State, open: bool, tucked: bool) {
        let Some((_, section)) = self.divided(state) else { return };
        let frame = self.frame;
        let tabs = frame.tabs_within(section.within.len());
        let labels = self.labels_within(section, &tabs);
        let edge = if frame.within.is_some_and(|w| w.below) { Edge::Bottom } else { Edge::Top };
        for (i, tab) in tabs.iter().enumerate().filter(|(i, _)| (Some(*i) == state.within) == open) {
            let at = TabAt { index: i, place: *tab, edge, ground: section.within[i].colour };
            self.tab_at(d, &labels, at, open, tucked);
        }
    }

    fn labels_within(&self, section: &Section, tabs: &[Rect]) -> TabLabels {
        let numbers: Vec<String> = (1..=section.within.len()).map(|n| self.words.figure(n)).collect();
        let named = section.within.iter().any(|s| !s.name.is_empty());
        let names = section.within.iter().zip(&numbers);
        let names = names.map(|(s, n)| if s.name.is_empty() { n } else { &s.name }.clone());
        self.labels(tabs, named.then(|| names.collect()), numbers, true)
    }

    /// Their tap areas: from a little inside the paper to the page's edge, and half the gap to both sides. Along the bottom they
    /// end at the paper, whose foot has tap areas of its own.
    pub fn links_within(&self, state: State) -> Vec<Link> {
        let Some((section, divided)) = self.divided(state) else { return Vec::new() };
        let frame = self.frame;
        let half = frame.tab_gap / 2.0;
        let (inward, rim) = (Mm(TAB_INWARD).pt(), Mm(0.9).pt());
        let below = frame.within.is_some_and(|w| w.below);
        let area = |tab: Rect| match below {
            true => Rect::new(tab.x - half, tab.y, tab.w + 2.0 * half, (tab.h + rim).min(frame.page.h - tab.y)),
            false => {
                let top = (tab.y - rim).max(0.0);
                Rect::new(tab.x - half, top, tab.w + 2.0 * half, tab.bottom() - top + inward)
            }
        };
        let title = self.section_title(section, &divided.name);
        let tabs = frame.tabs_within(divided.within.len()).into_iter().enumerate();
        tabs.map(|(i, tab)| Link {
            rect: area(tab),
            target: Target::Place(Place::Within(section + 1, i + 1)),
            says: format!("{} {title}, {}", self.words.go_to, self.title_within(section, i)).into(),
        })
        .collect()
    }
}
