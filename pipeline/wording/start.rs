//! The text to read first, and what files are called in all texts.

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
    /// The text to read first, what files are called, and how the language joins words and writes sizes.
    Start {
        colon, comma, semicolon, between, stop, and, or, kilobytes, megabytes, gigabytes,
        start_here, thanks, unpack, choose, open_variant, open, links, guide, guide_variant,
        what_each_is, in_folder, in_folders, card, contact, version,
        is_notebook, is_guide, is_licence, is_card, is_sheets, same_sheets, dpi,
        row_notebook, row_covers, row_sheet,
        notebook, covers, sticker, sheet, how_to, licence, text_first, card_file, upload, listing, picture, archive, file,
        files_version, files_download, files_unzipped,
    }
    counts { bytes, pages, files, cover_line, sheet_pictures, sticker_pictures, row_sheets, row_stickers }
}
