//! Quarter binding: a strip of another colour or material that goes round the spine and over the edge of the board.

use super::book::Book;
use super::material;
use base::colour;
use base::model::drawing::Path;
use base::model::finish::Quarter;
use base::model::look::Material;
use base::model::product::{Cover, CoverDesign, Style};
use base::model::{Drawing, Rgb};

/// What the strip is made of, if there is one; art has none.
pub fn made(cover: &Cover) -> Option<Material> {
    if matches!(cover.design, CoverDesign::Art(_)) {
        return None;
    }
    Some(match cover.finish.quarter {
        Quarter::None => return None,
        Quarter::Plain => Material::Plain,
        Quarter::Linen => Material::Linen,
        Quarter::Kraft => Material::Kraft,
        Quarter::Leather => Material::Leather,
        Quarter::Wood => Material::Wood,
    })
}

/// Its colour: where none is said, a deep tone of the board's own hue, or on a dark board a lighter one.
pub fn colour(cover: &Cover) -> Option<Rgb> {
    made(cover)?;
    Some(cover.finish.quarter_colour.unwrap_or_else(|| {
        let [light, chroma, hue] = colour::to_oklch(cover.colour);
        // Grey has no hue.
        let grey = !hue.is_finite() || chroma <= 0.004;
        let (chroma, hue) = if grey { (0.0, 0.0) } else { ((chroma * 1.15).max(0.035), hue) };
        colour::oklch(if light > 0.42 { light * 0.58 } else { light + 0.16 }, chroma, hue)
    }))
}

/// Lays it over the board, with the spine in it.
pub fn lay(d: &mut Drawing, cover: &Cover, style: &Style, book: &Book) {
    let (Some(made), Some(tone)) = (made(cover), colour(cover)) else { return };
    d.fill(Path::rect(book.strip()), tone);
    book.spine(d, style, tone, colour::darker(style.ink, style.paper));
    material::strip(d, made, book.strip(), book.spine_at, material::laid(book.unit));
    book.strip_edge(d, cover.colour, tone);
}
