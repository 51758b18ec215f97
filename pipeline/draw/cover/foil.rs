//! Stamping: what is pressed into a board, in foil or blind. Foil has the light of a metal; where it would be lost on its board it
//! is lightened or darkened until it is seen.

use super::room;
use crate::fonts::Fonts;
use crate::metal::Tones;
use base::colour;
use base::model::drawing::{Grade, Path, Shape};
use base::model::finish::{Finish, Foil};
use base::model::product::Style;
use base::model::units::between;
use base::model::{Drawing, Point, Rect, Rgb};

/// How much lines and emblems stand out from the board at least, as a ratio of contrast (our own measure, no source).
pub const LINES: f64 = 2.1;

/// The tones of a foil; none of one that is not there.
pub fn tones(foil: Foil) -> Option<Tones> {
    Some(Tones::hex(match foil {
        Foil::None => return None,
        Foil::Gold => [0xd3aa50, 0x9a7126, 0xfdf2c8, 0x6e4e16],
        Foil::Silver => [0xb9bdc2, 0x7f858c, 0xfafbfc, 0x565b62],
        Foil::Copper => [0xc98356, 0x8a4b2a, 0xfbd9c0, 0x65351c],
        Foil::RoseGold => [0xd8a392, 0x9f6a5a, 0xfde6dc, 0x744538],
        Foil::Black => [0x35363b, 0x17181b, 0x82868e, 0x0c0d0f],
        Foil::Pearl => [0xefece6, 0xcfcac1, 0xffffff, 0x9d988e],
    }))
}

/// What metal is fitted to a board: that of its foil, or of the style.
pub fn metal(finish: Finish, style: &Style) -> Tones {
    tones(finish.foil).unwrap_or_else(|| Tones::of(style.manner.metal))
}

/// A foil on a ground: its tones moved away from it until each stands out by `ratio`, all of them the same way, and that which
/// changes the metal less. Light and shadow stay apart.
pub fn on(foil: Tones, ground: Rgb, ratio: f64) -> Tones {
    // A tone keeps its hue as far as it can: on the way to white it passes by the foil's light, on the way to black by its outline.
    let moved = |tone: Rgb, by: Rgb, end: Rgb| {
        let own = colour::deepened(tone, ground, by, ratio);
        colour::deepened(own, ground, end, ratio)
    };
    let risen = |tone: Rgb| moved(tone, foil.shine, Rgb::WHITE);
    let deep = risen(foil.deep);
    let body = colour::lighter(risen(foil.body), colour::mix(deep, foil.shine, 0.2));
    let shine = colour::lighter(foil.shine, colour::mix(body, Rgb::WHITE, 0.6));
    let light = Tones { body, deep, shine, outline: foil.outline };
    let sunk = |tone: Rgb| moved(tone, foil.outline, Rgb::BLACK);
    let shine = sunk(colour::mix(foil.body, foil.shine, 0.25));
    let body = colour::darker(sunk(foil.body), colour::mix(shine, foil.outline, 0.3));
    let deep = colour::darker(colour::darker(foil.deep, foil.outline), colour::mix(body, Rgb::BLACK, 0.25));
    let dark = Tones { body, deep, shine, outline: foil.outline };
    let cost = |t: &Tones| {
        let short = (ratio - colour::contrast(t.deep, ground)).max(ratio - colour::contrast(t.shine, ground));
        short.max(0.0) * 1000.0 + room::distance(foil.body, t.body)
    };
    if cost(&light) <= cost(&dark) { light } else { dark }
}

/// Light on a sheet of foil as large as this: bands that slant across it, about one in `band` points.
pub fn sheen(tones: Tones, r: Rect, band: f64) -> Grade {
    const TURN: [(f64, usize); 5] = [(0.0, 0), (0.22, 1), (0.4, 2), (0.62, 1), (0.84, 0)];
    let of = [tones.deep, tones.body, tones.shine];
    let reach = r.w * SLANT.0 + r.h * SLANT.1;
    let bands = (reach / band).round().clamp(1.0, 12.0);
    let turns = (0..bands as usize).flat_map(|n| TURN.map(|(at, tone)| ((n as f64 + at) / bands, of[tone])));
    let end = (1.0, of[0]);
    Grade { tones: turns.chain([end]).collect(), ..across(r) }
}

/// Light on a line of words as large as this. It begins and ends with the foil's own tone and is lit between, so that the shortest word
/// has its light; a long line has several. Between them the foil is not quite as deep as on a sheet: a word that happens to
/// stand there alone would look as if it were printed in another colour.
pub fn sheen_on_words(tones: Tones, r: Rect) -> Grade {
    // A light on so many heights of capitals: sixteen letters or thereabouts.
    let lights = between((r.w / (r.h * 14.0)).round(), 1.0, 8.0);
    let half = colour::mix(tones.body, tones.deep, 0.5);
    let of = |n: usize| {
        let begin = if n == 0 { tones.body } else { half };
        let turn = [(0.0, begin), (0.28, tones.body), (0.5, tones.shine), (0.72, tones.body)];
        turn.map(|(at, tone)| ((n as f64 + at) / lights, tone))
    };
    let turns = (0..lights as usize).flat_map(of);
    Grade { tones: turns.chain([(1.0, tones.body)]).collect(), ..across(r) }
}

/// A grade without tones yet, across a rectangle along a line that falls more to the right than to the foot.
fn across(r: Rect) -> Grade {
    let (x, y) = SLANT;
    let reach = r.w * x + r.h * y;
    let to = Point::new(r.x + reach * x, r.y + reach * y);
    Grade { from: Point::new(r.x, r.y), to, tones: Vec::new() }
}

/// Which way light changes on a sheet of metal.
const SLANT: (f64, f64) = (0.9, 0.436);

/// Stamps a path into a board of this colour: in foil with the light of `grade`, or blind, as a hollow with a dark side and an
/// edge that catches the light.
pub fn stamp(d: &mut Drawing, path: Path, grade: Option<&Grade>, board: Rgb, hair: f64) {
    let edge = colour::mix(board, Rgb::WHITE, 0.3);
    d.fill(path.moved(|p| Point::new(p.x + hair * 0.7, p.y + hair)), edge);
    match grade {
        Some(grade) => d.grade(path, grade.clone()),
        None => d.fill(path, blind(board)),
    }
}

/// The colour of what is pressed in without foil: darker than its board, and lighter where that is nearly black.
fn blind(board: Rgb) -> Rgb {
    let dark = colour::mix(board, Rgb::BLACK, 0.22);
    if colour::contrast(dark, board) >= 1.25 { dark } else { colour::mix(board, Rgb::WHITE, 0.16) }
}

/// Lays foil over the line of text that was drawn last, with its light where the words are.
pub fn gild(d: &mut Drawing, fonts: &Fonts, tones: Tones) {
    if let Some(Shape::Text(run)) = d.shapes.last() {
        let run = run.clone();
        let cap = fonts.metrics(run.role).cap * run.size;
        let wide = fonts.width(run.role, &run.text, run.size, run.tracking);
        let grade = sheen_on_words(tones, Rect::new(run.at.x, run.at.y - cap, wide, cap));
        d.push(Shape::GradedText { run, grade });
    }
}

/// Light on a rounded head of metal.
pub fn dome(tones: Tones, r: Rect) -> Grade {
    let tones = vec![(0.0, tones.body), (0.3, tones.shine), (0.65, tones.body), (1.0, tones.deep)];
    Grade { from: Point::new(r.x, r.y), to: Point::new(r.right(), r.bottom()), tones }
}
