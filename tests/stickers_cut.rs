//! Sheets cut into stickers, borders, contact pictures: through the front door, measured on what comes out.
//! Sizes by 25.4 mm to the inch.

#![allow(clippy::unwrap_used, missing_docs)]

mod style;

use base::model::product::{Border, CutSheet, CutSpans, Edges, Reading, SheetSize, Side, Sticker, StickerSource};
use base::model::{Fault, Mm, Rgb};
use draw::Fonts;
use raster::{Raster, decode};
use render::stickers::contact::{Card, Layout, contact};
use render::stickers::cut::Pieces;
use render::stickers::{Effort, StickerContext};
use std::sync::Arc;

fn like() -> Sticker {
    Sticker {
        name: "bed".into(),
        source: StickerSource::BuiltIn("star".into(), None),
        group: String::new(),
        longest: Mm(20.0),
        side: Side::Longest,
        edges: Edges::Estimate,
        colour: Rgb::new(0x7a, 0x9a, 0x6c),
        dpi: 254.0,
        padding: Mm(1.0),
        border: None,
        first_day: Default::default(),
        language: Default::default(),
    }
}

/// Five garden things on a sheet of 100 × 60 mm (10 px a mm): one of them in two pieces, two specks besides.
const GARDEN: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 60">
  <g id="pumpkin"><ellipse cx="20" cy="16" rx="12" ry="9" fill="#d9772b"/><rect x="19" y="3" width="2" height="5" fill="#5c7a34"/></g>
  <path id="leaf" d="M40 22 C40 8 52 4 60 4 C62 16 54 24 40 22 Z" fill="#5c7a34"/>
  <g id="drop"><path d="M84 4 L90 16 A6.5 6.5 0 1 1 78 16 Z" fill="#4a86b0"/></g>
  <rect id="crate" x="10" y="36" width="26" height="16" rx="2" fill="#a07a4c"/>
  <g id="peas"><circle cx="60" cy="44" r="5" fill="#7aa04c"/><circle cx="71.2" cy="44" r="5" fill="#7aa04c"/></g>
  <rect x="95" y="55" width="0.2" height="0.2"/><rect x="2" y="30" width="0.3" height="0.2"/>
</svg>"##;

fn sheet(path: &str, source: StickerSource) -> CutSheet {
    CutSheet {
        path: path.into(),
        source,
        size: SheetSize::Width(Mm(100.0)),
        gap: Mm(1.5),
        speck: Mm(0.6),
        reading: Reading::Rows,
        names: Vec::new(),
        count: None,
        like: like(),
        spans: CutSpans::default(),
    }
}

fn garden() -> CutSheet {
    sheet("art/garden.svg", StickerSource::Svg("art/garden.svg".into(), Arc::new(GARDEN.into())))
}

fn cut(sheet: &CutSheet) -> Result<Pieces, Fault> {
    let style = style::plain();
    let fonts = Fonts::open(&style.fonts).unwrap();
    StickerContext::new(&style, &fonts).cut_sheet(sheet)
}

fn names(p: &Pieces) -> Vec<String> {
    p.stickers.iter().map(|s| s.name.clone()).collect()
}

#[test]
fn a_sheet_becomes_stickers_named_by_their_ids_in_reading_order() {
    let pieces = cut(&garden()).unwrap();
    assert_eq!(names(&pieces), ["pumpkin", "leaf", "drop", "crate", "peas"]);
    assert_eq!(pieces.specks, 2);
    assert!(pieces.notes.iter().any(|n| n.contains("2 stray specks")), "{:?}", pieces.notes);
    // The crate is 26 × 16 mm at 10, 36.
    for (got, want) in pieces.places[3].into_iter().zip([10.0, 36.0, 26.0, 16.0]) {
        assert!((got - want).abs() < 0.11, "{:?}", pieces.places[3]);
    }
    assert!((pieces.stickers[3].longest.0 - 26.0).abs() < 0.11);
    let fonts_of = style::plain();
    let fonts = Fonts::open(&fonts_of.fonts).unwrap();
    let made = StickerContext::new(&fonts_of, &fonts).sticker(&pieces.stickers[3]).unwrap();
    assert!(
        made.width.abs_diff(260 + 20) <= 1 && made.height.abs_diff(160 + 20) <= 1,
        "{} × {}",
        made.width,
        made.height
    );
    assert!(made.notes.is_empty(), "{:?}", made.notes);
}

#[test]
fn names_from_a_list_come_first_and_the_order_is_hers() {
    let list = |names: &[&str]| names.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>();
    let five = list(&["gourd", "sprig", "dew", "box", "pods"]);
    let pieces = cut(&CutSheet { names: five.clone(), ..garden() }).unwrap();
    assert_eq!(names(&pieces), ["gourd", "sprig", "dew", "box", "pods"]);
    let read = |reading| names(&cut(&CutSheet { reading, ..garden() }).unwrap()).join(" ");
    assert_eq!(read(Reading::RowsFromRight), "drop leaf pumpkin peas crate");
    assert_eq!(read(Reading::Columns), "pumpkin crate leaf peas drop");
    assert_eq!(read(Reading::ColumnsFromRight), "drop peas leaf pumpkin crate");
    // A small gap parts the two peas; they have no id of their own.
    let pieces = cut(&CutSheet { gap: Mm(0.5), ..garden() }).unwrap();
    assert_eq!(names(&pieces), ["pumpkin", "leaf", "drop", "crate", "bed-5", "bed-6"]);
    let four = CutSheet { names: five[..4].to_vec(), ..garden() };
    let fault = cut(&four).unwrap_err().to_string();
    assert!(fault.starts_with("art/garden.svg: 4 names are given, and art/garden.svg holds 5 drawings"), "{fault}");
    assert!(fault.contains("4 box (26 × 16 mm at 10, 36), 5 ("), "{fault}");
    let fault = cut(&CutSheet { count: Some(7), ..garden() }).unwrap_err().to_string();
    assert!(fault.contains("the count is 7, and art/garden.svg holds 5 drawings"), "{fault}");
    assert!(fault.contains("1 pumpkin ("), "{fault}");
}

#[test]
fn a_sheet_is_sized_by_its_longest_drawing() {
    // The crate and the pumpkin are the longest of the garden: 26 mm when the sheet is 100 mm wide.
    let pieces =
        cut(&CutSheet { size: SheetSize::Longest(Mm(13.0)), gap: Mm(0.8), speck: Mm(0.4), ..garden() }).unwrap();
    let longest = pieces.stickers.iter().map(|s| s.longest.0).fold(0.0, f64::max);
    assert!((longest - 13.0).abs() < 0.11, "{longest}");
    assert_eq!(pieces.stickers.len(), 5);
    // An SVG without a width of its own is as large as its view box: 100 px at 96 to the inch.
    let own = cut(&CutSheet { size: SheetSize::Own, gap: Mm(0.5), speck: Mm(0.2), ..garden() }).unwrap();
    assert!((own.stickers[3].longest.0 - 26.0 / 96.0 * 25.4).abs() < 0.11, "{}", own.stickers[3].longest);
}

#[test]
fn a_png_sheet_is_cut_at_its_own_resolution() {
    let drawn = cut(&garden()).unwrap();
    let mut page = Raster::clear(500, 300);
    for (sticker, place) in drawn.stickers.iter().zip(&drawn.places) {
        let StickerSource::Png(picture) = &sticker.source else { panic!("a picture") };
        let small = Raster::of(picture);
        let small = raster::resize::resize(&small, small.w / 2, small.h / 2);
        render::stickers::contact::lay(&mut page, &small, (place[0] * 5.0) as usize, (place[1] * 5.0) as usize);
    }
    let pieces = cut(&sheet("art/garden.png", StickerSource::Png(Arc::new(page.picture("art/garden.png"))))).unwrap();
    assert_eq!(names(&pieces), ["bed-1", "bed-2", "bed-3", "bed-4", "bed-5"]);
    assert!((pieces.dpi - 127.0).abs() < 1e-6, "{}", pieces.dpi);
    assert!((pieces.stickers[3].longest.0 - 26.0).abs() < 0.3);
    let style = style::plain();
    let fonts = Fonts::open(&style.fonts).unwrap();
    let made = StickerContext::new(&style, &fonts).sticker(&pieces.stickers[3]).unwrap();
    assert!((made.dpi - 127.0).abs() < 1e-6);
}

#[test]
fn sheets_that_cannot_be_cut_say_why() {
    let solid = Raster { w: 40, h: 30, px: vec![[200, 200, 200, 255]; 1200] };
    let fault = cut(&sheet("art/solid.png", StickerSource::Png(Arc::new(solid.picture("art/solid.png"))))).unwrap_err();
    assert!(fault.to_string().contains("art/solid.png: the whole sheet is one part"), "{fault}");
    let clear = Raster::clear(40, 30);
    let fault = cut(&sheet("art/clear.png", StickerSource::Png(Arc::new(clear.picture("art/clear.png"))))).unwrap_err();
    assert!(fault.to_string().contains("no drawing was found"), "{fault}");
    let fault = cut(&sheet("star", StickerSource::BuiltIn("star".into(), None))).unwrap_err();
    assert!(fault.message.contains("not a sheet"), "{fault}");
}

#[test]
fn a_border_adds_its_width_all_round_and_its_corners_stay_clear() {
    let style = style::plain();
    let fonts = Fonts::open(&style.fonts).unwrap();
    let shop = StickerContext::new(&style, &fonts).effort(Effort::Quick);
    let crate_ = &cut(&garden()).unwrap().stickers[3];
    let border = Border { width: Mm(2.0), colour: Rgb::WHITE, fill_holes: true, shadow: false };
    let plain = shop.sticker(&Sticker { border: Some(border), ..crate_.clone() }).unwrap();
    // 26 × 16 mm, 2 mm of border, 1 mm of padding on every side, 10 px a mm.
    assert!(plain.width.abs_diff(320) <= 1 && plain.height.abs_diff(220) <= 1, "{} × {}", plain.width, plain.height);
    let raster = Raster::of(&decode::decode("made", &plain.png).unwrap().picture);
    let ink = raster.ink().unwrap();
    assert_eq!((ink.x, ink.y, raster.w - ink.x - ink.w, raster.h - ink.y - ink.h), (10, 10, 10, 10));
    assert_eq!(raster.at(160, 15), [255, 255, 255, 255]);
    assert_eq!(raster.at(11, 11)[3], 0, "the corner of the band is round");
    let shadowed =
        shop.sticker(&Sticker { border: Some(Border { shadow: true, ..border }), ..crate_.clone() }).unwrap();
    assert!(shadowed.height > plain.height + 10);
    for width in [0.0, f64::NAN, -1.0, 50.0] {
        let bad = Border { width: Mm(width), ..border };
        let fault = shop.sticker(&Sticker { border: Some(bad), ..crate_.clone() }).unwrap_err();
        assert!(fault.message.contains("die-cut border"), "{fault}");
    }
}

#[test]
fn a_contact_picture_shows_every_sticker_on_its_ground() {
    let style = style::plain();
    let fonts = Fonts::open(&style.fonts).unwrap();
    let shop = StickerContext::new(&style, &fonts).effort(Effort::Quick);
    let pieces = cut(&garden()).unwrap();
    let made: Vec<_> = shop.all(&pieces.stickers).into_iter().map(Result::unwrap).collect();
    let pictures: Vec<_> = made.iter().map(|m| decode::decode("made", &m.png).unwrap().picture).collect();
    let items: Vec<Card> = (0..made.len())
        .map(|i| Card { name: &pieces.stickers[i].name, picture: &pictures[i], placed: made[i].placed() })
        .collect();
    let layout =
        Layout { width: 900, columns: 3, least: 0.0, ground: Rgb::new(0xe9, 0xe2, 0xd4), right_to_left: false };
    let page = contact(&items, layout, &style, &fonts).unwrap();
    assert_eq!(page, contact(&items, layout, &style, &fonts).unwrap());
    assert_eq!(page.w, 900);
    assert!(page.px.iter().all(|p| p[3] == 255));
    // Each cell holds the main colour of its own sticker in its middle: the peas' gap shows the ground.
    let middle = |column: usize, row: usize| page.at(900 * (2 * column + 1) / 6, page.h * (4 * row + 2) / 9);
    let near = |a: [u8; 4], b: [u8; 3]| (0..3).all(|i| a[i].abs_diff(b[i]) < 12);
    for (cell, colour) in [
        ((0, 0), [0xd9, 0x77, 0x2b]),
        ((1, 0), [0x5c, 0x7a, 0x34]),
        ((2, 0), [0x4a, 0x86, 0xb0]),
        ((0, 1), [0xa0, 0x7a, 0x4c]),
    ] {
        assert!(near(middle(cell.0, cell.1), colour), "{cell:?} {:?}", middle(cell.0, cell.1));
    }
    assert!(contact(&[], layout, &style, &fonts).is_ok());
}
