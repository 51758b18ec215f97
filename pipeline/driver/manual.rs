//! The pictures of the manual: drawn by the stages that draw a product, from manifests that lie in no folder.

use super::bundle;
use super::pictures;
use super::session::Session;
use crate::manual::html::Drawn;
use crate::manual::sample;
use base::files::{Files, Made};
use base::model::drawing::Shape;
use base::model::pdf_plan::{PdfPlan, Place};
use base::model::plan::Make;
use base::model::{Blob, Drawing, Fault, Kind, Product, Stop};
use draw::{Fonts, built_in, motifs, specimen, svg};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// A folder with nothing in it but a manifest.
struct Bare(String);

impl Files for Bare {
    fn root(&self) -> &Path {
        Path::new(if self.0 == sample::sister() { "sister" } else { "manual" })
    }

    fn read(&self, path: &str) -> Result<Blob, Fault> {
        if path == manifest::FILE { Ok(self.0.as_bytes().into()) } else { Err(Fault::new("there is no such file")) }
    }

    fn beside(&self, _: &str) -> Result<Arc<dyn Files>, Fault> {
        Ok(Arc::new(Bare(sample::sister())))
    }

    fn nearby(&self, _: &str) -> Vec<String> {
        Vec::new()
    }

    fn inputs(&self) -> BTreeMap<String, Blob> {
        BTreeMap::new()
    }

    fn kept(&self, _: &str, _: &str, _: &Blob) -> Option<Made> {
        None
    }

    fn keep(&self, _: &str, _: &str, _: &Blob, _: Made) {}
}

/// Draws every ruling, motif, cover, typeface, look and layout at its defaults.
///
/// # Errors
/// What any stage says; none does, as long as the samples are sound.
pub fn manual_pictures() -> Result<Vec<Drawn>, Stop> {
    let products = manifest::read(&Bare(sample::drawn()), rulings::ALL)?;
    let product = &products[0];
    let fonts = Fonts::open(&product.style.fonts)?;
    let mut out = stickers(product, &fonts);
    out.extend(typefaces(product)?);
    out.extend(looks()?);
    for item in plan::plan(product, &fonts, rulings::ALL, &plan::Placed::new())?.items {
        if let Make::Pdf(pdf) = &item.make {
            if item.kind == Kind::Covers {
                // The notebook's own stands first.
                let covers = sample::covers().into_iter().map(|(_, name)| ("cover", name));
                let all = covers.chain(sample::finishes().into_iter().map(|(_, name)| ("finish", name)));
                for ((kind, name), page) in all.zip(pdf.pages.iter().skip(1)) {
                    let mut drawing = page.drawing.clone();
                    // The grain of a material is pixels, which these pictures do without.
                    drawing.shapes.retain(|shape| !matches!(shape, Shape::Picture { .. }));
                    out.push(vector(kind, name, svg::document(&drawing, pdf.size, &fonts, &pdf.forms)));
                }
            } else {
                pages(&mut out, pdf, &fonts);
            }
        }
    }
    let session = Session::plain();
    let planned = bundle::plan(&session, manifest::read(&Bare(sample::pictured()), rulings::ALL)?)?;
    let packed = bundle::package(&session, bundle::make(&session, planned)?)?;
    let made = bundle::list(&session, packed)?;
    for (shot, (file, _)) in made.lead().product.shots.iter().zip(pictures::take(&session, &made)?) {
        let mime = if file.path.ends_with(".gif") { "image/gif" } else { "image/jpeg" };
        out.push(Drawn { kind: "layout", name: shot.name.clone(), mime, bytes: file.bytes.to_vec() });
    }
    Ok(out)
}

/// The pages of rulings, each once.
fn pages(out: &mut Vec<Drawn>, pdf: &PdfPlan, fonts: &Fonts) {
    let page = |i: usize| svg::document(&pdf.pages[i].drawing, pdf.size, fonts, &pdf.forms);
    let dated = sample::dated();
    for (place, i) in &pdf.places {
        match place {
            Place::Template(slug) => out.push(vector("ruling", slug, page(*i))),
            Place::Dated(place) => {
                let found = dated.iter().find(|(kind, name)| {
                    place.starts_with(&format!("{kind}/")) && place.ends_with(&format!("/{name}"))
                });
                // The first page of each set is enough.
                if let Some((_, name)) = found
                    && !out.iter().any(|d| d.kind == "dated ruling" && d.name == *name)
                {
                    out.push(vector("dated ruling", name, page(*i)));
                }
            }
            _ => {}
        }
    }
}

fn stickers(product: &Product, fonts: &Fonts) -> Vec<Drawn> {
    let style = &product.style;
    let weekdays = motifs::ENGLISH_DAYS;
    let context = motifs::MotifContext {
        colour: style.accent,
        style,
        fonts,
        label: None,
        weekdays,
        words: motifs::MotifWords::of("en"),
        right_to_left: false,
    };
    let one = |motif: &motifs::Motif| {
        let (drawing, size) = motif.draw(&context);
        vector("motif", motif.name, svg::document(&drawing, size, fonts, &[]))
    };
    motifs::TABLE.iter().map(one).collect()
}

/// A card of each typeface.
fn typefaces(product: &Product) -> Result<Vec<Drawn>, Stop> {
    let style = &product.style;
    let card = |family: &built_in::Family| {
        Ok(vector("typeface", family.name, specimen::card(family, style.ink, style.accent)?))
    };
    built_in::FAMILIES.iter().map(card).collect()
}

/// Three pages in each look, side by side: a cover, a divider, a template.
fn looks() -> Result<Vec<Drawn>, Stop> {
    let mut out = Vec::new();
    for (name, _) in crate::manual::of("look") {
        let products = manifest::read(&Bare(sample::in_look(name)), rulings::ALL)?;
        let product = &products[0];
        let fonts = Fonts::open(&product.style.fonts)?;
        let items = plan::plan(product, &fonts, rulings::ALL, &plan::Placed::new())?.items;
        let books = items.iter().filter(|item| item.kind == Kind::Notebook);
        for pdf in books.filter_map(|item| if let Make::Pdf(pdf) = &item.make { Some(pdf) } else { None }) {
            let wanted = [Place::Cover, Place::Section(1), Place::Template("titled".into())];
            let found = wanted.iter().filter_map(|wanted| pdf.places.iter().find(|place| *place.0 == *wanted));
            let pages: Vec<&Drawing> = found.map(|(_, page)| &pdf.pages[*page].drawing).collect();
            out.push(vector("look", name, svg::row(&pages, pdf.size, pdf.size.w / 16.0, &fonts, &pdf.forms)));
        }
    }
    Ok(out)
}

fn vector(kind: &'static str, name: &str, text: String) -> Drawn {
    Drawn { kind, name: name.to_owned(), mime: "image/svg+xml", bytes: text.into_bytes() }
}
