//! The order of the stages: the only file that knows it.

mod again;
mod bench;
mod cells;
mod cutting;
mod keep;
mod keys;
mod look_over;
mod make;
mod memory;
mod photos;
mod progress;
mod proofing;
mod read_back;
mod versions;
mod watch;

pub use look_over::{Checked, check, findings, switched_off};
pub use progress::{Progress, Step, silent};
pub use proofing::{empty_proof, proof_of};
pub use show::proof::Written;
pub use versions::{Note, change_note, changes_page, diff, line, record_change};
pub use watch::{Round, watch};

use crate::package::record;
use crate::store;
use crate::store::Cache;
use crate::world::World;
use base::checksum;
use base::files::Files;
use base::model::difference::Since;
use base::model::facts::{Facts, Inspected};
use base::model::{Artifact, Fault, Finding, Kind, Product, Severity};
use judge::validate;
use make::{MadeAll, make};
use memory::Memory;
use serde::{Deserialize, Serialize};
use show::proof;
use std::path::{Path, PathBuf};

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

/// Builds a product: manifest, plan, render, read back, package, list, judge, prove, write.
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
        let about =
            proofing::About { stopped, since, live: Some(number), ..proofing::About::product(&made.lead().product) };
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
    let products = manifest::read(world, rulings::TABLE)?;
    let product = &products[0];
    let earlier = store::earlier(&options.out, &product.slug, &product.version);
    if live.is_none()
        && let Some(built) =
            again::recall(&desk.cache, world, &options.out, product, earlier.as_ref()).filter(|b| !stops(&b.findings))
    {
        store::drop_beside(&options.out, &product.slug, &beside(&product.version));
        return Ok(Some(built));
    }
    let (cache, memory) = (Some(&desk.cache), &desk.memory);
    let mut made = make(products, cache, memory, say)?;
    // Pages are seen at once; listing pictures take longer, and until then the last ones stand in for them.
    let mut shown = None;
    if let Some(live) = &mut live {
        say(Step::Stage("judge", 0));
        made.hang(memory.photos(), cache, memory);
        say(Step::Stage("show", 0));
        live.show(desk, &made, None, stops(&made.findings))?;
        shown = Some(made.seen());
    }
    say(Step::Stage("pictures", made.lead().product.shots.len()));
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
        validate::version(&mut made.findings, &made.cells[0].product, since);
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
    let about = proofing::About { stopped, since: since.as_ref(), ..proofing::About::product(&made.lead().product) };
    let proof = proofing::proof(&about, &made.inspected, &made.files, &made.findings, &desk.cache, &desk.memory)
        .map_err(one)?;
    let MadeAll { mut cells, mut files, inspected, findings, notes, .. } = made;
    files.push(Artifact { path: proof::FILE.to_owned(), kind: Kind::Listing, bytes: proof.page.into_bytes() });
    files.push(text("SHA256SUMS", Kind::Listing, checksum::sums(&checksum::digests(&files))));
    let mut built = Built {
        folder: None,
        proof: None,
        files: inspected.iter().filter_map(MadeFile::of).collect(),
        findings,
        product: cells.swap_remove(0).product,
        notes,
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

/// The record: what proves years later that no byte has changed. The proof follows from all other files and is not in it.
fn record(world: &World, made: &mut MadeAll) {
    let digests = checksum::digests(&made.files);
    let inputs: Vec<(String, String)> =
        world.inputs().iter().map(|(path, bytes)| (path.clone(), checksum::sha256_hex(bytes))).collect();
    let record = record::bundle(&made.lead().product, &made.inspected, &digests, &inputs);
    made.files.push(text("bundle.json", Kind::Listing, record));
}

fn one(fault: Fault) -> Vec<Fault> {
    vec![fault]
}

fn text(path: &str, kind: Kind, text: String) -> Artifact {
    Artifact { path: path.to_owned(), kind, bytes: text.into_bytes() }
}

/// One digest over everything that was read.
fn inputs_key(world: &World) -> String {
    let list: Vec<String> =
        world.inputs().iter().map(|(path, bytes)| format!("{} {path}", checksum::sha256_hex(bytes))).collect();
    checksum::sha256_hex(list.join("\n").as_bytes())
}
