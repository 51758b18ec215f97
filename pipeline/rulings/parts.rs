//! Parts that rulings share: the baseline grid, sizes of type, labels, heads, boxes to tick.
//!
//! Everything with lines sits on one baseline grid: line `i` of an area lies `i` pitches below its top, on both papers
//! of a spread alike. Heads, foot and blocks are whole pitches high, what does not fill a pitch is left free below. The last
//! whole line of the house's own ruling is the foot of the frame ([`frame`]) on which all pages end.

use super::RulingContext;
use super::params::{Mark, Pitch};
use base::colour;
use base::model::drawing::{Path, Role, Stroke};
use base::model::units::between;
use base::model::{Drawing, Mm, Point, Rect, Rgb};
use draw::ruling::fits;
use draw::text::{Align, Line, Setting};
use draw::{Fonts, Pen};

/// The baseline grid of an area.
#[derive(Clone, Copy, Debug)]
pub struct Grid {
    /// The area.
    pub area: Rect,
    /// Distance of its lines in points.
    pub pitch: f64,
    /// How many whole pitches fit.
    pub rows: usize,
}

impl Grid {
    /// The grid of an area.
    pub fn new(area: Rect, pitch: f64) -> Grid {
        Grid { area, pitch, rows: fits(area.h, pitch) }
    }

    /// The grid of an area whose pitch is so near to a usual one that whole rows fill it.
    pub fn filled(area: Rect, usual: f64) -> Grid {
        let rows = (area.h / usual).round().max(1.0);
        Grid::new(area, area.h / rows)
    }

    /// Height of line `i`; line 0 is the top of the area.
    pub fn y(&self, i: usize) -> f64 {
        self.area.y + i as f64 * self.pitch
    }

    /// The rectangle from line `from` to line `to`, all across.
    pub fn band(&self, from: usize, to: usize) -> Rect {
        Rect::new(self.area.x, self.y(from), self.area.w, self.y(to) - self.y(from))
    }

    /// The same lines between other sides.
    pub fn across(&self, x: f64, w: f64) -> Grid {
        Grid { area: Rect::new(x, self.area.y, w, self.area.h), ..*self }
    }

    /// The same lines so many rows lower.
    pub fn lower(&self, rows: f64) -> Grid {
        Grid { area: Rect { y: self.area.y + rows * self.pitch, ..self.area }, ..*self }
    }

    /// Draws lines `from` to `to`, both included, all across.
    pub fn rule(&self, d: &mut Drawing, from: usize, to: usize, stroke: Stroke) {
        for i in from..=to.min(self.rows) {
            d.line(self.area.x, self.y(i), self.area.right(), self.y(i), stroke);
        }
    }
}

/// The frame that all pages share, so that nothing jumps when a page is turned: from the top of the area to the last line of
/// a lined page. An area that is lower than a head with a few lines is used whole.
pub fn frame(area: Rect) -> Rect {
    let lines = Grid::new(area, Pitch::COLLEGE.pt());
    if lines.rows < LOW { area } else { Rect { h: lines.rows as f64 * lines.pitch, ..area } }
}

/// Areas with fewer lines are used whole.
const LOW: usize = 6;

/// A context whose areas are their frames: for pages whose rows have no distance of their own and fill what there is.
pub fn on_frame<'a>(context: &'a RulingContext, pen: Pen) -> RulingContext<'a> {
    RulingContext { areas: context.areas.iter().map(|area| frame(*area)).collect(), pen, ..*context }
}

/// The grid of the frame whose pitch is so near to a usual one that whole rows fill it.
pub fn filling(area: Rect, usual: f64) -> Grid {
    Grid::filled(frame(area), usual)
}

/// How many rows of a fixed height there are in a frame that they do not fill, and how far below its top the first begins.
/// They keep within half a row of its foot, with what lies below the frame if need be, and begin at its top; where a row more
/// would leave the area, what is left over is shared by top and foot. `more` is what they take beside their number of rows.
pub fn near_frame(area: Rect, row: f64, more: f64) -> (usize, f64) {
    let foot = frame(area).h - more;
    let rows = (foot / row).round().max(0.0) as usize;
    if rows as f64 * row + more <= area.h + 1e-6 {
        return (rows, 0.0);
    }
    let rows = rows.saturating_sub(1);
    (rows, (foot - rows as f64 * row).max(0.0) / 2.0)
}

/// Whether an area is that of a phone's page: narrow, and much higher than wide.
pub fn phone(area: Rect) -> bool {
    let area = frame(area);
    area.w < Mm(85.0).pt() && area.h > area.w * 1.5
}

/// A page's head, in which its title, date or week is written, and what is left below it: the same on all pages that have a
/// head, so that its line stays where it is when a page is turned. It is two lines high, one on a phone, where a second
/// one would stay void.
pub fn headed(area: Rect) -> (Rect, Rect) {
    let rows = if phone(area) { 1.0 } else { 2.0 };
    let high = (rows * Pitch::COLLEGE.pt()).min(frame(area).h / 3.0);
    (Rect { h: high, ..area }, area.inset_each(0.0, high, 0.0, 0.0))
}

/// The height of the head in rows, for pages whose lines keep one distance from top to foot: as near to that of the others as
/// whole rows are.
pub fn head_rows(area: Rect, pitch: f64) -> usize {
    ((headed(area).0.h / pitch).round() as usize).max(1)
}

/// Air between the line of the head and what has a frame or a name of its own below it: half a line, where the page is not low.
pub fn below_head(area: Rect) -> f64 {
    (Pitch::COLLEGE.pt() / 2.0).min(area.h / 20.0)
}

/// Distance between two columns or blocks on a context, in points: in proportion to the area, at most 8 mm.
pub fn gutter(area: Rect) -> f64 {
    (area.w * 0.045).clamp(Mm(2.0).pt(), Mm(8.0).pt())
}

/// Sizes of type for an area: a scale of 1.25 over a label size that grows with the area.
#[derive(Clone, Copy, Debug)]
pub struct Type {
    /// Small quiet labels.
    pub label: Setting,
    /// Names of days and months, heads of columns.
    pub head: Setting,
}

/// The least size of type in points: on a phone's page, which is held close, and on others (floors of the house).
const LEAST_TYPE: (f64, f64) = (6.5, 7.0);

/// The same on a phone where a label would else be cut.
const TIGHTEST: f64 = 6.0;

/// The least size of type in points on such an area.
pub fn least_type(area: Rect) -> f64 {
    if phone(area) { LEAST_TYPE.0 } else { LEAST_TYPE.1 }
}

/// Down to which size a label is shrunk before it is cut.
fn tightest(context: &RulingContext) -> f64 {
    context.areas.first().map_or(TIGHTEST, |area| if phone(*area) { TIGHTEST } else { LEAST_TYPE.1 })
}

impl Type {
    /// Sizes for an area, with heads that stand in a row of `pitch` points.
    pub fn new(area: Rect, pitch: f64, pen: &Pen) -> Type {
        let least = least_type(area);
        let base = between((area.w * area.h).sqrt() / 50.0, least, 9.2);
        // Only in rows that are lower than type it is smaller than the least: nobody writes in them.
        let floor = |lowest: f64| least.min((pitch * 0.9).max(lowest));
        let label = base.min(pitch * 0.5).max(floor(5.0));
        let head = (base * 1.56).min(pitch * 0.62).max(floor(5.6));
        Type { label: pen.label(label, 0.02), head: Setting::new(Role::Heading, head, pen.ink) }
    }
}

/// A stronger rule: under heads.
pub fn strong(pen: &Pen) -> Stroke {
    Stroke::new(pen.weight * 1.9, pen.rule)
}

/// The tint of head rows and quiet blocks.
pub fn wash(pen: &Pen) -> Rgb {
    colour::mix(pen.paper, pen.rule, if pen.small { 0.28 } else { 0.15 })
}

/// Of many lines that lie too close for a small picture, every how many are drawn: 1 at full size.
pub fn thin(pen: &Pen, pitch: f64) -> usize {
    if pen.small && pitch > 0.0 { ((4.2 * pen.weight / pitch).ceil() as usize).max(1) } else { 1 }
}

/// Writes a line of text inside a rectangle, centred up and down by its capitals: shrunk down to the least type where it is
/// too wide or too high, then cut with an ellipsis; left out where there is no room, and on small pictures.
pub fn say(d: &mut Drawing, context: &RulingContext, set: Setting, text: &str, area: Rect, align: Align) {
    if context.pen.small || text.is_empty() || area.w < 4.0 {
        return;
    }
    let least = tightest(context).min(set.size);
    let most = area.h / tall(context.fonts, set.sized(1.0));
    if most < least {
        return;
    }
    let set = set.fitted(context.fonts, [text], area.w, least);
    set.sized(set.size.min(most)).draw_in(d, context.fonts, text, area, align);
}

/// Height that a line needs so that neither its accents nor its tails leave a box in which its capitals are centred.
fn tall(fonts: &Fonts, set: Setting) -> f64 {
    let m = fonts.metrics(set.role);
    set.size * (m.cap + 2.0 * 0.24)
}

/// Where in a row a name stands that has the row's foot for its line: close to it, so that it is no caption of what is above.
pub fn seat(row: Rect) -> Rect {
    Rect { y: row.y + row.h * 0.3, h: row.h * 0.7, ..row }
}

/// A name on a line, such as a weekday: it stands a little above the line, by the left side. On a small picture
/// a bar takes its place, so that one sees that something is named there.
pub fn name(d: &mut Drawing, context: &RulingContext, set: Setting, text: &str, row: Rect) {
    if text.is_empty() || row.w < 4.0 {
        return;
    }
    if context.pen.small {
        let h = (set.size * 0.45).min(row.h * 0.5);
        let w = (set.width(context.fonts, text) * 0.85).min(row.w * 0.8);
        d.fill(Path::rect(Rect::new(row.x, row.bottom() - h - row.h * 0.28, w, h)), context.pen.dot);
        return;
    }
    let set = set.fitted(context.fonts, [text], row.w, tightest(context).min(set.size));
    let above = (row.h * 0.28).max(set.size * 0.24);
    set.draw_kept(d, context.fonts, text, Line { room: row.w, x: row.x, y: row.bottom() - above, align: Align::Left });
}

/// A field to write in: a stronger line below, on which a small label stands at the left.
pub fn field(d: &mut Drawing, context: &RulingContext, set: Setting, label: &str, area: Rect) {
    d.line(area.x, area.bottom(), area.right(), area.bottom(), strong(&context.pen));
    line_label(d, context, set, label, area);
}

/// A small label that stands on the lower edge of an area, at the left: on the line that it names.
pub fn line_label(d: &mut Drawing, context: &RulingContext, set: Setting, label: &str, area: Rect) {
    let high = (set.cap(context.fonts) + set.size * 0.5).min(area.h);
    // Its capitals stand a good millimetre above the line.
    let above = Mm(1.3).pt().min(area.h * 0.2);
    let base = area.bottom() - above;
    let middle = base - set.cap(context.fonts) / 2.0;
    say(d, context, set, label, Rect::new(area.x, middle - high / 2.0, area.w, high), Align::Left);
}

/// The width in which a label is whole in the smallest type that it may have.
pub fn least_room(context: &RulingContext, set: Setting, label: &str) -> f64 {
    set.sized(tightest(context).min(set.size)).width(context.fonts, label)
}

/// A wide field and a narrow one beside it, such as those of title and date. The narrow one is wider where its label would else be
/// cut: with some room behind it to write in, as far as the other has some too.
pub fn fields_beside(context: &RulingContext, set: Setting, area: Rect, labels: [&str; 2]) -> (Rect, Rect) {
    let (wide, narrow) = wide_and_narrow(area);
    let [other, own] = labels.map(|label| least_room(context, set, label));
    if own <= narrow.w + 1e-6 {
        return (wide, narrow);
    }
    let (free, written) = (wide.w + narrow.w, Mm(8.0).pt());
    let w = (own + written).min((free - other - written).max(own)).min(free * 0.6);
    (Rect { w: free - w, ..wide }, Rect { x: narrow.right() - w, w, ..narrow })
}

/// The share of a wide field and what is left for a narrow one beside it, with a gap.
fn wide_and_narrow(area: Rect) -> (Rect, Rect) {
    let gap = gutter(area);
    let narrow = between(area.w * 0.3, area.w.min(Mm(18.0).pt()) * 0.8, Mm(45.0).pt()).min(area.w * 0.45);
    let wide = (area.w - narrow - gap).max(0.0);
    (Rect::new(area.x, area.y, wide, area.h), Rect::new(area.x + wide + gap, area.y, narrow, area.h))
}

/// The least side of a box or a circle that a pen is to hit, without its line (a floor of the house).
pub const LEAST_MARK: Mm = Mm(3.4);

/// The least size of numerals in points (a floor of the house).
pub const LEAST_NUMERAL: f64 = 6.5;

/// The line of a half hour, between those of the hours: broken finely and lighter, so that it is the fainter one beside hours
/// that are solid, dashed, dotted or paired.
pub fn half_hour(pen: &Pen) -> Stroke {
    Stroke::new(pen.weight * 0.8, colour::mix(pen.rule, pen.paper, 0.15)).dashed(1.2, 2.4)
}

/// A box to tick, square, in the middle of a rectangle.
pub fn tick(d: &mut Drawing, mark: Mark, area: Rect, side: f64, corner: f64, stroke: Stroke) {
    let side = side.min(area.w).min(area.h) - stroke.width;
    if side <= 0.0 {
        return;
    }
    let c = area.centre();
    let square = Rect::new(c.x - side / 2.0, c.y - side / 2.0, side, side);
    d.stroke(
        match mark {
            Mark::Box => Path::rounded(square, corner.min(side * 0.22)),
            Mark::Circle => Path::circle(c, side / 2.0),
        },
        stroke,
    );
}

/// A row to tick off: a box at the left, a rule after it; for the left hand the other way round. `row` ends on a line of the
/// grid.
pub fn check_row(d: &mut Drawing, context: &RulingContext, pen: &Pen, mark: Mark, row: Rect) {
    let stroke = Stroke::new(pen.weight * 1.3, pen.dot);
    let least = if pen.small { Mm(2.4).pt() } else { LEAST_MARK.pt() + stroke.width };
    let side = between(row.h * 0.52, least.min(row.h * 0.78), Mm(5.5).pt());
    // The box stands with the writing, a little above the line.
    let wide = side.min(row.w);
    let x = if context.left { row.right() - wide } else { row.x };
    let seat = Rect::new(x, row.y + row.h * 0.14, wide, row.h * 0.8);
    tick(d, mark, seat, side, context.corner, stroke);
    let gap = side + (row.h * 0.28).min(Mm(3.0).pt());
    let (from, to) = if context.left { (row.x, row.right() - gap) } else { (row.x + gap, row.right()) };
    if from < to {
        d.line(from, row.bottom(), to, row.bottom(), pen.rule());
    }
}

/// A part of a segment that lies inside a rectangle, if any (after Liang and Barsky).
pub fn clip(a: Point, b: Point, r: Rect) -> Option<(Point, Point)> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let (mut t0, mut t1) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-dx, a.x - r.x), (dx, r.right() - a.x), (-dy, a.y - r.y), (dy, r.bottom() - a.y)] {
        if p.abs() < 1e-12 {
            if q < -1e-9 {
                return None;
            }
        } else if p < 0.0 {
            t0 = t0.max(q / p);
        } else {
            t1 = t1.min(q / p);
        }
    }
    let at = |t: f64| Point::new(a.x + t * dx, a.y + t * dy);
    (t1 - t0 > 1e-9).then(|| (at(t0), at(t1)))
}

/// The room of a name at the head of a column: at least a millimetre stays free at either side, so that it does not run into
/// the next one; less only where the column itself is hardly wider than that.
pub fn name_room(column: f64) -> f64 {
    (column - 2.0 * Mm(1.0).pt()).min(column * 0.9).max(column * 0.7)
}

/// Labels that stand side by side, each at most `width` wide: they shrink together down to the least type, then all are cut to
/// the same number of letters, with which they can still be told apart; else their initials stand there.
pub fn together(context: &RulingContext, set: Setting, labels: &[String], width: f64) -> (Setting, Vec<String>) {
    let fonts = context.fonts;
    let least = context.areas.first().map_or(LEAST_TYPE.0, |area| least_type(*area));
    for letters in [usize::MAX, 3, 4, 2, 1] {
        let cut: Vec<String> = labels.iter().map(|label| first_letters(label, letters)).collect();
        if letters > 1 && alike(labels, &cut) {
            continue;
        }
        let least = if letters == 1 { tightest(context) } else { least };
        let set = set.fitted(fonts, cut.iter().map(String::as_str), width, least.min(set.size));
        if cut.iter().all(|label| set.width(fonts, label) <= width + 1e-6) {
            return (set, cut);
        }
    }
    (set, vec![String::new(); labels.len()])
}

/// The first letters of a name; of one that begins with a number, all of its figures.
fn first_letters(name: &str, letters: usize) -> String {
    let figures = name.chars().take_while(char::is_ascii_digit).count();
    name.chars().take(letters.max(figures)).collect()
}

/// Whether labels that differ have become the same.
fn alike(whole: &[String], cut: &[String]) -> bool {
    (1..cut.len()).any(|i| (0..i).any(|j| cut[i] == cut[j] && whole[i] != whole[j]))
}
