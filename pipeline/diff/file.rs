//! Two files of one name or place: opened by what they are, and compared by what a buyer sees of them.

use super::tree::Leaf;
use super::{Care, facts, pdf, png, text};
use crate::model::difference::{Change, Count, Difference};
use crate::model::facts::{Facts, PdfFacts};

/// Compares two files of which the bytes differ; counts what they hold.
pub fn compare(
    path: &str,
    (old, x): (&Leaf, Option<&Facts>),
    (new, y): (&Leaf, Option<&Facts>),
    care: Care,
) -> (Vec<Difference>, Vec<Count>) {
    let mut out = Vec::new();
    let mut counts = Vec::new();
    let (Some(a), Some(b), Some(x), Some(y)) = (&old.bytes, &new.bytes, x, y) else {
        return (vec![opaque(path, old, new)], counts);
    };
    match (x, y) {
        (Facts::Pdf(p), Facts::Pdf(q)) => {
            let sides = (pdf::Side { facts: p, bytes: a }, pdf::Side { facts: q, bytes: b });
            if !pdf::compare(path, &sides.0, &sides.1, care, &mut out) {
                return (vec![opaque(path, old, new)], counts);
            }
            facts::of_documents(path, p, q, &mut counts);
            if out.is_empty() {
                out.push(stored(path, &format!("looks the same, bytes differ: {}", shares(p, old, q, new))));
            }
        }
        (Facts::Png(p), Facts::Png(q)) => {
            png::compare(path, (p, a), (q, b), care, &mut out);
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
        _ => out.push(opaque(path, old, new)),
    }
    (out, counts)
}

pub fn stored(path: &str, message: &str) -> Difference {
    Difference::of(path, Change::StoredDifferently, message)
}

fn opaque(path: &str, old: &Leaf, new: &Leaf) -> Difference {
    let message = format!("its bytes differ; no more is known of it ({} bytes, now {})", old.size, new.size);
    Difference::of(path, Change::FileChanged, message)
}

/// How the bytes of two PDFs divide.
fn shares(p: &PdfFacts, old: &Leaf, q: &PdfFacts, new: &Leaf) -> String {
    let mut told = vec![format!("{} bytes, now {}", old.size, new.size)];
    if p.version != q.version {
        told.push(format!("version {}, now {}", p.version, q.version));
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
    told.join("; ")
}
