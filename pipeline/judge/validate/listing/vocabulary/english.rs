//! English.

use super::Vocabulary;
use crate::validate::listing::spelled::Compound;
use crate::validate::listing::truth::Role;
use crate::validate::listing::words::{Bound, Noun};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "en",
    nouns: &[(Noun::Pages, &["pages"]), (Noun::Links, &["links", "hyperlinks"]), (Noun::Covers, &["covers"]), (Noun::Stickers, &["stickers"]), (Noun::Sheets, &["sheets"]), (Noun::Sections, &["sections"]), (Noun::Templates, &["templates"]), (Noun::Files, &["files"]), (Noun::Dpi, &["dpi", "ppi"])],
    hyphened: &[(Noun::Pages, &["page"]), (Noun::Covers, &["cover"]), (Noun::Stickers, &["sticker"]), (Noun::Sections, &["section"])],
    pairs: &[],
    bounds: &[(Bound::MoreThan, &["more than", "over"]), (Bound::AtLeast, &["at least"]), (Bound::LessThan, &["less than", "fewer than", "under", "below"]), (Bound::AtMost, &["up to", "at most", "no more than"]), (Bound::About, &["about", "around", "nearly", "almost", "roughly", "some", "ca", "~"])],
    generic: &["alternate", "alternative", "extra", "additional", "more", "digital", "png", "pdf", "individual", "transparent", "different", "matching", "unique", "hyperlinked", "linked", "page", "ready-made", "notebook", "planner", "undated", "internal", "clickable", "coloured", "colored", "pre-cut", "full", "sticker", "single", "separate", "whole"],
    other: &["of", "the", "a", "an", "for", "with", "to", "on", "in", "and", "or", "your", "from", "per", "who", "that", "which", "at", "as", "by", "is", "are", "than", "times", "years", "days", "weeks", "months"],
    each: &["each", "per", "every", "apiece"],
    range: &["to", "–", "and"],
    together: &["in all", "together", "altogether", "in total"],
    documents: &[(Role::Notebook, &["notebook", "planner"]), (Role::Covers, &["covers"]), (Role::Guide, &["guide"]), (Role::Sheet, &["sticker sheet", "sticker sheets"])],
    within: &["in the ", "in your ", "of the "],
    small: ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"],
    tens: ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"],
    compound: Compound::Hyphen,
    round: &[("dozen", 12), ("hundred", 100)],
    comma: false,
    spaced: false,
    behind: false,
    joined: None,
    by: &["by"],
    units: [&["in", "inch", "inches"], &["mm"], &["cm"], &["pt", "points"], &["px", "pixel", "pixels"]],
    bytes: [&["kb", "kilobytes"], &["mb", "megabytes", "megabyte"], &["gb", "gigabytes"]],
    longest: &["longest side", "long side", "longest edge"],
    proportions: &["proportion", "ratio", "aspect"],
    of_pages: &["page", "pages", "size", "format", "landscape", "portrait"],
    limits: &["free", "space", "limit", "allow", "storage"],
    told: [&["download", "digital", "nothing is shipped"], &[" mm", " pt", " px", " in ", "inch", "page size", " cm"], &["licence", "license", "terms", "personal use"]],
};
