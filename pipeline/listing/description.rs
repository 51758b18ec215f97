//! `description.md`: the listing, ready to paste.

use super::facts::{BundleFacts, CoverFacts, NotebookFacts, VariantFacts};
use super::{counted, date, grouped, in_a_row};
use base::model::product::Refunds;
use base::model::{Fault, Product};
use serde_json::{Value, json};
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
    // The least and the most of a figure: `3 covers`, `3 to 5 covers`, `up to 5 covers`.
    tera.register_filter("span", |span: Vec<u64>, kwargs: Kwargs, _: &State| -> TeraResult<String> {
        let (least, most) = (span.iter().min().copied().unwrap_or(0), span.iter().max().copied().unwrap_or(0));
        let counted = counted(most as usize, kwargs.must_get("one")?, kwargs.must_get("many")?);
        Ok(match least {
            _ if least == most => counted,
            0 => format!("up to {counted}"),
            _ => format!("{} to {counted}", grouped(least)),
        })
    });
    tera.register_filter("grouped", |n: i64, _: Kwargs, _: &State| grouped(n.unsigned_abs()));
    tera.register_filter("plain", |text: &str, _: Kwargs, _: &State| escaped(text));
    tera.add_raw_template("description.md", TEMPLATE).map_err(wrong)?;
    let licence = &product.licence;
    let mut context = Context::new();
    context.insert("facts", facts);
    context.insert("dated", facts.dated.as_ref().map_or("", |dated| &dated.sentence));
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
    let variants = &facts.variants;
    let same = |of: &dyn Fn(&NotebookFacts) -> String| {
        let all: Vec<Option<String>> = variants.iter().map(|v| v.notebook.as_ref().map(of)).collect();
        all.windows(2).all(|two| two[0] == two[1])
    };
    context.insert("own_notebooks", &variants.iter().any(|v| v.own_notebook));
    context.insert("same_pages", &same(&|n| n.pages.to_string()));
    context.insert("same_links", &same(&|n| n.links.to_string()));
    context.insert("names_differ", &!same(&|n| n.section_names.join("\n")));
    context.insert("templates_differ", &!same(&|n| n.templates.join("\n")));
    context.insert("details", &variants.iter().map(|v| details(v, facts)).collect::<Vec<_>>());
    let covers: Vec<&CoverFacts> = match variants.is_empty() {
        true => facts.covers.iter().collect(),
        false => variants.iter().filter_map(|v| v.covers.as_ref()).collect(),
    };
    let same_names = covers.windows(2).all(|two| two[0].names == two[1].names);
    context.insert("cover_names", covers.first().filter(|_| same_names).map_or("", |c| c.names.as_str()));
    context.insert("covers_fit", &covers.iter().all(|c| c.fits));
    let books: Vec<(String, NotebookFacts)> = match variants.is_empty() {
        true => facts.notebook.iter().map(|n| (String::new(), n.clone())).collect(),
        false => variants.iter().filter_map(|v| Some((v.title.clone(), v.notebook.clone()?))).collect(),
    };
    context.insert("templates", &templates(&books));
    context.insert("chapters", &chapters);
    let divided = product.notebook.as_ref().is_none_or(|n| n.parts.dividers);
    context.insert("dividers", &divided);
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

/// What a variant has in figures, as far as the variants differ in them.
fn details(v: &VariantFacts, facts: &BundleFacts) -> String {
    let spans = &facts.spans;
    let book = |figure: fn(&NotebookFacts) -> usize| v.notebook.as_ref().map_or(0, figure);
    let mut words: Vec<String> = [
        (spans.pages, book(|n| n.pages), "page", "pages"),
        (spans.links, book(|n| n.links), "link", "links"),
        (spans.sections, book(|n| n.sections), "section", "sections"),
        (spans.within, book(|n| n.within), "tab within a section", "tabs within sections"),
        (spans.templates, book(|n| n.templates.len()), "page template", "page templates"),
        (spans.covers, v.covers.as_ref().map_or(0, |c| c.count), "cover", "covers"),
        (spans.stickers, v.stickers, "sticker", "stickers"),
        (spans.sheets, v.sheets, "sticker sheet", "sticker sheets"),
    ]
    .into_iter()
    .filter(|(span, ..)| span[0] != span[1])
    .map(|(_, n, one, many)| match n {
        0 => format!("no {many}"),
        n => counted(n, one, many),
    })
    .collect();
    if spans.guide[0] != spans.guide[1] {
        words.push(match v.guide {
            0 => "no guide".to_owned(),
            n => format!("a guide of {}", counted(n, "page", "pages")),
        });
    }
    if let (false, Some(page)) = (facts.same_page, &v.page) {
        words.push(page.mm.clone());
    }
    words.join(", ")
}

/// Every template once, with the variants that have it where not all do.
fn templates(books: &[(String, NotebookFacts)]) -> Vec<Value> {
    let mut names: Vec<&String> = Vec::new();
    for name in books.iter().flat_map(|(_, n)| &n.templates) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let of = |name: &String| {
        let having: Vec<&str> =
            books.iter().filter(|(_, n)| n.templates.contains(name)).map(|(title, _)| title.as_str()).collect();
        let some = if having.len() < books.len() { having.join("; ") } else { String::new() };
        json!({ "name": name, "in": some })
    };
    names.into_iter().map(of).collect()
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
