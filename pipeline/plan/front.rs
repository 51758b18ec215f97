//! Welcome page, index and dividers.

use super::builder::Builder;
use super::contents;
use super::dated::Calendar;
use super::divider;
use super::entries;
use super::frame::Frame;
use super::guide;
use super::heading::{self, Title};
use super::labels;
use super::plate;
use base::colour;
use base::model::drawing::{Path, Stroke};
use base::model::units::between;
use base::model::{Drawing, Fault, Link, Mm, Place, Rect, Role, Target};
use draw::motifs;
use draw::text::{Align, Line, Setting};

/// Draws a page's title at the head of the first paper.
pub fn head(b: &Builder, d: &mut Drawing, title: &str) {
    head_within(b, d, title, 0.0);
}

/// The same where something else takes so much of the width, in points.
pub fn head_within(b: &Builder, d: &mut Drawing, title: &str, taken: f64) {
    let area = b.frame.areas[0];
    let area = Rect { w: area.w - taken, ..area };
    heading::draw(b, d, Title { text: title, icon: None }, area, heading::height(b.frame));
}

/// The welcome page, more than one where the text is long: drawing and links of each.
pub fn welcome(b: &Builder) -> Result<Vec<(Drawing, Vec<Link>)>, Vec<Fault>> {
    let mut pages = guide::welcome(b.product, b.notebook, b.fonts, &b.frame.areas, b.frame.scale)?;
    // What the text leaves empty says whose the notebook is: the second paper, or the rest of a single one.
    if let Some((last, links)) = pages.last_mut() {
        let untouched = |paper: Rect| !plate::reaches(last, paper) && !links.iter().any(|l| l.rect.x >= paper.x);
        let rest = match b.frame.areas.get(1) {
            Some(second) => Some(*second).filter(|second| untouched(*second)),
            None => plate::left_over(b, last, links),
        };
        if let Some(rest) = rest {
            plate::belongs_to(b, last, rest);
        }
    }
    Ok(pages)
}

/// The index: one numbered box a section, with room to write its name.
pub fn index(b: &Builder, calendar: Option<&Calendar>) -> (Drawing, Vec<Link>) {
    let (mut d, mut links) = (Drawing::new(), Vec::new());
    head(b, &mut d, &b.chrome.words.index);
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
    let floor = labels::least_name(b.frame.scale);
    let label = Setting::new(Role::Label, name_size.max(floor), style.ink);
    let label = cells.first().map_or(label, |c| {
        common(b, label, Rect::new(0.0, 0.0, line_of(*c).w, c.h * entries::free(style.manner.index)), floor)
    });
    for (i, (section, cell)) in b.notebook.sections.iter().zip(&cells).enumerate() {
        let (number, rest) = number_and_rest(*cell);
        let line = colour::mix(style.paper, entries::chip(section.colour, style), 0.75);
        entries::draw(
            b,
            &mut d,
            entries::Entry {
                number: i + 1,
                icon: section.icon.as_deref().and_then(motifs::icon),
                colour: section.colour,
                cell: *cell,
                numeral: number,
                radius,
            },
        );
        let inner = line_of(*cell);
        let base = cell.y + cell.h * 0.74;
        d.line(inner.x, base, inner.right(), base, Stroke::new(0.5, colour::mix(line, style.ink, 0.15)));
        let lines = name_lines(b, label, &section.name, inner.w);
        for (k, line) in lines.iter().enumerate() {
            let y = base - label.size * (0.34 + 1.12 * (lines.len() - 1 - k) as f64);
            label.draw_kept(&mut d, b.fonts, line, Line { room: inner.w, x: inner.x, y, align: Align::Left });
        }
        let says = format!("{} {}", b.chrome.words.go_to, b.chrome.section_title(i, &section.name));
        for rect in [number, rest] {
            links.push(Link { rect, target: Target::Place(Place::Section(i + 1)), says: says.as_str().into() });
        }
    }
    let boxes_within = within.len();
    for (i, w, cell) in within {
        links.push(index_within(b, &mut d, (i, w), cell, label));
    }
    // What no box takes is for what the buyer wants to find again.
    if calendar.is_none() && count + boxes_within <= FEW {
        let rest = b.frame.areas.get(1).copied().or_else(|| plate::left_over(b, &d, &links));
        if let Some(rest) = rest {
            plate::found_again(b, &mut d, rest);
        }
    }
    (d, links)
}

/// A line of the index for a section within a section, set in below it.
fn index_within(b: &Builder, d: &mut Drawing, (section, within): (usize, usize), cell: Rect, label: Setting) -> Link {
    let style = &b.product.style;
    let colour_of = b.notebook.sections[section].within[within].colour;
    let cell = cell.inset_each((cell.h * 1.12).min(cell.w * 0.3), 0.0, 0.0, 0.0);
    let tint = colour::mix(style.paper, colour_of, 0.07);
    let line = colour::mix(style.paper, entries::chip(colour_of, style), 0.5);
    d.fill_stroke(Path::rounded(cell, b.frame.corner.min(cell.h * 0.25)), tint, Stroke::new(0.5, line));
    let number = b.chrome.words.figures(&format!("{}.{}", section + 1, within + 1));
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
    Link { rect: cell, target: Target::Place(Place::Within(section + 1, within + 1)), says: says.into() }
}

/// A box of the index: its number, and what is left for the name.
fn number_and_rest(cell: Rect) -> (Rect, Rect) {
    let number = Rect { w: (cell.h * 1.12).min(cell.w * 0.26), ..cell };
    (number, Rect::new(number.right(), cell.y, cell.w - number.w, cell.h))
}

/// The line of a box that the name stands on.
fn line_of(cell: Rect) -> Rect {
    let (_, rest) = number_and_rest(cell);
    let pad = (cell.h * 0.24).min(rest.w * 0.06);
    rest.inset_each(pad, 0.0, pad, 0.0)
}

/// The size that the names on the index share: the largest at which each fits in one line or two. A name that fits at no size
/// is cut at the size that suits the others.
fn common(b: &Builder, label: Setting, room: Rect, floor: f64) -> Setting {
    let at = |size: f64| label.sized(size);
    let sizes: Vec<f64> = (0..=20).map(|i| label.size + (floor - label.size).min(0.0) * f64::from(i) / 20.0).collect();
    let fits = |size: f64, name: &str| {
        let lines = name_lines(b, at(size), name, room.w);
        let high = size * (0.34 + 1.12 * lines.len() as f64);
        high <= room.h * 0.74 && lines.iter().all(|line| at(size).width(b.fonts, line) <= room.w)
    };
    let names: Vec<&str> = b.notebook.sections.iter().map(|s| s.name.as_str()).collect();
    let possible: Vec<&str> = names.iter().copied().filter(|name| fits(floor, name)).collect();
    let size = sizes.into_iter().find(|size| possible.iter().all(|name| fits(*size, name)));
    at(size.unwrap_or(floor))
}

/// A name in one line, or in two where that keeps it whole.
fn name_lines(b: &Builder, label: Setting, name: &str, room: f64) -> Vec<String> {
    if label.width(b.fonts, name) <= room + 1e-6 {
        return vec![name.to_owned()];
    }
    let wrapped = label.wrap_to(b.fonts, name, room, 2);
    if wrapped.len() == 2 && label.size * 2.5 <= room { wrapped } else { vec![name.to_owned()] }
}

/// The way to the templates at the end of the index's head, where no mark at the foot leads there.
fn to_templates(b: &Builder, d: &mut Drawing) -> Option<Link> {
    let (place, _) = b.chrome.templates().filter(|_| !b.notebook.parts.marks)?;
    let (area, high) = (b.frame.areas.last()?, heading::height(b.frame));
    let words = b.chrome.words;
    let setting = Setting::new(Role::LabelBold, (9.4 * b.frame.scale).max(7.0), b.product.style.ink);
    let wide = setting.width(b.fonts, &words.templates);
    let rect =
        Rect::new(area.right() - (wide + high * 0.4).max(high), area.y, (wide + high * 0.4).max(high), high * 0.8);
    let base = area.y + setting.cap(b.fonts) + high * 0.1;
    setting.draw(d, b.fonts, &words.templates, area.right(), base, Align::Right);
    let rule = Stroke::new(0.7, colour::mix(b.product.style.ink, b.product.style.paper, 0.4));
    d.line(area.right() - wide, base + high * 0.12, area.right(), base + high * 0.12, rule);
    let says = format!("{} {}", words.go_to, words.templates);
    Some(Link { rect, target: Target::Place(place), says: says.into() })
}

/// What is left of each paper below the head.
fn index_rooms(frame: &Frame) -> Vec<Rect> {
    let head = heading::height(frame);
    frame.areas.iter().map(|a| a.inset_each(0.0, head, 0.0, 0.0)).collect()
}

/// Boxes of the index: in one column or two a paper, filled column by column, of one size on all papers. They take the height
/// that is free, up to 22 mm each.
fn index_cells(frame: &Frame, rooms: &[Rect], n: usize) -> Vec<Rect> {
    let room = rooms[0];
    let gap = (Mm(3.4).pt() * frame.scale).max(5.0);
    // Few sections stay on one paper; more are shared out evenly.
    let papers = if n <= FEW { 1 } else { rooms.len() };
    let most = Mm(22.0).pt() * between(frame.scale, 0.7, 1.0);
    let fitting = |columns: usize| {
        let rows = n.div_ceil(columns * papers).max(1);
        (rows, ((room.h - gap * (rows - 1) as f64) / rows as f64).min(most))
    };
    // A second column where the first would be too crowded, and a line of 45 mm remains in each.
    let room_for_two = room.w > Mm(150.0).pt() || room.w / 2.0 > Mm(if n > 14 * papers { 38.0 } else { 60.0 }).pt();
    let columns = if n > 2 && fitting(1).1 < Mm(13.0).pt() && room_for_two { 2 } else { 1 };
    let (rows, height) = fitting(columns);
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

/// So many sections stay on one paper of the index; the other one is then for what the buyer wants to find again.
const FEW: usize = 7;

/// A divider: the section's number, large in its colour; its name; a line to write on.
///
/// It lists the pages behind it, a line each, which leads there: on the second paper of a spread, else on a panel below the
/// name, or beside it where the paper is wide. A section without pages has no panel. That of a section within a section bears
/// both numbers, and the name of the section that it belongs to below its own.
pub fn divider(b: &Builder, index: usize, within: Option<usize>) -> (Drawing, Vec<Link>) {
    let (frame, style) = (b.frame, &b.product.style);
    let listed = contents::listed(b, index, within);
    let mut d = Drawing::new();
    let field = frame.areas[0];
    let panel = panel(b, field, listed.len());
    // What is left of the field for number and name.
    let zone = panel.map_or(field, |panel| match field.size().is_landscape() {
        // Clear of the list beside it.
        true => Rect { w: panel.x - Mm(4.0).pt() * frame.scale - field.x, ..field },
        false => Rect { h: panel.y - field.y, ..field },
    });
    let colour_of = divider::face(b, &mut d, (index, within), zone, panel.is_some());
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
