//! How many random books a property is tried on, and from which seed.
//!
//! Without being asked, every run tries the same books: what turns red is the change, and a red run is red again on the next machine.
//! New books are looked for with `PROPTEST_CASES=1000 cargo test --test properties`, whenever the engine or the twin changes.

use proptest::prelude::ProptestConfig;
use proptest::test_runner::RngSeed;

/// So many from one seed, or as many new ones as the environment asks for (`PROPTEST_CASES`). What fails is kept as a test with a
/// name, never as a seed.
#[expect(clippy::disallowed_methods, reason = "the environment may ask for more cases")]
pub(crate) fn books(cases: u32) -> ProptestConfig {
    let asked = ProptestConfig { failure_persistence: None, ..ProptestConfig::default() };
    if std::env::var_os("PROPTEST_CASES").is_some() {
        return asked;
    }
    ProptestConfig { cases, rng_seed: RngSeed::Fixed(2_027), ..asked }
}
