//! `start-here.txt`: the first thing that a buyer reads after unzipping: what each file is, and where to begin.

use super::facts::{BundleFacts, File, VariantFacts};
use super::wrap::wrap;
use super::{counted, date, grouped};
use base::model::{Kind, Product};

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
        let folder = |v: &VariantFacts| v.file.split_once('/').map_or(String::new(), |(f, _)| format!(" ({f}/)"));
        let all: Vec<String> = facts.variants.iter().map(|v| format!("{}{}", v.title, folder(v))).collect();
        steps.push(format!(
            "Choose your variant; you need only one of them: {}. Files outside of those folders go with all of them.",
            all.join("; ")
        ));
    }
    if let Some(notebook) = facts.notebook.as_ref().filter(|_| facts.variants.iter().any(|v| v.notebook.is_some())) {
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
    if file(Kind::Notebook).is_some() {
        steps.push(
            "To follow links, switch your reader app to reading (view only): most apps follow a link only while the \
             pen is put away. To write, switch back."
                .to_owned(),
        );
    }
    if let Some(guide) = file(Kind::Guide) {
        steps.push(format!("Read {}: it shows every step with more room than there is here.", guide.name));
    }
    for (i, step) in steps.iter().enumerate() {
        out.push_str(&format!("{}. {step}\n", i + 1));
    }
    out.push_str("\nWhat each file is\n\n");
    for line in lines(facts) {
        out.push_str(&format!("- {line}\n"));
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

/// A line a file; the stickers share one.
fn lines(facts: &BundleFacts) -> Vec<String> {
    let mut out = Vec::new();
    for file in &facts.contents {
        let pages = file.pages.map(|n| counted(n, "page", "pages"));
        let in_pages = pages.map(|p| format!(", {p}")).unwrap_or_default();
        match file.kind {
            Kind::Notebook => out.push(format!("{}: the notebook{in_pages}", file.name)),
            Kind::Covers => {
                let n = file.pages.unwrap_or_default();
                out.push(format!(
                    "{}: {}, to put in place of the first page",
                    file.name,
                    counted(n, "cover", "covers")
                ));
            }
            Kind::Guide => out.push(format!("{}: how to use all this, step by step{in_pages}", file.name)),
            Kind::Licence => out.push(format!("{}: what you may do with the files", file.name)),
            Kind::DeliveryCard => out.push(format!("{}: a link to files that were too large for the shop", file.name)),
            // The pictures share a line.
            Kind::Sheet if file.pages.is_none() => {}
            Kind::Sheet => {
                out.push(format!("{}: the stickers on sheets{in_pages}, to pick from with the lasso", file.name))
            }
            Kind::Sticker | Kind::StartHere | Kind::Upload | Kind::Listing | Kind::Picture => {}
        }
    }
    out.extend(sheets(facts));
    out.extend(stickers(facts));
    out
}

fn sheets(facts: &BundleFacts) -> Option<String> {
    let all = || facts.contents.iter().filter(|f| f.kind == Kind::Sheet && f.pages.is_none());
    let first = all().next()?;
    let folder = first.name.rsplit_once('/').map_or("", |(folder, _)| folder);
    let place = if folder.is_empty() { String::new() } else { format!("{folder}: ") };
    let again = if facts.sheets > 0 { "the same sheets as " } else { "" };
    Some(format!("{place}{again}{} on a clear ground", counted(all().count(), "picture", "pictures")))
}

fn stickers(facts: &BundleFacts) -> Option<String> {
    let all: Vec<&File> = facts.contents.iter().filter(|f| f.kind == Kind::Sticker).collect();
    let first = all.first()?;
    let folder = first.name.rsplit_once('/').map_or("", |(folder, _)| folder);
    let place = if folder.is_empty() { String::new() } else { format!("{folder}: ") };
    let dpi = first.dpi.filter(|d| all.iter().all(|f| f.dpi == Some(*d)));
    let dpi = dpi.map(|d| format!(" at {} dpi", grouped(d))).unwrap_or_default();
    let pictures = if all.len() == 1 { "a PNG picture" } else { "a PNG picture each" };
    Some(format!("{place}{}, {pictures}{dpi}", counted(all.len(), "sticker", "stickers")))
}
