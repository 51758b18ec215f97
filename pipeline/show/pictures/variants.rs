//! Variants beside each other: which of them look different from outside, and what they are called together.

use super::PictureContext;
use super::kin::laid;
use super::words;
use base::model::Size;
use base::model::product::CoverDesign;
use base::model::variant::Choice;
use serde_json::{Value as Json, json};

/// So many books can be told apart on a small picture.
const MOST: usize = 6;

/// What layouts know of the variants: those that look different, `MOST` of them at most; the largest width and height among
/// them; how many there are in all, and what that is called.
pub fn seen(context: &PictureContext) -> Json {
    let fronts = &context.open_files.variants;
    let different: Vec<usize> =
        (0..fronts.len()).filter(|i| !fronts[..*i].iter().any(|f| f.look == fronts[*i].look)).collect();
    let all = &context.product.variants.all;
    // Rows in which those that look different differ: the others say nothing of what is seen.
    let choices = |i: usize| all[i].choices.iter();
    let rows: Vec<&str> = all.first().map_or(Vec::new(), |first| {
        let varies = |c: &&Choice| different.iter().any(|i| choices(*i).any(|o| o.row == c.row && o.name != c.name));
        first.choices.iter().filter(varies).map(|c| c.row.as_str()).collect()
    });
    let title = |i: usize| {
        let told = choices(i).filter(|c| rows.contains(&c.row.as_str())).map(|c| c.title.as_str());
        told.collect::<Vec<_>>().join(", ")
    };
    let shown: Vec<usize> = different.iter().copied().take(MOST).collect();
    let art = context.product.notebook.as_ref().is_some_and(|n| matches!(n.cover.design, CoverDesign::Art(_)));
    let laid = |size: Size| laid(size, art, context.product.style.corner.pt());
    let largest = |of: fn(Size) -> f64| shown.iter().map(|i| of(laid(fronts[*i].size))).fold(0.0, f64::max);
    let alike = shown.iter().all(|i| fronts[*i].size == fronts[shown[0]].size);
    let books: Vec<Json> = shown
        .iter()
        .map(|i| {
            let (size, lies) = (fronts[*i].size, laid(fronts[*i].size));
            let href = format!("variant/{}", i + 1);
            json!({ "href": href, "name": title(*i), "w": size.w, "h": size.h, "wide": lies.w, "high": lies.h, "whole": art })
        })
        .collect();
    let row = if let [row] = rows.as_slice() { Some(*row) } else { None };
    let words = words::variants(context, row, different.len(), all.len());
    json!({
        "shown": books, "wide": largest(|s| s.w), "high": largest(|s| s.h), "alike": alike, "total": all.len(), "words": words,
    })
}
