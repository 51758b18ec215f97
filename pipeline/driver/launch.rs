//! The plan of a launch, with what lies of the version among the bundles.

use super::{seals, versions};
use crate::launch::{LAUNCH, Plan, Seen, steps};
use crate::store;
use crate::world::{self, World};
use base::files::{Files, slashed};
use base::model::fault::suggest;
use base::model::product::Date;
use base::model::versions::order;
use base::model::{Fault, Product, SourceSpan, Stop};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Where the steps stand that the designer ticked off, beside the manifest and apart from it: the manifest of a sealed version is
/// not touched any more.
const DONE: &str = "launch-done.toml";

/// The plan of a product whose bundles lie in a folder, as it stands on a day; none where its manifest plans no launch.
///
/// # Errors
/// All faults of the manifest, and a record or a list of releases that cannot be read.
pub fn launch(path: &Path, out: &Path, today: Date) -> Result<Option<Plan>, Stop> {
    let world = World::open(path)?;
    let products = manifest::read(&world, rulings::ALL).map_err(Stop::Faults)?;
    let Some(product) = products.first() else { return Ok(None) };
    let Some(launch) = &product.launch else { return Ok(None) };
    let seen = seen(product, &world, out)?;
    let mut remarks = Vec::new();
    if product.released != launch.on {
        let (released, on) = (product.released, launch.on);
        remarks.push(format!("The documents state {released} as the day of release, and the launch is on {on}."));
    }
    Ok(Some(Plan {
        product: product.slug.clone(),
        name: product.name.clone(),
        shop: product.shop.name.clone(),
        version: product.version.clone(),
        on: launch.on.to_string(),
        steps: steps(launch, &seen, today),
        remarks,
    }))
}

fn seen(product: &Product, world: &World, out: &Path) -> Result<Seen, Stop> {
    let releases = seals::of_product(world.root())?;
    let mut seen = Seen {
        issued: releases.of(&product.version).map(|release| release.released.to_string()),
        followed: releases.versions().iter().any(|version| order(version) < order(&product.version)),
        ticked: ticked(world.root(), &product.version)?,
        ..Seen::default()
    };
    let folder = store::place(out, &product.slug, &product.version);
    let record = folder.join(versions::RECORD);
    if !record.is_file() {
        return Ok(seen);
    }
    let record: Value = serde_json::from_slice(&world::read_outside(&record)?).map_err(|e| {
        Fault::new(format!("the bundle's record cannot be read: {e}"))
            .in_file(slashed(&record))
            .help("build the product again")
    })?;
    let found = |severity: &str| {
        record["findings"].as_array().into_iter().flatten().filter(|f| f["severity"] == severity).count()
    };
    seen.built = true;
    seen.findings = (found("error"), found("warning"));
    let pictures = folder.join("listing/pictures");
    seen.pictures = if pictures.is_dir() { world::files_below(&pictures)?.len() } else { 0 };
    // Files that only a later stage reads are not known here; those of the manifest say enough.
    let then = crate::releases::inputs(&record);
    let now = seals::inputs_of(world);
    seen.changed = now.into_iter().find(|(path, digest)| then.get(path) != Some(digest)).map(|(path, _)| path);
    Ok(seen)
}

/// The steps of a version that are ticked off, each with the day.
fn ticked(product: &Path, version: &str) -> Result<BTreeMap<String, String>, Fault> {
    let table = done(product)?;
    let of = table.get(version).and_then(toml::Value::as_table);
    Ok(of.into_iter().flatten().map(|(name, day)| (name.clone(), day.to_string())).collect())
}

/// All that is ticked off of a product: a table for each version, in it the day for each step.
fn done(product: &Path) -> Result<toml::Table, Fault> {
    let path = product.join(DONE);
    if !path.is_file() {
        return Ok(toml::Table::new());
    }
    let bytes = world::read_outside(&path)?;
    let file = slashed(&path);
    let wrong = |message: String| {
        let help = "a table for each version, and in it the day on which a step was done: [\"1.0.0\"] and announce = 2027-10-01";
        Fault::new(message).in_file(&file).help(help)
    };
    let text = String::from_utf8(bytes).map_err(|_| wrong("it is not UTF-8 text".to_owned()))?;
    let place = |at: usize| {
        let before = text.get(..at).unwrap_or(&text);
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        let text = text.lines().nth(line - 1).unwrap_or_default().to_owned();
        SourceSpan { line, column, text, width: 1, file: None }
    };
    let table: toml::Table = text.parse().map_err(|e: toml::de::Error| {
        let at = e.span().map_or(0, |span| span.start);
        wrong(e.message().to_owned()).at(place(at))
    })?;
    for (key, value) in &table {
        let odd = match value.as_table() {
            None => Some(key),
            Some(steps) => steps.iter().find(|(_, day)| !day.is_datetime()).map(|(name, _)| name),
        };
        if let Some(name) = odd {
            let at = text.find(name.as_str()).unwrap_or(0);
            return Err(wrong(format!("`{name}` has no day")).at(place(at)));
        }
    }
    Ok(table)
}

/// Ticks a step of a product's plan off; what was ticked off before keeps its day. Gives the file.
///
/// # Errors
/// All faults of the manifest, no plan or no such step in it, and a file that cannot be read or written.
pub fn tick_off(path: &Path, out: &Path, step: &str, today: Date) -> Result<PathBuf, Stop> {
    let none = || {
        let fault = Fault::new("no launch is planned").in_file(slashed(path));
        Stop::from(fault.help("write its day into the manifest: [launch], and below it on = 2027-10-01"))
    };
    let plan = launch(path, out, today)?.ok_or_else(none)?;
    let mut names = plan.steps.iter().map(|row| row.name.as_str()).filter(|name| *name != LAUNCH);
    if !names.any(|name| name == step) {
        let names = plan.steps.iter().map(|row| row.name.as_str()).filter(|name| *name != LAUNCH);
        return Err(Stop::from(Fault::new(format!("the plan has no step `{step}`")).help(suggest(step, names))));
    }
    let root = World::open(path)?.root().to_owned();
    let mut table = done(&root)?;
    let of = table.entry(&plan.version).or_insert_with(|| toml::Table::new().into());
    if let (Some(of), Ok(day)) = (of.as_table_mut(), today.to_string().parse::<toml::value::Datetime>()) {
        of.entry(step).or_insert(day.into());
    }
    let file = root.join(DONE);
    store::replace_file(&file, &table.to_string())?;
    Ok(file)
}
