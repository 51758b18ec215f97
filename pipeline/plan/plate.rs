//! What stands on a paper that would else be empty: whose the notebook is, a small map of it, and lines for what is worth
//! finding again.

use super::binding;
use super::builder::Builder;
use super::frame::Frame;
use super::heading;
use super::labels::LEAST_TYPE;
use base::colour;
use base::model::drawing::{Path, Shape, Stroke};
use base::model::look::Binding;
use base::model::product::{Coil, Product};
use base::model::structure::Part;
use base::model::units::between;
use base::model::words::Words;
use base::model::{Drawing, Link, Mm, Point, Rect, Rgb, Role};
use draw::text::{Align, Line, Setting};

/// Whether anything of a drawing stands on this part of the page.
pub fn reaches(d: &Drawing, area: Rect) -> bool {
    d.shapes.iter().any(|shape| match shape {
        Shape::Text(run) => run.at.x >= area.x - 1.0,
        Shape::Picture { at, .. } | Shape::Art { at, .. } => at.right() > area.x,
        _ => false,
    })
}

/// How far all that is written and tapped on the first paper reaches to the right and down.
fn reach(b: &Builder, d: &Drawing, links: &[Link]) -> Point {
    let area = b.frame.areas[0];
    let texts = d.shapes.iter().filter_map(|shape| match shape {
        Shape::Text(run) => {
            let right = run.at.x + b.fonts.width(run.role, &run.text, run.size, run.tracking);
            Some(Point::new(right, run.at.y))
        }
        Shape::Picture { at, .. } | Shape::Art { at, .. } => Some(Point::new(at.right(), at.bottom())),
        _ => None,
    });
    let taps = links.iter().map(|link| Point::new(link.rect.right(), link.rect.bottom()));
    let first = Point::new(area.x, area.y);
    texts.chain(taps).fold(first, |last, at| Point::new(last.x.max(at.x), last.y.max(at.y)))
}

/// What stays free below what is written, in points.
fn gap(frame: &Frame) -> f64 {
    (Mm(10.0).pt() * frame.scale).max(12.0)
}

/// The first paper below this height, with a gap.
fn below(frame: &Frame, y: f64) -> Rect {
    let (area, y) = (frame.areas[0], y + gap(frame));
    Rect { y, h: area.bottom() - y, ..area }
}

/// Whether a part of the first paper is worth filling: a quarter of it, and enough for a hand.
fn is_enough(frame: &Frame, r: Rect) -> bool {
    let area = frame.areas[0];
    r.w.min(r.h) >= Mm(28.0).pt() && r.w * r.h >= area.w * area.h * 0.25
}

/// Whether lines for what is worth finding again have room on a single paper below this height.
pub fn is_left_below(frame: &Frame, y: f64) -> bool {
    is_enough(frame, below(frame, y))
}

/// What is left of a single paper below all that is written and tapped there, or beside it where the paper is wide: the larger
/// of the two, where it is a quarter of the paper and enough for a hand.
pub fn left_over(b: &Builder, d: &Drawing, links: &[Link]) -> Option<Rect> {
    let area = b.frame.areas[0];
    let last = reach(b, d, links);
    let x = last.x + gap(b.frame) * 1.6;
    let below = below(b.frame, last.y);
    let head = heading::height(b.frame);
    let beside = Rect { x, w: area.right() - x, y: area.y + head, h: area.h - head };
    let room = |r: &Rect| r.w * r.h;
    let enough = [below, beside].into_iter().filter(|r| is_enough(b.frame, *r));
    enough.max_by(|a, b| room(a).total_cmp(&room(b)))
}

/// The least height of a plate for a name, in mm.
const LEAST_PLATE: f64 = 20.0;

/// The greatest one.
const HIGHEST_PLATE: f64 = 58.0;

/// How high a plate for a name is in its room: no higher than suits it.
pub fn height(area: Rect) -> f64 {
    area.h.min(Mm(HIGHEST_PLATE).pt()).min(area.w * 0.8)
}

/// What is left below all that is written on the first paper, if it holds a plate for the owner's name: as wide as the paper, or as
/// what is written there where something else stands beside it.
pub fn room_for_name(b: &Builder, d: &Drawing, links: &[Link], beside: bool) -> Option<Rect> {
    let last = reach(b, d, links);
    let room = below(b.frame, last.y);
    let room = if beside { Rect { w: last.x - room.x, ..room } } else { room };
    let wide = title(b).width(b.fonts, &b.chrome.words.belongs_to) * 1.2;
    (room.h >= Mm(LEAST_PLATE).pt() && room.w >= wide.max(Mm(40.0).pt())).then_some(room)
}

/// A plate for the owner's name above a small map of the notebook, where there is room for one.
pub fn belongs_to(b: &Builder, d: &mut Drawing, area: Rect) {
    let scale = b.frame.scale;
    let usual = between(area.h * 0.34, Mm(24.0).pt(), Mm(HIGHEST_PLATE).pt()).min(area.h);
    let top = area.y + usual + Mm(9.0).pt() * scale;
    let below = Rect { y: top, h: area.bottom() - top, ..area };
    if below.h > Mm(40.0).pt() * scale {
        name(b, d, Rect { h: usual, ..area });
        map(b, d, below, false);
    } else {
        name(b, d, area);
    }
}

/// How the words on a plate are set.
fn title(b: &Builder) -> Setting {
    Setting::new(Role::HeadingItalic, (13.0 * b.frame.scale).max(8.0), b.product.style.ink)
}

/// A plate for the owner's name.
pub fn name(b: &Builder, d: &mut Drawing, area: Rect) {
    let (style, scale) = (&b.product.style, b.frame.scale);
    let plate = Rect { h: height(area), ..area };
    let frame = Stroke::new(0.7, colour::mix(style.paper, style.accent, 0.7));
    let corner = b.frame.corner.min(6.0);
    d.fill_stroke(Path::rounded(plate, corner), colour::mix(style.paper, style.accent, 0.06), frame);
    d.stroke(Path::rounded(plate.inset(Mm(1.6).pt() * scale), (corner - 2.0).max(0.0)), Stroke { width: 0.4, ..frame });
    let x = plate.centre().x;
    title(b).draw(d, b.fonts, &b.chrome.words.belongs_to, x, plate.y + plate.h * 0.27, Align::Centre);
    let half = plate.w * 0.38;
    for at in [0.56, 0.8] {
        let y = plate.y + plate.h * at;
        d.line(x - half, y, x + half, y, Stroke::new(0.5, style.rule));
    }
}

/// The notebook's page, small, with what each part of its edge leads to; in the middle of its room where it has that alone.
pub fn map(b: &Builder, d: &mut Drawing, area: Rect, alone: bool) {
    let (style, scale, frame) = (&b.product.style, b.frame.scale, b.frame);
    let ways: Vec<(Point, String)> = ways(b);
    let wish = if alone { 9.4 } else { 8.0 };
    let size = (wish * scale).max(LEAST_TYPE);
    let text = Setting::new(Role::Label, size, style.ink);
    let row = size * 1.75;
    let list = row * ways.len() as f64;
    // Beside the picture where that makes it larger, else below it.
    let above = (area.w * 0.9 / frame.page.w).min((area.h - list - size * 3.0) / frame.page.h);
    let beside = (area.w * 0.46 / frame.page.w).min(area.h / frame.page.h);
    let level = beside > above && area.h >= list;
    let shown = if level { beside } else { above };
    if shown <= 0.08 {
        return;
    }
    let (w, h) = (frame.page.w * shown, frame.page.h * shown);
    let longest = ways.iter().map(|(_, says)| text.width(b.fonts, says)).fold(0.0, f64::max) + size * 2.5;
    let gap = size * 2.2;
    let high = if level { h } else { h + list + size * 2.0 };
    let y = area.y + if alone { ((area.h - high) / 2.0).max(0.0) } else { 0.0 };
    let at = match level {
        true => Point::new(area.x + ((area.w - w - gap - longest) / 2.0).max(0.0), y),
        false => Point::new(area.centre().x - w / 2.0, y),
    };
    let small = |r: Rect| Rect::new(at.x + r.x * shown, at.y + r.y * shown, r.w * shown, r.h * shown);
    let dark = colour::darker(style.ink, style.paper);
    let edge = Stroke::new(0.5, colour::mix(style.desk, dark, 0.25));
    d.fill_stroke(Path::rounded(Rect::new(at.x, at.y, w, h), 2.5), style.desk, edge);
    for (tab, section) in frame.tabs.iter().zip(&b.notebook.sections) {
        let place = if b.product.page.hand == base::model::product::Hand::Left { frame.mirrored(*tab) } else { *tab };
        d.fill(Path::rounded(small(place), 0.8), section.colour);
    }
    for (tab, month) in frame.months.iter().zip(b.chrome.months) {
        d.fill(Path::rounded(small(*tab), 0.8), month.colour);
    }
    for paper in &frame.papers {
        d.fill_stroke(Path::rounded(small(*paper), 1.2), style.paper, edge);
    }
    if let ([left, right], Binding::Thread | Binding::None) = (frame.papers.as_slice(), style.manner.binding)
        && !frame.rings.is_empty()
    {
        fold(d, [small(*left), small(*right)], style.paper, edge);
    }
    for ring in &frame.rings {
        held(d, small(*ring), style.manner.binding, colour::mix(style.ink, style.desk, 0.4));
    }
    let mark = Setting::new(Role::LabelBold, (size * 0.86).max(LEAST_TYPE), style.paper);
    let radius = (size * 0.78).max(mark.size * 0.8);
    let badge = |d: &mut Drawing, n: usize, c: Point| {
        d.fill(Path::circle(c, radius), style.ink);
        let y = c.y + mark.cap(b.fonts) / 2.0;
        mark.draw(d, b.fonts, &n.to_string(), c.x, y, Align::Centre);
    };
    let (from, first) = match level {
        true => (at.x + w + gap, at.y + (h - list) / 2.0 + row * 0.5 + text.cap(b.fonts) / 2.0),
        false => (at.x, at.y + h + size * 2.6),
    };
    for (i, (point, says)) in ways.iter().enumerate() {
        badge(d, i + 1, Point::new(at.x + point.x * shown, at.y + point.y * shown));
        let y = first + row * i as f64;
        badge(d, i + 1, Point::new(from + radius, y - text.cap(b.fonts) / 2.0));
        let x = from + radius * 3.2;
        text.draw_kept(d, b.fonts, says, Line { room: area.right() - x, x, y, align: Align::Left });
    }
}

/// Two papers that go over into each other, as they do where no coil parts them.
fn fold(d: &mut Drawing, [left, right]: [Rect; 2], paper: Rgb, edge: Stroke) {
    let corner = 1.2;
    let gutter = Rect::new(left.right() - corner, left.y, right.x - left.right() + 2.0 * corner, left.h);
    d.fill(Path::rect(gutter), paper);
    for y in [gutter.y, gutter.bottom()] {
        d.line(gutter.x, y, gutter.right(), y, edge);
    }
    let middle = gutter.centre().x;
    d.line(middle, gutter.y, middle, gutter.bottom(), edge);
}

/// What holds the papers at one place, of the kind that the pages have.
fn held(d: &mut Drawing, r: Rect, binding: Binding, tone: Rgb) {
    let (long, thick, c) = (r.w.max(r.h), r.w.min(r.h), r.centre());
    let across = r.w > r.h;
    // So far along the ring, and so far to its side.
    let at = |t: f64, s: f64| if across { Point::new(c.x + t, c.y + s) } else { Point::new(c.x + s, c.y + t) };
    let line = |d: &mut Drawing, [from, to]: [Point; 2], width: f64| {
        d.stroke(Path::line(from, to), Stroke::new(width, tone).round());
    };
    match binding {
        Binding::Rings => d.fill(Path::rounded(r, thick / 2.0), tone),
        Binding::Wire => {
            for s in [-0.42 * thick, 0.42 * thick] {
                line(d, [at(-long / 2.0, s), at(long / 2.0, s)], thick * 0.3);
            }
        }
        Binding::Spiral => line(d, [at(-long / 2.0, thick * 0.6), at(long / 2.0, -thick * 0.6)], thick * 0.4),
        Binding::Discs => d.fill(Path::circle(c, long * 0.36), tone),
        Binding::Thread => {
            let t = if across { 0.0 } else { long * 0.18 };
            line(d, [at(t, -long * 0.4), at(t, long * 0.4)], (thick * 0.35).max(0.5));
        }
        Binding::None => {}
    }
}

/// What the map calls that which holds the papers: by the designer's own word, else as it is drawn.
fn called(product: &Product) -> String {
    let own = &product.words.coil;
    let usual = Words::of(&product.words.table).coil;
    if *own == usual { binding::named(product).map.to_owned() } else { own.clone() }
}

/// Points of the page that lead somewhere, and where to.
fn ways(b: &Builder) -> Vec<(Point, String)> {
    let (frame, words, parts) = (b.frame, b.chrome.words, &b.notebook.parts);
    let said = |what: &str, to: &str| format!("{what}{}{}", words.colon, words.within(to));
    let mut ways = Vec::new();
    if let Some(tab) = frame.tabs.get(frame.tabs.len() / 2) {
        let place = if b.product.page.hand == base::model::product::Hand::Left { frame.mirrored(*tab) } else { *tab };
        ways.push((place.centre(), said(&words.tabs, &words.sections)));
    }
    if let Some(ring) = frame.rings.get(frame.rings.len() / 2).filter(|_| b.product.page.coil != Coil::None) {
        ways.push((ring.centre(), said(&called(b.product), b.chrome.home().1)));
    }
    if parts.foot {
        let foot = frame.feet[0];
        let to = if parts.has(Part::Cover) { words.cover.as_str() } else { b.chrome.home().1 };
        ways.push((Point::new(foot.x + foot.w * 0.12, foot.centre().y), said(&words.title, to)));
    }
    if let Some((_, to)) = b.chrome.templates().filter(|_| parts.marks) {
        let foot = frame.feet[frame.feet.len() - 1];
        let at = Point::new(foot.right() - foot.h * 0.4, foot.centre().y);
        ways.push((at, said(&words.squares, to)));
    }
    ways
}

/// Lines for pages that are worth finding again, each with room for what is there and for where it is.
pub fn found_again(b: &Builder, d: &mut Drawing, area: Rect) {
    let scale = b.frame.scale;
    let room = area.inset_each(0.0, heading::height(b.frame), 0.0, 0.0);
    let label = b.pen.label((8.0 * scale).max(LEAST_TYPE), 0.02);
    let base = area.y + heading::height(b.frame) * 0.72;
    let narrow = (room.w * 0.2).min(Mm(24.0).pt());
    label.draw(d, b.fonts, &b.chrome.words.found_again, room.x, base, Align::Left);
    label.draw(d, b.fonts, &b.chrome.words.where_it_is, room.right(), base, Align::Right);
    let strong = Stroke::new(b.pen.weight * 1.9, b.pen.rule);
    d.line(room.x, room.y, room.right(), room.y, strong);
    let pitch = Mm(9.0).pt();
    for i in 1..=(room.h / pitch + 1e-6) as usize {
        let y = room.y + i as f64 * pitch;
        let gap = Mm(4.0).pt() * scale;
        d.line(room.x, y, room.right() - narrow - gap, y, b.pen.rule());
        d.line(room.right() - narrow, y, room.right(), y, b.pen.rule());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [Binding; 6] =
        [Binding::Rings, Binding::Wire, Binding::Spiral, Binding::Discs, Binding::Thread, Binding::None];

    /// By its name in the language, or as the designer calls it.
    #[test]
    fn the_map_names_what_holds_the_papers() {
        for (tag, rings, thread) in
            [("en-GB", "Rings", "Stitches"), ("de", "Ringe", "Naht"), ("ja", "リング", "とじ糸")]
        {
            let mut product = sample::product();
            product.language = tag.to_owned();
            product.words = Words::of(tag);
            assert_eq!(called(&product), rings);
            product.style.manner.binding = Binding::Thread;
            assert_eq!(called(&product), thread);
            product.words.coil = "Ribbon".to_owned();
            assert_eq!(called(&product), "Ribbon");
        }
    }

    /// What is drawn tells them apart, across a gutter and along the top; where nothing holds the papers, nothing is drawn.
    #[test]
    fn the_map_draws_what_holds_the_papers() {
        for ring in [Rect::new(20.0, 20.0, 8.0, 2.0), Rect::new(20.0, 20.0, 2.0, 8.0)] {
            let drawn = ALL.map(|binding| {
                let mut d = Drawing::new();
                held(&mut d, ring, binding, Rgb::BLACK);
                d
            });
            for (i, one) in drawn.iter().enumerate() {
                assert_eq!(one.shapes.is_empty(), ALL[i] == Binding::None);
                assert!(drawn[..i].iter().all(|other| other != one), "{:?}", ALL[i]);
            }
        }
    }
}
