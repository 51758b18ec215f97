//! The words that the tool itself puts on pages, a table a language.

mod arabic;
mod dutch;
mod english;
mod french;
mod german;
mod hebrew;
mod italian;
mod japanese;
mod polish;
mod portuguese;
mod portuguese_portugal;
mod spanish;
mod swedish;
pub mod templates;

/// Digits as most languages write them.
pub const DIGITS: &str = "0123456789";

/// The words of a language. A table that lacks one does not compile.
#[derive(Clone, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Words {
    /// The language of the table: the first part of a tag (BCP 47), or `pt-PT`.
    pub table: String,
    /// The digits of the language, 0 to 9: those of `en` until somebody who knows CLDR says otherwise.
    pub digits: String,
    /// Between a thing and what is said of it.
    pub colon: String,
    /// Whether a noun keeps its capital within a line.
    pub capitals: bool,
    /// The title of the index.
    pub index: String,
    /// The title of the overview of templates.
    pub templates: String,
    /// The templates' own pages in the outline, where they stand apart from the overview.
    pub template_pages: String,
    /// The cover, in the outline.
    pub cover: String,
    /// The file of covers, in its title.
    pub covers: String,
    /// The file of sheets of stickers, in its title.
    pub stickers: String,
    /// Behind the name of a group of stickers that goes on from the sheet before.
    pub continued: String,
    /// The welcome page, in the outline.
    pub welcome: String,
    /// The sections, in the outline.
    pub sections: String,
    /// A section without a name, before its number.
    pub section: String,
    /// A page of a section, before its number.
    pub page: String,
    /// What stands for the pages that a list has no line for; {} is how many they are.
    pub more: String,
    /// Above the lines for the owner's name.
    pub belongs_to: String,
    /// The tabs, on the small map of the notebook.
    pub tabs: String,
    /// The coil, on the same map.
    pub coil: String,
    /// The title at the foot, on the same map.
    pub title: String,
    /// The four little squares at the foot, on the same map.
    pub squares: String,
    /// Above lines for pages that are worth finding again.
    pub found_again: String,
    /// Above the column for where they are.
    pub where_it_is: String,
    /// What a screen reader says before the place that a link leads to.
    pub go_to: String,
    /// Above room for notes.
    pub notes: String,
    /// Above a list of tasks.
    pub to_do: String,
    /// Before room for a date.
    pub date: String,
    /// Above room for what a week or a month is about.
    pub focus: String,
    /// Above room for what counts most on a day.
    pub most_important: String,
    /// Before room for the name of a month.
    pub month: String,
    /// Before room for the title of a page.
    pub heading: String,
    /// Before room for what notes are about.
    pub topic: String,
    /// Above the column of cue words.
    pub cues: String,
    /// Above room for a summary.
    pub summary: String,
    /// Above room for priorities.
    pub priorities: String,
    /// Before room for the number of a week.
    pub week: String,
    /// Above a column of week numbers.
    pub week_short: String,
    /// Before the number of a week; {} stands for a number that is not at the end.
    pub week_number: String,
    /// The same of a quarter.
    pub quarter: String,
    /// Where something leads, in the steps of the welcome page: to the index.
    pub to_index: String,
    /// The same of the overview.
    pub to_overview: String,
    /// The same of the cover.
    pub to_cover: String,
    /// The same of the first section, where there is no index.
    pub to_first_section: String,
}

impl Words {
    /// The words of a language, English where there is no table for it.
    pub fn of(tag: &str) -> Words {
        match table_of(tag).as_str() {
            "de" => german::words(),
            "es" => spanish::words(),
            "fr" => french::words(),
            "it" => italian::words(),
            "nl" => dutch::words(),
            "sv" => swedish::words(),
            "pl" => polish::words(),
            "ja" => japanese::words(),
            "ar" => arabic::words(),
            "he" => hebrew::words(),
            "pt" => portuguese::words(),
            "pt-PT" => portuguese_portugal::words(),
            _ => english::words(),
        }
    }

    /// Whether these words are in the language of a tag.
    pub fn speaks(&self, tag: &str) -> bool {
        self.table == table_of(tag)
    }

    /// A number in the digits of the language, without marks between thousands.
    pub fn figure(&self, n: usize) -> String {
        self.figures(&n.to_string())
    }

    /// A text whose digits become those of the language.
    pub fn figures(&self, plain: &str) -> String {
        in_digits(plain, &self.digits)
    }

    /// What a section without a name is called; the first is 0.
    pub fn section_number(&self, index: usize) -> String {
        format!("{} {}", self.section, self.figure(index + 1))
    }

    /// What a section within a section is called that has no name.
    pub fn within_number(&self, section: usize, within: usize) -> String {
        format!("{} {}", self.section, self.figures(&format!("{}.{}", section + 1, within + 1)))
    }

    /// A word with its number: behind it, or where it has {}.
    pub fn numbered(word: &str, number: &str) -> String {
        if word.contains("{}") { word.replace("{}", number) } else { format!("{word} {number}") }
    }

    /// A word as it stands within a line.
    pub fn within(&self, word: &str) -> String {
        if self.capitals { word.to_owned() } else { word.to_lowercase() }
    }
}

/// A text whose digits become these ten.
pub fn in_digits(plain: &str, digits: &str) -> String {
    let written = |c: char| c.to_digit(10).and_then(|digit| digits.chars().nth(digit as usize)).unwrap_or(c);
    plain.chars().map(written).collect()
}

/// The table for a tag of BCP 47: its first part in small letters; Portuguese has a second one, for the regions whose texts CLDR
/// takes from `pt-PT` (its parent locales).
fn table_of(tag: &str) -> String {
    const AS_IN_PORTUGAL: [&str; 11] = ["AO", "CH", "CV", "GQ", "GW", "LU", "MO", "MZ", "PT", "ST", "TL"];
    let mut parts = tag.split(['-', '_']);
    let language = parts.next().unwrap_or_default().to_ascii_lowercase();
    let region = parts.take_while(|part| part.len() > 1).find(|part| part.len() == 2);
    match region {
        Some(region) if language == "pt" && AS_IN_PORTUGAL.contains(&region.to_ascii_uppercase().as_str()) => {
            "pt-PT".to_owned()
        }
        _ => language,
    }
}
