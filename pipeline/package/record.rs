//! `bundle.json`: the record of a bundle, from which a later version can be told from this one.
//!
//! Version 1 of its form. More keys may come; those that are here stay.

use base::model::assets::{Asset, Right};
use base::model::facts::{Inspected, Leads, PdfFacts, PngFacts};
use base::model::finished::Finished;
use base::model::kin::Member;
use base::model::product::Refunds;
use base::model::units::trim_number;
use base::model::variant;
use base::model::{Facts, Kind, Product, Size};
use serde_json::{Map, Number, Value, json};
use std::collections::BTreeMap;

/// Version of the record's form.
const FORMAT: u32 = 1;

/// Writes the record. `files` are listed in the order of their paths, with digests by path; `inputs` are path and
/// digest of everything that was read; `products` are the variants, the leading one first, or the product alone; `findings` are what the checks say of them, with the checks that
/// the manifest lowers, if there are some. The text ends with a line feed.
pub fn bundle(
    products: &[&Product],
    files: &[Inspected],
    digests: &BTreeMap<String, String>,
    inputs: &[(String, String)],
    (findings, lowered): (Value, Option<Value>),
) -> String {
    let Some(product) = products.first().copied() else { return String::new() };
    let mut sorted: Vec<&Inspected> = files.iter().collect();
    sorted.sort_by(|a, b| a.path.cmp(&b.path));
    let finished = product.notebook.as_ref().and_then(|n| n.finished.as_deref());
    let files: Vec<Value> = sorted
        .into_iter()
        .map(|f| {
            let mut entry = json!({
                "path": f.path,
                "kind": f.kind,
                "size": f.size,
                "sha256": digests.get(&f.path),
                "facts": facts(&f.facts),
            });
            if let Some(variant) = variant::of(&product.variants.all, &f.path) {
                entry["variant"] = product.variants.all[variant].name.clone().into();
            }
            if let (Some(Kind::Notebook), Some(finished)) = (f.kind, finished) {
                entry["from"] = from(finished, digests.get(&f.path));
            }
            entry
        })
        .collect();
    let inputs = listed(inputs);
    let mut record = json!({
        "format": FORMAT,
        "product": product.slug,
        "name": product.name,
        "version": product.version,
        "released": product.released.to_string(),
        "language": product.language,
        "shop": product.shop.name,
        "limits": product.limits,
        "names": names(product),
        "licence": licence(product),
        "tool": concat!(env!("CARGO_PKG_NAME"), " ", env!("CARGO_PKG_VERSION")),
        "files": files,
        "inputs": inputs,
        "findings": findings,
    });
    if product.is_set() {
        let member = |m: &Member| {
            let lead = m.lead();
            let mut entry = json!({
                "product": lead.slug,
                "name": lead.name,
                "version": lead.version,
                "folder": m.place_of("contents/"),
            });
            if !lead.variants.all.is_empty() {
                entry["variants"] = json!(lead.variants.all);
            }
            entry
        };
        record["members"] = product.members.iter().map(member).collect();
    }
    if !product.variants.all.is_empty() {
        record["variants"] = json!(product.variants.all);
    }
    // Where the variants differ in their names, those of each stand beside those of the leading one.
    let each: Vec<Value> = products.iter().map(|p| names(p)).collect();
    if each.iter().any(|names| *names != each[0]) {
        record["names"]["each"] = each.into();
    }
    if let Some(lowered) = lowered {
        record["lowered"] = lowered;
    }
    // A later version is judged by the rule that it states itself; the usual one goes without saying.
    if product.versions.stated {
        record["versions"] = product.versions.to_json();
    }
    // A value that was built here, with text for keys, can always be written.
    let mut text = serde_json::to_string_pretty(&record).unwrap_or_default();
    text.push('\n');
    text
}

fn listed(inputs: &[(String, String)]) -> Vec<Value> {
    let mut inputs: Vec<&(String, String)> = inputs.iter().collect();
    inputs.sort();
    inputs.into_iter().map(|(path, sha256)| json!({ "path": path, "sha256": sha256 })).collect()
}

/// A record that [`bundle`] wrote, with other inputs; `None` for any other text.
///
/// The rest is kept letter for letter: a number that is read and written again might come out otherwise.
pub fn with_inputs(record: &str, inputs: &[(String, String)]) -> Option<String> {
    // A line feed within a text is escaped, so that this is the key of the record itself.
    const KEY: &str = "\n  \"inputs\": ";
    let (before, after) = record.split_once(KEY)?;
    let after = after.strip_prefix("[]").or_else(|| after.split_once("\n  ]").map(|(_, after)| after))?;
    // A list of texts can always be written.
    let list = serde_json::to_string_pretty(&listed(inputs)).ok()?.replace('\n', "\n  ");
    Some(format!("{before}{KEY}{list}{after}"))
}

/// What the notebook's sections and templates are called, so that a description can be held against it later. A section
/// without a name has an empty one.
fn names(product: &Product) -> Value {
    let notebook = product.notebook.as_ref();
    let sections: Vec<&str> = notebook.iter().flat_map(|n| &n.sections).map(|s| s.name.as_str()).collect();
    let templates: Vec<&str> = notebook.iter().flat_map(|n| n.offered()).map(|(_, t)| t.name.as_str()).collect();
    json!({ "sections": sections, "templates": templates })
}

/// The choices that the licence terms are written from: a later version can be told apart from this one by them, however the
/// terms are worded by then.
fn licence(product: &Product) -> Value {
    let (licence, every) = (&product.licence, product.parts());
    let stickers = |p: &&Product| !(p.stickers.items.is_empty() && p.stickers.cuts.is_empty());
    let any = |of: &dyn Fn(&&Product) -> bool| every.iter().any(of);
    let parts = [
        (any(&|p| p.notebook.is_some()), "pages"),
        (any(&|p| !p.covers.is_empty()), "covers"),
        (any(&stickers), "stickers"),
    ];
    let used = every.iter().flat_map(|p| {
        let assets = &p.assets;
        let read =
            move |a: &&Asset| assets.read.iter().any(|path| assets.entry_of(path).is_some_and(|e| std::ptr::eq(e, *a)));
        assets.entries.iter().filter(read)
    });
    let by_others = |a: &Asset| {
        let right = if let Right::Licence(id) = &a.right { id.as_str() } else { "permission" };
        json!([a.name(), a.by, right])
    };
    json!({
        "of": parts.into_iter().filter(|(is, _)| *is).map(|(_, what)| what).collect::<Vec<_>>(),
        "small_commercial": licence.small_commercial,
        "classroom_seats": licence.classroom_seats,
        "refunds": match licence.refunds {
            Refunds::Unstated => Value::Null,
            Refunds::NoneOnceDownloaded => json!("none-once-downloaded"),
            Refunds::Days(days) => json!(days),
        },
        "extra": licence.extra,
        "credits": licence.credits,
        "by_others": used.map(by_others).collect::<Vec<_>>(),
    })
}

/// The finished file that a notebook was taken from, with its own numbers, which are part of those of the notebook.
fn from(finished: &Finished, digest: Option<&String>) -> Value {
    let sha256 = base::checksum::sha256_hex(&finished.bytes);
    json!({
        "path": finished.file,
        "unchanged": digest == Some(&sha256),
        "sha256": sha256,
        "facts": of_pdf(&finished.facts),
    })
}

/// The facts of a file that are worth keeping; sizes of pages in points.
fn facts(facts: &Facts) -> Value {
    match facts {
        Facts::Pdf(pdf) => of_pdf(pdf),
        Facts::Png(png) => of_png(png),
        Facts::Zip(zip) => json!({ "entries": zip.entries }),
        Facts::Text(text) => json!({ "lines": text.lines, "characters": text.characters }),
        Facts::Picture(picture) => json!(picture),
        Facts::Unreadable(why) => json!({ "unreadable": why }),
    }
}

fn of_pdf(pdf: &PdfFacts) -> Value {
    let links = || pdf.pages.iter().flat_map(|p| &p.links);
    let mut sizes: Vec<Size> = Vec::new();
    for page in &pdf.pages {
        if !sizes.contains(&page.shown()) {
            sizes.push(page.shown());
        }
    }
    let mut out = Map::new();
    out.insert("version".into(), json!(pdf.version));
    out.insert("title".into(), json!(pdf.title));
    out.insert("language".into(), json!(pdf.language));
    out.insert("pages".into(), json!(pdf.pages.len()));
    let sizes: Vec<Value> = sizes.into_iter().map(|s| json!([number(s.w), number(s.h)])).collect();
    out.insert("page_sizes".into(), json!(sizes));
    out.insert("links".into(), json!(links().count()));
    out.insert("links_within".into(), json!(links().filter(|l| matches!(l.leads, Leads::Page { .. })).count()));
    out.insert("links_outside".into(), json!(links().filter(|l| matches!(l.leads, Leads::Uri(_))).count()));
    out.insert("outline".into(), json!(pdf.outline.len()));
    out.insert("fonts".into(), json!(pdf.fonts));
    Value::Object(out)
}

fn of_png(png: &PngFacts) -> Value {
    json!({
        "width": png.width,
        "height": png.height,
        "dpi": png.dpi().map(number),
        "bit_depth": png.bit_depth,
        "colour_type": png.colour_type,
        "transparent": png.has_transparency,
    })
}

/// A number with at most three decimals, so that 595.2 is written as it reads; whole ones without a point.
fn number(value: f64) -> Number {
    trim_number(value, 3).parse().unwrap_or_else(|_| Number::from(0))
}
