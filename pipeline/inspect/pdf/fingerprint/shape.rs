//! What an object says by itself, with holes for the digests of what it refers to, and how the holes are filled.
//!
//! A digest must be the same whichever page is looked at first. So objects are worked through from those that refer to
//! nothing, without recursion and without a depth at which anything is cut. Objects that refer to each other in a circle
//! have their digests worked out together: each begins as the same, and every round takes in what its neighbours were
//! in the round before, so that nothing depends on where the circle was entered.

use super::{Digest, sha};
use hayro_syntax::object::ObjectIdentifier;
use std::collections::HashMap;

/// The most rounds for a circle: objects that are told apart only by what lies further away than this count as alike.
const ROUNDS: usize = 16;

/// Bytes with holes, each as large as a digest.
#[derive(Default)]
pub struct Shape {
    bytes: Vec<u8>,
    holes: Vec<(usize, Hole)>,
}

/// What belongs into a hole.
enum Hole {
    /// The digest of an indirect object.
    Object(ObjectIdentifier),
    /// The digest of something written in place, which has holes itself.
    Inner(Shape),
}

impl Shape {
    pub fn with_capacity(bytes: usize) -> Shape {
        Shape { bytes: Vec::with_capacity(bytes), holes: Vec::new() }
    }

    pub fn push(&mut self, byte: u8) {
        self.bytes.push(byte);
    }

    pub fn extend(&mut self, bytes: &[u8]) {
        self.bytes.extend_from_slice(bytes);
    }

    pub fn len(&self) -> usize {
        self.bytes.len()
    }

    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    pub fn is_whole(&self) -> bool {
        self.holes.is_empty()
    }

    /// Leaves room for the digest of an object.
    pub fn hole(&mut self, id: ObjectIdentifier) {
        self.holes.push((self.bytes.len(), Hole::Object(id)));
        self.bytes.extend(Digest::default());
    }

    /// Takes the digest of something written in place, or leaves room for it.
    pub fn inner(&mut self, inner: Shape) {
        if inner.is_whole() {
            self.bytes.extend(sha(&inner.bytes));
        } else {
            self.holes.push((self.bytes.len(), Hole::Inner(inner)));
            self.bytes.extend(Digest::default());
        }
    }

    /// The objects whose digests are lacking, in the order in which they stand.
    pub fn holes(&self) -> Vec<ObjectIdentifier> {
        let mut found = Vec::new();
        self.collect(&mut found);
        found
    }

    fn collect(&self, into: &mut Vec<ObjectIdentifier>) {
        for (_, hole) in &self.holes {
            match hole {
                Hole::Object(id) => into.push(*id),
                Hole::Inner(inner) => inner.collect(into),
            }
        }
    }

    /// Fills every hole whose digest is known.
    pub fn fill(&mut self, known: &impl Fn(ObjectIdentifier) -> Option<Digest>) {
        let (bytes, holes) = (&mut self.bytes, &mut self.holes);
        holes.retain_mut(|(at, hole)| {
            let digest = match hole {
                Hole::Object(id) => known(*id),
                Hole::Inner(inner) => {
                    inner.fill(known);
                    inner.is_whole().then(|| sha(&inner.bytes))
                }
            };
            if let Some(digest) = digest {
                bytes[*at..*at + digest.len()].copy_from_slice(&digest);
            }
            digest.is_none()
        });
    }

    /// The digest with these values in the holes, which stay open.
    fn with(&self, values: &HashMap<ObjectIdentifier, Digest>) -> Digest {
        let mut bytes = self.bytes.clone();
        for (at, hole) in &self.holes {
            let digest = match hole {
                Hole::Object(id) => values.get(id).copied().unwrap_or_default(),
                Hole::Inner(inner) => inner.with(values),
            };
            bytes[*at..*at + digest.len()].copy_from_slice(&digest);
        }
        sha(&bytes)
    }
}

/// An object that is being worked through (the algorithm is Tarjan's of 1972 for strongly connected components).
struct Open {
    id: ObjectIdentifier,
    shape: Shape,
    holes: Vec<ObjectIdentifier>,
    next: usize,
    low: usize,
}

/// What is known while objects are worked through.
type Known = HashMap<ObjectIdentifier, Digest>;

/// Works out the digest of an object and of all that it refers to. `shape` gives what an object says by itself.
pub fn digest(id: ObjectIdentifier, known: &mut Known, shape: &mut impl FnMut(ObjectIdentifier, &mut Known) -> Shape) {
    if known.contains_key(&id) {
        return;
    }
    let mut begin = |id, known: &mut Known, index: &mut HashMap<ObjectIdentifier, usize>| {
        let shape = shape(id, known);
        let low = index.len();
        index.insert(id, low);
        Open { id, holes: shape.holes(), shape, next: 0, low }
    };
    let mut index = HashMap::new();
    let mut open = vec![begin(id, known, &mut index)];
    // Those that are done but for the circle that they may be in.
    let mut waiting: Vec<(ObjectIdentifier, Shape)> = Vec::new();
    while let Some(top) = open.last_mut() {
        if let Some(to) = top.holes.get(top.next).copied() {
            top.next += 1;
            if known.contains_key(&to) {
                continue;
            }
            match index.get(&to) {
                Some(there) => top.low = top.low.min(*there),
                None => open.push(begin(to, known, &mut index)),
            }
            continue;
        }
        // The loop's condition holds an item.
        let Some(done) = open.pop() else { break };
        let own = index.get(&done.id).copied().unwrap_or_default();
        waiting.push((done.id, done.shape));
        if let Some(before) = open.last_mut() {
            before.low = before.low.min(done.low);
        }
        if done.low == own {
            let members = waiting.iter().rev().take_while(|(id, _)| index.get(id) >= Some(&own)).count();
            circle(waiting.split_off(waiting.len() - members), known);
        }
    }
}

/// Works out objects that refer to each other; one alone refers to itself at most.
fn circle(mut members: Vec<(ObjectIdentifier, Shape)>, known: &mut Known) {
    for (_, shape) in &mut members {
        shape.fill(&|id| known.get(&id).copied());
    }
    if let [(id, shape)] = members.as_slice()
        && shape.is_whole()
    {
        known.insert(*id, sha(&shape.bytes));
        return;
    }
    let mut values: Known = members.iter().map(|(id, _)| (*id, [1; 32])).collect();
    for _ in 0..members.len().min(ROUNDS) {
        values = members.iter().map(|(id, shape)| (*id, shape.with(&values))).collect();
    }
    known.extend(values);
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Digests of a made-up file, in which object n says its first number and refers to the others; asked in this order.
    fn digests(file: &[(&str, &[usize])], asked: &[usize]) -> Vec<Digest> {
        let id = |n: usize| ObjectIdentifier::new(n as u32, 0);
        let mut known = Known::new();
        for n in asked {
            digest(id(*n), &mut known, &mut |id, known| {
                let (says, to) = file[id.obj_number as usize];
                let mut shape = Shape::default();
                shape.extend(says.as_bytes());
                for n in to {
                    let id = ObjectIdentifier::new(*n as u32, 0);
                    let mut inner = Shape::default();
                    match known.get(&id) {
                        Some(digest) => inner.extend(digest),
                        None => inner.hole(id),
                    }
                    shape.inner(inner);
                }
                shape
            });
        }
        (0..file.len()).map(|n| known.get(&id(n)).copied().unwrap_or_default()).collect()
    }

    /// Circles within circles, chains into and out of them; and a long chain.
    fn files() -> Vec<Vec<(&'static str, &'static [usize])>> {
        let mut chain: Vec<(&str, &[usize])> = vec![("end", &[])];
        for n in 0..500usize {
            chain.push(("link", Box::leak(Box::new([n]))));
        }
        vec![
            vec![("a", &[1]), ("b", &[2]), ("c", &[0])],
            vec![("a", &[1, 3]), ("b", &[2]), ("c", &[0, 4]), ("d", &[1]), ("e", &[5]), ("f", &[])],
            vec![("a", &[0]), ("b", &[0, 1]), ("c", &[1, 0, 3]), ("d", &[2]), ("e", &[3, 0])],
            vec![("x", &[1]), ("x", &[2]), ("x", &[3]), ("y", &[0]), ("z", &[3])],
            chain,
        ]
    }

    #[test]
    fn the_order_of_visits_leaves_no_trace() {
        for file in files() {
            let all: Vec<usize> = (0..file.len()).collect();
            let first = digests(&file, &all);
            let starts = [all.len() - 1, all.len() / 2, 1, 0];
            for start in starts {
                let (before, after) = all.split_at(start);
                let turned: Vec<usize> = after.iter().chain(before).copied().collect();
                let back: Vec<usize> = turned.iter().rev().copied().collect();
                assert!(digests(&file, &turned) == first, "from {start}");
                assert!(digests(&file, &back) == first, "back from {start}");
            }
        }
    }

    #[test]
    fn what_differs_anywhere_differs() {
        let [one, other] = ["c", "d"].map(|end| digests(&[("a", &[1]), ("b", &[2]), (end, &[0])], &[0]));
        assert!(one.iter().zip(&other).all(|(a, b)| a != b));
        // Deeper than any depth at which one could cut.
        let chain = |end: &'static str| {
            let mut file = files().pop().unwrap_or_default();
            file[0].0 = end;
            let last = file.len() - 1;
            digests(&file, &[last])[last]
        };
        assert_ne!(chain("one end"), chain("another"));
    }
}
