//! Texts that had to be cut on the pages of the planned files: she wants to know before a buyer reads half a word.

use base::model::drawing::Shape;
use base::model::pdf_plan::PdfPlan;
use base::model::plan::{About, Make, Remark};
use base::model::product::{Sticker, StickerSource, Style};
use base::model::units::{PT_PER_MM, trim_number};
use base::model::{Drawing, Item, Point, Rect, Where};
use draw::Fonts;
use draw::motifs;
use draw::motifs::MotifDesk;
use std::collections::BTreeSet;

/// One remark for every text that is cut in a file, at the first page that shows it so.
pub fn remarks(items: &[Item], style: &Style, fonts: &Fonts) -> Vec<Remark> {
    let mut out = Vec::new();
    for item in items {
        match &item.make {
            Make::Pdf(pdf) => look(&item.path, pdf, &mut out),
            Make::Finished(finished) => look(&item.path, &finished.over, &mut out),
            Make::Sticker(sticker) => label(&item.path, sticker, style, fonts, &mut out),
            Make::Picture(_) | Make::Text(_) => {}
        }
    }
    out
}

/// The label of a sticker that comes with the tool.
fn label(path: &str, sticker: &Sticker, style: &Style, fonts: &Fonts, out: &mut Vec<Remark>) {
    let StickerSource::BuiltIn(name, Some(label)) = &sticker.source else { return };
    let Some(motif) = motifs::find(name) else { return };
    let desk = MotifDesk { colour: sticker.colour, style, fonts, label: Some(label), weekdays: motifs::ENGLISH_DAYS };
    let (drawing, size) = motif.draw(&desk);
    let scale = sticker.longest.0 / size.w.max(size.h);
    for cut in &drawing.cuts {
        let message = told(&cut.whole, cut.by * scale, &cut.shown);
        out.push(Remark { about: About::TextTooLong, place: Where::file(path), message });
    }
}

/// What is gathered while one file is gone through.
struct Search<'a> {
    path: &'a str,
    forms: &'a [Drawing],
    seen: BTreeSet<usize>,
    told: BTreeSet<String>,
    out: &'a mut Vec<Remark>,
}

fn look(path: &str, pdf: &PdfPlan, out: &mut Vec<Remark>) {
    let mut search = Search { path, forms: &pdf.forms, seen: BTreeSet::new(), told: BTreeSet::new(), out };
    for (i, page) in pdf.pages.iter().enumerate() {
        search.drawing(&page.drawing, i + 1, Point::default(), 1.0);
    }
}

impl Search<'_> {
    fn drawing(&mut self, drawing: &Drawing, page: usize, at: Point, scale: f64) {
        for cut in &drawing.cuts {
            let message = told(&cut.whole, cut.by / PT_PER_MM * scale, &cut.shown);
            if self.told.insert(message.clone()) {
                let r = cut.room;
                let room = Rect::new(at.x + r.x * scale, at.y + r.y * scale, r.w * scale, r.h * scale);
                let place = Where::page(self.path, page).rect(room);
                self.out.push(Remark { about: About::TextTooLong, place, message });
            }
        }
        for shape in &drawing.shapes {
            let Shape::Form { form, at: there, scale: more } = shape else { continue };
            if self.seen.insert(*form) {
                let forms = self.forms;
                let moved = Point::new(at.x + there.x * scale, at.y + there.y * scale);
                self.drawing(&forms[*form], page, moved, scale * more);
            }
        }
    }
}

/// `by` in mm.
fn told(whole: &str, by: f64, shown: &str) -> String {
    let shown = if shown.is_empty() { "nothing of it".to_owned() } else { format!("“{shown}”") };
    format!("“{whole}” is {} mm too long for its room, which shows {shown}", trim_number(by, 1))
}
