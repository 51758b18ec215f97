//! What may be claimed: the numbers that are true of the files.

use super::claims::Claim;
use super::words::Noun;
use crate::validate::stickers::is_sticker;
use crate::validate::{Promised, bundle};
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected, PdfFacts};
use base::model::pdf_plan::{PdfPlan, Place};
use base::model::plan::Make;
use base::model::variant;
use base::model::variant::Variant;
use std::collections::BTreeSet;

/// What a document is for those who write of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    Notebook,
    Covers,
    Guide,
    Sheet,
    Other,
}

/// A PDF.
struct Document<'a> {
    name: &'a str,
    role: Role,
    pages: u64,
    /// Links of all kinds, and of them those that turn to a page: either may be meant.
    links: [u64; 2],
}

/// For each noun the numbers that are true; `None` where the files don't tell.
pub struct Truth<'a> {
    documents: Vec<Document<'a>>,
    covers: Option<BTreeSet<u64>>,
    stickers: Option<BTreeSet<u64>>,
    sheets: Option<BTreeSet<u64>>,
    sections: Option<BTreeSet<u64>>,
    templates: Option<BTreeSet<u64>>,
    files: Option<BTreeSet<u64>>,
    /// Archives: name and how many files lie in each.
    archives: Vec<(&'a str, u64)>,
    dpi: Option<BTreeSet<u64>>,
}

impl<'a> Truth<'a> {
    /// What is true of these files; the same bytes at two places count once.
    pub fn of(files: &'a [Inspected], against: &[Promised]) -> Truth<'a> {
        let mut seen = BTreeSet::new();
        let once: Vec<&Inspected> = files.iter().filter(|f| seen.insert((&f.sha256, f.name()))).collect();
        let documents: Vec<Document> = once.iter().filter_map(|f| document(f)).collect();
        let of_role = |role: Role| documents.iter().filter(move |d| d.role == role).map(|d| d.pages);
        // The notebook's own cover may be counted with the others or not.
        let covers = of_role(Role::Covers).flat_map(|n| [n, n + 1]).collect();
        let png_sheets =
            once.iter().filter(|f| f.kind == Some(Kind::Sheet) && matches!(f.facts, Facts::Png(_))).count();
        let sheets = of_role(Role::Sheet).chain((png_sheets > 0).then_some(png_sheets as u64)).collect();
        let dpi = once.iter().filter(|f| is_sticker(f)).filter_map(|f| match &f.facts {
            Facts::Png(png) => png.dpi().map(|d| d.round() as u64),
            _ => None,
        });
        let dpi = dpi.collect();
        let stickers = stickers(&once, &bundle::variants(files, against));
        let (sections, templates) = if against.is_empty() { recorded(files) } else { planned(against) };
        let some = |numbers: BTreeSet<u64>| (!numbers.is_empty()).then_some(numbers);
        Truth {
            covers: some(covers),
            sheets: some(sheets),
            stickers: some(stickers),
            dpi: some(dpi),
            files: some(file_counts(files)),
            archives: once.iter().filter_map(|f| Some((f.name(), entries(f)?))).collect(),
            sections,
            templates,
            documents,
        }
    }

    /// The numbers that are true of what a claim counts, in a line of which this is known: the file that it names, or the
    /// kind of document that it speaks of.
    pub fn about(&self, claim: &Claim, line: &str) -> (Option<BTreeSet<u64>>, bool) {
        let set = match claim.noun {
            Noun::Pages | Noun::Links => return self.of_documents(claim, line),
            Noun::Covers => &self.covers,
            Noun::Stickers => &self.stickers,
            Noun::Sheets => &self.sheets,
            Noun::Sections => &self.sections,
            Noun::Templates => &self.templates,
            Noun::Dpi => &self.dpi,
            Noun::Files => {
                let named = self.archives.iter().filter(|(name, _)| line.contains(name)).map(|(_, n)| *n);
                let named: BTreeSet<u64> = named.collect();
                return (if named.is_empty() { self.files.clone() } else { Some(named) }, true);
            }
        };
        (set.clone(), true)
    }

    /// Pages and links, and whether the line tells of which document.
    fn of_documents(&self, claim: &Claim, line: &str) -> (Option<BTreeSet<u64>>, bool) {
        if self.documents.is_empty() {
            return (None, false);
        }
        let counts = |d: &Document| if claim.noun == Noun::Pages { [d.pages, d.pages] } else { d.links };
        let named: Vec<&Document> = self.documents.iter().filter(|d| line.contains(d.name)).collect();
        let role = role_in(line, claim).filter(|role| self.documents.iter().any(|d| d.role == *role));
        let meant: Vec<&Document> = match (named.is_empty(), role) {
            (false, _) => named,
            (true, Some(role)) => self.documents.iter().filter(|d| d.role == role).collect(),
            (true, None) => Vec::new(),
        };
        if meant.is_empty() {
            let sum = |i: usize| self.documents.iter().map(|d| counts(d)[i]).sum::<u64>();
            return (Some(self.documents.iter().flat_map(counts).chain([sum(0), sum(1)]).collect()), false);
        }
        (Some(meant.into_iter().flat_map(counts).collect()), true)
    }
}

/// What kind of document a claim is made of: the last one named before it in its sentence, or the word right behind it.
fn role_in(line: &str, claim: &Claim) -> Option<Role> {
    const WORDS: [(&str, Role); 12] = [
        ("notebook", Role::Notebook),
        ("planner", Role::Notebook),
        ("notizbuch", Role::Notebook),
        ("covers", Role::Covers),
        ("deckbl\u{e4}tter", Role::Covers),
        ("einb\u{e4}nde", Role::Covers),
        ("guide", Role::Guide),
        ("anleitung", Role::Guide),
        ("sticker sheet", Role::Sheet),
        ("sticker sheets", Role::Sheet),
        ("stickerb\u{f6}gen", Role::Sheet),
        ("stickerbogen", Role::Sheet),
    ];
    let behind = line[claim.to..].trim_start().to_lowercase();
    let behind = ["in the ", "in your ", "of the ", "im ", "in der "]
        .iter()
        .find_map(|p| behind.strip_prefix(p))
        .unwrap_or(&behind);
    if let Some((_, role)) = WORDS.iter().find(|(word, _)| behind.starts_with(word)) {
        return Some(*role);
    }
    let before = line[..claim.from].to_lowercase();
    let sentence = before.rsplit(['.', ';']).next().unwrap_or_default();
    let last = WORDS.iter().filter_map(|(word, role)| Some((sentence.rfind(word)?, *role)));
    last.max_by_key(|(at, _)| *at).map(|(_, role)| role)
}

/// Files in an archive.
fn entries(file: &Inspected) -> Option<u64> {
    let Facts::Zip(zip) = &file.facts else { return None };
    Some(zip.entries.iter().filter(|e| !e.folder).count() as u64)
}

/// How many files there are: to upload, in each archive, unpacked, and of these of each kind of file.
fn file_counts(files: &[Inspected]) -> BTreeSet<u64> {
    let of = |test: &dyn Fn(&Inspected) -> bool| files.iter().filter(|f| test(f)).count() as u64;
    let loose = |f: &Inspected| !matches!(f.kind, Some(Kind::Upload | Kind::Listing | Kind::Picture) | None);
    let uploads = of(&|f| f.kind == Some(Kind::Upload));
    if uploads == 0 {
        // Without a record nobody knows which of the files are for buyers.
        return BTreeSet::new();
    }
    let mut counts: BTreeSet<u64> = files.iter().filter_map(entries).collect();
    counts.extend([uploads, of(&loose)]);
    counts.insert(of(&|f| loose(f) && matches!(f.facts, Facts::Pdf(_))));
    counts.insert(of(&|f| loose(f) && matches!(f.facts, Facts::Png(_))));
    counts.insert(of(&|f| loose(f) && matches!(f.facts, Facts::Text(_))));
    counts.insert(of(&|f| f.kind == Some(Kind::Sticker)));
    counts.insert(files.iter().filter_map(entries).sum());
    counts
}

fn document(file: &Inspected) -> Option<Document<'_>> {
    let Facts::Pdf(facts) = &file.facts else { return None };
    let name = file.name().to_lowercase();
    let role = match file.kind {
        Some(Kind::Notebook) => Role::Notebook,
        Some(Kind::Covers) => Role::Covers,
        Some(Kind::Guide) => Role::Guide,
        Some(Kind::Sheet) => Role::Sheet,
        None if name.contains("cover") => Role::Covers,
        None if name.contains("sheet") => Role::Sheet,
        None if name.contains("guide") => Role::Guide,
        None if name.contains("notebook") || name.contains("planner") => Role::Notebook,
        // An upload is a copy of what lies loose beside it, where that is there.
        Some(_) | None => Role::Other,
    };
    let links = |p: &PdfFacts| {
        let all = || p.pages.iter().flat_map(|page| &page.links);
        let within = all().filter(|l| l.leads.page().is_some()).count();
        [all().count() as u64, within as u64]
    };
    Some(Document { name: file.name(), role, pages: facts.pages.len() as u64, links: links(facts) })
}

type Counts = Option<BTreeSet<u64>>;

/// How many stickers there are: of each variant, and of all together.
fn stickers(once: &[&Inspected], variants: &[Variant]) -> BTreeSet<u64> {
    let all: Vec<Option<usize>> = once
        .iter()
        .filter(|f| is_sticker(f) && matches!(f.facts, Facts::Png(_)))
        .map(|f| variant::of(variants, variant::inside(&f.path)))
        .collect();
    let of = |variant: usize| all.iter().filter(|v| v.is_none_or(|v| v == variant)).count() as u64;
    let mut counts: BTreeSet<u64> = (0..variants.len()).map(of).collect();
    counts.insert(all.len() as u64);
    counts.retain(|n| *n > 0);
    counts
}

/// Sections and templates of the planned notebooks.
fn planned(against: &[Promised]) -> (Counts, Counts) {
    let notebooks: Vec<(&PdfPlan, bool)> = against
        .iter()
        .flat_map(|(_, plan)| &plan.items)
        .filter_map(|item| match (&item.make, item.kind) {
            (Make::Pdf(pdf), Kind::Notebook) => Some((&**pdf, false)),
            (Make::Finished(finished), _) => Some((&finished.over, true)),
            _ => None,
        })
        .collect();
    let count = |of: fn(&Place) -> bool| {
        let counts = notebooks.iter().filter_map(|(pdf, finished)| {
            let count = pdf.places.keys().filter(|p| of(p)).count() as u64;
            // How a finished file is divided is known only as far as the manifest says it.
            (count > 0 || !finished).then_some(count)
        });
        let counts: BTreeSet<u64> = counts.collect();
        (!counts.is_empty()).then_some(counts)
    };
    (count(|p| matches!(p, Place::Section(_))), count(|p| matches!(p, Place::Template(_))))
}

/// Sections and templates as the record of a bundle has them; a section without a name is a section all the same.
fn recorded(files: &[Inspected]) -> (Counts, Counts) {
    let count = |names: Vec<Option<Vec<String>>>| -> Counts {
        let counts: BTreeSet<u64> =
            names.into_iter().flatten().map(|names| names.len() as u64).filter(|n| *n > 0).collect();
        (!counts.is_empty()).then_some(counts)
    };
    let (sections, templates) = bundle::records(files).into_iter().map(|r| (r.sections, r.templates)).unzip();
    (count(sections), count(templates))
}
