//! The description of the listing.

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
    /// The description of the listing, in Markdown.
    Listing {
        up_to, from_to, get, each_of, each_linked, book_linked, book,
        dated, dated_some, dated_counts, month_year, months_of_year, months_of_years,
        by_variant, by_variant_inner, each_variant, in_file, named, fits,
        stickers, png_one, png_one_clear, png_many, png_many_clear, dpi, longest,
        sheets_pdf, sheets_pdf_png, sheets_pdf_some_png, sheets_either, sheets_png,
        guide, topic_unzip, topic_book, topic_cover, topic_stickers, terms, terms_and_start,
        inside, with_tab, with_tab_divider, each_tab, each_tab_divider, names_differ, names_some, names_none,
        copy_one, copy_each, among, page_size, inches, spread, on_screen, proportion, landscape, portrait, square,
        download, need, need_links, need_book, need_files, need_copy, need_stickers, need_zip,
        not_included, not_posted, not_tablet, not_linked,
        set_together, short, personal, resell, no_refunds, full, questions, version,
        no_pages, no_links, no_sections, no_within, no_templates, no_covers, no_stickers, no_sheets, no_guide, guide_of,
    }
    counts {
        goes_with, set_of, books, linked_books, in_variants, links, sections, within, templates, covers, stickers_n, sheets, further, entries,
        commercial, classroom, refund_days, days, weeks, months, quarters, years,
    }
}
