//! Pictures for the guide that show more than one page of a notebook: all that a buyer finds in the folder, and a sticker on its sheet.

use crate::figures::{Content, Figure, Pane};
use base::model::drawing::Shape;
use base::model::pdf_plan::PdfPlan;
use base::model::plan::Make;
use base::model::{Item, Rect, Size};

/// How many pages lie below the large one at most.
const MOST_BELOW: usize = 3;

/// Adds them to the pictures of a product's pages, once its sheets are planned.
pub fn with_sheets(figures: &mut Vec<Figure>, sheets: &[Item], right_to_left: bool) {
    let planned = |item: &Item| match &item.make {
        Make::Pdf(pdf) => on_sheet(&item.path, pdf),
        Make::Finished(_) | Make::Sticker(_) | Make::Picture(_) | Make::Text(_) => None,
    };
    let sheet = sheets.iter().find_map(planned);
    let whole = together(figures, sheet.as_ref(), right_to_left);
    figures.extend(whole);
    figures.extend(sheet);
}

/// The first sheet, with a mark round the sticker that lies nearest to its middle.
fn on_sheet(path: &str, pdf: &PdfPlan) -> Option<Figure> {
    let (page, size) = (pdf.pages.first()?, pdf.size);
    let middle = Rect::page(size).centre();
    let placed = page.drawing.shapes.iter().filter_map(|shape| match shape {
        Shape::Picture { at, .. } => Some(*at),
        _ => None,
    });
    let far = |rect: &Rect| {
        let (across, down) = (rect.centre().x - middle.x, rect.centre().y - middle.y);
        across * across + down * down
    };
    let one = placed.min_by(|a, b| far(a).total_cmp(&far(b)))?;
    let content = Content::Built(path.to_owned(), 0);
    let pane = Pane { at: Rect::page(size), page: size, content, marks: vec![(one, 0)], taps: Vec::new() };
    Some(Figure { name: "stickers".to_owned(), size, panes: vec![pane] })
}

/// The cover, and small below it a page, another cover and a sheet, or what there is of the like. Beside the steps of an upright guide
/// it would be too small to show anything.
fn together(figures: &[Figure], sheet: Option<&Figure>, right_to_left: bool) -> Option<Figure> {
    let pane = |name: &str, which: fn(&[Pane]) -> Option<&Pane>| {
        figures.iter().find(|figure| figure.name == name).and_then(|figure| which(&figure.panes))
    };
    let cover = pane("cover", |panes| panes.first()).filter(|cover| cover.page.is_landscape())?;
    let first = |name| pane(name, |panes| panes.first());
    let all = [
        first("links"),
        pane("covers", |panes| panes.last()),
        sheet.and_then(|sheet| sheet.panes.first()),
        first("index"),
        first("templates"),
    ];
    let below: Vec<&Pane> = all.into_iter().flatten().take(MOST_BELOW).collect();
    if below.len() < 2 {
        return None;
    }
    let (size, count) = (cover.page, below.len() as f64);
    let gap = size.h * 0.07;
    let cell = (size.w - gap * (count - 1.0)) / count;
    let cell = Size::new(cell, cell * size.h / size.w);
    let lay = |pane: &Pane, at: Rect| {
        let scale = (at.w / pane.page.w).min(at.h / pane.page.h);
        let own = Size::new(pane.page.w * scale, pane.page.h * scale);
        let x = at.x + (at.w - own.w) / 2.0;
        // Cells follow each other where the language begins.
        let x = if right_to_left { size.w - x - own.w } else { x };
        let at = Rect::new(x, at.y + (at.h - own.h) / 2.0, own.w, own.h);
        Pane { at, marks: Vec::new(), taps: Vec::new(), ..pane.clone() }
    };
    let cells = below.iter().enumerate().map(|(i, pane)| {
        let x = i as f64 * (cell.w + gap);
        lay(pane, Rect::new(x, size.h + gap, cell.w, cell.h))
    });
    let panes = std::iter::once(lay(cover, Rect::page(size))).chain(cells).collect();
    Some(Figure { name: "files".to_owned(), size: Size::new(size.w, size.h + gap + cell.h), panes })
}
