//! Taking times in turn, and their ratio to two places, in whole numbers.

use std::time::Instant;

/// A median.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Taken {
    pub(crate) nanos: u128,
}

/// How long something takes once.
pub(crate) fn once(work: impl FnOnce()) -> u128 {
    let start = Instant::now();
    work();
    start.elapsed().as_nanos()
}

/// The medians of two works that are done in turn.
pub(crate) fn in_turn(times: usize, mut one: impl FnMut(), mut other: impl FnMut()) -> (Taken, Taken) {
    let (mut ones, mut others) = (Vec::new(), Vec::new());
    for _ in 0..times {
        ones.push(once(&mut one));
        others.push(once(&mut other));
    }
    (median(ones), median(others))
}

fn median(mut times: Vec<u128>) -> Taken {
    times.sort_unstable();
    Taken { nanos: times.get(times.len() / 2).copied().unwrap_or_default() }
}

/// A ratio to two places.
pub(crate) fn ratio(a: u128, b: u128) -> String {
    let hundredths = a * 100 / b.max(1);
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}
