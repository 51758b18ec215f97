//! Figures: plants, kitchen, travel, home, study, sport and animals in round marks, all on the grid of the icons.

mod animals;
mod home;
mod kitchen;
mod plants;
mod study;
mod travel;

use super::builder::{MotifBuilder, mm};
use super::icons::{self, Icon};
use base::model::drawing::Path;

/// A round mark of 18 mm in the tint with a figure on it.
fn figure(k: &mut MotifBuilder, icon: Icon) {
    let r = k.sized(18.0, 18.0);
    let ground = k.ground;
    k.shape(Path::circle(r.centre(), r.w / 2.0), ground);
    k.icon(icon, r.centre(), mm(11.2));
}

macro_rules! figures {
    ($( $name:ident: $icon:expr, )*) => {
        $(
            pub fn $name(k: &mut MotifBuilder) {
                figure(k, $icon);
            }
        )*

        /// The icons of the figures, by their names with `_` for `-`.
        const NAMED: &[(&str, Icon)] = &[$((stringify!($name), $icon)),*];
    };
}

figures! {
    acorn: plants::ACORN,
    cactus: plants::CACTUS,
    clover: plants::CLOVER,
    daisy: plants::DAISY,
    fir: plants::FIR,
    mushroom: plants::MUSHROOM,
    palm: plants::PALM,
    pot_plant: plants::POT_PLANT,
    sprout: plants::SPROUT,
    tulip: plants::TULIP,
    twig: plants::TWIG,
    wheat: plants::WHEAT,
    apple: kitchen::APPLE,
    bottle: kitchen::BOTTLE,
    cake: kitchen::CAKE,
    carrot: kitchen::CARROT,
    cheese: kitchen::CHEESE,
    cherries: kitchen::CHERRIES,
    cup: kitchen::CUP,
    egg: kitchen::EGG,
    ice_cream: kitchen::ICE_CREAM,
    jar: kitchen::JAR,
    lemon: kitchen::LEMON,
    loaf: kitchen::LOAF,
    pear: kitchen::PEAR,
    pot: kitchen::POT,
    spoon_and_fork: kitchen::SPOON_AND_FORK,
    teapot: kitchen::TEAPOT,
    anchor: travel::ANCHOR,
    bicycle: travel::BICYCLE,
    boat: travel::BOAT,
    camera: travel::CAMERA,
    car: travel::CAR,
    compass: travel::COMPASS,
    lighthouse: travel::LIGHTHOUSE,
    plane: travel::PLANE,
    suitcase: travel::SUITCASE,
    tent: travel::TENT,
    train: travel::TRAIN,
    umbrella: travel::UMBRELLA,
    bed: home::BED,
    broom: home::BROOM,
    candle: home::CANDLE,
    chair: home::CHAIR,
    house: home::HOUSE,
    key: home::KEY,
    lamp: home::LAMP,
    paint_roller: home::PAINT_ROLLER,
    plug: home::PLUG,
    watering_can: home::WATERING_CAN,
    wool: home::WOOL,
    ball: study::BALL,
    flask: study::FLASK,
    glasses: study::GLASSES,
    globe: study::GLOBE,
    medal: study::MEDAL,
    mortar_board: study::MORTAR_BOARD,
    music_note: study::MUSIC_NOTE,
    palette: study::PALETTE,
    pencil: study::PENCIL,
    racket: study::RACKET,
    scissors: study::SCISSORS,
    set_square: study::SET_SQUARE,
    trophy: study::TROPHY,
    whistle: study::WHISTLE,
    bee: animals::BEE,
    bird: animals::BIRD,
    butterfly: animals::BUTTERFLY,
    cat: animals::CAT,
    duck: animals::DUCK,
    fish: animals::FISH,
    hedgehog: animals::HEDGEHOG,
    ladybird: animals::LADYBIRD,
    owl: animals::OWL,
    paw: animals::PAW,
    rabbit: animals::RABBIT,
    snail: animals::SNAIL,
    whale: animals::WHALE,
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

/// The icon of a figure, by the motif's name.
pub fn icon(name: &str) -> Option<Icon> {
    NAMED.iter().find(|(of, _)| of.len() == name.len() && of.replace('_', "-") == name).map(|(_, icon)| *icon)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every letter of the data is read, and no point leaves the grid.
    #[test]
    fn all_data_is_read_and_stays_on_the_grid() {
        for (_, data) in NAMED.iter().flat_map(|(_, icon)| *icon) {
            let count = |c: char| data.matches(c).count();
            let path = icons::path(data);
            assert_eq!(path.0.len(), count('M') + count('L') + count('C') + count('Z') + 6 * count('O'), "{data}");
            assert!(path.points().all(|p| (0.0..=24.0).contains(&p.x) && (0.0..=24.0).contains(&p.y)), "{data}");
        }
    }
}
