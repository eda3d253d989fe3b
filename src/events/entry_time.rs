//! Time in an entry: which step, whose hands, and what it costs.
//!
//! The owner's hour has a rate of the day and is no cost in the tax year; a hired hour is owed to somebody, so its pay is rounded
//! to the currency's digits line by line. `by jamie for 45.00` says the pay, `by jamie at 18.00 per h` the rate, and a defined
//! helper has a rate of the day.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::events::entry_money::Coin;
use crate::events::entry_reader::EntryReader;
use crate::events::{TimeLine, Worker};
use crate::events::{errors, no_effect};
use crate::names::{Known, Target};
use crate::sources::Span;
use crate::syntax::{DefinitionWord, Item, Party, Said, SaidWhat};
use crate::units::{Fixed6, Unit, checked_mul_exact};

/// The hours and minutes that a part of an hour in two figures may be meant for, where it is one that clocks show and few fractions
/// are: `2.30h`.
fn like_a_clock(text: &str) -> Option<(&str, &str)> {
    const PARTS: [&str; 3] = ["15", "30", "45"];
    let (hours, part) = text.trim_end().strip_suffix('h')?.trim_end().split_once('.')?;
    PARTS.contains(&part).then_some((hours, part))
}

impl EntryReader<'_> {
    /// The owner's rate of the day.
    pub(crate) fn owner_rate(&self) -> Option<Decimal> {
        *self.desk.book.shop.owner_time.on(self.date)
    }

    /// A time item: `1h 48m cutting`, `40m finishing by sam`.
    pub(crate) fn time_line(&mut self, item: &Item) -> Option<TimeLine> {
        let look = self.look();
        let Some((step, minutes)) = look.time(item, &mut self.found) else {
            self.fail();
            return None;
        };
        let Some(minutes) = Fixed6::round_from_decimal(minutes) else {
            self.refuse(errors::money::too_large(item.amount.span));
            return None;
        };
        let worker = self.worker(item, minutes)?;
        let on = match self.on_said(item) {
            Some(name) => Some(self.worked_on(name)?),
            None => None,
        };
        no_effect::tell_nothing(self, minutes.is_zero(), item.amount.span, "no time was taken");
        let text = self.text(item.amount.span);
        if let (Some(clock), Some(minutes)) = (like_a_clock(text), minutes.to_decimal()) {
            self.tell(errors::meanings::time_like_a_clock(item.amount.span, text, clock, minutes));
        }
        Some(TimeLine { minutes, step, worker, on, span: item.span })
    }

    fn on_said(&self, item: &Item) -> Option<Span> {
        item.said.iter().find_map(|said| if let SaidWhat::On(name) = said.what { Some(name) } else { None })
    }

    /// Who worked, and what is owed for it.
    fn worker(&mut self, item: &Item, minutes: Fixed6) -> Option<Worker> {
        let by =
            item.said.iter().find_map(|said| if let SaidWhat::By(party) = said.what { Some((party, said.span)) } else { None });
        let pay = self.pay_said(item, minutes)?;
        let Some((party, by_span)) = by else {
            if let Some((_, span)) = pay {
                let told = errors::money::pay_without_helper(span, self.text(span));
                self.refuse(told);
                return None;
            }
            return Some(Worker::Owner(self.owner_rate()));
        };
        self.hired(party, by_span, pay.map(|(pay, _)| pay), minutes)
    }

    fn hired(&mut self, party: Party, span: Span, pay: Option<Fixed6>, minutes: Fixed6) -> Option<Worker> {
        let name = self.party(party)?;
        let text = self.text(party.span);
        let helper = match self.known_quietly(party.span) {
            Some(Known::Helper(id)) => id,
            Some(_) if !party.quoted => {
                self.one_of(party.span, &[DefinitionWord::Helper]);
                return None;
            }
            _ => {
                let Some(pay) = pay else {
                    let helpers: Vec<&str> = self.desk.book.helpers.iter().map(|one| one.named.name.as_str()).collect();
                    let told = errors::money::pay_not_known(span, text, &helpers);
                    self.refuse(told);
                    return None;
                };
                return Some(Worker::Hired { helper: None, name, pay, paid_later: false, employee: false });
            }
        };
        let defined = self.desk.book.helper(helper);
        let pay = match (pay, defined.costs.on(self.date)) {
            (Some(pay), _) => pay,
            (None, Some(rate)) => {
                let coin = Coin { book: self.coin.book, foreign: None };
                let read = coin.pay(*rate, minutes);
                self.money_or_told(read, *rate, span)?
            }
            (None, None) => {
                if !defined.named.incomplete {
                    let told = errors::money::helper_without_rate(span, text, self.date).also(defined.named.span, "defined here");
                    self.refuse(told);
                }
                self.fail();
                return None;
            }
        };
        Some(Worker::Hired {
            helper: Some(helper),
            name,
            pay,
            paid_later: *defined.paid_later.on(self.date),
            employee: *defined.employee.on(self.date),
        })
    }

    /// The pay that the item says, by rate or for all of it.
    #[expect(clippy::option_option, reason = "nothing said is not the same as something that could not be read")]
    fn pay_said(&mut self, item: &Item, minutes: Fixed6) -> Option<Option<(Fixed6, Span)>> {
        let mut pay = None;
        for said in &item.said {
            let this = match said.what {
                SaidWhat::For(money) => self.booked(money, said.span)?,
                SaidWhat::AtPer(money, unit) => {
                    let per_hour = match Unit::parse(self.text(unit)) {
                        Some(Unit::Hour) => Some(money),
                        Some(Unit::Minute) => checked_mul_exact(money, Decimal::from(60)).ok(),
                        _ => None,
                    };
                    let Some(per_hour) = per_hour else {
                        let text = self.text(said.span);
                        let by_piece = !matches!(self.text(unit), "day" | "days" | "week" | "weeks" | "month" | "months");
                        let told = match by_piece {
                            true => errors::money::pay_by_the_piece(said.span, text),
                            false => errors::money::pay_needs_per_hour(said.span, text, money),
                        };
                        self.refuse(told);
                        return None;
                    };
                    let read = self.coin.pay(per_hour, minutes);
                    self.money_or_told(read, money, said.span)?
                }
                SaidWhat::At(money) => {
                    let told = errors::money::pay_needs_per_hour(said.span, self.text(said.span), money);
                    self.refuse(told);
                    return None;
                }
                _ => continue,
            };
            if let Some((_, first)) = pay {
                self.refuse(errors::money::two_prices(said.span, first));
                return None;
            }
            pay = Some((this, said.span));
        }
        Some(pay)
    }

    /// The time said of a line of goods (`5 serving-board for 71.25, 6h`). `None` after a mistake was told.
    #[expect(clippy::option_option, reason = "nothing said is not the same as something that could not be read")]
    pub(crate) fn hours_said(&mut self, item: &Item) -> Option<Option<Fixed6>> {
        let hours = item
            .said
            .iter()
            .find_map(|said| if let SaidWhat::Hours(minutes) = said.what { Some((minutes, said.span)) } else { None });
        let Some((minutes, span)) = hours else { return Some(None) };
        let minutes = Fixed6::round_from_decimal(minutes);
        if minutes.is_none() {
            self.refuse(errors::money::too_large(span));
        }
        minutes.map(Some)
    }

    /// What is said of an expense: for what, and for which later day.
    pub(crate) fn expense_said(&mut self, said: &[Said]) -> Option<(Option<Target>, Option<NaiveDate>)> {
        let (mut on, mut meant_for) = (None, None);
        for one in said {
            match one.what {
                SaidWhat::On(name) => on = Some(self.target(name)?),
                SaidWhat::MeantFor(date) if date <= self.date => {
                    let why = "it is for what is paid ahead, and no day after the entry's own stands here";
                    self.tell(errors::entries::no_effect_here(one.span, "`meant for`", why));
                }
                SaidWhat::MeantFor(date) => meant_for = Some(date),
                _ => {}
            }
        }
        Some((on, meant_for))
    }
}
