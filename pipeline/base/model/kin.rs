//! Other products that a product is sold with: sisters, which go with it, and the members of a set.

use super::fault::SourceSpan;
use super::product::{PageSetup, Product, Style};
use super::units::Rgb;
use super::variant::Variant;
use std::sync::Arc;

/// A product that goes with this one, as far as anything of this one depends on it.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Sister {
    /// The way to its folder, as the manifest writes it.
    pub way: String,
    /// Where the manifest names it.
    pub place: SourceSpan,
    /// In what the two are said to agree.
    pub same: Vec<Same>,
    /// Its name.
    pub name: String,
    /// Its page.
    pub page: PageSetup,
    /// Its colours and fonts.
    pub style: Style,
    /// The colours of its sections.
    pub sections: Vec<Rgb>,
    /// All of it, for its picture: the variant of the same name as this one, or the leading one.
    #[borsh(skip)]
    pub product: Arc<Product>,
}

/// In what sisters agree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, borsh::BorshSerialize)]
pub enum Same {
    /// Width and height of the pages.
    PageSize,
    /// The side at which tabs lie.
    Tabs,
    /// Paper, ink, rules, ground and accent, and the colours of sections as far as both have some.
    Colours,
}

impl Same {
    /// Every one by its word in the manifest.
    pub const ALL: [(&str, Same); 3] =
        [("page-size", Same::PageSize), ("tabs", Same::Tabs), ("colours", Same::Colours)];
}

/// A product of a set.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Member {
    /// The way to its folder, as the set's manifest writes it.
    pub way: String,
    /// Where the manifest names it.
    pub place: SourceSpan,
    /// The product, or its variants with the leading one first; there is one at least.
    pub products: Arc<Vec<Product>>,
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
