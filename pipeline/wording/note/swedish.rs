//! Swedish.

use super::Note;

/// The sentences.
pub const TABLE: Note = Note {
    title: "Nyheter",
    title_version: "Nyheter {version}",
    title_in: "Nyheter i {name}",
    same: "Inget av det du har ser annorlunda ut eller fungerar annorlunda: du behöver inte ladda ner något igen.",
    again: "Ladda ner dina filer igen: den nya versionen kostar dig ingenting.",
    written_on: "Sidor som du har skrivit på stannar i din egen kopia. Importera den nya anteckningsboken bredvid och fortsätt var du vill.",
    licence: "**Licensvillkoren har ändrats.** Läs dem igen innan du fortsätter att använda filerna.",
    dates_moved: "Kalendern är nu för andra månader",
    guide: "Guiden har uppdaterats",
    quoted: "”{text}”",
    end: ".",
    pages_new: &["En ny sida", "{n} nya sidor"],
    links_new: &["En ny länk", "{n} nya länkar"],
    files_new: &["En ny fil", "{n} nya filer"],
    pages_redrawn: &["En sida har förbättrats", "{n} sidor har förbättrats"],
    pictures_changed: &["En bild har ritats om", "{n} bilder har ritats om"],
    pages_moved: &["En sida har bytt plats", "{n} sidor har bytt plats"],
    links_changed: &[
        "En länk leder någon annanstans eller har flyttats",
        "{n} länkar leder någon annanstans eller har flyttats",
    ],
    files_renamed: &["En fil har fått ett nytt namn", "{n} filer har fått nya namn"],
    pages_gone: &["En sida är borttagen", "{n} sidor är borttagna"],
    links_gone: &["En länk är borttagen", "{n} länkar är borttagna"],
    files_gone: &[
        "En fil är borttagen; behåll din gamla kopia om du använder den",
        "{n} filer är borttagna; behåll dina gamla kopior om du använder dem",
    ],
    covers_new: &["Ett nytt omslag", "{n} nya omslag"],
    stickers_new: &["Ett nytt klistermärke", "{n} nya klistermärken"],
    covers_redrawn: &["Ett omslag har ritats om", "{n} omslag har ritats om"],
    stickers_redrawn: &["Ett klistermärke har ritats om", "{n} klistermärken har ritats om"],
    covers_gone: &[
        "Ett omslag är borttaget; behåll din gamla kopia om du använder det",
        "{n} omslag är borttagna; behåll dina gamla kopior om du använder dem",
    ],
    stickers_gone: &[
        "Ett klistermärke är borttaget; behåll din gamla kopia om du använder det",
        "{n} klistermärken är borttagna; behåll dina gamla kopior om du använder dem",
    ],
};
