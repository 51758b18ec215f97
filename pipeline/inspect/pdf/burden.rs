//! How much a renderer has to do for a page, counted without drawing it.
//!
//! Forms use forms: sixty uses of a form that uses another one sixty times, and so on for seven levels, are a file of
//! 4 kB and 10¹² operators. So every stream is read once, and the uses are multiplied out level by level.

use super::{items, pictures, unpack};
use base::model::facts::Burden;
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Array, Dict, MaybeRef, Name, Object, ObjectIdentifier, String as Text};
use hayro_syntax::page::{Page, Resources};
use hayro_syntax::xref::XRef;
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

/// So deep the renderer follows forms, patterns, masks and glyphs into each other.
const DEPTH: usize = 50;

/// Operators that leave a mark, but for those that use something that is counted by itself.
const MARKS: [&[u8]; 15] =
    [b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"S", b"s", b"sh", b"BI", b"Tj", b"TJ", b"'", b"\""];

/// What one stream does by itself, and how often it uses each other one.
#[derive(Default)]
struct Node {
    own: Burden,
    uses: BTreeMap<ObjectIdentifier, u64>,
    /// The whole burden with so many levels below; the last holds for all deeper ones.
    levels: Vec<Burden>,
}

impl Node {
    fn level(&self, depth: usize) -> Burden {
        self.levels.get(depth).or(self.levels.last()).copied().unwrap_or(self.own)
    }
}

/// Glyphs that are drawings, by the code that shows them.
type Glyphs = Arc<BTreeMap<u8, ObjectIdentifier>>;

/// The scales of one file; every stream is weighed once.
#[derive(Default)]
pub struct Scales {
    nodes: HashMap<ObjectIdentifier, Node>,
    /// Of a font whose glyphs are drawings, the glyphs by code.
    fonts: HashMap<ObjectIdentifier, Glyphs>,
}

impl Scales {
    /// What it takes to draw a page.
    pub fn page<'a>(&mut self, page: &Page<'a>) -> Burden {
        let unpacked = unpack::contents(page);
        let Some(bytes) = unpacked.bytes else {
            return Burden { endless: unpacked.fault.is_none(), ..Burden::default() };
        };
        let mut open = Vec::new();
        let node = self.stream(&bytes, page.resources(), page.xref(), &mut open);
        let mut fresh = Vec::new();
        while let Some((id, outer)) = open.pop() {
            if self.nodes.contains_key(&id) {
                continue;
            }
            let node = self.object(id, &outer, page.xref(), &mut open);
            self.nodes.insert(id, node);
            fresh.push(id);
        }
        self.weigh(&fresh);
        let mut whole = node.own;
        for (id, times) in &node.uses {
            whole.add(&self.nodes.get(id).map(|n| n.level(DEPTH)).unwrap_or_default(), *times);
        }
        whole
    }

    /// Multiplies out what was met for the first time; all that it uses is known.
    fn weigh(&mut self, fresh: &[ObjectIdentifier]) {
        for depth in 0..=DEPTH {
            let of = |id: &ObjectIdentifier| {
                let node = self.nodes.get(id)?;
                let mut whole = node.own;
                for (used, times) in node.uses.iter().filter(|_| depth > 0) {
                    whole.add(&self.nodes.get(used).map(|n| n.level(depth - 1)).unwrap_or_default(), *times);
                }
                Some((*id, whole))
            };
            let next: Vec<(ObjectIdentifier, Burden)> = fresh.iter().filter_map(of).collect();
            for (id, whole) in next {
                if let Some(node) = self.nodes.get_mut(&id) {
                    node.levels.push(whole);
                }
            }
        }
        for id in fresh {
            if let Some(Node { levels, .. }) = self.nodes.get_mut(id) {
                // From where on nothing is added the last level holds.
                while levels.len() > 1 && levels[levels.len() - 2] == levels[levels.len() - 1] {
                    levels.pop();
                }
                levels.shrink_to_fit();
            }
        }
    }

    /// A form, a pattern, a mask, a glyph or a picture.
    fn object<'a>(
        &mut self,
        id: ObjectIdentifier,
        outer: &Resources<'a>,
        xref: &'a XRef,
        open: &mut Vec<(ObjectIdentifier, Resources<'a>)>,
    ) -> Node {
        let Some(Object::Stream(stream)) = xref.get::<Object>(id) else { return Node::default() };
        let dict = stream.dict();
        if dict.get::<Name>("Subtype").as_deref() == Some(b"Image") {
            let pixels = u64::from(pictures::pixels(dict, "Width")) * u64::from(pictures::pixels(dict, "Height"));
            return Node { own: Burden { pixels, largest: pixels, ..Burden::default() }, ..Node::default() };
        }
        let unpacked = unpack::told(&stream);
        let Some(bytes) = unpacked.bytes else {
            return Node { own: Burden { endless: unpacked.fault.is_none(), ..Burden::default() }, ..Node::default() };
        };
        let resources = dict.get::<Dict>("Resources").map_or_else(|| outer.clone(), Resources::new);
        self.stream(&bytes, &resources, xref, open)
    }

    /// Reads instructions: what they do, and what they use; that is to be read next.
    fn stream<'a>(
        &mut self,
        bytes: &[u8],
        resources: &Resources<'a>,
        xref: &'a XRef,
        open: &mut Vec<(ObjectIdentifier, Resources<'a>)>,
    ) -> Node {
        let mut node = Node::default();
        let mut glyphs = Glyphs::default();
        let mut instructions = UntypedIter::new(bytes);
        while let Some(instruction) = instructions.next() {
            node.own.operators += 1;
            let operator: &[u8] = instruction.operator;
            node.own.marks += u64::from(MARKS.contains(&operator));
            let name = || {
                let names = instruction.operands().filter_map(|o| if let Object::Name(n) = o { Some(n) } else { None });
                names.last()
            };
            let used = match operator {
                b"Do" => name().and_then(|n| resources.x_objects.get_raw::<Object>(&n[..])),
                b"scn" | b"SCN" => name().and_then(|n| resources.patterns.get_raw::<Object>(&n[..])),
                b"gs" => name().and_then(|n| {
                    let state = resources.ext_g_states.get::<Dict>(&n[..])?;
                    state.get::<Dict>("SMask")?.get_raw::<Object>("G")
                }),
                b"Tf" => {
                    let font = name().and_then(|n| resources.fonts.get_raw::<Object>(&n[..]));
                    glyphs = font.map(|font| self.glyphs(font, xref)).unwrap_or_default();
                    None
                }
                b"Tj" | b"TJ" | b"'" | b"\"" if !glyphs.is_empty() => {
                    for shown in instruction.operands() {
                        each_code(shown, &mut |code| {
                            if let Some(id) = glyphs.get(&code) {
                                uses(&mut node, *id, resources, open);
                            }
                        });
                    }
                    None
                }
                _ => None,
            };
            if let Some(MaybeRef::Ref(r)) = used {
                uses(&mut node, r.into(), resources, open);
            }
        }
        node
    }

    /// The glyphs of a font that are drawings (ISO 32000-1, 9.6.5), by the codes of its encoding (9.6.6).
    fn glyphs<'a>(&mut self, font: MaybeRef<Object<'a>>, xref: &'a XRef) -> Glyphs {
        let MaybeRef::Ref(r) = font else { return Glyphs::default() };
        let id: ObjectIdentifier = r.into();
        let of = || -> Option<BTreeMap<u8, ObjectIdentifier>> {
            let dict = xref.get::<Dict>(id)?;
            let procs = dict.get::<Dict>("CharProcs")?;
            let differences = dict.get::<Dict>("Encoding")?.get::<Array>("Differences")?;
            let (mut code, mut glyphs) = (0, BTreeMap::new());
            for item in items(&differences, xref) {
                match item {
                    Object::Number(n) => code = n.as_i64(),
                    Object::Name(name) => {
                        if let (Ok(code), Some(MaybeRef::Ref(r))) =
                            (u8::try_from(code), procs.get_raw::<Object>(&name[..]))
                        {
                            glyphs.insert(code, r.into());
                        }
                        code = code.saturating_add(1);
                    }
                    _ => {}
                }
            }
            Some(glyphs)
        };
        self.fonts.entry(id).or_insert_with(|| Arc::new(of().unwrap_or_default())).clone()
    }
}

/// Counts a use, and has what is used for the first time read next.
fn uses<'a>(
    node: &mut Node,
    id: ObjectIdentifier,
    resources: &Resources<'a>,
    open: &mut Vec<(ObjectIdentifier, Resources<'a>)>,
) {
    let times = node.uses.entry(id).or_default();
    if *times == 0 {
        open.push((id, resources.clone()));
    }
    *times += 1;
}

/// The codes of a text, or of the texts of an array.
fn each_code(shown: &Object, each: &mut impl FnMut(u8)) {
    match shown {
        Object::String(text) => text.as_bytes().iter().for_each(|code| each(*code)),
        Object::Array(parts) => {
            for text in parts.iter::<Text>() {
                text.as_bytes().iter().for_each(|code| each(*code));
            }
        }
        _ => {}
    }
}
