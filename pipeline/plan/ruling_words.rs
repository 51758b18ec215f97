//! Labels of rulings in the words of the product. What the designer does not say has an English default in the ruling; other
//! words go in its place before the ruling is drawn.

use base::keys;
use base::model::Product;
use base::model::words::Words;
use calendar::{Form, Names, Weekday, Width};
use draw::ruling::{self, Rulings};

/// The parameters of a ruling without dates, with the labels that the designer left out.
pub fn plain(product: &Product, rulings: Rulings, name: &str, with: &toml::Table) -> toml::Table {
    let w = &product.words;
    let labels = match name {
        "titled" => vec![("title", &w.heading), ("date", &w.date)],
        "cue-notes" => {
            let (topic, summary) = (("topic", &w.topic), ("summary", &w.summary));
            vec![topic, ("date", &w.date), ("cues", &w.cues), ("notes", &w.notes), summary]
        }
        "day" => vec![("date", &w.date), ("focus", &w.most_important), ("to-do", &w.to_do), ("notes", &w.notes)],
        "week" | "open-week" => vec![("notes", &w.notes), ("week", &w.week), ("focus", &w.focus)],
        "month" => vec![("month", &w.month), ("focus", &w.focus), ("notes", &w.notes)],
        "habits" => vec![("month", &w.month), ("notes", &w.notes)],
        _ => Vec::new(),
    };
    let mut with = labelled(with, w, labels);
    if let (Some(names), false) = (names(product, name), with.contains_key("labels")) {
        with.insert("labels".to_owned(), names);
    }
    if let Some(entry) = ruling::find(rulings.plain, name).filter(|_| w.table != "en") {
        speak(product, &entry.parameters(), &mut with);
    }
    with
}

/// Tells a ruling that has words of its own in which language they are, and its days and months by their names.
fn speak(product: &Product, takes: &keys::Table, with: &mut toml::Table) {
    let mut put = |key: &str, value: toml::Value| {
        if takes.key(key).is_some() && !with.contains_key(key) {
            with.insert(key.to_owned(), value);
        }
    };
    put("language", product.words.table.clone().into());
    if let Ok(names) = Names::new(&product.language) {
        // Days head narrow columns where they are ticked.
        let width = if takes.key("mark").is_some() { Width::Abbreviated } else { Width::Wide };
        let days: Vec<toml::Value> = Weekday::ALL.iter().map(|d| names.weekday(*d, width).into()).collect();
        put("days", days.into());
        let months: Vec<toml::Value> = (1..=12).map(|m| names.month(m, Width::Wide, Form::Alone).into()).collect();
        put("months", months.into());
    }
}

/// The same of a dated ruling; names of months and days come with its page.
pub fn dated(product: &Product, name: &str, with: &toml::Table) -> toml::Table {
    let w = &product.words;
    let labels = match name {
        "quarter" | "month" | "week" | "week-rows" | "week-hours" | "open-week" => vec![("notes", &w.notes)],
        "day" => vec![("priorities", &w.priorities), ("notes", &w.notes)],
        "day-notes" | "two-days" => vec![("to-do", &w.to_do), ("notes", &w.notes)],
        _ => Vec::new(),
    };
    labelled(with, w, labels)
}

fn labelled(with: &toml::Table, words: &Words, labels: Vec<(&str, &String)>) -> toml::Table {
    let mut with = with.clone();
    // English ones are the rulings' own.
    for (key, word) in labels.into_iter().filter(|_| *words != Words::of("en")) {
        if !with.contains_key(key) {
            with.insert(key.to_owned(), word.clone().into());
        }
    }
    with
}

/// The names of days, Monday first, or of months, where the ruling has English ones. They go with the words: no page mixes
/// two languages.
fn names(product: &Product, ruling: &str) -> Option<toml::Value> {
    if product.words.table == "en" {
        return None;
    }
    let names = Names::new(&product.language).ok()?;
    let list: Vec<toml::Value> = match ruling {
        "week" | "month" => Weekday::ALL.iter().map(|day| names.weekday(*day, Width::Wide).to_owned().into()).collect(),
        "year" => (1..=12).map(|month| names.month(month, Width::Wide, Form::Alone).to_owned().into()).collect(),
        _ => return None,
    };
    Some(list.into())
}
