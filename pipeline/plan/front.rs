//! Welcome page, index and dividers.

use super::builder::Builder;
use super::contents;
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
    links.extend(to_templates(b, &mut d));
    let mut rooms = index_rooms(b.frame);
    if let Some(calendar) = calendar {
        let (months, leading, left) = super::dated::index(b, calendar, rooms);
        d.extend(months);
        links.extend(leading);
        rooms = left;
    }
    let count = b.notebook.sections.len();
    // Sections within are listed below theirs where all find room for a finger.
    let inner: usize = b.notebook.sections.iter().map(|s| s.within.len()).sum();
    let mut cells = index_cells(b.frame, &rooms, count + inner).into_iter();
    let listed = inner > 0 && cells.clone().all(|c| c.h >= Mm(8.6).pt());
    if !listed {
        cells = index_cells(b.frame, &rooms, count).into_iter();
    }
    let mut all: Vec<Rect> = Vec::new();
    let mut within: Vec<(usize, usize, Rect)> = Vec::new();
    for (i, section) in b.notebook.sections.iter().enumerate() {
        all.extend(cells.next());
        let inner = if listed { section.within.len() } else { 0 };
        within.extend((0..inner).zip(cells.by_ref().take(inner)).map(|(w, cell)| (i, w, cell)));
    }
    let cells = all;
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
    for (i, w, cell) in within {
        links.push(index_within(b, &mut d, (i, w), cell, label));
    }
    (d, links)
}

/// A line of the index for a section within a section, set in below it.
fn index_within(b: &Builder, d: &mut Drawing, (section, within): (usize, usize), cell: Rect, label: Setting) -> Link {
    let style = &b.product.style;
    let colour_of = b.notebook.sections[section].within[within].colour;
    let cell = cell.inset_each((cell.h * 1.12).min(cell.w * 0.3), 0.0, 0.0, 0.0);
    let (tint, line) = (colour::mix(style.paper, colour_of, 0.07), colour::mix(style.paper, colour_of, 0.5));
    d.fill_stroke(Path::rounded(cell, b.frame.corner.min(cell.h * 0.25)), tint, Stroke::new(0.5, line));
    let number = format!("{}.{}", section + 1, within + 1);
    let small = Setting::new(Role::LabelBold, label.size, colour::deepened(colour_of, tint, style.ink, 4.6));
    let base = cell.y + cell.h * 0.5 + label.cap(b.fonts) / 2.0;
    small.draw(d, b.fonts, &number, cell.x + cell.h * 0.28, base, Align::Left);
    let x = cell.x + cell.h * 0.28 + small.width(b.fonts, "24.12") + label.size * 0.7;
    let room = cell.right() - cell.h * 0.28 - x;
    let name = &b.notebook.sections[section].within[within].name;
    label.draw_kept(d, b.fonts, name, Line { room, x, y: base, align: Align::Left });
    let says = format!(
        "{} {}, {}",
        b.chrome.words.go_to,
        b.chrome.section_title(section, &b.notebook.sections[section].name),
        b.chrome.title_within(section, within)
    );
    Link { rect: cell, target: Target::Place(Place::Within(section + 1, within + 1)), says }
}

/// The way to the templates at the end of the index's head, where no mark at the foot leads there.
fn to_templates(b: &Builder, d: &mut Drawing) -> Option<Link> {
    let (place, _) = b.chrome.templates().filter(|_| !b.notebook.parts.marks)?;
    let (area, high) = (b.frame.areas.last()?, head_height(b.frame));
    let words = b.chrome.words;
    let setting = Setting::new(Role::LabelBold, (9.4 * b.frame.scale).max(7.0), b.product.style.ink);
    let wide = setting.width(b.fonts, words.templates);
    let rect =
        Rect::new(area.right() - (wide + high * 0.4).max(high), area.y, (wide + high * 0.4).max(high), high * 0.8);
    let base = area.y + setting.cap(b.fonts) + high * 0.1;
    setting.draw(d, b.fonts, words.templates, area.right(), base, Align::Right);
    let rule = Stroke::new(0.7, colour::mix(b.product.style.ink, b.product.style.paper, 0.4));
    d.line(area.right() - wide, base + high * 0.12, area.right(), base + high * 0.12, rule);
    let says = format!("{} {}", words.go_to, words.templates);
    Some(Link { rect, target: Target::Place(place), says })
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
/// name, or beside it where the paper is wide. A section without pages has no panel. That of a section within a section bears
/// both numbers, and the name of the section that it belongs to below its own.
pub fn divider(b: &Builder, index: usize, within: Option<usize>) -> (Drawing, Vec<Link>) {
    let (frame, style) = (b.frame, &b.product.style);
    let section = &b.notebook.sections[index];
    let (colour_of, number, title) = match within {
        None => (section.colour, (index + 1).to_string(), section.name.as_str()),
        Some(w) => (section.within[w].colour, format!("{}.{}", index + 1, w + 1), section.within[w].name.as_str()),
    };
    let listed = contents::listed(b, index, within);
    let mut d = Drawing::new();
    let paper = frame.papers[0];
    let tint = colour::mix(style.paper, colour_of, if within.is_none() { 0.2 } else { 0.12 });
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
    let panel = panel(b, field, listed.len());
    // What is left of the field for number and name.
    let zone = panel.map_or(field, |panel| match field.size().is_landscape() {
        true => Rect { w: panel.x - field.x, ..field },
        false => Rect { h: panel.y - field.y, ..field },
    });
    // The optical centre lies about three eighths from the top (common practice, no source).
    let centre = zone.y + zone.h * 0.4;
    let high = if panel.is_some() && !field.size().is_landscape() { 0.46 } else { 0.34 };
    let mut figure = Setting::new(Role::Heading, (zone.h * high).min(zone.w * 0.5), colour_of);
    if within.is_some() {
        figure = figure.sized(figure.size * 0.6).fitted(b.fonts, [number.as_str()], zone.w * 0.8, 9.0);
    }
    let ink = colour::deepened(colour_of, tint, style.ink, 3.4);
    let figure = Setting { colour: ink, ..figure };
    let cap = figure.cap(b.fonts);
    figure.draw(&mut d, b.fonts, &number, zone.centre().x, centre + cap / 2.0, Align::Centre);
    let line_y = centre + cap / 2.0 + (Mm(19.0).pt() * frame.scale).max(cap * 0.42);
    let half = (zone.w * 0.34).min(Mm(60.0).pt());
    let rule = Stroke::new(0.7, colour::mix(colour_of, style.ink, 0.25));
    d.line(zone.centre().x - half, line_y, zone.centre().x + half, line_y, rule);
    let size = (17.0 * frame.scale).max(10.0);
    let name = Setting::new(Role::Heading, size, style.ink).fitted(b.fonts, [title], half * 2.0, 7.0);
    let (x, y) = (zone.centre().x, line_y - size * 0.45);
    name.draw_kept(&mut d, b.fonts, title, Line { room: half * 2.0, x, y, align: Align::Centre });
    if within.is_some() {
        let size = (8.6 * frame.scale).max(6.0);
        let whose = Setting::new(Role::Label, size, style.ink);
        let line = Line { room: half * 2.0, x, y: line_y + size * 1.6, align: Align::Centre };
        whose.draw_kept(&mut d, b.fonts, &b.chrome.section_title(index, &section.name), line);
    }
    let links = match (frame.areas.get(1), panel) {
        (Some(area), _) => contents::draw(b, &mut d, *area, colour_of, &listed),
        (None, Some(panel)) => {
            d.fill(Path::rounded(panel, frame.corner.min(panel.h * 0.1)), style.paper);
            contents::draw(b, &mut d, rows_in(b, panel), colour_of, &listed)
        }
        (None, None) => Vec::new(),
    };
    (d, links)
}

/// Where a single paper lists the pages behind its divider.
fn panel(b: &Builder, field: Rect, count: usize) -> Option<Rect> {
    if b.frame.areas.len() > 1 || count == 0 {
        return None;
    }
    let area = b.frame.areas[0];
    let (right, bottom) = (area.right().min(field.right()), area.bottom().min(field.bottom()));
    let rim = (Mm(4.0).pt() * b.frame.scale).max(5.0);
    // Number and name give way to a list that is long.
    let whole = [(0.46, 0.4), (0.36, 0.26)].map(|(right_of, below)| {
        let (x, y) = match field.size().is_landscape() {
            true => (field.x + field.w * right_of, area.y.max(field.y) + rim),
            false => (area.x.max(field.x) + rim, field.y + field.h * below),
        };
        Rect::new(x, y, right - rim - x, bottom - rim - y)
    });
    let holds = |whole: &&Rect| contents::Lines::new(rows_in(b, **whole), count).count() >= count;
    let whole = *whole.iter().find(holds).unwrap_or(&whole[1]);
    // Just as high as its lines.
    let least = whole.h - rows_in(b, whole).h;
    let room = rows_in(b, whole);
    let step = contents::Lines::new(room, count).step;
    let lines = (room.h / step).floor().max(1.0);
    Some(Rect { h: lines * step + least, ..whole })
}

/// The room for lines on a panel.
fn rows_in(b: &Builder, panel: Rect) -> Rect {
    let pad = (Mm(4.0).pt() * b.frame.scale).max(5.0);
    panel.inset_each(pad, pad * 0.4, pad, pad * 0.9)
}
