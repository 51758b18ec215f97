//! Listing pictures: layouts that come with the tool, or files of the designer's own.

use super::source::{Source, suggest, suggest_file};
use super::{Context, pictures, raw, slug};
use base::model::Product;
use base::model::product::Notebook;
use base::model::shot::{PageRef, Shot, ShotFormat, ShotLayout, Which};
use base::model::structure::Part;
use draw::shots;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A size that suits most shops, and those for pictures that move (common practice, no source).
const STILL: (u32, u32) = (2000, 1500);
const MOVING: (u32, u32) = (1000, 750);
const FILM: (u32, u32) = (1440, 1080);

/// Resolves the listing pictures. With `usual = true` and no picture of its own a product gets the usual set: every
/// layout for which it has something to show.
pub fn resolve(cx: &mut Context, raw: &raw::Manifest, notebook: Option<&Notebook>) -> Vec<Shot> {
    // Whether there are pictures or not.
    check_quality(cx, raw.pictures.quality.as_ref());
    let bare = raw.is_bare();
    let varied = cx.varied;
    // What a finished notebook holds is known when it is read.
    let drawn = |has: &dyn Fn(&Notebook) -> bool| {
        (raw.notebook.is_some() || bare) && notebook.is_none_or(|n| n.finished.is_some() || has(n))
    };
    let has = |needs: shots::Needs| match needs {
        shots::Needs::Notebook => raw.notebook.is_some() || bare,
        shots::Needs::Cover => drawn(&|n| n.parts.has(Part::Cover)),
        shots::Needs::Templates => drawn(&|n| n.parts.has(Part::Templates)),
        shots::Needs::Sections => drawn(&|n| !n.sections.is_empty()),
        shots::Needs::Covers => !raw.cover.is_empty(),
        shots::Needs::Variants => varied && (raw.notebook.is_some() || bare),
        shots::Needs::Dates => raw.notebook.as_ref().is_some_and(|notebook| !notebook.dated.is_empty()),
        shots::Needs::Kin => !raw.goes_with.is_empty() || raw.set.is_some(),
        shots::Needs::Stickers => !raw.sticker.is_empty() || !raw.sticker_group.is_empty(),
    };
    if raw.picture.is_empty() {
        if !raw.pictures.usual {
            return Vec::new();
        }
        let usual = shots::TABLE.iter().filter(|l| has(l.needs));
        let named = |l: &shots::Layout| raw::Shot {
            layout: Some(Spanned::new(0..0, l.name.to_owned())),
            ..raw::Shot::default()
        };
        return usual.filter_map(|l| resolve_shot(cx, &Spanned::new(0..0, named(l)), &raw.pictures)).collect();
    }
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    let mut out = Vec::new();
    for entry in &raw.picture {
        let Some(mut shot) = resolve_shot(cx, entry, &raw.pictures) else { continue };
        if let (ShotLayout::BuiltIn(name), Some(word)) = (&shot.layout, &entry.get_ref().layout) {
            let needs = shots::find(name).map(|l| l.needs);
            if let Some(needs) = needs.filter(|n| !has(*n)) {
                let help = format!("take it out, or add {}", needs.words());
                cx.source.fault(word.span(), format!("the layout `{name}` has nothing to show"), Some(help));
            }
        }
        let again = names.entry(shot.name.clone()).or_default();
        *again += 1;
        if *again > 1 {
            shot.name = format!("{}-{again}", shot.name);
        }
        out.push(shot);
    }
    out
}

/// Variants that look alike from outside make no picture: it drops out of the usual set, and one that is asked for by name
/// is a fault.
pub fn beside_each_other(source: &mut Source, tables: &Spanned<DeTable>, products: &mut [Product]) {
    let front = |p: &Product| {
        p.notebook.as_ref().map(|n| (n.cover.clone(), n.finished.as_ref().map(|f| f.file.clone()), p.page.size))
    };
    let fronts: Vec<_> = products.iter().map(front).collect();
    let styles = products.windows(2).any(|two| two[0].style != two[1].style);
    let shows = |shot: &Shot| match &shot.layout {
        ShotLayout::BuiltIn(name) => shots::find(name).is_some_and(|l| l.needs == shots::Needs::Variants),
        ShotLayout::Own { .. } => false,
    };
    if products.len() < 2 || styles || fronts.windows(2).any(|two| two[0] != two[1]) {
        return;
    }
    for product in products {
        product.shots.retain(|shot| !shows(shot));
    }
    let Some(DeValue::Array(list)) = tables.get_ref().get("picture").map(Spanned::get_ref) else { return };
    for entry in list.iter() {
        let Some(layout) = entry.get_ref().get("layout") else { continue };
        let needs = |name: &str| shots::find(name).is_some_and(|l| l.needs == shots::Needs::Variants);
        if let DeValue::String(name) = layout.get_ref()
            && needs(name)
        {
            let help = "take it out, or give the variants covers, colours or sizes of their own".to_owned();
            let message = format!("the layout `{name}` has nothing to show: the variants look alike from outside");
            source.fault(layout.span(), message, Some(help));
        }
    }
}

fn check_quality(cx: &mut Context, quality: Option<&Spanned<u32>>) {
    if let Some(q) = quality.filter(|q| !(1..=100).contains(q.get_ref())) {
        let help = "1 to 100; 88 is a good choice".to_owned();
        cx.source.fault(q.span(), format!("{} is no quality for a JPEG", q.get_ref()), Some(help));
    }
}

fn resolve_shot(cx: &mut Context, entry: &Spanned<raw::Shot>, all: &raw::Pictures) -> Option<Shot> {
    let raw = entry.get_ref();
    let Some(word) = &raw.layout else {
        let help = format!("add layout = \"cover\"; there are {}", shots::names().join(", "));
        cx.source.fault(entry.span(), "how is this picture laid out?", Some(help));
        return None;
    };
    let layout = layout(cx, word)?;
    let built_in = if let ShotLayout::BuiltIn(name) = &layout { shots::find(name) } else { None };
    let moving = built_in.is_some_and(|l| l.moves);
    let stem = word.get_ref().rsplit('/').next().unwrap_or_default();
    let stem = stem.rsplit_once('.').map_or(stem, |(stem, _)| stem);
    let name = slug(raw.name.as_ref().map_or(stem, |n| n.get_ref()));
    if name.is_empty() {
        let span = raw.name.as_ref().map_or(word.span(), |n| n.span());
        cx.source.fault(span, "a picture's file needs a name", Some("give it a name with letters or digits".into()));
    }
    check_quality(cx, raw.quality.as_ref());
    let quality = raw.quality.as_ref().or(all.quality.as_ref()).map_or(88, |q| (*q.get_ref()).clamp(1, 100) as u8);
    let wanted = raw.format.as_ref().map(|f| *f.get_ref());
    let format = match wanted.or(all.format.filter(|_| !moving)) {
        None if moving => ShotFormat::Gif,
        None | Some(raw::FormatName::Png) => ShotFormat::Png,
        Some(raw::FormatName::Jpeg) => ShotFormat::Jpeg(quality),
        Some(raw::FormatName::Gif) => ShotFormat::Gif,
        Some(raw::FormatName::Mp4) => ShotFormat::Film,
    };
    if let Some(f) = raw.format.as_ref().filter(|_| moving != format.moves()) {
        let (message, help) = if moving {
            ("this picture moves, and only a GIF or a film can", "set format to \"gif\" or \"mp4\"")
        } else {
            ("this picture does not move", "set format to \"png\" or \"jpeg\"")
        };
        cx.source.fault(f.span(), message, Some(help.into()));
    }
    if let Some(p) = raw.pause.as_ref().filter(|p| !(0.2..=20.0).contains(p.get_ref())) {
        let help = "0.2 to 20 seconds a page".to_owned();
        cx.source.fault(p.span(), format!("{} seconds is no time to look at a page", p.get_ref()), Some(help));
    }
    let usual = match format {
        ShotFormat::Film => FILM,
        _ if moving => MOVING,
        _ => STILL,
    };
    let size = raw.size.or(all.size.filter(|_| !moving)).map_or(usual, |s| (s.0, s.1));
    if format == ShotFormat::Film {
        check_film(cx, raw.format.as_ref().map_or(entry.span(), |f| f.span()), size);
    }
    let pages = raw.pages.iter().map(|p| PageRef {
        which: match p.get_ref() {
            raw::PageName::Number(n) => Which::Number(*n),
            raw::PageName::Place(place) => Which::Place(place.clone()),
        },
        span: cx.source.span(p.span()),
    });
    Some(Shot {
        name,
        layout,
        width: size.0,
        height: size.1,
        format,
        title: raw.title.clone(),
        line: raw.line.clone(),
        ground: raw.ground.or(all.ground).map(|c| c.0),
        pages: pages.collect(),
        pause: raw.pause.as_ref().map(|p| (p.get_ref().clamp(0.2, 20.0) * 1000.0).round() as u32),
    })
}

/// H.264 keeps colours at half the pixels of a side, and what writes it here goes as far as 3840 x 2160, level or upright.
fn check_film(cx: &mut Context, at: Range<usize>, (w, h): (u32, u32)) {
    let help = if w % 2 == 1 || h % 2 == 1 {
        "a film's sides are even: "
    } else if w.max(h) > 3840 || w.min(h) > 2160 {
        "a film has at most 3840 x 2160 pixels: "
    } else {
        return;
    };
    let help = format!("{help}set size = \"{} x {}\"", FILM.0, FILM.1);
    cx.source.fault(at, format!("a film cannot be {w} x {h} pixels large"), Some(help));
}

fn layout(cx: &mut Context, word: &Spanned<String>) -> Option<ShotLayout> {
    let path = word.get_ref();
    if shots::find(path).is_some() {
        return Some(ShotLayout::BuiltIn(path.clone()));
    }
    if !path.to_ascii_lowercase().ends_with(".svg") {
        let help = format!("{}, or the path of an .svg file of your own", suggest(path, shots::names().into_iter()));
        cx.source.fault(word.span(), format!("there is no layout `{path}`"), Some(help));
        return None;
    }
    match cx.world.read_text(path) {
        Ok(text) => {
            let mut art = BTreeMap::new();
            for name in hrefs(&text) {
                if let Some(picture) = pictures::open(cx, &Spanned::new(word.span(), name.clone())) {
                    art.insert(name, picture);
                }
            }
            Some(ShotLayout::Own { path: path.clone(), text: Arc::new(text), art })
        }
        Err(fault) => {
            let near = cx.world.nearby(path);
            let help = fault.help.unwrap_or_else(|| suggest_file(path, &near));
            cx.source.fault(word.span(), fault.message, Some(help));
            None
        }
    }
}

/// Paths of picture files that a layout names outright.
fn hrefs(text: &str) -> Vec<String> {
    let endings = [".png", ".jpg", ".jpeg"];
    text.match_indices("href=")
        .filter_map(|(at, word)| {
            let rest = &text[at + word.len()..];
            let quote = rest.chars().next().filter(|c| matches!(c, '"' | '\''))?;
            let value = rest[1..].split(quote).next()?;
            let plain = !value.contains("{{") && !value.contains(':') && !value.starts_with(['#', '/']);
            (plain && endings.iter().any(|e| value.to_ascii_lowercase().ends_with(e))).then(|| value.to_owned())
        })
        .collect()
}
