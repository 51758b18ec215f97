//! Numbers of stickers, which stay with their sticker from one issued version to the next.

use base::model::kin::Member;
use base::model::variant;
use base::model::{Product, StickerNumbers};
use serde_json::{Value, json};
use std::sync::Arc;

/// The numbers that the stickers of a variant have in the record of an issued version. Those of variants that it has not
/// yet are those of all.
pub fn issued(record: &Value, variant: Option<&str>) -> StickerNumbers {
    let files = record["files"].as_array().map(Vec::as_slice).unwrap_or_default();
    let mine = |f: &&Value| match f["variant"].as_str() {
        None => true,
        Some(of) => Some(of) == variant,
    };
    let stickers = files.iter().filter(|f| f["kind"] == "sticker").filter(mine);
    let named = stickers.filter_map(|f| {
        let (stem, _) = f["path"].as_str()?.rsplit('/').next()?.rsplit_once('.')?;
        let (number, name) = stem.split_once('-')?;
        let counts = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
        counts.then(|| (name.to_owned(), number.to_owned()))
    });
    StickerNumbers(named.collect())
}

/// Gives products, and the members of a set, the numbers that stickers have in the record of their bundle.
pub fn give(products: &mut [Product], record: &Value) {
    for product in products {
        let variant = product.variants.mine().map(|v| v.name.clone());
        product.stickers.numbers = issued(record, variant.as_deref());
        for member in &mut product.members {
            let own = of_member(record, member);
            let products: &mut Vec<Product> = Arc::make_mut(&mut member.products);
            give(products, &own);
        }
    }
}

/// What the record of a set says of a member's stickers, as the member's own would say it.
fn of_member(record: &Value, member: &Member) -> Value {
    let files = record["files"].as_array().map(Vec::as_slice).unwrap_or_default();
    let variants = &member.lead().variants.all;
    let own = files.iter().filter_map(|f| {
        let path = member.own(f["path"].as_str()?)?;
        let variant = variant::of(variants, &path).map(|v| variants[v].name.clone());
        Some(json!({ "path": path, "kind": f["kind"], "variant": variant }))
    });
    json!({ "files": own.collect::<Vec<Value>>() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_off_the_record() {
        let file = |path: &str, variant: Option<&str>| json!({ "path": path, "kind": "sticker", "variant": variant });
        let record = json!({ "files": [
            file("contents/stickers/07-tea-pot.png", None),
            file("contents/moss/stickers/08-cup.png", Some("moss")),
            file("contents/clay/stickers/09-cup.png", Some("clay")),
            { "path": "contents/moss/plot-moss.pdf", "kind": "notebook", "variant": "moss" },
        ]});
        let of = |variant| issued(&record, variant).0.into_iter().collect::<Vec<_>>();
        let pair = |name: &str, number: &str| (name.to_owned(), number.to_owned());
        assert_eq!(of(Some("moss")), [pair("cup", "08"), pair("tea-pot", "07")]);
        assert_eq!(of(Some("clay")), [pair("cup", "09"), pair("tea-pot", "07")]);
        assert_eq!(of(None), [pair("tea-pot", "07")]);
        assert!(issued(&json!({}), None).0.is_empty());
    }
}
