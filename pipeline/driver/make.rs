//! From products to everything that a bundle holds but its listing pictures, record and proof.

use super::bench::Bench;
use super::cells::{self, Cell, Part};
use super::memory::Memory;
use super::progress::{Progress, Step};
use super::{one, photos, read_back, text};
use crate::listing;
use crate::package;
use crate::package::archive;
use crate::store::Cache;
use base::model::drawing::Picture;
use base::model::facts::{Facts, Inspected};
use base::model::plan::Make;
use base::model::{Artifact, Fault, Finding, Item, Kind, Plan, Product, Size};
use judge::validate;
use plan::{GuideFacts, Made};
use rayon::prelude::*;
use render::stickers::contact::{Card, Layout, contact};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Everything that a build makes, before it is written.
pub struct MadeAll {
    /// The variants, the leading one first; one for a product without.
    pub cells: Vec<Cell>,
    facts: listing::BundleFacts,
    /// Every file.
    pub files: Vec<Artifact>,
    /// What was read from each, in the same order.
    pub inspected: Vec<Inspected>,
    /// How many of the files are no listing pictures: those come last.
    bare: usize,
    /// What the checks say.
    pub findings: Vec<Finding>,
    /// Things worth saying that no check covers.
    pub notes: Vec<String>,
}

impl MadeAll {
    /// The product, or its leading variant.
    pub fn lead(&self) -> &Cell {
        // There is a cell for every product, and `make` is not called without one.
        &self.cells[0]
    }

    /// The listing pictures of what was made.
    pub fn photos(
        &self,
        cache: Option<&Cache>,
        memory: &Memory,
        say: &Progress,
        overtaken: &(dyn Fn() -> bool + Sync),
    ) -> Result<Vec<photos::Photo>, photos::Stopped> {
        let lead = self.lead();
        let bench = lead.bench(cache, memory, say);
        photos::take(&bench, &lead.plan, &self.files, &self.inspected, &self.facts, overtaken)
    }

    /// Puts these listing pictures in the place of those that are there, and judges the whole.
    pub fn hang(&mut self, photos: Vec<photos::Photo>, cache: Option<&Cache>, memory: &Memory) {
        self.files.truncate(self.bare);
        self.inspected.truncate(self.bare);
        let plan = &mut self.cells[0].plan;
        plan.pictures.clear();
        for (artifact, composed) in photos {
            self.inspected.push(read_back::one(&artifact, cache, memory));
            self.files.push(artifact);
            plan.pictures.push(composed);
        }
        let promised: Vec<(&Product, &Plan)> = self.cells.iter().map(|c| (&c.product, &c.plan)).collect();
        self.findings = validate::judge(&self.inspected, &promised, &draw::fonts::widths);
    }

    /// What a person would see of it.
    pub fn seen(&self) -> (Vec<String>, Vec<Finding>) {
        (self.inspected.iter().map(|i| format!("{} {}", i.sha256, i.path)).collect(), self.findings.clone())
    }
}

/// Makes everything but the listing pictures of a product, or of all its variants.
pub fn make(
    products: Vec<Product>,
    cache: Option<&Cache>,
    memory: &Memory,
    say: &Progress,
) -> Result<MadeAll, Vec<Fault>> {
    say(Step::Stage("cut and plan", products.len()));
    let (mut cells, mut notes) = (Vec::new(), Vec::new());
    for product in products {
        let (cell, said) = Cell::open(product, memory)?;
        notes.extend(said);
        cells.push(cell);
    }
    let wanted: Vec<Vec<Item>> = cells.iter_mut().map(|c| std::mem::take(&mut c.plan.items)).collect();
    say(Step::Stage("render", wanted.iter().map(Vec::len).sum()));
    let benches: Vec<Bench> = cells.iter().map(|c| c.bench(cache, memory, say)).collect();
    let (mut parts, said) = cells::render(&benches, wanted)?;
    notes.extend(said);
    let made: Vec<Vec<Made>> = benches.iter().zip(&parts).map(|(b, p)| stickers(b, p)).collect::<Result<_, _>>()?;
    let wanted: Vec<Vec<Item>> =
        benches.iter().zip(&made).map(|(b, made)| plan::sheets(b.product, b.fonts, made)).collect();
    say(Step::Stage("sheets", wanted.iter().map(Vec::len).sum()));
    let (sheets, said) = cells::render(&benches, wanted)?;
    notes.extend(said);
    for (parts, sheets) in parts.iter_mut().zip(sheets) {
        parts.extend(sheets);
    }
    let counted: Vec<GuideFacts> = parts.iter().map(|p| counted(p)).collect();
    cells::settle(&cells, &mut parts);
    say(Step::Stage("guide", 0));
    let (mut guides, said) = cells::render(&benches, guides(&benches, &parts, &made, &counted)?)?;
    notes.extend(said);
    // One for all lies with the first.
    if guides.iter().skip(1).any(|list| !list.is_empty()) {
        cells::settle(&cells, &mut guides);
    }
    for (parts, guides) in parts.iter_mut().zip(guides) {
        parts.extend(guides);
    }
    drop(benches);
    let (mut contents, mut inspected) = (Vec::new(), Vec::new());
    for (cell, parts) in cells.iter_mut().zip(parts) {
        for Part { item, file, read } in parts {
            cell.plan.items.push(item);
            contents.push(file);
            inspected.push(read);
        }
    }
    finish(cells, contents, inspected, notes, (cache, memory, say))
}

/// Texts, archives and listing: what there is once for a product, however many variants it has.
fn finish(
    mut cells: Vec<Cell>,
    mut contents: Vec<Artifact>,
    mut inspected: Vec<Inspected>,
    mut notes: Vec<String>,
    (cache, memory, say): (Option<&Cache>, &Memory, &Progress),
) -> Result<MadeAll, Vec<Fault>> {
    let read_back = |files: &[Artifact]| read_back::all(files, cache, memory);
    let lead = &cells[0];
    let product = &lead.product;
    let terms = listing::terms(product, &cells.iter().map(|c| &c.product).collect::<Vec<_>>());
    contents.push(text("contents/licence-terms.txt", Kind::Licence, terms));
    inspected.extend(read_back(&contents[inspected.len()..]));
    let facts = listing::BundleFacts::read(product, &inspected)?;
    contents.push(text("contents/start-here.txt", Kind::StartHere, listing::start_here(product, &facts)));
    inspected.extend(read_back(&contents[inspected.len()..]));
    say(Step::Stage("package", 0));
    // Whether a file gains by deflate is tried once for its bytes.
    let digests: BTreeMap<String, String> = inspected.iter().map(|i| (i.path.clone(), i.sha256.clone())).collect();
    let worth = |file: &Artifact| match digests.get(&file.path) {
        Some(sha256) => memory.worth(&file.path, sha256, || archive::worth(file)),
        None => archive::worth(file),
    };
    let mut packing = package::pack_knowing(product, &contents, &worth)?;
    let mut cards = Vec::new();
    if let (true, Some(address)) = (packing.wants_card(), &product.delivery) {
        let card = plan::card(product, &lead.fonts, address, &packing.left_out);
        let (artifact, _) = lead.bench(cache, memory, say).render(&card)?;
        cards.push(card);
        inspected.push(read_back::one(&artifact, cache, memory));
        contents.push(artifact);
        packing = package::pack_knowing(product, &contents, &worth)?;
    }
    for left in &packing.left_out {
        notes.push(format!("{left} does not fit into the shop's files; the delivery card links to it"));
    }
    inspected.extend(read_back(&packing.uploads));
    say(Step::Stage("list", 0));
    let facts = listing::BundleFacts::read(product, &inspected)?;
    let listed = listing::texts(product, &facts).map_err(one)?;
    inspected.extend(read_back(&listed));
    cells[0].plan.items.extend(cards);
    for cell in &mut cells {
        let cuts = plan::cut_texts(&cell.plan.items, &cell.product.style, &cell.fonts);
        cell.plan.remarks.extend(cuts);
    }
    let mut files = contents;
    files.extend(packing.uploads);
    files.extend(listed);
    let bare = files.len();
    Ok(MadeAll { cells, facts, files, inspected, bare, findings: Vec::new(), notes })
}

/// The finished stickers of a variant, for its sheets and its guide.
fn stickers(bench: &Bench, parts: &[Part]) -> Result<Vec<Made>, Vec<Fault>> {
    let stickers = parts.par_iter().filter(|p| p.file.kind == Kind::Sticker);
    stickers.map(|p| finished(&p.file, &p.read, bench.memory)).collect()
}

/// What a guide tells of a variant's files by number.
fn counted(parts: &[Part]) -> GuideFacts {
    let of = |kind: Kind| parts.iter().map(|p| &p.item).filter(move |i| i.kind == kind);
    let pages = |kind: Kind| {
        of(kind).next().map_or(0, |i| if matches!(i.make, Make::Picture(_)) { of(kind).count() } else { i.pages() })
    };
    GuideFacts {
        pages: pages(Kind::Notebook),
        covers: pages(Kind::Covers),
        stickers: of(Kind::Sticker).count(),
        sheets: pages(Kind::Sheet),
        ..GuideFacts::default()
    }
}

/// One guide for all variants, or one for each where they differ in what it says.
fn guides(
    benches: &[Bench],
    parts: &[Vec<Part>],
    made: &[Vec<Made>],
    counted: &[GuideFacts],
) -> Result<Vec<Vec<Item>>, Vec<Fault>> {
    let lead = benches[0].product;
    let same = benches.iter().zip(counted).all(|(b, counts)| {
        let p = b.product;
        (&p.language, &p.guide) == (&lead.language, &lead.guide) && *counts == counted[0]
    });
    let files = plan::file_rows(&lead.variants.all, parts.iter().flatten().map(|p| &p.item));
    let each = benches.iter().zip(made).zip(counted).enumerate();
    each.map(|(i, ((bench, made), counts))| {
        if same && i > 0 {
            return Ok(Vec::new());
        }
        let facts = GuideFacts { files: files.clone(), contact: contact_pictures(bench, made)?, ..counts.clone() };
        Ok(plan::guide(bench.product, bench.fonts, &facts)?.into_iter().collect())
    })
    .collect()
}

/// All stickers with their names, on as many pictures as keep the names legible in the guide.
fn contact_pictures(bench: &Bench, made: &[Made]) -> Result<Vec<Arc<Picture>>, Vec<Fault>> {
    let (product, fonts) = (bench.product, bench.fonts);
    if made.is_empty() || !product.guide.wanted {
        return Ok(Vec::new());
    }
    let cards: Vec<Card> = made
        .iter()
        .zip(&product.stickers.items)
        .map(|(m, s)| Card { name: &s.name, picture: &m.picture, placed: m.size })
        .collect();
    let columns = plan::contact_columns(product);
    // Rows are shared out evenly, so that no picture ends with a single one.
    let rows = cards.len().div_ceil(columns);
    let rows = rows.div_ceil(rows.div_ceil(plan::CONTACT_ROWS));
    let chunks: Vec<&[Card]> = cards.chunks(rows * columns).collect();
    let layout = Layout { width: 1400, columns, ground: product.style.desk };
    let names: Vec<&str> = cards.iter().map(|c| c.name).collect();
    let key = bench.contact_key(&names, made, (layout.width, columns, rows));
    bench.memory.contacts(key, || {
        chunks
            .par_iter()
            .enumerate()
            .map(|(i, chunk)| {
                let page = contact(chunk, layout, &product.style, fonts).map_err(one)?;
                Ok(Arc::new(page.picture(format!("all-stickers-{}.png", i + 1))))
            })
            .collect()
    })
}

/// A sticker's pixels and its true size, from the file that buyers get.
fn finished(artifact: &Artifact, read: &Inspected, memory: &Memory) -> Result<Made, Vec<Fault>> {
    let decode = || manifest::decode_picture(&artifact.path, &artifact.bytes);
    let picture = memory.pixels(&artifact.path, &read.sha256, decode).map_err(one)?;
    // The file counts pixels in a metre; a resolution is meant as a round number of dots in an inch.
    let dpi = if let Facts::Png(png) = &read.facts { png.dpi().map(|d| (d * 100.0).round() / 100.0) } else { None };
    let dpi =
        dpi.ok_or_else(|| one(Fault::new("the sticker does not state its resolution").in_file(&artifact.path)))?;
    let size = Size::new(f64::from(picture.width) / dpi * 72.0, f64::from(picture.height) / dpi * 72.0);
    Ok(Made { picture, size })
}
