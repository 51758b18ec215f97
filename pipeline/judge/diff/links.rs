//! Links of two versions of a page, told apart by place: the page that a link leads to is known by what it is, not by
//! its number, so that a link to the index is the same link when the index has moved.

use base::model::change::Change;

use base::model::difference::Difference;
use base::model::facts::{Leads, LinkFacts, PageFacts, PdfFacts};
use base::model::versions::LINK_MENDED;
use std::collections::BTreeMap;

/// How far (in points) two corners may lie apart and still be the same.
const SLACK: f64 = 0.5;

/// What is needed to name places: which old page is which new one, and what pages are called.
pub struct Places<'a> {
    /// New page of every old one, by index from 0.
    pub new_of: &'a [Option<usize>],
    /// The old version.
    pub old: Named<'a>,
    /// The new version.
    pub new: Named<'a>,
}

/// The pages of a version with their names.
pub struct Named<'a> {
    pages: &'a [PageFacts],
    titles: BTreeMap<usize, &'a str>,
}

impl<'a> Named<'a> {
    /// The pages of a document, named by its outline.
    pub fn of(pdf: &'a PdfFacts) -> Named<'a> {
        // Of several entries for a page the last says most: the first is the outermost.
        let titles = pdf.outline.iter().filter_map(|o| Some((o.leads.page()?, o.title.as_str()))).collect();
        Named { pages: &pdf.pages, titles }
    }
}

/// The links of a pair of pages on their way to being told apart.
struct Pairing<'a> {
    old: &'a [LinkFacts],
    new: &'a [LinkFacts],
    /// New links by rounded corner, so that many links cost no more than few.
    spots: BTreeMap<(i64, i64), Vec<usize>>,
    /// Old links that have no counterpart yet.
    left: Vec<usize>,
    /// New links that have one.
    taken: Vec<bool>,
}

impl<'a> Pairing<'a> {
    fn of(old: &'a [LinkFacts], new: &'a [LinkFacts]) -> Pairing<'a> {
        let mut spots: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
        for (j, link) in new.iter().enumerate() {
            spots.entry(cell(link)).or_default().push(j);
        }
        Pairing { old, new, spots, left: (0..old.len()).collect(), taken: vec![false; new.len()] }
    }

    /// Pairs what is left: each old link with the first new one at the same spot that is `right`.
    fn by_spot(&mut self, right: impl Fn(&LinkFacts, &LinkFacts) -> bool) -> Vec<(usize, usize)> {
        self.pair(|this, i| {
            let (x, y) = cell(&this.old[i]);
            let near = (-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (x + dx, y + dy)));
            let there = near.filter_map(|c| this.spots.get(&c)).flatten().copied();
            let fits = |j: &usize| !this.taken[*j] && same_spot(&this.old[i], &this.new[*j]);
            there.filter(fits).filter(|j| right(&this.old[i], &this.new[*j])).min()
        })
    }

    /// Pairs what is left, wherever it is.
    fn anywhere(&mut self, right: impl Fn(&LinkFacts, &LinkFacts) -> bool) -> Vec<(usize, usize)> {
        self.pair(|this, i| (0..this.new.len()).find(|j| !this.taken[*j] && right(&this.old[i], &this.new[*j])))
    }

    fn pair(&mut self, find: impl Fn(&Pairing, usize) -> Option<usize>) -> Vec<(usize, usize)> {
        let (mut pairs, mut left) = (Vec::new(), Vec::new());
        for i in std::mem::take(&mut self.left) {
            match find(self, i) {
                Some(j) => {
                    self.taken[j] = true;
                    pairs.push((i, j));
                }
                None => left.push(i),
            }
        }
        self.left = left;
        pairs
    }
}

/// Compares the links of a pair of pages. Where the page is `redrawn`, what stood at a spot may stand elsewhere now: a
/// link is known by its place first. Where it is not, the spot is what a reader taps, and says which link is which.
pub fn compare(path: &str, (a, b): (usize, usize), redrawn: bool, places: &Places, out: &mut Vec<Difference>) {
    let (old, new) = (&places.old.pages[a].links, &places.new.pages[b].links);
    let tell = |kind, message: String| Difference::of(path, kind, message).on(Some(a), Some(b));
    let aim = |x: &LinkFacts, y: &LinkFacts| same_aim(x, y, places);
    let mut links = Pairing::of(old, new);
    links.by_spot(aim);
    if links.left.is_empty() && links.taken.iter().all(|t| *t) {
        return;
    }
    let mut moved = Vec::new();
    if redrawn {
        moved.extend(links.anywhere(|x, y| aim(x, y) && x.says == y.says));
        moved.extend(links.anywhere(aim));
    }
    let aimed = links.by_spot(|_, _| true);
    moved.extend(links.anywhere(aim));
    for (i, j) in aimed {
        let (message, case) = other_aim(&old[i].leads, &new[j].leads, places);
        out.push(tell(Change::LinkRetargeted, format!("{} {message}", spot(&old[i]))).as_case(case));
    }
    for (i, j) in moved {
        let (was, is, to) = (spot(&old[i]), spot(&new[j]), names(&new[j].leads, &places.new));
        out.push(tell(Change::LinkMoved, format!("the link to {to} moved: {was}, now {is}")));
    }
    for link in links.left.iter().map(|i| &old[*i]) {
        let message = format!("{} to {} is gone", spot(link), was_called(&link.leads, places));
        let gone = tell(Change::LinkRemoved, message);
        out.push(if matches!(link.leads, Leads::Nowhere(_)) { gone.as_case(LINK_MENDED) } else { gone });
    }
    for (_, link) in new.iter().enumerate().filter(|(j, _)| !links.taken[*j]) {
        out.push(tell(Change::LinkAdded, format!("{} to {} is new", spot(link), names(&link.leads, &places.new))));
    }
}

fn cell(link: &LinkFacts) -> (i64, i64) {
    ((link.rect.x / 4.0).floor() as i64, (link.rect.y / 4.0).floor() as i64)
}

fn same_spot(a: &LinkFacts, b: &LinkFacts) -> bool {
    let (a, b) = (a.rect, b.rect);
    [(a.x, b.x), (a.y, b.y), (a.right(), b.right()), (a.bottom(), b.bottom())]
        .iter()
        .all(|(p, q)| (p - q).abs() <= SLACK)
}

/// Whether two links, or two entries of the outline, lead to the same place.
pub fn same_lead(a: &Leads, b: &Leads, new_of: &[Option<usize>]) -> bool {
    let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= 1.0,
        (None, None) => true,
        _ => false,
    };
    match (a, b) {
        (Leads::Page { page, left, top }, Leads::Page { page: p, left: l, top: t }) => {
            new_of.get(*page) == Some(&Some(*p)) && near(*left, *l) && near(*top, *t)
        }
        (Leads::Nowhere(_), Leads::Nowhere(_)) => true,
        (a, b) => a == b,
    }
}

/// What to say of a link, or an entry of the outline, that leads elsewhere, and what the rule calls it. Another spot of
/// the same page breaks nothing, and a link that led nowhere is mended.
pub fn other_aim(was: &Leads, is: &Leads, places: &Places) -> (String, &'static str) {
    if let (Leads::Page { page, .. }, Leads::Page { page: now, .. }) = (was, is)
        && places.new_of.get(*page) == Some(&Some(*now))
    {
        return (format!("leads to another spot of {}", names(is, &places.new)), Change::LinkMoved.name());
    }
    let mended = matches!(was, Leads::Nowhere(_)) && !matches!(is, Leads::Nowhere(_));
    let case = if mended { LINK_MENDED } else { Change::LinkRetargeted.name() };
    (format!("led to {} and leads to {}", was_called(was, places), names(is, &places.new)), case)
}

fn same_aim(a: &LinkFacts, b: &LinkFacts, places: &Places) -> bool {
    same_lead(&a.leads, &b.leads, places.new_of)
}

fn spot(link: &LinkFacts) -> String {
    let says = link.says.as_deref().filter(|s| !s.trim().is_empty()).map(|s| format!(" \u{201c}{s}\u{201d}"));
    format!("the link{} at {:.0}, {:.0}", says.unwrap_or_default(), link.rect.x, link.rect.y)
}

/// A target in words: the page by its number, its label and its entry in the outline.
fn names(leads: &Leads, version: &Named) -> String {
    match leads {
        Leads::Page { page, .. } => {
            let label = version.pages.get(*page).and_then(|p| p.label.as_deref());
            let label = label.filter(|l| !l.is_empty() && **l != (page + 1).to_string()).map(str::to_owned);
            let title = version.titles.get(page).map(|title| format!("\u{201c}{title}\u{201d}"));
            let known: Vec<String> = title.into_iter().chain(label).collect();
            let known = if known.is_empty() { String::new() } else { format!(" ({})", known.join(", ")) };
            format!("page {}{known}", page + 1)
        }
        Leads::Uri(address) => address.clone(),
        Leads::Nowhere(_) => "nowhere".to_owned(),
        Leads::Action(name) => format!("the action {name}"),
    }
}

/// An old target in words, and what became of its page where that has another number now.
fn was_called(leads: &Leads, places: &Places) -> String {
    let name = names(leads, &places.old);
    match leads.page().map(|page| (page, places.new_of.get(page).copied().flatten())) {
        Some((page, Some(now))) if page != now => format!("{name}, now page {},", now + 1),
        Some((_, None)) => format!("{name}, which is gone,"),
        _ => name,
    }
}
