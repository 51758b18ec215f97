//! The kit that every motif is built with: tones from the sticker's colour, one stroke, one radius, cards with
//! heads, writing lines. What all motifs share stands here, so that the set cannot drift apart.

use super::MotifContext;
use super::icons::{self, Icon, Tones};
use crate::Fonts;
use crate::text::{Align, Setting};
use base::colour;
use base::model::drawing::{Path, Role};
use base::model::units::PT_PER_MM;
use base::model::{Drawing, Point, Rect, Rgb, Size, Stroke};

/// The one weight of outlines, in points.
pub const STROKE: f64 = 1.7;
/// Weight of writing lines, in points: lighter than what frames them.
pub const RULE: f64 = 0.8;
/// Distance of writing lines in mm.
pub const LINE: f64 = 7.0;
/// Height of a card's head in mm.
pub const HEAD: f64 = 10.5;
/// From a head to the first writing line in mm.
pub const FIRST: f64 = 9.0;
/// The most contrast to the paper that a fill has.
const DARKEST: f64 = 6.0;
/// The smallest type, in points.
const LEAST: f64 = 8.0;
/// Line pitch of set words, in their size.
const LEAD: f64 = 1.25;
/// Clear space at the sides of a card in mm.
pub const SIDE: f64 = 5.0;

/// Millimetres in points.
pub fn mm(v: f64) -> f64 {
    v * PT_PER_MM
}

/// A motif in the making.
pub struct MotifBuilder<'a> {
    /// What has been drawn.
    pub d: Drawing,
    size: Size,
    /// The product's fonts.
    pub fonts: &'a Fonts,
    /// The heading or word: the sticker's own label, or the motif's.
    pub label: String,
    /// Letters of the days.
    pub weekdays: [&'a str; 7],
    /// Captions.
    pub words: &'static super::MotifWords,
    /// Whether what is drawn is mirrored afterwards.
    pub right_to_left: bool,
    /// The sticker's colour as it is.
    pub base: Rgb,
    /// Ground of cards: the paper with a breath of the colour.
    pub ground: Rgb,
    /// Ground of heads and badges: a clear tint.
    pub soft: Rgb,
    /// Outlines.
    pub line: Rgb,
    /// Words: a deep shade, at least 7 : 1 on the ground.
    pub deep: Rgb,
    /// Writing lines.
    pub write: Rgb,
    /// Ink or paper, whichever reads better on the colour.
    pub on_base: Rgb,
    /// Clean paper: cells to fill.
    pub paper: Rgb,
    /// Corner radius in points.
    pub radius: f64,
}

impl<'a> MotifBuilder<'a> {
    /// A kit in the tones of the context's colour.
    pub fn new(context: &MotifContext<'a>, heading: &str) -> MotifBuilder<'a> {
        let (paper, ink) = (context.style.paper, context.style.ink);
        // A colour almost as dark as ink is lightened a little: outlines must still show on it.
        let base = match colour::contrast(context.colour, paper) {
            c if c > DARKEST => colour::at_contrast(paper, context.colour, DARKEST),
            _ => context.colour,
        };
        let ground = colour::mix(paper, base, 0.07);
        let soft = colour::mix(paper, base, 0.30);
        let far = colour::mix(base, ink, 0.35);
        let line = (colour::contrast(base, ground) * 1.75).max(3.4);
        MotifBuilder {
            d: Drawing::new(),
            size: Size::new(0.0, 0.0),
            fonts: context.fonts,
            label: context.label.unwrap_or(heading).trim().to_owned(),
            weekdays: context.weekdays,
            right_to_left: context.right_to_left,
            words: context.words,
            base,
            ground,
            soft,
            line: tone(base, ground, ink, line),
            deep: tone(base, soft, ink, 6.5),
            write: colour::at_contrast(ground, far, 1.9),
            on_base: colour::label_on(base, ink, paper),
            paper,
            radius: context.style.corner.pt().clamp(mm(1.2), mm(3.2)),
        }
    }

    /// Says how large the motif is, in mm, and gives the rectangle on whose edge its outline runs.
    pub fn sized(&mut self, w: f64, h: f64) -> Rect {
        self.size = Size::new(mm(w), mm(h));
        Rect::page(self.size).inset(STROKE / 2.0)
    }

    /// The drawing and its size.
    pub fn done(self) -> (Drawing, Size) {
        (self.d, self.size)
    }

    /// The outline stroke.
    pub fn outline(&self) -> Stroke {
        Stroke::new(STROKE, self.line).round()
    }

    /// The stroke of writing lines.
    pub fn rule(&self) -> Stroke {
        Stroke::new(RULE, self.write).round()
    }

    /// A filled and outlined shape.
    pub fn shape(&mut self, path: Path, fill: Rgb) {
        let stroke = self.outline();
        self.d.fill_stroke(path, fill, stroke);
    }

    /// A filled and outlined box with the set's corners.
    pub fn cell(&mut self, r: Rect, fill: Rgb) {
        self.shape(Path::rounded(r, self.radius.min(r.h * 0.28)), fill);
    }

    /// A card over the whole motif.
    pub fn card(&mut self, w: f64, h: f64) -> Rect {
        let r = self.sized(w, h);
        self.shape(Path::rounded(r, self.radius), self.ground);
        r
    }

    /// A card with a head: the label, an icon at the right, the outline over both. Gives the area below the head.
    pub fn headed_card(&mut self, w: f64, h: f64, icon: Icon) -> Rect {
        let r = self.card(w, h);
        let head = Rect::new(r.x, r.y, r.w, mm(HEAD));
        self.d.fill(Path::rounded_each(head, [self.radius, self.radius, 0.0, 0.0]), self.soft);
        let stroke = self.outline();
        self.d.line(r.x, head.bottom(), r.right(), head.bottom(), stroke);
        self.d.stroke(Path::rounded(r, self.radius), stroke);
        let room = head.inset_each(mm(SIDE), 0.0, mm(13.0), 0.0);
        self.heading(room, Align::Left);
        self.icon(icon, Point::new(head.right() - mm(7.2), head.centre().y), mm(7.4));
        Rect::new(r.x, head.bottom(), r.w, r.bottom() - head.bottom())
    }

    /// The label as a heading in a box: shrunk when it is long, cut with an ellipsis when it is longer still; a
    /// writing line when it is empty.
    pub fn heading(&mut self, room: Rect, align: Align) {
        if self.label.is_empty() {
            let (y, stroke) = (room.centre().y + mm(2.4), self.rule());
            self.d.line(room.x, y, room.right(), y, stroke);
            return;
        }
        let text = self.label.clone();
        self.words(&text, Role::Heading, 16.0, self.deep, room, align);
    }

    /// Words in a box, shrunk and at last cut to fit.
    pub fn words(&mut self, text: &str, role: Role, size: f64, colour: Rgb, room: Rect, align: Align) {
        let set = Setting::new(role, size, colour).fitted(self.fonts, [text], room.w, LEAST);
        set.draw_in(&mut self.d, self.fonts, text, room, align);
    }

    /// The label in a box, as large as it fits: on one line while that stays large, else on two or three.
    pub fn block(&mut self, room: Rect, role: Role, size: f64, colour: Rgb, align: Align) {
        let label = self.label.clone();
        let fits = |set: &Setting, lines: &[String]| {
            lines.len() as f64 * set.size * LEAD <= room.h
                && lines.len() <= 3
                && lines.iter().all(|l| set.width(self.fonts, l) <= room.w)
        };
        let mut set = Setting::new(role, size, colour);
        let mut lines = set.wrap_whole(self.fonts, &label, room.w);
        while set.size > LEAST && !fits(&set, &lines) {
            set = set.sized((set.size - 0.5).max(LEAST));
            lines = set.wrap_whole(self.fonts, &label, room.w);
        }
        // Smaller it cannot be: now words may be broken.
        let whole = fits(&set, &lines);
        if !whole {
            lines = set.wrap(self.fonts, &label, room.w);
        }
        // Even lines read better than a full one and a lone word: narrow the measure while the number of lines holds.
        for share in (50..100).map(|p| f64::from(p) / 100.0) {
            let even = set.wrap_whole(self.fonts, &label, room.w * share);
            if whole && even.len() == lines.len() && fits(&set, &even) {
                lines = even;
                break;
            }
        }
        let most = ((room.h / (set.size * LEAD)) as usize).clamp(1, 3);
        if lines.len() > most {
            lines = set.wrap_to(self.fonts, &label, room.w, most);
        }
        let pitch = set.size * LEAD;
        let top = room.centre().y - pitch * lines.len() as f64 / 2.0;
        for (i, line) in lines.iter().enumerate() {
            let row = Rect::new(room.x, top + pitch * i as f64, room.w, pitch);
            set.draw_in(&mut self.d, self.fonts, line, row, align);
        }
    }

    /// Small words that say what a field is for, their baseline at `y`.
    pub fn caption(&mut self, text: &str, x: f64, y: f64, align: Align) {
        Setting::new(Role::Label, 8.5, self.deep).draw(&mut self.d, self.fonts, text, x, y, align);
    }

    /// A small letter or number centred on a point.
    pub fn letter(&mut self, text: &str, at: Point, size: f64, colour: Rgb) {
        let room = Rect::new(at.x - mm(8.0), at.y - mm(4.0), mm(16.0), mm(8.0));
        Setting::new(Role::LabelBold, size, colour).draw_in(&mut self.d, self.fonts, text, room, Align::Centre);
    }

    /// `n` writing lines below a card's head, between the side margins moved in by `left` mm.
    pub fn lines(&mut self, body: Rect, n: usize, left: f64) -> Vec<f64> {
        let stroke = self.rule();
        let ys: Vec<f64> = (0..n).map(|i| body.y + mm(FIRST + LINE * i as f64)).collect();
        for y in &ys {
            self.d.line(body.x + mm(SIDE + left), *y, body.right() - mm(SIDE), *y, stroke);
        }
        ys
    }

    /// A field: a line with a small caption standing on its left end.
    pub fn field(&mut self, caption: &str, x0: f64, x1: f64, y: f64) {
        self.caption(caption, x0, y - mm(1.2), Align::Left);
        let stroke = self.rule();
        self.d.line(x0, y, x1, y, stroke);
    }

    /// A strip with a badge at its left end. Gives the area beside the badge.
    pub fn strip(&mut self, w: f64, h: f64, icon: Icon) -> Rect {
        let r = self.card(w, h);
        let badge = Rect::new(r.x, r.y, mm(h), r.h);
        self.d.fill(Path::rounded_each(badge, [self.radius, 0.0, 0.0, self.radius]), self.soft);
        let stroke = self.outline();
        self.d.line(badge.right(), r.y, badge.right(), r.bottom(), stroke);
        self.d.stroke(Path::rounded(r, self.radius), stroke);
        self.icon(icon, badge.centre(), mm(h * 0.62));
        Rect::new(badge.right(), r.y, r.right() - badge.right(), r.h)
    }

    /// An icon centred on a point, `size` points across; its lines keep the one weight at any size.
    pub fn icon(&mut self, icon: Icon, at: Point, size: f64) {
        let tones = Tones { base: self.base, soft: self.soft, paper: self.paper, line: self.outline() };
        icons::draw(&mut self.d, icon, at, size, tones);
    }
}

/// The colour's own hue and chroma, as light or dark as it takes to stand out from `ground` by `ratio`; moved
/// on towards the ink where the hue alone does not reach it.
fn tone(base: Rgb, ground: Rgb, ink: Rgb, ratio: f64) -> Rgb {
    let [_, chroma, hue] = colour::to_oklch(base);
    let darker = colour::luminance(ink) < colour::luminance(ground);
    let (mut near, mut far) = (if darker { 1.0 } else { 0.0 }, if darker { 0.16 } else { 0.97 });
    for _ in 0..20 {
        let mid = (near + far) / 2.0;
        if colour::contrast(colour::oklch(mid, chroma, hue), ground) < ratio { near = mid } else { far = mid }
    }
    let found = colour::oklch(far, chroma, hue);
    if colour::contrast(found, ground) + 0.05 >= ratio { found } else { colour::at_contrast(ground, ink, ratio) }
}
