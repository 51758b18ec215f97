//! Text layout: a line set left, right or centred; lines that share a size; paragraphs.

use super::breaks;
use super::fonts::Fonts;
use base::model::drawing::{Cut, Drawing, Role, Shape, TextRun, Turn};
use base::model::{Point, Rect, Rgb};

/// How a line is set; place it with one of the methods.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Which font.
    pub role: Role,
    /// Size in points.
    pub size: f64,
    /// Colour.
    pub colour: Rgb,
    /// Extra space between glyphs, in em.
    pub tracking: f64,
}

/// Which side of its anchor a line stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Begins at the anchor.
    Left,
    /// Is centred on the anchor.
    Centre,
    /// Ends at the anchor.
    Right,
}

/// Where a line stands that may not be wider than its room. Points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// How wide it may be.
    pub room: f64,
    /// Its anchor, left to right.
    pub x: f64,
    /// Its baseline, down from the top.
    pub y: f64,
    /// Which side of the anchor it stands on.
    pub align: Align,
}

impl Setting {
    /// A setting without tracking.
    pub const fn new(role: Role, size: f64, colour: Rgb) -> Setting {
        Setting { role, size, colour, tracking: 0.0 }
    }

    /// The same with tracking in em (capitals and small capitals take 0.05 to 0.08).
    pub const fn tracked(self, tracking: f64) -> Setting {
        Setting { tracking, ..self }
    }

    /// The same at another size.
    pub const fn sized(self, size: f64) -> Setting {
        Setting { size, ..self }
    }

    /// Width of a line in points.
    pub fn width(&self, fonts: &Fonts, text: &str) -> f64 {
        fonts.width(self.role, text, self.size, self.tracking)
    }

    /// Height of its capitals in points.
    pub fn cap(&self, fonts: &Fonts) -> f64 {
        fonts.metrics(self.role).cap * self.size
    }

    /// Draws a line whose baseline passes through `(x, y)`.
    pub fn draw(&self, to: &mut Drawing, fonts: &Fonts, text: &str, x: f64, y: f64, align: Align) {
        if text.is_empty() {
            return;
        }
        let shift = match align {
            Align::Left => 0.0,
            Align::Centre => self.width(fonts, text) / 2.0,
            Align::Right => self.width(fonts, text),
        };
        self.run(to, text, Point::new(x - shift, y), Turn::None);
    }

    /// Draws a line that is at most `room` wide: what does not fit is cut, and the drawing remembers it.
    pub fn draw_kept(&self, to: &mut Drawing, fonts: &Fonts, text: &str, line: Line) {
        let Line { room, x, y, align } = line;
        // Text that was shrunk to the width must not be cut by the rounding of it.
        let shown = self.clipped(fonts, text, room + 1e-6);
        if shown != text {
            let left = match align {
                Align::Left => x,
                Align::Centre => x - room / 2.0,
                Align::Right => x - room,
            };
            let room_box = Rect::new(left, y - self.size, room, self.size * 1.25);
            let by = self.width(fonts, text) - room;
            to.cuts.push(Cut { whole: text.to_owned(), shown: shown.clone(), by, room: room_box });
        }
        self.draw(to, fonts, &shown, x, y, align);
    }

    /// Draws a line in a box: centred up and down by the height of its capitals, aligned left, centred or right, and
    /// cut where it is too long.
    pub fn draw_in(&self, to: &mut Drawing, fonts: &Fonts, text: &str, area: Rect, align: Align) {
        let x = match align {
            Align::Left => area.x,
            Align::Centre => area.centre().x,
            Align::Right => area.right(),
        };
        let y = area.centre().y + self.cap(fonts) / 2.0;
        self.draw_kept(to, fonts, text, Line { room: area.w, x, y, align });
    }

    /// Draws a line turned by a quarter, centred in a box both ways.
    pub fn draw_turned(&self, to: &mut Drawing, fonts: &Fonts, text: &str, area: Rect, turn: Turn) {
        let (c, half, cap) = (area.centre(), self.width(fonts, text) / 2.0, self.cap(fonts) / 2.0);
        let at = match turn {
            Turn::None => Point::new(c.x - half, c.y + cap),
            Turn::Down => Point::new(c.x - cap, c.y - half),
            Turn::Up => Point::new(c.x + cap, c.y + half),
        };
        if !text.is_empty() {
            self.run(to, text, at, turn);
        }
    }

    fn run(&self, to: &mut Drawing, text: &str, at: Point, turn: Turn) {
        to.push(Shape::Text(TextRun {
            text: text.to_owned(),
            role: self.role,
            size: self.size,
            at,
            turn,
            tracking: self.tracking,
            colour: self.colour,
        }));
    }

    /// The largest size up to the setting's own, not below `least`, at which every text is at most `width` wide:
    /// lines that belong together shrink together.
    pub fn fitted<'t>(
        self,
        fonts: &Fonts,
        texts: impl IntoIterator<Item = &'t str>,
        width: f64,
        least: f64,
    ) -> Setting {
        let widest = texts.into_iter().map(|t| self.width(fonts, t)).fold(0.0, f64::max);
        if widest <= width { self } else { self.sized((self.size * width / widest).max(least)) }
    }

    /// Breaks a text into lines at most `width` wide where UAX 14 allows it (see [`breaks`]). A word is broken inside only
    /// where it alone is wider than that; what cannot be broken stands alone and juts out.
    pub fn wrap(&self, fonts: &Fonts, text: &str, width: f64) -> Vec<String> {
        self.wrap_to(fonts, text, width, usize::MAX)
    }

    /// The same with every word whole, so that a wide one juts out: for text that may be set smaller instead.
    pub fn wrap_whole(&self, fonts: &Fonts, text: &str, width: f64) -> Vec<String> {
        self.starts(fonts, text, width, false).windows(2).map(|w| breaks::shown(&text[w[0]..w[1]])).collect()
    }

    /// The same as [`Setting::wrap`] in so many lines at most, the last of which holds all that is left.
    pub fn wrap_to(&self, fonts: &Fonts, text: &str, width: f64, most: usize) -> Vec<String> {
        let mut at = self.starts(fonts, text, width, true);
        if at.len() > most.saturating_add(1) {
            at.drain(most..at.len() - 1);
        }
        at.windows(2).map(|w| breaks::shown(&text[w[0]..w[1]])).collect()
    }

    /// Where each line begins, and where the text ends.
    fn starts(&self, fonts: &Fonts, text: &str, width: f64, inside: bool) -> Vec<usize> {
        let pieces = breaks::pieces(text);
        let fits = |from: usize, to: usize| self.width(fonts, &breaks::shown(&text[from..to])) <= width;
        let end = |i: usize| pieces[i].from + pieces[i].text.len();
        let (mut starts, mut i) = (Vec::new(), 0);
        while i < pieces.len() {
            // A word: a piece, and those that begin inside of it.
            let next = (i + 1..pieces.len()).find(|n| !pieces[*n].inside).unwrap_or(pieces.len());
            let from = starts.last().copied();
            if from.is_none_or(|from| !fits(from, end(next - 1))) {
                starts.push(pieces[i].from);
                if inside && !fits(pieces[i].from, end(next - 1)) {
                    let mut from = pieces[i].from;
                    for piece in &pieces[i + 1..next] {
                        if !fits(from, piece.from + piece.text.len()) {
                            from = piece.from;
                            starts.push(from);
                        }
                    }
                }
            }
            i = next;
        }
        if !pieces.is_empty() {
            starts.push(text.len());
        }
        starts
    }

    /// Cuts a text with an ellipsis so that it is at most `width` wide: after a word, where that keeps half of what there is
    /// room for.
    pub fn clipped(&self, fonts: &Fonts, text: &str, width: f64) -> String {
        if self.width(fonts, text) <= width {
            return text.to_owned();
        }
        let mut kept: Vec<char> = text.chars().collect();
        while kept.pop().is_some() {
            let shorter = cut(&kept);
            if self.width(fonts, &shorter) <= width {
                return self.after_a_word(fonts, text, width / 2.0, kept.len()).unwrap_or(shorter);
            }
        }
        String::new()
    }

    /// The words of the first so many characters of a text with an ellipsis, if they are at least so wide.
    fn after_a_word(&self, fonts: &Fonts, text: &str, least: f64, most: usize) -> Option<String> {
        let mut kept: Vec<char> = text.chars().take(most + 1).collect();
        kept.truncate(kept.iter().rposition(|c| c.is_whitespace())?);
        let words = cut(&kept);
        (self.width(fonts, &words) >= least).then_some(words)
    }
}

/// A text that goes on.
fn cut(kept: &[char]) -> String {
    format!("{}…", kept.iter().collect::<String>().trim_end())
}
