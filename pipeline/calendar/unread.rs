//! A value that could not be read: what is wrong with it, and how to mend it.

/// Why a word or a number of the designer's could not be read. Whoever holds the file adds line and column.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{what}; {help}")]
pub struct Unread {
    /// What is wrong.
    pub what: String,
    /// How to mend it.
    pub help: String,
}

impl Unread {
    /// A value that could not be read.
    pub fn new(what: impl Into<String>, help: impl Into<String>) -> Unread {
        Unread { what: what.into(), help: help.into() }
    }

    /// A word that is not one of `valid`: names the nearest of them, or all when none is near.
    pub fn word<'a>(kind: &str, given: &str, valid: impl IntoIterator<Item = &'a str>) -> Unread {
        Unread::new(format!("`{given}` is no {kind}"), suggest(given, valid))
    }
}

/// Names the word nearest to what was given, or all of them when none is near.
pub(crate) fn suggest<'a>(given: &str, valid: impl IntoIterator<Item = &'a str>) -> String {
    let valid: Vec<&str> = valid.into_iter().collect();
    match nearest(given, valid.iter().copied()) {
        Some(word) => format!("did you mean `{word}`?"),
        None => format!("valid here: {}", valid.join(", ")),
    }
}

/// The word nearest to what was given, if one is near enough to be meant.
pub(crate) fn nearest<'a>(given: &str, valid: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let given: String = given.to_lowercase().chars().take(80).collect();
    let (distance, word) = valid
        .into_iter()
        .map(|word| (strsim::damerau_levenshtein(&given, word), word))
        .min_by_key(|(distance, _)| *distance)?;
    (distance <= 2.max(given.chars().count() / 3)).then_some(word)
}
