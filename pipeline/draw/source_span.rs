//! Places in the text of a drawing.

use base::model::SourceSpan;
use resvg::usvg::roxmltree;

/// A place of a drawing's text.
pub fn span(text: &str, pos: roxmltree::TextPos) -> SourceSpan {
    let line = text.lines().nth(pos.row.saturating_sub(1) as usize).unwrap_or("");
    SourceSpan::short(pos.row as usize, pos.col as usize, line, 1)
}
