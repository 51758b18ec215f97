//! Widths of a table's columns.

/// Widths for columns by their widest word and their whole text, in a room of this width. A table that is narrower
/// than the room stays so; otherwise every column gets its widest word, and the rest is shared out by how much
/// more each one would like.
pub fn widths(extents: &[(f64, f64)], room: f64) -> Vec<f64> {
    let all: f64 = extents.iter().map(|e| e.1).sum();
    if all <= room {
        return extents.iter().map(|e| e.1).collect();
    }
    let least: f64 = extents.iter().map(|e| e.0).sum();
    if least >= room {
        // Words will be cut; at least they are cut alike.
        return extents.iter().map(|e| room * e.0 / least).collect();
    }
    let share = (room - least) / (all - least);
    extents.iter().map(|e| e.0 + (e.1 - e.0) * share).collect()
}
