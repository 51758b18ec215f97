//! Stickers: her own files and the motifs that come with the tool.

use super::source::suggest;
use super::{Context, pictures, raw, slug};
use crate::draw::motifs;
use crate::model::product::{Border, Sticker, StickerSet, StickerSource, Style};
use crate::model::{Mm, Rgb};
use std::collections::BTreeMap;
use std::sync::Arc;
use toml::Spanned;

/// Resolves the stickers. Colours that are not given go round the section colours of the style, else the accent.
pub fn resolve(cx: &mut Context, raw: &raw::Manifest, style: &Option<Style>) -> StickerSet {
    let dpi = raw.stickers.dpi.as_ref().map_or(300.0, |d| *d.get_ref());
    if let Some(d) = raw.stickers.dpi.as_ref().filter(|d| !(36.0..=2400.0).contains(d.get_ref())) {
        cx.source.fault(
            d.span(),
            format!("{dpi} dpi is no resolution for stickers"),
            Some("72 to 600 is usual; 300 is a good choice".into()),
        );
    }
    let padding = raw.stickers.padding.map_or(Mm(1.0), |p| p.0);
    let mut set = StickerSet { dpi, padding, items: Vec::new() };
    let Some(style) = style else { return set };
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    for (i, entry) in raw.sticker.iter().enumerate() {
        let sticker = entry.get_ref();
        let Some((source, usual)) = art(cx, entry) else { continue };
        let name = sticker.name.as_ref().map_or_else(|| usual.name.clone(), |n| n.get_ref().clone());
        let name = slug(&name);
        let span = sticker.name.as_ref().map_or(entry.span(), |n| n.span());
        if name.is_empty() {
            let help = "give it a name with letters or digits".to_owned();
            cx.source.fault(span, "a sticker's file needs a name", Some(help));
            continue;
        }
        if let Some(first) = names.insert(name.clone(), i + 1) {
            let help = "give one of them another name".to_owned();
            cx.source.fault(span, format!("stickers {first} and {} are both called `{name}`", i + 1), Some(help));
            continue;
        }
        let longest = sticker.longest.as_ref().map(|l| l.get_ref().0);
        let longest = longest.or(raw.stickers.longest.map(|l| l.0)).unwrap_or(usual.longest);
        if let Some(l) = sticker.longest.as_ref().filter(|_| !(2.0..=400.0).contains(&longest.0)) {
            cx.source.fault(l.span(), format!("{longest} is no size for a sticker"), Some("2 to 400 mm".into()));
        }
        let listed = &raw.style.sections;
        let turn = (!listed.is_empty()).then(|| listed[i % listed.len()].0);
        let colour = sticker.colour.map(|c| c.0).or(turn).unwrap_or(style.accent);
        let border = sticker.border.or(raw.stickers.border).map(|b| Border {
            width: b.width.map_or(Mm(2.0), |w| w.0),
            colour: b.colour.map_or(Rgb::WHITE, |c| c.0),
            fill_holes: b.fill_holes.unwrap_or(true),
            shadow: b.shadow.unwrap_or(false),
        });
        set.items.push(Sticker { name, source, longest, colour, dpi, padding, border });
    }
    set
}

/// What a sticker is called and how large it is when the manifest does not say.
struct Usual {
    name: String,
    longest: Mm,
}

fn art(cx: &mut Context, entry: &Spanned<raw::Sticker>) -> Option<(StickerSource, Usual)> {
    let sticker = entry.get_ref();
    match (&sticker.file, &sticker.motif) {
        (Some(path), None) => {
            if sticker.label.is_some() {
                let help = "take `label` out: it is for the tool's own motifs".to_owned();
                cx.source.fault(path.span(), "a sticker from a file brings its own words", Some(help));
            }
            let stem = path.get_ref().rsplit('/').next().unwrap_or_default();
            let stem = stem.rsplit_once('.').map_or(stem, |(stem, _)| stem);
            Some((file(cx, path)?, Usual { name: stem.to_owned(), longest: Mm(50.0) }))
        }
        (None, Some(name)) => {
            let Some(motif) = motifs::find(name.get_ref()) else {
                let help = suggest(name.get_ref(), motifs::TABLE.iter().map(|m| m.name));
                cx.source.fault(name.span(), format!("there is no motif `{}`", name.get_ref()), Some(help));
                return None;
            };
            let source = StickerSource::BuiltIn(motif.name.to_owned(), sticker.label.clone());
            Some((source, Usual { name: motif.name.to_owned(), longest: Mm(motif.longest) }))
        }
        (file, _) => {
            let span = file.as_ref().map_or(entry.span(), |f| f.span());
            let help = "give either file = \"art/….svg\" (or .png) or motif = \"…\"".to_owned();
            cx.source.fault(span, "where does this sticker's art come from?", Some(help));
            None
        }
    }
}

fn file(cx: &mut Context, path: &Spanned<String>) -> Option<StickerSource> {
    if !path.get_ref().to_ascii_lowercase().ends_with(".svg") {
        return pictures::open(cx, path).map(StickerSource::Png);
    }
    let text = match cx.world.read_text(path.get_ref()) {
        Ok(text) => text,
        Err(fault) => {
            let near = cx.world.nearby(path.get_ref());
            let help = fault.help.unwrap_or_else(|| suggest(path.get_ref(), near.iter().map(String::as_str)));
            cx.source.fault(path.span(), fault.message, Some(help));
            return None;
        }
    };
    if let Err(e) = resvg::usvg::roxmltree::Document::parse(&text) {
        let at = e.pos();
        let help = "open the file in the drawing program and export it again".to_owned();
        let message = format!("{:?} is not sound XML: line {}, column {}: {e}", path.get_ref(), at.row, at.col);
        cx.source.fault(path.span(), message, Some(help));
        return None;
    }
    Some(StickerSource::Svg(path.get_ref().clone(), Arc::new(text)))
}
