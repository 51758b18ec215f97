//! Claims in a language that has no spaces between its words: a number with its counter before or behind a noun.

use super::claim::Claim;
use super::numbers;
use super::vocabulary::Lexicon;
use super::words::{Bound, Noun};

/// Japanese words that count, behind a number.
const COUNTERS: [&str; 12] = ["種類", "種", "枚", "個", "点", "か所", "ヶ所", "箇所", "件", "冊", "本", "つ"];

/// Words behind a number that bound it.
const BOUNDS: [(&str, Bound); 4] =
    [("以上", Bound::AtLeast), ("以下", Bound::AtMost), ("未満", Bound::LessThan), ("を超える", Bound::MoreThan)];

/// Words behind a counter that make it a measure of something else: one picture a sticker.
const RATES: [&str; 4] = ["につき", "ごと", "あたり", "当たり"];

/// The claims of a line.
pub fn claims(line: &str, lexicon: Lexicon) -> Vec<Claim> {
    let mut out = Vec::new();
    let mut at = 0;
    while let Some((from, to)) = next(line, at) {
        at = to;
        // A single stroke is a word and a part of many others.
        let Some(number) = numbers::whole(&line[from..to], lexicon).filter(|_| &line[from..to] != "一") else {
            continue;
        };
        let behind = &line[to..];
        let rest = behind.trim_start();
        let counter = COUNTERS.iter().find(|counter| rest.starts_with(**counter)).copied().unwrap_or_default();
        let rest = &rest[counter.len()..];
        if RATES.iter().any(|word| rest.starts_with(word)) {
            continue;
        }
        let bound = BOUNDS.iter().find(|(word, _)| rest.starts_with(word));
        let rest = bound.map_or(rest, |(word, _)| &rest[word.len()..]);
        let rest = rest.strip_prefix('の').unwrap_or(rest);
        let forward = noun(lexicon, |name| rest.to_lowercase().starts_with(name))
            .map(|(noun, length)| (noun, line.len() - rest.len() + length));
        let before = line[..from].trim_end_matches([' ', ':', '：', '\u{3000}', '*', '|']);
        let stands = !counter.is_empty() || before.len() < line[..from].trim_end().len();
        let backward = || noun(lexicon, |name| before.to_lowercase().ends_with(name)).filter(|_| stands);
        let Some((noun, end)) = forward.or_else(|| backward().map(|(noun, _)| (noun, to))) else { continue };
        let clause = |text: &str| lexicon.speaks(|words| if words.is_unspaced() { words.each } else { &[] }, text);
        let stop = |c: char| matches!(c, '、' | '。' | '；' | ',' | '.');
        let sentence = line[..from].rsplit(stop).next().unwrap_or_default();
        let each = clause(sentence) || clause(line[end..].split(stop).next().unwrap_or_default());
        let bound = bound.map_or_else(|| Bound::before(&line[..from], lexicon), |(_, bound)| *bound);
        let (column, width) = (line[..from].chars().count() + 1, line[from..to].chars().count());
        out.push(Claim { number, noun, bound, some: false, each, column, width, lexicon, from, to: end });
    }
    out
}

/// The next number of a line from a byte on: figures, or Chinese ones.
fn next(line: &str, at: usize) -> Option<(usize, usize)> {
    let kanji = |c: char| "〇零一二三四五六七八九十百".contains(c);
    let from = at + line[at..].find(|c: char| c.is_ascii_digit() || kanji(c))?;
    let figures = line[from..].starts_with(|c: char| c.is_ascii_digit());
    let of = |c: char| if figures { c.is_ascii_digit() || matches!(c, ',' | '.') } else { kanji(c) };
    let to = line[from..].find(|c: char| !of(c)).map_or(line.len(), |length| from + length);
    let number = line[from..to].trim_end_matches([',', '.']);
    Some((from, from + number.len()))
}

/// The longest noun that is found, and its length.
fn noun(lexicon: Lexicon, is: impl Fn(&str) -> bool) -> Option<(Noun, usize)> {
    let all = lexicon
        .tables()
        .flat_map(|words| words.nouns)
        .flat_map(|(noun, names)| names.iter().map(|name| (*noun, *name)));
    let found = all.filter(|(_, name)| is(name)).max_by_key(|(_, name)| name.len());
    found.map(|(noun, name)| (noun, name.len()))
}
