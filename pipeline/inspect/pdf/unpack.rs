//! Streams unpacked with a cap, so that no file can fill the memory.

use super::coded;
use crate::bytes::find;
use flate2::read::ZlibDecoder;
use hayro_syntax::Filter;
use hayro_syntax::object::{Array, Object, Stream};
use hayro_syntax::page::Page;
use std::io::{Error, ErrorKind, Read, Write, copy, sink};

/// The most bytes of one stream, unpacked.
const MAX_STREAM: u64 = 64 << 20;
/// The most bytes of all object and cross-reference streams together, unpacked.
const MAX_OBJECTS: u64 = 512 << 20;
/// Streams in other filters than deflate are unpacked by the reader itself; those may be this long, packed.
const MAX_OTHER: usize = 4 << 20;

/// What may be wrong with packed data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// They end before they are complete.
    Short,
    /// They are not what was packed.
    Damaged,
}

impl Fault {
    fn of(error: &Error) -> Fault {
        if error.kind() == ErrorKind::UnexpectedEof { Fault::Short } else { Fault::Damaged }
    }
}

/// What became of a stream: its bytes as far as they are good, and what is wrong with them. There are no bytes where it
/// is too large, a picture, or cannot be unpacked at all.
#[derive(Default)]
pub struct Unpacked {
    /// The bytes.
    pub bytes: Option<Vec<u8>>,
    /// What is wrong.
    pub fault: Option<Fault>,
}

/// The contents of a page, its parts joined by a space; nothing at all is an empty page.
pub fn contents(page: &Page) -> Unpacked {
    match page.raw().get::<Object>("Contents") {
        Some(Object::Stream(one)) => told(&one),
        Some(Object::Array(parts)) => joined(&parts, page),
        _ => Unpacked { bytes: Some(Vec::new()), fault: None },
    }
}

fn joined(parts: &Array, page: &Page) -> Unpacked {
    let mut out = Vec::new();
    let mut fault = None;
    for part in parts.raw_iter() {
        let hayro_syntax::object::MaybeRef::Ref(r) = part else { continue };
        if let Some(Object::Stream(part)) = page.xref().get::<Object>(r.into()) {
            let part = told(&part);
            fault = fault.or(part.fault);
            let Some(bytes) = part.bytes else { return Unpacked { bytes: None, fault } };
            out.extend(bytes);
            out.push(b' ');
        }
        if out.len() as u64 > MAX_STREAM {
            return Unpacked { bytes: None, fault };
        }
    }
    Unpacked { bytes: Some(out), fault }
}

/// A stream unpacked; `None` if it is too large, or a picture.
pub fn stream(stream: &Stream) -> Option<Vec<u8>> {
    told(stream).bytes
}

/// A stream unpacked, and what is wrong with it.
pub fn told(stream: &Stream) -> Unpacked {
    let raw = stream.raw_data();
    let plain = !stream.dict().contains_key("DecodeParms");
    match stream.filters().as_slice() {
        [] => Unpacked { bytes: (raw.len() as u64 <= MAX_STREAM).then(|| raw.into_owned()), fault: None },
        [Filter::FlateDecode] if plain => inflate(&raw),
        [Filter::Ascii85Decode, Filter::FlateDecode] if plain => inflate(&coded::base_85(&raw)),
        _ if raw.len() <= MAX_OTHER => match stream.decoded_data() {
            Ok(bytes) => Unpacked { bytes: Some(bytes.into_owned()), fault: None },
            Err(_) => Unpacked { bytes: None, fault: Some(Fault::Damaged) },
        },
        _ => Unpacked::default(),
    }
}

/// Inflates as far as the data is good: readers show what they get of a damaged page.
fn inflate(raw: &[u8]) -> Unpacked {
    // Nothing at all is what some programs write for an empty page.
    if raw.is_empty() {
        return Unpacked { bytes: Some(Vec::new()), fault: None };
    }
    let mut out = Vec::new();
    let fault = ZlibDecoder::new(raw).take(MAX_STREAM + 1).read_to_end(&mut out).err().map(|e| Fault::of(&e));
    Unpacked { bytes: (out.len() as u64 <= MAX_STREAM).then_some(out), fault }
}

/// How many bytes deflated data give, and what is wrong with them; nothing is kept. What comes after `most` bytes is of
/// no interest.
pub fn measure(raw: &[u8], most: u64) -> (u64, Option<Fault>) {
    let mut decoder = ZlibDecoder::new(raw).take(most.saturating_add(1));
    let fault = copy(&mut decoder, &mut sink()).err().map(|e| Fault::of(&e));
    (decoder.get_ref().total_out(), fault)
}

/// Whether the streams that a reader must unpack before anything else would fill the memory. They are looked for by
/// their type names, so that a file whose tables are broken gives nothing away.
pub fn is_bomb(bytes: &[u8]) -> bool {
    let mut total = 0;
    for kind in [&b"/ObjStm"[..], b"/XRef"] {
        let mut from = 0;
        while let Some(at) = find(&bytes[from..], kind) {
            from += at + kind.len();
            let Some(start) = find(&bytes[from..bytes.len().min(from + 2048)], b"stream") else { continue };
            let data = &bytes[from + start + 6..];
            let data = data.strip_prefix(b"\r").unwrap_or(data);
            let data = data.strip_prefix(b"\n").unwrap_or(data);
            let most = MAX_OBJECTS - total + 1;
            // Damaged data ends with an error; what came before it has taken memory all the same.
            let mut count = Count(0);
            let _ = copy(&mut ZlibDecoder::new(data).take(most), &mut count);
            total += count.0;
            if total > MAX_OBJECTS {
                return true;
            }
        }
    }
    false
}

/// Counts what is written to it, and keeps nothing.
struct Count(u64);

impl Write for Count {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0 += bytes.len() as u64;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}
