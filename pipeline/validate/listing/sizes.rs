//! Sizes that a description states, such as `240 × 180 mm`, against those of pages and pictures.

use crate::model::facts::{Facts, Inspected};
use crate::model::units::trim_number;
use crate::model::{Spot, Where};
use crate::validate::catalogue::{Findings, found};
use crate::validate::pages::sides;

/// Points that a size may be off besides its rounding.
const SLACK: f64 = 0.6;
/// How far the proportions of a size in pixels may be off: pixels are said of a screen, whose density is not known.
const PROPORTIONS: f64 = 0.01;

/// A size in a text.
#[derive(Debug, PartialEq)]
struct Size {
    sides: [f64; 2],
    /// Half of the last digit that is given.
    rounding: f64,
    unit: Unit,
    /// Where it stands, by bytes.
    from: usize,
    to: usize,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Unit {
    /// Points in one.
    Points(f64),
    Pixels,
}

/// Checks the lines of a description.
pub fn check(file: &Inspected, text: &str, files: &[Inspected], findings: &mut Findings) {
    let truth = Truth::of(files);
    if truth.points.is_empty() {
        return;
    }
    for (n, line) in text.lines().enumerate() {
        for size in sizes(line).into_iter().filter(|size| !truth.has(size)) {
            let stated = &line[size.from..size.to];
            let column = line[..size.from].chars().count() + 1;
            let spot = Spot { line: n + 1, column, text: line.to_owned(), width: stated.chars().count() };
            let real: Vec<String> = truth.points.iter().take(3).map(|p| words(*p, size.unit)).collect();
            found!(
                findings,
                "claim-size-wrong",
                Where::file(&file.path).spot(spot),
                "the description states the size {stated}, which no file has; pages are {}",
                real.join(" or ")
            );
        }
    }
}

/// A size in the unit of the one that is wrong.
fn words([w, h]: [f64; 2], unit: Unit) -> String {
    let (per, name) = match unit {
        Unit::Points(per) if (per - 72.0).abs() < 1e-9 => (per, "in"),
        Unit::Points(per) if per > 1.5 => (72.0 / 25.4, "mm"),
        _ => (1.0, "pt"),
    };
    let [w, h] = [w, h].map(|v| trim_number(v / per, 2));
    format!("{w} \u{d7} {h} {name}")
}

/// What sizes there are.
struct Truth {
    points: Vec<[f64; 2]>,
    stickers: Vec<[f64; 2]>,
    pixels: Vec<[f64; 2]>,
}

impl Truth {
    fn of(files: &[Inspected]) -> Truth {
        let mut truth = Truth { points: Vec::new(), stickers: Vec::new(), pixels: Vec::new() };
        for file in files {
            match &file.facts {
                Facts::Pdf(pdf) => {
                    for size in pdf.pages.iter().map(sides) {
                        if !truth.points.contains(&size) {
                            truth.points.push(size);
                        }
                    }
                }
                Facts::Png(png) => {
                    let size = [png.width, png.height].map(f64::from);
                    truth.stickers.extend(png.dpi().map(|dpi| size.map(|v| v / dpi * 72.0)));
                    truth.pixels.push(size);
                }
                _ => {}
            }
        }
        truth
    }

    fn has(&self, size: &Size) -> bool {
        let [a, b] = size.sides;
        let either = |all: &[[f64; 2]], fits: &dyn Fn([f64; 2]) -> bool| {
            all.iter().any(|[w, h]| fits([*w, *h]) || fits([*h, *w]))
        };
        match size.unit {
            Unit::Points(per) => {
                let slack = size.rounding * per + SLACK;
                let fits = |[w, h]: [f64; 2]| (a * per - w).abs() <= slack && (b * per - h).abs() <= slack;
                either(&self.points, &fits) || either(&self.stickers, &fits)
            }
            Unit::Pixels => {
                let alike = |[w, h]: [f64; 2]| h > 0.0 && b > 0.0 && ((a / b) / (w / h) - 1.0).abs() <= PROPORTIONS;
                either(&self.points, &alike) || either(&self.pixels, &|size| size == [a, b])
            }
        }
    }
}

/// The sizes of a line: two numbers with a cross or `by` between them, and a unit behind the second or both.
fn sizes(line: &str) -> Vec<Size> {
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(digit) = line[at..].find(|c: char| c.is_ascii_digit()) {
        let from = at + digit;
        at = from + number(&line[from..]).map_or(1, |n| n.2);
        if let Some(size) = size(line, from) {
            at = size.to;
            out.push(size);
        }
    }
    out
}

fn size(line: &str, from: usize) -> Option<Size> {
    let (first, places, length) = number(&line[from..])?;
    let rest = line[from + length..].trim_start();
    let rest = unit(rest).map_or(rest, |(_, length)| rest[length..].trim_start());
    let rest = ["\u{d7}", "x", "X", "by "].iter().find_map(|cross| rest.strip_prefix(cross))?.trim_start();
    let (second, others, length) = number(rest)?;
    let behind = rest[length..].trim_start_matches([' ', '\u{a0}', '-']);
    let (unit, length) = unit(behind)?;
    let rounding = 0.5 * 10f64.powi(-(places.min(others) as i32));
    // `behind` is a part of the line, so that its place in it is the difference of the addresses.
    let to = behind.as_ptr() as usize - line.as_ptr() as usize + length;
    Some(Size { sides: [first, second], rounding, unit, from, to })
}

/// A number with commas between thousands and a decimal point: its value, decimal places, and length.
fn number(text: &str) -> Option<(f64, usize, usize)> {
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, ',' | '.'))).unwrap_or(text.len());
    let digits = text[..end].trim_end_matches([',', '.']);
    let places = digits.split_once('.').map_or(0, |(_, places)| places.len());
    Some((digits.replace(',', "").parse().ok()?, places, digits.len()))
}

fn unit(text: &str) -> Option<(Unit, usize)> {
    const MARKS: [(&str, f64); 2] = [("\"", 72.0), ("\u{2033}", 72.0)];
    const WORDS: [(&str, Unit); 10] = [
        ("mm", Unit::Points(72.0 / 25.4)),
        ("cm", Unit::Points(720.0 / 25.4)),
        ("in", Unit::Points(72.0)),
        ("inch", Unit::Points(72.0)),
        ("inches", Unit::Points(72.0)),
        ("pt", Unit::Points(1.0)),
        ("points", Unit::Points(1.0)),
        ("px", Unit::Pixels),
        ("pixel", Unit::Pixels),
        ("pixels", Unit::Pixels),
    ];
    if let Some((mark, per)) = MARKS.iter().find(|(mark, _)| text.starts_with(mark)) {
        return Some((Unit::Points(*per), mark.len()));
    }
    let end = text.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(text.len());
    let word = text[..end].to_ascii_lowercase();
    WORDS.iter().find(|(name, _)| *name == word).map(|(_, unit)| (*unit, end))
}

#[cfg(test)]
mod tests {
    use super::{Unit, sizes};

    fn short(line: &str) -> Vec<([f64; 2], &str)> {
        sizes(line).into_iter().map(|s| (s.sides, &line[s.from..s.to])).collect()
    }

    #[test]
    fn sizes_are_read_in_the_ways_people_write_them() {
        assert_eq!(
            short("- 240 \u{d7} 180 mm, or 9.45x7.09in"),
            [([240.0, 180.0], "240 \u{d7} 180 mm"), ([9.45, 7.09], "9.45x7.09in")]
        );
        assert_eq!(short("5.5\" x 8.5\" pages"), [([5.5, 8.5], "5.5\" x 8.5\"")]);
        assert_eq!(short("2,494 by 1,871 pixels"), [([2494.0, 1871.0], "2,494 by 1,871 pixels")]);
        assert_eq!(short("12 x stickers, 4 : 3, 1.0.0, 27 PNG"), []);
        assert_eq!(sizes("3 x 4 px")[0].unit, Unit::Pixels);
        assert_eq!(sizes("3.25 x 4.5 mm")[0].rounding, 0.05);
    }
}
