//! The closing table of a build: what was made, its sizes against the shop's limits, what the checks say, where it lies,
//! and what comes next.

use super::diff_report;
use super::report::plural;
use crate::driver::{Built, MadeFile};
use base::files::slashed;
use base::model::Kind;
use base::model::units::byte_size;
use base::model::variant;
use judge::validate;
use std::fmt::Write as _;
use std::time::Duration;

/// Columns of the bar that shows how full a file is.
const BAR: usize = 20;
/// Columns of the names in front of the rows.
const NAMES: usize = 10;

/// The table.
pub fn summary(built: &Built, took: Duration) -> String {
    let product = &built.product;
    let mut out = String::new();
    for note in &built.notes {
        let _ = writeln!(out, "note: {note}");
    }
    let _ = writeln!(out, "{} {}", product.name, product.version);
    let mut row = |name: &str, text: String| {
        let _ = writeln!(out, "  {name:<NAMES$}{text}");
    };
    for (i, line) in contents(built).into_iter().enumerate() {
        row(if i == 0 { "made" } else { "" }, line);
    }
    for (i, line) in uploads(built).into_iter().enumerate() {
        row(if i == 0 { "upload" } else { "" }, line);
    }
    row("listing", listing(built));
    let (errors, warnings, notes) = validate::counts(&built.findings);
    row("checks", format!("{}, {}, {}", plural(errors, "error"), plural(warnings, "warning"), plural(notes, "note")));
    if let Some(line) = &built.since {
        row("changed", format!("since the last build: {line}"));
    }
    if let Some(since) = &built.earlier {
        row(if built.since.is_some() { "" } else { "changed" }, diff_report::since(since));
    }
    row("took", format!("{:.2} s", took.as_secs_f64()));
    let proof = built.proof.as_ref().map(|p| slashed(p));
    match (&built.folder, proof) {
        (Some(folder), Some(proof)) => {
            row("lies in", slashed(folder));
            let count = built.files.iter().filter(|f| f.path.starts_with("upload/")).count();
            row("next", format!("look it over in {proof}"));
            row("", format!("then upload the {} of {}", plural(count, "file"), slashed(&folder.join("upload"))));
        }
        (Some(folder), None) => row("lies in", slashed(folder)),
        (None, proof) => {
            row("lies in", "nowhere: what the checks found stops it; an earlier bundle stays as it is".to_owned());
            if let Some(proof) = proof {
                row("next", format!("see each place in {proof}"));
                row("", "mend the errors above, then build again".to_owned());
            } else {
                row("next", "mend the errors above, then build again".to_owned());
            }
        }
    }
    out
}

/// What buyers get, a line for each kind of thing.
fn contents(built: &Built) -> Vec<String> {
    let of = |kind: Kind| built.files.iter().filter(move |f| f.kind == kind && f.path.starts_with("contents/"));
    let pages = |kind: Kind| of(kind).map(|f| f.pages).sum::<usize>();
    let size = |kind: Kind| byte_size(of(kind).map(|f| f.size).sum());
    let mut out = Vec::new();
    let variants = &built.product.variants.all;
    if !variants.is_empty() {
        out.push(plural(variants.len(), "variant"));
    }
    // What every variant has of its own is counted in the first.
    let mine = |f: &&&MadeFile| built.product.variants.has(&f.path);
    let times = |kind: Kind| {
        let own = of(kind).filter(|f| variant::of(variants, &f.path).is_some()).count();
        if own == 0 { "" } else { " in each" }
    };
    let counted = |kind: Kind| of(kind).filter(|f| mine(&f)).map(|f| f.pages).sum::<usize>();
    if pages(Kind::Notebook) > 0 {
        let each: Vec<usize> = (0..variants.len())
            .map(|i| of(Kind::Notebook).filter(|f| variant::of(variants, &f.path) == Some(i)).map(|f| f.pages).sum())
            .collect();
        let of_pages = match (each.iter().min(), each.iter().max()) {
            (Some(least), Some(most)) if least < most && *least > 0 => format!("{least} to {}", plural(*most, "page")),
            _ => plural(counted(Kind::Notebook), "page"),
        };
        out.push(format!("notebook of {of_pages}{}, {}", times(Kind::Notebook), size(Kind::Notebook)));
    }
    if pages(Kind::Covers) > 0 {
        let covers = plural(counted(Kind::Covers), "cover");
        out.push(format!("{covers}{}, {}", times(Kind::Covers), size(Kind::Covers)));
    }
    let stickers = of(Kind::Sticker).filter(|f| mine(&f)).count();
    if stickers > 0 {
        // The pages of the PDF, or the pictures of the same pages where there is no PDF.
        let in_pdf = counted(Kind::Sheet);
        let sheets = if in_pdf > 0 { in_pdf } else { of(Kind::Sheet).filter(|f| mine(&f)).count() };
        let laid = if sheets > 0 { format!(", and {} of them", plural(sheets, "sheet")) } else { String::new() };
        let all = of(Kind::Sticker).chain(of(Kind::Sheet)).map(|f| f.size).sum();
        out.push(format!("{}{laid}, {}", plural(stickers, "sticker"), byte_size(all)));
    }
    let guide = counted(Kind::Guide);
    let texts = of(Kind::Licence).chain(of(Kind::StartHere)).chain(of(Kind::DeliveryCard)).count();
    let guided = if guide > 0 { format!("guide of {}, ", plural(guide, "page")) } else { String::new() };
    out.push(format!("{guided}{} beside", plural(texts, "text")));
    out
}

/// The files to upload with a bar each, and how many of the shop's files they are.
fn uploads(built: &Built) -> Vec<String> {
    let limits = &built.product.limits;
    let files: Vec<&MadeFile> = built.files.iter().filter(|f| f.path.starts_with("upload/")).collect();
    let names = files.iter().map(|f| f.path.trim_start_matches("upload/"));
    let wide = names.clone().map(|n| n.chars().count()).max().unwrap_or(0);
    let line = |(name, file): (&str, &&MadeFile)| {
        let part = file.size as f64 / limits.bytes.max(1) as f64;
        let of = format!("{} of {}", byte_size(file.size), byte_size(limits.bytes));
        format!("{name:<wide$}  {}  {:>3.0} %  {of}", bar(part), part * 100.0)
    };
    let mut out: Vec<String> = names.zip(&files).map(line).collect();
    out.push(format!("{} of the shop's {} files", files.len(), limits.files));
    out
}

/// A bar that is never empty for something and never full for less than all.
fn bar(part: f64) -> String {
    let most = if part >= 1.0 { BAR } else { BAR - 1 };
    let full = ((part * BAR as f64).round() as usize).max(usize::from(part > 0.0)).min(most);
    format!("{}{}", "#".repeat(full), ".".repeat(BAR - full))
}

/// What is pasted into the shop, against its limits.
fn listing(built: &Built) -> String {
    let (limits, listing) = (&built.product.limits, &built.product.listing);
    let pictures = built.files.iter().filter(|f| f.kind == Kind::Picture).count();
    let most = limits.pictures.map_or(String::new(), |n| format!(" of {n}"));
    format!(
        "title {} of {} characters, {} of {} tags, {pictures}{most} {}",
        listing.title.chars().count(),
        limits.title,
        listing.tags.len(),
        limits.tags,
        if pictures == 1 && most.is_empty() { "picture" } else { "pictures" }
    )
}

#[cfg(test)]
mod tests {
    use super::bar;

    #[test]
    fn bars_are_full_only_when_the_file_is() {
        assert_eq!(bar(0.0), ".".repeat(20));
        assert_eq!(bar(0.001), format!("#{}", ".".repeat(19)));
        assert_eq!(bar(0.5), format!("{}{}", "#".repeat(10), ".".repeat(10)));
        assert_eq!(bar(0.999), format!("{}.", "#".repeat(19)));
        assert_eq!(bar(7.0), "#".repeat(20));
    }
}
