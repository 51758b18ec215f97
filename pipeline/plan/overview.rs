//! The overview: a small true picture of every template, with its name, on as many pages as needed.

use super::builder::Builder;
use super::front;
use base::colour;
use base::model::art::Room;
use base::model::drawing::{Path, Shape, Stroke};
use base::model::{Drawing, Link, Mm, Place, Point, Rect, Role, Target};
use draw::text::{Align, Line, Setting};

/// How the small pictures are laid out on one page.
struct Grid {
    cells: Vec<Rect>,
    /// The picture within a cell, from its top left corner.
    picture: Rect,
    scale: f64,
}

/// The overview's pages: drawing and links of each. Adds the small pictures to the builder's forms.
pub fn pages(b: &mut Builder) -> Vec<(Drawing, Vec<Link>)> {
    let head = front::head_height(b.frame);
    let grid = Grid::new(b, head);
    let pen = b.pen.for_small(grid.scale);
    let first = b.forms.len();
    let small: Vec<Drawing> = b.notebook.offered().map(|(_, t)| within(b.template(t, pen), b.frame.sheet())).collect();
    b.forms.extend(small);
    let offered: Vec<(usize, usize)> = b.notebook.offered().enumerate().map(|(n, (i, _))| (i, n)).collect();
    let count = offered.len();
    offered
        .chunks(grid.cells.len())
        .enumerate()
        .map(|(n, chunk)| {
            let of = count.div_ceil(grid.cells.len());
            let (mut d, mut links) = (Drawing::new(), Vec::new());
            let title = if of > 1 {
                format!("{}  {} / {of}", b.chrome.words.templates, n + 1)
            } else {
                b.chrome.words.templates.to_owned()
            };
            front::head(b, &mut d, &title);
            turners(b, &mut d, &mut links, n, of);
            for (cell, (i, n)) in grid.cells.iter().zip(chunk) {
                let link = entry(b, &grid, &mut d, *cell, *i, first + n);
                links.push(link);
            }
            (d, links)
        })
        .collect()
}

/// The place of a page of the overview, counted from 0.
pub fn place(page: usize) -> Place {
    if page == 0 { Place::Templates } else { Place::MoreTemplates(page + 1) }
}

/// Arrows to the page of the overview before this one and to the one after it, at the end of the head. Each has room
/// for a finger.
fn turners(b: &Builder, d: &mut Drawing, links: &mut Vec<Link>, page: usize, of: usize) {
    let Some(area) = b.frame.areas.last() else { return };
    let high = front::head_height(b.frame);
    let wide = (high * 1.2).max(30.0);
    let size = high * 0.17;
    let stroke =
        Stroke::new((1.5 * b.frame.scale).max(0.9), colour::mix(b.product.style.ink, b.product.style.paper, 0.2))
            .round();
    for (to, from_right, way) in [(page.checked_sub(1), 1, -1.0), (Some(page + 1).filter(|n| *n < of), 0, 1.0)] {
        let Some(to) = to else { continue };
        let rect = Rect::new(area.right() - wide * f64::from(from_right + 1), area.y, wide, high * 0.8);
        let (x, y) = (rect.centre().x + way * size / 2.0, area.y + high * 0.3);
        let arrow = [(-way * size, -size), (0.0, 0.0), (-way * size, size)].map(|(dx, dy)| Point::new(x + dx, y + dy));
        d.stroke(Path::polyline(&arrow, false), stroke);
        let says = format!("{} {} {} / {of}", b.chrome.words.go_to, b.chrome.words.templates, to + 1);
        links.push(Link { rect, target: Target::Place(place(to)), says });
    }
}

/// A small picture shows the papers: art that goes beyond them is cut off there.
fn within(mut drawing: Drawing, sheet: Rect) -> Drawing {
    for shape in &mut drawing.shapes {
        if let Shape::Art { clip, .. } = shape {
            *clip = clip.crossing(sheet);
        }
    }
    drawing
}

fn entry(b: &Builder, grid: &Grid, d: &mut Drawing, cell: Rect, index: usize, form: usize) -> Link {
    let template = &b.notebook.templates[index];
    let style = &b.product.style;
    let picture = Rect::new(cell.x + grid.picture.x, cell.y + grid.picture.y, grid.picture.w, grid.picture.h);
    let sheet = b.frame.sheet();
    let (mut at, mut scale) =
        (Point::new(picture.x - sheet.x * grid.scale, picture.y - sheet.y * grid.scale), grid.scale);
    let whole = template.art.as_ref().is_some_and(|art| art.room == Room::Page);
    if whole {
        // Art on the whole page shows the page where others show their papers.
        let page = b.frame.page;
        scale = (picture.w / page.w).min(picture.h / page.h);
        at = Point::new(picture.centre().x - page.w * scale / 2.0, picture.centre().y - page.h * scale / 2.0);
    }
    let ground = colour::mix(style.paper, style.desk, 0.3);
    let edge = Stroke::new(0.6, colour::mix(style.desk, style.ink, 0.2));
    let sheets = if whole { vec![Rect::page(b.frame.page)] } else { b.frame.papers.clone() };
    let radius = (b.frame.corner * scale).max(1.2);
    let outlines: Vec<Path> = sheets
        .iter()
        .map(|s| Rect::new(at.x + s.x * scale, at.y + s.y * scale, s.w * scale, s.h * scale))
        .map(|small| Path::rounded(small, radius))
        .collect();
    for outline in &outlines {
        d.fill_stroke(outline.clone(), ground, edge);
    }
    d.push(Shape::Form { form, at, scale });
    if template.art.is_some() {
        // Art covers the edges.
        outlines.into_iter().for_each(|outline| d.stroke(outline, edge));
    }
    let size = (7.6 * b.frame.scale).max(5.2);
    let setting = Setting::new(Role::Label, size, style.ink);
    let name = setting.fitted(b.fonts, [template.name.as_str()], cell.w, size * 0.82);
    let (x, y) = (picture.centre().x, picture.bottom() + size * 1.55);
    name.draw_kept(d, b.fonts, &template.name, Line { room: cell.w, x, y, align: Align::Centre });
    let says = format!("{} {}", b.chrome.words.go_to, template.name);
    Link { rect: cell, target: Target::Place(Place::Template(template.slug.clone())), says }
}

impl Grid {
    fn new(b: &Builder, head: f64) -> Grid {
        let frame = b.frame;
        let (sheet, area) = (frame.sheet(), frame.areas[0]);
        let aspect = sheet.w / sheet.h;
        let gap = (Mm(5.0).pt() * frame.scale).max(8.0);
        let name = (7.6 * frame.scale).max(5.2) * 2.3;
        let room = Rect::new(area.x, area.y + head, area.w, area.h - head);
        // As many columns as keep a picture near a quarter of the page's shorter side in area.
        let wish = frame.page.w.min(frame.page.h) * 0.24 * aspect.sqrt();
        let most = ((room.w + gap) / (wish + gap)).round().max(1.0) as usize;
        let count = b.notebook.offered().count().div_ceil(frame.areas.len());
        let columns = most.min(count.max(1)).max(1);
        let w = (room.w - gap * (most - 1) as f64) / most as f64;
        let h = (w / aspect).min(room.h - name);
        let w_drawn = h * aspect;
        let cell_h = h + name;
        let rows = (((room.h + gap * 0.6) / (cell_h + gap * 0.6)).floor() as usize).max(1);
        let step = w + gap;
        let left = if columns < most { 0.0 } else { (room.w - (step * most as f64 - gap)) / 2.0 };
        let cells = frame
            .areas
            .iter()
            .flat_map(|a| {
                (0..rows).flat_map(move |r| {
                    (0..most).map(move |c| {
                        Rect::new(a.x + left + c as f64 * step, a.y + head + r as f64 * (cell_h + gap * 0.6), w, cell_h)
                    })
                })
            })
            .collect();
        Grid { cells, picture: Rect::new((w - w_drawn) / 2.0, 0.0, w_drawn, h), scale: h / sheet.h }
    }
}
