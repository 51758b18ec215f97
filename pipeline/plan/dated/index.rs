//! The months on the index page: a tile each, which leads to the month, and above them years and quarters.

use super::super::builder::Builder;
use super::Calendar;
use base::colour;
use base::model::drawing::{Path, Stroke};
use base::model::units::between;
use base::model::{Drawing, Link, Mm, Place, Rect, Rgb, Role, Target};
use calendar::{Form, Kind, Width};
use draw::text::{Align, Setting};

/// A tile of the index.
struct Tile {
    name: String,
    /// The year, where it is said.
    year: Option<String>,
    place: String,
    colour: Rgb,
}

/// Draws the months, and what is coarser; gives the rooms that are left for the sections.
pub fn index(b: &Builder, calendar: &Calendar, rooms: Vec<Rect>) -> (Drawing, Vec<Link>, Vec<Rect>) {
    let (mut d, mut links) = (Drawing::new(), Vec::new());
    let sections = b.notebook.sections.len();
    let room = rooms[0];
    // On a spread the sections have the second paper, on one paper the lower part.
    let share = if sections == 0 || rooms.len() > 1 { 1.0 } else { between(1.0 - sections as f64 / 24.0, 0.42, 0.66) };
    let gap = (Mm(2.6).pt() * b.frame.scale).max(4.0);
    let months = months(b, calendar);
    let (coarse, per_row) = coarse(b, calendar);
    let coarse_rows = coarse.len().div_ceil(per_row);
    // Without sections the months have both papers.
    let papers = if sections == 0 { rooms.len().min(2) } else { 1 };
    let per_paper = months.len().div_ceil(papers);
    let most = (Mm(19.0).pt() * b.frame.scale).max(24.0);
    let least = Mm(9.0).pt();
    let columns = [3, 4, 6, 2].into_iter().find(|columns| {
        let rows = per_paper.div_ceil(*columns) + coarse_rows;
        (room.h * share - gap * rows as f64) / rows as f64 >= least
    });
    let columns = columns.unwrap_or(4).min(per_paper.max(1));
    let rows = per_paper.div_ceil(columns) + coarse_rows;
    let height = ((room.h * share - gap * rows as f64) / rows.max(1) as f64).min(most);
    let mut row = |tiles: &[Tile], size: f64, per_row: usize, room: Rect, y: f64| {
        let line = Rect::new(room.x, y, room.w, height);
        for (tile, cell) in tiles.iter().zip(line.columns(per_row, gap)) {
            links.push(draw(b, &mut d, tile, size, cell));
        }
    };
    let down = |n: usize| room.y + n as f64 * (height + gap);
    let cell = |per_row: usize| Rect::new(0.0, 0.0, (room.w - gap * (per_row as f64 - 1.0)) / per_row as f64, height);
    let size = common(b, &coarse, cell(per_row.max(1)));
    for (n, tiles) in coarse.chunks(per_row).enumerate() {
        row(tiles, size, per_row, room, down(n));
    }
    let size = common(b, &months, cell(columns.max(1)));
    for (tiles, paper) in months.chunks(per_paper.max(1)).zip(&rooms) {
        for (n, tiles) in tiles.chunks(columns).enumerate() {
            row(tiles, size, columns, *paper, down(coarse_rows + n));
        }
    }
    let y = down(rows);
    let left = match rooms.len() {
        1 => vec![Rect::new(room.x, y + gap, room.w, (room.bottom() - y - gap).max(0.0))],
        _ => rooms[1..].to_vec(),
    };
    (d, links, left)
}

fn months(b: &Builder, calendar: &Calendar) -> Vec<Tile> {
    let many = calendar.planner.span().len() > 12;
    let months = calendar.planner.span().months().zip(b.chrome.months);
    let tile = |(month, tab): (calendar::Month, &super::MonthTab)| {
        let name = calendar.names.month(month.number(), Width::Wide, Form::Alone).to_owned();
        let with_year = many || month.number() == 1 || month == calendar.planner.span().first();
        let year = calendar.names.number(i64::from(month.year()));
        Tile { name, year: with_year.then_some(year), place: tab.place.to_string(), colour: tab.colour }
    };
    months.map(tile).collect()
}

/// Years and quarters, and how many stand in a row.
fn coarse(b: &Builder, calendar: &Calendar) -> (Vec<Tile>, usize) {
    let mut tiles = Vec::new();
    let accent = b.product.style.accent;
    let colour = colour::mix(b.product.style.paper, accent, 0.5);
    for kind in [Kind::Year, Kind::Quarter].into_iter().filter(|kind| calendar.has(*kind)) {
        let set = calendar.planner.sets().iter().position(|set| set.kind == kind);
        let data = calendar.data();
        for (id, page) in calendar.planner.pages().iter().enumerate() {
            if Some(page.set) == set && page.place.page == 1 {
                let said = data.page(id);
                tiles.push(Tile { name: said.heading, year: None, place: said.place, colour });
            }
        }
    }
    // More than fit side by side stand in rows of one length.
    let room = b.frame.areas[0].w;
    let most = (room / Mm(22.0).pt()).floor().max(2.0) as usize;
    let rows = tiles.len().div_ceil(most).max(1);
    let per_row = tiles.len().div_ceil(rows).max(1);
    (tiles, per_row)
}

/// What stays free at the sides of a name on its tile, in points, both together.
const AIR: f64 = 6.0;
/// Distance of two lines on a tile, in sizes of type.
const STEP: f64 = 1.15;

impl Tile {
    /// What it says in one line.
    fn whole(&self) -> String {
        self.year.as_ref().map_or_else(|| self.name.clone(), |year| format!("{} {year}", self.name))
    }

    /// What it says in this type: the year below the month where both have no room side by side.
    fn lines(&self, b: &Builder, set: &Setting, cell: Rect) -> Vec<String> {
        let whole = self.whole();
        match &self.year {
            Some(year) if set.width(b.fonts, &whole) > cell.w - AIR && has_two(set.size, cell) => {
                vec![self.name.clone(), year.clone()]
            }
            _ => vec![whole],
        }
    }
}

/// Whether two lines of this size have room on a tile.
fn has_two(size: f64, cell: Rect) -> bool {
    size * (STEP + 1.2) <= cell.h
}

/// The size that all tiles of a kind share: the largest at which each has room in one line or two.
fn common(b: &Builder, tiles: &[Tile], cell: Rect) -> f64 {
    let most = between(cell.h * 0.34, 6.5, 13.0 * b.frame.scale.max(0.7));
    let least = 5.0;
    let fits = |size: f64| {
        let set = Setting::new(Role::Label, size, Rgb::BLACK);
        let lines = tiles.iter().flat_map(|tile| tile.lines(b, &set, cell));
        lines.into_iter().all(|line| set.width(b.fonts, &line) <= cell.w - AIR)
    };
    let mut sizes = (0..=40).map(|i| most + (least - most) * f64::from(i) / 40.0);
    sizes.find(|size| fits(*size)).unwrap_or(least)
}

fn draw(b: &Builder, d: &mut Drawing, tile: &Tile, size: f64, cell: Rect) -> Link {
    let style = &b.product.style;
    let radius = b.frame.corner.min(cell.h * 0.25);
    let tint = colour::mix(style.paper, tile.colour, 0.3);
    let line = colour::mix(style.paper, tile.colour, 0.85);
    d.fill_stroke(Path::rounded(cell, radius), tint, Stroke::new(0.6, line));
    let ink = colour::label_on(tint, style.ink, style.paper);
    let setting = Setting::new(Role::Label, size, ink);
    let lines = tile.lines(b, &setting, cell);
    for (k, line) in lines.iter().enumerate() {
        let off = (k as f64 - (lines.len() - 1) as f64 / 2.0) * size * STEP;
        // A name that is too long in the smallest type is fitted by itself.
        let own = setting.fitted(b.fonts, [line.as_str()], cell.w - AIR, 4.0);
        own.draw_in(d, b.fonts, line, Rect { y: cell.y + off, ..cell }, Align::Centre);
    }
    let says = format!("{} {}", b.chrome.words.go_to, tile.whole());
    Link { rect: cell, target: Target::Place(Place::Dated(tile.place.as_str().into())), says: says.into() }
}
