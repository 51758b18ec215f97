//! Colour profiles of pictures: sRGB is kept, anything else is refused, since its numbers mean other colours.

use base::model::Fault;
use image::ImageDecoder;
use std::io::Cursor;

/// The red, green and blue of sRGB as a profile states them: XYZ against D50 (IEC 61966-2-1, adapted as in the ICC's own
/// sRGB profiles).
const PRIMARIES: [(&[u8; 4], [f64; 3]); 3] =
    [(b"rXYZ", [0.4361, 0.2225, 0.0139]), (b"gXYZ", [0.3851, 0.7169, 0.0971]), (b"bXYZ", [0.1431, 0.0606, 0.7141])];
/// Profiles round differently; the nearest other one in use (Display P3) is ten times as far away.
const NEAR: f64 = 0.006;

/// Refuses a PNG or JPEG whose profile says that its colours are not sRGB.
pub fn check(bytes: &[u8]) -> Result<(), Fault> {
    let Some(profile) = profile(bytes) else { return Ok(()) };
    let space = profile.get(16..20).unwrap_or_default();
    let sound = match space {
        b"RGB " => PRIMARIES.iter().all(|(tag, wanted)| match tag_xyz(&profile, tag) {
            Some(found) => found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < NEAR),
            // A profile without primaries holds tables, which nobody writes for sRGB but the ICC itself.
            None => said(&profile).contains("srgb"),
        }),
        b"GRAY" => true,
        _ => false,
    };
    if sound {
        return Ok(());
    }
    let name = name(&profile).map_or(String::new(), |n| format!(" ({n})"));
    Err(Fault::new(format!("the picture's colour profile is not sRGB{name}"))
        .help("convert it to sRGB when you export it: reader apps do not manage colours alike"))
}

fn profile(bytes: &[u8]) -> Option<Vec<u8>> {
    if bytes.starts_with(b"\xff\xd8\xff") {
        return image::codecs::jpeg::JpegDecoder::new(Cursor::new(bytes)).ok()?.icc_profile().ok()?;
    }
    let reader = png::Decoder::new(Cursor::new(bytes)).read_info().ok()?;
    let info = reader.info();
    // The chunk sRGB outranks a profile beside it (PNG, third edition, 4.3).
    if info.srgb.is_some() { None } else { info.icc_profile.as_ref().map(|p| p.to_vec()) }
}

/// The data of a tag (ICC.1:2022, 7.3).
fn tag<'p>(profile: &'p [u8], name: &[u8; 4]) -> Option<&'p [u8]> {
    let number = |at: usize| Some(u32::from_be_bytes(profile.get(at..at + 4)?.try_into().ok()?) as usize);
    let count = number(128)?.min(200);
    (0..count).find_map(|i| {
        let at = 132 + 12 * i;
        (profile.get(at..at + 4)? == name).then_some(())?;
        profile.get(number(at + 4)?..number(at + 4)?.checked_add(number(at + 8)?)?)
    })
}

fn tag_xyz(profile: &[u8], name: &[u8; 4]) -> Option<[f64; 3]> {
    let data = tag(profile, name)?.get(8..20)?;
    let fixed = |i: usize| Some(f64::from(i32::from_be_bytes(data.get(i..i + 4)?.try_into().ok()?)) / 65_536.0);
    Some([fixed(0)?, fixed(4)?, fixed(8)?])
}

/// The letters of the profile's description, whatever their width.
fn said(profile: &[u8]) -> String {
    tag(profile, b"desc").map_or(String::new(), |d| {
        d.iter()
            .skip(8)
            .filter(|b| b.is_ascii_graphic() || **b == b' ')
            .map(|b| char::from(*b).to_ascii_lowercase())
            .collect()
    })
}

/// The profile's name, where it is written in plain letters or UTF-16.
fn name(profile: &[u8]) -> Option<String> {
    let data = tag(profile, b"desc")?;
    let text: String = match data.get(..4)? {
        b"desc" => {
            let length = u32::from_be_bytes(data.get(8..12)?.try_into().ok()?) as usize;
            data.get(12..12usize.checked_add(length)?)?.iter().filter(|b| **b != 0).map(|b| char::from(*b)).collect()
        }
        b"mluc" => {
            let number = |at: usize| Some(u32::from_be_bytes(data.get(at..at + 4)?.try_into().ok()?) as usize);
            let (length, from) = (number(20)?, number(24)?);
            let units: Vec<u16> = data
                .get(from..from.checked_add(length)?)?
                .chunks_exact(2)
                .map(|c| u16::from_be_bytes([c[0], c[1]]))
                .collect();
            String::from_utf16_lossy(&units)
        }
        _ => return None,
    };
    let text = text.trim().chars().filter(|c| !c.is_control()).take(60).collect::<String>();
    (!text.is_empty()).then_some(text)
}
