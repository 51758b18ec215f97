//! Places in the text of a drawing.

use base::model::Spot;
use resvg::usvg::roxmltree;

/// A place of a drawing's text.
pub fn spot(text: &str, pos: roxmltree::TextPos) -> Spot {
    let line = text.lines().nth(pos.row.saturating_sub(1) as usize).unwrap_or("");
    Spot::short(pos.row as usize, pos.col as usize, line, 1)
}
