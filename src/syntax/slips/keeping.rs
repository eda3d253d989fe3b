//! Slips of heads that say what is kept, of sales at lower prices, and of who is paid: `kept 2026-01-05 1 stool as sample`, `changed 2026-07-15 fair 20% off`,
//! `paid 2026-02-14 for fair`.

use super::no_entry::as_text;
use super::slip::{Slip, SlipRule};
use super::spoken::{one_name, sum_of};
use super::typed::{Typed, is_number};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{HEAD_PART_WORD, UNKNOWN_HEAD};

pub(super) const RULES: &[SlipRule] = &[
    kept_as_a_head,
    left_with,
    percent_of_a_place,
    lower_prices,
    paid_for,
    settled_as_a_head,
    price_as_a_head,
    refunded_as_a_head,
    batch_for_somebody,
    batch_by_another_word,
];

/// `kept 2026-01-05 1 stool as sample`, `kept 2026-01-18 6 sq ft offcut from walnut`
fn kept_as_a_head(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.context.column_one && typed.word(0).is_one_of(&["kept", "keep", "keeping"]);
    let day = typed.word(1);
    if !here || !day.is_date() {
        return None;
    }
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), "`kept` is a line of the batch from which something was kept: `kept 2 bf offcut worth 3.00`")
        .note("a piece that is kept to be shown stays on the shelf and needs no entry; one that is kept for the shop's use is `used-up`, one that you keep for yourself `took-home`");
    // The goods end where it is said why, or from what.
    let end = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["as", "for", "from", "to", "of", "in"]));
    let goods = typed.slice(2..end.unwrap_or(typed.words.len()));
    if goods.is_empty() {
        let slip = slip.fix("for yourself", format!("took-home {}", day.text));
        return Some(slip.fix("or an offcut that no batch of this book left", format!("found {}", day.text)));
    }
    let slip = slip.fix("for yourself", format!("took-home {}\n{goods}", day.text));
    Some(slip.fix("for the shop's own use", format!("used-up {}\n{goods}", day.text)))
}

/// `price 2026-11-15 lip-balm 4.50`: a new price from a day on
fn price_as_a_head(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.context.column_one && typed.word(0).is_one_of(&["price", "prices", "repriced", "raised", "lowered"]);
    let day = (1..typed.words.len()).find(|at| typed.word(*at).is_date()).filter(|_| here)?;
    let name =
        (1..typed.words.len()).find(|at| typed.word(*at).is_name() && !typed.word(*at).is_one_of(&["price", "to", "from"]))?;
    let sum = (1..typed.words.len()).rev().find_map(|at| sum_of(typed, at).filter(|_| at != day))?;
    let right = format!("changed {} {}\nprice {sum}", typed.word(day).text, typed.word(name).text);
    Some(
        Slip::new(UNKNOWN_HEAD, typed.range(0..1), "a price that is another from a day on is `changed`")
            .fix("write it so", right),
    )
}

/// `refunded 2026-11-15 to Carla 4.00 "one was short"`: money back to a buyer
fn refunded_as_a_head(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.context.column_one && typed.word(0).is_one_of(&["refunded", "refund"]) && typed.word(1).is_date();
    let to = typed.words.iter().position(|word| word.is("to")).filter(|_| here)?;
    let sum = (2..typed.words.len()).find_map(|at| sum_of(typed, at))?;
    let said = typed.words.iter().skip(to).filter(|word| word.text != sum);
    let said = said.map(|word| word.text.trim_matches(super::typed::is_quote)).collect::<Vec<_>>().join(" ");
    let slip = Slip::new(
        UNKNOWN_HEAD,
        typed.range(0..1),
        "money back to a buyer is `returned`, through the channel of the sale or for its order",
    );
    let slip = slip.fix("by its channel", format!("returned {} via NAME\nrefunded {sum} \"{said}\"", typed.word(1).text));
    Some(slip.fix("or by its order", format!("returned {} order \"NAME\"\nrefunded {sum} \"{said}\"", typed.word(1).text)))
}

/// `settled 2026-10-05 by maple-gifts`: what a place sold
fn settled_as_a_head(typed: &Typed<'_>) -> Option<Slip> {
    let here =
        typed.context.column_one && typed.word(0).is_one_of(&["settled", "settlement", "payout"]) && typed.word(1).is_date();
    let by = typed.word(2).is_one_of(&["by", "from", "with", "at", "via"]) && typed.word(3).is_name() && typed.words.len() == 4;
    (here && by).then(|| {
        let slip = Slip::new(
            UNKNOWN_HEAD,
            typed.range(0..1),
            "what a place sold for you is a sale through it; what it paid you is its line `settled`",
        );
        slip.fix("write `sold`", format!("sold {} via {}", typed.word(1).text, typed.word(3).text))
    })
}

/// `built 2026-10-22 batch SG-1 for Ruth Keller`: for whom is a text
fn batch_for_somebody(typed: &Typed<'_>) -> Option<Slip> {
    let batch = typed.context.column_one && typed.verb().is_some_and(Verb::is_of_a_batch) && typed.word(1).is_date();
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["for", "to"])).filter(|_| batch)?;
    let said = as_text(typed, at..typed.words.len());
    let slip = Slip::new(
        HEAD_PART_WORD,
        typed.range(at..typed.words.len()),
        "for whom a batch is made is a text below its head; the sale names the buyer and the order",
    );
    Some(slip.fix("write it so", format!("{}\nnote \"{said}\"", typed.slice(0..at))))
}

/// `left 3 chef-knife with gallery 2026-02-12`, `left 2026-02-12 with the gallery`
fn left_with(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.context.column_one && typed.word(0).is_one_of(&["left", "placed", "dropped-off"]);
    let dated = (1..typed.words.len()).find(|at| typed.word(*at).is_date()).filter(|_| here)?;
    let small = (1..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["with", "at", "to", "in"]))?;
    let day = typed.word(dated).text;
    let begins = small + 1 + usize::from(typed.word(small + 1).is_one_of(&["the", "my", "our"]));
    let ends = if dated > small { dated - usize::from(typed.word(dated - 1).is("on")) } else { typed.words.len() };
    if dated > small && dated + 1 != typed.words.len() || begins >= ends {
        return None;
    }
    let place = if ends == begins + 1 && typed.word(begins).quoted {
        typed.word(begins).text.to_owned()
    } else {
        one_name(typed, begins..ends)?
    };
    let goods = if dated < small { dated + 1..small } else { 1..small };
    let counted = goods.is_empty() || typed.word(goods.start).is_number();
    let goods = typed.slice(goods).trim_end_matches([',', ' ']);
    let line = if goods.is_empty() { String::new() } else { format!("\n{goods}") };
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), "goods that lie somewhere else and stay yours are `sent` there");
    counted.then(|| slip.fix("write `sent`", format!("sent {day} to {place}{line}")))
}

/// `10 hooks for 30%`, `10 hooks, they keep 30%` below `sent`
fn percent_of_a_place(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1)?;
    let word = typed.word(last);
    let percent = word.text.strip_suffix('%').filter(|figure| is_number(figure)).map(|_| word.text)?;
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sent) && typed.word(0).is_number();
    let small = |at: usize| {
        typed.word(at).is_one_of(&[
            "for",
            "at",
            "less",
            "minus",
            "keeps",
            "keep",
            "they",
            "she",
            "he",
            "commission",
            "on",
            "takes",
            "take",
            "consignment",
        ])
    };
    let at = (2..=last).rev().take_while(|at| *at == last || small(*at)).last().filter(|_| here)?;
    let message = format!("what a place keeps of a sale is said once, below its channel: `consignment {percent}`");
    let slip = Slip::new(HEAD_PART_WORD, typed.range(at..last + 1), message);
    Some(slip.fix("leave it out here", typed.slice(0..at).trim_end_matches([',', ' ']).to_owned()))
}

/// `changed 2026-07-15 fair 20% off`, `changed 2026-07-15 stool on sale 20% off`
fn lower_prices(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.context.column_one && typed.verb() == Some(Verb::Changed) && typed.word(0).is("changed");
    let at = (3..typed.words.len()).find(|at| typed.word(*at).text.strip_suffix('%').is_some_and(is_number))?;
    if !here || !typed.word(at + 1).is_one_of(&["off", "less", "discount", "cheaper", "lower"]) {
        return None;
    }
    let (day, name, percent) = (typed.word(1).text, typed.word(2).text, typed.word(at).text);
    let message = format!("what is taken off for some days stands in each sale: a line `discount {percent}`");
    let slip = Slip::new(HEAD_PART_WORD, typed.range(3..typed.words.len()), message)
        .note("a product whose price stays lower from a day on is changed with its new `price`");
    Some(slip.fix("a product's price from that day on", format!("changed {day} {name}\nprice SUM")))
}

/// `paid 2026-02-14 for fair`, `paid 2026-02-14 for the booth 60.00`
fn paid_for(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.context.column_one && typed.word(0).is("paid") && typed.word(1).is_date() && typed.word(2).is("for");
    if !here || (3..typed.words.len()).any(|at| typed.word(at).is("to") || is_number(typed.word(at).text)) {
        return None;
    }
    let article = usize::from(typed.word(3).is_one_of(&["the", "my", "a"]));
    let what = typed.slice(3 + article..typed.words.len());
    let message = "the head of `paid` says who was paid; for what stands behind each sum";
    let slip = Slip::new(HEAD_PART_WORD, typed.range(2..typed.words.len()), message);
    let slip = if what.is_empty() || what.contains(' ') {
        slip
    } else {
        slip.note(format!("a cost of a fair has its channel behind it, as in `60.00 for booth-fee on {what}`"))
    };
    Some(slip.fix("say who was paid", format!("paid {} to NAME", typed.word(1).text)))
}

/// `started 2026-01-24 warp W1`, `finished 2026-01-31 lot W1`: the batch by another word
fn batch_by_another_word(typed: &Typed<'_>) -> Option<Slip> {
    let of_a_batch = typed.verb().is_some_and(Verb::is_of_a_batch) && typed.context.column_one && typed.word(1).is_date();
    let two = typed.words.len() == 4 && typed.word(2).is_name() && typed.word(3).is_name();
    let said = typed.word(3).is_one_of(&["done", "again", "finished", "today", "now", "ready", "further", "complete"]);
    let called =
        typed.word(2).is_one_of(&["warp", "lot", "run", "job", "project", "piece", "order", "load", "kiln", "firing", "no"]);
    let name = match (said, called) {
        (true, _) => typed.word(2),
        (false, true) => typed.word(3),
        (false, false) => return None,
    };
    if !of_a_batch || !two {
        return None;
    }
    let right = format!("batch {}", name.text);
    let slip = Slip::new(HEAD_PART_WORD, typed.range(2..4), format!("a batch is named behind `batch`: `{right}`"));
    Some(slip.fix("write it so", typed.with(2..4, &right)))
}
