//! Products that go with each other, in what they are said to agree.

use super::catalogue::{Findings, found};
use base::model::geometry::Size;
use base::model::kin::{Same, Sister};
use base::model::product::Hand;
use base::model::units::{PT_PER_MM, trim_number};
use base::model::{Product, Rgb, Where};

/// How far sides of pages may be apart that count as the same, in points: less than a hair.
const SAME_SIZE: f64 = 0.05;

/// Checks everything that a product says of those that go with it.
pub fn check(product: &Product, findings: &mut Findings) {
    for sister in &product.sisters {
        let at = || Where::file(sister.place.file.as_deref().unwrap_or("product.toml")).span(sister.place.clone());
        for same in &sister.same {
            if let Some(differ) = differ(product, sister, *same) {
                found!(findings, "sister-differs", at(), "{}: {differ}", sister.name);
            }
        }
    }
}

/// In what the two do not agree after all.
fn differ(product: &Product, sister: &Sister, same: Same) -> Option<String> {
    match same {
        Same::PageSize => {
            let (own, other) = (product.page.size, sister.page.size);
            let apart = (own.w - other.w).abs() > SAME_SIZE || (own.h - other.h).abs() > SAME_SIZE;
            apart.then(|| format!("its pages are {}, those of this product {}", sides(other), sides(own)))
        }
        Same::Tabs => {
            let side = |hand: Hand, mirrored: bool| if (hand == Hand::Right) == mirrored { "left" } else { "right" };
            let own = side(product.page.hand, product.page.right_to_left);
            let other = side(sister.page.hand, sister.page.right_to_left);
            (own != other).then(|| format!("its tabs lie at the {other}, those of this product at the {own}"))
        }
        Same::Colours => {
            let (own, other) = (&product.style, &sister.style);
            let each = [
                ("paper", own.paper, other.paper),
                ("ink", own.ink, other.ink),
                ("rule", own.rule, other.rule),
                ("desk", own.desk, other.desk),
                ("accent", own.accent, other.accent),
            ];
            let mut all: Vec<String> = each
                .into_iter()
                .filter(|(_, own, other)| own != other)
                .map(|(what, own, other)| said(what, other, own))
                .collect();
            let sections = product.notebook.iter().flat_map(|n| &n.sections).zip(&sister.sections).enumerate();
            all.extend(
                sections
                    .filter(|(_, (own, other))| own.colour != **other)
                    .map(|(i, (own, other))| said(&format!("section {}", i + 1), *other, own.colour)),
            );
            (!all.is_empty()).then(|| format!("its colours are others: {}", all.join(", ")))
        }
    }
}

fn said(what: &str, other: Rgb, own: Rgb) -> String {
    format!("{what} {other}, here {own}")
}

/// Width and height in millimetres.
fn sides(size: Size) -> String {
    let mm = |pt: f64| trim_number(pt / PT_PER_MM, 1);
    format!("{} \u{d7} {} mm", mm(size.w), mm(size.h))
}
