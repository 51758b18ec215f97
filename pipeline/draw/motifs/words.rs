//! The words that motifs carry, a table a language. A table that lacks one does not compile.

mod arabic;
mod dutch;
mod english;
mod french;
mod german;
mod hebrew;
mod italian;
mod japanese;
mod polish;
mod portuguese;
mod spanish;
mod swedish;

/// Headings and captions of motifs.
#[allow(missing_docs)]
#[derive(Debug)]
pub struct MotifWords {
    pub appointment: &'static str,
    pub hello: &'static str,
    pub today: &'static str,
    pub for_and_against: &'static str,
    pub goal: &'static str,
    pub good_things: &'static str,
    pub habits: &'static str,
    pub meals: &'static str,
    pub this_month: &'static str,
    pub phone_call: &'static str,
    pub shopping: &'static str,
    pub to_do: &'static str,
    pub who: &'static str,
    pub number: &'static str,
    pub about: &'static str,
    pub date: &'static str,
    pub time: &'static str,
    pub with: &'static str,
    pub place: &'static str,
    pub bring: &'static str,
    pub planned: &'static str,
    pub spent: &'static str,
    pub left: &'static str,
}

impl MotifWords {
    /// The words of a table, English where there is none.
    pub fn of(table: &str) -> &'static MotifWords {
        match table {
            "de" => &german::TABLE,
            "es" => &spanish::TABLE,
            "fr" => &french::TABLE,
            "it" => &italian::TABLE,
            "nl" => &dutch::TABLE,
            "sv" => &swedish::TABLE,
            "pl" => &polish::TABLE,
            "ja" => &japanese::TABLE,
            "ar" => &arabic::TABLE,
            "he" => &hebrew::TABLE,
            "pt" | "pt-PT" => &portuguese::TABLE,
            _ => &english::TABLE,
        }
    }

    /// The heading of a motif by its name, where it has one.
    pub fn heading(&self, motif: &str) -> Option<&'static str> {
        Some(match motif {
            "appointment" => self.appointment,
            "banner" => self.hello,
            "day-parts" => self.today,
            "for-and-against" => self.for_and_against,
            "goal-steps" => self.goal,
            "good-things" => self.good_things,
            "habit-dots" => self.habits,
            "meal-plan" => self.meals,
            "month-dots" => self.this_month,
            "phone-call" => self.phone_call,
            "shopping-list" => self.shopping,
            "to-do-box" => self.to_do,
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::motifs::TABLE;

    /// A motif with a heading in the table has it in every language; the English one is the same in both places.
    #[test]
    fn each_heading_has_its_words() {
        for motif in TABLE {
            let heading = motif.heading.filter(|heading| !heading.is_empty());
            assert_eq!(english::TABLE.heading(motif.name), heading, "{}", motif.name);
        }
    }
}
