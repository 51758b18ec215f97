//! The head of a dated page whose ruling knows no dates: the date, and the steps to the pages around it.

use super::super::builder::Builder;
use super::super::front;
use base::model::dated::{DatedPage, Step};
use base::model::drawing::{Path, Stroke};
use base::model::units::between;
use base::model::{Point, Rect, Role};
use draw::ruling::DatedDrawing;
use draw::text::{Align, Line, Setting};

/// How high the head is, in points.
pub fn height(b: &Builder) -> f64 {
    front::head_height(b.frame)
}

/// Draws the head: the date on the first paper, the steps at the outer edge of the last.
pub fn head(b: &Builder, said: &DatedPage) -> DatedDrawing {
    let mut drawn = DatedDrawing::default();
    let (first, last) = (b.frame.areas[0], b.frame.areas[b.frame.areas.len() - 1]);
    let high = height(b);
    let ways = [
        (said.companions.first().filter(|_| said.nth > 1), Arrow::Beside),
        (said.previous.as_ref(), Arrow::Back),
        (said.up.as_ref(), Arrow::Up),
        (said.next.as_ref(), Arrow::On),
    ];
    let side = between(high * 0.8, 18.0, last.w / 8.0);
    for (i, (step, arrow)) in ways.into_iter().rev().enumerate() {
        let slot = Rect::new(last.right() - side * (i + 1) as f64, last.y, side, high * 0.8);
        if let Some(step) = step {
            draw_step(b, &mut drawn, slot, step, arrow);
        }
    }
    let right = if b.frame.areas.len() > 1 { first.right() } else { last.right() - side * 4.3 };
    let room = right - first.x;
    let style = &b.product.style;
    let size = (21.0 * b.frame.scale).max(13.0);
    let heading =
        Setting::new(Role::Heading, size, style.ink).fitted(b.fonts, [said.heading.as_str()], room * 0.6, 9.0);
    let y = first.y + heading.cap(b.fonts);
    let line = |x: f64| Line { room: (right - x).max(0.0), x, y, align: Align::Left };
    heading.draw_kept(&mut drawn.layer, b.fonts, &said.heading, line(first.x));
    let x = first.x + heading.width(b.fonts, &said.heading) + size * 0.4;
    let beside = Setting::new(Role::Label, size * 0.5, b.pen.quiet).fitted(
        b.fonts,
        [said.beside.as_str()],
        (right - x).max(1.0),
        6.0,
    );
    beside.draw_kept(&mut drawn.layer, b.fonts, &said.beside, line(x));
    drawn
}

/// Which way an arrow points.
#[derive(Clone, Copy)]
enum Arrow {
    Back,
    On,
    Up,
    Beside,
}

fn draw_step(b: &Builder, drawn: &mut DatedDrawing, slot: Rect, step: &Step, arrow: Arrow) {
    let size = slot.w.min(slot.h) * 0.16;
    let c = slot.centre();
    let points: &[(f64, f64)] = match arrow {
        Arrow::Back => &[(0.5, -1.0), (-0.5, 0.0), (0.5, 1.0)],
        Arrow::On => &[(-0.5, -1.0), (0.5, 0.0), (-0.5, 1.0)],
        Arrow::Up => &[(-1.0, 0.5), (0.0, -0.5), (1.0, 0.5)],
        Arrow::Beside => &[(-0.75, -1.0), (0.75, -1.0), (0.75, 1.0), (-0.75, 1.0), (-0.75, -1.0)],
    };
    let points: Vec<Point> = points.iter().map(|(x, y)| Point::new(c.x + x * size, c.y + y * size)).collect();
    let stroke = Stroke::new((size * 0.24).max(0.6), b.product.style.ink).round();
    drawn.layer.stroke(Path::polyline(&points, false), stroke);
    drawn.taps.push((slot, step.place.clone()));
}
