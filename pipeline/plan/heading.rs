//! Titles at the head of a page: plain, on a band, with a flourish, in a box, or beside a stroke.

use super::builder::Builder;
use super::frame::Frame;
use base::colour;
use base::model::drawing::{Path, Seg, Stroke};
use base::model::look::Heading;
use base::model::{Drawing, Mm, Point, Rect, Role};
use draw::text::{Align, Line, Setting};

/// Height of a page's head with its title, in points.
pub fn height(frame: &Frame) -> f64 {
    (Mm(13.0).pt() * frame.scale).max(22.0)
}

/// Draws a title at the top of an area; `room` is the height that heads have on all pages.
pub fn draw(b: &Builder, d: &mut Drawing, title: &str, area: Rect, room: f64) {
    let style = &b.product.style;
    let manner = style.manner.heading;
    let size = (21.0 * b.frame.scale).max(13.0);
    let pad = match manner {
        Heading::Plain | Heading::Flourish => 0.0,
        Heading::Band | Heading::Boxed => size * 0.55,
        Heading::Side => size * 0.5,
    };
    let size = if matches!(manner, Heading::Band | Heading::Boxed) { size * 0.86 } else { size };
    let inner = area.w - 2.0 * pad;
    let setting = Setting::new(Role::Heading, size, style.ink).fitted(b.fonts, [title], inner, 9.0);
    let cap = setting.cap(b.fonts);
    let width = setting.width(b.fonts, title).min(inner);
    let high = (room * 0.76).min(cap + size * 0.9);
    let field = Rect { h: high, ..area };
    let base = match manner {
        Heading::Band | Heading::Boxed => field.y + (high + cap) / 2.0,
        Heading::Plain | Heading::Flourish | Heading::Side => area.y + cap,
    };
    let line = Stroke::new((1.1 * b.frame.scale).max(0.7), colour::mix(style.paper, style.accent, 0.85));
    match manner {
        Heading::Plain => {}
        Heading::Band => {
            let tint = colour::mix(style.paper, style.accent, 0.2);
            d.fill(Path::rounded(field, b.frame.corner.min(high * 0.3)), tint);
        }
        Heading::Boxed => {
            let boxed = Rect { w: width + 2.0 * pad, ..field };
            d.stroke(Path::rounded(boxed.inset(line.width / 2.0), b.frame.corner.min(high * 0.3)), line);
        }
        Heading::Side => {
            let bar = Rect::new(area.x, area.y - size * 0.12, size * 0.14, cap + size * 0.24);
            d.fill(Path::rounded(bar, bar.w / 2.0), style.accent);
        }
        Heading::Flourish => {
            // Two swings below the title, the second one going out.
            let (x, y, h) = (area.x, base + size * 0.36, size * 0.16);
            let end = x + (width * 1.15).max(size * 3.0).min(area.w);
            let at = |t: f64, up: f64| Point::new(x + (end - x) * t, y - up * h);
            let path = Path(vec![
                Seg::Move(at(0.0, 0.0)),
                Seg::Cubic(at(0.16, 1.6), at(0.3, -1.6), at(0.5, 0.0)),
                Seg::Cubic(at(0.66, 1.2), at(0.84, 0.0), at(1.0, 0.3)),
            ]);
            d.stroke(path, line.round());
        }
    }
    setting.draw_kept(d, b.fonts, title, Line { room: inner, x: area.x + pad, y: base, align: Align::Left });
}
