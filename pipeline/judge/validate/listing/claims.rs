//! Claims read out of sentences: a number, what it counts, and how the words about it bound it.

use super::numbers;
use super::words::{Bound, Noun};

/// A number and what it counts.
#[derive(Debug, PartialEq)]
pub struct Claim {
    pub number: u64,
    pub noun: Noun,
    pub bound: Bound,
    /// Whether words between number and noun may mean some and not all: `12 lined pages`.
    pub some: bool,
    /// Whether it is said of each of several things.
    pub each: bool,
    /// Column of the number, from 1.
    pub column: usize,
    pub width: usize,
    /// Where the claim begins and ends in the line, in bytes.
    pub from: usize,
    pub to: usize,
}

/// Words between a number and its noun that tell nothing apart.
const GENERIC: [&str; 44] = [
    "alternate",
    "alternative",
    "extra",
    "additional",
    "more",
    "digital",
    "png",
    "pdf",
    "individual",
    "transparent",
    "different",
    "matching",
    "unique",
    "hyperlinked",
    "linked",
    "page",
    "ready-made",
    "notebook",
    "planner",
    "undated",
    "internal",
    "clickable",
    "coloured",
    "colored",
    "pre-cut",
    "full",
    "sticker",
    "single",
    "separate",
    "whole",
    "digitale",
    "digitalen",
    "einzelne",
    "verschiedene",
    "verschiedenen",
    "zus\u{e4}tzliche",
    "verlinkte",
    "farbige",
    "farbigen",
    "alternativen",
    "transparente",
    "passende",
    "weitere",
    "interne",
];

/// Words that end the way from a number to its noun: what follows belongs to something else.
const OTHER: [&str; 40] = [
    "of", "the", "a", "an", "for", "with", "to", "on", "in", "and", "or", "your", "from", "per", "who", "that",
    "which", "at", "as", "by", "is", "are", "than", "times", "years", "days", "weeks", "months", "der", "die", "das",
    "den", "mit", "f\u{fc}r", "von", "und", "oder", "auf", "zum", "pro",
];

/// Words that say that a number is meant of each thing.
const EACH: [&str; 9] = ["each", "per", "every", "apiece", "je", "jeweils", "pro", "jede", "jeder"];

/// A piece of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Piece<'t> {
    /// A word and where it begins.
    Word(usize, &'t str),
    /// A full stop, a bracket or a comma, which ends a claim.
    Stop,
    /// A colon, or the edge of a table's cell.
    Colon,
    /// A plus behind a number.
    Plus,
}

/// The claims of a line.
pub fn claims(line: &str, german: bool) -> Vec<Claim> {
    let pieces = pieces(line);
    let mut out = Vec::new();
    for (i, piece) in pieces.iter().enumerate() {
        let Piece::Word(at, word) = *piece else { continue };
        let Some((number, length, hyphenated)) = number(word, german) else { continue };
        let plus = pieces.get(i + 1) == Some(&Piece::Plus);
        let behind = &pieces[i + 1 + usize::from(plus)..];
        let found = match hyphenated {
            Some(noun) => Some((noun, false, at + word.len(), 0)),
            None => forward(behind, german).or_else(|| backward(&pieces[..i], behind, at + word.len(), german)),
        };
        let Some((noun, some, to, used)) = found else { continue };
        let bound = if plus { Bound::AtLeast } else { Bound::before(&line[..at]) };
        let clause = behind[used.min(behind.len())..].iter().take_while(|p| **p != Piece::Stop);
        let before = pieces[..i].iter().rev().take_while(|p| **p != Piece::Stop);
        let is_each = |p: &Piece| matches!(p, Piece::Word(_, w) if EACH.contains(&w.to_lowercase().as_str()));
        let of_parts = matches!(noun, Noun::Pages | Noun::Links);
        let each = clause.clone().any(is_each) || of_parts && before.clone().any(is_each);
        let dozens = word.eq_ignore_ascii_case("dozen") || word.eq_ignore_ascii_case("dutzend");
        let (number, at, length) = match pieces[..i].last() {
            // Two dozen are one number.
            Some(Piece::Word(before, times)) if dozens && numbers::whole(times).is_some() => {
                (number * numbers::whole(times).unwrap_or(1), *before, at + length - before)
            }
            _ => (number, at, length),
        };
        let (column, width) = (line[..at].chars().count() + 1, line[at..at + length].chars().count());
        out.push(Claim { number, noun, bound, some, each, column, width, from: at, to });
    }
    out
}

/// The number that a word is or begins with: its value, its length, and the noun behind its hyphen.
fn number(word: &str, german: bool) -> Option<(u64, usize, Option<Noun>)> {
    if let Some(number) = numbers::whole(word) {
        return Some((number, word.len(), None));
    }
    let (front, noun) = word.split_once(['-', '\u{2011}'])?;
    let number = numbers::whole(front)?;
    Some((number, front.len(), Some(Noun::hyphenated(noun, german)?)))
}

/// The noun behind a number, with up to two words between: the noun, whether they tell some apart, where it ends, and how
/// many pieces were used.
fn forward(behind: &[Piece], german: bool) -> Option<(Noun, bool, usize, usize)> {
    let mut some = false;
    let mut found = None;
    for (n, piece) in behind.iter().take(3).enumerate() {
        let Piece::Word(at, word) = *piece else { break };
        let lower = word.to_lowercase();
        if numbers::whole(word).is_some() || OTHER.contains(&lower.as_str()) {
            break;
        }
        if let Some(noun) = Noun::of(word, german) {
            found = Some((noun, some, at + word.len(), n + 1));
            // A German “Sticker” may be the first half of what is counted.
            if !(german && lower == "sticker") {
                break;
            }
        }
        some |= !GENERIC.contains(&lower.as_str()) && found.is_none();
    }
    found
}

/// The noun before a colon: `Covers: 12`, or the cell before in a table. Nothing else may follow the number.
fn backward(before: &[Piece], behind: &[Piece], to: usize, german: bool) -> Option<(Noun, bool, usize, usize)> {
    let [.., Piece::Word(_, word), Piece::Colon] = before else { return None };
    let alone = matches!(behind.first(), None | Some(Piece::Stop | Piece::Colon));
    Some((Noun::of(word, german).filter(|_| alone)?, false, to, 0))
}

/// Words with their offsets, and what stands between them.
fn pieces(line: &str) -> Vec<Piece<'_>> {
    let mut out = Vec::new();
    for piece in line.split([' ', '\t']) {
        // The piece is a part of the line, so that its place in it is the difference of the addresses.
        let at = piece.as_ptr() as usize - line.as_ptr() as usize;
        let word = piece.trim_matches(|c: char| !c.is_alphanumeric());
        if word.is_empty() {
            if piece.contains('|') {
                out.push(Piece::Colon);
            } else if !piece.is_empty() && !piece.chars().all(|c| matches!(c, '*' | '_' | '#')) {
                out.push(Piece::Stop);
            }
            continue;
        }
        let front = piece.find(word).unwrap_or(0);
        if piece[..front].contains('(') {
            out.push(Piece::Stop);
        }
        out.push(Piece::Word(at + front, word));
        let tail = &piece[front + word.len()..];
        if tail.starts_with('+') {
            out.push(Piece::Plus);
        } else if tail.contains(':') {
            out.push(Piece::Colon);
        } else if tail.contains(['.', ',', ';', '!', '?', ')']) {
            out.push(Piece::Stop);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn short(line: &str) -> Vec<(u64, Noun)> {
        let german = line.contains("und") || line.contains("mit");
        claims(line, german).into_iter().map(|c| (c.number, c.noun)).collect()
    }

    #[test]
    fn claims_are_read_out_of_sentences() {
        assert_eq!(short("- 12 alternate covers, 1,204 pages"), [(12, Noun::Covers), (1204, Noun::Pages)]);
        assert_eq!(short("**Twelve** stickers at 300 dpi."), [(12, Noun::Stickers), (300, Noun::Dpi)]);
        assert_eq!(short("A 50-page notebook, 3 sticker sheets"), [(50, Noun::Pages), (3, Noun::Sheets)]);
        assert_eq!(short("Covers: 12, **Stickers**: 27"), [(12, Noun::Covers), (27, Noun::Stickers)]);
        assert_eq!(short("| Templates | 24 |"), [(24, Noun::Templates)]);
        assert_eq!(short("two dozen templates"), [(24, Noun::Templates)]);
        assert_eq!(short("mit 8 Deckbl\u{e4}ttern und 27 Stickern"), [(8, Noun::Covers), (27, Noun::Stickers)]);
        assert_eq!(short("3 Sticker Bl\u{e4}tter mit Links"), [(3, Noun::Stickers)]);
        assert_eq!(claims("It has 7 covers", false)[0].column, 8);
    }

    #[test]
    fn what_is_no_claim_is_left_alone() {
        for line in [
            "Version 2. Covers are not included.",
            "for 3 people who like stickers",
            "one of the templates",
            "PNG pictures, one a sticker",
            "5 days in pages",
            "Pages: 240 x 180 mm",
            "2 (two) times. Stickers",
        ] {
            assert_eq!(claims(line, false), [], "{line}");
        }
    }

    #[test]
    fn words_bound_a_number_or_make_it_one_of_a_part() {
        let one = |line: &str| claims(line, false).remove(0);
        assert_eq!(one("more than 20 covers").bound, Bound::MoreThan);
        assert_eq!(one("no more than 20 covers").bound, Bound::AtMost);
        assert_eq!(one("over **1,300** links").bound, Bound::MoreThan);
        assert_eq!(one("25+ stickers").bound, Bound::AtLeast);
        assert_eq!(one("moreover 25 stickers").bound, Bound::Exactly);
        assert!(one("8 flower stickers").some && !one("27 PNG stickers").some);
        assert!(one("2 pages for each bed").each && one("each bed has 2 pages").each);
        assert!(!one("11 sections, each with a tab").each);
        assert!(Bound::About.holds(50.0, 47.0, 0.0) && !Bound::About.holds(50.0, 40.0, 0.0));
    }
}
