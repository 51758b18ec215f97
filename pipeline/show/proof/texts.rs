//! Uploads, listing, licence terms and the list of files, each with what it may measure at most.

use super::{ProofInput, variants};
use base::model::facts::{Inspected, without_escapes};
use base::model::units::{byte_size, trim_number};
use base::model::{Facts, Kind};
use serde::Serialize;

/// A file to upload.
#[derive(Serialize)]
pub struct Upload {
    name: String,
    size: String,
    limit: Option<String>,
    /// Share of the limit in per cent, for the bar.
    share: Option<String>,
    over: bool,
    entries: Vec<(String, String)>,
}

/// How many of the shop's files are used.
#[derive(Serialize)]
pub struct Slots {
    used: usize,
    limit: Option<usize>,
    over: bool,
}

/// A text that is pasted somewhere, with its measure.
#[derive(Serialize)]
pub struct Text {
    id: String,
    name: String,
    text: String,
    characters: usize,
    limit: Option<usize>,
    over: bool,
    /// For a text that only one variant has.
    only: String,
}

/// What is pasted into the shop.
#[derive(Serialize)]
pub struct Pasted {
    texts: Vec<Text>,
    tags: Vec<Text>,
    tags_limit: Option<usize>,
    tags_over: bool,
    all_tags: String,
}

/// The files to upload.
pub fn uploads(sheet: &ProofInput) -> Vec<Upload> {
    let limit = sheet.limits.map(|l| l.bytes);
    let files = sheet.files.iter().filter(|(f, _)| f.path.starts_with("upload/"));
    files
        .map(|(f, _)| Upload {
            name: f.name().to_owned(),
            size: byte_size(f.size),
            limit: limit.map(byte_size),
            share: limit.map(|l| trim_number(100.0 * f.size as f64 / l.max(1) as f64, 1)),
            over: limit.is_some_and(|l| f.size > l),
            entries: entries(f),
        })
        .collect()
}

fn entries(file: &Inspected) -> Vec<(String, String)> {
    match &file.facts {
        Facts::Zip(zip) => {
            zip.entries.iter().filter(|e| !e.folder).map(|e| (e.name.clone(), byte_size(e.size))).collect()
        }
        _ => Vec::new(),
    }
}

/// The slots.
pub fn slots(sheet: &ProofInput) -> Slots {
    let used = sheet.files.iter().filter(|(f, _)| f.path.starts_with("upload/")).count();
    let limit = sheet.limits.map(|l| l.files);
    Slots { used, limit, over: limit.is_some_and(|l| used > l) }
}

/// The text of a file of the bundle, read whole.
fn text(sheet: &ProofInput, path: &str) -> Option<String> {
    let (_, bytes) = sheet.files.iter().find(|(f, _)| f.path == path)?;
    Some(String::from_utf8_lossy(bytes).into_owned())
}

fn measured(id: &str, name: &str, text: String, limit: Option<usize>) -> Text {
    let characters = text.trim_end().chars().count();
    Text {
        id: id.to_owned(),
        name: name.to_owned(),
        text,
        characters,
        limit,
        over: limit.is_some_and(|l| characters > l),
        only: String::new(),
    }
}

/// Title, description, list of files and tags.
pub fn listing(sheet: &ProofInput) -> Pasted {
    let limits = sheet.limits;
    let description = text(sheet, "listing/description.md");
    let mut texts = Vec::new();
    if let Some(description) = description {
        let (first, rest) = description.split_once('\n').unwrap_or((&description, ""));
        if let Some(title) = first.strip_prefix("# ") {
            texts.push(measured("title", "Title", without_escapes(title), limits.map(|l| l.title)));
            texts.push(measured("description", "Description", rest.trim_start().to_owned(), None));
        } else {
            texts.push(measured("description", "Description", description.clone(), None));
        }
    }
    if let Some(files) = text(sheet, "listing/files.txt") {
        texts.push(measured("list-of-files", "List of files", files, None));
    }
    let all_tags = text(sheet, "listing/tags.txt").unwrap_or_default();
    let tags: Vec<Text> = all_tags
        .lines()
        .enumerate()
        .map(|(n, tag)| measured(&format!("tag-{n}"), "Tag", tag.to_owned(), limits.map(|l| l.tag)))
        .collect();
    let tags_limit = limits.map(|l| l.tags);
    let tags_over = tags_limit.is_some_and(|l| tags.len() > l);
    let all_tags = all_tags.lines().collect::<Vec<_>>().join(", ");
    Pasted { texts, tags, tags_limit, tags_over, all_tags }
}

/// Licence terms and the text to read first, in the words of each variant where they differ.
pub fn plain(sheet: &ProofInput) -> Vec<Text> {
    let mut out = Vec::new();
    for (id, name, kind) in
        [("licence", "Licence terms", Kind::Licence), ("start-here", "To read first", Kind::StartHere)]
    {
        let mut seen = Vec::new();
        for (file, _) in sheet.files.iter().filter(|(f, _)| f.kind == Some(kind) && f.path.starts_with("contents/")) {
            let variant = sheet.variant_of(&file.path);
            let Some(text) = text(sheet, &file.path).filter(|_| !seen.contains(&variant)) else { continue };
            seen.push(variant);
            let id = variant.map_or(id.to_owned(), |v| format!("{id}-{v}"));
            out.push(Text { only: variants::only(variant.as_slice()), ..measured(&id, name, text, None) });
        }
    }
    out
}

/// Every file: path, size, digest.
pub fn files(sheet: &ProofInput) -> Vec<(String, String, String)> {
    sheet.files.iter().map(|(f, _)| (f.path.clone(), byte_size(f.size), f.sha256.clone())).collect()
}
