//! The shop's limits: of the title, the tags, the files to upload and the pictures of a listing.
//!
//! They are known from the manifest, or from the record of a bundle. A folder with a listing and no record is held
//! against what shops commonly allow, and the findings say so.

use super::bundle::{self, Record};
use super::catalogue::{Findings, found};
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected, without_escapes};
use base::model::product::Limits;
use base::model::units::byte_size;
use base::model::{Plan, Product, SourceSpan, Where};

/// Limits, and whether it is known that they are those of the shop.
struct Shop<'a> {
    limits: &'a Limits,
    words: &'static str,
}

/// A product and what was planned of its listing; the uploads are among the files.
pub fn planned(files: &[Inspected], product: &Product, plan: &Plan, findings: &mut Findings) {
    let shop = Shop { limits: &product.limits, words: "the shop allows" };
    let at = Where::file("product.toml");
    title(&product.listing.title, &at, &shop, findings);
    let tags: Vec<(String, Where)> = product.listing.tags.iter().map(|tag| (tag.clone(), at.clone())).collect();
    self::tags(&tags, &at, &shop, findings);
    let list: Vec<&Inspected> = files.iter().filter(|f| f.kind == Some(Kind::Upload)).collect();
    uploads(&list, "upload", &shop, findings);
    let sizes: Vec<Picture> = plan
        .pictures
        .iter()
        .filter(|p| !p.film)
        .map(|p| Picture { path: &p.path, sides: [p.width, p.height], bytes: p.bytes })
        .collect();
    pictures(&sizes, &shop, findings);
}

/// Bundles and listings as they lie on the disk.
pub fn found(files: &[Inspected], findings: &mut Findings) {
    let records = bundle::records(files);
    for record in &records {
        let below: Vec<&Inspected> = files.iter().filter(|f| f.path.starts_with(&record.folder)).collect();
        // What a record states was promised by whoever wrote it.
        findings.planned = record.limits.is_some();
        lying(&below, Some(record), findings);
        findings.planned = false;
    }
    let others: Vec<&Inspected> =
        files.iter().filter(|f| !records.iter().any(|r| f.path.starts_with(&r.folder))).collect();
    lying(&others, None, findings);
}

/// The files of one bundle, or those that belong to none.
fn lying(files: &[&Inspected], record: Option<&Record>, findings: &mut Findings) {
    let usual = Limits::default();
    let shop = match record.and_then(|r| r.limits.as_ref()) {
        Some(limits) => Shop { limits, words: "the shop allows" },
        None => Shop { limits: &usual, words: "shops commonly allow" },
    };
    for file in files {
        let Facts::Text(text) = &file.facts else { continue };
        if super::listing::is_description(file) {
            let mut lines = text.text.lines().enumerate().skip_while(|(_, line)| line.trim().is_empty());
            if let Some((n, line)) = lines.next()
                && let Some(words) = line.strip_prefix("# ")
            {
                let span = SourceSpan {
                    line: n + 1,
                    column: 3,
                    text: line.to_owned(),
                    width: words.chars().count().max(1),
                    file: None,
                };
                title(&without_escapes(words), &Where::file(&file.path).span(span), &shop, findings);
            }
        } else if file.name().eq_ignore_ascii_case("tags.txt") {
            tags(&stated_tags(file, &text.text), &Where::file(&file.path), &shop, findings);
        }
    }
    let list: Vec<&Inspected> = files.iter().copied().filter(|f| f.kind == Some(Kind::Upload)).collect();
    uploads(&list, &format!("{}upload", record.map_or("", |r| &r.folder)), &shop, findings);
    let sizes: Vec<Picture> = files.iter().filter_map(|f| picture(f)).collect();
    pictures(&sizes, &shop, findings);
}

/// Tags a line each, or with commas between them, with their places.
fn stated_tags(file: &Inspected, text: &str) -> Vec<(String, Where)> {
    let mut out = Vec::new();
    for (n, line) in text.lines().enumerate() {
        let mut column = 1;
        for part in line.split(',') {
            let tag = part.trim();
            if !tag.is_empty() {
                let column = column + part.chars().take_while(|c| c.is_whitespace()).count();
                let span =
                    SourceSpan { line: n + 1, column, text: line.to_owned(), width: tag.chars().count(), file: None };
                out.push((tag.to_owned(), Where::file(&file.path).span(span)));
            }
            column += part.chars().count() + 1;
        }
    }
    out
}

fn title(text: &str, at: &Where, shop: &Shop, findings: &mut Findings) {
    let (is, most) = (text.chars().count(), shop.limits.title);
    if is > most {
        let words = shop.words;
        found!(findings, "title-too-long", at.clone(), "the listing's title has {is} characters, {words} {most}");
    }
}

fn tags(tags: &[(String, Where)], at: &Where, shop: &Shop, findings: &mut Findings) {
    let (is, most, words) = (tags.len(), shop.limits.tags, shop.words);
    if is > most {
        found!(findings, "too-many-tags", at.clone(), "there are {is} tags, {words} {most}");
    }
    for (tag, at) in tags {
        let (is, most) = (tag.chars().count(), shop.limits.tag);
        if is > most {
            let at = at.clone();
            found!(findings, "tag-too-long", at, "the tag \u{201c}{tag}\u{201d} has {is} characters, {words} {most}");
        }
    }
}

fn uploads(list: &[&Inspected], folder: &str, shop: &Shop, findings: &mut Findings) {
    let (is, most, words) = (list.len(), shop.limits.files, shop.words);
    if is > most {
        let at = Where::file(folder);
        found!(findings, "too-many-slots", at, "there are {is} files to upload, {words} {most}");
    }
    for upload in list.iter().filter(|upload| upload.size > shop.limits.bytes) {
        let [is, most] = sizes(upload.size, shop.limits.bytes);
        let at = Where::file(&upload.path);
        found!(findings, "slot-too-large", at, "the file has {is}, {words} {most}");
    }
}

/// Two sizes in words that show that they differ.
fn sizes(is: u64, most: u64) -> [String; 2] {
    let round = [is, most].map(byte_size);
    if round[0] == round[1] { [is, most].map(|bytes| format!("{bytes} bytes")) } else { round }
}

/// A listing picture.
struct Picture<'a> {
    path: &'a str,
    sides: [u32; 2],
    bytes: u64,
}

/// A file that is a picture of a listing, by its record or by the folder that it lies in. Films have a place of their own in shops (common
/// practice, no source).
fn picture(file: &Inspected) -> Option<Picture<'_>> {
    let folder = format!("/{}", file.path).contains("/listing/pictures/");
    if file.kind != Some(Kind::Picture) && !(file.kind.is_none() && folder) {
        return None;
    }
    let sides = match &file.facts {
        Facts::Png(png) => [png.width, png.height],
        Facts::Picture(picture) if picture.milliseconds.is_none() => [picture.width, picture.height],
        _ => return None,
    };
    Some(Picture { path: &file.path, sides, bytes: file.size })
}

fn pictures(list: &[Picture], shop: &Shop, findings: &mut Findings) {
    let limits = shop.limits;
    let count = list.len();
    if let (Some(most), Some(first)) = (limits.pictures.filter(|most| count > *most), list.first()) {
        let at = Where::file(first.path.rsplit_once('/').map_or("", |(folder, _)| folder));
        found!(findings, "too-many-pictures", at, "there are {count} listing pictures, the shop takes {most}");
    }
    for picture in list {
        let at = || Where::file(picture.path);
        let [w, h] = picture.sides;
        if let Some(most) = limits.picture_pixels.filter(|most| w.max(h) > *most) {
            let message = format!("the picture is {w} \u{d7} {h} px, the shop takes {most} px a side");
            found!(findings, "picture-side-too-long", at(), "{message}");
        }
        if let Some(most) = limits.picture_bytes.filter(|most| picture.bytes > *most) {
            let [is, most] = sizes(picture.bytes, most);
            found!(findings, "picture-too-heavy", at(), "the picture has {is}, the shop takes {most}");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_are_read_a_line_each_or_between_commas() {
        let file = inspect::inspect("listing/tags.txt", None, &b"garden\n seed tin, plot ,\n".to_vec().into());
        let Facts::Text(text) = &file.facts else { panic!("a text") };
        let tags: Vec<_> = stated_tags(&file, &text.text)
            .into_iter()
            .map(|(tag, at)| (tag, at.span.map_or((0, 0), |s| (s.line, s.column))))
            .collect();
        let want = [("garden", (1, 1)), ("seed tin", (2, 2)), ("plot", (2, 12))];
        assert_eq!(tags, want.map(|(tag, at)| (tag.to_owned(), at)));
        assert_eq!(without_escapes(r"Beds \& tins \(A5\)"), "Beds & tins (A5)");
    }
}
