//! A sheet of stickers as one PNG: the finished stickers laid pixel for pixel on a clear ground, with their headings.

use super::contact::lay;
use super::{Effort, png};
use base::model::drawing::Shape;
use base::model::plan::PicturePlan;
use base::model::product::Style;
use base::model::{Drawing, Fault};
use draw::Fonts;
use draw::svg::document;
use draw::svg_loader::SvgLoader;
use raster::decode::check_size;
use raster::{Raster, resize};
use resvg::tiny_skia::{Pixmap, Transform};

/// Draws a sheet. Stickers that have the sheet's resolution keep their pixels; others are resized.
pub fn sheet(plan: &PicturePlan, style: &Style, fonts: &Fonts, effort: Effort) -> Result<Vec<u8>, Fault> {
    let scale = plan.dpi / 72.0;
    let (w, h) = ((plan.size.w * scale).round(), (plan.size.h * scale).round());
    check_size(w as u64, h as u64)?;
    let (w, h) = (w as usize, h as usize);
    let (pictures, rest): (Vec<&Shape>, Vec<&Shape>) =
        plan.drawing.shapes.iter().partition(|s| matches!(s, Shape::Picture { .. }));
    let mut page = Raster::clear(w, h);
    if !rest.is_empty() {
        let words = Drawing { shapes: rest.into_iter().cloned().collect(), cuts: Vec::new() };
        let art = SvgLoader::new(style).read("the headings of a sheet", &document(&words, plan.size, fonts, &[]))?;
        let mut pixmap = Pixmap::new(w as u32, h as u32).ok_or_else(|| Fault::new("no memory for a sheet"))?;
        resvg::render(&art.tree, Transform::from_scale(scale as f32, scale as f32), &mut pixmap.as_mut());
        page = Raster::from_premultiplied(w, h, pixmap.data());
        page.clean();
    }
    for shape in pictures {
        let Shape::Picture { picture, at, .. } = shape else { continue };
        let side = |v: f64| ((v * scale).round() as usize).max(1);
        let (wide, high) = (side(at.w), side(at.h));
        let own = Raster::of(picture);
        // Rounding may ask for a pixel more or less than the file has: its own pixels are better than new ones.
        let near = own.w.abs_diff(wide) <= 1 && own.h.abs_diff(high) <= 1;
        let sticker = if near { own } else { resize::resize(&own, wide, high) };
        let x = ((at.centre().x * scale - sticker.w as f64 / 2.0).round().max(0.0)) as usize;
        let y = ((at.centre().y * scale - sticker.h as f64 / 2.0).round().max(0.0)) as usize;
        lay(&mut page, &sticker, x, y);
    }
    png::write(page, plan.dpi, effort)
}
