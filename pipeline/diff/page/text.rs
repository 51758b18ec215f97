//! Words and codes of the page.

use crate::model::difference::{Change, Verdict};

/// The rule by which the version number follows from what changed.
pub fn rule(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Same => "Both versions are the same, byte for byte.",
        Verdict::Patch => "Something was mended. Nothing was added, and nothing that older copies have is lost.",
        Verdict::Minor => "Something was added or moved. Nothing that older copies have is lost.",
        Verdict::Major => "Something that older copies have is gone or leads elsewhere.",
    }
}

/// A kind of change in words that follow a number.
pub fn kind(kind: Change, count: usize) -> &'static str {
    let (one, many) = match kind {
        Change::FileAdded => ("file new", "files new"),
        Change::FileRemoved => ("file gone", "files gone"),
        Change::FileRenamed => ("file renamed", "files renamed"),
        Change::FileChanged => ("file changed", "files changed"),
        Change::PageInserted => ("page new", "pages new"),
        Change::PageRemoved => ("page gone", "pages gone"),
        Change::PageMoved => ("page moved", "pages moved"),
        Change::PageRedrawn => ("page redrawn", "pages redrawn"),
        Change::TextChanged => ("text changed", "texts changed"),
        Change::LinkAdded => ("link new", "links new"),
        Change::LinkRemoved => ("link gone", "links gone"),
        Change::LinkRetargeted => ("link led elsewhere", "links led elsewhere"),
        Change::LinkMoved => ("link moved", "links moved"),
        Change::ImageChanged => ("picture changed", "pictures changed"),
        Change::MetadataChanged => ("property changed", "properties changed"),
        Change::StoredDifferently => ("stored differently", "stored differently"),
    };
    if count == 1 { one } else { many }
}

/// Whether a change adds, takes away, alters, or is not seen at all.
pub fn tone(kind: Change) -> &'static str {
    match kind {
        Change::FileAdded | Change::PageInserted | Change::LinkAdded => "come",
        Change::FileRemoved | Change::PageRemoved | Change::LinkRemoved | Change::LinkRetargeted => "gone",
        Change::StoredDifferently | Change::MetadataChanged | Change::FileRenamed => "quiet",
        _ => "other",
    }
}

/// Base64 with padding (RFC 4648, section 4).
pub fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let bits = (0..3).fold(0, |bits, i| bits << 8 | u32::from(three.get(i).copied().unwrap_or(0)));
        for i in 0..4 {
            let digit = DIGITS[(bits >> (18 - 6 * i) & 63) as usize] as char;
            out.push(if i > three.len() { '=' } else { digit });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::base64;

    #[test]
    fn base64_of_the_standard() {
        // Source: RFC 4648, section 10.
        for (plain, coded) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")] {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }
}
