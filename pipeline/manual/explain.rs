//! `explain`: what a name is, in words.

use super::{Named, Place, of, parameters, places, takes};
use base::keys::{Doc, Key};
use draw::built_in::{self, Family};
use judge::validate;
use std::fmt::Write;

/// How many names are given where none is meant.
const NEAR: usize = 4;

/// All that is known of a name, or the nearest few names.
///
/// # Errors
/// The help for a name that is not known.
pub fn explain(name: &str, check: impl Fn(&base::model::Check) -> String) -> Result<String, String> {
    let name = name.trim().trim_matches(['[', ']', '`']);
    let mut parts: Vec<String> = validate::find(name).map(check).into_iter().collect();
    let all = places();
    let exact = all.iter().filter(|place| place.path == name);
    let mut keys: Vec<&Place> = exact.collect();
    if keys.is_empty() {
        keys = all.iter().filter(|place| place.key.name == name).collect();
    }
    // The keys of art stand at eight tables, and say the same everywhere.
    let mut told: Vec<(&str, Vec<&Place>)> = Vec::new();
    for place in keys {
        match told.iter_mut().find(|(doc, _)| *doc == place.key.doc) {
            Some((_, same)) => same.push(place),
            None => told.push((place.key.doc, vec![place])),
        }
    }
    parts.extend(told.iter().map(|(_, same)| key(same)));
    parts.extend(of("ruling").iter().filter(|(n, _)| *n == name).map(|r| ruling(r, false)));
    let dated = rulings::ALL.dated.iter().map(|e| (e.entry.name, e.entry.what.to_owned()));
    parts.extend(dated.filter(|(n, _)| *n == name).map(|r| ruling(&r, true)));
    for (what, kind, how) in [
        ("motif", "a motif of stickers", "[[sticker]]\nmotif"),
        ("icon", "an icon of tabs, dividers and titles", "[[notebook.section]]\nicon"),
        ("look", "a look that comes along", "[style]\nlook"),
        ("layout", "a layout of listing pictures", "[[picture]]\nlayout"),
    ] {
        for (name, is) in of(what).iter().filter(|(n, _)| *n == name) {
            let text = format!("{name}: {kind}\n  {is}\n\n{}", lines("write", &format!("{how} = \"{name}\"")));
            parts.push(text);
        }
    }
    parts.extend(built_in::family(name).map(typeface));
    let mut seen = Vec::new();
    for place in &all {
        for word in place.words().iter().filter(|w| w.word == name) {
            // The same word of the same key in another table.
            if seen.contains(&(place.key.name, word.doc)) {
                continue;
            }
            seen.push((place.key.name, word.doc));
            parts.push(format!("{name}: a value of `{}`\n  {}\n", place.path, word.doc.replace('\n', " ")));
        }
    }
    if parts.is_empty() { Err(near(name)) } else { Ok(parts.join("\n")) }
}

/// The names that are nearest to one that is not known.
pub fn near(name: &str) -> String {
    let names = super::names();
    let last = |known: &str| known.rsplit('.').next().unwrap_or_default().to_owned();
    let mut all: Vec<(usize, &String)> = names
        .keys()
        .map(|known| {
            let of = |k: &str| base::model::fault::distance(name, k);
            (of(known).min(of(&last(known)) + 1), known)
        })
        .collect();
    all.sort();
    if let Some((distance, known)) = all.first()
        && *distance <= 2.max(name.chars().count() / 3)
    {
        return format!("did you mean `{known}`?");
    }
    let near: Vec<String> = all
        .iter()
        .filter(|(distance, _)| *distance <= 2.max(name.chars().count() / 2))
        .take(NEAR)
        .map(|(_, known)| format!("`{known}`"))
        .collect();
    match near.as_slice() {
        [] => "`sheafwright explain` lists the checks, `sheafwright manual --html FILE` writes a page with every key, ruling and motif".to_owned(),
        near => format!("near to it are {}", near.join(", ")),
    }
}

/// A key that stands at these places.
fn key(same: &[&Place]) -> String {
    let Some(first) = same.first() else { return String::new() };
    let told = first.key.told();
    let paths: Vec<&str> = same.iter().map(|p| p.path.as_str()).collect();
    let mut out = format!("{}: a key of {}\n  {}\n\n", paths.join(", "), super::files_of(&first.path), told.text);
    out.push_str(&facts(&first.key, &told));
    if let Some(example) = &told.example {
        let heading = if first.heading.is_empty() { String::new() } else { format!("{}\n", first.heading) };
        out.push_str(&lines("write", &format!("{heading}{example}")));
    }
    for word in first.words() {
        let _ = writeln!(out, "    \"{}\"  {}", word.word, word.doc.replace('\n', " "));
    }
    for table in first.tables() {
        let _ = writeln!(out, "  its keys:");
        for key in &table.keys {
            let _ = writeln!(out, "    {:<18} {}", key.name, key.told().text);
        }
    }
    out
}

fn facts(key: &Key, told: &Doc) -> String {
    let takes = match key.of {
        Some(what) => {
            let names: Vec<&str> = of(what).iter().map(|(name, _)| *name).collect();
            format!("the name of a {what}: {}", names.join(", "))
        }
        None => takes(&(key.shape)()),
    };
    let mut out = lines("takes", &takes);
    for (what, said) in [("range", &told.range), ("default", &told.default)] {
        if let Some(said) = said {
            out.push_str(&lines(what, said));
        }
    }
    out
}

/// A ruling with its parameters.
fn ruling((name, what): &Named, dated: bool) -> String {
    let kind = if dated { "a dated ruling" } else { "a ruling" };
    let mut out = format!("{name}: {kind}\n  {what}\n\n");
    let mine = parameters(name, dated);
    // Of two of a name the dated one stands first.
    let Some(table) = mine.first() else { return out };
    let heading = if dated { "[[notebook.dated]]" } else { "[[notebook.template]]" };
    let pages = if dated { kinds(name) } else { String::new() };
    out.push_str(&lines("write", &format!("{heading}\n{pages}ruling = \"{name}\"")));
    if table.keys.is_empty() {
        out.push_str("  It has no parameters.\n");
        return out;
    }
    out.push_str("  parameters, as with = { … }:\n");
    for key in &table.keys {
        let told = key.told();
        let takes = super::takes_within(key, &told);
        let _ = writeln!(out, "    {:<14} {} Takes {takes}.", key.name, told.text);
    }
    out
}

/// A typeface with its faces, and whose it is.
fn typeface(family: &Family) -> String {
    let faces = [Some(family.regular), family.italic, family.bold];
    let faces: Vec<&str> = faces.into_iter().flatten().collect();
    let mut out = format!("{}: a typeface that comes along\n  {}\n\n", family.name, family.what);
    out.push_str(&lines("write", &format!("[style.fonts]\nheading = \"{}\"", family.name)));
    out.push_str(&lines("faces", &faces.join(", ")));
    out.push_str(&lines("licence", "SIL Open Font License 1.1, https://openfontlicense.org"));
    if let Some(rights) = built_in::rights(family) {
        out.push_str(&lines("rights", &rights));
    }
    out
}

/// The kind of page of a dated ruling, as one would write it.
fn kinds(name: &str) -> String {
    let entry = rulings::ALL.dated.iter().find(|e| e.entry.name == name);
    let kind = entry.and_then(|e| e.kinds.first());
    kind.map_or(String::new(), |kind| format!("pages = \"{}\"\n", format!("{kind:?}").to_lowercase()))
}

/// A fact of a name, its further lines below the first.
fn lines(what: &str, said: &str) -> String {
    let mut out = String::new();
    for (i, line) in said.lines().enumerate() {
        let head = if i == 0 { format!("{what}:") } else { String::new() };
        let _ = writeln!(out, "  {head:<9} {line}");
    }
    out
}
