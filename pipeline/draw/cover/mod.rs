//! Covers: the closed book on the desk, with its spine, its design, a blank label and a line near the foot.
//!
//! Quiet before all: designs are tone on tone, the label stands clear of them. There is no clipping in a drawing: patterns are
//! measured so that they end at the board, and the desk is drawn over the book's rounded corners as a sheet with a hole.

mod book;
mod lots;
mod material;
mod patterns;
mod room;
mod scattered;
#[cfg(test)]
mod tests;

use super::fonts::Fonts;
use super::text::{Align, Line, Setting};
use base::colour;
use base::model::drawing::{Path, Picture, Role, Shape, Stroke};
use base::model::product::{Cover, CoverDesign, Style};
use base::model::{Drawing, Mm, Rect, Rgb, Size};
use book::Book;
use std::sync::Arc;

/// Draws a cover that fills a page of this size; `corner` is the radius of the book's outer corners in points.
/// `spread` tells that the page stands for two papers: the closed book fills it all the same, its label stays narrow.
pub fn draw(cover: &Cover, style: &Style, size: Size, spread: bool, corner: f64, fonts: &Fonts) -> Drawing {
    let mut d = Drawing::new();
    let book = Book::new(size, corner);
    let label = label_rect(size, spread, corner);
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
                let x = book.rect.right() - hair / 2.0;
                d.line(x, book.rect.y, x, book.rect.bottom(), Stroke::new(hair, tones.motif));
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
    book.spine(&mut d, style, cover);
    if !matches!(cover.design, CoverDesign::Texture(_)) {
        material::lay(&mut d, cover.material, book.rect);
    }
    match cover.design {
        CoverDesign::Framed => book.frame(&mut d, visible(cover, style)),
        CoverDesign::Banded => book.band(&mut d, visible(cover, style), style),
        _ => {}
    }
    book.surroundings(&mut d, size, style);
    if cover.label {
        self::label(&mut d, cover, style, label, &book);
    }
    line(&mut d, cover, style, &book, fonts);
    d
}

/// Lays the blank label over a cover that is art.
pub fn label_over(d: &mut Drawing, cover: &Cover, style: &Style, size: Size, spread: bool) {
    let corner = style.corner.pt();
    label(d, cover, style, label_rect(size, spread, corner), &Book::new(size, corner));
}

/// The outline of the closed book on a page of this size, and the radius of its outer corners; those by the spine have
/// less than half of it. What lies around it is desk.
pub fn outline(size: Size, corner: f64) -> (Rect, f64) {
    let book = Book::new(size, corner);
    (book.rect, book.corner)
}

/// Where the blank label stands on a cover: its middle lies at the optical centre, about three eighths from the top
/// of the book, and over the middle of the board beside the spine.
pub fn label_rect(size: Size, spread: bool, corner: f64) -> Rect {
    let book = Book::new(size, corner);
    let board = book.board();
    let wide = size.is_landscape();
    let w = if wide { board.w * if spread { 0.38 } else { 0.42 } } else { board.w * 0.6 };
    let h = (w * 0.56).min(board.h * 0.36);
    let y = board.y + board.h * 0.375 - h / 2.0;
    Rect::new(board.centre().x - w / 2.0, y, w, h)
}

/// What a pattern covers: the board, without a strip at its foot where the line stands.
fn field(cover: &Cover, book: &Book) -> Rect {
    let board = book.board();
    if cover.line.is_empty() {
        board
    } else {
        Rect { h: (board.h * 0.925 - book.unit * 1.5).max(board.h * 0.6), ..board }
    }
}

/// The second colour, moved until it can be seen on the first.
fn visible(cover: &Cover, style: &Style) -> Rgb {
    if room::distance(cover.colour, cover.second) >= 0.08 {
        return cover.second;
    }
    let away = colour::label_on(cover.colour, style.ink, style.paper);
    colour::mix(cover.colour, away, 0.35)
}

/// A label of paper with a fine inner line and two lines to write on.
fn label(d: &mut Drawing, cover: &Cover, style: &Style, r: Rect, book: &Book) {
    let radius = (r.h * 0.07).min(book.corner);
    let dark = colour::darker(style.ink, style.paper);
    let paper = label_paper(cover, style);
    let edge = colour::mix(paper, dark, 0.3);
    // A shadow is darker than what it falls on, whatever the ink.
    let deep = colour::mix(cover.colour, Rgb::BLACK, 0.3);
    // A hair of shadow at the right and below: paper that lies on the board.
    let lift = book.unit * 0.09;
    d.fill(Path::rounded(Rect { x: r.x + lift * 0.7, y: r.y + lift * 1.3, ..r }, radius), deep);
    d.fill(Path::rounded(r, radius), paper);
    let inner = r.inset(r.h * 0.055);
    let hair = (book.unit * 0.035).clamp(0.4, 0.8);
    d.stroke(Path::rounded(inner, (radius - r.h * 0.03).max(0.0)), Stroke::new(hair, edge));
    let pad = r.w * 0.13;
    for at in [0.53, 0.76] {
        let y = r.y + r.h * at;
        let rule = if paper == style.paper { style.rule } else { colour::at_contrast(paper, dark, 1.9) };
        d.line(r.x + pad, y, r.right() - pad, y, Stroke::new(hair, rule));
    }
}

/// What the label is made of: the paper, or where it would look like a hole in the board, the lighter one of paper and
/// ink, lightened until it stands out from a board that is dark.
fn label_paper(cover: &Cover, style: &Style) -> Rgb {
    let lighter = colour::lighter(style.paper, style.ink);
    let board = colour::luminance(cover.colour);
    if colour::luminance(style.paper) > board && colour::contrast(style.paper, cover.colour) >= LABEL_ABOVE {
        return style.paper;
    }
    if colour::luminance(lighter) > board && colour::contrast(lighter, cover.colour) >= LABEL_ABOVE {
        return lighter;
    }
    // On a board nearly as light as paper nothing lighter is left but white, and its edge shows where it lies.
    if colour::contrast(Rgb::WHITE, cover.colour) >= LABEL_ABOVE { Rgb::WHITE } else { lighter }
}

/// How much a label stands out from a dark board at least, as a ratio of contrast (common practice, no source).
const LABEL_ABOVE: f64 = 1.6;

/// The line near the foot, small and tracked; on a picture it gets a strip of paper below it.
fn line(d: &mut Drawing, cover: &Cover, style: &Style, book: &Book, fonts: &Fonts) {
    if cover.line.is_empty() {
        return;
    }
    let board = book.board();
    let room = board.w * 0.66;
    let size = (book.unit * 0.62).clamp(6.0, 15.0);
    let set = Setting::new(Role::Label, size, style.ink).tracked(0.1);
    let set = set.fitted(fonts, [cover.line.as_str()], room, 5.0);
    let w = set.width(fonts, &cover.line).min(room);
    let y = board.y + board.h * if matches!(cover.design, CoverDesign::Framed) { 0.9 } else { 0.925 };
    let cap = set.cap(fonts);
    let x = board.centre().x;
    let pill = Rect::new(x - w / 2.0 - size * 1.1, y - cap / 2.0 - size * 0.75, w + size * 2.2, cap + size * 1.5);
    let colour = match cover.design {
        CoverDesign::Texture(_) => {
            d.fill(Path::rounded(pill, pill.h / 2.0), style.paper);
            legible(style.paper, style)
        }
        _ => legible(cover.colour, style),
    };
    Setting { colour, ..set }.draw_kept(
        d,
        fonts,
        &cover.line,
        Line { room, x, y: y + cap / 2.0, align: Align::Centre },
    );
}

/// Ink or paper on this ground; black or white where neither reaches 4.5 : 1 (WCAG 2.2, 1.4.3).
fn legible(ground: Rgb, style: &Style) -> Rgb {
    let own = colour::label_on(ground, style.ink, style.paper);
    if colour::contrast(own, ground) >= 4.5 { own } else { colour::label_on(ground, Rgb::BLACK, Rgb::WHITE) }
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
