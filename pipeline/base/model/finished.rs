//! A notebook that comes as a finished PDF: the file, what was read from it, and what is to be laid over it.

use super::art::Measure;
use super::blob::Blob;
use super::facts::{PageFacts, PdfFacts};
use super::fault::SourceSpan;
use super::geometry::{Point, Rect, Size};
use super::pdf_plan::{Entry, LabelRun, PdfPlan, Place, Target};
use super::units::Mm;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A finished notebook, as the manifest asks for it.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Finished {
    /// Its path in the product's folder.
    pub file: String,
    /// Its bytes.
    pub bytes: Blob,
    /// What was read from it, which follows from its bytes.
    #[borsh(skip)]
    pub facts: Arc<PdfFacts>,
    /// Whether the file is to be written anew even if nothing is laid over it.
    pub rewrite: bool,
    /// How the tabs of the sections are laid over its pages.
    pub tabs: Tabs,
    /// First page of each section, and its last one where it is told; from 0.
    pub starts: Vec<(usize, Option<usize>)>,
    /// Pages that have a name, from 0.
    pub places: BTreeMap<Place, usize>,
    /// Tap areas that the manifest lists.
    pub links: Vec<OverLink>,
    /// Outline entries that are added.
    pub outline: Vec<Entry>,
    /// Whether the file's own outline stays.
    pub keep_outline: bool,
    /// Page labels that take the place of the file's own; empty to leave those.
    pub labels: Vec<LabelRun>,
}

/// Tabs over finished pages.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Tabs {
    /// Where they hang.
    pub side: Side,
    /// How far the open one reaches into the page; by the page's size where it is not told.
    pub depth: Option<Mm>,
    /// Whether they are drawn; the tap areas are there in any case.
    pub drawn: bool,
    /// The pages that have them.
    pub pages: Pages,
}

/// Where tabs over finished pages hang.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Side {
    /// All on the right.
    Right,
    /// All on the left.
    Left,
    /// Those of passed sections on the left, the others on the right, as in a bound book.
    Turning,
}

/// A choice of pages, from 0: runs from a first to a last page, the last one left out where it is the file's last.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Pages(pub Vec<(usize, Option<usize>)>);

impl Pages {
    /// Every page.
    pub fn all() -> Pages {
        Pages(vec![(0, None)])
    }

    /// Whether a page is among them.
    pub fn has(&self, page: usize) -> bool {
        self.0.iter().any(|(first, last)| *first <= page && last.is_none_or(|last| page <= last))
    }
}

/// A tap area over finished pages.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct OverLink {
    /// The pages that have it.
    pub pages: Pages,
    /// Left, top, width and height on the page as it is seen.
    pub at: [Measure; 4],
    /// Where it leads.
    pub to: Target,
    /// What a screen reader says of it; empty to say where it leads.
    pub says: String,
    /// Where the manifest says so.
    pub span: Option<SourceSpan>,
}

/// A finished notebook with all that is laid over it.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct FinishedPlan {
    /// The file's path in the product's folder.
    pub from: String,
    /// Its bytes.
    pub source: Blob,
    /// What was read from it, which follows from its bytes.
    #[borsh(skip)]
    pub facts: Arc<PdfFacts>,
    /// How each page is seen.
    pub sheets: Vec<PageView>,
    /// What is laid over it: as many pages as the file has, each with a form of tabs or none and with tap areas, all in
    /// points from the top left of the page as it is seen; entries that are added to the outline; new page labels.
    pub over: PdfPlan,
    /// Whether the file's own outline stays.
    pub keep_outline: bool,
    /// Whether the file is to be written anew.
    pub rewrite: bool,
}

impl FinishedPlan {
    /// Whether anything is laid over the file.
    pub fn is_laid_over(&self) -> bool {
        let page = |p: &super::pdf_plan::Page| !p.links.is_empty() || !p.drawing.shapes.is_empty();
        self.over.pages.iter().any(page)
            || !self.over.outline.is_empty()
            || !self.over.labels.is_empty()
            || !self.keep_outline
    }

    /// Whether its bytes go through as they are.
    pub fn is_untouched(&self) -> bool {
        !self.rewrite && !self.is_laid_over()
    }
}

/// How a page of a foreign file is seen: its crop box, turned, in its own unit (ISO 32000-1, 7.7.3.3 and 14.11.2).
#[derive(Clone, Copy, Debug, PartialEq, borsh::BorshSerialize)]
pub struct PageView {
    /// Left edge of what is shown, in the page's own space.
    pub left: f64,
    /// Its lower edge.
    pub low: f64,
    /// Its width, before turning, in the page's own unit.
    pub w: f64,
    /// Its height.
    pub h: f64,
    /// Clockwise turn: 0, 90, 180 or 270 degrees.
    pub turn: u16,
    /// Points in the page's unit.
    pub unit: f64,
}

impl PageView {
    /// The sheet of a page that was read.
    pub fn of(page: &PageFacts) -> PageView {
        let tidy = |[a, b, c, d]: [f64; 4]| [a.min(c), b.min(d), a.max(c), b.max(d)];
        let (media, crop) = (tidy(page.media_box), tidy(page.crop_box));
        let cut = [media[0].max(crop[0]), media[1].max(crop[1]), media[2].min(crop[2]), media[3].min(crop[3])];
        // A crop box that shows nothing of the page is passed over, as readers do.
        let [x0, y0, x1, y1] = if cut[2] > cut[0] && cut[3] > cut[1] { cut } else { media };
        let turn = match page.rotate.rem_euclid(360) {
            90 => 90,
            180 => 180,
            270 => 270,
            _ => 0,
        };
        let unit = if page.user_unit > 0.0 && page.user_unit.is_finite() { page.user_unit } else { 1.0 };
        PageView { left: x0, low: y0, w: x1 - x0, h: y1 - y0, turn, unit }
    }

    /// Its size as it is seen, in points.
    pub fn shown(&self) -> Size {
        let (w, h) = (self.w * self.unit, self.h * self.unit);
        if self.turn % 180 == 90 { Size::new(h, w) } else { Size::new(w, h) }
    }

    /// What a step to the right, a step down and the corner at the top left of the page as it is seen are in the page's
    /// own space: `[right.x, right.y, down.x, down.y, corner.x, corner.y]`, steps of one point.
    pub fn axes(&self) -> [f64; 6] {
        let s = 1.0 / self.unit;
        let (right, high) = (self.left + self.w, self.low + self.h);
        match self.turn {
            90 => [0.0, s, s, 0.0, self.left, self.low],
            180 => [-s, 0.0, 0.0, s, right, self.low],
            270 => [0.0, -s, -s, 0.0, right, high],
            _ => [s, 0.0, 0.0, -s, self.left, high],
        }
    }

    /// A point of the page as it is seen, in the page's own space.
    pub fn own(&self, p: Point) -> [f64; 2] {
        let [ax, ay, bx, by, x, y] = self.axes();
        [ax * p.x + bx * p.y + x, ay * p.x + by * p.y + y]
    }

    /// A rectangle of the page as it is seen, in the page's own space: left, low, right, high.
    pub fn own_rect(&self, r: Rect) -> [f64; 4] {
        let [ax, ay] = self.own(Point::new(r.x, r.y));
        let [bx, by] = self.own(Point::new(r.right(), r.bottom()));
        [ax.min(bx), ay.min(by), ax.max(bx), ay.max(by)]
    }

    /// A rectangle of the page as it is seen, in the space that readers of links use: from the top left of the crop box,
    /// before turning, in the page's unit.
    pub fn unturned(&self, r: Rect) -> Rect {
        let [x0, y0, x1, y1] = self.own_rect(r);
        Rect::new(x0 - self.left, self.low + self.h - y1, x1 - x0, y1 - y0)
    }

    /// The matrix (ISO 32000-1, 8.3.4) that lays a form of this height, whose content has its origin at the bottom left,
    /// on the page so that its top left corner is that of the page as it is seen.
    pub fn matrix(&self, height: f64) -> [f64; 6] {
        let [ax, ay, bx, by, x, y] = self.axes();
        [ax, ay, -bx, -by, x + bx * height, y + by * height]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn sheet(turn: i64, crop: [f64; 4], user_unit: f64) -> PageView {
        let media_box = [-20.0, -30.0, 700.0, 900.0];
        PageView::of(&PageFacts { media_box, crop_box: crop, rotate: turn, user_unit, ..PageFacts::default() })
    }

    #[test]
    fn the_top_left_corner_is_where_the_page_was_turned_to() {
        let crop = [10.0, 20.0, 110.0, 320.0];
        let corner = |turn| sheet(turn, crop, 1.0).own(Point::new(0.0, 0.0));
        // Turned clockwise by a quarter, the lower left corner comes to lie at the top left.
        assert_eq!(corner(0), [10.0, 320.0]);
        assert_eq!(corner(90), [10.0, 20.0]);
        assert_eq!(corner(-180), [110.0, 20.0]);
        assert_eq!(corner(630), [110.0, 320.0]);
        assert_eq!(sheet(90, crop, 2.0).shown(), Size::new(600.0, 200.0));
        assert_eq!(sheet(0, [2000.0, 0.0, 2100.0, 10.0], 1.0).shown(), Size::new(720.0, 930.0));
    }

    proptest! {
        #[test]
        fn the_whole_page_is_the_whole_crop_box(turn in 0i64..4, x in 0.0..90.0, y in 0.0..90.0, unit in 0.5..4.0) {
            let crop = [x, y, x + 300.0, y + 500.0];
            let sheet = sheet(turn * 90, crop, unit);
            let own = sheet.own_rect(Rect::page(sheet.shown()));
            for (a, b) in own.iter().zip(crop) {
                prop_assert!((a - b).abs() < 1e-6);
            }
        }

        #[test]
        fn a_form_lands_where_the_points_land(turn in 0i64..4, x in 0.0..200.0, y in 0.0..200.0, height in 1.0..900.0) {
            let sheet = sheet(turn * 90, [5.0, 7.0, 305.0, 507.0], 1.5);
            let [a, b, c, d, e, f] = sheet.matrix(height);
            let (u, v) = (x, height - y);
            let own = sheet.own(Point::new(x, y));
            prop_assert!((a * u + c * v + e - own[0]).abs() < 1e-6);
            prop_assert!((b * u + d * v + f - own[1]).abs() < 1e-6);
        }
    }
}
