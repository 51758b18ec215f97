//! The catalogue: all products of a shop at a glance, as a page for the browser, as a table and as JSON.
//!
//! What it says of a bundle is read from the bundle's record and its texts; this room is told, and looks at no file.

use base::model::Fault;
use base::model::units::byte_size;
use serde::Serialize;
use serde_json::Value;
use tera::{Context, Tera};

const TEMPLATE: &str = include_str!("page.html.tera");
const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("sift.js");

/// How a product stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// The bundle of the version that its manifest states lies there.
    Built,
    /// Another version lies there than its manifest states.
    Behind,
    /// No bundle of it lies there.
    Unbuilt,
    /// Its manifest or its bundle cannot be read.
    Unreadable,
}

/// A product. Lengths are points, sizes bytes; what is not known is none.
#[derive(Clone, Debug, Serialize)]
pub struct Entry {
    /// Its folder, as the command line has it.
    pub path: String,
    /// Its slug.
    pub product: String,
    /// What it is called.
    pub name: String,
    /// The shop that its bundle names.
    pub shop: String,
    /// How it stands.
    pub state: State,
    /// Why it cannot be read.
    pub fault: Option<String>,
    /// The version that its manifest states.
    pub version: String,
    /// The version of the bundle that lies there; all that follows is about that bundle.
    pub lies: Option<String>,
    /// Its date of release, as YYYY-MM-DD.
    pub released: Option<String>,
    /// The newest version that is sealed, with the date on which it was released.
    pub sealed: Option<(String, String)>,
    /// Days since that date; below 0 where it is still to come.
    pub days: Option<i32>,
    /// What changed since the version that buyers have, or else since the newest one before.
    pub changed: Option<String>,
    /// What of it is counted.
    #[serde(flatten)]
    pub counts: Counts,
    /// Title of the listing.
    pub title: String,
    /// Its tags.
    pub tags: Vec<String>,
    /// The whole description, as it is pasted into the shop.
    pub description: String,
    /// Paths of the listing pictures, from the folder of the catalogue.
    pub pictures: Vec<String>,
    /// The bundle's folder, from the folder of the catalogue.
    pub folder: Option<String>,
    /// The first listing picture, small, as a data address; without one the cover, or the first sticker.
    #[serde(skip)]
    pub shown: Option<String>,
}

/// What is counted in a record.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Counts {
    /// Titles of the variants.
    pub variants: Vec<String>,
    /// Files to upload, and their bytes.
    pub uploads: usize,
    /// See there.
    pub upload_bytes: u64,
    /// Pages of the notebook, the fewest and the most of all variants.
    pub pages: Option<(u64, u64)>,
    /// Its links, the fewest and the most of all variants.
    pub links: Option<(u64, u64)>,
    /// Stickers in a variant, the fewest and the most.
    pub stickers: Option<(u64, u64)>,
    /// What the checks found: errors, warnings, notes.
    pub findings: (usize, usize, usize),
}

impl Counts {
    /// Of a bundle's record.
    pub fn of(record: &Value) -> Counts {
        let none = Vec::new();
        let list = |key: &str| record[key].as_array().unwrap_or(&none);
        let variants: Vec<(&str, &str)> =
            list("variants").iter().filter_map(|v| Some((v["name"].as_str()?, v["title"].as_str()?))).collect();
        let files = list("files");
        let of_kind = |kind: &'static str| files.iter().filter(move |f| f["kind"] == kind);
        let inside = |f: &&Value| f["path"].as_str().is_some_and(|p| p.starts_with("contents/"));
        // What no variant has of its own is in each of them.
        let in_each = |count: &dyn Fn(&mut dyn Iterator<Item = &Value>) -> u64, kind: &'static str| {
            let names: Vec<Option<&str>> = match variants.is_empty() {
                true => vec![None],
                false => variants.iter().map(|v| Some(v.0)).collect(),
            };
            let each: Vec<u64> = names
                .iter()
                .map(|name| {
                    let mine = |f: &&Value| f["variant"].is_null() || f["variant"].as_str() == *name;
                    count(&mut of_kind(kind).filter(inside).filter(mine))
                })
                .collect();
            let most = each.iter().copied().max().filter(|most| *most > 0)?;
            Some((each.iter().copied().min().unwrap_or(most), most))
        };
        let sum = |fact: &'static str| {
            move |files: &mut dyn Iterator<Item = &Value>| files.filter_map(|f| f["facts"][fact].as_u64()).sum::<u64>()
        };
        let uploads: Vec<&Value> =
            files.iter().filter(|f| f["path"].as_str().is_some_and(|p| p.starts_with("upload/"))).collect();
        let found = |severity: &str| list("findings").iter().filter(|f| f["severity"] == severity).count();
        Counts {
            uploads: uploads.len(),
            upload_bytes: uploads.iter().filter_map(|f| f["size"].as_u64()).sum(),
            pages: in_each(&sum("pages"), "notebook"),
            links: in_each(&sum("links"), "notebook"),
            stickers: in_each(&|files| files.count() as u64, "sticker"),
            findings: (found("error"), found("warning"), found("note")),
            variants: variants.iter().map(|v| v.1.to_owned()).collect(),
        }
    }
}

/// A number, or the least and the most.
fn range(of: Option<(u64, u64)>) -> String {
    match of {
        None => String::new(),
        Some((least, most)) if least == most => least.to_string(),
        Some((least, most)) => format!("{least} to {most}"),
    }
}

/// The page for the browser: it holds all of itself but proofs and bundles, to which it leads.
///
/// # Errors
/// When the page's template cannot be filled.
pub fn page(entries: &[Entry], made: &str) -> Result<String, Fault> {
    let mut context = Context::new();
    let shop = entries.iter().map(|e| e.shop.as_str()).find(|shop| !shop.is_empty()).unwrap_or("The shop");
    let cards: Vec<Value> = entries.iter().map(card).collect();
    context.insert("cards", &cards);
    for (name, text) in [("shop", shop), ("made", made), ("style", STYLE), ("script", SCRIPT)] {
        context.insert(name, text);
    }
    let wrong = |e: tera::Error| Fault::new(format!("the catalogue cannot be written: {e}"));
    let mut tera = Tera::new();
    tera.add_raw_template("page.html", TEMPLATE).map_err(wrong)?;
    tera.render("page.html", &context).map_err(wrong)
}

/// What the page shows of a product.
fn card(entry: &Entry) -> Value {
    let counts = &entry.counts;
    let (errors, warnings, notes) = counts.findings;
    let mut rows: Vec<(&str, String)> = Vec::new();
    let mut row = |name, text: String| {
        if !text.is_empty() {
            rows.push((name, text));
        }
    };
    row(
        "version",
        match (&entry.lies, entry.state) {
            (Some(lies), State::Behind) => format!("{lies} lies there, {} is in the manifest", entry.version),
            (None, _) => entry.version.clone(),
            (Some(lies), _) => lies.clone(),
        },
    );
    row("released", entry.released.clone().unwrap_or_default());
    row(
        "buyers have",
        match (&entry.sealed, entry.days) {
            (Some((version, date)), Some(days)) if days < 0 => format!("{version}, to be released on {date}"),
            (Some((version, _)), Some(0)) => format!("{version}, released today"),
            (Some((version, _)), Some(1)) => format!("{version}, released yesterday"),
            (Some((version, _)), Some(days)) => format!("{version}, released {days} days ago"),
            (Some((version, _)), None) => version.clone(),
            (None, _) => String::new(),
        },
    );
    row("variants", if counts.variants.is_empty() { String::new() } else { counts.variants.len().to_string() });
    row("pages", range(counts.pages));
    row("links", range(counts.links));
    row("stickers", range(counts.stickers));
    if entry.lies.is_some() {
        let files = if counts.uploads == 1 { "file" } else { "files" };
        row("to upload", format!("{} {files}, {}", counts.uploads, byte_size(counts.upload_bytes)));
        row(
            "checks",
            match (errors, warnings, notes) {
                (0, 0, 0) => "nothing found".to_owned(),
                _ => [(errors, "errors"), (warnings, "warnings"), (notes, "notes")]
                    .iter()
                    .filter(|(n, _)| *n > 0)
                    .map(|(n, word)| format!("{n} {}", if *n == 1 { word.trim_end_matches('s') } else { word }))
                    .collect::<Vec<_>>()
                    .join(", "),
            },
        );
    }
    row("changed", entry.changed.clone().unwrap_or_default());
    serde_json::json!({
        "entry": entry,
        "rows": rows,
        "picture": entry.shown,
        "tags": entry.tags.join(", "),
        "state": match entry.state {
            State::Built => "built",
            State::Behind => "behind its manifest",
            State::Unbuilt => "not built yet",
            State::Unreadable => "cannot be read",
        },
        "findings": errors * 1_000_000 + warnings * 1_000 + notes,
    })
}

/// The head of the table.
const COLUMNS: [&str; 26] = [
    "product",
    "name",
    "shop",
    "path",
    "state",
    "version",
    "bundle",
    "released",
    "sealed",
    "sealed on",
    "days since",
    "changed",
    "variants",
    "uploads",
    "upload bytes",
    "pages",
    "links",
    "stickers",
    "errors",
    "warnings",
    "notes",
    "title",
    "tags",
    "description",
    "pictures",
    "folder",
];

/// The table (RFC 4180, UTF-8), one line a product; several values of a field stand on lines of their own within it.
///
/// # Errors
/// None that memory gives.
pub fn table(entries: &[Entry]) -> Result<Vec<u8>, Fault> {
    let wrong = |e: String| Fault::new(format!("the catalogue's table cannot be written: {e}"));
    let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    out.write_record(COLUMNS).map_err(|e| wrong(e.to_string()))?;
    for entry in entries {
        out.write_record(fields(entry)).map_err(|e| wrong(e.to_string()))?;
    }
    out.into_inner().map_err(|e| wrong(e.to_string()))
}

fn fields(entry: &Entry) -> [String; COLUMNS.len()] {
    let counts = &entry.counts;
    let text = |value: &Option<String>| value.clone().unwrap_or_default();
    let sealed = entry.sealed.clone().unwrap_or_default();
    let number = |n: usize| if entry.lies.is_some() { n.to_string() } else { String::new() };
    let state = serde_json::to_value(entry.state).ok();
    [
        entry.product.clone(),
        entry.name.clone(),
        entry.shop.clone(),
        entry.path.clone(),
        state.as_ref().and_then(Value::as_str).unwrap_or_default().to_owned(),
        entry.version.clone(),
        text(&entry.lies),
        text(&entry.released),
        sealed.0,
        sealed.1,
        entry.days.map(|d| d.to_string()).unwrap_or_default(),
        text(&entry.changed),
        counts.variants.join("\n"),
        number(counts.uploads),
        number(counts.upload_bytes as usize),
        range(counts.pages),
        range(counts.links),
        range(counts.stickers),
        number(counts.findings.0),
        number(counts.findings.1),
        number(counts.findings.2),
        entry.title.clone(),
        entry.tags.join("\n"),
        entry.description.clone(),
        entry.pictures.join("\n"),
        text(&entry.folder),
    ]
}
