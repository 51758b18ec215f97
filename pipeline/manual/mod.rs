//! What can be looked up: every key of the manifest, every ruling, motif, layout, word and check, out of the tables that the
//! program itself works by. The schema for editors, `explain`, the completions and the manual are drawn from here.

mod chapters;
pub mod explain;
pub mod html;
pub mod sample;
pub mod schema;
mod walk;

pub use walk::{Place, places, takes, takes_within};

use base::keys::Table;
use draw::{built_in, motifs, shots};
use judge::validate;
use std::collections::BTreeMap;

/// A name out of a table, with what it is.
pub type Named = (&'static str, String);

/// The names that a key marked `of` takes.
pub fn of(what: &str) -> Vec<Named> {
    let plain = || rulings::ALL.plain.iter().map(|e| (e.name, e.what.to_owned()));
    match what {
        "ruling" => plain().collect(),
        "dated ruling" => {
            let dated = rulings::ALL.dated.iter().map(|e| (e.entry.name, e.entry.what.to_owned()));
            let mut all: Vec<Named> = dated.collect();
            for named in plain() {
                if !all.iter().any(|(name, _)| *name == named.0) {
                    all.push(named);
                }
            }
            all
        }
        "motif" => motifs::TABLE.iter().map(|m| (m.name, m.what.to_owned())).collect(),
        "icon" => motifs::with_icons().map(|m| (m.name, m.what.replace(" in a round mark", ""))).collect(),
        "look" => manifest::looks(),
        "layout" => shots::TABLE.iter().map(|l| (l.name, l.shows.to_owned())).collect(),
        "typeface" => built_in::FAMILIES.iter().map(|f| (f.name, f.what.to_owned())).collect(),
        "check" => validate::CATALOGUE.iter().map(|c| (c.name, c.looks_for.to_owned())).collect(),
        _ => Vec::new(),
    }
}

/// The parameters of all rulings of a name: of the plain one, of the dated one, or of both.
pub fn parameters(name: &str, dated: bool) -> Vec<Table> {
    let plain = rulings::ALL.plain.iter().filter(|e| e.name == name).map(draw::ruling::Entry::parameters);
    let of_dates = rulings::ALL.dated.iter().filter(|e| dated && e.entry.name == name).map(|e| e.entry.parameters());
    of_dates.chain(plain).collect()
}

/// The files in which a key may stand.
pub fn files_of(path: &str) -> &'static str {
    let top = path.split('.').next().unwrap_or_default();
    if manifest::shop_keys().key(top).is_some() { "product.toml and shop.toml" } else { "product.toml" }
}

/// A key that names a ruling, with the key that holds its parameters.
pub const PARAMETERS: [(&str, &str); 2] = [("ruling", "with"), ("beside", "beside-with")];

/// Every name that `explain` knows, with the kind of thing that it is.
pub fn names() -> BTreeMap<String, Vec<&'static str>> {
    let mut out: BTreeMap<String, Vec<&'static str>> = BTreeMap::new();
    let mut add = |name: &str, kind| {
        let kinds = out.entry(name.to_owned()).or_default();
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    };
    for what in ["check", "ruling", "dated ruling", "motif", "typeface", "look", "layout"] {
        of(what).iter().for_each(|(name, _)| add(name, what));
    }
    for place in places() {
        add(&place.path, "key");
        for word in place.words() {
            add(word.word, "word");
        }
    }
    out
}
