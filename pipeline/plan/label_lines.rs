//! Names on tabs: set at one size, in one line or two. A name that is much longer than the others is shortened, and told, so that
//! it costs the others neither their names nor their size.

use super::tab::{LEAST_STEP, LEAST_TYPE};
use base::model::units::between;
use draw::text::Setting;
use draw::{Fonts, breaks};

/// The room of a label.
#[derive(Clone, Copy, Debug)]
pub struct Room {
    /// Along the line where it is the only one, in points.
    pub length: f64,
    /// Along each of two lines, the outer one first: shapes are not as long everywhere.
    pub two: [f64; 2],
    /// Across the lines, in points.
    pub depth: f64,
    /// The smallest type, in points.
    pub least: f64,
    /// The size down to which all shrink for the sake of a single long name, in points.
    pub fair: f64,
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

/// How much smaller than at the fair size all names may be, so that none of them has to be a number.
const LITTLE_SMALLER: f64 = 0.8;

/// Distance of two lines where there is room for it, in sizes of type.
const STEP: f64 = 1.15;

/// Distance of two lines of this size in a room so deep, in points: as wide as it allows.
pub fn step(size: f64, depth: f64) -> f64 {
    size * between(depth / size - 1.0, LEAST_STEP, STEP)
}

/// Sets names into rooms of one size, each with the number that stands in its place where no word of it has room.
pub fn set(fonts: &Fonts, setting: Setting, (names, numbers): (&[String], &[String]), room: Room) -> Set {
    let start = setting.size;
    // At this size a single long name among many is shortened, so that it does not cost the others more.
    let fair = room.fair.max(room.least);
    let fits = |size: f64, name: &String| lines(fonts, setting.sized(size), name, room).is_some();
    let never: Vec<usize> = (0..names.len()).filter(|i| !fits(room.least, &names[*i])).collect();
    if never.len() * 3 > names.len() {
        let smallest = setting.sized(room.least);
        let over = |i: &usize| (names[*i].clone(), too_long(fonts, smallest, &names[*i], room));
        let longest = never.iter().map(over).max_by(|a, b| a.1.total_cmp(&b.1));
        let (name, by) = longest.unwrap_or_default();
        return Set::TooLong { name, by };
    }
    // The largest size at which all the others fit: they shrink together.
    let mut sizes = (0..=40).map(|i| start + (room.least - start) * f64::from(i) / 40.0);
    let all = |size: f64| names.iter().enumerate().all(|(i, name)| never.contains(&i) || fits(size, name));
    let together = sizes.find(|size| all(*size)).unwrap_or(room.least);
    // No hair below what is read.
    let together = if together < LEAST_TYPE && LEAST_TYPE <= start && all(LEAST_TYPE) { LEAST_TYPE } else { together };
    let long = (0..names.len()).filter(|i| !fits(fair, &names[*i])).count();
    let shown = |size: f64, name: &String| {
        let at = setting.sized(size);
        lines(fonts, at, name, room).or_else(|| in_words(fonts, at, name, room))
    };
    // A number among names is a riddle: a name that is whole a little smaller is better.
    let riddle = |name: &String| shown(fair, name).is_none() && fits(together, name);
    let smaller = (fair * LITTLE_SMALLER..fair).contains(&together) && names.iter().any(riddle);
    let size = if long * 6 <= names.len() && !smaller { together.max(fair) } else { together };
    let at = setting.sized(size);
    let set = names.iter().zip(numbers).map(|(name, n)| shown(size, name).unwrap_or_else(|| vec![n.clone()])).collect();
    let over = |i: usize| (i, names[i].clone(), at.width(fonts, &names[i]) - room.length);
    let cut = (0..names.len()).filter(|i| !fits(size, &names[*i])).map(over).collect();
    Set::Names { lines: set, size, cut }
}

/// Sets names, each with the number that may stand in its place, at one size that must not be smaller. A name that does not fit is
/// shortened after a word; where no word of it fits, or another would then say the same, its number stands there.
pub fn kept(fonts: &Fonts, at: Setting, (names, numbers): (&[String], &[String]), room: Room) -> Set {
    let whole: Vec<Option<Vec<String>>> = names.iter().map(|name| lines(fonts, at, name, room)).collect();
    let shortened = |name: &String| in_words(fonts, at, name, room);
    let shown: Vec<Option<Vec<String>>> =
        names.iter().zip(&whole).map(|(name, whole)| whole.clone().or_else(|| shortened(name))).collect();
    let alone = |lines: &Vec<String>| shown.iter().flatten().filter(|other| *other == lines).count() == 1;
    let told: Vec<Option<Vec<String>>> = shown
        .iter()
        .zip(&whole)
        .map(|(lines, whole)| lines.clone().filter(|lines| whole.is_some() || alone(lines)))
        .collect();
    let over = |i: usize| (i, names[i].clone(), at.width(fonts, &names[i]) - room.length);
    let lost: Vec<usize> = (0..names.len()).filter(|i| told[*i].is_none()).collect();
    if lost.len() * 3 > names.len() {
        let longest = lost.into_iter().map(over).max_by(|a, b| a.2.total_cmp(&b.2));
        let (_, name, by) = longest.unwrap_or_default();
        return Set::TooLong { name, by };
    }
    let cut = (0..names.len()).filter(|i| whole[*i].is_none()).map(over).collect();
    let lines = told.into_iter().zip(numbers).map(|(lines, n)| lines.unwrap_or_else(|| vec![n.clone()])).collect();
    Set::Names { lines, size: at.size, cut }
}

/// How many lines lie side by side at this size.
fn most_lines(size: f64, room: Room) -> usize {
    // Two lines need their height, and no more than two are read on a tab.
    if size * (1.0 + LEAST_STEP) <= room.depth + 1e-6 { 2 } else { 1 }
}

/// The lines of a name that fits.
fn lines(fonts: &Fonts, at: Setting, name: &str, room: Room) -> Option<Vec<String>> {
    if at.width(fonts, name) <= room.length {
        return Some(vec![name.to_owned()]);
    }
    let fits = |two: &[String; 2]| two.iter().zip(room.two).all(|(line, most)| at.width(fonts, line) <= most);
    let two = in_two(name).into_iter().find(fits).filter(|_| most_lines(at.size, room) == 2);
    two.map(|two| two.to_vec())
}

/// By how much a name that does not fit is too long, in as many lines as there is room for.
fn too_long(fonts: &Fonts, at: Setting, name: &str, room: Room) -> f64 {
    let over = |two: &[String; 2]| {
        two.iter().zip(room.two).map(|(line, most)| at.width(fonts, line) - most).fold(f64::NEG_INFINITY, f64::max)
    };
    let one = at.width(fonts, name) - room.length;
    if most_lines(at.size, room) < 2 {
        return one;
    }
    in_two(name).iter().map(over).fold(one, f64::min)
}

/// A name that is cut after a word, in as many lines as there is room for; nothing where not even its first word fits.
fn in_words(fonts: &Fonts, at: Setting, name: &str, room: Room) -> Option<Vec<String>> {
    let wrapped = at.wrap_to(fonts, name, room.two[0], 2);
    if let (2, [first, rest]) = (most_lines(at.size, room), wrapped.as_slice()) {
        let fits = at.width(fonts, first) <= room.two[0] && ends_in_word(name, first);
        if let Some(second) = words_of(fonts, at, rest, room.two[1]).filter(|_| fits) {
            return Some(vec![first.clone(), second]);
        }
    }
    words_of(fonts, at, name, room.length).map(|one| vec![one])
}

/// The first words of a text with an ellipsis, as many as there is room for. Marks that join what follows are left out.
fn words_of(fonts: &Fonts, at: Setting, text: &str, width: f64) -> Option<String> {
    const JOINING: [char; 10] = [' ', '&', '+', ',', ';', ':', '/', '-', '–', '—'];
    let pieces = breaks::pieces(text);
    let ends = pieces.windows(2).filter(|two| !two[1].inside).map(|two| two[0].from + two[0].text.len());
    let cut = |end: usize| format!("{}…", breaks::shown(&text[..end]).trim_end_matches(JOINING));
    // One letter or two of a script that has words say nothing.
    let says = |shown: &String| shown.chars().count() > 3 || shown.starts_with(breaks::is_wide);
    ends.rev().map(cut).find(|shown| says(shown) && at.width(fonts, shown) <= width)
}

/// Whether what is shown of a text stops after a word of it.
fn ends_in_word(text: &str, shown: &str) -> bool {
    text.strip_prefix(shown.trim_end_matches('…')).is_some_and(|rest| rest.starts_with(char::is_whitespace))
}

/// A name in two lines, in every way in which it may be broken: nearest to the middle first.
fn in_two(name: &str) -> Vec<[String; 2]> {
    let middle = name.len() as f64 / 2.0;
    let pieces = breaks::pieces(name);
    let ends = pieces.windows(2).filter(|two| !two[1].inside).map(|two| (two[0].from + two[0].text.len(), two[1].from));
    let mut ends: Vec<(usize, usize)> = ends.collect();
    ends.sort_by(|a, b| (a.0 as f64 - middle).abs().total_cmp(&(b.0 as f64 - middle).abs()));
    ends.into_iter().map(|(end, from)| [breaks::shown(&name[..end]), breaks::shown(&name[from..])]).collect()
}
