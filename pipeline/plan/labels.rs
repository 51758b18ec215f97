//! What stands on tabs: names or numbers, at one size for all of a row.

use super::label_lines;
use super::tab;
use base::colour;
use base::model::drawing::{Cut, Turn};
use base::model::look::TabShape;
use base::model::product::Style;
use base::model::{Drawing, Mm, Rect, Rgb, Role};
use draw::Fonts;
use draw::motifs::{ICON_GRID, Icon, IconTones, draw_icon};
use draw::text::{Align, Setting};

/// The labels of all tabs, set at one size: shrunk together, never one by one.
pub struct TabLabels {
    lines: Vec<Vec<String>>,
    size: f64,
    /// From the baseline of a line to that of the next, in points.
    step: f64,
    /// Numbers instead of names: the names would be too small to read.
    upright: bool,
    /// The name for whose sake that is so, and by how much it is too long in the smallest type, in points.
    long: Option<(String, f64)>,
    /// Names that are shortened, so that the others keep their size: which tab's, the whole name, by how much it is too long.
    cut: Vec<(usize, String, f64)>,
    /// The icons that stand in the place of labels, by tab.
    icons: Vec<Option<Icon>>,
}

/// The smallest type on a tab, in points.
const LEAST_LABEL: f64 = 5.2;

/// The smallest type of labels and numerals, in points: on a phone, and in lists on every page.
pub use super::tab::LEAST_TYPE;

/// The smallest type at the foot of a page, in points.
pub const LEAST_FOOT: f64 = 6.5;

/// What stays free before and behind a label on a phone's tab, in points: together.
const PHONE_ENDS: f64 = 2.4;

/// The same on other pages.
const ENDS: f64 = 4.0;

/// Whether a page of this scale is a phone's, or no wider than one: it is held at arm's length and shown no larger than it is.
pub fn is_phone(scale: f64) -> bool {
    scale < 0.6
}

/// The smallest type of names that lead to their pages, in points.
pub fn least_name(scale: f64) -> f64 {
    if is_phone(scale) { 8.0 } else { LEAST_TYPE }
}

/// A tab as its label needs it.
#[derive(Clone, Copy, Debug)]
pub struct TabFace {
    /// Which section's it is, from 0.
    pub index: usize,
    /// Where it is, in points.
    pub face: Rect,
    /// What it is filled with.
    pub ground: Rgb,
    /// Which way the label is read.
    pub turn: Turn,
    /// Whether its section is open.
    pub current: bool,
}

/// A row of tabs of one shape.
#[derive(Clone, Copy, Debug)]
pub struct Row<'a> {
    /// Their places, in points.
    pub tabs: &'a [Rect],
    /// The scale of the page's parts.
    pub scale: f64,
    /// Their outer side.
    pub shape: TabShape,
    /// Whether their labels are read along the page.
    pub flat: bool,
    /// Whether they count something, so that a number among names would be a riddle.
    pub series: bool,
}

impl TabLabels {
    /// Sets names on tabs, or numbers where there are no names, or where these are too long. Flat ones are read along
    /// the page. On a phone no label is smaller than can be read there.
    pub fn set(fonts: &Fonts, row: Row, names: Option<Vec<String>>, numbered: Vec<String>) -> TabLabels {
        let Row { tabs, scale, shape, flat, series } = row;
        let Some(tab) = tabs.first() else {
            return TabLabels {
                lines: Vec::new(),
                size: 1.0,
                step: 1.0,
                upright: true,
                long: None,
                cut: Vec::new(),
                icons: Vec::new(),
            };
        };
        let phone = is_phone(scale);
        let tab = if flat { Rect { w: tab.h, h: tab.w, ..*tab } } else { *tab };
        let wish = 8.4 * scale;
        // Names that fit whole are read on every page.
        let start = wish.max(LEAST_TYPE);
        let setting = Setting::new(Role::LabelBold, start, Rgb::BLACK).tracked(0.02);
        let least = if flat { tab.w } else { tab.h };
        let seen = tab::shown(tab.w);
        let numbers = |numbered: Vec<String>, long: Option<(String, f64)>| {
            let size = start.min(least * 0.62);
            let size = if phone {
                // No wider than what is seen of a tab, and no higher.
                let wide = if flat { tab.h } else { tab::depth_for_number(shape, seen, tab.h) };
                let set = setting.sized(size.max(LEAST_TYPE.min(least * 0.95)));
                set.fitted(fonts, numbered.iter().map(String::as_str), wide, 1.0).size
            } else {
                size.max(4.0)
            };
            let lines = numbered.into_iter().map(|n| vec![n]).collect();
            TabLabels { long, lines, size, step: size, upright: true, cut: Vec::new(), icons: Vec::new() }
        };
        let Some(names) = names else { return numbers(numbered, None) };
        let ends = if phone { PHONE_ENDS } else { ENDS };
        let length = (tab.h - ends) * tab::room_for_label(shape);
        let depth = tab::depth_for_label(shape, seen, tab.h);
        // What narrows towards its outer side leaves room at the ends by itself.
        let two = two_lines(shape, (seen, tab.h), depth, start).map(|long| (long - ends / 2.0).min(tab.h - ends));
        // In a row the outer one is the upper one or the lower one, by where the row stands.
        let two = if flat { [two[0].min(two[1]); 2] } else { two };
        // No name is shortened for the sake of a size at which no two lines have room.
        let fair = (wish * 0.84).min(depth / (1.0 + tab::LEAST_STEP)).max(LEAST_LABEL);
        let room = label_lines::Room { length, two, depth, least: LEAST_LABEL, fair };
        let set = if phone {
            label_lines::kept(fonts, setting, (names.as_slice(), numbered.as_slice()), room)
        } else {
            label_lines::set(fonts, setting, (names.as_slice(), numbered.as_slice()), room)
        };
        match set {
            label_lines::Set::Names { cut, .. } if phone && series && !cut.is_empty() => {
                let longest = cut.into_iter().map(|(_, name, by)| (name, by)).max_by(|a, b| a.1.total_cmp(&b.1));
                numbers(numbered, longest)
            }
            label_lines::Set::Names { lines, size, cut } => {
                let step = label_lines::step(size, depth);
                TabLabels { lines, size, step, upright: false, cut, long: None, icons: Vec::new() }
            }
            label_lines::Set::TooLong { name, by } => numbers(numbered, Some((name, by))),
        }
    }

    /// The same with icons in the place of some labels, by tab.
    pub fn with_icons(self, icons: Vec<Option<Icon>>) -> TabLabels {
        TabLabels { icons, ..self }
    }

    /// Lets the drawing remember a name that is shortened on its tab, or for whose sake there are numbers.
    fn tell(&self, d: &mut Drawing, tab: &TabFace) {
        for (_, whole, by) in self.cut.iter().filter(|(index, ..)| *index == tab.index) {
            let shown = self.lines[tab.index].join(" ");
            d.cuts.push(Cut { whole: whole.clone(), shown, by: *by, room: tab.face });
        }
        if let Some((whole, by)) = self.long.as_ref().filter(|_| tab.index == 0) {
            d.cuts.push(Cut { whole: whole.clone(), shown: "1, 2, 3 …".to_owned(), by: *by, room: tab.face });
        }
    }

    /// Draws the icon of a tab, if it has one: upright on every side, in lines that are told from the tab as words would be.
    fn draw_icon(&self, d: &mut Drawing, style: &Style, tab: &TabFace) -> bool {
        let Some(icon) = self.icons.get(tab.index).copied().flatten() else { return false };
        let ink = colour::label_on(tab.ground, style.ink, style.paper);
        let size = (tab.face.w.min(tab.face.h) * 0.74).min(Mm(9.0).pt());
        let weight = size / ICON_GRID * if tab.current { 1.7 } else { 1.4 };
        let tones = IconTones::on(tab.ground, ink, style.paper, weight);
        draw_icon(d, icon, tab.face.centre(), size, tones);
        true
    }

    /// Draws the label of a tab that is read along the page.
    pub fn draw_flat(&self, d: &mut Drawing, fonts: &Fonts, style: &Style, tab: TabFace) {
        let role = if tab.current || self.upright { Role::LabelBold } else { Role::Label };
        let ink = colour::label_on(tab.ground, style.ink, style.paper);
        let setting = Setting::new(role, self.size, ink).tracked(0.02);
        let lines = &self.lines[tab.index];
        self.tell(d, &tab);
        if self.draw_icon(d, style, &tab) {
            return;
        }
        let step = self.step;
        for (k, line) in lines.iter().enumerate() {
            let off = (k as f64 - (lines.len() - 1) as f64 / 2.0) * step;
            setting.draw_in(d, fonts, line, Rect { y: tab.face.y + off, ..tab.face }, Align::Centre);
        }
    }

    /// Draws the label of a tab into its face.
    pub fn draw(&self, d: &mut Drawing, fonts: &Fonts, style: &Style, tab: TabFace) {
        let TabFace { index, face, ground, turn, current } = tab;
        let role = if current || self.upright { Role::LabelBold } else { Role::Label };
        let ink = colour::label_on(ground, style.ink, style.paper);
        let setting = Setting::new(role, self.size, ink).tracked(0.02);
        let lines = &self.lines[index];
        self.tell(d, &tab);
        if self.draw_icon(d, style, &tab) {
            return;
        }
        if self.upright {
            setting.draw_in(d, fonts, &lines[0], face, Align::Centre);
            return;
        }
        let step = self.step;
        // Two lines are in the middle by their ink: what hangs below the second one is kept off the paper too.
        let lift = if lines.get(1).is_some_and(|line| hangs(line)) { self.size * HANGS / 2.0 } else { 0.0 };
        for (k, line) in lines.iter().enumerate() {
            let off = (k as f64 - (lines.len() - 1) as f64 / 2.0) * step - lift;
            // Read downwards, the first line is the right one; read upwards, the left one.
            let x = if turn == Turn::Down { face.x - off } else { face.x + off };
            setting.draw_turned(d, fonts, line, Rect::new(x, face.y, face.w, face.h), turn);
        }
    }
}

/// How far letters hang below their line, in sizes of type.
const HANGS: f64 = 0.2;

/// Whether a letter of a line hangs below it. Of letters beyond ASCII it is taken that some do.
fn hangs(line: &str) -> bool {
    line.chars().any(|c| !c.is_ascii() && c != '…' || "gjpqyQJ,;()".contains(c))
}

/// How long a tab that is seen so deep and is so long is where the first of two lines stands on it, and where the second one
/// does, at the largest size that there is room for: the outer one's capitals reach farthest out.
fn two_lines(shape: TabShape, (seen, along): (f64, f64), depth: f64, start: f64) -> [f64; 2] {
    let size = start.min(depth / (1.0 + tab::LEAST_STEP));
    let (middle, half) = (seen / 2.0, label_lines::step(size, depth) / 2.0);
    [middle + half, middle - half].map(|at| tab::length_at(shape, seen, along, at + size * 0.35))
}

#[cfg(test)]
mod tests;
