//! A sheet with many drawings becomes one sticker each.
//!
//! The drawings are told apart by the clear space between them. Names come from a list, in reading order, or from the
//! ids of an SVG: the one whose own shapes fill the cut part best.

use super::Workshop;
use super::drawn::drawn_whole;
use crate::draw::raster::decode::check_size;
use crate::draw::raster::parts::{self, Part, Rules};
use crate::draw::raster::{Raster, fringe};
use crate::model::product::{Sticker, StickerSource};
use crate::model::units::trim_number;
use crate::model::{Fault, Mm};
use resvg::usvg;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A sheet of drawings, and how it is cut.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Where its art comes from: an SVG or a PNG.
    pub source: StickerSource,
    /// Width of the whole sheet at placed size.
    pub width: Mm,
    /// Clear space up to which parts belong together.
    pub gap: Mm,
    /// Parts whose area is smaller than that of a square with this side are specks.
    pub speck: Mm,
    /// Whether rows read from the right.
    pub from_right: bool,
    /// Names in reading order; those beyond come from ids, or are numbered.
    pub names: Vec<String>,
    /// What every sticker of the sheet shares: dpi, padding, border, colour. Name, source and size are its own.
    pub like: Sticker,
}

/// The stickers of a sheet.
#[derive(Clone, Debug)]
pub struct Pieces {
    /// In reading order.
    pub stickers: Vec<Sticker>,
    /// Where each lies on the sheet, in mm from its top left: x, y, width, height.
    pub places: Vec<[f64; 4]>,
    /// Stray specks that were dropped.
    pub specks: usize,
    /// What she should know.
    pub notes: Vec<String>,
}

impl Workshop<'_> {
    /// Cuts a sheet. Each piece is a sticker whose art is a picture at its true size.
    pub fn cut_sheet(&self, sheet: &Sheet) -> Result<Pieces, Fault> {
        let (mut raster, tree, name, mut notes) = self.sheet_pixels(sheet)?;
        let dpi = raster.w as f64 / (sheet.width.0 / 25.4);
        raster.clean();
        if let Some(f) = fringe::remove(&mut raster) {
            notes.push(format!(
                "{} edge pixels of the sheet carried the colour of an old background, about {}; it was taken off",
                f.pixels, f.matte
            ));
        }
        let px = |mm: Mm| mm.0.max(0.0) / 25.4 * dpi;
        let rules =
            Rules { gap: px(sheet.gap), speck: px(sheet.speck).powi(2).round() as usize, from_right: sheet.from_right };
        let found = parts::parts(&raster, &rules);
        if found.parts.is_empty() {
            return Err(Fault::new("no drawing was found on the sheet")
                .in_file(name)
                .help("its ground must be transparent; whatever is smaller than the speck size is dropped"));
        }
        if found.parts.len() == 1 && found.parts[0].area == raster.whole() {
            return Err(Fault::new("the whole sheet is one part: its ground is not transparent")
                .in_file(name)
                .help("export it without a background"));
        }
        if found.specks > 0 {
            notes.push(format!("{} stray specks were dropped", found.specks));
        }
        if !sheet.names.is_empty() && sheet.names.len() != found.parts.len() {
            notes.push(format!(
                "{} names are given for {} stickers; a wider gap joins parts, a smaller one parts them",
                sheet.names.len(),
                found.parts.len()
            ));
        }
        let names = names(sheet, tree.as_ref(), &raster, &found.parts);
        let mm = |v: usize| v as f64 / dpi * 25.4;
        let stickers = found.parts.iter().zip(names).map(|(part, name)| {
            let art = found.lift(&raster, part);
            Sticker {
                source: StickerSource::Png(Arc::new(art.picture(&name))),
                longest: Mm(mm(art.w.max(art.h))),
                // Never more than was asked; less where the sheet has no more.
                dpi: dpi.min(sheet.like.dpi),
                name,
                ..sheet.like.clone()
            }
        });
        let places = |p: &Part| [mm(p.area.x), mm(p.area.y), mm(p.area.w), mm(p.area.h)];
        Ok(Pieces {
            stickers: stickers.collect(),
            places: found.parts.iter().map(places).collect(),
            specks: found.specks,
            notes,
        })
    }

    /// The pixels of a sheet, its drawing if it is one, its name, and notes.
    #[allow(clippy::type_complexity)]
    fn sheet_pixels<'s>(&self, sheet: &'s Sheet) -> Result<(Raster, Option<usvg::Tree>, &'s str, Vec<String>), Fault> {
        match &sheet.source {
            StickerSource::Svg(path, text) => {
                let art = self.press.read(path, text)?;
                let wide = (sheet.width.0 / 25.4 * sheet.like.dpi).round();
                let high = wide * f64::from(art.tree.size().height()) / f64::from(art.tree.size().width());
                check_size(wide.max(0.0) as u64, high.ceil().max(0.0) as u64).map_err(|f| f.in_file(path))?;
                Ok((drawn_whole(&art.tree, wide)?, Some(art.tree), path, art.notes))
            }
            StickerSource::Png(picture) => {
                check_size(picture.width.into(), picture.height.into()).map_err(|f| f.in_file(&picture.name))?;
                let dpi = f64::from(picture.width) / (sheet.width.0 / 25.4);
                let mut notes = Vec::new();
                if dpi + 0.5 < sheet.like.dpi {
                    notes.push(format!(
                        "the sheet is {} px for {}: its stickers have {} dpi, not {}",
                        picture.width,
                        sheet.width,
                        trim_number(dpi, 1),
                        trim_number(sheet.like.dpi, 1)
                    ));
                }
                Ok((Raster::of(picture), None, &picture.name, notes))
            }
            StickerSource::BuiltIn(name, _) => Err(Fault::new(format!("“{name}” is one sticker, not a sheet"))),
        }
    }
}

/// A name for each part: from the list, from an id, or numbered; none twice.
fn names(sheet: &Sheet, tree: Option<&usvg::Tree>, raster: &Raster, parts: &[Part]) -> Vec<String> {
    let boxes = tree.map_or_else(Vec::new, |t| id_boxes(t, raster.w as f64 / f64::from(t.size().width())));
    let mut taken = BTreeSet::new();
    parts
        .iter()
        .enumerate()
        .map(|(i, part)| {
            let wanted = sheet.names.get(i).cloned().or_else(|| best_id(&boxes, part, &taken));
            let wanted = wanted.unwrap_or_else(|| format!("{}-{}", sheet.like.name, i + 1));
            let mut name = wanted.clone();
            let mut n = 2;
            while !taken.insert(name.clone()) {
                name = format!("{wanted}-{n}");
                n += 1;
            }
            name
        })
        .collect()
}

/// Ids of a drawing with the boxes of what they name, in pixels: left, top, right, bottom.
fn id_boxes(tree: &usvg::Tree, scale: f64) -> Vec<(String, [f64; 4])> {
    let mut out = Vec::new();
    let mut todo: Vec<&usvg::Node> = tree.root().children().iter().collect();
    while let Some(node) = todo.pop() {
        if !node.id().is_empty() {
            let b = node.abs_stroke_bounding_box();
            let sides = [b.left(), b.top(), b.right(), b.bottom()].map(|v| f64::from(v) * scale);
            out.push((node.id().to_owned(), sides));
        }
        if let usvg::Node::Group(group) = node {
            todo.extend(group.children());
        }
    }
    out.sort_by(|a, b| a.0.cmp(&b.0));
    out
}

/// The id whose box agrees best with a part: at least half of what either covers is common to both.
fn best_id(boxes: &[(String, [f64; 4])], part: &Part, taken: &BTreeSet<String>) -> Option<String> {
    let a = part.area;
    let p = [a.x as f64, a.y as f64, (a.x + a.w) as f64, (a.y + a.h) as f64];
    let area = |b: &[f64; 4]| (b[2] - b[0]).max(0.0) * (b[3] - b[1]).max(0.0);
    let agreement = |b: &[f64; 4]| {
        let common = area(&[p[0].max(b[0]), p[1].max(b[1]), p[2].min(b[2]), p[3].min(b[3])]);
        common / (area(&p) + area(b) - common).max(1e-9)
    };
    boxes
        .iter()
        .filter(|(id, _)| !taken.contains(id))
        .map(|(id, b)| (id, agreement(b)))
        .filter(|(_, v)| *v >= 0.5)
        .max_by(|x, y| x.1.total_cmp(&y.1))
        .map(|(id, _)| id.clone())
}
