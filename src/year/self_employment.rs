//! Self-employment tax, line by line of its schedule.
//!
//! The floor is compared with the unrounded product of the profit in cents, also on a sheet in whole dollars, so that a profit of 433.13
//! owes nothing and one of 433.14 does; from there each line is rounded to the sheet's unit and later lines start from printed ones.
//! Where that rounding would carry a product to the other side of the floor, it is printed on its own side. Wages from elsewhere lower
//! the base; what a book never knows (a farm, a church, optional methods) is printed as zero, for lines that add it.

use crate::diagnostics::Diagnostics;
use crate::units::{Fixed6, Percent};
use crate::year::Rule;
use crate::year::books::BooksOfYear;
use crate::year::errors::no_figure;
use crate::year::forms::figure_entries::SelfEmploymentRates;
use crate::year::forms::form::ScheduleLine;
use crate::year::questions::Questions;
use crate::year::rounding::SheetUnit;
use crate::year::tax_year::{ScheduleRule, ScheduleSum};

/// The lines that a schedule has, by stable name.
pub(crate) const SCHEDULE_LINES: [&str; 20] = [
    "farm-profit",
    "conservation-payments",
    "profit",
    "combined-profit",
    "net-earnings",
    "optional-methods",
    "net-earnings-combined",
    "church-income",
    "church-earnings",
    "taxed-earnings",
    "wage-base",
    "wages",
    "unreported-tips",
    "wages-by-form-8919",
    "wages-taxed",
    "base-left",
    "social-security",
    "medicare",
    "tax",
    "half-deductible",
];

/// The figures of the schedule, by stable name.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Figures {
    profit: Fixed6,
    net_earnings: Fixed6,
    taxed: Fixed6,
    base: Fixed6,
    wages: Fixed6,
    base_left: Fixed6,
    social_security: Fixed6,
    medicare: Fixed6,
    tax: Fixed6,
    half: Fixed6,
    /// Whether the net earnings were kept on their own side of the floor.
    kept_apart: bool,
}

impl Figures {
    fn of_name(&self, name: &str) -> Option<Fixed6> {
        Some(match name {
            "profit" | "combined-profit" => self.profit,
            "net-earnings" | "net-earnings-combined" => self.net_earnings,
            "taxed-earnings" => self.taxed,
            "wage-base" => self.base,
            "farm-profit"
            | "conservation-payments"
            | "optional-methods"
            | "church-income"
            | "church-earnings"
            | "unreported-tips"
            | "wages-by-form-8919" => Fixed6::ZERO,
            "wages" | "wages-taxed" => self.wages,
            "base-left" => self.base_left,
            "social-security" => self.social_security,
            "medicare" => self.medicare,
            "tax" => self.tax,
            "half-deductible" => self.half,
            _ => return None,
        })
    }
}

/// Figures the schedule from a net profit as printed, and in cents for its floor. `None` on overflow.
fn figure(profit: Fixed6, cents: Fixed6, wages: Fixed6, rates: &SelfEmploymentRates, unit: SheetUnit) -> Option<Figures> {
    let part = |percent: rust_decimal::Decimal, amount| Percent::new(percent).of_rounded(amount, unit.digits());
    let base = unit.printed(Fixed6::round_from_decimal(rates.wage_base.0)?);
    let wages = unit.printed(wages);
    let mut out = Figures { profit, base, wages, base_left: base.checked_sub(wages)?.max(Fixed6::ZERO), ..Figures::default() };
    if !profit.is_positive() {
        out.net_earnings = profit;
        return Some(out);
    }
    let rounded = part(rates.net_part.0, profit)?;
    // Four digits of the rate and two of the cents: six digits hold the product unrounded.
    let unrounded = Percent::new(rates.net_part.0).of_rounded(cents, 6)?;
    let floor = Fixed6::round_from_decimal(rates.floor.0)?;
    let below = unrounded < floor;
    let step = Fixed6::from_micros(10i128.checked_pow(6u32.checked_sub(unit.digits())?)?);
    out.net_earnings = if below { rounded.min(floor.checked_sub(step)?) } else { rounded.max(floor) };
    out.kept_apart = out.net_earnings != rounded;
    if below {
        return Some(out);
    }
    out.taxed = out.net_earnings;
    out.social_security = part(rates.social_security.0, out.taxed.min(out.base_left))?;
    out.medicare = part(rates.medicare.0, out.taxed)?;
    out.tax = out.social_security.checked_add(out.medicare)?;
    out.half = part(rates.deductible.0, out.tax)?;
    Some(out)
}

/// The schedule's lines from the net profit, printed and in cents. `None` on overflow.
pub(crate) fn figure_self_employment(
    of: &BooksOfYear<'_>,
    printed: Fixed6,
    cents: Fixed6,
    questions: &mut Questions,
    notes: &mut Vec<String>,
    found: &mut Diagnostics,
) -> Option<Vec<ScheduleSum>> {
    if of.form.schedule.is_empty() {
        return Some(Vec::new());
    }
    let Some(rates) = of.figures.self_employment(of.year) else {
        found.push(no_figure(
            of.book().shop.span,
            of.form,
            "self_employment",
            "the net profit can't be taken on to self-employment tax",
        ));
        return Some(Vec::new());
    };
    let stated = of.book().choices.get(&of.year).and_then(|choices| choices.wages_elsewhere);
    let wages = stated.map_or(Some(Fixed6::ZERO), Fixed6::round_from_decimal)?;
    let by_sheet = figure(printed, cents, wages, rates, SheetUnit::new(of.digits(), of.whole_dollars()))?;
    let by_cents = figure(cents, cents, wages, rates, SheetUnit::new(of.digits(), false))?;
    if let Some(line) = of.form.schedule.iter().find(|line| by_sheet.kept_apart && line.name == "net-earnings") {
        let product = Percent::new(rates.net_part.0).of_rounded(cents, 6)?;
        notes.push(format!(
            "line {} of {} is {}: by the net profit in cents it is {product}, and that is held against the {} from which tax is due",
            line.number,
            of.form.schedule_title,
            by_sheet.net_earnings.to_fixed_text(0, of.digits()),
            of.money(Fixed6::round_from_decimal(rates.floor.0)?)
        ));
    }
    if stated.is_none() && by_sheet.social_security.is_positive() {
        let question = format!("were there wages from elsewhere in {} that social security tax was taken from?", of.year);
        let answer = format!("choices {} with `wages elsewhere 0.00`, or what they were", of.year);
        questions.ask("self-employment/wages-elsewhere", question, Rule::WagesElsewhere, &answer, Vec::new());
    }
    let line = |line: &ScheduleLine| {
        Some(ScheduleSum {
            number: line.number.clone(),
            label: line.label.clone(),
            name: line.name.clone(),
            printed: by_sheet.of_name(&line.name)?,
            cents: by_cents.of_name(&line.name)?,
            rule: rule_of(of, &line.name, &by_cents, (rates, stated.is_some())),
        })
    };
    Some(of.form.schedule.iter().filter_map(line).collect())
}

/// How a line comes about, with its numbers and, where a rate is in it, the rate's source.
fn rule_of(
    of: &BooksOfYear<'_>,
    name: &str,
    by_cents: &Figures,
    (rates, has_wages): (&SelfEmploymentRates, bool),
) -> ScheduleRule {
    let line = |name: &str| {
        let number = of.form.schedule.iter().find(|line| line.name == name).map(|line| line.number.as_str());
        number.map_or_else(|| "nothing".to_owned(), |number| format!("line {number}"))
    };
    let percent = |rate: rust_decimal::Decimal| format!("{}%", rate.normalize());
    let owes = by_cents.taxed.is_positive();
    let rule = |how: String, from: &[(&'static str, bool)]| ScheduleRule { how, from: from.to_vec(), ..ScheduleRule::default() };
    let sum = |from: &[(&'static str, bool)]| ScheduleRule { adds: true, ..rule(String::new(), from) };
    let rated = |how: String, from: &[(&'static str, bool)]| ScheduleRule { source: Some(rates.note()), ..rule(how, from) };
    match name {
        "profit" => ScheduleRule { is_profit: true, ..ScheduleRule::default() },
        "combined-profit" => sum(&[("farm-profit", true), ("conservation-payments", true), ("profit", true)]),
        "net-earnings" if !by_cents.profit.is_positive() => {
            rule(format!("as {}, which is no profit", line("combined-profit")), &[("combined-profit", true)])
        }
        "net-earnings" => {
            let mut how = format!("{} of {}", percent(rates.net_part.0), line("combined-profit"));
            if by_cents.kept_apart {
                let side = if owes { "not below" } else { "kept below" };
                how.push_str(&format!(", {side} the {} from which tax is due", rates.floor.0.normalize()));
            }
            rated(how, &[("combined-profit", true)])
        }
        "net-earnings-combined" => sum(&[("net-earnings", true), ("optional-methods", true)]),
        "taxed-earnings" if owes => sum(&[("net-earnings-combined", true), ("church-earnings", true)]),
        "taxed-earnings" => {
            let floor = rates.floor.0.normalize();
            let how = format!("nothing: {} is below the {floor} from which tax is due", line("net-earnings-combined"));
            rated(how, &[("net-earnings-combined", true)])
        }
        "wage-base" => rated(format!("the most that is taxed for social security in {}", of.year), &[]),
        "wages" if has_wages => rule("as the year's choices say".to_owned(), &[]),
        "wages-taxed" => sum(&[("wages", true), ("unreported-tips", true), ("wages-by-form-8919", true)]),
        "base-left" if by_cents.wages > by_cents.base => {
            let how = format!("{} less {}, which leaves nothing", line("wage-base"), line("wages-taxed"));
            rule(how, &[("wage-base", true), ("wages-taxed", false)])
        }
        "base-left" => sum(&[("wage-base", true), ("wages-taxed", false)]),
        "social-security" => {
            let (earned, left) = (line("taxed-earnings"), line("base-left"));
            let how = format!("{} of the smaller of {earned} and {left}", percent(rates.social_security.0));
            rated(how, &[("taxed-earnings", true), ("base-left", true)])
        }
        "medicare" => rated(format!("{} of {}", percent(rates.medicare.0), line("taxed-earnings")), &[("taxed-earnings", true)]),
        "tax" => sum(&[("social-security", true), ("medicare", true)]),
        "half-deductible" => rated(format!("{} of {}", percent(rates.deductible.0), line("tax")), &[("tax", true)]),
        _ => rule("not in a book: nothing is entered here".to_owned(), &[]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::year::Forms;

    fn amount(text: &str) -> Fixed6 {
        Fixed6::from_decimal_exact(text.parse().expect("a decimal")).expect("six digits")
    }

    fn figures(profit: &str, wages: &str, year: i32, whole: bool) -> Figures {
        let forms = Forms::built_in();
        let rates = forms.figures("us-schedule-c").and_then(|figures| figures.self_employment(year)).expect("rates").clone();
        figure(amount(profit), amount(profit), amount(wages), &rates, SheetUnit::new(2, whole)).expect("fits")
    }

    #[test]
    fn the_floor_is_compared_with_the_unrounded_product() {
        assert_eq!(figures("433.13", "0", 2026, false).tax, Fixed6::ZERO);
        assert!(figures("433.14", "0", 2026, false).tax.is_positive());
        // 433.13 × 92.35 % is 399.995555: in cents it is not printed as the 400.00 from which tax is due.
        assert_eq!(figures("433.13", "0", 2026, false).net_earnings, amount("399.99"));
        assert_eq!(figures("433.14", "0", 2026, false).net_earnings, amount("400"));
    }

    #[test]
    fn every_line_of_the_schedule_has_a_figure_and_no_other_name_has_one() {
        let of = figures("10003", "0", 2026, true);
        assert!(SCHEDULE_LINES.into_iter().all(|name| of.of_name(name).is_some()));
        assert_eq!(of.of_name("medicarre"), None);
    }

    #[test]
    fn a_loss_owes_nothing_and_is_carried_as_it_is() {
        let loss = figures("-1200", "0", 2026, true);
        assert_eq!((loss.net_earnings, loss.taxed, loss.tax), (amount("-1200"), Fixed6::ZERO, Fixed6::ZERO));
    }

    #[test]
    fn wages_from_elsewhere_lower_the_base_but_not_below_nothing() {
        let some = figures("50000", "170000", 2026, true);
        // 50,000 × 92.35 % is 46,175; of the base 14,500 are left: × 12.4 % is 1,798; 46,175 × 2.9 % is 1,339.
        assert_eq!((some.base_left, some.social_security, some.medicare), (amount("14500"), amount("1798"), amount("1339")));
        let all = figures("50000", "200000", 2026, true);
        assert_eq!((all.base_left, all.social_security), (Fixed6::ZERO, Fixed6::ZERO));
        assert_eq!(all.tax, all.medicare);
    }

    #[test]
    fn later_lines_start_from_printed_ones() {
        // 10,003 × 92.35 % is 9,237.77: printed 9,238; × 12.4 % is 1,145.51, × 2.9 % is 267.90; 1,146 + 268.
        let sheet = figures("10003", "0", 2026, true);
        assert_eq!((sheet.taxed, sheet.social_security, sheet.medicare), (amount("9238"), amount("1146"), amount("268")));
        assert_eq!((sheet.tax, sheet.half), (amount("1414"), amount("707")));
    }
}
