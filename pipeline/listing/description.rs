//! `description.md`: the listing, ready to paste.

use super::facts::BundleFacts;
use super::{counted, date, grouped, in_a_row};
use base::model::product::Refunds;
use base::model::{Fault, Product};
use serde_json::json;
use tera::{Context, Kwargs, State, Tera, TeraResult};

const TEMPLATE: &str = include_str!("description.md.tera");

/// Fills the listing's template with the facts.
pub fn description(product: &Product, facts: &BundleFacts) -> Result<String, Fault> {
    let wrong = |e: tera::Error| {
        Fault::new(format!("the listing's template cannot be filled: {e}"))
            .in_file("pipeline/listing/description.md.tera")
    };
    let mut tera = Tera::default();
    tera.register_filter("counted", |n: i64, kwargs: Kwargs, _: &State| -> TeraResult<String> {
        Ok(counted(n.unsigned_abs() as usize, kwargs.must_get("one")?, kwargs.must_get("many")?))
    });
    tera.register_filter("grouped", |n: i64, _: Kwargs, _: &State| grouped(n.unsigned_abs()));
    tera.register_filter("plain", |text: &str, _: Kwargs, _: &State| escaped(text));
    tera.add_raw_template("description.md", TEMPLATE).map_err(wrong)?;
    let licence = &product.licence;
    let mut context = Context::new();
    context.insert("facts", facts);
    context.insert(
        "product",
        &json!({
            "name": product.name,
            "title": if product.listing.title.is_empty() { &product.name } else { &product.listing.title },
            "summary": product.listing.summary.trim(),
            "version": product.version,
            "released": date(product.released),
            "shop": product.shop.name,
            "contact": product.shop.contact,
            "spread": product.page.spread,
            "delivery": product.delivery.is_some(),
        }),
    );
    let sections = facts.notebook.as_ref().map(|n| in_a_row(&n.section_names)).unwrap_or_default();
    let chapters = facts.notebook.as_ref().map(|n| in_a_row(&n.chapters)).unwrap_or_default();
    context.insert("section_names", &sections);
    context.insert("chapters", &chapters);
    context.insert("zipped", &facts.uploads.iter().any(|f| f.entries.is_some()));
    context.insert(
        "licence",
        &json!({
            "small_commercial": licence.small_commercial,
            "classroom_seats": licence.classroom_seats,
            "refund_days": match licence.refunds { Refunds::Days(n) => Some(n), _ => None },
            "no_refunds": licence.refunds == Refunds::NoneOnceDownloaded,
        }),
    );
    let text = tera.render("description.md", &context).map_err(wrong)?;
    Ok(tidy(&text))
}

/// A name as Markdown shows it: marks that would mean something get a backslash.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if "\\`*_[]<>#".contains(c) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// At most one empty line in a row, none at the ends, no space at the end of a line.
fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut empty = true;
    for line in text.lines().map(str::trim_end) {
        if !(line.is_empty() && empty) {
            out.push_str(line);
            out.push('\n');
        }
        empty = line.is_empty();
    }
    format!("{}\n", out.trim_end())
}
