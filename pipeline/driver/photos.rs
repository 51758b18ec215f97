//! Listing pictures through the cache: one is taken again only when what it shows has changed.
//!
//! A picture is laid out first, which costs little. Its key is made of that layout and of whatever its addresses lead
//! to: the pages that it shows, by what they draw, not the whole notebook.

use super::bench::Bench;
use super::keep;
use super::progress::Step;
use crate::listing::BundleFacts;
use base::checksum::Sum;
use base::model::facts::{Facts, Inspected};
use base::model::shot::{Composed, Shot, ShotLayout, Words};
use base::model::{Artifact, Fault, Kind, Plan};
use inspect::pdf::drawing;
use rayon::prelude::*;
use show::pictures;
use show::pictures::{Sketch, Studio, Taken};
use std::collections::BTreeMap;

/// A listing picture and what is known of it.
pub type Photo = (Artifact, Composed);

/// Why there are no pictures.
pub enum Stopped {
    /// Something is wrong.
    Faults(Vec<Fault>),
    /// Nobody wants them any more.
    Overtaken,
}

impl From<Vec<Fault>> for Stopped {
    fn from(faults: Vec<Fault>) -> Stopped {
        Stopped::Faults(faults)
    }
}

/// Takes every listing picture of a product, as long as nobody says that it is overtaken.
pub fn take(
    bench: &Bench,
    plan: &Plan,
    contents: &[Artifact],
    inspected: &[Inspected],
    facts: &BundleFacts,
    overtaken: &(dyn Fn() -> bool + Sync),
) -> Result<Vec<Photo>, Stopped> {
    let product = bench.product;
    if product.shots.is_empty() {
        return Ok(Vec::new());
    }
    let facts = serde_json::to_value(facts).map_err(|e| vec![Fault::new(e.to_string())])?;
    let studio = Studio::open(product, plan, contents, inspected, facts, &|file| bench.prints(file))?;
    let mut shown = Shown::of(bench, contents, inspected);
    let fronts = studio.fronts().map(|(address, print)| (address, print.to_owned()));
    shown.by_address.extend(fronts);
    let taken: Vec<Result<Taken, Stopped>> = product
        .shots
        .par_iter()
        .map(|shot| {
            let sketch = studio.sketch(shot)?;
            let key = key(bench, shot, &sketch, &shown);
            let kept = bench.cache.and_then(|c| keep::recall::<Vec<Words>>(c, bench.memory, &key));
            let taken = match kept {
                Some((bytes, words)) => Taken { bytes, words },
                None if overtaken() => return Err(Stopped::Overtaken),
                None => {
                    let taken = studio.take(shot, &sketch)?;
                    if let Some(cache) = bench.cache {
                        keep::keep(cache, bench.memory, &key, &taken.words, &taken.bytes);
                    }
                    taken
                }
            };
            (bench.say)(Step::Done(&shot.name));
            Ok(taken)
        })
        .collect();
    let (mut out, mut faults) = (Vec::new(), Vec::new());
    for (i, (taken, shot)) in taken.into_iter().zip(&product.shots).enumerate() {
        match taken {
            Ok(taken) => {
                let path = pictures::path(shot, i + 1);
                let composed = Composed {
                    path: path.clone(),
                    width: shot.width,
                    height: shot.height,
                    bytes: taken.bytes.len() as u64,
                    words: taken.words,
                };
                out.push((Artifact { path, kind: Kind::Picture, bytes: taken.bytes }, composed));
            }
            Err(Stopped::Faults(f)) => faults.extend(f),
            Err(Stopped::Overtaken) => return Err(Stopped::Overtaken),
        }
    }
    if faults.is_empty() { Ok(out) } else { Err(Stopped::Faults(faults)) }
}

/// Digests of whatever an address can lead to.
struct Shown {
    by_address: BTreeMap<String, String>,
}

impl Shown {
    fn of(bench: &Bench, contents: &[Artifact], inspected: &[Inspected]) -> Shown {
        let mut by_address = BTreeMap::new();
        let read: BTreeMap<&str, &Inspected> = inspected.iter().map(|i| (i.path.as_str(), i)).collect();
        for (kind, word) in [(Kind::Notebook, "page"), (Kind::Covers, "cover")] {
            let lead = |a: &&Artifact| a.kind == kind && bench.product.variants.has(&a.path);
            let Some(file) = contents.iter().find(lead) else { continue };
            let Some(Facts::Pdf(pdf)) = read.get(file.path.as_str()).map(|i| &i.facts) else { continue };
            for (i, (page, print)) in pdf.pages.iter().zip(bench.prints(file)).enumerate() {
                by_address.insert(format!("{word}/{}", i + 1), format!("{print} {}", page.frame()));
            }
        }
        let lead = contents.iter().filter(|a| a.kind == Kind::Sticker && bench.product.variants.has(&a.path));
        let stickers = lead.filter_map(|a| read.get(a.path.as_str()));
        for (i, sticker) in stickers.filter(|s| matches!(s.facts, Facts::Png(_))).enumerate() {
            by_address.insert(format!("sticker/{}", i + 1), sticker.sha256.clone());
        }
        Shown { by_address }
    }
}

/// Key of a picture.
fn key(bench: &Bench, shot: &Shot, sketch: &Sketch, shown: &Shown) -> String {
    let mut sum = Sum::default();
    sum.add(&(env!("SHEAFWRIGHT_SOURCES"), "listing picture", &bench.font_sum));
    sum.add(&(shot.width, shot.height, shot.format, sketch.text()));
    match sketch.shown() {
        Some(addresses) => {
            for address in addresses {
                sum.add(&(address, shown.by_address.get(address)));
            }
        }
        None => sum.add(&shown.by_address),
    }
    if let ShotLayout::Own { art, .. } = &shot.layout {
        for (path, picture) in art {
            sum.add(&(path, bench.memory.sum(picture)));
        }
    }
    sum.hex()
}

impl Bench<'_> {
    /// What each page of a PDF draws, as digests.
    fn prints(&self, file: &Artifact) -> Vec<String> {
        let key = super::proofing::prints_key(&base::checksum::sha256_hex(&file.bytes));
        if let Some(kept) =
            self.cache.and_then(|c| self.memory.get(c, &key)).and_then(|b| serde_json::from_slice(&b).ok())
        {
            return kept;
        }
        let made = drawing::prints_of(&file.bytes);
        if let (Some(cache), Ok(text)) = (self.cache, serde_json::to_vec(&made)) {
            self.memory.put(cache, &key, &text);
        }
        made
    }
}
