//! From products to everything that a bundle holds but its record and proof, stage by stage.

use super::context::{RenderContext, finished_sticker};
use super::figures;
use super::files;
use super::session::{Session, Task, all};
use super::variants::{self, OpenFonts, Part, VariantBuild};
use crate::listing;
use crate::package;
use base::model::drawing::Picture;
use base::model::facts::Inspected;
use base::model::plan::Make;
use base::model::shot::Composed;
use base::model::{Artifact, Finding, Item, Kind, Plan, Product, Sha, Stop};
use judge::validate;
use plan::{Figure, GuideFacts, Made};
use rayon::prelude::*;
use std::sync::Arc;

/// Planned variants, the leading one first; one for a product without.
pub struct Planned {
    /// The variants; of a set the set itself, then all variants of its members.
    pub variants: Vec<VariantBuild>,
    /// Things worth saying that no check covers.
    pub notes: Vec<String>,
}

/// What buyers get, but the texts that go with it.
pub struct Contents {
    /// How it was planned.
    pub planned: Planned,
    /// The files.
    pub files: Vec<Artifact>,
    /// What was read from each, in the same order.
    pub inspected: Vec<Inspected>,
    /// Pictures of pages of the leading variant, for guides.
    pub figures: Vec<Figure>,
}

/// What buyers get, loose and in upload slots.
pub struct Packed {
    contents: Contents,
    uploads: Vec<Artifact>,
}

/// A listing picture and what is known of it.
pub type ListingPicture = (Artifact, Composed);

/// Everything that a build makes, before it is written.
pub struct Bundle {
    /// The variants, the leading one first.
    pub variants: Vec<VariantBuild>,
    /// The figures of the listing.
    pub facts: listing::BundleFacts,
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

/// Cuts sheets of drawings and plans every variant.
pub fn plan(session: &Session, products: Vec<Product>) -> Result<Planned, Stop> {
    session.stage("cut and plan", products.len());
    let (mut variants, mut notes) = (Vec::new(), Vec::new());
    // What is wrong with the second variant is told with what is wrong with the first.
    let at_once = at_once();
    let mut fonts = OpenFonts::default();
    let planned = |(i, product): (usize, Product)| {
        let (mut variant, said) = VariantBuild::plan(session, product, &mut fonts)?;
        if i >= at_once {
            variant.put_off();
        }
        Ok((variant, said))
    };
    for (variant, said) in all(products.into_iter().enumerate().map(planned))? {
        notes.extend(said);
        variants.push(variant);
    }
    Ok(Planned { variants, notes })
}

/// Makes what is planned of all variants: what follows from the product alone, then sheets of the finished stickers, then
/// the guide, which counts it all.
pub fn make(session: &Session, mut planned: Planned) -> Result<Contents, Stop> {
    let Planned { variants, notes } = &mut planned;
    let mut parts: Vec<Vec<Part>> = Vec::new();
    let (mut shown, mut lead): (Vec<Vec<Figure>>, Option<_>) = (Vec::new(), None);
    let mut with_guide = Vec::new();
    session.stage("render", variants.iter().map(VariantBuild::items).sum());
    for some in variants.chunks_mut(at_once()) {
        let wanted: Vec<Vec<Item>> = all(some.iter_mut().map(|v| v.take_items(session)))?;
        for (variant, items) in some.iter().zip(&wanted) {
            let says = (variant.product.language.clone(), variant.product.guide.clone(), counts(items.iter()));
            // One guide for all shows the leading variant.
            let same = lead.get_or_insert_with(|| says.clone()) == &says;
            let own = shown.is_empty() || !same;
            with_guide.push(own && variant.product.guide.wanted);
            shown.push(if own { figures::of(variant, items) } else { Vec::new() });
        }
        let contexts: Vec<RenderContext> = some.iter().map(VariantBuild::context).collect();
        let (made, said) = variants::render(session, &contexts, wanted)?;
        parts.extend(made);
        notes.extend(said.into_iter().filter(|said| !notes.contains(said)).collect::<Vec<_>>());
    }
    let contexts: Vec<RenderContext> = variants.iter().map(VariantBuild::context).collect();
    let made: Vec<Vec<Made>> = parts.iter().map(|parts| stickers(session, parts)).collect::<Result<_, _>>()?;
    let from: Vec<Vec<Sha>> =
        parts.iter().map(|parts| sticker_parts(parts).map(|p| p.file.bytes.sha256()).collect()).collect();
    let sheets = contexts.iter().zip(&made).map(|(c, made)| plan::sheets(c.product, c.fonts, made));
    let wanted: Vec<Vec<Item>> = sheets.collect();
    for (((figures, items), context), _) in
        shown.iter_mut().zip(&wanted).zip(&contexts).zip(with_guide).filter(|(_, with)| *with)
    {
        plan::with_sheets(figures, items, context.product.page.right_to_left);
    }
    session.stage("sheets", wanted.iter().map(Vec::len).sum());
    let (sheets, said) = variants::render(session, &contexts, wanted)?;
    notes.extend(said);
    for (parts, sheets) in parts.iter_mut().zip(sheets) {
        parts.extend(sheets);
    }
    for (figures, parts) in shown.iter_mut().zip(&parts) {
        figures::take(session, figures, parts)?;
    }
    let counted: Vec<GuideFacts> = parts.iter().map(|parts| counts(parts.iter().map(|p| &p.item))).collect();
    variants::settle(variants, &mut parts);
    session.stage("guide", 0);
    let contact = |i: usize| Ok(pictures_of(&*contexts[i].contact_pictures(session, &made[i], &from[i])?));
    let (mut guides, said) =
        variants::render(session, &contexts, guides(&contexts, &parts, &counted, &shown, &contact)?)?;
    notes.extend(said);
    // One for all lies with the first.
    if guides.iter().skip(1).any(|list| !list.is_empty()) {
        variants::settle(variants, &mut guides);
    }
    for (parts, guides) in parts.iter_mut().zip(guides) {
        parts.extend(guides);
    }
    drop(contexts);
    let (mut files, mut inspected) = (Vec::new(), Vec::new());
    for (variant, parts) in variants.iter_mut().zip(parts) {
        let (own, read) = variant.keep(parts);
        files.extend(own);
        inspected.extend(read);
    }
    let figures = shown.into_iter().next().unwrap_or_default();
    Ok(Contents { planned, files, inspected, figures })
}

/// Adds the texts that buyers get and packs it all, with a delivery card if that takes one.
pub fn package(session: &Session, mut contents: Contents) -> Result<Packed, Stop> {
    let Contents { planned: Planned { variants, notes }, files, inspected, .. } = &mut contents;
    let product = &variants[0].product;
    let products: Vec<&Product> = variants.iter().map(|v| &v.product).collect();
    let terms = session.ask(Task::new("licence terms", &(product, &products)), || {
        Ok(vec![text("contents/licence-terms.txt", Kind::Licence, listing::terms(product, &products))])
    })?;
    add(session, files, inspected, &terms)?;
    let start = session.ask(Task::new("start here", &(&products, known(inspected))), || {
        let facts = listing::BundleFacts::read(&products, inspected)?;
        Ok(vec![text("contents/start-here.txt", Kind::StartHere, listing::start_here(product, &facts))])
    })?;
    add(session, files, inspected, &start)?;
    session.stage("package", 0);
    let pack = |files: &Vec<Artifact>| {
        session.ask(Task::new("uploads", &(product, files)), || {
            Ok(package::pack_knowing(product, files, &|file| files::gains(session, file))?)
        })
    };
    let mut packing = pack(files)?;
    let mut cards = Vec::new();
    if let (true, Some(address)) = (packing.wants_card(), &product.delivery) {
        let card = plan::card(product, &variants[0].fonts, address, &packing.left_out);
        let (made, _) = variants::render(session, &[variants[0].context()], vec![vec![card]])?;
        cards.extend(made.into_iter().flatten());
        files.extend(cards.iter().map(|part| part.file.clone()));
        inspected.extend(cards.iter().map(|part| part.read.clone()));
        packing = pack(files)?;
    }
    for left in &packing.left_out {
        notes.push(format!("{left} does not fit into the shop's files; the delivery card links to it"));
    }
    variants[0].keep(cards);
    Ok(Packed { uploads: packing.uploads.clone(), contents })
}

/// Writes the listing's texts, from what was read back of all files.
pub fn list(session: &Session, packed: Packed) -> Result<Bundle, Stop> {
    session.stage("list", 0);
    let Packed { contents: Contents { planned: Planned { variants, notes }, mut files, mut inspected, .. }, uploads } =
        packed;
    add(session, &mut files, &mut inspected, &uploads)?;
    let products: Vec<&Product> = variants.iter().map(|v| &v.product).collect();
    let facts = listing::BundleFacts::read(&products, &inspected)?;
    let texts = session
        .ask(Task::new("listing", &(&products, known(&inspected))), || Ok(listing::texts(products[0], &facts)))?;
    add(session, &mut files, &mut inspected, &texts)?;
    let bare = files.len();
    Ok(Bundle { variants, facts, files, inspected, bare, findings: Vec::new(), notes })
}

impl Bundle {
    /// The product, or its leading variant.
    pub fn lead(&self) -> &VariantBuild {
        // There is a variant for every product that was read, and a manifest gives at least one.
        &self.variants[0]
    }

    /// Puts these listing pictures in the place of those that are there, and judges the whole.
    pub fn judge(&mut self, session: &Session, pictures: Vec<ListingPicture>) -> Result<(), Stop> {
        self.files.truncate(self.bare);
        self.inspected.truncate(self.bare);
        let (files, composed): (Vec<Artifact>, Vec<Composed>) = pictures.into_iter().unzip();
        add(session, &mut self.files, &mut self.inspected, &files)?;
        self.variants[0].plan.pictures = composed;
        let promised: Vec<(&Product, &Plan)> = self.variants.iter().map(|v| (&v.product, &v.plan)).collect();
        self.findings = validate::judge(&self.inspected, &promised);
        Ok(())
    }

    /// The listing pictures that it has.
    pub fn pictures(&self) -> Vec<ListingPicture> {
        self.files[self.bare..].iter().cloned().zip(self.lead().plan.pictures.iter().cloned()).collect()
    }

    /// What a person would see of it.
    pub fn seen(&self) -> (Vec<String>, Vec<Finding>) {
        (self.inspected.iter().map(|i| format!("{} {}", i.sha256, i.path)).collect(), self.findings.clone())
    }
}

/// How many variants are rendered at once, each of which holds all its drawings until then: enough for every thread.
fn at_once() -> usize {
    rayon::current_num_threads().max(2)
}

/// Adds files, and what is read from them.
fn add(
    session: &Session,
    files: &mut Vec<Artifact>,
    inspected: &mut Vec<Inspected>,
    more: &[Artifact],
) -> Result<(), Stop> {
    inspected.extend(files::all_inspected(session, more)?);
    files.extend_from_slice(more);
    Ok(())
}

/// All that tells what was read of some files: what was read follows from it.
pub fn known(inspected: &[Inspected]) -> Vec<(&str, Option<Kind>, &str)> {
    inspected.iter().map(|i| (i.path.as_str(), i.kind, i.sha256.as_str())).collect()
}

/// A file of text.
pub fn text(path: &str, kind: Kind, text: String) -> Artifact {
    Artifact { path: path.to_owned(), kind, bytes: text.into() }
}

fn sticker_parts(parts: &[Part]) -> impl Iterator<Item = &Part> {
    parts.iter().filter(|p| p.file.kind == Kind::Sticker)
}

/// The finished stickers of a variant, for its sheets and its guide.
pub fn stickers(session: &Session, parts: &[Part]) -> Result<Vec<Made>, Stop> {
    let parts: Vec<&Part> = sticker_parts(parts).collect();
    all(parts.par_iter().map(|p| finished_sticker(session, &p.file, &p.read)).collect::<Vec<_>>())
}

fn pictures_of(pictures: &super::values::Pictures) -> Vec<Arc<Picture>> {
    pictures.pictures.iter().map(|(picture, _)| picture.clone()).collect()
}

/// What a guide tells of a variant's files by number.
pub fn counts<'i>(items: impl Iterator<Item = &'i Item>) -> GuideFacts {
    let items: Vec<&Item> = items.collect();
    let of = |kind: Kind| items.iter().copied().filter(move |i| i.kind == kind);
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
    contexts: &[RenderContext],
    parts: &[Vec<Part>],
    counted: &[GuideFacts],
    shown: &[Vec<Figure>],
    contact: &dyn Fn(usize) -> Result<Vec<Arc<Picture>>, Stop>,
) -> Result<Vec<Vec<Item>>, Stop> {
    let lead = contexts[0].product;
    let same = contexts.iter().zip(counted).all(|(c, counts)| {
        let p = c.product;
        (&p.language, &p.guide) == (&lead.language, &lead.guide) && *counts == counted[0]
    });
    let files = plan::file_rows(lead, parts.iter().flatten().map(|p| &p.item));
    let each = contexts.iter().zip(counted).enumerate();
    each.map(|(i, (context, counts))| {
        if same && i > 0 {
            return Ok(Vec::new());
        }
        // Those of the leading one where a variant has none of its own, as where its stickers alone differ.
        let figures = shown.get(i).filter(|own| !own.is_empty()).or(shown.first()).cloned().unwrap_or_default();
        let facts = GuideFacts { files: files.clone(), contact: contact(i)?, figures, ..counts.clone() };
        Ok(plan::guide(context.product, context.fonts, &facts)?.into_iter().collect())
    })
    .collect()
}
