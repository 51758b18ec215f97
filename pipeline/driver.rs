//! The order of the stages: the only file that knows it.

mod built;
mod bundle;
mod catalogue;
mod change;
mod check;
mod compare;
mod context;
mod figures;
mod files;
mod kin;
mod launch;
mod loose;
mod manual;
mod many;
mod memory;
mod origins;
mod other_manifest;
mod pack;
mod pictures;
mod placed;
mod progress;
mod proof;
mod redate;
mod release;
mod seals;
mod session;
mod sets;
mod share;
mod up_to_date;
mod values;
mod variants;
mod verify;
mod versions;

pub use built::{Built, MadeFile, Options};
pub use catalogue::catalogue;
pub use change::{Added, Looked, State, add, look};
pub use check::{Checked, check, switched_off};
pub use compare::{Wanted, diff};
pub use launch::{launch, tick_off};
pub use manual::manual_pictures;
pub use many::{Turn, build_many};
pub use memory::Memory;
pub use origins::origins;
pub use pack::{Packed, is_free};
pub use progress::{Progress, Step, silent};
pub use proof::{empty_proof, proof_of};
pub use redate::{Redated, redate};
pub use release::{Sealed, Sealing, seal};
pub use share::{Shard, share};
pub use show::proof::Written;
pub use verify::{Asked, Rebuilt, Verified, verify};
pub use versions::{Note, change_note, changes_page, line, record_change};

use crate::package;
use crate::package::record;
use crate::releases::Releases;
use crate::releases::compare::{RECORD, SUMS};
use crate::store;
use crate::store::{Cache, Kept};
use crate::world::World;
use crate::world::watch::Watch;
use base::checksum;
use base::files::Files;
use base::model::panics::caught;
use base::model::{Artifact, Fault, Finding, Kind, Product, Severity, Stop};
use bundle::{Bundle, ListingPicture};
use judge::validate;
use proof::About;
use session::{Session, Task};
use show::proof::Before;
use std::path::Path;

/// A moment at which there is something to see, before the bundle is written.
enum Moment<'a> {
    /// Everything is there but the listing pictures.
    Listed,
    /// Everything is there; what changed since the version before, and whether findings stop the build.
    Judged(Option<Before<'a>>, bool),
}

/// Told of such moments with the bundle as it is then.
type Show<'a> = &'a mut dyn FnMut(&mut Bundle, Moment) -> Result<(), Stop>;

/// Shows nobody anything.
fn unseen(_: &mut Bundle, _: Moment) -> Result<(), Stop> {
    Ok(())
}

/// The stages up to a bundle that is judged.
fn make(session: &Session, products: Vec<Product>, show: Show) -> Result<Bundle, Stop> {
    let set = products.first().filter(|product| product.is_set()).cloned();
    let contents = match set {
        Some(set) => sets::contents(session, set)?,
        None => bundle::make(session, bundle::plan(session, products)?)?,
    };
    let packed = bundle::package(session, contents)?;
    let mut bundle = bundle::list(session, packed)?;
    show(&mut bundle, Moment::Listed)?;
    let pictures = pictures::take(session, &bundle)?;
    session.stage("validate", 0);
    bundle.judge(session, pictures)?;
    Ok(bundle)
}

/// All stages: what `build` does once and `watch` again and again.
fn run(
    session: &Session,
    world: &World,
    options: &Options,
    releases: &Releases,
    products: Vec<Product>,
    show: Show,
) -> Result<Built, Stop> {
    let earlier = store::earlier(&options.out, &products[0].slug, &products[0].version, &releases.versions());
    let wants_pack = products[0].versions.update_pack;
    let mut bundle = make(session, products, show)?;
    record(session, world, &mut bundle)?;
    session.stage("compare", 0);
    let sides = earlier.as_ref().and_then(|earlier| versions::Sides::of(earlier, &bundle.files));
    let (since, mut compared) = match &sides {
        Some(sides) => sides.since(session).map(|(since, made)| (Some(since), made))?,
        None => (None, None),
    };
    if let Some(since) = &since {
        validate::version(&mut bundle.findings, &bundle.variants[0].product.lowered, since);
    }
    let stopped = stops(&bundle.findings, options);
    let documents = sides.as_ref().map(versions::Sides::documents).unwrap_or_default();
    let before = since.as_ref().map(|since| Before { since, files: &documents });
    show(&mut bundle, Moment::Judged(before, stopped))?;
    session.stage("proof", 0);
    let about = About { stopped, since: before, ..About::product(&bundle.lead().product) };
    let proof = proof::prove(session, &about, &bundle.inspected, &bundle.files, &bundle.findings)?;
    bundle.files.push(bundle::text(show::proof::FILE, Kind::Listing, proof.page));
    if let Some(sides) = sides.as_ref().filter(|_| wants_pack && !stopped) {
        session.stage("pack", 0);
        bundle.files.extend(pack::of_build(session, sides, compared.take())?);
    }
    let sums = checksum::sums(&checksum::digests(&bundle.files));
    bundle.files.push(bundle::text(SUMS, Kind::Listing, sums));
    let Bundle { mut variants, files, inspected, findings, notes, .. } = bundle;
    let built = Built {
        folder: None,
        proof: None,
        files: inspected.iter().filter_map(MadeFile::of).collect(),
        findings,
        product: variants.swap_remove(0).product,
        notes,
        since: None,
        earlier: since,
    };
    let built = publish(session, world, options, releases, built, &files)?;
    if built.folder.is_some() {
        up_to_date::remember(session, world, earlier.as_ref(), &files, &built);
    }
    Ok(built)
}

/// The record: what proves years later that no byte has changed. The proof follows from all other files and is not in it.
fn record(session: &Session, world: &World, bundle: &mut Bundle) -> Result<(), Stop> {
    let inputs: Vec<(String, String)> = seals::inputs_of(world).into_iter().collect();
    let (product, inspected) = (&bundle.lead().product, &bundle.inspected);
    let products: Vec<&Product> = bundle.variants.iter().map(|v| &v.product).collect();
    let digests = checksum::digests(&bundle.files);
    let findings = validate::kept::to_json(&bundle.findings);
    let lowered = (!product.lowered.is_empty()).then(|| validate::kept::lowered_to_json(&product.lowered));
    let of = (&products, bundle::known(inspected), &digests, &inputs, findings.to_string());
    let record = session.ask(Task::new("record", &of), || {
        let text = record::bundle(&products, inspected, &digests, &inputs, (findings, lowered));
        Ok(vec![bundle::text(RECORD, Kind::Listing, text)])
    })?;
    bundle.files.extend_from_slice(&record);
    Ok(())
}

/// Writes the bundle, or, where findings stop it, the proof alone.
fn publish(
    session: &Session,
    world: &World,
    options: &Options,
    releases: &Releases,
    mut built: Built,
    files: &[Artifact],
) -> Result<Built, Stop> {
    let (out, product) = (&options.out, &built.product);
    let (slug, version) = (&product.slug, &product.version);
    if stops(&built.findings, options) {
        // The bundle that lies there stays; what the designer has to see lies beside it until a build succeeds.
        let page = files.iter().find(|f| f.path == show::proof::FILE).map_or(&[][..], |f| &f.bytes);
        built.proof = Some(store::put_beside(out, slug, &beside(version), page)?);
        return Ok(built);
    }
    session.stage("write", 0);
    let kept = seals::kept(product, releases);
    let before = versions::against(session, &store::place(out, slug, version), files, kept == Kept::No)?;
    let written = session.act(|cancelled| store::publish(out, slug, version, files, kept, cancelled));
    let folder = written
        .map_err(|stop| versions::explained(seals::explained(stop, releases, product, world), before.as_deref()))?;
    store::note_product(out, slug, world.root())?;
    seals::as_the_manifest_says(&folder, product, releases)?;
    store::drop_beside(out, slug, &beside(version));
    built.proof = Some(folder.join(show::proof::FILE));
    built.folder = Some(folder);
    built.since = before.as_deref().map(versions::line);
    Ok(built)
}

/// Whether findings keep the bundle from being written.
fn stops(findings: &[Finding], options: &Options) -> bool {
    let stopping = if options.strict { Severity::Warning } else { Severity::Error };
    findings.iter().any(|f| f.severity <= stopping)
}

/// Lets stickers that buyers have keep their numbers.
fn numbered(products: &mut [Product], out: &Path, releases: &Releases) -> Result<(), Stop> {
    let Some(lead) = products.first_mut() else { return Ok(()) };
    sets::number_members(lead, out)?;
    let record = store::issued_record(out, &lead.slug, &lead.version, &releases.versions());
    let Some(record) = record.and_then(|bytes| serde_json::from_slice(&bytes).ok()) else { return Ok(()) };
    for product in products {
        let variant = product.variants.mine().map(|v| v.name.clone());
        product.stickers.numbers = package::numbers::issued(&record, variant.as_deref());
    }
    Ok(())
}

/// The name of the proof of a bundle that was not written, in the folder in which the versions lie.
fn beside(version: &str) -> String {
    format!("{version}-stopped.html")
}

fn cache(out: &Path) -> Result<Cache, Stop> {
    store::check_writable(out)?;
    Ok(Cache::open(&out.join(".cache")))
}

/// Builds a product.
///
/// # Errors
/// Everything that keeps the build from running at all. Findings are no errors of the run: they come in `Built`.
pub fn build(path: &Path, options: &Options) -> Result<Built, Stop> {
    let session = Session::once(cache(&options.out)?, &options.progress);
    let world = World::open(path)?.noting(session.notes());
    session.stage("manifest", 0);
    let mut products = manifest::read(&world, rulings::ALL)?;
    sets::build_members(&products[0], options)?;
    let releases = seals::of_product(world.root())?;
    numbered(&mut products, &options.out, &releases)?;
    let product = &products[0];
    if let Some(built) = as_it_lies(&session, &world, options, &releases, product)? {
        return Ok(built);
    }
    // Members of a set were built before, and gave back what they had taken.
    let _taken = options.memory.take(memory::need(&products));
    run(&session, &world, options, &releases, products, &mut unseen)
}

/// The bundle that lies there, where it is what a build would make now; its record is renewed where the inputs state the same
/// in other words.
fn as_it_lies(
    session: &Session,
    world: &World,
    options: &Options,
    releases: &Releases,
    product: &Product,
) -> Result<Option<Built>, Stop> {
    let (out, slug, version) = (&options.out, &product.slug, &product.version);
    let earlier = store::earlier(out, slug, version, &releases.versions());
    let lies = store::record_digest(out, slug, version);
    let known = up_to_date::recall(session, world, out, product, earlier.as_ref());
    let Some((mut built, telling)) = known.filter(|(built, _)| !stops(&built.findings, options)) else {
        return Ok(None);
    };
    if telling.is_empty() {
        if releases.of(version).is_some_and(|release| lies.as_ref() != Some(&release.record)) {
            return Ok(None);
        }
        store::sweep(out, slug, version)?;
    } else {
        if seals::kept(product, releases) != Kept::No {
            return Ok(None);
        }
        session.stage("write", 0);
        let place = (slug.as_str(), version.as_str());
        if !session.act(|cancelled| store::renew(out, place, lies.as_deref(), &telling, cancelled))? {
            return Ok(None);
        }
        built.since = Some(judge::diff::NOTHING.to_owned());
    }
    store::drop_beside(out, slug, &beside(version));
    store::note_product(out, slug, world.root())?;
    Ok(Some(built))
}

/// What a round of watching came to.
pub enum Round {
    /// A build begins.
    Begun,
    /// There is a proof, under this number. The bundle is not written yet, and a second proof follows where the listing
    /// pictures had to be taken anew.
    Proof(u64, Written),
    /// The bundle is written, or findings kept it from that.
    Done(Box<Built>),
    /// Something else was saved meanwhile: the next round begins at once.
    Cancelled,
    /// It could not be made; the last proof stays.
    Broken(Vec<Fault>),
}

/// Builds now and after every change, and tells of each round. Returns only when there is nothing to watch.
///
/// # Errors
/// When the folder cannot be opened or watched.
pub fn watch(path: &Path, options: &Options, tell: &mut dyn FnMut(Round)) -> Result<(), Stop> {
    let mut world = World::open(path)?;
    let cache = cache(&options.out)?;
    // Watched before the first build, so that no save in between is lost.
    let mut watch = Watch::open(world.root(), &options.out)?;
    watch.beside(world.rests_on());
    let pending = watch.pending();
    let session = Session::lasting(cache, &options.progress, &pending);
    let (mut number, mut last): (u64, Vec<ListingPicture>) = (0, Vec::new());
    loop {
        tell(Round::Begun);
        let mut seen = None;
        // Pages are seen at once. Listing pictures take longer, and until then the last ones stand in for them.
        let mut show = |bundle: &mut Bundle, moment: Moment| {
            let (since, stopped) = match moment {
                Moment::Listed => {
                    session.stage("judge", 0);
                    bundle.judge(&session, last.clone())?;
                    (None, stops(&bundle.findings, options))
                }
                Moment::Judged(since, stopped) => {
                    last = bundle.pictures();
                    if since.is_none() && seen == Some(bundle.seen()) {
                        return Ok(());
                    }
                    (since, stopped)
                }
            };
            session.stage("show", 0);
            let about = About { stopped, since, live: Some(number + 1), ..About::product(&bundle.lead().product) };
            let page = proof::prove(&session, &about, &bundle.inspected, &bundle.files, &bundle.findings)?;
            number += 1;
            seen = Some(bundle.seen());
            tell(Round::Proof(number, page));
            Ok(())
        };
        session.stage("manifest", 0);
        // Whatever ends a round, the next save begins another one.
        let round = caught(|| {
            let products = manifest::read(&world, rulings::ALL);
            // What the shop's folder was asked for, there or not yet: it may be saved while this round goes on.
            watch.beside(world.rests_on());
            let mut products = products?;
            let releases = seals::of_product(world.root())?;
            numbered(&mut products, &options.out, &releases)?;
            run(&session, &world, options, &releases, products, &mut show)
        });
        let round = round.unwrap_or_else(|gave_up| {
            Err(Fault::new(format!("this round ended in a fault of the program: {}", gave_up.0))
                .help("undo what was changed last, and report it; the next save is built anew")
                .into())
        });
        let whole = !matches!(round, Err(Stop::Cancelled));
        tell(match round {
            Ok(built) => Round::Done(Box::new(built)),
            Err(Stop::Cancelled) => Round::Cancelled,
            Err(Stop::Faults(faults)) => Round::Broken(faults),
        });
        if whole {
            session.next_round();
        }
        if !watch.wait() {
            return Ok(());
        }
        world = world.again();
    }
}
