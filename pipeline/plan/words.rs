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
    /// Above the lines for the owner's name.
    pub belongs_to: &'static str,
    /// On a small map of the notebook: the tabs.
    pub tabs: &'static str,
    /// The coil.
    pub coil: &'static str,
    /// The title at the foot.
    pub title: &'static str,
    /// The four little squares at the foot.
    pub squares: &'static str,
    /// Above lines for pages that are worth finding again, and above the column for where they are.
    pub found_again: &'static str,
    /// The head of that column.
    pub where_it_is: &'static str,
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
    belongs_to: "This notebook belongs to",
    tabs: "Tabs",
    coil: "Rings",
    title: "Title",
    squares: "Squares",
    found_again: "Worth finding again",
    where_it_is: "Where",
    go_to: "Go to",
};
