//! `start-here.txt`: the first thing that a buyer reads after unzipping: what each file is, and where to begin.

use super::facts::{BundleFacts, File, VariantFacts};
use super::wrap::wrap;
use super::{counted, date, grouped};
use base::model::{Kind, Product, variant};

/// Folder of the loose files.
const CONTENTS: &str = "contents/";

/// The text to read first. `facts` need only know the loose files; it may be made before anything is packed.
pub fn start_here(product: &Product, facts: &BundleFacts) -> String {
    let file = |kind: Kind| facts.contents.iter().find(|f| f.kind == kind);
    let mut out = format!("{}\nStart here\n\n", product.name);
    out.push_str(&format!("Thank you for buying this from {}. Here is how to begin.\n\n", product.shop.name));
    let mut steps = vec![
        "If these files came as a zip archive, unpack it first: touch the archive and hold, or open it with a double \
         click, and choose to extract or uncompress."
            .to_owned(),
    ];
    if facts.variants.len() > 1 {
        let folder = |v: &VariantFacts| match v.folder.as_str() {
            "" => String::new(),
            folder => format!(" ({folder})"),
        };
        let all: Vec<String> = facts.variants.iter().map(|v| format!("{}{}", v.title, folder(v))).collect();
        steps.push(format!(
            "Choose your variant; you need only one of them: {}. Files outside of those folders go with all of them.",
            all.join("; ")
        ));
    }
    if let Some(notebook) = facts.notebook.as_ref().filter(|_| facts.variants.iter().any(|v| v.own_notebook)) {
        steps.push(format!(
            "Open the notebook of that variant, such as {}, in your reader app: choose import or open in the app, or \
             share the file to the app.",
            notebook.file
        ));
    } else if let Some(notebook) = file(Kind::Notebook) {
        steps.push(format!(
            "Open {} in your reader app: choose import or open in the app, or share the file to the app.",
            notebook.name
        ));
    }
    if facts.has_links() {
        steps.push(
            "To follow links, switch your reader app to reading (view only): most apps follow a link only while the \
             pen is put away. To write, switch back."
                .to_owned(),
        );
    }
    if let Some(guide) = file(Kind::Guide) {
        let several = facts.contents.iter().filter(|f| f.kind == Kind::Guide).count() > 1;
        let name =
            if several { format!("the guide of that variant, such as {}", guide.name) } else { guide.name.clone() };
        steps.push(format!("Read {name}: it shows every step with more room than there is here."));
    }
    for (i, step) in steps.iter().enumerate() {
        out.push_str(&format!("{}. {step}\n", i + 1));
    }
    out.push_str("\nWhat each file is\n");
    for Block { title, lines } in blocks(product, facts) {
        out.push('\n');
        if !title.is_empty() {
            out.push_str(&format!("{title}\n"));
        }
        for line in lines {
            out.push_str(&format!("- {line}\n"));
        }
    }
    if let Some(card) = file(Kind::DeliveryCard) {
        out.push_str(&format!(
            "\nSome files were too large for the shop. {} has the link from which you get them.\n",
            card.name
        ));
    }
    if let Some(contact) = &product.shop.contact {
        out.push_str(&format!("\nIf something does not work, write to: {contact}\n"));
    }
    out.push_str(&format!("\nVersion {}, {}\n", product.version, date(product.released)));
    wrap(&out)
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
fn blocks(product: &Product, facts: &BundleFacts) -> Vec<Block> {
    let all = &product.variants.all;
    let of = |v: Option<usize>| -> Vec<&File> {
        facts.contents.iter().filter(|f| variant::of(all, &format!("{CONTENTS}{}", f.name)) == v).collect()
    };
    let mut blocks = vec![Block { title: String::new(), lines: lines(&of(None), &|f| f.name.clone()) }];
    // A file of a variant by what it is called in all.
    let common =
        |f: &File| variant::common(all, &format!("{CONTENTS}{}", f.name)).trim_start_matches(CONTENTS).to_owned();
    let mut alike: Vec<(Vec<String>, Vec<usize>)> = Vec::new();
    for i in 0..all.len() {
        let told = lines(&of(Some(i)), &common);
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
                Block { title: format!("In {}", folder(one)), lines: lines(&of(Some(*one)), &own) }
            }
            several => {
                let folders: Vec<String> = several.iter().map(folder).collect();
                let title = format!(
                    "In each of these folders, where the names of PDF files end in that of the folder: {}",
                    folders.join("; ")
                );
                Block { title, lines: told }
            }
        });
    }
    blocks.retain(|b| !b.lines.is_empty());
    blocks
}

/// A line a file; the stickers share one, and so do sheets that are pictures. `called` is what a file goes by.
fn lines(files: &[&File], called: &dyn Fn(&File) -> String) -> Vec<String> {
    let mut out = Vec::new();
    for file in files {
        let name = called(file);
        let pages = file.pages.map(|n| counted(n, "page", "pages"));
        let in_pages = pages.map(|p| format!(", {p}")).unwrap_or_default();
        match file.kind {
            Kind::Notebook => out.push(format!("{name}: the notebook{in_pages}")),
            Kind::Covers => {
                let n = file.pages.unwrap_or_default();
                out.push(format!("{name}: {}, to put in place of the first page", counted(n, "cover", "covers")));
            }
            Kind::Guide => out.push(format!("{name}: how to use all this, step by step{in_pages}")),
            Kind::Licence => out.push(format!("{name}: what you may do with the files")),
            Kind::DeliveryCard => out.push(format!("{name}: a link to files that were too large for the shop")),
            // The pictures share a line.
            Kind::Sheet if file.pages.is_none() => {}
            Kind::Sheet => out.push(format!("{name}: the stickers on sheets{in_pages}, to pick from with the lasso")),
            Kind::Sticker | Kind::StartHere | Kind::Upload | Kind::Listing | Kind::Picture => {}
        }
    }
    out.extend(sheets(files, called));
    out.extend(stickers(files, called));
    out
}

/// The folder of a file, as a line begins.
fn folder(file: &File, called: &dyn Fn(&File) -> String) -> String {
    called(file).rsplit_once('/').map_or(String::new(), |(folder, _)| format!("{folder}: "))
}

fn sheets(files: &[&File], called: &dyn Fn(&File) -> String) -> Option<String> {
    let all: Vec<&&File> = files.iter().filter(|f| f.kind == Kind::Sheet && f.pages.is_none()).collect();
    let pdf = files.iter().any(|f| f.kind == Kind::Sheet && f.pages.is_some());
    let place = folder(all.first()?, called);
    let again = if pdf { "the same sheets as " } else { "" };
    Some(format!("{place}{again}{} on a clear ground", counted(all.len(), "picture", "pictures")))
}

fn stickers(files: &[&File], called: &dyn Fn(&File) -> String) -> Option<String> {
    let all: Vec<&&File> = files.iter().filter(|f| f.kind == Kind::Sticker).collect();
    let first = all.first()?;
    let place = folder(first, called);
    let dpi = first.dpi.filter(|d| all.iter().all(|f| f.dpi == Some(*d)));
    let dpi = dpi.map(|d| format!(" at {} dpi", grouped(d))).unwrap_or_default();
    let pictures = if all.len() == 1 { "a PNG picture" } else { "a PNG picture each" };
    Some(format!("{place}{}, {pictures}{dpi}", counted(all.len(), "sticker", "stickers")))
}
