//! Pictures of pages for the guide. What is drawn goes into it as it is drawn; pages that hold art, and those of finished files,
//! are shown as pixels of the built file, which are remembered by what the page draws.

use super::session::{Session, Task, all};
use super::values::Pictures;
use super::variants::{Part, VariantBuild};
use base::model::drawing::Picture;
use base::model::facts::{Facts, Frame};
use base::model::{Item, Stop};
use inspect::Reader;
use inspect::pdf::drawing::Unopened;
use plan::{Content, Figure};
use raster::palette;
use std::sync::Arc;

/// Pixels of a page: sharp where it is shown as large as a third of a page, and a little larger.
const PIXELS: f64 = 260_000.0;
/// Colours of such a page: what repeats itself is packed small.
const COLOURS: usize = 128;
/// How much a picture may lose to that on average, in steps of a channel; beyond, it is a photograph.
const LOSS: f64 = 1.2;

/// The pictures that the guide of a variant may have.
pub fn of(variant: &VariantBuild, items: &[Item]) -> Vec<Figure> {
    if variant.product.guide.wanted { plan::figures(&variant.product, items, &variant.fonts) } else { Vec::new() }
}

/// Takes the pictures of pages that are only named so far. One that cannot be drawn is left out.
pub fn take(session: &Session, figures: &mut Vec<Figure>, parts: &[Part]) -> Result<(), Stop> {
    let built = |content: &Content| matches!(content, Content::Built(..));
    let named = |figures: &[Figure]| {
        let panes = figures.iter().flat_map(|figure| &figure.panes);
        let pages: Vec<(String, usize)> = panes
            .filter_map(
                |pane| if let Content::Built(path, page) = &pane.content { Some((path.clone(), *page)) } else { None },
            )
            .collect();
        pages
    };
    let mut pages = named(figures);
    pages.sort();
    pages.dedup();
    let mut taken: Vec<((String, usize), Arc<Picture>)> = Vec::new();
    for part in parts {
        let own: Vec<usize> = pages.iter().filter(|(path, _)| *path == part.item.path).map(|(_, page)| *page).collect();
        if own.is_empty() {
            continue;
        }
        let drawn = pixels(session, part, &own)?;
        taken.extend(
            own.iter().zip(drawn).filter_map(|(page, picture)| Some(((part.item.path.clone(), *page), picture?))),
        );
    }
    for pane in figures.iter_mut().flat_map(|figure| &mut figure.panes) {
        let Content::Built(path, page) = &pane.content else { continue };
        let found = taken.iter().find(|((of, at), _)| of == path && at == page);
        if let Some((_, picture)) = found {
            pane.content = Content::Pixels(picture.clone());
        }
    }
    figures.retain(|figure| !figure.panes.iter().any(|pane| built(&pane.content)));
    Ok(())
}

/// Pages of a built file as pixels.
fn pixels(session: &Session, part: &Part, pages: &[usize]) -> Result<Vec<Option<Arc<Picture>>>, Stop> {
    let Facts::Pdf(facts) = &part.read.facts else { return Ok(vec![None; pages.len()]) };
    let bytes = &part.file.bytes;
    let prints = session.fingerprints(bytes);
    let pdf = Unopened::new(bytes.clone());
    let made = pdf.each(pages, |page| {
        let frame: Option<Frame> = facts.pages.get(page.number).map(base::model::facts::PageFacts::frame);
        let look = prints.get(page.number).map(|print| print.digest);
        let task =
            Task::new("picture of a page", &(look, frame, PIXELS, look.is_none().then_some((bytes, page.number))));
        session.ask(task, || {
            let drawn = page.pixels(|size| (PIXELS / (size.w * size.h).max(1.0)).sqrt());
            let picture = drawn.map(|drawn| {
                let reduced = palette::reduce(&drawn.rgba, COLOURS);
                let rgba: Vec<u8> = match reduced.loss > LOSS {
                    true => drawn.rgba,
                    false => reduced.pixels.iter().flat_map(|i| reduced.palette[usize::from(*i)]).collect(),
                };
                let (width, height) = (drawn.width as u32, drawn.height as u32);
                // Pages that draw the same are one picture.
                let name = "page".to_owned();
                let rgba = base::model::Pixels::from(rgba).held_small();
                (Arc::new(Picture { name, width, height, rgba }), 1.0)
            });
            Ok(Pictures { pictures: picture.into_iter().collect(), said: Vec::new() })
        })
    });
    Ok(all(made)?.iter().map(|made| made.pictures.first().map(|(picture, _)| picture.clone())).collect())
}
