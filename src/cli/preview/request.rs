//! What a client asks for: the head of a request, read with `httparse`, of at most so many bytes and lines.

use std::io::{ErrorKind, Read};

use super::answer::Answer;

/// The longest head that is read, in bytes.
const MOST_BYTES: usize = 8 * 1024;
/// The most header lines.
const MOST_HEADERS: usize = 64;

/// The head of a request.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Request {
    /// `GET`.
    pub(super) method: String,
    /// `/cost.html?x`, as it was sent.
    pub(super) target: String,
    headers: Vec<(String, String)>,
}

impl Request {
    /// The values of every header of a name, given in small letters.
    pub(super) fn headers(&self, name: &str) -> impl Iterator<Item = &str> {
        self.headers.iter().filter(move |(one, _)| one == name).map(|(_, value)| value.as_str())
    }

    /// The value of a header that is there once.
    pub(super) fn header(&self, name: &str) -> Option<&str> {
        let mut all = self.headers(name);
        all.next().filter(|_| all.next().is_none())
    }
}

/// Reads a request; `None` where the client goes away or falls silent.
///
/// # Errors
/// The answer to a head that is no head or too long.
pub(super) fn read_request(stream: &mut impl Read) -> Result<Option<Request>, Answer> {
    let mut head = Vec::new();
    let mut chunk = [0_u8; 2048];
    loop {
        let read = match stream.read(&mut chunk) {
            Ok(0) => return Ok(None),
            Ok(read) => read,
            Err(fault) if fault.kind() == ErrorKind::Interrupted => continue,
            Err(_) => return Ok(None),
        };
        head.extend_from_slice(chunk.get(..read).unwrap_or_default());
        if let Some(request) = parse_head(&head)? {
            return Ok(Some(request));
        }
        if head.len() > MOST_BYTES {
            return Err(too_long());
        }
    }
}

/// The request that a head makes; `None` where more of it is to come.
fn parse_head(head: &[u8]) -> Result<Option<Request>, Answer> {
    let mut headers = [httparse::EMPTY_HEADER; MOST_HEADERS];
    let mut parsed = httparse::Request::new(&mut headers);
    match parsed.parse(head) {
        Ok(httparse::Status::Partial) => return Ok(None),
        Ok(httparse::Status::Complete(length)) if length > MOST_BYTES => return Err(too_long()),
        Ok(httparse::Status::Complete(_)) => {}
        Err(httparse::Error::TooManyHeaders) => return Err(too_long()),
        Err(fault) => return Err(Answer::plain("400 Bad Request", &format!("This is no request: {fault}.\n"))),
    }
    let of_header =
        |one: &httparse::Header<'_>| (one.name.to_ascii_lowercase(), String::from_utf8_lossy(one.value).trim().to_owned());
    Ok(Some(Request {
        method: parsed.method.unwrap_or_default().to_owned(),
        target: parsed.path.unwrap_or_default().to_owned(),
        headers: parsed.headers.iter().map(of_header).collect(),
    }))
}

fn too_long() -> Answer {
    Answer::plain("431 Request Header Fields Too Large", "The head of this request is too long.\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(bytes: &[u8]) -> Result<Option<Request>, String> {
        read_request(&mut &*bytes).map_err(|answer| String::from_utf8(answer.into_bytes()).expect("text"))
    }

    #[test]
    fn a_head_is_read_line_by_line() {
        let request = read(b"GET /cost.html?x HTTP/1.1\r\nHOST: localhost:1\r\nOrigin: a\r\norigin: b\r\n\r\nrest");
        let request = request.expect("a head").expect("whole");
        assert_eq!((request.method.as_str(), request.target.as_str()), ("GET", "/cost.html?x"));
        assert_eq!((request.header("host"), request.header("origin")), (Some("localhost:1"), None));
        assert_eq!(request.headers("origin").count(), 2);
    }

    #[test]
    fn a_head_that_ends_too_soon_is_none() {
        assert_eq!(read(b"GET / HTTP/1.1\r\nHost: localhost:1\r\n"), Ok(None));
        assert_eq!(read(b""), Ok(None));
    }

    #[test]
    fn a_head_that_is_too_long_is_refused() {
        let long = [b"GET /".as_slice(), &vec![b'a'; 20_000], b" HTTP/1.1\r\n\r\n"].concat();
        assert!(read(&long).expect_err("long").starts_with("HTTP/1.1 431 "));
        let lines = format!("GET / HTTP/1.1\r\n{}\r\n", "a: b\r\n".repeat(65));
        assert!(read(lines.as_bytes()).expect_err("long").starts_with("HTTP/1.1 431 "));
    }

    #[test]
    fn what_is_no_head_is_refused() {
        for bytes in [b"\x16\x03\x01\x02\x00\x01\x00\r\n\r\n".as_slice(), b"GET / HTTP/1.1\r\nno colon\r\n\r\n", b"hello\r\n\r\n"]
        {
            assert!(read(bytes).expect_err("no head").starts_with("HTTP/1.1 400 "), "{bytes:?}");
        }
    }
}
