//! Portuguese.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "Compromisso",
    hello: "Olá",
    today: "Hoje",
    for_and_against: "Prós e contras",
    goal: "Meta",
    good_things: "Três coisas boas",
    habits: "Hábitos",
    meals: "Refeições",
    this_month: "Este mês",
    phone_call: "Telefonema",
    shopping: "Compras",
    to_do: "Tarefas",
    who: "Quem",
    number: "Número",
    about: "Assunto",
    date: "Data",
    time: "Hora",
    with: "Com",
    place: "Onde",
    bring: "Levar",
    planned: "Previsto",
    spent: "Gasto",
    left: "Resta",
};
