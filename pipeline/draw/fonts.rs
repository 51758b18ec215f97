//! The product's fonts: metrics, shaping, outlines and what they may be used for.

use super::characters;
pub use super::shaping::Glyph;
use super::shaping::{self, Asked};
use base::model::drawing::{Path, Role, Seg};
use base::model::look::Figures;
use base::model::product::{FontFile, FontFiles};
use base::model::{Fault, Point, panics};
use base::text::Widths;
use rustybuzz::ttf_parser::{self, GlyphId, OutlineBuilder};
use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, Mutex};

/// Measures of a font, in em; `descent` is positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Metrics {
    /// Font units in an em.
    pub units: f64,
    /// Height above the baseline.
    pub ascent: f64,
    /// Depth below the baseline.
    pub descent: f64,
    /// Height of capitals.
    pub cap: f64,
    /// Height of small letters.
    pub x: f64,
}

/// What the OS/2 table says of embedding (OpenType, `fsType`).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Embedding {
    /// Embedding, subsetting and editing are free.
    Installable,
    /// Embedding into documents that are edited is allowed.
    Editable,
    /// Only for documents that are viewed or printed.
    PreviewAndPrint,
    /// Not without the owner's leave.
    Restricted,
}

type Shapes = HashMap<(Role, String), Arc<Vec<Glyph>>>;

/// The product's fonts by role.
pub struct Fonts {
    /// Every file once.
    fonts: Vec<Font>,
    /// By role the numbers of the fonts that are asked for a character: those of the role, then those of the others.
    chains: BTreeMap<Role, Vec<usize>>,
    shaped: Mutex<Shapes>,
}

struct Font {
    file: FontFile,
    metrics: Metrics,
    /// Whether its own figures are of the old style.
    oldstyle: bool,
}

impl Fonts {
    /// Opens the fonts of a style. Every role must be there; a file that is no font is a fault.
    pub fn open(files: &FontFiles) -> Result<Fonts, Vec<Fault>> {
        let (mut fonts, mut faults): (Vec<Font>, _) = (Vec::new(), Vec::new());
        let mut own: BTreeMap<Role, Vec<usize>> = BTreeMap::new();
        for role in Role::ALL {
            let chain = own.entry(role).or_default();
            for file in files.get(&role).into_iter().flatten() {
                if let Some(known) = fonts.iter().position(|f| f.file.bytes == file.bytes) {
                    chain.push(known);
                    continue;
                }
                match panics::caught(|| measure(&file.bytes)).ok().flatten() {
                    Some(metrics) => {
                        chain.push(fonts.len());
                        fonts.push(Font { file: file.clone(), metrics, oldstyle: is_oldstyle(&file.bytes) });
                    }
                    None => faults.push(
                        Fault::new("this is not a TrueType or OpenType font that can be read")
                            .in_file(&file.from)
                            .help("give a .ttf, .otf, .woff or .woff2 file"),
                    ),
                }
            }
            if chain.is_empty() && faults.is_empty() {
                faults.push(Fault::new(format!("no font is given for {role:?}")));
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let all: Vec<usize> = own.values().flatten().copied().collect();
        let chains = own.into_iter().map(|(role, first)| {
            let mut chain: Vec<usize> = Vec::new();
            for n in first.into_iter().chain(all.iter().copied()) {
                if !chain.contains(&n) {
                    chain.push(n);
                }
            }
            (role, chain)
        });
        Ok(Fonts { chains: chains.collect(), fonts, shaped: Mutex::new(HashMap::new()) })
    }

    fn chain(&self, role: Role) -> &[usize] {
        // `open` refuses a set in which a role is missing.
        self.chains.get(&role.of_fonts()).expect("every role has a font")
    }

    /// The number of the first font behind a role.
    pub fn first(&self, role: Role) -> usize {
        self.chain(role)[0]
    }

    fn font(&self, role: Role) -> &Font {
        &self.fonts[self.first(role)]
    }

    /// The first file behind a role.
    pub fn file(&self, role: Role) -> &FontFile {
        &self.font(role).file
    }

    /// Measures of the first font behind a role.
    pub fn metrics(&self, role: Role) -> Metrics {
        self.font(role).metrics
    }

    /// The file of a font, by the number that glyphs give.
    pub fn numbered(&self, font: usize) -> (&FontFile, Metrics) {
        (&self.fonts[font].file, self.fonts[font].metrics)
    }

    /// Every file that may set a text of this role, in the order in which they are asked.
    pub fn files(&self, role: Role) -> impl Iterator<Item = &FontFile> {
        self.chain(role).iter().map(|n| &self.fonts[*n].file)
    }

    /// Shapes a line of text: directions (UAX 9), kerning, ligatures, marks, and the figures and capitals of the role. The glyphs
    /// stand from left to right.
    pub fn shape(&self, role: Role, text: &str) -> Arc<Vec<Glyph>> {
        let key = (role, text.to_owned());
        if let Some(found) = self.lock().get(&key) {
            return found.clone();
        }
        let asked = |number: &usize| {
            let Font { file, metrics, oldstyle } = &self.fonts[*number];
            let (units, figures, oldstyle) = (metrics.units, file.figures, *oldstyle);
            Asked { number: *number, bytes: &file.bytes, units, figures, oldstyle }
        };
        let chain: Vec<Asked> = self.chain(role).iter().map(asked).collect();
        // A damaged table may lie in wait for a certain text; then its letters are missing, and the checks say so.
        let shaped = panics::caught(|| shaping::shape(&chain, text, role));
        let glyphs = Arc::new(shaped.unwrap_or_else(|_| not_shaped(chain[0].number, text)));
        self.lock().insert(key, glyphs.clone());
        glyphs
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Shapes> {
        // A panic while the cache was held cannot leave it half written: entries are inserted whole.
        self.shaped.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }

    /// Width of a line in points, at a size in points with tracking in em between glyphs.
    pub fn width(&self, role: Role, text: &str, size: f64, tracking: f64) -> f64 {
        let glyphs = self.shape(role, text);
        let sum: f64 = glyphs.iter().map(|g| g.advance).sum();
        let seen: Vec<&Glyph> = glyphs.iter().filter(|g| !g.is_hidden(text)).collect();
        let apart = seen.iter().take(seen.len().saturating_sub(1)).filter(|g| !g.joined).count();
        size * (sum + tracking * apart as f64)
    }

    /// The pieces of a text that one of the role's files sets, each with the place of that among [`Fonts::files`].
    pub fn pieces(&self, role: Role, text: &str) -> Vec<(usize, std::ops::Range<usize>)> {
        let faces: Vec<_> = self.files(role).map(|file| ttf_parser::Face::parse(&file.bytes, 0).ok()).collect();
        shaping::by_font(text, 0..text.len(), &faces)
    }

    /// Characters of a text that no font of a role can draw.
    pub fn missing(&self, role: Role, text: &str) -> Vec<char> {
        let faces: Vec<_> = self
            .chain(role)
            .iter()
            .filter_map(|n| ttf_parser::Face::parse(&self.fonts[*n].file.bytes, 0).ok())
            .collect();
        let lost = |c: &char| characters::is_seen(*c) && faces.iter().all(|face| face.glyph_index(*c).is_none());
        let mut out: Vec<char> = text.chars().filter(lost).collect();
        out.sort_unstable();
        out.dedup();
        out
    }

    /// Outline of a glyph for a font size in points, y down, origin on the baseline at the pen.
    pub fn outline(&self, glyph: &Glyph, size: f64) -> Path {
        let font = &self.fonts[glyph.font];
        let drawn = panics::caught(|| {
            let face = ttf_parser::Face::parse(&font.file.bytes, 0).ok()?;
            let mut pen = Outline { segs: Vec::new(), scale: size / font.metrics.units, last: Point::default() };
            face.outline_glyph(GlyphId(glyph.id), &mut pen);
            Some(Path(pen.segs))
        });
        drawn.ok().flatten().unwrap_or_default()
    }
}

impl Widths for Fonts {
    fn width(&self, role: Role, text: &str, size: f64, tracking: f64) -> f64 {
        Fonts::width(self, role, text, size, tracking)
    }
}

/// What a font file allows, by its OS/2 table; a font without one is taken as installable, as the standard says of
/// all bits clear. `None` when the bytes are no font.
pub fn embedding(bytes: &[u8]) -> Option<Embedding> {
    let permissions =
        panics::caught(|| ttf_parser::Face::parse(bytes, 0).ok().map(|face| face.permissions())).ok()??;
    Some(match permissions {
        Some(ttf_parser::Permissions::Restricted) => Embedding::Restricted,
        Some(ttf_parser::Permissions::PreviewAndPrint) => Embedding::PreviewAndPrint,
        Some(ttf_parser::Permissions::Editable) => Embedding::Editable,
        Some(ttf_parser::Permissions::Installable) | None => Embedding::Installable,
    })
}

/// Whether a font has figures of this kind for words: by its feature, or since all of its figures are such. One without any figure
/// lacks none.
pub fn has_figures(bytes: &[u8], figures: Figures) -> bool {
    lacks_nothing(bytes, |face| {
        let [Some(_), Some(_)] = ['4', '7'].map(|figure| face.glyph_index(figure)) else { return Some(true) };
        let wanted = figures == Figures::Oldstyle;
        let set = |tag| Some(oldstyle(face, &shaping::set_alone(bytes, "n47", tag)?));
        Some(set(None)? == wanted || set(Some(shaping::of_figures(figures)))? == wanted)
    })
}

/// Whether the last two of these glyphs, a 4 and a 7, are of the old style: they then reach below the line; others overshoot it by a
/// hair at most.
fn oldstyle(face: &ttf_parser::Face, ids: &[u16]) -> bool {
    let line = -0.06 * f64::from(face.units_per_em());
    let low = |id: &u16| face.glyph_bounding_box(GlyphId(*id)).is_some_and(|r| f64::from(r.y_min) < line);
    ids.iter().rev().take(2).all(low)
}

/// Whether a font's own figures are of the old style.
fn is_oldstyle(bytes: &[u8]) -> bool {
    let own = || {
        let face = ttf_parser::Face::parse(bytes, 0).ok()?;
        let ids = ['4', '7'].map(|figure| face.glyph_index(figure));
        let [Some(four), Some(seven)] = ids else { return None };
        Some(oldstyle(&face, &[four.0, seven.0]))
    };
    panics::caught(own).ok().flatten().unwrap_or(false)
}

/// Whether a font has small capitals of its own for small letters: there are fonts with the feature that have few of them. One
/// without small letters lacks none.
pub fn has_small_capitals(bytes: &[u8]) -> bool {
    const LETTERS: &str = "anz";
    lacks_nothing(bytes, |face| {
        if face.glyph_index('a').is_none() {
            return Some(true);
        }
        let plain = shaping::set_alone(bytes, LETTERS, None)?;
        let small = shaping::set_alone(bytes, LETTERS, Some(shaping::SMALL_CAPITALS))?;
        Some(plain.len() == small.len() && plain.iter().zip(&small).all(|(plain, small)| plain != small))
    })
}

/// What a font that can be read has; of another one nothing is said here.
fn lacks_nothing(bytes: &[u8], has: impl Fn(&ttf_parser::Face) -> Option<bool>) -> bool {
    let found = panics::caught(|| ttf_parser::Face::parse(bytes, 0).ok().and_then(|face| has(&face)));
    found.ok().flatten().unwrap_or(true)
}

fn measure(bytes: &[u8]) -> Option<Metrics> {
    let face = ttf_parser::Face::parse(bytes, 0).ok()?;
    let units = f64::from(face.units_per_em());
    let em = |v: i16| f64::from(v) / units;
    let ascent = em(face.ascender());
    Some(Metrics {
        units,
        ascent,
        descent: -em(face.descender()),
        cap: face.capital_height().filter(|cap| *cap > 0).or_else(|| tallest(&face)).map_or(ascent * 0.7, em),
        x: face.x_height().map_or(ascent * 0.5, em),
    })
}

/// How high a letter stands that is as high as capitals, in a font that does not say it: one without Latin letters has no capitals,
/// and states that they have no height. Of each script the letter that its lines are seen by.
fn tallest(face: &ttf_parser::Face) -> Option<i16> {
    const LETTERS: [char; 7] = ['H', 'ا', 'ה', '国', 'あ', '가', 'ก'];
    let boxes = LETTERS.into_iter().filter_map(|letter| face.glyph_bounding_box(face.glyph_index(letter)?));
    boxes.map(|bounds| bounds.y_max).find(|top| *top > 0)
}

/// A text whose font the library gave up on: the glyph for what is missing in the place of each character.
fn not_shaped(font: usize, text: &str) -> Vec<Glyph> {
    let missing = |(from, c): (usize, char)| {
        let cluster = from..from + c.len_utf8();
        Glyph { font, id: 0, advance: 0.5, dx: 0.0, dy: 0.0, cluster, joined: false, backwards: false }
    };
    text.char_indices().map(missing).collect()
}

struct Outline {
    segs: Vec<Seg>,
    scale: f64,
    last: Point,
}

impl Outline {
    fn at(&self, x: f32, y: f32) -> Point {
        Point::new(f64::from(x) * self.scale, -f64::from(y) * self.scale)
    }
}

impl OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        self.last = self.at(x, y);
        self.segs.push(Seg::Move(self.last));
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.last = self.at(x, y);
        self.segs.push(Seg::Line(self.last));
    }
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        // A quadratic curve raised to a cubic one (exact).
        let (q, end, start) = (self.at(x1, y1), self.at(x, y), self.last);
        let toward = |p: Point| Point::new(p.x + (q.x - p.x) * 2.0 / 3.0, p.y + (q.y - p.y) * 2.0 / 3.0);
        self.segs.push(Seg::Cubic(toward(start), toward(end), end));
        self.last = end;
    }
    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.last = self.at(x, y);
        self.segs.push(Seg::Cubic(self.at(x1, y1), self.at(x2, y2), self.last));
    }
    fn close(&mut self) {
        self.segs.push(Seg::Close);
    }
}
