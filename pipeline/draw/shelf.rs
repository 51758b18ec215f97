//! Shelves: sizes laid out on pages in rows, with even gaps, each page filled before the next begins.
//!
//! Stickers stand on a sheet in their own order, so that a buyer finds them where the guide says; a row is as high
//! as its highest and each sticker is centred in it up and down, as things on a shelf whose eye line is the middle.

use crate::model::{Rect, Size};

/// Where everything landed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shelves {
    /// Page by page: which one, and where.
    pub pages: Vec<Vec<(usize, Rect)>>,
    /// Those that were larger than a page and the factor by which they shrank.
    pub shrunk: Vec<(usize, f64)>,
}

/// Lays sizes out on pages of this size, inside `margin`, at least `gap` apart; all in points. One that is larger
/// than the space inside the margin is shrunk to fit, and said so.
pub fn shelves(sizes: &[Size], page: Size, margin: f64, gap: f64) -> Shelves {
    let area = Rect::page(page).inset(margin);
    let mut out = Shelves::default();
    if area.w <= 0.0 || area.h <= 0.0 {
        return out;
    }
    let fitted: Vec<Size> = sizes
        .iter()
        .enumerate()
        .map(|(i, s)| {
            let scale = (area.w / s.w).min(area.h / s.h).min(1.0);
            if scale < 1.0 {
                out.shrunk.push((i, scale));
            }
            Size::new(s.w * scale, s.h * scale)
        })
        .collect();
    let mut rows: Vec<Vec<usize>> = Vec::new();
    let mut wide = f64::INFINITY;
    for (i, s) in fitted.iter().enumerate() {
        // A hair of slack: a sticker shrunk to the width of the page must still fit into it.
        if wide + gap + s.w > area.w + 1e-6 || rows.is_empty() {
            rows.push(Vec::new());
            wide = -gap;
        }
        if let Some(row) = rows.last_mut() {
            row.push(i);
        }
        wide += gap + s.w;
    }
    let height = |row: &[usize]| row.iter().map(|i| fitted[*i].h).fold(0.0, f64::max);
    let mut sheet: Vec<&[usize]> = Vec::new();
    let mut high = -gap;
    for row in &rows {
        if !sheet.is_empty() && high + gap + height(row) > area.h + 1e-6 {
            out.pages.push(spread(&sheet, &fitted, area, gap));
            sheet.clear();
            high = -gap;
        }
        sheet.push(row);
        high += gap + height(row);
    }
    if !sheet.is_empty() {
        out.pages.push(spread(&sheet, &fitted, area, gap));
    }
    out
}

/// Places the rows of one page: what is left over is shared out between the stickers of a row and between the rows,
/// up to a limit, and what is left then goes to both sides.
fn spread(rows: &[&[usize]], sizes: &[Size], area: Rect, gap: f64) -> Vec<(usize, Rect)> {
    let height = |row: &[usize]| row.iter().map(|i| sizes[*i].h).fold(0.0, f64::max);
    let share = |left: f64, n: usize| if n < 2 { gap } else { (left / (n - 1) as f64).clamp(gap, gap * 2.0) };
    let used: f64 = rows.iter().map(|r| height(r)).sum();
    let down = share(area.h - used, rows.len());
    let mut y = area.y;
    let mut out = Vec::new();
    for row in rows {
        let h = height(row);
        let wide: f64 = row.iter().map(|i| sizes[*i].w).sum();
        let across = share(area.w - wide, row.len());
        let mut x = area.x + ((area.w - wide - across * (row.len() - 1) as f64) / 2.0).max(0.0);
        for i in row.iter() {
            let s = sizes[*i];
            out.push((*i, Rect::new(x, y + (h - s.h) / 2.0, s.w, s.h)));
            x += s.w + across;
        }
        y += h + down;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn sizes() -> impl Strategy<Value = Vec<Size>> {
        prop::collection::vec((1.0..900.0f64, 1.0..900.0f64).prop_map(|(w, h)| Size::new(w, h)), 0..60)
    }

    proptest! {
        #[test]
        fn every_size_stands_once_inside_and_clear_of_the_others(
            all in sizes(), w in 200.0..1200.0f64, h in 200.0..1200.0f64, margin in 0.0..60.0f64, gap in 17.0..40.0f64,
        ) {
            let made = shelves(&all, Size::new(w, h), margin, gap);
            let area = Rect::page(Size::new(w, h)).inset(margin);
            let mut seen: Vec<usize> = made.pages.iter().flatten().map(|(i, _)| *i).collect();
            prop_assert_eq!(&seen, &(0..all.len()).collect::<Vec<_>>(), "in order");
            seen.dedup();
            prop_assert_eq!(seen.len(), all.len());
            for page in &made.pages {
                prop_assert!(!page.is_empty());
                for (n, (i, r)) in page.iter().enumerate() {
                    prop_assert!(area.contains(*r, 1e-3), "{:?} in {:?}", r, area);
                    let scale = made.shrunk.iter().find(|s| s.0 == *i).map_or(1.0, |s| s.1);
                    prop_assert!((r.w - all[*i].w * scale).abs() < 1e-6 && (r.h - all[*i].h * scale).abs() < 1e-6);
                    prop_assert_eq!(scale < 1.0, all[*i].w > area.w || all[*i].h > area.h);
                    for (_, other) in &page[n + 1..] {
                        // No two come nearer than the gap, up and down or side by side.
                        prop_assert!(!r.inset(-(gap - 1e-3) / 2.0).overlaps(other.inset(-(gap - 1e-3) / 2.0)));
                    }
                }
            }
        }
    }

    #[test]
    fn one_that_is_too_large_is_shrunk_and_reported() {
        let made = shelves(&[Size::new(1000.0, 100.0), Size::new(50.0, 50.0)], Size::new(540.0, 400.0), 20.0, 17.0);
        assert_eq!(made.shrunk, vec![(0, 0.5)]);
        assert_eq!(made.pages.len(), 1);
    }

    #[test]
    fn a_page_without_room_holds_nothing() {
        assert!(shelves(&[Size::new(10.0, 10.0)], Size::new(30.0, 30.0), 20.0, 17.0).pages.is_empty());
    }
}
