//! The designer's own artwork: a drawing or picture that takes the place of a page that the tool would draw.

use super::blob::Blob;
use super::drawing::Picture;
use super::fault::SourceSpan;
use super::geometry::{Rect, Size};
use super::units::{PT_PER_MM, trim_number};
use std::sync::Arc;

/// Art for a page, as the manifest asks for it.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct ArtPage {
    /// Its path in the product's folder.
    pub file: String,
    /// What lies there.
    pub source: ArtSource,
    /// What the designer should know of the file.
    pub notes: Vec<String>,
    /// Where the manifest names it.
    pub span: Option<SourceSpan>,
    /// How it is fitted to its room.
    pub fit: Fit,
    /// Which room it has.
    pub room: Room,
    /// What lies over it.
    pub navigation: Navigation,
    /// Tap areas that the manifest lists.
    pub links: Vec<ArtLink>,
    /// Whether the shapes that mark tap areas in a drawing are left out of the picture.
    pub hide_links: bool,
    /// Whether links that a PDF has of its own are kept.
    pub keep_links: bool,
    /// Where links of a PDF lead here: `page 4`, a name or an address in the file, and a place of the notebook.
    pub re_aim: Vec<ReAim>,
}

/// Where a link that a PDF has of its own is to lead.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct ReAim {
    /// What it led to in the file.
    pub from: String,
    /// Where it leads now; nowhere if empty.
    pub to: String,
    /// Where the manifest says so.
    pub span: Option<SourceSpan>,
}

/// A link that a PDF has of its own.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Tap {
    /// Where it lies on its page, in the units of a drawing (CSS pixels).
    pub rect: Rect,
    /// What it led to.
    pub to: TapTo,
}

/// What a link of a PDF led to.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub enum TapTo {
    /// A page of the same file, from 0.
    Page(usize),
    /// A name, and the page that it stands for, if the file says so.
    Name(String, Option<usize>),
    /// An address.
    Address(String),
}

/// Where a page's art comes from.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub enum ArtSource {
    /// The text of an SVG file, which may be a template.
    Svg(Arc<String>),
    /// Pixels of a PNG.
    Picture(Arc<Picture>),
    /// A JPEG that travels as it is.
    Jpeg {
        /// The file.
        bytes: Blob,
        /// Width in pixels.
        width: u32,
        /// Height in pixels.
        height: u32,
        /// One channel instead of three.
        grey: bool,
    },
    /// A page of a PDF file.
    Pdf {
        /// The file.
        bytes: Blob,
        /// Which page, from 0.
        page: usize,
        /// Its size as it is seen, in points.
        size: Size,
        /// Its own links.
        taps: Vec<Tap>,
    },
}

impl ArtPage {
    /// Whether it is a drawing, which may hold text.
    pub fn is_drawing(&self) -> bool {
        matches!(self.source, ArtSource::Svg(_))
    }
}

/// How art is fitted to its room.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Fit {
    /// At its own size, middle on middle.
    Exact,
    /// As large as it can be and still be seen whole.
    #[default]
    Fit,
    /// As small as it can be and still cover the room; what hangs over is cut off.
    Fill,
    /// At its own size, with an even rim round the room that is cut off.
    Bleed,
}

/// The room that art has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Room {
    /// The whole page, desk and all.
    #[default]
    Page,
    /// The paper, or both papers together.
    Papers,
    /// The writing area, or both together.
    Writing,
}

/// What lies over art.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Navigation {
    /// Tabs, coil and foot, with their tap areas.
    #[default]
    Over,
    /// Only their tap areas: the art has tabs of its own in the same places.
    Taps,
    /// Nothing.
    None,
}

/// A tap area that the manifest lists.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct ArtLink {
    /// Where it leads, as the designer wrote it.
    pub to: String,
    /// Left, top, width and height.
    pub at: [Measure; 4],
    /// Where the manifest says so.
    pub span: Option<SourceSpan>,
}

/// A measure on art.
#[derive(Clone, Copy, Debug, PartialEq, borsh::BorshSerialize)]
pub enum Measure {
    /// Millimetres on the page, from the page's edge.
    Mm(f64),
    /// The art's own pixels, from the art's edge.
    Px(f64),
    /// Parts of a hundred of the art's width or height, from the art's edge.
    Percent(f64),
}

/// How far sizes may be apart and still count as the same: half a millimetre.
const SAME: f64 = 0.5 * PT_PER_MM;

impl Fit {
    /// Its name in the manifest.
    pub fn name(self) -> &'static str {
        match self {
            Fit::Exact => "exact",
            Fit::Fit => "fit",
            Fit::Fill => "fill",
            Fit::Bleed => "bleed",
        }
    }

    /// Where art of this size lands in a room, and what is wrong with its shape, if anything. Sizes in points; without
    /// a size of its own (a picture has only pixels) it counts as as wide as the room.
    pub fn place(self, art: Size, own_size: bool, room: Rect) -> (Rect, Option<String>) {
        let (across, down) = (room.w / art.w, room.h / art.h);
        let scale = match self {
            Fit::Exact | Fit::Bleed if own_size => 1.0,
            Fit::Exact => across,
            Fit::Fit => across.min(down),
            Fit::Fill | Fit::Bleed => across.max(down),
        };
        let (w, h) = (art.w * scale, art.h * scale);
        let (over_x, over_y) = (w - room.w, h - room.h);
        let at = Rect::new(room.x - over_x / 2.0, room.y - over_y / 2.0, w, h);
        let off = |v: f64| v.abs() > SAME;
        let mm = |v: f64| format!("{} mm", trim_number(v.abs() / PT_PER_MM, 1));
        let wrong = match self {
            Fit::Exact if off(over_x) || off(over_y) => {
                let each = |over: f64, of: &str| match over {
                    o if o > SAME => Some(format!("{} too {of}", mm(o))),
                    o if o < -SAME => Some(format!("{} not {of} enough", mm(o))),
                    _ => None,
                };
                [each(over_x, "wide"), each(over_y, "high")].into_iter().flatten().reduce(|a, b| a + ", " + &b)
            }
            Fit::Fit if off(over_x) => Some(format!("{} stay empty left and right together", mm(over_x))),
            Fit::Fit if off(over_y) => Some(format!("{} stay empty above and below together", mm(over_y))),
            Fit::Fill if off(over_x) => Some(format!("{} are cut off left and right together", mm(over_x))),
            Fit::Fill if off(over_y) => Some(format!("{} are cut off above and below together", mm(over_y))),
            Fit::Bleed if over_x < -SAME || over_y < -SAME => {
                Some(format!("it does not cover it: {} lack", mm(over_x.min(over_y))))
            }
            Fit::Bleed if off(over_x - over_y) => Some(format!(
                "the rim to be cut off is {} left and right, but {} above and below",
                mm(over_x / 2.0),
                mm(over_y / 2.0)
            )),
            _ => None,
        };
        (at, wrong)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(w: f64, h: f64) -> Size {
        Size::new(w * PT_PER_MM, h * PT_PER_MM)
    }

    fn placed(fit: Fit, art: Size) -> ([f64; 4], Option<String>) {
        let (at, wrong) = fit.place(art, true, Rect::page(mm(200.0, 100.0)));
        ([at.x, at.y, at.w, at.h].map(|v| (v / PT_PER_MM * 100.0).round() / 100.0), wrong)
    }

    #[test]
    fn the_same_shape_is_never_blamed() {
        for fit in [Fit::Exact, Fit::Fit, Fit::Fill, Fit::Bleed] {
            assert_eq!(placed(fit, mm(200.0, 100.2)).1, None, "{fit:?}");
        }
        assert_eq!(placed(Fit::Fit, mm(100.0, 50.0)), ([0.0, 0.0, 200.0, 100.0], None));
        assert_eq!(placed(Fit::Bleed, mm(206.0, 106.0)), ([-3.0, -3.0, 206.0, 106.0], None));
    }

    #[test]
    fn another_shape_is_told_in_millimetres() {
        assert_eq!(
            placed(Fit::Fit, mm(100.0, 100.0)),
            ([50.0, 0.0, 100.0, 100.0], Some("100 mm stay empty left and right together".into()))
        );
        assert_eq!(
            placed(Fit::Fill, mm(100.0, 100.0)),
            ([0.0, -50.0, 200.0, 200.0], Some("100 mm are cut off above and below together".into()))
        );
        assert_eq!(placed(Fit::Exact, mm(210.0, 90.0)).1, Some("10 mm too wide, 10 mm not high enough".into()));
        assert_eq!(
            placed(Fit::Bleed, mm(206.0, 100.0)).1,
            Some("the rim to be cut off is 3 mm left and right, but 0 mm above and below".into())
        );
        assert_eq!(placed(Fit::Bleed, mm(190.0, 106.0)).1, Some("it does not cover it: 10 mm lack".into()));
    }
}
