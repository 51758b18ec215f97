//! From a filled layout to pixels: the drawing is read once to learn how large everything is shown, and a second time
//! with pages drawn at exactly that size.

use super::open_files::{self, OpenFiles};
use super::typecase::ROLES;
use super::words::undirected;
use base::model::drawing::Picture;
use base::model::panics;
use base::model::shot::Words;
use base::model::{Fault, Size};
use draw::Fonts;
use draw::{characters, limits};
use raster::Raster;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{self, ImageKind, Node, fontdb, roxmltree};
use std::collections::BTreeMap;
use std::io::Cursor;
use std::sync::{Arc, Mutex, PoisonError};

/// Pixels that pages of a moving picture share, so that each is drawn once.
type Drawn = BTreeMap<String, Arc<Vec<u8>>>;

/// A composed picture: opaque pixels, and its words.
pub struct Still {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Red, green, blue.
    pub rgb: Vec<u8>,
    /// What can be read on it.
    pub words: Vec<Words>,
    /// What the widest page of a file covers: left, top, right and bottom in pixels.
    pub page: Option<[f64; 4]>,
}

/// What a drawing shows, learnt before anything is drawn.
#[derive(Default)]
struct Seen {
    /// How many pixels wide every picture is at most.
    widths: BTreeMap<String, f64>,
    words: Vec<Words>,
    page: Option<[f64; 4]>,
}

/// What pictures are composed with.
pub struct PictureCanvas<'a> {
    /// The finished files.
    pub open_files: &'a OpenFiles,
    /// Pictures of the designer's, by the path that stands in the layout.
    pub art: &'a BTreeMap<String, Arc<Picture>>,
    /// The product's fonts, for measuring.
    pub fonts: &'a Fonts,
    /// The same for setting type.
    pub case: Arc<fontdb::Database>,
}

impl PictureCanvas<'_> {
    /// Composes a picture of this size from an SVG text. `file` is the layout's name for messages.
    pub fn compose(&self, svg: &str, file: &str, width: u32, height: u32) -> Result<Still, Fault> {
        let asked: Mutex<Vec<(String, Arc<Vec<u8>>)>> = Mutex::new(Vec::new());
        let first = self.parse(svg, file, |href| {
            let size = self.size(href)?;
            let stand_in = Arc::new(header(size));
            asked.lock().unwrap_or_else(PoisonError::into_inner).push((href.to_owned(), stand_in.clone()));
            Some(stand_in)
        })?;
        let scale = f64::from(width) / f64::from(first.size().width());
        let down = f64::from(height) / f64::from(first.size().height());
        if (scale / down - 1.0).abs() > 0.01 {
            let (w, h) = (first.size().width(), first.size().height());
            return Err(Fault::new(format!("the layout is {w} × {h}, which is not the shape of {width} × {height} px"))
                .in_file(file)
                .help("write width=\"{{ w }}\" height=\"{{ h }}\" in the svg element, or give the picture the size of the layout"));
        }
        let asked = asked.into_inner().unwrap_or_else(PoisonError::into_inner);
        let mut seen = Seen::default();
        self.walk(first.root(), scale, &asked, &mut seen);
        let drawn: Drawn = seen
            .widths
            .iter()
            .filter_map(|(href, width)| Some((href.clone(), Arc::new(png(&self.draw(href, *width)?)?))))
            .collect();
        let tree = self.parse(svg, file, |href| drawn.get(href).cloned())?;
        let none = || Fault::new(format!("no memory for {width} × {height} px")).in_file(file);
        let mut pixmap = Pixmap::new(width, height).ok_or_else(none)?;
        pixmap.fill(resvg::tiny_skia::Color::WHITE);
        let sx = width as f32 / tree.size().width();
        let sy = height as f32 / tree.size().height();
        let paper = limits::Paper::Picture(f64::from(sx.max(sy)), f64::from(width) * f64::from(height));
        limits::work(&tree, paper).map_err(|f| f.in_file(file))?;
        let draw = || resvg::render(&tree, Transform::from_scale(sx, sy), &mut pixmap.as_mut());
        panics::fenced(draw).map_err(|gave_up| gave_up.fault("layout", file))?;
        let pixels = pixmap.data().as_chunks::<4>().0;
        let mut rgb = Vec::with_capacity(pixels.len() * 3);
        pixels.iter().for_each(|p| rgb.extend([p[0], p[1], p[2]]));
        Ok(Still { width, height, rgb, words: seen.words, page: seen.page })
    }

    fn size(&self, href: &str) -> Option<Size> {
        let own = || self.art.get(href).map(|p| Size::new(f64::from(p.width), f64::from(p.height)));
        self.open_files.size(href).or_else(own)
    }

    fn draw(&self, href: &str, width: f64) -> Option<Raster> {
        match self.art.get(href) {
            Some(picture) => Some(open_files::art(picture, width)),
            None => self.open_files.draw(href, width),
        }
    }

    fn parse(
        &self,
        svg: &str,
        file: &str,
        find: impl Fn(&str) -> Option<Arc<Vec<u8>>> + Send + Sync,
    ) -> Result<usvg::Tree, Fault> {
        let found: Mutex<limits::pictures::Found> = Mutex::default();
        let options = usvg::Options {
            fontdb: self.case.clone(),
            font_family: "label".to_owned(),
            image_href_resolver: usvg::ImageHrefResolver {
                resolve_data: limits::pictures::resolver(&found),
                resolve_string: Box::new(move |href, _| find(href).map(ImageKind::PNG)),
            },
            ..usvg::Options::default()
        };
        let wrong = |why: String| Fault::new(format!("the layout is no drawing that can be read: {why}")).in_file(file);
        let doc = roxmltree::Document::parse(svg).map_err(|e| wrong(e.to_string()))?;
        limits::parts(&doc, svg).map_err(|f| f.in_file(file))?;
        let read = || usvg::Tree::from_xmltree(&doc, &options).map_err(|e| wrong(e.to_string()));
        let tree = panics::file("layout", file, read)?;
        let fault = found.lock().unwrap_or_else(PoisonError::into_inner).fault.take();
        fault.map_or(Ok(tree), |fault| Err(fault.in_file(file)))
    }

    /// How wide every picture is shown, and what can be read.
    fn walk(&self, group: &usvg::Group, scale: f64, asked: &[(String, Arc<Vec<u8>>)], seen: &mut Seen) {
        for node in group.children() {
            match node {
                Node::Group(inner) => self.walk(inner, scale, asked, seen),
                Node::Image(image) => {
                    let ImageKind::PNG(bytes) = image.kind() else { continue };
                    let Some((href, _)) = asked.iter().find(|a| Arc::ptr_eq(&a.1, bytes)) else { continue };
                    let t = image.abs_transform();
                    let wide = f64::from(image.size().width()) * libm::hypot(f64::from(t.sx), f64::from(t.ky)) * scale;
                    let most = seen.widths.entry(href.clone()).or_default();
                    *most = most.max(wide.min(8000.0));
                    let area = image.abs_bounding_box();
                    let area = [area.left(), area.top(), area.right(), area.bottom()].map(|v| f64::from(v) * scale);
                    if href.starts_with("page/") && seen.page.is_none_or(|p| area[2] - area[0] > p[2] - p[0]) {
                        seen.page = Some(area);
                    }
                }
                Node::Text(text) => self.read(text, scale, &mut seen.words),
                Node::Path(_) => {}
            }
        }
    }

    fn read(&self, text: &usvg::Text, scale: f64, words: &mut Vec<Words>) {
        let t = text.abs_transform();
        let grown = f64::from(t.sx * t.sy - t.kx * t.ky).abs().sqrt() * scale;
        let area = text.abs_bounding_box();
        let area = [area.x(), area.y(), area.width(), area.height()].map(|v| f64::from(v) * scale);
        for chunk in text.chunks() {
            let caps = chunk.spans().iter().map(|span| {
                let family = span.font().families().iter().find_map(|f| match f {
                    usvg::FontFamily::Named(name) => ROLES.iter().find(|r| r.0 == name).map(|r| r.1),
                    _ => None,
                });
                let role = family.unwrap_or(base::model::Role::Label);
                self.fonts.metrics(role).cap * f64::from(span.font_size().get()) * grown
            });
            let cap = caps.fold(f64::INFINITY, f64::min);
            let said = undirected(chunk.text());
            let said = said.trim();
            if cap.is_finite() && !said.is_empty() {
                let boxed: String = characters::boxed_in(text).filter(|c| said.contains(*c)).collect();
                words.push(Words { text: said.to_owned(), cap, area, boxed });
            }
        }
    }
}

/// A PNG that says only how large it is: it is measured, never drawn. A hundred pixels to the point keep the shape.
fn header(size: Size) -> Vec<u8> {
    let side = |v: f64| ((v * 100.0).round().max(1.0) as u32).to_be_bytes();
    let mut out = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
    out.extend(side(size.w));
    out.extend(side(size.h));
    out.extend([8, 6, 0, 0, 0, 0, 0, 0, 0]);
    out
}

/// Pixels as a PNG for the renderer, hardly packed.
fn png(r: &Raster) -> Option<Vec<u8>> {
    let mut out = Cursor::new(Vec::new());
    let mut encoder = png::Encoder::new(&mut out, r.w as u32, r.h as u32);
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fastest);
    let mut writer = encoder.write_header().ok()?;
    writer.write_image_data(&r.bytes()).ok()?;
    writer.finish().ok()?;
    Some(out.into_inner())
}
