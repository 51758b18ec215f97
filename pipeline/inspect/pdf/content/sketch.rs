//! What one content stream draws, in its own space, ready to be placed where the stream is used.

use super::extent::{Box4, Matrix};
use base::model::facts::Drawn;
use base::model::units::Rgb;
use std::collections::BTreeSet;
use std::sync::Arc;

/// The most marks of one stream that are kept apart; of what has more it cannot be told where it draws nothing.
pub const MAX_MARKS: usize = 3_000;

/// The most texts of one stream that are kept.
pub const MAX_TEXTS: usize = 2_000;
/// Shapes smaller than this on either side are lines, or too small for a finger.
const SHAPE: f64 = 4.0;

/// A text.
#[derive(Clone)]
pub struct Text {
    /// From its first glyph to its last, from its foot to the height of its capitals.
    pub area: Box4,
    /// What it says.
    pub text: Arc<str>,
    /// Whether the widths are the font's.
    pub exact: bool,
    /// Whether it runs level.
    pub level: bool,
    /// Its colour, where it is known.
    pub colour: Option<Rgb>,
    /// How many grounds of the stream were laid before it.
    pub above: usize,
}

/// What one stream draws, in its own space.
#[derive(Clone, Default)]
pub struct Sketch {
    /// How much.
    pub drawn: Drawn,
    /// The extents of what leaves a mark.
    pub marks: Vec<Box4>,
    /// Whether there were more marks than are kept.
    pub crowded: bool,
    /// The extents of the parts of drawn paths that are more than lines.
    pub shapes: Vec<Box4>,
    /// Forms: where each is placed, and how much larger or smaller than it was drawn.
    pub forms: Vec<(Box4, f64)>,
    /// Texts.
    pub texts: Vec<Text>,
    /// Filled areas in the order in which they are laid, each with its colour where that is known and fills its extent.
    pub grounds: Vec<(Box4, Option<Rgb>)>,
    /// The form's own box, in the space in which it is placed.
    pub frame: Option<Box4>,
    /// Pictures by number, and how each is placed.
    pub images: Vec<(usize, Matrix)>,
    /// Fonts by number in which text is shown.
    pub fonts: BTreeSet<usize>,
    /// Fonts by number, and how many codes without a glyph are shown in each.
    pub missing: Vec<(usize, u64)>,
    /// Pictures by number that patterns and masks use.
    pub within: BTreeSet<usize>,
    /// What is wrong with the instructions themselves, and with pictures written among them.
    pub damage: Damage,
}

/// What cannot be read, in words.
#[derive(Clone, Default)]
pub struct Damage {
    /// Of instructions.
    pub instructions: BTreeSet<String>,
    /// Of pictures written among them.
    pub pictures: BTreeSet<String>,
}

impl Sketch {
    /// Notes a mark.
    pub fn mark(&mut self, extent: Box4) {
        self.drawn.marks += 1;
        if self.marks.len() < MAX_MARKS {
            self.marks.push(extent);
        } else {
            self.crowded = true;
        }
    }

    /// Notes a drawn shape.
    pub fn shape(&mut self, extent: Box4) {
        let (w, h) = (extent.x1 - extent.x0, extent.y1 - extent.y0);
        if w >= SHAPE && h >= SHAPE && self.shapes.len() < MAX_MARKS {
            self.shapes.push(extent);
        }
    }

    /// Notes a filled area.
    pub fn ground(&mut self, extent: Box4, colour: Option<Rgb>) {
        if self.grounds.len() < MAX_MARKS {
            self.grounds.push((extent, colour));
        }
    }

    /// Notes a text; one that goes on where the last one ended is made one with it.
    pub fn text(&mut self, text: Text) {
        let height = text.area.y1 - text.area.y0;
        if let Some(last) = self.texts.last_mut()
            && last.level
            && text.level
            && (last.colour, last.above) == (text.colour, text.above)
            && (last.area.y0 - text.area.y0).abs() <= 0.1 * height
            && (last.area.y1 - text.area.y1).abs() <= 0.1 * height
        {
            // The height of capitals is 0.7 em, so that this is a third of an em at most.
            let gap = (text.area.x0 - last.area.x1) / height;
            if (-0.3..=0.5).contains(&gap) {
                let space = if gap > 0.15 && !last.text.ends_with(' ') { " " } else { "" };
                last.text = format!("{}{space}{}", last.text, text.text).into();
                last.area = last.area.union(text.area);
                last.exact &= text.exact;
                return;
            }
        }
        if self.texts.len() < MAX_TEXTS {
            self.texts.push(text);
        }
    }

    /// Notes codes without a glyph.
    pub fn miss(&mut self, font: usize, codes: u64) {
        self.drawn.missing_glyphs += codes;
        match self.missing.iter_mut().find(|(f, _)| *f == font) {
            Some((_, n)) => *n += codes,
            None => self.missing.push((font, codes)),
        }
    }

    /// Notes what of a form, a pattern or a mask may not be seen whole.
    pub fn know(&mut self, form: &Sketch) {
        self.within.extend(&form.within);
        self.damage.instructions.extend(form.damage.instructions.iter().cloned());
        self.damage.pictures.extend(form.damage.pictures.iter().cloned());
    }

    /// Adds what a form draws where it is used.
    pub fn take(&mut self, form: &Sketch, matrix: Matrix, clip: Option<Box4>) {
        let (a, b) = (&mut self.drawn, &form.drawn);
        a.operators = a.operators.saturating_add(b.operators);
        a.marks = a.marks.saturating_add(b.marks);
        a.images = a.images.saturating_add(b.images);
        a.masks = a.masks.saturating_add(b.masks);
        a.pixels = a.pixels.saturating_add(b.pixels);
        a.glyphs = a.glyphs.saturating_add(b.glyphs);
        a.cmyk = a.cmyk.saturating_add(b.cmyk);
        self.crowded |= form.crowded;
        for mark in &form.marks {
            if self.marks.len() >= MAX_MARKS {
                self.crowded = true;
                break;
            }
            let there = matrix.apply_box(*mark);
            self.marks.push(clip.map_or(there, |c| there.intersection(c)));
        }
        let seen = |area: Box4| {
            let there = matrix.apply_box(area);
            clip.map_or(there, |c| there.intersection(c))
        };
        for shape in &form.shapes {
            self.shape(seen(*shape));
        }
        let size = matrix.lengths().0;
        let room = MAX_MARKS.saturating_sub(self.forms.len());
        self.forms.extend(form.forms.iter().take(room).map(|(area, scale)| (seen(*area), scale * size)));
        let below = self.grounds.len();
        let room = MAX_MARKS.saturating_sub(below);
        self.grounds.extend(form.grounds.iter().take(room).map(|(area, colour)| (seen(*area), *colour)));
        let room = MAX_TEXTS.saturating_sub(self.texts.len());
        for text in form.texts.iter().take(room).filter(|t| seen(t.area).area() > 0.0) {
            let (area, level) = (matrix.apply_box(text.area), text.level && matrix.is_level());
            self.texts.push(Text { area, level, above: below + text.above, ..text.clone() });
        }
        let room = MAX_MARKS.saturating_sub(self.images.len());
        for (image, placed) in form.images.iter().take(room) {
            self.images.push((*image, placed.then(matrix)));
        }
        self.know(form);
        self.fonts.extend(&form.fonts);
        for (font, codes) in &form.missing {
            self.miss(*font, *codes);
        }
    }
}
