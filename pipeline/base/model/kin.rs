//! Other products that a product is sold with: sisters, which go with it, and the members of a set.

use super::product::Product;
pub use super::product::{Member, Same, Sister};
use super::variant::Variant;

impl Same {
    /// Every one by its word in the manifest.
    pub const ALL: [(&str, Same); 3] =
        [("page-size", Same::PageSize), ("tabs", Same::Tabs), ("colours", Same::Colours)];
}

impl Member {
    /// The product, or its leading variant.
    pub fn lead(&self) -> &Product {
        // A manifest gives one product at least.
        &self.products[0]
    }

    /// Where a loose file of it lies in the set's bundle: `contents/a.pdf` becomes `contents/tide-log/a.pdf`.
    pub fn place_of(&self, path: &str) -> String {
        path.strip_prefix(CONTENTS).map_or_else(|| path.to_owned(), |inner| format!("{}{inner}", self.folder()))
    }

    /// What a loose file of the set's bundle is called in the member's own; `None` for one that is not the member's.
    pub fn own(&self, path: &str) -> Option<String> {
        path.strip_prefix(&self.folder()).map(|inner| format!("{CONTENTS}{inner}"))
    }

    fn folder(&self) -> String {
        format!("{CONTENTS}{}/", self.lead().slug)
    }
}

/// Folder of the loose files of a bundle.
const CONTENTS: &str = "contents/";

impl Product {
    /// Whether it is made of other products.
    pub fn is_set(&self) -> bool {
        !self.members.is_empty()
    }

    /// The folders of its loose files, each with a title: of its variants, or of the members of a set.
    pub fn folders(&self) -> Vec<Variant> {
        let of = |member: &Member| Variant {
            name: member.lead().slug.clone(),
            title: member.lead().name.clone(),
            choices: Vec::new(),
        };
        if self.is_set() { self.members.iter().map(of).collect() } else { self.variants.all.clone() }
    }

    /// The products that it is made of, leading variants alone; itself where it is no set.
    pub fn parts(&self) -> Vec<&Product> {
        if self.is_set() { self.members.iter().map(Member::lead).collect() } else { vec![self] }
    }
}
