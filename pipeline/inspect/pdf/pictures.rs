//! What the dictionary of a picture says of it, and whether its data are what it says.

use super::sound::{self, Promise};
use super::{integer, items};
use hayro_syntax::object::{Dict, Object, Stream};
use hayro_syntax::xref::XRef;

/// A picture whose data are yet to be looked at.
pub struct Picture<'a> {
    /// Its stream.
    pub stream: Stream<'a>,
    /// What the stream must hold.
    pub promise: Promise,
    /// Its mask, if it has one.
    pub mask: Option<Stream<'a>>,
    /// The table of the file.
    pub xref: &'a XRef,
}

impl Picture<'_> {
    /// What is wrong with it, in words that follow "the picture".
    pub fn fault(&self) -> Option<String> {
        sound::picture(&self.stream, self.promise, self.xref).or_else(|| {
            let mask = self.mask.as_ref()?;
            let dict = mask.dict();
            let promise = Promise {
                width: pixels(dict, "Width"),
                height: pixels(dict, "Height"),
                components: 1,
                bits: bits(dict, "BitsPerComponent"),
            };
            sound::picture(mask, promise, self.xref).map(|fault| format!("has a mask that {fault}"))
        })
    }
}

/// Bits of a component; masks need not say that they have one.
pub fn bits(dict: &Dict, key: &str) -> u8 {
    integer(dict, key).and_then(|n| u8::try_from(n).ok()).unwrap_or(1)
}

/// Pixels of a side.
pub fn pixels(dict: &Dict, key: &str) -> u32 {
    integer(dict, key).and_then(|n| u32::try_from(n).ok()).unwrap_or(0)
}

/// The family of an image's colour space, and how many components it has.
pub fn colour_space<'a>(dict: &Dict<'a>, xref: &'a XRef) -> (String, Option<u8>) {
    if dict.get::<bool>("ImageMask") == Some(true) {
        return (String::new(), Some(1));
    }
    match dict.get::<Object>("ColorSpace") {
        Some(Object::Name(name)) => {
            let family = String::from_utf8_lossy(&name).into_owned();
            let components = plain_components(&family);
            (family, components)
        }
        Some(Object::Array(array)) => {
            let mut parts = items(&array, xref);
            let family = parts.next().and_then(Object::into_name);
            let family = family.map(|n| String::from_utf8_lossy(&n).into_owned()).unwrap_or_default();
            let second = parts.next();
            let components = match (family.as_str(), second) {
                ("ICCBased", Some(Object::Stream(profile))) => {
                    integer(profile.dict(), "N").and_then(|n| u8::try_from(n).ok())
                }
                _ => plain_components(&family),
            };
            (family, components)
        }
        _ => (String::new(), None),
    }
}

/// Components of a colour space that needs no more than its name.
pub fn plain_components(family: &str) -> Option<u8> {
    match family {
        "DeviceGray" | "CalGray" | "Indexed" | "Separation" => Some(1),
        "DeviceRGB" | "CalRGB" | "Lab" => Some(3),
        "DeviceCMYK" => Some(4),
        _ => None,
    }
}

/// The filters of a picture by name, joined with a space.
pub fn filters<'a>(dict: &Dict<'a>, xref: &'a XRef) -> String {
    match dict.get::<Object>("Filter") {
        Some(Object::Name(name)) => String::from_utf8_lossy(&name).into_owned(),
        Some(Object::Array(array)) => {
            let names = items(&array, xref).filter_map(Object::into_name);
            names.map(|n| String::from_utf8_lossy(&n).into_owned()).collect::<Vec<_>>().join(" ")
        }
        _ => String::new(),
    }
}
