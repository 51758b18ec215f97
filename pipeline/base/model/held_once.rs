//! Equal texts that lie in memory once: of a year's 41,000 tap areas most say and lead what some other one does.

use std::collections::HashSet;
use std::sync::Arc;

/// The texts met so far.
#[derive(Debug, Default)]
pub struct HeldOnce(HashSet<Arc<str>>);

impl HeldOnce {
    /// Puts the text of the same characters that was met first in the place of this one.
    pub fn take(&mut self, text: &mut Arc<str>) {
        match self.0.get(text) {
            Some(met) => text.clone_from(met),
            None => {
                self.0.insert(text.clone());
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_texts_become_one_and_others_stay() {
        let mut texts: Vec<Arc<str>> = ["to May", "to June", "to May"].map(Arc::from).to_vec();
        let mut held = HeldOnce::default();
        texts.iter_mut().for_each(|text| held.take(text));
        assert_eq!(texts, ["to May", "to June", "to May"].map(Arc::from));
        assert!(Arc::ptr_eq(&texts[0], &texts[2]) && !Arc::ptr_eq(&texts[0], &texts[1]));
    }
}
