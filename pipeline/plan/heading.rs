//! Titles at the head of a page: plain, on a band, with a flourish, in a box, or beside a stroke.

use super::builder::Builder;
use super::frame::Frame;
use base::colour;
use base::model::drawing::{Path, Seg, Stroke};
use base::model::look::Heading;
use base::model::{Drawing, Mm, Point, Rect, Rgb, Role};
use draw::motifs::{ICON_GRID, Icon, IconTones, draw_icon};
use draw::text::{Align, Line, Setting};

/// Height of a page's head with its title, in points.
pub fn height(frame: &Frame) -> f64 {
    (Mm(13.0).pt() * frame.scale).max(22.0)
}

/// What stands at the head of a page.
#[derive(Clone, Copy)]
pub struct Title<'a> {
    /// Its words.
    pub text: &'a str,
    /// An icon before them.
    pub icon: Option<Icon>,
}

/// An icon before words.
#[derive(Clone, Copy)]
pub struct Mark {
    icon: Icon,
    side: f64,
    /// How much of the line it takes with the space behind it, in points.
    pub taken: f64,
}

impl Mark {
    /// An icon for words that are set so: so many times as high as their capitals.
    pub fn before(b: &Builder, set: &Setting, icon: Icon, times: f64) -> Mark {
        let side = set.cap(b.fonts) * times;
        Mark { icon, side, taken: side + set.size * 0.36 }
    }

    /// Draws it from a point of the baseline on, in the middle of capitals so high, as lines of the accent on a ground.
    pub fn draw(&self, b: &Builder, d: &mut Drawing, at: Point, cap: f64, ground: Rgb) {
        let style = &b.product.style;
        // Seen as lines are that mean something (WCAG 2.2, 1.4.11).
        let ink = colour::deepened(style.accent, ground, style.ink, 3.0);
        let line = Stroke::new((self.side / ICON_GRID * 1.5).max(0.6), ink).round();
        let tones = IconTones { base: ground, soft: ground, paper: ground, line };
        draw_icon(d, self.icon, Point::new(at.x + self.side / 2.0, at.y - cap / 2.0), self.side, tones);
    }
}

/// Draws a title at the top of an area; `room` is the height that heads have on all pages.
pub fn draw(b: &Builder, d: &mut Drawing, title: Title, area: Rect, room: f64) {
    let Title { text: title, icon } = title;
    let style = &b.product.style;
    let manner = style.manner.heading;
    let wide = (21.0 * b.frame.scale).max(13.0);
    let size = if matches!(manner, Heading::Band | Heading::Boxed) { wide * 0.86 } else { wide };
    let setting = Setting::new(Role::Heading, size, style.ink);
    // What stands before the words, and behind them; a field is closer round a title that is long.
    let [before, behind] = match manner {
        Heading::Plain | Heading::Flourish => [0.0; 2],
        Heading::Band | Heading::Boxed => [wide * 0.55; 2],
        Heading::Side => [wide * 0.5, 0.0],
    };
    let closest = if matches!(manner, Heading::Band | Heading::Boxed) { wide * 0.25 } else { before };
    let mark = |setting: &Setting| icon.map(|icon| Mark::before(b, setting, icon, 1.2));
    let taken = |mark: Option<Mark>| mark.map_or(0.0, |mark| mark.taken);
    let inner = area.w - closest - behind.min(closest) - taken(mark(&setting));
    let setting = setting.fitted(b.fonts, [title], inner, 9.0);
    let mark = mark(&setting);
    let cap = setting.cap(b.fonts);
    let width = setting.width(b.fonts, title).min(inner) + taken(mark);
    let pad = before.min(((area.w - width) / 2.0).max(closest));
    let high = (room * 0.76).min(cap + size * 0.9);
    let field = Rect { h: high, ..area };
    let base = match manner {
        Heading::Band | Heading::Boxed => field.y + (high + cap) / 2.0,
        Heading::Plain | Heading::Flourish | Heading::Side => area.y + cap,
    };
    let line = Stroke::new((1.1 * b.frame.scale).max(0.7), colour::mix(style.paper, style.accent, 0.85));
    let mut ground = style.paper;
    match manner {
        Heading::Plain => {}
        Heading::Band => {
            ground = colour::mix(style.paper, style.accent, 0.2);
            d.fill(Path::rounded(field, b.frame.corner.min(high * 0.3)), ground);
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
    let x = area.x + pad;
    if let Some(mark) = mark {
        mark.draw(b, d, Point::new(x, base), cap, ground);
    }
    setting.draw_kept(d, b.fonts, title, Line { room: inner, x: x + taken(mark), y: base, align: Align::Left });
}
