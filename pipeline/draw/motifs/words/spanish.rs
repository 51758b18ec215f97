//! Spanish.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
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
