//! The designer's own artwork: which file, how it is fitted, what leads where.

use super::source::suggest_file;
use super::{Context, pictures, raw};
use base::files;
use base::model::art::{ArtLink, ArtPage, ArtSource, Fit, Navigation, ReAim, Room};
use base::model::product::FontFile;
use base::model::{Blob, Fault};
use draw::artwork::{pdf, profile};
use draw::fonts;
use draw::fonts::Embedding;
use draw::web_font;
use raster::{decode, jpeg};
use std::sync::Arc;

/// Folder of fonts that drawings may use.
const FONTS: &str = "fonts/";

/// Resolves the art of a table; `None` where it names none, or where the file cannot be used.
pub fn resolve(cx: &mut Context, keys: raw::ArtKeys) -> Option<ArtPage> {
    let Some(path) = keys.art else {
        lonely(cx, keys);
        return None;
    };
    let links = keys.link.map_or(Vec::new(), |list| list.get_ref().iter().filter_map(|l| link(cx, l)).collect());
    let (source, notes) = match read(cx, path.get_ref(), keys.page.map_or(1, |p| *p.get_ref())) {
        Ok(read) => read,
        Err(fault) => {
            let near = cx.world.nearby(path.get_ref());
            let help = fault
                .help
                .clone()
                .or_else(|| fault.message.contains("no such file").then(|| suggest_file(path.get_ref(), &near)));
            cx.source.fault(path.span(), fault.message, help);
            return None;
        }
    };
    let is_pdf = matches!(source, ArtSource::Pdf { .. });
    let of_pdf = [
        ("page", keys.page.map(toml::Spanned::span)),
        ("keep-links", keys.keep_links.map(toml::Spanned::span)),
        ("re-aim", keys.re_aim.map(toml::Spanned::span)),
    ];
    for (name, span) in of_pdf.into_iter().filter_map(|(n, s)| Some((n, s?))).filter(|_| !is_pdf) {
        let help = "take it out, or give a .pdf file".to_owned();
        cx.source.fault(span, format!("`{name}` means something for art from a PDF alone"), Some(help));
    }
    let re_aim = keys.re_aim.map_or(Vec::new(), |table| {
        let one = |(from, to): (&String, &toml::Spanned<String>)| ReAim {
            from: from.trim().to_owned(),
            to: to.get_ref().trim_start_matches("link:").trim().to_owned(),
            span: Some(cx.source.span(to.span())),
        };
        table.get_ref().iter().map(one).collect()
    });
    Some(ArtPage {
        keep_links: keys.keep_links.is_none_or(|k| *k.get_ref()),
        re_aim,
        file: path.get_ref().clone(),
        source,
        notes,
        span: Some(cx.source.span(path.span())),
        fit: match keys.fit.map(|f| *f.get_ref()) {
            Some(raw::FitName::Exact) => Fit::Exact,
            Some(raw::FitName::Fit) | None => Fit::Fit,
            Some(raw::FitName::Fill) => Fit::Fill,
            Some(raw::FitName::Bleed) => Fit::Bleed,
        },
        room: match keys.room.map(|r| *r.get_ref()) {
            Some(raw::RoomName::Page) | None => Room::Page,
            Some(raw::RoomName::Papers) => Room::Papers,
            Some(raw::RoomName::WritingArea) => Room::Writing,
        },
        navigation: match keys.navigation.map(|n| *n.get_ref()) {
            Some(raw::NavigationName::Over) | None => Navigation::Over,
            Some(raw::NavigationName::Taps) => Navigation::Taps,
            Some(raw::NavigationName::None) => Navigation::None,
        },
        links,
        hide_links: keys.hide_links.is_some_and(|h| *h.get_ref()),
    })
}

/// Keys of art that stand without art.
fn lonely(cx: &mut Context, keys: raw::ArtKeys) {
    let spans = [
        ("fit", keys.fit.map(toml::Spanned::span)),
        ("room", keys.room.map(toml::Spanned::span)),
        ("navigation", keys.navigation.map(toml::Spanned::span)),
        ("link", keys.link.map(toml::Spanned::span)),
        ("hide-links", keys.hide_links.map(toml::Spanned::span)),
        ("page", keys.page.map(toml::Spanned::span)),
        ("keep-links", keys.keep_links.map(toml::Spanned::span)),
        ("re-aim", keys.re_aim.map(toml::Spanned::span)),
    ];
    for (name, span) in spans {
        if let Some(span) = span {
            let help = "add art = \"art/….svg\" (or .pdf, .png, .jpg), or take it out".to_owned();
            cx.source.fault(span, format!("`{name}` does nothing without `art`"), Some(help));
        }
    }
}

fn link(cx: &mut Context, raw: &toml::Spanned<raw::ArtLink>) -> Option<ArtLink> {
    let example = || Some("write { to = \"index\", at = [\"10 mm\", \"5 mm\", \"40 mm\", \"12 mm\"] }".to_owned());
    let Some(to) = &raw.get_ref().to else {
        cx.source.fault(raw.span(), "where does this tap area lead?", example());
        return None;
    };
    let at = raw.get_ref().at.as_ref();
    let sides: Option<[_; 4]> = at.and_then(|a| a.get_ref().iter().map(|s| s.0).collect::<Vec<_>>().try_into().ok());
    let Some(at) = sides else {
        let span = at.map_or(raw.span(), toml::Spanned::span);
        cx.source.fault(span, "a tap area has four numbers: left, top, width and height", example());
        return None;
    };
    Some(ArtLink { to: to.get_ref().trim_start_matches("link:").to_owned(), at, span: Some(cx.source.span(to.span())) })
}

/// What art is, and what there is to say of it.
type Read = (ArtSource, Vec<String>);

fn read(cx: &Context, path: &str, page: u32) -> Result<Read, Fault> {
    let bytes = cx.world.read(path)?;
    let made = files::made(cx.world, &format!("art, page {page}"), path, &bytes, || read_anew(cx, path, &bytes, page))?;
    Ok(Read::clone(&made))
}

fn read_anew(cx: &Context, path: &str, bytes: &Blob, page: u32) -> Result<Read, Fault> {
    let ending = path.rsplit_once('.').map_or("", |(_, e)| e).to_ascii_lowercase();
    match ending.as_str() {
        "svg" => Ok((ArtSource::Svg(Arc::new(cx.world.read_text(path)?)), Vec::new())),
        "png" | "jpg" | "jpeg" => {
            let about = |f: Fault| Fault { message: format!("{path:?}: {}", f.message), ..f };
            let decoded = decode::decode(path, bytes).map_err(about)?;
            profile::check(bytes).map_err(about)?;
            let source = match jpeg::plain(bytes) {
                Some(head) => {
                    ArtSource::Jpeg { bytes: bytes.clone(), width: head.width, height: head.height, grey: head.grey }
                }
                None => {
                    let picture = jpeg::upright(bytes, decoded.picture);
                    ArtSource::Picture(Arc::new(pictures::held(bytes, picture, decode::upright_pixels)))
                }
            };
            Ok((source, decoded.notes))
        }
        "pdf" => {
            let about = |f: Fault| Fault { message: format!("{path:?}: {}", f.message), ..f };
            let page = (page as usize).checked_sub(1).ok_or_else(|| {
                Fault::new(format!("{path:?}: there is no page 0 in a PDF")).help("the first page is 1")
            })?;
            let pdf::PdfPage { size, taps, notes } = pdf::read(bytes, page).map_err(about)?;
            Ok((ArtSource::Pdf { bytes: bytes.clone(), page, size, taps }, notes))
        }
        _ => {
            Err(Fault::new(format!("{path:?} is no art that can be read"))
                .help("give an .svg, .pdf, .png or .jpg file"))
        }
    }
}

/// Fonts of the product's folder, for texts in drawings: read only where there is a drawing that could use them.
pub fn fonts(cx: &mut Context, wanted: bool) -> Vec<FontFile> {
    if !wanted {
        return Vec::new();
    }
    let mut out = Vec::new();
    for path in cx.world.nearby(FONTS) {
        let lower = path.to_ascii_lowercase();
        if ![".ttf", ".otf", ".ttc", ".otc", ".woff", ".woff2"].iter().any(|e| lower.ends_with(e)) {
            continue;
        }
        match cx.world.read(&path) {
            // A web font that cannot be unpacked is no font either.
            Ok(bytes) => match web_font::unpacked(bytes).ok().and_then(|b| Some((fonts::embedding(&b)?, b))) {
                Some((Embedding::Installable | Embedding::Editable, bytes)) => {
                    out.push(FontFile { from: path, bytes, built_in: false, figures: None });
                }
                // A font that may not be embedded is no font of the product: a text that asks for it is told so.
                Some((Embedding::Restricted | Embedding::PreviewAndPrint, _)) | None => {}
            },
            Err(fault) => cx.source.fault_whole(fault.message, "drawings take their fonts from this folder"),
        }
    }
    out
}

/// Values of the designer's own for drawings that are templates. Dates become words, as TOML writes them.
pub fn data(table: &toml::Table) -> serde_json::Map<String, serde_json::Value> {
    table.iter().map(|(key, value)| (key.clone(), json(value))).collect()
}

fn json(value: &toml::Value) -> serde_json::Value {
    match value {
        toml::Value::String(s) => s.clone().into(),
        toml::Value::Integer(i) => (*i).into(),
        toml::Value::Float(f) => (*f).into(),
        toml::Value::Boolean(b) => (*b).into(),
        toml::Value::Datetime(d) => d.to_string().into(),
        toml::Value::Array(items) => items.iter().map(json).collect(),
        toml::Value::Table(table) => data(table).into(),
    }
}
