//! Writes the catalogue of a shop's products.

use super::outcome::{CLEAN, ERRORS, complain, print, say, typed};
use crate::catalogue::{State, page, table};
use crate::{driver, store, world};
use base::files::slashed;
use base::model::Fault;
use std::path::{Path, PathBuf};

/// Writes it as a page, as a table and as JSON into the folder in which the bundles lie.
pub fn catalogue(named: &[PathBuf], out: &Path) -> u8 {
    let today = world::today();
    let entries = match driver::catalogue(&world::products_named(named), out, today) {
        Ok(entries) => entries,
        Err(fault) => return complain(&[fault]),
    };
    let unread: Vec<&crate::catalogue::Entry> = entries.iter().filter(|e| e.state == State::Unreadable).collect();
    for entry in &unread {
        say!("{}:\nerror: {}", typed(Path::new(&entry.path)), entry.fault.as_deref().unwrap_or_default());
    }
    let write = || -> Result<PathBuf, Fault> {
        let json = serde_json::json!({ "as-of": today.to_string(), "products": entries });
        store::replace_file(&out.join("catalogue.json"), &format!("{json:#}\n"))?;
        store::replace_file(&out.join("catalogue.csv"), &String::from_utf8_lossy(&table(&entries)?))?;
        let html = out.join("catalogue.html");
        store::replace_file(&html, &page(&entries, &today.to_string())?)?;
        Ok(html)
    };
    match write() {
        Ok(html) => {
            print(&format!("{}\n", slashed(&html)));
            if unread.is_empty() { CLEAN } else { ERRORS }
        }
        Err(fault) => complain(&[fault]),
    }
}
