//! Stickers on pages of the notebook: which, where, how wide, how far turned. Whether there is such a sticker is known once
//! sheets of drawings are cut, and where it may lie once the page is laid out.

use super::{Context, raw, slug};
use base::model::Mm;
use base::model::art::Measure;
use base::model::placed::PlacedSticker;
use toml::Spanned;

/// Resolves the stickers of a page or a template; none where the notebook is not decorated.
pub fn resolve(
    cx: &mut Context,
    notebook: &raw::Notebook,
    placed: &[Spanned<raw::PlacedSticker>],
) -> Vec<PlacedSticker> {
    let resolved: Vec<PlacedSticker> = placed.iter().filter_map(|entry| one(cx, entry)).collect();
    let decorated = notebook.decorated.as_ref().is_none_or(|d| *d.get_ref());
    if decorated { resolved } else { Vec::new() }
}

fn one(cx: &mut Context, entry: &Spanned<raw::PlacedSticker>) -> Option<PlacedSticker> {
    let keys = entry.get_ref();
    let example = || Some("write { sticker = \"star\", at = [\"60 mm\", \"40 mm\"] }".to_owned());
    if let Some(width) = keys.width.as_ref().filter(|w| !(2.0..=400.0).contains(&w.get_ref().0.0)) {
        let message = format!("{} is no width for a sticker", width.get_ref().0);
        cx.source.fault(width.span(), message, Some("2 to 400 mm".into()));
    }
    if let Some(turn) = keys.turn.as_ref().filter(|t| !(-360.0..=360.0).contains(t.get_ref())) {
        let message = format!("a sticker is not turned by {} degrees", turn.get_ref());
        cx.source.fault(turn.span(), message, Some("-360 to 360, clockwise".into()));
    }
    if keys.sticker.is_none() {
        cx.source.fault(entry.span(), "which sticker stands here?", example());
    }
    let at = keys.at.as_ref().map(|at| (at.get_ref().iter().map(|s| s.0).collect::<Vec<Measure>>(), at.span()));
    let place: Option<[Measure; 2]> = match at {
        None => {
            cx.source.fault(entry.span(), "where does this sticker lie?", example());
            None
        }
        Some((sides, span)) if sides.iter().any(|s| matches!(s, Measure::Px(_))) => {
            let help = "write mm, or % of the page: at = [\"50 %\", \"40 mm\"]".to_owned();
            cx.source.fault(span, "a page has no pixels of its own to count", Some(help));
            None
        }
        Some((sides, span)) => {
            let two = sides.try_into().ok();
            if two.is_none() {
                let message = "a sticker's place has two numbers: from the left and from the top of the page";
                cx.source.fault(span, message, example());
            }
            two
        }
    };
    let name = keys.sticker.as_ref()?;
    Some(PlacedSticker {
        sticker: slug(name.get_ref()),
        at: place?,
        width: keys.width.as_ref().map(|w| Mm(w.get_ref().0.0)),
        turn: keys.turn.as_ref().map_or(0.0, |t| *t.get_ref()),
        named: Some(cx.source.span(name.span())),
        placed: keys.at.as_ref().map(|at| cx.source.span(at.span())),
    })
}
