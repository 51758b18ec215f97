//! A page of the designer's own PDF file as art: its size as it is seen, its tap areas, and what makes it unfit.

use super::page::{Frame, content, direct, frame, numbers, open};
use super::{PT_PER_PX, ink};
use base::model::art::{Tap, TapTo};
use base::model::geometry::{Rect, Size};
use base::model::{Fault, panics};
use lopdf::{Document, Object, ObjectId};
use std::collections::BTreeSet;

/// A page of a PDF file, read.
#[derive(Debug)]
pub struct PdfPage {
    /// Its size as it is seen, in points.
    pub size: Size,
    /// Its tap areas, in the units of a drawing (CSS pixels).
    pub taps: Vec<Tap>,
    /// What is left out of it.
    pub notes: Vec<String>,
}

/// Reads a page, counted from 0.
///
/// # Errors
/// A file that is no sound PDF, is locked, is drawn in ink colours, or has no such page.
pub fn read(bytes: &[u8], page: usize) -> Result<PdfPage, Fault> {
    let read = panics::fenced(|| read_here(bytes, page));
    read.unwrap_or_else(|gave_up| Err(Fault { file: None, ..gave_up.fault("PDF", "") }))
}

fn read_here(bytes: &[u8], page: usize) -> Result<PdfPage, Fault> {
    let doc = open(bytes)?;
    let pages = doc.get_pages();
    let number = page as u32 + 1;
    let Some(id) = pages.get(&number).copied() else {
        let count = pages.len();
        return Err(Fault::new(format!("there is no page {number} in this PDF, which has {count}"))
            .help(format!("set page to a number from 1 to {count}")));
    };
    let again = "export the page again as PDF, SVG or PNG";
    let about = |what: String| Fault::new(format!("page {number}: {what}")).help(again);
    let frame = frame(&doc, id).map_err(about)?;
    let content = content(&doc, id).map_err(about)?;
    if switched_off(&doc) {
        return Err(Fault::new("the PDF has layers that are switched off, which would be seen on the page")
            .help("export it without the hidden layers, or flattened"));
    }
    if let Some(what) = ink::found(&doc, id, &content) {
        return Err(Fault::new(format!("page {number}: {what} in CMYK, the colours of printing ink"))
            .help("export it in sRGB: screens have no ink, and a guess would change your colours"));
    }
    let mut sheet = PdfPage { size: frame.size, taps: Vec::new(), notes: Vec::new() };
    annotations(&doc, id, &frame, &mut sheet, number);
    Ok(sheet)
}

/// Whether the file has layers that are not shown when it is opened (8.11.4.3).
fn switched_off(doc: &Document) -> bool {
    let layers = doc.catalog().ok().and_then(|c| c.get(b"OCProperties").ok()).map(|o| direct(doc, o));
    let Some(shown) = layers.and_then(|l| l.as_dict().ok()?.get(b"D").ok()).map(|o| direct(doc, o)) else {
        return false;
    };
    let Ok(shown) = shown.as_dict() else { return false };
    let off = shown.get(b"OFF").ok().map(|o| direct(doc, o)).and_then(|o| o.as_array().ok());
    off.is_some_and(|list| !list.is_empty())
        || shown.get(b"BaseState").is_ok_and(|s| s.as_name().is_ok_and(|n| n == b"OFF"))
}

fn annotations(doc: &Document, page: ObjectId, frame: &Frame, sheet: &mut PdfPage, number: u32) {
    let Ok(own) = doc.get_dictionary(page) else { return };
    let list = own.get(b"Annots").ok().map(|o| direct(doc, o)).and_then(|o| o.as_array().ok());
    let mut others = 0;
    for annotation in list.into_iter().flatten() {
        let Ok(annotation) = direct(doc, annotation).as_dict() else { continue };
        match annotation.get(b"Subtype").and_then(Object::as_name) {
            Ok(b"Link") => {}
            Ok(b"Popup") | Err(_) => continue,
            Ok(_) => {
                others += 1;
                continue;
            }
        }
        let rect = annotation.get(b"Rect").map(|r| numbers(doc, r)).unwrap_or_default();
        let [x0, y0, x1, y1] = rect[..] else { continue };
        let [a, b, c, d, e, f] = frame.matrix;
        let seen = |x: f64, y: f64| (a * x + c * y + e, frame.size.h - (b * x + d * y + f));
        let ((ax, ay), (bx, by)) = (seen(x0, y0), seen(x1, y1));
        let rect = Rect::new(ax.min(bx), ay.min(by), (ax - bx).abs(), (ay - by).abs());
        let rect = Rect::new(rect.x / PT_PER_PX, rect.y / PT_PER_PX, rect.w / PT_PER_PX, rect.h / PT_PER_PX);
        match target(doc, annotation) {
            Some(to) => sheet.taps.push(Tap { rect, to }),
            None => others += 1,
        }
    }
    if others > 0 {
        let what = if others == 1 {
            "1 note, form field or action is"
        } else {
            &format!("{others} notes, form fields or actions are")
        };
        sheet.notes.push(format!("page {number}: {what} left out, only what is drawn and plain links are taken"));
    }
}

fn target(doc: &Document, link: &lopdf::Dictionary) -> Option<TapTo> {
    if let Ok(dest) = link.get(b"Dest") {
        return destination(doc, dest);
    }
    let action = direct(doc, link.get(b"A").ok()?).as_dict().ok()?;
    match action.get(b"S").and_then(Object::as_name).ok()? {
        b"URI" => {
            let address = direct(doc, action.get(b"URI").ok()?).as_str().ok()?;
            Some(TapTo::Address(String::from_utf8_lossy(address).into_owned()))
        }
        b"GoTo" => destination(doc, action.get(b"D").ok()?),
        _ => None,
    }
}

/// Where a destination leads (12.3.2): a page of the file, perhaps by a name.
fn destination(doc: &Document, dest: &Object) -> Option<TapTo> {
    let dest = direct(doc, dest);
    let name = match dest {
        Object::Array(_) => return page_of(doc, dest).map(TapTo::Page),
        Object::Name(name) => name.clone(),
        Object::String(name, _) => name.clone(),
        _ => return None,
    };
    let page = named(doc, &name).and_then(|d| page_of(doc, d));
    Some(TapTo::Name(String::from_utf8_lossy(&name).into_owned(), page))
}

fn page_of(doc: &Document, dest: &Object) -> Option<usize> {
    let dest = match direct(doc, dest) {
        Object::Dictionary(d) => direct(doc, d.get(b"D").ok()?),
        other => other,
    };
    match dest.as_array().ok()?.first()? {
        Object::Reference(id) => doc.page_iter().position(|p| p == *id),
        other => usize::try_from(other.as_i64().ok()?).ok(),
    }
}

fn named<'d>(doc: &'d Document, name: &[u8]) -> Option<&'d Object> {
    let catalog = doc.catalog().ok()?;
    let old = catalog.get(b"Dests").ok().and_then(|d| direct(doc, d).as_dict().ok()?.get(name).ok());
    old.or_else(|| {
        let names = direct(doc, catalog.get(b"Names").ok()?).as_dict().ok()?;
        in_tree(doc, names.get(b"Dests").ok()?, name, &mut BTreeSet::new())
    })
}

/// A name in a tree of names (7.9.6).
fn in_tree<'d>(doc: &'d Document, node: &'d Object, name: &[u8], seen: &mut BTreeSet<ObjectId>) -> Option<&'d Object> {
    if let Object::Reference(id) = node
        && !seen.insert(*id)
    {
        return None;
    }
    let dict = direct(doc, node).as_dict().ok()?;
    let list = |key: &[u8]| dict.get(key).ok().map(|o| direct(doc, o)).and_then(|o| o.as_array().ok());
    let pairs = list(b"Names").map_or(&[][..], Vec::as_slice);
    let here = pairs.chunks_exact(2).find(|p| direct(doc, &p[0]).as_str().is_ok_and(|n| n == name));
    if let Some(pair) = here {
        return Some(direct(doc, &pair[1]));
    }
    if seen.len() > 10_000 {
        return None;
    }
    list(b"Kids").into_iter().flatten().find_map(|kid| in_tree(doc, kid, name, seen))
}
