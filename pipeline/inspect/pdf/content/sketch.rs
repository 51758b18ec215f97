//! What one content stream draws, in its own space, ready to be placed where the stream is used.

use super::extent::{Box4, Matrix};
use crate::model::facts::Drawn;
use std::collections::BTreeSet;

/// The most marks of one stream that are kept apart; of what has more it cannot be told where it draws nothing.
pub const MAX_MARKS: usize = 3_000;

/// What one stream draws, in its own space.
#[derive(Clone, Default)]
pub struct Sketch {
    /// How much.
    pub drawn: Drawn,
    /// The extents of what leaves a mark.
    pub marks: Vec<Box4>,
    /// Whether there were more marks than are kept.
    pub crowded: bool,
    /// Pictures by number, and how each is placed.
    pub images: Vec<(usize, Matrix)>,
    /// Fonts by number in which text is shown.
    pub fonts: BTreeSet<usize>,
    /// Fonts by number, and how many codes without a glyph are shown in each.
    pub missing: Vec<(usize, u64)>,
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

    /// Notes codes without a glyph.
    pub fn miss(&mut self, font: usize, codes: u64) {
        self.drawn.missing_glyphs += codes;
        match self.missing.iter_mut().find(|(f, _)| *f == font) {
            Some((_, n)) => *n += codes,
            None => self.missing.push((font, codes)),
        }
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
        self.crowded |= form.crowded;
        for mark in &form.marks {
            if self.marks.len() >= MAX_MARKS {
                self.crowded = true;
                break;
            }
            let there = matrix.apply_box(*mark);
            self.marks.push(clip.map_or(there, |c| there.intersection(c)));
        }
        let room = MAX_MARKS.saturating_sub(self.images.len());
        for (image, placed) in form.images.iter().take(room) {
            self.images.push((*image, placed.then(matrix)));
        }
        self.fonts.extend(&form.fonts);
        for (font, codes) in &form.missing {
            self.miss(*font, *codes);
        }
    }
}
