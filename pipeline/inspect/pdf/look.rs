//! What a page comes to when it is worked through: every outline, colour and picture in page space, and its text.
//!
//! Two files may draw the same page by other means: a font subset that gained a glyph numbers all others anew, and a
//! shared form may be written out. Here a page is followed as a renderer follows it, glyphs become outlines, and what
//! arrives at the paper is summed up in a digest. Where it is equal nothing needs to be drawn.

use super::fingerprint::{Digest, Digester};
use hayro::hayro_interpret::color::Color;
use hayro::hayro_interpret::font::{Glyph, GlyphRun};
use hayro::hayro_interpret::hayro_cmap::BfString;
use hayro::hayro_interpret::pattern::Pattern;
use hayro::hayro_interpret::{
    BlendMode, ClipPath, Context, Device, DrawMode, DrawProps, Image, ImageDrawProps, InterpreterCache,
    InterpreterSettings, Paint, SoftMask, TransformExt, interpret_page,
};
use hayro::kurbo::{Affine, BezPath, PathEl, Point, Rect};
use hayro_syntax::Pdf;
use hayro_syntax::page::Page;
use sha2::{Digest as _, Sha256};
use std::collections::HashMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// What a page looks like.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Look {
    /// Digest of everything that is drawn; `None` where the page uses something that must be seen to be compared.
    pub digest: Option<Digest>,
    /// Whether all of it could be worked through; fonts and pictures that cannot be read leave gaps.
    pub complete: bool,
    /// Its text, line by line from the top.
    pub lines: Vec<String>,
}

/// Looks at the pages of one file.
pub struct LookReader<'a> {
    cache: InterpreterCache<'a>,
    settings: InterpreterSettings,
    digester: Digester<'a>,
    outlines: HashMap<u128, Digest>,
    blind: Arc<AtomicBool>,
}

impl<'a> LookReader<'a> {
    /// An eye for this file. `blind` is set by the settings' warnings; a font that cannot be read warns only once, so
    /// it stays set for all later pages.
    pub fn new(pdf: &'a Pdf, settings: &InterpreterSettings, blind: Arc<AtomicBool>) -> LookReader<'a> {
        LookReader {
            cache: InterpreterCache::new(),
            settings: settings.clone(),
            digester: Digester::new(pdf.xref()),
            outlines: HashMap::new(),
            blind,
        }
    }

    /// Works through a page.
    pub fn look(&mut self, page: &Page<'a>) -> Look {
        let (w, h) = page.render_dimensions();
        let bounds = Rect::new(0.0, 0.0, f64::from(w), f64::from(h));
        let transform = page.initial_transform(true).to_kurbo();
        let mut context = Context::new(transform, bounds, &self.cache, page.xref(), self.settings.clone());
        let mut device = Watcher { eye: self, out: Vec::new(), glyphs: Vec::new(), opaque: false, depth: 0 };
        interpret_page(page, &mut context, &mut device);
        let Watcher { out, glyphs, opaque, .. } = device;
        let complete = !self.blind.load(Ordering::Relaxed);
        let digest = (complete && !opaque).then(|| Sha256::digest(&out).into());
        Look { digest, complete, lines: lines(glyphs) }
    }
}

/// A glyph with a meaning: the way it runs in whole degrees, and its place (along that way, and across it), the size of
/// its em and its advance, all in points.
struct Shown {
    turn: i32,
    x: f64,
    y: f64,
    em: f64,
    advance: f64,
    text: String,
}

struct Watcher<'e, 'a> {
    eye: &'e mut LookReader<'a>,
    out: Vec<u8>,
    glyphs: Vec<Shown>,
    opaque: bool,
    depth: usize,
}

impl<'a> Watcher<'_, 'a> {
    fn number(&mut self, value: f64) {
        // A thousandth of a point is far below anything that can be seen.
        self.out.extend(((value * 1000.0).round() as i64).to_le_bytes());
    }

    fn matrix(&mut self, m: Affine) {
        for c in m.as_coeffs() {
            self.number(c);
        }
    }

    fn path(&mut self, path: &BezPath, transform: Affine) {
        for element in path.elements() {
            let (mark, points): (u8, &[Point]) = match element {
                PathEl::MoveTo(p) => (b'm', &[*p]),
                PathEl::LineTo(p) => (b'l', &[*p]),
                PathEl::QuadTo(p, q) => (b'q', &[*p, *q]),
                PathEl::CurveTo(p, q, r) => (b'c', &[*p, *q, *r]),
                PathEl::ClosePath => (b'h', &[]),
            };
            self.out.push(mark);
            for p in points {
                let there = transform * *p;
                self.number(there.x);
                self.number(there.y);
            }
        }
    }

    fn colour(&mut self, colour: &Color) {
        self.out.extend(colour.to_rgba().to_rgba8());
    }

    fn paint(&mut self, paint: &Paint<'a>) {
        match paint {
            Paint::Color(colour) => self.colour(colour),
            Paint::Pattern(pattern) => match &**pattern {
                Pattern::Tiling(tile) if self.depth < 4 => {
                    self.depth += 1;
                    self.matrix(tile.matrix);
                    for n in [tile.x_step, tile.y_step, tile.opacity] {
                        self.number(f64::from(n));
                    }
                    let tile = tile.clone();
                    tile.interpret(self, Affine::IDENTITY, false);
                    self.depth -= 1;
                }
                // Gradients are compared by eye.
                _ => self.opaque = true,
            },
        }
    }

    fn mode(&mut self, mode: &DrawMode, transform: Affine) {
        let stroke = match mode {
            DrawMode::Fill(rule) => return self.out.push(*rule as u8),
            DrawMode::Invisible => return self.out.push(b'i'),
            DrawMode::Stroke(stroke) => stroke,
            DrawMode::FillAndStroke(rule, stroke) => {
                self.out.push(*rule as u8);
                stroke
            }
        };
        // The pen is as wide as the space in which it is drawn makes it.
        for c in &transform.as_coeffs()[..4] {
            self.number(c * f64::from(stroke.line_width));
        }
        self.out.extend([stroke.line_cap as u8, stroke.line_join as u8]);
        self.number(stroke.miter_limit.into());
        self.number(stroke.dash_offset.into());
        for dash in &stroke.dash_array {
            self.number((*dash).into());
        }
    }

    fn mask(&mut self, mask: Option<&SoftMask<'a>>, blend: BlendMode) {
        self.out.push(blend as u8);
        let Some(mask) = mask else { return };
        if self.depth >= 4 || mask.transfer_function().is_some() {
            self.opaque = true;
            return;
        }
        self.depth += 1;
        self.out.push(mask.mask_type() as u8);
        self.colour(&mask.background_color());
        mask.interpret(self);
        self.depth -= 1;
        self.out.push(b'.');
    }

    fn props(&mut self, props: &DrawProps<'a>, mode: &DrawMode) {
        self.mask(props.soft_mask.as_ref(), props.blend_mode);
        self.paint(&props.paint);
        self.mode(mode, props.transform);
    }
}

impl<'a> Device<'a> for Watcher<'_, 'a> {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'a>, mode: &DrawMode) {
        self.out.push(b'P');
        self.path(path, props.transform);
        self.props(&props, mode);
    }

    fn push_clip_path(&mut self, clip: &ClipPath) {
        self.out.extend([b'W', clip.fill as u8]);
        self.path(&clip.path, Affine::IDENTITY);
    }

    fn push_transparency_group(&mut self, opacity: f32, mask: Option<SoftMask<'a>>, blend: BlendMode) {
        self.out.push(b'G');
        self.number(opacity.into());
        self.mask(mask.as_ref(), blend);
    }

    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, 'a>, props: DrawProps<'a>, mode: &DrawMode) {
        self.out.push(b'T');
        self.props(&props, mode);
        for glyph in run.glyphs() {
            let place = props.transform * glyph.transform();
            let mut advance = 0.0;
            match &**glyph {
                Glyph::Outline(outline) => {
                    self.matrix(place);
                    advance = f64::from(outline.advance_width().unwrap_or(500.0));
                    let key = outline.identifier().cache_key();
                    let known = self.eye.outlines.get(&key).copied();
                    let digest = known.unwrap_or_else(|| {
                        let mut bytes = Vec::new();
                        std::mem::swap(&mut bytes, &mut self.out);
                        self.path(&outline.outline(), Affine::IDENTITY);
                        std::mem::swap(&mut bytes, &mut self.out);
                        let digest = Sha256::digest(&bytes).into();
                        self.eye.outlines.insert(key, digest);
                        digest
                    });
                    self.out.extend(digest);
                }
                Glyph::Type3(drawn) if self.depth < 4 => {
                    self.depth += 1;
                    drawn.interpret(self, props.transform, glyph.transform(), &props.paint);
                    self.depth -= 1;
                }
                Glyph::Type3(_) => self.opaque = true,
            }
            let text = glyph.as_unicode().map(|text| match text {
                BfString::Char(c) => c.to_string(),
                BfString::String(s) => s,
            });
            // What it means counts as well: a stand-in font may draw two signs alike.
            match &text {
                Some(text) => self.out.extend(text.as_bytes()),
                None => self.out.extend(glyph.char_code().to_le_bytes()),
            }
            if let (Some(text), 0) = (text, self.depth) {
                let [a, b, ..] = place.as_coeffs();
                let unit = libm::hypot(a, b);
                let at = place * Point::ZERO;
                // Text up the side of a page reads as a line as well: the page is turned so that it runs level.
                let turn = libm::atan2(b, a).to_degrees().round();
                let (sin, cos) = libm::sincos(turn.to_radians());
                let (x, y) = (at.x * cos + at.y * sin, at.y * cos - at.x * sin);
                self.glyphs.push(Shown { turn: turn as i32, x, y, em: unit * 1000.0, advance: advance * unit, text });
            }
        }
    }

    fn draw_image(&mut self, image: Image<'a, '_>, props: ImageDrawProps<'a>) {
        self.out.push(b'I');
        self.matrix(props.transform);
        self.mask(props.soft_mask.as_ref(), props.blend_mode);
        let stream = match &image {
            Image::Stencil(stencil) => stencil.stream(),
            Image::Raster(raster) => raster.stream(),
        };
        match stream.dict().obj_id() {
            Some(id) => {
                let digest = self.eye.digester.object(id);
                self.out.extend(digest);
            }
            None => {
                self.out.extend(stream.dict().data());
                self.out.extend(Sha256::digest(stream.raw_data()));
            }
        }
        if let Image::Stencil(_) = &image {
            // The colour of a stencil is not told without decoding it.
            self.opaque = true;
        }
    }

    fn pop_clip(&mut self) {
        self.out.push(b'w');
    }

    fn pop_transparency_group(&mut self) {
        self.out.push(b'g');
    }
}

/// Glyphs put into lines: those whose feet stand on one line, from left to right, with a space where a gap is.
fn lines(mut glyphs: Vec<Shown>) -> Vec<String> {
    glyphs.sort_by(|a, b| a.turn.cmp(&b.turn).then(a.y.total_cmp(&b.y)));
    let mut lines = Vec::new();
    let mut rest = glyphs.as_mut_slice();
    while let Some(first) = rest.first() {
        let (turn, foot, slack) = (first.turn, first.y, (first.em * 0.2).clamp(0.5, 4.0));
        let end = rest.iter().take_while(|g| g.turn == turn && g.y - foot <= slack).count();
        let (line, later) = rest.split_at_mut(end);
        line.sort_by(|a, b| a.x.total_cmp(&b.x));
        let mut text = String::new();
        let mut reached: Option<f64> = None;
        for glyph in line.iter() {
            let gap = reached.is_some_and(|x| glyph.x - x > glyph.em * 0.15);
            if gap && !text.ends_with(' ') && glyph.text != " " {
                text.push(' ');
            }
            text.push_str(&glyph.text);
            reached = Some(glyph.x + glyph.advance);
        }
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if !text.is_empty() {
            lines.push(text);
        }
        rest = later;
    }
    lines
}
