//! Kitchen: a week of meals, shopping by aisle, a recipe.

use super::super::kit::{Fill, Part};
use super::{Design, Said};

/// A week of meals: days as rows, meals as columns, with what to buy below.
#[derive(Debug)]
pub struct MealPlan;

impl Design for MealPlan {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        let meals = t.table(&[("", 0.8), (w.breakfast, 1.0), (w.lunch, 1.0), (w.dinner, 1.0)]);
        vec![
            Part { names: t.names.clone(), share: Some(3.0), ..meals },
            Part { share: Some(0.9), width: Some(1.3), ..t.ticks(w.shopping) },
            Part { beside: true, ..t.lines(w.notes) },
        ]
    }
}

/// Shopping by aisle.
#[derive(Debug)]
pub struct Shopping;

impl Design for Shopping {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.boxes(
                Fill::Ticks,
                &[w.produce, w.bread, w.dairy, w.meat_fish, w.larder, w.frozen, w.drinks, w.household],
            ),
        ]
    }
}

/// A recipe: what goes in, how it is made.
#[derive(Debug)]
pub struct Recipe;

impl Design for Recipe {
    fn parts(t: &mut Said) -> Vec<Part> {
        let w = t.w;
        vec![
            t.fields(&[w.dish, w.serves, w.takes], &[2.6, 1.0, 1.0]),
            Part { share: Some(3.0), width: Some(1.0), ..t.ticks(w.ingredients) },
            Part { beside: true, width: Some(1.7), ..t.lines(w.method) },
            Part { rows: Some(3), ..t.lines(w.notes) },
        ]
    }
}
