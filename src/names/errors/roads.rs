//! Names of what the book doesn't keep as goods or costs, or keeps by another entry: own money, a gift certificate, the cash box, a
//! royalty, wages, a refund, a deposit, a person. For each of them the entry or line that says it.

use chrono::NaiveDate;

use crate::diagnostics::{Diagnostic, Fix};
use crate::names::errors::typed_line::TypedLine;
use crate::names::kinds::names_of;
use crate::names::{Helper, ResolvedBook};
use crate::sources::Span;
use crate::syntax::{CARD_IS_NO_COST, DefinitionWord, LOAN_IS_NO_COST, LOAN_IS_NO_INCOME, Verb};

/// How many names are offered.
const MOST: usize = 4;

/// What is said instead of how such a name would be defined.
#[derive(Debug, Default)]
pub(crate) struct Road {
    /// In place of "is not defined", where it is no name at all.
    pub(crate) message: Option<String>,
    /// How it is said.
    pub(crate) notes: Vec<String>,
    /// What may stand in place of the name.
    pub(crate) fixes: Vec<Fix>,
    /// Whether it may be defined too.
    pub(crate) may_be_defined: bool,
}

impl Road {
    /// A finding of such a name.
    pub(crate) fn told(self, mut told: Diagnostic) -> Diagnostic {
        told.message = self.message.unwrap_or(told.message);
        told.notes.extend(self.notes);
        told.fixes.extend(self.fixes);
        told
    }
}

/// A name that nothing defines, where it stands.
struct Asked<'a> {
    book: &'a ResolvedBook,
    name: Span,
    typed: &'a str,
    verb: Option<Verb>,
    /// The words of the entry's head.
    head: Vec<&'a str>,
    day: String,
    /// The money of the line.
    sum: String,
}

/// The words, joined with hyphens, and what is said of a name that they make. Several words, and `myself`, may stand anywhere in it; a
/// single one is all of it (`change`), or is followed by what it is for (`change-for-the-fair`), or is how people are called (`mrs-hall`).
type Row = (&'static [&'static str], fn(&Asked<'_>) -> Road);

const ROADS: [Row; 9] = [
    (
        &[
            "loan",
            "loans",
            "loan-payment",
            "loan-principal",
            "loan-repayment",
            "principal",
            "mortgage",
            "debt",
            "credit-card",
            "credit-cards",
            "card",
            "card-bill",
            "card-payment",
        ],
        debt,
    ),
    (
        &[
            "own-money",
            "own-cash",
            "own-funds",
            "my-money",
            "myself",
            "drawings",
            "owner-draw",
            "owners-draw",
            "draw",
            "my-pay",
            "my-wages",
        ],
        own_money,
    ),
    (
        &[
            "gift-certificate",
            "gift-certificates",
            "certificate",
            "certificates",
            "voucher",
            "vouchers",
            "gift-card",
            "gift-cards",
        ],
        gift_certificate,
    ),
    (&["change", "float", "cash-box", "cashbox", "petty-cash", "till"], cash_box),
    (&["royalty", "royalties"], royalty),
    (
        &[
            "wages",
            "wage",
            "pay",
            "salary",
            "salaries",
            "piecework",
            "labor",
            "labour",
            "helper",
            "helpers",
            "worker",
            "employee",
        ],
        wages,
    ),
    (&["refund", "refunds"], refund),
    (&["deposit", "deposits", "down-payment", "downpayment", "prepayment"], deposit),
    (&["mr", "mrs", "ms", "miss", "dr"], person),
];

/// What is said of a name that has words of the table; `None` for any other.
pub(crate) fn road_of(book: &ResolvedBook, typed: &str, line: &TypedLine<'_>, name: Span) -> Option<Road> {
    let (_, road) = ROADS.iter().find(|(words, _)| words.iter().any(|word| is_so_named(typed, word)))?;
    // Cards are goods too.
    if typed == "card" && line.verb != Some(Verb::Paid) {
        return None;
    }
    let head: Vec<&str> = line.head.split_whitespace().collect();
    let day = head.get(1).filter(|word| word.parse::<NaiveDate>().is_ok()).copied().unwrap_or("2026-03-05").to_owned();
    let is_money = |word: &&str| word.contains('.') && word.chars().all(|one| one.is_ascii_digit() || one == '.' || one == ',');
    let first = Some(line.first).filter(|first| !first.is_empty() && first.chars().all(|one| one.is_ascii_digit()));
    let sum = line.text.split_whitespace().map(|word| word.trim_end_matches(',')).find(is_money);
    let sum = sum.or(first).unwrap_or("50.00").to_owned();
    Some(road(&Asked { book, name, typed, verb: line.verb, head, day, sum }))
}

/// Whether a name is of a word of the table.
fn is_so_named(typed: &str, word: &str) -> bool {
    let small = typed.to_lowercase();
    if word.contains('-') || word == "myself" {
        return format!("-{small}-").contains(&format!("-{word}-"));
    }
    let Some(rest) = small.strip_prefix(word) else { return false };
    let next = rest.strip_prefix('-').and_then(|rest| rest.split('-').next());
    let is_title = matches!(word, "mr" | "mrs" | "ms" | "miss" | "dr") && next.is_some();
    rest.is_empty() || is_title || matches!(next, Some("for" | "to" | "from" | "of" | "in" | "into" | "by"))
}

impl Asked<'_> {
    fn in_place(&self, message: impl Into<String>, replacement: impl Into<String>) -> Fix {
        Fix { message: message.into(), span: self.name, replacement: replacement.into(), sure: false }
    }

    /// The line's name gives way to an order that the book hasn't, where money is received for one.
    fn for_an_order(&self, letters: &str, message: &str) -> Option<Fix> {
        let free = |code: &String| self.book.label_id(code).is_none();
        let code = (1..1000).map(|number: u32| format!("{letters}-{number}")).find(free)?;
        (self.verb == Some(Verb::Received)).then(|| self.in_place(message, format!("order \"{code}\"")))
    }
}

fn own_money(asked: &Asked<'_>) -> Road {
    let day = &asked.day;
    Road {
        message: Some("your own money, put into the shop or taken out of it, is not kept in this book".into()),
        notes: vec![
            "the book keeps goods, what they cost and what they bring; money between you and the shop changes none of these"
                .into(),
            format!("to remember it: `noted {day} \"{} of my own money\"`, in place of the entry", asked.sum),
        ],
        ..Road::default()
    }
}

fn debt(asked: &Asked<'_>) -> Road {
    let (day, sum) = (&asked.day, &asked.sum);
    let of_a_card = asked.typed.contains("card");
    let message = match asked.verb {
        Some(Verb::Received) => LOAN_IS_NO_INCOME,
        _ if of_a_card => CARD_IS_NO_COST,
        _ => LOAN_IS_NO_COST,
    };
    let mut notes = vec![format!("to remember it: `noted {day} \"{sum} for {}\"`, in place of the entry", asked.typed)];
    if asked.verb != Some(Verb::Received) {
        notes.push("its interest or fee alone is a cost: `8.00 for interest`, an expense".into());
    }
    Road { message: Some(message.into()), notes, ..Road::default() }
}

fn gift_certificate(asked: &Asked<'_>) -> Road {
    let (day, sum) = (&asked.day, &asked.sum);
    let fixes: Vec<Fix> = asked.for_an_order("GC", "as a deposit, of a certificate with this number").into_iter().collect();
    let mut notes = Vec::new();
    if fixes.is_empty() {
        notes.push(format!(
            "a certificate that is sold is paid ahead, a deposit: `received {day} from \"…\"`, and below it `{sum} for order \"GC-1\"`"
        ));
    }
    notes.push(
        "the sale in which it is used names the same order in its head, `order \"GC-1\"`, and what was paid counts there".into(),
    );
    notes.push("a certificate for several sales is so many deposits, each with an order of its own".into());
    Road {
        message: Some("a gift certificate is no goods and no income yet: it pays for a sale that is still to come".into()),
        notes,
        fixes,
        ..Road::default()
    }
}

fn cash_box(_: &Asked<'_>) -> Road {
    Road {
        message: None,
        notes: vec![
            "cash that is put into the cash box, or taken out of it to the bank, is no cost and no income: leave it out".into(),
            "what was too much or too little in the box after a day of sales stands in the sale: `over 4.00`, `short 4.00`"
                .into(),
        ],
        fixes: Vec::new(),
        may_be_defined: true,
    }
}

fn royalty(asked: &Asked<'_>) -> Road {
    let patterns = asked.book.patterns.iter();
    let owed = patterns.filter(|one| *one.paid_later.first() || one.paid_later.changes().iter().any(|(_, later)| *later));
    let names: Vec<&str> = owed.map(|one| one.named.name.as_str()).collect();
    if names.is_empty() || names.len() > MOST || asked.verb != Some(Verb::Paid) {
        return Road {
            notes: vec![
                "what is owed to a pattern's designer by the piece stands in its definition, `pattern NAME \"…\"`, and under it `royalty \
                 0.50 per ea` and `paid later`; then it is paid by `30.00 for NAME`"
                    .into(),
            ],
            may_be_defined: true,
            ..Road::default()
        };
    }
    let fixes = names.into_iter().map(|name| asked.in_place(format!("what is owed for `{name}`"), name));
    Road {
        fixes: fixes.collect(),
        may_be_defined: false,
        notes: vec!["a royalty is paid by its pattern's name".into()],
        ..Road::default()
    }
}

fn wages(asked: &Asked<'_>) -> Road {
    let later = |helper: &&Helper| *helper.paid_later.first() || helper.paid_later.changes().iter().any(|(_, later)| *later);
    let is_payee = |helper: &&Helper| asked.head.contains(&helper.named.name.as_str());
    let owed: Vec<&Helper> = asked.book.helpers.iter().filter(later).collect();
    let payee: Vec<&Helper> = owed.iter().copied().filter(is_payee).collect();
    let meant = if payee.is_empty() { owed } else { payee };
    let hired = "a helper's time is hired where it was worked, in the batch or in `worked`";
    if meant.is_empty() || meant.len() > MOST || asked.verb != Some(Verb::Paid) {
        let who = asked.book.helpers.iter().find(is_payee).map_or("NAME", |helper| helper.named.name.as_str());
        let known = who != "NAME" || !names_of(asked.book, DefinitionWord::Helper).is_empty();
        let defined = if known { "" } else { ", with `helper NAME \"…\"` defined" };
        return Road {
            notes: vec![
                format!("{hired}, and is paid there and then: `took 3h STEP by {who} for {}`{defined}", asked.sum),
                "with `paid later` under the helper, `paid` settles it by the helper's name".into(),
            ],
            may_be_defined: true,
            ..Road::default()
        };
    }
    let fixes =
        meant.into_iter().map(|helper| &helper.named.name).map(|name| asked.in_place(format!("what is owed to `{name}`"), name));
    Road {
        fixes: fixes.collect(),
        notes: vec![format!("{hired}; what is owed for it is paid by the helper's name")],
        ..Road::default()
    }
}

fn refund(asked: &Asked<'_>) -> Road {
    let (day, sum) = (&asked.day, &asked.sum);
    let notes = match asked.verb {
        Some(Verb::Paid) => vec![
            format!(
                "what a buyer gets back: `returned {day} via CHANNEL`, or `returned {day} order \"…\"`, and below it `refunded {sum} \"why\"`"
            ),
            format!("with goods that came back, `1 NAME, refunded {sum}` below it"),
        ],
        _ => vec![format!("what a supplier gives back is no income: `credited {day} by NAME`, and below it `{sum} off NAME`")],
    };
    Road { notes, ..Road::default() }
}

fn deposit(asked: &Asked<'_>) -> Road {
    let (day, sum) = (&asked.day, &asked.sum);
    let fixes: Vec<Fix> = asked.for_an_order("D", "of an order with this name; its sale names it too").into_iter().collect();
    let notes = match asked.verb {
        Some(Verb::Received) => vec![format!("a deposit is money for an order, which has a name: `{sum} for order \"C-07\"`")],
        Some(Verb::Sold) => vec![
            format!(
                "a deposit is received before its sale: `received {day} from \"…\"`, and below it `{sum} for order \"C-07\"`"
            ),
            "the sale with the same `order \"C-07\"` in its head takes it off by itself".into(),
        ],
        _ => vec![format!("what is paid ahead for goods stands in their purchase, `bought`, as a line: `paid {sum} on {day}`")],
    };
    Road { notes, fixes, may_be_defined: asked.verb == Some(Verb::Paid), ..Road::default() }
}

fn person(asked: &Asked<'_>) -> Road {
    if asked.verb == Some(Verb::Paid) {
        let who = asked.head.iter().skip_while(|word| **word != "to").nth(1).copied().unwrap_or("NAME");
        return Road {
            notes: vec![
                format!("a helper's time is hired in its batch: `took 3h sanding by {who} for {}`", asked.sum),
                "any other cost is said by what it is for, and is defined in any file, as in `expense NAME \"…\"`".into(),
            ],
            ..Road::default()
        };
    }
    Road {
        notes: vec![
            "somebody's name is no thing: who bought is a line of the sale, `to \"Mrs Hall\"`; who was paid or paid stands in the entry's first line, in quotes"
                .into(),
        ],
        ..Road::default()
    }
}
