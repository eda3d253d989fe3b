//! Wrong books, one folder a case: what must be found stands beside the line that is wrong.
//!
//! A case is a folder `k203-a-few-words` with a small book. A book that has no `shop` of its own stands on the shop of the
//! explain pages. `# error[K203]` at the end of a line expects that mistake on it, `# warning[K920]` a warning; a line that
//! begins with `#^` expects it on the line above, for lines that a comment can't end. After a colon may stand words that the message
//! must hold. What is found must be what is expected, no more and no less. A file that is no text can't say what is wrong with
//! it: then a file `found.txt` does, as `path:line: error[K198]`.

mod all_at_once;
mod as_spoken;
mod cases;
#[path = "../compiled/mod.rs"]
mod compiled;
mod expected;
mod narrow;
mod pages;
