//! Weeks: seven days and a block for notes, named and lined, or in open boxes.

use super::params::{Colour, Pitch, labels, named, pen};
use super::parts::{
    Grid, Type, below_head, field, fields_beside, gutter, head_rows, headed, least_type, name, on_frame, seat, strong,
    thin, wash,
};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::calendar::WEEKDAYS;
use base::model::drawing::{Path, Stroke};
use base::model::weekday::Weekday;
use base::model::{Drawing, Mm, Rect};
use draw::text::Setting;
use serde::Deserialize;

/// Seven days by name with lines, and notes.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Week {
    /// Names of the days, Monday first whatever day the week begins on.
    labels: Vec<String>,
    /// The day that the week begins on.
    first_day: Weekday,
    /// Distance of the lines; by default about college ruling, so that the days fill the page.
    /// Range: 2 to 50 mm.
    pitch: Option<Pitch>,
    /// Whether the days are lined.
    lines: bool,
    /// Head of the notes; empty for none.
    notes: String,
    /// Label of the week's field; empty for none.
    week: String,
    /// Label of the field beside it; empty for none.
    focus: String,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Week {
    fn default() -> Week {
        Week {
            labels: named(&WEEKDAYS),
            first_day: Weekday::Monday,
            pitch: None,
            lines: true,
            notes: "Notes".into(),
            week: "Week".into(),
            focus: "Focus".into(),
            weight: None,
            colour: None,
        }
    }
}

impl Ruling for Week {
    fn check(&self) -> Result<(), String> {
        labels("labels", self.labels.len(), 7, "one for each day, Monday first")
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(first) = context.areas.first() else { return d };
        let form = Form::of(&context.areas);
        let lines = form.lines(*first, self.pitch);
        if lines.rows == 0 {
            return d;
        }
        heads(&mut d, context, form, [lines.pitch, lines.head], [&self.week, &self.focus]);
        let mut names = self.first_day.first_of(&self.labels);
        names.push(self.notes.clone());
        let cells = form.cells(&context.areas, &lines);
        let width = cells.iter().map(|c| c.grid.area.w).fold(f64::MAX, f64::min);
        let set = Type::new(*first, lines.pitch, &context.pen).head;
        let set = set.fitted(context.fonts, names.iter().map(String::as_str), width, least_type(*first).min(set.size));
        for (name, cell) in names.iter().zip(&cells) {
            self.block(&mut d, context, cell, set, name);
        }
        d
    }
}

impl Week {
    fn block(&self, d: &mut Drawing, context: &RulingContext, cell: &Cell, set: Setting, label: &str) {
        let (g, pen) = (&cell.grid, &context.pen);
        // The name has a row of its own, and the heavier rule below it, to which it stands close: what is above the name
        // parts it from the day before.
        let row = g.band(cell.from, cell.from + 1);
        name(d, context, set, label, seat(row));
        d.line(g.area.x, g.y(cell.from + 1), g.area.right(), g.y(cell.from + 1), strong(pen));
        if self.lines {
            for i in (cell.from + 2..=cell.to).step_by(thin(pen, g.pitch)) {
                d.line(g.area.x, g.y(i), g.area.right(), g.y(i), pen.rule());
            }
        } else if cell.last {
            d.line(g.area.x, g.y(cell.to), g.area.right(), g.y(cell.to), pen.rule());
        }
    }
}

/// Fields above the days: on a spread one on each paper, else side by side, the second one above the last column.
fn heads(d: &mut Drawing, context: &RulingContext, form: Form, [pitch, high]: [f64; 2], labels: [&str; 2]) {
    let head = |area: Rect| Rect { h: high, ..area };
    let set = Type::new(context.areas[0], pitch, &context.pen).label;
    let fields = match context.areas.as_slice() {
        [one] if form.columns > 1 => {
            let column = one.columns(form.columns, gutter(*one))[form.columns - 1];
            let wide = Rect { w: column.x - gutter(*one) - one.x, ..*one };
            [head(wide), head(column)]
        }
        [one] => {
            let (wide, narrow) = fields_beside(context, set, head(*one), labels);
            [wide, narrow]
        }
        [left, right, ..] => [head(*left), head(*right)],
        [] => return,
    };
    for (label, area) in labels.into_iter().zip(fields) {
        field(d, context, set, label, area);
    }
}

/// A block of a week on its grid.
struct Cell {
    grid: Grid,
    from: usize,
    to: usize,
    /// Whether nothing comes below it.
    last: bool,
}

/// The lines of a week's pages.
struct Lines {
    /// Their distance in points.
    pitch: f64,
    /// Height of the head in points.
    head: f64,
    /// Air above the name of each day, in rows.
    air: f64,
    /// Rows of a day below that: its name and its lines.
    rows: usize,
    /// Rows that the last days have more.
    more: usize,
}

/// How eight blocks lie on the areas: columns and rows of blocks on each.
#[derive(Clone, Copy)]
struct Form {
    columns: usize,
    rows: usize,
    /// Whether the days run down the columns.
    down: bool,
}

impl Form {
    fn of(areas: &[Rect]) -> Form {
        let Some(a) = areas.first() else { return Form { columns: 1, rows: 8, down: true } };
        let wide = a.w > a.h * 1.15;
        match (areas.len(), wide) {
            (1, true) => Form { columns: 4, rows: 2, down: false },
            (1, false) if a.w >= Mm(95.0).pt() => Form { columns: 2, rows: 4, down: true },
            (1, false) => Form { columns: 1, rows: 8, down: true },
            (_, true) => Form { columns: 2, rows: 2, down: false },
            (_, false) => Form { columns: 1, rows: 4, down: true },
        }
    }

    /// As asked, or so near to college ruling that the blocks fill the area. No rows where nothing fits. Above each name there
    /// is the same air: half a row; a whole one where lines keep a distance that is asked for, if days have enough of them.
    fn lines(self, area: Rect, asked: Option<Pitch>) -> Lines {
        if let Some(p) = asked {
            let pitch = p.pt();
            let head = head_rows(area, pitch);
            let all = Grid::new(area, pitch).rows.saturating_sub(head);
            let each = all / self.rows;
            let air = usize::from(each >= 4);
            let (rows, more) = (each - air, all - each * self.rows);
            return Lines { pitch, head: head as f64 * pitch, air: air as f64, rows, more };
        }
        let (head, body) = headed(area);
        let air = 0.5;
        let ideal = body.h / Pitch::COLLEGE.pt() / self.rows as f64 - air;
        let rows = (ideal.round() as usize).max(2);
        let pitch = body.h / ((rows as f64 + air) * self.rows as f64);
        Lines { pitch, head: head.h, air, rows, more: 0 }
    }

    fn cells(self, areas: &[Rect], lines: &Lines) -> Vec<Cell> {
        let mut cells = Vec::new();
        for area in areas {
            let grid = Grid::new(area.inset_each(0.0, lines.head, 0.0, 0.0), lines.pitch);
            let columns = area.columns(self.columns, gutter(*area));
            for i in 0..self.columns * self.rows {
                let (c, r) =
                    if self.down { (i / self.rows, i % self.rows) } else { (i % self.columns, i / self.columns) };
                let (from, last) = (r * lines.rows, r + 1 == self.rows);
                cells.push(Cell {
                    grid: grid.across(columns[c].x, columns[c].w).lower(lines.air * (r + 1) as f64),
                    from,
                    // Rows that are left over go on below the last blocks.
                    to: from + lines.rows + if last { lines.more } else { 0 },
                    last,
                });
            }
        }
        cells
    }
}

/// Seven open boxes and one for notes.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct OpenWeek {
    /// Names of the days, Monday first; none by default: the head of each box is left to write in.
    labels: Vec<String>,
    /// The day that the week begins on, where the days are named.
    first_day: Weekday,
    /// Head of the box for notes; empty for none.
    notes: String,
    /// Label of the week's field; empty for none.
    week: String,
    /// Label of the field beside it; empty for none.
    focus: String,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for OpenWeek {
    fn default() -> OpenWeek {
        OpenWeek {
            labels: Vec::new(),
            first_day: Weekday::Monday,
            notes: "Notes".into(),
            week: "Week".into(),
            focus: "Focus".into(),
            weight: None,
            colour: None,
        }
    }
}

impl Ruling for OpenWeek {
    fn check(&self) -> Result<(), String> {
        if !self.labels.is_empty() {
            labels("labels", self.labels.len(), 7, "one for each day, Monday first, or none at all")?;
        }
        Ok(())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(first) = context.areas.first() else { return d };
        let form = Form::of(&context.areas);
        let pitch = Pitch::COLLEGE.pt().min(first.h / (2.0 * form.rows as f64 + 3.0));
        let high = headed(*first).0.h;
        heads(&mut d, context, form, [pitch, high], [&self.week, &self.focus]);
        let mut names = self.first_day.first_of(&self.labels);
        names.resize(7, String::new());
        names.push(self.notes.clone());
        let mut boxes = Vec::new();
        for area in &context.areas {
            let gap = gutter(*area).min(pitch) * 0.7;
            let top = high + below_head(*area);
            let rest = area.inset_each(0.0, top, 0.0, 0.0);
            let rows = rest.rows(form.rows, gap);
            let columns = rest.columns(form.columns, gap);
            for i in 0..form.columns * form.rows {
                let (c, r) =
                    if form.down { (i / form.rows, i % form.rows) } else { (i % form.columns, i / form.columns) };
                boxes.push(Rect::new(columns[c].x, rows[r].y, columns[c].w, rows[r].h));
            }
        }
        let set = Type::new(*first, pitch * 0.9, &context.pen).head;
        let width = boxes.iter().map(|b| b.w).fold(f64::MAX, f64::min) - pitch * 0.6;
        let set = set.fitted(context.fonts, names.iter().map(String::as_str), width, least_type(*first).min(set.size));
        for (label, r) in names.iter().zip(&boxes) {
            open_box(&mut d, context, set, label, *r, pitch);
        }
        d
    }
}

/// A box with a tinted head.
fn open_box(d: &mut Drawing, context: &RulingContext, set: Setting, label: &str, r: Rect, pitch: f64) {
    let pen = &context.pen;
    let radius = context.corner.min(pitch * 0.35).min(r.w / 4.0);
    let head = Rect { h: pitch.min(r.h), ..r };
    d.fill(Path::rounded_each(head, [radius, radius, 0.0, 0.0]), wash(pen));
    d.line(r.x, head.bottom(), r.right(), head.bottom(), pen.grid());
    name(d, context, set, label, head.inset_each(pitch * 0.3, 0.0, pitch * 0.3, 0.0));
    d.stroke(Path::rounded(r, radius), Stroke::new(pen.weight, pen.rule));
}
