//! Cue notes: a column for cue words beside the notes, a summary at the foot.

use super::params::{Colour, Pitch, pen};
use super::parts::{Grid, Type, fields_beside, head_rows, least_room, line_label, strong, wash};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::drawing::Path;
use base::model::{Drawing, Rect};
use serde::Deserialize;

/// Topic and date, cue words on the left, notes on the right, a summary at the foot.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct CueNotes {
    /// Distance of the rules; college ruling by default.
    /// Range: 2 to 50 mm.
    pitch: Pitch,
    /// Width of the cue column, as a share of the whole.
    /// Range: 0.15 to 0.6.
    cue: f64,
    /// Rows of the summary.
    /// Range: 0 to 20.
    summary_rows: usize,
    /// Label of the topic's field; empty for none.
    topic: String,
    /// Label of the date's field; empty for none.
    date: String,
    /// Label of the cue column; empty for none.
    cues: String,
    /// Label of the notes; empty for none.
    notes: String,
    /// Label of the summary; empty for none.
    summary: String,
    /// Width of the rules in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the rules.
    colour: Option<Colour>,
}

impl Default for CueNotes {
    fn default() -> CueNotes {
        CueNotes {
            pitch: Pitch::COLLEGE,
            cue: 0.3,
            summary_rows: 4,
            topic: "Topic".into(),
            date: "Date".into(),
            cues: "Cues".into(),
            notes: "Notes".into(),
            summary: "Summary".into(),
            weight: None,
            colour: None,
        }
    }
}

impl Ruling for CueNotes {
    fn pitch(&self) -> Option<f64> {
        Some(self.pitch.pt())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &context.with(pen(&context.pen, self.weight, self.colour));
        for area in &context.areas {
            self.page(&mut d, context, *area);
        }
        d
    }
}

impl CueNotes {
    fn page(&self, d: &mut Drawing, context: &RulingContext, area: Rect) {
        let (pen, grid) = (&context.pen, Grid::new(area, self.pitch.pt()));
        if grid.rows < 4 {
            super::lined::rules(d, pen, &grid, 1);
            return;
        }
        let set = Type::new(area, grid.pitch, pen).label;
        let head = head_rows(area, grid.pitch).min(grid.rows - 3);
        // The summary gives way where there are few rows: the notes keep at least half of them.
        let summary = self.summary_rows.min((grid.rows - head) / 3);
        let foot = grid.rows - summary;
        // The cue column lies away from the writing hand.
        let pad = grid.pitch * 0.3;
        // It is wider than asked for where its label would else be cut.
        let label = (least_room(context, set, &self.cues) + 2.0 * pad).min(area.w * 0.45);
        let cue = (area.w * self.cue).max(label);
        let split = if context.left { area.right() - cue } else { area.x + cue };

        let (topic, date) = fields_beside(context, set, grid.band(0, head), [&self.topic, &self.date]);
        line_label(d, context, set, &self.topic, topic);
        line_label(d, context, set, &self.date, date);
        let band = grid.band(head, foot);
        let (before, after) = (Rect { w: split - area.x, ..band }, Rect { x: split, w: area.right() - split, ..band });
        let (cues, beside) = if context.left { (after, before) } else { (before, after) };
        d.fill(Path::rect(cues), wash(pen));
        let notes = grid.across(if context.left { beside.x } else { beside.x + pad }, beside.w - pad);
        super::lined::rules(d, pen, &Grid { rows: foot - 1, ..notes }, head + 1);
        let inner = |r: Rect| r.inset_each(pad, 0.0, pad, 0.0);
        line_label(d, context, set, &self.cues, inner(Rect { h: grid.pitch, ..cues }));
        line_label(d, context, set, &self.notes, Rect { h: grid.pitch, ..notes.band(head, head + 1) });
        d.line(area.x, grid.y(head), area.right(), grid.y(head), strong(pen));
        d.line(split, grid.y(head), split, grid.y(foot), pen.rule());
        d.line(area.x, grid.y(foot), area.right(), grid.y(foot), strong(pen));
        if summary > 0 {
            line_label(d, context, set, &self.summary, grid.band(foot, foot + 1));
            super::lined::rules(d, pen, &grid, foot + 1);
        }
    }
}
