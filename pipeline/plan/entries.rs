//! An entry of the index: its number or icon, and what surrounds it.

use super::builder::Builder;
use base::colour;
use base::model::drawing::{Path, Stroke};
use base::model::look::Index;
use base::model::{Drawing, Rect, Rgb, Role};
use draw::motifs::{ICON_GRID, Icon, IconTones, draw_icon};
use draw::text::{Align, Setting};

/// An entry.
pub struct Entry {
    /// Its number.
    pub number: usize,
    /// The icon that stands in its place.
    pub icon: Option<Icon>,
    /// Its section's colour.
    pub colour: Rgb,
    /// All of it.
    pub cell: Rect,
    /// Where the number stands.
    pub numeral: Rect,
    /// Corner radius of boxes in points.
    pub radius: f64,
}

/// Draws the number and its surroundings in the style's manner.
pub fn draw(b: &Builder, d: &mut Drawing, entry: Entry) {
    let style = &b.product.style;
    let Entry { number, icon, colour: own, cell, numeral, radius } = entry;
    let tint = colour::mix(style.paper, own, 0.14);
    let line = colour::mix(style.paper, own, 0.75);
    let on = colour::label_on(own, style.ink, style.paper);
    let figure = |size: f64, colour| Setting::new(Role::Heading, size.min(numeral.w * 0.6), colour);
    let text = b.chrome.words.figure(number);
    // A figure in the middle of an area, or the icon that stands in its place, on the section's colour or in it.
    let mark = |d: &mut Drawing, set: Setting, area: Rect, on_colour: bool| match icon {
        Some(icon) => {
            let size = (set.size * 1.2).min(area.w * 0.72).min(area.h * 0.84);
            let weight = size / ICON_GRID * 1.3;
            let tones = match on_colour {
                true => IconTones::on(own, set.colour, style.paper, weight),
                false => IconTones::of(own, style.paper, set.colour, style.paper, weight),
            };
            draw_icon(d, icon, area.centre(), size, tones);
        }
        None => set.draw_in(d, b.fonts, &text, area, Align::Centre),
    };
    match style.manner.index {
        Index::Boxes => {
            d.fill_stroke(Path::rounded(cell, radius), tint, Stroke::new(0.6, line));
            d.fill(Path::rounded_each(numeral, [radius, 0.0, 0.0, radius]), own);
            mark(d, figure(cell.h * 0.56, on), numeral, true);
        }
        Index::Lines => {
            // The number stands on the line of the name, in the section's colour, and a bar of it marks the side.
            let bar = Rect { w: (cell.h * 0.09).max(1.6), ..cell };
            let bar = bar.inset_each(0.0, cell.h * 0.18, 0.0, cell.h * 0.18);
            d.fill_stroke(
                Path::rounded(bar, bar.w / 2.0),
                own,
                Stroke::new(0.4, colour::deepened(own, style.paper, style.ink, 1.6)),
            );
            let ink = colour::deepened(own, style.paper, style.ink, 4.5);
            let figure = figure(cell.h * 0.6, ink);
            let line = cell.y + cell.h * 0.74;
            match icon {
                // It stands on the line as the number does.
                Some(_) => mark(d, figure, Rect { y: line - figure.size * 0.93, h: figure.size, ..numeral }, false),
                None => figure.draw(d, b.fonts, &text, numeral.centre().x, line, Align::Centre),
            }
        }
        Index::Discs => {
            let r = (cell.h * 0.42).min(numeral.w * 0.44);
            d.fill(Path::circle(numeral.centre(), r), own);
            d.stroke(Path::circle(numeral.centre(), r + (cell.h * 0.05).max(1.2)), Stroke::new(0.6, line));
            mark(d, figure(r * 1.15, on), numeral, true);
        }
        Index::Cards => {
            d.fill_stroke(Path::rounded(cell, radius), style.paper, Stroke::new(0.6, line));
            let strip = Rect { h: (cell.h * 0.2).max(3.0), ..cell };
            d.fill(Path::rounded_each(strip, [radius, radius, 0.0, 0.0]), own);
            let ink = colour::deepened(own, style.paper, style.ink, 4.5);
            let below = Rect { y: strip.bottom(), h: cell.h - strip.h, ..numeral };
            mark(d, figure(cell.h * 0.5, ink), below, false);
        }
    }
}

/// How much of an entry's height its name may take, against what is free in a box.
pub fn free(manner: Index) -> f64 {
    if manner == Index::Cards { 0.74 } else { 1.0 }
}
