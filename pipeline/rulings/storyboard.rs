//! Storyboard: picture frames with lines for what happens.

use super::params::{Colour, Pitch, pen};
use super::parts::{Grid, frame, gutter};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::drawing::{Path, Stroke};
use base::model::{Drawing, Mm, Rect};
use draw::Pen;
use draw::ruling::fits;
use serde::Deserialize;

/// Frames of one shape, each with lines below.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Storyboard {
    /// Width of a frame for a height of 1; 1.778 is 16 : 9.
    /// Range: 0.4 to 4.
    ratio: f64,
    /// Frames side by side on each paper; by default as many as fill it best.
    /// Range: 1 to 8.
    columns: Option<usize>,
    /// Lines below each frame; by default two and as many more as fill the page.
    /// Range: 0 to 20.
    lines: Option<usize>,
    /// Distance of the lines; narrow by default.
    /// Range: 2 to 50 mm.
    pitch: Pitch,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Storyboard {
    fn default() -> Storyboard {
        Storyboard { ratio: 16.0 / 9.0, columns: None, lines: None, pitch: Pitch(6.35), weight: None, colour: None }
    }
}

/// By how much of a row lines stand nearer to their frame than a whole row.
const NEAR: f64 = 0.15;

/// How frames lie on an area.
struct Form {
    columns: usize,
    rows: usize,
    gap: f64,
    /// Width and height of a frame.
    w: f64,
    h: f64,
    /// Lines below it.
    lines: usize,
    /// Height of a frame with its lines and the free space below, in pitches.
    tall: usize,
}

impl Ruling for Storyboard {
    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, self.weight, self.colour);
        for area in &context.areas {
            let area = frame(*area);
            let best = match self.columns {
                Some(c) => self.form(area, c),
                None => self.best(area),
            };
            self.frames(&mut d, &pen, context.corner, area, &best);
        }
        d
    }
}

impl Storyboard {
    /// The form with the most room to draw, of those with frames neither too small nor too large to draw in.
    fn best(&self, area: Rect) -> Form {
        let drawn = |f: &Form| f.w * f.h * (f.columns * f.rows) as f64;
        (2..=5)
            .chain([1])
            .map(|c| self.form(area, c))
            .filter(|f| f.rows > 0 && (Mm(40.0).pt()..=Mm(95.0).pt()).contains(&f.w))
            .max_by(|a, b| drawn(a).total_cmp(&drawn(b)))
            .unwrap_or_else(|| self.form(area, 1))
    }

    fn form(&self, area: Rect, columns: usize) -> Form {
        let (pitch, gap) = (self.pitch.pt(), gutter(area));
        let all = Grid::new(area, pitch).rows;
        let mut lines = self.lines.unwrap_or(2);
        let mut w = ((area.w - gap * (columns - 1) as f64) / columns as f64).max(0.0);
        let mut h = w / self.ratio;
        // A frame that is too high for the area becomes narrower.
        let most = all.saturating_sub(lines) as f64 * pitch;
        if h > most {
            (w, h) = (most * self.ratio, most);
        }
        // Rows that the frame takes: the first line below it stands a whole row off at least.
        let rise = ((h - 1e-6) / pitch).ceil().max(0.0) as usize;
        let free = usize::from(self.lines != Some(0) || rise as f64 * pitch - h < pitch * 0.5);
        let last = rise + lines;
        let mut tall = last + free;
        // The free row below the last row of frames need not fit.
        let rows = if all < last || h < pitch { 0 } else { 1 + (all - last) / tall };
        if self.lines.is_none() && rows > 0 {
            let more = (all + free - rows * tall) / rows;
            lines += more;
            tall += more;
        }
        Form { columns, rows, gap, w, h, lines, tall }
    }

    fn frames(&self, d: &mut Drawing, pen: &Pen, corner: f64, area: Rect, form: &Form) {
        // A frame that stands alone has its lines a little farther apart, so that they end on the foot.
        let (mut pitch, mut lines) = (self.pitch.pt(), form.lines);
        if form.rows == 1 && self.lines.is_none() {
            lines = fits(area.h - form.h + NEAR * pitch, pitch).max(1);
            pitch = (area.h - form.h) / (lines as f64 - NEAR);
        }
        let total = form.columns as f64 * form.w + (form.columns - 1) as f64 * form.gap;
        let left = area.x + (area.w - total).max(0.0) / 2.0;
        // Lines stand closer to their own frame than to the next; what is then free at the foot goes between the rows: all of
        // it, unless the lines are asked for.
        let below = |line: usize| form.h + (line as f64 - NEAR) * pitch;
        let high = if lines > 0 { below(lines) } else { form.h };
        let used = form.rows.saturating_sub(1) as f64 * form.tall as f64 * pitch + high;
        let free = (area.h - used).max(0.0) / form.rows.saturating_sub(1).max(1) as f64;
        let step = form.tall as f64 * pitch + if self.lines.is_some() { free.min(pitch) } else { free };
        for r in 0..form.rows {
            for c in 0..form.columns {
                let x = left + c as f64 * (form.w + form.gap);
                let frame = Rect::new(x, area.y + r as f64 * step, form.w, form.h);
                let stroke = Stroke::new(pen.weight * 1.3, pen.dot);
                d.stroke(Path::rounded(frame, corner.min(Mm(1.6).pt())), stroke);
                for i in 1..=lines {
                    let y = frame.y + below(i);
                    if y <= area.bottom() + 1e-6 {
                        d.line(x, y, x + form.w, y, pen.rule());
                    }
                }
            }
        }
    }
}
