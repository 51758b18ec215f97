//! Dated pages end where all pages do.

use super::super::super::DATED;
use super::super::super::tests::off_the_frame;
use super::{YEAR, drawn, sizes};

/// Pages that have no line at their foot on this paper: small months end with their last week, whatever day that is; so do the
/// months of a quarter; and 31 days leave a row of two papers free.
fn open_at_the_foot(name: &str, paper: usize) -> bool {
    matches!(name, "year" | "quarter") || name == "month-list" && paper == 1
}

#[test]
fn dated_pages_end_on_the_line_of_all_pages() {
    for (size, areas) in sizes() {
        for entry in DATED {
            let name = entry.entry.name;
            let pages = drawn(entry, "", &areas, &YEAR);
            let Some((page, d)) = pages.iter().find(|(page, _)| entry.kinds.first() == Some(&page.kind)) else {
                continue;
            };
            let mut all = d.ground.clone();
            all.extend(d.layer.clone());
            for (i, area) in areas.iter().enumerate().filter(|(i, _)| !open_at_the_foot(name, *i)) {
                let (_, foot) = off_the_frame(&all, area);
                assert!(foot.abs() <= 1.0, "{name} at {size}, paper {i}, {}: {foot:.2} mm below", page.place);
            }
        }
    }
}
