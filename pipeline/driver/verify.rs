//! Verifying: every byte of a bundle, or of what a buyer has of it, against its papers.

use super::bundle::Bundle;
use super::seals::{inputs_of, of_bundle, of_product, signature_of};
use super::session::Session;
use super::versions::version;
use super::{Moment, make, record};
use crate::package;
use crate::releases::compare::{Difference, Digests, How, Part, RECORD, SUMS, differences, of_record, of_sums, whole};
use crate::releases::reasons::{Made, reasons};
use crate::releases::sign::{self, Signed};
use crate::releases::{Release, inputs};
use crate::store;
use crate::world::{self, World};
use base::checksum::{digests, sha256_hex};
use base::files::slashed;
use base::model::{Fault, Stop};
use judge::diff;
use serde_json::Value;
use std::path::{Path, PathBuf};

/// What a bundle is to be held against.
#[derive(Default)]
pub struct Asked<'a> {
    /// The record or the list of checksums, if it is not in the bundle.
    pub record: Option<&'a Path>,
    /// The product's folder, if the build did not write it down.
    pub product: Option<&'a Path>,
    /// The public key of whoever signed it.
    pub public_key: Option<&'a Path>,
    /// The signature, if it does not lie beside the bundle.
    pub signature: Option<&'a Path>,
    /// Whether it is to be built again.
    pub rebuild: bool,
}

/// What came of it.
pub struct Verified {
    /// What was looked at.
    pub part: Part,
    /// The product's slug; empty if only a list of checksums is there.
    pub product: String,
    /// Its version; likewise.
    pub version: String,
    /// How many files are stated.
    pub files: usize,
    /// What is not as stated.
    pub differences: Vec<Difference>,
    /// The seal of this version, and whether this is the bundle that was sealed.
    pub seal: Option<(Release, bool)>,
    /// The signature, or why it does not hold.
    pub signature: Option<Result<Signed, String>>,
    /// What building it again came to.
    pub rebuilt: Option<Rebuilt>,
}

impl Verified {
    /// Whether everything that was asked for holds.
    pub fn holds(&self) -> bool {
        self.differences.is_empty()
            && self.seal.as_ref().is_none_or(|(_, same)| *same)
            && self.signature.as_ref().is_none_or(Result::is_ok)
            && self.rebuilt.as_ref().is_none_or(|r| r.differences.is_empty())
    }
}

/// What building a bundle again came to.
pub struct Rebuilt {
    /// Files that came out otherwise, by their path in the bundle.
    pub differences: Vec<Difference>,
    /// What is not as it was then.
    pub reasons: Vec<String>,
}

/// Verifies a bundle, or the files of it that a buyer has.
///
/// # Errors
/// What cannot be read; papers that are none; a product that cannot be built.
pub fn verify(path: &Path, asked: &Asked) -> Result<Verified, Stop> {
    let mut verified = against_papers(path, asked)?;
    if asked.rebuild {
        let papers = Papers::find(path, asked)?;
        let folder = asked.product.map(Path::to_owned).or_else(|| store::product_of(path));
        let folder = folder.ok_or_else(|| {
            Fault::new("nobody wrote down from which product this bundle was built, or that has moved")
                .in_file(slashed(path))
                .help("name the folder of the product with --product DIR")
        })?;
        verified.rebuilt = Some(rebuild(&folder, &papers, verified.seal.as_ref().map(|(release, _)| release))?);
    }
    Ok(verified)
}

/// The files that are there, and the papers that they are held against.
struct Papers {
    tree: diff::Tree,
    /// The record, if there is one: its bytes and what it says.
    record: Option<(Vec<u8>, Value)>,
    /// The list of checksums, if there is one.
    sums: Option<String>,
    /// Whether the record lies among the files.
    within: bool,
    /// The one file that is looked at.
    single: Option<String>,
}

impl Papers {
    fn find(path: &Path, asked: &Asked) -> Result<Papers, Stop> {
        let (mut tree, mut single) = version(path)?;
        if let Some(inside) = single.as_ref().and_then(|name| tree.get(name)).and_then(diff::entries) {
            let inside = from_its_folder(inside);
            if inside.contains_key(RECORD) {
                (tree, single) = (inside, None);
            }
        }
        let text =
            |tree: &diff::Tree, name: &str| tree.get(name).and_then(|leaf| leaf.bytes.as_ref()).map(|b| b.to_vec());
        let within = tree.contains_key(RECORD);
        let mut papers = Papers { record: None, sums: None, within, single, tree };
        let utf8 = |bytes: Vec<u8>| String::from_utf8(bytes).ok();
        papers.sums = text(&papers.tree, SUMS).and_then(utf8);
        if let Some(named) = asked.record {
            let named = if named.is_dir() { named.join(RECORD) } else { named.to_owned() };
            let bytes = world::read_outside(&named)?;
            if let Ok(value) = serde_json::from_slice::<Value>(&bytes) {
                papers.record = Some((bytes, value));
            } else {
                papers.sums = utf8(bytes).filter(|list| of_sums(list).is_some());
                if papers.sums.is_none() {
                    return Err(Fault::new("it is neither a record nor a list of checksums")
                        .in_file(slashed(&named))
                        .help("name the bundle.json or the SHA256SUMS of the bundle")
                        .into());
                }
            }
        } else if let Some(bytes) = text(&papers.tree, RECORD) {
            let value = serde_json::from_slice(&bytes).ok().filter(|value| of_record(value).is_some());
            let value: Value = value.ok_or_else(|| {
                Fault::new("the record cannot be read, so that nothing can be held against it")
                    .in_file(slashed(&path.join(RECORD)))
                    .help("put it back from a copy, or name one with --record FILE")
            })?;
            papers.record = Some((bytes, value));
        } else {
            return Err(Fault::new("there is no bundle.json in it, so that nothing says what its bytes were")
                .in_file(slashed(path))
                .help("name the record, or the list of checksums, of the bundle with --record FILE")
                .into());
        }
        Ok(papers)
    }

    /// What the whole bundle is stated to be.
    fn stated(&self) -> Digests {
        match &self.record {
            Some((bytes, value)) => {
                let files = of_record(value).unwrap_or_default();
                if self.within { whole(bytes, files, self.sums.as_deref()) } else { files }
            }
            None => {
                let list = self.sums.as_deref().unwrap_or_default();
                let mut stated = of_sums(list).unwrap_or_default();
                stated.insert(SUMS.to_owned(), sha256_hex(list.as_bytes()));
                stated
            }
        }
    }

    fn word(&self, key: &str) -> String {
        self.record.as_ref().and_then(|(_, value)| value[key].as_str()).unwrap_or_default().to_owned()
    }
}

/// An archive of a bundle's folder holds the bundle below the name of that folder.
fn from_its_folder(tree: diff::Tree) -> diff::Tree {
    let record = tree.keys().find(|path| path.split_once('/').is_some_and(|(_, rest)| rest == RECORD));
    let folder = record.and_then(|path| Some(format!("{}/", path.split_once('/')?.0)));
    match folder {
        Some(folder) if tree.keys().all(|path| path.starts_with(&folder)) => {
            tree.into_iter().map(|(path, leaf)| (path[folder.len()..].to_owned(), leaf)).collect()
        }
        _ => tree,
    }
}

/// Holds the bytes that are there against record, list of checksums, seal and signature.
pub fn against_papers(path: &Path, asked: &Asked) -> Result<Verified, Stop> {
    let papers = Papers::find(path, asked)?;
    let there: Digests = papers.tree.iter().map(|(path, leaf)| (path.clone(), leaf.sha256.clone())).collect();
    let all = papers.stated();
    let part = if papers.within { Part::Bundle } else { Part::among(&all, &there) };
    let mut stated = part.of(&all);
    if let Some(name) = &papers.single {
        stated.retain(|path, _| path == name);
    }
    let mut differences = differences(&stated, &there);
    for d in differences.iter_mut().filter(|d| d.kind == How::Altered) {
        if let Some(said) = papers.tree.get(&d.path).and_then(|leaf| inside(leaf, &all)) {
            d.message = format!("{}: {said}", d.message);
        }
    }
    let releases = match asked.product {
        Some(product) => of_product(&world::full(product)?)?,
        None => of_bundle(path)?,
    };
    let seal = releases.of(&papers.word("version")).map(|release| {
        let record = papers.record.as_ref().is_some_and(|(bytes, _)| sha256_hex(bytes) == release.record);
        let sums = papers.sums.as_ref().is_none_or(|text| sha256_hex(text.as_bytes()) == release.sums);
        (release.clone(), record && sums)
    });
    let signature = asked.public_key.map(|key| signature(path, &papers, key, asked)).transpose()?;
    Ok(Verified {
        part,
        product: papers.word("product"),
        version: papers.word("version"),
        files: stated.len(),
        differences,
        seal,
        signature,
        rebuilt: None,
    })
}

/// What differs within an archive that is not what it was.
fn inside(leaf: &diff::TreeFile, stated: &Digests) -> Option<String> {
    const SHOWN: usize = 6;
    let wanted = Part::Contents.of(stated);
    let entries = diff::entries(leaf)?;
    let word = |(name, entry): (&String, &diff::TreeFile)| match wanted.get(name) {
        Some(digest) if *digest == entry.sha256 => None,
        Some(_) => Some(format!("{name} is altered")),
        None => Some(format!("{name} is added")),
    };
    let words: Vec<String> = entries.iter().filter_map(word).collect();
    if words.is_empty() {
        return Some("the files in it are as recorded; it was packed in another way, or some are left out".to_owned());
    }
    let more = words.len().saturating_sub(SHOWN);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    Some(format!("{}{more}", words[..words.len().min(SHOWN)].join(", ")))
}

fn signature(path: &Path, papers: &Papers, key: &Path, asked: &Asked) -> Result<Result<Signed, String>, Stop> {
    let text = |path: &Path| -> Result<(String, String), Stop> {
        let shown = slashed(path);
        let bytes = world::read_outside(path)?;
        let text = String::from_utf8(bytes).map_err(|_| {
            Fault::new("it is not text").in_file(&shown).help("keys and signatures of minisign are a few lines of text")
        })?;
        Ok((text, shown))
    };
    let (key, shown) = text(key)?;
    let key = sign::public_key(&key, &shown)?;
    let beside = || -> Result<PathBuf, Stop> { Ok(signature_of(&world::full(asked.record.unwrap_or(path))?)) };
    let (signature, shown) = text(&asked.signature.map_or_else(beside, |named| Ok(named.to_owned()))?)?;
    // The list of checksums names every file; a signature that was made elsewhere may as well be one of the record.
    let over = papers.sums.iter().map(|s| s.as_bytes()).chain(papers.record.iter().map(|(bytes, _)| bytes.as_slice()));
    let mut why = "there is no list of checksums that it could be one of".to_owned();
    for bytes in over {
        match sign::verify(&key, &signature, &shown, bytes)? {
            Ok(signed) => return Ok(Ok(signed)),
            Err(said) => why = said,
        }
    }
    Ok(Err(why))
}

/// Builds the product again, in memory and without the cache, and compares.
fn rebuild(product: &Path, papers: &Papers, release: Option<&Release>) -> Result<Rebuilt, Stop> {
    let Some((bytes, value)) = &papers.record else {
        return Err(Fault::new("a list of checksums alone does not say what it was built from")
            .help("name the bundle.json with --record FILE")
            .into());
    };
    let world = World::open(product)?;
    let mut products = manifest::read(&world, rulings::ALL)?;
    // Stickers that buyers have keep the numbers that they have there.
    package::numbers::give(&mut products, value);
    let session = Session::plain();
    let mut nobody = |_: &mut Bundle, _: Moment| Ok(());
    let mut bundle = make(&session, products, &mut nobody)?;
    record(&session, &world, &mut bundle)?;
    let made = digests(&bundle.files);
    let mut stated = of_record(value).unwrap_or_default();
    stated.insert(RECORD.to_owned(), sha256_hex(bytes));
    let word = |d: &mut Difference| {
        d.message = match d.kind {
            How::Missing => "building it again does not make it",
            How::Altered => "building it again gives other bytes",
            How::Added => "building it again makes it as well",
        }
        .to_owned();
    };
    let mut differences = differences(&stated, &made);
    differences.iter_mut().for_each(word);
    let recorded = Made {
        tool: value["tool"].as_str().unwrap_or_default().to_owned(),
        inputs: inputs(value),
        ..release.map(Made::by).unwrap_or_default()
    };
    let mut why = reasons(&recorded, &Made::now(inputs_of(&world)));
    if !differences.is_empty() && why.is_empty() {
        why.push(
            "nothing that is recorded differs; pictures of the listing and of the proof depend on the processor as well \
             (AVX2)"
                .to_owned(),
        );
    }
    Ok(Rebuilt { differences, reasons: why })
}
