//! Sticker sheets: the finished stickers at their true size, group by group, on pages of the notebook's size, each a
//! picture of its own with room enough about it to be picked up alone. The same sheets are planned as PNG pictures on a
//! clear ground, for apps that take pictures and no PDF.

use super::labels;
use base::model::drawing::{Path, Picture, Shape};
use base::model::pdf_plan::{Entry, LabelRun, LabelStyle, PdfPlan};
use base::model::plan::{Make, PicturePlan};
use base::model::{Drawing, Item, Kind, Mm, Page, Product, Rect, Role, Size};
use draw::text::{Align, Line, Setting};
use draw::{Fonts, Pen, sheet_layout};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A PNG sheet is no longer than this: many apps take no more pixels on a side.
const MOST_SIDE: f64 = 8_000.0;

/// A finished sticker: its pixels and its true size.
#[derive(Clone, Debug)]
pub struct Made {
    /// Pixels.
    pub picture: Arc<Picture>,
    /// Width and height in points, padding included.
    pub size: Size,
}

/// The finished stickers that stand on pages of the notebook, by name.
pub type Placed = BTreeMap<String, Made>;

/// Plans the sheets: the PDF, then a PNG for each of its pages, as far as they are wanted. `made` has the product's
/// stickers in their order.
pub fn sheets(product: &Product, fonts: &Fonts, made: &[Made]) -> Vec<Item> {
    let forms = product.stickers.sheets;
    if made.is_empty() || !(forms.pdf || forms.png) {
        return Vec::new();
    }
    let groups = runs(product, made.len());
    let drawings = drawings(product, fonts, made, &groups);
    let mut items = Vec::new();
    if forms.pdf {
        items.push(pdf(product, &drawings, &groups));
    }
    if forms.png {
        let page = product.page.size;
        let dpi = product.stickers.dpi.min(MOST_SIDE / page.w.max(page.h) * 72.0);
        let digits = drawings.len().to_string().len();
        for (i, (drawing, _)) in drawings.iter().enumerate() {
            items.push(Item {
                path: format!("contents/sticker-sheets/sheet-{:0digits$}.png", i + 1),
                kind: Kind::Sheet,
                make: Make::Picture(Box::new(PicturePlan { size: page, dpi, drawing: drawing.clone() })),
            });
        }
    }
    items
}

/// Stickers that stand together: the group's name, and how many. The order of the stickers has the groups one after the
/// other.
fn runs(product: &Product, count: usize) -> Vec<(String, usize)> {
    let mut out: Vec<(String, usize)> = Vec::new();
    for i in 0..count {
        let group = product.stickers.items.get(i).map_or("", |s| s.group.as_str());
        match out.last_mut() {
            Some((name, n)) if name == group => *n += 1,
            _ => out.push((group.to_owned(), 1)),
        }
    }
    out
}

/// Every page without its ground, with the groups that begin or go on there.
fn drawings(product: &Product, fonts: &Fonts, made: &[Made], groups: &[(String, usize)]) -> Vec<(Drawing, Vec<usize>)> {
    let (page, style) = (product.page.size, &product.style);
    let least = page.w.min(page.h);
    let margin = (least * 0.06).clamp(Mm(5.0).pt(), Mm(14.0).pt());
    // The toolbar's strip is taken off the page first; the margin is counted from there.
    let strip = (product.page.toolbar.pt() + Mm(2.0).pt() - margin).max(0.0);
    let heading = Setting::new(Role::Heading, (least * 0.034).clamp(11.0, 22.0), style.ink);
    let (mut bunches, mut left) = (Vec::new(), made);
    for (name, n) in groups {
        let (mine, rest) = left.split_at((*n).min(left.len()));
        left = rest;
        let head = if name.is_empty() { 0.0 } else { heading.size * 1.9 };
        bunches.push(sheet_layout::SizedGroup { head, sizes: mine.iter().map(|m| m.size).collect() });
    }
    let quiet = Pen::new(style).quiet;
    let layout = sheet_layout::layout(&bunches, Size::new(page.w, page.h - strip), margin, Mm(6.0).pt());
    let mut begun = vec![false; groups.len()];
    let backwards = product.page.right_to_left;
    // Whoever reads from right to left begins at the right edge.
    let placed = |r: Rect| Rect::new(if backwards { page.w - r.x - r.w } else { r.x }, r.y + strip, r.w, r.h);
    layout
        .pages
        .into_iter()
        .map(|sheet| {
            let mut drawing = Drawing::new();
            for (group, at) in &sheet.heads {
                let at = placed(*at);
                let name = &groups[*group].0;
                let set = heading.fitted(fonts, [name.as_str()], at.w * 0.7, heading.size * 0.6);
                let base = at.y + set.size * 0.95;
                let room = at.w * 0.7;
                let (x, align) = if backwards { (at.right(), Align::Right) } else { (at.x, Align::Left) };
                set.draw_kept(&mut drawing, fonts, name, Line { room, x, y: base, align });
                if std::mem::replace(&mut begun[*group], true) {
                    let small = Setting::new(Role::LabelItalic, (set.size * 0.62).max(labels::LEAST_TYPE), quiet);
                    let past = set.width(fonts, name).min(room) + set.size * 0.5;
                    let x = if backwards { x - past } else { x + past };
                    small.draw(&mut drawing, fonts, &product.words.continued, x, base, align);
                }
            }
            for (index, at) in sheet.placed {
                drawing.push(Shape::Picture { picture: made[index].picture.clone(), at: placed(at), turn: 0.0 });
            }
            (drawing, sheet.heads.iter().map(|(group, _)| *group).collect())
        })
        .collect()
}

fn pdf(product: &Product, drawings: &[(Drawing, Vec<usize>)], groups: &[(String, usize)]) -> Item {
    let size = product.page.size;
    let page = |(drawing, _): &(Drawing, Vec<usize>)| {
        let mut whole = Drawing::new();
        whole.fill(Path::rect(Rect::page(size)), product.style.paper);
        whole.extend(drawing.clone());
        Page { drawing: whole, ..Page::default() }
    };
    // The outline leads to the page on which each group begins.
    let mut outline: Vec<Entry> = Vec::new();
    for (i, (_, here)) in drawings.iter().enumerate() {
        for group in here {
            let title = &groups[*group].0;
            if !outline.iter().any(|e| e.title == *title) {
                outline.push(Entry { title: title.clone(), page: i, children: Vec::new(), open: false });
            }
        }
    }
    let pdf = PdfPlan {
        title: format!("{} – {}", product.name, product.words.stickers),
        size,
        forms: Vec::new(),
        pages: drawings.iter().map(page).collect(),
        outline,
        labels: vec![LabelRun { page: 0, prefix: String::new(), style: LabelStyle::Decimal }],
        places: BTreeMap::new(),
        right_to_left: product.page.right_to_left,
    };
    let path = format!("contents/{}-sticker-sheet.pdf", product.slug);
    Item { path, kind: Kind::Sheet, make: Make::Pdf(Box::new(pdf)) }
}
