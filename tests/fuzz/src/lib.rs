//! What must hold for any bytes. Each function takes bytes and panics where something does not hold; `targets/` hands them to the fuzzer.
//!
//! A crate of its own, so that the fuzzer's runtime is no dependency of Kerfbook.

mod compile;
mod numbers;
mod parse;

pub use compile::compile;
pub use numbers::numbers;
pub use parse::parse;

/// Bytes as the loader would give them: text, without byte order mark and carriage returns.
fn as_text(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    text.strip_prefix('\u{feff}').unwrap_or(&text).replace('\r', "")
}
