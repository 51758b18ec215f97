//! Stickers of the product on pages of the notebook: where they land, and what they must keep off.
//!
//! A sticker lies above what the page draws and below no tap area: it stands on one paper, beside tabs, coil and foot.

use super::builder::Builder;
use super::chrome::State;
use base::model::art::{ArtPage, Measure, Navigation, Room};
use base::model::drawing::Shape;
use base::model::placed::PlacedSticker;
use base::model::units::{PT_PER_MM, trim_number};
use base::model::{Drawing, Fault, Mm, Rect};

/// A sticker on its page.
struct Landed {
    shape: Shape,
    /// What can be seen of it: the clear rim is not.
    seen: Rect,
}

impl Builder<'_, '_> {
    /// The stickers that stand on a page, drawn.
    pub fn stickers(&self, placed: &[PlacedSticker]) -> Drawing {
        let shapes = placed.iter().filter_map(|p| self.landed(p)).map(|l| l.shape).collect();
        Drawing { shapes, cuts: Vec::new() }
    }

    /// Puts stickers on the page that was added last.
    pub fn decorate(&mut self, placed: &[PlacedSticker]) {
        let stickers = self.stickers(placed);
        if let Some(page) = self.pages.last_mut() {
            page.drawing.extend(stickers);
        }
    }

    /// Tells of stickers that reach beyond the papers of a page in this state, or over its tabs, coil and foot. Art that fills the
    /// page has no papers, and such without navigation nothing to keep off.
    pub fn keep_off(&mut self, placed: &[PlacedSticker], state: State, art: Option<&ArtPage>) {
        if placed.is_empty() {
            return;
        }
        let bare = art.is_some_and(|art| art.navigation == Navigation::None);
        let taps = if bare { Vec::new() } else { self.chrome.links(state) };
        let (sheets, sheet) = match art {
            Some(art) if art.room == Room::Page => (vec![Rect::page(self.frame.page)], "the page"),
            _ => (self.frame.papers.clone(), "its paper"),
        };
        for sticker in placed {
            let Some(Landed { seen, .. }) = self.landed(sticker) else { continue };
            let on_sheet = sheets.iter().any(|sheet| sheet.contains(seen, 0.1));
            let under = taps.iter().find(|link| link.rect.overlaps(seen));
            let wrong = match under {
                _ if !on_sheet => format!("reaches beyond {sheet}"),
                Some(link) => format!("lies under the tap area “{}”", link.says),
                None => continue,
            };
            let name = &sticker.sticker;
            let message = format!("the sticker `{name}` {wrong}: it would take {}", span(seen));
            let fault = Fault::new(message).help(self.free(seen)).in_file(super::MANIFEST);
            let fault = Fault { span: sticker.placed.clone(), ..fault };
            // Pages of one template say the same.
            let told = |f: &Fault| f.span == fault.span && fault.span.is_some() || *f == fault;
            if !self.loader.faults.iter().any(told) {
                self.loader.faults.push(fault);
            }
        }
    }

    /// Where on the nearest paper it may lie, and how wide it could be.
    fn free(&self, seen: Rect) -> String {
        let middle = seen.centre();
        let far = |area: &Rect| (area.centre().x - middle.x).abs() + (area.centre().y - middle.y).abs();
        let nearest = self.frame.areas.iter().min_by(|a, b| far(a).total_cmp(&far(b)));
        nearest.map_or_else(String::new, |area| {
            format!("there is room within {}; move it, or make it smaller", span(*area))
        })
    }

    fn landed(&self, placed: &PlacedSticker) -> Option<Landed> {
        let made = self.placed.get(&placed.sticker)?;
        let drawn = self.product.stickers.items.iter().find(|s| s.name == placed.sticker);
        let rim = drawn.map_or(0.0, |s| s.padding.pt());
        let plain = (made.size.w - 2.0 * rim).max(1.0);
        let scale = placed.width.map_or(1.0, |width| width.pt() / plain);
        let page = self.frame.page;
        let along = |measure: Measure, whole: f64| match measure {
            Measure::Mm(mm) => Mm(mm).pt(),
            Measure::Percent(part) => whole * part / 100.0,
            // The manifest takes none: a page has no pixels of its own.
            Measure::Px(px) => px,
        };
        let (x, y) = (along(placed.at[0], page.w), along(placed.at[1], page.h));
        let (w, h) = (made.size.w * scale, made.size.h * scale);
        let at = Rect::new(x - w / 2.0, y - h / 2.0, w, h);
        let seen = at.inset(rim * scale).turned(placed.turn);
        Some(Landed { shape: Shape::Picture { picture: made.picture.clone(), at, turn: placed.turn }, seen })
    }
}

/// A place on the page in words, in millimetres.
fn span(area: Rect) -> String {
    let mm = |v: f64| trim_number(v / PT_PER_MM, 1);
    let (left, right) = (mm(area.x), mm(area.right()));
    format!("{left} to {right} mm across and {} to {} mm down", mm(area.y), mm(area.bottom()))
}
