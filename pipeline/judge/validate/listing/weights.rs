//! File names and file sizes in a description, against the files.

use super::numbers;
use super::vocabulary::{Lexicon, Vocabulary};
use super::words::Bound;
use crate::validate::catalogue::{Findings, found};
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected};
use base::model::units::byte_size;
use base::model::{SourceSpan, Where};
use std::collections::{BTreeMap, BTreeSet};

/// Checks the lines of a description.
pub fn check(file: &Inspected, text: &str, lexicon: Lexicon, files: &[Inspected], findings: &mut Findings) {
    let truth = Truth::of(files);
    if truth.names.is_empty() {
        return;
    }
    for (n, line) in text.lines().enumerate() {
        let at = |from: usize, to: usize| {
            let column = line[..from].chars().count() + 1;
            let width = line[from..to].chars().count();
            Where::file(&file.path).span(SourceSpan { line: n + 1, column, text: line.to_owned(), width, file: None })
        };
        let mut own: BTreeSet<u64> = BTreeSet::new();
        for (from, name) in names(line) {
            match truth.names.get(&name.to_lowercase()) {
                Some(sizes) => own.extend(sizes),
                None => {
                    let place = at(from, from + name.len());
                    let said = format!("the description names the file \u{201c}{name}\u{201d}, which is not there");
                    found!(findings, "claim-name-unknown", place, "{said}");
                }
            }
        }
        let lower = line.to_lowercase();
        if lexicon.speaks(|words| words.limits, &lower) {
            continue;
        }
        let true_ones = if own.is_empty() { &truth.sizes } else { &own };
        for size in sizes(line, lexicon).into_iter().filter(|size| !size.fits(true_ones, &truth.uploads)) {
            let stated = &line[size.from..size.to];
            let real: Vec<String> =
                if own.is_empty() { truth.uploads.iter() } else { own.iter() }.take(4).map(|b| byte_size(*b)).collect();
            let real =
                if real.is_empty() { "none of them has it".to_owned() } else { format!("it is {}", real.join(", ")) };
            let place = at(size.from, size.to);
            let said = format!("the description states {stated}, which is the size of no file here; {real}");
            found!(findings, "claim-wrong", place, "{said}");
        }
    }
}

/// Names and sizes of the files, and of what lies in the archives.
struct Truth {
    names: BTreeMap<String, Vec<u64>>,
    /// Sizes of files, and sums of them that people state.
    sizes: BTreeSet<u64>,
    /// Sizes of what is uploaded.
    uploads: BTreeSet<u64>,
}

impl Truth {
    fn of(files: &[Inspected]) -> Truth {
        let mut truth = Truth { names: BTreeMap::new(), sizes: BTreeSet::new(), uploads: BTreeSet::new() };
        let papers =
            |f: &&Inspected| !matches!(f.facts, Facts::Text(_)) || !matches!(f.kind, Some(Kind::Listing) | None);
        let (mut uploaded, mut unpacked, mut all) = (0, 0, 0);
        for file in files.iter().filter(papers) {
            truth.name(file.name(), file.size);
            match file.kind {
                Some(Kind::Upload) => {
                    uploaded += file.size;
                    truth.uploads.insert(file.size);
                }
                Some(Kind::Listing | Kind::Picture) => {}
                Some(_) => unpacked += file.size,
                None => all += file.size,
            }
            if let Facts::Zip(zip) = &file.facts {
                for entry in zip.entries.iter().filter(|e| !e.folder) {
                    truth.name(entry.name.rsplit('/').next().unwrap_or_default(), entry.size);
                }
                truth.sizes.insert(zip.entries.iter().map(|e| e.size).sum());
            }
        }
        truth.sizes.extend([uploaded, unpacked, all]);
        truth
    }

    fn name(&mut self, name: &str, size: u64) {
        self.names.entry(name.to_lowercase()).or_default().push(size);
        self.sizes.insert(size);
    }
}

/// File names in a line, with where they begin.
fn names(line: &str) -> Vec<(usize, &str)> {
    let cut = |c: char| c.is_whitespace() || "`*\"'()[]<>|,;:!?\u{201c}\u{201d}\u{201e}/\\".contains(c);
    let ends = |word: &str| {
        [".pdf", ".zip", ".png", ".txt"].iter().any(|e| word.len() > e.len() && word.to_ascii_lowercase().ends_with(e))
    };
    line.split(cut)
        .map(|word| word.trim_end_matches('.'))
        .filter(|word| ends(word) && !word.contains('@'))
        .map(|word| (word.as_ptr() as usize - line.as_ptr() as usize, word))
        .collect()
}

/// A file size in a text.
#[derive(Debug, PartialEq)]
struct Weight {
    value: f64,
    rounding: f64,
    /// Bytes in one, decimal and binary: both readings are about.
    units: [f64; 2],
    bound: Bound,
    from: usize,
    to: usize,
}

impl Weight {
    fn fits(&self, sizes: &BTreeSet<u64>, uploads: &BTreeSet<u64>) -> bool {
        let holds = |size: &u64| {
            self.units.iter().any(|unit| self.bound.holds(self.value, *size as f64 / unit, self.rounding * 1.0001))
        };
        match self.bound {
            // What is said to be below something is said of every file.
            Bound::LessThan | Bound::AtMost if !uploads.is_empty() => uploads.iter().all(holds),
            _ => sizes.iter().any(holds),
        }
    }
}

/// The file sizes of a line.
fn sizes(line: &str, lexicon: Lexicon) -> Vec<Weight> {
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(digit) = line[at..].find(|c: char| c.is_ascii_digit()) {
        let from = at + digit;
        let Some((value, places, length)) = numbers::decimal(&line[from..], lexicon.comma()) else {
            at = from + 1;
            continue;
        };
        at = from + length.max(1);
        // The number of a name, such as bed-2, is none.
        if line[..from].ends_with(|c: char| c.is_alphanumeric() || matches!(c, '-' | '_')) {
            continue;
        }
        let gap = line[at..].len() - line[at..].trim_start_matches([' ', '\u{a0}', '\u{202f}', '-']).len();
        let Some((units, length)) = unit(&line[at + gap..], lexicon) else { continue };
        let rounding = 0.5 * 10f64.powi(-(places as i32));
        let to = at + gap + length;
        out.push(Weight { value, rounding, units, bound: Bound::before(&line[..from], lexicon), from, to });
    }
    out
}

/// Bytes in the unit that a text begins with, decimal and binary, and its length.
fn unit(text: &str, lexicon: Lexicon) -> Option<([f64; 2], usize)> {
    const SIZES: [[f64; 2]; 3] = [[1e3, 1024.0], [1e6, 1_048_576.0], [1e9, 1_073_741_824.0]];
    let lower = text.to_lowercase();
    let named = |words: &'static Vocabulary| {
        let all = words.bytes.iter().zip(SIZES).flat_map(|(names, size)| names.iter().map(move |name| (*name, size)));
        let ends = |name: &str| words.is_unspaced() || !lower[name.len()..].starts_with(|c: char| c.is_alphabetic());
        all.filter(|(name, _)| lower.starts_with(name) && ends(name)).max_by_key(|(name, _)| name.len())
    };
    // Names of units keep their length in small letters.
    lexicon.tables().find_map(named).map(|(name, size)| (size, name.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_and_names_are_found_in_a_line() {
        let line = "- `beds-2.zip`: under 20 MB, 320.6 kB; see notes.pdf.";
        let found: Vec<(f64, Bound)> = sizes(line, Lexicon::ENGLISH).iter().map(|s| (s.value, s.bound)).collect();
        assert_eq!(found, [(20.0, Bound::LessThan), (320.6, Bound::Exactly)]);
        assert_eq!(names(line), [(3, "beds-2.zip"), (43, "notes.pdf")]);
        assert_eq!(sizes("2,8 MB und 12 mm", Lexicon::named("de"))[0].value, 2.8);
        assert_eq!(names("see https://example.org/a or .pdf files, mail a@b.txt"), []);
    }
}
