//! Stickers from outside: every PNG is read back with the `png` crate, chunk by chunk, and measured.
//!
//! Sources: PNG Specification, third edition (11.2.1 IHDR, 11.3.2.5 sRGB, 11.3.4.3 pHYs); millimetres to pixels by
//! 25.4 mm to the inch.

#![allow(clippy::unwrap_used, missing_docs)]

mod style;

use base::model::drawing::Picture;
use base::model::product::{Edges, Side, Sticker, StickerSource};
use base::model::{Fault, Mm, Rgb};
use draw::svg_loader::{MissingGlyph, SvgLoader};
use draw::{Fonts, motifs};
use render::stickers::{Effort, Made, StickerContext};
use std::sync::Arc;

fn built_in(name: &str, longest: f64, dpi: f64, padding: f64) -> Sticker {
    sticker(StickerSource::BuiltIn(name.into(), None), longest, dpi, padding)
}

fn sticker(source: StickerSource, longest: f64, dpi: f64, padding: f64) -> Sticker {
    Sticker {
        name: "probe".into(),
        source,
        group: String::new(),
        longest: Mm(longest),
        side: Side::Longest,
        edges: Edges::Estimate,
        colour: Rgb::new(0x7a, 0x9a, 0x6c),
        dpi,
        padding: Mm(padding),
        border: None,
        first_day: Default::default(),
        language: Default::default(),
    }
}

fn svg(text: &str) -> Sticker {
    sticker(StickerSource::Svg("art/bean.svg".into(), Arc::new(text.into())), 40.0, 300.0, 1.0)
}

fn made(s: &Sticker) -> Result<Made, Fault> {
    let style = style::plain();
    let fonts = Fonts::open(&style.fonts).unwrap();
    StickerContext::new(&style, &fonts).effort(Effort::Quick).sticker(s)
}

/// The pixels, after the header has been checked.
fn pixels(m: &Made) -> (usize, usize, Vec<u8>) {
    let mut reader = png::Decoder::new(std::io::Cursor::new(&m.png)).read_info().unwrap();
    let info = reader.info();
    assert_eq!((info.width, info.height), (m.width, m.height));
    assert_eq!((info.color_type, info.bit_depth), (png::ColorType::Rgba, png::BitDepth::Eight));
    assert!(!info.interlaced);
    assert_eq!(info.srgb, Some(png::SrgbRenderingIntent::Perceptual));
    let phys = info.pixel_dims.unwrap();
    let expected = (m.dpi / 0.0254).round() as u32;
    assert_eq!((phys.xppu, phys.yppu, phys.unit), (expected, expected, png::Unit::Meter));
    let mut data = vec![0; reader.output_buffer_size().unwrap()];
    reader.next_frame(&mut data).unwrap();
    (m.width as usize, m.height as usize, data)
}

/// First and last column and row that hold anything.
fn ink((w, h, data): &(usize, usize, Vec<u8>)) -> (usize, usize, usize, usize) {
    let alpha = |x: usize, y: usize| data[(y * w + x) * 4 + 3];
    let columns: Vec<usize> = (0..*w).filter(|x| (0..*h).any(|y| alpha(*x, y) > 0)).collect();
    let rows: Vec<usize> = (0..*h).filter(|y| (0..*w).any(|x| alpha(x, *y) > 0)).collect();
    (columns[0], rows[0], columns[columns.len() - 1], rows[rows.len() - 1])
}

fn check(m: &Made, longest: f64, dpi: f64, padding: usize) {
    let all = pixels(m);
    let (w, h, data) = &all;
    let (x0, y0, x1, y1) = ink(&all);
    assert_eq!((x0, y0, w - 1 - x1, h - 1 - y1), (padding, padding, padding, padding), "padding");
    let (long, want) = ((x1 - x0 + 1).max(y1 - y0 + 1) as f64, longest / 25.4 * dpi);
    assert!((long - want).abs() <= 1.0, "{long} px for {want:.1}");
    for (x, y) in [(0, 0), (w - 1, 0), (0, h - 1), (w - 1, h - 1)] {
        assert_eq!(data[(y * w + x) * 4 + 3], 0, "corner {x} {y}");
    }
    assert!(data.chunks_exact(4).all(|p| p[3] > 0 || p == [0; 4]), "colour under clear pixels");
}

#[test]
fn every_motif_is_cut_clean_at_its_own_size_and_at_others() {
    let style = style::plain();
    let fonts = Fonts::open(&style.fonts).unwrap();
    let shop = StickerContext::new(&style, &fonts).effort(Effort::Quick);
    assert!(motifs::TABLE.len() >= 28);
    for motif in motifs::TABLE {
        for (longest, dpi, padding) in [(motif.longest, 150.0, 1.0), (37.3, 220.0, 2.5), (8.0, 96.0, 0.4)] {
            let m = shop.sticker(&built_in(motif.name, longest, dpi, padding)).unwrap();
            check(&m, longest, dpi, (padding / 25.4 * dpi).round() as usize);
            assert!(m.notes.is_empty(), "{} {:?}", motif.name, m.notes);
        }
    }
}

#[test]
fn the_table_is_sorted_and_tells_the_size_that_is_drawn() {
    assert!(motifs::TABLE.is_sorted_by(|a, b| a.name < b.name));
    let style = style::plain();
    let fonts = Fonts::open(&style.fonts).unwrap();
    for motif in motifs::TABLE {
        assert!(motifs::find(motif.name).is_some(), "{}", motif.name);
        let desk = motifs::MotifContext {
            colour: Rgb::new(0x30, 0x60, 0x90),
            style: &style,
            fonts: &fonts,
            label: None,
            weekdays: motifs::ENGLISH_DAYS,
            words: motifs::MotifWords::of("en"),
            right_to_left: false,
        };
        let (drawing, size) = motif.draw(&desk);
        assert!(!drawing.shapes.is_empty());
        assert!((size.w.max(size.h) / 72.0 * 25.4 - motif.longest).abs() < 1e-9, "{}", motif.name);
    }
}

#[test]
fn the_same_sticker_is_the_same_file_with_one_thread_and_many() {
    let style = style::plain();
    let fonts = Fonts::open(&style.fonts).unwrap();
    let stickers: Vec<Sticker> =
        motifs::TABLE.iter().step_by(5).map(|m| built_in(m.name, m.longest, 120.0, 1.0)).collect();
    for effort in [Effort::Quick, Effort::Balanced, Effort::Best] {
        let run = |threads: usize| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            let shop = StickerContext::new(&style, &fonts).effort(effort);
            pool.install(|| shop.all(&stickers)).into_iter().map(|m| m.unwrap().png).collect::<Vec<_>>()
        };
        let one = run(1);
        assert!(one == run(4) && one == run(1), "{effort:?}");
    }
}

#[test]
fn an_svg_is_trimmed_to_what_can_be_seen() {
    // A bean off the middle of a large canvas, one shape outside of it, one clipped.
    let m = made(&svg(r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 400">
        <ellipse cx="200" cy="150" rx="80" ry="40" fill="#7a4"/>
        <rect x="600" y="0" width="50" height="50" fill="red"/></svg>"##))
    .unwrap();
    check(&m, 40.0, 300.0, 12);
    let m = made(&svg(
        r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 400"><clipPath id="c"><circle cx="100" cy="100" r="30"/></clipPath>
        <rect width="400" height="300" fill="#7a4" clip-path="url(#c)"/></svg>"##,
    ))
    .unwrap();
    check(&m, 40.0, 300.0, 12);
    let m = made(&svg(
        r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 400"><filter id="b"><feGaussianBlur stdDeviation="9"/></filter>
        <circle cx="200" cy="200" r="60" fill="#a33" filter="url(#b)"/></svg>"##,
    ))
    .unwrap();
    check(&m, 40.0, 300.0, 12);
    // Shapes that reach over the canvas end at its edge.
    let m = made(&svg(r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 50"><circle cx="0" cy="25" r="25" fill="#a33"/></svg>"##)).unwrap();
    check(&m, 40.0, 300.0, 12);
    let (_, _, x1, y1) = ink(&pixels(&m));
    assert!((f64::from((x1 - 11) as u32) / f64::from((y1 - 11) as u32) - 0.5).abs() < 0.01);
}

#[test]
fn text_in_an_svg_takes_the_products_fonts_and_says_so() {
    let text = r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 60"><text x="5" y="40" font-family="Nowhere Sans" font-size="30">Pick peas 豆</text></svg>"##;
    let m = made(&svg(text)).unwrap();
    check(&m, 40.0, 300.0, 12);
    // The plan makes findings of it, with the sticker's place in the manifest.
    let lacks = SvgLoader::new(&style::plain()).read("art/bean.svg", text).unwrap().lacks;
    assert!(lacks.contains(&MissingGlyph::Family("Nowhere Sans".into())), "{lacks:?}");
    assert!(lacks.contains(&MissingGlyph::Character('\u{8c46}')), "{lacks:?}");
}

#[test]
fn bad_svg_is_refused_with_its_place() {
    let body = |inside: &str| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" viewBox=\"0 0 9 9\">\n{inside}\n<rect width=\"9\" height=\"9\"/></svg>"
        )
    };
    for (what, text, place, says) in [
        ("wrong closing tag", "<svg xmlns=\"http://www.w3.org/2000/svg\">\n  <g></h>\n</svg>".into(), Some((2, 6)), "</h>"),
        ("cut off", "<svg xmlns=\"http://www.w3.org/2000/svg\">\n  <g>".into(), Some((2, 6)), "cut off"),
        ("no markup", "bean".into(), Some((1, 1)), "well-formed"),
        ("empty", String::new(), Some((1, 1)), "empty"),
        ("file link", body("<image href=\"beans.png\" width=\"9\" height=\"9\"/>"), Some((2, 8)), "another file"),
        ("remote link", body("<image xlink:href=\"https://example.org/a.png\" width=\"9\" height=\"9\"/>"), Some((2, 8)), "remote"),
        ("use of another file", body("<use href=\"parts.svg#leaf\"/>"), Some((2, 6)), "another file"),
        ("style link", body("<rect style=\"fill:url('http://example.org/p#g')\"/>"), Some((2, 7)), "remote"),
        ("import", body("<style>@import url(a.css);</style>"), Some((2, 1)), "imports"),
        ("script", body("<script>1</script>"), Some((2, 1)), "script"),
        ("style sheet", format!("<?xml-stylesheet href=\"a.css\"?>\n{}", body("")), Some((1, 1)), "styles from another file"),
        (
            "outer entity",
            format!("<!DOCTYPE svg [\n<!ENTITY x SYSTEM \"file:///etc/hostname\">\n]>\n{}", body("<text>&x;</text>")),
            None,
            "",
        ),
        (
            "entity flood",
            "<!DOCTYPE svg [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;\"><!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;\"><!ENTITY d \"&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;\"><!ENTITY e \"&d;&d;&d;&d;&d;&d;&d;&d;&d;&d;\">]>\n<svg xmlns=\"http://www.w3.org/2000/svg\"><text>&e;&e;&e;&e;</text></svg>".into(),
            None,
            "entity",
        ),
        ("no size", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"0\" height=\"0\"/>".into(), None, "cannot be drawn"),
        ("huge canvas", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60000\" height=\"60000\"><rect width=\"9\" height=\"9\"/></svg>".into(), None, "60000 × 60000"),
        ("nothing to see", "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"/>".into(), None, "nothing can be seen"),
        ("nothing to see", "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><rect x=\"20\" width=\"5\" height=\"5\"/></svg>".into(), None, "nothing can be seen"),
    ] {
        let fault = made(&svg(&text)).expect_err(what);
        assert_eq!(fault.file.as_deref(), Some("art/bean.svg"), "{what}: {fault}");
        assert!(fault.message.contains(says), "{what}: {fault}");
        assert!(fault.help.is_some(), "{what}");
        if let Some(place) = place {
            let span = fault.span.clone().unwrap_or_else(|| panic!("{what}: {fault}"));
            assert_eq!((span.line, span.column), place, "{what}: {fault}");
        }
    }
}

#[test]
fn harmless_oddities_of_drawing_programs_pass() {
    let pixel = "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR4nGNgYPj/HwADAgH/p3KSeQAAAABJRU5ErkJggg==";
    let text = format!(
        "\u{feff}<?xml version=\"1.0\"?>\n<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" \"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\" [<!ENTITY own \"http://example.org/ns\">]>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:o=\"&own;\" viewBox=\"0 0 90 90\"><a href=\"https://example.org\"><rect width=\"50\" height=\"50\" fill=\"#484\"/></a>\
         <image href=\"{pixel}\" x=\"60\" y=\"60\" width=\"20\" height=\"20\"/><rect width=\"5\" height=\"5\" fill=\"url(#none)\" onclick=\"x()\"/></svg>"
    );
    let m = made(&svg(&text)).unwrap();
    assert!(m.notes.iter().any(|n| n.contains("reacts")), "{:?}", m.notes);
}

fn disc(w: u32, h: u32) -> Picture {
    let rgba = (0..w * h)
        .flat_map(|i| {
            let (x, y) = (f64::from(i % w) - f64::from(w) / 2.0 + 0.5, f64::from(i / w) - f64::from(h) / 2.0 + 0.5);
            let inside = libm::hypot(x / (f64::from(w) * 0.4), y / (f64::from(h) * 0.4)) < 1.0;
            if inside { [200, 60, 40, 255] } else { [255, 255, 255, 0] }
        })
        .collect();
    Picture { name: "art/disc.png".into(), width: w, height: h, rgba }
}

#[test]
fn a_picture_shrinks_to_its_size_and_is_never_enlarged_in_silence() {
    let source = |w, h| StickerSource::Png(Arc::new(disc(w, h)));
    let m = made(&sticker(source(1000, 700), 30.0, 300.0, 1.0)).unwrap();
    check(&m, 30.0, 300.0, 12);
    assert!(m.notes.is_empty());
    // 160 px of art at 30 mm are 135.5 dpi, whatever was asked.
    let m = made(&sticker(source(200, 150), 30.0, 300.0, 1.0)).unwrap();
    assert!((m.dpi - 160.0 / 30.0 * 25.4).abs() < 1e-9);
    check(&m, 30.0, m.dpi, (1.0 / 25.4 * m.dpi).round() as usize);
    assert!(m.notes[0].contains("160 px long"), "{:?}", m.notes);
    assert!((m.placed().w / 72.0 * 25.4 - (160.0 + 10.0) / m.dpi * 25.4).abs() < 1e-9);
}

#[test]
fn corners_stay_clear_even_without_padding() {
    let opaque = Picture { name: "art/tile.png".into(), width: 50, height: 40, rgba: vec![90; 50 * 40 * 4].into() };
    let solid =
        Picture { rgba: opaque.rgba.bytes().chunks_exact(4).flat_map(|_| [90, 90, 90, 255]).collect(), ..opaque };
    let m = made(&sticker(StickerSource::Png(Arc::new(solid)), 4.0, 300.0, 0.0)).unwrap();
    check(&m, 4.0, 300.0, 1);
    assert_eq!(m.notes.len(), 2, "{:?}", m.notes);
}

#[test]
fn pictures_that_cannot_be_used_are_refused() {
    let clear = Picture { name: "art/none.png".into(), width: 8, height: 8, rgba: vec![0; 256].into() };
    let fault = made(&sticker(StickerSource::Png(Arc::new(clear)), 4.0, 300.0, 1.0)).unwrap_err();
    assert!(fault.to_string().contains("art/none.png: the picture is clear all over"), "{fault}");
    for (longest, dpi) in [(0.0, 300.0), (-3.0, 300.0), (f64::NAN, 300.0), (9000.0, 300.0), (20.0, 0.0)] {
        let fault = made(&built_in("star", longest, dpi, 1.0)).unwrap_err();
        assert!(fault.message.contains("longest side"), "{fault}");
    }
    let fault = made(&built_in("too-do-box", 20.0, 300.0, 1.0)).unwrap_err();
    assert!(fault.to_string().contains("did you mean “to-do-box”"), "{fault}");
}
