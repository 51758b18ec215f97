//! How a language writes numbers, sizes, dates and lists, by CLDR; and the documents that it has.

use crate::{Count, Documents, documents, fill};
use base::model::Product;
use base::model::calendar::MONTHS;
use base::model::product::Date;
use base::model::units::byte_size;
use icu_decimal::DecimalFormatter;
use icu_decimal::input::Decimal;
use icu_decimal::options::{DecimalFormatterOptions, GroupingStrategy};
use icu_locale::Locale;
use icu_plurals::{PluralCategory, PluralRules};

/// A language in which documents are written.
#[derive(Debug)]
pub struct Tongue {
    documents: &'static Documents,
    english: bool,
    numbers: Option<DecimalFormatter>,
    /// Without marks between thousands.
    measures: Option<DecimalFormatter>,
    plurals: Option<PluralRules>,
    names: Option<calendar::Names>,
}

impl Tongue {
    /// The language of a product's documents: its own where there is a table for it, else English.
    pub fn of(product: &Product) -> Tongue {
        Tongue::new(if product.words.speaks(&product.language) { &product.language } else { "en" })
    }

    /// The language of a tag of BCP 47; English where there is no table for it.
    pub fn new(tag: &str) -> Tongue {
        let words = base::model::words::Words::of(tag);
        // English texts count alike in every region.
        let english = words.table == "en" || !words.speaks(tag);
        let tag = if english { "en-GB" } else { tag };
        let locale: Option<Locale> = tag.parse().ok();
        let mut ungrouped = DecimalFormatterOptions::default();
        ungrouped.grouping_strategy = Some(GroupingStrategy::Never);
        Tongue {
            documents: documents(if english { "en" } else { &words.table }),
            english,
            numbers: locale.as_ref().and_then(|l| DecimalFormatter::try_new(l.into(), Default::default()).ok()),
            measures: locale.as_ref().and_then(|l| DecimalFormatter::try_new(l.into(), ungrouped).ok()),
            plurals: locale.as_ref().and_then(|l| PluralRules::try_new_cardinal(l.into()).ok()),
            names: calendar::Names::new(tag).ok(),
        }
    }

    /// The sentences of all documents.
    pub fn documents(&self) -> &'static Documents {
        self.documents
    }

    /// Whether documents are in English.
    pub fn is_english(&self) -> bool {
        self.english
    }

    /// Whether its lines run from right to left.
    pub fn is_right_to_left(&self) -> bool {
        self.names.as_ref().is_some_and(|names| names.direction() == calendar::Direction::RightToLeft)
    }

    /// A text in lines, each of which runs the way of the language. A program takes the direction of a line from its first letter: where
    /// a line from right to left begins with the name of a file, a mark stands before it (UAX 9, P2; U+200F).
    pub fn directed(&self, text: &str) -> String {
        if !self.is_right_to_left() {
            return text.to_owned();
        }
        text.split_inclusive('\n').map(directed_line).collect()
    }

    /// A number with the marks of the language: `2,816`, `2.816`, `2 816`.
    pub fn number(&self, n: u64) -> String {
        self.decimal(&n.to_string())
    }

    /// A number with a full stop before its decimal places, in the marks of the language: `2816.5` as `2.816,5`.
    pub fn decimal(&self, plain: &str) -> String {
        written(self.numbers.as_ref(), plain)
    }

    /// The same without marks between thousands, so that the decimal mark is the only one.
    pub fn measure(&self, plain: &str) -> String {
        written(self.measures.as_ref(), plain)
    }

    /// What is counted: `1 page`, `2,816 pages`.
    pub fn count(&self, n: usize, what: Count) -> String {
        self.counted(n, &self.number(n as u64), what, &[])
    }

    /// The same with more holes.
    pub fn count_with(&self, n: usize, what: Count, holes: &[(&str, &str)]) -> String {
        self.counted(n, &self.number(n as u64), what, holes)
    }

    /// A range that is counted: `3 covers`, `3 to 5 covers`, `up to 5 covers`.
    pub fn span(&self, span: [usize; 2], what: Count) -> String {
        let [least, most] = span;
        let listing = &self.documents.listing;
        let number = match least {
            0 => fill(listing.up_to, &[("n", &self.number(most as u64))]),
            _ => fill(listing.from_to, &[("least", &self.number(least as u64)), ("n", &self.number(most as u64))]),
        };
        if least == most { self.count(most, what) } else { self.several(&number, most, what) }
    }

    /// Several numbers of one thing, of which the last is `most`: `12 or 13 months`.
    pub fn several(&self, numbers: &str, most: usize, what: Count) -> String {
        // A form that says its number in words has no room for others: “two pages” is one word in Arabic.
        let form = Some(self.form(most, what)).filter(|form| form.contains("{n}"));
        fill(form.unwrap_or_else(|| what.last().copied().unwrap_or_default()), &[("n", numbers)])
    }

    /// The form of a noun, which stands apart from its number, for so many of it.
    pub fn noun(&self, n: usize, what: Count) -> &'static str {
        self.form(n, what)
    }

    fn counted(&self, n: usize, number: &str, what: Count, holes: &[(&str, &str)]) -> String {
        let mut all = vec![("n", number)];
        all.extend_from_slice(holes);
        fill(self.form(n, what), &all)
    }

    /// The form for so many.
    fn form(&self, n: usize, what: Count) -> &'static str {
        let last = what.last().copied().unwrap_or_default();
        let Some(plurals) = &self.plurals else { return last };
        let wanted = plurals.category_for(n);
        forms(plurals)
            .iter()
            .position(|category| *category == wanted)
            .and_then(|at| what.get(at).copied())
            .unwrap_or(last)
    }

    /// A size in bytes for people: `320.9 kB`, `320,9 ko`.
    pub fn size(&self, bytes: u64) -> String {
        let plain = byte_size(bytes);
        let start = &self.documents.start;
        let (number, unit) = plain.split_once(' ').unwrap_or((&plain, ""));
        match unit {
            "kB" => fill(start.kilobytes, &[("n", &self.decimal(number))]),
            "MB" => fill(start.megabytes, &[("n", &self.decimal(number))]),
            "GB" => fill(start.gigabytes, &[("n", &self.decimal(number))]),
            _ => self.count(bytes as usize, start.bytes),
        }
    }

    /// A date in words: `15 January 2027`.
    pub fn date(&self, date: Date) -> String {
        if self.english {
            return match MONTHS.get(usize::from(date.month).wrapping_sub(1)) {
                Some(month) => format!("{} {month} {}", date.day, date.year),
                None => date.to_string(),
            };
        }
        let day = calendar::Date::new(date.year as i16, date.month as i8, date.day as i8).ok();
        let written = day.and_then(|day| self.names.as_ref()?.written(day, "d MMMM y").ok());
        written.unwrap_or_else(|| date.to_string())
    }

    /// Names in a row: `a`, `a and b`, `a, b and c`.
    pub fn row(&self, names: &[String]) -> String {
        let start = &self.documents.start;
        match names {
            [] => String::new(),
            [one] => one.clone(),
            [most @ .., last] => format!("{}{}{last}", most.join(start.comma), start.and),
        }
    }

    /// Names of months and days.
    pub fn names(&self) -> Option<&calendar::Names> {
        self.names.as_ref()
    }
}

/// Letters of the scripts that are written from right to left (Hebrew, Arabic, and their forms for compatibility).
fn is_backwards(c: char) -> bool {
    matches!(c, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}') && c.is_alphabetic()
}

/// The mark stands behind the bullet, the number or the indent of a line, so that lists stay lists.
fn directed_line(line: &str) -> String {
    let first = line.find(char::is_alphabetic);
    let Some(first) = first.filter(|at| !line[*at..].starts_with(is_backwards) && line.contains(is_backwards)) else {
        return line.to_owned();
    };
    let mark = line[..first].rfind(' ').map_or(0, |space| space + 1);
    let (before, after) = line.split_at(mark);
    format!("{before}\u{200f}{after}")
}

fn written(format: Option<&DecimalFormatter>, plain: &str) -> String {
    match (format, Decimal::try_from_str(plain)) {
        (Some(format), Ok(number)) => format.format(&number).to_string(),
        _ => plain.to_owned(),
    }
}

/// The plurals for which a sentence that is counted has a form: those that whole numbers below a million take, in the order of CLDR. So
/// Polish has one, few and many, and the Romance languages go without the one for millions.
pub(crate) fn forms(plurals: &PluralRules) -> Vec<PluralCategory> {
    use PluralCategory::{Few, Many, One, Other, Two, Zero};
    // Rules for whole numbers look at the last two digits at most, beside those for millions.
    let taken: Vec<PluralCategory> = (0..=200_usize).map(|n| plurals.category_for(n)).collect();
    [Zero, One, Two, Few, Many, Other].into_iter().filter(|category| taken.contains(category)).collect()
}
