//! The size of a page in words: in points, millimetres, inches and pixels, and its proportion.

use super::facts::PageSize;
use super::grouped;
use base::model::Size;
use base::model::units::{Mm, Pt, trim_number};

/// Pixels are given for a screen of this density, which many tablets have (common practice, no source).
pub const SCREEN_DPI: f64 = 264.0;

/// A page size in words.
pub fn page_size(size: Size) -> PageSize {
    let pair = |f: &dyn Fn(f64) -> String, unit: &str| format!("{} × {} {unit}", f(size.w), f(size.h));
    let px = |v: f64| grouped((v / 72.0 * SCREEN_DPI).round() as u64);
    let orientation = match size.w.total_cmp(&size.h) {
        std::cmp::Ordering::Greater => "landscape",
        std::cmp::Ordering::Less => "portrait",
        std::cmp::Ordering::Equal => "square",
    };
    PageSize {
        pt: pair(&|v| trim_number(v, 2), "pt"),
        mm: pair(&|v| trim_number(Mm::from(Pt(v)).0, 1), "mm"),
        inches: pair(&|v| trim_number(v / 72.0, 2), "in"),
        px: pair(&px, "px"),
        px_dpi: SCREEN_DPI as u64,
        aspect: aspect(size),
        orientation: orientation.to_owned(),
    }
}

/// Sides in proportion: in small whole numbers where they are that to a thousandth, else as a decimal.
fn aspect(size: Size) -> String {
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
    if ratio >= 1.0 { format!("{} : 1", trim_number(ratio, 3)) } else { format!("1 : {}", trim_number(1.0 / ratio, 3)) }
}

fn gcd(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { gcd(b, a % b) }
}
