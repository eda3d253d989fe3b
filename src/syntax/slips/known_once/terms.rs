//! Slips of the lines below `channel` and `helper`: what a channel takes, what an hour of somebody costs.

use super::super::slip::Slip;
use super::super::typed::Typed;
use super::said::Said;
use crate::syntax::DefinitionWord;

/// `commission 40%`, `fee 6.5% + 0.30`, `listing fee 0.20`, `pays monthly`
pub(super) fn line_of_channel(typed: &Typed<'_>) -> Option<Slip> {
    let said = Said::of(typed, DefinitionWord::Channel)?;
    if said.has(&["booth", "stall", "table"]) {
        return Some(said.said_elsewhere(
            "a booth is paid in an entry, not here",
            "as in `paid 2026-05-20 to county-fair`, and below it `60.00 for booth-fee on craft-fair`",
        ));
    }
    if said.begins(&["pays", "paid", "net", "invoice", "invoiced", "payout", "settles"]) && !said.is("pays later") {
        return said.meant("that the money comes on another day than the sale is `pays later`", "pays later");
    }
    let (percent, figure) = (said.percent(), said.figure());
    // What is charged whether anything is sold or not is no fee of a sale.
    let unsold = [
        "listing",
        "listings",
        "list",
        "month",
        "monthly",
        "year",
        "yearly",
        "annual",
        "subscription",
        "membership",
        "ad",
        "ads",
    ];
    if said.has(&unsold) && percent.is_none() && figure.is_some() {
        return Some(said.said_elsewhere(
            "a fee here is of a sale; what is charged for a listing, a month or a year is paid in an entry",
            "as in `paid 2026-01-20 to NAME`, and below it `2.00 for listing-fees on NAME`, an expense on the channel",
        ));
    }
    if said.begins(&["wholesale", "discount", "trade"]) {
        return said.meant("what a reseller pays of the list price", format!("wholesale {}", percent?));
    }
    let fee = said.has(&["fee", "fees", "charge", "charges"]);
    let per_item = said.has(&["each", "item", "piece", "ea"]);
    let how_often = if per_item { "item" } else { "sale" };
    if let (Some(percent), Some(figure), true) = (&percent, figure, fee || said.has(&["+", "plus", "and"])) {
        let of = if said.has(&["card", "payment"]) { "card" } else { "total" };
        let line = format!("fee {percent} of {of}\nfee {figure} per {how_often}");
        return said.meant("a part and a sum are two fees, each on its own line", line);
    }
    match (percent, figure) {
        (Some(percent), None) if said.has(&["consignment"]) => {
            said.meant("what the channel keeps is said with `consignment`", format!("consignment {percent}"))
        }
        (Some(percent), None) if said.begins(&SHARE) || said.figure_or_percent_first() => {
            let told = said.told(format!("what of every sale is {percent}?"));
            let told = told.fix("where goods lie there and it sells them for you", format!("consignment {percent}"));
            Some(told.fix("where you sell there and are charged for it", format!("fee {percent} of total")))
        }
        (Some(percent), None) if fee && !said.begins(&["fee"]) => {
            said.meant("a fee begins with its word", format!("fee {percent} of total"))
        }
        (None, Some(figure)) if fee => {
            said.meant("how often a fee of a sum is charged stands behind it", format!("fee {figure} per {how_often}"))
        }
        _ => None,
    }
}

/// Words for what a channel takes of each sale.
const SHARE: [&str; 12] =
    ["commission", "takes", "take", "share", "cut", "split", "gets", "get", "percentage", "rate", "their", "keep"];

/// `keeps 40%`, `consignment 40%`
pub(super) fn line_of_place(typed: &Typed<'_>) -> Option<Slip> {
    let said = Said::of(typed, DefinitionWord::Place)?;
    let percent = said.percent()?;
    let note = format!("a channel may have the place's name: `channel NAME \"…\"`, and below it `consignment {percent}`");
    Some(said.said_elsewhere("what somebody keeps who sells for you is said by the channel, not by the place", note))
}

/// `rate 18 per h`, `subcontractor`
pub(super) fn line_of_helper(typed: &Typed<'_>) -> Option<Slip> {
    let said = Said::of(typed, DefinitionWord::Helper)?;
    let pay = ["rate", "wage", "wages", "pay", "paid", "hourly", "cost", "gets", "earns", "charges", "per"];
    if let Some(figure) =
        said.figure().filter(|_| said.begins(&pay) || said.figure_at() == Some(0) || said.begins(&["costs"]) && said.len() == 2)
    {
        // A form's number is no wage.
        if !(said.len() == 1 && figure == "1099") {
            return said.meant("what an hour of a helper costs is said with `costs`", format!("costs {figure} per h"));
        }
    }
    let own_account = ["subcontractor", "freelancer", "freelance", "outside", "1099", "self-employed", "contract", "contractor"];
    if said.has(&own_account) && !said.is("contractor") {
        return said.meant("somebody who works on their own account is a `contractor`", "contractor");
    }
    let hired = ["w2", "w-2", "payroll", "staff", "apprentice", "hired", "employed", "employee"];
    (said.has(&hired) && !said.is("employee")).then(|| said.meant("somebody on your payroll is an `employee`", "employee"))?
}
