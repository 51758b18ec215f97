//! French.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "Nouveautés",
    title_version: "Nouveautés {version}",
    title_in: "Nouveautés de {name}",
    same: "Rien de ce que vous avez ne change d’aspect ni d’usage\u{a0}: vous n’avez rien à télécharger de nouveau.",
    again: "Téléchargez de nouveau vos fichiers\u{a0}: la nouvelle version ne vous coûte rien.",
    written_on: "Les pages où vous avez écrit restent dans votre propre copie. Importez le nouveau carnet à côté et continuez là où vous voulez.",
    licence: "**Les conditions de licence ont changé.** Relisez-les avant de continuer à utiliser les fichiers.",
    dates_moved: "L’agenda couvre maintenant d’autres mois",
    guide: "Le mode d’emploi a été mis à jour",
    quoted: "«\u{a0}{text}\u{a0}»",
    end: ".",
    pages_new: &["Une nouvelle page", "{n} nouvelles pages"],
    links_new: &["Un nouveau lien", "{n} nouveaux liens"],
    files_new: &["Un nouveau fichier", "{n} nouveaux fichiers"],
    pages_redrawn: &["Une page a été améliorée", "{n} pages ont été améliorées"],
    pictures_changed: &["Une image a été redessinée", "{n} images ont été redessinées"],
    pages_moved: &["Une page a changé de place", "{n} pages ont changé de place"],
    links_changed: &["Un lien mène ailleurs ou a été déplacé", "{n} liens mènent ailleurs ou ont été déplacés"],
    files_renamed: &["Un fichier a un nouveau nom", "{n} fichiers ont un nouveau nom"],
    pages_gone: &["Une page a disparu", "{n} pages ont disparu"],
    links_gone: &["Un lien a disparu", "{n} liens ont disparu"],
    files_gone: &[
        "Un fichier a disparu\u{202f}; gardez votre ancienne copie si vous l’utilisez",
        "{n} fichiers ont disparu\u{202f}; gardez vos anciennes copies si vous les utilisez",
    ],
    covers_new: &["Une nouvelle couverture", "{n} nouvelles couvertures"],
    stickers_new: &["Un nouvel autocollant", "{n} nouveaux autocollants"],
    covers_redrawn: &["Une couverture a été redessinée", "{n} couvertures ont été redessinées"],
    stickers_redrawn: &["Un autocollant a été redessiné", "{n} autocollants ont été redessinés"],
    covers_gone: &[
        "Une couverture a disparu\u{202f}; gardez votre ancienne copie si vous l’utilisez",
        "{n} couvertures ont disparu\u{202f}; gardez vos anciennes copies si vous les utilisez",
    ],
    stickers_gone: &[
        "Un autocollant a disparu\u{202f}; gardez votre ancienne copie si vous l’utilisez",
        "{n} autocollants ont disparu\u{202f}; gardez vos anciennes copies si vous les utilisez",
    ],
};
