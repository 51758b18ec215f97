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
use base::model::look::{Divider, Index};
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
    let text = guide::Welcome::of(b.product, b.notebook)?;
    let mut frames = b.frame.areas.clone();
    if text.title.is_some() {
        let head = heading::height(b.frame);
        frames[0] = frames[0].inset_each(0.0, head, 0.0, 0.0);
    }
    let set = |times: f64| -> Result<Vec<(Drawing, Vec<Link>)>, Vec<Fault>> {
        let mut pages = text.set(b.product, b.fonts, &frames, b.frame.scale * times)?;
        if let (Some(title), Some((page, _))) = (&text.title, pages.first_mut()) {
            head(b, page, title);
        }
        Ok(pages)
    };
    // The largest of several sizes with which the text stays on one page that is as it should be.
    let larger = |times: &mut dyn Iterator<Item = f64>, good: &dyn Fn(&Drawing, &[Link]) -> bool| {
        let fits = |pages: &Vec<(Drawing, Vec<Link>)>| matches!(pages.as_slice(), [(page, links)] if good(page, links));
        times.filter_map(|times| set(times).ok()).find(fits)
    };
    let mut pages = set(1.0)?;
    // Where the text leaves a second paper, or the rest of a wide one, it is so large that it fills its own.
    if let [(page, links)] = pages.as_slice()
        && beside(b, page, links).is_some()
    {
        let good = |page: &Drawing, links: &[Link]| beside(b, page, links).is_some();
        pages = larger(&mut LARGER.into_iter(), &good).unwrap_or(pages);
    }
    // A phone's page has the text as large as leaves a plate its room.
    if let ([_], true) = (pages.as_slice(), labels::is_phone(b.frame.scale)) {
        let good = |page: &Drawing, links: &[Link]| plate::room_for_name(b, page, links, false).is_some();
        let times = ON_PHONES.into_iter().map(|size| guide::scale_for(size) / b.frame.scale);
        pages = larger(&mut { times }, &good).unwrap_or(pages);
    }
    // What the text leaves empty says whose the notebook is: the second paper, or the rest of a single one.
    if let Some((last, links)) = pages.last_mut() {
        let second = beside(b, last, links);
        let below = plate::room_for_name(b, last, links, second.is_some() && b.frame.areas.len() == 1);
        match (second, below) {
            // Both sides are used alike.
            (Some(rest), Some(below)) => {
                let high = plate::height(below);
                plate::name(b, last, Rect { y: below.bottom() - high, h: high, ..below });
                plate::map(b, last, rest, true);
            }
            (Some(rest), None) => plate::belongs_to(b, last, rest),
            (None, below) if b.frame.areas.len() == 1 => {
                if let Some(rest) = plate::left_over(b, last, links).or(below) {
                    plate::belongs_to(b, last, rest);
                }
            }
            (None, _) => {}
        }
    }
    Ok(pages)
}

/// How much larger the welcome text may be than text elsewhere, the largest first.
const LARGER: [f64; 6] = [1.3, 1.25, 1.2, 1.15, 1.1, 1.05];

/// Sizes of the welcome text on a phone's page in points, larger than the least one.
const ON_PHONES: [f64; 3] = [8.4, 8.0, 7.5];

/// What the welcome text leaves beside it: the second paper, or the rest of a wide one where that is wide enough for a plate.
fn beside(b: &Builder, page: &Drawing, links: &[Link]) -> Option<Rect> {
    match b.frame.areas.as_slice() {
        [_, second, ..] => {
            let untouched = !plate::reaches(page, *second) && !links.iter().any(|l| l.rect.x >= second.x);
            untouched.then_some(*second)
        }
        [paper] if paper.size().is_landscape() => {
            plate::left_over(b, page, links).filter(|rest| rest.x > paper.x && rest.w >= paper.w * 0.38)
        }
        _ => None,
    }
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
    // What no box takes may be for what the buyer wants to find again.
    let manner = b.product.style.manner.index;
    let cells_for = |n: usize, manner: Index| index_cells(b.frame, &rooms, n, manner, calendar.is_none());
    // Sections within have boxes in every manner.
    let mut cells = cells_for(count + inner, if inner > 0 { Index::Boxes } else { manner }).into_iter();
    let listed = inner > 0 && cells.clone().all(|c| c.h >= Mm(8.6).pt());
    if !listed {
        cells = cells_for(count, manner).into_iter();
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
    let label = cells.first().map_or(label, |c| common(b, label, Rect::new(0.0, 0.0, line_of(*c).w, c.h), floor));
    let foot = rooms.first().map_or(f64::INFINITY, |room| room.bottom());
    for (i, (section, cell)) in b.notebook.sections.iter().zip(&cells).enumerate() {
        let (number, rest) = number_and_rest(*cell);
        let line = colour::mix(style.paper, entries::chip(section.colour, style), 0.75);
        let inner = line_of(*cell);
        let lines = name_lines(b, label, &section.name, inner.w);
        let of = |k: usize| label.size * (0.34 + 1.12 * (lines.len() - 1 - k) as f64);
        let base = entries::line(style.manner.index, *cell, lines.len(), of(0) + label.cap(b.fonts));
        entries::draw(
            b,
            &mut d,
            entries::Entry {
                number: i + 1,
                icon: section.icon.as_deref().and_then(motifs::icon),
                colour: section.colour,
                cell: *cell,
                numeral: number,
                baseline: (lines.len() < 2).then_some(base - of(0)),
                radius,
            },
        );
        d.line(inner.x, base, inner.right(), base, Stroke::new(0.5, colour::mix(line, style.ink, 0.15)));
        for (k, line) in lines.iter().enumerate() {
            let y = base - of(k);
            label.draw_kept(&mut d, b.fonts, line, Line { room: inner.w, x: inner.x, y, align: Align::Left });
        }
        let says = format!("{} {}", b.chrome.words.go_to, b.chrome.section_title(i, &section.name));
        for rect in [number, rest].map(|r| Rect { h: r.h.min(foot - r.y), ..r }) {
            links.push(Link { rect, target: Target::Place(Place::Section(i + 1)), says: says.as_str().into() });
        }
    }
    let boxes_within = within.len();
    for (i, w, cell) in within {
        links.push(index_within(b, &mut d, (i, w), cell, label));
    }
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
/// that is free, up to 22 mm each, and many of them all of it: up to 26 mm, with even gaps. Where few leave room below them on a
/// single paper it may be for what the buyer wants to find again.
fn index_cells(frame: &Frame, rooms: &[Rect], n: usize, manner: Index, found_again: bool) -> Vec<Rect> {
    let plain = cells_of(frame, rooms, n, None);
    let last = plain.iter().map(|cell| cell.bottom()).fold(0.0, f64::max);
    let kept = found_again && n <= FEW && rooms.len() == 1 && plate::is_left_below(frame, last);
    if n < MANY || kept { plain } else { cells_of(frame, rooms, n, Some(manner)) }
}

/// The same, spread out over all the height in a manner, or as they come.
fn cells_of(frame: &Frame, rooms: &[Rect], n: usize, spread: Option<Index>) -> Vec<Rect> {
    let room = rooms[0];
    let gap = (Mm(3.4).pt() * frame.scale).max(5.0);
    // Few sections stay on one paper; more are shared out evenly.
    let papers = if n <= FEW { 1 } else { rooms.len() };
    // Lines have more air, boxes are higher.
    let high = if matches!(spread, Some(Index::Boxes | Index::Cards)) { 26.0 } else { 22.0 };
    let most = Mm(high).pt() * between(frame.scale, 0.7, 1.0);
    // Nothing is drawn at the foot of a line: the last one ends with what is drawn.
    let over = if spread == Some(Index::Lines) { entries::FOOT_OF_LINES } else { 0.0 };
    let fitting = |columns: usize| {
        let rows = n.div_ceil(columns * papers).max(1);
        (rows, ((room.h - gap * (rows - 1) as f64) / (rows as f64 - over)).min(most))
    };
    // A second column where the first would be too crowded, and a line of 45 mm remains in each.
    let room_for_two = room.w > Mm(150.0).pt() || room.w / 2.0 > Mm(if n > 14 * papers { 38.0 } else { 60.0 }).pt();
    let columns = if n > 2 && fitting(1).1 < Mm(13.0).pt() && room_for_two { 2 } else { 1 };
    let (rows, height) = fitting(columns);
    let usual = gap;
    let free = (room.h - height * (rows as f64 - over)) / (rows - 1).max(1) as f64;
    let gap = match rows {
        1 => gap,
        _ if spread.is_some() => free.max(2.0),
        _ => between(free, 2.0, gap),
    };
    rooms
        .iter()
        .take(papers)
        .flat_map(|room| room.columns(columns, gap.min(usual) * 1.4))
        .flat_map(|column| {
            (0..rows).map(move |r| Rect::new(column.x, column.y + r as f64 * (height + gap), column.w, height))
        })
        .take(n)
        .collect()
}

/// So many sections take all the height that there is.
const MANY: usize = 6;

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
    let rail = divider::face(b, &mut d, (index, within), zone, panel.is_some());
    let links = match (frame.areas.get(1), panel) {
        (Some(area), _) => contents::draw(b, &mut d, *area, rail, &listed),
        (None, Some(panel)) => {
            if has_ground(b) {
                d.fill(Path::rounded(panel, frame.corner.min(panel.h * 0.1)), style.paper);
            }
            contents::draw(b, &mut d, rows_in(b, panel), rail, &listed)
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
    // Without a ground of its own a list goes as far as all that stands on the paper.
    let rim = if has_ground(b) { (Mm(4.0).pt() * b.frame.scale).max(5.0) } else { 0.0 };
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

/// Whether the list of a divider on a single paper has a ground of its own: on a tinted paper; elsewhere that would be a stain in the
/// paper's grain.
fn has_ground(b: &Builder) -> bool {
    b.product.style.manner.divider == Divider::Full
}

/// The room for lines on a panel.
fn rows_in(b: &Builder, panel: Rect) -> Rect {
    let pad = (Mm(4.0).pt() * b.frame.scale).max(5.0);
    let side = if has_ground(b) { pad } else { 0.0 };
    panel.inset_each(side, pad * 0.4, side, side * 0.9)
}

#[cfg(test)]
mod tests {
    use super::*;
    use base::model::Size;
    use base::model::product::{Coil, Edge, Hand, PageSetup};

    /// Page sizes in mm: a phone, A5, a tablet as a spread, A4 upright and across.
    const SIZES: [(f64, f64, bool); 5] = [
        (75.0, 150.0, false),
        (148.0, 210.0, false),
        (240.0, 180.0, true),
        (210.0, 297.0, false),
        (297.0, 210.0, false),
    ];

    fn frame((w, h, spread): (f64, f64, bool), sections: usize) -> Frame {
        let page = PageSetup {
            size: Size::new(Mm(w).pt(), Mm(h).pt()),
            named: format!("{w} × {h} mm"),
            spread,
            toolbar_edge: Edge::Top,
            toolbar: Mm(8.0),
            coil: if spread { Coil::Middle } else { Coil::Top },
            hand: Hand::Right,
            right_to_left: false,
        };
        Frame::new(&page, Mm(2.0), sections)
    }

    /// Many entries end on the foot line, in boxes that are not too high; few are as they were. None meets another.
    #[test]
    fn many_entries_take_all_the_height() {
        for (size, n) in SIZES.into_iter().flat_map(|size| (1..=24).map(move |n| (size, n))) {
            let frame = frame(size, n);
            let rooms = index_rooms(&frame);
            let foot = rooms[0].bottom();
            for manner in [Index::Boxes, Index::Lines, Index::Discs, Index::Cards] {
                let cells = index_cells(&frame, &rooms, n, manner, true);
                assert_eq!(cells.len(), n);
                assert!(cells.iter().all(|c| c.h <= Mm(26.0).pt() + 1e-9), "{n} on {size:?}");
                for (i, cell) in cells.iter().enumerate() {
                    assert!(cells[..i].iter().all(|other| !other.inset(1e-6).overlaps(*cell)), "{n} on {size:?}");
                }
                let shown = |cell: &Rect| match manner {
                    Index::Lines => cell.bottom() - cell.h * entries::FOOT_OF_LINES,
                    _ => cell.bottom(),
                };
                let plain = cells_of(&frame, &rooms, n, None);
                let end = plain.iter().map(|cell| cell.bottom()).fold(0.0, f64::max);
                if n < MANY || (rooms.len() == 1 && n <= FEW && plate::is_left_below(&frame, end)) {
                    assert_eq!(cells, plain);
                    continue;
                }
                let last = cells.iter().map(shown).fold(0.0, f64::max);
                assert!((last - foot).abs() < 1e-6, "{n} {manner:?} on {size:?}: {last} and not {foot}");
            }
        }
    }
}
