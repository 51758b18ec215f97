//! Guide, licence terms, listing.

use super::source::suggest_file;
use super::{Context, pictures, raw};
use base::model::product::{Guide, Licence, Listing, Refunds};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Resolves the guide. Pictures that its Markdown names are read from the folder of the product, or of the shop whose text it is.
pub fn guide(cx: &mut Context, raw: &raw::Guide) -> Guide {
    let mut guide = Guide {
        wanted: raw.wanted.unwrap_or(true),
        from: String::new(),
        text: String::new(),
        pictures: BTreeMap::new(),
    };
    let Some(path) = &raw.text else { return guide };
    match cx.world.read_text(path.get_ref()) {
        Ok(text) => {
            for name in picture_names(&text) {
                let file = format!("{}{name}", cx.source.home(&path.span()));
                match cx.world.read(&file).and_then(|bytes| pictures::decode(&name, &bytes)) {
                    Ok(picture) => {
                        guide.pictures.insert(name, Arc::new(picture));
                    }
                    Err(fault) => cx.source.blame(path.span(), fault),
                }
            }
            guide.from = path.get_ref().clone();
            guide.text = text;
        }
        Err(fault) => {
            let near = cx.world.nearby(path.get_ref());
            let help = fault.help.unwrap_or_else(|| suggest_file(path.get_ref(), &near));
            cx.source.fault(path.span(), fault.message, Some(help));
        }
    }
    guide
}

/// Paths of the pictures in a Markdown text.
fn picture_names(markdown: &str) -> Vec<String> {
    use pulldown_cmark::{Event, Parser, Tag};
    Parser::new(markdown)
        .filter_map(|event| match event {
            Event::Start(Tag::Image { dest_url, .. }) => Some(dest_url.into_string()),
            _ => None,
        })
        // Pictures of the product's own pages are made when it is built.
        .filter(|name| !name.contains("{{") && !name.contains("://") && !name.starts_with("page:"))
        .collect()
}

/// Resolves the licence terms.
pub fn licence(cx: &mut Context, raw: &raw::Licence) -> Licence {
    let refunds = match raw.refunds.as_ref().map(|r| (*r.get_ref(), r.span())) {
        None | Some((raw::Refunds::Unstated, _)) => Refunds::Unstated,
        Some((raw::Refunds::NoneOnceDownloaded, _)) => Refunds::NoneOnceDownloaded,
        Some((raw::Refunds::Days(days), span)) => {
            if days == 0 || days > 3650 {
                let help = "write the number of days, or \"none-once-downloaded\", or \"unstated\"".to_owned();
                cx.source.fault(span, format!("refunds within {days} days make no sense"), Some(help));
            }
            Refunds::Days(days)
        }
    };
    Licence {
        small_commercial: raw.small_commercial.filter(|n| *n > 0),
        classroom_seats: raw.classroom_seats.filter(|n| *n > 0),
        refunds,
        credits: raw.credits.clone(),
        extra: raw.extra.clone(),
    }
}

/// Resolves what the listing says beyond the facts.
pub fn listing(cx: &mut Context, raw: &raw::Listing) -> Listing {
    Listing {
        title: raw.title.as_ref().map_or_else(|| cx.name.to_owned(), |t| t.get_ref().clone()),
        summary: raw.summary.clone().unwrap_or_default(),
        tags: raw.tags.clone(),
    }
}
