//! What the layouts that come with the tool say, in the language of the product: titles, lines, and what is counted.

use super::PictureContext;
use serde_json::{Value as Json, json};
use wording::Count;

/// Title and second line of a layout; empty where it has none.
pub fn of(context: &PictureContext, layout: &str, variants: &Json) -> (String, String) {
    let says = &context.tongue().documents().pictures;
    let listing = &context.tongue().documents().listing;
    let counted = |what: &str, noun: Count| counted(context, what, noun);
    let facts = &context.facts;
    let dated = |what: &str| facts["dated"][what].as_str().unwrap_or_default().to_owned();
    let planner = !facts["dated"].is_null();
    let title = match layout {
        "cover" => context.product.name.clone(),
        "year" => dated("years"),
        "dates" => dated("every"),
        "inside" => says.inside.to_owned(),
        "fan" => {
            let start = &context.tongue().documents().start;
            let mut both = vec![counted("pages", start.pages)];
            if is_short(&figure(context, "links").0) {
                both.push(counted("links", listing.links));
            }
            both.join(start.comma)
        }
        "templates" => counted("templates", listing.templates),
        "tabs" if planner => says.tabs_months.to_owned(),
        "tabs" => counted("sections", says.tabs),
        "frame" => says.frame.to_owned(),
        "covers" => counted("covers", listing.covers),
        "colourways" => variants["words"].as_str().unwrap_or_default().to_owned(),
        "stickers" => counted("stickers", listing.stickers_n),
        // The names stand below the things: the title of a set is its own.
        "together" if context.product.is_set() => context.product.name.clone(),
        "together" => {
            let names = std::iter::once(&context.product.name).chain(context.product.sisters.iter().map(|s| &s.name));
            context.tongue().row(&names.cloned().collect::<Vec<_>>())
        }
        _ => String::new(),
    };
    let line = match layout {
        "cover" if planner => counted("pages", says.planner),
        "cover" => counted("pages", says.book),
        "year" => dated("months"),
        "together" if context.product.is_set() => context.tongue().count(context.product.members.len(), says.set_of),
        "together" => says.go_together.to_owned(),
        _ => String::new(),
    };
    (title, line)
}

/// The number of something over all variants as it is written, and the largest of the numbers.
fn figure(context: &PictureContext, what: &str) -> (String, usize) {
    let said = context.facts["said"][what].as_str().unwrap_or("0").to_owned();
    (said, context.facts["spans"][what][1].as_u64().unwrap_or(0) as usize)
}

fn counted(context: &PictureContext, what: &str, noun: Count) -> String {
    let (said, most) = figure(context, what);
    match context.facts["spans"][what][0].as_u64() {
        Some(least) if least as usize != most => context.tongue().several(&said, most, noun),
        _ => context.tongue().count(most, noun),
    }
}

/// What is said of templates that are not on a picture: `and 12 more`.
pub fn more(context: &PictureContext, more: usize) -> String {
    if more == 0 { String::new() } else { context.tongue().count(more, context.tongue().documents().pictures.more) }
}

/// How many variants there are, by what they differ in: `3 colourways`. A row of choices that is called otherwise keeps its word in
/// English, and has that of all variants elsewhere.
pub fn variants(context: &PictureContext, row: Option<&str>, different: usize, all: usize) -> String {
    let says = &context.tongue().documents().pictures;
    let noun = match row {
        Some("colourway" | "colorway") => says.colourways,
        Some("size") => says.sizes,
        Some("language") => says.languages,
        Some(row) if context.tongue().is_english() => {
            return format!("{different} {}", several(&row.replace('-', " ")));
        }
        Some(_) => says.variants,
        None => return context.tongue().count(all, says.variants),
    };
    context.tongue().count(different, noun)
}

/// Several of what a row of choices is called, in English.
fn several(word: &str) -> String {
    match word.strip_suffix('y') {
        Some(stem) if !stem.ends_with(['a', 'e', 'i', 'o', 'u']) => format!("{stem}ies"),
        _ if word.ends_with('s') => word.to_owned(),
        _ => format!("{word}s"),
    }
}

/// Whether a number can be read at a glance: a range of large ones, as variants have it, cannot.
fn is_short(number: &str) -> bool {
    number.chars().count() <= 9
}

/// What is in the bundle, counted: numbers and nouns, no more than six. Of a planner the finest dated pages are among them.
pub fn counts(context: &PictureContext) -> Vec<Json> {
    let says = &context.tongue().documents().pictures;
    let plain: [(&str, Count); 6] = [
        ("pages", says.pages),
        ("links", says.links),
        ("sections", says.sections),
        ("templates", says.templates),
        ("covers", says.covers),
        ("stickers", says.stickers),
    ];
    let plain = plain.into_iter().map(|(what, noun)| (what, figure(context, what), noun));
    let plain = plain.filter(|(_, (_, most), _)| *most > 0);
    let mut all: Vec<(&str, (String, usize), Count)> = plain.collect();
    let kinds = context.facts["dated"]["kinds"].as_array().map(Vec::as_slice).unwrap_or_default();
    let fine: [(&str, Count); 5] = [
        ("day", says.days),
        ("week", says.weeks),
        ("month", says.months),
        ("quarter", says.quarters),
        ("year", says.years),
    ];
    let finest = fine.into_iter().find_map(|(kind, noun)| {
        let shown = kinds.iter().find(|shown| shown["kind"] == kind)?;
        let number = shown["number"].as_str()?.to_owned();
        Some((kind, (number, shown["most"].as_u64()? as usize), noun))
    });
    if let Some(finest) = finest {
        all.insert(2.min(all.len()), finest);
        if all.len() > 6 {
            all.retain(|(what, ..)| *what != "sections");
        }
    }
    all.retain(|(_, (number, _), _)| is_short(number));
    let told = all.into_iter().map(|(_, (number, most), noun)| {
        let noun = context.tongue().noun(most, noun);
        json!({ "number": number, "noun": noun })
    });
    told.collect()
}

/// Whether some of a text is written from right to left, so that its direction has to be told where it stands alone.
pub fn runs_backwards(text: &str) -> bool {
    text.chars().any(|c| matches!(c, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{feff}'))
}

/// The text in a direction of its own, that of its first strong letter (UAX 9, first strong isolate); libraries that draw SVG
/// take a line for one from left to right.
pub fn directed(text: &str) -> String {
    if runs_backwards(text) { format!("\u{2068}{text}\u{2069}") } else { text.to_owned() }
}

/// The text without such marks.
pub fn undirected(text: &str) -> String {
    text.chars().filter(|c| !matches!(c, '\u{2066}'..='\u{2069}')).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn rows_are_called_by_their_word() {
        let words = ["colourway", "size", "body", "colours"].map(super::several);
        assert_eq!(words, ["colourways", "sizes", "bodies", "colours"]);
    }

    #[test]
    fn only_what_runs_backwards_is_marked() {
        assert_eq!(super::directed("12 Seiten, 表紙"), "12 Seiten, 表紙");
        let marked = super::directed("48 ملصقًا");
        assert_eq!((marked.chars().count(), super::undirected(&marked).as_str()), (11, "48 ملصقًا"));
    }
}
