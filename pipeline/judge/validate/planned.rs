//! Where taps of a planned file should lead: home, and to every page with a name of its own.

use super::graph;
use base::model::plan::Make;
use base::model::product::Product;
use base::model::structure::Parts;
use base::model::{Item, Place, Target};
use std::collections::BTreeMap;

/// The planned index of a file, and the pages that should be reached from it by taps: all that have a name of their own
/// and are not just further pages of a section.
pub fn index(product: &Product, item: &Item) -> Option<graph::Planned> {
    let (pdf, finished) = match &item.make {
        Make::Pdf(pdf) => (&**pdf, false),
        Make::Finished(finished) => (&finished.over, true),
        _ => return None,
    };
    let parts = product.notebook.as_ref().map(|n| &n.parts).filter(|parts| !finished && **parts != Parts::default());
    let further = |place: &Place| matches!(place, Place::Leaf(..) | Place::Page(_));
    let Some(_) = parts.filter(|_| pdf.places.contains_key(&Place::Section(1))) else {
        let home = *pdf.places.get(&Place::Index)?;
        let named = pdf.places.iter().filter(|(p, _)| !further(p)).map(|(_, i)| *i).collect();
        return Some(graph::Planned { home, named });
    };
    // Parts are off or elsewhere: what as good as every page leads to is home, and only what something leads to was meant
    // to be tapped to.
    let mut into: BTreeMap<Place, usize> = BTreeMap::new();
    for link in pdf.pages.iter().flat_map(|page| &page.links) {
        if let Target::Place(place) = &link.target {
            *into.entry(place.clone()).or_default() += 1;
        }
    }
    let led = |place: &Place| into.get(place).copied().unwrap_or(0);
    let ways = [Place::Index, Place::Templates, Place::Cover, Place::Section(1)];
    let everywhere = |place: &Place| led(place) * 2 >= pdf.pages.len();
    let home = ways.iter().find(|place| everywhere(place))?;
    let meant = |place: &Place| match place {
        Place::Welcome | Place::Cover => false,
        // What the index alone leads to is reached from where the index is.
        Place::Templates | Place::MoreTemplates(_) | Place::Template(_) => {
            everywhere(&Place::Templates) || *home == Place::Index && led(&Place::Templates) > 0
        }
        place => !further(place) && everywhere(place),
    };
    let named = pdf.places.iter().filter(|(p, _)| meant(p)).map(|(_, i)| *i).collect();
    Some(graph::Planned { home: *pdf.places.get(home)?, named })
}
