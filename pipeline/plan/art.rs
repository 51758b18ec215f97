//! The designer's own artwork on pages: made ready, fitted to its room, its tap areas led to their places.

use super::places::Places;
use base::model::art::{ArtLink, ArtPage, ArtSource, Measure, Tap, TapTo};
use base::model::drawing::{Art, ArtBytes, Shape};
use base::model::fault::SourceSpan;
use base::model::plan::{About, Remark};
use base::model::units::{PT_PER_MM, trim_number};
use base::model::{Drawing, Fault, Link, Product, Rect, Size, Where};
use draw::artwork;
use draw::artwork::Region;
use draw::artwork::{PT_PER_PX, Ready};
use draw::mirror;
use draw::svg_loader::{MissingGlyph, SvgLoader, UNSET};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::rc::Rc;

/// A tap area smaller than this, in points, cannot be meant.
const LEAST: f64 = 2.0;

/// Makes art ready for pages. The same drawing with the same words in it is made once.
pub struct ArtLoader<'a> {
    product: &'a Product,
    svg: SvgLoader,
    ready: BTreeMap<String, Rc<Ready>>,
    /// What came up.
    pub remarks: Vec<Remark>,
    /// What cannot be used.
    pub faults: Vec<Fault>,
}

/// Art on its page.
#[derive(Clone, Debug, Default)]
pub struct Laid {
    /// The art, and nothing else.
    pub drawing: Drawing,
    /// Its tap areas.
    pub links: Vec<Link>,
}

impl<'a> ArtLoader<'a> {
    /// A loader with the fonts of a product.
    pub fn new(product: &'a Product) -> ArtLoader<'a> {
        ArtLoader {
            product,
            svg: SvgLoader::with(&product.style, &product.art_fonts),
            ready: BTreeMap::new(),
            remarks: Vec::new(),
            faults: Vec::new(),
        }
    }

    /// The product whose art this is.
    pub fn product(&self) -> &Product {
        self.product
    }

    /// What every template of a drawing can say.
    pub fn data(&self) -> Map<String, Value> {
        let (product, style) = (self.product, &self.product.style);
        let mm = |pt: f64| (pt / PT_PER_MM * 1000.0).round() / 1000.0;
        let sections = product.notebook.iter().flat_map(|n| &n.sections).enumerate();
        let sections: Vec<Value> =
            sections.map(|(i, s)| json!({ "name": s.name, "number": i + 1, "colour": s.colour.to_string() })).collect();
        let all = json!({
            "product": { "name": product.name, "version": product.version, "shop": product.shop.name },
            "style": {
                "ink": style.ink.to_string(),
                "rule": style.rule.to_string(),
                "paper": style.paper.to_string(),
                "desk": style.desk.to_string(),
                "accent": style.accent.to_string(),
            },
            "page": { "width": mm(product.page.size.w), "height": mm(product.page.size.h) },
            "sections": sections,
            "data": product.data,
        });
        match all {
            Value::Object(map) => map,
            _ => Map::new(),
        }
    }

    /// Lays art on a page: `room` is where it goes, `data` what a template can say, `places` where its links can lead.
    pub fn lay(&mut self, art: &ArtPage, room: Rect, data: &Map<String, Value>, places: &Places) -> Laid {
        let (shared, own_size, regions, unit) = match &art.source {
            ArtSource::Svg(text) => {
                let Some(ready) = self.ready(art, text, data) else { return Laid::default() };
                let mut regions = Vec::new();
                for r in &ready.regions {
                    if r.sure || self.clear(art, r, places) {
                        regions.push((r.to.clone(), r.rect, Some(r.span.clone())));
                    }
                }
                (ready.art.clone(), true, regions, PT_PER_PX)
            }
            ArtSource::Picture(picture) => {
                let ready = self.kept(&art.file, || artwork::of_pixels(picture));
                (ready.art.clone(), false, Vec::new(), 1.0)
            }
            ArtSource::Jpeg { bytes, width, height, grey } => {
                let ready = self.kept(&art.file, || artwork::of_jpeg(&art.file, bytes, *width, *height, *grey));
                (ready.art.clone(), false, Vec::new(), 1.0)
            }
            ArtSource::Pdf { bytes, page, size, taps } => {
                let source = ArtBytes::Page { pdf: bytes.clone(), page: *page };
                let make = || Art { name: art.file.clone(), source, size: *size };
                let ready = self.kept(&format!("{} page {}", art.file, page + 1), make);
                (ready.art.clone(), true, self.aimed(art, taps, places), PT_PER_PX)
            }
        };
        let (at, wrong) = art.fit.place(shared.size, own_size, room);
        if let Some(wrong) = wrong {
            self.remark(About::ArtShape, art, misfit(art, shared.size, own_size, room, &wrong));
        }
        for note in &art.notes {
            self.remark(About::ArtLeftOut, art, format!("{}: {note}", art.file));
        }
        let clip = at.crossing(room);
        let mut laid = Laid::default();
        // Where it lands, against its own size.
        let scale = at.w / shared.size.w;
        let from_pdf = matches!(art.source, ArtSource::Pdf { .. });
        for (to, rect, span) in regions {
            let k = unit * scale;
            let rect = Rect::new(at.x + rect.x * k, at.y + rect.y * k, rect.w * k, rect.h * k);
            let about = |f: Fault| {
                // Where a link of a PDF leads is said in the manifest, if anywhere.
                let f = f.in_file(if from_pdf { "product.toml" } else { &art.file });
                span.clone().map_or(f.clone(), |s| f.at(s))
            };
            self.led(art, &to, rect, clip, places, &mut laid.links, about);
        }
        for link in &art.links {
            let rect = measured(link, at, shared.size, scale, unit);
            let about = |f: Fault| {
                let f = f.in_file("product.toml");
                link.span.clone().map_or(f.clone(), |s| f.at(s))
            };
            self.led(art, &link.to, rect, clip, places, &mut laid.links, about);
        }
        if self.product.page.right_to_left {
            // Art changes sides with its page and is not mirrored, and so are its tap areas: mirrored twice, they stay.
            for link in &mut laid.links {
                link.rect = mirror::rect_within(link.rect, at);
            }
        }
        laid.drawing.push(Shape::Art { art: shared, at, clip });
        laid
    }

    /// A drawing made ready, once for each text that comes of it.
    fn ready(&mut self, art: &ArtPage, text: &str, data: &Map<String, Value>) -> Option<Rc<Ready>> {
        let templated = text.contains("{{") || text.contains("{%");
        let words = if templated { serde_json::to_string(data).unwrap_or_default() } else { String::new() };
        let key = format!("{}\n{}\n{words}", art.file, art.hide_links);
        if let Some(found) = self.ready.get(&key) {
            return Some(found.clone());
        }
        let ready = match artwork::svg(&self.svg, &art.file, text, data, art.hide_links) {
            Ok(ready) => Rc::new(ready),
            Err(faults) => {
                let all = &mut self.faults;
                for fault in faults {
                    if !all.contains(&fault) {
                        all.push(fault);
                    }
                }
                return None;
            }
        };
        for lack in &ready.lacks {
            match lack {
                MissingGlyph::Family(name) => self.remark(
                    About::ArtFont,
                    art,
                    format!("a text in {} asks for the font “{name}”, which the product does not have", art.file),
                ),
                MissingGlyph::Character(c) => self.remark(
                    About::ArtCharacter,
                    art,
                    format!("{}: no font of the product has the character “{c}” (U+{:04X})", art.file, u32::from(*c)),
                ),
                MissingGlyph::Unset(c) => self.remark(
                    About::ArtCharacter,
                    art,
                    format!("{}: the character “{c}” (U+{:04X}) {UNSET}", art.file, u32::from(*c)),
                ),
            }
        }
        for long in &ready.overlong {
            let at = long.span.as_ref().map_or(String::new(), |s| format!(" (line {}, filled in)", s.line));
            self.remark(
                About::TextTooLong,
                art,
                format!("{}{at}: “{}” is {} mm too long for its room", art.file, long.text, trim_number(long.by, 1)),
            );
        }
        for note in &ready.notes {
            self.remark(About::ArtLeftOut, art, format!("{}: {note}", art.file));
        }
        self.ready.insert(key, ready.clone());
        Some(ready)
    }

    /// A picture made ready, once.
    fn kept(&mut self, file: &str, make: impl FnOnce() -> Art) -> Rc<Ready> {
        let make = || Rc::new(Ready::of(make()));
        self.ready.entry(format!("{file}\npicture")).or_insert_with(make).clone()
    }

    /// Where the own links of a PDF lead in this notebook: as the manifest says, to the page of the notebook that shows
    /// the page they led to, or to their address.
    fn aimed(&mut self, art: &ArtPage, taps: &[Tap], places: &Places) -> Vec<(String, Rect, Option<SourceSpan>)> {
        let mut out = Vec::new();
        let mut used = vec![false; art.re_aim.len()];
        for tap in taps {
            let (names, page) = match &tap.to {
                TapTo::Page(page) => (vec![format!("page {}", page + 1)], Some(*page)),
                TapTo::Name(name, page) => {
                    let numbered = page.map(|p| format!("page {}", p + 1));
                    (std::iter::once(name.clone()).chain(numbered).collect(), *page)
                }
                TapTo::Address(address) => (vec![address.clone()], None),
            };
            let aimed = names.iter().find_map(|n| art.re_aim.iter().position(|r| r.from == *n));
            if let Some(i) = aimed {
                used[i] = true;
                let aim = &art.re_aim[i];
                if !aim.to.is_empty() {
                    out.push((aim.to.clone(), tap.rect, aim.span.clone()));
                }
                continue;
            }
            if !art.keep_links {
                continue;
            }
            match (&tap.to, page.and_then(|p| places.showing(&art.file, p))) {
                (TapTo::Address(address), _) => out.push((address.clone(), tap.rect, art.span.clone())),
                (_, Some(place)) => out.push((place.to_string(), tap.rect, art.span.clone())),
                _ if places.is_empty() => {}
                _ => self.remark(
                    About::ArtLink,
                    art,
                    format!(
                        "{}: a link to {} leads nowhere in this notebook; aim it with re-aim = {{ \"{}\" = \"index\" }}, or drop it with \"\"",
                        art.file, names[0], names[0]
                    ),
                ),
            }
        }
        for (aim, used) in art.re_aim.iter().zip(used) {
            if !used {
                self.remark(About::ArtLink, art, format!("{}: no link of this page leads to {}", art.file, aim.from));
            }
        }
        out
    }

    fn remark(&mut self, about: About, art: &ArtPage, message: String) {
        let place = Where::file("product.toml");
        let place = art.span.clone().map_or(place.clone(), |s| place.span(s));
        let remark = Remark { about, place, message };
        if !self.remarks.contains(&remark) {
            self.remarks.push(remark);
        }
    }

    /// Whether an object that is called a little like a tap area is one: there is a place of that name. Otherwise it is told.
    fn clear(&mut self, art: &ArtPage, region: &Region, places: &Places) -> bool {
        if places.is_empty() {
            return false;
        }
        let Err(fault) = places.find(&region.to) else { return true };
        let help = fault.help.unwrap_or_default();
        let said = format!(
            "{}, line {}: the name of this object looks like that of a tap area, and there is no place `{}`; {help}",
            art.file, region.span.line, region.to
        );
        self.remark(About::ArtLinkUnclear, art, said);
        false
    }

    /// Adds the links of one region: several where it stands for all sections, pages or templates.
    #[allow(clippy::too_many_arguments)]
    fn led(
        &mut self,
        art: &ArtPage,
        to: &str,
        rect: Rect,
        clip: Rect,
        places: &Places,
        links: &mut Vec<Link>,
        about: impl Fn(Fault) -> Fault,
    ) {
        let targets = match places.find(to) {
            Ok(targets) => targets,
            Err(fault) => {
                let fault = about(fault);
                let all = &mut self.faults;
                if !all.contains(&fault) {
                    all.push(fault);
                }
                return;
            }
        };
        let n = targets.len();
        let parts = if rect.w >= rect.h { rect.columns(n, 0.0) } else { rect.rows(n, 0.0) };
        for ((target, says), part) in targets.into_iter().zip(parts) {
            // What is cut off is not tapped either.
            let rect = part.crossing(clip);
            if rect.w < LEAST || rect.h < LEAST {
                self.remark(
                    About::ArtLink,
                    art,
                    format!("{}: the tap area to {target} lies outside of what is seen of the art", art.file),
                );
                continue;
            }
            links.push(Link { rect, target, says: says.into() });
        }
    }

    /// Art's links with the areas left out that the tool's own need: the tabs stay where fingers know them.
    pub fn beside(&mut self, art: &ArtPage, links: Vec<Link>, own: &[Link]) -> Vec<Link> {
        let mut out = Vec::new();
        for link in links {
            let whole = link.rect;
            let mut rest = Some(whole);
            for other in own.iter().filter(|o| o.target != link.target) {
                rest = rest.and_then(|r| without(r, other.rect));
            }
            let kept = rest.filter(|r| r.w * r.h >= whole.w * whole.h / 2.0);
            if kept.is_none() {
                let target = &link.target;
                let how = if rest.is_some() { "more than half" } else { "all" };
                self.remark(
                    About::ArtLink,
                    art,
                    format!("{}: {how} of the tap area to {target} lies under tabs or marks, which win", art.file),
                );
            }
            out.extend(rest.map(|rect| Link { rect, ..link }));
        }
        out
    }
}

/// Sizes and ratios of art and room, and what comes of them.
fn misfit(art: &ArtPage, size: Size, own_size: bool, room: Rect, wrong: &str) -> String {
    let mm = |v: f64| trim_number(v / PT_PER_MM, 1);
    let ratio = |w: f64, h: f64| trim_number(w / h, 3);
    let own = if own_size {
        format!("{} × {} mm", mm(size.w), mm(size.h))
    } else {
        format!("{} × {} px", trim_number(size.w, 0), trim_number(size.h, 0))
    };
    format!(
        "{} is {own} (ratio {}), its room {} × {} mm (ratio {}); with fit = \"{}\" {wrong}",
        art.file,
        ratio(size.w, size.h),
        mm(room.w),
        mm(room.h),
        ratio(room.w, room.h),
        art.fit.name()
    )
}

/// Where a listed tap area lies on the page.
fn measured(link: &ArtLink, at: Rect, size: Size, scale: f64, unit: f64) -> Rect {
    let [x, y, w, h] = link.at;
    let length = |m: Measure, whole: f64| match m {
        Measure::Mm(v) => v * PT_PER_MM,
        Measure::Px(v) => v * unit * scale,
        Measure::Percent(v) => whole * v / 100.0,
    };
    let from = |m: Measure, edge: f64, whole: f64| {
        if matches!(m, Measure::Mm(_)) { length(m, whole) } else { edge + length(m, whole) }
    };
    let (wide, high) = (size.w * scale, size.h * scale);
    Rect::new(from(x, at.x, wide), from(y, at.y, high), length(w, wide), length(h, high))
}

/// The largest rectangle of `whole` that stays clear of `other`.
fn without(whole: Rect, other: Rect) -> Option<Rect> {
    if !whole.overlaps(other) {
        return Some(whole);
    }
    let parts = [
        Rect::new(whole.x, whole.y, other.x - whole.x, whole.h),
        Rect::new(other.right(), whole.y, whole.right() - other.right(), whole.h),
        Rect::new(whole.x, whole.y, whole.w, other.y - whole.y),
        Rect::new(whole.x, other.bottom(), whole.w, whole.bottom() - other.bottom()),
    ];
    parts.into_iter().filter(|r| r.w >= LEAST && r.h >= LEAST).max_by(|a, b| (a.w * a.h).total_cmp(&(b.w * b.h)))
}
