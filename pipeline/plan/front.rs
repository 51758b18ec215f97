//! Welcome page, index and dividers.

use super::builder::Builder;
use super::dated::Calendar;
use super::frame::Frame;
use super::guide;
use base::colour;
use base::model::drawing::{Path, Stroke};
use base::model::units::between;
use base::model::{Drawing, Fault, Link, Mm, Place, Rect, Role, Target};
use draw::text::{Align, Line, Setting};

/// Height of a page's head with its title, in points.
pub fn head_height(frame: &Frame) -> f64 {
    (Mm(13.0).pt() * frame.scale).max(22.0)
}

/// Draws a page's title at the head of the first paper.
pub fn head(b: &Builder, d: &mut Drawing, title: &str) {
    let area = b.frame.areas[0];
    let size = (21.0 * b.frame.scale).max(13.0);
    let setting = Setting::new(Role::Heading, size, b.product.style.ink).fitted(b.fonts, [title], area.w, 9.0);
    setting.draw_kept(
        d,
        b.fonts,
        title,
        Line { room: area.w, x: area.x, y: area.y + setting.cap(b.fonts), align: Align::Left },
    );
}

/// The welcome page, more than one where the text is long: drawing and links of each.
pub fn welcome(b: &Builder) -> Result<Vec<(Drawing, Vec<Link>)>, Vec<Fault>> {
    guide::welcome(b.product, b.notebook, b.fonts, &b.frame.areas, b.frame.scale)
}

/// The index: one numbered box a section, with room to write its name.
pub fn index(b: &Builder, calendar: Option<&Calendar>) -> (Drawing, Vec<Link>) {
    let (mut d, mut links) = (Drawing::new(), Vec::new());
    head(b, &mut d, b.chrome.words.index);
    let mut rooms = index_rooms(b.frame);
    if let Some(calendar) = calendar {
        let (months, leading, left) = super::dated::index(b, calendar, rooms);
        d.extend(months);
        links.extend(leading);
        rooms = left;
    }
    let cells = index_cells(b.frame, &rooms, b.notebook.sections.len());
    let style = &b.product.style;
    let least = cells.first().map_or(10.0, |c| c.h);
    let radius = b.frame.corner.min(least * 0.25);
    let name_size = between(least * 0.34, 6.0, 12.5 * b.frame.scale.max(0.7));
    let label = Setting::new(Role::Label, name_size, style.ink);
    let names = b.notebook.sections.iter().map(|s| s.name.as_str());
    let label = cells.first().map_or(label, |c| label.fitted(b.fonts, names, c.w - c.h * 1.6, 5.0));
    for (i, (section, cell)) in b.notebook.sections.iter().zip(&cells).enumerate() {
        let number = Rect::new(cell.x, cell.y, (cell.h * 1.12).min(cell.w * 0.3), cell.h);
        let rest = Rect::new(number.right(), cell.y, cell.w - number.w, cell.h);
        let tint = colour::mix(style.paper, section.colour, 0.14);
        let line = colour::mix(style.paper, section.colour, 0.75);
        d.fill_stroke(Path::rounded(*cell, radius), tint, Stroke::new(0.6, line));
        d.fill(Path::rounded_each(number, [radius, 0.0, 0.0, radius]), section.colour);
        let on = colour::label_on(section.colour, style.ink, style.paper);
        let figure = Setting::new(Role::Heading, (cell.h * 0.56).min(number.w * 0.6), on);
        figure.draw_in(&mut d, b.fonts, &(i + 1).to_string(), number, Align::Centre);
        let inner = rest.inset_each(cell.h * 0.28, 0.0, cell.h * 0.28, 0.0);
        let base = cell.y + cell.h * 0.70;
        d.line(inner.x, base, inner.right(), base, Stroke::new(0.5, colour::mix(line, style.ink, 0.15)));
        label.draw_kept(
            &mut d,
            b.fonts,
            &section.name,
            Line { room: inner.w, x: inner.x, y: base - name_size * 0.34, align: Align::Left },
        );
        let says = format!("{} {}", b.chrome.words.go_to, b.chrome.section_title(i, &section.name));
        for rect in [number, rest] {
            links.push(Link { rect, target: Target::Place(Place::Section(i + 1)), says: says.clone() });
        }
    }
    (d, links)
}

/// What is left of each paper below the head.
fn index_rooms(frame: &Frame) -> Vec<Rect> {
    let head = head_height(frame);
    frame.areas.iter().map(|a| a.inset_each(0.0, head, 0.0, 0.0)).collect()
}

/// Boxes of the index: in one column or two a paper, filled column by column, of one size on all papers.
fn index_cells(frame: &Frame, rooms: &[Rect], n: usize) -> Vec<Rect> {
    let room = rooms[0];
    let gap = (Mm(3.4).pt() * frame.scale).max(5.0);
    let wide = room.w > Mm(150.0).pt() || (room.w > Mm(85.0).pt() && n > 10 * rooms.len());
    let columns = if wide && n > 2 { 2 } else { 1 };
    // Few sections stay on one paper; more are shared out evenly.
    let papers = if n <= 6 { 1 } else { rooms.len() };
    let rows = n.div_ceil(columns * papers).max(1);
    let most = (Mm(17.0).pt() * frame.scale).max(26.0);
    let height = ((room.h - gap * (rows - 1) as f64) / rows as f64).min(most);
    let gap = if rows > 1 { between((room.h - height * rows as f64) / (rows - 1) as f64, 2.0, gap) } else { gap };
    rooms
        .iter()
        .take(papers)
        .flat_map(|room| room.columns(columns, gap * 1.4))
        .flat_map(|column| {
            (0..rows).map(move |r| Rect::new(column.x, column.y + r as f64 * (height + gap), column.w, height))
        })
        .take(n)
        .collect()
}

/// A divider: the section's number, large in its colour; its name; a line to write on.
///
/// It lists the pages behind it, a line each, which leads there: on the second paper of a spread, else on a panel below the
/// name, or beside it where the paper is wide. A section without pages has no panel.
pub fn divider(b: &Builder, index: usize) -> (Drawing, Vec<Link>) {
    let (frame, style) = (b.frame, &b.product.style);
    let section = &b.notebook.sections[index];
    let mut d = Drawing::new();
    let paper = frame.papers[0];
    let tint = colour::mix(style.paper, section.colour, 0.2);
    // The colour fills the first paper but for an even rim, so that no edge has to meet another to a hair.
    let rim = (Mm(3.2).pt() * frame.scale).max(4.0);
    let clear = if b.product.page.coil == base::model::product::Coil::None {
        rim
    } else {
        (frame.areas[0].y - paper.y).max(rim)
    };
    let field = match b.product.page.coil {
        base::model::product::Coil::Top => paper.inset_each(rim, clear, rim, rim + frame.feet[0].h),
        base::model::product::Coil::Middle => {
            let right = (paper.right() - frame.areas[0].right()).max(rim);
            paper.inset_each(rim, rim, right * 0.8, rim + frame.feet[0].h)
        }
        base::model::product::Coil::None => paper.inset_each(rim, rim, rim, rim + frame.feet[0].h),
    };
    d.fill(Path::rounded(field, (frame.corner - rim * 0.4).max(frame.corner * 0.5)), tint);
    let panel = panel(b, field, index);
    // What is left of the field for number and name.
    let zone = panel.map_or(field, |panel| match field.size().is_landscape() {
        true => Rect { w: panel.x - field.x, ..field },
        false => Rect { h: panel.y - field.y, ..field },
    });
    // The optical centre lies about three eighths from the top (common practice, no source).
    let centre = zone.y + zone.h * 0.4;
    let high = if panel.is_some() && !field.size().is_landscape() { 0.46 } else { 0.34 };
    let figure = Setting::new(Role::Heading, (zone.h * high).min(zone.w * 0.5), section.colour);
    let ink = colour::deepened(section.colour, tint, style.ink, 3.4);
    let figure = Setting { colour: ink, ..figure };
    let cap = figure.cap(b.fonts);
    figure.draw(&mut d, b.fonts, &(index + 1).to_string(), zone.centre().x, centre + cap / 2.0, Align::Centre);
    let line_y = centre + cap / 2.0 + (Mm(19.0).pt() * frame.scale).max(cap * 0.42);
    let half = (zone.w * 0.34).min(Mm(60.0).pt());
    let rule = Stroke::new(0.7, colour::mix(section.colour, style.ink, 0.25));
    d.line(zone.centre().x - half, line_y, zone.centre().x + half, line_y, rule);
    let size = (17.0 * frame.scale).max(10.0);
    let name = Setting::new(Role::Heading, size, style.ink).fitted(b.fonts, [section.name.as_str()], half * 2.0, 7.0);
    let (x, y) = (zone.centre().x, line_y - size * 0.45);
    name.draw_kept(&mut d, b.fonts, &section.name, Line { room: half * 2.0, x, y, align: Align::Centre });
    let links = match (frame.areas.get(1), panel) {
        (Some(area), _) => contents(b, &mut d, *area, index),
        (None, Some(panel)) => {
            d.fill(Path::rounded(panel, frame.corner.min(panel.h * 0.1)), style.paper);
            contents(b, &mut d, rows_in(b, panel), index)
        }
        (None, None) => Vec::new(),
    };
    (d, links)
}

/// Where a single paper lists the pages behind its divider.
fn panel(b: &Builder, field: Rect, index: usize) -> Option<Rect> {
    if b.frame.areas.len() > 1 || b.notebook.sections[index].pages.is_empty() {
        return None;
    }
    let area = b.frame.areas[0];
    let (right, bottom) = (area.right().min(field.right()), area.bottom().min(field.bottom()));
    let rim = (Mm(4.0).pt() * b.frame.scale).max(5.0);
    let (x, y) = match field.size().is_landscape() {
        true => (field.x + field.w * 0.46, area.y.max(field.y) + rim),
        false => (area.x.max(field.x) + rim, field.y + field.h * 0.4),
    };
    let whole = Rect::new(x, y, right - rim - x, bottom - rim - y);
    // Just as high as its lines.
    let least = whole.h - rows_in(b, whole).h;
    let lines = (rows_in(b, whole).h / Mm(STEP).pt()).floor().max(1.0);
    Some(Rect { h: lines * Mm(STEP).pt() + least, ..whole })
}

/// The room for lines on a panel.
fn rows_in(b: &Builder, panel: Rect) -> Rect {
    let pad = (Mm(4.0).pt() * b.frame.scale).max(5.0);
    panel.inset_each(pad, pad * 0.4, pad, pad * 0.9)
}

/// From line to line of a divider's list, in mm: high enough for a finger.
const STEP: f64 = 10.0;

/// The second paper of a divider: numbered lines for what the section holds. The pages that are there from the
/// start are named, and their lines lead to them.
fn contents(b: &Builder, d: &mut Drawing, area: Rect, index: usize) -> Vec<Link> {
    let colour = b.notebook.sections[index].colour;
    let step = Mm(STEP).pt();
    // A hair more, since a panel is cut to just so many lines.
    let rows = ((area.h + 0.01) / step).floor() as usize;
    let number = Setting::new(
        Role::Label,
        6.5 * b.frame.scale.max(0.75),
        colour::at_contrast(b.product.style.paper, b.product.style.ink, 4.8),
    );
    let bar = Stroke::new(0.5, b.pen.rule);
    let count = b.notebook.sections[index].pages.iter().map(|(_, n)| n).sum::<usize>();
    // As many columns as all pages need, and as leave room for their names.
    let most = (area.w / Mm(42.0).pt()).floor().max(1.0) as usize;
    let columns = area.columns(count.div_ceil(rows.max(1)).min(most).max(1), step * 0.6);
    let lines: Vec<Rect> =
        columns.iter().flat_map(|c| (0..rows).map(move |r| Rect::new(c.x, c.y + r as f64 * step, c.w, step))).collect();
    for (i, line) in lines.iter().enumerate() {
        d.line(line.x, line.bottom(), line.right(), line.bottom(), bar);
        number.draw(d, b.fonts, &(i + 1).to_string(), line.x + step * 0.55, line.bottom() - step * 0.26, Align::Right);
    }
    let names = b.notebook.sections[index].pages.iter().flat_map(|(t, n)| std::iter::repeat_n(*t, *n));
    let title = Setting::new(Role::Label, (8.6 * b.frame.scale).max(6.0), b.product.style.ink);
    let mut links = Vec::new();
    for ((i, template), line) in names.enumerate().zip(&lines) {
        let name = &b.notebook.templates[template].name;
        let (x, y) = (line.x + step * 1.1, line.bottom() - step * 0.26);
        title.draw_kept(d, b.fonts, name, Line { room: line.w - step * 1.2, x, y, align: Align::Left });
        let says = format!("{} {} {}: {name}", b.chrome.words.go_to, b.chrome.words.page, i + 1);
        links.push(Link { rect: *line, target: Target::Place(Place::Leaf(index + 1, i + 1)), says });
    }
    for column in columns {
        let x = column.x + step * 0.85;
        d.line(x, column.y + step * 0.25, x, column.y + rows as f64 * step, Stroke::new(0.7, colour));
    }
    links
}
