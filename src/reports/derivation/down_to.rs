//! A derivation cut at a level.
//!
//! A step that points to where its figure was told further up, which is cut now, says that more is below it instead.

use std::collections::BTreeSet;

use crate::reports::{WhyRule, WhyStep};

/// Takes off what is more than so many levels below the first steps.
pub(super) fn cut(steps: &mut [WhyStep], levels: usize) {
    let mut told = BTreeSet::new();
    let mut any = false;
    steps.iter_mut().for_each(|step| cut_step(step, levels, &mut told, &mut any));
    if any {
        steps.iter_mut().for_each(|step| point_down(step, &told));
    }
}

/// Cuts below a step; gathers which figures are still told, and whether any was cut.
fn cut_step(step: &mut WhyStep, levels: usize, told: &mut BTreeSet<String>, any: &mut bool) {
    if step.steps.is_empty() {
        return;
    }
    let Some(below) = levels.checked_sub(1) else {
        (step.rule, step.steps) = (WhyRule::Deeper, Vec::new());
        *any = true;
        return;
    };
    told.extend(step.figure.clone());
    step.steps.iter_mut().for_each(|step| cut_step(step, below, told, any));
}

fn point_down(step: &mut WhyStep, told: &BTreeSet<String>) {
    if step.rule == WhyRule::Above && !step.figure.as_ref().is_some_and(|figure| told.contains(figure)) {
        step.rule = WhyRule::Deeper;
    }
    step.steps.iter_mut().for_each(|step| point_down(step, told));
}
