//! What a random book makes known.

use super::block::Block;
use super::catalogue::{Kind, PRODUCTS, THINGS, first_recipe, first_wear};
use super::quantity_text::{money, quantity};
use super::settings::Settings;

/// All definitions.
pub(crate) fn definitions(settings: &Settings) -> Vec<Block> {
    let mut blocks = vec![shop(settings)];
    for (step, title) in [("cutting", "Cutting"), ("sanding", "Sanding"), ("gluing", "Gluing"), ("general", "Sweeping")] {
        let mut lines: Vec<String> =
            first_wear(step).iter().map(|(thing, much, per)| format!("wears {} {thing} per {per}m", quantity(*much))).collect();
        if step == "general" {
            lines.push("indirect".to_owned());
        }
        blocks.push(Block { day: None, head: format!("step {step} \"{title}\""), lines });
    }
    blocks.extend(THINGS.iter().filter(|thing| thing.kind != Kind::Product).map(|thing| {
        let mut lines = vec![format!("measured in {}", thing.unit)];
        match thing.kind {
            Kind::Wear => lines.push("as wear".to_owned()),
            Kind::Packing => lines.push("as packing".to_owned()),
            Kind::Material | Kind::Product => {}
        }
        if thing.name == "oak-offcut" {
            lines.push("from oak".to_owned());
        }
        if let Some((_, one, holds)) = thing.pack {
            lines.push(format!("1 {one} = {} {}", quantity(holds), thing.unit));
        }
        Block { day: None, head: format!("material {} \"{}\"", thing.name, thing.name), lines }
    }));
    blocks.extend(PRODUCTS.iter().map(|name| {
        let recipe = first_recipe(name);
        let mut lines: Vec<String> = recipe.needs.iter().map(|(.., text)| format!("needs {text}")).collect();
        let takes: Vec<String> = recipe.takes.iter().map(|(step, minutes, _)| format!("{minutes} min {step}")).collect();
        lines.push(format!("takes {}", takes.join(", ")));
        let price = THINGS.iter().find(|thing| thing.name == *name).map_or(0, |thing| thing.cents);
        lines.push(format!("price {}", money(price)));
        match *name {
            "cart" => lines.push("pattern cart-plan".to_owned()),
            "spoon" => lines.push("pattern spoon-plan".to_owned()),
            _ => {}
        }
        lines.push(format!("line {}", if matches!(*name, "spoon" | "axle") { "small-wares" } else { "sets" }));
        Block { day: None, head: format!("product {name} \"{name}\""), lines }
    }));
    blocks.extend(fixed());
    blocks
}

fn shop(settings: &Settings) -> Block {
    let mut lines = vec![
        format!("costing {}", if settings.average { "average" } else { "fifo" }),
        "tax form us-schedule-c".to_owned(),
        format!("{} basis", if settings.cash { "cash" } else { "accrual" }),
        format!("stock kept as {}", if settings.supplies { "supplies" } else { "inventory" }),
        "sales-tax to home-state".to_owned(),
    ];
    if let Some(cents) = settings.owner_cents {
        lines.push(format!("owner time {} per h", money(cents)));
    }
    match settings.overhead_cents {
        // Some books come to expenses by a change alone.
        Some(cents) if cents % 2 == 0 || !settings.overhead_from_expenses => {
            lines.push(format!("overhead {} per h", money(cents)))
        }
        _ if settings.overhead_from_expenses => lines.push("overhead from expenses".to_owned()),
        _ => {}
    }
    if settings.short_is_a_warning {
        lines.push("short stock is a warning".to_owned());
    }
    Block { day: None, head: "shop \"Wren & Gable Woodshop\"".to_owned(), lines }
}

fn fixed() -> Vec<Block> {
    vec![
        Block::definition("place bench \"Home workshop\"", &["home"]),
        Block::definition("place barn \"Rack in the barn\"", &[]),
        Block::definition("place gift-shop \"Shelf at the gift shop\"", &[]),
        Block::definition("line sets \"Carts and villages\"", &[]),
        Block::definition("line small-wares \"Small wares\"", &[]),
        Block::definition("pattern cart-plan \"Cart plan\"", &["allows 5 ea for sale", "royalty 0.53 per ea", "paid later"]),
        Block::definition("pattern spoon-plan \"Spoon plan\"", &["royalty 0.335 per ea"]),
        Block::definition("helper sam \"Sam\"", &["contractor", "costs 18.00 per h", "paid later"]),
        Block::definition("helper jamie \"Jamie\"", &["employee", "costs 16.35 per h"]),
        Block::definition("channel web-page \"Own web page\"", &["fee 3% of total", "fee 0.25 per sale"]),
        Block::definition(
            "channel market-site \"A marketplace\"",
            &["fee 7% of total", "fee 0.25 per item", "pays later", "sales-tax collected by channel"],
        ),
        Block::definition(
            "channel craft-fair \"Booth at fairs\"",
            &["fee 1.5% of goods", "fee 2.5% of card", "prices include sales-tax 6%"],
        ),
        Block::definition("channel gift-shop \"Consignment\"", &["consignment 40%"]),
        Block::definition("channel corner-store \"Wholesale\"", &["wholesale 50%"]),
        Block::definition("channel school-club \"Catalogue\"", &["fee 5% of goods", "pays later"]),
        Block::definition("expense booth-fee \"Booth fees\"", &["form line other"]),
        Block::definition("expense phone \"Telephone\"", &["form line 25", "business use 60%", "counts as overhead"]),
        Block::definition("expense supplies \"Supplies nobody counts\"", &["form line 22", "counts as overhead"]),
        Block::definition("income engraving \"Engraving\"", &["form line 1"]),
        Block::definition("income referrals \"Referrals\"", &["form line 6"]),
        Block::definition("tool saw \"Saw\"", &["expensed at once", "business use 90%", "lasts 4 years"]),
        Block::definition("tool jig \"Jig\"", &["expensed at once", "lasts 1 years"]),
    ]
}
