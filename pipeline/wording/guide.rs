//! The how-to guide, and the card with a download link.

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
    /// The guide in Markdown, and the card that takes the place of files which do not fit.
    Guide {
        title, thanks, about_notebook, about_stickers, have, file, what_it_is, variants_folders, variants_listed,
        unpack, unpack_download, unpack_open, unpack_look,
        import, import_share, import_one, follow, follow_finished,
        links_tabs, links_tabs_pictures, links_boxes, links_boxes_pictures, links_entries, links_entries_pictures,
        reading_mode, follow_mode, tap_link, tap_link_or_tab, tap_tab, tap_number, tap_picture, tap_number_or_picture, tap_entry,
        tap_entry_or_picture, turns, follow_back,
        day, day_month, day_number, day_on,
        name_sections, write_names, write_names_some, write_entries, write_entries_some, find_sections, look_for_name, tap_section, tap_own_entry,
        copy_behind_tab, copy_template, copy_from_overview, copy_from_page, copy_page, paste_divider, paste_first, paste_page, copy_move,
        covers, cover_copy, cover_old, cover_write, cover_write_some,
        stickers, sticker_single, sticker_sheet, sticker_kept, stickers_named,
        trouble, trouble_link, trouble_wrong_page, trouble_blurred, trouble_box, trouble_soft, trouble_zip, stuck, end,
        goes_with, set_named, set_parts, document, card, card_button, card_link, card_document,
    }
    counts { import_wait, index_boxes, index_entries, waiting, template_count, covers_open, sticker_count }
}
