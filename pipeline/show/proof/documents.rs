//! The PDFs: their pages as pictures, their tap areas, and which part of the outline each page belongs to.

use super::{Pictures, ProofInput, Small, Source, encode, under, variants};
use base::model::facts::{Frame, Leads, LinkFacts, PdfFacts};
use base::model::{Blob, Facts, Kind, Sha, Size, Stop};
use inspect::pdf::drawing::{PageToDraw, Unopened};
use inspect::pdf::fingerprint::PageFingerprint;
use rayon::prelude::*;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// Pixels of a page's picture: sharp enough to read a page on a tablet.
const PIXELS: f64 = 720_000.0;
/// Documents with more different pages than `MANY` get smaller pictures, so that the page stays light.
const PIXELS_OF_MANY: f64 = 360_000.0;
/// See there.
const MANY: usize = 300;
/// The same where all documents together have more pages than `CROWD`, and for every variant there but the leading one: nobody
/// reads the same pages twenty times over.
const PIXELS_OF_CROWD: f64 = 240_000.0;
/// See there.
const CROWD: usize = 1_200;

/// A PDF of the bundle.
pub struct Document {
    /// Its path in the bundle.
    pub file: String,
    /// Its digest.
    pub sha256: String,
    /// The variant that it belongs to; `None` for what all have.
    pub variant: Option<usize>,
    /// What it is called in all variants, where there are some.
    kin: Option<String>,
    /// What it is.
    pub kind: Option<Kind>,
    /// Its pages.
    pub pages: Vec<Page>,
    /// Entries of the outline that lead to a page: depth, title.
    pub entries: Vec<(usize, String)>,
    /// Pixels that a page's picture gets.
    pub pixels: f64,
    /// What tells the looks of pages apart.
    looks: Vec<Sha>,
    /// Links, each different one once, as JSON: a planner has tens of thousands, and as values they would fill the memory.
    links: Vec<String>,
}

/// A page.
pub struct Page {
    /// Its label.
    label: Option<String>,
    /// The title of the outline's entry that leads to it.
    title: Option<String>,
    size: Size,
    /// Where it lies in its own space, its turn and its unit: two pages that draw the same may show different parts of it.
    frame: Frame,
    /// Index of its picture.
    picture: Option<usize>,
    /// Index of the picture that lies under it, where it holds only what differs.
    under: Option<usize>,
    /// Whether the picture shows all of it.
    whole: bool,
    /// Where it looked different in the version that buyers have: which page it was there, and the index of its picture.
    before: Option<(usize, usize)>,
    /// The entry of the outline that it belongs to.
    entry: Option<usize>,
    /// Indices of its links.
    pub links: Vec<usize>,
}

/// Reads the documents in the order in which a buyer meets them. A file that lies in the bundle twice is shown once.
///
/// # Errors
/// That nobody wants them any more.
pub fn read(sheet: &ProofInput, source: &dyn Source, pictures: &mut Pictures) -> Result<Vec<Document>, Stop> {
    const ORDER: [Kind; 5] = [Kind::Notebook, Kind::Covers, Kind::Sheet, Kind::Guide, Kind::DeliveryCard];
    let rank = |kind: Option<Kind>| ORDER.iter().position(|k| Some(*k) == kind).unwrap_or(ORDER.len());
    let mut files: Vec<_> = sheet
        .files
        .iter()
        .filter_map(
            |(file, bytes)| if let Facts::Pdf(pdf) = &file.facts { Some((*file, &**pdf, *bytes)) } else { None },
        )
        .collect();
    files.sort_by_key(|(file, ..)| {
        (!file.path.starts_with("contents/"), rank(file.kind), sheet.variant_of(&file.path), file.path.clone())
    });
    let mut seen: Vec<(&str, Option<usize>)> = Vec::new();
    let mut out = Vec::new();
    let crowd = files
        .iter()
        .filter(|(f, ..)| f.path.starts_with("contents/"))
        .map(|(_, pdf, _)| pdf.pages.len())
        .sum::<usize>()
        > CROWD;

    for (file, pdf, bytes) in files {
        // Two variants may have the same file: each shows its own.
        let variant = sheet.variant_of(&file.path);
        let same = |(sha256, of): &(&str, Option<usize>)| {
            *sha256 == file.sha256 && (variant.is_none() || of.is_none() || *of == variant)
        };
        if seen.iter().any(same) {
            continue;
        }
        seen.push((&file.sha256, variant));
        let mut document = Document {
            sha256: file.sha256.clone(),
            variant,
            kin: sheet.varies().then(|| sheet.kin(&file.path)),
            kind: file.kind,
            ..Document::empty(&file.path)
        };
        let ((), drawn) = rayon::join(|| document.fill(pdf), || source.fingerprints(bytes));
        document.draw((bytes, &drawn), crowd, source, pictures)?;
        out.push(document);
    }
    out.sort_by_key(|d| rank(d.kind));
    Ok(out)
}

/// What tells the looks of pages apart: what a page draws says nothing of how large it is, and which way up.
pub fn looks(drawn: &[PageFingerprint], pages: &[Page]) -> Vec<Sha> {
    drawn
        .iter()
        .zip(pages)
        // A page with a measure that is no number looks like no other, and cannot be drawn.
        .map_while(|(drawn, page)| Sha::of_value(&(drawn.digest, page.size, page.frame)).ok())
        .collect()
}

/// The picture of a page, as it is kept: with a mark before it where the page has gaps.
pub fn drawn_page(page: &PageToDraw, pixels: f64) -> Option<String> {
    let px = page.pixels(|size| scale(size, pixels))?;
    let mark = if px.whole { "" } else { GAPS };
    Some(format!("{mark}{}", encode::page(px.width, px.height, &px.rgba)))
}

/// Pixels a point of a page that gets so many pixels.
fn scale(size: Size, pixels: f64) -> f64 {
    (pixels / (size.w * size.h).max(1.0)).sqrt()
}

impl Document {
    fn empty(file: &str) -> Document {
        Document {
            file: file.to_owned(),
            sha256: String::new(),
            variant: None,
            kin: None,
            kind: None,
            pages: Vec::new(),
            entries: Vec::new(),
            pixels: PIXELS,
            looks: Vec::new(),
            links: Vec::new(),
        }
    }

    /// A file that is no part of the bundle, without pictures.
    pub fn plain(file: &str, pdf: &PdfFacts) -> Document {
        let mut document = Document::empty(file);
        document.fill(pdf);
        document
    }

    /// What tells the look of a page (from 0) from others.
    pub fn look(&self, page: usize) -> Option<Sha> {
        self.looks.get(page).copied()
    }

    /// Keeps of a page which one it was in the version that buyers have (both from 0), and the picture of it there.
    pub fn keep_before(&mut self, page: usize, was: usize, picture: usize) {
        if let Some(page) = self.pages.get_mut(page) {
            page.before = Some((was, picture));
        }
    }

    fn fill(&mut self, pdf: &PdfFacts) {
        let entries: Vec<(usize, usize, &str)> =
            pdf.outline.iter().filter_map(|e| Some((e.leads.page()?, e.depth, e.title.as_str()))).collect();
        self.entries = entries.iter().map(|(_, depth, title)| (*depth, (*title).to_owned())).collect();
        let mut by_page: Vec<usize> = (0..entries.len()).collect();
        by_page.sort_by_key(|i| entries[*i].0);
        let mut known: BTreeMap<String, usize> = BTreeMap::new();
        let (mut next, mut entry) = (0, None);
        for (n, page) in pdf.pages.iter().enumerate() {
            let mut title = None;
            while let Some(i) = by_page.get(next).filter(|i| entries[**i].0 <= n) {
                title = Some(entries[*i].2.to_owned());
                entry = Some(*i);
                next += 1;
            }
            let links = page.links.iter().map(|link| self.link(link, &mut known)).collect();
            let size = if page.rotate.rem_euclid(180) == 90 { Size::new(page.size.h, page.size.w) } else { page.size };
            let frame = page.frame();
            self.pages.push(Page {
                label: page.label.clone(),
                title,
                size,
                frame,
                picture: None,
                under: None,
                // Notes and fields with a look of their own are no part of the picture, nor is what is damaged.
                whole: page.other_annotations.is_empty() && !page.gaps,
                entry,
                links,
                before: None,
            });
        }
    }

    /// The index of a link: areas that many pages share are kept once.
    fn link(&mut self, link: &LinkFacts, known: &mut BTreeMap<String, usize>) -> usize {
        let r = link.rect;
        let number = |v: f64| (v * 100.0).round() / 100.0;
        let (page, other) = match &link.leads {
            Leads::Page { page, .. } => (Some(*page), None),
            Leads::Uri(address) => (None, Some(json!({ "address": address }))),
            Leads::Nowhere(why) => (None, Some(json!({ "nowhere": why }))),
            Leads::Action(name) => (None, Some(json!({ "nowhere": format!("it asks the reader app for {name}") }))),
        };
        let text = json!([[number(r.x), number(r.y), number(r.w), number(r.h)], page, link.says.as_deref(), other])
            .to_string();
        *known.entry(text).or_insert_with_key(|text| {
            self.links.push(text.clone());
            self.links.len() - 1
        })
    }

    /// Draws the pages that were not drawn before; pages that draw the same share a picture.
    fn draw(
        &mut self,
        (bytes, drawn): (&Blob, &[PageFingerprint]),
        crowd: bool,
        source: &dyn Source,
        pictures: &mut Pictures,
    ) -> Result<(), Stop> {
        let looks = looks(drawn, &self.pages);
        let mut first: BTreeMap<Sha, usize> = BTreeMap::new();
        let mut different: Vec<usize> = Vec::new();
        for (n, look) in looks.iter().enumerate() {
            first.entry(*look).or_insert_with(|| {
                different.push(n);
                n
            });
        }
        let follows = self.variant.is_some_and(|variant| variant > 0);
        let pixels = match different.len() > MANY {
            true if crowd => PIXELS_OF_CROWD,
            true => PIXELS_OF_MANY,
            false if crowd && follows => PIXELS_OF_CROWD,
            false => PIXELS,
        };
        let pdf = Unopened::new(bytes.clone());
        let beneath = match different.len() > MANY {
            true => under::beneath(different.iter().map(|n| {
                let page = &self.pages[*n];
                (*n, page.label.as_deref(), [page.size.w, page.size.h].map(f64::to_bits))
            })),
            false => BTreeMap::new(),
        };
        let (over, different): (Vec<usize>, Vec<usize>) = different.into_iter().partition(|n| beneath.contains_key(n));
        let small: Vec<Result<Option<String>, Stop>> = pdf.each(&different, |page| {
            source.small(Small::Page(looks[page.number], pixels), &|| drawn_page(&page, pixels))
        });
        let mut drawn: BTreeMap<usize, String> = BTreeMap::new();
        for (n, picture) in different.into_iter().zip(small) {
            drawn.extend(picture?.map(|picture| (n, picture)));
        }
        // What lies under others, as pixels; where that is no picture of few colours, they are drawn whole.
        let bases: BTreeSet<usize> = beneath.values().copied().collect();
        let bases: BTreeMap<usize, Vec<u8>> = bases
            .into_par_iter()
            .filter_map(|n| Some((n, encode::pixels(drawn.get(&n)?.trim_start_matches(GAPS))?)))
            .collect();
        let small: Vec<Result<Option<String>, Stop>> = pdf.each(&over, |page| {
            let base = beneath.get(&page.number).and_then(|n| Some((*n, bases.get(n)?)));
            let of = match base {
                Some((base, _)) => Small::Over(looks[page.number], looks[base], pixels),
                None => Small::Page(looks[page.number], pixels),
            };
            source.small(of, &|| {
                let px = page.pixels(|size| scale(size, pixels))?;
                let mark = if px.whole { "" } else { GAPS };
                let fits = base.filter(|(_, under)| under.len() == px.rgba.len());
                Some(match fits {
                    Some((_, under)) => {
                        format!("{mark}{OVER}{}", encode::over(px.width, px.height, &under::over(px.rgba, under)))
                    }
                    None => format!("{mark}{}", encode::page(px.width, px.height, &px.rgba)),
                })
            })
        });
        for (n, picture) in over.into_iter().zip(small) {
            drawn.extend(picture?.map(|picture| (n, picture)));
        }
        let mut places: BTreeMap<usize, (usize, Option<usize>, bool)> = BTreeMap::new();
        for (n, picture) in &drawn {
            let (whole, picture) = picture.strip_prefix(GAPS).map_or((true, picture.as_str()), |rest| (false, rest));
            let (over, picture) = picture.strip_prefix(OVER).map_or((false, picture), |rest| (true, rest));
            // What lies under a page was drawn before it, since it stands before it.
            let under = beneath.get(n).filter(|_| over).and_then(|base| Some(places.get(base)?.0));
            places.insert(*n, (pictures.add(picture.to_owned()), under, whole));
        }
        for (page, look) in self.pages.iter_mut().zip(&looks) {
            if let Some((picture, under, whole)) = first.get(look).and_then(|n| places.get(n)) {
                (page.picture, page.under, page.whole) = (Some(*picture), *under, page.whole && *whole);
            }
        }
        (self.looks, self.pixels) = (looks, pixels);
        Ok(())
    }

    /// What it is called.
    pub fn title(&self) -> String {
        let name = self.file.rsplit('/').next().unwrap_or(&self.file);
        let what = match self.kind {
            Some(Kind::Notebook) => "Notebook",
            Some(Kind::Covers) => "Covers",
            Some(Kind::Sheet) => "Sticker sheets",
            Some(Kind::Guide) => "Guide",
            Some(Kind::DeliveryCard) => "Delivery card",
            _ => return name.to_owned(),
        };
        format!("{what} ({name})")
    }

    /// For the frame of the page.
    pub fn summary(&self) -> Value {
        let kind = self.kind.and_then(|k| serde_json::to_value(k).ok());
        let only = variants::only(self.variant.as_slice());
        json!({ "title": self.title(), "file": self.file, "kind": kind, "only": only })
    }

    /// For the script, as JSON.
    pub fn json(&self) -> String {
        let number = |v: f64| (v * 1000.0).round() / 1000.0;
        let page = |p: &Page| {
            let mut page = json!({
                "label": p.label,
                "title": p.title,
                "size": [number(p.size.w), number(p.size.h)],
                "picture": p.picture,
                "whole": p.whole,
                "entry": p.entry,
                "links": p.links,
            });
            if let Some(under) = p.under {
                page["under"] = json!(under);
            }
            if let Some((was, picture)) = p.before {
                page["before"] = json!([was + 1, picture]);
            }
            page.to_string()
        };
        let pages: Vec<String> = self.pages.iter().map(page).collect();
        let mut out = format!(
            "{{\"title\":{},\"file\":{},\"entries\":{},\"links\":[{}],\"pages\":[{}]",
            json!(self.title()),
            json!(self.file),
            json!(self.entries),
            self.links.join(","),
            pages.join(",")
        );
        if let Some(kin) = &self.kin {
            let (variant, kind) = (json!(self.variant), json!(self.kind));
            out.push_str(&format!(",\"variant\":{variant},\"kin\":{},\"kind\":{kind}", json!(kin)));
        }
        out.push('}');
        out
    }
}

/// Stands before a picture with gaps in what is kept.
pub const GAPS: &str = "gaps:";
/// Stands, there too, before one that lies over another.
const OVER: &str = "over:";
