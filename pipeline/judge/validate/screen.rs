//! The screen that pages are judged on.

use base::model::geometry::Size;

/// CSS pixels along the longer side of the screen on which a page is shown whole: a tablet of about 11 inches
/// (common practice, no source).
const LONG_SIDE: f64 = 1180.0;

/// CSS pixels to a point of a page of this size.
pub fn px_per_point(page: Size) -> f64 {
    LONG_SIDE / page.w.max(page.h).max(1.0)
}
