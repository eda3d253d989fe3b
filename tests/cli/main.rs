//! The command as a whole: what it prints where, what it writes, and its exit status.

mod asking;
mod attacked_site;
mod bad_questions;
mod example_site;
mod files;
mod first_contact;
mod fixing;
mod never_built;
mod preview;
mod reports;
mod running;
mod shop;
mod site;
mod site_numbers;
mod site_sheets;
mod statuses;
mod tidy;
mod watch;
