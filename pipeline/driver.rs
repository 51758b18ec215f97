//! The order of the stages: the only file that knows it.

use crate::diff;
use crate::draw::Fonts;
use crate::inspect;
use crate::listing;
use crate::model::difference::Comparison;
use crate::model::drawing::Picture;
use crate::model::facts::{Facts, Inspected};
use crate::model::plan::Make;
use crate::model::product::Sticker;
use crate::model::{Artifact, Fault, Finding, Item, Kind, Plan, Product, Severity, Size};
use crate::package::{self, record};
use crate::plan::{self, GuideFacts, Made};
use crate::render::pdf;
use crate::render::stickers::Workshop;
use crate::store::{self, Cache};
use crate::validate;
use crate::world::{self, Outside, World};
use crate::{checksum, manifest};
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
}

/// Builds a product: manifest, plan, render, read back, validate, package, list, write.
///
/// # Errors
/// Everything that keeps the build from running at all. Findings are no errors of the run: they come in `Built`.
pub fn build(path: &Path, options: &Options) -> Result<Built, Vec<Fault>> {
    store::check_writable(&options.out).map_err(one)?;
    let cache = Cache::open(&options.out.join(".cache"));
    let world = World::open(path).map_err(one)?;
    let made = make(&world, Some(&cache), &options.progress)?;
    let say = &options.progress;
    let stopping = if options.strict { Severity::Warning } else { Severity::Error };
    let stopped = made.findings.iter().any(|f| f.severity <= stopping);
    let mut built = Built {
        folder: None,
        files: made.inspected.iter().filter_map(|i| Some((i.path.clone(), i.kind?, i.size))).collect(),
        findings: made.findings,
        product: made.product,
        notes: made.notes,
    };
    if !stopped {
        say("write");
        let (out, product) = (&options.out, &built.product);
        let folder = store::publish(out, &product.slug, &product.version, &made.files, product.frozen)?;
        built.folder = Some(folder);
    }
    Ok(built)
}

/// Builds a product without writing anything, for its findings alone.
///
/// # Errors
/// As `build`.
pub fn findings(path: &Path) -> Result<Vec<Finding>, Vec<Fault>> {
    let world = World::open(path).map_err(one)?;
    Ok(make(&world, None, &|_: &str| {})?.findings)
}

/// Everything that a build makes, before it is written.
struct MadeAll {
    product: Product,
    files: Vec<Artifact>,
    inspected: Vec<Inspected>,
    findings: Vec<Finding>,
    notes: Vec<String>,
}

fn make(world: &World, cache: Option<&Cache>, say: &(dyn Fn(&str) + Send + Sync)) -> Result<MadeAll, Vec<Fault>> {
    say("manifest");
    let product = manifest::read(world)?;
    let fonts = Fonts::open(&product.style.fonts)?;
    say("plan");
    let mut plan = plan::plan(&product, &fonts)?;
    say("render");
    let workshop = Workshop::new(&product.style, &fonts);
    let bench = Bench { product: &product, fonts: &fonts, workshop, cache, inputs: inputs_key(world) };
    let rendered: Vec<Rendered> = plan.items.par_iter().map(|item| bench.render(item)).collect();
    let (mut contents, mut notes) = (Vec::new(), Vec::new());
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
    for item in late_items(&product, &plan, &contents, &fonts)? {
        let (artifact, said) = bench.render(&item)?;
        plan.items.push(item);
        contents.push(artifact);
        notes.extend(said);
    }
    contents.push(text("contents/licence-terms.txt", Kind::Licence, listing::terms(&product)));
    say("read back");
    let mut inspected = inspect_all(&contents);
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
    say("validate");
    let findings = validate::judge(&inspected, Some((&product, &plan)));
    let mut files = contents;
    files.extend(packing.uploads);
    files.extend(listed);
    let digests = checksum::digests(&files);
    let inputs: Vec<(String, String)> =
        world.inputs().iter().map(|(path, bytes)| (path.clone(), checksum::sha256_hex(bytes))).collect();
    files.push(text("bundle.json", Kind::Listing, record::bundle(&product, &inspected, &digests, &inputs)));
    files.push(text("SHA256SUMS", Kind::Listing, checksum::sums(&checksum::digests(&files))));
    Ok(MadeAll { product, files, inspected, findings, notes })
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
fn late_items(product: &Product, plan: &Plan, contents: &[Artifact], fonts: &Fonts) -> Result<Vec<Item>, Vec<Fault>> {
    let made = contents.iter().filter(|a| a.kind == Kind::Sticker).map(finished).collect::<Result<Vec<_>, _>>()?;
    let sheets = plan::sheets(product, &made);
    let pages = |kind: Kind| {
        let planned = plan.items.iter().chain(&sheets).find(|i| i.kind == kind);
        planned.map_or(0, |i| if let Make::Pdf(pdf) = &i.make { pdf.pages.len() } else { 0 })
    };
    let facts = GuideFacts {
        pages: pages(Kind::Notebook),
        covers: pages(Kind::Covers),
        stickers: made.len(),
        sheets: pages(Kind::Sheet),
        files: plan::file_rows(plan.items.iter().chain(&sheets)),
    };
    let guide = plan::guide(product, fonts, &facts)?;
    Ok(sheets.into_iter().chain(guide).collect())
}

/// A sticker's pixels and its true size, from the file that buyers get.
fn finished(artifact: &Artifact) -> Result<Made, Vec<Fault>> {
    let read = manifest::decode_picture(&artifact.path, &artifact.bytes).map_err(one)?;
    let dpi = match inspect::read(&artifact.path, &artifact.bytes) {
        // The file counts pixels in a metre; a resolution is meant as a round number of dots in an inch.
        Facts::Png(png) => png.dpi().map(|d| (d * 100.0).round() / 100.0),
        _ => None,
    };
    let dpi =
        dpi.ok_or_else(|| one(Fault::new("the sticker does not state its resolution").in_file(&artifact.path)))?;
    let size = Size::new(f64::from(read.width) / dpi * 72.0, f64::from(read.height) / dpi * 72.0);
    Ok(Made { picture: Arc::new(Picture { name: artifact.path.clone(), ..read }), size })
}

type Rendered = Result<(Artifact, Vec<String>), Vec<Fault>>;

/// What rendering needs.
struct Bench<'a> {
    product: &'a Product,
    fonts: &'a Fonts,
    workshop: Workshop<'a>,
    cache: Option<&'a Cache>,
    inputs: String,
}

impl Bench<'_> {
    fn render(&self, item: &Item) -> Rendered {
        let artifact = |bytes| Artifact { path: item.path.clone(), kind: item.kind, bytes };
        match &item.make {
            Make::Text(text) => Ok((artifact(text.clone().into_bytes()), Vec::new())),
            Make::Pdf(pdf) => {
                let key = self.key(&format!("pdf {}", item.path));
                let bytes = self.cached(&key, || {
                    pdf::write(pdf, &self.about(), self.fonts).map_err(|why| vec![Fault::new(why).in_file(&item.path)])
                })?;
                Ok((artifact(bytes), Vec::new()))
            }
            Make::Sticker(sticker) => self.sticker(sticker).map(|(bytes, notes)| (artifact(bytes), notes)),
        }
    }

    fn sticker(&self, sticker: &Sticker) -> Result<(Vec<u8>, Vec<String>), Vec<Fault>> {
        let mut notes = Vec::new();
        let key = self.key(&format!("sticker {sticker:?}"));
        let bytes = self.cached(&key, || {
            let made = self.workshop.sticker(sticker).map_err(one)?;
            notes = made.notes;
            Ok(made.png)
        })?;
        Ok((bytes, notes))
    }

    fn about(&self) -> pdf::About<'_> {
        pdf::About {
            author: &self.product.shop.name,
            language: &self.product.language,
            date: self.product.released,
            classic: self.product.classic_pdf,
        }
    }

    /// Key of a rendered thing: the tool, everything that was read, and what is made of it.
    fn key(&self, what: &str) -> String {
        let text = format!("{}\n{}\n{what}", env!("SHEAFWRIGHT_SOURCES"), self.inputs);
        checksum::sha256_hex(text.as_bytes())
    }

    fn cached(&self, key: &str, render: impl FnOnce() -> Result<Vec<u8>, Vec<Fault>>) -> Result<Vec<u8>, Vec<Fault>> {
        if let Some(bytes) = self.cache.and_then(|c| c.get(key)) {
            return Ok(bytes);
        }
        let bytes = render()?;
        if let Some(cache) = self.cache {
            cache.put(key, &bytes);
        }
        Ok(bytes)
    }
}

/// One digest over everything that was read.
fn inputs_key(world: &World) -> String {
    let list: Vec<String> =
        world.inputs().iter().map(|(path, bytes)| format!("{} {path}", checksum::sha256_hex(bytes))).collect();
    checksum::sha256_hex(list.join("\n").as_bytes())
}

/// What `check` found, and what it read.
pub struct Checked {
    /// The findings.
    pub findings: Vec<Finding>,
    /// Files that were read, without those of products, which are built for the purpose.
    pub files: Vec<Inspected>,
}

/// Reads loose files, folders and archives back for the checks: no plan, no promise. Products are built, without
/// writing anything, and held against their plan.
///
/// # Errors
/// A path that cannot be read, or a product that cannot be built.
pub fn check(paths: &[PathBuf]) -> Result<Checked, Vec<Fault>> {
    let (mut checked, mut faults) = (Checked { findings: Vec::new(), files: Vec::new() }, Vec::new());
    for path in paths {
        if path.join(manifest::FILE).is_file() || path.file_name().is_some_and(|n| n == manifest::FILE) {
            match self::findings(path) {
                Ok(found) => checked.findings.extend(found),
                Err(f) => faults.extend(f),
            }
        } else {
            match loose(path) {
                Ok(files) => checked.files.extend(files),
                Err(f) => faults.extend(f),
            }
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    checked.files = validate::with_kinds(checked.files);
    checked.findings.extend(validate::judge(&checked.files, None));
    Ok(checked)
}

/// A file, or the files below a folder. An archive that is named itself is looked into.
fn loose(path: &Path) -> Result<Vec<Inspected>, Vec<Fault>> {
    let named = path.is_file();
    let files = world::files_below(path).map_err(one)?;
    let read: Vec<Result<Vec<Inspected>, Fault>> = files
        .par_iter()
        .map(|file| {
            let name = file.display().to_string();
            match world::open_outside(file)? {
                Outside::Whole(bytes) if named => Ok(inspect::inspect_with_entries(&name, None, &bytes)),
                Outside::Whole(bytes) => Ok(vec![inspect::inspect(&name, None, &bytes)]),
                Outside::Large(source) if name.to_ascii_lowercase().ends_with(".zip") => {
                    inspect::inspect_source(&name, None, source)
                        .map(|i| vec![i])
                        .map_err(|e| Fault::new(format!("cannot be read: {e}")).in_file(&name))
                }
                Outside::Large(_) => Ok(vec![inspect::inspect(&name, None, &world::read_outside(file)?)]),
            }
        })
        .collect();
    let (mut all, mut faults) = (Vec::new(), Vec::new());
    for result in read {
        match result {
            Ok(list) => all.extend(list),
            Err(fault) => faults.push(fault),
        }
    }
    if faults.is_empty() { Ok(all) } else { Err(faults) }
}

/// The note to past buyers about a comparison, in plain words.
///
/// # Errors
/// When the note's template cannot be filled.
pub fn change_note(found: &Comparison) -> Result<String, Fault> {
    diff::note::write(found)
}

/// Compares two versions: bundle folders, archives, or single files.
///
/// # Errors
/// A path that cannot be read.
pub fn diff(old: &Path, new: &Path) -> Result<Comparison, Vec<Fault>> {
    let (a, b) = rayon::join(|| version(old), || version(new));
    let ((mut a, from), (mut b, to)) = match (a, b) {
        (Ok(a), Ok(b)) => (a, b),
        (a, b) => return Err(a.err().into_iter().chain(b.err()).collect()),
    };
    let mut outer = None;
    if let (Some(from), Some(to)) = (&from, &to) {
        let differ = a.get(from).map(|l| &l.sha256) != b.get(to).map(|l| &l.sha256);
        // Two files are compared as one file, whatever they are called; two archives by what they hold.
        let inside = (a.get(from).and_then(diff::entries), b.get(to).and_then(diff::entries));
        if let (Some(x), Some(y)) = inside {
            (a, b) = (x, y);
            outer = differ.then(|| to.clone());
        } else if let Some(leaf) = a.remove(from) {
            a.insert(to.clone(), leaf);
        }
    } else {
        // A folder against an archive: what the archive holds.
        for (tree, file) in [(&mut a, &from), (&mut b, &to)] {
            if let Some(inside) = file.as_ref().and_then(|f| tree.get(f)).and_then(diff::entries) {
                *tree = inside;
            }
        }
    }
    Ok(diff::compare(a, b, outer.as_deref()))
}

/// The files of a version by their paths inside of it, and the name of the file if it is a single one.
fn version(path: &Path) -> Result<(diff::Tree, Option<String>), Fault> {
    let files = crate::world::files_below(path)?;
    let read = |file: &Path| Ok(diff::leaf(crate::world::read_outside(file)?));
    if !path.is_dir() {
        let name = path.file_name().map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned());
        let tree = diff::Tree::from([(name.clone(), read(path)?)]);
        return Ok((tree, Some(name)));
    }
    let inside = |full: &Path| {
        let below = full.strip_prefix(path).unwrap_or(full);
        below.components().map(|c| c.as_os_str().to_string_lossy().into_owned()).collect::<Vec<_>>().join("/")
    };
    let tree: Result<diff::Tree, Fault> = files.par_iter().map(|file| Ok((inside(file), read(file)?))).collect();
    Ok((tree?, None))
}
