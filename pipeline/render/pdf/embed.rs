//! Fonts and pictures of a document: each stored once, fonts cut down to the glyphs that are drawn.

use super::picture;
use base::model::drawing::{Art, Grade, Picture, Role, Shape, TextRun};
use base::model::panics;
use base::model::pdf_plan::PdfPlan;
use draw::Fonts;
use draw::fonts::Glyph;
use printpdf::{FontId, FontMetrics, ParsedFont, PdfDocument, PdfFont, XObject, XObjectId};
use rayon::prelude::*;
use rustybuzz::ttf_parser::{Face, GlyphId, name_id};
use sha2::{Digest, Sha256};
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use subsetter::GlyphRemapper;

/// What the pages of a document draw with.
#[derive(Default)]
pub struct Resources {
    fonts: Vec<Embedded>,
    /// By the number of a font among those of the product.
    numbers: BTreeMap<usize, usize>,
    /// The numbers of the fonts that a text of a role is set in: by role alone where that is the role's first.
    set_in: BTreeMap<(Role, Option<String>), BTreeSet<usize>>,
    pictures: Vec<Arc<Picture>>,
    arts: Vec<Arc<Art>>,
    grades: Vec<Grade>,
}

/// A font as it goes into the file.
struct Embedded {
    /// Its number among those of the product.
    number: usize,
    remap: GlyphRemapper,
    /// Widths by new glyph index, in font units.
    widths: BTreeMap<u16, u16>,
    units: u16,
    /// Characters by new glyph index.
    unicode: BTreeMap<u32, u16>,
    parsed: Option<ParsedFont>,
    /// Height of capitals in thousandths of an em.
    cap: i64,
}

impl Resources {
    /// Finds every glyph and picture that the plan draws, in plan order.
    pub fn collect(plan: &PdfPlan, fonts: &Fonts) -> Result<Resources, String> {
        let mut found = Resources::default();
        let mut seen: BTreeSet<(Role, &str)> = BTreeSet::new();
        for drawing in plan.forms.iter().chain(plan.pages.iter().map(|p| &p.drawing)) {
            for shape in &drawing.shapes {
                match shape {
                    Shape::Text(run) if seen.insert((run.role, &run.text)) => found.note_text(run, fonts)?,
                    Shape::Picture { picture, .. } | Shape::Tiled { picture, .. } => found.note_picture(picture),
                    Shape::Art { art, .. } if found.art(art).is_none() => found.arts.push(art.clone()),
                    Shape::Graded { grade, .. } | Shape::GradedText { grade, .. } => found.note_grade(grade),
                    _ => {}
                }
            }
        }
        for font in &mut found.fonts {
            font.cut(fonts)?;
        }
        Ok(found)
    }

    fn note_text(&mut self, run: &TextRun, fonts: &Fonts) -> Result<(), String> {
        let mut faces: BTreeMap<usize, Face> = BTreeMap::new();
        let mut used: BTreeSet<usize> = BTreeSet::new();
        for glyph in fonts.shape(run.role, &run.text).iter().filter(|g| !g.is_hidden(&run.text)) {
            used.insert(glyph.font);
            let index = self.font_of(glyph.font, fonts);
            let font = &mut self.fonts[index];
            let face = match faces.entry(glyph.font) {
                Entry::Occupied(face) => face.into_mut(),
                Entry::Vacant(free) => {
                    let (file, _) = fonts.numbered(glyph.font);
                    free.insert(Face::parse(&file.bytes, 0).map_err(|e| format!("{}: {e}", file.from))?)
                }
            };
            let new = font.remap.remap(glyph.id);
            font.widths.insert(new, face.glyph_hor_advance(GlyphId(glyph.id)).unwrap_or(0));
            let mut chars = run.text[glyph.cluster.clone()].chars();
            if let (Some(only), None) = (chars.next(), chars.next()) {
                font.unicode.insert(only.into(), new);
            }
        }
        let first = BTreeSet::from([fonts.first(run.role)]);
        let text = (used != first).then(|| run.text.clone());
        self.set_in.insert((run.role, text), used);
        Ok(())
    }

    /// Where a font is among those of the document.
    fn font_of(&mut self, number: usize, fonts: &Fonts) -> usize {
        if let Some(index) = self.numbers.get(&number) {
            return *index;
        }
        let (_, metrics) = fonts.numbered(number);
        self.fonts.push(Embedded {
            number,
            remap: GlyphRemapper::new(),
            widths: BTreeMap::from([(0, 0)]),
            units: metrics.units as u16,
            unicode: BTreeMap::new(),
            parsed: None,
            cap: (metrics.cap * 1000.0).round() as i64,
        });
        self.numbers.insert(number, self.fonts.len() - 1);
        self.fonts.len() - 1
    }

    fn note_picture(&mut self, picture: &Arc<Picture>) {
        if self.picture(picture).is_none() {
            self.pictures.push(picture.clone());
        }
    }

    fn note_grade(&mut self, grade: &Grade) {
        if !self.grades.contains(grade) {
            self.grades.push(grade.clone());
        }
    }

    fn picture(&self, picture: &Arc<Picture>) -> Option<usize> {
        self.pictures.iter().position(|p| Arc::ptr_eq(p, picture) || p == picture)
    }

    fn art(&self, art: &Arc<Art>) -> Option<usize> {
        let same = |a: &Arc<Art>| Arc::ptr_eq(a, art) || (a.source == art.source && a.size == art.size);
        self.arts.iter().position(same)
    }

    /// Resource name of a page of another file that the plan uses.
    pub fn art_id(&self, art: &Arc<Art>) -> String {
        art_name(self.art(art).unwrap_or(0))
    }

    /// Every page of another file that the plan uses, in the order of their resource names.
    pub fn arts(&self) -> &[Arc<Art>] {
        &self.arts
    }

    /// Hands fonts and pictures over to the document, under names of our own (the library's are random).
    pub fn register(&mut self, doc: &mut PdfDocument, hasty: bool) {
        for (i, font) in self.fonts.iter_mut().enumerate() {
            if let Some(parsed) = font.parsed.take() {
                doc.resources.fonts.map.insert(FontId(font_name(i)), PdfFont::new(parsed));
            }
        }
        let pictures: Vec<XObject> = self.pictures.par_iter().map(|p| picture::object(p, hasty)).collect();
        for (i, picture) in pictures.into_iter().enumerate() {
            doc.resources.xobjects.map.insert(XObjectId(picture_name(i)), picture);
        }
    }

    /// Resource name of a font that glyphs of the plan are in, by its number among those of the product.
    pub fn font_id(&self, number: usize) -> String {
        font_name(self.numbers.get(&number).copied().unwrap_or(0))
    }

    /// Resource names of the fonts that a text of the plan is set in.
    pub fn fonts_of<'a>(&'a self, run: &TextRun) -> impl Iterator<Item = String> + use<'a> {
        let own = self.set_in.get(&(run.role, Some(run.text.clone())));
        let used = own.or_else(|| self.set_in.get(&(run.role, None)));
        used.into_iter().flatten().map(|number| self.font_id(*number))
    }

    /// Resource name of colours that run into each other.
    pub fn grade_id(&self, grade: &Grade) -> String {
        grade_name(self.grades.iter().position(|g| g == grade).unwrap_or(0))
    }

    /// All of those, each with its resource name.
    pub fn grades(&self) -> impl Iterator<Item = (String, &Grade)> {
        self.grades.iter().enumerate().map(|(i, grade)| (grade_name(i), grade))
    }

    /// Resource name of a picture that the plan uses.
    pub fn picture_id(&self, picture: &Arc<Picture>) -> String {
        picture_name(self.picture(picture).unwrap_or(0))
    }

    /// The glyph's number in the embedded font and the width that the file states for it, in thousandths of an em.
    pub fn glyph(&self, glyph: &Glyph) -> (u16, f64) {
        let Some(font) = self.numbers.get(&glyph.font).and_then(|i| self.fonts.get(*i)) else { return (0, 0.0) };
        let new = font.remap.get(glyph.id).unwrap_or(0);
        let width = font.widths.get(&new).copied().unwrap_or(0);
        // The writer states whole thousandths, cut off and not rounded: what it adds up is what readers add up.
        (new, (f64::from(width) * 1000.0 / f64::from(font.units)).trunc())
    }

    /// Every picture with its resource name.
    pub fn pictures(&self) -> Vec<(Arc<Picture>, String)> {
        self.pictures.iter().enumerate().map(|(i, p)| (p.clone(), picture_name(i))).collect()
    }

    /// Height of capitals by font resource name, in thousandths of an em.
    pub fn cap_heights(&self) -> impl Iterator<Item = (String, i64)> {
        self.fonts.iter().enumerate().map(|(i, f)| (font_name(i), f.cap))
    }
}

impl Embedded {
    /// Cuts the font file down to the glyphs in use.
    fn cut(&mut self, fonts: &Fonts) -> Result<(), String> {
        let (file, _) = fonts.numbered(self.number);
        let subset = panics::fenced(|| subsetter::subset(&file.bytes, 0, &self.remap))
            .map_err(|gave_up| {
                format!("{}: the library that takes fonts apart gave up on it: {}", file.from, gave_up.0)
            })?
            .map_err(|e| format!("{}: the font cannot be cut down to the glyphs in use ({e})", file.from))?;
        let face = Face::parse(&file.bytes, 0).map_err(|e| format!("{}: {e}", file.from))?;
        let name = face
            .names()
            .into_iter()
            .filter(|n| n.name_id == name_id::POST_SCRIPT_NAME && n.is_unicode())
            .find_map(|n| n.to_string())
            .unwrap_or_else(|| "Font".to_owned());
        let name = format!("{}+{name}", tag(&subset));
        let bounds = face.global_bounding_box();
        let mut parsed = ParsedFont::with_glyph_data(
            subset,
            0,
            Some(name),
            std::mem::take(&mut self.unicode),
            self.widths.clone(),
            self.units,
            FontMetrics { ascent: face.ascender(), descent: face.descender() },
        );
        let metrics = &mut parsed.pdf_font_metrics;
        (metrics.x_min, metrics.y_min) = (bounds.x_min, bounds.y_min);
        (metrics.x_max, metrics.y_max) = (bounds.x_max, bounds.y_max);
        metrics.us_weight_class = face.weight().to_number();
        if let Some(angle) = face.italic_angle().checked_slant() {
            (metrics.caret_slope_rise, metrics.caret_slope_run) = angle;
        }
        self.parsed = Some(parsed);
        Ok(())
    }
}

/// A slant in degrees as the rise and run that the document model wants.
trait Slant {
    fn checked_slant(self) -> Option<(i16, i16)>;
}

impl Slant for f32 {
    fn checked_slant(self) -> Option<(i16, i16)> {
        (self != 0.0).then(|| (1000, (-libm::tanf(self.to_radians()) * 1000.0).round() as i16))
    }
}

/// Six capitals that tell this subset from others of the same font (ISO 32000-1, 9.6.4), taken from its digest.
fn tag(subset: &[u8]) -> String {
    Sha256::digest(subset).iter().take(6).map(|b| char::from(b'A' + b % 26)).collect()
}

fn font_name(index: usize) -> String {
    format!("F{index}")
}

fn picture_name(index: usize) -> String {
    format!("P{index}")
}

fn grade_name(index: usize) -> String {
    format!("S{index}")
}

/// Resource name of a page of another file.
pub fn art_name(index: usize) -> String {
    format!("A{index}")
}

/// Resource name of a form.
pub fn form_name(index: usize) -> String {
    format!("D{index}")
}
