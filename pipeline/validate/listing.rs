//! The description against the facts: every number that it states of pages, covers, stickers, links, sections, templates and
//! resolution, whether it was generated or edited by hand.

mod names;
mod sizes;

use super::bundle;
use super::catalogue::{Findings, found};
use super::stickers::is_sticker;
use crate::model::artifact::Kind;
use crate::model::facts::{Facts, Inspected, PdfFacts};
use crate::model::plan::{Make, Place};
use crate::model::{Plan, Product, Spot, Where};
use std::collections::BTreeSet;

/// Small numbers of pages and links are said of parts ("2 pages for each section") and prove nothing.
const OF_THE_WHOLE: u64 = 20;

/// What may be claimed: for each noun the numbers that are true; `None` where the files don't tell.
#[derive(Default)]
struct Truth {
    pages: Option<BTreeSet<u64>>,
    links: Option<BTreeSet<u64>>,
    covers: Option<BTreeSet<u64>>,
    stickers: Option<BTreeSet<u64>>,
    sections: Option<BTreeSet<u64>>,
    templates: Option<BTreeSet<u64>>,
    dpi: Option<BTreeSet<u64>>,
}

/// Checks every description among the files.
pub fn check(files: &[Inspected], against: Option<(&Product, &Plan)>, findings: &mut Findings) {
    let truth = Truth::of(files, against);
    for file in files.iter().filter(|f| is_description(f)) {
        let Facts::Text(text) = &file.facts else { continue };
        silent(file, &text.text, findings);
        sizes::check(file, &text.text, files, findings);
        names::check(file, &text.text, files, findings);
        for (n, line) in text.text.lines().enumerate() {
            for claim in claims(line) {
                judge(file, n, line, &claim, &truth, findings);
            }
        }
    }
}

/// What every description should say, and words of which one shows that it does (our own list, no source).
const SHOULD_SAY: [(&str, &[&str]); 3] = [
    ("that it is a download", &["download", "digital", "nothing is shipped"]),
    ("which size the pages have", &[" mm", " pt", " px", " in ", "inch", "page size"]),
    ("what the licence allows", &["licence", "license", "terms", "personal use"]),
];

fn silent(file: &Inspected, text: &str, findings: &mut Findings) {
    let text = text.to_lowercase();
    let missing: Vec<&str> =
        SHOULD_SAY.iter().filter(|(_, words)| !words.iter().any(|w| text.contains(w))).map(|(what, _)| *what).collect();
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

impl Truth {
    fn of(files: &[Inspected], against: Option<(&Product, &Plan)>) -> Truth {
        let mut truth = Truth::default();
        let pdfs = || files.iter().filter_map(|f| if let Facts::Pdf(p) = &f.facts { Some((f, &**p)) } else { None });
        let counts: Vec<u64> = pdfs().map(|(_, p)| p.pages.len() as u64).collect();
        if !counts.is_empty() {
            // Links to addresses may be counted with those that turn to a page, or not.
            let links = |p: &PdfFacts| {
                let all = || p.pages.iter().flat_map(|page| &page.links);
                let within = all().filter(|l| l.leads.page().is_some()).count();
                [all().count() as u64, within as u64]
            };
            truth.pages = Some(counts.iter().copied().chain([counts.iter().sum()]).collect());
            truth.links = Some(pdfs().flat_map(|(_, p)| links(p)).collect());
        }
        let is_covers = |f: &Inspected| f.kind == Some(Kind::Covers) || f.kind.is_none() && f.name().contains("cover");
        let covers: BTreeSet<u64> = pdfs().filter(|(f, _)| is_covers(f)).map(|(_, p)| p.pages.len() as u64).collect();
        // The notebook's own cover may be counted with the others or not.
        let counted = covers.iter().flat_map(|n| [*n, n + 1]).collect::<BTreeSet<u64>>();
        truth.covers = (!covers.is_empty()).then_some(counted);
        let mut dpi = BTreeSet::new();
        let mut stickers = 0;
        for file in files.iter().filter(|f| is_sticker(f)) {
            if let Facts::Png(png) = &file.facts {
                stickers += 1;
                dpi.extend(png.dpi().map(|d| d.round() as u64));
            }
        }
        if stickers > 0 {
            truth.stickers = Some(BTreeSet::from([stickers]));
            truth.dpi = (!dpi.is_empty()).then_some(dpi);
        }
        let notebook = against.and_then(|(_, plan)| {
            plan.items.iter().find_map(|item| match (&item.make, item.kind) {
                (Make::Pdf(pdf), Kind::Notebook) => Some((&**pdf, false)),
                (Make::Finished(finished), _) => Some((&finished.over, true)),
                _ => None,
            })
        });
        if let Some((pdf, finished)) = notebook {
            let count =
                |of: fn(&Place) -> bool| Some(BTreeSet::from([pdf.places.keys().filter(|p| of(p)).count() as u64]));
            truth.sections = count(|p| matches!(p, Place::Section(_)));
            truth.templates = count(|p| matches!(p, Place::Template(_)));
            if finished {
                // How a finished file is divided is known only as far as the manifest says it.
                let known = |some: Option<BTreeSet<u64>>| some.filter(|n| !n.contains(&0));
                (truth.sections, truth.templates) = (known(truth.sections), known(truth.templates));
            }
        }
        if against.is_none() {
            // What a bundle's own record says of its notebook; a section without a name is a section all the same.
            let count = |names: Vec<Option<Vec<String>>>| -> Option<BTreeSet<u64>> {
                let counts: BTreeSet<u64> = names.into_iter().flatten().map(|names| names.len() as u64).collect();
                (!counts.is_empty()).then_some(counts)
            };
            let (sections, templates) = bundle::records(files).into_iter().map(|r| (r.sections, r.templates)).unzip();
            (truth.sections, truth.templates) = (count(sections), count(templates));
        }
        truth
    }

    fn about(&self, noun: &str) -> Option<&BTreeSet<u64>> {
        match noun {
            "pages" => self.pages.as_ref(),
            "links" | "hyperlinks" => self.links.as_ref(),
            "covers" => self.covers.as_ref(),
            "stickers" => self.stickers.as_ref(),
            "sections" => self.sections.as_ref(),
            "templates" => self.templates.as_ref(),
            "dpi" => self.dpi.as_ref(),
            _ => None,
        }
    }
}

/// A number and what it counts.
#[derive(Debug, PartialEq)]
struct Claim {
    number: u64,
    noun: String,
    /// Column of the number, from 1.
    column: usize,
    width: usize,
}

/// The claims of a line: a number, up to two words that tell more of it, and a noun that is known.
fn claims(line: &str) -> Vec<Claim> {
    const NOUNS: [&str; 8] = ["pages", "links", "hyperlinks", "covers", "stickers", "sections", "templates", "dpi"];
    let words: Vec<(usize, &str)> = words(line);
    let mut claims = Vec::new();
    for (i, (at, word)) in words.iter().enumerate() {
        let Some(number) = number(word) else { continue };
        for (_, next) in words[i + 1..].iter().take(3) {
            if *next == STOP || self::number(next).is_some() {
                break;
            }
            let noun = next.to_lowercase();
            if NOUNS.contains(&noun.as_str()) {
                let column = line[..*at].chars().count() + 1;
                claims.push(Claim { number, noun, column, width: word.chars().count() });
                break;
            }
        }
    }
    claims
}

/// Stands for a full stop, a bracket or a comma after a word, which ends a claim.
const STOP: &str = ".";

/// Words with their offsets, and the stops between them.
fn words(line: &str) -> Vec<(usize, &str)> {
    let mut out = Vec::new();
    for piece in line.split_whitespace() {
        // The piece is a part of the line, so that its place in it is the difference of the addresses.
        let at = piece.as_ptr() as usize - line.as_ptr() as usize;
        let word = piece.trim_matches(|c: char| !c.is_alphanumeric());
        if word.is_empty() {
            continue;
        }
        let front = piece.find(word).unwrap_or(0);
        out.push((at + front, word));
        if piece[front + word.len()..].contains(['.', ',', ';', ':', '!', '?', ')']) {
            out.push((at + front + word.len(), STOP));
        }
    }
    out
}

/// A whole number, with or without commas between thousands, in figures or as a small number word.
fn number(word: &str) -> Option<u64> {
    const SMALL: [&str; 21] = [
        "zero",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
        "twenty",
    ];
    let lower = word.to_lowercase();
    if let Some(n) = SMALL.iter().position(|s| *s == lower) {
        return Some(n as u64);
    }
    let plain = word.replace(',', "");
    (!plain.is_empty() && plain.chars().all(|c| c.is_ascii_digit())).then(|| plain.parse().ok())?
}

fn judge(file: &Inspected, n: usize, line: &str, claim: &Claim, truth: &Truth, findings: &mut Findings) {
    let Some(true_ones) = truth.about(&claim.noun) else { return };
    // A resolution may be said of the screen as well.
    if claim.noun == "dpi" && !line.to_lowercase().contains("sticker") {
        return;
    }
    let of_a_part = matches!(claim.noun.as_str(), "pages" | "links" | "hyperlinks") && claim.number <= OF_THE_WHOLE;
    if of_a_part || true_ones.contains(&claim.number) {
        return;
    }
    let spot = Spot { line: n + 1, column: claim.column, text: line.to_owned(), width: claim.width };
    let is: Vec<String> = true_ones.iter().map(u64::to_string).collect();
    found!(
        findings,
        "claim-wrong",
        Where::file(&file.path).spot(spot),
        "the description claims {} {}; the files have {}",
        claim.number,
        claim.noun,
        is.join(" or ")
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    fn short(line: &str) -> Vec<(u64, String)> {
        claims(line).into_iter().map(|c| (c.number, c.noun)).collect()
    }

    #[test]
    fn claims_are_read_out_of_sentences() {
        assert_eq!(short("- 12 alternate covers, 1,204 pages"), [(12, "covers".into()), (1204, "pages".into())]);
        assert_eq!(short("**Twelve** stickers at 300 dpi."), [(12, "stickers".into()), (300, "dpi".into())]);
        assert_eq!(short("Version 2. Covers are not included."), []);
        assert_eq!(short("for 3 people who like stickers"), []);
        assert_eq!(claims("It has 7 covers")[0].column, 8);
    }
}
