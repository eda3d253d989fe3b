//! `kerfbook price NAME`: what a piece must fetch in each channel, and what it earns.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::show::show;
use super::{Done, compile};
use crate::cli::args::PriceArgs;
use crate::cli::asked_name::thing_asked;
use crate::cli::faults::{says_nothing_of, too_large};
use crate::cli::options::period;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::names::ThingKind;
use crate::render::html::Pages;
use crate::render::text::text_price;
use crate::reports::{PriceFault, PriceIndex, Wanted, report_price_by};
use crate::units::{Fixed6, SpacedM, read_decimal, read_percent, read_time};

/// Hours of more than a year by day and night are a slip of the hand.
const MOST_HOURS: i128 = 8_784;

/// Runs it.
pub(super) fn run(args: &PriceArgs, streams: &Streams) -> Done {
    let days = period(&args.period).map_err(Outcome::refused)?;
    let (name, wanted) = wanted(args).map_err(Outcome::refused)?;
    let book = compile(&args.book, streams)?;
    if let Some(nothing) = says_nothing_of(&book.compiled, days) {
        return Err(nothing);
    }
    // A material that is made or sold counts too.
    let product =
        thing_asked(&book.compiled.book, &name, "product", |kind| kind == ThingKind::Product).map_err(Outcome::refused)?;
    let compiled = &book.compiled;
    let figures = compiled.book.shop.tax_form.as_deref().and_then(|form| book.forms.figures(form));
    let mile_rate = |day: NaiveDate| figures?.mileage(day).map(|rate| rate.per_mile.0);
    let index = PriceIndex::of(compiled.books(), days, &mile_rate)
        .and_then(|index| index.with_fairs(&mile_rate))
        .ok_or_else(too_large)?;
    let report = report_price_by(&index, product, wanted).map_err(|fault| match fault {
        PriceFault::TooLarge => too_large(),
        fault => Outcome::refused(fault.says(&compiled.book, product)),
    })?;
    show(&report, &book, &args.show, streams, text_price, Pages::render_price)
}

/// The name, and what is wanted. `--earn 25 per h` may stand before the name, too.
fn wanted(args: &PriceArgs) -> Result<(String, Wanted), String> {
    let mut name = args.name.clone();
    let mut earn = args.earn.join(" ");
    if name.is_none()
        && let Some((before, last)) = earn.rsplit_once(' ').filter(|(_, last)| *last != "h" && *last != "per")
    {
        name = Some(last.to_owned());
        earn = before.to_owned();
    }
    let name = name.ok_or("say which product: `kerfbook price NAME`")?;
    let per_hour = match earn.as_str() {
        "" => None,
        typed => Some(earned(typed)?),
    };
    let margin = args.margin.as_deref().map(percent).transpose()?;
    let money = args.fixed.as_deref().map(|typed| sum("--fixed", typed)).transpose()?;
    let minutes = args.hours.as_deref().map(hours).transpose()?;
    let fixed = match (money, minutes) {
        (None, None) => None,
        (money, minutes) => Some((money.unwrap_or_default(), minutes.unwrap_or_default())),
    };
    Ok((name, Wanted { per_hour, margin, fixed }))
}

fn earned(typed: &str) -> Result<Fixed6, String> {
    let money = typed.strip_suffix(" per h").or_else(|| typed.strip_suffix("/h")).unwrap_or(typed);
    sum("--earn", money).map_err(|_| format!("`--earn {typed}`: what an hour is to earn is money, as in `--earn 25 per h`"))
}

fn sum(option: &str, typed: &str) -> Result<Fixed6, String> {
    let read = read_decimal(typed).map_err(|fault| format!("`{option} {typed}`: {fault}"))?;
    Fixed6::from_decimal_exact(read)
        .filter(|money| !money.is_negative())
        .ok_or_else(|| format!("`{option} {typed}` is no sum of money, as in `{option} 120.00`"))
}

fn percent(typed: &str) -> Result<Decimal, String> {
    let wants = || format!("`--margin {typed}`: a margin is a part of the price below 100%, as in `--margin 30%`");
    let read = read_percent(typed).map_err(|_| wants())?.figure();
    if read >= Decimal::ONE_HUNDRED || read < Decimal::ZERO { Err(wants()) } else { Ok(read) }
}

fn hours(typed: &str) -> Result<Fixed6, String> {
    let read = read_time(typed, SpacedM::Minutes).map_err(|fault| format!("`--hours {typed}`: {fault}, as in `--hours 16h`"))?;
    let most = Fixed6::from_micros(MOST_HOURS.saturating_mul(60_000_000));
    if read > most {
        Err(format!("`--hours {typed}`: more than {MOST_HOURS} hours are no fair and no year's work"))
    } else {
        Ok(read)
    }
}
