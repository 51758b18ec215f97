//! The products that the manual is illustrated with: every ruling, dated ruling and cover at its defaults, every look, and every
//! layout of listing pictures.

use super::of;
use std::fmt::Write;

const HEAD: &str = "slug = \"manual\"\nreleased = 2027-01-15\nstyle.accent = \"#5f7d5a\"\n";

/// The manifest of a product that has every ruling and every cover, on small single pages.
pub fn drawn() -> String {
    let mut out = format!(
        "name = \"Manual\"\n{HEAD}guide.wanted = false\n[page]\nsize = \"120 x 160 mm\"\nlayout = \"single\"\n\
         [calendar]\nfirst = \"2027-01\"\nfirst-day = \"monday\"\n"
    );
    for (name, _) in of("ruling") {
        // Writing to a text does not fail.
        let _ = write!(out, "[[notebook.template]]\nruling = \"{name}\"\nslug = \"{name}\"\n");
    }
    for (kind, name) in dated() {
        let days = if kind == "day" { "weekdays = [\"wednesday\"]\n" } else { "" };
        let _ = write!(out, "[[notebook.dated]]\npages = \"{kind}\"\nname = \"{name}\"\nruling = \"{name}\"\n{days}");
    }
    for (key, word) in covers().into_iter().chain(finishes()) {
        let _ = write!(out, "[[cover]]\nname = \"{key} {word}\"\n{key} = \"{word}\"\n");
    }
    out
}

/// The kinds of pages and the dated rulings that are made for them first.
pub fn dated() -> Vec<(String, &'static str)> {
    let one = |e: &draw::ruling::DatedEntry| {
        let kind = e.kinds.first().map_or(String::new(), |kind| format!("{kind:?}").to_lowercase());
        (kind, e.entry.name)
    };
    rulings::ALL.dated.iter().map(one).collect()
}

/// The words of a key of covers.
fn words_of(key: &'static str) -> impl Iterator<Item = (&'static str, &'static str)> {
    let place = super::places().into_iter().find(|p| p.path == format!("cover.{key}"));
    place.map_or(Vec::new(), |p| p.words()).into_iter().map(move |w| (key, w.word))
}

/// The designs and patterns of covers that need no file, in the order of their pages.
pub fn covers() -> Vec<(&'static str, &'static str)> {
    let designs = words_of("design").filter(|(_, word)| !["texture", "patterned"].contains(word));
    designs.chain(words_of("pattern")).collect()
}

/// What is done to the boards of covers, in the order of their pages, which follow those.
pub fn finishes() -> Vec<(&'static str, &'static str)> {
    let keys = ["label-shape", "foil", "stamp", "quarter", "corner-pieces", "stitching", "elastic"];
    keys.into_iter().flat_map(words_of).filter(|(_, word)| *word != "none").collect()
}

/// The manifest of a product in a look, without the grain of its boards: a drawing cannot hold that.
pub fn in_look(name: &str) -> String {
    format!(
        "name = \"Harbour Log\"\nslug = \"manual\"\nreleased = 2027-01-15\nguide.wanted = false\n\
         style = {{ look = \"{name}\", material = \"plain\" }}\npage = {{ size = \"120 x 160 mm\", layout = \"single\" }}\n\
         [notebook]\nsection = [{{ name = \"Tides\" }}, {{ name = \"Boats\" }}, {{ name = \"Letters\" }}]\n\
         template = [{{ ruling = \"titled\" }}]\n"
    )
}

/// The manifest of a product that has every layout of listing pictures.
pub fn pictured() -> String {
    let mut out = format!(
        "name = \"Harbour log\"\n{HEAD}goes-with = [\"../rope-locker\"]\nguide.wanted = false\nshop = {{ name = \"Quayside Papers\" }}\n"
    );
    out.push_str("[notebook]\nsection = [{ name = \"Tides\" }, { name = \"Boats\" }, { name = \"Letters\" }]\n");
    for name in ["lined", "dot-grid", "week", "month", "checklist", "chart"] {
        let _ = write!(out, "[[notebook.template]]\nruling = \"{name}\"\n");
    }
    // Two layouts show dated pages and nothing else.
    for kind in ["year", "month", "week"] {
        let _ = write!(out, "[[notebook.dated]]\npages = \"{kind}\"\n");
    }
    out.push_str("[calendar]\nfirst = \"2027-01\"\n");
    for pattern in ["waves", "leaves", "gingham"] {
        let _ = write!(out, "[[cover]]\nname = \"{pattern}\"\npattern = \"{pattern}\"\n");
    }
    for motif in ["to-do-box", "week-strip", "label", "star", "heart", "banner"] {
        let _ = write!(out, "[[sticker]]\nmotif = \"{motif}\"\n");
    }
    out.push_str("[variants.colourway]\nmoss = {}\nslate = { style = { accent = \"#4a5f8a\" } }\n");
    for (name, _) in of("layout") {
        let moves = draw::shots::find(name).is_some_and(|l| l.moves);
        let form = if moves { "size = \"400 x 300\"" } else { "size = \"640 x 480\"\nformat = \"jpeg\"\nquality = 80" };
        let _ = write!(out, "[[picture]]\nlayout = \"{name}\"\n{form}\n");
    }
    out
}

/// The manifest of the product that goes with it.
pub fn sister() -> String {
    let mut out = format!(
        "name = \"Rope Locker\"\n{HEAD}guide.wanted = false\n[notebook]\ncover = {{ pattern = \"stripes\", colour = \"#4a5f8a\" }}\n"
    );
    out.push_str("section = [{ name = \"Knots\" }]\n");
    out
}
