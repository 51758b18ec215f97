//! The catalogue: products, and what lies of each of them among the bundles.

use super::{compare, seals, versions};
use crate::catalogue::{Counts, Entry, State};
use crate::store;
use crate::world::{self, World};
use base::files::slashed;
use base::model::product::Date;
use base::model::{Fault, Stop};
use rayon::prelude::*;
use serde_json::Value;
use std::path::{Path, PathBuf};

/// What there is to say of products whose bundles lie in a folder, by name; `today` is what days are counted to. A product
/// that cannot be read is an entry as well.
///
/// # Errors
/// When there is no such folder.
pub fn catalogue(products: &[PathBuf], out: &Path, today: Date) -> Result<Vec<Entry>, Fault> {
    if !out.is_dir() {
        let fault = Fault::new("there is no such folder").in_file(slashed(out));
        return Err(fault.help("build the products first, or name the folder of their bundles with --out"));
    }
    let mut entries: Vec<Entry> = products
        .par_iter()
        .map(|path| entry(path, out, today).unwrap_or_else(|stop| unreadable(path, stop.faults())))
        .collect();
    entries.sort_by(|a, b| (a.name.to_lowercase(), &a.path).cmp(&(b.name.to_lowercase(), &b.path)));
    Ok(entries)
}

/// A product of which nothing is known.
fn unreadable(path: &Path, faults: &[Fault]) -> Entry {
    let name = path.file_name().map_or_else(|| slashed(path), |n| n.to_string_lossy().into_owned());
    let fault = faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    Entry { fault: Some(fault), state: State::Unreadable, name: name.clone(), ..bare(path, name, String::new()) }
}

/// A product without a bundle.
fn bare(path: &Path, product: String, version: String) -> Entry {
    Entry {
        path: slashed(path),
        name: product.clone(),
        shop: String::new(),
        product,
        state: State::Unbuilt,
        fault: None,
        version,
        lies: None,
        released: None,
        sealed: None,
        days: None,
        changed: None,
        counts: Counts::default(),
        title: String::new(),
        tags: Vec::new(),
        description: String::new(),
        pictures: Vec::new(),
        folder: None,
        shown: None,
    }
}

fn entry(path: &Path, out: &Path, today: Date) -> Result<Entry, Stop> {
    let world = World::open(path)?;
    let Some(called) = manifest::called(&world) else {
        // The manifest's own faults say why.
        let faults = manifest::read(&world, rulings::ALL).err().unwrap_or_default();
        let none = || vec![Fault::new("its manifest has no name").in_file(manifest::FILE)];
        return Err(Stop::Faults(if faults.is_empty() { none() } else { faults }));
    };
    let mut entry = bare(path, called.slug.clone(), called.version.clone());
    entry.name = called.name;
    let releases = seals::of_product(base::files::Files::root(&world))?;
    entry.sealed = releases.newest().map(|release| (release.version.clone(), release.released.to_string()));
    entry.days = entry.sealed.as_ref().and_then(|(_, date)| days(date, today));
    let own = store::place(out, &called.slug, &called.version);
    let (folder, state) = match own.join(versions::RECORD).is_file() {
        true => (own, State::Built),
        false => match store::newest(out, &called.slug) {
            Some(folder) => (folder, State::Behind),
            None => return Ok(entry),
        },
    };
    entry.state = state;
    fill(&mut entry, &folder, out)?;
    Ok(entry)
}

/// What a bundle says of itself.
fn fill(entry: &mut Entry, folder: &Path, out: &Path) -> Result<(), Stop> {
    let record = folder.join(versions::RECORD);
    let bytes = world::read_outside(&record)?;
    let record: Value = serde_json::from_slice(&bytes).map_err(|e| {
        Fault::new(format!("the bundle's record cannot be read: {e}"))
            .in_file(slashed(&record))
            .help("build the product again")
    })?;
    let text = |key: &str| record[key].as_str().map(str::to_owned);
    entry.name = text("name").unwrap_or_else(|| entry.name.clone());
    entry.shop = text("shop").unwrap_or_default();
    entry.lies = text("version");
    entry.released = text("released");
    entry.counts = Counts::of(&record);
    let below = |path: &Path| slashed(path.strip_prefix(out).unwrap_or(path));
    entry.folder = Some(below(folder));
    // What is not there was not wanted.
    let read = |name: &str| {
        let bytes = world::read_outside(&folder.join("listing").join(name)).unwrap_or_default();
        String::from_utf8_lossy(&bytes).into_owned()
    };
    entry.description = read("description.md");
    let heading = entry.description.lines().find_map(|line| line.strip_prefix("# "));
    entry.title = heading.unwrap_or(&entry.name).to_owned();
    entry.tags = read("tags.txt").lines().map(str::to_owned).filter(|tag| !tag.is_empty()).collect();
    let pictures = folder.join("listing/pictures");
    let pictures = if pictures.is_dir() { world::files_below(&pictures)? } else { Vec::new() };
    entry.pictures = pictures.iter().map(|p| below(p)).collect();
    entry.shown = match pictures.first() {
        Some(first) => show::proof::small_picture(&world::read_outside(first)?),
        None => cover(folder, &record),
    };
    entry.changed = match versions::earlier_of(folder, &record)? {
        Some(earlier) => {
            let (found, _) = compare::diff(&earlier.folder, folder, compare::Wanted::default())?;
            let whose = if earlier.issued { ", which buyers have" } else { "" };
            (!found.same).then(|| format!("since {}{whose}: {}", earlier.version, versions::line(&found)))
        }
        None => None,
    };
    Ok(())
}

/// The first page of the notebook, or the first sticker where there is none.
fn cover(folder: &Path, record: &Value) -> Option<String> {
    let files = record["files"].as_array()?;
    let first = |kind: &str| {
        let paths = files.iter().filter(|f| f["kind"] == kind).filter_map(|f| f["path"].as_str());
        let path = paths.filter(|path| path.starts_with("contents/")).min()?;
        world::read_outside(&folder.join(path)).ok()
    };
    match first("notebook") {
        Some(pdf) => show::proof::first_page(pdf.into()),
        None => show::proof::small_picture(&first("sticker")?),
    }
}

/// Days from a date, as YYYY-MM-DD, to today.
fn days(date: &str, today: Date) -> Option<i32> {
    let then: jiff::civil::Date = date.parse().ok()?;
    let now: jiff::civil::Date = today.to_string().parse().ok()?;
    Some((now - then).get_days())
}
