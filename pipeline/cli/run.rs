//! Runs a command and gives the exit code: 0 clean, 1 errors found, 2 could not run.

use super::args::{Args, Build, Command};
use super::outcome::{CLEAN, ERRORS, colour, complain, print, print_aside, say};
use super::progress::Line;
use super::stages::Stages;
use super::{
    catalogue, change, diff_report, facts, launch, learn, many, origin, packs, redate, release, report, sarif, summary,
    table, watch,
};
use crate::driver;
use crate::driver::{Memory, Options, Wanted};
use crate::{store, world};
use base::files::slashed;
use base::model::{Finding, Severity};
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Instant;

/// Runs a command.
pub fn run(args: Args) -> u8 {
    match args.command {
        Command::New(args) => change::new(&args),
        Command::Add(args) => change::add(&args),
        Command::Look { folder } => change::look(&folder),
        Command::Build(args) => build(&args),
        Command::Catalogue { products, out } => catalogue::catalogue(&products, &out),
        Command::Launch(args) => launch::launch(&args),
        Command::Table { reports, json } => table::table(&reports, json),
        Command::Check { paths, strict, json, sarif } => check(&paths, strict, json, sarif),
        Command::Diff { old, new, json, note, html, changes, pack } => {
            let aside = Aside { html: html.as_deref(), changes: changes.as_deref(), pack: pack.as_deref() };
            diff((&old, &new), json, note, &aside)
        }
        Command::Proof { bundle, out } => proof(&bundle, out.as_deref()),
        Command::Redate { product, from, into, dry_run, json } => {
            redate::redate(&product, &from, into.as_deref().filter(|_| !dry_run), json)
        }
        Command::Watch { product, out, port, strict } => watch::watch(&product, out, strict, port),
        Command::Listing { bundle } => listing(&bundle),
        Command::Release(args) => release::release(&args),
        Command::Verify(args) => release::verify(&args),
        Command::Explain { name: Some(name), product: Some(product), .. } => origin::explain(&name, &product),
        Command::Explain { name, .. } => learn::explain(name.as_deref()),
        Command::Manual(args) => learn::manual(&args),
        Command::Completions { shell } => learn::completions(&shell),
    }
}

fn build(args: &Build) -> u8 {
    if let Some(jobs) = args.jobs {
        // It is set once, before anything uses it, so there is nothing that could be in its way.
        let _ = rayon::ThreadPoolBuilder::new().num_threads(jobs.into()).build_global();
    }
    let named = world::products_named(&args.products);
    match (named.as_slice(), args.products.as_slice(), &args.shard) {
        ([product], [path], None) if product == path => build_one(product, args),
        _ => many::build(named, args),
    }
}

fn build_one(product: &Path, args: &Build) -> u8 {
    let begun = Instant::now();
    let stages = Stages::default();
    let line = if args.json || Stages::asked() { None } else { Line::begin() };
    let progress: driver::Progress = match &line {
        Some(line) => Box::new(line.teller()),
        None => stages.teller(),
    };
    let options =
        Options { out: args.out.clone(), strict: args.strict, progress, memory: Arc::new(Memory::unlimited()) };
    let built = driver::build(product, &options);
    drop(line);
    stages.tell();
    match built {
        Err(stop) => complain(stop.faults()),
        Ok(built) => {
            if args.json {
                let mut value = report::json(&built.findings);
                value["folder"] = built.folder.as_ref().map(|f| slashed(f)).into();
                value["proof"] = built.proof.as_ref().map(|f| slashed(f)).into();
                print(&format!("{value:#}\n"));
            } else {
                if !built.findings.is_empty() {
                    print_aside(&report::people(&built.findings, colour(), None));
                }
                print_aside(&report::off(&driver::switched_off(&built.product)));
                print(&summary::summary(&built, begun.elapsed()));
            }
            if built.folder.is_some() { CLEAN } else { ERRORS }
        }
    }
}

fn verdict(findings: &[Finding], strict: bool) -> u8 {
    let stopping = if strict { Severity::Warning } else { Severity::Error };
    if findings.iter().any(|f| f.severity <= stopping) { ERRORS } else { CLEAN }
}

fn check(paths: &[PathBuf], strict: bool, json: bool, sarif: bool) -> u8 {
    let begun = Instant::now();
    match driver::check(paths) {
        Err(stop) => complain(stop.faults()),
        Ok(checked) => {
            if sarif {
                print(&format!("{:#}\n", sarif::sarif(&checked.findings)));
            } else if json {
                let mut value = report::json(&checked.findings);
                value["files"] = facts::json(&checked.files);
                print(&format!("{value:#}\n"));
            } else {
                print_aside(&(facts::people(&checked.files) + &report::off(&checked.off)));
                let colour = std::io::stdout().is_terminal() && colour();
                print(&report::people(&checked.findings, colour, Some(begun.elapsed())));
            }
            verdict(&checked.findings, strict)
        }
    }
}

/// What a comparison writes beside its report.
struct Aside<'a> {
    /// A page for the browser.
    html: Option<&'a Path>,
    /// The product whose list of changes gets the note.
    changes: Option<&'a Path>,
    /// The folder of an update pack.
    pack: Option<&'a Path>,
}

/// Exit codes as other comparing programs have them: 0 same, 1 different, 2 could not run.
fn diff((old, new): (&Path, &Path), json: bool, note: bool, aside: &Aside) -> u8 {
    if let Some(Err(fault)) = aside.pack.map(driver::is_free) {
        return complain(&[fault]);
    }
    let wanted = Wanted { pictures: aside.html.is_some(), pack: aside.pack.is_some() };
    let (found, packed) = match driver::diff(old, new, wanted) {
        Ok(found) => found,
        Err(stop) => return complain(stop.faults()),
    };
    if let (Some(folder), Some(packed)) = (aside.pack, &packed)
        && let Err(fault) = packs::write(folder, packed)
    {
        return complain(&[fault]);
    }
    if let Some(page) = aside.html {
        if let Err(fault) = driver::changes_page(&found, page) {
            return complain(&[fault]);
        }
        say!("Wrote {}: open it in a browser.", slashed(page));
    }
    if let Some(product) = aside.changes {
        match driver::record_change(&found, product) {
            Ok((path, true)) => say!("Wrote {}: put it into your own words.", slashed(&path)),
            Ok((path, false)) => {
                say!("{} has an entry of this version already: it stays as it is.", slashed(&path));
            }
            Err(fault) => return complain(&[fault]),
        }
    }
    if json {
        let mut report = diff_report::json(&found);
        if let Some(packed) = &packed {
            report["pack"] = packs::json(packed);
        }
        print(&format!("{report:#}\n"));
    } else if note {
        let note = driver::change_note(&found);
        print(&note.text);
        if let Some(language) = note.missing {
            say!("note: there is no change note in \u{201c}{language}\u{201d} yet; this one is in English.");
        }
    } else {
        print(&diff_report::people(&found));
    }
    if found.same { CLEAN } else { ERRORS }
}

fn listing(bundle: &Path) -> u8 {
    let parts = ["listing/description.md", "listing/files.txt", "listing/tags.txt"];
    let mut out = String::new();
    for part in parts {
        match world::read_outside(&bundle.join(part)) {
            Ok(bytes) => {
                if !out.is_empty() {
                    out.push('\n');
                }
                out.push_str(&String::from_utf8_lossy(&bytes));
            }
            Err(fault) => {
                return complain(&[fault.help("name the folder of a bundle, such as dist/my-notebook/1.0.0")]);
            }
        }
    }
    print(&out);
    CLEAN
}

fn proof(bundle: &Path, out: Option<&Path>) -> u8 {
    let page = match driver::proof_of(bundle) {
        Ok(page) => page,
        Err(stop) => return complain(stop.faults()),
    };
    let page = String::from_utf8_lossy(&page);
    // A page that nobody named is not written over: it may be that of another bundle, with somebody's remarks beside it.
    let (out, written) = match out {
        Some(out) => (out, store::replace_file(out, &page)),
        None => {
            let out = Path::new("proof.html");
            (
                out,
                store::new_file(out, &page)
                    .map_err(|f| f.help("name the page with --out FILE: one that is named is written over")),
            )
        }
    };
    match written {
        Ok(()) => {
            print(&format!("{}\n", slashed(out)));
            CLEAN
        }
        Err(fault) => complain(&[fault]),
    }
}
