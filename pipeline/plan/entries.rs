//! An entry of the index: its number or icon, and what surrounds it.

use super::builder::Builder;
use super::labels::LEAST_TYPE;
use base::colour;
use base::model::drawing::{Path, Stroke};
use base::model::look::Index;
use base::model::product::Style;
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
    /// The baseline of a name in one line.
    pub baseline: Option<f64>,
    /// Corner radius of boxes in points.
    pub radius: f64,
}

/// What the number of a section stands on, or beside: the section's colour, seen on the paper however pale it is.
pub fn chip(own: Rgb, style: &Style) -> Rgb {
    colour::deepened(own, style.paper, style.ink, LEAST_OF_CHIPS)
}

/// The least contrast of a chip to the paper.
const LEAST_OF_CHIPS: f64 = 1.5;

/// The least contrast of a number to its chip (WCAG 2.2, 1.4.3).
const LEAST_OF_NUMBERS: f64 = 4.5;

/// The colour of a number on a chip: the ink or the paper, deepened where neither stands out enough.
fn on(chip: Rgb, style: &Style) -> Rgb {
    let plain = colour::label_on(chip, style.ink, style.paper);
    let dark = colour::darker(plain, chip) == plain;
    let (near, far) = if dark { (Rgb::BLACK, Rgb::WHITE) } else { (Rgb::WHITE, Rgb::BLACK) };
    let set = colour::deepened(plain, chip, near, LEAST_OF_NUMBERS);
    // On every colour, black or white stands out by 4.58 at least.
    if colour::contrast(set, chip) >= LEAST_OF_NUMBERS {
        set
    } else {
        colour::deepened(plain, chip, far, LEAST_OF_NUMBERS)
    }
}

/// Draws the number and its surroundings in the style's manner.
pub fn draw(b: &Builder, d: &mut Drawing, entry: Entry) {
    let style = &b.product.style;
    let Entry { number, icon, colour: pale, cell, numeral, baseline, radius } = entry;
    let own = chip(pale, style);
    let tint = colour::mix(style.paper, own, 0.14);
    let line = colour::mix(style.paper, own, 0.75);
    let on = on(own, style);
    // Read in a low entry too, as far as there is room.
    let least = LEAST_TYPE.min(cell.h * 0.8);
    let figure = |size: f64, colour| Setting::new(Role::Heading, size.min(numeral.w * 0.6).max(least), colour);
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
            let bar = bar.inset_each(0.0, cell.h * FOOT_OF_LINES, 0.0, cell.h * FOOT_OF_LINES);
            d.fill_stroke(
                Path::rounded(bar, bar.w / 2.0),
                own,
                Stroke::new(0.4, colour::deepened(own, style.paper, style.ink, 1.6)),
            );
            let ink = colour::deepened(own, style.paper, style.ink, 4.5);
            let figure = figure(cell.h * 0.6, ink);
            let line = cell.y + cell.h * LINE;
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
            // The strip has the card's own corners, however low it is: the rest of the card lies over it.
            let strip = strip(cell);
            let top = Rect { h: strip.h.max(2.0 * radius), ..cell };
            let rest = Rect { y: strip.bottom(), h: cell.h - strip.h, ..cell };
            d.fill(Path::rounded_each(top, [radius, radius, 0.0, 0.0]), own);
            d.fill(Path::rounded_each(rest, [0.0, 0.0, radius, radius]), style.paper);
            d.stroke(Path::rounded(cell, radius), Stroke::new(0.6, line));
            let ink = colour::deepened(own, style.paper, style.ink, 4.5);
            let below = Rect { y: strip.bottom(), h: cell.h - strip.h, ..numeral };
            let figure = figure(cell.h * 0.5, ink);
            match baseline.filter(|_| icon.is_none()) {
                // Number and name stand on one line.
                Some(y) => figure.draw(d, b.fonts, &text, below.centre().x, y, Align::Centre),
                None => mark(d, figure, below, false),
            }
        }
    }
}

/// The share of an entry's height above the line that its name stands on.
const LINE: f64 = 0.74;

/// The share of a line's height that is empty at its head and at its foot.
pub const FOOT_OF_LINES: f64 = 0.18;

/// The strip on top of a card.
fn strip(cell: Rect) -> Rect {
    Rect { h: (cell.h * 0.2).max(3.0), ..cell }
}

/// How far down the line of an entry lies, whose name is set in so many lines and takes so much height above it. On a card two
/// lines stand in the middle of what its strip leaves.
pub fn line(manner: Index, cell: Rect, lines: usize, high: f64) -> f64 {
    let usual = cell.y + cell.h * LINE;
    if manner != Index::Cards || lines < 2 {
        return usual;
    }
    let middle = (strip(cell).bottom() + cell.bottom()) / 2.0;
    (middle + high / 2.0).min(cell.bottom() - 1.0).max(usual)
}

#[cfg(test)]
mod tests {
    use super::*;
    use base::model::Mm;
    use std::collections::BTreeMap;

    fn style(paper: Rgb, ink: Rgb) -> Style {
        Style {
            fonts: BTreeMap::new(),
            ink,
            rule: ink,
            paper,
            desk: paper,
            accent: ink,
            corner: Mm(2.0),
            manner: Default::default(),
        }
    }

    /// On cards of every height that are read: clear of the strip above and of the edge below, with as much air on both sides.
    #[test]
    fn two_lines_stand_in_the_middle_of_a_card() {
        for tenths in 90..=260 {
            let cell = Rect::new(0.0, 40.0, 200.0, Mm(f64::from(tenths) / 10.0).pt());
            for size in [7.0, 8.0, 9.0, 12.5_f64] {
                let size = size.min(cell.h * 0.28);
                let high = size * (0.34 + 1.12 + 0.7);
                let line = line(Index::Cards, cell, 2, high);
                let (above, below) = (line - high - strip(cell).bottom(), cell.bottom() - line);
                assert!(above >= 1.0 && below >= 1.0, "{tenths} {size}: {above} and {below}");
                let usual = cell.y + cell.h * LINE;
                assert!((above - below).abs() < 1e-6 || line == usual && above > below, "{tenths} {size}");
                // One line, and other manners, stand where they did.
                assert_eq!(super::line(Index::Cards, cell, 1, high), usual);
                assert_eq!(super::line(Index::Boxes, cell, 2, high), usual);
            }
        }
    }

    /// Whatever the section's colour, on light papers and dark ones.
    #[test]
    fn chips_are_seen_and_their_numbers_are_read() {
        let papers = [(0xff, 0x11), (0xfc, 0x2b), (0xf3, 0x4a), (0x1f, 0xef), (0x00, 0xff)];
        let steps = [0, 36, 73, 109, 127, 146, 182, 219, 238, 255];
        for (paper, ink) in papers.map(|(p, i)| (Rgb::new(p, p, p), Rgb::new(i, i, i))) {
            let style = style(paper, ink);
            for (r, g) in steps.into_iter().flat_map(|r| steps.map(|g| (r, g))) {
                for own in steps.map(|b| Rgb::new(r, g, b)) {
                    let chip = chip(own, &style);
                    assert!(colour::contrast(chip, paper) >= LEAST_OF_CHIPS, "{own} on {paper}");
                    let number = on(chip, &style);
                    assert!(colour::contrast(number, chip) >= LEAST_OF_NUMBERS, "{number} on {chip}");
                    // What was seen and read stays as it is.
                    if colour::contrast(own, paper) >= LEAST_OF_CHIPS {
                        assert_eq!(chip, own);
                        let plain = colour::label_on(own, ink, paper);
                        assert!(number == plain || colour::contrast(plain, own) < LEAST_OF_NUMBERS);
                    }
                }
            }
        }
    }
}
