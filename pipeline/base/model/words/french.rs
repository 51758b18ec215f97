//! French.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("fr"),
        digits: text(DIGITS),
        colon: text("\u{a0}: "),
        capitals: false,
        index: text("Sommaire"),
        templates: text("Modèles"),
        template_pages: text("Pages modèles"),
        cover: text("Couverture"),
        welcome: text("Bienvenue"),
        sections: text("Sections"),
        section: text("Section"),
        page: text("page"),
        more: text("{} de plus"),
        belongs_to: text("Ce carnet appartient à"),
        tabs: text("Onglets"),
        coil: text("Anneaux"),
        title: text("Titre"),
        squares: text("Carrés"),
        found_again: text("À retrouver"),
        where_it_is: text("Où"),
        go_to: text("Aller à"),
        notes: text("Notes"),
        to_do: text("À faire"),
        date: text("Date"),
        focus: text("L’essentiel"),
        most_important: text("Le plus important"),
        month: text("Mois"),
        heading: text("Titre"),
        topic: text("Sujet"),
        cues: text("Mots-clés"),
        summary: text("Résumé"),
        priorities: text("Priorités"),
        week: text("Semaine"),
        week_short: text("S"),
        week_number: text("Semaine"),
        quarter: text("Trimestre"),
        to_index: text("au sommaire"),
        to_overview: text("à l’aperçu des modèles"),
        to_cover: text("à la couverture"),
        to_first_section: text("à la première section"),
    }
}
