//! Stickers: the designer's own files, the motifs that come with the tool, and groups that share size, border and heading.

mod groups;

use super::source::{suggest, suggest_file};
use super::values::Extent;
use super::{Context, pictures, raw, slug};
use base::model::product::{Border, Edges, Optimise, SheetForms, Side, Sticker, StickerSet, StickerSource, Style};
use base::model::sticker::StickerLanguage;
use base::model::weekday::Weekday;
use base::model::words::Words;
use base::model::{Mm, Rgb};
use draw::limits;
use draw::motifs;
use groups::Shared;
use resvg::usvg::roxmltree;
use std::collections::BTreeMap;
use std::sync::Arc;
use toml::Spanned;

/// Resolves the stickers. Colours that are not given go round the section colours of the style, else the accent.
pub fn resolve(cx: &mut Context, raw: &raw::Manifest, style: &Option<Style>) -> StickerSet {
    let all = &raw.stickers;
    let dpi = resolution(cx, &all.dpi, 300.0);
    let padding = all.padding.map_or(Mm(1.0), |p| p.0);
    let optimise = match all.optimise {
        Some(raw::OptimiseName::Quick) => Optimise::Quick,
        Some(raw::OptimiseName::Normal) | None => Optimise::Normal,
        Some(raw::OptimiseName::Best) => Optimise::Best,
    };
    let wanted = all.sheets.unwrap_or(raw::SheetsName::Both);
    let sheets = SheetForms {
        pdf: matches!(wanted, raw::SheetsName::Both | raw::SheetsName::Pdf),
        png: matches!(wanted, raw::SheetsName::Both | raw::SheetsName::Png),
    };
    let mut set = StickerSet {
        dpi,
        padding,
        optimise,
        sheets,
        groups: Vec::new(),
        cuts: Vec::new(),
        items: Vec::new(),
        numbers: Default::default(),
    };
    let Some(style) = style else { return set };
    let shared = groups::resolve(cx, raw, style, &mut set);
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    for (i, entry) in raw.sticker.iter().enumerate() {
        let Some((sticker, span)) = resolve_sticker(cx, raw, style, &shared, i, entry) else { continue };
        if let Some(first) = names.insert(sticker.name.clone(), i + 1) {
            let help = "give one of them another name".to_owned();
            let name = &sticker.name;
            cx.source.fault(span, format!("stickers {first} and {} are both called `{name}`", i + 1), Some(help));
            continue;
        }
        set.items.push(sticker);
    }
    groups::without_any(cx, raw, &set);
    // In the order of the groups; those of none come first, and the order within one stays.
    let place = |s: &Sticker| set.groups.iter().position(|g| *g == s.group).map_or(0, |i| i + 1);
    set.items.sort_by_key(place);
    set
}

/// Resolves one sticker, with the place of its name.
fn resolve_sticker(
    cx: &mut Context,
    raw: &raw::Manifest,
    style: &Style,
    shared: &[Shared],
    i: usize,
    entry: &Spanned<raw::Sticker>,
) -> Option<(Sticker, std::ops::Range<usize>)> {
    let sticker = entry.get_ref();
    let (source, usual) = art(cx, entry)?;
    let name = sticker.name.as_ref().map_or_else(|| usual.name.clone(), |n| n.get_ref().clone());
    let name = slug(&name);
    let span = sticker.name.as_ref().map_or(entry.span(), |n| n.span());
    if name.is_empty() {
        let help = "give it a name with letters or digits".to_owned();
        cx.source.fault(span, "a sticker's file needs a name", Some(help));
        return None;
    }
    let group = sticker.group.as_ref().and_then(|g| groups::find(cx, shared, g));
    let base = group.map_or_else(|| Shared::of_all(raw), Clone::clone);
    let dpi = resolution(cx, &sticker.dpi, base.dpi);
    let given = [(&sticker.longest, Side::Longest), (&sticker.width, Side::Width), (&sticker.height, Side::Height)];
    let mut sizes = given.into_iter().filter_map(|(size, side)| size.as_ref().map(|s| (s, side)));
    let (longest, side) = match sizes.next() {
        Some((size, side)) => {
            if let Some((more, _)) = sizes.next() {
                let help = "take one out: the other side follows from the art".to_owned();
                cx.source.fault(more.span(), "a sticker has one size: longest, width or height", Some(help));
            }
            (extent(cx, size, dpi), side)
        }
        None => (base.longest.map_or(usual.longest, |l| l.at(dpi)), Side::Longest),
    };
    let listed = &raw.style.sections;
    let turn = (!listed.is_empty()).then(|| listed[i % listed.len()].0);
    let colour = sticker.colour.map(|c| c.0).or(base.colour).or(turn).unwrap_or(style.accent);
    let made = Sticker {
        name,
        group: base.name,
        source,
        longest,
        side,
        colour,
        dpi,
        padding: sticker.padding.map_or(base.padding, |p| p.0),
        edges: sticker.clean_edges.map_or(base.edges, edges),
        border: groups::border(base.border, sticker.border),
        // Pictures of the designer's have their days already.
        first_day: if sticker.motif.is_some() { first_day(raw) } else { Weekday::default() },
        language: if sticker.motif.is_some() { cx.speaks.clone() } else { StickerLanguage::default() },
    };
    Some((made, span))
}

/// The language of what motifs say: that of the product where the tool has words in it, else English.
pub fn language(tag: &str) -> StickerLanguage {
    let words = Words::of(tag);
    let names = calendar::Names::new(tag).ok().filter(|_| words.table != "en" && words.speaks(tag));
    let right_to_left = calendar::right_to_left(tag);
    let english = || StickerLanguage { right_to_left, ..StickerLanguage::default() };
    names.map_or_else(english, |names| StickerLanguage {
        table: words.table,
        right_to_left,
        days: std::array::from_fn(|i| names.weekday(calendar::Weekday::ALL[i], calendar::Width::Narrow).to_owned()),
    })
}

/// The day on which weeks begin: that of the stickers, or that of the notebook.
fn first_day(raw: &raw::Manifest) -> Weekday {
    let of_notebook = || raw.notebook.as_ref().and_then(|n| n.first_day);
    raw.stickers.first_day.or_else(of_notebook).unwrap_or_default()
}

/// A resolution, checked.
fn resolution(cx: &mut Context, given: &Option<Spanned<f64>>, otherwise: f64) -> f64 {
    let Some(given) = given else { return otherwise };
    let dpi = *given.get_ref();
    if !(36.0..=2400.0).contains(&dpi) {
        let help = "72 to 600 is usual; 300 is a good choice".to_owned();
        cx.source.fault(given.span(), format!("{dpi} dpi is no resolution for stickers"), Some(help));
        return otherwise;
    }
    dpi
}

/// A size at a resolution, checked.
fn extent(cx: &mut Context, given: &Spanned<Extent>, dpi: f64) -> Mm {
    let size = given.get_ref().at(dpi);
    if !(2.0..=400.0).contains(&size.0) {
        let help = match given.get_ref() {
            Extent::Length(_) => "2 to 400 mm".to_owned(),
            Extent::Pixels(_) => {
                format!("2 to 400 mm, which are {:.0} to {:.0} px", 2.0 / 25.4 * dpi, 400.0 / 25.4 * dpi)
            }
        };
        cx.source.fault(given.span(), format!("{size} is no size for a sticker"), Some(help));
    }
    size
}

fn edges(given: raw::CleanEdges) -> Edges {
    match given {
        raw::CleanEdges::Wanted(true) => Edges::Estimate,
        raw::CleanEdges::Wanted(false) => Edges::Keep,
        raw::CleanEdges::Matte(c) => Edges::Matte(c.0),
    }
}

/// A border with what is not said filled in.
fn whole(b: raw::Border) -> Border {
    Border {
        width: b.width.map_or(Mm(2.0), |w| w.0),
        colour: b.colour.map_or(Rgb::WHITE, |c| c.0),
        fill_holes: b.fill_holes.unwrap_or(true),
        shadow: b.shadow.unwrap_or(false),
    }
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
            Some((file(cx, path)?, Usual { name: stem(path.get_ref()).to_owned(), longest: Mm(50.0) }))
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

/// The name of a file without folder and ending.
fn stem(path: &str) -> &str {
    let name = path.rsplit('/').next().unwrap_or_default();
    name.rsplit_once('.').map_or(name, |(stem, _)| stem)
}

fn file(cx: &mut Context, path: &Spanned<String>) -> Option<StickerSource> {
    if !path.get_ref().to_ascii_lowercase().ends_with(".svg") {
        return pictures::open(cx, path).map(StickerSource::Png);
    }
    let text = match cx.world.read_text(path.get_ref()) {
        Ok(text) => text,
        Err(fault) => {
            let near = cx.world.nearby(path.get_ref());
            let help = fault.help.unwrap_or_else(|| suggest_file(path.get_ref(), &near));
            cx.source.fault(path.span(), fault.message, Some(help));
            return None;
        }
    };
    if let Err(fault) = limits::text(&text) {
        let line = fault.span.map_or(0, |span| span.line);
        cx.source.fault(path.span(), format!("{:?}, line {line}: {}", path.get_ref(), fault.message), fault.help);
        return None;
    }
    // Drawing programs and plotters name the DTD of SVG 1.1; entities of its own cannot reach outside of the file.
    let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
    if let Err(e) = roxmltree::Document::parse_with_options(&text, options) {
        let at = e.pos();
        let help = "open the file in the drawing program and export it again".to_owned();
        let message = format!("{:?} is not sound XML: line {}, column {}: {e}", path.get_ref(), at.row, at.col);
        cx.source.fault(path.span(), message, Some(help));
        return None;
    }
    Some(StickerSource::Svg(path.get_ref().clone(), Arc::new(text)))
}
