//! The order of the stages: the only file that knows it.

mod again;
mod bench;
mod cutting;
mod keep;
mod keys;
mod look_over;
mod memory;
mod photos;
mod progress;
mod proofing;
mod read_back;
mod versions;
mod watch;

pub use crate::proof::Written;
pub use look_over::{Checked, check, findings, switched_off};
pub use progress::{Progress, Step, silent};
pub use proofing::{empty_proof, proof_of};
pub use versions::{Note, change_note, changes_page, diff, line, record_change};
pub use watch::{Round, watch};

use crate::draw::Fonts;
use crate::listing;
use crate::model::difference::Since;
use crate::model::drawing::Picture;
use crate::model::facts::{Facts, Inspected};
use crate::model::plan::Make;
use crate::model::{Artifact, Fault, Finding, Item, Kind, Plan, Product, Severity, Size};
use crate::package::{self, archive, record};
use crate::plan::{self, GuideFacts, Made};
use crate::proof;
use crate::render::stickers::contact::{Card, Layout, contact};
use crate::store::{self, Cache};
use crate::validate;
use crate::world::World;
use crate::{checksum, manifest};
use bench::{Bench, Rendered};
use memory::Memory;
use rayon::prelude::*;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// How a build is to run.
pub struct Options {
    /// Where bundles land.
    pub out: PathBuf,
    /// Whether warnings stop the build as errors do.
    pub strict: bool,
    /// Told what is being done.
    pub progress: Progress,
}

/// What a build leaves.
pub struct Built {
    /// The bundle's folder; `None` when findings stopped the build.
    pub folder: Option<PathBuf>,
    /// The proof: in the bundle, or beside it when findings stopped the build.
    pub proof: Option<PathBuf>,
    /// What the checks say.
    pub findings: Vec<Finding>,
    /// Every file that was made.
    pub files: Vec<MadeFile>,
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

/// A file that was made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MadeFile {
    /// Its path in the bundle.
    pub path: String,
    /// What it is.
    pub kind: Kind,
    /// Its size in bytes.
    pub size: u64,
    /// Pages of a PDF; 0 for anything else.
    pub pages: usize,
}

impl MadeFile {
    fn of(read: &Inspected) -> Option<MadeFile> {
        let pages = if let Facts::Pdf(pdf) = &read.facts { pdf.pages.len() } else { 0 };
        Some(MadeFile { path: read.path.clone(), kind: read.kind?, size: read.size, pages })
    }
}

/// Builds a product: manifest, plan, render, read back, validate, package, list, write.
///
/// # Errors
/// Everything that keeps the build from running at all. Findings are no errors of the run: they come in `Built`.
pub fn build(path: &Path, options: &Options) -> Result<Built, Vec<Fault>> {
    let desk = Desk::open(&options.out, Memory::none())?;
    let world = World::open(path).map_err(one)?;
    let built = build_with(&world, options, &desk, None)?;
    // Only a live build can be overtaken.
    built.ok_or_else(|| one(Fault::new("the build was overtaken by another one")))
}

/// What outlasts a build.
struct Desk {
    cache: Cache,
    memory: Memory,
}

impl Desk {
    fn open(out: &Path, memory: Memory) -> Result<Desk, Vec<Fault>> {
        store::check_writable(out).map_err(one)?;
        Ok(Desk { cache: Cache::open(&out.join(".cache")), memory })
    }
}

/// A build of a watch: its proof is shown as soon as there is one, and it ends early when something else was saved.
struct Live<'a> {
    /// How many proofs were shown so far.
    shown: &'a mut u64,
    show: &'a mut dyn FnMut(u64, proof::Written),
    overtaken: &'a (dyn Fn() -> bool + Sync),
}

impl Live<'_> {
    fn show(&mut self, desk: &Desk, made: &MadeAll, since: Option<&Since>, stopped: bool) -> Result<(), Vec<Fault>> {
        *self.shown += 1;
        let number = *self.shown;
        let about = proofing::About { stopped, since, live: Some(number), ..proofing::About::product(&made.product) };
        let page = proofing::proof(&about, &made.inspected, &made.files, &made.findings, &desk.cache, &desk.memory)
            .map_err(one)?;
        (self.show)(number, page);
        Ok(())
    }
}

/// The same with what outlasts a build. `None` when a live build was overtaken.
fn build_with(
    world: &World,
    options: &Options,
    desk: &Desk,
    mut live: Option<Live>,
) -> Result<Option<Built>, Vec<Fault>> {
    let say = &options.progress;
    let stopping = if options.strict { Severity::Warning } else { Severity::Error };
    let stops = |findings: &[Finding]| findings.iter().any(|f| f.severity <= stopping);
    say(Step::Stage("manifest", 0));
    let product = manifest::read(world)?;
    let earlier = store::earlier(&options.out, &product.slug, &product.version);
    if live.is_none()
        && let Some(built) =
            again::recall(&desk.cache, world, &options.out, &product, earlier.as_ref()).filter(|b| !stops(&b.findings))
    {
        store::drop_beside(&options.out, &product.slug, &beside(&product.version));
        return Ok(Some(built));
    }
    let (cache, memory) = (Some(&desk.cache), &desk.memory);
    let mut made = make(product, cache, memory, say)?;
    // Pages are seen at once; listing pictures take longer, and until then the last ones stand in for them.
    let mut shown = None;
    if let Some(live) = &mut live {
        say(Step::Stage("judge", 0));
        made.hang(memory.photos(), cache, memory);
        say(Step::Stage("show", 0));
        live.show(desk, &made, None, stops(&made.findings))?;
        shown = Some(made.seen());
    }
    say(Step::Stage("pictures", made.product.shots.len()));
    let overtaken: &(dyn Fn() -> bool + Sync) = live.as_ref().map_or(&|| false, |l| l.overtaken);
    let photos = match made.photos(cache, memory, say, overtaken) {
        Ok(photos) => photos,
        Err(photos::Stopped::Overtaken) => return Ok(None),
        Err(photos::Stopped::Faults(faults)) => return Err(faults),
    };
    memory.keep_photos(&photos);
    say(Step::Stage("validate", 0));
    made.hang(photos, cache, memory);
    record(world, &mut made);
    say(Step::Stage("compare", 0));
    let since = versions::since(earlier.as_ref(), &made.files);
    if let Some(since) = &since {
        validate::version(&mut made.findings, &made.product, since);
    }
    let stopped = stops(&made.findings);
    if let Some(live) = &mut live
        && (since.is_some() || shown != Some(made.seen()))
    {
        live.show(desk, &made, since.as_ref(), stopped)?;
    }
    if live.as_ref().is_some_and(|l| (l.overtaken)()) {
        return Ok(None);
    }
    say(Step::Stage("proof", 0));
    let about = proofing::About { stopped, since: since.as_ref(), ..proofing::About::product(&made.product) };
    let proof = proofing::proof(&about, &made.inspected, &made.files, &made.findings, &desk.cache, &desk.memory)
        .map_err(one)?;
    let mut files = made.files;
    files.push(Artifact { path: proof::FILE.to_owned(), kind: Kind::Listing, bytes: proof.page.into_bytes() });
    files.push(text("SHA256SUMS", Kind::Listing, checksum::sums(&checksum::digests(&files))));
    let mut built = Built {
        folder: None,
        proof: None,
        files: made.inspected.iter().filter_map(MadeFile::of).collect(),
        findings: made.findings,
        product: made.product,
        notes: made.notes,
        since: None,
        earlier: since,
    };
    let (out, slug) = (&options.out, built.product.slug.clone());
    if !stopped {
        say(Step::Stage("write", 0));
        let product = &built.product;
        let place = store::place(out, &slug, &product.version);
        let before = versions::against(&place, &files, !product.frozen);
        let written = store::publish(out, &slug, &product.version, &files, product.frozen, overtaken)
            .map_err(|faults| faults.into_iter().map(|f| versions::explain(f, before.as_ref())).collect::<Vec<_>>())?;
        let Some(folder) = written else { return Ok(None) };
        store::drop_beside(out, &slug, &beside(&product.version));
        built.proof = Some(folder.join(proof::FILE));
        built.folder = Some(folder);
        built.since = before.as_ref().map(versions::line);
        again::remember(&desk.cache, world, earlier.as_ref(), &files, &built);
    } else if let Some(page) = files.iter().find(|f| f.path == proof::FILE) {
        // The bundle that lies there stays; what she has to see lies beside it until a build succeeds.
        let name = beside(&built.product.version);
        built.proof = Some(store::put_beside(out, &slug, &name, &page.bytes).map_err(one)?);
    }
    Ok(Some(built))
}

/// The name of the proof of a bundle that was not written, in the folder in which the versions lie.
fn beside(version: &str) -> String {
    format!("{version}-stopped.html")
}

/// Everything that a build makes, before it is written.
struct MadeAll {
    product: Product,
    plan: Plan,
    font_sum: String,
    fonts: Arc<Fonts>,
    facts: listing::BundleFacts,
    files: Vec<Artifact>,
    inspected: Vec<Inspected>,
    /// How many of the files are no listing pictures: those come last.
    bare: usize,
    findings: Vec<Finding>,
    notes: Vec<String>,
}

impl MadeAll {
    /// The listing pictures of what was made.
    fn photos(
        &self,
        cache: Option<&Cache>,
        memory: &Memory,
        say: &Progress,
        overtaken: &(dyn Fn() -> bool + Sync),
    ) -> Result<Vec<photos::Photo>, photos::Stopped> {
        let bench = Bench::new(&self.product, &self.fonts, &self.font_sum, cache, memory, say);
        photos::take(&bench, &self.plan, &self.files, &self.inspected, &self.facts, overtaken)
    }

    /// Puts these listing pictures in the place of those that are there, and judges the whole.
    fn hang(&mut self, photos: Vec<photos::Photo>, cache: Option<&Cache>, memory: &Memory) {
        self.files.truncate(self.bare);
        self.inspected.truncate(self.bare);
        self.plan.pictures.clear();
        for (artifact, composed) in photos {
            self.inspected.push(read_back::one(&artifact, cache, memory));
            self.files.push(artifact);
            self.plan.pictures.push(composed);
        }
        self.findings = validate::judge(&self.inspected, Some((&self.product, &self.plan)));
    }

    /// What a person would see of it.
    fn seen(&self) -> (Vec<String>, Vec<Finding>) {
        (self.inspected.iter().map(|i| format!("{} {}", i.sha256, i.path)).collect(), self.findings.clone())
    }
}

/// Makes everything but the listing pictures.
fn make(product: Product, cache: Option<&Cache>, memory: &Memory, say: &Progress) -> Result<MadeAll, Vec<Fault>> {
    let fonts = Arc::new(Fonts::open(&product.style.fonts)?);
    let font_sum = keys::fonts(&product);
    say(Step::Stage("cut", product.stickers.cuts.len()));
    let mut product = product;
    let cut_notes = cutting::cut(&mut product, &fonts, &font_sum, memory)?;
    say(Step::Stage("plan", 0));
    let mut plan = plan::plan(&product, &fonts)?;
    say(Step::Stage("render", plan.items.len()));
    let bench = Bench::new(&product, &fonts, &font_sum, cache, memory, say);
    let read_back = |files: &[Artifact]| read_back::all(files, cache, memory);
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
    say(Step::Stage("read back", 0));
    let mut inspected = read_back(&contents);
    let late = late_items(&bench, &plan, &contents, &inspected)?;
    say(Step::Stage("sheets and guide", late.len()));
    let rendered: Vec<Rendered> = late.par_iter().map(|item| bench.render(item)).collect();
    for (item, rendered) in late.into_iter().zip(rendered) {
        let (artifact, said) = rendered?;
        plan.items.push(item);
        contents.push(artifact);
        notes.extend(said);
    }
    contents.push(text("contents/licence-terms.txt", Kind::Licence, listing::terms(&product)));
    inspected.extend(read_back(&contents[inspected.len()..]));
    let facts = listing::BundleFacts::read(&product, &inspected)?;
    contents.push(text("contents/start-here.txt", Kind::StartHere, listing::start_here(&product, &facts)));
    inspected.extend(read_back(&contents[inspected.len()..]));
    say(Step::Stage("package", 0));
    // Whether a file gains by deflate is tried once for its bytes.
    let digests: BTreeMap<String, String> = inspected.iter().map(|i| (i.path.clone(), i.sha256.clone())).collect();
    let worth = |file: &Artifact| match digests.get(&file.path) {
        Some(sha256) => memory.worth(&file.path, sha256, || archive::worth(file)),
        None => archive::worth(file),
    };
    let mut packing = package::pack_knowing(&product, &contents, &worth)?;
    if let (true, Some(address)) = (packing.wants_card(), &product.delivery) {
        let card = plan::card(&product, &fonts, address, &packing.left_out);
        let (artifact, _) = bench.render(&card)?;
        plan.items.push(card);
        inspected.push(read_back::one(&artifact, cache, memory));
        contents.push(artifact);
        packing = package::pack_knowing(&product, &contents, &worth)?;
    }
    for left in &packing.left_out {
        notes.push(format!("{left} does not fit into the shop's files; the delivery card links to it"));
    }
    inspected.extend(read_back(&packing.uploads));
    say(Step::Stage("list", 0));
    let facts = listing::BundleFacts::read(&product, &inspected)?;
    let listed = listing::texts(&product, &facts).map_err(one)?;
    inspected.extend(read_back(&listed));
    plan.remarks.extend(plan::cut_texts(&plan.items, &product.style, &fonts));
    let mut files = contents;
    files.extend(packing.uploads);
    files.extend(listed);
    let bare = files.len();
    Ok(MadeAll { product, plan, font_sum, fonts, facts, files, inspected, bare, findings: Vec::new(), notes })
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

/// Sheets and guide: they need the finished stickers and the counts of the rest.
fn late_items(
    bench: &Bench,
    plan: &Plan,
    contents: &[Artifact],
    inspected: &[Inspected],
) -> Result<Vec<Item>, Vec<Fault>> {
    let (product, fonts) = (bench.product, bench.fonts);
    let files = contents.par_iter().zip(inspected).filter(|(artifact, _)| artifact.kind == Kind::Sticker);
    let made = files.map(|(artifact, read)| finished(artifact, read, bench.memory)).collect::<Result<Vec<_>, _>>()?;
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
        contact: contact_pictures(bench, &made)?,
    };
    let guide = plan::guide(product, fonts, &facts)?;
    Ok(sheets.into_iter().chain(guide).collect())
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

/// One digest over everything that was read.
fn inputs_key(world: &World) -> String {
    let list: Vec<String> =
        world.inputs().iter().map(|(path, bytes)| format!("{} {path}", checksum::sha256_hex(bytes))).collect();
    checksum::sha256_hex(list.join("\n").as_bytes())
}
