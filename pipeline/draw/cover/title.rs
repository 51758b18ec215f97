//! The words near the foot of a cover: printed small, or stamped in foil.

use super::book::Book;
use super::{fittings, foil};
use crate::fonts::Fonts;
use crate::text::{Align, Line, Setting};
use base::colour;
use base::model::drawing::{Path, Role};
use base::model::product::{Cover, CoverDesign, Style};
use base::model::{Drawing, Rect, Rgb};

/// The line near the foot, small and tracked; on a picture it gets a strip of paper below it.
pub fn draw(d: &mut Drawing, cover: &Cover, style: &Style, book: &Book, fonts: &Fonts) {
    if cover.line.is_empty() {
        return;
    }
    let board = book.board();
    // A frame that gives way to what is fitted to the corners leaves less room for words.
    let narrow = matches!(cover.design, CoverDesign::Framed) && fittings::notch(cover.finish, 1.0).is_some();
    let room = board.w * if narrow { 0.5 } else { 0.66 };
    let foil = foil::tones(cover.finish.foil);
    let page = book.page.w.max(book.page.h);
    // Words in foil are larger, since metal is read less well than ink.
    let (role, size, tracking) = match foil {
        None => (Role::Label, (book.unit * 0.62).clamp(6.0, 15.0), 0.1),
        Some(_) => (Role::Heading, (book.unit * 1.05).max(page * LARGE * 1.02), 0.06),
    };
    let set = Setting::new(role, size, style.ink).tracked(tracking);
    let set = set.fitted(fonts, [cover.line.as_str()], room, 5.0);
    let size = set.size;
    let w = set.width(fonts, &cover.line).min(room);
    let clear = fittings::clear(cover, book);
    let y = match cover.design {
        // Letters keep off the frame on a low board as well, and large ones farther.
        CoverDesign::Framed if foil.is_some() => (board.y + board.h * 0.9).min(board.bottom() - book.unit * 3.2),
        CoverDesign::Framed => (board.y + board.h * 0.9).min(board.bottom() - book.unit * 2.4),
        _ => clear.y + clear.h * 0.925,
    };
    let cap = set.cap(fonts);
    let x = board.centre().x;
    let pill = Rect::new(x - w / 2.0 - size * 1.1, y - cap / 2.0 - size * 0.75, w + size * 2.2, cap + size * 1.5);
    let ground = match cover.design {
        CoverDesign::Texture(_) => {
            d.fill(Path::rounded(pill, pill.h / 2.0), style.paper);
            style.paper
        }
        _ => cover.colour,
    };
    let place = Line { room, x, y: y + cap / 2.0, align: Align::Centre };
    match foil {
        None => {
            let colour = legible(ground, style);
            Setting { colour, ..set }.draw_kept(d, fonts, &cover.line, place);
        }
        Some(foil) => {
            let ratio = if size >= page * LARGE { 3.0 } else { 4.5 };
            let tones = foil::on(foil, ground, ratio);
            Setting { colour: tones.body, ..set }.draw_kept(d, fonts, &cover.line, place);
            foil::gild(d, fonts, tones);
        }
    }
}

/// From this size on, as a share of the page's longer side, letters are large and a contrast of 3 : 1 is enough (WCAG 2.2,
/// 1.4.3: 24 pixels, on a screen that shows the page 1,180 pixels long).
pub const LARGE: f64 = 24.0 / 1180.0;

/// Ink or paper on this ground; black or white where neither reaches 4.5 : 1 (WCAG 2.2, 1.4.3).
fn legible(ground: Rgb, style: &Style) -> Rgb {
    let own = colour::label_on(ground, style.ink, style.paper);
    if colour::contrast(own, ground) >= 4.5 { own } else { colour::label_on(ground, Rgb::BLACK, Rgb::WHITE) }
}
