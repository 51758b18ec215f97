//! `start-here.txt`: the first thing that a buyer reads after unzipping: what each file is, and where to begin.

use super::facts::{BundleFacts, File, VariantFacts};
use super::wrap::wrap;
use base::model::{Kind, Product, variant};
use wording::{Tongue, fill};

/// Folder of the loose files.
const CONTENTS: &str = "contents/";

/// The text to read first, in the language of the product. `facts` need only know the loose files; it may be made before anything
/// is packed.
pub fn start_here(product: &Product, facts: &BundleFacts) -> String {
    let tongue = Tongue::of(product);
    let says = &tongue.documents().start;
    let file = |kind: Kind| facts.contents.iter().find(|f| f.kind == kind);
    let mut out = format!("{}\n{}\n\n", product.name, says.start_here);
    out.push_str(&format!("{}\n\n", fill(says.thanks, &[("shop", &product.shop.name)])));
    let mut steps = vec![says.unpack.to_owned()];
    if facts.variants.len() > 1 {
        let folder = |v: &VariantFacts| match v.folder.as_str() {
            "" => String::new(),
            folder => format!(" ({folder})"),
        };
        let all: Vec<String> = facts.variants.iter().map(|v| format!("{}{}", v.title, folder(v))).collect();
        steps.push(fill(says.choose, &[("list", &all.join(says.semicolon))]));
    }
    if let Some(notebook) = facts.notebook.as_ref().filter(|_| facts.variants.iter().any(|v| v.own_notebook)) {
        steps.push(fill(says.open_variant, &[("file", &notebook.file)]));
    } else if let Some(notebook) = file(Kind::Notebook).filter(|_| !product.is_set()) {
        steps.push(fill(says.open, &[("file", &notebook.name)]));
    }
    for notebook in facts.members.iter().filter_map(|member| member.facts.notebook.as_ref()) {
        steps.push(fill(says.open, &[("file", &notebook.file)]));
    }
    if facts.has_links() {
        steps.push(says.links.to_owned());
    }
    if let Some(guide) = file(Kind::Guide) {
        let several = facts.contents.iter().filter(|f| f.kind == Kind::Guide).count() > 1;
        steps.push(fill(if several { says.guide_variant } else { says.guide }, &[("file", &guide.name)]));
    }
    for (i, step) in steps.iter().enumerate() {
        out.push_str(&format!("{}. {step}\n", tongue.number(i as u64 + 1)));
    }
    out.push_str(&format!("\n{}\n", says.what_each_is));
    for Block { title, lines } in blocks(product, facts, &tongue) {
        out.push('\n');
        if !title.is_empty() {
            out.push_str(&format!("{title}\n"));
        }
        for line in lines {
            out.push_str(&format!("- {line}\n"));
        }
    }
    if let Some(card) = file(Kind::DeliveryCard) {
        out.push_str(&format!("\n{}\n", fill(says.card, &[("file", &card.name)])));
    }
    if let Some(contact) = &product.shop.contact {
        out.push_str(&format!("\n{}\n", fill(says.contact, &[("contact", contact)])));
    }
    let released = tongue.date(product.released);
    let version = fill(says.version, &[("version", &product.version.to_string()), ("released", &released)]);
    out.push_str(&format!("\n{version}\n"));
    tongue.directed(&wrap(&out))
}

/// Files that are told together.
struct Block {
    /// The folders that they lie in; empty for what lies in none.
    title: String,
    /// A line a file.
    lines: Vec<String>,
}

/// The files of all variants, then those of each. Variants whose folders hold the same kinds and numbers of files share a
/// block: eight times the same lines tell nobody which folder is his.
fn blocks(product: &Product, facts: &BundleFacts, tongue: &Tongue) -> Vec<Block> {
    let says = &tongue.documents().start;
    let all = &product.folders();
    let of = |v: Option<usize>| -> Vec<&File> {
        facts.contents.iter().filter(|f| variant::of(all, &format!("{CONTENTS}{}", f.name)) == v).collect()
    };
    let mut blocks = vec![Block { title: String::new(), lines: lines(&of(None), &|f| f.name.clone(), tongue) }];
    // A file of a variant by what it is called in all.
    let common =
        |f: &File| variant::common(all, &format!("{CONTENTS}{}", f.name)).trim_start_matches(CONTENTS).to_owned();
    let mut alike: Vec<(Vec<String>, Vec<usize>)> = Vec::new();
    for i in 0..all.len() {
        let told = lines(&of(Some(i)), &common, tongue);
        if told.is_empty() {
            continue;
        }
        match alike.iter_mut().find(|(known, _)| *known == told) {
            Some((_, variants)) => variants.push(i),
            None => alike.push((told, vec![i])),
        }
    }
    for (told, variants) in alike {
        let folder = |i: &usize| format!("{}/ ({})", all[*i].name, all[*i].title);
        blocks.push(match variants.as_slice() {
            [one] => {
                let own = |f: &File| f.name.split_once('/').map_or(f.name.clone(), |(_, name)| name.to_owned());
                let title = fill(says.in_folder, &[("folder", &folder(one))]);
                Block { title, lines: lines(&of(Some(*one)), &own, tongue) }
            }
            several => {
                let folders: Vec<String> = several.iter().map(folder).collect();
                let title = fill(says.in_folders, &[("folders", &folders.join(says.semicolon))]);
                Block { title, lines: told }
            }
        });
    }
    blocks.retain(|b| !b.lines.is_empty());
    blocks
}

/// A line a file; the stickers share one, and so do sheets that are pictures. `called` is what a file goes by.
fn lines(files: &[&File], called: &dyn Fn(&File) -> String, tongue: &Tongue) -> Vec<String> {
    let says = &tongue.documents().start;
    let mut out = Vec::new();
    for file in files {
        let pages = file.pages.map(|n| tongue.count(n, says.pages));
        let in_pages = pages.map(|p| format!("{}{p}", says.comma)).unwrap_or_default();
        let what = match file.kind {
            Kind::Notebook => format!("{}{in_pages}", says.is_notebook),
            Kind::Covers => tongue.count(file.pages.unwrap_or_default(), says.cover_line),
            Kind::Guide => format!("{}{in_pages}", says.is_guide),
            Kind::Licence => says.is_licence.to_owned(),
            Kind::DeliveryCard => says.is_card.to_owned(),
            // The pictures share a line.
            Kind::Sheet if file.pages.is_none() => continue,
            Kind::Sheet => fill(says.is_sheets, &[("pages", &in_pages)]),
            Kind::Sticker | Kind::StartHere | Kind::Upload | Kind::Listing | Kind::Picture => continue,
        };
        out.push(format!("{}{}{what}", called(file), says.colon));
    }
    out.extend(sheets(files, called, tongue));
    out.extend(stickers(files, called, tongue));
    out
}

/// The folder of a file, as a line begins.
fn folder(file: &File, called: &dyn Fn(&File) -> String, tongue: &Tongue) -> String {
    let colon = tongue.documents().start.colon;
    called(file).rsplit_once('/').map_or(String::new(), |(folder, _)| format!("{folder}{colon}"))
}

fn sheets(files: &[&File], called: &dyn Fn(&File) -> String, tongue: &Tongue) -> Option<String> {
    let says = &tongue.documents().start;
    let all: Vec<&&File> = files.iter().filter(|f| f.kind == Kind::Sheet && f.pages.is_none()).collect();
    let pdf = files.iter().any(|f| f.kind == Kind::Sheet && f.pages.is_some());
    let place = folder(all.first()?, called, tongue);
    let pictures = tongue.count(all.len(), says.sheet_pictures);
    Some(format!("{place}{}", if pdf { fill(says.same_sheets, &[("pictures", &pictures)]) } else { pictures }))
}

fn stickers(files: &[&File], called: &dyn Fn(&File) -> String, tongue: &Tongue) -> Option<String> {
    let says = &tongue.documents().start;
    let all: Vec<&&File> = files.iter().filter(|f| f.kind == Kind::Sticker).collect();
    let first = all.first()?;
    let dpi = first.dpi.filter(|d| all.iter().all(|f| f.dpi == Some(*d)));
    let dpi = dpi.map(|d| fill(says.dpi, &[("n", &tongue.number(d))])).unwrap_or_default();
    let what = tongue.count_with(all.len(), says.sticker_pictures, &[("dpi", &dpi)]);
    Some(format!("{}{what}", folder(first, called, tongue)))
}
