//! English.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "What is new",
    title_version: "What is new {version}",
    title_in: "What is new in {name}",
    same: "Nothing that you have looks or works differently: you need not download anything again.",
    again: "Please download your files again: the new version costs you nothing.",
    written_on: "Pages that you have written on stay in your own copy. Import the new notebook beside it and go on wherever you like.",
    licence: "**The licence terms changed.** Please read them again before you go on using the files.",
    dates_moved: "The planner is for other months now",
    guide: "The guide was brought up to date",
    quoted: "“{text}”",
    end: ".",
    pages_new: &["One new page", "{n} new pages"],
    links_new: &["One new link", "{n} new links"],
    files_new: &["One new file", "{n} new files"],
    pages_redrawn: &["One page was improved", "{n} pages were improved"],
    pictures_changed: &["One picture was redrawn", "{n} pictures were redrawn"],
    pages_moved: &["One page moved to another place", "{n} pages moved to other places"],
    links_changed: &["One link leads elsewhere or moved", "{n} links lead elsewhere or moved"],
    files_renamed: &["One file has a new name", "{n} files have new names"],
    pages_gone: &["One page is gone", "{n} pages are gone"],
    links_gone: &["One link is gone", "{n} links are gone"],
    files_gone: &[
        "One file is gone; keep your old copy if you use it",
        "{n} files are gone; keep your old copies if you use them",
    ],
    covers_new: &["One new cover", "{n} new covers"],
    stickers_new: &["One new sticker", "{n} new stickers"],
    covers_redrawn: &["One cover was redrawn", "{n} covers were redrawn"],
    stickers_redrawn: &["One sticker was redrawn", "{n} stickers were redrawn"],
    covers_gone: &[
        "One cover is gone; keep your old copy if you use it",
        "{n} covers are gone; keep your old copies if you use them",
    ],
    stickers_gone: &[
        "One sticker is gone; keep your old copy if you use it",
        "{n} stickers are gone; keep your old copies if you use them",
    ],
};
