//! A page of her own PDF file as art: its size as it is seen, its tap areas, and what makes it unfit.
//!
//! What is seen of a page is its crop box, turned and enlarged as the page says (ISO 32000-1, 7.7.3.3 and 14.11.2).

use super::{PT_PER_PX, ink};
use crate::model::art::{Tap, TapTo};
use crate::model::geometry::{Rect, Size};
use crate::model::{Fault, units::trim_number};
use lopdf::{Document, Object, ObjectId};
use std::collections::BTreeSet;

/// The most bytes that a page's drawing unpacks to.
const MOST_CONTENT: usize = 64 << 20;
/// The most points of a page's side: 200 inches, the limit of the format before user units.
const MOST_SIDE: f64 = 14_400.0;
/// How deep trees are followed; one that runs in a circle is no tree.
const MOST_DEPTH: usize = 64;

/// A page of a PDF file, read.
#[derive(Debug)]
pub struct Sheet {
    /// Its size as it is seen, in points.
    pub size: Size,
    /// Its tap areas, in the units of a drawing (CSS pixels).
    pub taps: Vec<Tap>,
    /// What is left out of it.
    pub notes: Vec<String>,
}

/// How a page is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// What is seen of it, in its own space.
    pub seen: [f64; 4],
    /// From its own space to one that begins at the lower left of what is seen, in points.
    pub matrix: [f64; 6],
    /// Its size in points.
    pub size: Size,
}

/// Reads a page, counted from 0.
///
/// # Errors
/// A file that is no sound PDF, is locked, is drawn in ink colours, or has no such page.
pub fn read(bytes: &[u8], page: usize) -> Result<Sheet, Fault> {
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
    let mut sheet = Sheet { size: frame.size, taps: Vec::new(), notes: Vec::new() };
    annotations(&doc, id, &frame, &mut sheet, number);
    Ok(sheet)
}

/// Opens a PDF file.
///
/// # Errors
/// A file that is cut off, damaged or locked.
pub fn open(bytes: &[u8]) -> Result<Document, Fault> {
    let locked = || {
        Fault::new("the PDF is locked (encrypted)")
            .help("save it without a password and without restrictions, then build again")
    };
    if !bytes.windows(5).take(1024).any(|w| w == b"%PDF-") {
        let what = if bytes.is_empty() { "the file is empty" } else { "this is no PDF file" };
        return Err(Fault::new(what).help("export it again as PDF"));
    }
    let doc = Document::load_mem(bytes).map_err(|e| {
        let cut = !bytes[bytes.len().saturating_sub(1024)..].windows(5).any(|w| w == b"%%EOF");
        if bytes.windows(8).any(|w| w == b"/Encrypt") {
            locked()
        } else if cut {
            Fault::new(format!("the PDF is cut off: it ends after {} bytes without its end mark", bytes.len()))
                .help("export it again, or copy it anew from where it came")
        } else {
            Fault::new(format!("the PDF is damaged: {}", e.to_string().to_lowercase())).help("export it again")
        }
    })?;
    if doc.is_encrypted() || doc.was_encrypted() {
        return Err(locked());
    }
    Ok(doc)
}

/// How a page is seen.
///
/// # Errors
/// A page without a size.
pub fn frame(doc: &Document, page: ObjectId) -> Result<Frame, String> {
    let boxed = |key: &[u8]| {
        let sides = numbers(doc, &inherited(doc, page, key)?);
        let [x0, y0, x1, y1] = sides[..] else { return None };
        Some([x0.min(x1), y0.min(y1), x0.max(x1), y0.max(y1)])
    };
    let media = boxed(b"MediaBox").ok_or("it has no size")?;
    let crop = boxed(b"CropBox").unwrap_or(media);
    let mut seen = [0, 1, 2, 3].map(|i| if i < 2 { media[i].max(crop[i]) } else { media[i].min(crop[i]) });
    if seen[2] <= seen[0] || seen[3] <= seen[1] {
        seen = media;
    }
    let own = doc.get_dictionary(page).map_err(|e| e.to_string())?;
    let unit = own.get(b"UserUnit").ok().and_then(|u| number(doc, u)).filter(|u| *u > 0.0).unwrap_or(1.0);
    let turn = inherited(doc, page, b"Rotate").and_then(|r| number(doc, &r)).unwrap_or(0.0);
    let [x0, y0, x1, y1] = seen;
    let (w, h) = ((x1 - x0) * unit, (y1 - y0) * unit);
    if !(w > 0.01 && h > 0.01) {
        return Err("it has no area".to_owned());
    }
    if w > MOST_SIDE || h > MOST_SIDE {
        let [w, h] = [w, h].map(|v| trim_number(v / 72.0, 0));
        return Err(format!("it is {w} × {h} inches, more than any page"));
    }
    let (matrix, size) = match (turn / 90.0).round().rem_euclid(4.0) as u8 {
        1 => ([0.0, -1.0, 1.0, 0.0, -y0, x1], Size::new(h, w)),
        2 => ([-1.0, 0.0, 0.0, -1.0, x1, y1], Size::new(w, h)),
        3 => ([0.0, 1.0, -1.0, 0.0, y1, -x0], Size::new(h, w)),
        _ => ([1.0, 0.0, 0.0, 1.0, -x0, -y0], Size::new(w, h)),
    };
    Ok(Frame { seen, matrix: matrix.map(|v| v * unit), size })
}

/// What draws a page, unpacked.
///
/// # Errors
/// A drawing that is damaged or unpacks to more than any page needs.
pub fn content(doc: &Document, page: ObjectId) -> Result<Vec<u8>, String> {
    let mut out = Vec::new();
    for id in doc.get_page_contents(page) {
        let Ok(stream) = doc.get_object(id).and_then(Object::as_stream) else { continue };
        if stream.dict.has(b"Filter") {
            let left = MOST_CONTENT.saturating_sub(out.len());
            let part = stream.decompressed_content_with_limit(left);
            out.extend(part.map_err(|e| format!("what draws it cannot be unpacked ({e})"))?);
        } else {
            out.extend_from_slice(&stream.content);
        }
        out.push(b'\n');
        if out.len() > MOST_CONTENT {
            return Err("what draws it is larger than 64 MB".to_owned());
        }
    }
    Ok(out)
}

/// A page's entry, its own or that of a branch above (7.7.3.4).
pub fn inherited(doc: &Document, page: ObjectId, key: &[u8]) -> Option<Object> {
    let mut id = page;
    for _ in 0..MOST_DEPTH {
        let dict = doc.get_dictionary(id).ok()?;
        if let Ok(value) = dict.get(key) {
            return Some(value.clone());
        }
        id = dict.get(b"Parent").and_then(Object::as_reference).ok()?;
    }
    None
}

fn direct<'d>(doc: &'d Document, object: &'d Object) -> &'d Object {
    doc.dereference(object).map_or(&Object::Null, |(_, o)| o)
}

fn number(doc: &Document, object: &Object) -> Option<f64> {
    direct(doc, object).as_float().ok().map(f64::from).filter(|v| v.is_finite())
}

/// The numbers of an array, references followed.
pub fn numbers(doc: &Document, array: &Object) -> Vec<f64> {
    let items = direct(doc, array).as_array().map_or(&[][..], Vec::as_slice);
    items.iter().filter_map(|o| number(doc, o)).collect()
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

fn annotations(doc: &Document, page: ObjectId, frame: &Frame, sheet: &mut Sheet, number: u32) {
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
