//! What may be claimed: the numbers that are true of the files.

mod members;

use super::claim::Claim;
use super::numbers;
use super::vocabulary::{Lexicon, bare};
use super::words::{Noun, Role};
use crate::validate::stickers::is_sticker;
use crate::validate::{Promised, bundle};
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected, PdfFacts};
use base::model::pdf_plan::{PdfPlan, Place};
use base::model::plan::Make;
use base::model::variant;
use base::model::variant::Variant;
use std::collections::BTreeSet;

/// A PDF.
struct Document<'a> {
    name: &'a str,
    role: Role,
    pages: u64,
    /// Links of all kinds, and of them those that turn to a page: either may be meant.
    links: [u64; 2],
}

/// What is true of all files, and of what a buyer of each variant gets.
pub struct Truth<'a> {
    all: Counted<'a>,
    /// In the order of `variants`; empty for a product without.
    each: Vec<Counted<'a>>,
    variants: Vec<Variant>,
}

impl<'a> Truth<'a> {
    /// What is true of these files.
    pub fn of(files: &'a [Inspected], against: &[Promised]) -> Truth<'a> {
        let variants = bundle::variants(files, against);
        let everything: Vec<&Inspected> = files.iter().collect();
        let each = (0..variants.len()).map(|v| {
            let mine = |f: &&Inspected| variant::of(&variants, variant::inside(&f.path)).is_none_or(|of| of == v);
            let own = against.get(v).map_or(&[][..], std::slice::from_ref);
            Counted::of(&files.iter().filter(mine).collect::<Vec<_>>(), own, &[], recorded(files, Some(v)))
        });
        let each = each.collect();
        let mut all = Counted::of(&everything, against, &variants, recorded(files, None));
        all.add_members(files, against);
        Truth { all, each, variants }
    }

    /// The numbers that are true of what a claim counts, and whether the line tells of which document: of each variant that
    /// the line speaks of, or of every one. A range over variants, a number of files and one of all together are true or not
    /// of the whole.
    pub fn about(&self, claim: &Claim, line: &str) -> Vec<(Counts, bool)> {
        let whole = matches!(claim.noun, Noun::Files | Noun::Dpi);
        if self.each.len() < 2 || whole || in_all(line, claim.lexicon) || self.is_range(claim, line) {
            return vec![self.all.about(claim, line)];
        }
        let spoken = self.spoken(line);
        let meant = |v: &usize| spoken.is_empty() || spoken.contains(v);
        (0..self.each.len()).filter(meant).map(|v| self.each[v].about(claim, line)).collect()
    }

    /// The same for a sentence of a guide, which is that of a variant or of all.
    pub fn of_guide(&self, owner: Option<usize>, claim: &Claim, line: &str) -> Vec<(Counts, bool)> {
        match owner.and_then(|v| self.each.get(v)) {
            Some(one) => vec![one.about(claim, line)],
            None => self.about(claim, line),
        }
    }

    /// The variants that a line names: by their folder, or by their title as an item of a list.
    fn spoken(&self, line: &str) -> Vec<usize> {
        let bare: String = line.chars().filter(|c| *c != '\\').collect();
        let item = bare.trim_start_matches(|c: char| !c.is_alphanumeric());
        let by_folder = |v: &Variant| bare.contains(&format!("{}/", v.name));
        let by_title = |v: &Variant| {
            let ends = |rest: &str| {
                rest.is_empty() || rest.starts_with(|c: char| c.is_whitespace() || matches!(c, ':' | '：'))
            };
            item.strip_prefix(v.title.as_str()).is_some_and(ends)
        };
        let named = |by: &dyn Fn(&Variant) -> bool| {
            (0..self.variants.len()).filter(|v| by(&self.variants[*v])).collect::<Vec<_>>()
        };
        let found = named(&by_folder);
        if found.is_empty() { named(&by_title) } else { found }
    }

    /// Whether a claim is the end of a range over all variants, and the range is that of the files: `3 to 5 covers`.
    fn is_range(&self, claim: &Claim, line: &str) -> bool {
        let before = line[..claim.from].trim_end_matches(|c: char| !c.is_alphanumeric());
        let numbers: Vec<Vec<u64>> =
            self.each.iter().map(|c| c.about(claim, line).0.into_iter().flatten().collect()).collect();
        let holds = |n: u64| numbers.iter().any(|of| of.contains(&n));
        let most = numbers.iter().filter_map(|of| of.iter().min()).max().copied().unwrap_or(0);
        let least = numbers.iter().filter_map(|of| of.iter().max()).min().copied().unwrap_or(0);
        let mut words = claim.lexicon.tables().flat_map(|words| words.range);
        // In some languages what stands between the ends is a mark, which was trimmed.
        let before = words.find_map(|word| before.strip_suffix(word)).unwrap_or(before);
        let from = before
            .split_whitespace()
            .last()
            .map(|word| if claim.lexicon.own.is_unspaced() { last_figures(word) } else { word })
            .and_then(|w| numbers::whole(w.trim_matches(|c: char| !c.is_alphanumeric()), claim.lexicon));
        from.is_some_and(|from| holds(from) && holds(claim.number) && from <= least && claim.number >= most)
    }
}

/// The figures that a text ends with.
fn last_figures(text: &str) -> &str {
    text.rsplit(|c: char| !c.is_ascii_digit()).next().unwrap_or_default()
}

/// Whether a line speaks of all variants together.
fn in_all(line: &str, lexicon: Lexicon) -> bool {
    let line = bare(line);
    lexicon.tables().flat_map(|words| words.together).any(|words| {
        line.match_indices(words).any(|(at, w)| {
            lexicon.own.is_unspaced() || !line[at + w.len()..].starts_with(|c: char| c.is_alphanumeric())
        })
    })
}

/// For each noun the numbers that are true; `None` where the files don't tell.
struct Counted<'a> {
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
    /// What is true of a set and of its members.
    set: members::Sums,
}

impl<'a> Counted<'a> {
    /// What is true of these files; the same bytes at two places count once.
    fn of(
        files: &[&'a Inspected],
        against: &[Promised],
        variants: &[Variant],
        recorded: (Counts, Counts),
    ) -> Counted<'a> {
        let mut seen = BTreeSet::new();
        let once: Vec<&'a Inspected> = files.iter().copied().filter(|f| seen.insert((&f.sha256, f.name()))).collect();
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
        let stickers = stickers(files, variants);
        let (sections, templates) = if against.is_empty() { recorded } else { planned(against) };
        let some = |numbers: BTreeSet<u64>| (!numbers.is_empty()).then_some(numbers);
        Counted {
            covers: some(covers),
            sheets: some(sheets),
            stickers: some(stickers),
            dpi: some(dpi),
            files: some(file_counts(files)),
            archives: once.iter().filter_map(|f| Some((f.name(), entries(f)?))).collect(),
            sections,
            templates,
            documents,
            set: Default::default(),
        }
    }

    /// The numbers that are true of what a claim counts, in a line of which this is known: the file that it names, or the
    /// kind of document that it speaks of.
    fn about(&self, claim: &Claim, line: &str) -> (Option<BTreeSet<u64>>, bool) {
        if let Some(together) = self.set.together(claim, line) {
            return (Some(together), true);
        }
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
            // A line that names the notebook may go on with its guide; an upload is a copy of what it is called.
            (false, Some(role)) if named.iter().any(|d| d.role == role || d.role == Role::Other) => named,
            (false, None) => named,
            (_, Some(role)) => self.documents.iter().filter(|d| d.role == role).collect(),
            (true, None) => Vec::new(),
        };
        if meant.is_empty() {
            let sum = |i: usize| self.documents.iter().map(|d| counts(d)[i]).sum::<u64>();
            let sums = self.set.of_any(claim.noun);
            let all = self.documents.iter().flat_map(counts).chain([sum(0), sum(1)]).chain(sums);
            return (Some(all.collect()), false);
        }
        (Some(meant.into_iter().flat_map(counts).collect()), true)
    }
}

/// What kind of document a claim is made of: the last one named before it in its sentence, or the word right behind it.
fn role_in(line: &str, claim: &Claim) -> Option<Role> {
    let lexicon = claim.lexicon;
    let words = || {
        lexicon.tables().flat_map(|words| words.documents).flat_map(|(role, all)| all.iter().map(move |w| (*w, *role)))
    };
    let behind = line[claim.to..].trim_start().to_lowercase();
    let within =
        lexicon.tables().flat_map(|words| words.within).find_map(|p| behind.strip_prefix(p)).unwrap_or(&behind);
    if let Some((_, role)) = words().find(|(word, _)| within.starts_with(word)) {
        return Some(role);
    }
    let before = line[..claim.from].to_lowercase();
    let sentence = before.rsplit(['.', ';', '。', '؛']).next().unwrap_or_default();
    let last = words().filter_map(|(word, role)| Some((sentence.rfind(word)?, role)));
    last.max_by_key(|(at, _)| *at).map(|(_, role)| role)
}

/// Files in an archive.
fn entries(file: &Inspected) -> Option<u64> {
    let Facts::Zip(zip) = &file.facts else { return None };
    Some(zip.entries.iter().filter(|e| !e.folder).count() as u64)
}

/// How many files there are: to upload, in each archive, unpacked, and of these of each kind of file.
fn file_counts(files: &[&Inspected]) -> BTreeSet<u64> {
    let of = |test: &dyn Fn(&Inspected) -> bool| files.iter().filter(|f| test(f)).count() as u64;
    let loose = |f: &Inspected| !matches!(f.kind, Some(Kind::Upload | Kind::Listing | Kind::Picture) | None);
    let uploads = of(&|f| f.kind == Some(Kind::Upload));
    if uploads == 0 {
        // Without a record nobody knows which of the files are for buyers.
        return BTreeSet::new();
    }
    let mut counts: BTreeSet<u64> = files.iter().filter_map(|f| entries(f)).collect();
    counts.extend([uploads, of(&loose)]);
    counts.insert(of(&|f| loose(f) && matches!(f.facts, Facts::Pdf(_))));
    counts.insert(of(&|f| loose(f) && matches!(f.facts, Facts::Png(_))));
    counts.insert(of(&|f| loose(f) && matches!(f.facts, Facts::Text(_))));
    counts.insert(of(&|f| f.kind == Some(Kind::Sticker)));
    counts.insert(files.iter().filter_map(|f| entries(f)).sum());
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

/// How many stickers there are: of each variant, and of all together. One that several variants have counts for each of them.
fn stickers(files: &[&Inspected], variants: &[Variant]) -> BTreeSet<u64> {
    let all = || files.iter().filter(|f| is_sticker(f) && matches!(f.facts, Facts::Png(_)));
    let mut seen = BTreeSet::new();
    let each: Vec<Option<usize>> = all()
        .map(|f| (variant::of(variants, variant::inside(&f.path)), f))
        .filter(|(variant, f)| seen.insert((*variant, &f.sha256, f.name())))
        .map(|(variant, _)| variant)
        .collect();
    let of = |variant: usize| each.iter().filter(|v| v.is_none_or(|v| v == variant)).count() as u64;
    let mut counts: BTreeSet<u64> = (0..variants.len()).map(of).collect();
    let once: BTreeSet<_> = all().map(|f| (&f.sha256, f.name())).collect();
    counts.insert(once.len() as u64);
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

/// Sections and templates as the record of a bundle has them, of a variant or of all; a section without a name is a section
/// all the same.
fn recorded(files: &[Inspected], variant: Option<usize>) -> (Counts, Counts) {
    let count = |names: Vec<Vec<String>>| -> Counts {
        let counts: BTreeSet<u64> = names.into_iter().map(|names| names.len() as u64).filter(|n| *n > 0).collect();
        (!counts.is_empty()).then_some(counts)
    };
    let (mut sections, mut templates) = (Vec::new(), Vec::new());
    for record in bundle::records(files) {
        let each: Vec<_> = match variant {
            Some(v) => record.each.into_iter().skip(v).take(1).collect(),
            None => record.each,
        };
        if each.is_empty() {
            sections.extend(record.sections);
            templates.extend(record.templates);
        }
        for (of_sections, of_templates) in each {
            sections.push(of_sections);
            templates.push(of_templates);
        }
    }
    (count(sections), count(templates))
}
