//! `explain --where`: which file, line and column a value comes from.

use super::outcome::{CLEAN, complain, print};
use crate::driver;
use crate::manual::{Place, explain, places};
use base::files::slashed;
use base::model::Fault;
use manifest::{Origin, Said};
use std::fmt::Write;
use std::path::{Component, Path, PathBuf};

/// The longest value that is shown whole, in characters.
const LONGEST: usize = 100;

/// Says where the value of a key comes from in a product, or the values of all keys of a table.
pub fn explain(key: &str, product: &Path) -> u8 {
    let key = key.trim().trim_matches(['[', ']', '`']);
    let found = match driver::origins(product, key) {
        Ok(found) => found,
        Err(faults) => return complain(&faults),
    };
    if !found.is_empty() {
        let told: Vec<String> = found.iter().map(|origin| told(origin, product)).collect();
        print(&told.join(""));
        return CLEAN;
    }
    // A number counts the entries of a list, and is no key.
    let plain: Vec<&str> = key.split('.').filter(|step| step.parse::<usize>().is_err()).collect();
    let plain = plain.join(".");
    match places().iter().find(|place| place.path == plain) {
        Some(place) => {
            print(&format!("{key}\n  {}\n", by_default(place)));
            CLEAN
        }
        None => complain(&[Fault::new(format!("there is no key `{key}`")).help(explain::near(&plain))]),
    }
}

/// What counts where nobody says anything.
fn by_default(place: &Place) -> String {
    let default = place.key.told().default.unwrap_or_default();
    format!("nothing says it; then this counts: {default}")
}

fn told(origin: &Origin, product: &Path) -> String {
    let mut value = origin.value.lines().next().unwrap_or_default().to_owned();
    if value.chars().count() > LONGEST || value.len() < origin.value.trim_end().len() {
        value = value.chars().take(LONGEST).chain(" …".chars()).collect();
    }
    let mut out = format!("{} = {value}\n  {}", origin.key, place(&origin.said, product));
    if origin.said.keys != origin.key {
        let _ = write!(out, ", as {}", origin.said.keys);
    }
    out.push('\n');
    if !origin.variants.is_empty() {
        let _ = writeln!(out, "  in {}", origin.variants.join(", "));
    }
    for other in &origin.instead {
        let _ = writeln!(out, "  before {}", place(other, product));
    }
    out
}

/// A place that an editor finds.
fn place(said: &Said, product: &Path) -> String {
    let Some(file) = &said.file else { return format!("a look of the tool, line {}", said.span.line) };
    let folder = if product.ends_with(manifest::FILE) { product.parent().unwrap_or(product) } else { product };
    format!("{}:{}:{}", slashed(&plain(&folder.join(file))), said.span.line, said.span.column)
}

/// A path without ways down and up again.
fn plain(path: &Path) -> PathBuf {
    let mut out = PathBuf::new();
    for part in path.components() {
        match (part, out.components().next_back()) {
            (Component::CurDir, _) => {}
            (Component::ParentDir, Some(Component::Normal(_))) => {
                out.pop();
            }
            _ => out.push(part),
        }
    }
    out
}
