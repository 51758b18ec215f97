//! The manual: one page that holds all of itself, to be searched and read without a net.
//!
//! Its frame is `page.html.tera`, its looks `style.css`, its behaviour `search.js`; without a script it shows everything.

use super::{Place, chapters, of, parameters, places, sample, takes, takes_within};
use base::keys::Table;
use base::model::Fault;
use base64::Engine;
use judge::validate;
use serde_json::{Value, json};
use tera::{Context, Tera};

const TEMPLATE: &str = include_str!("page.html.tera");
const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("search.js");

/// A picture of something that can be looked up.
pub struct Drawn {
    /// What it is: `ruling`, `dated ruling`, `motif`, `cover`, `finish`, `typeface`, `look` or `layout`.
    pub kind: &'static str,
    /// Its name.
    pub name: String,
    /// The kind of its bytes.
    pub mime: &'static str,
    /// The picture.
    pub bytes: Vec<u8>,
}

/// Writes the page. `commands` are the names of commands with what they do.
///
/// # Errors
/// When the page's template cannot be filled.
pub fn page(commands: &[(String, String)], pictures: &[Drawn]) -> Result<String, Fault> {
    let mut context = Context::new();
    let commands: Vec<Value> = commands.iter().map(|(name, about)| json!({ "name": name, "about": about })).collect();
    let parts = [
        ("chapters", chapters::all().into()),
        ("commands", Value::from(commands)),
        ("tables", tables().into()),
        ("shelves", shelves(pictures).into()),
        ("checks", checks().into()),
        ("version", env!("CARGO_PKG_VERSION").into()),
        ("style", STYLE.into()),
        ("script", SCRIPT.into()),
    ];
    for (name, value) in parts {
        context.insert(name, &value);
    }
    let wrong = |e: tera::Error| Fault::new(format!("the manual cannot be written: {e}"));
    let mut tera = Tera::new();
    tera.add_raw_template("page.html", TEMPLATE).map_err(wrong)?;
    tera.render("page.html", &context).map_err(wrong)
}

/// The keys, by the table that they stand in. A table that stands at several places is told once.
fn tables() -> Vec<Value> {
    let all = places();
    let mut out = vec![table("product.toml", &manifest::keys(), "", &all)];
    if let Some(text) = out[0]["text"].as_str().map(|text| format!("{text} {}", shared())) {
        out[0]["text"] = text.into();
    }
    let mut told: Vec<&str> = Vec::new();
    for place in &all {
        for inner in place.tables() {
            if told.contains(&inner.name) {
                continue;
            }
            told.push(inner.name);
            let same: Vec<&Place> = all.iter().filter(|p| p.tables().iter().any(|t| t.name == inner.name)).collect();
            let names: Vec<&str> = same.iter().map(|p| p.path.as_str()).collect();
            out.push(table(&names.join(", "), &inner, &place.path, &all));
        }
    }
    out
}

fn table(name: &str, table: &Table, path: &str, all: &[Place]) -> Value {
    let full = |key: &str| if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
    let keys: Vec<Value> = table
        .keys
        .iter()
        .map(|key| {
            let (told, path) = (key.told(), full(key.name));
            let place = all.iter().find(|p| p.path == path);
            let heading = place.map_or("", |p| p.heading.as_str());
            let words: Vec<Value> = place
                .map_or(Vec::new(), Place::words)
                .iter()
                .map(|w| json!({ "word": w.word, "text": marked(w.doc) }))
                .collect();
            let takes = match key.of {
                Some(what) => format!("the name of a {what}"),
                None => takes(&(key.shape)()),
            };
            let example = told.example.as_ref().map(|e| format!("{heading}\n{e}").trim().to_owned());
            json!({
                "name": key.name, "path": path, "text": marked(&told.text), "takes": takes, "range": told.range,
                "default": told.default.as_deref().map(marked), "example": example, "words": words,
            })
        })
        .collect();
    json!({ "name": name, "text": marked(table.doc), "keys": keys })
}

/// The sentence on the shop's file.
fn shared() -> String {
    let names: Vec<String> = manifest::shop_keys().keys.iter().map(|key| format!("`{}`", key.name)).collect();
    marked(&format!(
        "What products of a shop share can stand in a `shop.toml`, in a folder above them: {}. What a product says goes before it, \
         key by key; the lists `assets.own`, `assets.item` and `lower` are added up. Files that it names lie in its own folder.",
        names.join(", ")
    ))
}

/// A text for the page, with what stands between grave accents as code.
fn marked(text: &str) -> String {
    let plain = text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('\n', " ");
    let parts = plain.split('`').enumerate();
    parts.map(|(i, part)| if i % 2 == 1 { format!("<code>{part}</code>") } else { part.to_owned() }).collect()
}

/// Everything that has a picture, shelf by shelf.
fn shelves(pictures: &[Drawn]) -> Vec<Value> {
    let covers = sample::covers().into_iter().map(|(key, name)| (name, format!("{key} = \"{name}\"")));
    let finishes = sample::finishes().into_iter().map(|(key, name)| (name, format!("{key} = \"{name}\"")));
    let dated = rulings::ALL.dated.iter().map(|e| (e.entry.name, e.entry.what.to_owned()));
    let all = [
        (
            "ruling",
            "Rulings",
            "Page designs for templates: ruling = \"…\", with its parameters under with.",
            of("ruling"),
        ),
        ("dated ruling", "Dated rulings", "Page designs for dated pages.", dated.collect()),
        ("motif", "Motifs", "Stickers that the tool brings along: motif = \"…\".", of("motif")),
        ("cover", "Covers", "Designs and patterns of covers.", covers.collect()),
        (
            "finish",
            "Finishes",
            "What is done to the boards of covers; the grain of materials is not shown here.",
            finishes.collect(),
        ),
        (
            "typeface",
            "Typefaces",
            "Fonts that come along, under the SIL Open Font License 1.1: heading = \"…\", label = \"…\" under [style.fonts].",
            of("typeface"),
        ),
        (
            "look",
            "Looks",
            "Wholes of colours, typefaces and manners: look = \"…\" under [style]. Boards are shown without their grain.",
            of("look"),
        ),
        ("layout", "Layouts", "Layouts of listing pictures: layout = \"…\".", of("layout")),
    ];
    all.into_iter()
        .map(|(kind, title, about, names)| {
            let things: Vec<Value> = names.iter().map(|(name, what)| thing(kind, name, what, pictures)).collect();
            json!({ "id": kind.replace(' ', "-"), "title": title, "about": about, "things": things })
        })
        .collect()
}

fn thing(kind: &str, name: &str, what: &str, pictures: &[Drawn]) -> Value {
    let picture = pictures.iter().find(|d| d.kind == kind && d.name == name).map(|drawn| {
        let bytes = base64::engine::general_purpose::STANDARD.encode(&drawn.bytes);
        format!("data:{};base64,{bytes}", drawn.mime)
    });
    let dated = kind == "dated ruling";
    let table = if dated || kind == "ruling" { parameters(name, dated).into_iter().next() } else { None };
    let keys: Vec<Value> = table
        .iter()
        .flat_map(|t| &t.keys)
        .map(|key| {
            let told = key.told();
            json!({ "name": key.name, "text": marked(&told.text), "takes": takes_within(key, &told) })
        })
        .collect();
    json!({ "name": name, "what": what, "picture": picture, "keys": keys })
}

fn checks() -> Vec<Value> {
    let one = |c: &base::model::Check| {
        json!({
            "name": c.name, "looks_for": c.looks_for, "why": c.why, "mend": c.mend, "severity": c.severity.name(),
        })
    };
    validate::CATALOGUE.iter().map(one).collect()
}
