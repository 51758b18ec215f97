//! Listing pictures: composed from the pages, covers and stickers that buyers get, drawn from the finished files.
//!
//! A layout is an SVG text that tera fills; those that come with the tool and the designer's own are treated alike. Numbers on a
//! picture are the facts of the finished files, pages are the pages of the finished PDF. What can be read on a picture
//! is measured while it is composed, so that a check can say whether it can be read small.

mod allowed;
mod arrange;
mod choose;
mod compose;
mod encode;
mod film;
mod flip;
mod functions;
mod kin;
mod layouts;
mod open_files;
mod shade;
mod tabs;
mod typecase;
mod variants;
mod way;
mod words;

use base::colour;
use base::model::drawing::Picture;
use base::model::product::{Cover, CoverDesign};
use base::model::shot::{Shot, ShotFormat, ShotLayout, Words};
use base::model::{Artifact, Fault, Inspected, Kind, Plan, Product, Rgb, Sha, Size};
use compose::PictureCanvas;
use draw::Fonts;
use draw::cover::Side;
use draw::template;
use draw::template::Template;
use functions::{LayoutFunctions, Palette};
use inspect::Reader;
pub use kin::{FIRST, Kin};
use open_files::OpenFiles;
use resvg::usvg::fontdb;
use serde_json::{Value as Json, json};
use std::collections::BTreeMap;
use std::sync::Arc;
use tera::{Context, Tera};
use wording::Tongue;

/// Where pictures are taken: the finished files, open, and the facts about them.
pub struct PictureContext<'a> {
    product: &'a Product,
    plan: &'a Plan,
    inspected: &'a [Inspected],
    facts: Json,
    open_files: OpenFiles,
    fonts: Arc<Fonts>,
    case: Arc<fontdb::Database>,
}

/// A picture that was taken.
pub struct Taken {
    /// The file.
    pub bytes: Vec<u8>,
    /// What can be read on it.
    pub words: Vec<Words>,
}

/// A picture that is laid out and not drawn yet.
pub struct Sketch {
    /// Its drawing as SVG, once for each frame.
    frames: Vec<String>,
    /// What the frames show, for a picture that moves.
    moments: Vec<way::Moment>,
}

impl Sketch {
    /// All that tells this picture from others, but for what its addresses lead to.
    pub fn text(&self) -> String {
        let delays: Vec<u32> = self.moments.iter().map(|m| m.delay).collect();
        format!("{delays:?}\n{}", self.frames.join("\n"))
    }

    /// Every address in it, each once: `page/3`, `cover/1`, `sticker/12`, `variant/2`, or a path of the designer's. `None` where they cannot be
    /// read off its text with certainty, so that everything has to be taken for shown.
    pub fn shown(&self) -> Option<Vec<&str>> {
        let mut out = std::collections::BTreeSet::new();
        for frame in &self.frames {
            if frame.contains("<!") {
                return None;
            }
            for (at, word) in frame.match_indices("href") {
                let rest = frame[at + word.len()..].trim_start().strip_prefix('=')?.trim_start();
                let quote = rest.chars().next().filter(|c| matches!(c, '"' | '\''))?;
                let value = rest[1..].split(quote).next()?;
                if value.contains('&') {
                    return None;
                }
                out.insert(value.trim());
            }
        }
        Some(out.into_iter().collect())
    }
}

/// Where a picture lies in the bundle; `number` counts from 1.
pub fn path(shot: &Shot, number: usize) -> String {
    format!("listing/pictures/{number:02}-{}.{}", shot.name, shot.format.ending())
}

impl<'a> PictureContext<'a> {
    /// Takes the finished files, which `reader` reads. `facts` are those of the listing, `kin` the products that stand beside each
    /// other.
    ///
    /// # Errors
    /// Fonts that cannot be read.
    pub fn open(
        product: &'a Product,
        plan: &'a Plan,
        contents: &[Artifact],
        inspected: &'a [Inspected],
        facts: Json,
        kin: Vec<Kin>,
        reader: &dyn Reader,
    ) -> Result<PictureContext<'a>, Vec<Fault>> {
        let fonts = Fonts::open(&product.style.fonts)?;
        let case = typecase::typecase(&fonts);
        let mut open_files = OpenFiles::open(&product.variants, contents, inspected, reader);
        open_files.kin = kin;
        Ok(PictureContext { product, plan, inspected, facts, open_files, fonts: Arc::new(fonts), case })
    }

    /// The language of the listing; its formats are not shared between threads.
    fn tongue(&self) -> Tongue {
        Tongue::of(self.product)
    }

    /// The addresses of the variants' first pages and of products beside each other, each with a digest of what it shows.
    pub fn fronts(&self) -> impl Iterator<Item = (String, Option<Sha>)> {
        let variants = self.open_files.variants.iter().enumerate().map(|(i, v)| (format!("variant/{}", i + 1), v.look));
        variants.chain(self.open_files.kin.iter().enumerate().map(|(i, one)| (format!("kin/{}", i + 1), one.look())))
    }

    /// Lays a picture out: which pages are on it, and every word.
    ///
    /// # Errors
    /// A layout that cannot be filled, a page that is not there.
    pub fn sketch(&self, shot: &Shot) -> Result<Sketch, Vec<Fault>> {
        match shot.format {
            ShotFormat::Gif => return flip::sketch(self, shot),
            ShotFormat::Film => return film::sketch(self, shot),
            ShotFormat::Png | ShotFormat::Jpeg(_) => {}
        }
        let pages = choose::pages(self, shot)?;
        Ok(Sketch { frames: vec![self.filled(shot, &pages, &json!({}))?], moments: Vec::new() })
    }

    /// Takes a picture that is laid out.
    ///
    /// # Errors
    /// A layout that cannot be read or drawn.
    pub fn take(&self, shot: &Shot, sketch: &Sketch) -> Result<Taken, Vec<Fault>> {
        match shot.format {
            ShotFormat::Gif => return flip::through(self, shot, sketch),
            ShotFormat::Film => return film::through(self, shot, sketch),
            ShotFormat::Png | ShotFormat::Jpeg(_) => {}
        }
        let still = self.compose(shot, sketch.frames.first().map_or("", String::as_str))?;
        let bytes = encode::still(&still, shot.format).map_err(|f| vec![f])?;
        Ok(Taken { bytes, words: still.words })
    }

    /// Composes a filled layout.
    fn compose(&self, shot: &Shot, svg: &str) -> Result<compose::Still, Vec<Fault>> {
        let (file, text, art) = self.layout(shot);
        allowed::look_over(svg, &file, text, &self.open_files, art)?;
        let canvas = PictureCanvas { open_files: &self.open_files, art, fonts: &self.fonts, case: self.case.clone() };
        canvas.compose(svg, &file, shot.width, shot.height).map_err(|f| vec![f])
    }

    /// Name, text and pictures of a layout.
    fn layout<'s>(&'s self, shot: &'s Shot) -> (String, &'s str, &'s BTreeMap<String, Arc<Picture>>) {
        static NONE: BTreeMap<String, Arc<Picture>> = BTreeMap::new();
        match &shot.layout {
            ShotLayout::BuiltIn(name) => (format!("layout {name}"), layouts::template(name).unwrap_or_default(), &NONE),
            ShotLayout::Own { path, text, art } => (path.clone(), text, art),
        }
    }

    /// Fills a layout: `pages` are indices into the notebook; `more` is known to the layout as `step`.
    fn filled(&self, shot: &Shot, pages: &[usize], more: &Json) -> Result<String, Vec<Fault>> {
        let (file, text, _) = self.layout(shot);
        let style = &self.product.style;
        let ground = shot.ground.unwrap_or_else(|| tint(style.accent, style.paper));
        let palette = Palette::new(ground, style.ink, style.paper, style.accent);
        let (w, h) = (f64::from(shot.width), f64::from(shot.height));
        let pixels = matches!(shot.layout, ShotLayout::BuiltIn(_));
        let (fonts, corner, spine) = (self.fonts.clone(), style.corner.pt(), Side::of(self.product.page.coil));
        let props = LayoutFunctions { w, h, palette, fonts, corner, spine, pixels };
        let mut tera = Tera::default();
        tera.autoescape_on(vec![".svg"]);
        props.register(&mut tera);
        let right_to_left = self.product.page.right_to_left;
        arrange::register(&mut tera, &self.open_files, right_to_left);
        template::limit(&mut tera);
        let made = Template::new(text);
        let fault = |e: &tera::Error, text: &str| vec![allowed::of_template(e, &file, text, &made)];
        tera.add_raw_template("layout.svg", made.text()).map_err(|e| fault(&e, text))?;
        let mut context = self.context(pages, palette);
        context.insert("best", &self.best(shot, pages));
        context.insert("w", &w);
        context.insert("h", &h);
        let window = tabs::window(self, pages.first().copied().unwrap_or_default(), Size::new(w, h));
        context.insert(
            "tabs",
            &json!({ "top": window.top, "high": window.high, "left": window.left, "free": window.free }),
        );
        // A measure that goes with the smaller side: 1 on a picture of 2000 × 1500.
        context.insert("u", &(w / 2000.0).min(h / 1500.0));
        context.insert("step", more);
        context.insert("right_to_left", &right_to_left);
        let variants = variants::seen(self);
        let (title, line) = match &shot.layout {
            ShotLayout::BuiltIn(name) => words::of(self, name, &variants),
            ShotLayout::Own { .. } => (String::new(), String::new()),
        };
        context.insert("variants", &variants);
        for (key, own, usual) in [("title", &shot.title, title), ("line", &shot.line, line)] {
            context.insert(key, own.as_deref().unwrap_or(&usual).trim());
        }
        template::fill(&tera, "layout.svg", &context).map_err(|e| fault(&e, text))
    }

    /// What layouts know.
    fn context(&self, pages: &[usize], palette: Palette) -> Context {
        let product = self.product;
        let mut context = Context::new();
        context.insert("facts", &self.facts);
        context.insert(
            "product",
            &json!({
                "name": product.name,
                "version": product.version,
                "shop": product.shop.name,
                "spread": product.page.spread,
            }),
        );
        let c = palette;
        context.insert(
            "colour",
            &json!({
                "ground": c.ground.to_string(), "ink": c.ink.to_string(), "quiet": c.quiet.to_string(),
                "accent": c.accent.to_string(), "paper": c.paper.to_string(), "shadow": c.shadow.to_string(),
                "page_ink": product.style.ink.to_string(), "desk": product.style.desk.to_string(),
                "line": colour::mix(c.ink, c.ground, 0.75).to_string(),
            }),
        );
        let shown = pages.iter().filter_map(|i| {
            let mut page = self.page(*i)?;
            page["said"] = json!(choose::said_of(self, *i).unwrap_or_default());
            Some(page)
        });
        let shown: Vec<Json> = shown.collect();
        context.insert("pages", &shown);
        let places = choose::places(self);
        let by_place: BTreeMap<&String, Json> =
            places.iter().filter_map(|(place, i)| Some((place, self.page(*i)?))).collect();
        context.insert("place", &by_place);
        context.insert("counts", &words::counts(self));
        context.insert("templates", &self.named(choose::templates(self)));
        context.insert("covers", &self.covers());
        context.insert("kin", &kin::seen(self));
        let stickers: Vec<Json> = self
            .open_files
            .stickers
            .iter()
            .enumerate()
            .map(|(i, s)| json!({ "href": format!("sticker/{}", i + 1), "name": s.name, "w": s.size.w, "h": s.size.h }))
            .collect();
        context.insert("stickers", &stickers);
        context
    }

    /// Pages with their names.
    fn named(&self, pages: Vec<(String, usize)>) -> Vec<Json> {
        let named = pages.into_iter().filter_map(|(name, i)| {
            let mut page = self.page(i)?;
            page["name"] = json!(name);
            Some(page)
        });
        named.collect()
    }

    /// The templates that can be seen well on one picture, what is said of those that are not on it, and how many lines
    /// the longest of the names takes at most.
    fn best(&self, shot: &Shot, pages: &[usize]) -> Json {
        let (shown, more) = choose::best(self, shot, pages);
        let lines = if shown.iter().any(|(name, _)| name.chars().count() > 22) { 2 } else { 1 };
        json!({ "shown": self.named(shown), "more": words::more(self, more), "lines": lines })
    }

    fn page(&self, index: usize) -> Option<Json> {
        let size = self.open_files.pages.get(index)?;
        let cover = self.product.notebook.as_ref().filter(|_| index == 0).map(|n| &n.cover);
        let whole = cover.is_some_and(|c| matches!(c.design, CoverDesign::Art(_)));
        let href = format!("page/{}", index + 1);
        let lies = kin::laid(*size, whole, self.product.style.corner.pt());
        let number = index + 1;
        Some(json!({
            "href": href, "number": number, "w": size.w, "h": size.h, "wide": lies.w, "high": lies.h, "whole": whole,
        }))
    }

    /// The alternate covers; the notebook's own comes first in their file.
    fn covers(&self) -> Vec<Json> {
        let own = self.product.notebook.iter().map(|n| &n.cover);
        let all: Vec<&Cover> = own.chain(&self.product.covers).collect();
        let known = |i: usize| all.get(i).filter(|_| all.len() == self.open_files.alternates.len());
        let sizes = self.open_files.alternates.iter().enumerate();
        sizes
            .map(|(i, size)| {
                let name = known(i).map_or("", |c| if c.name.is_empty() { &self.product.name } else { &c.name });
                let whole = known(i).is_some_and(|c| matches!(c.design, CoverDesign::Art(_)));
                let href = format!("cover/{}", i + 1);
                let lies = kin::laid(*size, whole, self.product.style.corner.pt());
                json!({ "href": href, "name": name, "w": size.w, "h": size.h, "wide": lies.w, "high": lies.h, "whole": whole })
            })
            .collect()
    }
}

/// A ground that goes with a product: its accent, very light, as a tinted wall would be.
fn tint(accent: Rgb, paper: Rgb) -> Rgb {
    let [_, chroma, hue] = colour::to_oklch(accent);
    let [lightness, _, paper_hue] = colour::to_oklch(paper);
    if lightness > 0.6 {
        colour::oklch(0.915, chroma.min(0.02), hue)
    } else {
        // Beside dark paper a slate of the paper's own hue, a step lighter, so that sheets and their shadows show.
        colour::oklch(0.4, 0.012, if paper_hue.is_finite() { paper_hue } else { hue })
    }
}

/// The kind of a picture's file.
pub const KIND: Kind = Kind::Picture;
