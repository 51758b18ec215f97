//! The overview: a small true picture of every template, with its name, on as many pages as needed.

use super::builder::Builder;
use super::frame::Frame;
use super::front;
use super::heading::{self, Mark};
use base::colour;
use base::model::art::Room;
use base::model::drawing::{Path, Shape, Stroke};
use base::model::units;
use base::model::{Drawing, Link, Mm, Place, Point, Rect, Size, Target};
use draw::motifs;
use draw::text::{Align, Line, Setting};

/// How the small pictures are laid out on one page.
struct Grid {
    /// The rooms below the head, one a paper.
    rooms: Vec<Rect>,
    columns: usize,
    rows: usize,
    /// The cell at the top left of a room, and how far it is to the next one across and down.
    cell: Size,
    step: Size,
    /// The picture within a cell, from its top left corner.
    picture: Rect,
    scale: f64,
}

/// The overview's pages: drawing and links of each. Adds the small pictures to the builder's forms.
pub fn pages(b: &mut Builder) -> Vec<(Drawing, Vec<Link>)> {
    let head = heading::height(b.frame);
    let grid = Grid::new(b, head);
    let pen = b.pen.for_small(grid.scale);
    let first = b.forms.len();
    let small: Vec<Drawing> = b.notebook.offered().map(|(_, t)| within(b.template(t, pen), b.frame.sheet())).collect();
    b.forms.extend(small);
    let offered: Vec<(usize, usize)> = b.notebook.offered().enumerate().map(|(n, (i, _))| (i, n)).collect();
    let of = offered.len().div_ceil(grid.count());
    // No page is left with the few that did not fit on the others.
    let each = offered.len().div_ceil(of.max(1));
    offered
        .chunks(each.max(1))
        .enumerate()
        .map(|(n, chunk)| {
            let (mut d, mut links) = (Drawing::new(), Vec::new());
            let title = if of > 1 {
                format!("{}  {} / {of}", b.chrome.words.templates, n + 1)
            } else {
                b.chrome.words.templates.to_owned()
            };
            let taken = if of > 1 && b.frame.areas.len() == 1 { turner_width(b) * 2.0 } else { 0.0 };
            front::head_within(b, &mut d, &title, taken);
            turners(b, &mut d, &mut links, n, of);
            for (cell, (i, n)) in grid.cells(chunk.len()).iter().zip(chunk) {
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
/// for a finger and its place; where there is no such page it is pale.
fn turners(b: &Builder, d: &mut Drawing, links: &mut Vec<Link>, page: usize, of: usize) {
    let Some(area) = b.frame.areas.last() else { return };
    let high = heading::height(b.frame);
    let wide = turner_width(b);
    let size = high * 0.17;
    let stroke = |paler: f64| {
        let tone = colour::mix(b.product.style.ink, b.product.style.paper, paler);
        Stroke::new((1.5 * b.frame.scale).max(0.9), tone).round()
    };
    if of < 2 {
        return;
    }
    for (to, from_right, way) in [(page.checked_sub(1), 1, -1.0), (Some(page + 1).filter(|n| *n < of), 0, 1.0)] {
        let rect = Rect::new(area.right() - wide * f64::from(from_right + 1), area.y, wide, high * 0.8);
        let (x, y) = (rect.centre().x + way * size / 2.0, area.y + high * 0.3);
        let arrow = [(-way * size, -size), (0.0, 0.0), (-way * size, size)].map(|(dx, dy)| Point::new(x + dx, y + dy));
        d.stroke(Path::polyline(&arrow, false), stroke(if to.is_some() { 0.2 } else { 0.78 }));
        let Some(to) = to else { continue };
        let says = format!("{} {} {} / {of}", b.chrome.words.go_to, b.chrome.words.templates, to + 1);
        links.push(Link { rect, target: Target::Place(place(to)), says: says.into() });
    }
}

/// How wide an arrow's room is.
fn turner_width(b: &Builder) -> f64 {
    (heading::height(b.frame) * 1.2).max(30.0)
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
    let size = caption(b.frame);
    let setting = Setting { colour: style.ink, ..b.pen.label(size, 0.0) };
    let icon = template.icon.as_deref().and_then(motifs::icon);
    let mark = icon.map(|icon| Mark::before(b, &setting, icon, 1.7));
    let taken = mark.map_or(0.0, |mark| mark.taken);
    let room = cell.w - taken;
    let (x, mut y) = (picture.centre().x + taken / 2.0, picture.bottom() + size * 1.55);
    let one = setting.fitted(b.fonts, [template.name.as_str()], room, size * 0.9);
    let mut lines = vec![template.name.clone()];
    let mut name = one;
    if one.width(b.fonts, &template.name) > room + 1e-6 {
        // Two lines before the name is cut.
        name = setting;
        lines = setting.wrap_to(b.fonts, &template.name, room, 2);
    }
    if let Some(mark) = mark {
        let widest = lines.iter().map(|line| name.width(b.fonts, line)).fold(0.0, f64::max).min(room);
        mark.draw(b, d, Point::new(x - widest / 2.0 - taken, y), name.cap(b.fonts), style.paper);
    }
    for line in &lines {
        name.draw_kept(d, b.fonts, line, Line { room, x, y, align: Align::Centre });
        y += size * 1.2;
    }
    let says = format!("{} {}", b.chrome.words.go_to, template.name);
    Link { rect: cell, target: Target::Place(Place::Template(template.slug.as_str().into())), says: says.into() }
}

/// Size of the names below the small pictures, in points: 7 at least.
fn caption(frame: &Frame) -> f64 {
    (7.6 * frame.scale).max(7.0)
}

/// Rows of small pictures on a page at most.
const MOST_ROWS: usize = 9;

impl Grid {
    fn new(b: &Builder, head: f64) -> Grid {
        let frame = b.frame;
        let sheet = frame.sheet();
        let aspect = sheet.w / sheet.h;
        let gap = (Mm(5.0).pt() * frame.scale).max(8.0);
        // Names may take two lines.
        let name = caption(frame) * 3.3;
        let rooms: Vec<Rect> = frame.areas.iter().map(|a| a.inset_each(0.0, head, 0.0, 0.0)).collect();
        let room = rooms[0];
        let between = gap * 0.6;
        // The height of a picture in a grid of so many columns and rows.
        let high = |columns: usize, rows: usize| {
            let w = (room.w - gap * (columns - 1) as f64) / columns as f64;
            (w / aspect).min((room.h - between * (rows - 1) as f64) / rows as f64 - name)
        };
        // A picture of usual size is about a quarter of the page's shorter side in area, and a name has at least 22 mm.
        let wish = frame.page.w.min(frame.page.h) * 0.24 / aspect.sqrt();
        let most = (((room.w + gap) / (Mm(22.0).pt() + gap)) as usize).max(1);
        let count = b.notebook.offered().count().max(1);
        let step = |h: f64, rows: usize| {
            // What is left of the height parts the rows, up to half as much again.
            let spare = if rows > 1 { (room.h - rows as f64 * (h + name)) / (rows - 1) as f64 } else { gap };
            h + name + units::between(spare, 0.0, gap * 1.5)
        };
        // Few pages that are filled, with pictures that are no smaller than usual: what is lacking of each.
        let cost = |columns: usize, rows: usize| {
            let h = high(columns, rows);
            let pages = count.div_ceil(columns * rows * rooms.len());
            let each = count.div_ceil(pages);
            let used = |entries: usize| entries.div_ceil(columns * rooms.len());
            // What of the height and of the width is filled.
            let deep = |entries: usize| (h + name + (used(entries) as f64 - 1.0) * step(h, rows)) / room.h;
            let wide = (h * aspect * columns as f64 + gap * (columns as f64 - 1.0)) / room.w;
            let void = |entries: usize| 1.0 - deep(entries).min(1.0) * wide.min(1.0);
            let last = count - each * (pages - 1);
            let holes = (used(last) * columns * rooms.len() - last) as f64 / (columns * rooms.len()) as f64;
            let void = ((pages - 1) as f64 * void(each) + void(last)) / pages as f64;
            let size = h / wish;
            let small = if size < 1.0 { (1.0 - size) * 1.2 } else { (1.0 - size.min(2.0)) * 0.15 };
            (pages - 1) as f64 * 0.65 + void * 1.3 + holes + small
        };
        let seen = |columns: usize, rows: usize| {
            let (h, w) = (high(columns, rows), high(columns, rows) * aspect);
            h.min(w) >= Mm(15.0).pt() && h.max(w) >= Mm(23.0).pt()
        };
        let all = (1..=most).flat_map(|columns| (1..=MOST_ROWS).map(move |rows| (columns, rows)));
        let of = all.filter(|(columns, rows)| seen(*columns, *rows));
        let least = of.min_by(|p, q| cost(p.0, p.1).total_cmp(&cost(q.0, q.1)));
        let (columns, rows) = least.unwrap_or((1, 1));
        let (w, h) = ((room.w - gap * (columns - 1) as f64) / columns as f64, high(columns, rows));
        let drawn = h * aspect;
        let cell = Size::new(w, h + name);
        let step = Size::new(w + gap, step(h, rows));
        Grid {
            rooms,
            columns,
            rows,
            cell,
            step,
            picture: Rect::new((w - drawn) / 2.0, 0.0, drawn, h),
            scale: h / sheet.h,
        }
    }

    /// How many pictures a page holds.
    fn count(&self) -> usize {
        self.rooms.len() * self.columns * self.rows
    }

    /// The cells of a page with so many pictures: shared out evenly over its papers, in whole rows.
    fn cells(&self, count: usize) -> Vec<Rect> {
        let rows = count.div_ceil(self.rooms.len() * self.columns).min(self.rows);
        let cell = |room: &Rect, i: usize| {
            let (c, r) = (i % self.columns, i / self.columns);
            Rect::new(room.x + c as f64 * self.step.w, room.y + r as f64 * self.step.h, self.cell.w, self.cell.h)
        };
        let each = rows * self.columns;
        self.rooms.iter().flat_map(|room| (0..each).map(move |i| cell(room, i))).collect()
    }
}
