//! Names on tabs: set at one size, in one line or two. A name that is much longer than the others is shortened, and told, so that
//! it costs the others neither their names nor their size.

use draw::Fonts;
use draw::text::Setting;

/// The room of a label.
#[derive(Clone, Copy, Debug)]
pub struct Room {
    /// Along the line, in points.
    pub length: f64,
    /// Across the lines, in points.
    pub depth: f64,
    /// The smallest type, in points.
    pub least: f64,
}

/// How names are set.
#[derive(Clone, Debug, PartialEq)]
pub enum Set {
    /// As names.
    Names {
        /// The lines of each.
        lines: Vec<Vec<String>>,
        /// The size of all in points.
        size: f64,
        /// Those that are shortened: which, the whole name, and by how much it is too long in points.
        cut: Vec<(usize, String, f64)>,
    },
    /// Most are too long: the longest of them, and by how much in the smallest type, in points.
    TooLong {
        /// The name.
        name: String,
        /// By how much.
        by: f64,
    },
}

/// Distance of two lines on a tab, in sizes of type.
const STEP: f64 = 1.15;

/// Sets names into rooms of one size.
pub fn set(fonts: &Fonts, setting: Setting, names: &[String], room: Room) -> Set {
    let start = setting.size;
    // Down to this size all names are kept whole; below it, one that is too long is shortened.
    let fair = (start * 0.84).max(room.least);
    let sizes = (0..=40).map(|i| start + (room.least - start) * f64::from(i) / 40.0);
    let whole = |size: f64| -> Option<Vec<Vec<String>>> {
        names.iter().map(|name| lines(fonts, setting.sized(size), name, room)).collect()
    };
    let named = |lines, size| Set::Names { lines, size, cut: Vec::new() };
    let mut smaller = None;
    for size in sizes {
        if let Some(lines) = whole(size) {
            if size >= fair {
                return named(lines, size);
            }
            smaller = Some((lines, size));
            break;
        }
    }
    let at = setting.sized(fair);
    let long: Vec<usize> = (0..names.len()).filter(|i| lines(fonts, at, &names[*i], room).is_none()).collect();
    let few = long.len() * 3 <= names.len();
    match smaller {
        // All are long: they shrink together.
        Some((lines, size)) if !few => named(lines, size),
        _ if few => {
            let shortened =
                |name: &String| lines(fonts, at, name, room).unwrap_or_else(|| short(fonts, at, name, room));
            let over = |i: usize| (i, names[i].clone(), at.width(fonts, &names[i]) - room.length);
            Set::Names {
                lines: names.iter().map(shortened).collect(),
                size: fair,
                cut: long.iter().map(|i| over(*i)).collect(),
            }
        }
        _ => {
            let smallest = setting.sized(room.least);
            let over = |name: &String| {
                let widest = halves(name).iter().map(|l| smallest.width(fonts, l)).fold(0.0, f64::max);
                widest - room.length
            };
            let longest = names.iter().max_by(|a, b| over(a).total_cmp(&over(b)));
            longest.map_or_else(|| named(Vec::new(), start), |name| Set::TooLong { name: name.clone(), by: over(name) })
        }
    }
}

/// How many lines lie side by side at this size.
fn most_lines(size: f64, room: Room) -> usize {
    // Two lines need their height, and no more than two are read on a tab.
    if size * (1.0 + STEP) <= room.depth + size * 0.1 { 2 } else { 1 }
}

/// The lines of a name that fits.
fn lines(fonts: &Fonts, at: Setting, name: &str, room: Room) -> Option<Vec<String>> {
    if at.width(fonts, name) <= room.length {
        return Some(vec![name.to_owned()]);
    }
    let two = halves(name);
    let fits = two.len() <= most_lines(at.size, room) && two.iter().all(|l| at.width(fonts, l) <= room.length);
    fits.then_some(two)
}

/// A name that is cut, in as many lines as there is room for.
fn short(fonts: &Fonts, at: Setting, name: &str, room: Room) -> Vec<String> {
    let wrapped = at.wrap(fonts, name, room.length);
    match (most_lines(at.size, room), wrapped.split_first()) {
        (2, Some((first, rest))) if !rest.is_empty() && at.width(fonts, first) <= room.length => {
            vec![first.clone(), at.clipped(fonts, &rest.join(" "), room.length)]
        }
        _ => vec![at.clipped(fonts, name, room.length)],
    }
}

/// A name in two lines, broken at the space nearest to the middle.
fn halves(name: &str) -> Vec<String> {
    let middle = name.len() as f64 / 2.0;
    let at = name
        .match_indices(' ')
        .map(|(i, _)| i)
        .min_by(|a, b| (*a as f64 - middle).abs().total_cmp(&(*b as f64 - middle).abs()));
    at.map_or_else(|| vec![name.to_owned()], |i| vec![name[..i].to_owned(), name[i + 1..].to_owned()])
}
