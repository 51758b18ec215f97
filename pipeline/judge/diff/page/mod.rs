//! The comparison as one page for a browser: verdict first, then everything that changed, with pictures. It holds all
//! that it shows and asks nothing of any other computer.

mod text;

use base::model::Fault;
use base::model::change::{Change, Verdict};
use base::model::difference::{Comparison, Difference, Still, Told};
use base::model::units::byte_size;
use base::model::versions::{STEPS, TERMS_CHANGED};
use base64::prelude::{BASE64_STANDARD as STANDARD, Engine};
use serde_json::{Value, json};
use tera::{Context, Tera};

const TEMPLATE: &str = include_str!("page.html.tera");
const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("slider.js");

/// So many pages of a file stand on the page; the rest is counted.
const CARDS: usize = 150;
/// So many changes of a page are shown before the rest is folded.
const OPEN: usize = 6;

/// Writes the page.
///
/// # Errors
/// When the template cannot be filled, which is a fault of the program.
pub fn write(found: &Comparison) -> Result<String, Fault> {
    let wrong = |e: tera::Error| Fault::new(format!("the page of changes could not be written: {e}"));
    let mut tera = Tera::default();
    tera.add_raw_template("page.html", TEMPLATE).map_err(wrong)?;
    let mut context = Context::new();
    context.insert("style", STYLE);
    context.insert("script", SCRIPT);
    context.insert("product", &found.product);
    context.insert("numbers", &found.numbers);
    context.insert("verdict", found.verdict.name());
    context.insert("headline", headline(found.verdict));
    context.insert("why", &text::why(found));
    context.insert("rule", &rule(found));
    context.insert("download", &found.download_again);
    context.insert("same", &found.same);
    context.insert("glance", &glance(found));
    context.insert("facts", &found.facts.iter().map(fact).collect::<Vec<_>>());
    context.insert("mended", &found.checks.mended.iter().map(told).collect::<Vec<_>>());
    context.insert("worse", &found.checks.new.iter().map(told).collect::<Vec<_>>());
    let mut ids = 0;
    let files = found.differences.chunk_by(|a, b| a.path == b.path);
    // What lies in an archive as well as loose is told once.
    let (copies, files): (Vec<_>, Vec<_>) = files.partition(|list| list.iter().all(Difference::is_copy));
    context.insert("copies", &copies.iter().map(|list| &list[0].path).collect::<Vec<_>>());
    let files: Vec<Value> = files.into_iter().map(|list| file(list, sizes(found, &list[0].path), &mut ids)).collect();
    context.insert("files", &files);
    tera.render("page.html", &context).map_err(wrong)
}

fn headline(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Same => "Nothing changed",
        Verdict::Patch => "A patch",
        Verdict::Minor => "A minor version",
        Verdict::Major => "A major version",
    }
}

/// The rule by which it was judged: a row for each step that can be made, and what past buyers are told.
fn rule(found: &Comparison) -> Value {
    let made = found.rule.to_json();
    let rows: Vec<Value> = STEPS.iter().map(|step| json!({ "step": step.name(), "by": made[step.name()] })).collect();
    json!({ "stated": found.rule.stated, "rows": rows, "again": made["download_again"] })
}

/// How often each kind of change occurs.
fn glance(found: &Comparison) -> Vec<Value> {
    let mut kinds: Vec<Change> = found.differences.iter().filter(|d| !d.is_copy()).map(|d| d.kind).collect();
    kinds.sort_unstable();
    kinds
        .chunk_by(|a, b| a == b)
        .map(|k| json!({ "count": k.len(), "words": k[0].words(k.len()), "tone": text::tone(k[0]) }))
        .collect()
}

fn fact(count: &base::model::difference::Count) -> Value {
    let what = count.what.strip_prefix("bytes of ");
    let word = |n: Option<u64>| match n {
        None => "none".to_owned(),
        Some(bytes) if what.is_some() => byte_size(bytes),
        Some(n) => n.to_string(),
    };
    // A few bytes more or less are neither a gain nor a loss.
    let tone = match count.new.unwrap_or(0).cmp(&count.old.unwrap_or(0)) {
        _ if what.is_some() => "",
        std::cmp::Ordering::Less => "gone",
        _ => "come",
    };
    let what = what.map_or_else(|| count.what.clone(), |path| format!("size of {path}"));
    json!({ "what": what, "old": word(count.old), "new": word(count.new), "tone": tone })
}

/// How large a file was and is, where it lies by itself.
fn sizes(found: &Comparison, path: &str) -> Option<String> {
    let file = found.files.iter().find(|f| f.path == path)?;
    match (file.size_old, file.size_new) {
        (Some(a), Some(b)) if a != b => Some(format!("{}, before {}", byte_size(b), byte_size(a))),
        (a, b) => b.or(a).map(byte_size),
    }
}

fn told(t: &Told) -> Value {
    let place = t.page.map_or(t.file.clone(), |page| format!("{}, page {page}", t.file));
    json!({ "check": t.check, "severity": t.severity, "place": place, "message": t.message })
}

/// A file with its pages.
fn file(list: &[Difference], sizes: Option<String>, ids: &mut usize) -> Value {
    let pages: Vec<&[Difference]> =
        list.chunk_by(|a, b| (a.page_old, a.page_new) == (b.page_old, b.page_new)).collect();
    let cards: Vec<Value> = pages.iter().take(CARDS).map(|changes| card(changes, ids)).collect();
    let mut kinds: Vec<Change> = list.iter().map(|d| d.kind).collect();
    kinds.sort_unstable();
    let chips: Vec<Value> = kinds
        .chunk_by(|a, b| a == b)
        .map(|k| json!({ "words": format!("{} {}", k.len(), k[0].words(k.len())), "tone": text::tone(k[0]) }))
        .collect();
    *ids += 1;
    json!({
        "id": *ids,
        "path": list[0].path,
        "licence": list.iter().any(|d| d.case == TERMS_CHANGED),
        "sizes": sizes,
        "chips": chips,
        "cards": cards,
        "more": pages.len().saturating_sub(CARDS),
    })
}

/// What changed on a page, or of a file as a whole.
fn card(changes: &[Difference], ids: &mut usize) -> Value {
    *ids += 1;
    let title = match (changes[0].page_old, changes[0].page_new) {
        (Some(a), Some(b)) if a != b => format!("Page {b}, before: page {a}"),
        (_, Some(page)) => format!("Page {page}"),
        (Some(page), None) => format!("Page {page} before"),
        (None, None) => String::new(),
    };
    let change = |d: &Difference| {
        let mut lines = d.message.lines();
        let first = lines.next().unwrap_or_default().to_owned();
        let lines: Vec<Value> = lines.map(line).collect();
        json!({ "kind": d.kind.words(1), "tone": text::tone(d.kind), "message": first, "lines": lines })
    };
    let all: Vec<Value> = changes.iter().map(change).collect();
    let open = if all.len() > OPEN + 2 { OPEN } else { all.len() };
    let shot = changes.iter().find_map(|d| d.shot.as_deref()).map(|shot| {
        let whole = if title.is_empty() { "The picture".to_owned() } else { title.clone() };
        json!({
            "before": shot.before.as_ref().map(still),
            "after": shot.after.as_ref().map(still),
            "overlay": shot.overlay.as_ref().map(still),
            "marks": shot.marks.iter().map(|m| m.map(|n| f64::from(n) / 10.0)).collect::<Vec<_>>(),
            "name": whole,
        })
    });
    json!({ "id": *ids, "title": title, "changes": all[..open], "folded": all[open..], "shot": shot })
}

/// A line of a text that went or came.
fn line(line: &str) -> Value {
    let (tone, words) = match line.chars().next() {
        Some('\u{2212}') => ("gone", line['\u{2212}'.len_utf8()..].trim_start()),
        Some('+') => ("come", line[1..].trim_start()),
        _ => ("", line),
    };
    json!({ "tone": tone, "words": words })
}

fn still(still: &Still) -> Value {
    json!({ "width": still.width, "height": still.height, "data": STANDARD.encode(&still.png) })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use base::model::difference::{Checks, Shot};
    use base::model::versions::Rule;

    fn found(differences: Vec<Difference>) -> Comparison {
        Comparison {
            same: differences.is_empty(),
            verdict: Verdict::Patch,
            download_again: true,
            differences,
            files: Vec::new(),
            facts: Vec::new(),
            checks: Checks::default(),
            numbers: None,
            product: Some("Beans & <Peas>".to_owned()),
            released: None,
            language: None,
            kinds: Default::default(),
            variants: Default::default(),
            rule: Rule::default(),
            decisive: Vec::new(),
        }
    }

    #[test]
    fn words_of_others_cannot_become_markup() {
        let path = "a<script>alert(1)</script>.txt";
        let difference = Difference::of(path, Change::TextChanged, "1 gone:\n\u{2212} <b>x\n+ y");
        let page = write(&found(vec![difference])).unwrap();
        assert!(!page.contains("<script>alert") && !page.contains("<b>x"));
        assert!(page.contains("&lt;b&gt;x") && page.contains("Beans &amp; &lt;Peas&gt;"));
    }

    #[test]
    fn pictures_stand_in_the_page() {
        let still = |n: u8| Some(Still { width: 3, height: 2, png: vec![n; 4] });
        let shot = Shot { before: still(1), after: still(2), overlay: still(3), marks: vec![[100, 200, 50, 60]] };
        let mut difference = Difference::of("a.pdf", Change::PageRedrawn, "it differs");
        difference.shot = Some(Box::new(shot));
        let page = write(&found(vec![difference.on(Some(2), Some(3))])).unwrap();
        assert_eq!(page.matches("data:image/png;base64,").count(), 3);
        assert!(page.contains("Page 4, before: page 3") && page.contains("left:10.0%;top:20.0%"));
    }
}
