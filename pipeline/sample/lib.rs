//! A product for unit tests: each test changes what it is about.

use base::model::assets::Assets;
use base::model::geometry::Size;
use base::model::product::*;
use base::model::units::{Mm, Rgb};
use std::collections::BTreeMap;

/// A small product of our usual scenario, with the usual limits, no notebook, covers or stickers.
pub fn product() -> Product {
    Product {
        root: "products/allotment-year".into(),
        name: "Allotment Year".into(),
        slug: "allotment-year".into(),
        version: "1.0.0".into(),
        released: Date { year: 2027, month: 1, day: 15 },
        frozen: false,
        shop: Shop { name: "Fernlea Paper Room".into(), contact: None },
        language: "en-GB".into(),
        words: base::model::words::Words::of("en-GB"),
        page: PageSetup {
            size: Size::new(960.0, 720.0),
            named: "tablet-4x3".into(),
            spread: true,
            toolbar_edge: Edge::Top,
            toolbar: Mm(8.0),
            coil: Coil::Middle,
            hand: Hand::Right,
            right_to_left: false,
        },
        style: Style {
            fonts: BTreeMap::new(),
            ink: Rgb::BLACK,
            rule: Rgb::BLACK,
            paper: Rgb::WHITE,
            desk: Rgb::WHITE,
            accent: Rgb::BLACK,
            corner: Mm(2.0),
            manner: Default::default(),
        },
        notebook: None,
        covers: Vec::new(),
        stickers: StickerSet {
            dpi: 300.0,
            padding: Mm(1.0),
            optimise: Optimise::default(),
            numbers: Default::default(),
            sheets: SheetForms { pdf: true, png: true },
            groups: Vec::new(),
            cuts: Vec::new(),
            items: Vec::new(),
        },
        guide: Guide { wanted: false, from: String::new(), text: String::new(), pictures: BTreeMap::new() },
        licence: Licence {
            small_commercial: None,
            classroom_seats: None,
            refunds: Refunds::Unstated,
            credits: Vec::new(),
            extra: None,
        },
        assets: Assets::default(),
        listing: Listing { title: String::new(), summary: String::new(), tags: Vec::new() },
        shots: Vec::new(),
        limits: Limits::default(),
        delivery: None,
        lowered: BTreeMap::new(),
        versions: Default::default(),
        launch: None,
        classic_pdf: false,
        variants: Default::default(),
        art_fonts: Vec::new(),
        sisters: Vec::new(),
        members: Vec::new(),
        data: serde_json::Map::new(),
        untranslated: Vec::new(),
        remarks: Vec::new(),
        texts: Vec::new(),
    }
}
