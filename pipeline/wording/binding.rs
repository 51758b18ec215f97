//! What holds the papers, called as it is drawn: on the small map of the notebook and in the steps of the welcome page.

pub mod arabic;
pub mod dutch;
pub mod english;
pub mod french;
pub mod german;
pub mod hebrew;
pub mod italian;
pub mod japanese;
pub mod polish;
pub mod portuguese;
pub mod portuguese_portugal;
pub mod spanish;
pub mod swedish;

use base::model::look::Binding;
use base::model::product::Coil;

/// What something is called where it holds the papers and leads home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Named {
    /// On the small map, before where it leads.
    pub map: &'static str,
    /// Within a sentence, in a row of what can be tapped.
    pub within: &'static str,
    /// At the head of a sentence with its verb, or what stands for one; where it leads follows.
    pub leads: &'static str,
}

/// An entry of a table, in the order in which its fields are declared.
const fn named(map: &'static str, within: &'static str, leads: &'static str) -> Named {
    Named { map, within, leads }
}

/// What a language calls each of them.
#[derive(Debug)]
pub struct Bindings {
    /// Stout rings.
    pub rings: Named,
    /// Pairs of thin wires.
    pub wire: Named,
    /// One wire that winds from hole to hole.
    pub spiral: Named,
    /// Discs.
    pub discs: Named,
    /// Stitches.
    pub thread: Named,
    /// The fold of two papers, where nothing else is seen.
    pub fold: Named,
    /// The upper edge of one paper, where nothing is seen at all.
    pub edge: Named,
}

impl Bindings {
    /// What is seen where taps lead home.
    pub fn of(&self, binding: Binding, coil: Coil) -> Named {
        match binding {
            Binding::Rings => self.rings,
            Binding::Wire => self.wire,
            Binding::Spiral => self.spiral,
            Binding::Discs => self.discs,
            Binding::Thread => self.thread,
            Binding::None if coil == Coil::Top => self.edge,
            Binding::None => self.fold,
        }
    }

    /// All of them.
    #[cfg(test)]
    pub fn all(&self) -> [Named; 7] {
        [self.rings, self.wire, self.spiral, self.discs, self.thread, self.fold, self.edge]
    }
}
