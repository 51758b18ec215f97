//! A drawing as SVG text: for stickers, listing pictures and looking at things. Text becomes outlines, so that
//! the result needs no font.

use super::flat;
use super::fonts::Fonts;
use base::model::drawing::{Cap, Drawing, Grade, Path, Seg, Shape, Stroke, TextRun, Turn};
use base::model::units::trim_number;
use base::model::{Point, Rect, Rgb, Size};
use std::fmt::Write;

/// Writes a drawing as an SVG document of this size, one user unit a point. Forms that it uses come from `forms`.
pub fn document(drawing: &Drawing, size: Size, fonts: &Fonts, forms: &[Drawing]) -> String {
    let (w, h) = (n(size.w), n(size.h));
    let mut out =
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {w} {h}\">\n");
    shapes(&mut out, drawing, fonts, forms);
    out.push_str("</svg>\n");
    out
}

/// Writes pages of one size beside each other as an SVG document, `gap` points apart.
pub fn row(pages: &[&Drawing], size: Size, gap: f64, fonts: &Fonts, forms: &[Drawing]) -> String {
    let step = size.w + gap;
    let (w, h) = (n((step * pages.len() as f64 - gap).max(0.0)), n(size.h));
    let mut out =
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {w} {h}\">\n");
    for (i, page) in pages.iter().enumerate() {
        let (x, w) = (n(step * i as f64), n(size.w));
        // Writing to a String cannot fail.
        let _ = writeln!(out, "<svg x=\"{x}\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {w} {h}\">");
        shapes(&mut out, page, fonts, forms);
        out.push_str("</svg>\n");
    }
    out.push_str("</svg>\n");
    out
}

fn shapes(out: &mut String, drawing: &Drawing, fonts: &Fonts, forms: &[Drawing]) {
    for shape in &drawing.shapes {
        match shape {
            Shape::Path { path, fill, stroke } => element(out, path, *fill, stroke.as_ref()),
            Shape::Graded { path, grade } => graded(out, path, grade),
            Shape::GradedText { run, grade } => graded(out, &flat::outlined(run, fonts), grade),
            Shape::Dots { at, diameter, colour } => {
                for p in at {
                    let (x, y, r) = (n(p.x), n(p.y), n(diameter / 2.0));
                    // Writing to a String cannot fail.
                    let _ = writeln!(out, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" fill=\"{colour}\"/>");
                }
            }
            Shape::Text(run) => text(out, run, fonts),
            Shape::Picture { picture, at, turn } => stand_in(out, &picture.name, at.turned(*turn)),
            // What lies below it is what it looks like, but for a breath.
            Shape::Tiled { .. } => {}
            Shape::Art { art, clip, .. } => stand_in(out, &art.name, *clip),
            Shape::Form { form, at, scale } => {
                let _ = writeln!(
                    out,
                    "<g transform=\"translate({} {}) scale({})\">",
                    n(at.x),
                    n(at.y),
                    trim_number(*scale, 6)
                );
                if let Some(inner) = forms.get(*form) {
                    shapes(out, inner, fonts, forms);
                }
                out.push_str("</g>\n");
            }
        }
    }
}

fn graded(out: &mut String, path: &Path, grade: &Grade) {
    // What has been written so far gives it a name that nothing else has.
    let id = out.len();
    let _ = write!(
        out,
        "<linearGradient id=\"g{id}\" gradientUnits=\"userSpaceOnUse\" x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\">",
        n(grade.from.x),
        n(grade.from.y),
        n(grade.to.x),
        n(grade.to.y)
    );
    for (at, colour) in &grade.tones {
        let _ = write!(out, "<stop offset=\"{}\" stop-color=\"{colour}\"/>", n(*at));
    }
    let _ = writeln!(out, "</linearGradient><path d=\"{}\" fill=\"url(#g{id})\"/>", data(path));
}

/// A grey field in the place of what this text cannot hold.
fn stand_in(out: &mut String, name: &str, at: Rect) {
    let (x, y, w, h) = (n(at.x), n(at.y), n(at.w), n(at.h));
    let name = name.replace('&', "&amp;").replace('<', "&lt;");
    let _ = writeln!(
        out,
        "<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" fill=\"#ccc\"><title>{name}</title></rect>"
    );
}

fn element(out: &mut String, path: &Path, fill: Option<Rgb>, stroke: Option<&Stroke>) {
    let fill = fill.map_or("none".to_owned(), |c| c.to_string());
    let _ = write!(out, "<path d=\"{}\" fill=\"{fill}\"", data(path));
    if let Some(s) = stroke {
        let _ = write!(out, " stroke=\"{}\" stroke-width=\"{}\"", s.colour, n(s.width));
        if s.cap == Cap::Round {
            out.push_str(" stroke-linecap=\"round\" stroke-linejoin=\"round\"");
        }
        if let Some((dash, gap)) = s.dash {
            let _ = write!(out, " stroke-dasharray=\"{} {}\"", n(dash), n(gap));
        }
    }
    out.push_str("/>\n");
}

fn text(out: &mut String, run: &TextRun, fonts: &Fonts) {
    let angle = match run.turn {
        Turn::None => 0,
        Turn::Down => 90,
        Turn::Up => -90,
    };
    let mut d = String::new();
    let mut pen = 0.0;
    for g in fonts.shape(run.role, &run.text).iter().filter(|g| !g.is_hidden(&run.text)) {
        let at = Point::new((pen + g.dx) * run.size, -g.dy * run.size);
        d.push_str(&data(&fonts.outline(g, run.size).placed(at, 1.0)));
        pen += g.tracked(run.tracking);
    }
    let _ = writeln!(
        out,
        "<path transform=\"translate({} {}) rotate({angle})\" fill=\"{}\" d=\"{d}\"/>",
        n(run.at.x),
        n(run.at.y),
        run.colour
    );
}

/// SVG path data.
pub fn data(path: &Path) -> String {
    let mut d = String::new();
    for seg in &path.0 {
        let _ = match seg {
            Seg::Move(p) => write!(d, "M{} {}", n(p.x), n(p.y)),
            Seg::Line(p) => write!(d, "L{} {}", n(p.x), n(p.y)),
            Seg::Cubic(a, b, c) => {
                write!(d, "C{} {} {} {} {} {}", n(a.x), n(a.y), n(b.x), n(b.y), n(c.x), n(c.y))
            }
            Seg::Close => write!(d, "Z"),
        };
    }
    d
}

fn n(v: f64) -> String {
    trim_number(v, 3)
}
