//! What all dated pages share: the baseline grid, the head with its arrows, tap areas, sizes of type.

use super::super::params::Mark;
use super::super::parts::{Grid, check_row, least_type, strong, thin};
use base::colour;
use base::model::dated::DatedPage;
use base::model::drawing::{Path, Role};
use base::model::{Drawing, Mm, Rect, Rgb};
use draw::Pen;
use draw::ruling::{DatedDrawing, RulingContext};
use draw::text::{Align, Line, Setting};

/// A dated page in the making.
pub struct Sheet<'a> {
    /// What it is drawn on.
    pub context: &'a RulingContext<'a>,
    /// What it says.
    pub page: &'a DatedPage,
    /// What has been drawn.
    pub out: DatedDrawing,
    /// Distance of the lines of the baseline grid in points: near college ruling, so that they fill the area.
    pub pitch: f64,
    /// How many of them the head takes.
    pub head: usize,
    /// Least side of an arrow as a tap area, in points.
    pub finger: f64,
    /// Small labels, quiet.
    pub label: Setting,
    /// Names of weekdays, heads of blocks.
    pub name: Setting,
}

/// Side of a comfortable tap area in CSS pixels (WCAG 2.2, 2.5.5), on a screen that shows the longer side of the page on so many
/// (common practice, no source).
const COMFORTABLE: (f64, f64) = (44.2, 1180.0);

/// Where a text stands: above the writing line of a row, as handwriting would.
const SEAT: f64 = 0.28;

impl<'a> Sheet<'a> {
    /// An empty page, whose head is still to be drawn; `None` where there is no area.
    pub fn new(context: &'a RulingContext<'a>, page: &'a DatedPage) -> Option<Sheet<'a>> {
        let first = *context.areas.first()?;
        // Two rows of the head hold arrows that are tapped; a low area keeps the rows that it has.
        let finger = context.long_side * COMFORTABLE.0 / COMFORTABLE.1;
        let high = (first.h / (finger / 2.0)).floor().max(6.0);
        let rows = (first.h / Mm(7.1).pt()).round().min(high).max(1.0);
        let pitch = first.h / rows;
        let base = ((first.w * first.h).sqrt() / 50.0).clamp(7.0, 9.2);
        let narrow = context.areas.len() == 1 && first.w < Mm(75.0).pt();
        let pen = &context.pen;
        Some(Sheet {
            context,
            page,
            out: DatedDrawing::default(),
            pitch,
            head: match rows {
                r if r < 6.0 => 1,
                r if narrow && r >= 12.0 => 3,
                _ => 2,
            },
            label: pen.label(base.min(pitch * 0.5), 0.01),
            name: Setting::new(Role::Heading, (base * 1.5).min(pitch * 0.66), pen.ink),
            finger,
        })
    }

    /// The pen.
    pub fn pen(&self) -> &'a Pen {
        &self.context.pen
    }

    /// Whether the page is a picture of itself, without words.
    pub fn small(&self) -> bool {
        self.context.pen.small
    }

    /// The baseline grid of area `i` below the head: its line 0 is the line under the head.
    pub fn grid(&self, i: usize) -> Grid {
        Grid::new(self.body(i), self.pitch)
    }

    /// What is left of area `i` below the head.
    pub fn body(&self, i: usize) -> Rect {
        self.context.areas[i].inset_each(0.0, self.head as f64 * self.pitch, 0.0, 0.0)
    }

    /// Leads a rectangle to a place, if there is one.
    pub fn tap(&mut self, area: Rect, place: Option<&str>) {
        if let Some(place) = place.filter(|_| area.w > 0.0 && area.h > 0.0) {
            self.out.taps.push((area, place.to_owned()));
        }
    }

    /// A wash that tells the weekend and the heads of tables from the rest.
    pub fn wash(&self) -> Rgb {
        let pen = self.pen();
        colour::mix(pen.paper, pen.rule, if pen.small { 0.34 } else { 0.2 })
    }

    /// Colour of the days of neighbour months: as light as text may be.
    pub fn light(&self) -> Rgb {
        colour::at_contrast(self.wash(), self.pen().ink, 4.5)
    }

    /// The colour of a list as a mark on the paper.
    pub fn mark(&self, own: Option<Rgb>) -> Rgb {
        colour::deepened(own.unwrap_or(self.pen().accent), self.wash(), self.pen().ink, 3.0)
    }

    /// The colour of a list as text on the paper or on the wash.
    pub fn written(&self, own: Option<Rgb>) -> Rgb {
        colour::deepened(own.unwrap_or(self.pen().accent), self.wash(), self.pen().ink, 4.5)
    }

    /// Rules from line `from` to line `to` of a grid, for writing; fewer on a small picture.
    pub fn lines(&mut self, grid: &Grid, from: usize, to: usize) {
        let pen = self.pen();
        for i in (from..=to.min(grid.rows)).step_by(thin(pen, grid.pitch)) {
            grid.rule(&mut self.out.ground, i, i, pen.rule());
        }
    }

    /// A block to write in: its name in row `from` over a strong line, rules down to line `to`. Without a name the
    /// rules begin at once. Nothing where it would have no line to write on.
    pub fn block(&mut self, title: &str, grid: &Grid, from: usize, to: usize) {
        let to = to.min(grid.rows);
        if to < from + 2 {
            return;
        }
        if !title.is_empty() {
            seated(&mut self.out.ground, self.context, self.name, title, grid.band(from, from + 1));
        }
        let y = grid.y(from + 1);
        self.out.ground.line(grid.area.x, y, grid.area.right(), y, strong(self.pen()));
        self.lines(grid, from + 2, to);
    }

    /// A block to tick off, made like [`Sheet::block`].
    pub fn ticks(&mut self, title: &str, mark: Mark, grid: &Grid, from: usize, to: usize) {
        let to = to.min(grid.rows);
        if to < from + 2 {
            return;
        }
        seated(&mut self.out.ground, self.context, self.name, title, grid.band(from, from + 1));
        let y = grid.y(from + 1);
        self.out.ground.line(grid.area.x, y, grid.area.right(), y, strong(self.pen()));
        let pen = self.pen();
        for i in from + 1..to {
            check_row(&mut self.out.ground, self.context, pen, mark, grid.band(i, i + 1));
        }
    }
}

/// Sets a line on a baseline inside of a rectangle, from its left side; leaves it out where it would jut out above or
/// below, and cuts what is too long.
pub fn line(d: &mut Drawing, context: &RulingContext, set: Setting, text: &str, area: Rect, y: f64) {
    line_at(d, context, set, text, area, y, Align::Left);
}

/// The same from any side.
pub fn line_at(d: &mut Drawing, context: &RulingContext, set: Setting, text: &str, area: Rect, y: f64, align: Align) {
    let fits = y - set.cap(context.fonts) >= area.y - 1e-6 && y + 0.24 * set.size <= area.bottom() + 1e-6;
    // What would have to be cut is left out where next to nothing of it would stay; a narrow figure is whole in a narrow room.
    let cut = area.w < 4.0 && set.width(context.fonts, text) > area.w;
    if context.pen.small || text.is_empty() || cut || !fits {
        return;
    }
    let x = match align {
        Align::Left => area.x,
        Align::Centre => area.centre().x,
        Align::Right => area.right(),
    };
    set.draw_kept(d, context.fonts, text, Line { room: area.w, x, y, align });
}

/// A name in a row, a little above the line that closes it; on a small picture a bar.
pub fn seated(d: &mut Drawing, context: &RulingContext, set: Setting, text: &str, row: Rect) {
    if context.pen.small {
        super::super::parts::name(d, context, set, text, row);
        return;
    }
    let least = 6.0_f64.min(set.size);
    let set = set.fitted(context.fonts, [text], row.w, least);
    line(d, context, set, text, row, row.bottom() - row.h * SEAT);
}

/// A figure in the middle of its box: smaller where it would not fit, never cut. On a small picture a dot.
pub fn figure(d: &mut Drawing, context: &RulingContext, set: Setting, text: &str, area: Rect) {
    if text.is_empty() || area.w <= 0.0 || area.h <= 0.0 {
        return;
    }
    if context.pen.small {
        let side = (set.size * 0.4).min(area.w * 0.6).min(area.h * 0.6);
        let c = area.centre();
        d.fill(Path::rect(Rect::new(c.x - side / 2.0, c.y - side / 2.0, side, side)), context.pen.dot);
        return;
    }
    let tall = context.fonts.metrics(set.role).cap + 2.0 * 0.24;
    let set = set.sized(set.size.min(area.h / tall)).fitted(context.fonts, [text], area.w, 1.0);
    if set.size >= 3.0 && set.width(context.fonts, text) <= area.w + 1e-6 {
        set.draw(
            d,
            context.fonts,
            text,
            area.centre().x,
            area.centre().y + set.cap(context.fonts) / 2.0,
            Align::Centre,
        );
    }
}

/// The longest form of names that stand side by side in which all of them fit, and the size at which they do: all
/// full, all short or all narrow. Each entry has its forms, longest first. Only narrow ones are smaller than the least type.
pub fn fitting<'n>(
    context: &RulingContext,
    set: Setting,
    names: &[[&'n str; 3]],
    width: f64,
) -> (Setting, Vec<&'n str>) {
    let least = context.areas.first().map_or(0.0, |area| least_type(*area)).max(set.size * 0.8).min(set.size);
    for form in 0..3 {
        let these: Vec<&str> = names.iter().map(|n| n[form]).collect();
        let fitted = set.fitted(context.fonts, these.iter().copied(), width, least);
        if form == 2 || these.iter().all(|n| fitted.width(context.fonts, n) <= width + 1e-6) {
            let last = set.fitted(context.fonts, these.iter().copied(), width, 1.0);
            return (if form == 2 { last } else { fitted }, these);
        }
    }
    (set, Vec::new())
}
