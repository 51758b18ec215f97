//! The description against the facts: every number that it states of pages, covers, stickers, links, sections, templates,
//! resolution and file sizes, every list of names, every file and every size, whether it was generated or edited by hand.

mod claim;
mod claims;
mod lookup;
mod names;
mod numbers;
mod sizes;
mod spelled;
mod told;
mod truth;
mod unspaced;
mod vocabulary;
mod weights;
mod words;

use super::Promised;
use super::bundle;
use super::catalogue::{Findings, found};
use super::stickers::is_sticker;
use super::tongues::Evidence;
use base::model::facts::{Facts, Inspected};
use base::model::{Product, SourceSpan, Where};
use claim::Claim;
use claims::claims;
use std::collections::BTreeSet;
use truth::Truth;
use vocabulary::{Lexicon, plain_digits};
use words::Noun;

/// Small numbers of pages and links are said of parts ("2 pages for a bed") and prove nothing, unless the words about
/// them tell of which document.
const OF_THE_WHOLE: u64 = 20;

/// Checks every description among the files.
pub fn check(files: &[Inspected], against: &[Promised], findings: &mut Findings) {
    told::check(files, against, findings);
    if !files.iter().any(is_description) {
        return;
    }
    let truth = Truth::of(files, against);
    for file in files.iter().filter(|f| is_description(f)) {
        let Facts::Text(text) = &file.facts else { continue };
        let first = findings.list.len();
        let plain = plain_digits(&text.text);
        description(file, &plain, files, against, &truth, findings);
        // Places show the line as it is written, which has as many characters.
        for finding in &mut findings.list[first..] {
            let Some(span) = &mut finding.place.span else { continue };
            if let Some(line) = text.text.lines().nth(span.line.saturating_sub(1)) {
                line.clone_into(&mut span.text);
            }
        }
    }
}

/// Checks a description, with the digits of other scripts in it as plain ones.
fn description(
    file: &Inspected,
    text: &str,
    files: &[Inspected],
    against: &[Promised],
    truth: &Truth,
    findings: &mut Findings,
) {
    if Evidence::of(text).is_foreign() {
        let at = Where::file(&file.path);
        found!(findings, "claims-unread", at, "the description is in a language whose numbers and names are not read");
        return;
    }
    let lexicon = Lexicon::of(text);
    silent(file, text, lexicon, findings);
    sizes::check(file, text, lexicon, files, findings);
    names::check(file, text, lexicon, files, findings);
    weights::check(file, text, lexicon, files, findings);
    version(file, text, files, against.first().map(|(product, _)| *product), findings);
    lengths(file, text, lexicon, files, findings);
    for (n, line) in text.lines().enumerate() {
        for claim in claims(line, lexicon) {
            judge(file, n, line, &claim, truth, findings);
        }
    }
}

/// What every description should say (our own list, no source). Words that show that it does are those of the language, and of English.
const SHOULD_SAY: [&str; 3] = ["that it is a download", "which size the pages have", "what the licence allows"];

fn silent(file: &Inspected, text: &str, lexicon: Lexicon, findings: &mut Findings) {
    let text = vocabulary::bare(text);
    let missing = SHOULD_SAY.iter().enumerate().filter(|(i, _)| !lexicon.speaks(|words| words.told[*i], &text));
    let missing: Vec<&str> = missing.map(|(_, what)| *what).collect();
    if !missing.is_empty() {
        let missing = missing.join(", ");
        found!(findings, "listing-leaves-out", Where::file(&file.path), "the description does not say {missing}");
    }
}

/// Whether a file is the text of a listing, by its name.
pub fn is_description(file: &Inspected) -> bool {
    let name = file.name().to_lowercase();
    let text = name.ends_with(".md") || name.ends_with(".txt");
    text && (name.contains("description") || name.contains("listing"))
}

/// A version that is stated, against the product's, or the one of the record beside it.
fn version(file: &Inspected, text: &str, files: &[Inspected], product: Option<&Product>, findings: &mut Findings) {
    let known: Vec<String> = match product {
        Some(product) => vec![product.version.clone()],
        None => bundle::records(files).into_iter().map(|r| r.version).filter(|v| !v.is_empty()).collect(),
    };
    for (n, line) in text.lines().enumerate().filter(|_| !known.is_empty()) {
        let lower = line.to_ascii_lowercase();
        for (at, word) in lower.match_indices("version ") {
            let from = at + word.len();
            let end = line[from..].find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(line.len() - from);
            let stated = line[from..from + end].trim_end_matches('.');
            if stated.matches('.').count() == 2 && !known.iter().any(|v| v == stated) {
                let column = line[..from].chars().count() + 1;
                let span = SourceSpan { line: n + 1, column, text: line.to_owned(), width: stated.len(), file: None };
                let (at, is) = (Where::file(&file.path).span(span), known.join(" or "));
                found!(findings, "claim-wrong", at, "the description is of version {stated}, the files are of {is}");
            }
        }
    }
}

/// Pixels along the longest side of stickers, in lines that speak of it.
fn lengths(file: &Inspected, text: &str, lexicon: Lexicon, files: &[Inspected], findings: &mut Findings) {
    let sides = files.iter().filter(|f| is_sticker(f)).filter_map(|f| match &f.facts {
        Facts::Png(png) => Some(u64::from(png.width.max(png.height))),
        _ => None,
    });
    let sides: BTreeSet<u64> = sides.collect();
    let (Some(least), Some(most)) = (sides.first(), sides.last()) else { return };
    for (n, line) in text.lines().enumerate() {
        let lower = vocabulary::bare(line);
        if !lexicon.speaks(|words| words.longest, &lower) || !of_stickers(&lower, lexicon) {
            continue;
        }
        for (from, word) in pixels(line, lexicon) {
            if numbers::whole(word, lexicon).is_some_and(|n| !sides.contains(&n)) {
                let column = line[..from].chars().count() + 1;
                let span =
                    SourceSpan { line: n + 1, column, text: line.to_owned(), width: word.chars().count(), file: None };
                let at = Where::file(&file.path).span(span);
                let said = format!(
                    "the description states {word} pixels; the longest sides of the stickers have {least} to {most}"
                );
                found!(findings, "claim-wrong", at, "{said}");
            }
        }
    }
}

/// Whether a line in small letters speaks of stickers.
fn of_stickers(line: &str, lexicon: Lexicon) -> bool {
    let names = lexicon.tables().flat_map(|words| words.nouns).filter(|(noun, _)| *noun == Noun::Stickers);
    line.contains("sticker") || names.flat_map(|(_, all)| *all).any(|name| line.contains(name))
}

/// Numbers of pixels in a line, `201 to 1,276 pixels` being two, with where they stand.
fn pixels(line: &str, lexicon: Lexicon) -> Vec<(usize, &str)> {
    let words: Vec<&str> = line.split(' ').filter(|w| !w.is_empty()).collect();
    let is_unit =
        |w: &&str| lexicon.any(|words| words.units[4], &vocabulary::bare(w.trim_end_matches([',', '.', ';', ')'])));
    let mut out = Vec::new();
    for (i, _) in words.iter().enumerate().filter(|(_, w)| is_unit(w)) {
        let range = i >= 3 && lexicon.any(|words| words.range, words[i - 2]);
        let both = [range.then(|| words[i - 3]), i.checked_sub(1).map(|i| words[i])];
        out.extend(both.into_iter().flatten().map(|w| (w.as_ptr() as usize - line.as_ptr() as usize, w)));
    }
    out
}

/// Holds one claim against the files.
fn judge(file: &Inspected, n: usize, line: &str, claim: &Claim, truth: &Truth, findings: &mut Findings) {
    let Some(is) = refuted(claim, line, &truth.about(claim, line)) else { return };
    let span = SourceSpan { line: n + 1, column: claim.column, text: line.to_owned(), width: claim.width, file: None };
    let (at, noun) = (Where::file(&file.path).span(span), claim.noun.name());
    found!(findings, "claim-wrong", at, "the description claims {} {noun}; the files have {is}", claim.number);
}

/// What is so instead, where a claim is not so of each of these.
fn refuted(claim: &Claim, line: &str, sides: &[(Option<BTreeSet<u64>>, bool)]) -> Option<String> {
    // A resolution may be said of the screen as well.
    if claim.each || claim.noun == Noun::Dpi && !of_stickers(&vocabulary::bare(line), claim.lexicon) {
        return None;
    }
    if sides.iter().all(|side| holds(claim, side)) {
        return None;
    }
    let true_ones: BTreeSet<u64> = sides.iter().filter_map(|(ones, _)| ones.as_ref()).flatten().copied().collect();
    let is: Vec<String> = true_ones.iter().map(u64::to_string).collect();
    Some(is.join(" or "))
}

/// Whether a claim is so of what may be meant: the numbers that are true, and whether the words tell of which document.
fn holds(claim: &Claim, (true_ones, told): &(Option<BTreeSet<u64>>, bool)) -> bool {
    let Some(true_ones) = true_ones else { return true };
    let most = true_ones.iter().max().copied().unwrap_or(0);
    let of_a_part =
        claim.some && claim.noun != Noun::Dpi && claim.number <= most || !told && claim.number <= OF_THE_WHOLE;
    of_a_part || true_ones.iter().any(|is| claim.bound.holds(claim.number as f64, *is as f64, 0.0))
}
