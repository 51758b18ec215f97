//! The licence terms: every caution of the English text stands in each.
//!
//! In another language the text says that it is the one that counts, so that nobody need compare translations.

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
    /// The licence terms.
    Terms {
        heading, summary, governs, may, may_not, refunds, credits, also,
        use_files, copy_files, print_pages, print_them, backup, show_pages, show_made,
        part_pages, part_covers, part_stickers, part_files, and, or, takes_pages, takes_stickers,
        sell, commercial, share, share_lessons, claim, no_refunds, others, rest, write_to,
        by, by_permission, from, adapted, typeface,
    }
    counts { small_commercial, classroom, refund_days }
}
