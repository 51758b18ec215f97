//! The texts that go with a bundle: the listing that the designer pastes into the shop, the list of files, the licence terms
//! and the text to read first.
//!
//! Every number in the listing is read off the finished files (`facts`), never taken from the plan; so a listing
//! cannot promise a page that is not there.

mod dated;
pub mod description;
pub mod facts;
pub mod files;
mod page_size;
mod read;
pub mod start;
pub mod terms;
pub mod wrap;

pub use facts::BundleFacts;
pub use start::start_here;
pub use terms::terms;

use base::model::{Artifact, Kind, Product};

/// The texts of `listing/`: description, list of files, tags.
pub fn texts(product: &Product, facts: &BundleFacts) -> Vec<Artifact> {
    let artifact = |name: &str, text: String| Artifact {
        path: format!("listing/{name}"),
        kind: Kind::Listing,
        bytes: text.into(),
    };
    vec![
        artifact("description.md", description::description(product, facts)),
        artifact("files.txt", files::files(product, facts)),
        artifact("tags.txt", tags(product)),
    ]
}

/// The tags, one a line.
fn tags(product: &Product) -> String {
    product.listing.tags.iter().map(|tag| format!("{}\n", tag.trim())).collect()
}

/// A whole number with commas between thousands: `2,816`.
pub fn grouped(n: u64) -> String {
    let digits = n.to_string();
    let mut out = String::with_capacity(digits.len() + digits.len() / 3);
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests;
