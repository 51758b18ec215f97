//! `files.txt`: every file with its size, what it is and what is in it.

use super::facts::{BundleFacts, File};
use super::wrap::wrap;
use base::model::Product;
use wording::{Tongue, fill};

/// The list of files, for the shop's page and for the designer's own records.
pub fn files(product: &Product, facts: &BundleFacts) -> String {
    let tongue = Tongue::of(product);
    let says = &tongue.documents().start;
    let (version, released) = (product.version.to_string(), tongue.date(product.released));
    let head = [("product", product.name.as_str()), ("version", &version), ("released", &released)];
    let mut out = format!("{}\n{}\n", fill(says.files_version, &head), product.shop.name);
    block(&mut out, says.files_download, &facts.uploads, &tongue);
    block(&mut out, says.files_unzipped, &facts.contents, &tongue);
    tongue.directed(&wrap(&out))
}

fn block(out: &mut String, title: &str, files: &[File], tongue: &Tongue) {
    if files.is_empty() {
        return;
    }
    let says = &tongue.documents().start;
    let all: u64 = files.iter().map(|f| f.bytes).sum();
    let size = if all >= 1_000 { format!(" ({})", tongue.size(all)) } else { String::new() };
    let (count, bytes) = (tongue.count(files.len(), says.files), tongue.count(all as usize, says.bytes));
    out.push_str(&format!("\n{title}{}{count}{}{bytes}{size}\n", says.colon, says.comma));
    for file in files {
        out.push_str(&format!("\n{}\n    {}\n", file.name, file.figures(tongue)));
        for entry in file.entries.iter().flatten() {
            out.push_str(&format!("    - {entry}\n"));
        }
    }
}
