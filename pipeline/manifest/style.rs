//! Colours, corners and fonts.

use super::raw;
use super::source::{Source, suggest, suggest_file};
use base::colour;
use base::files::Files;
use base::model::assets::{Assets, Use};
use base::model::finish::Finish;
use base::model::look::Manner;
use base::model::product::{FontFile, FontFiles, Style};
use base::model::{Blob, Mm, Rgb, Role};
use draw::built_in;
use draw::fonts;
use draw::fonts::Embedding;
use draw::{variable, web_font};
use std::collections::BTreeMap;
use std::ops::Range;

/// Resolves the style; `None` when a font is missing.
pub fn resolve(source: &mut Source, world: &dyn Files, raw: &raw::Style, assets: &Assets) -> Option<Style> {
    let paper = raw.paper.map_or(Rgb::new(0xfd, 0xfb, 0xf6), |c| c.0);
    let dark = colour::luminance(paper) < 0.2;
    let ink = raw.ink.map_or(if dark { Rgb::new(0xee, 0xea, 0xe2) } else { Rgb::new(0x33, 0x31, 0x38) }, |c| c.0);
    let accent = raw.accent.map_or(colour::oklch(0.55, 0.09, 150.0), |c| c.0);
    // A desk a step darker than the paper, with a breath of the accent.
    let desk = raw.desk.map_or_else(
        || {
            if dark {
                colour::mix(paper, Rgb::BLACK, 0.35)
            } else {
                colour::mix(colour::mix(paper, ink, 0.1), accent, 0.08)
            }
        },
        |c| c.0,
    );
    // Mid grey: the paper's own hue, at the contrast that rules want.
    let rule = raw.rule.map_or_else(|| colour::at_contrast(paper, ink, 1.9), |c| c.0);
    let corner = raw.corner.as_ref().map_or(Mm(2.5), |c| c.get_ref().0);
    if let (Some(c), true) = (&raw.corner, corner.0 > 20.0) {
        source.fault(c.span(), "a corner radius of more than 20 mm eats the page", Some("2 to 4 mm look well".into()));
    }
    let mut fonts = fonts(source, world, &raw.fonts, assets)?;
    if let Some(figures) = &raw.figures {
        fonts.values_mut().flatten().for_each(|font| font.figures = Some(*figures.get_ref()));
    }
    let manner = Manner {
        tabs: raw.tabs.unwrap_or_default(),
        binding: raw.binding.unwrap_or_default(),
        metal: raw.metal.unwrap_or_default(),
        grain: raw.grain.unwrap_or_default(),
        heading: raw.heading.unwrap_or_default(),
        rules: raw.rules.unwrap_or_default(),
        divider: raw.divider.unwrap_or_default(),
        index: raw.index.unwrap_or_default(),
        cover: raw.cover,
        board: raw.board.map(|c| c.0),
        material: raw.material.unwrap_or_default(),
        finish: finish(source, raw),
        capitals: raw.capitals.as_ref().map(|c| *c.get_ref()).unwrap_or_default(),
    };
    Some(Style { fonts, ink, rule, paper, desk, accent, corner, manner })
}

/// What is done to boards where a cover does not say it.
fn finish(source: &mut Source, raw: &raw::Style) -> Finish {
    Finish {
        label: raw.label_shape.unwrap_or_default(),
        foil: raw.foil.unwrap_or_default(),
        stamp: raw.stamp.unwrap_or_default(),
        quarter: raw.quarter.unwrap_or_default(),
        quarter_colour: raw.quarter_colour.map(|c| c.0),
        corners: raw.corner_pieces.unwrap_or_default(),
        stitching: raw.stitching.unwrap_or_default(),
        elastic: raw.elastic.unwrap_or_default(),
        ribbons: raw.ribbons.as_ref().map_or(0, |count| ribbons(source, count)),
        trim: raw.trim.map(|c| c.0),
    }
}

/// How many ribbons are asked for.
pub fn ribbons(source: &mut Source, count: &toml::Spanned<u32>) -> u8 {
    match *count.get_ref() {
        few @ 0..=3 => few as u8,
        many => {
            let help = Some("give 0 to 3".to_owned());
            source.fault(count.span(), format!("{many} ribbons are more than a book holds"), help);
            0
        }
    }
}

/// The designer's own fonts where the designer names them, the tool's elsewhere. An italic or bold that the designer does not name falls back
/// to the designer's own upright, so that no family is mixed into the designer's unasked; a typeface that the tool brings along has its own.
fn fonts(source: &mut Source, world: &dyn Files, raw: &raw::Fonts, assets: &Assets) -> Option<FontFiles> {
    let roles = [
        (Role::Heading, &raw.heading, None, "LibertinusSerif-Regular"),
        (Role::HeadingItalic, &raw.heading_italic, Some(&raw.heading), "LibertinusSerif-Italic"),
        (Role::Label, &raw.label, None, "NotoSans-Regular"),
        (Role::LabelBold, &raw.label_bold, Some(&raw.label), "NotoSans-Bold"),
        (Role::LabelItalic, &raw.label_italic, Some(&raw.label), "NotoSans-Italic"),
    ];
    let mut out = BTreeMap::new();
    for (role, named, instead, name) in roles {
        let mut files: Vec<FontFile> = Vec::new();
        for (font, span) in named.as_ref().or(instead.and_then(|i| i.as_ref())).into_iter().flat_map(each) {
            let path = font.file.as_str();
            let file = brought(path, role).or_else(|| own(source, world, path, span.clone(), assets));
            files.extend(file.and_then(|file| weighed(source, file, font.weight, span)));
        }
        // With the tool's own in the place of one that is at fault, reading goes on: all faults come in one run.
        if files.is_empty() {
            files.extend(built_in::font(name));
        }
        if !files.is_empty() {
            out.insert(role, files);
        }
    }
    (out.len() == Role::ALL.len()).then_some(out)
}

/// A font that the tool brings along: a face by its name, or of a typeface the face for a role.
fn brought(name: &str, role: Role) -> Option<FontFile> {
    match built_in::family(name) {
        Some(family) => built_in::font(family.face(role)),
        None if name.contains('.') => None,
        None => built_in::font_named(name),
    }
}

/// The files of a role, each with its place in the manifest.
pub fn each(named: &toml::Spanned<raw::FontNames>) -> impl Iterator<Item = (&raw::Weighed, Range<usize>)> {
    named.get_ref().0.iter().map(|font| (font, named.span()))
}

/// A font at the weight that is stated; as it is where none is.
fn weighed(source: &mut Source, file: FontFile, weight: Option<f64>, span: Range<usize>) -> Option<FontFile> {
    let Some(weight) = weight else { return Some(file) };
    let name = &file.from;
    let Some(has) = variable::weights(&file.bytes) else {
        let help =
            "take the weight out, or give the variable font of the family (its file has an axis `wght`)".to_owned();
        source.fault(span, format!("{name:?} has one weight alone, and {weight} is asked of it"), Some(help));
        return None;
    };
    let asked = weight as f32;
    if !(has.least..=has.most).contains(&asked) {
        let help = format!("give a weight from {} to {}", has.least, has.most);
        source.fault(span, format!("{name:?} has no weight {weight}"), Some(help));
        return None;
    }
    match variable::at_weight(&file.bytes, asked) {
        Ok(bytes) => Some(FontFile { bytes: Blob::from(bytes), ..file }),
        Err(why) => {
            let help =
                "give the font of this weight as a file of its own, which its maker or a font editor makes".to_owned();
            source.fault(span, format!("{name:?} cannot be set at the weight {weight}: {why}"), Some(help));
            None
        }
    }
}

fn own(source: &mut Source, world: &dyn Files, path: &str, span: Range<usize>, assets: &Assets) -> Option<FontFile> {
    let bytes = match world.read(path) {
        Ok(bytes) => bytes,
        Err(fault) => {
            let near = world.nearby(path);
            let named =
                || if path.contains('.') { suggest_file(path, &near) } else { suggest(path, built_in::names()) };
            let help = fault.help.clone().unwrap_or_else(named);
            source.fault(span, fault.message, Some(help));
            return None;
        }
    };
    let bytes = match web_font::unpacked(bytes) {
        Ok(bytes) => bytes,
        Err(why) => {
            let help = "save it again with the program that made it, or give the .ttf or .otf file".to_owned();
            source.fault(span, format!("{path:?} is a web font that cannot be unpacked: {why}"), Some(help));
            return None;
        }
    };
    let help = match fonts::embedding(&bytes) {
        Some(Embedding::Installable | Embedding::Editable) => {
            return Some(FontFile { from: path.to_owned(), bytes, built_in: false, figures: None });
        }
        // What the font says of itself is lifted by its maker's word for this one shop.
        Some(_) if assets.entry_of(path).is_some_and(|a| a.allows(Use::Embed)) => {
            return Some(FontFile { from: path.to_owned(), bytes, built_in: false, figures: None });
        }
        None => {
            let help = "give a .ttf, .otf, .woff or .woff2 file".to_owned();
            source.fault(span, format!("{path:?} is not a font that can be read"), Some(help));
            return None;
        }
        Some(Embedding::Restricted) => "its OS/2 table (fsType) forbids embedding",
        Some(Embedding::PreviewAndPrint) => {
            "its OS/2 table (fsType) allows embedding only into documents that nobody edits, and buyers write in yours"
        }
    };
    source.fault(
        span,
        format!("{path:?} may not be embedded: {help}"),
        Some(
            "use another font, or a version of it that its maker licenses for products that are sold; if the maker \
             gave you that right, write it into the ledger: [[assets.item]] with receipt and allows = [\"embed\"]"
                .into(),
        ),
    );
    None
}
