//! Work and school: a project's board and course, meetings, decisions, goals, lessons.

use super::super::kit::{Fill, Kind, Part};
use super::{Design, Said};

/// A project's tasks on cards in three columns.
#[derive(Debug)]
pub struct ProjectBoard;

impl Design for ProjectBoard {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let board = t.fields(&[w.project, w.until], &[2.4, 1.0]);
        vec![board, Part { columns: Some(3), ..t.boxes(Fill::Slips, &[w.to_do, w.doing, w.done]) }]
    }
}

/// The course of a project, a story or a life.
#[derive(Debug)]
pub struct Timeline;

impl Design for Timeline {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![t.fields(&[w.title, w.date], &[2.4, 1.0]), Part { part: Kind::Timeline, ..Part::default() }]
    }
}

/// Notes of a meeting, and what follows from it.
#[derive(Debug)]
pub struct MeetingNotes;

impl Design for MeetingNotes {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.topic, w.date], &[2.4, 1.0]),
            t.fields(&[w.present], &[]),
            Part { rows: Some(4), ..t.lines(w.agenda) },
            Part { share: Some(1.6), ..t.lines(w.notes) },
            Part {
                rows: t.rows.or(Some(5)),
                ..t.table_of(w.actions, &[(w.what, 2.6), (w.who, 1.0), (w.until, 0.9), (w.done, 0.0)])
            },
        ]
    }
}

/// A decision: what speaks for and against.
#[derive(Debug)]
pub struct Decision;

impl Design for Decision {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.question, w.date], &[2.6, 1.0]),
            Part { share: Some(3.0), ..t.lines(w.speaks_for) },
            Part { beside: true, ..t.lines(w.speaks_against) },
            Part { share: Some(1.0), ..t.lines(w.decision) },
        ]
    }
}

/// Goals of a quarter, each with its steps.
#[derive(Debug)]
pub struct Goals;

impl Design for Goals {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let mut parts = Vec::new();
        // The same words for every goal.
        let (goal, until, steps, why) = (t.say(w.goal), t.say(w.until), t.say(w.steps), t.say(w.why));
        // As many on each of two papers, so that none stays free; on a phone's page as many as have some steps each.
        let usual = match t.papers {
            2.. => 4,
            _ if t.low => 2,
            _ => 3,
        };
        for i in 0..t.many.unwrap_or(usual) {
            let label = |text: &String| text.clone();
            parts.push(Part {
                part: Kind::Fields,
                labels: vec![label(&goal), label(&until)],
                widths: vec![2.8, 1.0],
                rows: (i > 0).then_some(2),
                ..Part::default()
            });
            let ticks = Part { part: Kind::Ticks, columns: Some(1), mark: t.mark, ..Part::default() };
            parts.push(Part { label: label(&steps), width: Some(1.5), ..ticks });
            parts.push(Part { label: label(&why), beside: true, ..Part::default() });
        }
        parts
    }
}

/// A year's goals, month by month.
#[derive(Debug)]
pub struct YearGoals;

impl Design for YearGoals {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let months = Part { labels: t.names.clone(), ..t.boxes(Fill::Ticks, &[]) };
        vec![t.fields(&[w.word_of_year, w.year], &[2.6, 1.0]), months]
    }
}

/// A lesson: aims, course, homework, a look back.
#[derive(Debug)]
pub struct LessonPlan;

impl Design for LessonPlan {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.subject, w.class, w.date], &[2.0, 1.0, 1.0]),
            Part { rows: Some(3), ..t.lines(w.aims) },
            Part { rows: t.rows, share: Some(3.0), ..t.table(&[(w.time, 0.7), (w.what, 2.6), (w.material, 1.4)]) },
            Part { rows: Some(4), ..t.lines(w.homework) },
            Part { rows: Some(4), beside: true, ..t.lines(w.looking_back) },
        ]
    }
}
