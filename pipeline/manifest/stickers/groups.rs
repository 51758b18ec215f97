//! Groups of stickers: what they share, and the sheets of drawings that are to be cut.

use super::{edges, extent, file, resolution, stem, whole};
use crate::source::suggest;
use crate::values::Extent;
use crate::{Context, FILE, raw, slug};
use base::model::product::{
    Border, CutSheet, CutSpans, Edges, Reading, SheetSize, Side, Sticker, StickerSet, StickerSource, Style,
};
use base::model::{Mm, Rgb};
use toml::Spanned;

/// What stickers have in common where they say nothing themselves.
#[derive(Clone)]
pub struct Shared {
    /// Name of the group; empty for all that are in none.
    pub name: String,
    pub dpi: f64,
    pub padding: Mm,
    pub longest: Option<Extent>,
    pub colour: Option<Rgb>,
    pub edges: Edges,
    pub border: Option<raw::Border>,
}

impl Shared {
    /// What `[stickers]` says of all.
    pub fn of_all(raw: &raw::Manifest) -> Shared {
        let all = &raw.stickers;
        Shared {
            name: String::new(),
            dpi: all.dpi.as_ref().map_or(300.0, |d| *d.get_ref()),
            padding: all.padding.map_or(Mm(1.0), |p| p.0),
            longest: all.longest.as_ref().map(|l| *l.get_ref()),
            colour: None,
            edges: all.clean_edges.map_or(Edges::Estimate, edges),
            border: all.border,
        }
    }
}

/// Resolves the groups, and the sheets among them into `set`.
pub fn resolve(cx: &mut Context, raw: &raw::Manifest, style: &Style, set: &mut StickerSet) -> Vec<Shared> {
    let mut shared: Vec<Shared> = Vec::new();
    for entry in &raw.sticker_group {
        let group = entry.get_ref();
        let given = group.name.as_ref().map(|n| n.get_ref().trim().to_owned()).unwrap_or_default();
        if given.is_empty() {
            let help = "add name = \"…\": the sheets show it above the stickers".to_owned();
            cx.source.fault(entry.span(), "a group of stickers needs a name", Some(help));
            continue;
        }
        if shared.iter().any(|s| s.name == given) {
            let span = group.name.as_ref().map_or(entry.span(), |n| n.span());
            cx.source.fault(span, format!("there are two groups called “{given}”"), Some("rename one".into()));
            continue;
        }
        let all = Shared::of_all(raw);
        let dpi = resolution(cx, &group.dpi, all.dpi);
        if let Some(longest) = &group.longest {
            extent(cx, longest, dpi);
        }
        let one = Shared {
            name: given.clone(),
            dpi,
            padding: group.padding.map_or(all.padding, |p| p.0),
            longest: group.longest.as_ref().map(|l| *l.get_ref()).or(all.longest),
            colour: group.colour.map(|c| c.0),
            edges: group.clean_edges.map_or(all.edges, edges),
            border: merged(all.border, group.border),
        };
        set.groups.push(given);
        match &group.cut {
            Some(path) => set.cuts.extend(cut(cx, group, path, &one, style)),
            None => only_with_cut(cx, group),
        }
        shared.push(one);
    }
    shared
}

/// Keys that say nothing where no sheet is cut.
fn only_with_cut(cx: &mut Context, group: &raw::StickerGroup) {
    let keys = [
        ("width", group.width.as_ref().map(|k| k.span())),
        ("gap", group.gap.as_ref().map(|k| k.span())),
        ("speck", group.speck.as_ref().map(|k| k.span())),
        ("names", group.names.as_ref().map(|k| k.span())),
        ("count", group.count.as_ref().map(|k| k.span())),
    ];
    for (key, span) in keys {
        if let Some(span) = span {
            let help = "add cut = \"art/….png\" (or .svg), or take it out".to_owned();
            cx.source.fault(
                span,
                format!("`{key}` is said of a sheet that is cut, and this group has none"),
                Some(help),
            );
        }
    }
}

/// A sheet of drawings.
fn cut(
    cx: &mut Context,
    group: &raw::StickerGroup,
    path: &Spanned<String>,
    shared: &Shared,
    style: &Style,
) -> Option<CutSheet> {
    let source = file(cx, path)?;
    let size = match (&group.width, &group.longest) {
        (Some(w), Some(_)) => {
            let help = "keep width for the whole sheet, or longest for its longest drawing".to_owned();
            cx.source.fault(w.span(), "a sheet has one size", Some(help));
            SheetSize::Own
        }
        (Some(w), None) => {
            let width = w.get_ref().at(shared.dpi);
            if !(5.0..=2000.0).contains(&width.0) {
                let help = "5 to 2000 mm: the width of the whole sheet at placed size".to_owned();
                cx.source.fault(w.span(), format!("{width} is no width for a sheet of drawings"), Some(help));
            }
            SheetSize::Width(width)
        }
        // What `[stickers]` says of single ones would make every sheet the same.
        (None, Some(l)) => SheetSize::Longest(l.get_ref().at(shared.dpi)),
        (None, None) => SheetSize::Own,
    };
    let mut small = |length: &Option<Spanned<crate::values::Length>>, usual: f64, what: &str| {
        let Some(given) = length else { return Mm(usual) };
        let mm = given.get_ref().0;
        if mm.0 > 50.0 {
            let help = "a few millimetres at most".to_owned();
            cx.source.fault(given.span(), format!("a {what} of {mm} swallows whole drawings"), Some(help));
        }
        mm
    };
    let (gap, speck) = (small(&group.gap, 1.0, "gap"), small(&group.speck, 0.5, "speck"));
    let names = names(cx, group);
    if let (Some(count), false) = (&group.count, names.is_empty()) {
        let help = "take it out: the list of names is counted as well".to_owned();
        if *count.get_ref() as usize != names.len() {
            let n = names.len();
            let message = format!("the count is {}, and {n} names are given", count.get_ref());
            cx.source.fault(count.span(), message, Some(help));
        }
    }
    let reading = match group.reading {
        None | Some(raw::ReadingName::Rows) => Reading::Rows,
        Some(raw::ReadingName::RowsFromRight) => Reading::RowsFromRight,
        Some(raw::ReadingName::Columns) => Reading::Columns,
        Some(raw::ReadingName::ColumnsFromRight) => Reading::ColumnsFromRight,
    };
    let like = Sticker {
        name: slug(stem(path.get_ref())),
        group: shared.name.clone(),
        source: StickerSource::BuiltIn(String::new(), None),
        first_day: Default::default(),
        language: Default::default(),
        longest: Mm(0.0),
        side: Side::Longest,
        colour: shared.colour.unwrap_or(style.accent),
        dpi: shared.dpi,
        padding: shared.padding,
        edges: shared.edges,
        border: shared.border.map(whole),
    };
    let spans = CutSpans {
        manifest: FILE.to_owned(),
        file: Some(cx.source.span(path.span())),
        names: group.names.as_ref().map(|n| cx.source.span(n.span())),
        count: group.count.as_ref().map(|n| cx.source.span(n.span())),
    };
    let count = group.count.as_ref().map(|n| *n.get_ref() as usize);
    Some(CutSheet { path: path.get_ref().clone(), source, size, gap, speck, reading, names, count, like, spans })
}

/// Names in reading order, fit for files, none twice.
fn names(cx: &mut Context, group: &raw::StickerGroup) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for name in group.names.iter().flat_map(|n| n.get_ref()) {
        let given = slug(name.get_ref());
        if given.is_empty() {
            let help = "write it with letters or digits: it names a file".to_owned();
            cx.source.fault(name.span(), "a sticker's file needs a name", Some(help));
        } else if out.contains(&given) {
            let help = "give one of them another name".to_owned();
            cx.source.fault(name.span(), format!("`{given}` stands twice among the names"), Some(help));
        }
        out.push(given);
    }
    out
}

/// The group that a sticker names.
pub fn find<'s>(cx: &mut Context, shared: &'s [Shared], name: &Spanned<String>) -> Option<&'s Shared> {
    let found = shared.iter().find(|s| s.name == name.get_ref().trim());
    if found.is_none() {
        let help = if shared.is_empty() {
            format!("add [[sticker-group]] with name = \"{}\"", name.get_ref())
        } else {
            suggest(name.get_ref(), shared.iter().map(|s| s.name.as_str()))
        };
        cx.source.fault(name.span(), format!("there is no group called “{}”", name.get_ref()), Some(help));
    }
    found
}

/// Groups that no sticker is in.
pub fn without_any(cx: &mut Context, raw: &raw::Manifest, set: &StickerSet) {
    for entry in &raw.sticker_group {
        let Some(name) = &entry.get_ref().name else { continue };
        let given = name.get_ref().trim();
        let named = raw.sticker.iter().any(|s| s.get_ref().group.as_ref().is_some_and(|g| g.get_ref().trim() == given));
        let cut = entry.get_ref().cut.is_some();
        if !named && !cut && set.groups.iter().any(|g| g == given) {
            let help = format!("give it cut = \"art/….png\", or stickers with group = \"{given}\"");
            cx.source.fault(name.span(), format!("no sticker is in the group “{given}”"), Some(help));
        }
    }
}

/// The border of a group or sticker over that of what it stands in: each key that it gives counts.
fn merged(outer: Option<raw::Border>, inner: Option<raw::BorderChoice>) -> Option<raw::Border> {
    match inner {
        None => outer,
        Some(raw::BorderChoice::Wanted(false)) => None,
        Some(raw::BorderChoice::Wanted(true)) => Some(outer.unwrap_or_default()),
        Some(raw::BorderChoice::Like(own)) => {
            let outer = outer.unwrap_or_default();
            Some(raw::Border {
                width: own.width.or(outer.width),
                colour: own.colour.or(outer.colour),
                fill_holes: own.fill_holes.or(outer.fill_holes),
                shadow: own.shadow.or(outer.shadow),
            })
        }
    }
}

/// The border of a sticker.
pub fn border(outer: Option<raw::Border>, inner: Option<raw::BorderChoice>) -> Option<Border> {
    merged(outer, inner).map(whole)
}
