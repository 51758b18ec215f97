//! In which language a text is written, by the small words that it uses, or by its script.
//!
//! The lists are from memory: no source. A word of one letter is in none, since pages have single letters for days and sizes.

use std::collections::BTreeSet;

/// A language that can be told.
#[derive(Debug)]
pub struct Tongue {
    /// The first part of its tag (BCP 47).
    pub code: &'static str,
    /// Its English name.
    pub name: &'static str,
    /// Small words; empty for a language that is told by its script.
    common: &'static [&'static str],
    /// Whether a letter is of its script alone.
    script: fn(char) -> bool,
}

/// Hiragana and katakana; Chinese characters are those of other languages as well (Unicode 16, blocks, from memory).
fn japanese(c: char) -> bool {
    matches!(c, '\u{3041}'..='\u{30ff}' | '\u{31f0}'..='\u{31ff}' | '\u{ff66}'..='\u{ff9d}')
}

fn arabic(c: char) -> bool {
    matches!(c, '\u{620}'..='\u{64a}' | '\u{671}'..='\u{6d3}' | '\u{750}'..='\u{77f}' | '\u{fb50}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}')
}

fn hebrew(c: char) -> bool {
    matches!(c, '\u{5d0}'..='\u{5f2}' | '\u{fb1d}'..='\u{fb4f}')
}

fn none(_: char) -> bool {
    false
}

macro_rules! tongue {
    ($code:literal, $name:literal, $($word:literal)*) => {
        Tongue { code: $code, name: $name, common: &[$($word),*], script: none }
    };
    ($code:literal, $name:literal; $script:ident) => {
        Tongue { code: $code, name: $name, common: &[], script: $script }
    };
}

/// The twelve languages of the tables.
pub static ALL: [Tongue; 12] = [
    tongue!("en", "English", "the" "and" "of" "to" "with" "for" "your" "you" "is" "are" "that" "this" "from" "on" "at" "by" "or" "it" "as" "be" "which" "have" "when" "into"),
    tongue!("de", "German", "der" "die" "das" "und" "mit" "für" "von" "den" "dem" "ein" "eine" "einer" "ist" "sind" "auf" "nicht" "du" "dich" "dein" "deine" "zu" "zum" "wie" "oder" "auch" "im" "wenn" "sie" "jede" "jeder"),
    tongue!("fr", "French", "le" "la" "les" "des" "et" "vous" "votre" "vos" "pour" "dans" "avec" "une" "un" "du" "est" "sont" "sur" "qui" "que" "ou" "au" "aux" "ce" "cette" "ne" "pas" "de"),
    tongue!("es", "Spanish", "el" "la" "los" "las" "de" "que" "en" "con" "para" "por" "una" "un" "del" "tu" "tus" "se" "es" "son" "lo" "su" "al" "como" "más" "cada" "puedes"),
    tongue!("it", "Italian", "il" "lo" "la" "gli" "le" "di" "che" "per" "con" "una" "un" "del" "della" "dei" "nel" "sono" "si" "tuo" "tua" "tuoi" "da" "al" "ogni" "più" "puoi" "alla"),
    tongue!("nl", "Dutch", "de" "het" "een" "en" "van" "met" "voor" "je" "jouw" "op" "zijn" "is" "dat" "die" "niet" "of" "om" "naar" "ook" "bij" "uit" "wordt" "elke"),
    tongue!("sv", "Swedish", "och" "att" "det" "som" "en" "ett" "på" "med" "för" "du" "din" "ditt" "dina" "är" "av" "till" "inte" "den" "om" "eller" "från" "så" "kan" "varje"),
    tongue!("pt", "Portuguese", "os" "as" "de" "que" "com" "para" "uma" "um" "do" "da" "dos" "das" "no" "na" "você" "seu" "sua" "seus" "são" "por" "ou" "em" "ao" "cada" "mais" "pode"),
    tongue!("pl", "Polish", "na" "do" "się" "nie" "jest" "to" "że" "dla" "oraz" "lub" "po" "od" "za" "jak" "które" "który" "która" "twój" "twoje" "twoich" "są" "przez" "każdy" "możesz"),
    tongue!("ja", "Japanese"; japanese),
    tongue!("ar", "Arabic"; arabic),
    tongue!("he", "Hebrew"; hebrew),
];

/// The language of a tag, where it is one of the twelve.
pub fn of_tag(tag: &str) -> Option<&'static Tongue> {
    let code = tag.split(['-', '_']).next()?.to_ascii_lowercase();
    // The tag for Hebrew was another once.
    let code = if code == "iw" { "he" } else { &code };
    ALL.iter().find(|tongue| tongue.code == code)
}

/// What a text shows of its language.
#[derive(Debug, Default)]
pub struct Evidence {
    /// Words in small letters.
    words: Vec<String>,
    /// Letters, of any script.
    letters: Vec<char>,
}

impl Evidence {
    /// That of a text.
    pub fn of(text: &str) -> Evidence {
        let lower = text.to_lowercase();
        let words =
            lower.split(|c: char| !c.is_alphabetic()).filter(|word| word.chars().count() > 1).map(str::to_owned);
        Evidence { words: words.collect(), letters: text.chars().filter(|c| c.is_alphabetic()).collect() }
    }

    fn of_script(&self, tongue: &Tongue) -> usize {
        self.letters.iter().filter(|c| (tongue.script)(**c)).count()
    }

    /// How many words are small words of one language and not of another, and how many different ones.
    fn alone(&self, tongue: &Tongue, other: &Tongue) -> (usize, usize) {
        let own = |word: &&String| tongue.common.contains(&word.as_str()) && !other.common.contains(&word.as_str());
        let all: Vec<&String> = self.words.iter().filter(own).collect();
        let different: BTreeSet<&String> = all.iter().copied().collect();
        (all.len(), different.len())
    }

    /// The language that the text is in, if it is not the one that is said: a script of its own over half of the letters, or
    /// many small words of it and hardly any of the other.
    pub fn instead_of(&self, said: &Tongue) -> Option<&'static Tongue> {
        const LETTERS: usize = 40;
        const WORDS: (usize, usize) = (10, 5);
        let others = || ALL.iter().filter(|tongue| tongue.code != said.code);
        if said.common.is_empty() && self.of_script(said) * 10 >= self.letters.len() {
            return None;
        }
        let by_script = others().find(|tongue| {
            let of_script = self.of_script(tongue);
            of_script >= LETTERS && of_script * 2 >= self.letters.len()
        });
        let by_words = || {
            let shown = others().filter_map(|tongue| {
                let ((many, different), (own, _)) = (self.alone(tongue, said), self.alone(said, tongue));
                (many >= WORDS.0 && different >= WORDS.1 && own * 4 <= many).then_some((many, tongue))
            });
            shown.max_by_key(|(many, _)| *many).map(|(_, tongue)| tongue)
        };
        by_script.or_else(by_words)
    }

    /// The language that the text is in, as far as can be told: by a script that an eighth of the letters are of
    /// (Japanese has many Chinese characters beside its own), else by the most small words.
    pub fn language(&self) -> Option<&'static Tongue> {
        let by_script = ALL.iter().find(|tongue| self.of_script(tongue) * 8 > self.letters.len());
        let by_words = || {
            let count = |tongue: &Tongue| self.words.iter().filter(|w| tongue.common.contains(&w.as_str())).count();
            let counted = ALL.iter().map(|tongue| (count(tongue), tongue)).filter(|(count, _)| *count > 0);
            // Of languages with as many the first: English where nothing tells.
            counted.rev().max_by_key(|(count, _)| *count)
        };
        by_script.or_else(|| by_words().map(|(_, tongue)| tongue))
    }

    /// Whether so long a text has so few small words, and hardly two of one language, that it is in none of these languages. A list
    /// of names has few, so that in doubt a text is not foreign.
    pub fn is_foreign(&self) -> bool {
        const WORDS: usize = 60;
        let count = |tongue: &Tongue| {
            let common = self.words.iter().filter(|w| tongue.common.contains(&w.as_str()));
            let different: BTreeSet<&String> = common.clone().collect();
            (common.count(), different.len())
        };
        let by_script = ALL.iter().any(|tongue| self.of_script(tongue) * 10 > self.letters.len());
        // Scripts without spaces have few words and many letters.
        let long = self.words.len() >= WORDS || self.letters.len() >= 6 * WORDS;
        let few = |(many, different): (usize, usize)| many * 12 < self.words.len() && different < 3;
        long && !by_script && ALL.iter().map(count).all(few)
    }
}

#[cfg(test)]
mod tests {
    use super::{ALL, Evidence, of_tag};

    /// A sentence of our own in each language, long enough to tell.
    const SAID: [(&str, &str); 12] = [
        (
            "en",
            "The index is the page from which you go to each of the sections, and every page leads back to it with one tap. Write your name on the lines of this cover, or keep it for the end of the year.",
        ),
        (
            "de",
            "Der Index ist die Seite, von der du zu den Abschnitten kommst, und jede Seite führt mit einem Tippen zu ihm zurück. Schreib deinen Namen auf die Linien, wenn du das Buch nicht verlieren willst.",
        ),
        (
            "fr",
            "Le sommaire est la page qui mène aux sections du carnet, et vous y revenez avec un seul toucher. Écrivez votre nom sur les lignes de la couverture pour ne pas le perdre dans le train.",
        ),
        (
            "es",
            "El índice es la página que lleva a las secciones del cuaderno, y se vuelve con un toque. Escribe tu nombre en las líneas de la portada para que no se pierda, y lo que quieras por cada día con un color.",
        ),
        (
            "it",
            "L’indice è la pagina da cui si arriva alle sezioni del quaderno, e con un tocco si torna alla pagina. Scrivi il tuo nome nel riquadro per non perdere le pagine della copertina che sono più belle.",
        ),
        (
            "nl",
            "De inhoud is de pagina van waar je naar elke sectie gaat, en met een tik ben je terug. Schrijf je naam op het omslag, dat voor jouw boek gemaakt is, of bewaar het voor het einde van het jaar.",
        ),
        (
            "sv",
            "Innehållet är den sida som du går från till varje avsnitt, och med ett tryck är du tillbaka. Skriv ditt namn på omslaget så att det inte kommer bort, eller spara det till slutet av året för din bok.",
        ),
        (
            "pt",
            "O índice é a página que leva às seções do caderno, e você volta com um toque. Escreva o seu nome na capa para que não se perca, ou guarde os seus papéis para o fim do ano com mais calma em uma caixa.",
        ),
        (
            "pl",
            "Spis treści to strona, która prowadzi do działów, i jest się na niej po dotknięciu. Wpisz imię na okładce, żeby się nie zgubiła, lub zachowaj to na koniec roku dla siebie oraz za rok jak nie od razu.",
        ),
        (
            "ja",
            "目次から、ノートのどのセクションへも移動できます。表紙に名前を書いて、電車の中でなくさないようにしましょう。ページの下のしるしを押すと、いつでも目次に戻れます。",
        ),
        (
            "ar",
            "الفهرس هو الصفحة التي تنتقل منها إلى جميع الأقسام، وتعود إليها بنقرة واحدة. اكتب اسمك على الغلاف كي لا يضيع الدفتر في القطار.",
        ),
        (
            "he",
            "התוכן הוא העמוד שממנו מגיעים לכל המדורים, ובהקשה אחת חוזרים אליו. כתבו את שמכם על הכריכה כדי שהמחברת לא תאבד ברכבת.",
        ),
    ];

    #[test]
    fn each_language_is_told_from_every_other() {
        for (code, text) in SAID {
            let evidence = Evidence::of(text);
            assert_eq!(evidence.language().map(|t| t.code), Some(code));
            assert!(!evidence.is_foreign(), "{code}");
            for said in &ALL {
                let wanted = (said.code != code).then_some(code);
                let two = Evidence::of(&format!("{text} {text}"));
                assert_eq!(two.instead_of(said).map(|t| t.code), wanted, "{code} said to be {}", said.code);
            }
        }
        assert_eq!(of_tag("pt-BR").map(|t| t.name), Some("Portuguese"));
        assert!(of_tag("cs").is_none());
    }

    #[test]
    fn names_and_numbers_tell_nothing() {
        let page = "M D M D F S S 1 2 3 Notes Index Bed 1 Bed 2 janvier février mars La Paz Los Angeles De Haan";
        for said in ["en", "de", "ja", "he"] {
            assert!(Evidence::of(page).instead_of(of_tag(said).expect("it is one of the twelve")).is_none(), "{said}");
        }
    }
}
