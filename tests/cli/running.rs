//! A command that goes on: what it says line by line while the test saves files, ended with the test.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread::{sleep, spawn};
use std::time::Duration;

use crate::shop::command;

/// How long a line is waited for.
const PATIENCE: Duration = Duration::from_secs(60);

/// How often it is looked whether a command has ended.
const LOOK: Duration = Duration::from_millis(20);

/// A command that goes on.
pub(crate) struct Running {
    child: Child,
    lines: Receiver<String>,
}

impl Running {
    /// Starts it in a folder; its standard output is a pipe.
    pub(crate) fn start(folder: &Path, arguments: &[&str]) -> Self {
        let mut child = command(folder).args(arguments).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("starts");
        let out = child.stdout.take().expect("a pipe");
        let (send, lines) = channel();
        spawn(move || BufReader::new(out).lines().map_while(Result::ok).try_for_each(|line| send.send(line)));
        Self { child, lines }
    }

    /// The lines up to the next one that holds some words, that one too.
    pub(crate) fn up_to(&self, words: &str) -> Vec<String> {
        let mut told = Vec::new();
        loop {
            let Ok(line) = self.lines.recv_timeout(PATIENCE) else { panic!("no line with `{words}`, only {told:#?}") };
            let is_last = line.contains(words);
            told.push(line);
            if is_last {
                return told;
            }
        }
    }

    /// Ends it as Ctrl-C does, and waits until it has.
    #[cfg(unix)]
    pub(crate) fn interrupt(mut self) -> std::process::ExitStatus {
        let id = self.child.id().to_string();
        std::process::Command::new("kill").args(["-INT", &id]).status().expect("interrupted");
        for _ in 0..PATIENCE.as_millis() / LOOK.as_millis() {
            if let Some(status) = self.child.try_wait().expect("waited") {
                return status;
            }
            sleep(LOOK);
        }
        panic!("it goes on; where the tests were begun in the background, their shell may have said that Ctrl-C is ignored")
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// What a server on this machine answers: its head and its body.
pub(crate) fn ask(port: u16, request: &str) -> (String, String) {
    let mut stream = TcpStream::connect(("127.0.0.1", port)).expect("connected");
    stream.set_read_timeout(Some(PATIENCE)).expect("set");
    stream.write_all(request.as_bytes()).expect("asked");
    let mut told = Vec::new();
    // A server that has no room for a client lets it go, which may read as a fault.
    let _ = stream.read_to_end(&mut told);
    let told = String::from_utf8(told).expect("text");
    let (head, body) = told.split_once("\r\n\r\n").unwrap_or((&told, ""));
    (head.to_owned(), body.to_owned())
}
