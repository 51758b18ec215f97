//! What a style asks of the letters of its fonts, and which of them do not have it.

use super::raw;
use super::source::Source;
use base::model::look::{Capitals, Figures};
use base::model::plan::{About, Remark};
use base::model::product::{FontFile, FontFiles};
use base::model::{Role, Where};
use draw::{built_in, fonts};
use toml::Spanned;

/// Something that is asked of fonts.
struct Wish<'a> {
    /// As the manifest says it.
    said: &'a str,
    /// What it is.
    what: &'a str,
    /// Whether a font has it.
    has: &'a dyn Fn(&[u8]) -> bool,
}

/// What fonts of the style do not have of what it asks of them, each key with its place: they keep their own letters.
pub fn remarks(source: &Source, raw: &raw::Style, files: &FontFiles) -> Vec<Remark> {
    let figures = raw.figures.as_ref().and_then(|asked| {
        let (said, what) = match asked.get_ref() {
            Figures::Lining => ("figures = \"lining\"", "lining figures"),
            Figures::Oldstyle => ("figures = \"oldstyle\"", "oldstyle figures"),
        };
        let has = |bytes: &[u8]| fonts::has_figures(bytes, *asked.get_ref());
        remark(files.values().flatten(), place(source, raw, asked), &Wish { said, what, has: &has })
    });
    let capitals = raw.capitals.as_ref().filter(|asked| *asked.get_ref() == Capitals::Small).and_then(|asked| {
        let wish = Wish { said: "capitals = \"small\"", what: "small capitals", has: &fonts::has_small_capitals };
        remark(files.get(&Role::Label).into_iter().flatten(), place(source, raw, asked), &wish)
    });
    figures.into_iter().chain(capitals).collect()
}

fn remark<'f>(files: impl Iterator<Item = &'f FontFile>, place: Where, wish: &Wish) -> Option<Remark> {
    let mut without: Vec<&str> = Vec::new();
    for file in files {
        if !without.contains(&file.from.as_str()) && !(wish.has)(&file.bytes) {
            without.push(&file.from);
        }
    }
    if without.is_empty() {
        return None;
    }
    let has = |face| built_in::font(face).is_some_and(|font| (wish.has)(&font.bytes));
    let with: Vec<&str> = built_in::FAMILIES.iter().filter(|f| has(f.regular)).map(|f| f.name).collect();
    let message = format!(
        "{} finds no {} in {}: what is set in it stays as it is; of the typefaces that come along these have them: {}",
        wish.said,
        wish.what,
        without.join(", "),
        with.join(", ")
    );
    Some(Remark { about: About::LettersMissing, place, message })
}

/// Where a value of the style stands; what a look says stands at the line that names the look.
fn place<T>(source: &Source, raw: &raw::Style, value: &Spanned<T>) -> Where {
    let look = raw.look.as_ref().filter(|_| value.span().is_empty());
    let span = look.map_or_else(|| value.span(), Spanned::span);
    Where::file(super::FILE).span(source.span(span))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use base::keys::{Described, Shape};

    /// What is said of a key of the style, on one line.
    fn told(key: &str) -> String {
        let Shape::Table(style) = raw::Style::shape() else { unreachable!("a style is a table") };
        style.key(key).unwrap().doc.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// The comments of the keys name the typefaces that have what is asked for, and no other.
    #[test]
    fn keys_name_the_typefaces_that_have_such_letters() {
        let (figures, capitals) = (told("figures"), told("capitals"));
        for family in &built_in::FAMILIES {
            for face in [Some(family.regular), family.italic, family.bold].into_iter().flatten() {
                let bytes = built_in::font(face).unwrap().bytes;
                let both = [Figures::Lining, Figures::Oldstyle].iter().all(|f| fonts::has_figures(&bytes, *f));
                assert_eq!(figures.contains(family.name), both, "{face}: {figures}");
                assert_eq!(capitals.contains(family.name), fonts::has_small_capitals(&bytes), "{face}: {capitals}");
            }
        }
    }
}
