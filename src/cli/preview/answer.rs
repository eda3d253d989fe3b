//! An answer: its status, its kind, its text, and the headers that keep it to itself.
//!
//! Nothing is kept by the browser, no other page may read or frame it, and it may fetch nothing but from here.

use std::fmt::Write as _;

/// What a page may do: use its own styles and pictures, and the one script that reloads it.
const POLICY: &str = "default-src 'none'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; script-src 'self'; \
                      connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// An answer to a client.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Answer {
    status: &'static str,
    kind: &'static str,
    text: String,
    further: Vec<(&'static str, &'static str)>,
    /// Whether only the head is sent.
    pub(super) head_only: bool,
}

impl Answer {
    /// A text that was found; `kind` is its media type.
    pub(super) fn found(kind: &'static str, text: String) -> Self {
        Self { status: "200 OK", kind, text, further: Vec::new(), head_only: false }
    }

    /// A page that was not found.
    pub(super) fn not_found(kind: &'static str, text: String) -> Self {
        Self { status: "404 Not Found", ..Self::found(kind, text) }
    }

    /// Plain words with a status.
    pub(super) fn plain(status: &'static str, words: &str) -> Self {
        Self { status, ..Self::found("text/plain; charset=utf-8", words.to_owned()) }
    }

    /// With a header more.
    pub(super) fn with(mut self, name: &'static str, value: &'static str) -> Self {
        self.further.push((name, value));
        self
    }

    /// As it is sent.
    pub(super) fn into_bytes(self) -> Vec<u8> {
        let mut head = format!(
            "HTTP/1.1 {}\r\nContent-Type: {}\r\nContent-Length: {}\r\nConnection: close\r\nCache-Control: no-store\r\n\
             Content-Security-Policy: {POLICY}\r\nX-Content-Type-Options: nosniff\r\nX-Frame-Options: DENY\r\n\
             Referrer-Policy: no-referrer\r\nCross-Origin-Resource-Policy: same-origin\r\n\
             Cross-Origin-Opener-Policy: same-origin\r\n",
            self.status,
            self.kind,
            self.text.len()
        );
        for (name, value) in self.further {
            let _ = write!(head, "{name}: {value}\r\n");
        }
        head.push_str("\r\n");
        if !self.head_only {
            head.push_str(&self.text);
        }
        head.into_bytes()
    }
}
