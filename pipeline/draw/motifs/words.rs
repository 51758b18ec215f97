//! The words that motifs carry, a table a language. A table that lacks one does not compile.

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
            "de" => &GERMAN,
            "es" => &SPANISH,
            "fr" => &FRENCH,
            _ => &ENGLISH,
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

static ENGLISH: MotifWords = MotifWords {
    appointment: "Appointment",
    hello: "Hello",
    today: "Today",
    for_and_against: "For and against",
    goal: "Goal",
    good_things: "Three good things",
    habits: "Habits",
    meals: "Meals",
    this_month: "This month",
    phone_call: "Phone call",
    shopping: "Shopping",
    to_do: "To do",
    who: "Who",
    number: "Number",
    about: "About",
    date: "Date",
    time: "Time",
    with: "With",
    place: "Where",
    bring: "Bring",
    planned: "Planned",
    spent: "Spent",
    left: "Left",
};

static GERMAN: MotifWords = MotifWords {
    appointment: "Termin",
    hello: "Hallo",
    today: "Heute",
    for_and_against: "Für und Wider",
    goal: "Ziel",
    good_things: "Drei gute Dinge",
    habits: "Gewohnheiten",
    meals: "Essensplan",
    this_month: "Dieser Monat",
    phone_call: "Telefonat",
    shopping: "Einkauf",
    to_do: "Aufgaben",
    who: "Wer",
    number: "Nummer",
    about: "Thema",
    date: "Datum",
    time: "Zeit",
    with: "Mit",
    place: "Wo",
    bring: "Dabei",
    planned: "Geplant",
    spent: "Bezahlt",
    left: "Rest",
};

static FRENCH: MotifWords = MotifWords {
    appointment: "Rendez-vous",
    hello: "Bonjour",
    today: "Aujourd’hui",
    for_and_against: "Pour et contre",
    goal: "Objectif",
    good_things: "Trois bonnes choses",
    habits: "Habitudes",
    meals: "Repas",
    this_month: "Ce mois-ci",
    phone_call: "Appel",
    shopping: "Courses",
    to_do: "À faire",
    who: "Qui",
    number: "Numéro",
    about: "Sujet",
    date: "Date",
    time: "Heure",
    with: "Avec",
    place: "Où",
    bring: "Apporter",
    planned: "Prévu",
    spent: "Dépensé",
    left: "Reste",
};

static SPANISH: MotifWords = MotifWords {
    appointment: "Cita",
    hello: "Hola",
    today: "Hoy",
    for_and_against: "A favor y en contra",
    goal: "Meta",
    good_things: "Tres cosas buenas",
    habits: "Hábitos",
    meals: "Comidas",
    this_month: "Este mes",
    phone_call: "Llamada",
    shopping: "Compras",
    to_do: "Tareas",
    who: "Quién",
    number: "Número",
    about: "Asunto",
    date: "Fecha",
    time: "Hora",
    with: "Con",
    place: "Dónde",
    bring: "Llevar",
    planned: "Previsto",
    spent: "Gastado",
    left: "Queda",
};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::motifs::TABLE;

    /// A motif with a heading in the table has it in every language; the English one is the same in both places.
    #[test]
    fn each_heading_has_its_words() {
        for motif in TABLE {
            let heading = motif.heading.filter(|heading| !heading.is_empty());
            assert_eq!(ENGLISH.heading(motif.name), heading, "{}", motif.name);
        }
    }
}
