//! What is said of a line that no slip fits: how its word is written, which word was near, or what may stand there at all.

use super::slip::{Slip, SlipRule};
use super::typed::Typed;
use crate::diagnostics::{Diagnostics, near_names};
use crate::syntax::line_context::BlockWord;
use crate::syntax::placement_heads::head_row;
use crate::syntax::placement_table::{DEFINITIONS, LINES, LineKind, LineRow, VERBS, definition_word, verb_word};
use crate::syntax::slip_errors::{DETAIL_FORM, UNKNOWN_DETAIL, UNREAD_LINE};
use crate::syntax::{DefinitionWord, Verb};

/// Lines that begin with another word than the language's.
pub(super) const WORD_RULES: &[SlipRule] = &[other_detail_case, other_detail_word, near_detail_word];
/// How the word of a line is written.
pub(super) const RULES: &[SlipRule] = &[waste, wear_of_pieces, line_form, head_form];

/// What else is typed for the word of a line.
const OTHER: [(&str, &[&str]); 25] = [
    ("shipping", &["delivery", "ship", "carriage", "shipped"]),
    ("postage", &["stamp", "stamps", "mailing"]),
    ("fee", &["fees", "commission", "charge"]),
    ("check", &["cheque", "checks", "cheques"]),
    ("card", &["cards", "credit-card", "debit"]),
    ("note", &["notes", "memo", "comment", "remark"]),
    ("file", &["attachment", "scan", "photo", "pdf", "document"]),
    ("receipt", &["invoice", "bill"]),
    ("total", &["sum", "altogether", "subtotal"]),
    ("used", &["use", "uses", "consumed", "using"]),
    ("took", &["take", "time", "spent"]),
    ("made", &["make", "makes", "produced", "got"]),
    ("lost", &["lose", "loss", "broke", "spoiled", "ruined"]),
    ("kept", &["keep", "saved", "offcut", "leftover"]),
    ("needs", &["need", "requires", "require"]),
    ("measured in", &["unit", "measure", "measured"]),
    ("price", &["prices", "retail", "msrp"]),
    ("paid", &["payed", "payd"]),
    ("unpaid", &["owed", "owing", "open"]),
    ("consignment", &["keeps"]),
    ("reorder at", &["reorder", "minimum", "min"]),
    ("as wear", &["wear", "consumable"]),
    ("as packing", &["packing", "packaging"]),
    ("packed with", &["packed", "pack", "packaging"]),
    ("aims at", &["aims", "aim", "goal", "target"]),
];

/// Whether a word is typed for the word of a line.
pub(super) fn is_for_a_line(word: &str) -> bool {
    OTHER.iter().any(|(_, others)| others.iter().any(|other| word.eq_ignore_ascii_case(other)))
}

/// The rows that may stand in the block of a line.
fn rows_here(typed: &Typed<'_>) -> Vec<&'static LineRow> {
    let here = |row: &&LineRow| match typed.context.block {
        Some(BlockWord::Entry(Verb::Changed)) => row.blocks.has_some_definition(),
        Some(BlockWord::Entry(verb)) => row.blocks.has_verb(verb),
        Some(BlockWord::Definition(word)) => row.blocks.has_definition(word),
        None => true,
    };
    LINES.iter().filter(here).collect()
}

/// Whether nearly every block may have such a line.
fn is_common(kind: LineKind) -> bool {
    matches!(kind, LineKind::Note | LineKind::File | LineKind::Expected | LineKind::Receipt)
}

/// Whether a row begins with a word of its own, and not with a figure.
fn begins_with_word(row: &LineRow) -> bool {
    row.form.starts_with(row.words)
}

/// How many words of a line are those of a row.
fn words_of(typed: &Typed<'_>, row: &LineRow) -> Option<usize> {
    let words: Vec<_> = row.words.split(' ').collect();
    let same = words.iter().enumerate().all(|(at, word)| typed.word(at).text == *word);
    (same && begins_with_word(row)).then_some(words.len())
}

/// `Total 276.90`
fn other_detail_case(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    let lower = first.text.to_lowercase();
    let known = LINES.iter().any(|row| begins_with_word(row) && row.words.split(' ').next() == Some(lower.as_str()));
    if !typed.is_detail() || lower == first.text || !known || first.quoted {
        return None;
    }
    let slip =
        Slip::new(UNKNOWN_DETAIL, first.start..first.end(), format!("the words of the language are written small: `{lower}`"));
    Some(slip.fix("write it small", typed.with(0..1, &lower)).sure())
}

/// `memo "…"`, `commission 8.56`
fn other_detail_word(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    let here = rows_here(typed);
    let found = OTHER
        .iter()
        .find(|(right, others)| others.iter().any(|other| first.is(other)) && here.iter().any(|row| row.words == *right));
    let (right, _) = found.filter(|_| typed.is_detail())?;
    let slip = Slip::new(UNKNOWN_DETAIL, first.start..first.end(), format!("the word here is `{right}`, not `{}`", first.text));
    // What a gallery keeps is no fee beside it.
    if first.is("commission") && typed.verb() == Some(Verb::Sold) && typed.words.len() == 2 {
        let slip = slip
            .note("below a channel that keeps a part of every sale stands `consignment 40%`, and its part is taken off by that");
        let slip = slip.fix("where it is charged beside what the channel's own terms take", typed.with(0..1, right));
        return Some(slip.fix("or, where the channel's `consignment` takes it already, leave it out", ""));
    }
    Some(slip.fix(format!("write `{right}`"), typed.with(0..1, right)))
}

/// `dicsount 5.00`
fn near_detail_word(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    let here = rows_here(typed);
    let firsts = |rows: &[&'static LineRow]| {
        let words = rows.iter().filter(|row| begins_with_word(row)).filter_map(|row| row.words.split(' ').next());
        words.filter(|word| word.starts_with(char::is_alphabetic)).collect::<Vec<_>>()
    };
    let known = firsts(&here);
    if !typed.is_detail() || first.quoted || known.contains(&first.text) || !first.text.starts_with(char::is_alphabetic) {
        return None;
    }
    let near = near_names(first.text, known);
    let nearest = near.first()?;
    let slip = Slip::new(UNKNOWN_DETAIL, first.start..first.end(), format!("no line begins with `{}` here", first.text));
    // `cart 2` are goods.
    let counted =
        typed.words.len() == 2 && typed.word(1).text.len() <= 3 && super::typed::is_digits(typed.word(1).text) && first.is_name();
    let slip = if counted { slip.fix("if those are goods", format!("{} {}", typed.word(1).text, first.text)) } else { slip };
    let slip = slip.fix(format!("write `{nearest}`"), typed.with(0..1, nearest));
    Some(near.iter().skip(1).fold(slip, |slip, word| slip.fix(format!("or `{word}`"), typed.with(0..1, word))))
}

/// `waste 25% maple`, `needs 3.5 bf maple plus 25% waste`
fn waste(typed: &Typed<'_>) -> Option<Slip> {
    let at = typed.words.iter().position(|word| word.is_one_of(&["waste", "wastage", "scrap", "loss"]))?;
    let percent = typed.words.iter().find(|word| word.text.strip_suffix('%').is_some_and(super::typed::is_number))?;
    let in_recipe = typed.definition() == Some(DefinitionWord::Product) && typed.is_detail();
    let word = typed.word(at);
    (in_recipe && (at == 0 || typed.word(0).is("needs"))).then(|| {
        let message = "the quantity in `needs` has the waste in it; there is no line for it";
        let slip = Slip::new(UNREAD_LINE, word.start.min(percent.start)..word.end().max(percent.end()), message);
        slip.note("where 25% of the wood is wasted, of 3.5 bf in the piece are needed 3.5 / 0.75, `needs 4.67 bf red-oak`")
    })
}

/// `lasts 200 step-stools`
fn wear_of_pieces(typed: &Typed<'_>) -> Option<Slip> {
    let (first, figure, pieces) = (typed.word(0), typed.word(1), typed.word(2));
    let of_pieces = first.is("lasts") && figure.is_number() && pieces.is_name() && typed.words.len() == 3;
    let here = matches!(typed.definition(), Some(DefinitionWord::Tool | DefinitionWord::Material));
    (of_pieces && here && typed.is_detail()).then(|| {
        let message = "what is worn out by so many pieces stands in their recipe, not here";
        let slip = Slip::new(UNREAD_LINE, 0..typed.text.len(), message);
        slip.note(format!("it is a material, and under the product stands `needs 1 NAME per {} ea`", figure.text))
    })
}

/// `discount by ten`
fn line_form(typed: &Typed<'_>) -> Option<Slip> {
    let here = rows_here(typed);
    let longest = |rows: &mut dyn Iterator<Item = &'static LineRow>| {
        rows.filter_map(|row| words_of(typed, row).map(|words| (words, row))).max_by_key(|(words, _)| *words)
    };
    let found = longest(&mut here.iter().copied()).or_else(|| longest(&mut LINES.iter()));
    let (words, row) = found.filter(|_| typed.is_detail())?;
    let rest = typed.range(words..typed.words.len().max(words));
    let at = if rest.is_empty() { 0..typed.text.len() } else { rest };
    let others: Vec<_> = other_forms(row.kind).iter().map(|form| format!("`{form}`")).collect();
    if row.form == row.words {
        let message = match others.is_empty() {
            true => format!("nothing follows `{}`", row.words),
            false => format!("`{}` stands alone or is written like {}", row.words, others.join(", ")),
        };
        let slip = Slip::new(DETAIL_FORM, at, message);
        let by_plan = row.words == "used as planned";
        let of_a_plan = "a line `used` beside it adds to the plan; where less or more was used, write all that was used, without `as planned`";
        return Some(if by_plan { slip.note(of_a_plan) } else { slip });
    }
    let slip = Slip::new(DETAIL_FORM, at, format!("`{}` is written like `{}`", row.words, row.form));
    Some(if others.is_empty() { slip } else { slip.note(format!("or like {}", others.join(", "))) })
}

/// Other forms of a line, beside the example of the table.
pub(crate) const fn other_forms(kind: LineKind) -> &'static [&'static str] {
    match kind {
        LineKind::Item => {
            &["31.5 bf red-oak at 5.90", "2 bags wheel-40 for 23.00", "4 boards walnut, 4/4 x 6 1/2 x 48 in, at 11.20 per bf"]
        }
        LineKind::Took => &["took 40m finishing by sam", "took as planned"],
        LineKind::Made => &["made 48 block-house, share 3", "made 6 pull-cart as planned"],
        LineKind::Discount => &["discount 10%"],
        LineKind::SalesTax => &["sales-tax 8.40 to ny-state", "sales-tax 6% included"],
        LineKind::Paid => &["paid 2026-03-30", "paid"],
        LineKind::HomeWorkshop => &["home workshop 12% of house costs", "home workshop 200 sq ft, simplified, from 2026-03-01"],
        LineKind::ChannelFee => &["fee 0.25 per sale", "fee 0.25 per item"],
        LineKind::OverheadRate => &["overhead from expenses"],
        LineKind::Section179 => &["expensed under section 179 500.00"],
        LineKind::Freight => &["freight 18.00 shared by weight"],
        LineKind::ForOrder => &["412.88 for orders \"M-1\", \"M-2\""],
        _ => &[],
    }
}

/// `sold 2026-03-20 web page order`
fn head_form(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.context.column_one {
        return None;
    }
    let (word, form) = match typed.context.block {
        Some(BlockWord::Entry(verb)) if typed.word(0).is(verb_word(verb)) => (verb_word(verb), head_row(verb).form.to_owned()),
        Some(BlockWord::Definition(word)) if typed.word(0).is(definition_word(word)) => {
            (definition_word(word), definition_form(word))
        }
        _ => return None,
    };
    let at = if typed.words.len() > 1 { typed.range(1..typed.words.len()) } else { 0..typed.text.len() };
    Some(Slip::new(DETAIL_FORM, at, format!("`{word}` is written like `{form}`")))
}

/// An example of a definition's head.
pub(crate) fn definition_form(word: DefinitionWord) -> String {
    match word {
        DefinitionWord::Shop => "shop \"Wren & Gable Woodshop\"".to_owned(),
        DefinitionWord::Choices => "choices 2026".to_owned(),
        DefinitionWord::Place => "place bench \"Home workshop\"".to_owned(),
        DefinitionWord::Step => "step cutting \"Cutting at the scroll saw\"".to_owned(),
        DefinitionWord::Material => "material red-oak \"Red oak, kiln dried\"".to_owned(),
        DefinitionWord::Product => "product pull-cart \"Pull-along cart\"".to_owned(),
        DefinitionWord::Line => "line rolling-toys \"Rolling toys\"".to_owned(),
        DefinitionWord::Pattern => "pattern cart-pattern \"Cart pattern\"".to_owned(),
        DefinitionWord::Helper => "helper sam \"Sam\"".to_owned(),
        DefinitionWord::Channel => "channel web-page \"Own web page\"".to_owned(),
        DefinitionWord::Expense => "expense booth-fee \"Booth and stall fees\"".to_owned(),
        DefinitionWord::Income => "income engraving \"Engraving\"".to_owned(),
        DefinitionWord::Tool => "tool band-saw \"14-inch band saw\"".to_owned(),
    }
}

/// How the list of the words for entries begins.
const BEGINS_WITH: &str = "an entry begins with ";

/// An item as `worked` has it, where the table's example is one of goods.
const WORK_FORM: &str = "45m sanding on PC-014";

/// The message for a line of which nothing is known: what belongs there.
pub(super) fn what_belongs_here(typed: &Typed<'_>) -> Slip {
    let shown = if typed.text.chars().count() > 60 {
        format!("{}…", typed.text.chars().take(60).collect::<String>())
    } else {
        typed.text.to_owned()
    };
    let at = 0..typed.text.len();
    if typed.context.column_one {
        let slip = Slip::new(UNREAD_LINE, at, format!("`{shown}` begins no entry or definition"));
        let verbs: Vec<_> = VERBS.iter().map(|(word, _)| *word).collect();
        let definitions: Vec<_> = DEFINITIONS.iter().map(|(word, _)| *word).collect();
        return slip
            .note(format!("{BEGINS_WITH}{}", verbs.join(", ")))
            .note(format!("a definition begins with {}", definitions.join(", ")))
            .note("a line of the entry above is indented");
    }
    let (place, rows) = match typed.context.block {
        Some(BlockWord::Entry(verb)) => (verb_word(verb), rows_here(typed)),
        Some(BlockWord::Definition(word)) => (definition_word(word), rows_here(typed)),
        None => return Slip::new(UNREAD_LINE, at, format!("`{shown}` does not read as a line of an entry or definition")),
    };
    let slip = Slip::new(UNREAD_LINE, at, format!("`{shown}` does not read as a line of `{place}`"));
    if typed.verb() == Some(Verb::Changed) {
        return slip.note("under `changed` stand lines of the definition that changes, as they are written there: `price 45.00`");
    }
    // What any block may have comes last.
    let (common, own): (Vec<_>, Vec<_>) = rows.into_iter().partition(|row| is_common(row.kind));
    let rows = [own, common].concat();
    let form_here =
        |row: &LineRow| if row.kind == LineKind::Item && typed.verb() == Some(Verb::Worked) { WORK_FORM } else { row.form };
    let forms: Vec<_> = rows.iter().map(|row| format!("`{}`", form_here(row))).collect();
    slip.note(format!("{MAY_STAND}`{place}`: {}", forms.join(", ")))
}

/// How the list of what may stand in a block begins.
const MAY_STAND: &str = "what may stand in ";

/// Where the list of what may stand in a block was told of a line just before, only says so.
pub(crate) fn shorten_lists(found: &mut Diagnostics) {
    let mut last = String::new();
    found.revise(|told| {
        if told.code != UNREAD_LINE {
            return;
        }
        let list = told.notes.iter_mut().find(|note| note.starts_with(MAY_STAND) || note.starts_with(BEGINS_WITH));
        let Some(list) = list else { return };
        if *list != last {
            last.clone_from(list);
            return;
        }
        let begins = list.split(':').next().filter(|_| list.starts_with(MAY_STAND));
        *list =
            begins.map_or_else(|| "the words for entries are told above".to_owned(), |begins| format!("{begins} is told above"));
        told.notes.retain(|note| !note.starts_with("a definition begins with"));
    });
}
