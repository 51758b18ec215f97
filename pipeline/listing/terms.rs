//! `licence-terms.txt`: what a buyer may do, in plain words, from the choices in the manifest.
//!
//! Only what the designer chose is said. The text never claims more than the law leaves room for: it calls itself a summary
//! and no legal advice, and puts the law of the buyer's country above itself.

use super::wrap::wrap;
use super::{counted, date};
use base::model::Product;
use base::model::assets::{Asset, Right};
use base::model::product::Refunds;

/// The licence terms of a product; fonts are credited that it or any of its variants uses.
pub fn terms(product: &Product, variants: &[&Product]) -> String {
    let licence = &product.licence;
    let mut out = format!(
        "{}\nLicence terms for version {}, {}\n{}\n\n",
        product.name,
        product.version,
        date(product.released),
        product.shop.name
    );
    out.push_str(
        "This is a plain-language summary of what you may do with these files. It is not legal advice. The law of \
         the place where you live, above all the law that protects you as a consumer, stands above it: no line here \
         takes away a right that you have by law.\n",
    );
    section(&mut out, "You may", &may(product));
    section(&mut out, "You may not", &may_not(product));
    if let Some(refunds) = refunds(licence.refunds) {
        out.push_str(&format!("\nRefunds\n\n{refunds}\n"));
    }
    let (credits, others) = (credits(product, variants), by_others(product));
    if !credits.is_empty() || !others.is_empty() {
        section(&mut out, "Credits", &[credits, others.clone()].concat());
    }
    if !others.is_empty() {
        out.push_str(
            "\nParts by other people stay under the licences that are named beside them. Where such a licence gives \
             you more than these terms do, you have that right in the part itself; where it asks something of you, \
             the part comes with that condition. The licence texts govern, and the law above them.\n",
        );
    }
    if let Some(extra) = licence.extra.as_deref().map(str::trim).filter(|e| !e.is_empty()) {
        out.push_str(&format!("\nAlso\n\n{extra}\n"));
    }
    out.push_str(&format!(
        "\nCopyright {} {}. What these terms do not allow stays with the shop: please ask first.\n",
        product.released.year, product.shop.name
    ));
    if let Some(contact) = &product.shop.contact {
        out.push_str(&format!("Write to: {contact}\n"));
    }
    wrap(&out)
}

fn section(out: &mut String, title: &str, lines: &[String]) {
    out.push_str(&format!("\n{title}\n\n"));
    for line in lines {
        out.push_str(&format!("- {line}\n"));
    }
}

/// What a product consists of, in words: `pages, covers and stickers`.
fn parts(product: &Product, last: &str) -> String {
    let stickers = !(product.stickers.items.is_empty() && product.stickers.cuts.is_empty());
    let all = [(product.notebook.is_some(), "pages"), (!product.covers.is_empty(), "covers"), (stickers, "stickers")];
    let named: Vec<&str> = all.into_iter().filter(|(is, _)| *is).map(|(_, what)| what).collect();
    match named.as_slice() {
        [] => "the files".to_owned(),
        [one] => (*one).to_owned(),
        [front @ .., end] => format!("{} {last} {end}", front.join(", ")),
    }
}

fn may(product: &Product) -> Vec<String> {
    let paged = product.notebook.is_some();
    let mut lines = vec![
        "use the files yourself, for private purposes, on every device of yours, for as long as you like;".to_owned(),
        format!("copy, move and change {} for your own use;", parts(product, "and")),
        format!("print {} for yourself;", if paged { "pages" } else { "them" }),
        "keep copies as a backup;".to_owned(),
        if paged {
            "show other people your own filled-in pages.".to_owned()
        } else {
            "show other people the pages that you made with them.".to_owned()
        },
    ];
    if let Some(n) = product.licence.small_commercial {
        lines.push(format!(
            "make things for sale in which the {} are part of your own work, up to {} in all, as long as nobody can \
             take the files themselves, or {}, out of them.",
            parts(product, "or"),
            counted(n as usize, "sold item", "sold items"),
            if paged { "blank pages and single stickers" } else { "single stickers" }
        ));
    }
    if let Some(n) = product.licence.classroom_seats {
        lines.push(format!(
            "use the files in lessons that you give yourself, with copies for up to {} there.",
            counted(n as usize, "learner", "learners")
        ));
    }
    lines
}

fn may_not(product: &Product) -> Vec<String> {
    let licence = &product.licence;
    let mut share = "share them, lend them, give them away, or put them where others can download them".to_owned();
    if licence.classroom_seats.is_some() {
        share.push_str(", beyond the copies for lessons that are named above");
    }
    let mut lines = vec![
        "sell the files, whole or in part, as they are or changed;".to_owned(),
        format!("{share};"),
        "say that you made them, or register any part of them as a trade mark or design.".to_owned(),
    ];
    if licence.small_commercial.is_none() {
        lines.insert(1, "use them in anything that you sell, or for a client;".to_owned());
    }
    lines
}

fn refunds(choice: Refunds) -> Option<String> {
    match choice {
        Refunds::Unstated => None,
        Refunds::NoneOnceDownloaded => Some(
            "A file cannot be given back. Once the files have been downloaded there are no refunds, as far as the \
             law of your country allows that. Your rights when a file is faulty or not as described stay as they are."
                .to_owned(),
        ),
        Refunds::Days(n) => Some(format!(
            "You can ask for your money back within {} of your purchase. Rights beyond that, when a file is faulty or \
             not as described, stay as they are.",
            counted(n as usize, "day", "days")
        )),
    }
}

/// Parts of the product by other people, as the ledger has them: title, maker, licence, source, and whether it was changed,
/// which is what the attribution licences ask for (Creative Commons BY 4.0, section 3a).
fn by_others(product: &Product) -> Vec<String> {
    let assets = &product.assets;
    let used = |a: &&Asset| assets.read.iter().any(|path| assets.entry_of(path).is_some_and(|e| std::ptr::eq(e, *a)));
    assets.entries.iter().filter(used).map(|asset| asset.credit.clone().unwrap_or_else(|| credit(asset))).collect()
}

fn credit(asset: &Asset) -> String {
    let mut line = format!("“{}” by {}", asset.name(), asset.by);
    match &asset.right {
        Right::Licence(id) if id.starts_with("LicenseRef-") => {
            line.push_str(&format!(", {}", id.trim_start_matches("LicenseRef-").replace('-', " ")));
        }
        Right::Licence(id) => {
            let first = id.split(' ').next().unwrap_or(id);
            line.push_str(&format!(", {id}, https://spdx.org/licenses/{first}.html"));
        }
        Right::Receipt { .. } => line.push_str(", used by permission"),
    }
    line.push_str(&format!("; from {}", asset.source));
    if matches!(&asset.right, Right::Licence(id) if id.starts_with("CC-BY")) {
        line.push_str("; adapted for this product");
    }
    line
}

/// The designer's own credits, then the typefaces that the tool brought along: they are under the SIL Open Font License 1.1,
/// which lets documents embed them and asks for nothing more; naming them is good manners.
fn credits(product: &Product, variants: &[&Product]) -> Vec<String> {
    let mut lines: Vec<String> = product.licence.credits.iter().map(|c| c.trim().to_owned()).collect();
    lines.retain(|c| !c.is_empty());
    let fonts = std::iter::once(&product).chain(variants).flat_map(|p| p.style.fonts.values().flatten());
    let mut faces: Vec<&str> = fonts.filter(|f| f.built_in).map(|f| f.from.as_str()).collect();
    faces.sort_unstable();
    faces.dedup();
    lines.extend(
        faces
            .into_iter()
            .map(|name| format!("Typeface: {name}, SIL Open Font License 1.1, https://openfontlicense.org")),
    );
    lines
}
