//! Portuguese.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("pt"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: false,
        index: text("Índice"),
        templates: text("Modelos"),
        template_pages: text("Páginas modelo"),
        cover: text("Capa"),
        welcome: text("Boas-vindas"),
        sections: text("Seções"),
        section: text("Seção"),
        page: text("página"),
        more: text("mais {}"),
        belongs_to: text("Este caderno pertence a"),
        tabs: text("Abas"),
        coil: text("Argolas"),
        title: text("Título"),
        squares: text("Quadrados"),
        found_again: text("Para reencontrar"),
        where_it_is: text("Onde"),
        go_to: text("Ir para"),
        notes: text("Notas"),
        to_do: text("Tarefas"),
        date: text("Data"),
        focus: text("Foco"),
        most_important: text("O mais importante"),
        month: text("Mês"),
        heading: text("Título"),
        topic: text("Assunto"),
        cues: text("Palavras-chave"),
        summary: text("Resumo"),
        priorities: text("Prioridades"),
        week: text("Semana"),
        week_short: text("S"),
        week_number: text("Semana"),
        quarter: text("Trimestre"),
        to_index: text("ao índice"),
        to_overview: text("à visão geral dos modelos"),
        to_cover: text("à capa"),
        to_first_section: text("à primeira seção"),
    }
}
