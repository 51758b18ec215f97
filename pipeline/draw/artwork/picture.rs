//! A PNG or JPEG as the page of a PDF: a JPEG keeps its own bytes, a PNG its pixels.
//!
//! A photograph that is unpacked and packed again loses nothing but grows tenfold; so a JPEG that every reader can
//! show travels as it is.

use base::deflate::zlib_rows;
use base::model::drawing::{Art, ArtBytes, Picture};
use base::model::geometry::Size;
use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Dictionary, Document, Object, Stream, dictionary};
use raster::rows;
use std::io::Write;

/// A picture's pixels as art, a point a pixel.
pub fn of_pixels(picture: &Picture) -> Art {
    let (w, h) = (picture.width, picture.height);
    let rgba = picture.rgba.bytes();
    let clear = rgba.chunks_exact(4).any(|p| p[3] != 255);
    let grey = rgba.chunks_exact(4).all(|p| p[0] == p[1] && p[1] == p[2]);
    let colours: Vec<u8> = if grey {
        rgba.chunks_exact(4).map(|p| p[0]).collect()
    } else {
        rgba.chunks_exact(4).flat_map(|p| [p[0], p[1], p[2]]).collect()
    };
    let mut doc = Document::with_version("1.7");
    let mut head = image(w, h, if grey { "DeviceGray" } else { "DeviceRGB" });
    if clear {
        let alpha: Vec<u8> = rgba.chunks_exact(4).map(|p| p[3]).collect();
        let mask = doc.add_object(packed(image(w, h, "DeviceGray"), &alpha, 1));
        head.set("SMask", mask);
    }
    let image = packed(head, &colours, if grey { 1 } else { 3 });
    page(doc, &picture.name, image, w, h)
}

/// A JPEG of one channel or three as art, a point a pixel.
pub fn of_jpeg(name: &str, bytes: &[u8], w: u32, h: u32, grey: bool) -> Art {
    let mut head = image(w, h, if grey { "DeviceGray" } else { "DeviceRGB" });
    head.set("Filter", "DCTDecode");
    let image = Stream::new(head, bytes.to_vec()).with_compression(false);
    page(Document::with_version("1.7"), name, image, w, h)
}

fn image(w: u32, h: u32, space: &str) -> Dictionary {
    dictionary! {
        "Type" => "XObject",
        "Subtype" => "Image",
        "Width" => i64::from(w),
        "Height" => i64::from(h),
        "ColorSpace" => space,
        "BitsPerComponent" => 8,
        "Interpolate" => true,
    }
}

/// Pixels of so many channels, packed: what is painted by rows, as it will lie in the file (ISO 32000-1, 7.4.4.4), all else for now.
fn packed(mut head: Dictionary, bytes: &[u8], channels: usize) -> Stream {
    let columns = head.get(b"Width").and_then(Object::as_i64).unwrap_or_default();
    let width = usize::try_from(columns).unwrap_or_default();
    if rows::painted(bytes, width, channels) {
        head.set("Filter", "FlateDecode");
        let parms = dictionary! { "Predictor" => 15, "Colors" => channels as i64, "Columns" => columns };
        head.set("DecodeParms", parms);
        return Stream::new(head, zlib_rows(&rows::differences(bytes, width, channels))).with_compression(false);
    }
    let mut zip = ZlibEncoder::new(Vec::new(), Compression::default());
    // Writing to a vector cannot fail.
    let _ = zip.write_all(bytes);
    head.set("Filter", "FlateDecode");
    Stream::new(head, zip.finish().unwrap_or_default()).with_compression(false)
}

/// A document with one page that the picture fills.
fn page(mut doc: Document, name: &str, image: Stream, w: u32, h: u32) -> Art {
    let image = doc.add_object(image);
    let draw = format!("q {w} 0 0 {h} 0 0 cm /Im Do Q");
    let content = doc.add_object(Stream::new(Dictionary::new(), draw.into_bytes()));
    let tree = doc.new_object_id();
    let page = doc.add_object(dictionary! {
        "Type" => "Page",
        "Parent" => tree,
        "MediaBox" => vec![0.into(), 0.into(), i64::from(w).into(), i64::from(h).into()],
        "Resources" => dictionary! { "XObject" => dictionary! { "Im" => image } },
        "Contents" => content,
    });
    let pages = dictionary! { "Type" => "Pages", "Kids" => vec![Object::from(page)], "Count" => 1 };
    doc.objects.insert(tree, pages.into());
    let catalog = doc.add_object(dictionary! { "Type" => "Catalog", "Pages" => tree });
    doc.trailer.set("Root", catalog);
    let mut pdf = Vec::new();
    // Writing to a vector cannot fail.
    let _ = doc.save_to(&mut pdf);
    let source = ArtBytes::Page { pdf: pdf.into(), page: 0 };
    Art { name: name.to_owned(), source, size: Size::new(w.into(), h.into()) }
}
