//! Home and people: cleaning, packing, travelling, gifts, birthdays, contacts, hints at passwords, plants.

use super::super::kit::{Fill, Holds, Kind, Part};
use super::{Design, Said};

/// What is cleaned every day, every week, every month.
#[derive(Debug)]
pub struct CleaningRota;

impl Design for CleaningRota {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let label = t.say(w.every_day);
        let mut labels = vec![t.say(w.task)];
        labels.append(&mut t.names.clone());
        let days = labels.len() - 1;
        vec![
            Part {
                part: Kind::Table,
                label,
                labels,
                widths: [vec![2.4], vec![0.6; days]].concat(),
                holds: [vec![Holds::Text], vec![Holds::Tick; days]].concat(),
                mark: t.mark,
                share: Some(1.3),
                ..Part::default()
            },
            t.ticks(w.every_week),
            Part { beside: true, ..t.ticks(w.every_month) },
        ]
    }
}

/// What to pack.
#[derive(Debug)]
pub struct PackingList;

impl Design for PackingList {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.trip, w.date], &[2.4, 1.0]),
            t.boxes(Fill::Ticks, &[w.clothes, w.wash_bag, w.papers, w.devices, w.health, w.on_the_way]),
        ]
    }
}

/// A day of a journey.
#[derive(Debug)]
pub struct TripDay;

impl Design for TripDay {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.place, w.date], &[2.4, 1.0]),
            Part { share: Some(1.2), ..t.table(&[(w.time, 0.7), (w.what, 2.6), (w.price, 0.9)]) },
            Part { rows: Some(5), ..t.ticks(w.to_see) },
            Part { rows: Some(5), beside: true, ..t.ticks(w.eating) },
            Part { rows: Some(2), ..t.lines(w.overnight) },
            Part { share: Some(1.0), ..t.boxes(Fill::Dots, &[w.remember]) },
        ]
    }
}

/// Gifts, from the idea to the wrapping.
#[derive(Debug)]
pub struct GiftList;

impl Design for GiftList {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let table = t.table(&[(w.for_whom, 1.3), (w.idea, 2.2), (w.price, 0.9), (w.bought, 0.0), (w.wrapped, 0.0)]);
        vec![Part { rows: t.rows, ..table }]
    }
}

/// Birthdays by month.
#[derive(Debug)]
pub struct Birthdays;

impl Design for Birthdays {
    fn parts(t: &mut Said) -> Vec<Part> {
        vec![Part { labels: t.names.clone(), ..t.boxes(Fill::Lines, &[]) }]
    }
}

/// Addresses on cards.
#[derive(Debug)]
pub struct Contacts;

impl Design for Contacts {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![t.cards(&[w.name, w.phone, w.mail, w.address])]
    }
}

/// Hints at passwords, with a caution. No password belongs on paper that others can read.
#[derive(Debug)]
pub struct PasswordHints;

impl Design for PasswordHints {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            Part { part: Kind::Text, label: t.say(w.caution), ..Part::default() },
            t.cards(&[w.site, w.user_name, w.hint, w.changed]),
        ]
    }
}

/// Plants and what they need.
#[derive(Debug)]
pub struct PlantCare;

impl Design for PlantCare {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![t.cards(&[w.plant, w.place, w.watered, w.fed, w.repotted])]
    }
}
