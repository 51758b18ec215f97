//! Files of other names and with other bytes that are taken to be the same: documents that share pages, pictures that
//! look alike.

use super::pdf::shared;
use super::tree::{Tree, TreeFile};
use image::ImageFormat;
use inspect::Reader;
use inspect::pdf::fingerprint::{Digest, PageFingerprint};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// With more pairs than this nobody could say which file became which.
const MAX_PAIRS: usize = 10_000;
/// Documents that share less than this of their pages are not the same.
const SHARED_PAGES: f64 = 0.4;
/// Pages of which less than this of the instructions is the same do not count as alike.
const SHARED_DRAWING: f64 = 0.5;
/// Side of the small pictures by which pictures are compared.
const SMALL: u32 = 24;
/// Pictures whose small pictures differ by more than this share of their ink are not alike.
const FAR: f64 = 0.15;

/// What a file is known by.
enum Face {
    Pages(Arc<Vec<PageFingerprint>>),
    Picture { shape: f64, tones: Vec<u8> },
}

/// Pairs of what is left on both sides, the most alike first; takes them out of the two sets.
pub fn pair(
    gone: &mut BTreeSet<String>,
    come: &mut BTreeSet<String>,
    (old, new): (&Tree, &Tree),
    reader: &dyn Reader,
) -> Vec<(String, String)> {
    if gone.len().saturating_mul(come.len()) > MAX_PAIRS {
        return Vec::new();
    }
    let faces = |paths: &BTreeSet<String>, tree: &Tree| -> Vec<(String, Face)> {
        let paths: Vec<&String> = paths.iter().collect();
        paths.par_iter().filter_map(|path| Some(((*path).clone(), face(&tree[*path], reader)?))).collect()
    };
    let (a, b) = (faces(gone, old), faces(come, new));
    let mut alike: Vec<(f64, &String, &String)> = Vec::new();
    for (from, x) in &a {
        alike.extend(b.iter().filter_map(|(to, y)| Some((likeness(x, y)?, from, to))));
    }
    alike.sort_by(|x, y| y.0.total_cmp(&x.0).then_with(|| (x.1, x.2).cmp(&(y.1, y.2))));
    let mut pairs = Vec::new();
    for (_, from, to) in alike {
        if gone.contains(from) && come.contains(to) {
            gone.remove(from);
            come.remove(to);
            pairs.push((from.clone(), to.clone()));
        }
    }
    pairs
}

fn face(leaf: &TreeFile, reader: &dyn Reader) -> Option<Face> {
    let bytes = leaf.bytes.as_ref()?;
    if bytes.starts_with(b"%PDF") {
        return Some(Face::Pages(reader.fingerprints(bytes)))
            .filter(|face| !matches!(face, Face::Pages(p) if p.is_empty()));
    }
    if !bytes.starts_with(b"\x89PNG") {
        return None;
    }
    let picture = image::load_from_memory_with_format(bytes, ImageFormat::Png).ok()?.into_rgba8();
    let small = image::imageops::thumbnail(&picture, SMALL, SMALL);
    // What lies under transparency is not seen, and must not count.
    let tones = small.pixels().flat_map(|p| {
        let alpha = u32::from(p[3]);
        [p[0], p[1], p[2], 255].map(|c| (u32::from(c) * alpha / 255) as u8)
    });
    Some(Face::Picture {
        shape: f64::from(picture.width()) / f64::from(picture.height().max(1)),
        tones: tones.collect(),
    })
}

/// How alike two files are, from 0 to 1; `None` if they are not the same file by any measure.
fn likeness(a: &Face, b: &Face) -> Option<f64> {
    match (a, b) {
        (Face::Pages(a), Face::Pages(b)) => {
            let all = a.len().max(b.len()).max(1) as f64;
            let mut there: BTreeMap<&Digest, usize> = BTreeMap::new();
            for print in a.iter() {
                *there.entry(&print.digest).or_default() += 1;
            }
            let same = b.iter().filter(|p| {
                there.get_mut(&p.digest).is_some_and(|n| {
                    *n > 0 && {
                        *n -= 1;
                        true
                    }
                })
            });
            let same = same.count() as f64 / all;
            if same >= SHARED_PAGES {
                return Some(same);
            }
            // Few pages, each of them changed: page beside page.
            let drawn: f64 = a.iter().zip(b.iter()).map(|(p, q)| shared(&p.sketch, &q.sketch)).sum::<f64>() / all;
            (drawn >= SHARED_DRAWING).then_some(drawn / 2.0)
        }
        (Face::Picture { shape: s, tones: a }, Face::Picture { shape: t, tones: b }) => {
            let ink: u32 = a.chunks_exact(4).zip(b.chunks_exact(4)).map(|(p, q)| u32::from(p[3].max(q[3]))).sum();
            let apart: u32 = a.iter().zip(b.iter()).map(|(p, q)| u32::from(p.abs_diff(*q))).sum();
            let far = f64::from(apart) / 4.0 / f64::from(ink.max(1));
            (ink > 0 && (s / t - 1.0).abs() < 0.05 && far <= FAR).then_some(1.0 - far)
        }
        _ => None,
    }
}
