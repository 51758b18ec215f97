//! With pdf-writer: every object by hand, the drawing of a ruling and of the tabs once.

use super::{Book, Link, lines, papers};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, types::AnnotationType};
use std::collections::HashMap;

fn packed(content: Content) -> Vec<u8> {
    miniz_oxide::deflate::compress_to_vec_zlib(&content.finish(), 6)
}

/// Tabs as they stand on a page: where each link is.
fn chrome(book: &Book, links: &[Link]) -> Content {
    let [width, height] = book.size;
    let mut c = Content::new();
    c.set_fill_rgb(0.91, 0.9, 0.86).rect(0.0, 0.0, width, height).fill_nonzero();
    c.set_fill_rgb(0.99, 0.98, 0.96);
    for [x, y, w, h] in papers(book.size) {
        c.rect(x, y, w, h).fill_nonzero();
    }
    c.set_fill_rgb(0.56, 0.68, 0.55);
    for Link { area: [left, low, right, high], .. } in links {
        c.rect(*left, low + 1.5, right - left, high - low - 3.0).fill_nonzero();
    }
    c
}

/// The whole file.
pub fn write(book: &Book) -> Vec<u8> {
    let mut next = Ref::new(1);
    let (catalog, tree, font) = (next.bump(), next.bump(), next.bump());
    let [width, height] = book.size;
    let whole = Rect::new(0.0, 0.0, width, height);
    let mut pdf = Pdf::new();
    pdf.type1_font(font).base_font(Name(b"Helvetica"));
    let rulings: Vec<Ref> = (0..4)
        .map(|ruling| {
            let (id, mut c) = (next.bump(), Content::new());
            c.set_stroke_rgb(0.7, 0.7, 0.68).set_line_width(0.5);
            for paper in papers(book.size) {
                for [x0, y0, x1, y1] in lines(ruling, paper) {
                    c.move_to(x0, y0).line_to(x1, y1);
                }
            }
            c.stroke();
            let bytes = packed(c);
            pdf.form_xobject(id, &bytes).bbox(whole).filter(pdf_writer::Filter::FlateDecode);
            id
        })
        .collect();
    let pages: Vec<Ref> = book.pages.iter().map(|_| next.bump()).collect();
    let mut chromes: HashMap<Vec<u32>, Ref> = HashMap::new();
    for (number, page) in book.pages.iter().enumerate() {
        let state: Vec<u32> = page.links.iter().flat_map(|l| l.area.map(f32::to_bits)).collect();
        let drawn = *chromes.entry(state).or_insert_with(|| {
            let (id, bytes) = (next.bump(), packed(chrome(book, &page.links)));
            pdf.form_xobject(id, &bytes).bbox(whole).filter(pdf_writer::Filter::FlateDecode);
            id
        });
        let mut c = Content::new();
        c.x_object(Name(b"A")).x_object(Name(b"B"));
        c.begin_text().set_font(Name(b"F"), 7.0).next_line(40.0, 12.0).show(Str(format!("Page {number}").as_bytes())).end_text();
        let content = next.bump();
        pdf.stream(content, &packed(c)).filter(pdf_writer::Filter::FlateDecode);
        let areas: Vec<Ref> = page.links.iter().map(|_| next.bump()).collect();
        for (id, Link { area: [left, low, right, high], to }) in areas.iter().zip(&page.links) {
            let mut link = pdf.annotation(*id);
            link.subtype(AnnotationType::Link).rect(Rect::new(*left, *low, *right, *high)).border(0.0, 0.0, 0.0, None);
            link.insert(Name(b"Dest")).array().item(pages[*to]).item(Name(b"Fit"));
        }
        let mut written = pdf.page(pages[number]);
        written.parent(tree).media_box(whole).contents(content).annotations(areas);
        let mut resources = written.resources();
        resources.fonts().pair(Name(b"F"), font);
        resources.x_objects().pair(Name(b"A"), drawn).pair(Name(b"B"), rulings[page.ruling]);
        resources.finish();
    }
    pdf.pages(tree).count(pages.len() as i32).kids(pages);
    pdf.catalog(catalog).pages(tree);
    pdf.finish()
}
