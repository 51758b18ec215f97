//! An open PDF for whoever looks at its pages or compares them with others: their fingerprints, what they come to, and their
//! pixels.

use super::burden::Scales;
use super::fingerprint::{Digester, PageFingerprint};
use super::look::{self, Look};
use super::{order, unpack};
use base::model::panics::caught;
use base::model::{Blob, Size};
use hayro::hayro_interpret::{InterpreterSettings, RenderContent};
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use hayro_syntax::Pdf;
use hayro_syntax::page::Page;
use rayon::prelude::*;
use std::cell::Cell;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, OnceLock};

/// Pages whose fingerprints are taken in one go at least.
const RUN: usize = 100;
/// Pictures of pages are made no larger than this on either side.
const MAX_SIDE: f32 = 4000.0;

/// A PDF whose pages can be looked at.
pub struct Opened {
    pdf: Pdf,
    /// The pages as they are shown, by their places among those of `pdf`.
    order: Vec<usize>,
    /// What it takes to draw them, as far as it was asked.
    scales: Mutex<Scales>,
}

/// A page as pixels on white: rows from the top, four bytes a pixel (red, green, blue, alpha).
#[derive(Clone, Debug, PartialEq)]
pub struct PagePixels {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Pixels in a point.
    pub scale: f64,
    /// Whether all of it could be drawn; a font or a picture that cannot be read leaves a gap.
    pub whole: bool,
    /// The bytes.
    pub rgba: Vec<u8>,
}

/// Draws pages of one file, one after the other: they share a cache of fonts and glyphs until one has a gap. What is missing is told
/// once a cache, so it would depend on the workers which other pages have that gap.
pub struct Drawer<'a> {
    pdf: &'a Unopened,
    /// Taken while a page is drawn.
    cache: Cell<Option<RenderCache<'a>>>,
}

impl Drawer<'_> {
    /// A page (by index from 0) as pixels; `scale` gives how many a point has on a page of this size. `None` if it cannot be drawn.
    pub fn pixels(&self, page: usize, scale: impl Fn(Size) -> f64) -> Option<PagePixels> {
        let pdf = self.pdf.get()?;
        let (w, h) = pdf.page(page)?.render_dimensions();
        let cache = self.cache.take().unwrap_or_default();
        let drawn = pdf.draw(page, scale(Size::new(f64::from(w), f64::from(h))), &cache);
        self.cache.set(drawn.as_ref().is_some_and(|drawn| drawn.whole).then_some(cache));
        drawn
    }
}

/// A page that can be drawn.
pub struct PageToDraw<'c, 'a> {
    /// Its index from 0.
    pub number: usize,
    drawer: &'c Drawer<'a>,
}

impl PageToDraw<'_, '_> {
    /// Its pixels; `scale` gives how many a point has on a page of this size.
    pub fn pixels(&self, scale: impl Fn(Size) -> f64) -> Option<PagePixels> {
        self.drawer.pixels(self.number, scale)
    }
}

/// Opens a file; `None` if it cannot be read without a password, or not at all.
pub fn open(bytes: &Blob) -> Option<Opened> {
    if unpack::is_bomb(bytes) {
        return None;
    }
    let pdf = caught(|| Pdf::new(Arc::new(bytes.clone())).ok()).ok()??;
    let order = order::places(&pdf);
    Some(Opened { pdf, order, scales: Mutex::default() })
}

/// What the pages of a file draw; none if it cannot be opened.
pub fn fingerprints(bytes: &Blob) -> Vec<PageFingerprint> {
    open(bytes).map_or(Vec::new(), |pdf| pdf.fingerprints())
}

/// A file that is opened when somebody first asks for its pages.
pub struct Unopened {
    bytes: Blob,
    opened: OnceLock<Option<Opened>>,
}

impl Unopened {
    /// A file that may be asked for its pages.
    pub fn new(bytes: Blob) -> Unopened {
        Unopened { bytes, opened: OnceLock::new() }
    }

    /// The open file; `None` if it cannot be read without a password, or not at all.
    pub fn get(&self) -> Option<&Opened> {
        self.opened.get_or_init(|| open(&self.bytes)).as_ref()
    }

    /// Somebody who draws its pages; the file is opened for the first of them.
    pub fn drawer(&self) -> Drawer<'_> {
        Drawer { pdf: self, cache: Cell::default() }
    }

    /// Goes through pages (by index from 0) in parallel and gives what `done` makes of each, in their order. The file is
    /// opened only when `done` asks for the pixels of a page.
    pub fn each<T: Send>(&self, pages: &[usize], done: impl Fn(PageToDraw<'_, '_>) -> T + Sync) -> Vec<T> {
        pages.par_iter().map_init(|| self.drawer(), |drawer, page| done(PageToDraw { number: *page, drawer })).collect()
    }
}

impl Opened {
    fn page(&self, page: usize) -> Option<&Page<'_>> {
        self.pdf.pages().get(*self.order.get(page)?)
    }

    /// Why a page (by index from 0) is not drawn, in words with the number and its limit; `None` where it can be.
    pub fn too_much(&self, page: usize) -> Option<String> {
        let page = self.page(page)?;
        let weigh = || self.scales.lock().map(|mut scales| scales.page(page)).unwrap_or_default();
        let told = caught(weigh).ok()?.too_much();
        (!told.is_empty()).then(|| told.join(" and "))
    }

    /// How many pages it has.
    pub fn pages(&self) -> usize {
        self.order.len()
    }

    /// The fingerprints of all pages.
    pub fn fingerprints(&self) -> Vec<PageFingerprint> {
        // What pages share is read once in each run of them.
        let pages = (0..self.order.len()).into_par_iter().with_min_len(RUN).filter_map(|i| self.page(i));
        let read =
            pages.map_init(|| Digester::new(self.pdf.xref()), |digester, page| caught(|| digester.page(page)).ok());
        read.collect::<Option<Vec<_>>>().unwrap_or_default()
    }

    /// What these pages look like, by index from 0; `None` for a page that cannot be worked through.
    pub fn looks(&self, pages: &[usize]) -> Vec<Option<Look>> {
        let blind = Arc::new(AtomicBool::new(false));
        let mut eye = look::LookReader::new(&self.pdf, &settings(&blind), blind.clone());
        pages
            .iter()
            .map(|i| {
                let page = self.page(*i).filter(|_| self.too_much(*i).is_none())?;
                caught(|| eye.look(page)).ok()
            })
            .collect()
    }

    /// Width and height of a page (by index from 0) as it is shown, in points.
    pub fn size(&self, page: usize) -> Option<(f64, f64)> {
        let (w, h) = self.page(page)?.render_dimensions();
        Some((f64::from(w), f64::from(h)))
    }

    /// A page (by index from 0) as pixels, so many to a point; `None` if it cannot be drawn.
    pub fn pixels(&self, page: usize, scale: f64) -> Option<PagePixels> {
        self.draw(page, scale, &RenderCache::new())
    }

    fn draw<'a>(&'a self, page: usize, scale: f64, cache: &RenderCache<'a>) -> Option<PagePixels> {
        let page = self.page(page).filter(|_| self.too_much(page).is_none())?;
        let (w, h) = page.render_dimensions();
        let fit = (MAX_SIDE / w.max(h).max(1.0)).min(scale as f32);
        if !(w * fit >= 1.0 && h * fit >= 1.0) {
            return None;
        }
        let gaps = Arc::new(AtomicBool::new(false));
        let draw = || {
            let shown = PixmapSettings { x_scale: fit, y_scale: fit, bg_color: WHITE };
            // A picture that is made smaller keeps all of its rows and columns only where they flow into each other.
            let whole = RenderSettings { force_image_interpolation: true, ..RenderSettings::default() };
            hayro::render(page, cache, &strict(&gaps), &whole, &shown)
        };
        let pixmap = caught(draw).ok()?;
        Some(PagePixels {
            width: usize::from(pixmap.width()),
            height: usize::from(pixmap.height()),
            scale: f64::from(fit),
            whole: !gaps.load(Ordering::Relaxed),
            rgba: pixmap.data_as_u8_slice().to_vec(),
        })
    }
}

/// The same for a picture that is to show the page as it is: words in a font that stands in for theirs are a gap.
fn strict(gaps: &Arc<AtomicBool>) -> InterpreterSettings {
    let gap = gaps.clone();
    InterpreterSettings {
        font_resolver: Arc::new(move |_| {
            gap.store(true, Ordering::Relaxed);
            Some((Arc::new(notosans::REGULAR_TTF), 0))
        }),
        ..settings(gaps)
    }
}

/// Only what the page itself draws: annotations are compared as what they are. Fonts that a file names and does not
/// hold are stood in for by one that is at hand, so that their words are seen to differ. `blind` is set once something
/// could not be drawn.
fn settings(blind: &Arc<AtomicBool>) -> InterpreterSettings {
    let blind = blind.clone();
    InterpreterSettings {
        render_content: RenderContent::PAGE,
        font_resolver: Arc::new(|_| Some((Arc::new(notosans::REGULAR_TTF), 0))),
        warning_sink: Arc::new(move |_| blind.store(true, Ordering::Relaxed)),
        ..InterpreterSettings::default()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use std::fmt::Write;

    /// A page of one picture of so many pixels on each side, white within a black frame of four pixels.
    fn framed(side: usize) -> Vec<u8> {
        let edge = |n: usize| n < 4 || n >= side - 4;
        let mut pixels = String::new();
        for (y, x) in (0..side).flat_map(|y| (0..side).map(move |x| (y, x))) {
            pixels.push_str(if edge(x) || edge(y) { "00" } else { "ff" });
        }
        let content = format!("q {side} 0 0 {side} 10 10 cm /P Do Q");
        let objects = [
            "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_owned(),
            format!(
                "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {0} {0}] /Contents 4 0 R /Resources << /XObject << /P 5 0 R >> >> >>",
                side + 20
            ),
            format!("<< /Length {} >>\nstream\n{content}\nendstream", content.len()),
            format!(
                "<< /Type /XObject /Subtype /Image /Width {side} /Height {side} /BitsPerComponent 8 /ColorSpace /DeviceGray \
                 /Filter /ASCIIHexDecode /Length {} >>\nstream\n{pixels}>\nendstream",
                pixels.len() + 1
            ),
        ];
        let (mut out, mut places) = ("%PDF-1.7\n".to_owned(), Vec::new());
        for (i, object) in objects.iter().enumerate() {
            places.push(out.len());
            write!(out, "{} 0 obj\n{object}\nendobj\n", i + 1).unwrap();
        }
        let table = out.len();
        write!(out, "xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1).unwrap();
        for place in places {
            writeln!(out, "{place:010} 00000 n ").unwrap();
        }
        write!(out, "trailer\n<< /Size {} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF\n", objects.len() + 1).unwrap();
        out.into_bytes()
    }

    #[test]
    fn a_picture_that_is_made_smaller_keeps_its_last_rows_and_columns() {
        for side in [90, 97, 128] {
            let pdf = open(&framed(side).into()).unwrap();
            for scale in (20..100).map(|percent| f64::from(percent) / 100.0) {
                let page = pdf.pixels(0, scale).unwrap();
                let grey = |x: usize, y: usize| u32::from(page.rgba[4 * (y * page.width + x)]);
                let (middle, ink) = (page.width / 2, (0..page.width.min(page.height)));
                // How much ink lies on the way from each edge to the middle.
                let from_top: u32 = ink.clone().take(middle).map(|y| 255 - grey(middle, y)).sum();
                let from_foot: u32 = ink.clone().skip(middle).map(|y| 255 - grey(middle, y)).sum();
                let from_left: u32 = ink.clone().take(middle).map(|x| 255 - grey(x, middle)).sum();
                let from_right: u32 = ink.skip(middle).map(|x| 255 - grey(x, middle)).sum();
                let wanted = 4.0 * scale * 255.0;
                for (edge, there) in [from_top, from_foot, from_left, from_right].into_iter().enumerate() {
                    let lost = wanted - f64::from(there);
                    assert!(lost < 0.3 * 255.0, "edge {edge} of {side} pixels at {scale}: {there}, not {wanted:.0}");
                }
            }
        }
    }
}
