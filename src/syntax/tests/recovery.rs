//! Lines in the wrong place and lines that can't be read: each is told once, and what stands around it is kept.

use super::{Read, read};
use crate::syntax::{DefinitionWord, Verb};

fn codes(book: &Read) -> Vec<u16> {
    book.found.iter().map(|one| one.code.0).collect()
}

fn verbs(book: &Read) -> Vec<Verb> {
    book.syntax.entries.iter().map(|one| one.verb).collect()
}

#[test]
fn a_detail_at_column_one_stays_in_the_entry_above_and_is_told() {
    let book = read("built 2026-03-09 batch B\n    used 1 oak\nkept 0.6 bf offcut\n    made 1 cart\n");
    assert_eq!(codes(&book), [101]);
    assert_eq!(verbs(&book), [Verb::Built]);
    assert_eq!(book.syntax.entries[0].details.len(), 3);
    let fix = &book.found[0].fixes[0];
    assert_eq!(fix.replacement, "    kept 0.6 bf offcut");
    for line in ["paid 2026-03-30", "5.00 for oil", "2 cart"] {
        let book = read(&format!("bought 2026-03-09\n{line}\n    1 oak for 5.00\n"));
        assert_eq!(codes(&book), [101], "{line}");
        assert_eq!(book.syntax.entries[0].details.len(), 2, "{line}");
    }
}

#[test]
fn details_at_column_one_below_each_other_are_told_at_once() {
    let book = read("bought 2026-03-09\n1 oak for 5.00\n\n# the sander\n2 belt for 6.00\ntotal 11.00\n    unpaid\nnote \"x\"\n");
    assert_eq!(codes(&book), [101, 101]);
    assert_eq!(book.syntax.entries[0].details.len(), 5);
    assert_eq!(book.found[0].message, "indent these 3 lines: they belong to the entry above");
    let fix = &book.found[0].fixes[0];
    assert_eq!(fix.replacement, "    1 oak for 5.00\n\n    # the sander\n    2 belt for 6.00\n    total 11.00");
    assert_eq!(book.found[1].fixes[0].replacement, "    note \"x\"");
    let many = read(&format!("bought 2026-03-09\n{}", "1 oak for 5.00\n".repeat(45)));
    assert_eq!(codes(&many), [101, 101, 101]);
}

#[test]
fn a_detail_at_column_one_that_has_no_place_above_is_told_for_that_alone() {
    for line in ["line toys", "pattern p", "gave 2 cart", "home", "aims at 2 cart"] {
        let text = format!("bought 2026-03-09\n{line}\n    1 oak for 5.00\n");
        let book = read(&text);
        assert_eq!(codes(&book), [0_u16; 0], "{line}");
        assert_eq!(book.syntax.entries[0].details.len(), 2, "{line}");
        let mut found = crate::diagnostics::Diagnostics::default();
        let _ = crate::syntax::parse_book(&book.sources, &mut found);
        let told: Vec<_> = found.into_sorted().iter().map(|one| one.code.0).collect();
        assert_eq!(told, [180], "{line}");
    }
}

#[test]
fn a_payment_at_column_one_with_sums_below_or_no_place_above_is_an_entry_without_its_payee() {
    let sale = "sold 2026-03-20 via web-page\n    2 cart\n";
    let own = read(&format!("{sale}paid 2026-03-05\n    # the fair\n\n    85.00 for booth-fee\n"));
    assert_eq!((codes(&own), verbs(&own)), (vec![185], vec![Verb::Sold, Verb::Paid]));
    assert_eq!(own.syntax.entries[1].date.map(|date| date.to_string()), Some("2026-03-05".to_owned()));
    let of_the_sale = read(&format!("{sale}paid 2026-03-05\n    1 oak for 5.00\n"));
    assert_eq!((codes(&of_the_sale), verbs(&of_the_sale)), (vec![101], vec![Verb::Sold]));
    let after_a_place = read("place loft \"Loft\"\npaid 2026-03-05 \"county fair\"\n");
    assert_eq!(codes(&after_a_place), [185]);
    assert_eq!(after_a_place.found[0].fixes[0].replacement, "to ");
}

#[test]
fn an_indented_head_begins_a_block_and_is_told() {
    let book = read("built 2026-03-09 batch B\n    made 1 cart\n  sold 2026-03-10 via fair\n    1 cart for 5.00\n");
    assert_eq!(codes(&book), [102]);
    assert_eq!(verbs(&book), [Verb::Built, Verb::Sold]);
    assert_eq!(book.syntax.entries[1].details.len(), 1);
    assert_eq!(book.text(book.found[0].fixes[0].span), "  ");
    let book = read("shop \"A\"\n\tmaterial oak \"Oak\"\n    measured in bf\n");
    assert_eq!(codes(&book), [102]);
    assert_eq!(book.syntax.definitions.len(), 2);
    let book = read("shop \"A\"\n line toys \"Toys\"\n paid 2026-03-05 to sam\n    5.00 for sam\n");
    assert_eq!(codes(&book), [102, 102]);
    assert_eq!(book.syntax.entries[0].details.len(), 1);
}

#[test]
fn an_indented_verb_with_a_date_and_a_bad_rest_begins_a_damaged_entry() {
    let book = read("built 2026-03-09 batch B\n    made 1 cart\n  sold 2026-03-10 vai fair\n    1 cart for 5.00\n");
    assert_eq!(book.found.len(), 1);
    assert_eq!(verbs(&book), [Verb::Built, Verb::Sold]);
    assert!(book.syntax.entries[1].damaged);
    assert_eq!(book.syntax.entries[1].details.len(), 1);
}

#[test]
fn a_head_with_a_known_first_word_and_a_bad_rest_keeps_its_details() {
    let book = read("sold 2026-03-20 vai web-page # oh\n    2 pull-cart\n    total 5.00\nnoted 2026-03-21 \"x\"\n");
    assert_eq!(book.found.len(), 1);
    let entry = &book.syntax.entries[0];
    assert_eq!((entry.verb, entry.damaged, entry.details.len()), (Verb::Sold, true, 2));
    assert_eq!(entry.date.map(|date| date.to_string()), Some("2026-03-20".to_owned()));
    assert_eq!(book.text(entry.head), "sold 2026-03-20 vai web-page");
    let poisoned: Vec<&str> = book.syntax.poisoned_names.iter().map(|span| book.text(*span)).collect();
    assert_eq!(poisoned, ["vai", "web-page"]);
}

#[test]
fn a_definition_without_a_title_in_quotes_keeps_its_name_and_lines() {
    let book = read("product pull-cart Pull-along cart\n    price 42.00\n");
    assert_eq!(book.found.len(), 1);
    let one = &book.syntax.definitions[0];
    assert_eq!((one.word, book.text(one.name), one.damaged, one.details.len()), (DefinitionWord::Product, "pull-cart", true, 1));
    assert_eq!(book.syntax.poisoned_names, []);
}

#[test]
fn a_bad_date_damages_its_entry_and_is_told_where_it_stands() {
    let book = read("sold 2026-02-29 via web-page\n    2 pull-cart\n");
    assert_eq!(codes(&book), [110]);
    assert_eq!(book.found[0].message, "February 2026 has 28 days");
    assert_eq!(book.text(book.found[0].primary.span), "2026-02-29");
    let entry = &book.syntax.entries[0];
    assert_eq!((entry.damaged, entry.date, entry.details.len()), (true, None, 1));
}

#[test]
fn after_an_unknown_head_the_lines_go_to_a_block_that_moves_nothing() {
    let book = read(
        "built 2026-03-09 batch B\n    made 1 cart\nflogged 2026-03-10 via fair\n    1 cart for 5.00\n    bosh\nprodukt big-cart \"Cart\"\n    price 4.00\n",
    );
    assert_eq!(book.found.len(), 3, "{:?}", book.found);
    assert_eq!(book.syntax.entries[0].details.len(), 1);
    let unknown = &book.syntax.entries[1];
    assert_eq!((unknown.verb, unknown.damaged, unknown.details.len(), unknown.unread.len()), (Verb::Noted, true, 0, 2));
    let poisoned: Vec<&str> = book.syntax.poisoned_names.iter().map(|span| book.text(*span)).collect();
    assert_eq!(poisoned, ["flogged", "fair", "produkt", "big-cart"]);
}

#[test]
fn a_head_that_can_only_be_meant_for_one_verb_keeps_its_lines() {
    let book = read("solt 2026-03-10 via fair\n    1 cart for 5.00\n    bosh\n");
    assert_eq!(book.found.len(), 2, "{:?}", book.found);
    let meant = &book.syntax.entries[0];
    assert_eq!((meant.verb, meant.damaged, meant.details.len(), meant.unread.len()), (Verb::Sold, true, 1, 1));
}

#[test]
fn an_unread_line_at_column_one_that_is_no_head_stays_in_the_block() {
    let book = read("built 2026-03-09 batch B\nthis is a comment without its sign\n    made 1 cart\n");
    assert_eq!(book.found.len(), 1);
    assert_eq!((book.syntax.entries[0].details.len(), book.syntax.entries[0].unread.len()), (1, 1));
}

#[test]
fn blank_lines_and_comments_neither_begin_nor_end_a_block() {
    let book = read(
        "\n# head\nbuilt 2026-03-09 batch B\n\n    used 1 oak # of the good pile\n# at column 1\n   \n\t\n    # indented\n#\n    made 1 cart\n\n",
    );
    assert_eq!(book.found, []);
    let entry = &book.syntax.entries[0];
    assert_eq!(entry.details.len(), 2);
    assert_eq!(book.text(entry.details[0].span), "used 1 oak");
    assert!(book.text(entry.span).ends_with("made 1 cart"));
}

#[test]
fn details_before_any_head_are_told_once_a_file() {
    let book = read("    used 1 oak\n    made 1 cart\n  bosh\nkept 1 oak\nworked 2026-03-08\n    30m general\n");
    assert_eq!(codes(&book), [103]);
    // The lines stand as unread ones of an entry that moves nothing.
    assert_eq!(verbs(&book), [Verb::Noted, Verb::Worked]);
    assert_eq!(book.syntax.entries[0].unread.len(), 4);
}

#[test]
fn a_bad_number_goes_to_the_unread_lines_and_the_rest_goes_on() {
    let book = read("sold 2026-03-20 via fair\n    1/3 pull-cart for 5.00\n    1 village-set\n");
    assert_eq!(codes(&book), [106]);
    let entry = &book.syntax.entries[0];
    assert_eq!((entry.details.len(), entry.unread.len()), (1, 1));
    assert_eq!(book.text(entry.unread[0]), "1/3 pull-cart for 5.00");
}

#[test]
fn curly_quotes_tabs_and_no_break_spaces_read_as_plain_ones() {
    let book = read(
        "sold\u{a0}2026-03-20\tvia fair order “W-1”\n\tto „J. in Dover“\n\u{a0}\u{a0}2\u{a0}sq\u{a0}ft cloth at 5.00 “blue” # x\n    1 cart#y\n    note \"a # b\"#c\n",
    );
    assert_eq!(book.found, []);
    let entry = &book.syntax.entries[0];
    assert_eq!(book.head(entry), "Sold 2026-03-20 Via(<fair>) Order(<W-1>)");
    assert_eq!(book.text(entry.head), "sold\u{a0}2026-03-20\tvia fair order “W-1”");
    let details: Vec<String> = entry.details.iter().map(|one| book.detail(one)).collect();
    assert_eq!(
        details,
        [
            "To(Party { span: <J. in Dover>, quoted: true })",
            "Bare: 2 [sq\u{a0}ft] cloth, At(5.00) \"blue\"",
            "Bare: 1 cart",
            "Note(<a # b>)"
        ]
    );
    assert_eq!(book.text(entry.details[1].span), "2\u{a0}sq\u{a0}ft cloth at 5.00 “blue”");
}

#[test]
fn damage_to_one_line_is_told_once() {
    let text = include_str!("every_form.kerf");
    let lines: Vec<&str> = text.lines().collect();
    let heads: Vec<usize> = (0..lines.len()).filter(|at| lines[*at].starts_with(|c: char| c.is_alphabetic())).collect();
    let (mut mutants, mut more_than_one, mut worst) = (0, Vec::new(), 0);
    for (at, line) in lines.iter().enumerate() {
        let bare = line.trim_start();
        if bare.is_empty() || bare.starts_with('#') {
            continue;
        }
        // Its block, and one above and one below it.
        let block = heads.partition_point(|head| *head <= at);
        let (above, below) = (heads[block.saturating_sub(2)], heads.get(block + 1).copied().unwrap_or(lines.len()));
        let indent = &line[..line.len() - bare.len()];
        let changed = [
            bare.to_owned(),
            format!("    {line}"),
            format!("{indent}q{}", bare.chars().skip(1).collect::<String>()),
            format!("{indent}{}", bare.replacen(' ', "  ", 1).replacen(|c: char| c.is_ascii_digit(), "z", 1)),
        ];
        for mutant in changed {
            let mut damaged = lines[above..below].to_vec();
            damaged[at - above] = &mutant;
            let book = read(&damaged.join("\n"));
            mutants += 1;
            worst = worst.max(book.found.len());
            if book.found.len() > 1 {
                more_than_one.push(mutant);
            }
        }
    }
    assert!(mutants > 900, "{mutants}");
    assert!(more_than_one.len() <= 3 && worst <= 2, "{worst} {more_than_one:#?}");
}
