//! Update packs: what people who have an older version take over from a new one.

use super::session::{Session, Task};
use super::versions;
use super::versions::Sides;
use crate::world::{day_of, files_below};
use base::files::slashed;
use base::model::pack::{Book, FOLDER, Pack};
use base::model::product::Date;
use base::model::{Artifact, Blob, Facts, Fault, Kind, Stop};
use draw::Fonts;
use inspect::Reader;
use judge::diff::{self, Compared, Tree};
use plan::pack::Words;
use render::pdf;
use std::collections::BTreeMap;
use std::path::Path;

/// The text of a pack that is read first.
const READ_FIRST: &str = "read-first.md";

/// A pack that was made.
pub struct Packed {
    /// What was taken over and what was not.
    pub pack: Pack,
    /// The files, by their paths in the pack; none if there is nothing to take over.
    pub files: Vec<(String, Blob)>,
}

/// Whether a pack can be written there: to a folder that is not there yet, or to an empty one.
///
/// # Errors
/// A folder with files in it, or a file.
pub fn is_free(folder: &Path) -> Result<(), Fault> {
    if !folder.exists() || (folder.is_dir() && files_below(folder)?.is_empty()) {
        return Ok(());
    }
    let message = if folder.is_dir() {
        "there are files in it already; a pack is written to a folder of its own"
    } else {
        "this is a file; a pack is written to a folder"
    };
    Err(Fault::new(message).in_file(slashed(folder)).help("name a folder that is not there yet, or an empty one"))
}

/// Makes the pack of a comparison.
///
/// # Errors
/// A PDF whose pages cannot be copied.
pub fn make(compared: &Compared, (old, new): (&Tree, &Tree), reader: &dyn Reader) -> Result<Packed, Stop> {
    let pack = diff::pack::pack(compared, old, new, reader);
    if pack.is_empty() {
        return Ok(Packed { pack, files: Vec::new() });
    }
    let style = plan::pack::style();
    let fonts = Fonts::open(&style.fonts)?;
    let bytes = |path: &str| new.get(path).and_then(|leaf| leaf.bytes.clone());
    let outside = |path: &str| path.strip_prefix("contents/").unwrap_or(path).to_owned();
    let mut files: BTreeMap<String, (Blob, Option<&Book>)> = BTreeMap::new();
    for path in &pack.whole {
        files.extend(bytes(path).map(|bytes| (outside(path), (bytes, None))));
    }
    let version = compared.found.numbers.as_ref().map(|n| n.new.as_str());
    let (mut faults, mut told) = (Vec::new(), Vec::new());
    for book in pack.books.iter().filter(|book| !book.runs.is_empty()) {
        let Some(source) = bytes(&book.path) else { continue };
        let named = |why: String| Fault::new(format!("its pages cannot be copied: {why}")).in_file(&book.path);
        match pages_of(book, &source, version, compared.found.released.as_deref(), (&style, &fonts), reader) {
            Ok(made) => {
                let whole = outside(&book.path);
                let stem = whole.rsplit_once('.').map_or(whole.as_str(), |(stem, _)| stem);
                files.insert(format!("{stem}-update.pdf"), (made.into(), Some(book)));
            }
            Err(why) => {
                faults.push(named(why).help("write the file anew with the program that made it, then compare again"))
            }
        }
    }
    if !faults.is_empty() {
        return Err(faults.into());
    }
    told.extend(files.iter().map(|(path, (_, book))| (path.clone(), *book)));
    let note = versions::change_note(&compared.found);
    let words = Words::of(compared.found.language.as_deref());
    let text = words.read_first(&note.text, &pack, &told);
    let mut files: Vec<(String, Blob)> = files.into_iter().map(|(path, (bytes, _))| (path, bytes)).collect();
    files.push((READ_FIRST.to_owned(), text.into_bytes().into()));
    Ok(Packed { files, pack })
}

/// The PDF of a book's new and changed pages.
fn pages_of(
    book: &Book,
    source: &Blob,
    version: Option<&str>,
    released: Option<&str>,
    (style, fonts): (&base::model::product::Style, &Fonts),
    reader: &dyn Reader,
) -> Result<Vec<u8>, String> {
    let Facts::Pdf(facts) = reader.facts(&book.path, source) else { return Err("it is no PDF".to_owned()) };
    let first = book.pages().next().and_then(|page| facts.pages.get(page)).ok_or("it has no pages")?;
    let said = |faults: Vec<Fault>| faults.first().map(|f| f.message.clone()).unwrap_or_default();
    let planned = plan::pack::pack(book, version, first.shown(), (style, fonts)).map_err(said)?;
    let words = Words::on_paper(book.language.as_deref(), fonts);
    let made = facts.info.created.or_else(|| facts.xmp.as_ref().and_then(|xmp| xmp.created));
    let about = pdf::About {
        author: facts.info.author.as_deref().unwrap_or_default(),
        language: words.tag(),
        date: released.and_then(date).unwrap_or_else(|| day_of(made.unwrap_or_default())),
        classic: facts.version.as_str() < "1.5",
        hasty: false,
    };
    pdf::pack(&planned.pdf, &planned.copied, (source, &facts), &about, fonts)
}

fn date(text: &str) -> Option<Date> {
    let mut parts = text.split('-');
    let mut next = || parts.next();
    Some(Date { year: next()?.parse().ok()?, month: next()?.parse().ok()?, day: next()?.parse().ok()? })
}

/// The pack of a build, where its manifest asks for one and there is an earlier version; nothing where nothing can be taken
/// over. It follows from both versions and is not in the record of either. `made` is a comparison of the two in which every
/// redrawn page was drawn, if there is one.
pub fn of_build(session: &Session, sides: &Sides, made: Option<Compared>) -> Result<Vec<Artifact>, Stop> {
    let Sides { old, new, .. } = sides;
    let made = session.ask(Task::new("update pack", &(versions::digests(old), versions::digests(new))), || {
        let options = diff::DiffOptions { drawn: usize::MAX, ..diff::DiffOptions::default() };
        let compared = made.unwrap_or_else(|| diff::compare(old.clone(), new.clone(), None, options, session));
        let packed = make(&compared, (old, new), session)?;
        let file = |(path, bytes)| Artifact { path: format!("{}{path}", FOLDER), kind: Kind::Listing, bytes };
        Ok(packed.files.into_iter().map(file).collect::<Vec<Artifact>>())
    })?;
    Ok(made.to_vec())
}
