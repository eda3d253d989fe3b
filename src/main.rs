//! The command `kerfbook`: hands its arguments to the library and exits with its status.

use std::process::ExitCode;

fn main() -> ExitCode {
    kerfbook::cli::run(std::env::args_os())
}
