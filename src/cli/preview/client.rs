//! One client from its first byte to its last: asked once, answered once, and let go.
//!
//! All that it does has to be done within [`PATIENCE`]; a client that sends or takes one byte a second is let go as well.

use std::io::{self, Read, Write};
use std::net::{Shutdown, TcpStream};
use std::time::Duration;

use super::answer::Answer;
use super::door::may_enter;
use super::pages::Shown;
use super::request::read_request;
use crate::cli::clock::Timer;

/// How long a client may take to ask, and again to listen.
const PATIENCE: Duration = Duration::from_secs(5);
/// How long and how much of what a client still sends is read after the answer, so that it isn't lost to it.
const FAREWELL: Duration = Duration::from_millis(500);
const MOST_AFTER: usize = 64 * 1024;

/// Attends to a client.
pub(super) fn attend(stream: &TcpStream, port: u16, shown: &Shown) {
    let asked = read_request(&mut Patient::with(stream, PATIENCE));
    let answer = match asked {
        Ok(Some(request)) => may_enter(&request, port).map_or_else(|refused| refused, |()| shown.answer(&request)),
        // It went away, or said nothing for so long: browsers open connections that they never use.
        Ok(None) => return,
        Err(refused) => refused,
    };
    let is_whole = Patient::with(stream, PATIENCE).write_all(&answer.into_bytes()).is_ok();
    if is_whole {
        let _ = stream.shutdown(Shutdown::Write);
        let mut rest = Patient::with(stream, FAREWELL).take(MOST_AFTER as u64);
        let _ = io::copy(&mut rest, &mut io::sink());
    }
}

/// Tells a client that there are too many.
pub(super) fn send_away(stream: &TcpStream) {
    let answer = Answer::plain("503 Service Unavailable", "Too many pages are asked for at once; come again in a moment.\n");
    let _ = stream.set_nonblocking(true);
    let mut stream = stream;
    // What it asked is read where it is here already, since the answer is lost to a client of which something is left unread.
    let _ = stream.read(&mut [0_u8; 4096]);
    let _ = stream.write(&answer.into_bytes());
    let _ = stream.shutdown(Shutdown::Write);
}

/// A stream that has to be done by a time.
struct Patient<'s> {
    stream: &'s TcpStream,
    timer: Timer,
    limit: Duration,
}

impl<'s> Patient<'s> {
    fn with(stream: &'s TcpStream, limit: Duration) -> Self {
        Self { stream, timer: Timer::start(), limit }
    }

    fn left(&self) -> io::Result<Option<Duration>> {
        let left = self.limit.saturating_sub(self.timer.taken());
        if left.is_zero() { Err(io::ErrorKind::TimedOut.into()) } else { Ok(Some(left)) }
    }
}

impl Read for Patient<'_> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        self.stream.set_read_timeout(self.left()?)?;
        self.stream.read(into)
    }
}

impl Write for Patient<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.stream.set_write_timeout(self.left()?)?;
        self.stream.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.stream.flush()
    }
}
