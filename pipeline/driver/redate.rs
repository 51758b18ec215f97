//! The next year's product: read by `world`, planned by `redate`, written by `store`.

use super::other_manifest::OtherManifest;
use crate::store;
use crate::world::{World, files_below, slashed};
use ::redate::Eye;
use base::files::Files;
use base::model::plan::Make;
use base::model::{Fault, Kind};
use draw::Fonts;
use std::collections::BTreeMap;
use std::path::Path;

pub use ::redate::Redated;

/// Folders at the top of a product's folder that belong to the old version alone, and what they hold.
const LEFT: [(&str, &str); 2] = [("dist", "bundles of the old version"), (".git", "the history of the old folder")];

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
        if let Some((folder, what)) = LEFT.iter().find(|(folder, _)| *folder == top && name.len() > top.len()) {
            left.insert(folder, what);
            continue;
        }
        let bytes = if ::redate::is_read(&name) { world.read(&name).map_err(one)?.to_vec() } else { Vec::new() };
        files.insert(name, bytes);
    }
    let mut redated = ::redate::redate(text, to, &files)?;
    for (folder, what) in left {
        let (what, help) = (format!("{what} are not copied"), "copy the folder by hand, if it is wanted".to_owned());
        redated.eye.push(Eye { file: folder.to_owned(), line: None, what, help });
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
    }
    Ok(redated)
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
