//! Sizes that a description states, such as `240 × 180 mm`, against those of pages and pictures.

use super::numbers::decimal;
use super::vocabulary::{Lexicon, Vocabulary};
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
pub fn check(file: &Inspected, text: &str, lexicon: Lexicon, files: &[Inspected], findings: &mut Findings) {
    let truth = Truth::of(files);
    if truth.points.is_empty() {
        return;
    }
    for (n, line) in text.lines().enumerate() {
        let all = sizes(line, lexicon).into_iter().chain(proportions(line, lexicon)).chain(sheets(line, lexicon));
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
fn sizes(line: &str, lexicon: Lexicon) -> Vec<Size> {
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(digit) = line[at..].find(|c: char| c.is_ascii_digit()) {
        let from = at + digit;
        at = from + decimal(&line[from..], lexicon.comma()).map_or(1, |n| n.2);
        if let Some(size) = size(line, from, lexicon) {
            at = size.to;
            out.push(size);
        }
    }
    out
}

/// Proportions, such as `4 : 3`, in a line that speaks of them.
fn proportions(line: &str, lexicon: Lexicon) -> Option<Size> {
    let lower = line.to_lowercase();
    if !lexicon.speaks(|words| words.proportions, &lower) {
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

/// A size by its name, said of the pages: `A5 pages`.
fn sheets(line: &str, lexicon: Lexicon) -> Option<Size> {
    let words: Vec<&str> = line.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    words.windows(2).find_map(|pair| {
        let (_, sides) = SHEETS.iter().find(|(name, _)| *name == pair[0])?;
        if !lexicon.any(|words| words.of_pages, &pair[1].to_lowercase()) {
            return None;
        }
        let from = pair[0].as_ptr() as usize - line.as_ptr() as usize;
        let to = from + pair[0].len();
        Some(Size { sides: *sides, rounding: 0.5, unit: Unit::Points(72.0 / 25.4), from, to })
    })
}

fn size(line: &str, from: usize, lexicon: Lexicon) -> Option<Size> {
    let (first, places, length) = decimal(&line[from..], lexicon.comma())?;
    let rest = line[from + length..].trim_start();
    let rest = unit(rest, lexicon).map_or(rest, |(_, length)| rest[length..].trim_start());
    let words = || lexicon.tables().flat_map(|words| words.by);
    let word = || words().find_map(|word| rest.strip_prefix(word)?.strip_prefix(' '));
    let rest = ["\u{d7}", "x", "X"].iter().find_map(|cross| rest.strip_prefix(cross)).or_else(word)?.trim_start();
    let (second, others, length) = decimal(rest, lexicon.comma())?;
    let behind = rest[length..].trim_start_matches([' ', '\u{a0}', '-']);
    let (unit, length) = unit(behind, lexicon)?;
    let rounding = 0.5 * 10f64.powi(-(places.min(others) as i32));
    // `behind` is a part of the line, so that its place in it is the difference of the addresses.
    let to = behind.as_ptr() as usize - line.as_ptr() as usize + length;
    Some(Size { sides: [first, second], rounding, unit, from, to })
}

fn unit(text: &str, lexicon: Lexicon) -> Option<(Unit, usize)> {
    const MARKS: [(&str, f64); 2] = [("\"", 72.0), ("\u{2033}", 72.0)];
    const UNITS: [Unit; 5] =
        [Unit::Points(72.0), Unit::Points(72.0 / 25.4), Unit::Points(720.0 / 25.4), Unit::Points(1.0), Unit::Pixels];
    if let Some((mark, per)) = MARKS.iter().find(|(mark, _)| text.starts_with(mark)) {
        return Some((Unit::Points(*per), mark.len()));
    }
    let lower = text.to_lowercase();
    let named = |words: &'static Vocabulary| {
        let all = words.units.iter().zip(UNITS).flat_map(|(names, unit)| names.iter().map(move |name| (*name, unit)));
        let ends = |name: &str| words.is_unspaced() || !lower[name.len()..].starts_with(|c: char| c.is_alphabetic());
        all.filter(|(name, _)| lower.starts_with(name) && ends(name)).max_by_key(|(name, _)| name.len())
    };
    // Names of units keep their length in small letters.
    lexicon.tables().find_map(named).map(|(name, unit)| (unit, name.len()))
}

#[cfg(test)]
mod tests {
    use super::{Lexicon, Unit, proportions, sheets, sizes};

    fn short(line: &str) -> Vec<([f64; 2], &str)> {
        sizes(line, Lexicon::ENGLISH).into_iter().map(|s| (s.sides, &line[s.from..s.to])).collect()
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
        assert_eq!(proportions("sides in proportion 4 : 3", Lexicon::named("de")).map(|s| s.sides), Some([4.0, 3.0]));
        assert_eq!(
            proportions("sides in proportion 1 : 1.294).", Lexicon::named("de")).map(|s| s.sides),
            Some([1.0, 1.294])
        );
        assert_eq!(
            proportions("Seitenverh\u{e4}ltnis 1 : 1,414, hoch", Lexicon::named("de")).map(|s| s.sides),
            Some([1.0, 1.414])
        );
        assert_eq!(proportions("open from 9:30, 4:3", Lexicon::named("de")), None);
        assert_eq!(sheets("Made for A5 pages", Lexicon::named("de")).map(|s| s.sides), Some([148.0, 210.0]));
        assert_eq!(sheets("prints on A4 paper, bed A4", Lexicon::named("de")), None);
        assert_eq!(sizes("9,45 \u{d7} 7,09 Zoll", Lexicon::named("de"))[0].sides, [9.45, 7.09]);
        assert_eq!(sizes("2.494 x 1.871 Pixel", Lexicon::named("de"))[0].sides, [2494.0, 1871.0]);
        assert_eq!(sizes("3 x 4 px", Lexicon::ENGLISH)[0].unit, Unit::Pixels);
        assert_eq!(sizes("3.25 x 4.5 mm", Lexicon::ENGLISH)[0].rounding, 0.05);
    }
}
