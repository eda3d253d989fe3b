//! The command `kerfbook`: hands its arguments to the library and exits with its status.

fn main() {}
