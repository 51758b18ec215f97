//! What is done to a product's folder at the designer's word: one thing more in its manifest, and a look at what lies there.

use super::other_manifest::OtherManifest;
use crate::store;
use crate::world::{World, files_below};
use base::files::{Files, slashed};
use base::model::Fault;
use manifest::add::{self, Wanted};
use std::path::{Path, PathBuf};

/// What was written into a manifest.
pub struct Added {
    /// The manifest.
    pub file: PathBuf,
    /// The lines that are new, with the number of the first.
    pub lines: (usize, Vec<String>),
    /// What is worth saying.
    pub notes: Vec<String>,
}

/// Adds one thing to a product's manifest. Where the manifest would be at fault, it stays as it is.
///
/// # Errors
/// What is wrong with the manifest as it would be, or what keeps it from being read or written.
pub fn add(product: &Path, wanted: &Wanted) -> Result<Added, Vec<Fault>> {
    let world = World::open(product).map_err(|fault| vec![fault])?;
    let bytes = world.read(manifest::FILE).map_err(|fault| vec![fault])?;
    let text = String::from_utf8(bytes.to_vec()).map_err(|_| {
        vec![Fault::new("a character that is not UTF-8").in_file(manifest::FILE).help("save the file as UTF-8")]
    })?;
    if manifest::is_translation(&world) {
        let fault = Fault::new("a translation has the things of its original").in_file(manifest::FILE);
        return Err(vec![fault.help("add it to the product that it translates, and its name to [translations]")]);
    }
    let (after, notes) = add::add(&text, wanted).map_err(|fault| vec![fault])?;
    manifest::read(&OtherManifest::new(&world, &after), rulings::ALL)?;
    let file = world.root().join(manifest::FILE);
    store::replace_file(&file, &after).map_err(|fault| vec![fault])?;
    Ok(Added { file, lines: new_lines(&text, &after), notes })
}

/// The lines between those that both texts begin and end with.
fn new_lines(before: &str, after: &str) -> (usize, Vec<String>) {
    let (old, new): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let first = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let room = old.len().min(new.len()) - first;
    let last = old.iter().rev().zip(new.iter().rev()).take(room).take_while(|(a, b)| a == b).count();
    let lines = new[first..new.len() - last].iter().map(|l| (*l).to_owned()).collect();
    (first + 1, lines)
}

/// What lies in a folder.
pub struct Looked {
    /// The files that lie there but the manifest and what builds leave, by path.
    pub files: Vec<String>,
    /// Those of them that the manifest makes no use of.
    pub unused: Vec<String>,
    /// What is there to be made of it.
    pub state: State,
}

/// How far a folder is.
pub enum State {
    /// There is no manifest.
    Bare,
    /// The manifest is at fault.
    Faulty(Vec<Fault>),
    /// It can be built: what it makes, in words.
    Ready(Vec<String>),
}

/// Folders that hold nothing of the designer's.
const NOT_HERS: [&str; 3] = ["dist", ".git", ".cache"];

/// Looks a folder over that may not build yet.
///
/// # Errors
/// When the folder cannot be read.
pub fn look(folder: &Path) -> Result<Looked, Fault> {
    let world = World::open(folder)?;
    let mut files = Vec::new();
    for path in files_below(world.root())? {
        let name = slashed(path.strip_prefix(world.root()).unwrap_or(&path));
        let top = name.split('/').next().unwrap_or_default().to_owned();
        if !NOT_HERS.contains(&top.as_str()) && name != manifest::FILE {
            files.push(name);
        }
    }
    let Ok(text) = world.read_text(manifest::FILE) else {
        return Ok(Looked { unused: Vec::new(), files, state: State::Bare });
    };
    let read = manifest::read(&world, rulings::ALL);
    // Where the manifest is at fault not every file was come to: one that it names is used all the same.
    let inputs = world.inputs();
    let known = |file: &&String| {
        inputs.contains_key(*file)
            || text.contains(file.as_str())
            || ["releases.toml", "CHANGES.md", "proof-notes.json", "launch-done.toml"].contains(&file.as_str())
    };
    let unused = files.iter().filter(|file| !known(file)).cloned().collect();
    let state = match read {
        Err(faults) => State::Faulty(faults),
        Ok(products) => State::Ready(products.first().map(|p| makes(p, products.len())).unwrap_or_default()),
    };
    Ok(Looked { files, unused, state })
}

/// What a product makes, in words.
fn makes(product: &base::model::Product, variants: usize) -> Vec<String> {
    let mut out = Vec::new();
    let mut say = |count: usize, one: &str, many: &str| {
        if count > 0 {
            out.push(format!("{count} {}", if count == 1 { one } else { many }));
        }
    };
    if let Some(notebook) = &product.notebook {
        say(1, "notebook", "notebooks");
        say(notebook.sections.len(), "section", "sections");
        say(notebook.templates.len(), "template", "templates");
        say(notebook.dated.as_ref().map_or(0, |d| d.sets.len()), "set of dated pages", "sets of dated pages");
    }
    say(product.covers.len(), "alternate cover", "alternate covers");
    say(product.stickers.items.len(), "sticker", "stickers");
    say(product.stickers.cuts.len(), "sheet to cut stickers from", "sheets to cut stickers from");
    say(product.shots.len(), "listing picture", "listing pictures");
    if variants > 1 {
        say(variants, "variant", "variants");
    }
    out
}
