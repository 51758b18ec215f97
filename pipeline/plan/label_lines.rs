//! Names on tabs: set at one size, in one line or two. A name that is much longer than the others is shortened, and told, so that
//! it costs the others neither their names nor their size.

use draw::text::Setting;
use draw::{Fonts, breaks};

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
    // At this size a single long name among many is shortened, so that it does not cost the others more.
    let fair = (start * 0.84).max(room.least);
    let fits = |size: f64, name: &String| lines(fonts, setting.sized(size), name, room).is_some();
    let never: Vec<usize> = (0..names.len()).filter(|i| !fits(room.least, &names[*i])).collect();
    if never.len() * 3 > names.len() {
        let smallest = setting.sized(room.least);
        let over = |name: &String| {
            let widest = halves(name).iter().map(|l| smallest.width(fonts, l)).fold(0.0, f64::max);
            widest - room.length
        };
        let longest = names.iter().max_by(|a, b| over(a).total_cmp(&over(b))).cloned().unwrap_or_default();
        return Set::TooLong { by: over(&longest), name: longest };
    }
    // The largest size at which all the others fit: they shrink together.
    let mut sizes = (0..=40).map(|i| start + (room.least - start) * f64::from(i) / 40.0);
    let all = |size: f64| names.iter().enumerate().all(|(i, name)| never.contains(&i) || fits(size, name));
    let together = sizes.find(|size| all(*size)).unwrap_or(room.least);
    let long = (0..names.len()).filter(|i| !fits(fair, &names[*i])).count();
    let size = if long * 6 <= names.len() { together.max(fair) } else { together };
    let at = setting.sized(size);
    let set: Vec<Vec<String>> =
        names.iter().map(|name| lines(fonts, at, name, room).unwrap_or_else(|| short(fonts, at, name, room))).collect();
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
    if size * (1.0 + STEP) <= room.depth { 2 } else { 1 }
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
    let wrapped = at.wrap_to(fonts, name, room.length, 2);
    let one = at.clipped(fonts, name, room.length);
    match (most_lines(at.size, room), wrapped.as_slice()) {
        (2, [first, rest]) if at.width(fonts, first) <= room.length => {
            let second = at.clipped(fonts, rest, room.length);
            // A second line that holds no whole word says less than none.
            let better = ends_in_word(name, &one) && !ends_in_word(rest, &second);
            if better { vec![one] } else { vec![first.clone(), second] }
        }
        _ => vec![one],
    }
}

/// A name that is cut after a word, in as many lines as there is room for; nothing where not even its first word fits.
fn in_words(fonts: &Fonts, at: Setting, name: &str, room: Room) -> Option<Vec<String>> {
    let wrapped = at.wrap_to(fonts, name, room.length, 2);
    if let (2, [first, rest]) = (most_lines(at.size, room), wrapped.as_slice()) {
        let fits = at.width(fonts, first) <= room.length && ends_in_word(name, first);
        if let Some(second) = words_of(fonts, at, rest, room.length).filter(|_| fits) {
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

/// A name in two lines, broken nearest to the middle where a line may end.
fn halves(name: &str) -> Vec<String> {
    let middle = name.len() as f64 / 2.0;
    let pieces = breaks::pieces(name);
    let ends = pieces.windows(2).filter(|two| !two[1].inside).map(|two| (two[0].from + two[0].text.len(), two[1].from));
    let at = ends.min_by(|a, b| (a.0 as f64 - middle).abs().total_cmp(&(b.0 as f64 - middle).abs()));
    let halves = |(end, from): (usize, usize)| vec![breaks::shown(&name[..end]), breaks::shown(&name[from..])];
    at.map_or_else(|| vec![name.to_owned()], halves)
}
