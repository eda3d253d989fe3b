//! What the engine tells, in the words of the trade. K4xx are mistakes, K96x warnings.

pub(crate) mod likely;
pub(crate) mod likely_of_batches;
pub(crate) mod likely_of_sales;
pub(crate) mod settling;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::CostVector;
use crate::costing::engine::Engine;
use crate::costing::fees::Charged;
use crate::costing::licences::NearLimit;
use crate::costing::sale_sums::SaleSum;
use crate::costing::suppliers::Seller;
use crate::diagnostics::{Code, Diagnostic};
use crate::events::{BatchWork, EventKind, KeptLine, MadeLine, Output, Returned, ReturnedLine, Sharing, StockLine};
use crate::names::{BatchId, ChannelId, LabelId, PatternId, PlaceId, ThingId, ToolId};
use crate::sources::Span;
use crate::units::Fixed6;

const TOO_LARGE: Code = Code(401);
const NOTHING_TO_SHARE_BY: Code = Code(402);
const SHORT_STOCK: Code = Code(403);
const NO_SUCH_LOT: Code = Code(404);
const BATCH_FINISHED: Code = Code(405);
const MORE_THAN_AIMED: Code = Code(406);
const NO_RECIPE: Code = Code(407);
const KEPT_ABOVE_MATERIALS: Code = Code(408);
const MORE_THAN_OWED: Code = Code(410);
const NOTHING_OWED: Code = Code(411);
const NO_SUCH_CREDIT: Code = Code(412);
const SETTLED_DIFFERS: Code = Code(413);
const NO_SUCH_ORDER: Code = Code(414);
const MORE_BACK_THAN_SOLD: Code = Code(415);
const BELOW_ZERO: Code = Code(416);
const NOT_FROM_THIS_SUPPLIER: Code = Code(417);
const NO_SUCH_TOOL: Code = Code(418);
const OVER_THE_LICENCE: Code = Code(419);
const SHORT_STOCK_WARNING: Code = Code(960);
const KEPT_ABOVE_SOURCE: Code = Code(961);
const BATCH_IS_A_LOSS: Code = Code(963);
const FOUND_WITHOUT_COST: Code = Code(964);
const NEAR_THE_LICENCE: Code = Code(965);

/// Whether a finding may follow from what could not be read of an order, a bill, a batch or a tool. A shortage of stock has its own
/// rule, by the thing and the day.
pub(crate) fn may_follow_from_doubt(code: Code) -> bool {
    !matches!(code, TOO_LARGE | SHORT_STOCK | SHORT_STOCK_WARNING)
}

fn plain(quantity: Decimal) -> String {
    quantity.normalize().to_string()
}

fn with_unit(engine: &Engine<'_>, thing: ThingId, quantity: Decimal) -> String {
    format!("{} {}", plain(quantity), engine.book.thing(thing).unit.as_str())
}

fn money(engine: &Engine<'_>, sum: Fixed6) -> String {
    sum.to_fixed_text(engine.book.shop.currency.digits(), 6)
}

fn label(engine: &Engine<'_>, id: LabelId) -> String {
    engine.book.label(id).to_owned()
}

pub(crate) fn too_large(head: Span) -> Diagnostic {
    Diagnostic::new(TOO_LARGE, head, "the figures of this entry are too large, or have too many digits, to be carried exactly")
        .note("money is carried to six digits after the point, a quantity to twenty-eight digits in all; nothing is ever rounded silently")
}

pub(crate) fn nothing_to_share_by(head: Span) -> Diagnostic {
    Diagnostic::new(NOTHING_TO_SHARE_BY, head, "something is to be shared over lines of this entry that are worth nothing")
}

pub(crate) fn cannot_share(head: Span, sum: Fixed6, by: Sharing) -> Diagnostic {
    let (by, instead) = match by {
        Sharing::Value => ("value", "every line is worth 0.00; freight and discount can be `shared by quantity`"),
        Sharing::Measure => ("quantity or weight", "every line measures 0; leave the words out to share by value"),
    };
    Diagnostic::new(
        NOTHING_TO_SHARE_BY,
        head,
        format!("{} can't be shared over the lines by {by}: {instead}", sum.to_fixed_text(2, 6)),
    )
}

pub(crate) fn weights_are_zero(head: Span) -> Diagnostic {
    Diagnostic::new(NOTHING_TO_SHARE_BY, head, "the batch can't be shared: every piece has a share or a price of 0")
}

pub(crate) fn short_stock(
    engine: &Engine<'_>,
    thing: ThingId,
    place: PlaceId,
    lot: Option<LabelId>,
    asked: Decimal,
    missing: Decimal,
    line: Span,
) -> Diagnostic {
    let name = engine.thing_name(thing);
    let place_name = &engine.book.place(place).named.name;
    let there = with_unit(engine, thing, asked - missing);
    let asked = with_unit(engine, thing, asked);
    if let Some(lot) = lot {
        let shelf = &engine.shelves[engine.shelf_at(thing, place)];
        let mut lots: Vec<String> = Vec::new();
        for lot in shelf.lots() {
            let code = lot.origin.code.map(|code| label(engine, code));
            let batch = lot.origin.batch.map(|batch| engine.book.batch(batch).name.clone());
            if let Some(code) = code.or(batch)
                && !lots.contains(&code)
                && lots.len() < 5
            {
                lots.push(code);
            }
        }
        let told = Diagnostic::new(
            NO_SUCH_LOT,
            line,
            format!("{asked} of `{name}` from lot `{}` at {place_name}, but {there} of that lot are there", label(engine, lot)),
        );
        return if lots.is_empty() { told } else { told.note(format!("lots of it at {place_name}: {}", lots.join(", "))) };
    }
    let told = Diagnostic::new(
        SHORT_STOCK,
        line,
        format!("{asked} of `{name}` leave {place_name} on {}, but {there} are there", engine.now.date),
    );
    with_last_arrival(engine, told, thing, place)
}

fn with_last_arrival(engine: &Engine<'_>, told: Diagnostic, thing: ThingId, place: PlaceId) -> Diagnostic {
    let first = thing.index() * engine.book.places.len();
    let mut elsewhere: Vec<String> = Vec::new();
    let mut came_elsewhere: Option<(u32, Span, usize)> = None;
    for (at, other) in engine.book.places.iter().enumerate().filter(|(at, _)| *at != place.index()) {
        let shelf = &engine.shelves[first + at];
        if !shelf.on_hand().is_zero() {
            elsewhere.push(format!("{} at {}", with_unit(engine, thing, shelf.on_hand()), other.named.name));
        }
        came_elsewhere = came_elsewhere.max(shelf.last_in.map(|(event, line)| (event, line, at)));
    }
    let mut told = match (engine.shelves[first + place.index()].last_in, came_elsewhere) {
        (Some((_, line)), _) => told.also(line, "it last came in here"),
        (None, Some((_, line, at))) => {
            let other = &engine.book.places[at].named.name;
            told.also(line, format!("it last came to {other}, here"))
        }
        (None, None) => {
            told.note("it has not come in before that day: an `opened`, `bought`, `built` or `found` entry may be missing")
        }
    };
    if !elsewhere.is_empty() {
        told = told.note(format!("elsewhere: {}", elsewhere.join(", ")));
    }
    told
}

pub(crate) fn short_stock_warning(
    engine: &Engine<'_>,
    thing: ThingId,
    place: PlaceId,
    asked: Decimal,
    missing: Decimal,
    line: Span,
) -> Diagnostic {
    let there = with_unit(engine, thing, asked - missing);
    let told = Diagnostic::new(
        SHORT_STOCK_WARNING,
        line,
        format!(
            "{} of `{}` leave {}, but {there} are there; {} are taken as not recorded, at the last known cost",
            with_unit(engine, thing, asked),
            engine.thing_name(thing),
            engine.book.place(place).named.name,
            with_unit(engine, thing, missing)
        ),
    )
    .note("a year in which goods are not recorded can't be closed")
    .note("where it is known and can't be mended, a line `expected \"why\"` in the entry says so");
    with_last_arrival(engine, told, thing, place)
}

pub(crate) fn batch_is_finished(engine: &Engine<'_>, batch: BatchId, line: Span) -> Diagnostic {
    let account = engine.batches.account(batch);
    let name = &engine.book.batch(batch).name;
    let when = account.finished.map(|day| format!(" on {day}")).unwrap_or_default();
    let told = Diagnostic::new(BATCH_FINISHED, line, format!("batch `{name}` was done{when}; nothing more can be put to it"));
    let told = match account.last_made.or(account.last_lost) {
        Some(line) => told.also(line, "it was finished here"),
        None => told,
    };
    told.note("a new run needs a batch name of its own; for a run over several days write `started … aims at`, then `finished`")
}

pub(crate) fn more_than_aimed(
    engine: &Engine<'_>,
    batch: BatchId,
    what: Output,
    so_far: Decimal,
    aimed: Decimal,
    line: Span,
) -> Diagnostic {
    Diagnostic::new(
        MORE_THAN_AIMED,
        line,
        format!(
            "batch `{}` aims at {} `{}`, but with this line {} are made or lost",
            engine.book.batch(batch).name,
            plain(aimed),
            engine.output_name(what),
            plain(so_far)
        ),
    )
    .note("correct the number here, or `aims at` where the batch was started")
}

pub(crate) fn no_recipe(engine: &Engine<'_>, batch: BatchId, word: &str) -> Diagnostic {
    Diagnostic::new(
        NO_RECIPE,
        engine.now.head,
        format!("`as planned` in batch `{}`, but nothing that it makes has a `{word}` line", engine.book.batch(batch).name),
    )
    .note(format!("write `{word} …` in the product's definition, or say here what was used and how long it took"))
}

pub(crate) fn nothing_planned_yet(engine: &Engine<'_>, batch: BatchId) -> Diagnostic {
    Diagnostic::new(
        NO_RECIPE,
        engine.now.head,
        format!("`as planned` in batch `{}`, but nothing of it is made or lost so far", engine.book.batch(batch).name),
    )
    .note("it counts the pieces made and lost up to this entry; where a batch is started, what it aims at")
}

pub(crate) fn kept_above_materials(engine: &Engine<'_>, line: &KeptLine, materials: Fixed6) -> Diagnostic {
    Diagnostic::new(
        KEPT_ABOVE_MATERIALS,
        line.span,
        format!(
            "`{}` is kept as worth {}, but the batch has {} of materials to give it from",
            engine.thing_name(line.thing),
            money(engine, line.worth),
            money(engine, materials)
        ),
    )
}

pub(crate) fn kept_above_source(engine: &Engine<'_>, line: &KeptLine, source: ThingId, at_most: Fixed6) -> Diagnostic {
    Diagnostic::new(
        KEPT_ABOVE_SOURCE,
        line.span,
        format!(
            "`{}` is kept as worth {}, more than the same quantity of `{}` cost in this batch ({})",
            engine.thing_name(line.thing),
            money(engine, line.worth),
            engine.thing_name(source),
            money(engine, at_most.round_to(2))
        ),
    )
    .note("an offcut worth more than the board that it came from makes the pieces look cheaper than they are")
}

pub(crate) fn more_than_owed(engine: &Engine<'_>, paid: Fixed6, open: Fixed6, line: Span, bill: Span) -> Diagnostic {
    Diagnostic::new(
        MORE_THAN_OWED,
        line,
        format!("{} is settled here, but {} is still owed", money(engine, paid), money(engine, open)),
    )
    .also(bill, "for this")
}

/// A deposit that is more than its order's sale leaves to be paid; `open`: what it may be.
pub(crate) fn deposit_above_sale(
    engine: &Engine<'_>,
    (deposit, open): (Fixed6, Fixed6),
    order: LabelId,
    line: Span,
) -> Diagnostic {
    let told = more_than_owed(engine, deposit, open, line, engine.now.head);
    let Some(rest) = deposit.checked_sub(open).filter(|_| open.is_positive()) else { return told };
    let (open, rest, order) = (money(engine, open), money(engine, rest), label(engine, order));
    told.note(format!(
        "what was handed back of it stands before the sale, `returned DATE order \"{order}\"` with a line `refunded {rest}`; what waits for another sale, as the rest of a \
         gift certificate or of what was paid ahead, has a name of its own: `{open} for order \"{order}\"` and `{rest} for order \"{order}-2\"`"
    ))
}

/// More goes back to a buyer, or comes back from a channel, than there was of it; `sale` is the order's head, where one is named.
pub(crate) fn more_goes_back(engine: &Engine<'_>, what: SaleSum, back: Fixed6, most: Fixed6, sale: Option<Span>) -> Diagnostic {
    let (back, most) = (money(engine, back), money(engine, most));
    let message = match what {
        SaleSum::TaxBack => {
            format!("{back} of sales tax is refunded, but the shop collected {most} that was not refunded before")
        }
        SaleSum::FeesBack => format!("{back} of fees comes back, but {most} was taken that did not come back before"),
        _ => format!("{back} is refunded, but {most} was paid that was not refunded before"),
    };
    let told = Diagnostic::new(MORE_THAN_OWED, engine.now.head, message);
    match sale {
        Some(sale) => told.also(sale, "for this"),
        None => told,
    }
}

/// More comes back from a supplier than the whole bill was.
pub(crate) fn more_than_the_bill(engine: &Engine<'_>, refunded: Fixed6, bill: Fixed6, line: Span, purchase: Span) -> Diagnostic {
    let message = format!("{} is refunded, but the whole bill was {}", money(engine, refunded), money(engine, bill));
    Diagnostic::new(MORE_THAN_OWED, line, message).also(purchase, "for this")
}

/// `for sold DATE`: no sale of that day without an order is through or to the payer.
pub(crate) fn no_such_sale(engine: &Engine<'_>, day: NaiveDate, payer: LabelId, others: &[Span], line: Span) -> Diagnostic {
    let payer = label(engine, payer);
    let message = format!("no sale of {day} without an order is known through or to `{payer}`");
    let told = Diagnostic::new(NOTHING_OWED, line, message)
        .note("money is `received` from the channel of the sale or from the buyer whom the sale names; a sale with an order is settled by it, `for order \"C-07\"`");
    others.iter().fold(told, |told, sale| told.also(*sale, "a sale of that day"))
}

pub(crate) fn no_such_credit(engine: &Engine<'_>, supplier: Option<LabelId>, wanted: Fixed6, there: Fixed6) -> Diagnostic {
    let who = supplier.map_or_else(|| "nobody".to_owned(), |supplier| format!("`{}`", label(engine, supplier)));
    Diagnostic::new(
        NO_SUCH_CREDIT,
        engine.now.head,
        format!("a credit of {} is used, but {who} owes {} for goods sent back", money(engine, wanted), money(engine, there)),
    )
    .note("a credit begins with `sent-back … refunded MONEY as credit`")
}

pub(crate) fn settled_differs(engine: &Engine<'_>, said: Fixed6, net: Fixed6, charged: &Charged, line: Span) -> Diagnostic {
    Diagnostic::new(
        SETTLED_DIFFERS,
        line,
        format!("settled {} is written, but by the channel's terms {} reaches the shop", money(engine, said), money(engine, net)),
    )
    .note(format!(
        "total {}, fees {}, the channel's share {}",
        money(engine, charged.total),
        money(engine, charged.fees_now),
        money(engine, charged.share)
    ))
}

pub(crate) fn no_such_order(engine: &Engine<'_>, order: LabelId) -> Diagnostic {
    Diagnostic::new(
        NO_SUCH_ORDER,
        engine.now.head,
        format!("order `{}` has not been sold by {}", label(engine, order), engine.now.date),
    )
    .note(if engine.owed.has_deposits(order) {
        "before the sale only its deposit can go back: `refunded MONEY` alone, without goods or other sums"
    } else {
        "an order is known by its name in `sold`; a sale without one comes back by its channel, `returned DATE via CHANNEL`"
    })
}

pub(crate) fn more_than_deposited(engine: &Engine<'_>, back: Fixed6, open: Fixed6, line: Span, order: LabelId) -> Diagnostic {
    let (back, open, order) = (money(engine, back), money(engine, open), label(engine, order));
    Diagnostic::new(MORE_THAN_OWED, line, format!("{back} is handed back, but deposits of {open} for order `{order}` are open"))
}

pub(crate) fn more_back_than_sold(engine: &Engine<'_>, line: &ReturnedLine, sold: Decimal) -> Diagnostic {
    Diagnostic::new(
        MORE_BACK_THAN_SOLD,
        line.span,
        format!("{} `{}` come back, but {} of that order can", plain(line.quantity), engine.thing_name(line.thing), plain(sold)),
    )
}

/// Money goes back through a channel through which nothing was sold until then.
pub(crate) fn nothing_sold_before(engine: &Engine<'_>, channel: ChannelId, back: Fixed6, returned: &Returned) -> Diagnostic {
    let (name, day) = (&engine.book.channel(channel).named.name, engine.now.date);
    let what = if back.is_zero() { "this comes".to_owned() } else { format!("{} goes", money(engine, back)) };
    let line = returned.refunds.first().map(|(_, line)| *line).or_else(|| returned.lines.first().map(|line| line.span));
    let message = format!("{what} back of a sale, but by {day} nothing was sold through `{name}`");
    let told = Diagnostic::new(MORE_BACK_THAN_SOLD, line.unwrap_or(engine.now.head), message).note(
        "what goes back is taken off its sale: the head names the sale's channel, or its order, `returned DATE order \"A-1\"`",
    );
    let later = engine
        .log
        .events
        .iter()
        .find(|event| event.date > day && matches!(&event.kind, EventKind::Sold(sold) if sold.channel == Some(channel)));
    match later {
        Some(sale) => told.also(sale.head, "this sale is of a later day"),
        None => told,
    }
}

pub(crate) fn below_zero(engine: &Engine<'_>, thing: ThingId, line: Span) -> Diagnostic {
    Diagnostic::new(BELOW_ZERO, line, format!("with its discount `{}` would cost less than nothing", engine.thing_name(thing)))
}

/// Goods go back of which none, or not so many, came `from` that supplier and are there; `purchase` brought the last that are.
pub(crate) fn not_enough_from(
    engine: &Engine<'_>,
    line: &StockLine,
    found: Decimal,
    from: Seller,
    purchase: Option<Span>,
) -> Diagnostic {
    let (name, whose) = (engine.thing_name(line.thing), seller(engine, from));
    let message = if found.is_zero() {
        format!("no `{name}` {whose} is there")
    } else {
        let are = if found == Decimal::ONE { "is" } else { "are" };
        let (found, back) = (with_unit(engine, line.thing, found), with_unit(engine, line.thing, line.quantity));
        format!("only {found} of `{name}` {whose} {are} there, and {back} go back")
    };
    let told = Diagnostic::new(NOT_FROM_THIS_SUPPLIER, line.span, message);
    purchase.into_iter().fold(told, |told, purchase| told.also(purchase, "bought here"))
}

/// A credit on what the supplier never sold.
pub(crate) fn never_bought_from(engine: &Engine<'_>, thing: ThingId, from: Seller, line: Span) -> Diagnostic {
    let (name, whose) = (engine.thing_name(thing), seller(engine, from));
    Diagnostic::new(NOT_FROM_THIS_SUPPLIER, line, format!("no `{name}` was bought {whose} by {}", engine.now.date))
}

fn seller(engine: &Engine<'_>, from: Seller) -> String {
    let receipt = from.receipt.map(|receipt| format!(", receipt `{}`,", label(engine, receipt))).unwrap_or_default();
    format!("from `{}`{receipt}", label(engine, from.supplier))
}

pub(crate) fn credit_above_cost(engine: &Engine<'_>, thing: ThingId, credit: Fixed6, line: Span) -> Diagnostic {
    Diagnostic::new(
        BELOW_ZERO,
        line,
        format!("a credit of {} is more than what is left of that `{}` cost", money(engine, credit), engine.thing_name(thing)),
    )
}

pub(crate) fn no_such_tool_left(engine: &Engine<'_>, tool: ToolId, line: Span) -> Diagnostic {
    Diagnostic::new(
        NO_SUCH_TOOL,
        line,
        format!("there is no `{}` left to retire on {}", engine.book.tool(tool).named.name, engine.now.date),
    )
}

pub(crate) fn over_the_licence(engine: &Engine<'_>, pattern: PatternId, without: Decimal, line: &MadeLine) -> Diagnostic {
    let name = &engine.book.pattern(pattern).named.name;
    let are = if without == Decimal::ONE { "is" } else { "are" };
    Diagnostic::new(
        OVER_THE_LICENCE,
        line.span,
        format!("{} of these pieces {are} over what the licences of `{name}` permit by {}", plain(without), engine.now.date),
    )
    .note(format!("a licence is bought before the pieces are made: `1 licence {name} for 12.00` in `bought`; one from before the book at 0.00"))
}

pub(crate) fn near_the_licence(engine: &Engine<'_>, near: NearLimit) -> Diagnostic {
    let name = &engine.book.pattern(near.pattern).named.name;
    Diagnostic::new(
        NEAR_THE_LICENCE,
        near.line,
        format!(
            "the licences of `{name}` permit {} more, and another batch of the usual {} would go over",
            plain(near.left),
            plain(near.usual)
        ),
    )
    .note(format!("the usual batch is the mean of the last three; buy `1 licence {name}` before the next"))
}

pub(crate) fn batch_is_a_loss(engine: &Engine<'_>, work: &BatchWork, left: &CostVector, line: Span) -> Diagnostic {
    let cost = left.paid().map(|paid| money(engine, paid.round_to(2))).unwrap_or_default();
    Diagnostic::new(
        BATCH_IS_A_LOSS,
        line,
        format!("batch `{}` made nothing good: {cost} is an abnormal loss", engine.book.batch(work.batch).name),
    )
}

pub(crate) fn found_without_cost(engine: &Engine<'_>, thing: ThingId, line: Span) -> Diagnostic {
    Diagnostic::new(
        FOUND_WITHOUT_COST,
        line,
        format!(
            "more `{}` is there than was ever recorded, and no cost of it is known: it comes in at 0.00",
            engine.thing_name(thing)
        ),
    )
    .note("a `bought` or `opened` entry may be missing")
}
