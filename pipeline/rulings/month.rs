//! A month grid without dates.

use super::params::{Colour, Pitch, labels, named, pen};
use super::parts::{
    Grid, Type, below_head, field, fields_beside, gutter, head_rows, headed, name, name_room, on_frame, say, strong,
    together, wash,
};
use super::{Ruling, RulingContext, lined};
use base::keys::Described;
use base::model::calendar::WEEKDAYS;
use base::model::drawing::Path;
use base::model::weekday::Weekday;
use base::model::{Drawing, Mm, Rect};
use draw::text::{Align, Setting};
use serde::Deserialize;

/// Seven columns of days under their names, and room for notes: four days on the first paper of a spread, three and
/// the notes on the second.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Month {
    /// Names of the days, Monday first whatever day the week begins on.
    labels: Vec<String>,
    /// The day that the week begins on.
    first_day: Weekday,
    /// Rows of days, 5 or 6.
    /// Range: 5 to 6.
    rows: usize,
    /// The baseline grid that rows and notes sit on; by default about college ruling, so that the month fills the
    /// page.
    /// Range: 2 to 50 mm.
    pitch: Option<Pitch>,
    /// Whether each day has a corner for its number.
    corners: bool,
    /// Label of the month's field; empty for none.
    month: String,
    /// Label of the field beside it; empty for none.
    focus: String,
    /// Head of the notes; empty for none.
    notes: String,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Month {
    fn default() -> Month {
        Month {
            labels: named(&WEEKDAYS),
            first_day: Weekday::Monday,
            rows: 6,
            pitch: None,
            corners: true,
            month: "Month".into(),
            focus: "Focus".into(),
            notes: "Notes".into(),
            weight: None,
            colour: None,
        }
    }
}

/// Rows of the names of the days.
const NAMES: usize = 1;

impl Ruling for Month {
    fn check(&self) -> Result<(), String> {
        labels("labels", self.labels.len(), 7, "one for each day, Monday first")
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(first) = context.areas.first() else { return d };
        let beside = context.areas.len() == 1 && first.w > first.h * 1.35;
        let gap = gutter(*first);
        let cell = match context.areas.len() {
            1 if beside => (first.w - gap) / 8.6,
            1 => first.w / 7.0,
            _ => first.w / 4.0,
        };
        let body = self.body(*first);
        let Some((pitch, tall)) = self.fit(body, cell) else { return d };
        let names = self.first_day.first_of(&self.labels);
        let set = Type::new(*first, pitch, &context.pen);
        let day = Setting { colour: context.pen.ink, ..set.label };
        let (day, names) = together(context, day, &names, name_room(cell));
        let to = NAMES + self.rows * tall;
        let grid = Grid::new(body, pitch);
        let head = self.head(*first);
        if let Some(second) = context.areas.get(1) {
            let other = Grid::new(self.body(*second), pitch);
            head_field(&mut d, context, set.label, &self.month, head);
            head_field(&mut d, context, set.label, &self.focus, self.head(*second));
            self.days(&mut d, context, &grid, tall, day, &names[..4]);
            let three = cell * 3.0;
            self.days(&mut d, context, &other.across(second.x, three), tall, day, &names[4..]);
            let side = other.across(second.x + three + gap, second.w - three - gap);
            self.aside(&mut d, context, &side, to, set.head);
        } else {
            let (days, rest) = (cell * 7.0, first.w - cell * 7.0 - gap);
            let (left, right) = if beside {
                let own = |x: f64, w: f64| Rect { x, w, ..head };
                (own(first.x, days), own(first.x + days + gap, rest))
            } else {
                fields_beside(context, set.label, head, [&self.month, &self.focus])
            };
            head_field(&mut d, context, set.label, &self.month, left);
            head_field(&mut d, context, set.label, &self.focus, right);
            self.days(&mut d, context, &grid.across(first.x, days), tall, day, &names);
            if beside {
                self.aside(&mut d, context, &grid.across(first.x + days + gap, rest), to, set.head);
            } else if grid.rows >= to + 4 {
                name(&mut d, context, set.head, &self.notes, grid.band(to + 1, to + 2));
                lined::rules(&mut d, &context.pen, &grid, to + 3);
                d.line(first.x, grid.y(to + 2), first.right(), grid.y(to + 2), strong(&context.pen));
            }
        }
        d
    }
}

impl Month {
    /// Where month and focus are written. Where a pitch is asked for, all lines keep to it.
    fn head(&self, area: Rect) -> Rect {
        let high = self.pitch.map(|p| head_rows(area, p.pt()) as f64 * p.pt());
        high.map_or(headed(area).0, |h| Rect { h, ..area })
    }

    /// What is left below the head and some air.
    fn body(&self, area: Rect) -> Rect {
        let air = self.pitch.map_or(below_head(area), Pitch::pt);
        area.inset_each(0.0, self.head(area).h + air, 0.0, 0.0)
    }

    /// Pitch in points and height of a day in pitches. A day is at most about twice as high as wide; what is left
    /// then becomes notes.
    fn fit(&self, area: Rect, cell: f64) -> Option<(f64, usize)> {
        let asked = self.pitch.map(Pitch::pt);
        let near = asked.unwrap_or(Pitch::COLLEGE.pt());
        let fixed = NAMES;
        let all = if asked.is_some() { Grid::new(area, near).rows } else { (area.h / near).round() as usize };
        let fit = all.saturating_sub(fixed) / self.rows;
        if fit == 0 {
            // Too low for the usual pitch: a smaller one, unless the designer asked for this one.
            return (asked.is_none()).then(|| (area.h / (fixed + self.rows) as f64, 1));
        }
        let tall = fit.min(((cell * 1.9 / near) as usize).max(1));
        let used = fixed + self.rows * tall;
        let rows = if tall < fit && all >= used + 4 { all } else { used };
        Some((asked.unwrap_or(area.h / rows as f64), tall))
    }

    fn days(&self, d: &mut Drawing, context: &RulingContext, grid: &Grid, tall: usize, set: Setting, names: &[String]) {
        let pen = &context.pen;
        let (top, to) = (NAMES, NAMES + self.rows * tall);
        let head = grid.band(0, top);
        d.fill(Path::rect(head), wash(pen));
        let columns = grid.band(top, to).columns(names.len(), 0.0);
        for (column, name) in columns.iter().zip(names) {
            say(d, context, set, name, Rect::new(column.x, head.y, column.w, head.h), Align::Centre);
        }
        let side = (columns[0].w * 0.28).min(Mm(5.5).pt()).min(tall as f64 * grid.pitch * 0.4);
        if self.corners && !pen.small && side >= Mm(3.2).pt() {
            for r in 0..self.rows {
                let y = grid.y(top + r * tall);
                for c in &columns {
                    let path = [(c.x, y + side), (c.x + side, y + side), (c.x + side, y)];
                    let path = path.map(|(x, y)| base::model::Point::new(x, y));
                    d.stroke(Path::polyline(&path, false), pen.grid());
                }
            }
        }
        for r in 1..self.rows {
            let y = grid.y(top + r * tall);
            d.line(grid.area.x, y, grid.area.right(), y, pen.rule());
        }
        for c in &columns[1..] {
            d.line(c.x, grid.y(top), c.x, grid.y(to), pen.rule());
        }
        d.stroke(Path::rect(grid.band(0, to)), pen.rule());
        d.line(grid.area.x, grid.y(top), grid.area.right(), grid.y(top), pen.rule());
    }

    /// Notes in a column of their own, down to the last row of days.
    fn aside(&self, d: &mut Drawing, context: &RulingContext, grid: &Grid, to: usize, set: Setting) {
        let set = set.sized(set.size * 0.9);
        name(d, context, set, &self.notes, grid.band(0, NAMES));
        lined::rules(d, &context.pen, &Grid { rows: to, ..*grid }, NAMES + 1);
        d.line(grid.area.x, grid.y(NAMES), grid.area.right(), grid.y(NAMES), strong(&context.pen));
    }
}

/// A field of the head; none where its name is empty.
fn head_field(d: &mut Drawing, context: &RulingContext, set: Setting, label: &str, area: Rect) {
    if !label.is_empty() {
        field(d, context, set, label, area);
    }
}
