//! Dutch.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "Wat is er nieuw",
    title_version: "Wat is er nieuw {version}",
    title_in: "Wat is er nieuw in {name}",
    same: "Niets van wat je hebt, ziet er anders uit of werkt anders: je hoeft niets opnieuw te downloaden.",
    again: "Download je bestanden opnieuw: de nieuwe versie kost je niets.",
    written_on: "Pagina’s waarop je hebt geschreven, blijven in je eigen kopie. Importeer het nieuwe notitieboek ernaast en ga verder waar je wilt.",
    licence: "**De licentievoorwaarden zijn veranderd.** Lees ze nog eens voordat je de bestanden verder gebruikt.",
    dates_moved: "De agenda is nu voor andere maanden",
    guide: "De handleiding is bijgewerkt",
    quoted: "‘{text}’",
    end: ".",
    pages_new: &["Een nieuwe pagina", "{n} nieuwe pagina’s"],
    links_new: &["Een nieuwe link", "{n} nieuwe links"],
    files_new: &["Een nieuw bestand", "{n} nieuwe bestanden"],
    pages_redrawn: &["Een pagina is verbeterd", "{n} pagina’s zijn verbeterd"],
    pictures_changed: &["Een afbeelding is opnieuw getekend", "{n} afbeeldingen zijn opnieuw getekend"],
    pages_moved: &["Een pagina staat op een andere plek", "{n} pagina’s staan op een andere plek"],
    links_changed: &[
        "Een link leidt ergens anders heen of is verplaatst",
        "{n} links leiden ergens anders heen of zijn verplaatst",
    ],
    files_renamed: &["Een bestand heeft een nieuwe naam", "{n} bestanden hebben nieuwe namen"],
    pages_gone: &["Een pagina is vervallen", "{n} pagina’s zijn vervallen"],
    links_gone: &["Een link is vervallen", "{n} links zijn vervallen"],
    files_gone: &[
        "Een bestand is vervallen; bewaar je oude kopie als je het gebruikt",
        "{n} bestanden zijn vervallen; bewaar je oude kopieën als je ze gebruikt",
    ],
    covers_new: &["Een nieuwe omslag", "{n} nieuwe omslagen"],
    stickers_new: &["Een nieuwe sticker", "{n} nieuwe stickers"],
    covers_redrawn: &["Een omslag is opnieuw getekend", "{n} omslagen zijn opnieuw getekend"],
    stickers_redrawn: &["Een sticker is opnieuw getekend", "{n} stickers zijn opnieuw getekend"],
    covers_gone: &[
        "Een omslag is vervallen; bewaar je oude kopie als je hem gebruikt",
        "{n} omslagen zijn vervallen; bewaar je oude kopieën als je ze gebruikt",
    ],
    stickers_gone: &[
        "Een sticker is vervallen; bewaar je oude kopie als je hem gebruikt",
        "{n} stickers zijn vervallen; bewaar je oude kopieën als je ze gebruikt",
    ],
};
