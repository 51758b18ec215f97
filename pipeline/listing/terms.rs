//! `licence-terms.txt`: what a buyer may do, in plain words, from the choices in the manifest.
//!
//! Only what the designer chose is said. The text never claims more than the law leaves room for: it calls itself a summary
//! and no legal advice, and puts the law of the buyer's country above itself.

use super::wrap::wrap;
use base::model::Product;
use base::model::assets::{Asset, Right};
use base::model::product::Refunds;
use wording::terms::Terms;
use wording::{Tongue, fill};

/// The licence terms of a product, in its language; fonts are credited that it or any of its variants uses.
pub fn terms(product: &Product, variants: &[&Product]) -> String {
    let (licence, tongue) = (&product.licence, Tongue::of(product));
    let says = &tongue.documents().terms;
    // A date that every reader reads alike, where months have names in many languages.
    let released = if tongue.is_english() { tongue.date(product.released) } else { product.released.to_string() };
    let heading = fill(says.heading, &[("version", &product.version.to_string()), ("released", &released)]);
    let mut out = format!("{}\n{heading}\n{}\n\n{}\n", product.name, product.shop.name, says.summary);
    if !says.governs.is_empty() {
        out.push_str(&format!("\n{}\n", says.governs));
    }
    section(&mut out, says.may, &may(product, &tongue));
    section(&mut out, says.may_not, &may_not(product, says));
    if let Some(refunds) = refunds(licence.refunds, &tongue) {
        out.push_str(&format!("\n{}\n\n{refunds}\n", says.refunds));
    }
    let (credits, others) = (credits(product, variants, says), by_others(product, says));
    if !credits.is_empty() || !others.is_empty() {
        section(&mut out, says.credits, &[credits, others.clone()].concat());
    }
    if !others.is_empty() {
        out.push_str(&format!("\n{}\n", says.others));
    }
    if let Some(extra) = licence.extra.as_deref().map(str::trim).filter(|e| !e.is_empty()) {
        out.push_str(&format!("\n{}\n\n{extra}\n", says.also));
    }
    let (year, shop) = (product.released.year.to_string(), product.shop.name.as_str());
    out.push_str(&format!("\n{}\n", fill(says.rest, &[("year", &year), ("shop", shop)])));
    if let Some(contact) = &product.shop.contact {
        out.push_str(&format!("{}\n", fill(says.write_to, &[("contact", contact)])));
    }
    tongue.directed(&wrap(&out))
}

fn section(out: &mut String, title: &str, lines: &[String]) {
    out.push_str(&format!("\n{title}\n\n"));
    for line in lines {
        out.push_str(&format!("- {line}\n"));
    }
}

/// What a product consists of, in words: `pages, covers and stickers`.
fn parts(product: &Product, tongue: &Tongue, last: &str) -> String {
    let says = &tongue.documents().terms;
    let every = product.parts();
    let stickers = |p: &&Product| !(p.stickers.items.is_empty() && p.stickers.cuts.is_empty());
    let all = [
        (has_pages(product), says.part_pages),
        (every.iter().any(|p| !p.covers.is_empty()), says.part_covers),
        (every.iter().any(stickers), says.part_stickers),
    ];
    let named: Vec<&str> = all.into_iter().filter(|(is, _)| *is).map(|(_, what)| what).collect();
    match named.as_slice() {
        [] => says.part_files.to_owned(),
        [one] => (*one).to_owned(),
        [front @ .., end] => format!("{}{last}{end}", front.join(tongue.documents().start.comma)),
    }
}

/// Whether it, or any member of a set, has a notebook.
fn has_pages(product: &Product) -> bool {
    product.parts().iter().any(|p| p.notebook.is_some())
}

fn may(product: &Product, tongue: &Tongue) -> Vec<String> {
    let (paged, says) = (has_pages(product), &tongue.documents().terms);
    let mut lines = vec![
        says.use_files.to_owned(),
        fill(says.copy_files, &[("parts", &parts(product, tongue, says.and))]),
        if paged { says.print_pages } else { says.print_them }.to_owned(),
        says.backup.to_owned(),
        if paged { says.show_pages } else { says.show_made }.to_owned(),
    ];
    if let Some(n) = product.licence.small_commercial {
        let takes = if paged { says.takes_pages } else { says.takes_stickers };
        let holes = [("parts", parts(product, tongue, says.or)), ("takes", takes.to_owned())];
        let holes = holes.each_ref().map(|(name, value)| (*name, value.as_str()));
        lines.push(tongue.count_with(n as usize, says.small_commercial, &holes));
    }
    if let Some(n) = product.licence.classroom_seats {
        lines.push(tongue.count(n as usize, says.classroom));
    }
    lines
}

fn may_not(product: &Product, says: &Terms) -> Vec<String> {
    let licence = &product.licence;
    let share = if licence.classroom_seats.is_some() { says.share_lessons } else { says.share };
    let mut lines = vec![says.sell, share, says.claim];
    if licence.small_commercial.is_none() {
        lines.insert(1, says.commercial);
    }
    lines.into_iter().map(str::to_owned).collect()
}

fn refunds(choice: Refunds, tongue: &Tongue) -> Option<String> {
    let says = &tongue.documents().terms;
    match choice {
        Refunds::Unstated => None,
        Refunds::NoneOnceDownloaded => Some(says.no_refunds.to_owned()),
        Refunds::Days(n) => Some(tongue.count(n as usize, says.refund_days)),
    }
}

/// Parts of the product by other people, as the ledger has them: title, maker, licence, source, and whether it was changed,
/// which is what the attribution licences ask for (Creative Commons BY 4.0, section 3a).
fn by_others(product: &Product, says: &Terms) -> Vec<String> {
    let mut out = Vec::new();
    for assets in product.parts().iter().map(|p| &p.assets) {
        let used =
            |a: &&Asset| assets.read.iter().any(|path| assets.entry_of(path).is_some_and(|e| std::ptr::eq(e, *a)));
        for asset in assets.entries.iter().filter(used) {
            let line = asset.credit.clone().unwrap_or_else(|| credit(asset, says));
            // Members of a set may use the same thing.
            if !(product.is_set() && out.contains(&line)) {
                out.push(line);
            }
        }
    }
    out
}

fn credit(asset: &Asset, says: &Terms) -> String {
    let mut line = fill(says.by, &[("title", asset.name()), ("maker", &asset.by)]);
    match &asset.right {
        Right::Licence(id) if id.starts_with("LicenseRef-") => {
            line.push_str(&format!(", {}", id.trim_start_matches("LicenseRef-").replace('-', " ")));
        }
        Right::Licence(id) => {
            let first = id.split(' ').next().unwrap_or(id);
            line.push_str(&format!(", {id}, https://spdx.org/licenses/{first}.html"));
        }
        Right::Receipt { .. } => line.push_str(says.by_permission),
    }
    line.push_str(&fill(says.from, &[("source", &asset.source)]));
    if matches!(&asset.right, Right::Licence(id) if id.starts_with("CC-BY")) {
        line.push_str(says.adapted);
    }
    line
}

/// The designer's own credits, then the typefaces that the tool brought along: they are under the SIL Open Font License 1.1,
/// which lets documents embed them and asks for nothing more; naming them is good manners.
fn credits(product: &Product, variants: &[&Product], says: &Terms) -> Vec<String> {
    let mut lines: Vec<String> = product.licence.credits.iter().map(|c| c.trim().to_owned()).collect();
    lines.retain(|c| !c.is_empty());
    let members = product.members.iter().flat_map(|m| m.products.iter());
    let fonts = std::iter::once(product)
        .chain(variants.iter().copied())
        .chain(members)
        .flat_map(|p| p.style.fonts.values().flatten());
    let mut faces: Vec<&str> = fonts.filter(|f| f.built_in).map(|f| f.from.as_str()).collect();
    faces.sort_unstable();
    faces.dedup();
    lines.extend(faces.into_iter().map(|name| fill(says.typeface, &[("name", name)])));
    lines
}
