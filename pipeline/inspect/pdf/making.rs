//! Who made a document, with what, and when: as the document information tells it.

use super::{strings, time};
use base::model::facts::Making;
use hayro_syntax::metadata::Metadata;

/// What the document information says.
pub fn of_info(info: &Metadata) -> Making {
    let text = |bytes: &Option<Box<[u8]>>| {
        let text = bytes.as_deref().map(strings::decode).map(|t| t.trim().to_owned());
        text.filter(|t| !t.is_empty())
    };
    Making {
        author: text(&info.author),
        creator: text(&info.creator),
        producer: text(&info.producer),
        created: info.creation_date.as_ref().and_then(time::of_info),
        changed: info.modification_date.as_ref().and_then(time::of_info),
    }
}
