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
/// The same of a page that stands beside others.
const PIXELS_OF_MANY: f64 = 110_000.0;
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
    for part in parts {
        let mut pages: Vec<(usize, f64)> = Vec::new();
        for figure in figures.iter() {
            let asked = figure.panes.iter().filter_map(|pane| page_of(&pane.content, part));
            pages.extend(asked.map(|page| (page, if figure.panes.len() > 1 { PIXELS_OF_MANY } else { PIXELS })));
        }
        if pages.is_empty() {
            continue;
        }
        let mut taken = pixels(session, part, &pages)?.into_iter();
        // In the order in which they were asked for.
        for pane in figures.iter_mut().flat_map(|figure| &mut figure.panes) {
            if page_of(&pane.content, part).is_some()
                && let Some(Some(picture)) = taken.next()
            {
                pane.content = Content::Pixels(picture);
            }
        }
    }
    figures.retain(|figure| !figure.panes.iter().any(|pane| matches!(pane.content, Content::Built(..))));
    Ok(())
}

/// The page of this file that is still to be taken, if it is one.
fn page_of(content: &Content, part: &Part) -> Option<usize> {
    match content {
        Content::Built(path, page) if *path == part.item.path => Some(*page),
        _ => None,
    }
}

/// Pages of a built file as pixels, each with so many of them.
fn pixels(session: &Session, part: &Part, pages: &[(usize, f64)]) -> Result<Vec<Option<Arc<Picture>>>, Stop> {
    let Facts::Pdf(facts) = &part.read.facts else { return Ok(vec![None; pages.len()]) };
    let bytes = &part.file.bytes;
    let prints = session.fingerprints(bytes);
    let pdf = Unopened::new(bytes.clone());
    let numbers: Vec<usize> = pages.iter().map(|(page, _)| *page).collect();
    let made = pdf.each(&numbers, |page| {
        // A page that several pictures show is as sharp as the largest of them asks.
        let asked = pages.iter().filter(|(number, _)| *number == page.number);
        let pixels = asked.map(|(_, pixels)| *pixels).fold(PIXELS_OF_MANY, f64::max);
        let frame: Option<Frame> = facts.pages.get(page.number).map(base::model::facts::PageFacts::frame);
        let look = prints.get(page.number).map(|print| print.digest);
        let task =
            Task::new("picture of a page", &(look, frame, pixels, look.is_none().then_some((bytes, page.number))));
        session.ask(task, || {
            let drawn = page.pixels(|size| (pixels / (size.w * size.h).max(1.0)).sqrt());
            let picture = drawn.map(|drawn| {
                let reduced = palette::reduce(&drawn.rgba, COLOURS);
                let rgba: Vec<u8> = match reduced.loss > LOSS {
                    true => drawn.rgba,
                    false => {
                        let colour = |[r, g, b, _]: palette::Colour| [r, g, b, 255];
                        reduced.pixels.iter().flat_map(|i| colour(reduced.palette[usize::from(*i)])).collect()
                    }
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
