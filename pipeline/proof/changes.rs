//! What changed since the version that buyers have: the verdict in a line, and every change with its place.

use crate::model::difference::Since;
use serde::Serialize;

/// Changes that are listed; the rest is counted.
const SHOWN: usize = 60;

/// What changed.
#[derive(Serialize)]
pub struct Changes {
    version: String,
    released: Option<String>,
    /// Whether buyers have that version.
    issued: bool,
    line: String,
    /// What it asks of the version number, in words.
    step: String,
    list: Vec<Changed>,
    more: usize,
}

/// One change.
#[derive(Serialize)]
struct Changed {
    place: String,
    says: String,
}

/// What changed since an earlier version.
pub fn changes(since: &Since) -> Changes {
    let found = &since.found;
    let step = match &found.numbers {
        _ if found.same => String::new(),
        Some(n) if n.enough => {
            format!("A {} change: {} or higher. {} is enough.", found.verdict.name(), n.needed, n.new)
        }
        Some(n) => format!("A {} change: {} is too low, {} is needed.", found.verdict.name(), n.new, n.needed),
        None => String::new(),
    };
    let told: Vec<_> = found.differences.iter().filter(|d| !d.is_copy()).collect();
    let list = told.iter().take(SHOWN).map(|d| {
        let page = d.page_new.or(d.page_old).map(|p| format!(", page {p}")).unwrap_or_default();
        Changed { place: format!("{}{page}", d.path), says: d.message.clone() }
    });
    Changes {
        version: since.version.clone(),
        released: since.released.clone(),
        issued: since.issued,
        line: since.line.clone(),
        step,
        list: list.collect(),
        more: told.len().saturating_sub(SHOWN),
    }
}
