//! Names as such: one set, spelled once, found in any file and order.

use super::*;
use crate::diagnostics::corrected_lines;

const SHOP: &str = "shop \"S\"\n    currency USD\nplace bench \"B\"\n    home\n";

fn told_in_shop(text: &str) -> Vec<String> {
    messages(&read_files(&[SHOP, text]).found)
}

#[test]
fn the_small_shop_has_nothing_to_tell() {
    assert_eq!(told(""), [""; 0]);
}

#[test]
fn of_several_words_a_defined_name_is_offered() {
    let names = "step rip-cut \"Rip cut\"\nproduct stool \"Stool\"\nmaterial hard-maple \"Hard maple\"\n    measured in bf\n";
    let (worked, bought) = ("worked 2026-03-08", "bought 2026-03-02 from yard");
    let rows: [(&str, &str, &[&str]); 10] = [
        (worked, "1h fine sanding", &["1h sanding \"fine\""]),
        (worked, "1h 20m fine sanding on stool", &["1h 20m sanding on stool \"fine\""]),
        (worked, "45 min rip cut, 1h sanding", &["45 min rip-cut, 1h sanding"]),
        (worked, "45m sanding stool", &["45m sanding on stool"]),
        (bought, "5 bf red oka at 5.90", &["5 bf red-oak at 5.90"]),
        (bought, "5 bf hard maple at 5.90", &["5 bf hard-maple at 5.90"]),
        (bought, "5 bf \"oak\" at 5.90", &["5 bf red-oak at 5.90"]),
        (bought, "5 bf soft cherry at 5.90", &[]),
        ("", "sold 2026-03-20 via web page", &["sold 2026-03-20 via web-page"]),
        ("", "sold 2026-03-20 via own web-page", &["sold 2026-03-20 via web-page"]),
    ];
    for (head, line, lines) in rows {
        let text = if head.is_empty() { format!("{names}{line}\n") } else { format!("{names}{head}\n    {line}\n") };
        let read = read(&text);
        let told: Vec<_> = read.found.iter().filter(|one| [159, 164].contains(&one.code.0)).collect();
        let offered = told.iter().flat_map(|one| &one.fixes).map(|fix| corrected_lines(&read.sources, fix).text);
        let offered: Vec<_> = offered.map(|line| line.trim_start().to_owned()).collect();
        assert_eq!(
            (told.len(), offered.as_slice()),
            (1, lines.iter().map(|line| (*line).to_owned()).collect::<Vec<_>>().as_slice()),
            "{line}"
        );
        assert!(told.iter().all(|one| one.joined.is_none()));
    }
}

#[test]
fn a_name_that_is_a_part_of_a_defined_one_is_told_with_it() {
    let read = read("product stool \"Stool\"\n    needs 1 bf oak\n");
    assert_eq!(messages(&read.found), ["K200: `oak` is not defined"]);
    assert_eq!(read.found[0].fixes.iter().map(|fix| fix.replacement.as_str()).collect::<Vec<_>>(), ["red-oak"]);
}

#[test]
fn files_and_their_order_give_the_same_ids() {
    let parts = [
        "shop \"S\"\n    currency USD\n",
        "place bench \"B\"\n    home\n",
        "material oak \"Oak\"\n    measured in bf\n",
        "material ash \"Ash\"\n    measured in bf\n",
        "product tray \"Tray\"\n    needs 2 bf oak, 1 bf ash\n",
        "built 2026-01-02 batch T-1\n    made 1 tray\n",
        "bought 2026-01-01 from yard receipt \"R\"\n    2 bf oak for 9.00\n",
    ];
    let one = read_files(&[&parts.concat()]);
    let mut turned = parts;
    turned.reverse();
    let many = read_files(&turned);
    assert_eq!(messages(&one.found), [""; 0]);
    let needs = |read: &Read| read.thing("tray").needs.first().iter().map(|need| (need.thing, need.quantity)).collect::<Vec<_>>();
    assert_eq!(needs(&one), needs(&many));
    assert_eq!(needs(&one).iter().map(|(thing, _)| *thing).collect::<Vec<_>>(), [ThingId(1), ThingId(0)]);
    assert_eq!(one.book.table, many.book.table);
    assert_eq!(one.book.labels, many.book.labels);
    assert_eq!(one.book.labels, ["R", "T-1", "yard"]);
}

#[test]
fn a_name_defined_twice_is_told_with_both_places() {
    let read = read_files(&[SHOP, "line toys \"Toys\"\n", "income toys \"Toys\"\n"]);
    assert_eq!(messages(&read.found), ["K202: `toys` is defined twice"]);
    let [one] = read.found.as_slice() else { unreachable!() };
    assert_eq!(read.sources.text(one.primary.span), "toys");
    assert_eq!(one.secondary.len(), 1);
    assert_eq!(read.sources.file_at(one.secondary[0].span.start).map(|file| file.path.as_str()), Some("1.kerf"));
}

#[test]
fn a_place_and_a_channel_may_share_a_name() {
    let read = read("");
    let Some(Known::Channel(channel)) = read.book.table.get("gift-shop") else { panic!("no channel") };
    let place = read.book.channel(*channel).place.expect("a place");
    assert_eq!(read.book.place(place).named.title, "Shelf at the gift shop");
    assert_eq!(told_in_shop("place a \"A\"\nchannel a \"A\"\nchannel a \"A\"\n"), ["K202: `a` is defined twice"]);
}

#[test]
fn two_names_that_differ_only_in_case_are_a_mistake() {
    let text = "line oak \"Oak\"\nproduct Oak \"Oak\"\n";
    assert_eq!(told_in_shop(text), ["K203: `Oak` and `oak` differ only in small and capital letters"]);
}

#[test]
fn names_are_compared_composed() {
    let text = "line caf\u{e9} \"C\"\nincome cafe\u{301} \"C\"\n";
    assert_eq!(told_in_shop(text), ["K202: `caf\u{e9}` is defined twice"]);
}

#[test]
fn a_plural_of_another_countable_name_is_a_mistake() {
    assert_eq!(told_in_shop("product cart \"C\"\nproduct carts \"C\"\n"), ["K204: `carts` is the plural of `cart`"]);
    assert_eq!(told_in_shop("product box \"C\"\ntool boxes \"C\"\n"), ["K204: `boxes` is the plural of `box`"]);
    assert_eq!(told_in_shop("product cart \"C\"\nline carts \"C\"\n"), [""; 0]);
}

#[test]
fn a_title_must_say_something() {
    assert_eq!(told_in_shop("line toys \"\"\n"), ["K206: `line toys` has an empty title"]);
    assert_eq!(messages(&read_files(&["shop \"\"\n    currency USD\n"]).found), ["K206: the shop has an empty title"]);
}

#[test]
fn a_book_has_one_shop() {
    assert_eq!(told_in_shop("shop \"T\"\n    currency EUR\n"), ["K207: a book has one `shop`"]);
    assert_eq!(messages(&read_files(&["line a \"A\"\n"]).found), ["K900: the book has no `shop`"]);
    assert_eq!(messages(&read_files(&["# nothing yet\n"]).found), ["K900: the book has no `shop`"]);
    assert_eq!(messages(&read_files(&["2 cart\n"]).found).iter().filter(|told| told.starts_with("K900")).count(), 0);
    assert_eq!(
        messages(&read_files(&["shop \"S\"\n"]).found),
        ["K900: the shop doesn't say its currency; US dollars are assumed"]
    );
}

#[test]
fn a_head_that_could_not_be_read_poisons_its_name_and_is_told_once() {
    let told = told("material cherry Cherry\n    measured in bf\nproduct tray \"Tray\"\n    needs 2 bf cherry\n");
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!(!told[0].starts_with("K2"), "{told:#?}");
}

#[test]
fn an_unread_line_of_a_material_may_be_the_one_that_measures_it() {
    let told = told("material cherry \"Cherry\"\n    measured bf\nproduct tray \"Tray\"\n    needs 2 bf cherry\n");
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!(!told[0].starts_with("K2"), "{told:#?}");
}

#[test]
fn home_is_the_place_that_says_so_or_the_only_one_that_is_no_channel() {
    let home = |text: &str| {
        let read = read_files(&[text]);
        let home = read.book.shop.home.map(|home| read.book.place(home).named.name.clone());
        (home, messages(&read.found))
    };
    let shop = "shop \"S\"\n    currency USD\nmaterial oak \"Oak\"\n    measured in bf\n";
    let needed = "found 2026-01-01\n    1 bf oak\n";
    let both = |more: &str| home(&format!("{shop}{more}{needed}"));
    assert_eq!(both("place bench \"B\"\n"), (Some("bench".into()), vec![]));
    assert_eq!(both("place bench \"B\"\nplace shelf \"S\"\nchannel shelf \"S\"\n"), (Some("bench".into()), vec![]));
    assert_eq!(both("place bench \"B\"\nplace barn \"S\"\n    home\n"), (Some("barn".into()), vec![]));
    assert_eq!(both("place bench \"B\"\nplace barn \"S\"\n"), (None, vec!["K212: it isn't known which place is home".into()]));
    assert_eq!(both(""), (None, vec!["K212: it isn't known which place is home".into()]));
    let two = both("place bench \"B\"\n    home\nplace barn \"S\"\n    home\n");
    assert_eq!(two.1, ["K212: `barn` and `bench` both say `home`"]);
    let unneeded = home(&format!("{shop}place bench \"B\"\nplace barn \"S\"\nnoted 2026-01-01 \"n\"\n"));
    assert_eq!(unneeded, (None, vec![]));
    let elsewhere = home(&format!("{shop}place bench \"B\"\nplace barn \"S\"\nfound 2026-01-01 at barn\n    1 bf oak\n"));
    assert_eq!(elsewhere, (None, vec![]));
}

#[test]
fn a_volume_is_turned_into_a_weight_by_the_line_that_says_how() {
    let told = told_in_shop(
        "material oil \"Oil\"\n    measured in oz\n    1 qt = 32 oz\nproduct board \"Board\"\n    needs 1 qt oil, 1 pt oil\n",
    );
    assert_eq!(told, [""; 0]);
}
