//! The ranges of the parameters of rulings: stated, and held at both ends.

use super::{HEAD, folder, said};
use base::keys::Shape;
use sheafwright::manual;

/// Every number among the parameters of rulings has a range, which the schema states and the program enforces: at both ends
/// it is taken, beyond them refused at its own place.
#[test]
fn every_number_of_a_ruling_has_its_range() {
    let folder = folder();
    let (mut held, mut without) = (0, Vec::new());
    for (name, _) in manual::of("ruling") {
        for key in manual::parameters(name, false).iter().flat_map(|table| &table.keys) {
            if !numeric(&(key.shape)()) {
                continue;
            }
            let Some(bounds) = key.bounds() else {
                without.push(format!("{name} {}", key.name));
                continue;
            };
            let to = bounds.to.expect("a parameter has a most");
            let refused = |value: f64| {
                let text =
                    format!("{HEAD}[[notebook.template]]\nruling = \"{name}\"\nwith = {{ {} = {value} }}\n", key.name);
                let faults = said(&folder.path(), &text);
                faults.iter().any(|f| f.message.starts_with(&format!("`{}` cannot be {value}: it takes", key.name)))
            };
            let step = if matches!((key.shape)(), Shape::Number | Shape::Either(_)) { 0.05 } else { 1.0 };
            assert!(!refused(bounds.from) && !refused(to), "{name} {}: a bound is refused", key.name);
            assert!(refused(to + step), "{name} {}: {} is taken", key.name, to + step);
            // What is counted cannot be less than none: that is refused as no whole number.
            assert!(
                bounds.from - step < 0.0 || refused(bounds.from - step),
                "{name} {}: too little is taken",
                key.name
            );
            held += 1;
        }
    }
    assert!(without.is_empty(), "without a range: {}", without.join(", "));
    assert!(held > 100, "{held}");
}

fn numeric(shape: &Shape) -> bool {
    match shape {
        Shape::Number | Shape::Whole(..) => true,
        Shape::Either(some) => some.iter().any(numeric),
        _ => false,
    }
}
