//! Pages as buyers have them: of each page that changed since an earlier version, the picture that it had there, to be shown
//! beside the one of now.

use super::documents::{Document, GAPS, drawn_page, looks};
use super::{Pictures, ProofInput, Small, Source};
use base::model::difference::Since;
use base::model::{Blob, Facts, Stop};
use inspect::pdf::drawing::Unopened;
use std::collections::BTreeMap;

/// So many pages have their earlier picture: a version in which all are drawn anew need not be drawn twice.
const SHOWN: usize = 60;

/// The version that buyers have.
#[derive(Clone, Copy)]
pub struct Before<'a> {
    /// What changed since.
    pub since: &'a Since,
    /// Its PDFs, by their paths.
    pub files: &'a BTreeMap<String, Blob>,
}

/// Draws the earlier pictures of pages that changed, at most `SHOWN` of them, in the order of the documents.
///
/// # Errors
/// That nobody wants them any more.
pub fn draw(
    sheet: &ProofInput,
    documents: &mut [Document],
    source: &dyn Source,
    pictures: &mut Pictures,
) -> Result<(), Stop> {
    let Some(before) = sheet.since else { return Ok(()) };
    let mut left = SHOWN;
    for document in documents {
        let Some(bytes) = before.files.get(&document.file) else { continue };
        let pairs = pairs(before.since, document);
        if pairs.is_empty() || left == 0 {
            continue;
        }
        let Facts::Pdf(pdf) = source.facts(&document.file, bytes) else { continue };
        let old = Document::plain(&document.file, &pdf);
        let looks = looks(&source.fingerprints(bytes), &old.pages);
        // What looks as it did says nothing beside itself.
        let changed =
            |(was, now): &(usize, usize)| looks.get(*was).is_some_and(|look| document.look(*now) != Some(*look));
        let pairs: Vec<(usize, usize)> = pairs.into_iter().filter(changed).take(left).collect();
        left -= pairs.len();
        let numbers: Vec<usize> = pairs.iter().map(|(was, _)| *was).collect();
        let pixels = document.pixels;
        let made = Unopened::new(bytes.clone()).each(&numbers, |page| {
            source.small(Small::Page(looks[page.number], pixels), &|| drawn_page(&page, pixels))
        });
        for ((was, now), picture) in pairs.into_iter().zip(made) {
            if let Some(picture) = picture? {
                let picture = picture.trim_start_matches(GAPS).to_owned();
                document.keep_before(now, was, pictures.add(picture));
            }
        }
    }
    Ok(())
}

/// Pages of a document that something is said of, as they were and as they are, each once, from 0.
fn pairs(since: &Since, document: &Document) -> Vec<(usize, usize)> {
    let told = since.found.differences.iter().filter(|d| d.path == document.file);
    let both = told.filter_map(|d| Some((d.page_new?.checked_sub(1)?, d.page_old?.checked_sub(1)?)));
    let each: BTreeMap<usize, usize> = both.filter(|(now, _)| *now < document.pages.len()).collect();
    each.into_iter().map(|(now, was)| (was, now)).collect()
}
