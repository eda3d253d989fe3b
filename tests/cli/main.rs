//! The command as a whole: what it prints where, what it writes, and its exit status.

mod files;
mod reports;
mod shop;
mod statuses;
