//! Pictures for the guide that show more than one page of a notebook: all that a buyer finds in the folder, and a sticker on its sheet.

use crate::figures::{Content, Figure, Pane};
use base::model::drawing::Shape;
use base::model::pdf_plan::PdfPlan;
use base::model::plan::Make;
use base::model::{Item, Rect, Size};

/// How many pages lie beside the large one at most.
const MOST_BESIDE: usize = 3;

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

/// The cover, and small beside it a page, another cover and a sheet: at its side if it is upright, below it if not.
fn together(figures: &[Figure], sheet: Option<&Figure>, right_to_left: bool) -> Option<Figure> {
    let pane = |name: &str, which: fn(&[Pane]) -> Option<&Pane>| {
        figures.iter().find(|figure| figure.name == name).and_then(|figure| which(&figure.panes))
    };
    let cover = pane("cover", |panes| panes.first())?;
    let all = [
        pane("links", |panes| panes.first()),
        pane("covers", |panes| panes.last()),
        sheet.and_then(|f| f.panes.first()),
    ];
    let beside: Vec<&Pane> = all.into_iter().flatten().take(MOST_BESIDE).collect();
    if beside.len() < 2 {
        return None;
    }
    let (size, count) = (cover.page, beside.len() as f64);
    let gap = size.w.min(size.h) * 0.07;
    let below = size.is_landscape();
    // One cell after the other along the cover's side, all together as long as that.
    let part = ((if below { size.w } else { size.h }) - gap * (count - 1.0)) / count;
    let cell = if below { Size::new(part, part * size.h / size.w) } else { Size::new(part * size.w / size.h, part) };
    let whole = if below { Size::new(size.w, size.h + gap + cell.h) } else { Size::new(size.w + gap + cell.w, size.h) };
    let lay = |pane: &Pane, at: Rect| {
        let scale = (at.w / pane.page.w).min(at.h / pane.page.h);
        let own = Size::new(pane.page.w * scale, pane.page.h * scale);
        let x = at.x + (at.w - own.w) / 2.0;
        // Cells follow each other where the language begins.
        let x = if right_to_left { whole.w - x - own.w } else { x };
        let at = Rect::new(x, at.y + (at.h - own.h) / 2.0, own.w, own.h);
        Pane { at, marks: Vec::new(), taps: Vec::new(), ..pane.clone() }
    };
    let mut panes = vec![lay(cover, Rect::page(size))];
    panes.extend(beside.iter().enumerate().map(|(i, pane)| {
        let on = i as f64 * (part + gap);
        let (x, y) = if below { (on, size.h + gap) } else { (size.w + gap, on) };
        lay(pane, Rect::new(x, y, cell.w, cell.h))
    }));
    Some(Figure { name: "files".to_owned(), size: whole, panes })
}
