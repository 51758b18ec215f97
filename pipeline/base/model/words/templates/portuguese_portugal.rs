//! Portuguese, as in Portugal: what is said otherwise than in Brazil.

use super::TemplateWords;

pub const TABLE: TemplateWords = TemplateWords {
    breakfast: "Pequeno-almoço",
    method: "Preparação",
    income: "Rendimentos",
    item: "Rubrica",
    saving_for: "Poupar para",
    subscriptions: "Subscrições",
    agenda: "Ordem de trabalhos",
    subject: "Disciplina",
    homework: "Trabalhos de casa",
    every_day: "Todos os dias",
    every_week: "Todas as semanas",
    every_month: "Todos os meses",
    clothes: "Roupa",
    wash_bag: "Bolsa de higiene",
    address: "Morada",
    caution: "Escreva pistas que só você perceba, nunca uma palavra-passe: quem tiver este caderno pode lê-la.",
    user_name: "Utilizador",
    hint: "Pista",
    changed: "Mudada",
    repotted: "Mudança de vaso",
    ..super::portuguese::TABLE
};
