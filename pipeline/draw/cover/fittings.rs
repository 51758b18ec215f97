//! What is fitted to a board: corner pieces, stitches, an elastic, ribbons. All lie under one light from the upper left, and where the
//! book's spine says: stitches along it, corner pieces and elastic at the edge that opens.

use super::book::Book;
use super::case::Side;
use super::{foil, material, quarter};
use base::colour;
use base::model::drawing::{Grade, Path, Seg, Stroke};
use base::model::finish::{CornerPieces, Elastic, Finish, Stitching};
use base::model::look::Material;
use base::model::product::{Cover, CoverDesign, Style};
use base::model::{Drawing, Point, Rect, Rgb};

/// How far the corners of a frame are cut in, so that it runs round what is fitted there; none where nothing is.
pub fn notch(finish: Finish, unit: f64) -> Option<f64> {
    let caps = match finish.corners {
        CornerPieces::None => 0.0,
        CornerPieces::Metal => 1.6,
        CornerPieces::Cloth => 2.2,
    };
    let across: f64 = if finish.elastic == Elastic::Corners { 3.0 } else { 0.0 };
    let deep = across.max(caps);
    (deep > 0.0).then_some(deep * unit)
}

/// How far from the edge that opens a single elastic and a twin one reach, in the book's measure; beside a frame they run outside of it.
const ELASTIC: f64 = 3.02;
const TWIN: f64 = 3.05;

/// What of the board is left for words, pattern and emblem: where the spine is along the top, what is above an elastic that runs along the
/// foot.
pub fn clear(cover: &Cover, book: &Book) -> Rect {
    let board = book.board();
    let framed = matches!(cover.design, CoverDesign::Framed);
    let taken = match cover.finish.elastic {
        Elastic::None if matches!(cover.design, CoverDesign::Banded) => ELASTIC,
        Elastic::Upright if !framed => ELASTIC,
        Elastic::Twin if !framed => TWIN,
        Elastic::None | Elastic::Upright | Elastic::Twin | Elastic::Corners => return board,
    };
    match book.spine_at {
        Side::Left => board,
        Side::Top => board.inset_each(0.0, 0.0, 0.0, book.unit * (taken + 0.25)),
    }
}

/// Cloth that is drawn round the outer corners, before stitches go through it.
pub fn cloth_corners(d: &mut Drawing, cover: &Cover, colour_: Rgb, book: &Book) {
    if cover.finish.corners != CornerPieces::Cloth {
        return;
    }
    let u = book.unit;
    let leg = u * 3.9;
    let made = quarter::made(cover).unwrap_or(Material::Linen);
    let hair = (u * 0.05).clamp(0.4, 1.0);
    let shade = colour::mix(cover.colour, Rgb::BLACK, 0.26);
    let laid = material::laid(u);
    for corner in book.outer_corners() {
        let p = |x: f64, y: f64| corner.inward(x, y);
        // Its shadow falls to the right and below, so it is seen beside an upper one alone.
        if !corner.is_foot() {
            d.fill(Path::polyline(&[p(leg, 0.0), p(0.0, 0.0), p(0.0, leg + u * 0.16), p(leg, u * 0.16)], true), shade);
        }
        d.fill(Path::polyline(&[p(leg, 0.0), p(0.0, 0.0), p(0.0, leg)], true), colour_);
        // Rows within the triangle, the longest at the edge of the board.
        const ROWS: u8 = 14;
        let high = leg / f64::from(ROWS);
        let rows = (1..ROWS).map(|n| {
            let (off, wide) = (high * f64::from(n), leg - high * f64::from(n));
            let y = corner.at.y;
            Rect { y: if corner.is_foot() { y - off } else { y + off - high }, ..corner.room(wide, high) }
        });
        let whole = corner.room(leg, leg);
        material::cut(d, made, Point::new(whole.x, whole.y), rows, laid);
        let lit = corner.is_foot();
        let edge = if lit { colour::mix(colour_, Rgb::WHITE, 0.2) } else { colour::mix(colour_, Rgb::BLACK, 0.28) };
        d.stroke(Path::line(p(leg, 0.0), p(0.0, leg)), Stroke::new(hair, edge));
    }
}

/// Caps of metal on the outer corners.
pub fn metal_corners(d: &mut Drawing, cover: &Cover, style: &Style, book: &Book) {
    if cover.finish.corners != CornerPieces::Metal {
        return;
    }
    let u = book.unit;
    let metal = foil::metal(cover.finish, style);
    let leg = u * 2.9;
    let hair = (u * 0.05).clamp(0.4, 1.0);
    let shade = colour::mix(cover.colour, Rgb::BLACK, 0.3);
    for corner in book.outer_corners() {
        let p = |x: f64, y: f64| corner.inward(x, y);
        let k = leg * 0.68 * 0.5523;
        let cap = |grown: f64| {
            let (a, b) = (leg + grown, leg * 0.32 + grown);
            Path(vec![
                Seg::Move(p(a, 0.0)),
                Seg::Line(p(0.0, 0.0)),
                Seg::Line(p(0.0, a)),
                Seg::Line(p(b, a)),
                Seg::Cubic(p(b, a - k), p(a - k, b), p(a, b)),
                Seg::Close,
            ])
        };
        // Beside the lower right one nothing of the board is left on which a shadow falls.
        if !(corner.is_foot() && corner.is_right()) {
            d.fill(cap(0.0).moved(|p| Point::new(p.x + u * 0.07, p.y + u * 0.14)), shade);
        }
        d.grade(cap(0.0), foil::sheen(metal, corner.room(leg, leg), u * 3.4));
        d.stroke(cap(0.0), Stroke::new(hair, metal.outline));
        // A line along the edge, as the cap was pressed.
        let by = u * 0.2;
        let (a, b) = (leg - by, leg * 0.32 - by * 0.2);
        let line = Path(vec![Seg::Move(p(b, a)), Seg::Cubic(p(b, a - k), p(a - k, b), p(a, b))]);
        d.stroke(line.moved(|p| Point::new(p.x + hair, p.y + hair)), Stroke::new(hair, metal.shine));
        d.stroke(line, Stroke::new(hair, metal.deep));
        let pin = u * 0.24;
        let at = p(u * 1.02, u * 1.02);
        d.fill(Path::circle(Point::new(at.x + pin * 0.2, at.y + pin * 0.3), pin), metal.deep);
        d.grade(Path::circle(at, pin), foil::dome(metal, Rect::new(at.x - pin, at.y - pin, pin * 2.0, pin * 2.0)));
    }
}

/// Stitches through the board: along the spine, or round it.
pub fn stitches(d: &mut Drawing, cover: &Cover, ground: Rgb, thread: Rgb, book: &Book) {
    let u = book.unit;
    let width = (u * 0.13).clamp(0.7, 2.4);
    let (dash, gap) = (u * 0.58, u * 0.44);
    let (path, long, ground) = match cover.finish.stitching {
        Stitching::None => return,
        Stitching::Spine => {
            // Through the cloth where there is some, near its edge.
            let clothed = book.quarter > 0.0;
            let at = book.bared() + if clothed { -u * 0.45 } else { u * 0.55 };
            let (from, to) = book.line(at, u * 0.8);
            let long = (to.x - from.x) + (to.y - from.y);
            let ground = if clothed { ground } else { cover.colour };
            (Path::line(from, to), long, ground)
        }
        Stitching::Round => {
            let r = book.board().inset(u * 0.55);
            let outer = (book.corner - u * 0.55).max(u * 0.25);
            let inner = u * 0.25;
            let turned = (2.0 * inner + 2.0 * outer) * (2.0 - std::f64::consts::FRAC_PI_2);
            let path = match book.spine_at {
                Side::Left => Path::rounded_each(r, [inner, outer, outer, inner]),
                Side::Top => Path::rounded_each(r, [inner, inner, outer, outer]),
            };
            (path, 2.0 * (r.w + r.h) - turned, cover.colour)
        }
    };
    // A whole number of them, so that none is cut short where they meet.
    let closed = cover.finish.stitching == Stitching::Round;
    let count = (long / (dash + gap)).round().max(1.0);
    let gap = if closed { long / count - dash } else { (long - dash * count) / (count - 1.0).max(1.0) };
    let groove = colour::mix(ground, Rgb::BLACK, 0.32);
    let run = |width: f64, tone: Rgb| Stroke::new(width, tone).dashed(dash, gap);
    d.stroke(path.moved(|p| Point::new(p.x + width * 0.3, p.y + width * 0.5)), run(width * 1.15, groove));
    d.stroke(path.clone(), run(width, thread));
    // The light on it.
    let shine = colour::mix(thread, Rgb::WHITE, 0.45);
    d.stroke(path.moved(|p| Point::new(p.x - width * 0.16, p.y - width * 0.2)), run(width * 0.3, shine));
}

/// An elastic round the book, at the edge that opens.
pub fn elastic(d: &mut Drawing, cover: &Cover, tone: Rgb, book: &Book) {
    let (u, end) = (book.unit, book.end());
    // Beside a frame it runs outside of it.
    let framed = matches!(cover.design, CoverDesign::Framed);
    match cover.finish.elastic {
        Elastic::None => {}
        Elastic::Upright if framed => strap(d, cover, tone, book, end - u * 0.88, u * 0.56),
        Elastic::Upright => strap(d, cover, tone, book, end - u * ELASTIC, u * 0.72),
        Elastic::Twin => {
            let (from, apart, wide) = if framed { (0.96, 0.46, 0.3) } else { (TWIN, 0.85, 0.4) };
            strap(d, cover, tone, book, end - u * from, u * wide);
            strap(d, cover, tone, book, end - u * (from - apart), u * wide);
        }
        Elastic::Corners => {
            for corner in book.outer_corners() {
                let wide = u * 0.62 * std::f64::consts::SQRT_2;
                let near = u * 4.1;
                let p = |along: f64, off: f64| {
                    // From the edge across to the side, so far within.
                    let reach = near + off;
                    corner.inward(reach * (1.0 - along), reach * along)
                };
                let strip = Path::polyline(&[p(0.0, 0.0), p(0.0, wide), p(1.0, wide), p(1.0, 0.0)], true);
                let shade = colour::mix(cover.colour, Rgb::BLACK, 0.3);
                d.fill(strip.moved(|p| Point::new(p.x + u * 0.08, p.y + u * 0.13)), shade);
                let light = |off: f64| p(0.5, off);
                d.grade(strip, woven(tone, light(wide), light(0.0)));
                let hair = (u * 0.045).max(0.3);
                for (share, t) in RIBS {
                    let off = wide * (0.04 + 0.92 * share);
                    d.stroke(Path::line(p(0.0, off), p(1.0, off)), Stroke::new(hair, colour::mix(tone, Rgb::BLACK, t)));
                }
            }
        }
    }
}

/// Woven ribs along an elastic: where each lies, and how dark it is.
const RIBS: [(f64, f64); 4] = [(0.0, 0.34), (1.0 / 3.0, 0.14), (2.0 / 3.0, 0.14), (1.0, 0.34)];

/// The light on a woven band from one side to the other.
fn woven(tone: Rgb, from: Point, to: Point) -> Grade {
    let lit = colour::mix(tone, Rgb::WHITE, 0.16);
    let deep = colour::mix(tone, Rgb::BLACK, 0.2);
    Grade { from, to, tones: vec![(0.0, tone), (0.3, lit), (0.65, tone), (1.0, deep)] }
}

/// A woven band along the spine, from edge to edge of the book; its shadow falls beside it, to the right or below.
fn strap(d: &mut Drawing, cover: &Cover, tone: Rgb, book: &Book, at: f64, w: f64) {
    let shade = colour::mix(cover.colour, Rgb::BLACK, 0.3);
    d.fill(Path::rect(book.along(at + w, w * 0.2)), shade);
    let ((from, _), (to, _)) = (book.line(at, 0.0), book.line(at + w, 0.0));
    d.grade(Path::rect(book.along(at, w)), woven(tone, from, to));
    for (share, t) in RIBS {
        let width = (w * 0.06).max(0.35);
        let at = at + width / 2.0 + share * (w - width);
        book.rule(d, at, Stroke::new(width, colour::mix(tone, Rgb::BLACK, t)));
    }
}

/// Ribbons that hang out between the pages at the foot, with ends cut in, down to the page's edge or nearly.
pub fn ribbons(d: &mut Drawing, cover: &Cover, style: &Style, tone: Rgb, book: &Book, page: Rect) {
    let u = book.unit;
    let top = book.rect.bottom();
    let long = (page.bottom() - top) * 0.97;
    let dark = colour::darker(style.ink, style.paper);
    let shade = colour::mix(style.desk, dark, 0.34);
    let tones = [tone, colour::mix(tone, cover.colour, 0.5), colour::mix(tone, Rgb::BLACK, 0.35)];
    // The first hangs out where the foot is straight, beside a round corner.
    let [.., round] = book.radii();
    let aside = (u * 1.6).max(round);
    for (n, tone) in tones.into_iter().take(cover.finish.ribbons.into()).enumerate() {
        let w = u * 0.46;
        let x = book.board().x + aside + n as f64 * u * 0.8;
        // One a little longer than the next.
        let long = long * [1.0, 0.82, 0.92][n % 3];
        let end = |x: f64, long: f64| {
            let p = |dx: f64, dy: f64| Point::new(x + dx, top + dy);
            Path::polyline(&[p(0.0, 0.0), p(w, 0.0), p(w, long), p(w / 2.0, long - w * 0.42), p(0.0, long)], true)
        };
        d.fill(end(x + u * 0.1, long).moved(|p| Point::new(p.x, (p.y + u * 0.06).min(page.bottom()))), shade);
        let lit = colour::mix(tone, Rgb::WHITE, 0.28);
        let deep = colour::mix(tone, Rgb::BLACK, 0.2);
        let tones = vec![(0.0, tone), (0.34, lit), (0.7, tone), (1.0, deep)];
        d.grade(end(x, long), Grade { from: Point::new(x, top), to: Point::new(x + w, top), tones });
        // The board above throws its shadow on it.
        d.fill(Path::rect(Rect::new(x, top, w, u * 0.07)), colour::mix(tone, Rgb::BLACK, 0.45));
    }
}
