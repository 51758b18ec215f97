//! The proof: one page on which a person looks a bundle over before it is launched.
//!
//! Everything on it comes from the finished files: pages are drawn from the bytes that buyers get, taps lead where those
//! files say, sizes and texts are those of the bundle. The page asks nothing of any other computer and opens by double
//! click. Its frame is `page.html.tera`, its looks `style.css`, its behaviour `walk.js` and `page.js`; pages and links go
//! in as one block of data, so that a thousand pages cost no more of the document than the few that are in sight. Where a
//! product has variants, the page shows one of them at a time; `variants.js` switches. While `watch`
//! shows it, `notes.js` takes notes on pages.

mod before;
mod documents;
mod encode;
mod findings;
mod shots;
mod since;
mod texts;
mod under;
mod variants;

use base::model::facts::Inspected;
use base::model::product::Limits;
use base::model::units::{byte_size, trim_number};
use base::model::{Blob, Facts, Fault, Finding, Kind, Sha, Stop, Variant};
pub use before::Before;
use documents::Document;
use inspect::{Reader, Uncached};
use rayon::prelude::*;
use serde::Serialize;
use serde_json::json;
use sha2::{Digest, Sha256};
pub use shots::{first_page, small as small_picture};
use std::collections::BTreeMap;
use tera::{Context, Tera};

/// Where the proof lies in a bundle.
pub const FILE: &str = "proof.html";

/// Stands in the frame where the data will be; behind it come scripts alone.
const DATA: &str = "\u{0}data\u{0}";

const TEMPLATE: &str = include_str!("page.html.tera");
const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = concat!(
    include_str!("walk.js"),
    "\n",
    include_str!("before.js"),
    "\n",
    include_str!("dates.js"),
    "\n",
    include_str!("variants.js"),
    "\n",
    include_str!("notes.js"),
    "\n",
    include_str!("page.js")
);

/// Pixels in a CSS millimetre, twice: stickers stay sharp on a tablet's screen.
const STICKER_PX_PER_MM: f64 = 2.0 * 96.0 / 25.4;

/// What is looked over.
pub struct ProofInput<'a> {
    /// The product's name.
    pub name: &'a str,
    /// Its version.
    pub version: &'a str,
    /// Its date of release.
    pub released: &'a str,
    /// Who sells it, if that is known.
    pub shop: &'a str,
    /// Language of the texts, if it is known.
    pub language: &'a str,
    /// Whether it is written from right to left.
    pub right_to_left: bool,
    /// The shop's limits, if they are known.
    pub limits: Option<Limits>,
    /// The files of the bundle: what was read from each, and its bytes.
    pub files: Vec<(&'a Inspected, &'a Blob)>,
    /// The variants whose files these are, the leading one first; none, or one, is nothing to switch.
    pub variants: &'a [Variant],
    /// What the checks say, each with why a buyer would notice.
    pub findings: &'a [(&'a Finding, &'a str)],
    /// The version that buyers have, or the one before this, if there is one.
    pub since: Option<Before<'a>>,
    /// Whether the findings kept the bundle from being written.
    pub stopped: bool,
    /// For a page that listens for newer builds: the number of this one.
    pub live: Option<u64>,
}

/// A small picture on the page, by all that it depends on.
#[derive(Clone, Copy, Debug, PartialEq, borsh::BorshSerialize)]
pub enum Small<'a> {
    /// A page of a PDF: the digest of what it draws and of how it lies, and how many pixels it gets.
    Page(Sha, f64),
    /// What of a page differs from the one that lies under it: the digests of both, and how many pixels they get.
    Over(Sha, Sha, f64),
    /// A sticker, by the digest of its file.
    Sticker(&'a str),
    /// A listing picture, by the digest of its file.
    Listing(&'a str),
}

/// Who gives the small pictures and reads the files: what was made before need not be made again.
pub trait Source: Reader {
    /// A picture as an address that holds it, made if need be; `None` if it cannot be drawn.
    ///
    /// # Errors
    /// That nobody wants it any more.
    fn small(&self, of: Small, make: &dyn Fn() -> Option<String>) -> Result<Option<String>, Stop>;
}

/// Makes everything anew.
impl Source for Uncached {
    fn small(&self, _: Small, make: &dyn Fn() -> Option<String>) -> Result<Option<String>, Stop> {
        Ok(make())
    }
}

/// A page that is written.
pub struct Written {
    /// The page.
    pub page: String,
    /// Pictures that the page asks for by these addresses; none on a page that holds them itself.
    pub pictures: Vec<(String, String)>,
}

/// Begins the addresses of pictures that a live page asks for.
pub const PICTURES: &str = "/picture/";

/// A sticker on the page.
#[derive(Serialize)]
struct Sticker {
    name: String,
    file: String,
    picture: Option<usize>,
    width_mm: String,
    height_mm: String,
    says: String,
    /// The variant that it belongs to.
    #[serde(skip)]
    variant: Option<usize>,
    only: String,
}

/// A picture's number by its digest: what looks the same is in the page once.
#[derive(Default)]
struct Pictures {
    all: Vec<String>,
    known: BTreeMap<[u8; 32], usize>,
}

impl Pictures {
    /// The number of a picture.
    fn add(&mut self, picture: String) -> usize {
        *self.known.entry(Sha256::digest(picture.as_bytes()).into()).or_insert_with(|| {
            self.all.push(picture);
            self.all.len() - 1
        })
    }
}

/// Writes the page.
///
/// # Errors
/// When the template cannot be filled, or when nobody wants the page any more.
pub fn write(sheet: &ProofInput, source: &dyn Source) -> Result<Written, Stop> {
    let mut pictures = Pictures::default();
    let mut documents = documents::read(sheet, source, &mut pictures)?;
    before::draw(sheet, &mut documents, source, &mut pictures)?;
    let stickers = stickers(sheet, source, &mut pictures)?;
    let shots = shots::shots(sheet, source, &mut pictures)?;
    let mut pictures = pictures.all;
    let switch = variants::switch(sheet);
    let groups = findings::groups(sheet, &documents, &stickers);
    // A page that follows every save asks for pictures by what they show, so that only new ones are sent.
    let mut apart = Vec::new();
    if sheet.live.is_some() {
        for picture in &mut pictures {
            let address = format!("{PICTURES}{}", print(picture));
            apart.push((address.clone(), std::mem::replace(picture, address)));
        }
    }
    let mut context = Context::new();
    context.insert(
        "product",
        &json!({ "name": sheet.name, "version": sheet.version, "released": sheet.released, "shop": sheet.shop }),
    );
    context.insert("language", if sheet.language.is_empty() { "en" } else { sheet.language });
    // Each line of a text says by itself which way it runs.
    context.insert("direction", if sheet.right_to_left { " dir=\"auto\"" } else { "" });
    context.insert("verdict", &findings::verdict(sheet));
    context.insert("facts", &figures(&documents, &stickers, sheet));
    context.insert("groups", &groups);
    context.insert("documents", &documents.iter().map(Document::summary).collect::<Vec<_>>());
    context.insert("stickers", &stickers);
    context.insert("stickers_only", &variants::any(stickers.iter().map(|s| s.variant).collect(), sheet));
    context.insert("variants", &switch);
    context.insert("shots", &shots);
    context.insert("films", &shots.iter().any(|shot| shot.film.is_some()));
    context.insert("since", &sheet.since.map(|before| since::changes(before.since, sheet, &documents, &stickers)));
    context.insert("uploads", &texts::uploads(sheet));
    context.insert("slots", &texts::slots(sheet));
    context.insert("listing", &texts::listing(sheet));
    context.insert("texts", &texts::plain(sheet));
    context.insert("files", &texts::files(sheet));
    context.insert("live", &sheet.live.is_some());
    context.insert("build", &sheet.live);
    context.insert("style", STYLE);
    context.insert("script", SCRIPT);
    context.insert("data", DATA);
    let wrong = |e: tera::Error| {
        Fault::new(format!("the proof's template cannot be filled: {e}")).in_file("pipeline/show/proof/page.html.tera")
    };
    let mut tera = Tera::default();
    tera.add_raw_template(FILE, TEMPLATE).map_err(wrong)?;
    let frame = tera.render(FILE, &context).map_err(wrong)?;
    let (head, tail) = frame.rsplit_once(DATA).unwrap_or((&frame, ""));
    let data = data(sheet, &documents, pictures, switch.as_ref());
    Ok(Written { page: [head, &data, tail].concat(), pictures: apart })
}

/// All that the script reads, as JSON that can stand in the page. It is put together of pieces of text: as one value it
/// would take ten times its size.
fn data(
    sheet: &ProofInput,
    documents: &[Document],
    pictures: Vec<String>,
    switch: Option<&variants::Switch>,
) -> String {
    let documents_json: Vec<String> = documents.iter().map(|d| safe(&d.json())).collect();
    let findings = json!(findings::on_pages(sheet, documents)).to_string();
    let mut out =
        format!("{{\"documents\":[{}],\"findings\":{},\"pictures\":[", documents_json.join(","), safe(&findings));
    for (i, picture) in pictures.into_iter().enumerate() {
        out.push_str(if i > 0 { "," } else { "" });
        out.push_str(&safe(&json!(picture).to_string()));
    }
    out.push(']');
    if let Some(switch) = switch {
        out.push_str(&format!(",\"variants\":{}", safe(&json!(switch).to_string())));
    }
    out.push('}');
    out
}

/// In a script element only `</` and `<!--` mean something.
fn safe(json: &str) -> String {
    json.replace('<', "\\u003c")
}

/// A short digest of a picture.
fn print(picture: &str) -> String {
    Sha256::digest(picture.as_bytes()).iter().take(16).map(|b| format!("{b:02x}")).collect()
}

/// The figures under the title, of one variant.
#[derive(Serialize)]
struct Figures {
    only: String,
    rows: Vec<(String, String)>,
    /// Whose they are.
    says: Option<String>,
}

/// The figures under the title: of the product, or of each variant.
fn figures(documents: &[Document], stickers: &[Sticker], sheet: &ProofInput) -> Vec<Figures> {
    let size: u64 = sheet.files.iter().filter(|(f, _)| f.path.starts_with("upload/")).map(|(f, _)| f.size).sum();
    let upload = |label: &str| (byte_size(size), label.to_owned());
    if !sheet.varies() {
        let rows = [facts(documents, stickers, &|_| true), vec![upload("to upload")]].concat();
        return vec![Figures { only: String::new(), rows: told(rows), says: None }];
    }
    let many = sheet.variants.len();
    let all = upload(&format!("to upload, all {many} variants"));
    let of = |(n, variant): (usize, &Variant)| {
        let has = |of: Option<usize>| of.is_none_or(|v| v == n);
        let rows = told([facts(documents, stickers, &has), vec![all.clone()]].concat());
        Figures { only: variants::only(&[n]), rows, says: Some(format!("{}, one of {many} variants", variant.title)) }
    };
    sheet.variants.iter().enumerate().map(of).collect()
}

fn told(rows: Vec<(String, String)>) -> Vec<(String, String)> {
    rows.into_iter().filter(|(n, _)| n != "0" && n != "0 bytes").collect()
}

fn facts(documents: &[Document], stickers: &[Sticker], has: &dyn Fn(Option<usize>) -> bool) -> Vec<(String, String)> {
    let mine = || documents.iter().filter(|d| has(d.variant));
    let pages = |kind: Kind| mine().filter(|d| d.kind == Some(kind)).map(|d| d.pages.len()).sum::<usize>();
    // Of the notebook alone, as the listing and the checks count them.
    let book = || mine().filter(|d| d.kind == Some(Kind::Notebook));
    let links: usize = book().flat_map(|d| &d.pages).map(|p| p.links.len()).sum();
    [
        (grouped(pages(Kind::Notebook)), "notebook pages"),
        (grouped(links), "taps"),
        (pages(Kind::Covers).to_string(), "covers"),
        (stickers.iter().filter(|s| has(s.variant)).count().to_string(), "stickers"),
    ]
    .map(|(n, label)| (n, label.to_owned()))
    .to_vec()
}

/// A whole number with commas between thousands.
fn grouped(n: usize) -> String {
    let digits = n.to_string();
    let head = digits.len() % 3;
    let mut parts: Vec<&str> = if head > 0 { vec![&digits[..head]] } else { Vec::new() };
    parts.extend((head..digits.len()).step_by(3).map(|i| &digits[i..i + 3]));
    parts.join(",")
}

/// The stickers, each as a picture that is sharp at its true size.
fn stickers(sheet: &ProofInput, source: &dyn Source, pictures: &mut Pictures) -> Result<Vec<Sticker>, Stop> {
    let files: Vec<&(&Inspected, &Blob)> = sheet
        .files
        .iter()
        .filter(|(f, _)| f.kind == Some(Kind::Sticker) && matches!(f.facts, Facts::Png(_)))
        .filter(|(f, _)| f.path.starts_with("contents/"))
        .collect();
    let small = |(file, bytes): &&(&Inspected, &Blob)| {
        source.small(Small::Sticker(&file.sha256), &|| small_sticker(file, bytes))
    };
    let made: Vec<Option<String>> = files.par_iter().map(small).collect::<Result<_, _>>()?;
    Ok(files
        .iter()
        .zip(made)
        .map(|((file, _), picture)| {
            let mm = |px: u32| f64::from(px) * 25.4 / dpi(file);
            let (w, h) = pixels(file);
            let size = |v: u32| trim_number(mm(v), 1);
            Sticker {
                name: file.name().trim_end_matches(".png").to_owned(),
                file: file.path.clone(),
                picture: picture.map(|p| pictures.add(p)),
                width_mm: trim_number(mm(w), 2),
                height_mm: trim_number(mm(h), 2),
                says: format!("{} × {} mm, {w} × {h} px, {}", size(w), size(h), byte_size(file.size)),
                variant: sheet.variant_of(&file.path),
                only: variants::only(sheet.variant_of(&file.path).as_slice()),
            }
        })
        .collect())
}

fn pixels(file: &Inspected) -> (u32, u32) {
    if let Facts::Png(png) = &file.facts { (png.width, png.height) } else { (0, 0) }
}

fn dpi(file: &Inspected) -> f64 {
    let stated = if let Facts::Png(png) = &file.facts { png.dpi() } else { None };
    stated.filter(|d| *d >= 1.0).unwrap_or(300.0)
}

fn small_sticker(file: &Inspected, bytes: &[u8]) -> Option<String> {
    use raster::{Raster, decode, resize};
    let decoded = decode::decode(&file.path, bytes).ok()?;
    let raster = Raster::of(&decoded.picture);
    let most = STICKER_PX_PER_MM * 25.4 / dpi(file);
    let longest = raster.w.max(raster.h) as f64;
    // Never larger than the file, and never so large that one sticker weighs more than a page.
    let scale = most.min(1.0).min(640.0 / longest.max(1.0));
    let to = |n: usize| ((n as f64 * scale).round() as usize).max(1);
    let small = resize::resize(&raster, to(raster.w), to(raster.h));
    Some(encode::sticker(small.w, small.h, &small.bytes()))
}

#[cfg(test)]
mod tests;
