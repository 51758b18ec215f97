//! Builds many products and says in one table what became of each.

use super::args::Build;
use super::outcome::{colour, complain, print, print_aside, say, typed};
use super::progress::Line;
use super::table::{Row, State};
use super::{diff_report, report, table};
use crate::driver::{self, Built, Memory, Options, Shard, Step, Turn};
use crate::world;
use base::files::slashed;
use base::model::{Fault, Stop};
use judge::validate;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Instant;

/// Builds them all, or their part.
pub fn build(named: Vec<PathBuf>, args: &Build) -> u8 {
    let begun = Instant::now();
    let products = match mine(named, args) {
        Ok(products) => products,
        Err(fault) => return complain(&[fault]),
    };
    let line = if args.json { None } else { Line::begin() };
    let told: driver::Progress = match &line {
        Some(line) => Box::new(line.teller()),
        None => driver::silent(),
    };
    told(Step::Stage("build", products.len()));
    let times: Mutex<BTreeMap<usize, Instant>> = Mutex::default();
    let took: Mutex<BTreeMap<usize, f64>> = Mutex::default();
    let memory = Arc::new(Memory::of(u64::from(args.memory) * 1_000_000));
    let options = || Options {
        out: args.out.clone(),
        strict: args.strict,
        progress: driver::silent(),
        memory: Arc::clone(&memory),
    };
    // Plain entries: a panic elsewhere cannot leave half of one.
    let made = driver::build_many(&products, &options, &|turn| match turn {
        Turn::Begins(i) => {
            times.lock().unwrap_or_else(PoisonError::into_inner).insert(i, Instant::now());
        }
        Turn::Ends(i, _) => {
            let times = times.lock().unwrap_or_else(PoisonError::into_inner);
            let seconds = times.get(&i).map_or(0.0, |begun| begun.elapsed().as_secs_f64());
            took.lock().unwrap_or_else(PoisonError::into_inner).insert(i, seconds);
            told(Step::Done(&shown(&products[i])));
        }
    });
    drop(line);
    let took = took.into_inner().unwrap_or_else(PoisonError::into_inner);
    let rows: Vec<Row> = products
        .iter()
        .zip(&made)
        .enumerate()
        .map(|(i, (path, made))| row(path, made, took.get(&i).copied().unwrap_or_default()))
        .collect();
    let seconds = Some(begun.elapsed().as_secs_f64());
    if args.json {
        print(&format!("{:#}\n", table::json(&rows, seconds)));
    } else {
        for (path, made) in products.iter().zip(&made) {
            trouble(path, made);
        }
        print(&table::people(&rows, seconds));
    }
    table::code(&rows)
}

/// The products of this run.
fn mine(products: Vec<PathBuf>, args: &Build) -> Result<Vec<PathBuf>, Fault> {
    let Some(shard) = args.shard else { return Ok(products) };
    let costs = match &args.costs {
        Some(report) => past(&table::read(report)?, &products),
        None => products.iter().map(|path| world::bytes_below(path)).collect(),
    };
    let Shard { number, of } = shard;
    let (all, mine) = (products.len(), driver::share(products.into_iter().zip(costs).collect(), shard));
    say!("Part {number} of {of}: {} of {}.", mine.len(), report::plural(all, "product"));
    Ok(mine)
}

/// Milliseconds that each product took; one that is new takes as long as they do on average.
fn past(rows: &[Row], products: &[PathBuf]) -> Vec<u64> {
    let known: BTreeMap<&str, u64> = rows.iter().map(|r| (r.path.as_str(), (r.seconds * 1000.0) as u64)).collect();
    let usual = known.values().sum::<u64>() / known.len().max(1) as u64;
    products.iter().map(|path| known.get(shown(path).as_str()).copied().unwrap_or(usual)).collect()
}

/// A path as reports have it, on every system.
fn shown(path: &Path) -> String {
    slashed(path)
}

fn row(path: &Path, made: &Result<Built, Stop>, seconds: f64) -> Row {
    let folder = || path.file_name().map_or_else(|| shown(path), |name| name.to_string_lossy().into_owned());
    let empty = Row {
        path: shown(path),
        product: folder(),
        version: None,
        state: State::Failed,
        uploads: 0,
        bytes: 0,
        errors: 0,
        warnings: 0,
        notes: 0,
        changed: None,
        seconds: (seconds * 1000.0).round() / 1000.0,
        folder: None,
        proof: None,
        faults: Vec::new(),
        findings: Vec::new(),
    };
    let built = match made {
        Ok(built) => built,
        Err(stop) => return Row { faults: stop.faults().iter().map(ToString::to_string).collect(), ..empty },
    };
    let uploads = || built.files.iter().filter(|f| f.path.starts_with("upload/"));
    let (errors, warnings, notes) = validate::counts(&built.findings);
    let findings = report::json(&built.findings)["findings"].as_array().cloned().unwrap_or_default();
    Row {
        product: built.product.slug.clone(),
        version: Some(built.product.version.clone()),
        state: if built.folder.is_some() { State::Built } else { State::Stopped },
        uploads: uploads().count(),
        bytes: uploads().map(|f| f.size).sum(),
        errors,
        warnings,
        notes,
        changed: built.earlier.as_ref().map(diff_report::since),
        folder: built.folder.as_deref().map(shown),
        proof: built.proof.as_deref().map(shown),
        findings,
        ..empty
    }
}

/// What keeps a product from being built, before the table.
fn trouble(path: &Path, made: &Result<Built, Stop>) {
    match made {
        Err(stop) => {
            say!("{}:", typed(path));
            complain(stop.faults());
        }
        Ok(built) if built.folder.is_none() => {
            say!("{}:", typed(path));
            print_aside(&report::people(&built.findings, colour(), None));
            if let Some(proof) = &built.proof {
                say!("See each place in {}.", typed(proof));
            }
        }
        Ok(_) => {}
    }
}
