//! SheetLayout: stickers laid out on pages, group by group, so that all pages are filled alike.
//!
//! A group is laid in rows, the tallest first; beside a tall one, low ones stand above each other, as boxes on a shelf
//! are stacked. Rows are then dealt out to as few pages as will hold them, in such a way that the pages are filled as
//! evenly as can be, and what space is left is shared out between them.

use base::model::units::between;
use base::model::{Rect, Size};
use std::collections::VecDeque;

/// A group: the height of its heading, the space below it included (zero for none), and the sizes of its stickers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SizedGroup {
    /// Height of the heading.
    pub head: f64,
    /// Sizes in points.
    pub sizes: Vec<Size>,
}

/// What stands on a page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetPage {
    /// Which sticker, counted through all groups, and where.
    pub placed: Vec<(usize, Rect)>,
    /// Which group has its heading where. One that goes on from the page before has it again.
    pub heads: Vec<(usize, Rect)>,
}

/// Where everything landed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetLayout {
    /// Page by page.
    pub pages: Vec<SheetPage>,
    /// Those that were larger than a page and the factor by which they shrank.
    pub shrunk: Vec<(usize, f64)>,
}

/// How many times its least a gap may grow where a row or a page is not full.
const STRETCH: (f64, f64) = (4.0, 3.0);

/// How many times a gap between rows is left below the last one of a page with headings at the most.
const BELOW: f64 = 1.2;

/// The share of what is left of a page's height that lies above.
const ABOVE: f64 = 0.45;

/// One above the other: which, with their sizes.
type Column = Vec<(usize, Size)>;

/// Columns side by side, and the group that they are of.
struct Row {
    bunch: usize,
    columns: Vec<Column>,
    height: f64,
}

/// Lays groups out on pages of this size, inside `margin`, at least `gap` apart; all in points. A sticker that is larger
/// than the space inside the margin is shrunk to fit, and said so.
pub fn layout(bunches: &[SizedGroup], page: Size, margin: f64, gap: f64) -> SheetLayout {
    let area = Rect::page(page).inset(margin);
    let mut out = SheetLayout::default();
    let head = bunches.iter().map(|b| b.head).fold(0.0, f64::max);
    if area.w <= 0.0 || area.h - head <= 0.0 {
        return out;
    }
    let (mut rows, mut first) = (Vec::new(), 0);
    for (b, bunch) in bunches.iter().enumerate() {
        let high = area.h - bunch.head;
        let mut fitted = Vec::with_capacity(bunch.sizes.len());
        for (i, s) in bunch.sizes.iter().enumerate() {
            let scale = (area.w / s.w).min(high / s.h).min(1.0);
            if scale < 1.0 {
                out.shrunk.push((first + i, scale));
            }
            fitted.push((first + i, Size::new(s.w * scale, s.h * scale)));
        }
        first += bunch.sizes.len();
        fitted.sort_by(|a, b| b.1.h.total_cmp(&a.1.h));
        rows.extend(stacked(fitted.into(), area.w, gap).into_iter().map(|r| Row { bunch: b, ..r }));
    }
    for (from, to) in dealt(&rows, bunches, area.h, gap) {
        out.pages.push(spread(&rows[from..to], bunches, area, gap));
    }
    out
}

/// Rows of a group, whose stickers come with the tallest first.
fn stacked(mut left: VecDeque<(usize, Size)>, width: f64, gap: f64) -> Vec<Row> {
    let mut rows = Vec::new();
    // A hair of slack: a sticker shrunk to the width of the page must still fit into it.
    let fits = |used: f64, most: f64| used <= most + 1e-6;
    while let Some(height) = left.front().map(|(_, s)| s.h) {
        let (mut columns, mut used): (Vec<Column>, f64) = (Vec::new(), -gap);
        while let Some(next) = left.iter().position(|(_, s)| fits(used + gap + s.w, width)) {
            let mut column: Column = left.remove(next).into_iter().collect();
            let (mut wide, mut high) = column.first().map_or((0.0, 0.0), |(_, s)| (s.w, s.h));
            while let Some(below) = left.iter().position(|(_, s)| s.w <= wide * 1.15 && fits(high + gap + s.h, height))
            {
                // A little wider is well too, as long as the row has room for it.
                let s = left[below].1;
                if !fits(used + gap + s.w, width) {
                    break;
                }
                (wide, high) = (wide.max(s.w), high + gap + s.h);
                column.extend(left.remove(below));
            }
            used += gap + wide;
            columns.push(column);
        }
        rows.push(Row { bunch: 0, columns, height });
    }
    rows
}

/// Height of a page that holds these rows, with headings.
fn high(rows: &[Row], bunches: &[SizedGroup], gap: f64) -> f64 {
    let mut sum = 0.0;
    for (i, row) in rows.iter().enumerate() {
        if i == 0 || rows[i - 1].bunch != row.bunch {
            sum += bunches[row.bunch].head;
        }
        sum += row.height + if i > 0 { gap } else { 0.0 };
    }
    sum
}

/// Deals rows out to the fewest pages that hold them, so that the squares of what stays empty come to least: from which
/// row to which.
fn dealt(rows: &[Row], bunches: &[SizedGroup], room: f64, gap: f64) -> Vec<(usize, usize)> {
    let n = rows.len();
    // For each number of rows that are dealt: pages, emptiness, and where the last page begins.
    let mut best: Vec<(usize, f64, usize)> = vec![(0, 0.0, 0)];
    for to in 1..=n {
        let mut least = (usize::MAX, f64::INFINITY, to - 1);
        for from in (0..to).rev() {
            let used = high(&rows[from..to], bunches, gap);
            // A single row always fits, but for rounding.
            if used > room + 1e-6 && from + 1 < to {
                break;
            }
            let empty = best[from].1 + ((room - used) / room).powi(2);
            if (best[from].0 + 1, empty) < (least.0, least.1) {
                least = (best[from].0 + 1, empty, from);
            }
        }
        best.push(least);
    }
    let (mut pages, mut to) = (Vec::new(), n);
    while to > 0 {
        let from = best[to].2;
        pages.push((from, to));
        to = from;
    }
    pages.reverse();
    pages
}

/// Places the rows of one page: what is left over is shared out between the columns of a row and between the rows, up
/// to a limit; what is left then goes to both sides of a row. A page without headings lies a little above the middle of its
/// height, as a picture hangs; one with a heading hangs from it, with as much air between its rows as nearly below the last.
fn spread(rows: &[Row], bunches: &[SizedGroup], area: Rect, gap: f64) -> SheetPage {
    let share = |left: f64, n: usize, most: f64| {
        if n < 2 { gap } else { between(left / (n - 1) as f64, gap, gap * most) }
    };
    let mut out = SheetPage::default();
    let solid = high(rows, bunches, 0.0);
    let headless = rows.iter().all(|row| bunches[row.bunch].head == 0.0);
    let usual = share(area.h - solid, rows.len(), STRETCH.1);
    // A heading holds its stickers to the top: what few rows leave lies between them too, not all of it below the last.
    let down = if headless { usual } else { usual.max((area.h - solid) / (rows.len() as f64 - 1.0 + BELOW)) };
    let left = (area.h - solid - down * rows.len().saturating_sub(1) as f64).max(0.0);
    let mut y = area.y + if headless { left * ABOVE } else { 0.0 };
    for (i, row) in rows.iter().enumerate() {
        if i > 0 {
            y += down;
        }
        let head = bunches[row.bunch].head;
        if head > 0.0 && (i == 0 || rows[i - 1].bunch != row.bunch) {
            out.heads.push((row.bunch, Rect::new(area.x, y, area.w, head)));
            y += head;
        }
        let width = |c: &Column| c.iter().map(|(_, s)| s.w).fold(0.0, f64::max);
        let wide: f64 = row.columns.iter().map(width).sum();
        let across = share(area.w - wide, row.columns.len(), STRETCH.0);
        let mut x = area.x + ((area.w - wide - across * (row.columns.len() - 1) as f64) / 2.0).max(0.0);
        for column in &row.columns {
            let (w, h): (f64, f64) = (width(column), column.iter().map(|(_, s)| s.h).sum());
            let between = share(row.height - h, column.len(), STRETCH.1);
            let mut top = y + ((row.height - h - between * (column.len() - 1) as f64) / 2.0).max(0.0);
            for (i, s) in column {
                out.placed.push((*i, Rect::new(x + (w - s.w) / 2.0, top, s.w, s.h)));
                top += s.h + between;
            }
            x += w + across;
        }
        y += row.height;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn bunches() -> impl Strategy<Value = Vec<SizedGroup>> {
        let size = (1.0..900.0f64, 1.0..900.0f64).prop_map(|(w, h)| Size::new(w, h));
        let bunch = (prop_oneof![Just(0.0), 10.0..40.0f64], prop::collection::vec(size, 0..20));
        prop::collection::vec(bunch.prop_map(|(head, sizes)| SizedGroup { head, sizes }), 0..5)
    }

    proptest! {
        #[test]
        fn every_size_stands_once_inside_and_clear_of_the_others(
            all in bunches(), w in 200.0..1200.0f64, h in 240.0..1200.0f64, margin in 0.0..60.0f64, gap in 17.0..40.0f64,
        ) {
            let made = layout(&all, Size::new(w, h), margin, gap);
            let area = Rect::page(Size::new(w, h)).inset(margin);
            let sizes: Vec<(usize, Size)> =
                all.iter().enumerate().flat_map(|(b, bunch)| bunch.sizes.iter().map(move |s| (b, *s))).collect();
            let mut seen: Vec<usize> = made.pages.iter().flat_map(|p| &p.placed).map(|(i, _)| *i).collect();
            // Groups come one after the other.
            prop_assert!(seen.iter().map(|i| sizes[*i].0).is_sorted());
            seen.sort_unstable();
            prop_assert_eq!(&seen, &(0..sizes.len()).collect::<Vec<_>>());
            for page in &made.pages {
                prop_assert!(!page.placed.is_empty());
                // Every group on the page that has a heading has it once, above its first.
                let mut groups: Vec<usize> = page.placed.iter().map(|(i, _)| sizes[*i].0).collect();
                groups.dedup();
                groups.retain(|b| all[*b].head > 0.0);
                prop_assert_eq!(groups, page.heads.iter().map(|(b, _)| *b).collect::<Vec<_>>());
                for (b, head) in &page.heads {
                    prop_assert!(area.contains(*head, 1e-3));
                    for (i, r) in &page.placed {
                        prop_assert!(!r.overlaps(head.inset(1e-3)), "{:?} {:?}", r, head);
                        prop_assert!(sizes[*i].0 != *b || r.y >= head.bottom() - 1e-3);
                    }
                }
                for (n, (i, r)) in page.placed.iter().enumerate() {
                    prop_assert!(area.contains(*r, 1e-3), "{:?} in {:?}", r, area);
                    let scale = made.shrunk.iter().find(|s| s.0 == *i).map_or(1.0, |s| s.1);
                    let (b, s) = sizes[*i];
                    prop_assert!((r.w - s.w * scale).abs() < 1e-6 && (r.h - s.h * scale).abs() < 1e-6);
                    prop_assert_eq!(scale < 1.0, s.w > area.w || s.h > area.h - all[b].head);
                    for (_, other) in &page.placed[n + 1..] {
                        // No two come nearer than the gap, up and down or side by side.
                        prop_assert!(!r.inset(-(gap - 1e-3) / 2.0).overlaps(other.inset(-(gap - 1e-3) / 2.0)));
                    }
                }
            }
        }

        #[test]
        fn pages_are_few_and_filled_alike(n in 1usize..60, rows in 2usize..9) {
            // Rows of one size: their number a page differs by one at most, and no page could be saved.
            let (w, h) = (100.0, 50.0);
            let page = Size::new(3.0 * w + 2.0 * 20.0, rows as f64 * h + (rows - 1) as f64 * 20.0);
            let made = layout(&[SizedGroup { head: 0.0, sizes: vec![Size::new(w, h); n] }], page, 0.0, 20.0);
            let needed = n.div_ceil(3);
            prop_assert_eq!(made.pages.len(), needed.div_ceil(rows));
            let counts: Vec<usize> = made.pages.iter().map(|p| p.placed.len().div_ceil(3)).collect();
            prop_assert!(counts.iter().max().unwrap_or(&0) - counts.iter().min().unwrap_or(&0) <= 1, "{:?}", counts);
        }
    }

    #[test]
    fn low_ones_stand_above_each_other_beside_a_tall_one() {
        let sizes = [(100.0, 200.0), (120.0, 60.0), (110.0, 60.0), (100.0, 30.0)].map(|(w, h)| Size::new(w, h));
        let made = layout(&[SizedGroup { head: 0.0, sizes: sizes.into() }], Size::new(260.0, 220.0), 10.0, 17.0);
        assert_eq!(made.pages.len(), 1);
        let x: Vec<f64> = made.pages[0].placed.iter().map(|(_, r)| r.centre().x).collect();
        assert!(x[1] > x[0] && x[1] == x[2] && x[2] == x[3], "{x:?}");
    }

    #[test]
    fn what_a_page_leaves_lies_above_and_below_but_a_heading_stays_on_top() {
        let sizes = vec![Size::new(100.0, 50.0)];
        for (head, wanted) in [(0.0, 10.0 + 330.0 * ABOVE), (30.0, 40.0)] {
            let made = layout(&[SizedGroup { head, sizes: sizes.clone() }], Size::new(200.0, 400.0), 10.0, 17.0);
            assert!((made.pages[0].placed[0].1.y - wanted).abs() < 1e-9, "{:?}", made.pages);
        }
    }

    #[test]
    fn one_that_is_too_large_is_shrunk_and_reported() {
        let sizes = vec![Size::new(1000.0, 100.0), Size::new(50.0, 50.0)];
        let made = layout(&[SizedGroup { head: 0.0, sizes }], Size::new(540.0, 400.0), 20.0, 17.0);
        assert_eq!(made.shrunk, vec![(0, 0.5)]);
        assert_eq!(made.pages.len(), 1);
    }

    #[test]
    fn a_page_without_room_holds_nothing() {
        let one = SizedGroup { head: 0.0, sizes: vec![Size::new(10.0, 10.0)] };
        assert!(layout(&[one], Size::new(30.0, 30.0), 20.0, 17.0).pages.is_empty());
    }
}
