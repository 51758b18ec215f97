//! Other products that a product is sold with: sisters (`goes-with`) and the members of a set.
//!
//! Their manifests are read as they stand, each with its own shop. A sister is read without its own sisters, so that two can
//! name each other; a set is no member of another, so that reading comes to an end.

use super::source::Source;
use super::{FILE, Reach, read_to};
use base::files::Files;
use base::model::kin::{Member, Same, Sister};
use base::model::{Fault, Product};
use draw::ruling::Rulings;
use std::collections::BTreeMap;
use std::ops::Range;
use std::path::PathBuf;
use std::sync::Arc;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A product that the manifest names.
struct Named {
    way: String,
    span: Range<usize>,
    same: Vec<Same>,
}

/// Resolves the sisters of a product and its variants.
pub fn sisters(
    source: &mut Source,
    (world, rulings): (&dyn Files, Rulings),
    tables: &Spanned<DeTable>,
    products: &mut [Product],
) {
    let Some(DeValue::Array(list)) = tables.get_ref().get("goes-with").map(Spanned::get_ref) else { return };
    let named: Vec<Named> = list.iter().filter_map(|entry| goes_with(source, entry)).collect();
    for (named, others) in opened(source, (world, rulings), &named, Reach::Alone) {
        for product in products.iter_mut() {
            let mine = product.variants.mine().map(|v| v.name.as_str());
            let like = others.iter().find(|o| o.variants.mine().map(|v| v.name.as_str()) == mine);
            let Some(other) = like.or(others.first()) else { continue };
            let sections = other.notebook.iter().flat_map(|n| &n.sections).map(|s| s.colour).collect();
            product.sisters.push(Sister {
                way: named.way.clone(),
                place: source.span(named.span.clone()),
                same: named.same.clone(),
                name: other.name.clone(),
                page: other.page.clone(),
                style: other.style.clone(),
                sections,
                product: Arc::new(other.clone()),
            });
        }
    }
}

/// An entry of `goes-with`: the way alone, or a table.
fn goes_with(source: &mut Source, entry: &Spanned<DeValue>) -> Option<Named> {
    match entry.get_ref() {
        DeValue::String(way) => Some(Named { way: way.to_string(), span: entry.span(), same: Vec::new() }),
        DeValue::Table(table) => {
            let Some(way) = table.get("product") else {
                let help = "add product = \"../button-tin\"".to_owned();
                source.fault(entry.span(), "which product is it?", Some(help));
                return None;
            };
            let words = table.get("same").and_then(|same| same.get_ref().as_array()).into_iter().flat_map(|s| s.iter());
            let words: Vec<&str> = words.filter_map(|word| word.get_ref().as_str()).collect();
            let same = Same::ALL.iter().filter(|(word, _)| words.contains(word)).map(|(_, same)| *same).collect();
            Some(Named { way: way.get_ref().as_str()?.to_owned(), span: way.span(), same })
        }
        // What is neither was told when the table was read.
        _ => None,
    }
}

/// Resolves a set: its members, and what follows from them.
pub fn set(source: &mut Source, from: (&dyn Files, Rulings), tables: &Spanned<DeTable>, product: &mut Product) {
    let Some((word, set)) = tables.get_ref().get_key_value("set") else { return };
    nothing_of_its_own(source, tables);
    if product.variants.mine().is_some() {
        let help = "give them to the members: all variants of each are in the set".to_owned();
        source.fault(word.span(), "a set has no variants of its own", Some(help));
    }
    let members = members(source, from, (word.span(), set));
    if !tables.get_ref().contains_key("version") {
        product.version = version(members.iter().map(|m| m.lead().version.as_str()));
    }
    product.licence = licence(source, from.0, &members, product.licence.clone());
    for (check, lowered) in members.iter().flat_map(|m| &m.lead().lowered) {
        product.lowered.entry(check.clone()).or_insert_with(|| lowered.clone());
    }
    product.members = members;
}

/// Resolves the members of a set.
fn members(
    source: &mut Source,
    from: (&dyn Files, Rulings),
    (word, set): (Range<usize>, &Spanned<DeValue>),
) -> Vec<Member> {
    let list = set.get_ref().get("products").and_then(|list| list.get_ref().as_array());
    let named: Vec<Named> =
        list.into_iter().flat_map(|list| list.iter()).filter_map(|entry| goes_with(source, entry)).collect();
    if named.len() < 2 {
        let help = "name two at least: products = [\"../mending-log\", \"../button-tin\"]".to_owned();
        source.fault(word, "a set is made of several products", Some(help));
    }
    let mut out: Vec<Member> = Vec::new();
    for (named, products) in opened(source, from, &named, Reach::Sisters) {
        let Some(lead) = products.first() else { continue };
        if let Some(first) = out.iter().find(|m| m.lead().slug == lead.slug) {
            let said = format!("{:?} and {:?} are both called `{}`", first.way, named.way, lead.slug);
            let help = "each has a folder of its slug in the set: give one of them a slug of its own".to_owned();
            source.fault(named.span.clone(), said, Some(help));
            continue;
        }
        let place = source.span(named.span.clone());
        out.push(Member { way: named.way.clone(), place, products: Arc::new(products) });
    }
    out
}

/// The products that are named, as far as they can be read.
fn opened<'n>(
    source: &mut Source,
    (world, rulings): (&dyn Files, Rulings),
    named: &'n [Named],
    reach: Reach,
) -> Vec<(&'n Named, Vec<Product>)> {
    let mut seen: BTreeMap<PathBuf, usize> = BTreeMap::new();
    let mut out = Vec::new();
    for one in named {
        let other = match world.beside(&one.way) {
            Ok(other) => other,
            Err(fault) => {
                source.blame(one.span.clone(), fault);
                continue;
            }
        };
        if other.root() == world.root() {
            // What goes with the original may well be its translations.
            if source.is_of_original(&one.span) {
                continue;
            }
            let help = "name another product, or take it out".to_owned();
            source.fault(one.span.clone(), "this is the product itself", Some(help));
            continue;
        }
        let line = source.span(one.span.clone()).line;
        if let Some(first) = seen.insert(other.root().to_owned(), line) {
            let said = format!("{:?} stands in line {first} as well", one.way);
            source.fault(one.span.clone(), said, Some("take one of them out".to_owned()));
            continue;
        }
        if is_set(&*other) {
            let help = "name the products that it is made of".to_owned();
            source.fault(one.span.clone(), format!("{:?} is a set", one.way), Some(help));
            continue;
        }
        match read_to(&*other, rulings, reach) {
            Ok(products) => out.push((one, products)),
            Err(faults) => source.fault(one.span.clone(), broken(&one.way, &faults), Some(mend(&one.way))),
        }
    }
    out
}

/// The way to a file of another product, without a way back: `../a` and `../shop.toml` give `../shop.toml`.
pub fn below(way: &str, file: &str) -> String {
    let (mut way, mut file) = (way.trim_end_matches('/'), file);
    while let (Some(rest), false) = (file.strip_prefix("../"), way.is_empty() || way.ends_with("..")) {
        (way, file) = (way.rsplit_once('/').map_or("", |(above, _)| above), rest);
    }
    if way.is_empty() { file.to_owned() } else { format!("{way}/{file}") }
}

/// What is wrong with another product, in a line.
fn broken(way: &str, faults: &[Fault]) -> String {
    let first = faults.first();
    let file = first.and_then(|f| f.file.as_deref()).unwrap_or(FILE);
    let place = first.and_then(|f| f.span.as_ref()).map_or(String::new(), |s| format!(":{}:{}", s.line, s.column));
    let message = first.map_or("", |f| f.message.lines().next().unwrap_or_default());
    format!("{way:?} cannot be read: {file}{place}: {message}")
}

fn mend(way: &str) -> String {
    format!("`sheafwright check` of {way} says all that is wrong with it")
}

/// Whether a product is a set, as far as its manifest can be read.
pub fn is_set(other: &dyn Files) -> bool {
    let table = other.read_text(FILE).ok().and_then(|text| text.parse::<toml::Table>().ok());
    table.is_some_and(|table| table.contains_key("set"))
}

/// What a set cannot have of its own: everything that makes a file.
fn nothing_of_its_own(source: &mut Source, tables: &Spanned<DeTable>) {
    const FILES: [&str; 7] = ["notebook", "calendar", "cover", "sticker", "sticker-group", "stickers", "goes-with"];
    for key in FILES {
        let Some((word, value)) = tables.get_ref().get_key_value(key) else { continue };
        // What its shop says for all products does not concern it.
        if source.is_shared(&value.span()) {
            continue;
        }
        let help = "give it to one of the members, or to a product of its own that the set then names".to_owned();
        source.fault(word.span(), format!("a set is made of its members, and has no `{key}` of its own"), Some(help));
    }
}

/// The version of a set that states none: the sums of its members' numbers, so that whatever raises one of theirs raises it.
pub fn version<'v>(members: impl Iterator<Item = &'v str>) -> String {
    let mut sums = [0u64; 3];
    for version in members {
        for (sum, number) in sums.iter_mut().zip(version.split('.')) {
            *sum += number.parse::<u64>().unwrap_or_default();
        }
    }
    sums.map(|n| n.to_string()).join(".")
}

/// Licence terms that hold for all: what the members' terms say, or a fault for every choice in which they differ.
fn licence(
    source: &mut Source,
    world: &dyn Files,
    members: &[Member],
    own: base::model::product::Licence,
) -> base::model::product::Licence {
    use base::model::product::Licence;
    let Some(first) = members.first() else { return own };
    type Told = fn(&Licence) -> String;
    let told: [(&str, Told); 4] = [
        ("small-commercial", |l| l.small_commercial.map_or("none".to_owned(), |n| n.to_string())),
        ("classroom-seats", |l| l.classroom_seats.map_or("none".to_owned(), |n| n.to_string())),
        ("refunds", |l| format!("{:?}", l.refunds)),
        ("extra", |l| l.extra.clone().unwrap_or_default()),
    ];
    let where_of = |way: Option<&str>, key: &str| -> Option<String> {
        let key = format!("licence.{key}");
        let found = match way {
            Some(way) => super::origins(&*world.beside(way).ok()?, &key).ok()?,
            None => super::origins(world, &key).ok()?,
        };
        let origin = found.first()?;
        let file = origin.said.file.as_deref().unwrap_or(FILE);
        let file = way.map_or_else(|| file.to_owned(), |way| below(way, file));
        let (line, value) = (origin.said.span.line, origin.value.lines().next().unwrap_or_default().to_owned());
        Some(format!("{file}:{line} says {value}"))
    };
    let silent = |way: &str| format!("{} says nothing", below(way, FILE));
    for (key, of) in told {
        let wanted = of(&first.lead().licence);
        for member in &members[1..] {
            if of(&member.lead().licence) == wanted {
                continue;
            }
            let both = [first, member].map(|m| where_of(Some(&m.way), key).unwrap_or_else(|| silent(&m.way)));
            let said = format!("the members' terms differ in `licence.{key}`: {}, {}", both[0], both[1]);
            let help = "one text of terms holds for all of a set: let them say the same".to_owned();
            let at = source.line(member.place.line, member.place.column);
            source.tell(Fault::new(said).in_file(FILE).at(at).help(help));
        }
        if let Some(mine) = where_of(None, key).filter(|_| of(&own) != wanted) {
            let theirs = where_of(Some(&first.way), key).unwrap_or_else(|| silent(&first.way));
            let said = format!("the set's terms differ from its members' in `licence.{key}`: {mine}, {theirs}");
            source.tell(Fault::new(said).in_file(FILE).help("take it out of the set: it has its members' terms"));
        }
    }
    let mut credits = own.credits;
    for credit in members.iter().flat_map(|m| m.products.iter()).flat_map(|p| &p.licence.credits) {
        if !credits.contains(credit) {
            credits.push(credit.clone());
        }
    }
    Licence { credits, ..first.lead().licence.clone() }
}
