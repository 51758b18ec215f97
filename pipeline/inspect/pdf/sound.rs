//! Whether stored data give what they promise. Readers show what they get of a damaged stream, and so does the
//! rasteriser, often without a word: so pictures are counted out here before anybody believes what is drawn of them.

use super::{coded, integer, items, unpack};
use base::model::panics::caught;
use hayro_syntax::object::stream::ImageDecodeParams;
use hayro_syntax::object::{Dict, Object, Stream};
use hayro_syntax::xref::XRef;
use std::borrow::Cow;

/// Pictures in rare codes that unpack to more bytes, or have more pixels, are not looked at.
const MAX_BYTES: u64 = 64 << 20;
/// See there.
const MAX_PIXELS: u64 = 100_000_000;

/// What a picture must hold.
#[derive(Clone, Copy)]
pub struct Promise {
    /// Pixels in a row.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// Components of a pixel; the least that is possible where they are not known.
    pub components: u8,
    /// Bits of a component.
    pub bits: u8,
}

impl Promise {
    /// Bytes of all rows; each row begins with a new byte (ISO 32000-1, 8.9.3).
    fn bytes(self) -> Option<u64> {
        let bits = u64::from(self.width) * u64::from(self.components) * u64::from(self.bits);
        bits.div_ceil(8).checked_mul(self.height.into())
    }
}

/// What is wrong with the data of a picture, in words.
pub fn picture<'a>(stream: &Stream<'a>, promise: Promise, xref: &'a XRef) -> Option<String> {
    if promise.width == 0 || promise.height == 0 {
        return Some("has no width or no height".to_owned());
    }
    let wanted = promise.bytes()?;
    let raw = stream.raw_data();
    let mut chain = chain(stream.dict(), xref);
    if chain.iter().any(|(filter, _)| filter.is_empty()) {
        return Some("is packed in a way that no reader knows".to_owned());
    }
    let mut data = raw;
    while chain.first().is_some_and(|(filter, _)| *filter == "ASCII85Decode") {
        data = Cow::Owned(coded::base_85(&data));
        chain.remove(0);
    }
    match chain.as_slice() {
        [] => short(data.len() as u64, wanted),
        [("FlateDecode", parms)] => flate(&data, in_rows(wanted, parms.as_ref())),
        [("DCTDecode", _)] => match coded::jpeg(&data) {
            None => Some("is cut short: its JPEG data have no end".to_owned()),
            // A height of 0 is stated later in the data.
            Some((_, 0)) => None,
            Some((w, h)) if (w.into(), h.into()) == (promise.width, promise.height) => None,
            Some((w, h)) => Some(format!("holds a JPEG of {w} \u{d7} {h} pixels")),
        },
        [("JPXDecode", _)] => {
            (!coded::jpeg_2000_ends(&data)).then(|| "is cut short: its JPEG 2000 data have no end".to_owned())
        }
        rest => by_the_reader(stream, rest, promise, wanted),
    }
}

/// Whatever is left is unpacked by the library that draws the pages.
fn by_the_reader(stream: &Stream, chain: &[(&str, Option<Dict>)], promise: Promise, wanted: u64) -> Option<String> {
    let columns = chain.iter().filter_map(|(_, parms)| integer(parms.as_ref()?, "Columns")).max().unwrap_or(1728);
    let widest = u64::from(promise.width).max(u64::try_from(columns).unwrap_or(u64::MAX));
    if widest.saturating_mul(promise.height.into()) > MAX_PIXELS || wanted > MAX_BYTES {
        return None;
    }
    let how = ImageDecodeParams {
        is_indexed: false,
        bpc: Some(promise.bits),
        num_components: Some(promise.components),
        target_dimension: None,
        width: promise.width,
        height: promise.height,
    };
    let unpacked = caught(|| stream.decoded_image(&how));
    let Ok(Ok(unpacked)) = unpacked else { return Some("does not unpack".to_owned()) };
    match unpacked.image_data {
        // Codes for black and white say themselves how large they are.
        Some(told) => {
            let least = u64::from(told.width) * u64::from(told.height);
            let rows = if told.height < promise.height { "is cut short: rows are missing" } else { "is cut short" };
            (told.height < promise.height || (unpacked.data.len() as u64) < least).then(|| rows.to_owned())
        }
        None => short(unpacked.data.len() as u64, wanted),
    }
}

/// How many bytes must unpack when the rows were prepared for packing: each with a byte before it (ISO 32000-1, 7.4.4.4).
fn in_rows(wanted: u64, parms: Option<&Dict>) -> u64 {
    let say = |key: &str, usual: i64| parms.and_then(|p| integer(p, key)).unwrap_or(usual).clamp(0, 1 << 32) as u64;
    if say("Predictor", 1) < 10 {
        return wanted;
    }
    let row =
        (say("Columns", 1).saturating_mul(say("Colors", 1).min(64)) * say("BitsPerComponent", 8).min(32)).div_ceil(8);
    wanted + wanted.div_ceil(row.max(1))
}

/// Deflated data that must give so many bytes.
fn flate(packed: &[u8], wanted: u64) -> Option<String> {
    let (good, fault) = unpack::measure(packed, wanted);
    match fault {
        Some(unpack::Fault::Damaged) if good < wanted => {
            Some(format!("is damaged: only {good} of {wanted} bytes unpack"))
        }
        Some(unpack::Fault::Damaged) => Some("is damaged: its checksum is wrong".to_owned()),
        Some(unpack::Fault::Short) | None => short(good, wanted),
    }
}

fn short(given: u64, wanted: u64) -> Option<String> {
    (given < wanted).then(|| format!("is cut short: its data give {given} of {wanted} bytes"))
}

/// The filters of a stream in order, by their full names, with what is said to each; an unknown one has no name.
pub fn chain<'a>(dict: &Dict<'a>, xref: &'a XRef) -> Vec<(&'static str, Option<Dict<'a>>)> {
    let listed = |keys: [&str; 2]| match keys.iter().find_map(|key| dict.get::<Object>(key)) {
        Some(Object::Array(array)) => items(&array, xref).collect(),
        Some(Object::Null(_)) | None => Vec::new(),
        Some(one) => vec![one],
    };
    let mut said = listed(["DecodeParms", "DP"]).into_iter();
    let filters = listed(["Filter", "F"]).into_iter();
    let named = filters.map(|filter| (filter.into_name().map_or("", |n| full_name(&n)), said.next()));
    // A filter for encryption was undone already.
    named.filter(|(name, _)| *name != "Crypt").map(|(name, said)| (name, said.and_then(Object::into_dict))).collect()
}

/// The full name of a filter; inline pictures may shorten it (ISO 32000-1, table 94).
fn full_name(name: &[u8]) -> &'static str {
    const NAMES: [(&str, &str); 10] = [
        ("ASCIIHexDecode", "AHx"),
        ("ASCII85Decode", "A85"),
        ("LZWDecode", "LZW"),
        ("FlateDecode", "Fl"),
        ("RunLengthDecode", "RL"),
        ("CCITTFaxDecode", "CCF"),
        ("DCTDecode", "DCT"),
        ("JBIG2Decode", "JBIG2Decode"),
        ("JPXDecode", "JPXDecode"),
        ("Crypt", "Crypt"),
    ];
    NAMES.iter().find(|(long, short)| name == long.as_bytes() || name == short.as_bytes()).map_or("", |(long, _)| long)
}
