//! Stickers: a drawing, an SVG file or a picture becomes a PNG that is cut clean.
//!
//! Whatever the art is, it takes the same way: pixels at the asked size, trimmed to what can be seen, padded,
//! written. Nothing is enlarged in silence, and nothing outside the art is read.

pub mod contact;
pub mod cut;
mod drawn;
pub mod png;
pub mod sheet;

use base::model::plan::PicturePlan;
use base::model::product;
use base::model::product::{Optimise, Side, Sticker, StickerSource, Style};
use base::model::units::trim_number;
use base::model::{Fault, Mm, Size};
use draw::Fonts;
use draw::motifs;
use draw::motifs::MotifContext;
use draw::svg::document;
use draw::svg_loader::SvgLoader;
use raster::decode::{MOST_SIDE, check_size};
use raster::{Raster, border, fringe, resize};
use rayon::prelude::*;

use drawn::drawn;
pub use png::Effort;

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
    /// What the designer should know, such as that a picture was too small.
    pub notes: Vec<String>,
}

impl Made {
    /// Its size on the page, padding included, in points.
    pub fn placed(&self) -> Size {
        Size::new(f64::from(self.width) * 72.0 / self.dpi, f64::from(self.height) * 72.0 / self.dpi)
    }
}

impl From<Optimise> for Effort {
    fn from(wanted: Optimise) -> Effort {
        match wanted {
            Optimise::Quick => Effort::Quick,
            Optimise::Normal => Effort::Balanced,
            Optimise::Best => Effort::Best,
        }
    }
}

/// What the stickers of a product are made with.
pub struct StickerContext<'a> {
    style: &'a Style,
    fonts: &'a Fonts,
    svg: SvgLoader,
    effort: Effort,
}

/// Pixels of the art alone, tight, with the resolution that they have.
struct Cut {
    art: Raster,
    dpi: f64,
    notes: Vec<String>,
}

impl<'a> StickerContext<'a> {
    /// A context for products in this style.
    pub fn new(style: &'a Style, fonts: &'a Fonts) -> StickerContext<'a> {
        let svg = SvgLoader::new(style);
        StickerContext { style, fonts, svg, effort: Effort::default() }
    }

    /// The same with more or less effort for small files.
    pub fn effort(self, effort: Effort) -> StickerContext<'a> {
        StickerContext { effort, ..self }
    }

    /// Makes every sticker, in parallel; the results are in the order of the stickers.
    pub fn all(&self, stickers: &[Sticker]) -> Vec<Result<Made, Fault>> {
        stickers.par_iter().map(|s| self.sticker(s)).collect()
    }

    /// Makes a sheet of finished stickers as one picture.
    pub fn sheet(&self, plan: &PicturePlan) -> Result<Vec<u8>, Fault> {
        sheet::sheet(plan, self.style, self.fonts, self.effort)
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
        let (width, height) = (whole.w as u32, whole.h as u32);
        let png = png::write(whole, dpi, self.effort).map_err(|f| about(s, f))?;
        Ok(Made { png, width, height, dpi, notes })
    }

    /// The art of a sticker at its size, trimmed.
    fn cut(&self, s: &Sticker) -> Result<Cut, Fault> {
        let asked = target(s.longest, s.dpi)?;
        // How long the longest side must be for the named one to come out as asked.
        let target = |w: f64, h: f64| match s.side {
            Side::Width if h > w => along(asked, h / w),
            Side::Height if w > h => along(asked, w / h),
            _ => Ok(asked),
        };
        match &s.source {
            StickerSource::BuiltIn(name, label) => {
                let motif = motifs::find(name)
                    .ok_or_else(|| Fault::new(format!("there is no built-in sticker “{name}”")).help(nearest(name)))?;
                let (drawing, size) = motif.draw(&MotifContext {
                    colour: s.colour,
                    style: self.style,
                    fonts: self.fonts,
                    label: label.as_deref(),
                    weekdays: s.first_day.turned(s.language.days.each_ref().map(String::as_str)),
                    words: motifs::MotifWords::of(&s.language.table),
                    right_to_left: s.language.right_to_left,
                });
                let art = self.svg.read(name, &document(&drawing, size, self.fonts, &[]))?;
                Ok(Cut { art: measured(&art.tree, asked, target)?, dpi: s.dpi, notes: art.notes })
            }
            StickerSource::Svg(path, text) => {
                let art = self.svg.read(path, text)?;
                let raster = measured(&art.tree, asked, target).map_err(|f| f.in_file(path))?;
                // What its texts lack is a finding.
                Ok(Cut { art: raster, dpi: s.dpi, notes: art.left_out })
            }
            StickerSource::Png(picture) => {
                check_size(picture.width.into(), picture.height.into()).map_err(|f| f.in_file(&picture.name))?;
                pictured(Raster::of(picture), s, target).map_err(|f| f.in_file(&picture.name))
            }
        }
    }
}

/// Draws art whose longest side depends on its proportions, which are known once it is drawn.
fn measured(
    tree: &resvg::usvg::Tree,
    asked: usize,
    target: impl Fn(f64, f64) -> Result<usize, Fault>,
) -> Result<Raster, Fault> {
    let art = drawn(tree, asked)?;
    let longest = target(art.w as f64, art.h as f64)?;
    if longest == asked { Ok(art) } else { drawn(tree, longest) }
}

/// A longest side that is `ratio` times the asked one.
fn along(asked: usize, ratio: f64) -> Result<usize, Fault> {
    let px = (asked as f64 * ratio).round();
    if px > f64::from(MOST_SIDE) {
        return Err(Fault::new(format!("its longest side would be {px} px; at most {MOST_SIDE} px are made"))
            .help("make the sticker smaller, or its dpi lower"));
    }
    Ok(px as usize)
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

/// Trims a picture and brings it to its size; one that is too small keeps its pixels and gets a lower resolution.
fn pictured(mut raster: Raster, s: &Sticker, target: impl Fn(f64, f64) -> Result<usize, Fault>) -> Result<Cut, Fault> {
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
    if let Some(f) = fringe::clear(&mut art, s.edges) {
        notes.push(format!(
            "{} edge pixels carried the colour of an old background, about {}; it was taken off",
            f.pixels, f.matte
        ));
    }
    let longest = ink.w.max(ink.h);
    let target = target(ink.w as f64, ink.h as f64)?;
    if (longest as f64) < target as f64 * NEARLY {
        // By the length as it was asked for, not by whole pixels: so it comes out at exactly that size.
        let named = match s.side {
            Side::Longest => longest,
            Side::Width => ink.w,
            Side::Height => ink.h,
        };
        let dpi = named as f64 / (s.longest.0 / 25.4);
        notes.push(format!(
            "the art is {longest} px long; at {} dpi it would need {target}, so it stays as it is, at {} dpi",
            trim_number(s.dpi, 1),
            trim_number(dpi, 1)
        ));
        return Ok(Cut { art, dpi, notes });
    }
    if longest <= target {
        return Ok(Cut { art, dpi: s.dpi, notes });
    }
    let scale = target as f64 / longest as f64;
    let side = |v: usize| if v == longest { target } else { ((v as f64 * scale).round() as usize).max(1) };
    let mut art = resize::resize(&art, side(ink.w), side(ink.h));
    art.clean();
    let ink = art.ink().unwrap_or(art.whole());
    Ok(Cut { art: art.crop(ink), dpi: s.dpi, notes })
}

/// A picture that lacks less than this of its pixels is not short of any: sizes are asked for in round numbers.
const NEARLY: f64 = 0.99;

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
