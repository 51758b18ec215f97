//! The contact picture: all stickers of a set in equal cells with their names below, for the listing and the guide.

use base::colour;
use base::model::drawing::{Drawing, Picture, Role};
use base::model::product::Style;
use base::model::{Fault, Rect, Rgb, Size};
use draw::Fonts;
use draw::svg::document;
use draw::svg_loader::SvgLoader;
use draw::text::{Align, Setting};
use raster::linear::{from_pixel, over, to_pixel};
use raster::{Area, Raster, decode, opaque, resize};
use rayon::prelude::*;
use resvg::tiny_skia::{Pixmap, Transform};

/// A finished sticker that is to be shown.
#[derive(Clone, Copy, Debug)]
pub struct Card<'a> {
    /// Its name.
    pub name: &'a str,
    /// Its pixels.
    pub picture: &'a Picture,
    /// Its true size in points.
    pub placed: Size,
}

/// How a contact picture is laid out.
#[derive(Clone, Copy, Debug)]
pub struct Layout {
    /// Width in pixels.
    pub width: u32,
    /// Cells in a row.
    pub columns: usize,
    /// The smallest type of a name in pixels: what is read on the page that shows the picture.
    pub least: f64,
    /// What the stickers lie on.
    pub ground: Rgb,
    /// Whether rows begin at the right.
    pub right_to_left: bool,
}

/// How much larger than in scale with the largest a small sticker may be shown.
const FAVOUR: f64 = 2.4;

/// Draws the stickers in order, row by row; gives a picture of the asked width and the height that it takes.
///
/// # Errors
/// A picture larger than may be made.
pub fn contact(items: &[Card], layout: Layout, style: &Style, fonts: &Fonts) -> Result<Raster, Fault> {
    let columns = layout.columns.max(1);
    let width = f64::from(layout.width.clamp(100, decode::MOST_SIDE));
    let gutter = width * 0.016;
    let cell = (width - gutter * (columns + 1) as f64) / columns as f64;
    // However small the page is, a name takes no more than a sixth of its cell across.
    let name = (cell * 0.115).clamp(9.0, 38.0).max(layout.least.min(cell / 6.0));
    let ink = colour::label_on(layout.ground, style.ink, style.paper);
    let quiet = Setting::new(Role::Label, name, colour::at_contrast(layout.ground, ink, 6.0));
    let names: Vec<Vec<String>> = items.iter().map(|card| lines(card.name, quiet, fonts, cell)).collect();
    let most = names.iter().map(Vec::len).max().unwrap_or(1);
    let (picture, foot) = (cell * 0.78, name * (1.24 + LEADING * most as f64));
    let rows = items.len().div_ceil(columns).max(1);
    let height = gutter + rows as f64 * (picture + foot + gutter);
    decode::check_size(width as u64, height.ceil() as u64)?;
    let place = |i: usize| {
        let column = if layout.right_to_left { columns - 1 - i % columns } else { i % columns };
        let (column, row) = (column as f64, (i / columns) as f64);
        Rect::new(gutter + column * (cell + gutter), gutter + row * (picture + foot + gutter), cell, picture)
    };

    let mut words = Drawing::new();
    for (i, lines) in names.iter().enumerate() {
        let r = place(i);
        for (n, line) in lines.iter().enumerate() {
            let y = r.bottom() + name * (1.5 + LEADING * n as f64);
            quiet.draw(&mut words, fonts, line, r.centre().x, y, Align::Centre);
        }
    }

    let longest = items.iter().map(|card| card.placed).map(|s| s.w.max(s.h)).fold(1.0, f64::max);
    let small: Vec<Raster> = items
        .par_iter()
        .map(|card| {
            let raster = Raster::of(card.picture);
            let favoured = FAVOUR * picture / longest * (card.placed.w / raster.w.max(1) as f64);
            let (w, h) = (raster.w as f64, raster.h as f64);
            let scale = (cell / w).min(picture / h).min(favoured).min(1.0);
            let side = |v: f64| ((v * scale).round() as usize).max(1);
            resize::resize(&raster, side(w), side(h))
        })
        .collect();

    let mut page = lettered(&words, Size::new(width, height.ceil()), layout.ground, style, fonts)?;
    for (i, sticker) in small.into_iter().enumerate() {
        let r = place(i);
        let x = (r.centre().x - sticker.w as f64 / 2.0).round().max(0.0) as usize;
        let y = (r.centre().y - sticker.h as f64 / 2.0).round().max(0.0) as usize;
        lay(&mut page, &sticker, x, y);
    }
    Ok(page)
}

/// Lines of a name below each other, as parts of its size.
const LEADING: f64 = 1.16;

/// A name in one line, or two where it is too long; what two do not hold is cut.
fn lines(name: &str, set: Setting, fonts: &Fonts, room: f64) -> Vec<String> {
    let text = name.replace(['-', '_'], " ");
    let lines = set.wrap_to(fonts, &text, room, 2);
    lines.iter().map(|line| set.clipped(fonts, line, room)).collect()
}

/// The ground with the names on it.
fn lettered(words: &Drawing, size: Size, ground: Rgb, style: &Style, fonts: &Fonts) -> Result<Raster, Fault> {
    let (w, h) = (size.w as usize, size.h as usize);
    let mut page = Raster { w, h, px: vec![opaque(ground); w * h] };
    let art = SvgLoader::new(style).read("the contact picture", &document(words, size, fonts, &[]))?;
    let mut pixmap = Pixmap::new(w as u32, h as u32).ok_or_else(|| Fault::new("no memory for the contact picture"))?;
    resvg::render(&art.tree, Transform::identity(), &mut pixmap.as_mut());
    lay(&mut page, &Raster::from_premultiplied(w, h, pixmap.data()), 0, 0);
    Ok(page)
}

/// Lays one picture over another, in linear light; what would stick out is cut off.
pub fn lay(page: &mut Raster, top: &Raster, x: usize, y: usize) {
    let area = Area { x: 0, y: 0, w: top.w.min(page.w.saturating_sub(x)), h: top.h.min(page.h.saturating_sub(y)) };
    for row in 0..area.h {
        let below = &mut page.px[(y + row) * page.w + x..][..area.w];
        for (b, t) in below.iter_mut().zip(&top.px[row * top.w..]) {
            match t[3] {
                0 => {}
                255 => *b = *t,
                _ => *b = to_pixel(over(from_pixel(*t), from_pixel(*b))),
            }
        }
    }
}
