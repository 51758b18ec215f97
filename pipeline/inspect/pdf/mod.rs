//! PDF files, read with hayro-syntax, which shares no code with the libraries that write them.
//!
//! One walk over the pages collects everything; links are resolved against a table of page objects, so that 22,000 of
//! them cost no more than reading them. Trees and chains are followed with a memory of where one has been, so that a
//! file that bites its own tail ends the walk and not the program.

mod burden;
mod coded;
mod content;
mod destinations;
pub mod drawing;
pub mod fingerprint;
mod glyphs;
mod hygiene;
mod labels;
mod links;
pub mod look;
mod making;
pub mod order;
mod outline;
mod pictures;
mod resources;
mod skeleton;
mod sound;
mod strings;
mod time;
mod trees;
mod unpack;
mod xmp;

use base::model::Blob;
use base::model::facts::{Facts, PageFacts, PdfFacts};
use base::model::geometry::Size;
use base::model::held_once::HeldOnce;
use base::model::panics::{GaveUp, caught};
use hayro_syntax::object::{Array, Dict, MaybeRef, Name, Null, Number, Object, ObjectIdentifier};
use hayro_syntax::page::{Page, Rotation};
use hayro_syntax::xref::XRef;
use hayro_syntax::{DecryptionError, LoadPdfError, Pdf};
use rayon::prelude::*;
use std::collections::HashMap;
use std::panic::resume_unwind;
use std::sync::Arc;

/// The most pages that are looked at; what has more is refused.
pub(super) const MAX_PAGES: usize = 200_000;

/// How many pages are read one after the other at least.
const RUN: usize = 32;

/// Reads a PDF.
pub fn read(bytes: &Blob) -> Facts {
    let skeleton = skeleton::look(bytes);
    let mut facts = PdfFacts {
        version: skeleton.version.clone(),
        encrypted: skeleton.encrypted,
        repaired: !skeleton.damage.is_empty(),
        damage: skeleton.damage.clone(),
        ..PdfFacts::default()
    };
    if unpack::is_bomb(bytes) {
        return Facts::Unreadable("its object streams unpack to more than is safe to look at".to_owned());
    }
    let pdf = match Pdf::new(Arc::new(bytes.clone())) {
        Ok(pdf) => pdf,
        Err(LoadPdfError::Decryption(why)) => return locked(facts, why),
        Err(LoadPdfError::Invalid) => {
            let why = facts.damage.first().map_or("no page tree could be found", String::as_str);
            return Facts::Unreadable(format!("it begins like a PDF, but cannot be read: {why}"));
        }
    };
    if order::pages(&pdf).len() > MAX_PAGES {
        return Facts::Unreadable(format!("it has more than {MAX_PAGES} pages"));
    }
    // Either may run on another thread, where a library that gives up is to say nothing by itself.
    let (waste, filled) =
        rayon::join(|| caught(|| hygiene::waste(&skeleton, pdf.xref())), || caught(|| fill(&mut facts, &pdf, bytes)));
    let (waste, ()) = (kept(waste), kept(filled));
    (facts.duplicate_streams, facts.unused_objects) = (waste.copies, waste.unused);
    Facts::Pdf(Arc::new(facts))
}

/// What was made on another thread; what a library gave up on there ends the work here, as it would have.
fn kept<T>(made: Result<T, GaveUp>) -> T {
    made.unwrap_or_else(|GaveUp(said)| resume_unwind(Box::new(said)))
}

/// An encrypted file that does not open without a password: nothing inside can be checked.
fn locked(mut facts: PdfFacts, why: DecryptionError) -> Facts {
    facts.encrypted = true;
    facts.damage.push(match why {
        DecryptionError::PasswordProtected => "it opens only with a password".to_owned(),
        _ => "it is encrypted in a way that is not understood".to_owned(),
    });
    Facts::Pdf(Arc::new(facts))
}

/// Collects the facts of an open file.
fn fill(facts: &mut PdfFacts, pdf: &Pdf, bytes: &[u8]) {
    let root: Dict = pdf.xref().get(pdf.xref().root_id()).unwrap_or_default();
    catalog(facts, &root);
    facts.title_info = pdf.metadata().title.as_deref().map(strings::decode).filter(|t| !t.is_empty());
    facts.title = facts.title_xmp.clone().or_else(|| facts.title_info.clone());
    facts.info = making::of_info(pdf.metadata());

    let pages = &order::pages(pdf)[..];
    let mut index: HashMap<ObjectIdentifier, usize> = HashMap::new();
    for (i, page) in pages.iter().enumerate() {
        // Of a page that stands twice the first one is where a link leads.
        if let Some(id) = page.raw().obj_id() {
            index.entry(id).or_insert(i);
        }
    }
    let resolver = destinations::Resolver::new(&index, pdf.xref(), &root);
    let (mut scales, mut held) = (burden::Scales::default(), HeldOnce::default());
    let labels = labels::Labels::read(&root, pdf.xref());
    // Each run of pages holds the texts that repeat within it once while it is read, and afterwards the file does.
    let read = pages.par_iter().enumerate().with_min_len(RUN).map_init(HeldOnce::default, |held, (i, page)| {
        caught(|| {
            let mut read = boxes(page);
            read.label = labels.of(i);
            read.again = page.raw().obj_id().and_then(|id| index.get(&id).copied()).filter(|first| *first < i);
            links::read(page, &resolver, held, &mut read);
            read
        })
    });
    facts.pages = kept(read.collect::<Result<_, _>>());
    for (page, read) in pages.iter().zip(&mut facts.pages) {
        read.burden = scales.page(page);
        read.links.iter_mut().filter_map(|link| link.says.as_mut()).for_each(|says| held.take(says));
    }
    (facts.outline, facts.outline_faults) = outline::read(&root, &resolver);
    facts.actions = hygiene::actions(&root, pages, pdf.xref());
    let mut collected = resources::collect(pages, bytes.len() as u64);
    content::read(pages, &mut facts.pages, &collected.known, &mut collected.fonts, &mut collected.images);
    facts.fonts = collected.fonts;
    facts.images = collected.images;
    facts.bytes = collected.bytes;
}

/// What the catalog says of the document.
fn catalog(facts: &mut PdfFacts, root: &Dict) {
    if let Some(version) = root.get::<Name>("Version") {
        let later = String::from_utf8_lossy(&version).into_owned();
        if later > facts.version {
            facts.version = later;
        }
    }
    facts.language = text(root, "Lang").filter(|t| !t.is_empty());
    facts.shows_title =
        root.get::<Dict>("ViewerPreferences").and_then(|v| v.get::<bool>("DisplayDocTitle")) == Some(true);
    facts.claimed_pages = root.get::<Dict>("Pages").and_then(|p| integer(&p, "Count"));
    if let Some(xmp) = xmp::read(root) {
        facts.title_xmp = xmp.title;
        facts.language_xmp = xmp.language;
        facts.xmp = Some(xmp.making);
    }
}

/// A page's boxes, rotation and unit.
fn boxes(page: &Page) -> PageFacts {
    let media = page.media_box();
    let crop = page.crop_box();
    let shown = page.intersected_crop_box();
    let turned = match page.rotation() {
        Rotation::None => 0,
        Rotation::Horizontal => 90,
        Rotation::Flipped => 180,
        Rotation::FlippedHorizontal => 270,
    };
    PageFacts {
        size: Size::new(shown.width(), shown.height()),
        media_box: [media.x0, media.y0, media.x1, media.y1],
        crop_box: [crop.x0, crop.y0, crop.x1, crop.y1],
        stray_boxes: stray_boxes(page, [media.x0, media.y0, media.x1, media.y1]),
        rotate: integer(page.raw(), "Rotate").unwrap_or(turned),
        user_unit: number(page.raw(), "UserUnit").unwrap_or(1.0),
        ..PageFacts::default()
    }
}

/// Boxes for printers that do not lie within the MediaBox (ISO 32000-1, 14.11.2.1 and table 30).
fn stray_boxes(page: &Page, media: [f64; 4]) -> Vec<String> {
    let within = |b: &[f64]| match *b {
        [x0, y0, x1, y1] => {
            let [low, high] = [x0.min(x1) + 0.5, y0.min(y1) + 0.5];
            let [right, top] = [x0.max(x1) - 0.5, y0.max(y1) - 0.5];
            low >= media[0] && high >= media[1] && right <= media[2] && top <= media[3] && low < right && high < top
        }
        _ => false,
    };
    let mut stray = Vec::new();
    for key in ["TrimBox", "BleedBox", "ArtBox"] {
        let Some(array) = page.raw().get::<Array>(key) else { continue };
        let numbers: Vec<f64> =
            items(&array, page.xref()).filter_map(Object::into_number).map(|n| n.as_f64()).collect();
        if !within(&numbers) {
            stray.push(key.to_owned());
        }
    }
    stray
}

/// A number of a dictionary.
fn number(dict: &Dict, key: &str) -> Option<f64> {
    dict.get::<Number>(key).map(|n| n.as_f64())
}

/// A whole number of a dictionary.
fn integer(dict: &Dict, key: &str) -> Option<i64> {
    dict.get::<Number>(key).map(|n| n.as_i64())
}

/// A text string of a dictionary.
fn text(dict: &Dict, key: &str) -> Option<String> {
    dict.get::<hayro_syntax::object::String>(key).map(|s| strings::decode(s.as_bytes()))
}

/// A name of a dictionary.
fn name(dict: &Dict, key: &str) -> Option<String> {
    dict.get::<Name>(key).map(|n| String::from_utf8_lossy(&n).into_owned())
}

/// A value of a dictionary; one that is there but null counts as absent (ISO 32000-1, 7.3.9).
fn value<'a>(dict: &Dict<'a>, key: &str) -> Option<Object<'a>> {
    dict.get::<Object>(key).filter(|o| !matches!(o, Object::Null(_)))
}

/// The items of an array, references followed; one that leads to nothing is null, and does not end the list.
fn items<'a>(array: &Array<'a>, xref: &'a XRef) -> impl Iterator<Item = Object<'a>> + use<'a> {
    array.raw_iter().map(move |item| resolve(item, xref))
}

/// The object itself or the one that the reference means; null when there is none.
fn resolve<'a>(item: MaybeRef<Object<'a>>, xref: &'a XRef) -> Object<'a> {
    match item {
        MaybeRef::Ref(r) => xref.get::<Object>(r.into()).unwrap_or(Object::Null(Null)),
        MaybeRef::NotRef(object) => object,
    }
}
