//! How much a drawing may ask for. Each limit is told with its number, and with the element that goes beyond it.
//!
//! A drawing comes from a program, a friend or a shop of clip art, and nobody reads it before. A few bytes of it may ask
//! for more memory than there is: parts within parts, filters over fields that nobody sees, dashes finer than a hair. So
//! it is counted out before it is drawn (`parts`, `pictures`), and once more when it is known where everything lies
//! (`work`).

mod parts;
pub mod pictures;
mod region;
mod work;

pub use parts::{check as parts, text};
pub use region::cut;
pub use work::{Paper, check as work, raster_scale};

/// The deepest nesting of elements in a drawing; drawing programs seldom come to thirty.
pub const MOST_DEPTH: usize = 256;
/// The most parts of a drawing once everything is written out that it uses several times.
pub const MOST_PARTS: u64 = 4_000_000;
/// The most pixels that the filters and layers of a drawing hold at once: 1.2 GB.
pub const MOST_HELD: f64 = 300e6;
/// The most times that filters of a drawing work through a pixel, all pixels counted.
pub const MOST_STEPS: f64 = 1e9;
/// The most pixels of a pattern's tile.
pub const MOST_TILE: f64 = 64e6;
/// The most dashes of a drawing.
pub const MOST_DASHES: f64 = 500_000.0;
/// The most pixels of all pictures inside of a drawing.
pub const MOST_PICTURED: u64 = 240_000_000;
/// The most bytes of a packed drawing inside of a drawing, unpacked.
pub const MOST_UNPACKED: u64 = 64 << 20;
