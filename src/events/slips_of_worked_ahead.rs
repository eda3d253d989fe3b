//! A look over work on a product of which no batch is open, while a batch of it begins shortly after: it counts for the product's line, and the
//! pieces bear nothing of it.
//!
//! In: all events in their order. Out: a warning for the first such line of each product. Must not: move a figure.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};
use rustc_hash::{FxHashMap, FxHashSet};

use crate::diagnostics::Diagnostics;
use crate::events::{BatchWork, Event, EventKind, Output, TimeLine, Worker, errors};
use crate::names::{BatchId, ResolvedBook, StepId, Target, ThingId};
use crate::sources::{SourceSet, Span};

/// How long before a batch begins work on its product may be for it: common practice, no source.
const AHEAD: Days = Days::new(14);

/// What the entries of a batch say, as far as it asks for here.
#[derive(Debug)]
struct Course {
    first: NaiveDate,
    head: Span,
    last: NaiveDate,
    steps: FxHashSet<StepId>,
    as_planned: bool,
    products: BTreeSet<ThingId>,
}

impl Course {
    fn begin(event: &Event) -> Self {
        let (steps, products) = (FxHashSet::default(), BTreeSet::new());
        Self { first: event.date, head: event.head, last: event.date, steps, as_planned: false, products }
    }

    fn note(&mut self, work: &BatchWork) {
        self.steps.extend(work.took.iter().map(|line| line.step));
        self.as_planned |= work.took_as_planned.is_some();
        let outputs = work.aims.iter().map(|(what, ..)| *what);
        let outputs = outputs.chain(work.made.iter().map(|line| line.what)).chain(work.lost.iter().map(|line| line.what));
        self.products.extend(outputs.filter_map(|what| if let Output::Thing(thing) = what { Some(thing) } else { None }));
    }
}

/// Looks over all work in its order.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let on_products =
        |event: &Event| matches!(&event.kind, EventKind::Worked(lines) if lines.iter().any(|line| product_of(line).is_some()));
    if !events.iter().any(on_products) {
        return;
    }
    let batches = courses(events);
    let mut of_product: FxHashMap<ThingId, Vec<&BatchId>> = FxHashMap::default();
    for (batch, course) in &batches {
        for product in &course.products {
            of_product.entry(*product).or_default().push(batch);
        }
    }
    let of_recipes = book.things.iter().flat_map(|thing| {
        let lists = thing.takes.changes().iter().map(|(_, list)| list).chain([thing.takes.first()]);
        lists.flatten().map(|take| take.step)
    });
    let of_batches = batches.values().flat_map(|course| &course.steps).copied();
    let of_making: FxHashSet<StepId> = of_batches.chain(of_recipes).collect();
    let mut told: FxHashSet<ThingId> = FxHashSet::default();
    for event in events {
        let EventKind::Worked(lines) = &event.kind else { continue };
        for line in lines {
            let Some(product) = product_of(line).filter(|product| !told.contains(product)) else { continue };
            let of_it = || of_product.get(&product).into_iter().flatten().filter_map(|batch| Some((*batch, batches.get(batch)?)));
            let until = event.date.checked_add_days(AHEAD).unwrap_or(NaiveDate::MAX);
            let is_open = of_it().any(|(_, course)| course.first <= event.date && event.date <= course.last);
            let next =
                of_it().filter(|(_, course)| event.date < course.first).min_by_key(|(batch, course)| (course.first, **batch));
            let Some((batch, course)) = next.filter(|(_, course)| !is_open && course.first <= until) else { continue };
            if is_of_its_making(line.step, product, course, event.date, book, &of_making) {
                told.insert(product);
                let text = sources.text(line.span);
                let time = text.split(" on ").next().unwrap_or(text).trim();
                let thing = book.thing(product);
                let of_line = (*thing.line.on(event.date)).map(|line| book.line(line).name.as_str());
                let texts = (time, thing.named.name.as_str(), of_line, book.batch(*batch).name.as_str());
                let paid = matches!(line.worker, Worker::Hired { .. });
                found.push(errors::meanings::worked_ahead(line.span, texts, paid, (course.first, course.head)));
            }
        }
    }
}

/// The product on which a line was worked, where no batch of it was found.
fn product_of(line: &TimeLine) -> Option<ThingId> {
    if let Some(Target::Product(product)) = line.on { Some(product) } else { None }
}

/// Whether a step is one of the making of a product and the batch has no time of it by itself. A product without a recipe is made by whatever steps
/// batches and other recipes take.
fn is_of_its_making(
    step: StepId,
    product: ThingId,
    course: &Course,
    day: NaiveDate,
    book: &ResolvedBook,
    of_making: &FxHashSet<StepId>,
) -> bool {
    let thing = book.thing(product);
    let recipe = thing.takes.on(day);
    let is_of_recipe = recipe.iter().any(|take| take.step == step);
    let is_making = is_of_recipe || recipe.is_empty() && !thing.recipe_incomplete && of_making.contains(&step);
    let has_it = course.steps.contains(&step) || course.as_planned && is_of_recipe;
    is_making && !has_it && !*book.step(step).indirect.on(day)
}

/// All batches, each with its first and last entry.
fn courses(events: &[Event]) -> BTreeMap<BatchId, Course> {
    let mut batches: BTreeMap<BatchId, Course> = BTreeMap::new();
    for event in events {
        match &event.kind {
            EventKind::Batch(work) => course_of(&mut batches, work.batch, event).note(work),
            EventKind::Worked(lines) => {
                for line in lines {
                    if let Some(Target::Batch(batch)) = line.on {
                        course_of(&mut batches, batch, event).steps.insert(line.step);
                    }
                }
            }
            _ => {}
        }
    }
    batches
}

fn course_of<'c>(batches: &'c mut BTreeMap<BatchId, Course>, batch: BatchId, event: &Event) -> &'c mut Course {
    let course = batches.entry(batch).or_insert_with(|| Course::begin(event));
    course.last = event.date;
    course
}
