//! Texts name what is seen: every language, with everything that may hold the papers and every manner of the index.
#![allow(clippy::unwrap_used)]

use super::*;
use base::model::Rgb;
use base::model::look::{Binding, Index, Material};
use base::model::product::{Cover, CoverDesign, Section};

/// Words of a language by which its texts are known to speak of something.
struct Said {
    language: &'static str,
    /// Rings, wires, spiral, discs, stitches, fold, upper edge.
    parts: [&'static str; 7],
    /// A box of the index: one of them.
    boxes: &'static [&'static str],
}

const SAID: [Said; 13] = [
    Said { language: "en", parts: ["rings", "wire", "spiral", "disc", "stitch", "fold", "edge"], boxes: &["box"] },
    Said {
        language: "ar",
        parts: ["حلقات", "أسلاك", "لولبي", "أقراص", "خياطة", "طيّة", "حافة"],
        boxes: &["خانة", "خانات"],
    },
    Said {
        language: "de",
        parts: ["Ringe", "Drähte", "Spirale", "Scheiben", "Naht", "Falz", "obere Rand"],
        boxes: &["Feld"],
    },
    Said {
        language: "es",
        parts: ["anillas", "alambres", "espiral", "discos", "costura", "pliegue", "borde"],
        boxes: &["casilla"],
    },
    Said {
        language: "fr",
        parts: ["anneaux", "métal", "spirale", "disques", "couture", "le pli", "bord"],
        boxes: &["case"],
    },
    Said {
        language: "he",
        parts: ["טבעות", "מתכת", "ספירלה", "דסקיות", "תפר", "קפל", "קצה"],
        boxes: &["תיבות", "התיבה", "תיבה ממוספרת"],
    },
    Said {
        language: "it",
        parts: ["anelli", "fili", "spirale", "dischi", "cucitura", "piega", "bordo"],
        boxes: &["casell"],
    },
    Said {
        language: "ja",
        parts: ["リング", "ワイヤー", "スパイラル", "ディスク", "とじ糸", "折り目", "上端"],
        boxes: &["枠"],
    },
    Said {
        language: "nl",
        parts: ["ringen", "draad", "spiraal", "schijven", "stiksel", "vouw", "rand"],
        boxes: &["vakje"],
    },
    Said {
        language: "pl",
        parts: ["kółka", "druty", "spirala", "krążki", "szew", "zgięcie", "brzeg"],
        boxes: &["pola ", "pole ", "polu ", "lub pola"],
    },
    Said {
        language: "pt",
        parts: ["argolas", "arames", "espiral", "discos", "costura", "dobra", "borda"],
        boxes: &["casa"],
    },
    Said {
        language: "pt-PT",
        parts: ["argolas", "arames", "espiral", "discos", "costura", "dobra", "borda"],
        boxes: &["casa"],
    },
    Said {
        language: "sv",
        parts: ["ringarna", "trådar", "spiral", "skivor", "söm", "vecket", "överkant"],
        boxes: &["innehållets rutor", "rutan", "numrerad ruta"],
    },
];

const BINDINGS: [Binding; 6] =
    [Binding::Rings, Binding::Wire, Binding::Spiral, Binding::Discs, Binding::Thread, Binding::None];

const INDEXES: [Index; 4] = [Index::Boxes, Index::Lines, Index::Discs, Index::Cards];

/// Where `Said::parts` has what is seen where taps lead home.
fn seen(binding: Binding, coil: Coil) -> Option<usize> {
    match (binding, coil) {
        (_, Coil::None) => None,
        (Binding::None, Coil::Top) => Some(6),
        _ => BINDINGS.iter().position(|b| *b == binding),
    }
}

fn product(language: &str, (binding, coil): (Binding, Coil), index: Index, names: [&str; 2]) -> Product {
    let mut product = sample::product();
    product.language = language.to_owned();
    product.words = Words::of(language);
    product.page.coil = coil;
    product.page.spread = coil == Coil::Middle;
    product.style.manner.binding = binding;
    product.style.manner.index = index;
    let section = |name: &str| Section {
        name: name.to_owned(),
        colour: Rgb::BLACK,
        icon: None,
        pages: Vec::new(),
        within: Vec::new(),
        art: None,
    };
    let cover = Cover {
        name: "Shed door".to_owned(),
        design: CoverDesign::Flat,
        colour: Rgb::BLACK,
        second: Rgb::WHITE,
        material: Material::Plain,
        finish: Default::default(),
        label: true,
        line: String::new(),
    };
    product.notebook = Some(Notebook {
        title: "Allotment Year".to_owned(),
        cover,
        welcome: String::new(),
        art: FrontArt::default(),
        sections: names.map(section).into(),
        templates: Vec::new(),
        dated: None,
        parts: Parts::default(),
        finished: None,
    });
    product
}

/// Every product of a language, with what differs.
fn products(language: &'static str) -> impl Iterator<Item = (Product, (Binding, Coil), Index)> {
    let coils = [Coil::Middle, Coil::Top, Coil::None];
    let held = coils.into_iter().flat_map(|coil| BINDINGS.map(|binding| (binding, coil)));
    let all = held.flat_map(|held| INDEXES.map(|index| (held, index)));
    all.flat_map(move |(held, index)| {
        [["Seeds", "Beds"], ["Seeds", ""], ["", ""]].map(|names| (product(language, held, index, names), held, index))
    })
}

fn welcome_of(product: &Product) -> String {
    fill("welcome", welcome_text(&product.words), product, &GuideFacts::default()).unwrap()
}

fn guide_of(product: &Product) -> String {
    guide_text(product, &GuideFacts::default(), &Tongue::of(product))
}

/// Whether a text speaks of boxes of the index.
fn has_boxes(said: &Said, text: &str) -> bool {
    said.boxes.iter().any(|word| text.contains(*word))
}

#[test]
fn texts_speak_of_what_is_seen() {
    for said in &SAID {
        for (product, (binding, coil), index) in products(said.language) {
            let about = format!("{} {binding:?} {coil:?} {index:?}", said.language);
            let (welcome, guide) = (welcome_of(&product), guide_of(&product));
            for (at, word) in said.parts.iter().enumerate() {
                assert_eq!(welcome.contains(*word), seen(binding, coil) == Some(at), "{about}: {word} in {welcome}");
            }
            for text in [&welcome, &guide] {
                assert_eq!(has_boxes(said, text), index == Index::Boxes, "{about}: {text}");
            }
            // At the head of its sentence and in the row of what can be tapped.
            let named = binding::named(&product);
            if coil != Coil::None {
                assert!(welcome.contains(named.within) && welcome.contains(named.leads), "{about}: {welcome}");
            }
        }
    }
}

/// An icon stands in the place of a number, so no numbered box is spoken of.
#[test]
fn sections_with_icons_have_no_numbered_boxes() {
    for said in &SAID {
        let mut product = product(said.language, (Binding::Rings, Coil::Middle), Index::Boxes, ["Seeds", ""]);
        for section in product.notebook.iter_mut().flat_map(|n| &mut n.sections) {
            section.icon = Some("sprout".to_owned());
        }
        for text in [welcome_of(&product), guide_of(&product)] {
            assert!(!has_boxes(said, &text), "{}: {text}", said.language);
        }
    }
}

/// The page has the room for any of them that it has for rings and boxes.
#[test]
fn texts_stay_as_long() {
    let length = |text: &str| text.chars().count();
    for said in &SAID {
        for coil in [Coil::Middle, Coil::Top] {
            let texts = |binding: Binding, index: Index| {
                let product = product(said.language, (binding, coil), index, ["Seeds", ""]);
                [welcome_of(&product), guide_of(&product)]
            };
            let usual = texts(Binding::Rings, Index::Boxes);
            for (binding, index) in BINDINGS.into_iter().flat_map(|b| [(b, Index::Boxes), (b, Index::Lines)]) {
                for (text, usual) in texts(binding, index).iter().zip(&usual) {
                    let more = length(text).saturating_sub(length(usual));
                    assert!(more <= 24, "{} {binding:?} {index:?}: {more} more in {text}", said.language);
                }
            }
        }
    }
}

/// Whatever the page, the picture of a few stickers is as high as they need.
#[test]
fn a_few_stickers_fill_a_row() {
    for (w, h) in [(212.6, 425.2), (298.0, 420.0), (420.0, 595.0), (595.0, 842.0), (680.0, 510.0), (842.0, 595.0)] {
        let page = Size::new(w, h);
        let most = cells_in_row(page, 100);
        for count in 1..40 {
            let cells = cells_in_row(page, count);
            assert!((2..=5).contains(&cells) && cells <= most.max(3), "{page:?} {count}: {cells}");
            assert!(count > 3 || count.div_ceil(cells) == 1, "{page:?} {count}: {cells}");
            // From two thirds on, none of a single row is empty.
            assert!(count < 3 || count > most || cells == count, "{page:?} {count}: {cells}");
            assert!(count <= most.max(3) || cells == most, "{page:?} {count}: {cells}");
        }
    }
}

#[test]
fn rings_and_boxes_are_called_as_ever() {
    let product = product("en-GB", (Binding::Rings, Coil::Middle), Index::Boxes, ["Seeds", "Beds"]);
    let (welcome, guide) = (welcome_of(&product), guide_of(&product));
    for sentence in [
        "the tabs, the rings and the boxes of the index then take you where they say.",
        "The number and the box beside it both lead to the section.",
        "The rings lead to the index, the title at the foot to the cover.",
    ] {
        assert!(welcome.contains(sentence), "{sentence}: {welcome}");
    }
    for sentence in [
        "Tabs, the boxes of the index and the small pictures of the templates are links.",
        "It has one numbered box for each of the 2 sections.",
        "**Tap the number or the box** in reading mode",
    ] {
        assert!(guide.contains(sentence), "{sentence}: {guide}");
    }
}
