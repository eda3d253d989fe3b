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
    let (said, sizes) = lower_said(leaves, without_memo(inner), ListWord::Bare)?;
    if sizes.is_some() {
        return Err(Unread::Slip);
    }
    Ok(DetailKind::Money { money, money_span: sum, purpose, said })
}

/// What is left of a line before its memo.
fn without_memo(inner: Siblings<'_>) -> Siblings<'_> {
    inner.until(Rule::memo)
}

/// Lowers what a sum is for.
fn lower_purpose(leaves: Leaves<'_>, purpose: Branch<'_>) -> Result<Purpose, Unread> {
    let mut inner = purpose.inner;
    Ok(match purpose.node.rule {
        Rule::for_home => Purpose::ForHome,
        Rule::for_name => Purpose::For(leaves.only_name(inner)?),
        Rule::off => Purpose::Off(leaves.only_name(inner)?),
        Rule::on => Purpose::OnBatch(leaves.only_code(inner)?),
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
        Rule::owed_by | Rule::owed_to => {
            let party = leaves.party(&mut inner)?;
            let reference = inner.next().map(|one| lower_reference(leaves, one)).transpose()?;
            if purpose.node.rule == Rule::owed_by {
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
        Rule::receipt => Reference::Receipt(leaves.text_or_code(inner)?),
        Rule::order | Rule::order_code => Reference::Order(leaves.text_or_code(inner)?),
        Rule::bought => {
            let date = leaves.next_date(&mut inner)?;
            Reference::Bought(date, reference.node.span)
        }
        _ => return Err(Unread::Slip),
    })
}
