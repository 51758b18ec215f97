//! The notes of an update pack, and the text beside its files.

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
    /// The notes of an update pack, in Markdown, and the text beside its files.
    Pack {
        title, title_of, how_to, label_first, label, quoted, page_at, page_labelled,
        in_place, in_place_to, after, before_first, spot,
        front, front_written, where_to, moved_pages, cannot, more,
        cut, leading_in, edges, removed, other_dates, outline, whole,
        slip, all_notes, leave_out, in_pack, new_changed, moved, no_longer,
    }
    counts { pages }
}
