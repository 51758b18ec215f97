//! A page of a PDF file as an object of that file: how it is seen, what draws it, what it inherits.
//!
//! What is seen of a page is its crop box, turned and enlarged as the page says (ISO 32000-1, 7.7.3.3 and 14.11.2).

use base::model::Fault;
use base::model::geometry::Size;
use base::model::units::trim_number;
use lopdf::{Document, Object, ObjectId};

/// The most bytes that a page's drawing unpacks to.
const MOST_CONTENT: usize = 64 << 20;
/// The most points of a page's side: 200 inches, the limit of the format before user units.
const MOST_SIDE: f64 = 14_400.0;
/// How deep trees are followed; one that runs in a circle is no tree.
pub const MOST_DEPTH: usize = 64;

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

/// What an object is, references followed.
pub fn direct<'d>(doc: &'d Document, object: &'d Object) -> &'d Object {
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
