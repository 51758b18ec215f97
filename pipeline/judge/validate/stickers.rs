//! PNG files, and among them the stickers: cut clean on a transparent ground.

use super::catalogue::{Findings, found};
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected, PngFacts};
use base::model::plan::Make;
use base::model::product::{Edges, StickerSource};
use base::model::units::trim_number;
use base::model::{Plan, Product, Where};
use std::collections::BTreeMap;

/// Checks a PNG.
pub fn check(file: &Inspected, facts: &PngFacts, findings: &mut Findings) {
    for fault in &facts.damage {
        found!(findings, "picture-damaged", Where::file(&file.path), "the picture is damaged: {fault}");
    }
    if facts.stray_bytes > 0 {
        let stray = facts.stray_bytes;
        found!(findings, "picture-stray-bytes", Where::file(&file.path), "{stray} bytes follow the end of the picture");
    }
    if is_sticker(file) && !facts.pixels.is_empty() {
        sticker(file, facts, findings);
    }
}

/// A planned sticker, or a picture that its name or folder calls one and no sheet of many.
pub fn is_sticker(file: &Inspected) -> bool {
    match file.kind {
        Some(kind) => kind == Kind::Sticker,
        None => {
            let path = file.path.to_lowercase();
            path.contains("sticker") && !path.contains("sheet")
        }
    }
}

fn sticker(file: &Inspected, facts: &PngFacts, findings: &mut Findings) {
    let at = || Where::file(&file.path);
    let (w, h) = (facts.width, facts.height);
    if facts.colour_type != 6 || facts.bit_depth != 8 {
        let colour = colour_name(facts.colour_type);
        found!(findings, "sticker-not-rgba8", at(), "the sticker is {colour} with {} bits", facts.bit_depth);
    }
    if !facts.has_transparency {
        found!(findings, "sticker-not-transparent", at(), "no pixel of the {w} \u{d7} {h} sticker is transparent");
    } else if facts.ink_box.is_none() {
        found!(findings, "sticker-empty", at(), "no pixel of the {w} \u{d7} {h} sticker is visible");
    } else {
        if !facts.corners_clear {
            found!(findings, "sticker-corner-opaque", at(), "a corner of the sticker is not fully transparent");
        }
        edges(facts, &at(), findings);
        cut(facts, &at(), findings);
    }
    if !facts.srgb {
        found!(findings, "sticker-without-srgb", at(), "the sticker has no sRGB chunk");
    }
    if facts.pixels_per_metre.is_none() {
        found!(findings, "sticker-without-dpi", at(), "the sticker has no pHYs chunk with pixels per metre");
    }
    if let Some((x, y)) = facts.pixels_per_metre
        && x != y
    {
        let [across, down] = [x, y].map(|v| trim_number(f64::from(v) * 0.0254, 1));
        found!(findings, "sticker-dpi-uneven", at(), "the sticker has {across} dpi across and {down} dpi down");
    }
    if facts.animated {
        found!(findings, "sticker-animated", at(), "the sticker is an animated picture");
    }
    if facts.dirty_clear_pixels > 0 {
        let n = facts.dirty_clear_pixels;
        found!(findings, "sticker-clear-not-clean", at(), "{n} fully transparent pixels carry a colour");
    }
}

fn edges(facts: &PngFacts, at: &Where, findings: &mut Findings) {
    let Some([x, y, w, h]) = facts.ink_box else { return };
    let touched: Vec<&str> =
        [(x == 0, "left"), (y == 0, "top"), (x + w == facts.width, "right"), (y + h == facts.height, "bottom")]
            .into_iter()
            .filter_map(|(touches, side)| touches.then_some(side))
            .collect();
    if !touched.is_empty() {
        let sides = touched.join(", ");
        found!(findings, "sticker-touches-edge", at.clone().pixel(x, y), "the art reaches the edge: {sides}");
    }
}

/// Whether the art was cut clean: at least this many edge pixels, and this share of them, make a rim.
const RIM: (u64, f64) = (24, 0.3);

fn cut(facts: &PngFacts, at: &Where, findings: &mut Findings) {
    let (rim, of) = (facts.fringe_pixels, facts.edge_pixels);
    if rim >= RIM.0 && rim as f64 >= RIM.1 * of as f64 {
        let message = "edge pixels have the colour of a white or black ground and not of the art";
        found!(findings, "sticker-has-rim", at.clone(), "{rim} of {of} {message}");
    }
    if let (specks, Some((x, y))) = (facts.specks, facts.first_speck) {
        found!(findings, "sticker-has-specks", at.clone().pixel(x, y), "{specks} specks lie apart from the art");
    }
}

/// The colour types of the PNG specification in words.
pub fn colour_name(colour_type: u8) -> &'static str {
    match colour_type {
        0 => "grey",
        2 => "RGB without alpha",
        3 => "a palette picture",
        4 => "grey with alpha",
        6 => "RGB with alpha",
        _ => "of an unknown colour type",
    }
}

/// How much of the asked resolution a sticker must have.
const NEARLY: f64 = 0.99;

/// Stickers whose art has too few pixels: one line for all that come from the same sheet.
pub fn sources(files: &[Inspected], product: &Product, plan: &Plan, findings: &mut Findings) {
    let dpi: BTreeMap<&str, f64> = files
        .iter()
        .filter_map(|f| match &f.facts {
            Facts::Png(png) => Some((f.path.as_str(), png.dpi()?)),
            _ => None,
        })
        .collect();
    let mut sheets: BTreeMap<&str, (usize, f64, f64)> = BTreeMap::new();
    for item in &plan.items {
        let Make::Sticker(sticker) = &item.make else { continue };
        let Some(is) = dpi.get(item.path.as_str()).filter(|d| **d < sticker.dpi * NEARLY) else { continue };
        let cut = product.stickers.cuts.iter().find(|c| c.like.group == sticker.group);
        let from_sheet = sticker.edges == Edges::Keep && matches!(sticker.source, StickerSource::Png(_));
        match cut.filter(|_| from_sheet) {
            Some(sheet) => {
                let entry = sheets.entry(&sheet.path).or_insert((0, *is, sticker.dpi));
                *entry = (entry.0 + 1, entry.1.min(*is), sticker.dpi);
            }
            None => {
                let (is, was) = (trim_number(*is, 0), trim_number(sticker.dpi, 0));
                found!(
                    findings,
                    "sticker-art-too-small",
                    Where::file(&item.path),
                    "the picture has pixels for {is} dpi at the asked size, and {was} dpi were asked for"
                );
            }
        }
    }
    for (path, (n, is, was)) in sheets {
        let are = if n == 1 { "1 sticker".to_owned() } else { format!("{n} stickers") };
        let (is, was) = (trim_number(is, 0), trim_number(was, 0));
        found!(
            findings,
            "sticker-art-too-small",
            Where::file(path),
            "the sheet has pixels for {is} dpi at the asked size, and {was} dpi were asked for: {are} of it have fewer"
        );
    }
}
