//! Listing pictures: one is taken again only when what it shows has changed.
//!
//! A picture is laid out first, which costs little. Its key is made of that layout and of whatever its addresses lead
//! to: the pages that it shows, by what they draw, not the whole notebook.

use super::bundle::{Bundle, ListingPicture};
use super::kin;
use super::session::{Session, Task, all};
use super::values::MadeBytes;
use base::model::facts::Facts;
use base::model::shot::{Composed, Shot, ShotFormat, ShotLayout};
use base::model::{Artifact, Fault, Kind, Sha, Stop};
use borsh::BorshSerialize;
use inspect::Reader;
use rayon::prelude::*;
use show::pictures;
use show::pictures::{PictureContext, Sketch};
use std::collections::BTreeMap;

/// Takes every listing picture of a product.
pub fn take(session: &Session, bundle: &Bundle) -> Result<Vec<ListingPicture>, Stop> {
    let lead = bundle.lead();
    let product = &lead.product;
    session.stage("pictures", product.shots.len());
    if product.shots.is_empty() {
        return Ok(Vec::new());
    }
    let facts = serde_json::to_value(&bundle.facts).map_err(|e| Fault::new(e.to_string()))?;
    let kin = kin::of(session, bundle)?;
    let context = PictureContext::open(product, &lead.plan, &bundle.files, &bundle.inspected, facts, kin, session)?;
    let mut shown = by_address(session, bundle);
    shown.extend(context.fronts().filter_map(|(address, look)| Some((address, look?))));
    let sketches: Vec<_> = product.shots.par_iter().map(|shot| context.sketch(shot).map_err(Stop::from)).collect();
    let sketched: Vec<(&Shot, Sketch)> = product.shots.iter().zip(all(sketches)?).collect();
    let taken = session.ask_each(
        &sketched,
        |(shot, sketch)| task(&product.style.fonts, shot, sketch, &shown),
        |(shot, sketch)| {
            let taken = context.take(shot, sketch)?;
            Ok(MadeBytes { bytes: taken.bytes.into(), said: taken.words })
        },
    );
    let listing = |(i, (taken, shot)): (usize, (std::sync::Arc<super::values::Taken>, &Shot))| {
        let path = pictures::path(shot, i + 1);
        let composed = Composed {
            path: path.clone(),
            width: shot.width,
            height: shot.height,
            bytes: taken.bytes.len() as u64,
            film: shot.format == ShotFormat::Film,
            words: taken.said.clone(),
        };
        (Artifact { path, kind: Kind::Picture, bytes: taken.bytes.clone() }, composed)
    };
    Ok(all(taken)?.into_iter().zip(&product.shots).enumerate().map(listing).collect())
}

/// Digests of whatever an address can lead to.
fn by_address(session: &Session, bundle: &Bundle) -> BTreeMap<String, Sha> {
    let mut shown = BTreeMap::new();
    let variants = &bundle.lead().product.variants;
    let mine = || bundle.files.iter().zip(&bundle.inspected).filter(|(file, _)| variants.has(&file.path));
    for (kind, word) in [(Kind::Notebook, "page"), (Kind::Covers, "cover")] {
        let Some((file, read)) = mine().find(|(file, _)| file.kind == kind) else { continue };
        let Facts::Pdf(pdf) = &read.facts else { continue };
        for (i, (page, drawn)) in pdf.pages.iter().zip(session.fingerprints(&file.bytes).iter()).enumerate() {
            if let Ok(look) = Sha::of_value(&(drawn.digest, page.frame())) {
                shown.insert(format!("{word}/{}", i + 1), look);
            }
        }
    }
    let stickers = mine().filter(|(file, read)| file.kind == Kind::Sticker && matches!(read.facts, Facts::Png(_)));
    for (i, (sticker, _)) in stickers.enumerate() {
        shown.insert(format!("sticker/{}", i + 1), sticker.bytes.sha256());
    }
    shown
}

/// The task of a picture that is laid out.
fn task<'i>(fonts: &impl BorshSerialize, shot: &'i Shot, sketch: &Sketch, shown: &BTreeMap<String, Sha>) -> Task<'i> {
    let seen: Vec<(&str, Option<&Sha>)> = match sketch.shown() {
        Some(addresses) => addresses.into_iter().map(|address| (address, shown.get(address))).collect(),
        None => shown.iter().map(|(address, sha)| (address.as_str(), Some(sha))).collect(),
    };
    let art = if let ShotLayout::Own { art, .. } = &shot.layout { Some(art) } else { None };
    let inputs = (fonts, shot.width, shot.height, shot.format, sketch.text(), seen, art);
    Task::new("listing picture", &inputs).called(&shot.name)
}
