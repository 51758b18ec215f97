//! MP4 files, as far as a shop looks at them: how large, how long, how many frames.
//!
//! Source: ISO/IEC 14496-12 (the boxes of the base media file format). The boxes are walked by hand, so that nothing here is shared
//! with the library that writes them.

use base::model::facts::{Facts, PictureFacts};

/// What the first box of a film says it is (ISO/IEC 14496-12, annex E; 14496-14; 14496-15). Photographs of phones have such a box too and
/// other words in it.
const KINDS: [&[u8; 4]; 8] = [b"isom", b"iso2", b"iso4", b"iso5", b"iso6", b"mp41", b"mp42", b"avc1"];

/// Whether the bytes begin like an MP4: the first box says of which kind the file is.
pub fn knows(bytes: &[u8]) -> bool {
    bytes.get(4..8) == Some(b"ftyp") && KINDS.iter().any(|kind| bytes.get(8..12) == Some(&kind[..]))
}

/// Reads it.
pub fn read(bytes: &[u8]) -> Facts {
    match film(bytes) {
        Some(film) if film.width > 0 && film.height > 0 && film.frames > 0 => Facts::Picture(film),
        _ => Facts::Unreadable("it begins like an MP4, but is cut off, broken, or has no pictures".to_owned()),
    }
}

fn film(bytes: &[u8]) -> Option<PictureFacts> {
    let mut seen = None;
    for found in Boxes(bytes) {
        let (kind, content) = found?;
        if &kind == b"moov" {
            seen = seen.or_else(|| each(content, *b"trak").find_map(pictures));
        }
    }
    seen
}

/// The facts of a track, if it is one of pictures.
fn pictures(track: &[u8]) -> Option<PictureFacts> {
    let media = each(track, *b"mdia").next()?;
    let kind = each(media, *b"hdlr").next()?;
    if kind.get(8..12)? != b"vide" {
        return None;
    }
    // The sides end the header, in 65,536ths of a pixel.
    let header = each(track, *b"tkhd").next()?;
    let sides = header.len().checked_sub(8)?;
    let samples = each(each(each(media, *b"minf").next()?, *b"stbl").next()?, *b"stsz").next()?;
    Some(PictureFacts {
        format: "MP4".to_owned(),
        width: number(header, sides)? >> 16,
        height: number(header, sides + 4)? >> 16,
        frames: number(samples, 8)? as usize,
        milliseconds: Some(milliseconds(each(media, *b"mdhd").next()?)?),
    })
}

/// How long a track takes: its units a second, then how many of them, both behind two dates whose width the version says.
fn milliseconds(header: &[u8]) -> Option<u64> {
    let (units, long) = match header.first()? {
        0 => (number(header, 12)?, u64::from(number(header, 16)?)),
        1 => (number(header, 20)?, u64::from(number(header, 24)?) << 32 | u64::from(number(header, 28)?)),
        _ => return None,
    };
    u128::from(long).checked_mul(1000)?.checked_div(u128::from(units)).and_then(|ms| u64::try_from(ms).ok())
}

fn number(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(bytes.get(at..at.checked_add(4)?)?.try_into().ok()?))
}

/// What lies in the boxes of a kind, up to one that is broken.
fn each(bytes: &[u8], wanted: [u8; 4]) -> impl Iterator<Item = &[u8]> {
    Boxes(bytes).map_while(|found| found).filter(move |(kind, _)| *kind == wanted).map(|(_, content)| content)
}

/// The boxes of a stretch of bytes one after another; `None`, and then no more, where one does not fit in it.
struct Boxes<'a>(&'a [u8]);

impl<'a> Iterator for Boxes<'a> {
    type Item = Option<([u8; 4], &'a [u8])>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.0.is_empty() {
            return None;
        }
        let found = self.first();
        let whole = found.as_ref().map_or(self.0.len(), |(_, _, whole)| *whole);
        self.0 = &self.0[whole..];
        Some(found.map(|(kind, content, _)| (kind, content)))
    }
}

impl<'a> Boxes<'a> {
    /// Kind, content and whole length of the first box. A length of 1 stands for one of eight bytes behind the kind, 0 for all that
    /// is left.
    fn first(&self) -> Option<([u8; 4], &'a [u8], usize)> {
        let bytes = self.0;
        let kind = bytes.get(4..8)?.try_into().ok()?;
        let (from, whole) = match number(bytes, 0)? {
            0 => (8, bytes.len()),
            1 => {
                let long = u64::from(number(bytes, 8)?) << 32 | u64::from(number(bytes, 12)?);
                (16, usize::try_from(long).ok()?)
            }
            short => (8, short as usize),
        };
        Some((kind, bytes.get(from..whole)?, whole))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn boxed(kind: &[u8; 4], content: &[u8]) -> Vec<u8> {
        let mut out = (content.len() as u32 + 8).to_be_bytes().to_vec();
        out.extend(kind);
        out.extend(content);
        out
    }

    /// A film of 640 × 480 pixels and 90 frames of a thirtieth of a second (ISO/IEC 14496-12, put together by hand).
    fn whole() -> Vec<u8> {
        let numbers = |all: &[u32]| all.iter().flat_map(|n| n.to_be_bytes()).collect::<Vec<u8>>();
        let mut header = vec![0; 76];
        header.extend(numbers(&[640 << 16, 480 << 16]));
        let table = boxed(b"stbl", &boxed(b"stsz", &numbers(&[0, 0, 90])));
        let media = [
            boxed(b"mdhd", &numbers(&[0, 0, 0, 30, 90, 0])),
            boxed(b"hdlr", b"\0\0\0\0\0\0\0\0vide\0\0\0\0\0\0\0\0\0\0\0\0\0"),
            boxed(b"minf", &table),
        ];
        let track = [boxed(b"tkhd", &header), boxed(b"mdia", &media.concat())];
        let sound = boxed(b"trak", &boxed(b"mdia", &boxed(b"hdlr", b"\0\0\0\0\0\0\0\0soun\0")));
        let movie = [sound, boxed(b"trak", &track.concat())];
        [boxed(b"ftyp", b"isom\0\0\0\0"), boxed(b"moov", &movie.concat()), boxed(b"mdat", b"pictures")].concat()
    }

    #[test]
    fn a_film_says_how_large_and_how_long_it_is() {
        let film = whole();
        assert!(knows(&film));
        let Facts::Picture(p) = read(&film) else { panic!("not read") };
        assert_eq!((p.format.as_str(), p.width, p.height, p.frames, p.milliseconds), ("MP4", 640, 480, 90, Some(3000)));
    }

    #[test]
    fn a_photograph_in_boxes_is_no_film() {
        for kind in [b"heic", b"mif1", b"avif"] {
            let mut photograph = whole();
            photograph[8..12].copy_from_slice(kind);
            assert!(!knows(&photograph));
        }
    }

    #[test]
    fn a_film_that_is_cut_off_is_refused() {
        let film = whole();
        // The first box and the second are whole at their ends; a file that ends there has no pictures, or no bytes for them.
        let ends: Vec<usize> = (8..film.len()).filter(|end| matches!(read(&film[..*end]), Facts::Picture(_))).collect();
        assert_eq!(ends, [film.len() - 16]);
    }

    #[test]
    fn lengths_that_lead_nowhere_end_the_walk() {
        for length in [1_u32, 2, 7, u32::MAX] {
            let mut film = whole();
            film[16..20].copy_from_slice(&length.to_be_bytes());
            assert!(matches!(read(&film), Facts::Unreadable(_)), "{length}");
        }
    }
}
