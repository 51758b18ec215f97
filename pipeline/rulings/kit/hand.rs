//! What all parts draw with: the context, sizes of type, and labels that keep to their room.

use super::super::RulingContext;
use super::super::parts::{Grid, Type, name, phone, seat, strong};
use super::ways::{Ease, Way};
use base::model::drawing::{Cut, Role};
use base::model::units::between;
use base::model::{Drawing, Mm, Rect};
use draw::text::{Align, Line, Setting};
use draw::{Fonts, Pen};
use std::cell::Cell;

/// The smallest type of all, in points: where a label has no room for the usual one (a floor of the house).
const LEAST: f64 = 6.5;

/// The same on a phone's page where names would be lost otherwise.
const LEAST_ON_PHONES: f64 = 6.0;

/// The usual smallest type of a label in points: on a phone's page, and on a tablet's (floors of the house).
const FLOORS: (f64, f64) = (8.0, 7.0);

/// Context and type for the parts of one area.
pub struct Hand<'a> {
    /// Where it draws.
    pub context: &'a RulingContext<'a>,
    /// Labels: quiet.
    pub label: Setting,
    /// Names of rows and columns: in ink.
    pub ink: Setting,
    /// Names of parts.
    pub head: Setting,
    /// Distance of the lines in points.
    pub pitch: f64,
    /// Whether it draws on a phone's page.
    pub phone: bool,
    /// How densely it sets.
    pub way: Way,
    /// How much with a name found no room.
    pub lost: &'a Cell<usize>,
    /// Letters that names have at most which several tables of the page share: in one form wherever they stand.
    pub letters: usize,
}

impl<'a> Hand<'a> {
    /// The hand for an area, a way to set it, and a count of what is lost.
    pub fn new(
        context: &'a RulingContext<'a>,
        area: Rect,
        pitch: f64,
        (way, lost): (Way, &'a Cell<usize>),
    ) -> Hand<'a> {
        let set = Type::new(area, pitch, &context.pen);
        let phone = phone(area);
        let floor = if phone { FLOORS.0 } else { FLOORS.1 };
        let label = set.label.sized(between(set.label.size, floor, 8.6).min(pitch * 0.5).max(LEAST.min(pitch * 0.5)));
        let head = set.head.sized(between(set.head.size, label.size * 1.25, 13.0).min(pitch * 0.66));
        let ink = Setting { colour: context.pen.ink, ..label };
        Hand { context, label, ink, head, pitch, phone, way, lost, letters: usize::MAX }
    }

    /// The pen.
    pub fn pen(&self) -> &Pen {
        &self.context.pen
    }

    /// The name of a part on its line, with the line: one row of the grid. It stands close to its own line: even without
    /// a free row above it, it is no caption of what stands there.
    pub fn heading(&self, d: &mut Drawing, text: &str, grid: &Grid, row: usize) {
        let band = grid.band(row, row + 1);
        name(d, self.context, self.head, text, seat(band));
        d.line(band.x, band.bottom(), band.right(), band.bottom(), strong(self.pen()));
    }

    /// The title of a table: one row of the grid above the table's own top line, which its tails keep clear of.
    pub fn title(&self, d: &mut Drawing, text: &str, grid: &Grid, row: usize) {
        let (band, fonts) = (grid.band(row, row + 1), self.context.fonts);
        if self.pen().small || band.w < 4.0 {
            return name(d, self.context, self.head, text, seat(band));
        }
        let set = self.head.fitted(fonts, [text], band.w, self.smallest(self.head));
        let tail = set.size * 0.24 + Mm(if self.phone { 1.4 } else { 2.0 }).pt();
        let above = tail.min((band.h - set.cap(fonts)).max(0.0));
        set.draw_kept(d, fonts, text, Line { room: band.w, x: band.x, y: band.bottom() - above, align: Align::Left });
    }

    /// The same hand with labels of another size.
    pub fn in_size(&self, size: f64) -> Hand<'a> {
        Hand { label: self.label.sized(size), ink: self.ink.sized(size), ..*self }
    }

    /// The same hand in smaller and smaller type, down to the smallest.
    pub fn smaller(&self) -> impl Iterator<Item = Hand<'a>> + '_ {
        let size = self.label.size;
        let floors = [FLOORS.0, FLOORS.1, LEAST, LEAST_ON_PHONES];
        let least = if self.phone { self.least() } else { FLOORS.1 };
        let floors = floors.into_iter().filter(move |s| *s < size && *s >= least);
        std::iter::once(size).chain(floors).map(move |size| self.in_size(size))
    }

    /// The smallest size of all.
    fn least(&self) -> f64 {
        if self.phone && self.way.ease <= Ease::Written { LEAST_ON_PHONES } else { LEAST }
    }

    /// The smallest size in which something may be set that is usually set so.
    pub fn smallest(&self, set: Setting) -> f64 {
        set.size.min(self.least())
    }

    /// The width of a label's longest word.
    pub fn word(&self, text: &str) -> f64 {
        text.split_whitespace().map(|w| self.ink.width(self.context.fonts, w)).fold(0.0, f64::max)
    }

    /// The width of a label on two lines, where a row is high enough for them; else on one.
    pub fn broken(&self, text: &str) -> f64 {
        let words: Vec<&str> = text.split_whitespace().collect();
        let high = self.ink.cap(self.context.fonts) + self.ink.size * 1.56;
        if words.len() < 2 || high > self.pitch {
            return self.line(text);
        }
        let halves =
            (1..words.len()).map(|at| self.line(&words[..at].join(" ")).max(self.line(&words[at..].join(" "))));
        halves.fold(f64::MAX, f64::min)
    }

    /// The width of a label on one line.
    pub fn line(&self, text: &str) -> f64 {
        self.ink.width(self.context.fonts, text)
    }

    /// Space at either side of a text in a cell.
    pub fn pad(&self) -> f64 {
        Mm(if self.phone { 0.9 } else { 1.2 }).pt().min(self.pitch * 0.3)
    }

    /// The least air between a head and the lines beside it.
    pub fn air(&self) -> f64 {
        Mm(if self.phone { 0.7 } else { 1.0 }).pt().min(self.pitch * 0.3)
    }

    /// A label in a cell: on one line where it fits, else on two lines, else smaller, else cut.
    pub fn cell(&self, d: &mut Drawing, set: Setting, text: &str, cell: Rect, align: Align) {
        if self.pen().small || text.is_empty() {
            return;
        }
        let fonts = self.context.fonts;
        let room = Rect { x: cell.x + self.pad(), w: (cell.w - 2.0 * self.pad()).max(0.0), ..cell };
        let fitted = set.fitted(fonts, [text], room.w, self.smallest(set));
        let high = |set: Setting, lines: usize| set.cap(fonts) + set.size * (0.48 + 1.08 * (lines - 1) as f64);
        let sizes = [set, set.sized(self.smallest(set))];
        for small in sizes.into_iter().filter(|_| set.width(fonts, text) > room.w + 1e-6) {
            let lines = small.wrap_whole(fonts, text, room.w);
            let fits = lines.iter().all(|l| small.width(fonts, l) <= room.w + 1e-6);
            if lines.len() == 2 && fits && high(small, 2) <= cell.h {
                let step = small.size * 1.08;
                let top = room.centre().y - step / 2.0;
                for (i, line) in lines.iter().enumerate() {
                    let seat = Rect { y: top + i as f64 * step - step / 2.0, h: step, ..room };
                    small.draw_in(d, fonts, line, seat, align);
                }
                return;
            }
        }
        if high(fitted, 1) <= cell.h && room.w > 3.0 {
            fitted.sized(fitted.size.min(set.size)).draw_in(d, fonts, text, room, align);
        }
    }

    /// Remembers what there is no room for, by so many points: the check tells of it.
    pub fn left_out(&self, d: &mut Drawing, label: &str, by: f64, room: Rect) {
        if label.is_empty() {
            return;
        }
        self.lose(1);
        if !self.pen().small {
            d.cuts.push(Cut { whole: label.to_owned(), shown: String::new(), by, room });
        }
    }

    /// Counts what there is no room for, whether or not it is told.
    pub fn lose(&self, many: usize) {
        self.lost.set(self.lost.get() + many);
    }

    /// Settings of a text that is read rather than written on.
    pub fn prose(&self) -> Setting {
        Setting { role: Role::LabelItalic, tracking: 0.02, ..self.label }
    }

    /// The lines of a text in a width.
    pub fn lines(&self, text: &str, width: f64) -> Vec<String> {
        self.prose().wrap(self.context.fonts, text, width.max(1.0))
    }
}

/// Labels that stand side by side, each at most `width` wide: in smaller type, else all cut to the same number of letters,
/// never smaller than the smallest type of a tablet's page.
pub fn shortened(fonts: &Fonts, set: Setting, labels: &[String], width: f64) -> (Setting, Vec<String>) {
    let least = LEAST.min(set.size);
    for letters in [usize::MAX, 3, 2, 1] {
        let cut: Vec<String> = labels.iter().map(|l| l.chars().take(letters).collect()).collect();
        let set = set.fitted(fonts, cut.iter().map(String::as_str), width, least);
        if cut.iter().all(|l| set.width(fonts, l) <= width + 1e-6) {
            return (set, cut);
        }
    }
    (set, vec![String::new(); labels.len()])
}
