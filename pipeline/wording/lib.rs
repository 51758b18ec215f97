//! What the tool says to buyers beyond the pages, a table a language: guide, text to read first, licence terms, listing
//! and its pictures, update packs and change notes; and what it calls that which holds the papers, on pages too.
//!
//! A document has one struct of whole sentences, and a file a language beside it; a table that lacks a sentence does not
//! compile. Sentences are whole because languages order words differently: what varies stands in `{holes}`, which are the same in every
//! language (a test holds them), and what is counted has a form for each plural that the language has.

pub mod binding;
pub mod guide;
pub mod listing;
pub mod note;
pub mod pack;
pub mod pictures;
mod sentences;
pub mod start;
pub mod terms;
mod tongue;

#[cfg(test)]
mod tests;

pub use sentences::{Count, fill};
pub use tongue::Tongue;

/// All documents of a language.
#[derive(Debug)]
pub struct Documents {
    /// What holds the papers, by its names.
    pub binding: binding::Bindings,
    /// The how-to guide, and the card with a download link.
    pub guide: guide::Guide,
    /// The text to read first, and what files are called.
    pub start: start::Start,
    /// The licence terms.
    pub terms: terms::Terms,
    /// The description of the listing.
    pub listing: listing::Listing,
    /// What listing pictures say.
    pub pictures: pictures::Pictures,
    /// The notes of an update pack.
    pub pack: pack::Pack,
    /// The change note.
    pub note: note::Note,
}

macro_rules! documents {
    ($name:ident) => {
        Documents {
            binding: binding::$name::TABLE,
            guide: guide::$name::TABLE,
            start: start::$name::TABLE,
            terms: terms::$name::TABLE,
            listing: listing::$name::TABLE,
            pictures: pictures::$name::TABLE,
            pack: pack::$name::TABLE,
            note: note::$name::TABLE,
        }
    };
}

static ENGLISH: Documents = documents!(english);
static GERMAN: Documents = documents!(german);
static FRENCH: Documents = documents!(french);
static SPANISH: Documents = documents!(spanish);
static ITALIAN: Documents = documents!(italian);
static DUTCH: Documents = documents!(dutch);
static SWEDISH: Documents = documents!(swedish);
static POLISH: Documents = documents!(polish);
static JAPANESE: Documents = documents!(japanese);
static ARABIC: Documents = documents!(arabic);
static HEBREW: Documents = documents!(hebrew);
static PORTUGUESE: Documents = documents!(portuguese);
static PORTUGUESE_PORTUGAL: Documents = documents!(portuguese_portugal);

/// The documents of a table of words, by its language.
fn documents(table: &str) -> &'static Documents {
    match table {
        "de" => &GERMAN,
        "es" => &SPANISH,
        "fr" => &FRENCH,
        "it" => &ITALIAN,
        "nl" => &DUTCH,
        "sv" => &SWEDISH,
        "pl" => &POLISH,
        "ja" => &JAPANESE,
        "ar" => &ARABIC,
        "he" => &HEBREW,
        "pt" => &PORTUGUESE,
        "pt-PT" => &PORTUGUESE_PORTUGAL,
        _ => &ENGLISH,
    }
}
