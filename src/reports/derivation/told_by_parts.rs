//! Derivations that stand on one page, so that no row is told twice: the whole of a batch by its parts, and its minutes beside the money for them.

use rust_decimal::Decimal;

use crate::reports::{WhyMeasure, WhyReport, WhyRule, WhyStep};
use crate::units::checked_add_exact;

/// The parts of a cost that add up to the whole, and which of them are laid out.
const PARTS: [(&str, &str, bool); 6] = [
    ("materials", "materials", true),
    ("wear", "wear", true),
    ("bought-in-time", "bought-in time", true),
    ("royalty", "royalty", true),
    ("own-time", "own time", false),
    ("overhead", "overhead", false),
];

/// Tells what a batch collected by its parts, each a step that leads to the derivation of the part, where these stand among `told` and add up to the
/// whole to the last digit; else the rows of the whole stay.
pub fn tell_by_parts(told: &mut [WhyReport]) {
    for at in 0..told.len() {
        let Some(parts) = told.get(at).and_then(|whole| steps_of_parts(whole, told)) else { continue };
        if let Some(collected) = told.get_mut(at).and_then(|whole| whole.steps.first_mut()) {
            collected.steps = parts;
        }
    }
}

/// Where a batch's minutes have the very rows of its own time: takes them out of `told`, and gives the figure of the own time with the derivation of
/// the minutes, so that they can be told beside it.
#[must_use]
pub fn take_minutes(told: &mut Vec<WhyReport>) -> Option<(String, WhyReport)> {
    let minutes = told.iter().position(|one| one.figure.starts_with("batch/") && one.figure.ends_with("/minutes"))?;
    let of_time = told.get(minutes)?.figure.strip_suffix("minutes").map(|batch| format!("{batch}own-time"))?;
    let money = told.iter().find(|one| one.figure == of_time)?;
    let is_same = has_rows_of(&money.steps, &told.get(minutes)?.steps) && rows_in(&money.steps) > 1;
    is_same.then(|| (of_time, told.remove(minutes)))
}

/// What one of a thing costs, part by part, of the same rows: so that a row is told once, with all its parts.
#[derive(Clone, Debug)]
pub struct CostParts {
    /// The figures of the parts, in order.
    pub figures: Vec<String>,
    /// Of each row what it says, the figure of its whole, and the amounts of the parts; the last two rows are all of them, and one.
    pub rows: Vec<(String, Option<String>, Vec<Option<String>>)>,
}

/// Takes the derivations of a cost's parts out of `told`, where they have no other rows than the whole has, and these are one list.
#[must_use]
pub fn take_cost_parts(told: &mut Vec<WhyReport>) -> Option<CostParts> {
    let whole = told.iter().find(|one| one.figure.starts_with("cost/") && one.measure == WhyMeasure::PaidAndFull)?;
    let (top, all) = list_below(whole)?;
    let figure_of = |step: &WhyStep| step.figure.clone();
    let mut rows: Vec<(String, Option<String>, Vec<Option<String>>)> =
        all.steps.iter().map(|step| (step.says.clone(), figure_of(step), Vec::new())).collect();
    rows.push((all.says.clone(), None, Vec::new()));
    rows.push((top.says.clone(), None, Vec::new()));
    // Rows are told apart by what they say and where that stands.
    let key = |step: &WhyStep| (step.says.clone(), step.at.as_ref().map(|at| (at.file.clone(), at.line)));
    let keys: Vec<_> = all.steps.iter().map(key).collect();
    if (1..keys.len()).any(|at| keys.get(..at).is_some_and(|before| keys.get(at).is_some_and(|one| before.contains(one)))) {
        return None;
    }
    let mut figures = Vec::new();
    for part in PARTS.iter().map(|(part, ..)| *part).chain(["minutes"]) {
        let Some(of_part) = told.iter().find(|one| one.figure == format!("{}/{part}", whole.figure)) else { continue };
        let Some((top, all)) = list_below(of_part) else { continue };
        let mut amounts = vec![None; rows.len()];
        for step in &all.steps {
            *amounts.get_mut(keys.iter().position(|one| *one == key(step))?)? = Some(step.paid.clone());
        }
        let count = rows.len();
        *amounts.get_mut(count.checked_sub(2)?)? = Some(all.paid.clone());
        *amounts.get_mut(count.checked_sub(1)?)? = Some(top.paid.clone());
        rows.iter_mut().zip(amounts).for_each(|(row, amount)| row.2.push(amount));
        figures.push(of_part.figure.clone());
    }
    if figures.len() < 2 {
        return None;
    }
    told.retain(|one| !figures.contains(&one.figure));
    Some(CostParts { figures, rows })
}

/// The one of a derivation of a cost, and the list of which it is a part, each of whose rows is told at home.
fn list_below(told: &WhyReport) -> Option<(&WhyStep, &WhyStep)> {
    let [top] = told.steps.as_slice() else { return None };
    let [all] = top.steps.as_slice() else { return None };
    let is_list = top.rule == WhyRule::PerUnit
        && all.rule == WhyRule::SumOf
        && !all.steps.is_empty()
        && all.steps.iter().all(|step| step.figure.is_some() && step.month.is_none());
    is_list.then_some((top, all))
}

fn steps_of_parts(whole: &WhyReport, told: &[WhyReport]) -> Option<Vec<WhyStep>> {
    if whole.measure != WhyMeasure::PaidAndFull || !whole.figure.starts_with("batch/") {
        return None;
    }
    let collected = whole.steps.first().filter(|step| step.rule == WhyRule::SumOf)?;
    let (mut paid, mut full) = (Decimal::ZERO, Decimal::ZERO);
    let mut steps = Vec::new();
    for (part, says, is_laid_out) in PARTS {
        let figure = format!("{}/{part}", whole.figure);
        let of_part = told.iter().find(|one| one.figure == figure)?;
        let Some(top) = of_part.steps.first() else { continue };
        let money = Decimal::from_str_exact(&top.paid).ok()?;
        if money.is_zero() {
            continue;
        }
        full = checked_add_exact(full, money).ok()?;
        if is_laid_out {
            paid = checked_add_exact(paid, money).ok()?;
        }
        steps.push(WhyStep {
            says: says.to_owned(),
            paid: if is_laid_out { top.paid.clone() } else { "0.00".to_owned() },
            full: top.paid.clone(),
            measure: None,
            unit: None,
            rule: WhyRule::Deeper,
            figure: Some(figure),
            month: None,
            at: None,
            steps: Vec::new(),
        });
    }
    let is_whole = |sum: Decimal, text: &str| Decimal::from_str_exact(text).is_ok_and(|whole| whole == sum);
    // Of one part, or of few rows, the rows themselves say more.
    let is_shorter = steps.len() > 1 && steps.len() < rows_in(&collected.steps);
    (is_shorter && is_whole(paid, &collected.paid) && is_whole(full, &collected.full)).then_some(steps)
}

fn rows_in(steps: &[WhyStep]) -> usize {
    steps.iter().map(|step| rows_in(&step.steps).saturating_add(1)).sum()
}

/// Whether steps say the same, of the same figures and lines, whatever their amounts are.
fn has_rows_of(one: &[WhyStep], other: &[WhyStep]) -> bool {
    one.len() == other.len()
        && one.iter().zip(other).all(|(one, other)| {
            (&one.says, &one.figure, &one.at, one.rule) == (&other.says, &other.figure, &other.at, other.rule)
                && has_rows_of(&one.steps, &other.steps)
        })
}
