//! Figures: plants, kitchen, travel, home, study, sport and animals in round marks, all on the grid of the icons.

use super::builder::{MotifBuilder, mm};
use super::icons::{self, Icon, Layer};
use Layer::{Base, Line, Paper, Soft};
use base::model::drawing::Path;

/// A round mark of 18 mm in the tint with a figure on it.
fn figure(k: &mut MotifBuilder, icon: Icon) {
    let r = k.sized(18.0, 18.0);
    let ground = k.ground;
    k.shape(Path::circle(r.centre(), r.w / 2.0), ground);
    k.icon(icon, r.centre(), mm(11.2));
}

macro_rules! figures {
    ($( $name:ident: $icon:expr, )*) => { $(
        pub fn $name(k: &mut MotifBuilder) {
            figure(k, $icon);
        }
    )* };
}

figures! {
    acorn: ACORN,
    cactus: CACTUS,
    daisy: DAISY,
    fir: FIR,
    mushroom: MUSHROOM,
    pot_plant: POT_PLANT,
    sprout: SPROUT,
    tulip: TULIP,
    wheat: WHEAT,
    apple: APPLE,
    carrot: CARROT,
    cup: CUP,
    egg: EGG,
    loaf: LOAF,
    pot: POT,
    spoon_and_fork: SPOON_AND_FORK,
    boat: BOAT,
    bicycle: BICYCLE,
    compass: COMPASS,
    suitcase: SUITCASE,
    tent: TENT,
    bed: BED,
    broom: BROOM,
    house: HOUSE,
    key: KEY,
    lamp: LAMP,
    paint_roller: PAINT_ROLLER,
    flask: FLASK,
    glasses: GLASSES,
    pencil: PENCIL,
    mortar_board: MORTAR_BOARD,
    set_square: SET_SQUARE,
    ball: BALL,
    racket: RACKET,
    trophy: TROPHY,
    whistle: WHISTLE,
    bee: BEE,
    bird: BIRD,
    butterfly: BUTTERFLY,
    cat: CAT,
    fish: FISH,
    paw: PAW,
    snail: SNAIL,
    sun: icons::SUN,
    sun_and_cloud: icons::SUN_CLOUD,
    cloud: icons::CLOUDY,
    rain: icons::RAIN,
    storm: icons::STORM,
    snow: icons::SNOW,
    wind: icons::WIND,
    moon: icons::MOON,
    drop: icons::DROP,
    leaf: icons::LEAF,
    book: icons::BOOK,
    clock: icons::CLOCK,
    basket: icons::BASKET,
    bowl: icons::BOWL,
    weights: icons::WEIGHTS,
    mountain: icons::MOUNTAIN,
    purse: icons::PURSE,
    bolt: icons::BATTERY,
}

pub const ACORN: Icon = &[
    (Base, "M5.6 10.6 L18.4 10.6 C18.4 15.8 15.4 19.4 12 22 C8.6 19.4 5.6 15.8 5.6 10.6 Z"),
    (Soft, "M4 10.6 C4 7.2 7.6 5 12 5 C16.4 5 20 7.2 20 10.6 Z"),
    (Line, "M12 5 L12 2"),
];
pub const CACTUS: Icon = &[
    (Base, "M9.4 16 L9.4 5.4 C9.4 3.8 10.5 2.6 12 2.6 C13.5 2.6 14.6 3.8 14.6 5.4 L14.6 16 Z"),
    (
        Line,
        "M9.4 11.6 L6.6 11.6 C5.4 11.6 4.8 10.9 4.8 9.8 L4.8 8 M14.6 9.8 L17.4 9.8 C18.6 9.8 19.2 9.1 19.2 8 L19.2 6.4",
    ),
    (Paper, "M6.6 16 L17.4 16 L16.2 21.6 L7.8 21.6 Z"),
];
pub const DAISY: Icon = &[
    (Paper, "O 12 4.9 3"),
    (Paper, "O 17.6 9 3"),
    (Paper, "O 15.5 15.6 3"),
    (Paper, "O 8.5 15.6 3"),
    (Paper, "O 6.4 9 3"),
    (Base, "O 12 11 3.6"),
];
pub const FIR: Icon = &[
    (Line, "M12 17.6 L12 22"),
    (Base, "M12 2.2 L16.4 8 L14.4 8 L18 12.6 L15.6 12.6 L20 18 L4 18 L8.4 12.6 L6 12.6 L9.6 8 L7.6 8 Z"),
];
pub const MUSHROOM: Icon = &[
    (Paper, "M9.4 12.4 L14.6 12.4 C14.4 16 15.2 18.6 16.2 21 L7.8 21 C8.8 18.6 9.6 16 9.4 12.4 Z"),
    (Base, "M2.8 12.4 C2.8 7 6.8 3.2 12 3.2 C17.2 3.2 21.2 7 21.2 12.4 Z"),
    (Soft, "O 9 8.2 1.5"),
    (Soft, "O 14.8 7.4 1.1"),
    (Soft, "O 16.6 10.2 0.8"),
];
pub const POT_PLANT: Icon = &[
    (Base, "M12 14.4 C6.8 14 4.4 10.8 4.2 6.2 C8.8 6.4 11.8 9 12 14.4 Z"),
    (Base, "M12 14.4 C12 8.2 14.6 4.8 19.8 3.6 C20.4 9.4 17.6 13.4 12 14.4 Z"),
    (Paper, "M6.8 14.8 L17.2 14.8 L15.8 21.6 L8.2 21.6 Z"),
];
pub const SPROUT: Icon = &[
    (Line, "M12 21.6 L12 12"),
    (Base, "M12 12.4 C7 12.4 3.8 9.6 3.4 5 C8.4 4.8 11.8 7.6 12 12.4 Z"),
    (Soft, "M12 14.6 C12 10.2 15 7.6 20.4 7.8 C20.2 12.2 17 14.8 12 14.6 Z"),
    (Line, "M5.6 21.6 L18.4 21.6"),
];
pub const TULIP: Icon = &[
    (Line, "M12 12 L12 22 M12 19.6 C9.4 19.4 7.6 17.8 7 15.2 M12 19.6 C14.6 19.4 16.4 17.8 17 15.2"),
    (Base, "M6.6 3.4 L9.4 5.6 L12 2.4 L14.6 5.6 L17.4 3.4 C18.4 8.6 16 12.6 12 12.6 C8 12.6 5.6 8.6 6.6 3.4 Z"),
];
pub const WHEAT: Icon = &[
    (Line, "M12 22 L12 5"),
    (Base, "M12 6.6 C10.4 5.4 10.4 3.4 12 1.8 C13.6 3.4 13.6 5.4 12 6.6 Z"),
    (Base, "M12 11.4 C9 11.4 7.4 9.6 7.4 6.8 C10.2 6.8 12 8.4 12 11.4 Z"),
    (Base, "M12 11.4 C15 11.4 16.6 9.6 16.6 6.8 C13.8 6.8 12 8.4 12 11.4 Z"),
    (Base, "M12 16.4 C9 16.4 7.4 14.6 7.4 11.8 C10.2 11.8 12 13.4 12 16.4 Z"),
    (Base, "M12 16.4 C15 16.4 16.6 14.6 16.6 11.8 C13.8 11.8 12 13.4 12 16.4 Z"),
];
pub const APPLE: Icon = &[
    (
        Base,
        "M12 7.4 C9.8 5.6 4 5.8 4 12.2 C4 17 7.2 21.4 9.8 21.4 C10.8 21.4 11.2 20.8 12 20.8 C12.8 20.8 13.2 21.4 14.2 21.4 C16.8 21.4 20 17 20 12.2 C20 5.8 14.2 5.6 12 7.4 Z",
    ),
    (Line, "M12 7.4 C12 5.4 12.8 3.6 14.6 2.4"),
];
pub const CARROT: Icon = &[
    (Line, "M15.4 8.6 L19.4 2.8 M15.4 8.6 L21.4 6 M15.4 8.6 L14.2 2.6"),
    (Base, "M12.4 6.8 C14.2 5.8 18.2 9.8 17.2 11.6 C14.6 16.2 8.6 20.2 3 21 C3.8 15.4 7.8 9.4 12.4 6.8 Z"),
    (Line, "M9.4 11.2 L11.4 13.2 M8.2 16 L9.6 17.4"),
];
pub const CUP: Icon = &[
    (Line, "M17 10.8 C20.6 10.2 21.6 15.6 16.4 16.2"),
    (Base, "M4 9.6 L17 9.6 C17 15 15.6 20.4 10.5 20.4 C5.4 20.4 4 15 4 9.6 Z"),
    (Line, "M8 6.8 C7 5.6 9 4.6 8 3 M13 6.8 C12 5.6 14 4.6 13 3"),
];
pub const EGG: Icon = &[
    (
        Paper,
        "M4.4 14.6 C2.6 11 5 9.6 6.4 7.6 C8 5 10.6 2.6 14 4 C16.6 5 16.4 7.2 18.6 8.8 C21.4 10.8 22.2 14.6 19.6 17.4 C17.2 20 14.6 18.6 12 19.8 C9 21.2 6 18 4.4 14.6 Z",
    ),
    (Base, "O 12.6 11.8 3.9"),
];
pub const LOAF: Icon = &[
    (Base, "M5 20 L5 11.4 C2.4 10.2 2.8 5 7.4 5 L16.6 5 C21.2 5 21.6 10.2 19 11.4 L19 20 Z"),
    (Line, "M9 9 L9 12.4 M13 9 L13 12.4"),
];
pub const POT: Icon = &[
    (Line, "M2.4 11.4 L4.6 11.4 M19.4 11.4 L21.6 11.4 M12 5.6 L12 3.6"),
    (Base, "M4.6 8.8 L19.4 8.8 L19.4 17.4 C19.4 19.2 18.2 20.4 16.4 20.4 L7.6 20.4 C5.8 20.4 4.6 19.2 4.6 17.4 Z"),
    (Soft, "M4.6 8.8 C5 6.8 8 5.6 12 5.6 C16 5.6 19 6.8 19.4 8.8 Z"),
];
pub const SPOON_AND_FORK: Icon = &[
    (Line, "M7.4 10 L7.4 21.6 M16.6 11.6 L16.6 21.6"),
    (Line, "M4.8 2.6 L4.8 7.4 C4.8 9 5.8 10 7.4 10 C9 10 10 9 10 7.4 L10 2.6 M7.4 2.6 L7.4 10"),
    (
        Base,
        "M16.6 2.6 C18.6 2.6 19.8 4.6 19.8 7.2 C19.8 9.8 18.6 11.8 16.6 11.8 C14.6 11.8 13.4 9.8 13.4 7.2 C13.4 4.6 14.6 2.6 16.6 2.6 Z",
    ),
];
pub const BOAT: Icon = &[
    (Base, "M12.8 2.6 L12.8 15 L20.4 15 C19.6 9.6 17 5.4 12.8 2.6 Z"),
    (Soft, "M10.6 6 L10.6 15 L4.4 15 C5 11 7.2 8 10.6 6 Z"),
    (Paper, "M3 17.2 L21 17.2 C20.2 19.8 18.4 21.2 16 21.2 L8 21.2 C5.6 21.2 3.8 19.8 3 17.2 Z"),
];
pub const BICYCLE: Icon = &[
    (Paper, "O 6.2 15.6 4.2"),
    (Paper, "O 17.8 15.6 4.2"),
    (
        Line,
        "M6.2 15.6 L9.4 8.8 L15.4 8.8 L11.6 15.6 L6.2 15.6 M9.4 8.8 L11.6 15.6 M17.8 15.6 L14.6 6 L17 6 M7.8 8.8 L10.8 8.8",
    ),
];
pub const COMPASS: Icon =
    &[(Paper, "O 12 12 9.4"), (Base, "M12 4.6 L14.4 12 L9.6 12 Z"), (Soft, "M12 19.4 L14.4 12 L9.6 12 Z")];
pub const SUITCASE: Icon = &[
    (Line, "M8.6 7.4 L8.6 4.8 C8.6 3.8 9.2 3.2 10.2 3.2 L13.8 3.2 C14.8 3.2 15.4 3.8 15.4 4.8 L15.4 7.4"),
    (
        Base,
        "M4.6 7.4 L19.4 7.4 C20.4 7.4 21 8 21 9 L21 18.8 C21 19.8 20.4 20.4 19.4 20.4 L4.6 20.4 C3.6 20.4 3 19.8 3 18.8 L3 9 C3 8 3.6 7.4 4.6 7.4 Z",
    ),
    (Line, "M7.4 7.4 L7.4 20.4 M16.6 7.4 L16.6 20.4"),
];
pub const TENT: Icon = &[
    (Base, "M12 4.6 L21.6 20 L2.4 20 Z"),
    (Paper, "M12 11.4 L16.4 20 L7.6 20 Z"),
    (Line, "M12 4.6 L10.6 2.6 M12 4.6 L13.4 2.6"),
];
pub const BED: Icon = &[
    (Line, "M2.8 5 L2.8 20 M21.2 13.4 L21.2 20"),
    (Paper, "M5 9.6 L9.6 9.6 C10.8 9.6 11.4 10.4 11.4 11.4 L11.4 12.6 L5 12.6 Z"),
    (Base, "M2.8 12.6 L18.6 12.6 C20.2 12.6 21.2 13.6 21.2 15.2 L21.2 17 L2.8 17 Z"),
];
pub const BROOM: Icon = &[
    (Line, "M20.4 2.8 L13 11"),
    (Soft, "M10.8 9.4 L14.8 13 L13.2 14.8 L9 11.2 Z"),
    (Base, "M9 11.2 L13.2 14.8 C12.6 18.6 10 21.2 6.4 21.4 C5.4 19.8 3.8 18.4 2.4 17.8 C3.4 14.6 5.8 12 9 11.2 Z"),
    (Line, "M8 14.6 L5 19 M10.6 16.4 L8.6 20.2"),
];
pub const HOUSE: Icon = &[
    (Base, "M12 2.8 L21.6 11 L19 11 L19 20.6 L5 20.6 L5 11 L2.4 11 Z"),
    (Paper, "M9.8 20.6 L9.8 14 L14.2 14 L14.2 20.6 Z"),
];
pub const KEY: Icon = &[
    (Line, "M11 12.9 L20.4 3.6 M17.6 6.4 L20.4 9.2 M14.8 9.2 L17 11.4"),
    (Base, "O 7.8 16.2 4.8"),
    (Paper, "O 6.9 17.1 1.4"),
];
pub const LAMP: Icon = &[
    (Line, "M12 13 L12 20.6 M7.4 20.6 L16.6 20.6"),
    (Base, "M8.8 3.4 L15.2 3.4 L19.4 13 L4.6 13 Z"),
    (Line, "M16.6 13 L16.6 16.2"),
];
pub const PAINT_ROLLER: Icon = &[
    (Base, "M4 3.4 L17.6 3.4 L17.6 9.4 L4 9.4 Z"),
    (Line, "M17.6 6.4 L20.6 6.4 L20.6 12 L12 12 L12 14.6"),
    (Soft, "M10.6 14.6 L13.4 14.6 L13.4 21.6 L10.6 21.6 Z"),
];
pub const FLASK: Icon = &[
    (Paper, "M9.6 2.8 L14.4 2.8 L14.4 9 L20 18.4 C20.8 20 20 21.4 18.2 21.4 L5.8 21.4 C4 21.4 3.2 20 4 18.4 L9.6 9 Z"),
    (Base, "M7.2 14.4 L16.8 14.4 L19 18.6 C19.6 19.8 19.2 20.6 18 20.6 L6 20.6 C4.8 20.6 4.4 19.8 5 18.6 Z"),
    (Line, "M8.4 2.8 L15.6 2.8"),
];
pub const GLASSES: Icon = &[
    (Paper, "O 6.6 14.2 4"),
    (Paper, "O 17.4 14.2 4"),
    (Line, "M10.6 13.4 C11.4 12.4 12.6 12.4 13.4 13.4 M2.6 13.6 L4.6 7 M21.4 13.6 L19.4 7"),
];
pub const PENCIL: Icon = &[
    (Base, "M15.4 4 L20 8.6 L8.2 20.4 L3.6 15.8 Z"),
    (Paper, "M3.6 15.8 L8.2 20.4 L2.4 21.6 Z"),
    (Line, "M13 6.4 L17.6 11"),
];
pub const MORTAR_BOARD: Icon = &[
    (Soft, "M6.4 11.6 L17.6 11.6 L17.6 16.4 C15.6 18.8 8.4 18.8 6.4 16.4 Z"),
    (Base, "M12 4.4 L22 9.4 L12 14.4 L2 9.4 Z"),
    (Line, "M20 10.4 L20 17"),
];
pub const SET_SQUARE: Icon = &[(Base, "M4 3.6 L20.6 20.2 L4 20.2 Z"), (Paper, "M7.6 12.2 L12 16.6 L7.6 16.6 Z")];
pub const BALL: Icon = &[
    (Paper, "O 12 12 9.4"),
    (Base, "M12 8 L15.8 10.8 L14.4 15.2 L9.6 15.2 L8.2 10.8 Z"),
    (Line, "M12 8 L12 2.6 M15.8 10.8 L20.8 9 M14.4 15.2 L17.6 19.4 M9.6 15.2 L6.4 19.4 M8.2 10.8 L3.2 9"),
];
pub const RACKET: Icon = &[
    (Line, "M13.4 13.4 L20.6 20.6"),
    (Soft, "O 9.2 9.2 6.4"),
    (Line, "M6.6 3.6 L6.6 14.8 M11.8 3.6 L11.8 14.8 M3.6 6.6 L14.8 6.6 M3.6 11.8 L14.8 11.8"),
    (Base, "O 19.4 5.4 2"),
];
pub const TROPHY: Icon = &[
    (
        Line,
        "M6.4 5.4 L3 5.4 C3 9.4 4.4 11.4 7.4 11.8 M17.6 5.4 L21 5.4 C21 9.4 19.6 11.4 16.6 11.8 M12 15 L12 20.6 M7.6 20.8 L16.4 20.8",
    ),
    (Base, "M6.4 3.2 L17.6 3.2 L17.6 8.6 C17.6 12.6 15.2 15.4 12 15.4 C8.8 15.4 6.4 12.6 6.4 8.6 Z"),
];
pub const WHISTLE: Icon = &[
    (
        Base,
        "M8.8 8.2 L21.6 8.2 L21.6 12.2 L15 12.2 C15 16.6 12.6 19.4 8.8 19.4 C5.4 19.4 2.8 17 2.8 13.8 C2.8 10.6 5.4 8.2 8.8 8.2 Z",
    ),
    (Paper, "O 8.8 13.8 2.2"),
    (Line, "M12 5.4 L12 3.4 M15.4 5.4 L16.2 3.6"),
];
pub const BEE: Icon = &[
    (Paper, "M11 9.6 C7.4 9.4 5.6 7.4 6 4.6 C9.2 4.4 11.2 6.2 11 9.6 Z"),
    (Paper, "M13 9.6 C12.8 6.2 14.8 4.4 18 4.6 C18.4 7.4 16.6 9.4 13 9.6 Z"),
    (Base, "M12 9 C16.4 9 19 11.4 19 14.6 C19 17.8 16.4 20.2 12 20.2 C7.6 20.2 5 17.8 5 14.6 C5 11.4 7.6 9 12 9 Z"),
    (Line, "M9.4 9.6 L9.4 19.6 M13 9.2 L13 20 M16.4 10.4 L16.4 18.8"),
];
pub const BIRD: Icon = &[
    (
        Base,
        "M3 8.8 L6 7.2 C6.8 5 8.6 3.8 10.8 4 C13.4 4.2 14.8 6 15.2 8.4 C16.8 9.8 18.6 10.6 21.4 10.8 C20.4 15.6 17 18.4 12.4 18.4 C8 18.4 5.6 15.4 5.8 11 L5.6 9.6 Z",
    ),
    (Paper, "O 9.4 7.6 0.9"),
    (Line, "M10.6 18.4 L10 21.4 M13.6 18.4 L13.8 21.4 M10.4 12 C12.4 14 15 14.2 17 12.8"),
];
pub const BUTTERFLY: Icon = &[
    (Base, "M12 11 C9.4 4.6 4.4 3.2 2.6 5.2 C1.6 8.8 5.4 12.6 12 12.4 Z"),
    (Base, "M12 11 C14.6 4.6 19.6 3.2 21.4 5.2 C22.4 8.8 18.6 12.6 12 12.4 Z"),
    (Soft, "M12 12.4 C6.6 12.8 4.2 15.4 5.4 18.6 C8.4 20.2 11.2 17.6 12 13.4 Z"),
    (Soft, "M12 12.4 C17.4 12.8 19.8 15.4 18.6 18.6 C15.6 20.2 12.8 17.6 12 13.4 Z"),
    (Line, "M12 8.6 L12 18 M12 8.6 L10 5.4 M12 8.6 L14 5.4"),
];
pub const CAT: Icon = &[
    (
        Base,
        "M4.4 3.4 L8.8 6.4 C10.8 5.8 13.2 5.8 15.2 6.4 L19.6 3.4 C20.4 7 20.8 10.4 20.8 12.8 C20.8 17.4 17.2 20.6 12 20.6 C6.8 20.6 3.2 17.4 3.2 12.8 C3.2 10.4 3.6 7 4.4 3.4 Z",
    ),
    (Paper, "O 8.6 12 1.2"),
    (Paper, "O 15.4 12 1.2"),
    (Line, "M12 14.4 L12 15.8 M12 15.8 C11.2 17 10 17 9.4 16.4 M12 15.8 C12.8 17 14 17 14.6 16.4"),
];
pub const FISH: Icon = &[
    (Soft, "M15.6 12 L21.6 6.8 L21.6 17.2 Z"),
    (
        Base,
        "M2.4 12 C4.6 7.6 8 5.6 11.4 5.6 C14.4 5.6 16.8 8 18 12 C16.8 16 14.4 18.4 11.4 18.4 C8 18.4 4.6 16.4 2.4 12 Z",
    ),
    (Paper, "O 7.6 10.8 1.1"),
    (Line, "M11.4 9 C12.8 10.8 12.8 13.2 11.4 15"),
];
pub const PAW: Icon = &[
    (
        Base,
        "M12 11.4 C15 11.4 18 14.8 18 17.8 C18 20 16.4 21 14.6 20.6 C12.8 20.2 11.2 20.2 9.4 20.6 C7.6 21 6 20 6 17.8 C6 14.8 9 11.4 12 11.4 Z",
    ),
    (Base, "O 4.6 11.2 2"),
    (Base, "O 9.2 6 2.2"),
    (Base, "O 14.8 6 2.2"),
    (Base, "O 19.4 11.2 2"),
];
pub const SNAIL: Icon = &[
    (
        Paper,
        "M2.6 20.2 L20.2 20.2 C21.4 17.6 20.8 13.4 19.6 10.6 L17.4 11.4 C17.6 14.2 17 16 15 17 L6 17.4 C4.4 17.8 3.2 18.8 2.6 20.2 Z",
    ),
    (Base, "O 10 12.4 5.6"),
    (Line, "M10 12.4 C10 10.6 12.6 10.8 12.6 13 C12.6 15.6 7.6 15.8 7.4 12.4 M18.4 10.8 L17 7 M19.6 10.6 L20.8 7"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use base::model::drawing::Seg;

    /// Every letter of the data is read, and no point leaves the grid.
    #[test]
    fn all_data_is_read_and_stays_on_the_grid() {
        for icon in [
            ACORN,
            CACTUS,
            DAISY,
            FIR,
            MUSHROOM,
            POT_PLANT,
            SPROUT,
            TULIP,
            WHEAT,
            APPLE,
            CARROT,
            CUP,
            EGG,
            LOAF,
            POT,
            SPOON_AND_FORK,
            BOAT,
            BICYCLE,
            COMPASS,
            SUITCASE,
            TENT,
            BED,
            BROOM,
            HOUSE,
            KEY,
            LAMP,
            PAINT_ROLLER,
            FLASK,
            GLASSES,
            PENCIL,
            MORTAR_BOARD,
            SET_SQUARE,
            BALL,
            RACKET,
            TROPHY,
            WHISTLE,
            BEE,
            BIRD,
            BUTTERFLY,
            CAT,
            FISH,
            PAW,
            SNAIL,
        ] {
            for (_, data) in icon {
                let count = |c: char| data.matches(c).count();
                let segs = icons::path(data).0;
                assert_eq!(segs.len(), count('M') + count('L') + count('C') + count('Z') + 6 * count('O'), "{data}");
                let points = segs.iter().flat_map(|s| match *s {
                    Seg::Move(p) | Seg::Line(p) => vec![p],
                    Seg::Cubic(a, b, c) => vec![a, b, c],
                    Seg::Close => vec![],
                });
                assert!(
                    points.into_iter().all(|p| (0.0..=24.0).contains(&p.x) && (0.0..=24.0).contains(&p.y)),
                    "{data}"
                );
            }
        }
    }
}
