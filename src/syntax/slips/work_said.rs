//! Slips of who worked and on what: `1h packing on web-page with lena`, `2h sewing and theo`, `1h quoting on to order`, `3h stripping on Mrs. Lund's chair`.

use super::no_entry::as_text;
use super::slip::{Slip, SlipRule};
use super::spoken::one_name;
use super::time::{time_at, written};
use super::typed::Typed;
use crate::syntax::Verb;
use crate::syntax::slip_errors::{NAME_SPELLING, OWN_LINE};

pub(super) const RULES: &[SlipRule] = &[with_helper, helper_first, on_several_words];

/// Where a time begins on a line of work, and how many words it has.
fn time_of(typed: &Typed<'_>) -> Option<(usize, usize)> {
    let in_batch = typed.verb().is_some_and(Verb::is_of_a_batch) && typed.word(0).is("took");
    let begins = usize::from(in_batch);
    let length = time_at(typed, begins);
    (typed.is_detail() && length > 0 && (in_batch || typed.verb() == Some(Verb::Worked))).then_some((begins, length))
}

/// `1h packing on web-page with lena`, `2h sewing and theo`: a helper beside the owner
fn with_helper(typed: &Typed<'_>) -> Option<Slip> {
    let (begins, length) = time_of(typed)?;
    let at = typed.words.len().checked_sub(2).filter(|at| *at > begins + length)?;
    let (joins, helper) = (typed.word(at), typed.word(at + 1));
    let mixed = (begins..at).any(|at| typed.word(at).comma || typed.word(at).quoted || typed.word(at).is("by"));
    // `sanding and cutting` are two steps, `on cart and stool` two products.
    let two_of_a_kind = helper.text.ends_with("ing")
        || !joins.is("with")
            && typed.word(at - 2).is("on")
            && typed.word(at - 1).is_name()
            && at > begins + length + 2
            && !typed.word(at - 1).text.contains('-');
    if !joins.is_one_of(&["with", "and", "&", "plus"]) || !helper.is_name() || mixed || two_of_a_kind {
        return None;
    }
    let line = typed.slice(0..at).trim_end();
    let by = format!("{line} by {}", helper.text);
    let time = written(typed, begins..begins + length);
    let slip =
        Slip::new(OWN_LINE, typed.range(at..at + 2), "each who worked has a line of their own; a helper is said with `by`");
    let slip = slip.fix(format!("where both worked, {time} each"), format!("{line}\n{by}"));
    let slip = slip.fix(format!("or where `{}` did it alone", helper.text), by);
    Some(if joins.is("with") {
        slip.fix("or where that is no helper, as a remark", format!("{line} \"with {}\"", helper.text))
    } else {
        slip
    })
}

/// `amy helped 1h`, `ana worked 2h sewing`: who worked, before the time
fn helper_first(typed: &Typed<'_>) -> Option<Slip> {
    let in_batch = typed.verb().is_some_and(Verb::is_of_a_batch);
    let here = typed.is_detail() && (in_batch || typed.verb() == Some(Verb::Worked));
    let said = typed.word(1).is_one_of(&["helped", "worked", "did", "spent", "works", "helps"]);
    let length = time_at(typed, 2);
    if !here || !typed.word(0).is_name() || !said || length == 0 {
        return None;
    }
    let end = 2 + length;
    let step = typed.word(end);
    let (step, rest) = if step.is_name() { (step.text, end + 1) } else { ("NAME", end) };
    let took = if in_batch { "took " } else { "" };
    let rest = typed.slice(rest..typed.words.len());
    let right = format!("{took}{} {step} by {} {rest}", written(typed, 2..end), typed.word(0).text);
    let slip =
        Slip::new(OWN_LINE, typed.range(0..end), "a time stands first, then its step, then who did it: `1h sanding by NAME`");
    Some(slip.fix("write it so", right.trim_end().to_owned()))
}

/// `1h quoting on to order`, `3h stripping on Mrs. Lund's chair`: what it was for in several words
fn on_several_words(typed: &Typed<'_>) -> Option<Slip> {
    let (begins, length) = time_of(typed).filter(|_| typed.verb() == Some(Verb::Worked))?;
    let on = (begins + length + 1..typed.words.len()).find(|at| typed.word(*at).is("on"))?;
    let end = (on + 1..typed.words.len()).find(|at| typed.word(*at).is("by") || typed.word(*at).quoted);
    let end = end.unwrap_or(typed.words.len());
    let begins = on + 1 + usize::from(typed.word(on + 1).is_one_of(&["the", "my", "our", "a", "an"]));
    let words = begins..end;
    let named_well = words.len() < 2 || words.clone().any(|at| typed.word(at).comma || typed.word(at).is("batch"));
    if named_well || typed.word(end).quoted {
        return None;
    }
    let (front, rest, text) = (typed.slice(0..on), typed.slice(end..typed.words.len()), as_text(typed, words.clone()));
    let with = |what: &str| format!("{front} on {what} {rest}").trim_end().to_owned();
    let message = "behind `on` stands one name, of a product, a line or a channel, or `batch` with its code";
    let slip = Slip::new(NAME_SPELLING, typed.range(words.clone()), message);
    let slip = match one_name(typed, words) {
        Some(name) => slip.fix_joined("as one name", with(&name), name),
        None => slip,
    };
    Some(slip.fix("with its name, and what it was as a remark", format!("{} \"{text}\"", with("NAME"))))
}
