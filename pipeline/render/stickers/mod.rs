//! Stickers: a drawing, an SVG file or a picture becomes a PNG that is cut clean.
//!
//! Whatever the art is, it takes the same way: pixels at the asked size, trimmed to what can be seen, padded,
//! written. Nothing is enlarged in silence, and nothing outside the art is read.

pub mod contact;
pub mod cut;
pub mod png;
pub mod svg;

use crate::draw::Fonts;
use crate::draw::motifs::{self, MotifDesk};
use crate::draw::raster::decode::{MOST_PIXELS, MOST_SIDE, check_size};
use crate::draw::raster::{Area, Raster, border, fringe, resize};
use crate::draw::svg::document;
use crate::model::product::{self, Sticker, StickerSource, Style};
use crate::model::units::trim_number;
use crate::model::{Fault, Mm, Size};
use rayon::prelude::*;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg;

pub use png::Effort;

/// Clear pixels kept round a drawing while it is rendered, so that nothing is lost at the edges.
const MARGIN: f64 = 2.0;
/// Longest side of the first, rough rendering that finds out where the art lies.
const PROBE: f64 = 512.0;

/// A finished sticker.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// The file.
    pub png: Vec<u8>,
    /// Width in pixels, padding included.
    pub width: u32,
    /// Height in pixels, padding included.
    pub height: u32,
    /// Its resolution: the asked one, or less where the picture has no more.
    pub dpi: f64,
    /// What she should know, such as that a picture was too small.
    pub notes: Vec<String>,
}

impl Made {
    /// Its size on the page, padding included, in points.
    pub fn placed(&self) -> Size {
        Size::new(f64::from(self.width) * 72.0 / self.dpi, f64::from(self.height) * 72.0 / self.dpi)
    }
}

/// What the stickers of a product are made with.
pub struct Workshop<'a> {
    style: &'a Style,
    fonts: &'a Fonts,
    press: svg::Press,
    weekdays: [&'a str; 7],
    effort: Effort,
}

/// Pixels of the art alone, tight, with the resolution that they have.
struct Cut {
    art: Raster,
    dpi: f64,
    notes: Vec<String>,
}

impl<'a> Workshop<'a> {
    /// A workshop for products in this style.
    pub fn new(style: &'a Style, fonts: &'a Fonts) -> Workshop<'a> {
        let press = svg::Press::new(style);
        Workshop { style, fonts, press, weekdays: motifs::ENGLISH_DAYS, effort: Effort::default() }
    }

    /// The same with other letters for the days, in the order in which a week is drawn.
    pub fn weekdays(self, weekdays: [&'a str; 7]) -> Workshop<'a> {
        Workshop { weekdays, ..self }
    }

    /// The same with more or less effort for small files.
    pub fn effort(self, effort: Effort) -> Workshop<'a> {
        Workshop { effort, ..self }
    }

    /// Makes every sticker, in parallel; the results are in the order of the stickers.
    pub fn all(&self, stickers: &[Sticker]) -> Vec<Result<Made, Fault>> {
        stickers.par_iter().map(|s| self.sticker(s)).collect()
    }

    /// Makes one sticker.
    pub fn sticker(&self, s: &Sticker) -> Result<Made, Fault> {
        let cut = self.cut(s).map_err(|f| about(s, f))?;
        let Cut { mut art, dpi, mut notes } = cut;
        if let Some(b) = &s.border {
            art = banded(art, b, dpi).map_err(|f| about(s, f))?;
        }
        let mut padding = (s.padding.0.max(0.0) / 25.4 * dpi).round() as usize;
        if padding == 0 && corners(&art) {
            padding = 1;
            notes.push(
                "one clear pixel was added on every side: without padding a corner would not be clear".to_owned(),
            );
        }
        let whole = art.padded(padding);
        let png = png::write(&whole, dpi, self.effort).map_err(|f| about(s, f))?;
        Ok(Made { png, width: whole.w as u32, height: whole.h as u32, dpi, notes })
    }

    /// The art of a sticker at its size, trimmed.
    fn cut(&self, s: &Sticker) -> Result<Cut, Fault> {
        let target = target(s.longest, s.dpi)?;
        match &s.source {
            StickerSource::BuiltIn(name, label) => {
                let motif = motifs::find(name)
                    .ok_or_else(|| Fault::new(format!("there is no built-in sticker “{name}”")).help(nearest(name)))?;
                let (drawing, size, cut) = motif.draw_noting(&MotifDesk {
                    colour: s.colour,
                    style: self.style,
                    fonts: self.fonts,
                    label: label.as_deref(),
                    weekdays: self.weekdays,
                });
                let art = self.press.read(name, &document(&drawing, size, self.fonts, &[]))?;
                let mut notes = art.notes;
                if cut {
                    notes.push(format!(
                        "the label is too long for “{name}” and was cut: {}",
                        label.as_deref().unwrap_or("")
                    ));
                }
                Ok(Cut { art: drawn(&art.tree, target)?, dpi: s.dpi, notes })
            }
            StickerSource::Svg(path, text) => {
                let art = self.press.read(path, text)?;
                let raster = drawn(&art.tree, target).map_err(|f| f.in_file(path))?;
                Ok(Cut { art: raster, dpi: s.dpi, notes: art.notes })
            }
            StickerSource::Png(picture) => {
                check_size(picture.width.into(), picture.height.into()).map_err(|f| f.in_file(&picture.name))?;
                pictured(Raster::of(picture), s, target).map_err(|f| f.in_file(&picture.name))
            }
        }
    }
}

/// Longest side of the art in pixels.
fn target(longest: Mm, dpi: f64) -> Result<usize, Fault> {
    let px = (longest.0 / 25.4 * dpi).round();
    if !px.is_finite() || px < 1.0 {
        return Err(Fault::new(format!(
            "a longest side of {longest} at {} dpi is less than a pixel",
            trim_number(dpi, 1)
        ))
        .help("a sticker is usually 10 to 100 mm long at 300 dpi"));
    }
    if px > f64::from(MOST_SIDE) {
        return Err(Fault::new(format!(
            "a longest side of {longest} at {} dpi is {px} px; at most {MOST_SIDE} px are made",
            trim_number(dpi, 1)
        ))
        .help("a sticker is usually 10 to 100 mm long at 300 dpi"));
    }
    Ok(px as usize)
}

/// Renders a drawing so that what can be seen of it is `target` pixels long, and trims it to that.
fn drawn(tree: &usvg::Tree, target: usize) -> Result<Raster, Fault> {
    let blank = || {
        Fault::new("nothing can be seen in the drawing")
            .help("its shapes may be white, hidden, or outside of its canvas")
    };
    let page = Box2 { x: 0.0, y: 0.0, w: f64::from(tree.size().width()), h: f64::from(tree.size().height()) };
    let root = tree.root();
    let layer = root.abs_layer_bounding_box();
    let stroked = root.abs_stroke_bounding_box();
    // Filters reach beyond the shapes; without them the two boxes agree and the art's place is known at once.
    let plain = (layer.width() - stroked.width()).abs() < 1e-3 && (layer.height() - stroked.height()).abs() < 1e-3;
    let mut place = Box2::of(if plain { stroked } else { layer.to_rect() }).within(page).ok_or_else(blank)?;
    if !plain {
        let (rough, scale) = rendered(tree, place, page, PROBE.min(target as f64 * 2.0))?;
        place = located(&rough, place, scale).ok_or_else(blank)?.grown(1.0 / scale).within(page).ok_or_else(blank)?;
    }
    for last in [false, false, true] {
        let (mut raster, scale) = rendered(tree, place, page, target as f64)?;
        raster.clean();
        let ink = raster.ink().ok_or_else(blank)?;
        if last || ink.w.max(ink.h) == target {
            return Ok(raster.crop(ink));
        }
        // Clipped or masked art is smaller than its shapes: look again at what is there.
        place = located(&raster, place, scale).ok_or_else(blank)?;
    }
    Err(blank())
}

/// Renders a whole canvas, `wide` pixels across.
fn drawn_whole(tree: &usvg::Tree, wide: f64) -> Result<Raster, Fault> {
    let (w, h) = (f64::from(tree.size().width()), f64::from(tree.size().height()));
    let page = Box2 { x: 0.0, y: 0.0, w, h };
    let (raster, _) = rendered(tree, page, page, wide * w.max(h) / w)?;
    let m = MARGIN as usize;
    Ok(raster.crop(Area { x: m, y: m, w: raster.w - 2 * m, h: raster.h - 2 * m }))
}

/// A rectangle of a drawing, in its own units.
#[derive(Clone, Copy, Debug)]
struct Box2 {
    x: f64,
    y: f64,
    w: f64,
    h: f64,
}

impl Box2 {
    fn of(r: usvg::tiny_skia_path::Rect) -> Box2 {
        Box2 { x: r.x().into(), y: r.y().into(), w: r.width().into(), h: r.height().into() }
    }

    fn grown(self, by: f64) -> Box2 {
        Box2 { x: self.x - by, y: self.y - by, w: self.w + 2.0 * by, h: self.h + 2.0 * by }
    }

    fn within(self, page: Box2) -> Option<Box2> {
        let (x0, y0) = (self.x.max(page.x), self.y.max(page.y));
        let (x1, y1) = ((self.x + self.w).min(page.x + page.w), (self.y + self.h).min(page.y + page.h));
        (x1 > x0 && y1 > y0).then_some(Box2 { x: x0, y: y0, w: x1 - x0, h: y1 - y0 })
    }
}

/// Renders the part of a drawing at `place`, `longest` pixels long, with a clear margin. Gives the scale, too.
fn rendered(tree: &usvg::Tree, place: Box2, page: Box2, longest: f64) -> Result<(Raster, f64), Fault> {
    let scale = longest / place.w.max(place.h);
    let side = |v: f64| ((v * scale - 1e-3).ceil().max(1.0) + 2.0 * MARGIN) as u32;
    let (w, h) = (side(place.w), side(place.h));
    if u64::from(w) * u64::from(h) > MOST_PIXELS {
        return Err(Fault::new(format!(
            "the sticker would be {w} × {h} px; {} million in all are the most",
            MOST_PIXELS / 1_000_000
        ))
        .help("make it smaller, or its dpi lower"));
    }
    let mut pixmap = Pixmap::new(w, h).ok_or_else(|| Fault::new(format!("no memory for {w} × {h} px")))?;
    let (dx, dy) = (MARGIN - place.x * scale, MARGIN - place.y * scale);
    let way = Transform::from_row(scale as f32, 0.0, 0.0, scale as f32, dx as f32, dy as f32);
    resvg::render(tree, way, &mut pixmap.as_mut());
    let mut raster = Raster::from_premultiplied(w as usize, h as usize, pixmap.data());
    // What lies outside of the canvas is not part of the picture (SVG 2, overflow of the outermost svg element).
    let (x0, y0) = ((dx - 1e-3).ceil().max(0.0) as usize, (dy - 1e-3).ceil().max(0.0) as usize);
    let (x1, y1) = ((page.w * scale + dx + 1e-3).floor(), (page.h * scale + dy + 1e-3).floor());
    let (x1, y1) = (x1.max(x0 as f64 + 1.0) as usize, y1.max(y0 as f64 + 1.0) as usize);
    for (y, row) in raster.px.chunks_exact_mut(w as usize).enumerate() {
        if y < y0 || y >= y1 {
            row.fill([0; 4]);
        } else {
            row[..x0.min(w as usize)].fill([0; 4]);
            row[x1.min(w as usize)..].fill([0; 4]);
        }
    }
    Ok((raster, scale))
}

/// Where the ink of a rendering lies in the drawing.
fn located(raster: &Raster, place: Box2, scale: f64) -> Option<Box2> {
    let ink = raster.ink()?;
    Some(Box2 {
        x: place.x + (ink.x as f64 - MARGIN) / scale,
        y: place.y + (ink.y as f64 - MARGIN) / scale,
        w: ink.w as f64 / scale,
        h: ink.h as f64 / scale,
    })
}

/// Trims a picture and brings it to its size; one that is too small keeps its pixels and gets a lower resolution.
fn pictured(mut raster: Raster, s: &Sticker, target: usize) -> Result<Cut, Fault> {
    let mut notes = Vec::new();
    let opaque = raster.px.iter().all(|p| p[3] == 255);
    raster.clean();
    let ink = raster.ink().ok_or_else(|| {
        Fault::new("the picture is clear all over: there is nothing to cut out")
            .help("export it with its artwork visible")
    })?;
    if opaque {
        notes.push("the picture has no transparent ground, so its sticker is a full rectangle".to_owned());
    }
    let mut art = raster.crop(ink);
    if let Some(f) = fringe::remove(&mut art) {
        notes.push(format!(
            "{} edge pixels carried the colour of an old background, about {}; it was taken off",
            f.pixels, f.matte
        ));
    }
    let longest = ink.w.max(ink.h);
    if longest < target {
        let dpi = longest as f64 / (s.longest.0 / 25.4);
        notes.push(format!(
            "the art is {longest} px long; {} at {} dpi would need {target}, so it stays as it is, at {} dpi",
            s.longest,
            trim_number(s.dpi, 1),
            trim_number(dpi, 1)
        ));
        return Ok(Cut { art, dpi, notes });
    }
    let scale = target as f64 / longest as f64;
    let side = |v: usize| if v == longest { target } else { ((v as f64 * scale).round() as usize).max(1) };
    let mut art = resize::resize(&art, side(ink.w), side(ink.h));
    art.clean();
    let ink = art.ink().unwrap_or(art.whole());
    Ok(Cut { art: art.crop(ink), dpi: s.dpi, notes })
}

/// How far the shadow of a border falls, in mm.
const DROP: f64 = 0.5;
/// Standard deviation of its blur, in mm.
const BLUR: f64 = 0.6;
/// How dark it is.
const STRENGTH: f64 = 0.3;

/// Puts a border round the art and trims the whole anew.
fn banded(art: Raster, b: &product::Border, dpi: f64) -> Result<Raster, Fault> {
    let px = |mm: f64| mm / 25.4 * dpi;
    if !(0.05..=20.0).contains(&b.width.0) {
        return Err(Fault::new(format!("a die-cut border of {} cannot be cut", b.width))
            .help("1.5 to 2.5 mm look right; at least 0.05 and at most 20 mm are possible"));
    }
    let shadow = b.shadow.then(|| border::Shadow { drop: px(DROP), blur: px(BLUR), strength: STRENGTH });
    let all = border::Border { width: px(b.width.0), colour: b.colour, fill_holes: b.fill_holes, shadow };
    let mut whole = border::bordered(&art, &all);
    whole.clean();
    let ink = whole.ink().unwrap_or(whole.whole());
    Ok(whole.crop(ink))
}

/// Whether any corner pixel can be seen.
fn corners(r: &Raster) -> bool {
    [(0, 0), (r.w - 1, 0), (0, r.h - 1), (r.w - 1, r.h - 1)].iter().any(|(x, y)| r.at(*x, *y)[3] > 0)
}

/// The fault with the sticker's name in front, where it is about no file.
fn about(s: &Sticker, fault: Fault) -> Fault {
    if fault.file.is_some() {
        fault
    } else {
        Fault { message: format!("sticker “{}”: {}", s.name, fault.message), ..fault }
    }
}

fn nearest(name: &str) -> String {
    let near = motifs::TABLE
        .iter()
        .max_by(|a, b| strsim::jaro_winkler(name, a.name).total_cmp(&strsim::jaro_winkler(name, b.name)));
    near.map_or_else(String::new, |m| format!("did you mean “{}” ({})?", m.name, m.what))
}
