//! Fonts and pictures, each once, wherever pages and forms name them, and how the bytes divide.

use super::glyphs::Metrics;
use super::pictures::{Picture, bits, colour_space, filters, pixels};
use super::sound::Promise;
use super::{items, name, resolve, unpack};
use crate::bytes::{sha256, u16_be, u32_be};
use base::model::facts::{ByteShares, FontFacts, ImageFacts};
use hayro_syntax::object::{Array, Dict, MaybeRef, Name, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::{Page, Resources};
use hayro_syntax::xref::XRef;
use rayon::prelude::*;
use std::collections::{HashMap, HashSet};

/// What makes a resource one and the same: its object, or, for one that is written in place, where its bytes lie. (The
/// reader never copies the bytes of a dictionary, so their address serves as its name.)
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Key {
    /// An indirect object.
    Object(ObjectIdentifier),
    /// A dictionary written in place: address and length.
    Place(usize, usize),
}

impl Key {
    /// The key of a value, if it is a reference or a dictionary.
    pub fn of(value: &MaybeRef<Object>) -> Option<Key> {
        match value {
            MaybeRef::Ref(r) => Some(Key::Object((*r).into())),
            MaybeRef::NotRef(Object::Dict(dict)) => Some(Key::of_dict(dict)),
            MaybeRef::NotRef(_) => None,
        }
    }

    fn of_dict(dict: &Dict) -> Key {
        Key::Place(dict.data().as_ptr() as usize, dict.data().len())
    }
}

/// Where the fonts and pictures of content streams are found among the facts.
#[derive(Default)]
pub struct Known {
    /// Number of the font, and whether its codes are two bytes that number its glyphs.
    pub fonts: HashMap<Key, (usize, bool)>,
    /// Widths and meanings, by number of the font.
    pub metrics: Vec<Metrics>,
    /// Number of the picture, its pixels, and whether it has a soft mask.
    pub images: HashMap<ObjectIdentifier, (usize, u64, bool)>,
}

/// What the walk found.
#[derive(Default)]
pub struct Collected {
    /// The way from a stream's resources to the lists below.
    pub known: Known,
    /// Every font once.
    pub fonts: Vec<FontFacts>,
    /// Every picture once.
    pub images: Vec<ImageFacts>,
    /// How the bytes divide.
    pub bytes: ByteShares,
}

/// Walks the resources of all pages. `total` is the size of the file.
pub fn collect<'a>(pages: &[&Page<'a>], total: u64) -> Collected {
    let mut walk = Walk::default();
    for (i, page) in pages.iter().enumerate() {
        walk.page = i + 1;
        let xref = page.xref();
        walk.contents(page, xref);
        walk.resources(page.resources(), xref);
    }
    let mut found = walk.found;
    // Pictures are unpacked to count their bytes, which takes most of the time where there are many.
    let faults: Vec<Option<String>> = walk.pictures.par_iter().map(Picture::fault).collect();
    for (image, fault) in found.images.iter_mut().zip(faults) {
        image.fault = fault;
    }
    let known = found.bytes.fonts + found.bytes.images + found.bytes.pages;
    found.bytes.rest = total.saturating_sub(known);
    found
}

/// What has been seen already. A dictionary is known by where its bytes lie: the reader never copies them.
#[derive(Default)]
struct Walk<'a> {
    found: Collected,
    page: usize,
    objects: HashSet<ObjectIdentifier>,
    dicts: HashSet<Key>,
    pictures: Vec<Picture<'a>>,
}

impl<'a> Walk<'a> {
    fn first_time(&mut self, dict: &Dict) -> bool {
        !dict.is_empty() && self.dicts.insert(Key::of_dict(dict))
    }

    fn contents(&mut self, page: &Page<'a>, xref: &'a XRef) {
        match page.raw().get_raw::<Object>("Contents") {
            Some(MaybeRef::Ref(r)) => match xref.get::<Object>(r.into()) {
                Some(Object::Stream(stream)) => self.content(&stream),
                Some(Object::Array(array)) => self.content_array(&array, xref),
                _ => {}
            },
            Some(MaybeRef::NotRef(Object::Array(array))) => self.content_array(&array, xref),
            _ => {}
        }
    }

    fn content_array(&mut self, array: &Array<'a>, xref: &'a XRef) {
        for item in items(array, xref) {
            if let Object::Stream(stream) = item {
                self.content(&stream);
            }
        }
    }

    fn content(&mut self, stream: &Stream) {
        if self.objects.insert(stream.obj_id()) {
            self.found.bytes.pages += stored(stream);
        }
    }

    /// Walks one set of resources and the forms that it names, without recursion.
    fn resources(&mut self, resources: &Resources<'a>, xref: &'a XRef) {
        let mut open = vec![resources.clone()];
        while let Some(next) = open.pop() {
            if self.first_time(&next.fonts) {
                for (_, font) in next.fonts.entries() {
                    self.font(font, xref);
                }
            }
            for dict in [&next.x_objects, &next.patterns] {
                if self.first_time(dict) {
                    open.extend(dict.entries().filter_map(|(_, entry)| self.entry(entry, xref)));
                }
            }
            if self.first_time(&next.ext_g_states) {
                let states = next.ext_g_states.entries().filter_map(|(_, state)| resolve(state, xref).into_dict());
                let masks = states.filter_map(|state| state.get::<Dict>("SMask")?.get_raw::<Object>("G"));
                open.extend(masks.filter_map(|mask| self.entry(mask, xref)));
            }
        }
    }

    /// The same behind a reference, when it is met for the first time.
    fn entry(&mut self, entry: MaybeRef<Object<'a>>, xref: &'a XRef) -> Option<Resources<'a>> {
        let MaybeRef::Ref(r) = entry else { return None };
        if !self.objects.insert(r.into()) {
            return None;
        }
        self.stream(&xref.get::<Object>(r.into())?.into_stream()?, xref)
    }

    /// A form, a tiling pattern or a picture; gives the resources of the first two.
    fn stream(&mut self, stream: &Stream<'a>, xref: &'a XRef) -> Option<Resources<'a>> {
        let dict = stream.dict();
        if dict.get::<Name>("Subtype").as_deref() == Some(b"Image") {
            self.image(stream, xref);
            return None;
        }
        self.found.bytes.pages += stored(stream);
        dict.get::<Dict>("Resources").map(Resources::new)
    }

    fn image(&mut self, stream: &Stream<'a>, xref: &'a XRef) {
        let dict = stream.dict();
        let raw = stream.raw_data();
        let (colour, components) = colour_space(dict, xref);
        let mask = dict.get::<Stream>("SMask");
        let mut bytes = raw.len() as u64;
        if let Some(mask) = &mask
            && self.objects.insert(mask.obj_id())
        {
            bytes += stored(mask);
        }
        self.found.bytes.images += bytes;
        let (width, height) = (pixels(dict, "Width"), pixels(dict, "Height"));
        self.pictures.push(Picture {
            stream: stream.clone(),
            promise: Promise {
                width,
                height,
                components: components.unwrap_or(1),
                bits: bits(dict, "BitsPerComponent"),
            },
            mask: mask.clone().or_else(|| dict.get::<Stream>("Mask")),
            xref,
        });
        let number = self.found.images.len();
        let size = u64::from(width) * u64::from(height);
        self.found.known.images.insert(stream.obj_id(), (number, size, mask.is_some()));
        self.found.images.push(ImageFacts {
            width,
            height,
            bits: bits(dict, "BitsPerComponent"),
            colour,
            components,
            soft_mask: mask.is_some(),
            filters: filters(dict, xref),
            bytes,
            first_page: self.page,
            dpi: None,
            cover: None,
            sha256: sha256(&raw),
            fault: None,
        });
    }

    fn font(&mut self, font: MaybeRef<Object<'a>>, xref: &'a XRef) {
        let Some(key) = Key::of(&font) else { return };
        let dict = match font {
            MaybeRef::Ref(r) => {
                if !self.objects.insert(r.into()) {
                    return;
                }
                xref.get::<Dict>(r.into())
            }
            MaybeRef::NotRef(object) => object.into_dict().filter(|d| self.first_time(d)),
        };
        let Some(dict) = dict else { return };
        let subtype = name(&dict, "Subtype").unwrap_or_default();
        let below = dict.get::<Array>("DescendantFonts").and_then(|a| items(&a, xref).next()?.into_dict());
        let described = below.as_ref().unwrap_or(&dict);
        let program = described
            .get::<Dict>("FontDescriptor")
            .and_then(|d| ["FontFile", "FontFile2", "FontFile3"].iter().find_map(|key| d.get::<Stream>(key)));
        let bytes = program.as_ref().map_or(0, stored);
        if let Some(program) = &program
            && self.objects.insert(program.obj_id())
        {
            self.found.bytes.fonts += bytes;
        }
        let base = name(&dict, "BaseFont").unwrap_or_default();
        // Identity-H or -V: the codes number the glyphs of the embedded program.
        let encoding = name(&dict, "Encoding").unwrap_or_default();
        let numbers_glyphs = subtype == "Type0" && encoding.starts_with("Identity");
        self.found.known.fonts.insert(key, (self.found.fonts.len(), numbers_glyphs));
        self.found.known.metrics.push(Metrics::read(&dict, below.as_ref(), xref));
        let fs_type = program.as_ref().and_then(|p| unpack::stream(p)).and_then(|bytes| embedding(&bytes));
        self.found.fonts.push(FontFacts {
            subset: subset_tag(&base),
            name: base,
            // The glyphs of a Type 3 font are drawings inside the file.
            embedded: program.is_some() || subtype == "Type3",
            subtype,
            to_unicode: dict
                .get::<Object>("ToUnicode")
                .is_some_and(|o| matches!(o, Object::Stream(_) | Object::Name(_))),
            used: true,
            first_page: self.page,
            bytes,
            encoded: !matches!(dict.get::<Object>("Encoding"), None | Some(Object::Null(_))),
            fs_type,
            missing_glyphs: 0,
        });
    }
}

/// Bytes of a stream as stored.
fn stored(stream: &Stream) -> u64 {
    stream.raw_data().len() as u64
}

/// The embedding permissions of a TrueType or OpenType program (OpenType specification, OS/2 table, `fsType`).
fn embedding(program: &[u8]) -> Option<u16> {
    let tables = usize::from(u16_be(program, 4)?);
    (0..tables).map(|i| 12 + 16 * i).find_map(|at| {
        (program.get(at..at + 4)? == b"OS/2").then(|| u16_be(program, u32_be(program, at + 8)? as usize + 8))?
    })
}

/// Six capital letters and a plus sign (ISO 32000-1, 9.6.4).
fn subset_tag(name: &str) -> bool {
    let bytes = name.as_bytes();
    bytes.len() > 7 && bytes[..6].iter().all(u8::is_ascii_uppercase) && bytes[6] == b'+'
}
