//! The next year's product: read by `world`, planned by `redate`, written by `store`.

use super::other_manifest::OtherManifest;
use crate::releases::{self, Releases};
use crate::store;
use crate::world::{World, files_below};
use ::redate::Eye;
use base::files::{Files, slashed};
use base::model::plan::Make;
use base::model::{Fault, Kind};
use draw::Fonts;
use std::collections::BTreeMap;
use std::path::Path;

pub use ::redate::Redated;

/// What lies at the top of a product's folder and belongs to the old version alone, and what it holds.
const LEFT: [(&str, &str); 4] = [
    ("dist", "bundles of the old version"),
    (".git", "the history of the old folder"),
    ("proof-notes.json", "notes on pages of the old version"),
    ("launch-done.toml", "what was done of the old launch"),
];

/// Plans the product for the months from `to` on, and writes it into the new folder `into`, if one is named.
///
/// # Errors
/// What [`::redate::redate`] finds; a folder that is there already, or that cannot be written.
pub fn redate(product: &Path, to: &str, into: Option<&Path>) -> Result<Redated, Vec<Fault>> {
    let one = |fault: Fault| vec![fault];
    let world = World::open(product).map_err(one)?;
    if let Some(into) = into {
        store::check_new(into, world.root()).map_err(one)?;
    }
    if manifest::is_translation(&world) {
        return Err(one(Fault::new("a translation has the dates of its original").in_file(manifest::FILE).help(
            "redate the product that it translates; then copy this folder, and let `translation-of` lead to the new one",
        )));
    }
    let manifest = world.read(manifest::FILE).map_err(one)?;
    let Ok(text) = std::str::from_utf8(&manifest) else {
        return Err(one(Fault::new("a character that is not UTF-8")
            .in_file(manifest::FILE)
            .help("save the file as UTF-8")));
    };
    let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    let mut left: BTreeMap<&str, &str> = BTreeMap::new();
    for path in files_below(world.root()).map_err(one)? {
        let inside = path.strip_prefix(world.root()).unwrap_or(&path);
        let name = slashed(inside);
        let top = name.split('/').next().unwrap_or_default();
        if let Some((entry, what)) = LEFT.iter().find(|(entry, _)| *entry == top) {
            left.insert(entry, what);
            continue;
        }
        let bytes = if ::redate::is_read(&name) { world.read(&name).map_err(one)?.to_vec() } else { Vec::new() };
        files.insert(name, bytes);
    }
    let mut redated = ::redate::redate(text, to, &files)?;
    for (entry, what) in left {
        let it = if entry.contains(".json") { "the file" } else { "the folder" };
        let verb = if what.starts_with("the ") { "is" } else { "are" };
        let (what, help) = (format!("{what} {verb} not copied"), format!("copy {it} by hand, if it is wanted"));
        redated.eye.push(Eye { file: entry.to_owned(), line: None, what, help });
    }
    let sealed = world.read(releases::FILE).ok().and_then(|bytes| Releases::read(&bytes, releases::FILE).ok());
    let version = manifest_version(&redated.manifest);
    if let Some(version) = version.filter(|version| sealed.as_ref().is_some_and(|all| all.of(version).is_some())) {
        redated.eye.push(Eye {
            file: releases::FILE.to_owned(),
            line: None,
            what: format!("version {version}, which the new product has, is sealed already"),
            help: "write a version in product.toml that nobody has yet".to_owned(),
        });
    }
    match planned(&OtherManifest::new(&world, &redated.manifest)) {
        Ok((pages, links)) => {
            let before = planned(&world).ok();
            let before = before.map_or(String::new(), |(pages, links)| format!("; before {pages} and {links}"));
            redated.calendar.push(format!("{pages} pages in the notebook with {links} links{before}"));
        }
        Err(faults) => redated.eye.extend(faults.into_iter().map(|fault| Eye {
            file: fault.file.unwrap_or_else(|| manifest::FILE.to_owned()),
            line: fault.span.map(|span| span.line),
            what: format!("the new product does not build: {}", fault.message),
            help: fault.help.unwrap_or_else(|| "correct it in the new folder".to_owned()),
        })),
    }
    if let Some(into) = into {
        let names: Vec<&str> = files.keys().map(String::as_str).collect();
        store::copy_folder(world.root(), into, &names, (manifest::FILE, &redated.manifest))?;
        let new = World::open(into).map_err(one)?;
        if let (Some(file), true) = (world.shop(), world.shop_folder() != new.shop_folder()) {
            redated.eye.push(Eye {
                file,
                line: None,
                what: "what the old product shares with its shop does not hold for the new folder".to_owned(),
                help: "move the new product beside the old one, or copy what the file says into its manifest"
                    .to_owned(),
            });
        }
    }
    Ok(redated)
}

/// The version that a manifest states.
fn manifest_version(manifest: &str) -> Option<String> {
    let table: toml::Table = manifest.parse().ok()?;
    table.get("version")?.as_str().map(str::to_owned)
}

/// How many pages the notebook of a product has, and how many links; of several variants, the leading one's.
fn planned(files: &dyn Files) -> Result<(usize, usize), Vec<Fault>> {
    let products = manifest::read(files, rulings::ALL)?;
    let Some(product) = products.first() else { return Ok((0, 0)) };
    let fonts = Fonts::open(&product.style.fonts)?;
    let plan = plan::plan(product, &fonts, rulings::ALL, &plan::Placed::new())?;
    let notebooks = plan.items.iter().filter(|item| item.kind == Kind::Notebook);
    let pages = notebooks.flat_map(|item| if let Make::Pdf(pdf) = &item.make { &pdf.pages[..] } else { &[] });
    Ok(pages.fold((0, 0), |(count, links), page| (count + 1, links + page.links.len())))
}
