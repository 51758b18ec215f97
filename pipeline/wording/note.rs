//! The change note for people who bought an older version.

pub mod arabic;
pub mod dutch;
pub mod english;
pub mod french;
pub mod german;
pub mod hebrew;
pub mod italian;
pub mod japanese;
pub mod polish;
pub mod portuguese;
pub mod portuguese_portugal;
pub mod spanish;
pub mod swedish;

crate::sentences::sentences! {
    /// The change note, in Markdown.
    Note {
        title, title_version, title_in, same, again, written_on, licence, dates_moved, guide, quoted, end,
    }
    counts {
        pages_new, links_new, files_new, pages_redrawn, pictures_changed, pages_moved, links_changed, files_renamed,
        pages_gone, links_gone, files_gone, covers_new, stickers_new, covers_redrawn, stickers_redrawn, covers_gone, stickers_gone,
    }
}
