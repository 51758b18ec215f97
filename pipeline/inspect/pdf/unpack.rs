//! Streams unpacked with a cap, so that no file can fill the memory.

use crate::inspect::bytes::find;
use flate2::read::ZlibDecoder;
use hayro_syntax::Filter;
use hayro_syntax::object::{Array, Object, Stream};
use hayro_syntax::page::Page;
use std::io::{Read, Write, copy};

/// The most bytes of one stream, unpacked.
const MAX_STREAM: u64 = 64 << 20;
/// The most bytes of all object and cross-reference streams together, unpacked.
const MAX_OBJECTS: u64 = 512 << 20;
/// Streams in other filters than deflate are unpacked by the reader itself; those may be this long, packed.
const MAX_OTHER: usize = 4 << 20;

/// The contents of a page, its parts joined by a space; nothing at all is an empty page.
pub fn contents(page: &Page) -> Option<Vec<u8>> {
    match page.raw().get::<Object>("Contents") {
        Some(Object::Stream(one)) => stream(&one),
        Some(Object::Array(parts)) => joined(&parts, page),
        _ => Some(Vec::new()),
    }
}

fn joined(parts: &Array, page: &Page) -> Option<Vec<u8>> {
    let mut out = Vec::new();
    for part in parts.raw_iter() {
        let hayro_syntax::object::MaybeRef::Ref(r) = part else { continue };
        if let Some(Object::Stream(part)) = page.xref().get::<Object>(r.into()) {
            out.extend(stream(&part)?);
            out.push(b' ');
        }
        if out.len() as u64 > MAX_STREAM {
            return None;
        }
    }
    Some(out)
}

/// A stream unpacked; `None` if it is too large, or a picture.
pub fn stream(stream: &Stream) -> Option<Vec<u8>> {
    let raw = stream.raw_data();
    match stream.filters().as_slice() {
        [] => (raw.len() as u64 <= MAX_STREAM).then(|| raw.into_owned()),
        [Filter::FlateDecode] if !stream.dict().contains_key("DecodeParms") => inflate(&raw),
        _ if raw.len() <= MAX_OTHER => stream.decoded_data().ok().map(std::borrow::Cow::into_owned),
        _ => None,
    }
}

/// Inflates as far as the data is good: readers show what they get of a damaged page.
fn inflate(raw: &[u8]) -> Option<Vec<u8>> {
    let mut out = Vec::new();
    let _ = ZlibDecoder::new(raw).take(MAX_STREAM + 1).read_to_end(&mut out);
    (out.len() as u64 <= MAX_STREAM).then_some(out)
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
