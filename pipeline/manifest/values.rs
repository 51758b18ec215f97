//! Values that a manifest writes as words: lengths, page sizes, colours, with messages that say how to write them.

use base::keys::{COLOUR, Described, Shape, Word};
use base::model::art::Measure;
use base::model::units::{PT_PER_MM, Rgb};
use base::model::{Mm, Size};
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;

/// A length: a bare number is in mm; otherwise a number with a unit, `"8 mm"`, `"12 pt"`, `"0.5 in"`,
/// `"264 px at 264 dpi"`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Length(pub Mm);

/// The form of a length.
const LENGTH: &str = r"^\s*[0-9.]+\s*((mm|cm|pt|in)( at \s*[0-9.]+\s*dpi)?|px at \s*[0-9.]+\s*dpi)\s*$";

impl Described for Length {
    fn shape() -> Shape {
        Shape::Either(vec![Shape::Number, Shape::Form("a length such as \"8 mm\"", LENGTH)])
    }
}

impl<'de> Deserialize<'de> for Length {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Length, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = Length;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a length such as 8 (mm), \"12 pt\" or \"0.5 in\"")
            }
            fn visit_i64<E: Error>(self, v: i64) -> Result<Length, E> {
                not_negative(v as f64).map(|mm| Length(Mm(mm))).map_err(E::custom)
            }
            fn visit_f64<E: Error>(self, v: f64) -> Result<Length, E> {
                not_negative(v).map(|mm| Length(Mm(mm))).map_err(E::custom)
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<Length, E> {
                length(v).map(|mm| Length(Mm(mm))).map_err(E::custom)
            }
        }
        d.deserialize_any(Reader)
    }
}

/// A bare number of millimetres.
fn not_negative(mm: f64) -> Result<f64, String> {
    if mm.is_finite() && mm >= 0.0 { Ok(mm) } else { Err(format!("`{mm}` is negative\na length is zero or more")) }
}

/// Millimetres of a length with a unit.
fn length(text: &str) -> Result<f64, String> {
    let help = "write a number and a unit: 8 mm, 12 pt, 0.5 in, 300 px at 264 dpi";
    let (text, dpi) = split_dpi(text)?;
    let at = text.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).unwrap_or(text.len());
    let number: f64 = text[..at].trim().parse().map_err(|_| format!("`{text}` is not a length\n{help}"))?;
    let mm = match (text[at..].trim(), dpi) {
        ("mm", _) => number,
        ("cm", _) => number * 10.0,
        ("pt", _) => number / PT_PER_MM,
        ("in", _) => number * 25.4,
        ("px", Some(dpi)) => number / dpi * 25.4,
        ("px", None) => {
            return Err(format!("pixels have no size of their own in `{text}`\nadd the resolution: {text} at 264 dpi"));
        }
        ("", _) => return Err(format!("`{text}` has no unit\n{help}")),
        (unit, _) => return Err(format!("`{unit}` is not a unit of length\n{help}")),
    };
    if mm.is_finite() && mm >= 0.0 { Ok(mm) } else { Err(format!("`{text}` is negative\na length is zero or more")) }
}

/// A size of a sticker: a length, or a number of pixels, whose size follows from the resolution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Extent {
    /// As a length.
    Length(Mm),
    /// In pixels.
    Pixels(f64),
}

impl Extent {
    /// The size at a resolution.
    pub fn at(self, dpi: f64) -> Mm {
        match self {
            Extent::Length(mm) => mm,
            Extent::Pixels(px) => Mm(px / dpi * 25.4),
        }
    }
}

/// The form of a size of a sticker.
const EXTENT: &str = r"^\s*([0-9.]+\s*((mm|cm|pt|in)( at \s*[0-9.]+\s*dpi)?|px at \s*[0-9.]+\s*dpi)|[0-9.]+\s*px)\s*$";

impl Described for Extent {
    fn shape() -> Shape {
        Shape::Either(vec![Shape::Number, Shape::Form("a size such as \"42 mm\" or \"600 px\"", EXTENT)])
    }
}

impl<'de> Deserialize<'de> for Extent {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Extent, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = Extent;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a size such as 42 (mm), \"1.5 in\" or \"600 px\"")
            }
            fn visit_i64<E: Error>(self, v: i64) -> Result<Extent, E> {
                not_negative(v as f64).map(|mm| Extent::Length(Mm(mm))).map_err(E::custom)
            }
            fn visit_f64<E: Error>(self, v: f64) -> Result<Extent, E> {
                not_negative(v).map(|mm| Extent::Length(Mm(mm))).map_err(E::custom)
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<Extent, E> {
                let number = v.trim().strip_suffix("px").map(str::trim);
                match number.filter(|_| !v.contains(" at ")) {
                    Some(n) => n
                        .parse()
                        .ok()
                        .filter(|px: &f64| px.is_finite() && *px >= 0.0)
                        .map(Extent::Pixels)
                        .ok_or_else(|| E::custom(format!("`{n}` is not a number of pixels\nwrite it as: 600 px"))),
                    None => length(v).map(|mm| Extent::Length(Mm(mm))).map_err(E::custom),
                }
            }
        }
        d.deserialize_any(Reader)
    }
}

/// A measure on art: in mm (or another length), in the art's own pixels, or in parts of a hundred of its size.
pub fn measure(text: &str) -> Result<Measure, String> {
    let (number, unit) =
        text.split_at(text.find(|c: char| !(c.is_ascii_digit() || ".-".contains(c))).unwrap_or(text.len()));
    let plain = number.trim().parse::<f64>().ok().filter(|n| n.is_finite());
    match (plain, unit.trim()) {
        (Some(n), "px") => Ok(Measure::Px(n)),
        (Some(n), "%") => Ok(Measure::Percent(n)),
        _ => length(text).map(Measure::Mm),
    }
}

/// Runs of pages, from 0: `3`, `3-10`, `20-`, several of them with commas between, or `all`.
pub fn pages(text: &str) -> Result<Vec<(usize, Option<usize>)>, String> {
    let wrong = || {
        format!("`{text}` are no pages\nwrite them as \"5\", \"2-10\", \"20-\", \"1, 3-5\" or \"all\", counted from 1")
    };
    let number = |t: &str| t.trim().parse::<usize>().ok().filter(|n| *n > 0).map(|n| n - 1).ok_or_else(wrong);
    if text.trim() == "all" {
        return Ok(vec![(0, None)]);
    }
    text.split(',')
        .map(|run| match run.split_once(['-', '–']) {
            None => number(run).map(|n| (n, Some(n))),
            Some((first, last)) if last.trim().is_empty() => Ok((number(first)?, None)),
            Some((first, last)) => match (number(first)?, number(last)?) {
                (first, last) if first <= last => Ok((first, Some(last))),
                _ => Err(wrong()),
            },
        })
        .collect()
}

/// Splits ` at 264 dpi` off.
fn split_dpi(text: &str) -> Result<(&str, Option<f64>), String> {
    let Some((rest, dpi)) = text.split_once(" at ") else { return Ok((text.trim(), None)) };
    let number = dpi.trim().strip_suffix("dpi").and_then(|n| n.trim().parse::<f64>().ok());
    match number {
        Some(n) if (10.0..=10_000.0).contains(&n) => Ok((rest.trim(), Some(n))),
        _ => Err(format!("`{}` is not a resolution\nwrite it as: 264 dpi", dpi.trim())),
    }
}

/// Reads a text into a value; `what` says what is wanted where there is no text.
fn written<'de, D: Deserializer<'de>, T>(
    d: D,
    what: &'static str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Result<T, D::Error> {
    struct Reader<F>(&'static str, F);
    impl<T, F: Fn(&str) -> Result<T, String>> Visitor<'_> for Reader<F> {
        type Value = T;
        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            f.write_str(self.0)
        }
        fn visit_str<E: Error>(self, v: &str) -> Result<T, E> {
            (self.1)(v).map_err(E::custom)
        }
    }
    d.deserialize_any(Reader(what, read))
}

/// A colour, written `#rgb` or `#rrggbb`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Colour(pub Rgb);

impl Described for Colour {
    fn shape() -> Shape {
        Shape::Form("a colour such as \"#8a9a5b\"", COLOUR)
    }
}

impl<'de> Deserialize<'de> for Colour {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Colour, D::Error> {
        written(d, "a colour in quotes, such as \"#8a9a5b\"", |text| {
            Rgb::parse(text.trim()).map(Colour).ok_or_else(|| {
                format!("`{text}` is not a colour\nwrite # and three or six hexadecimal digits: #8a9a5b")
            })
        })
    }
}

/// The sheet that printers of a region hold: A4, or Letter where `calendar::prints_on_letter` says so.
pub const PAPER: &str = "paper";

/// Page sizes by name: name, width and height in mm, portrait. ISO 216 and ANSI/ASME Y14.1 for paper; the tablet
/// and phone ones are plain aspect ratios at a usual size of the writing surface (common practice, no source).
pub const SIZES: &[(&str, f64, f64)] = &[
    ("A3", 297.0, 420.0),
    ("A4", 210.0, 297.0),
    ("A5", 148.0, 210.0),
    ("A6", 105.0, 148.0),
    ("B5", 176.0, 250.0),
    ("B6", 125.0, 176.0),
    ("Letter", 215.9, 279.4),
    ("Legal", 215.9, 355.6),
    ("Half Letter", 139.7, 215.9),
    (PAPER, 210.0, 297.0),
    ("tablet-4x3", 180.0, 240.0),
    ("tablet-3x2", 170.0, 255.0),
    ("tablet-16x10", 150.0, 240.0),
    ("phone-2x1", 75.0, 150.0),
];

/// Width and height in pixels: `"2000 x 1500"`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PixelSize(pub u32, pub u32);

impl Described for PixelSize {
    fn shape() -> Shape {
        Shape::Form("width and height in pixels such as \"2000 x 1500\"", r"^\s*[0-9]+\s*[x×]\s*[0-9]+\s*(px)*$")
    }
}

impl<'de> Deserialize<'de> for PixelSize {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<PixelSize, D::Error> {
        written(d, "width and height in quotes, such as \"2000 x 1500\"", PixelSize::read)
    }
}

impl PixelSize {
    fn read(text: &str) -> Result<PixelSize, String> {
        let plain = text.trim().trim_end_matches("px");
        let side = |s: &str| s.trim().parse::<u32>().ok();
        let sides = plain.split_once(['x', '×']).and_then(|(w, h)| Some((side(w)?, side(h)?)));
        match sides {
            Some((w, h)) if (300..=8000).contains(&w) && (300..=8000).contains(&h) => Ok(PixelSize(w, h)),
            Some(_) => Err(format!(
                "`{text}` is no size for a listing picture\na side has 300 to 8000 pixels; 2000 x 1500 suits most shops"
            )),
            None => Err(format!("`{text}` is not a size in pixels\nwrite width and height: 2000 x 1500")),
        }
    }
}

/// A page size as written: by name, or `"240 x 180 mm"`, `"2048 x 1536 px at 264 dpi"`.
#[derive(Clone, Debug, PartialEq)]
pub struct PageSize {
    /// In points.
    pub size: Size,
    /// As the manifest names it.
    pub named: String,
    /// Whether width and height were given, and so the orientation too.
    pub explicit: bool,
}

/// The form of a page size that is written out, and of a name, in capitals or not.
const SIDES: &str = r"^\s*[0-9.]+\s*[x×]\s*[0-9.]+\s*((mm|cm|pt|in)( at \s*[0-9.]+\s*dpi)?|px at \s*[0-9.]+\s*dpi)\s*$";
const NAMED: &str = r"^\s*([Aa][3-6]|[Bb][56]|([Hh][Aa][Ll][Ff] )?[Ll][Ee][Tt][Tt][Ee][Rr]|[Ll][Ee][Gg][Aa][Ll]|[Pp][Aa][Pp][Ee][Rr]|[Tt][Aa][Bb][Ll][Ee][Tt]-(4[Xx]3|3[Xx]2|16[Xx]10)|[Pp][Hh][Oo][Nn][Ee]-2[Xx]1)\s*$";

impl Described for PageSize {
    fn shape() -> Shape {
        let names = SIZES.iter().map(|(word, ..)| Word { word, doc: "" }).collect();
        let sides = Shape::Form("width and height such as \"240 x 180 mm\"", SIDES);
        Shape::Either(vec![Shape::Words(names), sides, Shape::Form("the same in other letters", NAMED)])
    }
}

impl<'de> Deserialize<'de> for PageSize {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<PageSize, D::Error> {
        written(d, "a page size in quotes, such as \"A5\" or \"240 x 180 mm\"", |text| page_size(text.trim()))
    }
}

fn page_size(text: &str) -> Result<PageSize, String> {
    if let Some((name, w, h)) = SIZES.iter().find(|(name, ..)| name.eq_ignore_ascii_case(text)) {
        let size = Size::new(w * PT_PER_MM, h * PT_PER_MM);
        return Ok(PageSize { size, named: (*name).to_owned(), explicit: false });
    }
    let (numbers, dpi) = split_dpi(text)?;
    let at = numbers.rfind(|c: char| c.is_ascii_digit() || c == '.').map_or(0, |i| i + 1);
    let (numbers, unit) = (&numbers[..at], numbers[at..].trim());
    let Some((w, h)) = numbers.split_once(['x', '×']) else {
        let near = super::source::suggest(text, SIZES.iter().map(|(n, ..)| *n));
        return Err(format!("`{text}` is not a page size\n{near}; or write it out, as 240 x 180 mm"));
    };
    if unit.is_empty() && dpi.is_none() {
        let (w, h) = (w.trim(), h.trim());
        // Nobody writes on a page of a metre; a screen has hundreds of pixels a side.
        let screen = [w, h].iter().all(|side| side.parse::<f64>().is_ok_and(|n| n > 400.0));
        let help = if screen { format!("{w} x {h} px at 264 dpi") } else { format!("{w} x {h} mm") };
        return Err(format!("`{text}` has no unit\nwrite {help}, or whatever it is measured in"));
    }
    if unit == "px" && dpi.is_none() {
        return Err(format!("pixels have no size of their own in `{text}`\nadd the resolution: {text} at 264 dpi"));
    }
    let suffix = dpi.map_or(String::new(), |d| format!(" at {d} dpi"));
    let side = |n: &str| length(&format!("{} {unit}{suffix}", n.trim())).map(|mm| mm * PT_PER_MM);
    let size = Size::new(side(w)?, side(h)?);
    // ISO 32000-1, Annex C: pages from 3 to 14,400 units a side.
    if !(3.0..=14_400.0).contains(&size.w) || !(3.0..=14_400.0).contains(&size.h) {
        return Err(format!(
            "`{text}` is outside of what a PDF page may be\na side has 3 to 14,400 pt (1.06 to 5,080 mm)"
        ));
    }
    Ok(PageSize { size, named: text.to_owned(), explicit: true })
}
