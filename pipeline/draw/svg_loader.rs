//! The designer's SVG files: refused where they reach outside of themselves, drawn with the product's own fonts.
//!
//! A drawing must come out the same on every machine, and it must not be able to read the designer's disk or call a server while
//! it is built. So links to other files are a fault with its place, not a silent gap in the picture.

use super::{characters, limits};
pub use crate::source_span::span;
use base::model::Fault;
use base::model::drawing::{ArtFonts, Role};
use base::model::panics;
use base::model::panics::GaveUp;
use base::model::product::{FontFile, Style};
use raster::decode::check_size;
use resvg::usvg::{self, fontdb, roxmltree};
use std::collections::BTreeSet;
use std::sync::{Arc, Mutex};

/// The most elements of a drawing.
const MOST_NODES: u32 = 2_000_000;
/// What is said of an entity that another file defines.
const OUTER_ENTITY: &str = "the SVG defines an entity that lies outside of this file";

/// What every SVG of a product is drawn with; made once.
pub struct SvgLoader {
    fonts: Arc<fontdb::Database>,
    files: Arc<ArtFonts>,
    family: String,
}

/// A drawing ready to render, and what the designer should know of it.
pub struct LoadedSvg {
    /// The drawing.
    pub tree: usvg::Tree,
    /// Such as fonts that were replaced, or what is left out.
    pub notes: Vec<String>,
    /// The notes on what is left out alone.
    pub left_out: Vec<String>,
    /// What its texts ask for and the product's fonts do not have.
    pub lacks: BTreeSet<MissingGlyph>,
}

/// What is said of a character that is not set in the font that has it.
pub const UNSET: &str = "is drawn as an empty box: it stands in a line whose other letters are of another font; put it into a <tspan> with the \
                         font-family that has it, or draw it as a shape";

/// Something that no font of the product has, or that was not set in the one that has it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MissingGlyph {
    /// A font family that a text names.
    Family(String),
    /// A character.
    Character(char),
    /// A character that one of the fonts has, and that is not set in it among letters of another.
    Unset(char),
}

impl SvgLoader {
    /// A svg with the fonts of this style and no others.
    pub fn new(style: &Style) -> SvgLoader {
        SvgLoader::with(style, &[])
    }

    /// A svg with the fonts of this style, and with more that only drawings use.
    pub fn with(style: &Style, more: &[FontFile]) -> SvgLoader {
        SvgLoader::of(Arc::new(ArtFonts { style: style.fonts.clone(), more: more.to_vec() }))
    }

    /// A svg with these fonts.
    pub fn of(files: Arc<ArtFonts>) -> SvgLoader {
        let mut db = fontdb::Database::new();
        let mut family = |role: Role| -> String {
            let names: Vec<String> = files.style.get(&role).into_iter().flatten().map(|f| load(&mut db, f)).collect();
            names.into_iter().next().unwrap_or_default()
        };
        let [heading, _, label, _, _] = Role::ALL.map(&mut family);
        for file in &files.more {
            load(&mut db, file);
        }
        db.set_serif_family(&heading);
        db.set_cursive_family(&heading);
        db.set_fantasy_family(&heading);
        db.set_sans_serif_family(&label);
        db.set_monospace_family(&label);
        SvgLoader { fonts: Arc::new(db), files, family: label }
    }

    /// The font files that it has.
    pub fn files(&self) -> &Arc<ArtFonts> {
        &self.files
    }

    /// Reads an SVG document. `name` is its path, for messages.
    pub fn read(&self, name: &str, text: &str) -> Result<LoadedSvg, Fault> {
        limits::text(text).map_err(|f| f.in_file(name))?;
        panics::fenced(|| self.read_here(name, text, true))
            .unwrap_or_else(|gave_up| Err(self.given_up(&gave_up, name, text)))
    }

    /// The fault for a drawing that the library gave up on: characters that no font has are the usual cause, and the one
    /// that the designer can mend.
    fn given_up(&self, gave_up: &GaveUp, name: &str, text: &str) -> Fault {
        let fault = gave_up.fault("drawing", name);
        let lacks = panics::fenced(|| self.lacks_of_words(text)).unwrap_or_default();
        if lacks.is_empty() {
            return fault;
        }
        let told: Vec<String> = lacks.iter().map(|c| format!("“{c}” (U+{:04X})", u32::from(*c))).collect();
        let lacks = told.join(", ");
        Fault::new(format!("{}; none of the product's fonts has {lacks}", fault.message))
            .in_file(name)
            .help("leave these characters out, draw them as shapes, or give a font that has them")
    }

    fn lacks_of_words(&self, text: &str) -> BTreeSet<char> {
        let options = roxmltree::ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..Default::default() };
        let Ok(doc) = roxmltree::Document::parse_with_options(text.trim_start_matches('\u{feff}'), options) else {
            return BTreeSet::new();
        };
        let words = doc.descendants().filter(|n| n.is_element() && n.tag_name().name() == "text");
        let words: String = words.flat_map(|n| n.descendants()).filter_map(|n| n.text()).collect();
        characters::of(&words, &self.fonts)
    }

    fn read_here(&self, name: &str, text: &str, whole: bool) -> Result<LoadedSvg, Fault> {
        let options = roxmltree::ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..Default::default() };
        // A byte order mark is no part of the drawing (XML 1.0, 4.3.3).
        let text = text.trim_start_matches('\u{feff}');
        let doc = roxmltree::Document::parse_with_options(text, options).map_err(|e| broken(name, text, &e))?;
        limits::parts(&doc, text).map_err(|f| f.in_file(name))?;
        let mut notes = closed(&doc, text).map_err(|f| f.in_file(name))?;
        let missing: Mutex<BTreeSet<MissingGlyph>> = Mutex::default();
        let found: Mutex<limits::pictures::Found> = Mutex::default();
        let drawn = usvg::Tree::from_xmltree(&doc, &self.options(&missing, &found));
        if let Some(fault) = found.into_inner().unwrap_or_default().fault {
            return Err(fault.in_file(name));
        }
        let tree = drawn.map_err(|e| {
            Fault::new(format!("this SVG cannot be drawn: {e}"))
                .in_file(name)
                .help("an SVG needs an <svg> element with a width, a height or a viewBox that is not zero")
        })?;
        let (w, h) = (f64::from(tree.size().width()), f64::from(tree.size().height()));
        check_size(w.ceil() as u64, h.ceil() as u64).map_err(|f| f.in_file(name))?;
        if let Some(cut) = whole.then(|| limits::cut(&doc, text, &tree)).flatten() {
            return self.read_here(name, &cut, false);
        }
        let mut lacks = missing.into_inner().unwrap_or_default();
        // The library asks for the first character of a cluster, whichever is lacking.
        let asked: String = lacks
            .iter()
            .filter_map(|lack| if let MissingGlyph::Character(c) = lack { Some(*c) } else { None })
            .collect();
        lacks.retain(|lack| matches!(lack, MissingGlyph::Family(_)));
        let lacking = characters::lacking(&tree, &self.fonts).into_iter().chain(characters::of(&asked, &self.fonts));
        let lacking: BTreeSet<char> = lacking.collect();
        let unset = characters::boxed(&tree).into_iter().filter(|c| !lacking.contains(c)).map(MissingGlyph::Unset);
        lacks.extend(unset.chain(lacking.iter().copied().map(MissingGlyph::Character)));
        let left_out = notes.clone();
        notes.extend(lacks.iter().map(|lack| self.told(lack)));
        Ok(LoadedSvg { tree, notes, left_out, lacks })
    }

    /// What is lacking, in words.
    fn told(&self, lack: &MissingGlyph) -> String {
        match lack {
            MissingGlyph::Family(wanted) => format!(
                "text asks for the font “{wanted}”, which is none of the product's; one of those stands in ({})",
                self.family
            ),
            MissingGlyph::Character(c) => {
                format!("none of the product's fonts has the character “{c}” (U+{:04X})", u32::from(*c))
            }
            MissingGlyph::Unset(c) => format!("the character “{c}” (U+{:04X}) {UNSET}", u32::from(*c)),
        }
    }

    fn options<'a>(
        &self,
        missing: &'a Mutex<BTreeSet<MissingGlyph>>,
        found: &'a Mutex<limits::pictures::Found>,
    ) -> usvg::Options<'a> {
        let note = move |lack: MissingGlyph| {
            if let Ok(mut set) = missing.lock() {
                set.insert(lack);
            }
        };
        let (select, fallback) =
            (usvg::FontResolver::default_font_selector(), usvg::FontResolver::default_fallback_selector());
        usvg::Options {
            font_family: self.family.clone(),
            fontdb: self.fonts.clone(),
            font_resolver: usvg::FontResolver {
                select_font: Box::new(move |font, db| {
                    for named in font.families() {
                        if let usvg::FontFamily::Named(wanted) = named
                            && !db.faces().any(|f| f.families.iter().any(|(n, _)| n == wanted))
                        {
                            note(MissingGlyph::Family(wanted.clone()));
                        }
                    }
                    select(font, db)
                }),
                select_fallback: Box::new(move |c, used, db| {
                    let found = fallback(c, used, db);
                    if found.is_none() && !c.is_whitespace() {
                        note(MissingGlyph::Character(c));
                    }
                    found
                }),
            },
            image_href_resolver: usvg::ImageHrefResolver {
                resolve_data: limits::pictures::resolver(found),
                // Nothing outside the drawing is ever opened; `closed` has said so with the place already.
                resolve_string: Box::new(|_, _| None),
            },
            resources_dir: None,
            ..usvg::Options::default()
        }
    }
}

/// Adds a font file and gives the name of its family.
fn load(db: &mut fontdb::Database, file: &FontFile) -> String {
    let bytes: Arc<dyn AsRef<[u8]> + Send + Sync> = Arc::new(file.bytes.clone());
    let ids = db.load_font_source(fontdb::Source::Binary(bytes));
    let face = ids.first().and_then(|id| db.face(*id));
    face.and_then(|f| f.families.first()).map(|f| f.0.clone()).unwrap_or_default()
}

/// The fault for a document that is no XML.
fn broken(name: &str, text: &str, e: &roxmltree::Error) -> Fault {
    use roxmltree::Error as E;
    let message = match e {
        E::UnclosedRootNode | E::UnexpectedEndOfStream => {
            "the SVG is cut off: it ends before its last element is closed".to_owned()
        }
        E::NoRootNode => "the SVG is empty".to_owned(),
        E::NodesLimitReached => format!("the SVG has more than {MOST_NODES} parts"),
        E::UnexpectedCloseTag(open, close, _) => format!("</{close}> closes what was opened as <{open}>"),
        E::UnknownEntityReference(..) if outer_entity(text).is_some() => OUTER_ENTITY.to_owned(),
        E::UnknownEntityReference(entity, _) => format!("&{entity}; is not defined in this file"),
        E::EntityReferenceLoop(_) => "an entity of this file refers to itself, or to too many others".to_owned(),
        E::UnknownNamespace(prefix, _) => format!("the prefix {prefix}: is not declared in this file"),
        other => {
            let text = other.to_string();
            format!("this is not well-formed XML: {}", text.rsplit_once(" at ").map_or(text.as_str(), |(t, _)| t))
        }
    };
    let pos = match e {
        E::UnclosedRootNode | E::UnexpectedEndOfStream => end_of(text),
        _ => e.pos(),
    };
    Fault::new(message).in_file(name).at(span(text, pos)).help("export the drawing again as plain SVG")
}

fn end_of(text: &str) -> roxmltree::TextPos {
    let last = text.lines().count().max(1);
    let column = text.lines().last().map_or(1, |l| l.chars().count() + 1);
    roxmltree::TextPos::new(last as u32, column as u32)
}

/// Makes sure that a drawing needs nothing but itself, and gives notes on what is left out.
fn closed(doc: &roxmltree::Document, text: &str) -> Result<Vec<String>, Fault> {
    let at = |byte: usize| span(text, doc.text_pos_at(byte));
    if let Some(byte) = outer_entity(text) {
        return Err(Fault::new(OUTER_ENTITY)
            .at(at(byte))
            .help("remove the <!ENTITY … SYSTEM …> line, or export the drawing again as plain SVG"));
    }
    let mut notes = BTreeSet::new();
    for node in doc.descendants() {
        if node.is_pi() && node.pi().is_some_and(|p| p.target == "xml-stylesheet") {
            return Err(Fault::new("the SVG takes its styles from another file")
                .at(at(node.range().start))
                .help("export it with its styles inside"));
        }
        if !node.is_element() {
            continue;
        }
        let (tag, start) = (node.tag_name().name(), node.range().start);
        match tag {
            "script" => {
                return Err(Fault::new("the SVG holds a script; a drawing is a still picture and runs none")
                    .at(at(start))
                    .help("export it as plain SVG, without interaction"));
            }
            "foreignObject" => {
                notes.insert("the SVG holds a <foreignObject> (a piece of a web page), which is left out".to_owned());
            }
            "animate" | "animateTransform" | "animateMotion" | "set" => {
                notes.insert("the SVG is animated; it is drawn as it stands before anything moves".to_owned());
            }
            "style" => {
                let css = node.text().unwrap_or("");
                if css.contains("@import") {
                    return Err(Fault::new("a style of the SVG imports another file")
                        .at(at(start))
                        .help("export it with its styles inside"));
                }
                outer_url(css).map_or(Ok(()), |u| Err(reaches_out(&u).at(at(start))))?;
            }
            _ => {}
        }
        for attribute in node.attributes() {
            let value = attribute.value().trim();
            let place = || at(attribute.range().start);
            if attribute.name().starts_with("on") && attribute.namespace().is_none() && tag != "script" {
                notes.insert("the SVG reacts to taps or the mouse; that is left out".to_owned());
            }
            // A link that a reader could follow loads nothing; everything else named by href would.
            if attribute.name() == "href" && tag != "a" && !value.is_empty() && !own(value) {
                return Err(reaches_out(value).at(place()));
            }
            if let Some(url) = outer_url(value) {
                return Err(reaches_out(&url).at(place()));
            }
        }
    }
    Ok(notes.into_iter().collect())
}

fn reaches_out(href: &str) -> Fault {
    let short: String = href.chars().take(80).collect();
    let what = if href.contains("://") || href.starts_with("//") { "a remote file" } else { "another file" };
    Fault::new(format!("the SVG links to {what}: {short}"))
        .help("embed the picture in the drawing (drawing programs call it “embed” rather than “link”) and export again")
}

/// Whether a reference stays inside the document.
fn own(href: &str) -> bool {
    href.starts_with('#') || href.get(..5).is_some_and(|s| s.eq_ignore_ascii_case("data:"))
}

/// The first `url(…)` in a style that leads out of the document.
fn outer_url(css: &str) -> Option<String> {
    css.match_indices("url(").find_map(|(i, _)| {
        let inner = css[i + 4..].split(')').next().unwrap_or("");
        let inner = inner.trim().trim_matches(['"', '\'']).trim();
        (!inner.is_empty() && !own(inner)).then(|| inner.to_owned())
    })
}

/// Where a document type declaration defines an entity by a file or address.
fn outer_entity(text: &str) -> Option<usize> {
    let from = text.find("<!DOCTYPE")?;
    text[from..].match_indices("<!ENTITY").find_map(|(i, _)| {
        let definition = text[from + i..].split('>').next().unwrap_or("");
        // The keyword stands before any quoted value.
        let head = definition.split(['"', '\'']).next().unwrap_or("");
        let outer = head.split_whitespace().any(|w| w == "SYSTEM" || w == "PUBLIC");
        outer.then_some(from + i)
    })
}
