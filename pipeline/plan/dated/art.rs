//! What a drawing of the designer's own can say on a dated page.

use super::super::builder::Builder;
use super::Calendar;
use base::model::Page;
use base::model::dated::DatedPage;
use base::model::drawing::{Art, Shape};
use calendar::{PageId, Period};
use draw::artwork::layers::layers;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The data of a page: all that the page says, and by shorter names `date`, `year`, `events` and `holidays`.
pub fn data(b: &Builder, calendar: &Calendar, id: PageId, said: &DatedPage) -> Map<String, Value> {
    let mut data = b.loader.data();
    if let Ok(Value::Object(own)) = serde_json::to_value(said) {
        data.extend(own);
    }
    let page = &calendar.planner.pages()[id];
    let date = page.place.period.filed(calendar.planner.span());
    let number = calendar.planner.week_of(date).number(calendar.planner.settings());
    let of_year = date.day_of_year();
    let date = json!({
        "iso": date.to_string(),
        "day": date.day(),
        "year": date.year(),
        "month": date.month(),
        "quarter": (date.month() - 1) / 3 + 1,
        "week": number.map(|number| number.number),
        "week_year": number.map(|number| number.year),
        "of_year": of_year,
        "left": date.days_in_year() - of_year,
        "place": said.place,
    });
    data.insert("date".into(), date);
    let cells: Vec<_> = match page.place.period {
        Period::Day(_) => said.days.iter().collect(),
        Period::Week(_) => said.week.iter().flat_map(|week| &week.days).collect(),
        _ => said.months.iter().flat_map(|month| &month.rows).flat_map(|row| &row.days).collect(),
    };
    let events: Vec<_> = cells.iter().filter(|cell| cell.inside).flat_map(|cell| &cell.events).collect();
    data.insert("holidays".into(), json!(events.iter().filter(|event| event.holiday).collect::<Vec<_>>()));
    data.insert("events".into(), json!(events));
    data.insert("year".into(), json!({ "months": said.months }));
    data
}

/// Parts the drawings of these pages into what drawings of one file have in common, which is stored once, and what is the
/// page's own.
pub fn share(pages: &mut [Page]) {
    let mut of_file: BTreeMap<String, Vec<(usize, usize, Arc<Art>)>> = BTreeMap::new();
    for (i, page) in pages.iter().enumerate() {
        for (k, shape) in page.drawing.shapes.iter().enumerate() {
            if let Shape::Art { art, .. } = shape {
                of_file.entry(art.name.clone()).or_default().push((i, k, art.clone()));
            }
        }
    }
    let mut parted: Vec<(usize, usize, Vec<Arc<Art>>)> = Vec::new();
    for uses in of_file.into_values() {
        let arts: Vec<Arc<Art>> = uses.iter().map(|(_, _, art)| art.clone()).collect();
        parted.extend(uses.into_iter().zip(layers(&arts)).map(|((page, shape, _), layers)| (page, shape, layers)));
    }
    // From the last shape of a page on, as each becomes several.
    parted.sort_by_key(|(page, shape, _)| std::cmp::Reverse((*page, *shape)));
    for (page, shape, layers) in parted {
        let shapes = &mut pages[page].drawing.shapes;
        let Shape::Art { at, clip, .. } = shapes[shape] else { continue };
        shapes.splice(shape..=shape, layers.into_iter().map(|art| Shape::Art { art, at, clip }));
    }
}
