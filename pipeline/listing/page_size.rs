//! The size of a page in words: in points, millimetres, inches and pixels, and its proportion.

use super::facts::PageSize;
use base::model::Size;
use base::model::units::{Mm, Pt, trim_number};
use wording::{Tongue, fill};

/// Pixels are given for a screen of this density, which many tablets have (common practice, no source).
pub const SCREEN_DPI: f64 = 264.0;

/// A page size in words.
pub fn page_size(size: Size, tongue: &Tongue) -> PageSize {
    let says = &tongue.documents().listing;
    let pair = |f: &dyn Fn(f64) -> String| format!("{} × {}", f(size.w), f(size.h));
    let px = |v: f64| tongue.number((v / 72.0 * SCREEN_DPI).round() as u64);
    let orientation = match size.w.total_cmp(&size.h) {
        std::cmp::Ordering::Greater => says.landscape,
        std::cmp::Ordering::Less => says.portrait,
        std::cmp::Ordering::Equal => says.square,
    };
    // Sizes stand without marks between thousands, so that their decimal mark is the only one.
    let number = |v: f64, places: usize| tongue.measure(&trim_number(v, places));
    PageSize {
        pt: format!("{} pt", pair(&|v| number(v, 2))),
        mm: format!("{} mm", pair(&|v| number(Mm::from(Pt(v)).0, 1))),
        inches: fill(says.inches, &[("size", &pair(&|v| number(v / 72.0, 2)))]),
        px: format!("{} px", pair(&px)),
        px_dpi: SCREEN_DPI as u64,
        aspect: aspect(size, tongue),
        orientation: orientation.to_owned(),
    }
}

/// Sides in proportion: in small whole numbers where they are that to a thousandth, else as a decimal.
fn aspect(size: Size, tongue: &Tongue) -> String {
    let ratio = size.w / size.h;
    let near = |r: f64| (ratio / r - 1.0).abs() < 0.001;
    for low in 1..=16_u32 {
        for high in low..=25_u32 {
            if gcd(low, high) != 1 {
                continue;
            }
            let r = f64::from(high) / f64::from(low);
            if near(r) {
                return format!("{high} : {low}");
            }
            if near(1.0 / r) {
                return format!("{low} : {high}");
            }
        }
    }
    let number = |v: f64| tongue.measure(&trim_number(v, 3));
    if ratio >= 1.0 { format!("{} : 1", number(ratio)) } else { format!("1 : {}", number(1.0 / ratio)) }
}

fn gcd(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { gcd(b, a % b) }
}
