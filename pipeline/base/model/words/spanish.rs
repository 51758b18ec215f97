//! Spanish.

use super::{DIGITS, Words};

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("es"),
        digits: text(DIGITS),
        colon: text(": "),
        capitals: false,
        index: text("Índice"),
        templates: text("Plantillas"),
        template_pages: text("Páginas de plantilla"),
        cover: text("Portada"),
        welcome: text("Bienvenida"),
        sections: text("Secciones"),
        section: text("Sección"),
        page: text("página"),
        more: text("{} más"),
        belongs_to: text("Este cuaderno pertenece a"),
        tabs: text("Pestañas"),
        coil: text("Anillas"),
        title: text("Título"),
        squares: text("Cuadros"),
        found_again: text("Para volver a encontrar"),
        where_it_is: text("Dónde"),
        go_to: text("Ir a"),
        notes: text("Notas"),
        to_do: text("Tareas"),
        date: text("Fecha"),
        focus: text("Lo esencial"),
        most_important: text("Lo más importante"),
        month: text("Mes"),
        heading: text("Título"),
        topic: text("Tema"),
        cues: text("Palabras clave"),
        summary: text("Resumen"),
        priorities: text("Prioridades"),
        week: text("Semana"),
        week_short: text("S"),
        week_number: text("Semana"),
        quarter: text("Trimestre"),
        to_index: text("al índice"),
        to_overview: text("a la vista general de las plantillas"),
        to_cover: text("a la portada"),
        to_first_section: text("a la primera sección"),
    }
}
