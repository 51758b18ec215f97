//! Shows the launch plans of products, and writes them as a calendar file.

use super::args::Launch;
use super::outcome::{CLEAN, ERRORS, FAILED, complain, print, say, typed};
use crate::launch::{Plan, calendar, markdown};
use crate::{driver, store, world};
use base::files::slashed;
use base::model::product::Date;
use std::path::PathBuf;

/// The plans of all products that have one, by the day of their launch.
pub fn launch(args: &Launch) -> u8 {
    let given = args.today.and_then(|today| today.date);
    let today = given.map_or_else(world::today, |d| Date { year: d.year, month: d.month, day: d.day });
    let products = world::products_named(&args.products);
    if let (true, [_, second, ..]) = (!args.done.is_empty(), products.as_slice()) {
        say!("error: --done is for one product, and {} is another", typed(second));
        return FAILED;
    }
    for (step, product) in args.done.iter().flat_map(|step| products.iter().map(move |product| (step, product))) {
        match driver::tick_off(product, &args.out, step, today) {
            Ok(file) => say!("Wrote {}.", slashed(&file)),
            Err(stop) => return complain(stop.faults()),
        }
    }
    let (mut plans, mut without, mut broken): (Vec<Plan>, Vec<&PathBuf>, bool) = (Vec::new(), Vec::new(), false);
    for product in &products {
        match driver::launch(product, &args.out, today) {
            Ok(Some(plan)) => plans.push(plan),
            Ok(None) => without.push(product),
            Err(stop) => {
                if products.len() > 1 {
                    say!("{}:", typed(product));
                }
                complain(stop.faults());
                broken = true;
            }
        }
    }
    plans.sort_by(|a, b| (&a.on, &a.name, &a.product).cmp(&(&b.on, &b.name, &b.product)));
    if plans.is_empty() && !broken {
        let whose = without.first().map_or_else(String::new, |product| typed(product));
        say!("error: no launch is planned in {whose}");
        say!("  help: write its day into the manifest: [launch], and below it on = 2027-10-01");
        return FAILED;
    }
    for product in without {
        say!("note: {} plans no launch.", typed(product));
    }
    if let Some(file) = &args.ics {
        if let Err(fault) = store::replace_file(file, &calendar(&plans, today)) {
            return complain(&[fault]);
        }
        say!("Wrote {}.", slashed(file));
    }
    if args.json {
        print(&format!("{:#}\n", serde_json::json!({ "as-of": today.to_string(), "launches": plans })));
    } else {
        print(&markdown(&plans, today));
    }
    match plans.iter().any(|plan| plan.late() > 0) {
        _ if broken => FAILED,
        true => ERRORS,
        false => CLEAN,
    }
}
