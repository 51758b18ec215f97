//! The arithmetic of stickers against other people's: scipy's distances and parts, Pillow's resizing and reading,
//! the `over` formula of W3C Compositing. `fixtures/SOURCES.md` says where each value comes from.

#![allow(clippy::unwrap_used, missing_docs)]

use base::model::Rgb;
use base::model::product::Reading;
use proptest::prelude::*;
use raster::border::{Border, Shadow, bordered};
use raster::distance::Nearest;
use raster::parts::{Rules, parts};
use raster::{Linear, Raster, decode, fringe, linear, resize};
use serde_json::Value;
use sha2::{Digest, Sha256};

fn read(path: &str) -> Vec<u8> {
    std::fs::read(format!("{}/tests/fixtures/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

fn json(path: &str) -> Value {
    serde_json::from_slice(&read(path)).unwrap()
}

fn numbers(v: &Value) -> Vec<f64> {
    v.as_array().unwrap().iter().map(|n| n.as_f64().unwrap()).collect()
}

fn grid(v: &Value) -> (usize, usize, Vec<u64>) {
    let rows = v.as_array().unwrap();
    let all: Vec<u64> = rows.iter().flat_map(numbers).map(|n| n as u64).collect();
    (all.len() / rows.len(), rows.len(), all)
}

fn inked(w: usize, h: usize, mask: &[u64]) -> Raster {
    Raster { w, h, px: mask.iter().map(|m| if *m > 0 { [0, 0, 0, 255] } else { [0; 4] }).collect() }
}

const TOUCHING: Rules = Rules { gap: 0.0, speck: 0, reading: Reading::Rows };

#[test]
fn distances_are_scipys() {
    let all = json("refs/edt_reference.json");
    for (mask, to, member) in [
        ("mask", "dist_outside_squared", 1),
        ("mask", "dist_inside_squared", 0),
        ("random_mask", "random_outside_squared", 1),
    ] {
        let (w, h, m) = grid(&all[mask]);
        let near = Nearest::to(w, h, |i| m[i] == member).unwrap();
        let got: Vec<u64> = (0..w * h).map(|i| near.squared(i)).collect();
        assert_eq!(got, grid(&all[to]).2, "{to}");
    }
    let (w, h, m) = grid(&all["random_mask"]);
    assert_eq!(parts(&inked(w, h, &m), &TOUCHING).parts.len() as u64, all["label8"].as_u64().unwrap());
    assert!(Nearest::to(3, 3, |_| false).is_none());
}

proptest! {
    #[test]
    fn distances_are_the_smallest_of_all(w in 1usize..24, h in 1usize..24, bits in prop::collection::vec(0u8..9, 576)) {
        let member = |i: usize| bits[i] == 0;
        let Some(near) = Nearest::to(w, h, member) else {
            prop_assert!((0..w * h).all(|i| !member(i)));
            return Ok(());
        };
        for i in 0..w * h {
            let [nx, ny] = near.of[i];
            prop_assert!(member(ny as usize * w + nx as usize));
            let least = (0..w * h)
                .filter(|j| member(*j))
                .map(|j| ((i % w).abs_diff(j % w).pow(2) + (i / w).abs_diff(j / w).pow(2)) as u64)
                .min();
            prop_assert_eq!(Some(near.squared(i)), least);
        }
    }

    #[test]
    fn straight_pixels_come_back_from_linear_light(p in any::<[u8; 4]>()) {
        let expected = if p[3] == 0 { [0; 4] } else { p };
        prop_assert_eq!(linear::to_pixel(linear::from_pixel(p)), expected);
    }

    #[test]
    fn resizing_keeps_flat_colours_and_never_leaves_the_range(
        w in 1usize..40, h in 1usize..40, tw in 1usize..40, th in 1usize..40, c in any::<[u8; 3]>(),
    ) {
        let px = [c[0], c[1], c[2], 255];
        let flat = Raster { w, h, px: vec![px; w * h] };
        prop_assert!(resize::resize(&flat, tw, th).px.iter().all(|p| *p == px));
    }
}

#[test]
fn resizing_is_pillows_in_linear_light() {
    for case in json("stickers/reference.json")["resize"].as_array().unwrap() {
        let (from, to) = (numbers(&case["from"]), numbers(&case["to"]));
        let bytes: Vec<u8> = numbers(&case["rgba"]).into_iter().map(|v| v as u8).collect();
        let px = bytes.as_chunks::<4>().0.to_vec();
        let source = Raster { w: from[0] as usize, h: from[1] as usize, px };
        let made = resize::resize_linear(&Linear::of(&source), to[0] as usize, to[1] as usize);
        for (got, want) in made.px.as_flattened().iter().zip(numbers(&case["linear"])) {
            assert!((f64::from(*got) - want).abs() < 4e-6, "{from:?} to {to:?}: {got} for {want}");
        }
    }
}

#[test]
fn over_is_the_standards() {
    let text = String::from_utf8(read("refs/porter_duff_over.csv")).unwrap();
    for line in text.lines().skip(1) {
        let v: Vec<f32> = line.split(',').map(|n| n.parse().unwrap()).collect();
        let premultiplied = |c: &[f32]| [c[0] * c[3], c[1] * c[3], c[2] * c[3], c[3]];
        let got = linear::over(premultiplied(&v[0..4]), premultiplied(&v[4..8]));
        for (g, want) in got.iter().zip(premultiplied(&v[8..12])) {
            assert!((g - want).abs() < 1e-6, "{line}");
        }
    }
}

#[test]
fn a_border_is_even_to_a_fraction_of_a_pixel() {
    let white = Rgb::new(255, 255, 255);
    for case in json("stickers/reference.json")["border"].as_array().unwrap() {
        let alpha = numbers(&case["alpha"]);
        let width = case["width"].as_f64().unwrap();
        let art = Raster { w: 64, h: 64, px: alpha.iter().map(|a| [40, 90, 60, *a as u8]).collect() };
        let made = bordered(&art, &Border { width, colour: white, fill_holes: false, shadow: None });
        let pad = (made.w - 64) / 2;
        let (mut sum, mut worst) = (0.0, 0.0f64);
        for (i, want) in numbers(&case["cover"]).into_iter().enumerate() {
            // Where the art itself is partly clear the two lie over each other; outside of it the band stands alone.
            if alpha[i] > 0.0 {
                continue;
            }
            let off = (f64::from(made.at(pad + i % 64, pad + i / 64)[3]) - want).abs() / 255.0;
            sum += off;
            worst = worst.max(off);
        }
        let what = format!("{} with {width} px: worst {worst:.3}, mean {:.5}", case["shape"], sum / 4096.0);
        println!("{what}");
        // The worst pixels stand off sharp corners, where one pixel holds two edges.
        assert!(worst < 0.4 && sum / 4096.0 < 0.0035, "{what}");
    }
}

fn ring() -> Raster {
    let px = (0..60 * 60)
        .map(|i| {
            let r = libm::hypot(f64::from(i % 60) - 29.5, f64::from(i / 60) - 29.5);
            if (18.0..24.0).contains(&r) { [90, 30, 30, 255] } else { [0; 4] }
        })
        .collect();
    Raster { w: 60, h: 60, px }
}

#[test]
fn holes_are_closed_or_kept_as_asked() {
    let border = Border { width: 4.0, colour: Rgb::new(250, 240, 230), fill_holes: false, shadow: None };
    let middle = |b: &Border| {
        let made = bordered(&ring(), b);
        made.at(made.w / 2, made.h / 2)
    };
    assert_eq!(middle(&border), [0; 4]);
    assert_eq!(middle(&Border { fill_holes: true, ..border }), [250, 240, 230, 255]);
    // A hole that the band closes by itself is no matter of taste.
    assert_eq!(middle(&Border { width: 19.0, ..border })[3], 255);
}

#[test]
fn a_shadow_lies_below_and_the_art_is_untouched() {
    let plain = Border { width: 3.0, colour: Rgb::new(255, 255, 255), fill_holes: true, shadow: None };
    let shadow = Shadow { drop: 6.0, blur: 4.0, strength: 0.3 };
    let made = bordered(&ring(), &Border { shadow: Some(shadow), ..plain });
    let pad = (made.w - 60) / 2;
    for (i, p) in ring().px.iter().enumerate().filter(|(_, p)| p[3] > 0) {
        assert_eq!(made.at(pad + i % 60, pad + i / 60), *p);
    }
    let ink = made.ink().unwrap();
    let (above, below) = (made.w / 2 - ink.y, ink.y + ink.h - made.w / 2);
    assert!(below > above + 8, "{above} above, {below} below");
    // Below the lower edge it is soft: it grows weaker with every row and is gone before the picture ends.
    let column: Vec<u8> = (made.h / 2 + 30..made.h).map(|y| made.at(made.w / 2, y)[3]).collect();
    assert!(column.is_sorted_by(|a, b| a >= b), "{column:?}");
    assert_eq!(*column.last().unwrap(), 0);
    assert!(made.px.iter().all(|p| p[3] > 0 || *p == [0; 4]));
}

#[test]
fn parts_join_over_gaps_as_distances_say() {
    for case in json("stickers/reference.json")["parts"].as_array().unwrap() {
        let (w, h, mask) = grid(&case["mask"]);
        let gap = case["gap"].as_f64().unwrap();
        let found = parts(&inked(w, h, &mask), &Rules { gap, ..TOUCHING });
        let mut sizes: Vec<usize> = found.parts.iter().map(|p| p.pixels).collect();
        sizes.sort_unstable();
        let want: Vec<usize> = numbers(&case["sizes"]).into_iter().map(|v| v as usize).collect();
        assert_eq!(sizes, want, "gap {gap}");
    }
}

#[test]
fn parts_come_in_reading_order_without_specks() {
    let mut sheet = Raster::clear(100, 60);
    let mut put = |x: usize, y: usize, w: usize, h: usize, shade: u8| {
        for row in y..y + h {
            for column in x..x + w {
                sheet.px[row * 100 + column] = [shade, 0, 0, 255];
            }
        }
    };
    // Two rows on uneven heights; two specks; an i whose dot belongs to its stem.
    for (x, y, w, h, shade) in [
        (40, 2, 20, 20, 2),
        (5, 5, 20, 14, 1),
        (70, 4, 6, 3, 3),
        (70, 10, 6, 14, 3),
        (50, 36, 30, 18, 5),
        (8, 32, 30, 22, 4),
        (90, 50, 2, 1, 9),
        (1, 28, 1, 1, 9),
    ] {
        put(x, y, w, h, shade);
    }
    let rules = Rules { gap: 3.0, speck: 5, reading: Reading::Rows };
    let shades = |rules: &Rules| {
        let found = parts(&sheet, rules);
        assert_eq!(found.specks, 2);
        found.parts.iter().map(|p| found.lift(&sheet, p).px.iter().map(|p| p[0]).max().unwrap()).collect::<Vec<_>>()
    };
    assert_eq!(shades(&rules), [1, 2, 3, 4, 5]);
    assert_eq!(shades(&Rules { reading: Reading::RowsFromRight, ..rules }), [3, 2, 1, 5, 4]);
    assert_eq!(parts(&sheet, &Rules { gap: 2.0, ..rules }).parts.len(), 6);
}

#[test]
fn lifting_leaves_neighbours_behind() {
    // An L and a dot in its crook: their boxes overlap, their pixels do not.
    let mut sheet = Raster::clear(20, 20);
    for i in 0..20 {
        sheet.px[i * 20] = [1, 1, 1, 255];
        sheet.px[19 * 20 + i] = [1, 1, 1, 255];
    }
    sheet.px[5 * 20 + 12] = [7, 7, 7, 255];
    let found = parts(&sheet, &TOUCHING);
    let l = found.lift(&sheet, &found.parts[0]);
    assert_eq!((l.w, l.h), (20, 20));
    assert!(l.px.iter().all(|p| p[0] != 7));
}

fn disc(name: &str) -> Raster {
    Raster::of(&decode::decode(name, &read(&format!("stickers/disc-{name}.png"))).unwrap().picture)
}

#[test]
fn a_matte_fringe_is_found_and_taken_off() {
    let clean = disc("clean");
    assert_eq!(fringe::find(&clean), None);
    let mut mended = disc("fringed");
    let found = fringe::remove(&mut mended).unwrap();
    for (got, want) in [found.matte.r, found.matte.g, found.matte.b].into_iter().zip([255, 255, 255]) {
        assert!(got.abs_diff(want) <= 4, "{found:?}");
    }
    for (m, c) in mended.px.iter().zip(&clean.px).filter(|(m, _)| m[3] > 0) {
        assert_eq!(m[3], c[3]);
        for channel in 0..3 {
            assert!(m[channel].abs_diff(c[channel]) <= 6, "{m:?} for {c:?}");
        }
    }
    assert_eq!(fringe::find(&mended), None);
}

#[test]
fn a_glow_is_no_fringe() {
    // White that fades out round a dark disc is meant: its colour does not mix with the art's.
    let px = (0..80 * 80)
        .map(|i| {
            let r = libm::hypot(f64::from(i % 80) - 39.5, f64::from(i / 80) - 39.5);
            if r < 20.0 {
                [30, 40, 60, 255]
            } else {
                [255, 255, 255, (255.0 - (r - 20.0) * 20.0).clamp(0.0, 245.0) as u8]
            }
        })
        .collect();
    assert_eq!(fringe::find(&Raster { w: 80, h: 80, px }), None);
}

#[test]
fn png_files_of_every_kind_are_read_as_pillow_reads_them() {
    for (name, digest) in json("stickers/reference.json")["decoded"].as_object().unwrap() {
        let made = decode::decode(name, &read(&format!("pngsuite/{name}"))).unwrap();
        let hex: String = Sha256::digest(made.picture.rgba.bytes()).iter().map(|b| format!("{b:02x}")).collect();
        assert_eq!(hex, digest.as_str().unwrap(), "{name}");
    }
}

#[test]
fn damaged_pictures_are_refused_with_a_plain_word() {
    for name in ["xc1n0g08", "xcsn0g01", "xd0n2c08", "xdtn0g01", "xhdn0g08", "xlfn0g04", "xs1n0g01"] {
        let fault = decode::decode(name, &read(&format!("pngsuite/{name}.png"))).expect_err(name);
        assert!(fault.file.is_some() && fault.help.is_some(), "{fault}");
        println!("{fault}");
    }
    let whole = read("stickers/disc-clean.png");
    for length in [0, 7, 8, 20, 33, 60, whole.len() - 20] {
        let fault = decode::decode("art/bean.png", &whole[..length]).expect_err("cut off");
        println!("{length}: {fault}");
        if length > 8 {
            assert!(fault.message.contains("cut off"), "{length}: {fault}");
        }
    }
    // A header that promises 60,000 × 60,000 pixels: refused before memory is taken. The CRC is made to fit.
    let mut huge = whole.clone();
    huge[16..20].copy_from_slice(&60_000u32.to_be_bytes());
    huge[20..24].copy_from_slice(&60_000u32.to_be_bytes());
    let crc = crc(&huge[12..29]);
    huge[29..33].copy_from_slice(&crc.to_be_bytes());
    let fault = decode::decode("art/huge.png", &huge).expect_err("huge");
    assert!(fault.message.contains("60000 × 60000 px"), "{fault}");
}

/// CRC-32 of PNG Specification, annex D.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0u32, |c, b| {
        (0..8).fold(c ^ u32::from(*b), |c, _| if c & 1 == 1 { 0xedb8_8320 ^ (c >> 1) } else { c >> 1 })
    })
}
