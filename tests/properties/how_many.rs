//! How many random books a property is tried on.

use proptest::prelude::ProptestConfig;

/// So many, or as many as the environment asks for (`PROPTEST_CASES`). What fails is kept as a test with a name, never as a seed.
#[expect(clippy::disallowed_methods, reason = "the environment may ask for more cases")]
pub(crate) fn books(cases: u32) -> ProptestConfig {
    let asked = ProptestConfig::default();
    let cases = if std::env::var_os("PROPTEST_CASES").is_some() { asked.cases } else { cases };
    ProptestConfig { cases, failure_persistence: None, ..asked }
}
