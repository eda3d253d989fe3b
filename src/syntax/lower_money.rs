//! Lines of money: `18.40 for shop-supplies`, `600.00 for receipt "A-1182"`, `88.20 owed by gift-shop for order "G-11"`.

use crate::sources::Span;
use crate::syntax::errors::Unread;
use crate::syntax::grammar::Rule;
use crate::syntax::lower_item::lower_said;
use crate::syntax::lower_leaf::Leaves;
use crate::syntax::nodes::{Branch, Siblings};
use crate::syntax::{DetailKind, ListWord, Purpose, Reference};

/// Lowers a line of money. `sum` is where its number stands, `inner` what follows.
pub(crate) fn lower_money(leaves: Leaves<'_>, sum: Span, mut inner: Siblings<'_>) -> Result<DetailKind, Unread> {
    let money = leaves.decimal(sum)?;
    let purpose = Box::new(lower_purpose(leaves, inner.next().ok_or(Unread::Slip)?)?);
    let said = lower_said(leaves, inner.until(Rule::memo), ListWord::Bare)?;
    Ok(DetailKind::Money { money, money_span: sum, purpose, said })
}

/// Lowers what a sum is for.
fn lower_purpose(leaves: Leaves<'_>, purpose: Branch<'_>) -> Result<Purpose, Unread> {
    let mut inner = purpose.inner;
    Ok(match purpose.node.rule {
        Rule::for_home => Purpose::ForHome,
        Rule::for_name => Purpose::For(leaves.only_name(inner)?),
        Rule::off => Purpose::Off(leaves.only_name(inner)?),
        Rule::on_batch => Purpose::OnBatch(leaves.only_code(inner)?),
        Rule::for_sales_tax => {
            let to = inner.when(Rule::tax_to).map(|to| leaves.only_name(to.inner)).transpose()?;
            let allowed = inner.when(Rule::allowed).map(|mut one| leaves.next_decimal(&mut one.inner)).transpose()?;
            Purpose::SalesTax { to, allowed }
        }
        Rule::for_references => {
            let mut references = Vec::with_capacity(inner.count());
            for reference in inner {
                references.push(lower_reference(leaves, reference)?);
            }
            Purpose::Settles(references)
        }
        Rule::owed => {
            let party = leaves.party(&mut inner)?;
            let reference = inner.next().map(|one| lower_reference(leaves, one)).transpose()?;
            if leaves.words(purpose.node.span).starts_with("owed by ") {
                Purpose::OwedBy(party, reference)
            } else {
                Purpose::OwedTo(party, reference)
            }
        }
        _ => return Err(Unread::Slip),
    })
}

/// Lowers what a payment settles.
fn lower_reference(leaves: Leaves<'_>, reference: Branch<'_>) -> Result<Reference, Unread> {
    let mut inner = reference.inner;
    Ok(match reference.node.rule {
        Rule::reference if leaves.first_word(reference.node.span) == "receipt" => {
            Reference::Receipt(leaves.text_or_code(&mut inner)?)
        }
        Rule::reference | Rule::order => Reference::Order(leaves.text_or_code(&mut inner)?),
        Rule::bought => Reference::Bought(leaves.next_date(&mut inner)?, reference.node.span),
        Rule::sold => Reference::Sold(leaves.next_date(&mut inner)?, reference.node.span),
        _ => return Err(Unread::Slip),
    })
}
