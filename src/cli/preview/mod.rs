//! A small server for one reader: shows the pages that were made last to a browser on this machine, and to nobody else.
//!
//! In: pages by their names, or a page of mistakes. Out: answers to a browser. It listens on 127.0.0.1 alone, serves from
//! memory by exact name and never a file, and each client has few seconds and few bytes to ask and is given few to listen; at
//! the most [`MOST_AT_ONCE`] are served at once. Must not: read the book, change anything.

mod answer;
mod client;
mod door;
mod pages;
mod request;

use std::io;
use std::net::{Ipv4Addr, TcpListener};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::Builder;

pub(super) use self::pages::{Shown, ShownPages};

/// How many clients are served at once; a further one is told to come again.
const MOST_AT_ONCE: usize = 48;
/// The port that is tried first where none is asked for, and how many after it.
const FIRST_PORT: u16 = 8017;
const PORTS: u16 = 20;

/// Takes a port of 127.0.0.1: the one that is asked for (0 is any that is free), else the first free of a few, else any.
///
/// # Errors
/// A sentence for the reader where the port is taken or may not be used.
pub(super) fn take_port(asked: Option<u16>) -> Result<(TcpListener, u16), String> {
    let take = |port: u16| TcpListener::bind((Ipv4Addr::LOCALHOST, port));
    let listener = match asked {
        Some(port) => take(port).map_err(|fault| match fault.kind() {
            io::ErrorKind::AddrInUse => format!(
                "port {port} of 127.0.0.1 is in use, perhaps by another `kerfbook preview`; \
                 choose another with `--port N`, or leave it out"
            ),
            io::ErrorKind::PermissionDenied => format!("port {port} of 127.0.0.1 may not be used; choose one above 1023"),
            _ => format!("port {port} of 127.0.0.1 can't be used: {fault}"),
        }),
        None => (FIRST_PORT..FIRST_PORT + PORTS)
            .find_map(|port| take(port).ok())
            .map_or_else(|| take(0), Ok)
            .map_err(|fault| format!("no port of 127.0.0.1 can be used: {fault}")),
    }?;
    let port = listener.local_addr().map_err(|fault| format!("the port can't be told: {fault}"))?.port();
    Ok((listener, port))
}

/// Serves what is shown, for as long as the process lives.
pub(super) fn serve(listener: &TcpListener, port: u16, shown: &Shown) {
    let at_once = Arc::new(AtomicUsize::new(0));
    for client in listener.incoming() {
        // A client that is gone already is no fault, and where the system has no more room it is asked again.
        let Ok(stream) = client else {
            std::thread::sleep(std::time::Duration::from_millis(20));
            continue;
        };
        let place = Place::take(&at_once);
        if place.number > MOST_AT_ONCE {
            client::send_away(&stream);
            continue;
        }
        let shown = shown.clone();
        // Where there is no thread to be had, the client is let go.
        let _ = Builder::new().name("preview".to_owned()).spawn(move || {
            client::attend(&stream, port, &shown);
            drop(place);
        });
    }
}

/// A client's place among those that are served.
struct Place {
    number: usize,
    at_once: Arc<AtomicUsize>,
}

impl Place {
    fn take(at_once: &Arc<AtomicUsize>) -> Self {
        let number = at_once.fetch_add(1, Ordering::SeqCst).saturating_add(1);
        Self { number, at_once: Arc::clone(at_once) }
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        self.at_once.fetch_sub(1, Ordering::SeqCst);
    }
}
