//! What the shop of a random book has and makes: a few things, so that the entries meet in the same lots.
//!
//! Three levels of products: axles, houses and trees; carts and villages of them; chests of both. Rates are chosen so that quantities
//! do not terminate (a blade per 45 minutes, a sheet per 18 carts).

use super::quantity_text::{Nano, ONE};

/// A thing that is counted.
pub(crate) struct ThingSpec {
    /// Its name.
    pub(crate) name: &'static str,
    /// Its unit.
    pub(crate) unit: &'static str,
    /// Its pack as counted by two, as by one, and what it holds.
    pub(crate) pack: Option<(&'static str, &'static str, Nano)>,
    /// The least amount of it that is written.
    pub(crate) grain: Nano,
    /// About what a unit costs, in cents; what a product is sold for.
    pub(crate) cents: i128,
    /// What it is.
    pub(crate) kind: Kind,
}

/// What a thing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Material,
    Wear,
    Packing,
    Product,
}

const HUNDREDTH: Nano = ONE / 100;

macro_rules! thing {
    ($name:literal, $unit:literal, $pack:expr, $grain:expr, $cents:literal, $kind:ident) => {
        ThingSpec { name: $name, unit: $unit, pack: $pack, grain: $grain, cents: $cents, kind: Kind::$kind }
    };
}

/// All things.
pub(crate) const THINGS: [ThingSpec; 18] = [
    thing!("oak", "bf", None, 5 * HUNDREDTH, 587, Material),
    thing!("ply", "sq ft", Some(("sheets", "sheet", 7_500_000_000)), 25 * HUNDREDTH, 143, Material),
    thing!("peg", "ea", Some(("bags", "bag", 12 * ONE)), ONE, 23, Material),
    thing!("oil", "ml", Some(("cans", "can", 473 * ONE)), ONE, 4, Material),
    thing!("cord", "m", None, 10 * HUNDREDTH, 31, Material),
    thing!("sack", "ea", None, ONE, 117, Material),
    thing!("pin", "ea", None, ONE, 11, Material),
    thing!("oak-offcut", "bf", None, 5 * HUNDREDTH, 90, Material),
    thing!("blade", "ea", Some(("packs", "pack", 12 * ONE)), ONE, 149, Wear),
    thing!("disc", "ea", None, ONE, 67, Wear),
    thing!("carton", "ea", Some(("bundles", "bundle", 10 * ONE)), ONE, 53, Packing),
    thing!("axle", "ea", None, ONE, 300, Product),
    thing!("house", "ea", None, ONE, 500, Product),
    thing!("tree", "ea", None, ONE, 300, Product),
    thing!("cart", "ea", None, ONE, 4200, Product),
    thing!("village", "ea", None, ONE, 6800, Product),
    thing!("chest", "ea", None, ONE, 14500, Product),
    thing!("spoon", "ea", None, ONE, 1800, Product),
];

/// The things that batches make from a recipe.
pub(crate) const PRODUCTS: [&str; 7] = ["axle", "house", "tree", "cart", "village", "chest", "spoon"];

/// What is known of a thing.
pub(crate) fn spec(name: &str) -> &'static ThingSpec {
    THINGS.iter().find(|thing| thing.name == name).unwrap_or(&THINGS[0])
}

/// A recipe: what is needed, as (thing, quantity, for so many pieces, as written), and the time, as (step, minutes, for so many).
#[derive(Clone, Debug)]
pub(crate) struct Recipe {
    pub(crate) needs: Vec<(&'static str, Nano, i128, String)>,
    pub(crate) takes: Vec<(&'static str, i128, i128)>,
}

fn need(thing: &'static str, hundredths: i128) -> (&'static str, Nano, i128, String) {
    let nano = hundredths * HUNDREDTH;
    (thing, nano, 1, counted(thing, nano))
}

/// A count of a thing as it is written: `5 house`, `0.8 bf oak`.
pub(crate) fn counted(thing: &str, nano: Nano) -> String {
    let spec = spec(thing);
    let number = super::quantity_text::quantity(nano);
    if spec.unit == "ea" { format!("{number} {thing}") } else { format!("{number} {} {thing}", spec.unit) }
}

/// A count that names its unit where the thing has packs, as purchases ask.
pub(crate) fn counted_in_units(thing: &str, nano: Nano) -> String {
    let number = super::quantity_text::quantity(nano);
    format!("{number} {} {thing}", spec(thing).unit)
}

/// The recipe of a product when the book begins.
pub(crate) fn first_recipe(product: &str) -> Recipe {
    let (needs, takes) = match product {
        "axle" => (vec![need("oak", 15)], vec![("cutting", 7, 1)]),
        "house" => (
            vec![need("oak", 10), ("oil", 3 * ONE, 2, "3 ml oil per 2 ea".to_owned())],
            vec![("cutting", 4, 1), ("sanding", 3, 1)],
        ),
        "tree" => (vec![need("oak", 5), need("pin", 100)], vec![("cutting", 2, 1)]),
        "cart" => (
            vec![
                need("axle", 200),
                need("oak", 80),
                need("peg", 400),
                need("oil", 1200),
                ("ply", 7_500_000_000, 18, "1 sheet ply per 18 ea".to_owned()),
            ],
            vec![("cutting", 18, 1), ("sanding", 11, 1)],
        ),
        "village" => (vec![need("house", 300), need("tree", 200), need("sack", 100)], vec![("gluing", 4, 1)]),
        "chest" => (vec![need("village", 100), need("cart", 100), need("cord", 30)], vec![("gluing", 13, 1), ("sanding", 5, 1)]),
        _ => (vec![need("oak", 20)], vec![("cutting", 8, 1), ("sanding", 9, 1)]),
    };
    Recipe { needs, takes }
}

/// What a step wears: thing, how much, per so many minutes.
pub(crate) fn first_wear(step: &str) -> Vec<(&'static str, Nano, i128)> {
    match step {
        "cutting" => vec![("blade", ONE, 45)],
        "sanding" => vec![("disc", ONE, 130), ("blade", ONE, 700)],
        "general" => vec![("blade", ONE, 330)],
        _ => Vec::new(),
    }
}

/// The steps at which goods are made.
pub(crate) const WORK_STEPS: [&str; 3] = ["cutting", "sanding", "gluing"];
