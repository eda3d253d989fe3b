//! Why a book could not be read at all.
//!
//! These are faults of the folder, not mistakes in the book: there is no line to point at. Each is told as one sentence,
//! with every place that could not be read on a line of its own.

use std::fmt;
use std::io;
use std::path::PathBuf;

/// Why a book could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LoadError {
    /// There is nothing at the path.
    Missing {
        /// The path.
        folder: PathBuf,
    },
    /// The path leads to something that is no folder.
    NotAFolder {
        /// The path.
        folder: PathBuf,
    },
    /// The folder holds no `*.kerf` file, neither itself nor below.
    Empty {
        /// The path.
        folder: PathBuf,
    },
    /// Some of its files or folders can't be read.
    Unreadable(Vec<UnreadablePlace>),
    /// The text is over four gigabytes.
    TooLarge,
}

/// A file or folder that can't be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnreadablePlace {
    /// Its path below the book's folder, `.` for the folder itself.
    pub path: String,
    /// Why it can't be read, as a half sentence.
    pub reason: String,
}

impl UnreadablePlace {
    /// Names a place and why it can't be read.
    pub(super) fn new(path: impl Into<String>, reason: impl Into<String>) -> Self {
        let path = path.into();
        Self { path: if path.is_empty() { ".".to_owned() } else { path }, reason: reason.into() }
    }
}

/// A fault of the disk as a half sentence that is the same on every system.
pub(super) fn reason(why: &io::Error) -> String {
    match why.kind() {
        io::ErrorKind::PermissionDenied => "may not be read by you".to_owned(),
        io::ErrorKind::NotFound => "is a link that leads nowhere".to_owned(),
        _ => format!("can't be read: {why}"),
    }
}

impl fmt::Display for LoadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing { folder } => write!(f, "there is no folder `{}`", folder.display()),
            Self::NotAFolder { folder } => {
                write!(f, "`{}` is not a folder; a book is a folder with `*.kerf` files in it", folder.display())
            }
            Self::Empty { folder } => {
                write!(f, "there is no `*.kerf` file in `{}` or below; `kerfbook new DIR` starts a book", folder.display())
            }
            Self::Unreadable(places) => {
                write!(f, "the book can't be read whole")?;
                for place in places {
                    write!(f, "\n    `{}` {}", place.path, place.reason)?;
                }
                Ok(())
            }
            Self::TooLarge => write!(f, "the book's text is over 4 GB, more than can be read"),
        }
    }
}

impl std::error::Error for LoadError {}
