//! The head of a dated page: its date, large, and the arrows to the pages around it.

use super::super::parts::strong;
use super::sheet::{Sheet, line};
use base::model::dated::{DatedKind, DatedPage, Step};
use base::model::drawing::{Path, Role, Stroke};
use base::model::units::between;
use base::model::{Mm, Point, Rect};
use draw::ruling::RulingContext;
use draw::text::{Align, Line, Setting};

/// Begins a page with its head; `None` where there is no area.
pub fn begin<'a>(context: &'a RulingContext<'a>, page: &'a DatedPage) -> Option<Sheet<'a>> {
    let mut sheet = Sheet::new(context, page)?;
    sheet.draw_head();
    Some(sheet)
}

impl Sheet<'_> {
    fn draw_head(&mut self) {
        let areas = &self.context.areas;
        let tall = self.head as f64 * self.pitch;
        for area in areas {
            let y = area.y + tall;
            self.out.ground.line(area.x, y, area.right(), y, strong(self.pen()));
        }
        let (first, last) = (areas[0], areas[areas.len() - 1]);
        let page = self.page;
        let steps = page.companions.len().min(2) + 3;
        let least = Mm(9.0).pt().min(last.w * 0.62 / steps as f64);
        let share = if areas.len() > 1 { last.w * 0.9 } else { first.w * 0.46 };
        let slot = between(share / steps as f64, least, Mm(15.0).pt().max(self.finger));
        // On a narrow page the arrows stand below the date.
        let low = if self.head == 3 { self.pitch * 1.6 } else { 0.0 };
        let room = Rect::new(last.x, last.y + low, last.w, tall - low);
        let slots: Vec<Rect> =
            (0..steps).map(|i| Rect { x: room.right() - (steps - i) as f64 * slot, w: slot, ..room }).collect();
        let ways = page.companions.iter().take(2).map(|step| (Some(step), Way::Beside)).chain([
            (page.previous.as_ref(), Way::Back),
            (page.up.as_ref(), Way::Up),
            (page.next.as_ref(), Way::On),
        ]);
        for ((step, way), slot) in ways.zip(slots.iter().copied()) {
            if let Some(step) = step {
                self.arrow(slot, step, way);
            }
        }
        let free = if areas.len() > 1 { first.w } else { slots[0].x - self.pitch * 0.3 - first.x };
        let head = Rect { h: tall, ..first };
        if self.head == 3 {
            self.stacked(
                Rect { h: self.pitch * 1.6, ..head },
                Rect { y: first.y + low, h: tall - low, w: free, ..head },
            );
        } else {
            self.heading(Rect { w: free, ..head });
        }
    }

    /// The date, large, and what stands beside it: on one line where there is room, else below.
    fn heading(&mut self, area: Rect) {
        let (fonts, pitch) = (self.context.fonts, self.pitch);
        let (page, pen) = (self.page, self.pen());
        let set = Setting::new(Role::Heading, pitch * 1.7, pen.ink);
        if self.small() {
            let bar = Rect::new(area.x, area.y + area.h * 0.2, (area.w * 0.5).min(pitch * 5.0), area.h * 0.4);
            self.out.layer.fill(Path::rect(bar), pen.dot);
            return;
        }
        if self.head < 2 {
            let set = set.sized(area.h * 0.8).fitted(fonts, [page.heading.as_str()], area.w, 5.0);
            line(&mut self.out.layer, self.context, set, &page.heading, area, area.centre().y + set.cap(fonts) / 2.0);
            return;
        }
        let beside = Setting::new(Role::Label, self.label.size * 1.18, pen.quiet).tracked(0.01);
        // What a page of this kind may take at most, so that all pages of a set are set alike.
        let most = match page.kind {
            DatedKind::Week => 8.8,
            DatedKind::Day => 8.2,
            _ => 6.6,
        };
        if area.w >= most * set.size {
            let set = set.fitted(fonts, [page.heading.as_str()], area.w * 0.7, set.size * 0.6);
            let y = area.y + pitch * 0.1 + pitch * 1.7 * fonts.metrics(Role::Heading).cap;
            line(&mut self.out.layer, self.context, set, &page.heading, area, y);
            let x = area.x + set.width(fonts, &page.heading).min(area.w) + set.size * 0.34;
            let rest = Rect { x, w: (area.right() - x).max(0.0), ..area };
            let (beside, text) = self.aside(beside, rest.w);
            line(&mut self.out.layer, self.context, beside, &text, rest, y);
        } else {
            let below = pitch * 1.2;
            self.stacked(area, Rect { y: area.y + below, h: area.h - below, ..area });
        }
    }

    /// The date over what stands beside it on other pages.
    fn stacked(&mut self, area: Rect, below: Rect) {
        let (fonts, pitch, page) = (self.context.fonts, self.pitch, self.page);
        if self.small() {
            let bar = Rect::new(area.x, area.y + area.h * 0.2, (area.w * 0.5).min(pitch * 5.0), area.h * 0.4);
            self.out.layer.fill(Path::rect(bar), self.pen().dot);
            return;
        }
        let set = Setting::new(Role::Heading, pitch * 1.3, self.pen().ink);
        let set = set.fitted(fonts, [page.heading.as_str()], area.w, pitch * 0.6);
        let y = area.y + pitch * 1.3 * fonts.metrics(Role::Heading).cap + pitch * 0.06;
        line(&mut self.out.layer, self.context, set, &page.heading, area, y);
        let (beside, text) = self.aside(self.label, below.w);
        // On its own row it stands level with the arrows.
        let y = if self.head == 3 { below.y + below.h * 0.42 + beside.cap(fonts) / 2.0 } else { area.y + pitch * 1.66 };
        line(&mut self.out.layer, self.context, beside, &text, below, y);
    }

    /// What stands beside the heading: whole where it fits, smaller within limits; else with the short names of months.
    fn aside(&self, set: Setting, room: f64) -> (Setting, String) {
        let (fonts, page) = (self.context.fonts, self.page);
        let fitted = |text: &str, least: f64| set.fitted(fonts, [text], room, least);
        let whole = fitted(&page.beside, 6.5);
        if whole.width(fonts, &page.beside) <= room + 1e-6 {
            return (whole, page.beside.clone());
        }
        (fitted(&page.beside_short, 5.0), page.beside_short.clone())
    }

    /// An arrow in its slot, with the name of where it leads where there is room.
    fn arrow(&mut self, slot: Rect, step: &Step, way: Way) {
        self.tap(slot, Some(&step.place));
        let pen = self.pen();
        let size = (slot.w.min(slot.h) * 0.15).min(Mm(1.9).pt());
        let named = slot.w >= Mm(12.0).pt() && slot.h >= Mm(11.0).pt() && !self.small();
        let c = Point::new(slot.centre().x, slot.y + if named { slot.h * 0.3 } else { slot.h * 0.42 });
        let stroke = Stroke::new((size * 0.24).max(pen.weight), pen.ink).round();
        let shape = |points: &[(f64, f64)]| -> Vec<Point> {
            points.iter().map(|(x, y)| Point::new(c.x + x * size, c.y + y * size)).collect()
        };
        let (points, closed) = match way {
            Way::Back => (shape(&[(0.5, -1.0), (-0.5, 0.0), (0.5, 1.0)]), false),
            Way::On => (shape(&[(-0.5, -1.0), (0.5, 0.0), (-0.5, 1.0)]), false),
            Way::Up => (shape(&[(-1.0, 0.5), (0.0, -0.5), (1.0, 0.5)]), false),
            Way::Beside => (shape(&[(-0.75, -1.0), (0.3, -1.0), (0.75, -0.5), (0.75, 1.0), (-0.75, 1.0)]), true),
        };
        self.out.layer.stroke(Path::polyline(&points, closed), stroke);
        if named {
            let room = slot.inset_each(2.0, 0.0, 2.0, 0.0);
            let set = self.label.sized((self.label.size * 0.84).max(6.5_f64.min(self.label.size)));
            let set = set.fitted(self.context.fonts, [step.name.as_str()], room.w, 6.0_f64.min(set.size));
            // The arrow says enough where a name would have to be cut.
            if set.width(self.context.fonts, &step.name) > room.w + 1e-6 {
                return;
            }
            let at = Line { room: room.w, x: room.centre().x, y: slot.y + slot.h * 0.78, align: Align::Centre };
            set.draw_kept(&mut self.out.layer, self.context.fonts, &step.name, at);
        }
    }
}

/// Which way an arrow points.
#[derive(Clone, Copy)]
enum Way {
    Back,
    On,
    Up,
    Beside,
}
