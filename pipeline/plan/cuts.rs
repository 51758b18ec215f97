//! Texts that had to be cut on the pages of the planned files: the designer wants to know before a buyer reads half a word.

use base::model::drawing::{Shape, TextRun};
use base::model::pdf_plan::PdfPlan;
use base::model::plan::{About, Make, Remark};
use base::model::product::{Product, Sticker, StickerSource, Style};
use base::model::units::{PT_PER_MM, trim_number};
use base::model::{Drawing, Item, Point, Rect, Where};
use draw::Fonts;
use draw::motifs;
use draw::motifs::MotifContext;
use std::collections::BTreeSet;
use unicode_script::{Script, UnicodeScript};

/// One remark for every text that is cut in a file, at the first page that shows it so, and one for every text with a
/// character that its font does not have.
pub fn remarks(item: &Item, product: &Product, fonts: &Fonts) -> Vec<Remark> {
    let mut out = Vec::new();
    match &item.make {
        Make::Pdf(pdf) => look(&item.path, pdf, (product, fonts), &mut out),
        Make::Finished(finished) => look(&item.path, &finished.over, (product, fonts), &mut out),
        Make::Sticker(sticker) => label(&item.path, sticker, &product.style, fonts, &mut out),
        Make::Picture(_) | Make::Text(_) => {}
    }
    out
}

/// The label of a sticker that comes with the tool.
fn label(path: &str, sticker: &Sticker, style: &Style, fonts: &Fonts, out: &mut Vec<Remark>) {
    let StickerSource::BuiltIn(name, label) = &sticker.source else { return };
    let Some(motif) = motifs::find(name) else { return };
    let days = sticker.language.days.each_ref().map(String::as_str);
    let words = motifs::MotifWords::of(&sticker.language.table);
    let label = label.as_deref();
    let right_to_left = sticker.language.right_to_left;
    let context = MotifContext { colour: sticker.colour, style, fonts, label, weekdays: days, words, right_to_left };
    let (drawing, size) = motif.draw(&context);
    let scale = sticker.longest.0 / size.w.max(size.h);
    for cut in &drawing.cuts {
        let message = told(&cut.whole, cut.by * scale, &cut.shown);
        out.push(Remark { about: About::TextTooLong, place: Where::file(path), message });
    }
}

/// What is gathered while one file is gone through.
struct Search<'a> {
    path: &'a str,
    product: &'a Product,
    fonts: &'a Fonts,
    forms: &'a [Drawing],
    seen: BTreeSet<usize>,
    told: BTreeSet<String>,
    out: &'a mut Vec<Remark>,
}

fn look(path: &str, pdf: &PdfPlan, (product, fonts): (&Product, &Fonts), out: &mut Vec<Remark>) {
    let mut search =
        Search { path, product, fonts, forms: &pdf.forms, seen: BTreeSet::new(), told: BTreeSet::new(), out };
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
            if let Shape::Text(run) = shape {
                self.glyphs(run, page);
            }
            let Shape::Form { form, at: there, scale: more } = shape else { continue };
            if self.seen.insert(*form) {
                let forms = self.forms;
                let moved = Point::new(at.x + there.x * scale, at.y + there.y * scale);
                self.drawing(&forms[*form], page, moved, scale * more);
            }
        }
    }
}

impl Search<'_> {
    /// Tells of the characters of a text that its font does not have, at the line of the manifest that has the text.
    fn glyphs(&mut self, run: &TextRun, page: usize) {
        if run.text.is_ascii() {
            return;
        }
        let missing: BTreeSet<char> = self.fonts.missing(run.role, &run.text).into_iter().collect();
        if missing.is_empty() {
            return;
        }
        let chars: Vec<String> =
            missing.iter().map(|c| format!("\u{201c}{c}\u{201d} (U+{:04X})", u32::from(*c))).collect();
        let asked: Vec<&str> = self.fonts.files(run.role).map(|file| file.from.as_str()).collect();
        let of = scripts(&missing);
        let text = run.text.trim();
        // A text may be a part of what the designer wrote, broken into lines or with a number before it.
        let written = self.product.texts.iter().find(|(whole, _)| {
            whole.contains(text) || text.contains(whole.trim()) && missing.iter().any(|c| whole.contains(*c))
        });
        let message =
            format!("\u{201c}{text}\u{201d}: none of the fonts has {} ({}); {of}", chars.join(", "), asked.join(", "));
        if self.told.insert(message.clone()) {
            let place = match written {
                Some((_, span)) => Where::file("product.toml").span(span.clone()),
                None => Where::page(self.path, page),
            };
            let remark = Remark { about: About::GlyphMissing, place, message };
            if !self.out.contains(&remark) {
                self.out.push(remark);
            }
        }
    }
}

/// Which scripts characters belong to, and what brings them.
fn scripts(missing: &BTreeSet<char>) -> String {
    let none = [Script::Common, Script::Inherited, Script::Unknown];
    let mut names: Vec<String> = missing.iter().map(|c| c.script()).filter(|s| !none.contains(s)).map(plain).collect();
    names.sort_unstable();
    names.dedup();
    if names.is_empty() {
        "add a font that has it, as style.fonts.label = [\"NotoSans-Regular\", \"fonts/…\"]".to_owned()
    } else {
        let names = names.join(" and ");
        format!("add a font for the script {names}, as style.fonts.label = [\"NotoSans-Regular\", \"fonts/…\"]")
    }
}

/// The name of a script as people write it.
fn plain(script: Script) -> String {
    script.full_name().replace('_', " ")
}

/// `by` in mm.
fn told(whole: &str, by: f64, shown: &str) -> String {
    let shown = if shown.is_empty() { "nothing of it".to_owned() } else { format!("“{shown}”") };
    format!("“{whole}” is {} mm too long for its room, which shows {shown}", trim_number(by, 1))
}
