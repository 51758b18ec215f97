//! Sizes that a description states, such as `240 × 180 mm`, against those of pages and pictures.

use super::numbers::decimal;
use crate::validate::catalogue::{Findings, found};
use crate::validate::pages::sides;
use base::model::facts::{Facts, Inspected};
use base::model::units::trim_number;
use base::model::{SourceSpan, Where};

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
    /// Neither: two numbers that stand to each other as the sides do.
    Proportions,
}

/// Checks the lines of a description.
pub fn check(file: &Inspected, text: &str, german: bool, files: &[Inspected], findings: &mut Findings) {
    let truth = Truth::of(files);
    if truth.points.is_empty() {
        return;
    }
    for (n, line) in text.lines().enumerate() {
        let all = sizes(line, german).into_iter().chain(proportions(line)).chain(sheets(line));
        for size in all.filter(|size| !truth.has(size)) {
            let stated = &line[size.from..size.to];
            let column = line[..size.from].chars().count() + 1;
            let span =
                SourceSpan { line: n + 1, column, text: line.to_owned(), width: stated.chars().count(), file: None };
            let real: Vec<String> = truth.points.iter().take(3).map(|p| words(*p, size.unit)).collect();
            found!(
                findings,
                "claim-size-wrong",
                Where::file(&file.path).span(span),
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
            Unit::Pixels | Unit::Proportions => {
                let alike = |[w, h]: [f64; 2]| h > 0.0 && b > 0.0 && ((a / b) / (w / h) - 1.0).abs() <= PROPORTIONS;
                either(&self.points, &alike) || either(&self.pixels, &|size| size == [a, b])
            }
        }
    }
}

/// The sizes of a line: two numbers with a cross or `by` between them, and a unit behind the second or both.
fn sizes(line: &str, german: bool) -> Vec<Size> {
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(digit) = line[at..].find(|c: char| c.is_ascii_digit()) {
        let from = at + digit;
        at = from + decimal(&line[from..], german).map_or(1, |n| n.2);
        if let Some(size) = size(line, from, german) {
            at = size.to;
            out.push(size);
        }
    }
    out
}

/// Words of which one stands beside the proportions of a page.
const SAY_PROPORTIONS: [&str; 4] = ["proportion", "ratio", "aspect", "verh\u{e4}ltnis"];

/// Proportions, such as `4 : 3`, in a line that speaks of them.
fn proportions(line: &str) -> Option<Size> {
    let lower = line.to_lowercase();
    if !SAY_PROPORTIONS.iter().any(|word| lower.contains(word)) {
        return None;
    }
    let colon = line.match_indices(':').map(|(at, _)| at).find_map(|at| {
        let (before, behind) = (line[..at].trim_end(), line[at + 1..].trim_start());
        // `1 : 1.414`, and `1 : 1,414` in German; a mark at the end is that of the sentence.
        let of_number = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
        let from = before.trim_end_matches(of_number).len();
        let end = behind.find(|c: char| !of_number(c)).unwrap_or(behind.len());
        let end = behind[..end].trim_end_matches(['.', ',']).len();
        let side = |text: &str| text.replace(',', ".").parse().ok();
        let sides = [side(&before[from..])?, side(&behind[..end])?];
        Some((sides, from, line.len() - behind.len() + end))
    });
    let (sides, from, to) = colon.filter(|(sides, ..): &([f64; 2], usize, usize)| sides.iter().all(|v| *v > 0.0))?;
    Some(Size { sides, rounding: 0.0, unit: Unit::Proportions, from, to })
}

/// Sizes by name: the A series of ISO 216 and the letter of North America, in millimetres.
const SHEETS: [(&str, [f64; 2]); 5] = [
    ("A3", [297.0, 420.0]),
    ("A4", [210.0, 297.0]),
    ("A5", [148.0, 210.0]),
    ("A6", [105.0, 148.0]),
    ("Letter", [215.9, 279.4]),
];
/// What such a name is said of when it is said of the pages.
const OF_PAGES: [&str; 8] = ["page", "pages", "size", "format", "landscape", "portrait", "seiten", "gr\u{f6}\u{df}e"];

/// A size by its name, said of the pages: `A5 pages`.
fn sheets(line: &str) -> Option<Size> {
    let words: Vec<&str> = line.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    words.windows(2).find_map(|pair| {
        let (_, sides) = SHEETS.iter().find(|(name, _)| *name == pair[0])?;
        if !OF_PAGES.contains(&pair[1].to_lowercase().as_str()) {
            return None;
        }
        let from = pair[0].as_ptr() as usize - line.as_ptr() as usize;
        let to = from + pair[0].len();
        Some(Size { sides: *sides, rounding: 0.5, unit: Unit::Points(72.0 / 25.4), from, to })
    })
}

fn size(line: &str, from: usize, german: bool) -> Option<Size> {
    let (first, places, length) = decimal(&line[from..], german)?;
    let rest = line[from + length..].trim_start();
    let rest = unit(rest).map_or(rest, |(_, length)| rest[length..].trim_start());
    let rest = ["\u{d7}", "x", "X", "by ", "mal "].iter().find_map(|cross| rest.strip_prefix(cross))?.trim_start();
    let (second, others, length) = decimal(rest, german)?;
    let behind = rest[length..].trim_start_matches([' ', '\u{a0}', '-']);
    let (unit, length) = unit(behind)?;
    let rounding = 0.5 * 10f64.powi(-(places.min(others) as i32));
    // `behind` is a part of the line, so that its place in it is the difference of the addresses.
    let to = behind.as_ptr() as usize - line.as_ptr() as usize + length;
    Some(Size { sides: [first, second], rounding, unit, from, to })
}

fn unit(text: &str) -> Option<(Unit, usize)> {
    const MARKS: [(&str, f64); 2] = [("\"", 72.0), ("\u{2033}", 72.0)];
    const WORDS: [(&str, Unit); 11] = [
        ("mm", Unit::Points(72.0 / 25.4)),
        ("cm", Unit::Points(720.0 / 25.4)),
        ("in", Unit::Points(72.0)),
        ("inch", Unit::Points(72.0)),
        ("inches", Unit::Points(72.0)),
        ("zoll", Unit::Points(72.0)),
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
    use super::{Unit, proportions, sheets, sizes};

    fn short(line: &str) -> Vec<([f64; 2], &str)> {
        sizes(line, false).into_iter().map(|s| (s.sides, &line[s.from..s.to])).collect()
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
        assert_eq!(proportions("sides in proportion 4 : 3").map(|s| s.sides), Some([4.0, 3.0]));
        assert_eq!(proportions("sides in proportion 1 : 1.294).").map(|s| s.sides), Some([1.0, 1.294]));
        assert_eq!(proportions("Seitenverh\u{e4}ltnis 1 : 1,414, hoch").map(|s| s.sides), Some([1.0, 1.414]));
        assert_eq!(proportions("open from 9:30, 4:3"), None);
        assert_eq!(sheets("Made for A5 pages").map(|s| s.sides), Some([148.0, 210.0]));
        assert_eq!(sheets("prints on A4 paper, bed A4"), None);
        assert_eq!(sizes("9,45 \u{d7} 7,09 Zoll", true)[0].sides, [9.45, 7.09]);
        assert_eq!(sizes("2.494 x 1.871 Pixel", true)[0].sides, [2494.0, 1871.0]);
        assert_eq!(sizes("3 x 4 px", false)[0].unit, Unit::Pixels);
        assert_eq!(sizes("3.25 x 4.5 mm", false)[0].rounding, 0.05);
    }
}
