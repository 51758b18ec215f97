//! What buyers are told beside the files: the text to read first and the guide, sentence by sentence, for each variant that
//! they speak of.

use super::claims::claims;
use super::numbers;
use super::truth::Truth;
use super::vocabulary::{Lexicon, bare};
use crate::validate::Promised;
use crate::validate::bundle;
use crate::validate::catalogue::{Findings, found};
use crate::validate::tongues::of_tag;
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected, PdfFacts};
use base::model::variant::{self, Variant};
use base::model::{SourceSpan, Where};

/// Checks the texts to read first and the guides among the files.
pub fn check(files: &[Inspected], against: &[Promised], findings: &mut Findings) {
    let variants = bundle::variants(files, against);
    let wanted = |f: &&Inspected| matches!(f.kind, Some(Kind::StartHere | Kind::Guide));
    if !files.iter().any(|f| wanted(&f)) {
        return;
    }
    let truth = Truth::of(files, against);
    for file in files.iter().filter(wanted) {
        match (&file.facts, file.kind) {
            (Facts::Text(text), Some(Kind::StartHere)) => {
                start(file, &text.text, files, &bundle::folders(files, against), findings);
            }
            (Facts::Pdf(pdf), Some(Kind::Guide)) => guide(file, pdf, &truth, &variants, findings),
            _ => {}
        }
    }
}

/// An item of a list, with the line that it begins in, from 0.
struct Item {
    line: usize,
    text: String,
}

/// The paragraphs of a text that is broken into lines of even length.
fn paragraphs(text: &str) -> Vec<Item> {
    let mut out: Vec<Item> = Vec::new();
    let mut open = false;
    for (line, written) in text.lines().enumerate() {
        let words = written.trim();
        let begins = words.starts_with("- ") || !open;
        open = !words.is_empty();
        match out.last_mut().filter(|_| !begins) {
            Some(last) if open => {
                last.text.push(' ');
                last.text.push_str(words);
            }
            _ if open => out.push(Item { line, text: words.to_owned() }),
            _ => {}
        }
    }
    out
}

/// The list of files in a text to read first: figures are those of the files in the folder that the list is of.
fn start(file: &Inspected, text: &str, files: &[Inspected], variants: &[Variant], findings: &mut Findings) {
    let mut spoken: Vec<Option<usize>> = vec![None];
    for item in paragraphs(text) {
        let Some((name, rest)) = item.text.strip_prefix("- ").and_then(|t| t.split_once(": ")) else {
            let of: Vec<_> = (0..variants.len()).filter(|v| names(&item.text, &variants[*v])).map(Some).collect();
            if item.text.starts_with("In ") && !of.is_empty() {
                spoken = of;
            }
            continue;
        };
        for variant in &spoken {
            for (number, word) in counts(rest) {
                let Some(is) = figure(name, word, *variant, files, variants) else { continue };
                if is != number {
                    let width = item.text.chars().count();
                    let span =
                        SourceSpan { line: item.line + 1, column: 1, text: item.text.clone(), width, file: None };
                    let at = Where::file(&file.path).span(span);
                    let whose = variant.map_or(String::new(), |v| format!(" of \u{201c}{}\u{201d}", variants[v].title));
                    found!(findings, "claim-wrong", at, "{name}{whose} has {is} {word}, and the text says {number}");
                }
            }
        }
    }
}

/// Whether a heading names the folder of a variant.
fn names(text: &str, variant: &Variant) -> bool {
    text.split([' ', ',', ';']).any(|word| word.strip_suffix('/') == Some(variant.name.as_str()))
}

/// Whole numbers with the word behind each.
fn counts(text: &str) -> impl Iterator<Item = (u64, &str)> {
    let words: Vec<&str> = text.split_whitespace().map(|w| w.trim_matches(|c: char| !c.is_alphanumeric())).collect();
    let pairs: Vec<(u64, &str)> =
        words.windows(2).filter_map(|two| Some((numbers::whole(two[0], Lexicon::ENGLISH)?, two[1]))).collect();
    pairs.into_iter()
}

/// How many of what a word names there are in a file, or in a folder of a variant.
fn figure(name: &str, word: &str, variant: Option<usize>, files: &[Inspected], variants: &[Variant]) -> Option<u64> {
    let of = |f: &&Inspected| variant::of(variants, variant::inside(&f.path)) == variant;
    let own = || files.iter().filter(of).filter(|f| variant::inside(&f.path).starts_with("contents/"));
    let pictures =
        |kind: Kind| own().filter(|f| f.kind == Some(kind) && matches!(f.facts, Facts::Png(_))).count() as u64;
    match word {
        "page" | "pages" | "cover" | "covers" => {
            let called = |f: &&Inspected| {
                let path = variant::inside(&f.path);
                f.name() == name || variant::common(variants, path).trim_start_matches("contents/") == name
            };
            let Facts::Pdf(pdf) = &own().find(called)?.facts else { return None };
            Some(pdf.pages.len() as u64)
        }
        "sticker" | "stickers" => Some(pictures(Kind::Sticker)),
        "picture" | "pictures" => Some(pictures(Kind::Sheet)),
        _ => None,
    }
}

/// The sentences of a guide, which is that of one variant or of all.
fn guide(file: &Inspected, pdf: &PdfFacts, truth: &Truth, variants: &[Variant], findings: &mut Findings) {
    let owner = variant::of(variants, variant::inside(&file.path));
    for (n, page) in pdf.pages.iter().enumerate() {
        let pieces: Vec<&str> = page.texts.iter().map(|t| t.text.trim()).collect();
        let lexicon = match pdf.language.as_deref().and_then(of_tag) {
            Some(tongue) => Lexicon::named(tongue.code),
            None => Lexicon::of(&pieces.join(" ")),
        };
        // The number of a step is no thousand of the figure that stands before it in the text.
        let figure = |piece: &&str| piece.chars().all(char::is_numeric);
        let pieces: Vec<&str> = pieces.into_iter().filter(|piece| !(lexicon.own.spaced && figure(piece))).collect();
        // Where another font begins, another piece of text does.
        let text = pieces.join(if lexicon.own.is_unspaced() { "" } else { " " });
        for sentence in text.split(". ") {
            for claim in claims(sentence, lexicon) {
                // Texts of a page stand in the order in which they were drawn: numbers of steps and rows of tables among them.
                let before = bare(sentence[..claim.from].trim_end());
                if !lexicon.tables().flat_map(|words| words.has).any(|words| before.ends_with(words)) {
                    continue;
                }
                let sides = truth.of_guide(owner, &claim, sentence);
                let Some(is) = super::refuted(&claim, sentence, &sides) else { continue };
                let (at, noun) = (Where::page(&file.path, n + 1), claim.noun.name());
                found!(findings, "claim-wrong", at, "the guide says {} {noun}; the files have {is}", claim.number);
            }
        }
    }
}
