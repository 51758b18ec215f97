//! A year at a glance: its months small, each day linked.

use super::super::params::{Colour, pen};
use super::super::parts::{Grid, gutter, on_frame};
use super::small::{ROWS, Small};
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext, fits};
use serde::Deserialize;

/// Small months in rows and columns; half of them on each paper of a spread.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DatedYear {
    /// Whether weeks have their number, where the product counts them.
    week_numbers: bool,
    /// Whether the lists of holidays and events are named at the foot.
    legend: bool,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for DatedYear {
    fn default() -> DatedYear {
        DatedYear { week_numbers: true, legend: true, weight: None, colour: None }
    }
}

impl Ruling for DatedYear {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for DatedYear {
    const KINDS: &'static [DatedKind] = &[DatedKind::Year];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let each = page.months.len().div_ceil(context.areas.len()).max(1);
        let slots = slots(each, context.areas.len());
        for i in 0..context.areas.len() {
            let months = page.months.chunks(each).nth(i).unwrap_or_default();
            let mut body = sheet.body(i);
            let foot = if self.legend { sheet.pitch.min(body.h * 0.08) } else { 0.0 };
            body.h -= foot;
            if i + 1 == context.areas.len() && self.legend {
                sheet.legend(Rect::new(body.x, body.bottom(), body.w, foot));
            }
            let boxes = boxes(body, slots);
            // Week numbers where days stay wide enough to be tapped.
            let weeks = self.week_numbers && boxes[0].w / 7.8 >= Mm(4.6).pt();
            let how = Small { weeks, year: false, name: sheet.name.size * 1.05 };
            for (month, area) in months.iter().zip(&boxes) {
                sheet.small_month(month, *area, how);
            }
            let grid = Grid::new(body, sheet.pitch);
            for area in left_over(body, &boxes, months.len()) {
                let first = ((area.y - body.y) / grid.pitch - 1e-6).ceil() as usize + 1;
                let last = fits(area.bottom() - body.y, grid.pitch);
                sheet.lines(&grid.across(area.x, area.w), first, last);
            }
        }
        sheet.out
    }
}

/// For how many months one of so many papers has places: as many as make rows and columns, and at least half a year's, so that the
/// months of a short planner are no larger than a page of notes.
fn slots(months: usize, papers: usize) -> usize {
    let least = months.max(6 / papers.max(1));
    [3, 4, 6, 8, 9, 12, 15, 16, 18, 20, 24].into_iter().find(|n| *n >= least).unwrap_or(least)
}

/// What the months of a short planner leave free of their places, of which they fill the first: beside the last of them, and
/// below. It is there to be written on.
fn left_over(body: Rect, places: &[Rect], months: usize) -> Vec<Rect> {
    let Some(first) = places.get(months) else { return Vec::new() };
    let to_the_foot = |from: Rect| Rect::new(body.x, from.y, body.w, body.bottom() - from.y);
    if first.x <= body.x + 1e-6 {
        return vec![to_the_foot(*first)];
    }
    let beside = Rect::new(first.x, first.y, body.right() - first.x, first.h);
    let below = places[months..].iter().find(|place| place.y > first.y + 1e-6);
    std::iter::once(beside).chain(below.map(|place| to_the_foot(*place))).collect()
}

/// Where so many small months lie: in as many columns as make days about square.
fn boxes(area: Rect, n: usize) -> Vec<Rect> {
    let gap = gutter(area);
    let off = |c: usize| {
        let (w, h) = (area.w / c as f64 - gap, area.h / n.div_ceil(c) as f64 - gap * 0.6);
        libm::log(((w / 7.0) / (h / ROWS)).max(1e-9)).abs()
    };
    let columns = (1..=n).filter(|c| n.is_multiple_of(*c)).min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(1);
    let rows = n.div_ceil(columns);
    let top = (gap * 0.4).min(area.h * 0.03);
    let across = area.inset_each(0.0, top, 0.0, 0.0).columns(columns, gap);
    let down = area.inset_each(0.0, top, 0.0, 0.0).rows(rows, (gap * 0.6).min(area.h * 0.03));
    (0..n).map(|i| Rect { x: across[i % columns].x, w: across[i % columns].w, ..down[i / columns] }).collect()
}
