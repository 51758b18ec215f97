//! The chrome: desk, papers, tabs, coil and foot, with their tap areas. One drawing for each state of the tabs.

use super::frame::{Frame, TAB_INWARD};
use super::labels::{self, TabFace, TabLabels};
use super::tab::{Edge, Seat};
use base::colour;
use base::model::drawing::{Path, Stroke};
use base::model::product::{Coil, Hand, Notebook, Product, Style};
use base::model::structure::Part;
use base::model::units::between;
use base::model::words::Words;
use base::model::{Drawing, Link, Mm, Place, Point, Rect, Rgb, Role, Target};
use draw::paper::Laid;
use draw::text::{Align, Setting};
use draw::{Fonts, Pen, motifs};

/// Which tabs are passed and which one is open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct State {
    /// Months that lie before this page.
    pub months: usize,
    /// The month that this page belongs to.
    pub month: Option<usize>,
    /// Sections that lie before this page: their tabs are on the far side.
    pub passed: usize,
    /// Whether the next section is the one that this page belongs to.
    pub inside: bool,
    /// The section within that section that this page belongs to.
    pub within: Option<usize>,
}

/// A tab: which label it bears, its room from the papers outwards, the edge that it stands out of, and its colour.
#[derive(Clone, Copy, Debug)]
pub struct TabAt {
    /// Number of its label, from 0.
    pub index: usize,
    /// Its room in points.
    pub place: Rect,
    /// Which edge it stands out of.
    pub edge: Edge,
    /// Its colour while its section is open.
    pub ground: Rgb,
}

/// Which part of the chrome is drawn: the parts between which art lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// Desk, tabs and papers.
    Ground,
    /// Desk and papers, for art that has tabs of its own.
    Desk,
    /// Coil and foot, over art that lies on the papers.
    Coil,
    /// Tabs, coil and foot, over art that covers the page.
    Over,
}

/// A mark at the foot, by what it leads to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Mark {
    /// The templates: four little squares.
    Overview,
    /// The index: three little bars.
    Index,
}

/// Everything that draws chrome.
pub struct Chrome<'a> {
    pub frame: &'a Frame,
    pub product: &'a Product,
    pub notebook: &'a Notebook,
    pub fonts: &'a Fonts,
    pub words: &'a Words,
    pub months: &'a [MonthTab],
    /// The grain of the papers.
    pub grain: Option<&'a Laid>,
}

/// The tab of a month.
#[derive(Clone, Debug)]
pub struct MonthTab {
    /// What stands on it.
    pub label: String,
    /// What stands on it where that is too long.
    pub number: String,
    /// Its colour.
    pub colour: Rgb,
    /// Where it leads.
    pub place: Place,
    /// The month with its year.
    pub title: String,
}

impl Chrome<'_> {
    fn style(&self) -> &Style {
        &self.product.style
    }

    /// Draws a layer of the chrome in a state.
    pub fn draw(&self, state: State, layer: Layer) -> Drawing {
        let (frame, style) = (self.frame, self.style());
        let mut d = Drawing::new();
        let (ground, over) =
            (layer != Layer::Coil && layer != Layer::Over, layer != Layer::Ground && layer != Layer::Desk);
        if ground {
            d.fill(Path::rect(Rect::page(frame.page)), style.desk);
        }
        let labels = [self.month_labels(), self.section_labels()];
        let current = state.month.or(state.inside.then_some(self.months.len() + state.passed));
        // Over art there is no paper for a tab to be tucked under.
        let tucked = layer != Layer::Over;
        if matches!(layer, Layer::Ground | Layer::Over) {
            for i in (0..self.months.len() + frame.tabs.len()).filter(|i| Some(*i) != current) {
                self.tab(&mut d, &labels, i, self.on_left(i, state), false, tucked);
            }
            self.tabs_within(&mut d, state, false, tucked);
        }
        if ground {
            self.papers(&mut d);
        }
        if let (Some(i), Layer::Ground | Layer::Over) = (current, layer) {
            self.tab(&mut d, &labels, i, self.on_left(i, state), true, true);
            self.tabs_within(&mut d, state, true, true);
        }
        if over {
            self.coil(&mut d);
            self.foot(&mut d);
        }
        d
    }

    /// Tap areas of the chrome in a state.
    pub fn links(&self, state: State) -> Vec<Link> {
        let (frame, go) = (self.frame, &self.words.go_to);
        let mut links = Vec::new();
        for (i, month) in self.months.iter().enumerate() {
            let says = format!("{go} {}", month.title);
            let rect = self.tab_tap(i, self.on_left(i, state));
            links.push(Link { rect, target: Target::Place(month.place.clone()), says: says.into() });
        }
        for (i, section) in self.notebook.sections.iter().enumerate() {
            let says = format!("{go} {}", self.section_title(i, &section.name));
            let tab = self.months.len() + i;
            let rect = self.tab_tap(tab, self.on_left(tab, state));
            links.push(Link { rect, target: Target::Place(Place::Section(i + 1)), says: says.into() });
        }
        links.extend(self.links_within(state));
        let mut add = |rect: Rect, place: Place, name: &str| {
            links.push(Link { rect, target: Target::Place(place), says: format!("{go} {name}").into() });
        };
        let (home, name) = self.home();
        for rect in &frame.ring_taps {
            add(*rect, home.clone(), name);
        }
        let parts = &self.notebook.parts;
        match (parts.foot, parts.has(Part::Cover)) {
            (true, true) => add(self.cover_foot(), Place::Cover, &self.words.cover),
            (true, false) => add(self.cover_foot(), home, name),
            (false, _) => {}
        }
        for (i, mark) in self.marks().into_iter().enumerate() {
            match mark {
                Mark::Overview => {
                    if let Some((place, name)) = self.templates() {
                        add(self.mark(i), place, name);
                    }
                }
                Mark::Index => add(self.mark(i), Place::Index, &self.words.index),
            }
        }
        links
    }

    /// Where the coil leads, with its name: to the index, or without one to what comes nearest to it.
    pub fn home(&self) -> (Place, &str) {
        let parts = &self.notebook.parts;
        let ways = [
            (Part::Index, Place::Index, self.words.index.as_str()),
            (Part::Overview, Place::Templates, self.words.templates.as_str()),
            (Part::Cover, Place::Cover, self.words.cover.as_str()),
        ];
        let way = ways.into_iter().find(|(part, ..)| parts.has(*part));
        way.map_or((Place::Section(1), self.words.sections.as_str()), |(_, place, name)| (place, name))
    }

    /// Where the templates are: their overview, or without one the first of their pages.
    pub fn templates(&self) -> Option<(Place, &str)> {
        let parts = &self.notebook.parts;
        if parts.has(Part::Overview) {
            return Some((Place::Templates, self.words.templates.as_str()));
        }
        let first = self.notebook.offered().next().filter(|_| parts.has(Part::Templates));
        first.map(|(_, t)| (Place::Template(t.slug.as_str().into()), t.name.as_str()))
    }

    /// The marks at the foot, from the outer edge.
    fn marks(&self) -> Vec<Mark> {
        let parts = &self.notebook.parts;
        let overview = self.templates().map(|_| Mark::Overview);
        let index = (self.product.page.coil == Coil::None && parts.has(Part::Index)).then_some(Mark::Index);
        if parts.marks { overview.into_iter().chain(index).collect() } else { Vec::new() }
    }

    /// Whether a tab lies on the left: those that are passed do, and for the left hand those that are not. Tabs are
    /// counted from those of the months on. Those in a row along the page stay where they are.
    fn on_left(&self, tab: usize, state: State) -> bool {
        !self.in_row(tab) && self.is_passed(tab, state) != (self.product.page.hand == Hand::Left)
    }

    fn is_passed(&self, tab: usize, state: State) -> bool {
        match tab.checked_sub(self.months.len()) {
            Some(section) => section < state.passed,
            None => tab < state.months,
        }
    }

    /// Whether a tab stands in a row along the page.
    fn in_row(&self, tab: usize) -> bool {
        self.frame.row.is_some_and(|row| row.months == (tab < self.months.len()))
    }

    /// A tab as it lies on the right, or in its row.
    fn place_of(&self, tab: usize) -> Rect {
        tab.checked_sub(self.months.len()).map_or_else(|| self.frame.months[tab], |section| self.frame.tabs[section])
    }

    /// Name of a section, or its number where it has none.
    pub fn section_title(&self, index: usize, name: &str) -> String {
        if name.is_empty() { self.words.section_number(index) } else { name.to_owned() }
    }

    fn papers(&self, d: &mut Drawing) {
        let (frame, style) = (self.frame, self.style());
        // A shadow is darker than the desk, whatever the ink.
        let dark = colour::darker(style.ink, style.paper);
        let shade = colour::mix(style.desk, dark, 0.16);
        let edge = Stroke::new(0.4, colour::mix(style.desk, dark, 0.12));
        for paper in &frame.papers {
            let below = Rect::new(paper.x + 0.3, paper.y + 1.1, paper.w - 0.6, paper.h);
            d.fill(Path::rounded(below, frame.corner), shade);
            let outline = Path::rounded(*paper, frame.corner);
            match self.grain {
                Some(grain) => {
                    d.fill(outline.clone(), style.paper);
                    grain.lay(d, outline.clone());
                    d.stroke(outline, edge);
                }
                None => d.fill_stroke(outline, style.paper, edge),
            }
        }
        super::binding::fold(d, frame, style);
    }

    /// The labels of the sections.
    pub fn section_labels(&self) -> TabLabels {
        let sections = &self.notebook.sections;
        let numbers: Vec<String> = (1..=sections.len()).map(|n| self.words.figure(n)).collect();
        let named = sections.iter().any(|s| !s.name.is_empty());
        let icons: Vec<_> = sections.iter().map(|s| motifs::icon(s.icon.as_deref()?)).collect();
        // A name that is not on its tab makes the others no smaller.
        let names = sections.iter().zip(&icons).zip(&numbers).map(|((s, icon), n)| match icon {
            Some(_) => String::new(),
            None if s.name.is_empty() => n.clone(),
            None => s.name.clone(),
        });
        let flat = self.frame.row.is_some_and(|row| !row.months);
        self.labels(&self.frame.tabs, named.then(|| names.collect()), numbers, flat).with_icons(icons)
    }

    /// The labels of the months.
    fn month_labels(&self) -> TabLabels {
        let numbers = self.months.iter().map(|month| month.number.clone()).collect();
        let names = self.months.iter().map(|month| month.label.clone()).collect();
        let flat = self.frame.row.is_some_and(|row| row.months);
        let row = labels::Row { series: true, ..self.row(&self.frame.months, flat) };
        TabLabels::set(self.fonts, row, Some(names), numbers)
    }

    /// A row of tabs as its labels need it.
    fn row<'t>(&self, tabs: &'t [Rect], flat: bool) -> labels::Row<'t> {
        labels::Row { tabs, scale: self.frame.scale, shape: self.style().manner.tabs, flat, series: false }
    }

    /// The labels of a row of tabs.
    pub fn labels(&self, tabs: &[Rect], names: Option<Vec<String>>, numbers: Vec<String>, flat: bool) -> TabLabels {
        TabLabels::set(self.fonts, self.row(tabs, flat), names, numbers)
    }

    fn tab(&self, d: &mut Drawing, labels: &[TabLabels; 2], tab: usize, left: bool, current: bool, tucked: bool) {
        let section = tab.checked_sub(self.months.len());
        let ground = section.map_or_else(|| self.months[tab].colour, |i| self.notebook.sections[i].colour);
        let (labels, index) = section.map_or((&labels[0], tab), |i| (&labels[1], i));
        let out = self.place_of(tab);
        let edge = match (self.in_row(tab), left) {
            (true, _) if self.frame.row.is_some_and(|row| row.below) => Edge::Bottom,
            (true, _) => Edge::Top,
            (false, true) => Edge::Left,
            (false, false) => Edge::Right,
        };
        let place = if left && !self.in_row(tab) { self.frame.mirrored(out) } else { out };
        self.tab_at(d, labels, TabAt { index, place, edge, ground }, current, tucked);
    }

    /// Draws a tab with its label.
    pub fn tab_at(&self, d: &mut Drawing, labels: &TabLabels, tab: TabAt, current: bool, tucked: bool) {
        let style = self.style();
        let TabAt { index, place, edge, ground } = tab;
        let fill = if current { ground } else { colour::mix(ground, style.desk, 0.12) };
        let shape = style.manner.tabs;
        let seat = Seat { place, edge, current, tucked, corner: self.frame.corner, shape };
        d.fill(seat.outline(), fill);
        let face = TabFace { index, face: seat.label(), ground: fill, turn: edge.turn(), current };
        match edge {
            Edge::Top | Edge::Bottom => labels.draw_flat(d, self.fonts, style, face),
            Edge::Left | Edge::Right => labels.draw(d, self.fonts, style, face),
        }
    }

    /// The tap area of a tab: from a little inside the paper to the page edge, and half the gap up and down.
    fn tab_tap(&self, index: usize, left: bool) -> Rect {
        let frame = self.frame;
        let tab = self.place_of(index);
        let half = frame.tab_gap / 2.0;
        let inward = Mm(TAB_INWARD).pt();
        if let (Some(row), true) = (frame.row, self.in_row(index)) {
            let outer = tab.h + Mm(0.9).pt();
            let y = if row.below { tab.y - inward } else { tab.bottom() - outer };
            return Rect::new(tab.x - half, y.max(0.0), tab.w + 2.0 * half, outer + inward);
        }
        let right = frame.page.w.min(tab.right() + Mm(0.9).pt());
        let tap = Rect::new(tab.x - inward, tab.y - half, right - tab.x + inward, tab.h + 2.0 * half);
        if left { frame.mirrored(tap) } else { tap }
    }

    fn coil(&self, d: &mut Drawing) {
        super::binding::draw(d, self.frame, self.style());
    }

    /// The foot: the notebook's title leads to the cover, small marks lead to the overview and the index.
    fn foot(&self, d: &mut Drawing) {
        let (frame, style) = (self.frame, self.style());
        let quiet = Pen::new(style).quiet;
        let setting = Setting::new(Role::Label, foot_type(frame.scale), quiet).tracked(0.03);
        let foot = frame.feet[0];
        let marks = self.marks();
        if self.notebook.parts.foot {
            // The marks stand on the last paper.
            let last = marks.len().checked_sub(1).filter(|_| frame.feet.len() == 1);
            let end = last.map_or(foot.right(), |last| self.mark(last).x);
            let room = title_room(foot, end, frame.scale);
            setting.draw_in(d, self.fonts, &self.notebook.title, room, Align::Left);
        }
        let pen = Stroke::new(0.65 * frame.scale.max(0.7), quiet).round();
        for (i, mark) in marks.into_iter().enumerate() {
            self.draw_mark(d, mark, self.mark_face(i), pen);
        }
    }

    fn draw_mark(&self, d: &mut Drawing, what: Mark, mark: Rect, pen: Stroke) {
        if what == Mark::Index {
            for i in 0..3 {
                let y = mark.y + mark.h * (0.1 + 0.4 * f64::from(i));
                d.stroke(Path::line(Point::new(mark.x, y), Point::new(mark.right(), y)), pen);
            }
            return;
        }
        let cell = mark.w * 0.4;
        for (dx, dy) in [(0.0, 0.0), (mark.w - cell, 0.0), (0.0, mark.h - cell), (mark.w - cell, mark.h - cell)] {
            d.stroke(Path::rounded(Rect::new(mark.x + dx, mark.y + dy, cell, cell), cell * 0.22), pen);
        }
    }

    fn cover_foot(&self) -> Rect {
        let foot = self.frame.feet[0];
        Rect::new(foot.x, foot.y, foot.w * 0.62, foot.h)
    }

    /// Tap area of a mark, counted from the outer edge of the last paper's foot.
    fn mark(&self, from_edge: usize) -> Rect {
        let foot = self.frame.feet[self.frame.feet.len() - 1];
        let side = foot.h.min(foot.w * 0.18);
        Rect::new(foot.right() - side * (from_edge + 1) as f64, foot.y, side, foot.h)
    }

    fn mark_face(&self, from_edge: usize) -> Rect {
        let tap = self.mark(from_edge);
        let side = between(7.2 * self.frame.scale, 5.0, tap.w * 0.6);
        let x = if from_edge == 0 { tap.right() - side } else { tap.centre().x - side / 2.0 };
        Rect::new(x, tap.centre().y - side / 2.0, side, side)
    }
}

/// Size of the type at the foot of a page of this scale, in points.
fn foot_type(scale: f64) -> f64 {
    wished_foot_type(scale).max(labels::LEAST_FOOT)
}

/// The size that suits the page, whether it can be read or not.
fn wished_foot_type(scale: f64) -> f64 {
    6.6 * scale
}

/// The room of the title at the foot. Where its type is larger than the page asks for, it may go on up to what follows at `end`.
fn title_room(foot: Rect, end: f64, scale: f64) -> Rect {
    let usual = foot.w * 0.6;
    let size = foot_type(scale);
    let free = if wished_foot_type(scale) < size { end - size - foot.x } else { usual };
    Rect { w: usual.max(free), ..foot }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_foot_is_read_on_every_page() {
        let foot = Rect::new(20.0, 500.0, 140.0, 26.0);
        for hundredths in 50..=135 {
            let scale = f64::from(hundredths) / 100.0;
            let (size, room) = (foot_type(scale), title_room(foot, 120.0, scale));
            assert!(size >= labels::LEAST_FOOT, "{scale}");
            // Clear of what follows, and no narrower than on larger pages.
            assert!(room.w >= foot.w * 0.6 && room.right() <= 120.0, "{scale}");
            if scale > 0.99 {
                assert_eq!((size, room.w), (6.6 * scale, foot.w * 0.6));
            }
        }
    }
}
