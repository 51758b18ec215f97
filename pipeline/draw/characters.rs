//! Which characters of a text no font of the product has.

use resvg::usvg::fontdb::Database;
use resvg::usvg::{Group, Node, Text, Tree};
use rustybuzz::ttf_parser::Face;
use std::collections::BTreeSet;
use unicode_normalization::UnicodeNormalization;

/// The characters of all texts of a drawing that none of these fonts can show.
pub fn lacking(tree: &Tree, fonts: &Database) -> BTreeSet<char> {
    let mut shown = String::new();
    each_text(tree.root(), &mut |text| {
        for chunk in text.chunks() {
            shown.push_str(chunk.text());
            shown.push(' ');
        }
    });
    of(&shown, fonts)
}

/// The characters that stand on a drawing as the box for what a font lacks. One of the fonts may well have them: the library that sets
/// texts of drawings takes a character of another font only where both make as many glyphs of the whole line, which they do not for
/// scripts whose letters join.
pub fn boxed(tree: &Tree) -> BTreeSet<char> {
    let mut out = BTreeSet::new();
    each_text(tree.root(), &mut |text| out.extend(boxed_in(text)));
    out
}

/// The same of one text.
pub fn boxed_in(text: &Text) -> impl Iterator<Item = char> {
    let glyphs = text.layouted().iter().flat_map(|span| &span.positioned_glyphs);
    glyphs.filter(|glyph| glyph.id.0 == 0).flat_map(|glyph| glyph.text.chars()).filter(|c| is_seen(*c))
}

/// The characters of one text, as it is written, that none of these fonts can show. A letter with an accent is there when its parts are, and the other way round.
pub fn of(text: &str, fonts: &Database) -> BTreeSet<char> {
    let written: BTreeSet<char> = text.chars().filter(|c| is_seen(*c)).collect();
    let composed: BTreeSet<char> = text.nfc().filter(|c| is_seen(*c)).collect();
    let parts = |c: char| std::iter::once(c).nfd();
    let wanted: BTreeSet<char> = written.union(&composed).flat_map(|c| std::iter::once(*c).chain(parts(*c))).collect();
    let mut there = BTreeSet::new();
    for face in fonts.faces() {
        fonts.with_face_data(face.id, |data, index| {
            if let Ok(face) = Face::parse(data, index) {
                there.extend(wanted.iter().copied().filter(|c| face.glyph_index(*c).is_some()));
            }
        });
    }
    let has = |c: char| there.contains(&c) || parts(c).all(|part| part != c && there.contains(&part));
    let lost: Vec<char> = composed.into_iter().filter(|c| !has(*c)).collect();
    let within = |c: char| lost.iter().any(|d| *d == c || parts(*d).any(|part| part == c));
    written.into_iter().filter(|c| !has(*c) && within(*c)).collect()
}

fn each_text(group: &Group, with: &mut dyn FnMut(&Text)) {
    for node in group.children() {
        match node {
            Node::Group(group) => each_text(group, with),
            Node::Text(text) => with(text),
            _ => {}
        }
    }
}

/// Whether a character leaves a mark by itself. Those that do not (Unicode 16, Default_Ignorable_Code_Point, from memory)
/// are left out by whoever shapes a text, whether a font has them or not.
pub fn is_seen(c: char) -> bool {
    let hidden = c.is_whitespace() || c.is_control();
    !hidden
        && !matches!(c,
            '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}'..='\u{1160}' | '\u{17b4}'..='\u{17b5}' | '\u{180b}'..='\u{180f}'
            | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{3164}'
            | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fff8}'
            | '\u{1bca0}'..='\u{1bca3}' | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}')
}
