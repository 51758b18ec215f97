//! Covers: the closed book on the desk, with its spine, its design, a blank label and a line near the foot.
//!
//! Quiet before all: designs are tone on tone, the label stands clear of them. There is no clipping in a drawing: patterns are
//! measured so that they end at the board, and the desk is drawn over the book's rounded corners as a sheet with a hole.

mod book;
mod case;
mod emblem;
#[cfg(test)]
mod finish_tests;
mod fittings;
mod florals;
mod foil;
mod label;
mod material;
mod patterns;
mod quarter;
mod room;
mod scattered;
#[cfg(test)]
mod tests;
mod title;

use super::fonts::Fonts;
use super::metal::Tones;
use base::colour;
use base::model::drawing::{Path, Picture, Shape, Stroke};
use base::model::finish::{Elastic, Finish};
use base::model::product::{Cover, CoverDesign, Style};
use base::model::{Drawing, Mm, Rect, Rgb, Size};
use book::Book;
pub use case::{Case, Side};
use std::sync::Arc;

/// Draws a cover on the page that its case fills.
pub fn draw(cover: &Cover, style: &Style, case: Case, fonts: &Fonts) -> Drawing {
    let mut d = Drawing::new();
    let size = case.size;
    let book = book(cover, case);
    let label = label_rect(cover, case);
    d.fill(Path::rect(Rect::page(size)), style.desk);
    d.fill(Path::rect(book.rect), cover.colour);
    match &cover.design {
        // Art fills its page and is laid by the planner; what is drawn here is never seen.
        CoverDesign::Flat | CoverDesign::Banded | CoverDesign::Framed | CoverDesign::Art(_) => {}
        CoverDesign::Patterned(pattern) => {
            let tones = room::Tones::new(cover.colour, cover.second, style.ink);
            let field = field(cover, &book);
            // A motif that would meet the label is left out whole; bands, waves and scales pass below it.
            let clear = cover.label.then(|| label.inset(-Mm(2.0).pt()));
            patterns::draw(&mut d, *pattern, room::Room { field, clear }, book.unit, &tones);
            let hair = (book.unit * 0.06).clamp(0.5, 1.2);
            if pattern.stands_alone() {
                // The board ends at its outer edge as it begins at the spine, with a line.
                book.fore_edge(&mut d, tones.motif);
            }
            if field.h < book.board().h {
                d.line(field.x, field.bottom(), field.right(), field.bottom(), Stroke::new(hair, tones.motif));
            }
        }
        CoverDesign::Texture(picture) => {
            let picture = crop(picture, book.rect.w / book.rect.h);
            d.push(Shape::Picture { picture, at: book.rect, turn: 0.0 });
        }
    }
    let strip = quarter::colour(cover);
    if strip.is_none() {
        book.spine(&mut d, style, cover.colour, style.ink);
    }
    if !matches!(cover.design, CoverDesign::Texture(_)) {
        material::lay(&mut d, cover.material, book.rect, material::laid(book.unit));
    }
    quarter::lay(&mut d, cover, style, &book);
    if cover.finish != Finish::default() {
        book.fore_edge(&mut d, colour::mix(cover.colour, Rgb::BLACK, 0.14));
    }
    let trim = cover.finish.trim.unwrap_or_else(|| visible(cover, style));
    let clothed = strip.unwrap_or(trim);
    fittings::cloth_corners(&mut d, cover, clothed, &book);
    fittings::stitches(&mut d, cover, clothed, trim, &book);
    let foil = foil::tones(cover.finish.foil).map(|foil| foil::on(foil, cover.colour, foil::LINES));
    let leaf = foil.map(|foil| foil::sheen(foil, book.board(), book.unit * 9.0));
    let hair = (book.unit * 0.04).clamp(0.25, 0.8);
    let notch = fittings::notch(cover.finish, book.unit);
    match cover.design {
        CoverDesign::Framed if leaf.is_some() => {
            foil::stamp(&mut d, book.frame_areas(notch), leaf.as_ref(), cover.colour, hair);
        }
        CoverDesign::Framed => book.frame(&mut d, visible(cover, style), notch),
        CoverDesign::Banded if cover.finish.elastic == Elastic::None => book.band(&mut d, visible(cover, style), style),
        _ => {}
    }
    emblem(&mut d, cover, foil, label, &book);
    fittings::metal_corners(&mut d, cover, style, &book);
    fittings::elastic(&mut d, cover, trim, &book);
    book.surroundings(&mut d, size, style);
    fittings::ribbons(&mut d, cover, style, trim, &book, Rect::page(size));
    if cover.label {
        label::draw(&mut d, cover, style, label, &book);
    }
    title::draw(&mut d, cover, style, &book, fonts);
    d
}

/// The closed book of a cover.
fn book(cover: &Cover, case: Case) -> Book {
    let book = Book::new(case);
    if quarter::made(cover).is_some() { book.quartered() } else { book }
}

/// An emblem below the label, or where it would be. On a pattern or a picture it stands on a round of plain board.
fn emblem(d: &mut Drawing, cover: &Cover, foil: Option<Tones>, label: Rect, book: &Book) {
    let (board, clear) = (book.board(), fittings::clear(cover, book));
    let below = match cover.design {
        CoverDesign::Framed => board.y + board.h * 0.87,
        CoverDesign::Patterned(_) => field(cover, book).bottom().min(clear.bottom()),
        _ => clear.y + clear.h * if cover.line.is_empty() { 0.94 } else { 0.9 },
    };
    let alone = matches!(cover.design, CoverDesign::Patterned(_) | CoverDesign::Texture(_));
    let round = if alone { 1.2 } else { 1.0 };
    let (at, reach) = emblem::place(board, cover.label.then_some(label.bottom()), below, book.unit, round);
    let Some(path) = emblem::path(cover.finish.stamp, at, reach) else { return };
    // However small, it has light and shadow of its own.
    let room = Rect::new(at.x - reach, at.y - reach, reach * 2.0, reach * 2.0);
    let leaf = foil.map(|foil| foil::sheen(foil, room, reach * 2.7));
    let leaf = leaf.as_ref();
    let hair = (book.unit * 0.04).clamp(0.25, 0.8);
    if alone {
        let round = reach * round;
        d.fill(Path::circle(at, round), cover.colour);
        let mut ring = Path::circle(at, round);
        ring.0.extend(Path::circle(at, round - hair * 1.6).reversed().0);
        foil::stamp(d, ring, leaf, cover.colour, hair);
    }
    foil::stamp(d, path, leaf, cover.colour, hair);
}

/// Lays the blank label over a cover that is art.
pub fn label_over(d: &mut Drawing, cover: &Cover, style: &Style, case: Case) {
    label::draw(d, cover, style, label_rect(cover, case), &book(cover, case));
}

/// The outline of the closed book on a page of this size, and the radius of its outer corners; [`Side::radii`] has those by the
/// spine as well. What lies around it is desk.
pub fn outline(size: Size, corner: f64) -> (Rect, f64) {
    let book = Book::new(Case { size, spread: false, corner, spine: Side::Left });
    (book.rect, book.corner)
}

/// Where the blank label stands on a cover: its middle lies at the optical centre, about three eighths from the top
/// of the board, and over the middle of the board beside the spine.
pub fn label_rect(cover: &Cover, case: Case) -> Rect {
    let book = book(cover, case);
    let board = book.board();
    let wide = case.size.is_landscape();
    let w = if wide { board.w * if case.spread { 0.38 } else { 0.42 } } else { board.w * 0.6 };
    let h = (w * 0.56).min(board.h * 0.36);
    let y = board.y + board.h * 0.375 - h / 2.0;
    label::room(cover.finish.label, Rect::new(board.centre().x - w / 2.0, y, w, h), board)
}

/// What a pattern covers: the board, without a strip at its foot where the line stands.
fn field(cover: &Cover, book: &Book) -> Rect {
    let board = book.board();
    if cover.line.is_empty() {
        return board;
    }
    let clear = fittings::clear(cover, book);
    Rect { h: (clear.h * 0.925 - book.unit * 1.5).max(clear.h * 0.6), ..board }
}

/// The second colour, moved until it can be seen on the first.
fn visible(cover: &Cover, style: &Style) -> Rgb {
    if room::distance(cover.colour, cover.second) >= 0.08 {
        return cover.second;
    }
    let away = colour::label_on(cover.colour, style.ink, style.paper);
    colour::mix(cover.colour, away, 0.35)
}

/// The middle part of a picture that has this ratio of width to height.
fn crop(picture: &Arc<Picture>, ratio: f64) -> Arc<Picture> {
    let (w, h) = (f64::from(picture.width), f64::from(picture.height));
    let (cw, ch) = if w / h > ratio { (h * ratio, h) } else { (w, w / ratio) };
    let (cw, ch) = ((cw.round() as u32).max(1).min(picture.width), (ch.round() as u32).max(1).min(picture.height));
    if (cw, ch) == (picture.width, picture.height) {
        return picture.clone();
    }
    let (left, top) = ((picture.width - cw) / 2, (picture.height - ch) / 2);
    let whole = picture.rgba.bytes();
    let mut rgba = Vec::with_capacity(cw as usize * ch as usize * 4);
    for row in top..top + ch {
        let from = (row as usize * picture.width as usize + left as usize) * 4;
        rgba.extend_from_slice(&whole[from..from + cw as usize * 4]);
    }
    Arc::new(Picture { name: picture.name.clone(), width: cw, height: ch, rgba: rgba.into() })
}
