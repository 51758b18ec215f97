//! The ledger of assets against the files that were read and what is done with them.
//!
//! A licence is known here by its id alone. What is said is a reason to look, no legal advice: the licence text governs,
//! and local law above it.

use super::catalogue::{Findings, found};
use base::model::assets::{Asset, Use};
use base::model::product::{CoverDesign, StickerSource};
use base::model::{Product, Where};
use std::collections::BTreeSet;

/// What is done with a file.
#[derive(Clone, Copy, Default)]
struct Done {
    /// It is cut, resized or covered in part.
    changed: bool,
    /// It is a sticker, or stickers are cut from it.
    sticker: bool,
}

/// Checks the ledger.
pub fn check(product: &Product, findings: &mut Findings) {
    let assets = &product.assets;
    if !assets.declared {
        undeclared(product, findings);
        return;
    }
    for path in &assets.read {
        if assets.entry_of(path).is_none() && !assets.is_own(path) {
            let message = "the file went into the product, and the manifest does not say whose it is";
            found!(findings, "asset-not-listed", Where::file(path), "{message}");
        }
    }
    for asset in &assets.entries {
        let mine: Vec<&String> = assets.read.iter().filter(|path| same(assets.entry_of(path), asset)).collect();
        // What the ledger of a shop lists is for all of its products.
        let shared = asset.span.as_ref().is_some_and(|span| span.file.is_some());
        if mine.is_empty() && shared {
            continue;
        }
        if mine.is_empty() {
            found!(findings, "asset-not-used", at(asset), "no file that went into the product is {:?}", asset.file);
            continue;
        }
        entry(product, asset, &mine, findings);
    }
}

/// Entries are told apart by where they stand.
fn same(found: Option<&Asset>, asset: &Asset) -> bool {
    found.is_some_and(|f| std::ptr::eq(f, asset))
}

fn at(asset: &Asset) -> Where {
    let place = Where::file("product.toml");
    match &asset.span {
        Some(span) => place.span(span.clone()),
        None => place,
    }
}

fn entry(product: &Product, asset: &Asset, files: &[&String], findings: &mut Findings) {
    let (name, right) = (asset.name(), asset.right_in_words());
    let done = files
        .iter()
        .map(|path| done(product, path))
        .fold(Done::default(), |a, b| Done { changed: a.changed || b.changed, sticker: a.sticker || b.sticker });
    if !asset.allows(Use::Sell) {
        found!(
            findings,
            "asset-not-for-sale",
            at(asset),
            "“{name}” is under {right}, which does not allow a product that is sold"
        );
    }
    if done.changed && !asset.allows(Use::Change) {
        found!(
            findings,
            "asset-may-not-be-changed",
            at(asset),
            "“{name}” is under {right}, which does not allow changes, and it is cut, resized or drawn over here"
        );
    }
    if done.sticker && !asset.allows(Use::Extract) {
        found!(
            findings,
            "asset-may-not-be-file",
            at(asset),
            "“{name}” becomes a sticker, a file of its own, and {right} does not allow that"
        );
    }
    if asset.shares_alike() {
        found!(
            findings,
            "asset-shares-alike",
            at(asset),
            "“{name}” is under {right}, whose terms pass on to what is made of it"
        );
    }
}

/// What is done with a file of the product's folder. Whatever is none of these is set or embedded as it is.
fn done(product: &Product, path: &str) -> Done {
    let stickers = &product.stickers;
    let drawn = |source: &StickerSource| match source {
        StickerSource::Svg(from, _) => from == path,
        StickerSource::Png(picture) => picture.name == path,
        StickerSource::BuiltIn(..) => false,
    };
    let sticker = stickers.items.iter().any(|s| drawn(&s.source)) || stickers.cuts.iter().any(|c| c.path == path);
    let textures = product.covers.iter().chain(product.notebook.iter().map(|n| &n.cover));
    let texture = textures.into_iter().any(|c| matches!(&c.design, CoverDesign::Texture(p) if p.name == path));
    Done { changed: sticker || texture, sticker }
}

/// A manifest without a ledger: one line for all files.
fn undeclared(product: &Product, findings: &mut Findings) {
    let texts = |path: &&String| path.ends_with(".md") || path.ends_with(".txt");
    let files: BTreeSet<&String> = product.assets.read.iter().filter(|p| !texts(p)).collect();
    let Some(first) = files.first() else { return };
    let n = files.len();
    let which = if n == 1 { format!("{first} went") } else { format!("{n} files, {first} among them, went") };
    found!(
        findings,
        "asset-rights-not-declared",
        Where::file("product.toml"),
        "{which} into the product, and the manifest does not say whose they are"
    );
}
