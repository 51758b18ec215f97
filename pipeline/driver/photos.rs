//! Listing pictures through the cache: one is taken again only when what it shows has changed.

use super::bench::Bench;
use crate::checksum;
use crate::listing::BundleFacts;
use crate::model::facts::Inspected;
use crate::model::shot::{Composed, Shot, ShotLayout, Words};
use crate::model::{Artifact, Fault, Kind, Plan};
use crate::pictures::{self, Studio, Taken};
use crate::store::Cache;
use rayon::prelude::*;

/// Takes every listing picture of a product.
pub fn take(
    bench: &Bench,
    plan: &Plan,
    contents: &[Artifact],
    inspected: &[Inspected],
    facts: &BundleFacts,
) -> Result<Vec<(Artifact, Composed)>, Vec<Fault>> {
    let product = bench.product;
    if product.shots.is_empty() {
        return Ok(Vec::new());
    }
    let facts = serde_json::to_value(facts).map_err(|e| vec![Fault::new(e.to_string())])?;
    let shown = |kind: Kind| {
        let all = inspected.iter().filter(|i| i.kind == Some(kind));
        all.map(|i| format!("{} {}\n", i.sha256, i.path)).collect::<String>()
    };
    let (pages, stickers) = (shown(Kind::Notebook) + &shown(Kind::Covers), shown(Kind::Sticker));
    let key = |shot: &Shot| {
        // Everything that a picture is made of; the stickers only where they are shown.
        let bare = matches!(&shot.layout, ShotLayout::BuiltIn(n) if !matches!(n.as_str(), "stickers" | "inside"));
        let art = if let ShotLayout::Own { art, .. } = &shot.layout {
            art.values().map(|p| checksum::sha256_hex(&p.rgba)).collect()
        } else {
            Vec::new()
        };
        let (sources, about) = (env!("SHEAFWRIGHT_SOURCES"), (&product.style, &product.name, &product.shop.name));
        let stickers = if bare { "" } else { stickers.as_str() };
        format!("{sources}\n{about:?}\n{pages}{stickers}{facts}\n{}\n{art:?}", described(shot))
    };
    let keys: Vec<String> = product.shots.iter().map(key).collect();
    let kept: Vec<Option<Taken>> = keys.iter().map(|k| bench.cache.and_then(|c| recall(c, k))).collect();
    let studio = if kept.iter().all(Option::is_some) {
        None
    } else {
        Some(Studio::open(product, plan, contents, inspected, facts.clone())?)
    };
    let taken: Vec<Result<Taken, Vec<Fault>>> = product
        .shots
        .par_iter()
        .zip(kept)
        .zip(&keys)
        .map(|((shot, kept), key)| match (kept, &studio) {
            (Some(kept), _) => Ok(kept),
            (None, Some(studio)) => {
                let taken = studio.take(shot)?;
                if let Some(cache) = bench.cache {
                    keep(cache, key, &taken);
                }
                Ok(taken)
            }
            (None, None) => Err(Vec::new()),
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
            Err(f) => faults.extend(f),
        }
    }
    if faults.is_empty() { Ok(out) } else { Err(faults) }
}

/// A picture's wishes as a text; where the manifest says it is of no consequence, pixels of its art are summed apart.
fn described(shot: &Shot) -> String {
    let layout = match &shot.layout {
        ShotLayout::BuiltIn(name) => name.clone(),
        ShotLayout::Own { path, text, art } => format!("{path}\n{text}\n{:?}", art.keys()),
    };
    let pages: Vec<String> = shot.pages.iter().map(|p| format!("{:?}", p.which)).collect();
    let Shot { width, height, format, title, line, ground, pause, .. } = shot;
    format!("{layout} {width} {height} {format:?} {title:?} {line:?} {ground:?} {pause} {pages:?}")
}

/// The words, their length in front, then the file.
fn recall(cache: &Cache, key: &str) -> Option<Taken> {
    let bytes = cache.get(key)?;
    let (length, rest) = bytes.split_at_checked(8)?;
    let length = u64::from_le_bytes(length.try_into().ok()?);
    let (words, file) = rest.split_at_checked(usize::try_from(length).ok()?)?;
    let words: Vec<Words> = serde_json::from_slice(words).ok()?;
    Some(Taken { bytes: file.to_vec(), words })
}

fn keep(cache: &Cache, key: &str, taken: &Taken) {
    let Ok(words) = serde_json::to_vec(&taken.words) else { return };
    let mut bytes = (words.len() as u64).to_le_bytes().to_vec();
    bytes.extend(words);
    bytes.extend(&taken.bytes);
    cache.put(key, &bytes);
}
