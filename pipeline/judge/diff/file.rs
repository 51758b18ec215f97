//! Two files of one name or place: opened by what they are, and compared by what a buyer sees of them.

use super::tree::TreeFile;
use super::{DiffOptions, facts, pdf, png, text};
use base::model::change::Change;
use base::model::difference::{Count, Difference};
use base::model::facts::{Facts, PdfFacts};
use inspect::Reader;

/// What two files come to.
#[derive(Default)]
pub struct Between {
    /// What changed.
    pub differences: Vec<Difference>,
    /// What they hold, counted.
    pub counts: Vec<Count>,
    /// Which page of the old one is which of the new one, by index from 0; empty for what has no pages.
    pub pairs: Vec<(usize, usize)>,
    /// How many redrawn pages were not drawn, since no more were asked for.
    pub undrawn: usize,
}

/// Compares two files of which the bytes differ; counts what they hold.
pub fn compare(
    path: &str,
    (old, x): (&TreeFile, Option<&Facts>),
    (new, y): (&TreeFile, Option<&Facts>),
    options: DiffOptions,
    reader: &dyn Reader,
) -> Between {
    let mut out = Vec::new();
    let (mut counts, mut pairs, mut undrawn) = (Vec::new(), Vec::new(), 0);
    let (Some(a), Some(b), Some(x), Some(y)) = (&old.bytes, &new.bytes, x, y) else {
        return Between { differences: vec![opaque(path, old, new)], ..Between::default() };
    };
    match (x, y) {
        (Facts::Pdf(p), Facts::Pdf(q)) => {
            let sides = (pdf::Side { facts: p, bytes: a }, pdf::Side { facts: q, bytes: b });
            let Some(pdf::Seen { alike, pairs: paired, dated, undrawn: left }) =
                pdf::compare(path, &sides.0, &sides.1, (options, reader), &mut out)
            else {
                return Between { differences: vec![shut(path, p, q)], ..Between::default() };
            };
            (pairs, undrawn) = (paired, left);
            let dated = dated.as_ref().map_or([&[][..], &[]], |[old, new]| [&old[..], &new[..]]);
            facts::of_documents(path, (p, q), dated, &mut counts);
            let shares = shares(p, old, q, new);
            if out.is_empty() {
                let means = match alike.as_slice() {
                    [] => String::new(),
                    some => format!("; {} drawn by other means", pages(some, "is", "are")),
                };
                out.push(stored(path, &format!("looks the same, bytes differ: {shares}{means}")));
            } else if !alike.is_empty() {
                let which = pages(&alike, "looks", "look");
                out.push(stored(path, &format!("{which} the same, drawn by other means")));
            }
        }
        (Facts::Png(p), Facts::Png(q)) => {
            png::compare(path, (p, a), (q, b), options, &mut out);
            if out.is_empty() {
                out.push(stored(path, &format!("looks the same, bytes differ: {} bytes, now {}", old.size, new.size)));
            }
        }
        (Facts::Text(p), Facts::Text(q)) => {
            let (p, q): (Vec<&str>, Vec<&str>) = (p.text.lines().collect(), q.text.lines().collect());
            match text::lines(&p, &q) {
                Some(message) => out.push(Difference::of(path, Change::TextChanged, message)),
                // A long text is read only so far.
                None if old.size.max(new.size) > (1 << 20) => out.push(opaque(path, old, new)),
                None => out.push(stored(path, "the words are the same; line ends or marks differ")),
            }
        }
        (x, y) => out.push(other(path, x, y).unwrap_or_else(|| opaque(path, old, new))),
    }
    Between { differences: out, counts, pairs, undrawn }
}

pub fn stored(path: &str, message: &str) -> Difference {
    Difference::of(path, Change::StoredDifferently, message)
}

fn opaque(path: &str, old: &TreeFile, new: &TreeFile) -> Difference {
    let message = format!("its bytes differ; no more is known of it ({} bytes, now {})", old.size, new.size);
    Difference::of(path, Change::FileChanged, message)
}

/// Two files that cannot be compared: what is wrong with them, or what they are. A file that buyers could read and can
/// not read now is as good as gone.
fn other(path: &str, x: &Facts, y: &Facts) -> Option<Difference> {
    let lost = Change::FileRemoved.name();
    let (message, case) = match (x, y) {
        (Facts::Unreadable(was), Facts::Unreadable(is)) if was == is => (format!("neither can be read: {is}"), None),
        (Facts::Unreadable(was), Facts::Unreadable(is)) => (format!("neither can be read: {was}; and now {is}"), None),
        (_, Facts::Unreadable(is)) => (format!("it cannot be read any more: {is}"), Some(lost)),
        (Facts::Unreadable(was), _) => (format!("it can be read now; before: {was}"), None),
        _ => {
            let (was, is) = (what(x), what(y));
            if was == is {
                return None;
            }
            (format!("it was {was} and is {is}"), Some(lost))
        }
    };
    let told = Difference::of(path, Change::FileChanged, message);
    Some(if let Some(case) = case { told.as_case(case) } else { told })
}

fn what(facts: &Facts) -> &'static str {
    match facts {
        Facts::Pdf(_) => "a PDF",
        Facts::Png(_) => "a PNG picture",
        Facts::Zip(_) => "an archive",
        Facts::Text(_) => "a text",
        Facts::Picture(_) => "a picture",
        Facts::Unreadable(_) => "unreadable",
    }
}

/// Two PDFs of which at least one does not let its pages be seen.
fn shut(path: &str, p: &PdfFacts, q: &PdfFacts) -> Difference {
    let (message, lost) = match (p.encrypted, q.encrypted) {
        (true, true) => ("both are encrypted: their pages cannot be compared", false),
        (false, true) => ("it is encrypted now: its pages cannot be seen without the password", true),
        (true, false) => ("it is not encrypted any more; the pages before cannot be seen", false),
        (false, false) => ("its pages cannot be compared: their contents cannot be read on both sides", false),
    };
    let told = Difference::of(path, Change::FileChanged, message);
    if lost { told.as_case(Change::FileRemoved.name()) } else { told }
}

/// Pages in words, runs drawn together, with a verb for one and for many: `pages 1, 3 to 5 and 9 are`.
fn pages(list: &[usize], one: &str, many: &str) -> String {
    let mut sorted = list.to_vec();
    sorted.sort_unstable();
    let mut runs: Vec<String> = Vec::new();
    for run in sorted.chunk_by(|a, b| a + 1 == *b) {
        match run {
            [first, .., last] => runs.push(format!("{first} to {last}")),
            few => runs.extend(few.iter().map(usize::to_string)),
        }
    }
    let last = runs.pop().unwrap_or_default();
    let before = if runs.is_empty() { String::new() } else { format!("{} and ", runs.join(", ")) };
    let (word, verb) = if list.len() == 1 { ("page", one) } else { ("pages", many) };
    format!("{word} {before}{last} {verb}")
}

/// How the bytes of two PDFs divide.
fn shares(p: &PdfFacts, old: &TreeFile, q: &PdfFacts, new: &TreeFile) -> String {
    let mut told = vec![format!("{} bytes, now {}", old.size, new.size)];
    if p.version != q.version {
        told.push(format!("version {}, now {}", p.version, q.version));
    }
    if p.xmp.is_some() != q.xmp.is_some() {
        let what = if q.xmp.is_some() { "XMP metadata" } else { "no XMP metadata" };
        told.push(format!("{what} now"));
    }
    let maker = |pdf: &PdfFacts| pdf.info.producer.clone().or_else(|| pdf.xmp.as_ref()?.producer.clone());
    if maker(p) != maker(q) {
        let name = |maker: Option<String>| maker.unwrap_or_else(|| "an unnamed program".to_owned());
        told.push(format!("written by {}, now by {}", name(maker(p)), name(maker(q))));
    }
    let times = |pdf: &PdfFacts| (pdf.info.created, pdf.info.changed);
    if times(p) != times(q) {
        told.push("other times of making".to_owned());
    }
    for (what, a, b) in [
        ("fonts", p.bytes.fonts, q.bytes.fonts),
        ("pictures", p.bytes.images, q.bytes.images),
        ("drawing", p.bytes.pages, q.bytes.pages),
        ("the rest", p.bytes.rest, q.bytes.rest),
    ] {
        if a != b {
            told.push(format!("{what} {a}, now {b}"));
        }
    }
    let whole = |pdf: &PdfFacts| pdf.fonts.iter().filter(|f| !f.subset).count();
    for (what, a, b) in [
        ("fonts", p.fonts.len(), q.fonts.len()),
        ("fonts stored whole", whole(p), whole(q)),
        ("pictures", p.images.len(), q.images.len()),
        ("streams stored twice", p.duplicate_streams.0, q.duplicate_streams.0),
        ("objects that nothing uses", p.unused_objects.0, q.unused_objects.0),
    ] {
        if a != b {
            told.push(format!("{a} {what}, now {b}"));
        }
    }
    told.join("; ")
}

#[cfg(test)]
mod tests {
    use super::pages;

    #[test]
    fn runs_of_pages_are_drawn_together() {
        assert_eq!(pages(&[3], "is", "are"), "page 3 is");
        assert_eq!(pages(&[4, 3], "is", "are"), "pages 3 to 4 are");
        assert_eq!(pages(&[1, 3, 4, 5, 9], "is", "are"), "pages 1, 3 to 5 and 9 are");
    }
}
