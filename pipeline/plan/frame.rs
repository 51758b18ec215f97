//! The frame: where desk, papers, tabs, coil and foot lie on every page of a notebook. It is worked out once and
//! never moves from page to page.

use base::model::planner::TabEdge;
use base::model::product::{Coil, Edge, PageSetup};
use base::model::units::between;
use base::model::{Mm, Rect, Size};

/// Places of everything that all pages share. Lengths in points, origin top left.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// The page.
    pub page: Size,
    /// How large type and ornaments are against those of a 180 mm page.
    pub scale: f64,
    /// The papers, one or two, left first.
    pub papers: Vec<Rect>,
    /// The writing area of each paper.
    pub areas: Vec<Rect>,
    /// The foot of each paper, below the writing area.
    pub feet: Vec<Rect>,
    /// Tabs on the right, one a section, as drawn.
    pub tabs: Vec<Rect>,
    /// Tabs of the months, likewise.
    pub months: Vec<Rect>,
    /// Which tabs stand in a row along the page, if any do: these do not change sides.
    pub row: Option<TabRow>,
    /// Where the tabs of sections within sections stand, if there are any.
    pub within: Option<Within>,
    /// How far each tab's tap area reaches up and down beyond the drawing: half the gap.
    pub tab_gap: f64,
    /// Rings of the coil, as drawn.
    pub rings: Vec<Rect>,
    /// Tap areas of the rings.
    pub ring_taps: Vec<Rect>,
    /// Corner radius of papers.
    pub corner: f64,
}

/// Tabs that stand in a row along the top, or along the bottom where the coil is at the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TabRow {
    /// Whether they are those of the months, and not of the sections.
    pub months: bool,
    /// Whether the row is at the bottom.
    pub below: bool,
}

/// The row for the tabs of sections within sections.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Within {
    /// Whether the row is along the bottom: the coil or another row has the top.
    pub below: bool,
    /// Whether both edges are taken, so that there is no room for it.
    pub crowded: bool,
    /// Height of a tab, in points.
    high: f64,
    /// What stays free at both ends of a paper.
    clear: f64,
}

/// The tabs of the months that a frame has room for.
#[derive(Clone, Copy, Debug, Default)]
pub struct MonthRoom {
    /// How many.
    pub count: usize,
    /// On which edge, where the designer says so.
    pub edge: Option<TabEdge>,
}

/// A tab that is smaller than this, in mm, is hard to hit.
const LEAST_TAB: f64 = 9.0;
/// Side of a comfortable tap area in CSS pixels (WCAG 2.2, 2.5.5), on a screen that shows the longer side of the page on so many
/// (common practice, no source).
const COMFORTABLE: (f64, f64) = (44.2, 1180.0);

/// How far the tap area of a tab reaches over the paper beside it, in mm: its margin is never written on.
pub const TAB_INWARD: f64 = 2.2;

/// As many tabs of sections within a section stand on one paper of a spread.
const FEW_WITHIN: usize = 4;

/// Side of a comfortable tap area on a page, in points.
fn finger(page: Size) -> f64 {
    page.w.max(page.h) * COMFORTABLE.0 / COMFORTABLE.1
}

/// Length in points of so many millimetres.
fn mm(v: f64) -> f64 {
    Mm(v).pt()
}

impl Frame {
    /// Works the frame out for a page and so many sections.
    pub fn new(page: &PageSetup, corner: Mm, sections: usize) -> Frame {
        Frame::with_rows(page, corner, sections, MonthRoom::default(), false)
    }

    /// The same with tabs for months: above those of the sections on the same edge, or the ones on the side and the
    /// others in a row along the page where they would be too small together. `within` keeps room for the tabs of sections
    /// within sections.
    pub fn with_rows(page: &PageSetup, corner: Mm, sections: usize, months: MonthRoom, within: bool) -> Frame {
        let (size, least) = (page.size, page.size.w.min(page.size.h));
        let scale = (least / mm(180.0)).clamp(0.5, 1.35);
        let tab = (least * 0.05).clamp(mm(7.0), mm(11.0));
        let desk = (least * 0.016).clamp(mm(1.4), mm(3.5));
        let mut free = Rect::page(size).inset_each(tab, desk, tab, desk);
        let bar = page.toolbar.pt();
        free = match page.drawn_toolbar_edge() {
            Edge::Top => free.inset_each(0.0, (bar - desk).max(0.0), 0.0, 0.0),
            Edge::Bottom => free.inset_each(0.0, 0.0, 0.0, (bar - desk).max(0.0)),
            Edge::Left => free.inset_each(bar, 0.0, 0.0, 0.0),
            Edge::Right => free.inset_each(0.0, 0.0, bar, 0.0),
        };
        let row = row(free, sections, months).map(|months| TabRow { months, below: page.coil == Coil::Top });
        if let Some(row) = row {
            let deep = tab - desk;
            let (top, bottom) = if row.below { (0.0, deep) } else { (deep, 0.0) };
            free = free.inset_each(0.0, top, 0.0, bottom);
        }
        let at_top = page.coil == Coil::Top || row.is_some_and(|row| !row.below);
        if within {
            let deep = tab - desk;
            free = if at_top { free.inset_each(0.0, 0.0, 0.0, deep) } else { free.inset_each(0.0, deep, 0.0, 0.0) };
        }
        let ring = Ring::new(size);
        if page.coil == Coil::Top {
            free = free.inset_each(0.0, ring.length * 0.42, 0.0, 0.0);
        }
        let papers = if page.spread { free.columns(2, ring.gutter(page.coil)) } else { vec![free] };
        let corner = corner.pt().min(least * 0.04);
        // Dated pages use every millimetre for their columns; without them, lines end where grids do.
        let (mut areas, mut feet) = areas(&papers, page.coil, size, &ring, months.count == 0);
        if row.is_some_and(|row| row.below) {
            // Taps of tabs reach a little over the paper, and those of the foot keep clear of them.
            let clear = mm(TAB_INWARD);
            feet.iter_mut().for_each(|foot| foot.y -= clear);
            areas.iter_mut().for_each(|area| area.h -= clear);
        }
        let on_side = if row.is_some_and(|row| row.months) { 0 } else { months.count };
        let beside = if row.is_some_and(|row| !row.months) { 0 } else { sections };
        let (mut side, tab_gap) = tabs(free, tab, on_side + beside, corner);
        let along = row.map_or(Vec::new(), |row| {
            let count = if row.months { months.count } else { sections };
            tabs_in_row(free, tab, count, tab_gap, corner, row.below)
        });
        let (months, tabs) = match row {
            Some(row) if row.months => (along, side),
            Some(_) => (side, along),
            None => {
                let tabs = side.split_off(on_side);
                (side, tabs)
            }
        };
        let (rings, ring_taps) = rings(&papers, page.coil, &ring, row.is_some_and(|row| !row.below));
        // Rings reach over the paper beside the gutter.
        let beside = if page.coil == Coil::Middle { ring.length * 0.45 } else { 0.0 };
        let within = within.then(|| Within {
            below: at_top,
            crowded: at_top && row.is_some_and(|row| row.below),
            high: tab - mm(0.9),
            clear: corner.max(mm(1.5)) + mm(TAB_INWARD) + beside,
        });
        Frame { page: size, scale, papers, areas, feet, tabs, months, row, within, tab_gap, rings, ring_taps, corner }
    }

    /// The rectangle round all papers.
    pub fn sheet(&self) -> Rect {
        let (first, last) = (self.papers[0], self.papers[self.papers.len() - 1]);
        Rect::new(first.x, first.y, last.right() - first.x, first.h)
    }

    /// So many tabs of sections within a section, of equal width, from the left on: on the first paper, or shared out evenly where
    /// there are many.
    pub fn tabs_within(&self, count: usize) -> Vec<Rect> {
        let Some(row) = self.within else { return Vec::new() };
        let papers = if count > FEW_WITHIN { self.papers.len() } else { 1 };
        let each = count.div_ceil(papers).max(1);
        let rooms = self.papers.iter().map(|p| p.inset_each(row.clear, 0.0, row.clear, 0.0));
        let on = |room: Rect| {
            let width = ((room.w - self.tab_gap * (each - 1) as f64) / each as f64).min(mm(34.0));
            let y = if row.below { room.bottom() } else { room.y - row.high };
            (0..each).map(move |i| Rect::new(room.x + i as f64 * (width + self.tab_gap), y, width, row.high))
        };
        rooms.flat_map(on).take(count).collect()
    }

    /// A tab on the left: the mirror image of the one on the right, at the same height.
    pub fn mirrored(&self, r: Rect) -> Rect {
        let sheet = self.sheet();
        Rect::new(sheet.x - (r.right() - sheet.right()), r.y, r.w, r.h)
    }
}

/// Measures of a coil's ring.
struct Ring {
    /// Along the wire.
    length: f64,
    /// Across.
    width: f64,
    /// From ring to ring.
    pitch: f64,
    /// Least side of its tap area.
    finger: f64,
}

impl Ring {
    fn new(size: Size) -> Ring {
        let least = size.w.min(size.h);
        let length = (least * 0.052).clamp(mm(5.5), mm(10.5));
        let finger = finger(size);
        let pitch = between(least * 0.075, mm(9.5), mm(15.0).max(finger));
        Ring { length, width: length * 0.3, pitch, finger }
    }

    /// What a coil at the top keeps free of the paper.
    fn top_margin(&self) -> f64 {
        self.length * 0.58 + mm(2.5)
    }

    fn gutter(&self, coil: Coil) -> f64 {
        if coil == Coil::Middle { self.length * 0.34 } else { self.length * 0.2 }
    }
}

/// Writing areas and feet. Outer margins follow the page, within 4.5 and 12 mm; beside a coil there is 2 mm more.
fn areas(papers: &[Rect], coil: Coil, size: Size, ring: &Ring, whole: bool) -> (Vec<Rect>, Vec<Rect>) {
    let least = size.w.min(size.h);
    let margin = (least * 0.058).clamp(mm(4.5), mm(12.0));
    // Marks at the foot are tapped: no lower than a finger needs.
    let foot = between(least * 0.055, mm(LEAST_TAB).max(finger(size)), mm(10.0).max(finger(size)));
    let coil_side = (ring.length * 0.33 + mm(4.0)).max(margin + mm(if least > mm(100.0) { 2.0 } else { 0.5 }));
    let top = if coil == Coil::Top { ring.top_margin().max(margin) } else { margin };
    let two = papers.len() == 2;
    let gutter = if coil == Coil::Middle { coil_side } else { margin };
    papers
        .iter()
        .enumerate()
        .map(|(i, paper)| {
            let left = if two && i == 1 { gutter } else { margin };
            let right = if two && i == 0 { gutter } else { margin };
            let area = paper.inset_each(left, top, right, foot + margin * 0.25);
            // One frame for all templates: a whole number of grid squares across, so that lines and grids end alike.
            let spare = area.w - (area.w / mm(5.0)).floor().max(1.0) * mm(5.0);
            let area =
                if whole && spare < area.w * 0.5 { area.inset_each(spare / 2.0, 0.0, spare / 2.0, 0.0) } else { area };
            (area, Rect::new(area.x, paper.bottom() - foot, area.w, foot))
        })
        .unzip()
}

/// Tabs of equal height with even gaps, from the top of the paper down; many of them to its foot, also on a high page.
fn tabs(free: Rect, width: f64, n: usize, corner: f64) -> (Vec<Rect>, f64) {
    let gap = if n > 16 { 2.0 } else { 3.0 };
    let clear = corner.max(mm(1.5));
    let room = free.h - 2.0 * clear;
    let most = if n > 5 { mm(38.0) } else { mm(30.0) };
    let height = ((room - gap * (n.max(1) - 1) as f64) / n.max(1) as f64).min(most);
    let outer = mm(0.9);
    let tabs = (0..n)
        .map(|i| Rect::new(free.right(), free.y + clear + i as f64 * (height + gap), width - outer, height))
        .collect();
    (tabs, gap)
}

/// Whether tabs have to stand in a row, and whether those are the months'.
fn row(free: Rect, sections: usize, months: MonthRoom) -> Option<bool> {
    let count = months.count;
    let each = |length: f64, n: usize| (length - mm(5.0)) / n.max(1) as f64 - 3.0;
    let fits = each(free.h, count + sections) >= mm(LEAST_TAB);
    match months.edge {
        _ if count == 0 => None,
        Some(TabEdge::Top) => Some(true),
        Some(TabEdge::Side) if sections == 0 || fits => None,
        Some(TabEdge::Side) => Some(false),
        None if fits => None,
        // A low page has its long edge at the top.
        None if each(free.h, count) < mm(LEAST_TAB) && free.w > free.h => Some(true),
        None => (sections > 0).then_some(false),
    }
}

/// Tabs of equal width with even gaps, from the left on, above the papers or below them.
fn tabs_in_row(free: Rect, depth: f64, n: usize, gap: f64, corner: f64, below: bool) -> Vec<Rect> {
    let clear = corner.max(mm(1.5)) + mm(TAB_INWARD);
    let room = free.w - 2.0 * clear;
    let width = ((room - gap * (n.max(1) - 1) as f64) / n.max(1) as f64).min(mm(34.0));
    let high = depth - mm(0.9);
    let y = if below { free.bottom() } else { free.y - high };
    (0..n).map(|i| Rect::new(free.x + clear + i as f64 * (width + gap), y, width, high)).collect()
}

/// The rings of a coil and their tap areas. Taps of tabs reach a little over the paper: the rings' keep clear of them, at both
/// ends along the top, below a row of tabs in the middle.
fn rings(papers: &[Rect], coil: Coil, ring: &Ring, row_above: bool) -> (Vec<Rect>, Vec<Rect>) {
    let (first, last) = (papers[0], papers[papers.len() - 1]);
    match coil {
        Coil::None => (Vec::new(), Vec::new()),
        Coil::Middle => {
            let middle = (first.right() + last.x) / 2.0;
            let clear = if row_above { mm(TAB_INWARD) } else { 0.0 };
            let (n, pitch) = spread_evenly(first.h - clear, ring.pitch);
            let at = |i: usize| first.y + clear + pitch * (i as f64 + 0.5);
            let wide = (ring.length * 1.2).max(ring.finger);
            let taps = (0..n).map(|i| Rect::new(middle - wide / 2.0, at(i) - pitch / 2.0, wide, pitch));
            let rings = (0..n)
                .map(|i| Rect::new(middle - ring.length / 2.0, at(i) - ring.width / 2.0, ring.length, ring.width));
            (rings.collect(), taps.collect())
        }
        Coil::Top => {
            let clear = mm(TAB_INWARD);
            let (n, pitch) = spread_evenly(last.right() - first.x - 2.0 * clear, ring.pitch);
            let at = |i: usize| first.x + clear + pitch * (i as f64 + 0.5);
            let top = first.y - ring.length * 0.42;
            // What a large page needs more is taken from the margin below, then from the desk above.
            let below = (first.y + ring.top_margin() - top).min((ring.length * 1.05).max(ring.finger));
            let above = between(ring.finger - below, 0.0, top.max(0.0));
            let taps = (0..n).map(|i| Rect::new(at(i) - pitch / 2.0, top - above, pitch, below + above));
            let rings = (0..n).map(|i| Rect::new(at(i) - ring.width / 2.0, top, ring.width, ring.length));
            (rings.collect(), taps.collect())
        }
    }
}

/// How many rings fit into a length, and their exact distance.
fn spread_evenly(length: f64, pitch: f64) -> (usize, f64) {
    let n = (length / pitch).floor().max(2.0);
    (n as usize, length / n)
}
