//! What a page draws, as a digest that knows nothing of how the file is stored.
//!
//! Content streams are read operator by operator; every resource that they name is replaced by a digest of what it
//! holds, however deep. Object numbers, compression, the order of keys, the names of resources and the way in which
//! numbers are written therefore leave no trace. Annotations are left out: a page with another link draws the same.
//!
//! What an object refers to is left as a hole in its shape (`shape.rs`), and the holes are filled from the far end on, so
//! that a digest is the same in whatever order pages are visited, however deep the nesting, and in circles too.

mod shape;

use super::{resolve, unpack};
use hayro_syntax::Filter;
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Dict, MaybeRef, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::{Page, Resources};
use hayro_syntax::xref::XRef;
use sha2::{Digest as _, Sha256};
use shape::Shape;
use std::collections::{BTreeSet, HashMap};
use std::ops::Range;
use std::sync::Arc;

/// A SHA-256.
pub type Digest = [u8; 32];

/// The deepest nesting within one object; the reader itself gives up on deeper ones.
const MAX_DEPTH: usize = 48;
/// The most forms of a page that are searched for pictures.
const MAX_FORMS: usize = 20_000;
/// How many hashes of instructions are kept of a page, to tell how alike two pages are.
const SKETCH: usize = 96;
/// Keys that say nothing of what is drawn: where an object stands, and how a stream is stored.
const SILENT: [&[u8]; 12] = [
    b"Parent",
    b"StructParent",
    b"StructParents",
    b"Metadata",
    b"PieceInfo",
    b"LastModified",
    b"Length",
    b"Length1",
    b"Filter",
    b"DecodeParms",
    b"DL",
    b"Name",
];

/// What is kept of a page.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct PageFingerprint {
    /// Digest of all that the page draws.
    pub digest: Digest,
    /// The smallest hashes of its instructions, sorted: two pages that share many are alike.
    pub sketch: Vec<u64>,
    /// How often operators are used, sorted into a few drawers.
    pub operators: [u32; 16],
    /// Digests of the pictures that it names, forms included.
    pub images: BTreeSet<Digest>,
}

/// Takes the fingerprints of one file; remembers the digest of every object that it met.
pub struct Digester<'a> {
    xref: &'a XRef,
    known: HashMap<ObjectIdentifier, Digest>,
    drawn: HashMap<ObjectIdentifier, Arc<Named>>,
}

/// What resources name: pictures by their digests, and forms.
#[derive(Default)]
struct Named {
    pictures: BTreeSet<Digest>,
    forms: BTreeSet<ObjectIdentifier>,
}

impl<'a> Digester<'a> {
    /// A digester for the file with this table.
    pub fn new(xref: &'a XRef) -> Digester<'a> {
        Digester { xref, known: HashMap::new(), drawn: HashMap::new() }
    }

    /// The print of a page. A page whose content is too large to unpack has the digest of its stored bytes.
    pub fn page(&mut self, page: &Page<'a>) -> PageFingerprint {
        let mut print = PageFingerprint::default();
        let Some(bytes) = unpack::contents(page).bytes else {
            let mut out = Shape::default();
            if let Some(contents) = page.raw().get::<Object>("Contents") {
                self.value(&contents, &mut out, 0);
            }
            print.digest = self.sealed(out);
            return print;
        };
        let mut instructions = Vec::new();
        let mut out = Shape::with_capacity(bytes.len() * 2);
        self.content(&bytes, page.resources(), &mut out, Some((&mut print, &mut instructions)));
        if let Some(group) = page.raw().get::<Dict>("Group") {
            self.dict_but(&group, &[], &mut out, 0);
        }
        self.fill(&mut out);
        let mut hashes = BTreeSet::new();
        for range in instructions {
            hashes.insert(hash(&out.bytes()[range]));
            if hashes.len() > SKETCH * 2 {
                while hashes.len() > SKETCH {
                    hashes.pop_last();
                }
            }
        }
        print.digest = sha(out.bytes());
        print.sketch = hashes.into_iter().take(SKETCH).collect();
        print.images = self.images(page.resources());
        print
    }

    /// Digest of an object: of a stream what it holds unpacked, and what its dictionary says.
    pub fn object(&mut self, id: ObjectIdentifier) -> Digest {
        let mut out = Shape::default();
        self.reference(id, &mut out);
        self.fill(&mut out);
        let mut digest = Digest::default();
        digest.copy_from_slice(out.bytes());
        digest
    }

    fn content(
        &mut self,
        bytes: &[u8],
        resources: &Resources<'a>,
        out: &mut Shape,
        mut print: Option<(&mut PageFingerprint, &mut Vec<Range<usize>>)>,
    ) {
        let mut instructions = UntypedIter::new(bytes);
        while let Some(instruction) = instructions.next() {
            let operator: &[u8] = instruction.operator;
            let begun = out.len();
            for operand in instruction.operands() {
                match operand {
                    Object::Name(name) => self.named(operator, name, resources, out),
                    // An inline picture: it has no number of its own.
                    Object::Stream(stream) => {
                        self.dict_but(stream.dict(), &[], out, 1);
                        out.extend(&sha(&stream.raw_data()));
                    }
                    other => self.value(other, out, 1),
                }
            }
            out.push(b' ');
            out.extend(operator);
            if let Some((print, instructions)) = &mut print {
                print.operators[usize::from(operator.iter().fold(0u8, |n, b| n.wrapping_mul(31) ^ b) & 15)] += 1;
                // What has no operands is in every page.
                if out.len() > begun + 1 + operator.len() {
                    instructions.push(begun..out.len());
                }
            }
            out.push(b'\n');
        }
    }

    /// A name that an operator gives: the resource that it stands for, or itself.
    fn named(&mut self, operator: &[u8], name: &[u8], resources: &Resources<'a>, out: &mut Shape) {
        let dict = match operator {
            b"Do" => &resources.x_objects,
            b"Tf" => &resources.fonts,
            b"gs" => &resources.ext_g_states,
            b"cs" | b"CS" => &resources.color_spaces,
            b"scn" | b"SCN" => &resources.patterns,
            b"sh" => &resources.shadings,
            b"BDC" | b"DP" => &resources.properties,
            _ => return text(b'/', name, out),
        };
        match dict.get_raw::<Object>(name) {
            Some(MaybeRef::Ref(r)) => self.reference(r.into(), out),
            Some(MaybeRef::NotRef(object)) => {
                let mut inner = Shape::default();
                self.value(&object, &mut inner, 1);
                out.inner(inner);
            }
            None => text(b'/', name, out),
        }
    }

    /// An indirect object: its digest, or the hole for it.
    fn reference(&mut self, id: ObjectIdentifier, out: &mut Shape) {
        match self.known.get(&id) {
            Some(digest) => out.extend(digest),
            None => out.hole(id),
        }
    }

    /// What an indirect object says by itself.
    fn shape(&mut self, id: ObjectIdentifier) -> Shape {
        let mut out = Shape::default();
        match self.xref.get::<Object>(id) {
            Some(Object::Stream(stream)) => self.stored(&stream, &mut out),
            Some(object) => self.value(&object, &mut out, 1),
            None => out.push(b'n'),
        }
        out
    }

    /// Fills the holes of a shape.
    fn fill(&mut self, shape: &mut Shape) {
        if shape.is_whole() {
            return;
        }
        let mut known = std::mem::take(&mut self.known);
        for id in shape.holes() {
            shape::digest(id, &mut known, &mut |id, known| {
                // Whatever is known by now needs no hole.
                std::mem::swap(&mut self.known, known);
                let shape = self.shape(id);
                std::mem::swap(&mut self.known, known);
                shape
            });
        }
        shape.fill(&|id| known.get(&id).copied());
        self.known = known;
    }

    fn sealed(&mut self, mut shape: Shape) -> Digest {
        self.fill(&mut shape);
        sha(shape.bytes())
    }

    fn stored(&mut self, stream: &Stream<'a>, out: &mut Shape) {
        let dict = stream.dict();
        let drawn = dict.get::<hayro_syntax::object::Name>("Subtype").is_some_and(|n| n.as_ref() == b"Form")
            || dict.contains_key("PatternType");
        self.dict_but(dict, if drawn { &[b"Resources"] } else { &[] }, out, 1);
        let lossy = stream
            .filters()
            .iter()
            .any(|f| matches!(f, Filter::DctDecode | Filter::JpxDecode | Filter::Jbig2Decode | Filter::CcittFaxDecode));
        match if lossy { None } else { unpack::stream(stream) } {
            Some(bytes) if drawn => {
                let resources = Resources::new(dict.get::<Dict>("Resources").unwrap_or_default());
                self.content(&bytes, &resources, out, None);
            }
            Some(bytes) => out.extend(&sha(&bytes)),
            None => {
                for key in ["Filter", "DecodeParms"] {
                    if let Some(how) = dict.get::<Object>(key) {
                        self.value(&how, out, 1);
                    }
                }
                out.extend(&sha(&stream.raw_data()));
            }
        }
    }

    fn dict_but(&mut self, dict: &Dict<'_>, but: &[&[u8]], out: &mut Shape, depth: usize) {
        let mut entries: Vec<_> = dict.entries().collect();
        entries.sort_by(|a, b| a.0.as_ref().cmp(b.0.as_ref()));
        out.push(b'<');
        for (key, value) in entries {
            let key: &[u8] = key.as_ref();
            if SILENT.contains(&key) || but.contains(&key) {
                continue;
            }
            text(b'/', key, out);
            self.maybe(value, out, depth);
        }
        out.push(b'>');
    }

    fn maybe(&mut self, value: MaybeRef<Object<'_>>, out: &mut Shape, depth: usize) {
        match value {
            // What is written in place and what is referred to must come out the same: small things are written
            // out, and both ways end in a digest of the same bytes.
            MaybeRef::Ref(r) => {
                let id: ObjectIdentifier = r.into();
                match resolve(MaybeRef::Ref(r), self.xref) {
                    Object::Stream(_) | Object::Dict(_) | Object::Array(_) => self.reference(id, out),
                    plain => self.value(&plain, out, depth + 1),
                }
            }
            MaybeRef::NotRef(object @ (Object::Dict(_) | Object::Array(_))) => {
                let mut inner = Shape::default();
                self.value(&object, &mut inner, depth + 1);
                out.inner(inner);
            }
            MaybeRef::NotRef(object) => self.value(&object, out, depth + 1),
        }
    }

    fn value(&mut self, object: &Object<'_>, out: &mut Shape, depth: usize) {
        if depth > MAX_DEPTH {
            return out.push(b'?');
        }
        match object {
            Object::Null(_) => out.push(b'n'),
            Object::Boolean(yes) => out.extend(if *yes { b" t" } else { b" f" }),
            Object::Number(n) => {
                out.push(b'#');
                // As a reader holds it: 1, 1.0 and 1.000000 are one number, and so is minus nought.
                out.extend(&(n.as_f64() as f32 + 0.0).to_bits().to_le_bytes());
            }
            Object::String(s) => text(b'(', s.as_bytes(), out),
            Object::Name(name) => text(b'/', name, out),
            Object::Dict(dict) => self.dict_but(dict, &[], out, depth + 1),
            Object::Array(array) => {
                out.push(b'[');
                for item in array.raw_iter() {
                    self.maybe(item, out, depth);
                }
                out.push(b']');
            }
            Object::Stream(stream) => self.reference(stream.obj_id(), out),
        }
    }

    /// Digests of the pictures that resources name, in forms as well.
    fn images(&mut self, resources: &Resources<'a>) -> BTreeSet<Digest> {
        let Named { mut pictures, forms } = self.named_in(resources);
        let mut met = forms.clone();
        let mut open: Vec<ObjectIdentifier> = forms.into_iter().rev().collect();
        while let Some(id) = open.pop() {
            let named = match self.drawn.get(&id) {
                Some(named) => named.clone(),
                None => {
                    let stream = self.xref.get::<Stream>(id);
                    let inner = stream.and_then(|stream| stream.dict().get::<Dict>("Resources"));
                    let named = inner.map(|inner| self.named_in(&Resources::new(inner))).unwrap_or_default();
                    self.drawn.entry(id).or_insert(Arc::new(named)).clone()
                }
            };
            pictures.extend(&named.pictures);
            for form in &named.forms {
                if met.len() < MAX_FORMS && met.insert(*form) {
                    open.push(*form);
                }
            }
        }
        pictures
    }

    /// What resources name themselves.
    fn named_in(&mut self, resources: &Resources<'a>) -> Named {
        let entries = resources.x_objects.entries();
        let ids: Vec<ObjectIdentifier> = entries.filter_map(|(_, entry)| Some(entry.as_obj_ref()?.into())).collect();
        let mut named = Named::default();
        for id in ids {
            let Some(stream) = self.xref.get::<Stream>(id) else { continue };
            match stream.dict().get::<hayro_syntax::object::Name>("Subtype").as_deref() {
                Some(b"Image") => {
                    named.pictures.insert(self.object(id));
                }
                Some(b"Form") => {
                    named.forms.insert(id);
                }
                _ => {}
            }
        }
        named
    }
}

fn text(mark: u8, bytes: &[u8], out: &mut Shape) {
    out.push(mark);
    out.extend(&(bytes.len() as u32).to_le_bytes());
    out.extend(bytes);
}

fn sha(bytes: &[u8]) -> Digest {
    Sha256::digest(bytes).into()
}

/// FNV-1a with a final stir, so that the smallest hashes are an even sample.
fn hash(bytes: &[u8]) -> u64 {
    let h = bytes.iter().fold(0xcbf2_9ce4_8422_2325u64, |h, b| (h ^ u64::from(*b)).wrapping_mul(0x0100_0000_01b3));
    (h ^ (h >> 32)).wrapping_mul(0x9e37_79b9_7f4a_7c15)
}
