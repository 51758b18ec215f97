//! Claims read out of sentences: a number, what it counts, and how the words about it bound it.

use super::claim::Claim;
use super::numbers;
use super::spelled;
use super::unspaced;
use super::vocabulary::{Lexicon, bare};
use super::words::{Bound, Noun};

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
pub fn claims(line: &str, lexicon: Lexicon) -> Vec<Claim> {
    if lexicon.own.is_unspaced() {
        return unspaced::claims(line, lexicon);
    }
    let pieces = pieces(line, lexicon);
    let mut out = Vec::new();
    for (i, piece) in pieces.iter().enumerate() {
        let Piece::Word(at, word) = *piece else { continue };
        let plus = pieces.get(i + 1) == Some(&Piece::Plus);
        let behind = &pieces[i + 1 + usize::from(plus)..];
        let Some((number, length, found)) = counted(word, at, &pieces[..i], behind, lexicon) else { continue };
        let Some(Found { noun, some, to, used }) = found else { continue };
        let bound = if plus { Bound::AtLeast } else { Bound::before(&line[..at], lexicon) };
        let clause = behind[used.min(behind.len())..].iter().take_while(|p| **p != Piece::Stop);
        let before = pieces[..i].iter().rev().take_while(|p| **p != Piece::Stop);
        let is_each = |p: &Piece| matches!(p, Piece::Word(_, w) if lexicon.any(|words| words.each, &bare(w)));
        let of_parts = matches!(noun, Noun::Pages | Noun::Links);
        let each = clause.clone().any(is_each) || of_parts && before.clone().any(is_each);
        let dozens = lexicon.tables().flat_map(|words| words.round).any(|(name, n)| *n == 12 && *name == bare(word));
        let (number, at, length) = match pieces[..i].last() {
            // Two dozen are one number.
            Some(Piece::Word(before, times)) if dozens && numbers::whole(times, lexicon).is_some() => {
                (number * numbers::whole(times, lexicon).unwrap_or(1), *before, at + length - before)
            }
            _ => (number, at, length),
        };
        let (column, width) = (line[..at].chars().count() + 1, line[at..at + length].chars().count());
        out.push(Claim { number, noun, bound, some, each, column, width, lexicon, from: at, to });
    }
    out
}

/// A noun that was found for a number.
struct Found {
    noun: Noun,
    /// Whether words tell some apart.
    some: bool,
    /// Where it ends in the line.
    to: usize,
    /// How many pieces behind the number were used.
    used: usize,
}

/// The number of a word, the length of it, and what it counts.
fn counted(
    word: &str,
    at: usize,
    before: &[Piece],
    behind: &[Piece],
    lexicon: Lexicon,
) -> Option<(u64, usize, Option<Found>)> {
    let end = at + word.len();
    if let Some(noun) = Noun::pair(word, lexicon) {
        let some = lexicon.own.behind && told_apart(behind.first(), lexicon);
        return Some((2, word.len(), Some(Found { noun, some, to: end, used: 0 })));
    }
    let (number, length, hyphenated) = number(word, lexicon)?;
    let found = match hyphenated {
        Some(noun) => Some(Found { noun, some: false, to: end, used: 0 }),
        None => forward(behind, lexicon).or_else(|| backward(before, behind, end, lexicon)),
    };
    Some((number, length, found))
}

/// The number that a word is or begins with: its value, its length, and the noun behind its hyphen.
fn number(word: &str, lexicon: Lexicon) -> Option<(u64, usize, Option<Noun>)> {
    if let Some(number) = numbers::whole(word, lexicon) {
        return Some((number, word.len(), None));
    }
    let (front, noun) = word.split_once(['-', '\u{2011}'])?;
    let number = numbers::whole(front, lexicon)?;
    Some((number, front.len(), Some(Noun::hyphenated(noun, lexicon)?)))
}

/// The noun behind a number, with up to two words between.
fn forward(behind: &[Piece], lexicon: Lexicon) -> Option<Found> {
    let mut some = false;
    let mut found: Option<Found> = None;
    for (n, piece) in behind.iter().take(3).enumerate() {
        let Piece::Word(_, word) = *piece else { break };
        let lower = bare(word);
        if let Some((noun, words, to)) = noun(&behind[n..], lexicon) {
            found = Some(Found { noun, some, to, used: n + words });
            // A German “Sticker” may be the first half of what is counted.
            if !(lexicon.own.code == "de" && lower == "sticker") {
                break;
            }
            continue;
        }
        if numbers::whole(word, lexicon).is_some() || lexicon.any(|words| words.other, &lower) {
            break;
        }
        some |= !lexicon.any(|words| words.generic, &lower) && found.is_none();
    }
    let mut found = found?;
    found.some |= lexicon.own.behind && told_apart(behind.get(found.used), lexicon);
    Some(found)
}

/// The noun that pieces begin with, of up to three words, the most words first: how many, and where it ends.
fn noun(pieces: &[Piece], lexicon: Lexicon) -> Option<(Noun, usize, usize)> {
    let words =
        pieces.iter().map_while(|piece| if let Piece::Word(at, word) = piece { Some((*at, *word)) } else { None });
    let words: Vec<(usize, &str)> = words.take(3).collect();
    (1..=words.len()).rev().find_map(|count| {
        let joined = words[..count].iter().map(|(_, word)| *word).collect::<Vec<_>>().join(" ");
        let (at, last) = words[count - 1];
        Some((Noun::of(&joined, lexicon)?, count, at + last.len()))
    })
}

/// Whether a word behind a noun tells some of the things apart.
fn told_apart(piece: Option<&Piece>, lexicon: Lexicon) -> bool {
    let Some(Piece::Word(_, word)) = piece else { return false };
    let lower = bare(word);
    let plain = lexicon.any(|words| words.generic, &lower) || lexicon.any(|words| words.other, &lower);
    !plain && !lexicon.any(|words| words.each, &lower) && numbers::whole(word, lexicon).is_none()
}

/// The noun before a colon: `Covers: 12`, or the cell before in a table. Nothing else may follow the number.
fn backward(before: &[Piece], behind: &[Piece], to: usize, lexicon: Lexicon) -> Option<Found> {
    let [.., Piece::Word(_, word), Piece::Colon] = before else { return None };
    let alone = matches!(behind.first(), None | Some(Piece::Stop | Piece::Colon));
    Some(Found { noun: Noun::of(word, lexicon).filter(|_| alone)?, some: false, to, used: 0 })
}

/// Words with their offsets, and what stands between them.
fn pieces(line: &str, lexicon: Lexicon) -> Vec<Piece<'_>> {
    let mut out = Vec::new();
    for piece in line.split([' ', '\t']) {
        // The piece is a part of the line, so that its place in it is the difference of the addresses.
        let at = piece.as_ptr() as usize - line.as_ptr() as usize;
        let word = piece.trim_matches(|c: char| !c.is_alphanumeric());
        if word.is_empty() {
            if piece.contains('|') {
                out.push(Piece::Colon);
            } else if !piece.is_empty() && !piece.chars().all(|c| matches!(c, '*' | '_' | '#')) {
                // French has a space before its colon.
                out.push(if piece.contains(':') { Piece::Colon } else { Piece::Stop });
            }
            continue;
        }
        let front = piece.find(word).unwrap_or(0);
        if piece[..front].contains('(') {
            out.push(Piece::Stop);
        }
        let tail = &piece[front + word.len()..];
        let own = apart(word, lexicon);
        out.push(Piece::Word(at + front + word.len() - own.len(), own));
        if tail.starts_with('+') {
            out.push(Piece::Plus);
        } else if tail.contains(':') {
            out.push(Piece::Colon);
        } else if tail.contains(['.', ',', ';', '!', '?', ')', '\u{60c}', '\u{61b}', '\u{61f}']) {
            out.push(Piece::Stop);
        }
    }
    several(line, out, lexicon)
}

/// A word without letters of other words that are written together with it, where a number is left.
fn apart(word: &str, lexicon: Lexicon) -> &str {
    let Some(and) = lexicon.own.joined else { return word };
    let digits = word.trim_start_matches(|c: char| c.is_alphabetic() || matches!(c, '-' | '\u{5be}'));
    let letters = word.chars().take_while(|c| c.is_alphabetic()).count();
    if letters <= 2 && digits.starts_with(|c: char| c.is_ascii_digit()) {
        return digits;
    }
    let says_number = |rest: &&str| numbers::whole(rest, lexicon).is_some() || Noun::pair(rest, lexicon).is_some();
    word.strip_prefix(and).filter(says_number).unwrap_or(word)
}

/// Numbers of several words as one: `vinte e sete`, and `1 204` where spaces part thousands.
fn several<'t>(line: &'t str, pieces: Vec<Piece<'t>>, lexicon: Lexicon) -> Vec<Piece<'t>> {
    let mut out = Vec::with_capacity(pieces.len());
    let mut i = 0;
    while i < pieces.len() {
        let whole = (2..=3).rev().find_map(|count| {
            let run = pieces.get(i..i + count)?;
            let [Piece::Word(from, _), .., Piece::Word(at, last)] = run else { return None };
            let all: Vec<&str> =
                run.iter().map_while(|p| if let Piece::Word(_, w) = p { Some(*w) } else { None }).collect();
            let text = &line[*from..at + last.len()];
            let digits = |w: &&&str| w.bytes().all(|b| b.is_ascii_digit());
            let grouped = || {
                let first = all[0].len() <= 3 && all.iter().filter(digits).count() == count;
                lexicon.own.spaced
                    && first
                    && all[1..].iter().all(|w| w.len() == 3)
                    && text.len() == all.concat().len() + count - 1
            };
            let said = || spelled::number(lexicon.own, text).is_some();
            (all.len() == count && (grouped() || said())).then_some((Piece::Word(*from, text), count))
        });
        let (piece, used) = whole.unwrap_or((pieces[i], 1));
        out.push(piece);
        i += used;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn short(line: &str) -> Vec<(u64, Noun)> {
        let german = line.contains("und") || line.contains("mit");
        claims(line, Lexicon::named(if german { "de" } else { "en" })).into_iter().map(|c| (c.number, c.noun)).collect()
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
        assert_eq!(claims("It has 7 covers", Lexicon::ENGLISH)[0].column, 8);
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
            assert_eq!(claims(line, Lexicon::ENGLISH), [], "{line}");
        }
    }

    #[test]
    fn words_bound_a_number_or_make_it_one_of_a_part() {
        let one = |line: &str| claims(line, Lexicon::ENGLISH).remove(0);
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

    /// Sentences of our own.
    #[test]
    fn claims_are_read_in_every_language() {
        let first = [(8, Noun::Covers), (27, Noun::Stickers), (1204, Noun::Links)];
        for (code, line) in [
            ("en", "8 covers, twenty-seven stickers and 1,204 links"),
            ("de", "8 Umschläge, siebenundzwanzig Sticker und 1.204 Verknüpfungen"),
            ("fr", "8 couvertures, vingt-sept autocollants et 1 204 liens"),
            ("es", "8 portadas, veintisiete pegatinas y 1204 enlaces"),
            ("it", "8 copertine, ventisette adesivi e 1.204 link"),
            ("nl", "8 omslagen, zevenentwintig stickers en 1.204 links"),
            ("sv", "8 omslag, tjugosju klistermärken och 1 204 länkar"),
            ("pt", "8 capas, vinte e sete adesivos e 1.204 links"),
            ("pl", "8 okładek, dwadzieścia siedem naklejek i 1 204 linki"),
            ("ja", "表紙8種類、二十七枚のシール、リンク1,204個"),
            ("ar", "8 أغلفة، سبعة وعشرون ملصقًا، و1204 روابط"),
            ("he", "8 כריכות, עשרים ושבע מדבקות ו-1,204 קישורים"),
        ] {
            let found: Vec<_> = claims(line, Lexicon::named(code)).into_iter().map(|c| (c.number, c.noun)).collect();
            assert_eq!(found, first, "{code}: {line}");
        }
        assert_eq!(claims("صفحتان وغلافان", Lexicon::named("ar")).iter().map(|c| c.number).collect::<Vec<_>>(), [2, 2]);
        let bound = |code: &str, line: &str| claims(line, Lexicon::named(code)).remove(0).bound;
        assert_eq!(bound("fr", "plus de 20 couvertures"), Bound::MoreThan);
        assert_eq!(bound("pl", "co najmniej 20 okładek"), Bound::AtLeast);
        assert_eq!(bound("ja", "シール20枚以上"), Bound::AtLeast);
        assert!(claims("12 pages lignées", Lexicon::named("fr"))[0].some);
        assert_eq!(claims("un carnet avec une couverture", Lexicon::named("fr")), []);
        assert_eq!(claims("シール1枚につきPNG画像1点", Lexicon::named("ja")), []);
        assert_eq!(claims("240 × 180 mm, två ark bredvid varandra", Lexicon::named("sv")), []);
    }
}
