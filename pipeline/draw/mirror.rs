//! Drawings for languages that are written from right to left: everything changes sides, and nothing is seen in a mirror.
//!
//! Pages are drawn once, as for a language that runs from left to right, and then mirrored about their middle: outlines
//! are, while texts, pictures and art move as boxes and stay readable. So no ruling needs to know of it.

use crate::Fonts;
use base::model::drawing::{Shape, TextRun, Turn};
use base::model::{Drawing, Point, Rect};
use std::borrow::Cow;
use unicode_bidi::{BidiClass, bidi_class};

/// Makes what follows it run from right to left, and is not seen.
const RIGHT_TO_LEFT_MARK: char = '\u{200f}';

/// A rectangle on the other side of a page that is so wide.
pub fn rect(r: Rect, width: f64) -> Rect {
    Rect { x: width - r.right(), ..r }
}

/// A rectangle on the other side of a room.
pub fn rect_within(r: Rect, room: Rect) -> Rect {
    rect(r, room.x + room.right())
}

/// A drawing on a page that is so wide, mirrored about its middle. Forms that it places must be mirrored on the same width.
pub fn drawing(from: Drawing, width: f64, fonts: &Fonts) -> Drawing {
    let mut out = Drawing::new();
    out.shapes = from.shapes.into_iter().map(|s| shape(s, width, fonts)).collect();
    out.cuts = from.cuts;
    for cut in &mut out.cuts {
        cut.room = rect(cut.room, width);
    }
    out
}

fn shape(shape: Shape, width: f64, fonts: &Fonts) -> Shape {
    let point = |p: Point| Point::new(width - p.x, p.y);
    match shape {
        Shape::Path { path, fill, stroke } => Shape::Path { path: path.moved(point), fill, stroke },
        Shape::Tiled { path, picture, side, ground } => Shape::Tiled { path: path.moved(point), picture, side, ground },
        Shape::Graded { path, grade } => Shape::Graded { path: path.moved(point), grade: grade.at(point) },
        Shape::GradedText { run, grade } => Shape::GradedText { run: text(run, width, fonts), grade: grade.at(point) },
        Shape::Dots { at, diameter, colour } => {
            Shape::Dots { at: at.into_iter().map(point).collect(), diameter, colour }
        }
        Shape::Text(run) => Shape::Text(text(run, width, fonts)),
        Shape::Picture { picture, at, turn } => Shape::Picture { picture, at: rect(at, width), turn: -turn },
        Shape::Art { art, at, clip } => {
            let moved = rect(at, width);
            // What is cut off stays cut off.
            Shape::Art { art, at: moved, clip: Rect { x: moved.x + clip.x - at.x, ..clip } }
        }
        Shape::Form { form, at, scale } => {
            Shape::Form { form, at: Point::new(width - at.x - scale * width, at.y), scale }
        }
    }
}

/// A text as a box: what was flush left is flush right, and what read downwards on the right edge reads upwards on the left.
fn text(run: TextRun, width: f64, fonts: &Fonts) -> TextRun {
    let wide = fonts.width(run.role, &run.text, run.size, run.tracking);
    let (at, turn) = match run.turn {
        Turn::None => (Point::new(width - run.at.x - wide, run.at.y), Turn::None),
        Turn::Down => (Point::new(width - run.at.x, run.at.y + wide), Turn::Up),
        Turn::Up => (Point::new(width - run.at.x, run.at.y - wide), Turn::Down),
    };
    let text = directed(&run.text).into_owned();
    TextRun { text, at, turn, ..run }
}

/// The text with a mark before it where it would run from left to right by its first letter, while its surroundings run
/// from right to left: a name that begins with a Latin word, the number of a list with its full stop, a piece of a line
/// with a space at its end.
fn directed(text: &str) -> Cow<'_, str> {
    let class = |c: char| bidi_class(c);
    let strong = |c: char| matches!(class(c), BidiClass::L | BidiClass::R | BidiClass::AL);
    let backwards = |c: char| matches!(class(c), BidiClass::R | BidiClass::AL);
    let first = text.chars().find(|c| strong(*c));
    let needed = match first {
        Some(first) if backwards(first) => false,
        Some(_) => text.chars().any(backwards) || text.starts_with(' ') || text.ends_with(' '),
        None => text.ends_with(['.', ':', ')', ' ']) && text.chars().any(char::is_numeric),
    };
    if needed { Cow::Owned(format!("{RIGHT_TO_LEFT_MARK}{text}")) } else { Cow::Borrowed(text) }
}
