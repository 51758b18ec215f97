//! The order of the stages: the only file that knows it.

mod again;
mod bench;
mod cutting;
mod look_over;
mod photos;
mod proofing;
mod versions;
mod watch;

pub use look_over::{Checked, check, findings, switched_off};
pub use proofing::{empty_proof, proof_of};
pub use versions::{Note, change_note, changes_page, diff, line, record_change};
pub use watch::{Round, watch};

use crate::draw::Fonts;
use crate::inspect;
use crate::listing;
use crate::model::difference::Since;
use crate::model::drawing::Picture;
use crate::model::facts::{Facts, Inspected};
use crate::model::plan::Make;
use crate::model::{Artifact, Fault, Finding, Item, Kind, Plan, Product, Severity, Size};
use crate::package::{self, record};
use crate::plan::{self, GuideFacts, Made};
use crate::render::stickers::Workshop;
use crate::render::stickers::contact::{Card, Layout, contact};
use crate::store::{self, Cache};
use crate::validate;
use crate::world::World;
use crate::{checksum, manifest};
use bench::{Bench, Rendered};
use rayon::prelude::*;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// How a build is to run.
pub struct Options {
    /// Where bundles land.
    pub out: PathBuf,
    /// Whether warnings stop the build as errors do.
    pub strict: bool,
    /// Told what is being done.
    pub progress: Box<dyn Fn(&str) + Send + Sync>,
}

/// What a build leaves.
pub struct Built {
    /// The bundle's folder; `None` when findings stopped the build.
    pub folder: Option<PathBuf>,
    /// What the checks say.
    pub findings: Vec<Finding>,
    /// Every file that was made: path, kind, size in bytes.
    pub files: Vec<(String, Kind, u64)>,
    /// The product.
    pub product: Product,
    /// Things worth saying that no check covers.
    pub notes: Vec<String>,
    /// What changed since the last build, in one line, if there was one and anything was made anew.
    pub since: Option<String>,
    /// What changed since the version that buyers have, or else since the newest earlier one, if there is one and
    /// anything was made anew.
    pub earlier: Option<Since>,
}

/// Builds a product: manifest, plan, render, read back, validate, package, list, write.
///
/// # Errors
/// Everything that keeps the build from running at all. Findings are no errors of the run: they come in `Built`.
pub fn build(path: &Path, options: &Options) -> Result<Built, Vec<Fault>> {
    build_with(path, options, None, &mut |_| {})
}

/// The same; a live build (with its number) is always made, and its proof is shown before anything is written.
fn build_with(
    path: &Path,
    options: &Options,
    live: Option<u64>,
    show: &mut dyn FnMut(Vec<u8>),
) -> Result<Built, Vec<Fault>> {
    store::check_writable(&options.out).map_err(one)?;
    let cache = Cache::open(&options.out.join(".cache"));
    let world = World::open(path).map_err(one)?;
    let say = &options.progress;
    let stopping = if options.strict { Severity::Warning } else { Severity::Error };
    let stops = |findings: &[Finding]| findings.iter().any(|f| f.severity <= stopping);
    say("manifest");
    let product = manifest::read(&world)?;
    let earlier = store::earlier(&options.out, &product.slug, &product.version);
    if let Some(built) = again::recall(&cache, &world, &options.out, &product, earlier.as_ref())
        .filter(|b| live.is_none() && !stops(&b.findings))
    {
        return Ok(built);
    }
    let mut made = make(&world, product, Some(&cache), say)?;
    if live.is_some() {
        // What is seen at once is the pages; what changed since the version that buyers have comes with the bundle.
        let stopped = stops(&made.findings);
        let about = proofing::About { live, stopped, ..proofing::About::product(&made.product) };
        show(proofing::proof(&about, &made.inspected, &made.files, &made.findings, &cache).map_err(one)?.bytes);
    }
    record(&world, &mut made);
    say("compare");
    let since = versions::since(earlier.as_ref(), &made.files);
    if let Some(since) = &since {
        validate::version(&mut made.findings, &made.product, since);
    }
    let stopped = stops(&made.findings);
    say("proof");
    let about = proofing::About { stopped, since: since.as_ref(), ..proofing::About::product(&made.product) };
    let proof = proofing::proof(&about, &made.inspected, &made.files, &made.findings, &cache).map_err(one)?;
    let mut files = made.files;
    files.push(proof);
    files.push(text("SHA256SUMS", Kind::Listing, checksum::sums(&checksum::digests(&files))));
    let mut built = Built {
        folder: None,
        files: made.inspected.iter().filter_map(|i| Some((i.path.clone(), i.kind?, i.size))).collect(),
        findings: made.findings,
        product: made.product,
        notes: made.notes,
        since: None,
        earlier: since,
    };
    if !stopped {
        say("write");
        let (out, product) = (&options.out, &built.product);
        let place = store::place(out, &product.slug, &product.version);
        let before = versions::against(&place, &files, !product.frozen);
        let folder = store::publish(out, &product.slug, &product.version, &files, product.frozen)
            .map_err(|faults| faults.into_iter().map(|f| versions::explain(f, before.as_ref())).collect::<Vec<_>>())?;
        built.folder = Some(folder);
        built.since = before.as_ref().map(versions::line);
        again::remember(&cache, &world, earlier.as_ref(), &files, &built);
    }
    Ok(built)
}

/// Everything that a build makes, before it is written.
struct MadeAll {
    product: Product,
    files: Vec<Artifact>,
    inspected: Vec<Inspected>,
    findings: Vec<Finding>,
    notes: Vec<String>,
}

fn make(
    world: &World,
    product: Product,
    cache: Option<&Cache>,
    say: &(dyn Fn(&str) + Send + Sync),
) -> Result<MadeAll, Vec<Fault>> {
    let fonts = Fonts::open(&product.style.fonts)?;
    say("cut");
    let mut product = product;
    let cut_notes = cutting::cut(&mut product, &fonts)?;
    say("plan");
    let mut plan = plan::plan(&product, &fonts)?;
    say("render");
    let workshop = Workshop::new(&product.style, &fonts).effort(product.stickers.optimise.into());
    let bench = Bench { product: &product, fonts: &fonts, workshop, cache, inputs: &inputs_key(world) };
    let rendered: Vec<Rendered> = plan.items.par_iter().map(|item| bench.render(item)).collect();
    let (mut contents, mut notes) = (Vec::new(), cut_notes);
    let mut faults = Vec::new();
    for result in rendered {
        match result {
            Ok((artifact, said)) => {
                contents.push(artifact);
                notes.extend(said);
            }
            Err(f) => faults.extend(f),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    say("read back");
    let mut inspected = inspect_all(&contents);
    for item in late_items(&product, &plan, &contents, &inspected, &fonts)? {
        let (artifact, said) = bench.render(&item)?;
        plan.items.push(item);
        contents.push(artifact);
        notes.extend(said);
    }
    contents.push(text("contents/licence-terms.txt", Kind::Licence, listing::terms(&product)));
    inspected.extend(inspect_all(&contents[inspected.len()..]));
    let facts = listing::BundleFacts::read(&product, &inspected)?;
    contents.push(text("contents/start-here.txt", Kind::StartHere, listing::start_here(&product, &facts)));
    inspected.extend(inspect_all(&contents[inspected.len()..]));
    say("package");
    let mut packing = package::pack(&product, &contents)?;
    if let (true, Some(address)) = (packing.wants_card(), &product.delivery) {
        let card = plan::card(&product, &fonts, address, &packing.left_out);
        let (artifact, _) = bench.render(&card)?;
        plan.items.push(card);
        inspected.push(inspect::inspect(&artifact.path, Some(artifact.kind), &artifact.bytes));
        contents.push(artifact);
        packing = package::pack(&product, &contents)?;
    }
    for left in &packing.left_out {
        notes.push(format!("{left} does not fit into the shop's files; the delivery card links to it"));
    }
    inspected.extend(inspect_all(&packing.uploads));
    say("list");
    let facts = listing::BundleFacts::read(&product, &inspected)?;
    let listed = listing::texts(&product, &facts).map_err(one)?;
    inspected.extend(inspect_all(&listed));
    say("pictures");
    let mut photos = Vec::new();
    for (artifact, composed) in photos::take(&bench, &plan, &contents, &inspected, &facts)? {
        photos.push(artifact);
        plan.pictures.push(composed);
    }
    inspected.extend(inspect_all(&photos));
    say("validate");
    plan.remarks.extend(plan::cut_texts(&plan.items, &product.style, &fonts));
    let findings = validate::judge(&inspected, Some((&product, &plan)));
    let mut files = contents;
    files.extend(packing.uploads);
    files.extend(listed);
    files.extend(photos);
    Ok(MadeAll { product, files, inspected, findings, notes })
}

/// The record: what proves years later that no byte has changed. The proof follows from all other files and is not in it.
fn record(world: &World, made: &mut MadeAll) {
    let digests = checksum::digests(&made.files);
    let inputs: Vec<(String, String)> =
        world.inputs().iter().map(|(path, bytes)| (path.clone(), checksum::sha256_hex(bytes))).collect();
    let record = record::bundle(&made.product, &made.inspected, &digests, &inputs);
    made.files.push(text("bundle.json", Kind::Listing, record));
}

fn one(fault: Fault) -> Vec<Fault> {
    vec![fault]
}

fn text(path: &str, kind: Kind, text: String) -> Artifact {
    Artifact { path: path.to_owned(), kind, bytes: text.into_bytes() }
}

fn inspect_all(files: &[Artifact]) -> Vec<Inspected> {
    files.par_iter().map(|a| inspect::inspect(&a.path, Some(a.kind), &a.bytes)).collect()
}

/// Sheets and guide: they need the finished stickers and the counts of the rest.
fn late_items(
    product: &Product,
    plan: &Plan,
    contents: &[Artifact],
    inspected: &[Inspected],
    fonts: &Fonts,
) -> Result<Vec<Item>, Vec<Fault>> {
    let files = contents.par_iter().zip(inspected).filter(|(artifact, _)| artifact.kind == Kind::Sticker);
    let made = files.map(|(artifact, read)| finished(artifact, &read.facts)).collect::<Result<Vec<_>, _>>()?;
    let sheets = plan::sheets(product, fonts, &made);
    let pages = |kind: Kind| {
        let mut planned = plan.items.iter().chain(&sheets).filter(|i| i.kind == kind);
        planned.next().map_or(0, |i| if matches!(i.make, Make::Picture(_)) { 1 + planned.count() } else { i.pages() })
    };
    let facts = GuideFacts {
        pages: pages(Kind::Notebook),
        covers: pages(Kind::Covers),
        stickers: made.len(),
        sheets: pages(Kind::Sheet),
        files: plan::file_rows(plan.items.iter().chain(&sheets)),
        contact: contact_pictures(product, fonts, &made)?,
    };
    let guide = plan::guide(product, fonts, &facts)?;
    Ok(sheets.into_iter().chain(guide).collect())
}

/// All stickers with their names, on as many pictures as keep the names legible in the guide.
fn contact_pictures(product: &Product, fonts: &Fonts, made: &[Made]) -> Result<Vec<Arc<Picture>>, Vec<Fault>> {
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
    chunks
        .par_iter()
        .enumerate()
        .map(|(i, chunk)| {
            let page = contact(chunk, layout, &product.style, fonts).map_err(one)?;
            Ok(Arc::new(page.picture(format!("all-stickers-{}.png", i + 1))))
        })
        .collect()
}

/// A sticker's pixels and its true size, from the file that buyers get.
fn finished(artifact: &Artifact, facts: &Facts) -> Result<Made, Vec<Fault>> {
    let read = manifest::decode_picture(&artifact.path, &artifact.bytes).map_err(one)?;
    // The file counts pixels in a metre; a resolution is meant as a round number of dots in an inch.
    let dpi = if let Facts::Png(png) = facts { png.dpi().map(|d| (d * 100.0).round() / 100.0) } else { None };
    let dpi =
        dpi.ok_or_else(|| one(Fault::new("the sticker does not state its resolution").in_file(&artifact.path)))?;
    let size = Size::new(f64::from(read.width) / dpi * 72.0, f64::from(read.height) / dpi * 72.0);
    Ok(Made { picture: Arc::new(Picture { name: artifact.path.clone(), ..read }), size })
}

/// One digest over everything that was read.
fn inputs_key(world: &World) -> String {
    let list: Vec<String> =
        world.inputs().iter().map(|(path, bytes)| format!("{} {path}", checksum::sha256_hex(bytes))).collect();
    checksum::sha256_hex(list.join("\n").as_bytes())
}
