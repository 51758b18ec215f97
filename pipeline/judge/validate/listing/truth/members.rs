//! What is true of a set: of each of its members by itself, and of all together, where a buyer takes one variant of each.

use super::{Counted, Counts, recorded};
use crate::validate::listing::claim::Claim;
use crate::validate::listing::vocabulary::{Lexicon, bare};
use crate::validate::listing::words::{Noun, Role};
use crate::validate::{Promised, bundle};
use base::model::facts::Inspected;
use base::model::variant;
use std::collections::BTreeSet;

/// Pages and both kinds of links of notebooks, covers, stickers, sections, templates.
type Figures = [u64; 7];

/// Figures of a set; none for anything else.
#[derive(Default)]
pub struct Sums {
    /// Of each variant of each member.
    members: Vec<Figures>,
    /// Of all members together: with the least of each, and with the most.
    totals: Vec<Figures>,
}

impl Sums {
    /// Pages or links of any member, or of all.
    pub fn of_any(&self, noun: Noun) -> impl Iterator<Item = u64> {
        let all = self.members.iter().chain(&self.totals);
        all.flat_map(move |figures| places(noun).iter().map(|i| figures[*i]))
    }

    /// What is true of a claim in a line that adds up the set, and of nothing else; `None` for any other line.
    pub fn together(&self, claim: &Claim, line: &str) -> Counts {
        let numbers = || self.totals.iter().flat_map(|figures| places(claim.noun).iter().map(|i| figures[*i]));
        let numbers: BTreeSet<u64> = if adds_up(line, claim.lexicon) { numbers().collect() } else { return None };
        numbers.iter().any(|n| *n > 0).then_some(numbers)
    }
}

/// Where the figures of a noun stand.
fn places(noun: Noun) -> &'static [usize] {
    match noun {
        Noun::Pages => &[0],
        Noun::Links => &[1, 2],
        Noun::Covers => &[3],
        Noun::Stickers => &[4],
        Noun::Sections => &[5],
        Noun::Templates => &[6],
        Noun::Sheets | Noun::Files | Noun::Dpi => &[],
    }
}

/// Whether a line begins with a word for all together, and goes on with a colon or a number.
fn adds_up(line: &str, lexicon: Lexicon) -> bool {
    let line = bare(line);
    let line = line.trim_start_matches(|c: char| !c.is_alphanumeric());
    let goes_on =
        |rest: &str| rest.trim_start().starts_with(|c: char| matches!(c, ':' | '\u{ff1a}') || c.is_ascii_digit());
    lexicon.tables().flat_map(|words| words.together).any(|words| line.strip_prefix(words).is_some_and(goes_on))
}

impl<'a> Counted<'a> {
    /// Adds what is true of the members of a set.
    pub(super) fn add_members(&mut self, files: &'a [Inspected], against: &[Promised]) {
        // The set itself comes first.
        let (mut place, mut sums) = (1, [[0u64; 2]; 7]);
        let members = bundle::members(files, against);
        for member in &members {
            let folder = format!("contents/{}/", member.product);
            let own = |f: &Inspected| variant::inside(&f.path).strip_prefix(&folder).map(|p| format!("contents/{p}"));
            let each = (0..member.variants.len().max(1)).map(|v| {
                let mine = |f: &&Inspected| {
                    own(f).is_some_and(|path| variant::of(&member.variants, &path).is_none_or(|of| of == v))
                };
                let promised = against.get(place + v).map_or(&[][..], std::slice::from_ref);
                let mine: Vec<&Inspected> = files.iter().filter(mine).collect();
                Counted::of(&mine, promised, &[], recorded(files, Some(place + v))).figures()
            });
            let each: Vec<Figures> = each.collect();
            place += each.len();
            for figures in &each {
                self.take(figures);
                self.set.members.push(*figures);
            }
            for (i, [least, most]) in sums.iter_mut().enumerate() {
                *least += each.iter().map(|f| f[i]).min().unwrap_or(0);
                *most += each.iter().map(|f| f[i]).max().unwrap_or(0);
            }
        }
        if !members.is_empty() {
            self.set.totals = vec![sums.map(|[least, _]| least), sums.map(|[_, most]| most)];
            for figures in self.set.totals.clone() {
                self.take(&figures);
            }
        }
    }

    fn figures(&self) -> Figures {
        let books = || self.documents.iter().filter(|d| d.role == Role::Notebook);
        let most = |set: &Counts| set.iter().flatten().max().copied().unwrap_or(0);
        let covers = self.documents.iter().filter(|d| d.role == Role::Covers).map(|d| d.pages).sum::<u64>();
        let [all, within] = [0, 1].map(|i| books().map(|d| d.links[i]).sum::<u64>());
        let pages = books().map(|d| d.pages).sum::<u64>();
        [pages, all, within, covers, most(&self.stickers), most(&self.sections), most(&self.templates)]
    }

    fn take(&mut self, figures: &Figures) {
        let [_, _, _, covers, stickers, sections, templates] = *figures;
        let each = [
            (&mut self.covers, covers),
            (&mut self.stickers, stickers),
            (&mut self.sections, sections),
            (&mut self.templates, templates),
        ];
        for (known, figure) in each.into_iter().filter(|(_, figure)| *figure > 0) {
            known.get_or_insert_default().insert(figure);
        }
    }
}
