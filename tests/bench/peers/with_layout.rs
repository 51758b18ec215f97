//! With krilla: every page drawn whole.

use super::{Book, Link, lines, papers};
use krilla::Document;
use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Rect};
use krilla::annotation::{LinkAnnotation, Target};
use krilla::destination::{Destination, XyzDestination};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::text::{Font, TextDirection};

fn filled(red: u8, green: u8, blue: u8) -> Option<Fill> {
    Some(Fill { paint: rgb::Color::new(red, green, blue).into(), ..Fill::default() })
}

fn path(draw: impl FnOnce(&mut PathBuilder)) -> Path {
    let mut builder = PathBuilder::new();
    draw(&mut builder);
    builder.finish().expect("lines")
}

/// The whole file.
pub fn write(book: &Book, font: Vec<u8>) -> Vec<u8> {
    let [width, height] = book.size;
    let font = Font::new(font.into(), 0).expect("a font");
    let area = |[left, low, right, high]: [f32; 4]| Rect::from_ltrb(left, height - high, right, height - low).expect("an area");
    let rulings: Vec<Path> = (0..4)
        .map(|ruling| {
            path(|b| {
                for [x0, y0, x1, y1] in papers(book.size).into_iter().flat_map(|paper| lines(ruling, paper)) {
                    b.move_to(x0, height - y0);
                    b.line_to(x1, height - y1);
                }
            })
        })
        .collect();
    let mut document = Document::new();
    for (number, page) in book.pages.iter().enumerate() {
        let mut drawn = document.start_page_with(PageSettings::from_wh(width, height).expect("a size"));
        let mut surface = drawn.surface();
        surface.set_fill(filled(233, 229, 220));
        surface.draw_path(&path(|b| b.push_rect(area([0.0, 0.0, width, height]))));
        surface.set_fill(filled(253, 251, 246));
        surface.draw_path(&path(|b| papers(book.size).map(|[x, y, w, h]| b.push_rect(area([x, y, x + w, y + h]))).into_iter().collect()));
        if !page.links.is_empty() {
            surface.set_fill(filled(143, 174, 139));
            surface.draw_path(&path(|b| page.links.iter().for_each(|Link { area: a, .. }| b.push_rect(area(*a)))));
        }
        surface.set_fill(None);
        surface.set_stroke(Some(Stroke { paint: rgb::Color::new(180, 180, 174).into(), width: 0.5, ..Stroke::default() }));
        surface.draw_path(&rulings[page.ruling]);
        surface.set_stroke(None);
        surface.set_fill(filled(51, 49, 56));
        surface.draw_text(Point::from_xy(40.0, height - 12.0), font.clone(), 7.0, &format!("Page {number}"), false, TextDirection::Auto);
        surface.finish();
        for Link { area: a, to } in &page.links {
            let there = Destination::Xyz(XyzDestination::new(*to, Point::from_xy(0.0, 0.0)));
            drawn.add_annotation(LinkAnnotation::new(area(*a), Target::Destination(there)).into());
        }
        drawn.finish();
    }
    document.finish().expect("a document")
}
