//! Money: a month's budget, saving, bills, a ledger, an inventory.

use super::super::kit::{Kind, Part};
use super::{Design, Said};

/// A month's budget: what comes in, what goes out, what is left.
#[derive(Debug)]
pub struct BudgetMonth;

impl Design for BudgetMonth {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.month, w.notes], &[1.0, 2.0]),
            Part { rows: Some(4), ..t.table_of(w.income, &[(w.item, 2.2), (w.planned, 1.0), (w.actual, 1.0)]) },
            Part {
                rows: t.rows,
                ..t.table_of(w.spending, &[(w.item, 2.2), (w.planned, 1.0), (w.actual, 1.0), (w.left, 1.0)])
            },
            t.fields(&[w.income, w.spending, w.left], &[]),
        ]
    }
}

/// Saving for something: a bar to fill in, and what was put aside.
#[derive(Debug)]
pub struct SavingsGoal;

impl Design for SavingsGoal {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.saving_for, w.amount, w.until], &[2.4, 1.0, 1.0]),
            Part { rows: Some(3), ..t.lines(w.why) },
            Part { part: Kind::Bars, labels: t.all(&[w.progress]), count: Some(20), ..Part::default() },
            Part { rows: t.rows, ..t.table(&[(w.date, 1.0), (w.paid_in, 1.3), (w.total, 1.3), (w.notes, 2.0)]) },
        ]
    }
}

/// Bills and subscriptions.
#[derive(Debug)]
pub struct Bills;

impl Design for Bills {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            Part {
                rows: t.rows,
                share: Some(1.2),
                ..t.table_of(w.bills, &[(w.name, 2.4), (w.amount, 1.0), (w.due, 1.0), (w.paid, 0.0)])
            },
            t.table_of(w.subscriptions, &[(w.name, 2.4), (w.amount, 1.0), (w.renews, 1.0), (w.keep, 0.0)]),
        ]
    }
}

/// A ledger: what came in, what went out, what is there.
#[derive(Debug)]
pub struct Ledger;

impl Design for Ledger {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.account, w.month], &[2.0, 1.0]),
            Part {
                rows: t.rows,
                ..t.table(&[(w.date, 0.8), (w.item, 2.6), (w.money_in, 1.0), (w.money_out, 1.0), (w.balance, 1.1)])
            },
        ]
    }
}

/// What there is in a house, for oneself and for the insurer.
#[derive(Debug)]
pub struct Inventory;

impl Design for Inventory {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.stands, w.date], &[2.4, 1.0]),
            Part { rows: t.rows, ..t.table(&[(w.item, 2.4), (w.bought, 1.0), (w.worth, 1.0), (w.guarantee, 1.2)]) },
        ]
    }
}
