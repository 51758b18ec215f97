//! Pictures inside of a drawing: made plain before they are drawn, and refused if they cannot be read.
//!
//! A profile is taken out, since the drawing's colours and those of its pictures are taken as sRGB, on the page as in a
//! sticker; a JPEG in printing inks becomes one in red, green and blue.

use image::ImageFormat;
use krilla::image::Image;
use resvg::usvg::{Group, ImageKind, Node, Tree};
use std::io::Cursor;
use std::sync::Arc;

/// The bytes of a picture without a profile and without ink colours; as they are where there is neither.
pub fn plain(bytes: Arc<Vec<u8>>) -> Arc<Vec<u8>> {
    let changed = if bytes.starts_with(b"\xff\xd8\xff") {
        plain_jpeg(&bytes)
    } else if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        plain_png(&bytes)
    } else {
        None
    };
    changed.map_or(bytes, Arc::new)
}

/// A JPEG without the segments that hold a profile (ICC.1:2022, B.4), decoded if it has four channels.
fn plain_jpeg(bytes: &[u8]) -> Option<Vec<u8>> {
    let (mut out, mut at, mut dropped) = (bytes.get(..2)?.to_vec(), 2, false);
    loop {
        let (0xFF, kind) = (*bytes.get(at)?, *bytes.get(at + 1)?) else { return None };
        if kind == 0xFF {
            // Bytes of filling may stand before a marker (ITU-T T.81, B.1.1.2).
            at += 1;
            continue;
        }
        let length = usize::from(u16::from_be_bytes([*bytes.get(at + 2)?, *bytes.get(at + 3)?]));
        let end = at + 2 + length;
        match kind {
            0xC0..=0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF if bytes.get(at + 9) == Some(&4) => {
                let pixels = image::load_from_memory_with_format(bytes, ImageFormat::Jpeg).ok()?.to_rgb8();
                let mut png = Vec::new();
                pixels.write_to(&mut Cursor::new(&mut png), ImageFormat::Png).ok()?;
                return Some(png);
            }
            0xDA => {
                out.extend_from_slice(&bytes[at..]);
                return dropped.then_some(out);
            }
            0xE2 if bytes.get(at + 4..end)?.starts_with(b"ICC_PROFILE\0") => dropped = true,
            _ => out.extend_from_slice(bytes.get(at..end)?),
        }
        at = end;
    }
}

/// A PNG without the chunk that holds a profile (PNG, third edition, 11.3.2.3).
fn plain_png(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut at = 8;
    while let Some(head) = bytes.get(at..at + 8) {
        let end = at + 12 + u32::from_be_bytes([head[0], head[1], head[2], head[3]]) as usize;
        if &head[4..] == b"iCCP" {
            return Some([&bytes[..at], bytes.get(end..)?].concat());
        }
        at = end;
    }
    None
}

/// What is wrong with the pictures of a drawing, if one of them cannot be read.
pub fn damaged(tree: &Tree) -> Option<String> {
    within(tree.root())
}

fn within(group: &Group) -> Option<String> {
    group.children().iter().find_map(|node| match node {
        Node::Group(group) => within(group),
        Node::Image(image) => match image.kind() {
            ImageKind::SVG(tree) => within(tree.root()),
            ImageKind::PNG(bytes) => decoded(bytes, ImageFormat::Png),
            ImageKind::JPEG(bytes) => decoded(bytes, ImageFormat::Jpeg),
            ImageKind::GIF(bytes) => Image::from_gif(bytes.clone().into(), false).err(),
            ImageKind::WEBP(bytes) => Image::from_webp(bytes.clone().into(), false).err(),
        },
        Node::Path(_) | Node::Text(_) => None,
    })
}

fn decoded(bytes: &[u8], format: ImageFormat) -> Option<String> {
    image::load_from_memory_with_format(bytes, format).err().map(|e| e.to_string())
}
