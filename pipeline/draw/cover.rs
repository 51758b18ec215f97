//! stub
use super::Fonts;
use crate::model::product::{Cover, Style};
use crate::model::{Drawing, Rect, Size, drawing::Path};
/// stub
pub fn draw(c: &Cover, _s: &Style, size: Size, _spread: bool, _k: f64, _f: &Fonts) -> Drawing {
    let mut d = Drawing::new();
    d.fill(Path::rect(Rect::page(size)), c.colour);
    d
}
