//! The words that the tool itself puts on pages.

/// The words of a language.
pub struct Words {
    /// Title of the index.
    pub index: &'static str,
    /// Title of the overview.
    pub templates: &'static str,
    /// The templates' own pages, in the outline, where they stand apart from the overview.
    pub template_pages: &'static str,
    /// The cover, in the outline.
    pub cover: &'static str,
    /// The welcome page, in the outline.
    pub welcome: &'static str,
    /// The sections, in the outline.
    pub sections: &'static str,
    /// A section without a name.
    pub section: &'static str,
    /// A page of a section.
    pub page: &'static str,
    /// What stands for so many pages that a list has no line for.
    pub more: &'static str,
    /// What stands before a place in the text that a screen reader says of a link.
    pub go_to: &'static str,
}

/// English.
pub const ENGLISH: Words = Words {
    index: "Index",
    templates: "Templates",
    template_pages: "Template pages",
    cover: "Cover",
    welcome: "Welcome",
    sections: "Sections",
    section: "Section",
    page: "page",
    more: "{} more",
    go_to: "Go to",
};
