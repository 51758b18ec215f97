//! Logs: books, films, training, sleep and water, symptoms.

use super::super::kit::{Holds, Kind, Part};
use super::{Design, Said};

/// Circles in the last column of a table.
fn rated(mut table: Part, count: usize) -> Part {
    let last = table.labels.len().saturating_sub(1);
    if let Some(held) = table.holds.get_mut(last) {
        *held = Holds::Dots;
    }
    Part { count: Some(count), ..table }
}

/// Books that were read.
#[derive(Debug)]
pub struct ReadingLog;

impl Design for ReadingLog {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let table = t.table(&[(w.title, 2.4), (w.author, 1.6), (w.begun, 0.9), (w.finished, 0.9), (w.stars, 1.2)]);
        vec![Part { rows: t.rows, ..rated(table, 5) }]
    }
}

/// Films that were seen.
#[derive(Debug)]
pub struct FilmLog;

impl Design for FilmLog {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let table = t.table(&[(w.title, 2.6), (w.year, 0.7), (w.date, 0.9), (w.seen_with, 1.2), (w.stars, 1.2)]);
        vec![Part { rows: t.rows, ..rated(table, 5) }]
    }
}

/// A training: exercises and sets, and how it felt.
#[derive(Debug)]
pub struct TrainingLog;

impl Design for TrainingLog {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.training, w.date], &[2.4, 1.0]),
            Part {
                rows: t.rows,
                share: Some(2.0),
                ..t.table(&[(w.exercise, 2.4), ("1", 0.8), ("2", 0.8), ("3", 0.8), ("4", 0.8)])
            },
            Part { part: Kind::Scale, label: t.say(w.felt), labels: t.all(&[w.easy, w.hard]), ..Part::default() },
            Part { rows: Some(3), ..t.lines(w.notes) },
        ]
    }
}

/// A week of sleep and of glasses of water.
#[derive(Debug)]
pub struct SleepAndWater;

impl Design for SleepAndWater {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let week = t.fields(&[w.week], &[]);
        let sleep = t.table(&[("", 1.0), (w.to_bed, 0.8), (w.up, 0.8), (w.asleep, 3.0)]);
        let water = t.table(&[("", 1.0), (w.water, 4.0)]);
        let names = || t.names.clone();
        let (sleep, water) =
            (Part { names: names(), ..rated(sleep, 10) }, Part { names: names(), share: Some(0.6), ..rated(water, 8) });
        vec![week, sleep, water, Part { share: Some(0.5), ..t.lines(w.notes) }]
    }
}

/// Symptoms, how strong they were and what helped.
#[derive(Debug)]
pub struct SymptomLog;

impl Design for SymptomLog {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let table = t.table(&[(w.date, 0.9), (w.time, 0.8), (w.what, 1.8), (w.helped, 1.8), (w.strength, 1.3)]);
        vec![Part { rows: t.rows, ..rated(table, 5) }]
    }
}
