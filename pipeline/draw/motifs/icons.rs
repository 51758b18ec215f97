//! Icons: small drawings on a grid of 24 units, as path data of our own.
//!
//! An icon is a list of layers, each with what fills it; the kit strokes all of them with the one weight.
//! The data knows `M`, `L`, `C` and `Z` as SVG does, with absolute coordinates, and `O cx cy r` for a circle.

use base::colour;
use base::model::drawing::{Path, Seg, Stroke};
use base::model::{Drawing, Point, Rgb};

/// Units across the grid.
pub const GRID: f64 = 24.0;

/// What fills a layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layer {
    /// The sticker's colour.
    Base,
    /// Its tint.
    Soft,
    /// Clean paper.
    Paper,
    /// Nothing: lines only.
    Line,
}

/// An icon: its layers, bottom first.
pub type Icon = &'static [(Layer, &'static str)];

/// What an icon is drawn with.
#[derive(Clone, Copy, Debug)]
pub struct Tones {
    /// Of [`Layer::Base`].
    pub base: Rgb,
    /// Of [`Layer::Soft`].
    pub soft: Rgb,
    /// Of [`Layer::Paper`].
    pub paper: Rgb,
    /// Its lines.
    pub line: Stroke,
}

impl Tones {
    /// Those of an icon on a ground of one colour: shades of the ground, and lines of `ink`, so broad in points.
    pub fn on(ground: Rgb, ink: Rgb, paper: Rgb, weight: f64) -> Tones {
        Tones {
            base: colour::mix(ground, ink, 0.3),
            soft: colour::mix(ground, ink, 0.16),
            paper: colour::mix(ground, paper, 0.6),
            line: Stroke::new(weight, ink).round(),
        }
    }

    /// Those of an icon in a colour of its own, on a ground that is told from it.
    pub fn of(own: Rgb, ground: Rgb, ink: Rgb, paper: Rgb, weight: f64) -> Tones {
        Tones { base: own, soft: colour::mix(ground, own, 0.5), paper, line: Stroke::new(weight, ink).round() }
    }
}

/// Draws an icon centred on a point, `size` points across; its lines keep their weight at any size.
pub fn draw(d: &mut Drawing, icon: Icon, at: Point, size: f64, tones: Tones) {
    let corner = Point::new(at.x - size / 2.0, at.y - size / 2.0);
    for (layer, data) in icon {
        let path = path(data).placed(corner, size / GRID);
        match layer {
            Base => d.fill_stroke(path, tones.base, tones.line),
            Soft => d.fill_stroke(path, tones.soft, tones.line),
            Paper => d.fill_stroke(path, tones.paper, tones.line),
            Line => d.stroke(path, tones.line),
        }
    }
}

use Layer::{Base, Line, Paper, Soft};

const CLOUD: &str = "M7 18.6 C4.2 18.6 2.4 16.8 2.4 14.4 C2.4 12.2 4.1 10.5 6.2 10.2 C6.8 7.3 9.1 5.4 12 5.4 \
    C15.1 5.4 17.4 7.5 17.8 10.3 C20 10.5 21.6 12.3 21.6 14.4 C21.6 16.8 19.8 18.6 17.3 18.6 Z";
const CLOUD_HIGH: &str = "M7.5 14.4 C5.2 14.4 3.6 12.9 3.6 10.9 C3.6 9.1 5 7.7 6.8 7.5 C7.3 5.1 9.3 3.4 11.8 3.4 \
    C14.5 3.4 16.5 5.2 16.9 7.6 C18.8 7.8 20.3 9.2 20.3 11 C20.3 12.9 18.7 14.4 16.6 14.4 Z";

pub const SUN: Icon = &[
    (Base, "O 12 12 4.6"),
    (
        Line,
        "M12 4.6 L12 2.2 M12 19.4 L12 21.8 M4.6 12 L2.2 12 M19.4 12 L21.8 12 M17.23 6.77 L18.93 5.07 \
         M6.77 6.77 L5.07 5.07 M17.23 17.23 L18.93 18.93 M6.77 17.23 L5.07 18.93",
    ),
];
pub const SUN_CLOUD: Icon = &[
    (Base, "O 9 8.6 3.8"),
    (Line, "M9 2.2 L9 1.4 M2.6 8.6 L1.8 8.6 M4.5 4.1 L3.9 3.5 M13.5 4.1 L14.1 3.5"),
    (
        Paper,
        "M9.4 20.4 C7.1 20.4 5.5 18.9 5.5 16.9 C5.5 15.1 6.9 13.7 8.7 13.5 C9.2 11.1 11.2 9.6 13.7 9.6 \
         C16.4 9.6 18.4 11.3 18.8 13.6 C20.7 13.8 22.2 15.2 22.2 17 C22.2 18.9 20.6 20.4 18.5 20.4 Z",
    ),
];
pub const CLOUDY: Icon = &[(Paper, CLOUD)];
pub const RAIN: Icon = &[(Soft, CLOUD_HIGH), (Line, "M8.2 17.4 L7 20.8 M12.4 17.4 L11.2 20.8 M16.6 17.4 L15.4 20.8")];
pub const STORM: Icon =
    &[(Soft, CLOUD_HIGH), (Base, "M12.9 12 L9.2 17.2 L11.9 17.2 L10.6 21.8 L15.4 15.9 L12.7 15.9 L14.6 12 Z")];
pub const SNOW: Icon = &[
    (Paper, CLOUD_HIGH),
    (
        Line,
        "M8 17.2 L8 20.4 M6.6 18 L9.4 19.6 M9.4 18 L6.6 19.6 M15.6 17.2 L15.6 20.4 M14.2 18 L17 19.6 \
         M17 18 L14.2 19.6",
    ),
];
pub const WIND: Icon = &[(
    Line,
    "M3 9 L14 9 C16.2 9 17.4 7.8 17.4 6.2 C17.4 4.7 16.3 3.7 14.9 3.7 C13.6 3.7 12.7 4.6 12.7 5.7 \
     M3 13 L18.4 13 C20.2 13 21.3 14.2 21.3 15.6 C21.3 17 20.2 18 19 18 C17.9 18 17.1 17.3 17 16.3 \
     M3 17 L10.6 17 C12.4 17 13.4 17.9 13.4 19.1 C13.4 20.3 12.5 21.1 11.5 21.1 C10.6 21.1 9.9 20.5 9.8 19.7",
)];
pub const DROP: Icon = &[(Base, DROP_SHAPE)];
/// A drop, for cells to fill.
pub const DROP_SHAPE: &str = "M12 2.4 C14.7 6 18.4 10.2 18.4 14.6 C18.4 18.5 15.6 21.4 12 21.4 \
    C8.4 21.4 5.6 18.5 5.6 14.6 C5.6 10.2 9.3 6 12 2.4 Z";
pub const MOON: Icon = &[
    (
        Base,
        "M19.8 15 C18.7 15.4 17.5 15.6 16.2 15.6 C11.6 15.6 8.4 12.4 8.4 7.8 C8.4 6.5 8.6 5.3 9.1 4.2 \
         C5.6 5.4 3 8.7 3 12.6 C3 17.5 6.9 21.2 11.4 21.2 C15.3 21.2 18.6 18.6 19.8 15 Z",
    ),
    (Line, "M16.6 3.6 L16.6 8 M14.4 5.8 L18.8 5.8"),
];
pub const BOOK: Icon = &[
    (
        Paper,
        "M12 6.6 C9.8 5 6.6 4.6 3 5.2 L3 18.6 C6.6 18 9.8 18.4 12 20 C14.2 18.4 17.4 18 21 18.6 L21 5.2 \
         C17.4 4.6 14.2 5 12 6.6 Z",
    ),
    (Base, "M12 6.6 C14.2 5 17.4 4.6 21 5.2 L21 18.6 C17.4 18 14.2 18.4 12 20 Z"),
];
pub const HANDSET: Icon = &[(
    Base,
    "M6.2 3.6 L8.9 3.3 C9.5 3.2 10 3.6 10.2 4.1 L11.3 7.3 C11.5 7.8 11.3 8.4 10.9 8.7 L9.2 10.2 C10.2 12.2 11.8 13.8 \
     13.8 14.8 L15.3 13.1 C15.6 12.7 16.2 12.5 16.7 12.7 L19.9 13.8 C20.4 14 20.8 14.5 20.7 15.1 L20.4 17.8 \
     C20.3 19.4 18.9 20.6 17.4 20.5 C10 20 4 14 3.5 6.6 C3.4 5.1 4.6 3.7 6.2 3.6 Z",
)];
pub const BASKET: Icon = &[
    (Line, "M7 10 L10 3.8 M17 10 L14 3.8"),
    (Base, "M3 10 L21 10 L19.2 19.2 C19 20.2 18.3 20.8 17.4 20.8 L6.6 20.8 C5.7 20.8 5 20.2 4.8 19.2 Z"),
    (Line, "M12 13.4 L12 17.4 M8.4 13.4 L8.9 17.4 M15.6 13.4 L15.1 17.4"),
];
pub const CLOCK: Icon = &[(Paper, "O 12 12 9.2"), (Line, "M12 6.6 L12 12 L15.8 14.2")];
pub const BULB: Icon = &[
    (Base, "M9 17 C9 14.6 6 13.2 6 9.2 C6 5.7 8.7 3 12 3 C15.3 3 18 5.7 18 9.2 C18 13.2 15 14.6 15 17 Z"),
    (Line, "M9.4 19.4 L14.6 19.4 M10.7 21.8 L13.3 21.8"),
];
pub const LEAF: Icon = &[
    (Base, "M5.4 18.6 C3.4 10.6 8.6 4.4 20 4.2 C20.6 14.6 14.4 20.8 5.4 18.6 Z"),
    (Line, "M3.6 21 C7 15.4 10.6 12 15 9.2"),
];
pub const BOWL: Icon = &[
    (Base, "M3 11.6 L21 11.6 C21 17 17 20.6 12 20.6 C7 20.6 3 17 3 11.6 Z"),
    (Line, "M8.2 8.4 C7 7.1 9.4 5.6 8.2 3.8 M12 8.4 C10.8 7.1 13.2 5.6 12 3.8 M15.8 8.4 C14.6 7.1 17 5.6 15.8 3.8"),
];
pub const COINS: Icon = &[(Soft, "O 15.2 9.2 5.9"), (Base, "O 9.2 14.4 6.3"), (Line, "M9.2 11.4 L9.2 17.4")];
pub const WEIGHTS: Icon = &[
    (Line, "M8 12 L16 12"),
    (Base, "M5 6.6 L8.2 6.6 L8.2 17.4 L5 17.4 Z M15.8 6.6 L19 6.6 L19 17.4 L15.8 17.4 Z"),
    (Line, "M2.4 9.6 L2.4 14.4 M21.6 9.6 L21.6 14.4"),
];
pub const PIN: Icon = &[
    (
        Base,
        "M12 21.4 C8.4 17 5.2 13.4 5.2 9.4 C5.2 5.7 8.2 2.8 12 2.8 C15.8 2.8 18.8 5.7 18.8 9.4 \
         C18.8 13.4 15.6 17 12 21.4 Z",
    ),
    (Paper, "O 12 9.5 2.6"),
];
pub const LETTER: Icon = &[(Paper, "M3 5.6 L21 5.6 L21 18.6 L3 18.6 Z"), (Base, "M3 5.6 L21 5.6 L12 13 Z")];
pub const GIFT: Icon = &[
    (Soft, "M4.6 11 L19.4 11 L19.4 20.8 L4.6 20.8 Z"),
    (Line, "M12 7.4 C8.8 7.4 6.2 6.4 6.6 4.4 C7 2.6 10.6 3 12 7.4 C13.4 3 17 2.6 17.4 4.4 C17.8 6.4 15.2 7.4 12 7.4"),
    (Base, "M3.2 7.4 L20.8 7.4 L20.8 11.2 L3.2 11.2 Z"),
    (Line, "M12 7.4 L12 20.8"),
];
pub const BELL: Icon = &[
    (Line, "M12 5 L12 3"),
    (
        Base,
        "M4.6 17.6 C6.4 16 6.6 13.8 6.6 10.8 C6.6 7.5 8.9 5 12 5 C15.1 5 17.4 7.5 17.4 10.8 \
         C17.4 13.8 17.6 16 19.4 17.6 Z",
    ),
    (Paper, "M9.6 17.6 C9.6 19.5 10.6 20.8 12 20.8 C13.4 20.8 14.4 19.5 14.4 17.6 Z"),
];
pub const HEART: &str = "M12 20.8 C6.4 16.8 2.4 13.3 2.4 8.8 C2.4 5.7 4.7 3.4 7.6 3.4 C9.4 3.4 11 4.4 12 6 \
    C13 4.4 14.6 3.4 16.4 3.4 C19.3 3.4 21.6 5.7 21.6 8.8 C21.6 13.3 17.6 16.8 12 20.8 Z";
pub const HEART_ICON: Icon = &[(Base, HEART)];
pub const BALANCE: Icon = &[
    (Line, "M12 4 L12 20 M7.6 20.4 L16.4 20.4 M4.4 7 L19.6 7"),
    (Base, "M1.8 13.4 L4.6 7 L7.4 13.4 C6.6 15.8 2.6 15.8 1.8 13.4 Z"),
    (Base, "M16.6 13.4 L19.4 7 L22.2 13.4 C21.4 15.8 17.4 15.8 16.6 13.4 Z"),
];
pub const FLAG: Icon = &[
    (
        Base,
        "M6 4 C9 2.6 11.4 5.4 14.4 4.6 C16.4 4.1 17.6 3.8 19.4 4.2 L19.4 13 C15.4 12 13.4 14.4 10.4 13.8 C8.6 13.4 7.6 13 6 13.6 Z",
    ),
    (Line, "M6 3 L6 21.6"),
];
pub const BOXES: Icon = &[
    (Paper, "M3.6 3.6 L11 3.6 L11 11 L3.6 11 Z"),
    (Base, "M3.6 14.4 L11 14.4 L11 21.8 L3.6 21.8 Z"),
    (Line, "M14.6 7.3 L21.2 7.3 M14.6 18.1 L21.2 18.1 M5.6 7.2 L7 8.6 L9.4 5.6"),
];
pub const CALENDAR: Icon = &[
    (Paper, "M3.4 5.4 L20.6 5.4 L20.6 20.8 L3.4 20.8 Z"),
    (Base, "M3.4 5.4 L20.6 5.4 L20.6 10.2 L3.4 10.2 Z"),
    (Line, "M8 3 L8 6.8 M16 3 L16 6.8"),
];
pub const STROKES: Icon =
    &[(Line, "M5 4.6 L5 19.4 M9.6 4.6 L9.6 19.4 M14.2 4.6 L14.2 19.4 M18.8 4.6 L18.8 19.4 M2.4 16.6 L21.4 7.4")];
pub const BATTERY: Icon = &[(Base, "M13.6 2.6 L5 13.6 L11 13.6 L9.8 21.4 L19 9.8 L12.6 9.8 Z")];
pub const PURSE: Icon = &[
    (Line, "M6 7 L16.4 3.2 L17.8 7"),
    (Base, "M3 7 L21 7 L21 20.4 L3 20.4 Z"),
    (Paper, "M14.6 11.4 L21 11.4 L21 16 L14.6 16 Z"),
];
pub const MOUNTAIN: Icon = &[
    (Base, "M1.8 20.4 L9.4 6.4 L14.2 15 L16.4 11.6 L22.2 20.4 Z"),
    (Paper, "M9.4 6.4 L6.5 11.8 L9.4 10.6 L12 11.2 Z"),
];
/// Outlines of symbols that stand alone in a mark.
pub const TICK: &str = "M6.2 12.6 L10.4 16.8 L18 7.8";
pub const CROSS: &str = "M7.4 7.4 L16.6 16.6 M16.6 7.4 L7.4 16.6";
pub const ONWARD: &str = "M5.8 12 L17.8 12 M12.8 7 L17.8 12 L12.8 17";

/// Reads path data. The strings above are all there is, and a test reads each; a slip in one ends its path there.
pub fn path(data: &str) -> Path {
    let mut words = data.split_whitespace().flat_map(split).peekable();
    let mut segs = Vec::new();
    while let Some(word) = words.next() {
        let mut number = || words.next().and_then(|w| w.parse::<f64>().ok());
        let mut point = || Some(Point::new(number()?, number()?));
        match word {
            "M" => segs.extend(point().map(Seg::Move)),
            "L" => segs.extend(point().map(Seg::Line)),
            "C" => {
                if let (Some(a), Some(b), Some(c)) = (point(), point(), point()) {
                    segs.push(Seg::Cubic(a, b, c));
                }
            }
            "O" => {
                if let (Some(centre), Some(r)) = (point(), number()) {
                    segs.extend(Path::circle(centre, r).0);
                }
            }
            "Z" => segs.push(Seg::Close),
            _ => break,
        }
    }
    Path(segs)
}

/// Parts a command letter from the number that follows it.
fn split(word: &str) -> impl Iterator<Item = &str> {
    let at = usize::from(word.starts_with(|c: char| c.is_ascii_alphabetic()));
    let (letter, rest) = word.split_at(at);
    [letter, rest].into_iter().filter(|s| !s.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: &[Icon] = &[
        SUN, SUN_CLOUD, CLOUDY, RAIN, STORM, SNOW, WIND, DROP, MOON, BOOK, HANDSET, BASKET, CLOCK, BULB, LEAF, BOWL,
        COINS, WEIGHTS, PIN, LETTER, GIFT, BELL, HEART_ICON, BALANCE, FLAG, BOXES, CALENDAR, STROKES, BATTERY, PURSE,
        MOUNTAIN,
    ];

    #[test]
    fn all_data_is_read_to_its_end_and_stays_on_the_grid() {
        let signs = [TICK, CROSS, ONWARD, HEART, DROP_SHAPE];
        for data in ALL.iter().flat_map(|i| i.iter().map(|l| l.1)).chain(signs) {
            // A circle is a start, four quarters and a close; every other letter is one segment.
            let count = |c: char| data.matches(c).count();
            let path = path(data);
            assert_eq!(path.0.len(), count('M') + count('L') + count('C') + count('Z') + 6 * count('O'), "{data}");
            assert!(path.points().all(|p| (0.0..=GRID).contains(&p.x) && (0.0..=GRID).contains(&p.y)), "{data}");
        }
    }
}
