//! What a page draws, as a digest that knows nothing of how the file is stored.
//!
//! Content streams are read operator by operator; every resource that they name is replaced by a digest of what it
//! holds, however deep. Object numbers, compression, the order of keys, the names of resources and the way in which
//! numbers are written therefore leave no trace. Annotations are left out: a page with another link draws the same.

use super::{resolve, unpack};
use hayro_syntax::Filter;
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Dict, MaybeRef, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::{Page, Resources};
use hayro_syntax::xref::XRef;
use sha2::{Digest as _, Sha256};
use std::collections::{BTreeSet, HashMap, HashSet};

/// A SHA-256.
pub type Digest = [u8; 32];

/// The deepest nesting that is followed; beyond, everything counts as the same.
const MAX_DEPTH: usize = 48;
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
pub struct Print {
    /// Digest of all that the page draws.
    pub digest: Digest,
    /// The smallest hashes of its instructions, sorted: two pages that share many are alike.
    pub sketch: Vec<u64>,
    /// How often operators are used, sorted into a few drawers.
    pub operators: [u32; 16],
    /// Digests of the pictures that it names, forms included.
    pub images: BTreeSet<Digest>,
}

/// Takes the prints of one file; remembers the digest of every object that it met.
pub struct Digester<'a> {
    xref: &'a XRef,
    known: HashMap<ObjectIdentifier, Digest>,
    open: HashSet<ObjectIdentifier>,
    pictures: HashMap<ObjectIdentifier, BTreeSet<Digest>>,
}

impl<'a> Digester<'a> {
    /// A digester for the file with this table.
    pub fn new(xref: &'a XRef) -> Digester<'a> {
        Digester { xref, known: HashMap::new(), open: HashSet::new(), pictures: HashMap::new() }
    }

    /// The print of a page. A page whose content is too large to unpack has the digest of its stored bytes.
    pub fn page(&mut self, page: &Page<'a>) -> Print {
        let mut print = Print::default();
        let Some(bytes) = unpack::contents(page).bytes else {
            let mut out = Vec::new();
            if let Some(contents) = page.raw().get::<Object>("Contents") {
                self.value(&contents, &mut out, 0);
            }
            print.digest = sha(&out);
            return print;
        };
        let mut out = Vec::with_capacity(bytes.len() * 2);
        let mut hashes = BTreeSet::new();
        self.content(&bytes, page.resources(), &mut out, 0, Some((&mut print, &mut hashes)));
        if let Some(group) = page.raw().get::<Dict>("Group") {
            self.dict_but(&group, &[], &mut out, 0);
        }
        print.digest = sha(&out);
        print.sketch = hashes.into_iter().take(SKETCH).collect();
        self.images(page.resources(), &mut print.images, 0);
        print
    }

    /// Digest of an object: of a stream what it holds unpacked, and what its dictionary says.
    pub fn object(&mut self, id: ObjectIdentifier) -> Digest {
        self.reference(id, 0)
    }

    fn content(
        &mut self,
        bytes: &[u8],
        resources: &Resources<'a>,
        out: &mut Vec<u8>,
        depth: usize,
        mut print: Option<(&mut Print, &mut BTreeSet<u64>)>,
    ) {
        let mut instructions = UntypedIter::new(bytes);
        while let Some(instruction) = instructions.next() {
            let operator: &[u8] = instruction.operator;
            let begun = out.len();
            for operand in instruction.operands() {
                match operand {
                    Object::Name(name) => self.named(operator, name, resources, out, depth),
                    // An inline picture: it has no number of its own.
                    Object::Stream(stream) => {
                        self.dict_but(stream.dict(), &[], out, depth + 1);
                        out.extend(sha(&stream.raw_data()));
                    }
                    other => self.value(other, out, depth + 1),
                }
            }
            out.push(b' ');
            out.extend(operator);
            if let Some((print, hashes)) = &mut print {
                print.operators[usize::from(operator.iter().fold(0u8, |n, b| n.wrapping_mul(31) ^ b) & 15)] += 1;
                // What has no operands is in every page.
                if out.len() > begun + 1 + operator.len() {
                    hashes.insert(hash(&out[begun..]));
                    if hashes.len() > SKETCH * 2 {
                        while hashes.len() > SKETCH {
                            hashes.pop_last();
                        }
                    }
                }
            }
            out.push(b'\n');
        }
    }

    /// A name that an operator gives: the resource that it stands for, or itself.
    fn named(&mut self, operator: &[u8], name: &[u8], resources: &Resources<'a>, out: &mut Vec<u8>, depth: usize) {
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
            Some(MaybeRef::Ref(r)) => out.extend(self.reference(r.into(), depth + 1)),
            Some(MaybeRef::NotRef(object)) => {
                let mut inner = Vec::new();
                self.value(&object, &mut inner, depth + 1);
                out.extend(sha(&inner));
            }
            None => text(b'/', name, out),
        }
    }

    /// Digest of an indirect object. One that is met while it is being worked through is part of a circle.
    fn reference(&mut self, id: ObjectIdentifier, depth: usize) -> Digest {
        if let Some(digest) = self.known.get(&id) {
            return *digest;
        }
        if depth > MAX_DEPTH || !self.open.insert(id) {
            return [1; 32];
        }
        let mut out = Vec::new();
        match self.xref.get::<Object>(id) {
            Some(Object::Stream(stream)) => self.stored(&stream, &mut out, depth),
            Some(object) => self.value(&object, &mut out, depth + 1),
            None => out.push(b'n'),
        }
        self.open.remove(&id);
        let digest = sha(&out);
        self.known.insert(id, digest);
        digest
    }

    fn stored(&mut self, stream: &Stream<'a>, out: &mut Vec<u8>, depth: usize) {
        let dict = stream.dict();
        let drawn = dict.get::<hayro_syntax::object::Name>("Subtype").is_some_and(|n| n.as_ref() == b"Form")
            || dict.contains_key("PatternType");
        self.dict_but(dict, if drawn { &[b"Resources"] } else { &[] }, out, depth + 1);
        let lossy = stream
            .filters()
            .iter()
            .any(|f| matches!(f, Filter::DctDecode | Filter::JpxDecode | Filter::Jbig2Decode | Filter::CcittFaxDecode));
        match if lossy { None } else { unpack::stream(stream) } {
            Some(bytes) if drawn => {
                let resources = Resources::new(dict.get::<Dict>("Resources").unwrap_or_default());
                self.content(&bytes, &resources, out, depth + 1, None);
            }
            Some(bytes) => out.extend(sha(&bytes)),
            None => {
                for key in ["Filter", "DecodeParms"] {
                    if let Some(how) = dict.get::<Object>(key) {
                        self.value(&how, out, depth + 1);
                    }
                }
                out.extend(sha(&stream.raw_data()));
            }
        }
    }

    fn dict_but(&mut self, dict: &Dict<'_>, but: &[&[u8]], out: &mut Vec<u8>, depth: usize) {
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

    fn maybe(&mut self, value: MaybeRef<Object<'_>>, out: &mut Vec<u8>, depth: usize) {
        match value {
            // What is written in place and what is referred to must come out the same: small things are written
            // out, and both ways end in a digest of the same bytes.
            MaybeRef::Ref(r) => {
                let id: ObjectIdentifier = r.into();
                match resolve(MaybeRef::Ref(r), self.xref) {
                    Object::Stream(_) | Object::Dict(_) | Object::Array(_) => out.extend(self.reference(id, depth + 1)),
                    plain => self.value(&plain, out, depth + 1),
                }
            }
            MaybeRef::NotRef(object @ (Object::Dict(_) | Object::Array(_))) => {
                let mut inner = Vec::new();
                self.value(&object, &mut inner, depth + 1);
                out.extend(sha(&inner));
            }
            MaybeRef::NotRef(object) => self.value(&object, out, depth + 1),
        }
    }

    fn value(&mut self, object: &Object<'_>, out: &mut Vec<u8>, depth: usize) {
        if depth > MAX_DEPTH {
            return out.push(b'?');
        }
        match object {
            Object::Null(_) => out.push(b'n'),
            Object::Boolean(yes) => out.extend(if *yes { b" t" } else { b" f" }),
            Object::Number(n) => {
                out.push(b'#');
                // As a reader holds it: 1, 1.0 and 1.000000 are one number, and so is minus nought.
                out.extend((n.as_f64() as f32 + 0.0).to_bits().to_le_bytes());
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
            Object::Stream(stream) => out.extend(self.reference(stream.obj_id(), depth + 1)),
        }
    }

    /// Digests of the pictures that resources name, in forms as well.
    fn images(&mut self, resources: &Resources<'a>, into: &mut BTreeSet<Digest>, depth: usize) {
        if depth > 12 {
            return;
        }
        let named: Vec<ObjectIdentifier> = resources
            .x_objects
            .entries()
            .filter_map(|(_, entry)| entry.as_obj_ref().map(ObjectIdentifier::from))
            .collect();
        for id in named {
            if let Some(found) = self.pictures.get(&id) {
                into.extend(found);
                continue;
            }
            // Whoever meets this form within itself finds nothing.
            self.pictures.insert(id, BTreeSet::new());
            let Some(Object::Stream(stream)) = self.xref.get::<Object>(id) else { continue };
            let mut found = BTreeSet::new();
            match stream.dict().get::<hayro_syntax::object::Name>("Subtype").as_deref() {
                Some(b"Image") => {
                    found.insert(self.reference(id, 0));
                }
                Some(b"Form") => {
                    if let Some(inner) = stream.dict().get::<Dict>("Resources") {
                        self.images(&Resources::new(inner), &mut found, depth + 1);
                    }
                }
                _ => {}
            }
            into.extend(&found);
            self.pictures.insert(id, found);
        }
    }
}

fn text(mark: u8, bytes: &[u8], out: &mut Vec<u8>) {
    out.push(mark);
    out.extend((bytes.len() as u32).to_le_bytes());
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
