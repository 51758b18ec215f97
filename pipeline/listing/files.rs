//! `files.txt`: every file with its size, what it is and what is in it.

use super::facts::{BundleFacts, File};
use super::wrap::wrap;
use super::{counted, date, grouped};
use base::model::Product;
use base::model::units::byte_size;

/// The list of files, for the shop's page and for the designer's own records.
pub fn files(product: &Product, facts: &BundleFacts) -> String {
    let mut out = format!("{}, version {}, {}\n", product.name, product.version, date(product.released));
    out.push_str(&product.shop.name);
    out.push('\n');
    block(&mut out, "Files to download", &facts.uploads);
    block(&mut out, "Files after unzipping", &facts.contents);
    wrap(&out)
}

fn block(out: &mut String, title: &str, files: &[File]) {
    if files.is_empty() {
        return;
    }
    let all: u64 = files.iter().map(|f| f.bytes).sum();
    let sum = format!(
        "{title}: {}, {} bytes{}",
        counted(files.len(), "file", "files"),
        grouped(all),
        if all >= 1_000 { format!(" ({})", byte_size(all)) } else { String::new() }
    );
    out.push_str(&format!("\n{sum}\n"));
    for file in files {
        out.push_str(&format!("\n{}\n    {}\n", file.name, file.figures()));
        for entry in file.entries.iter().flatten() {
            out.push_str(&format!("    - {entry}\n"));
        }
    }
}
