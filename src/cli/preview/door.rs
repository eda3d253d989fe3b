//! Who may ask: a browser that was led here by this machine's own name for itself.
//!
//! A page of a stranger's site can make a browser ask any address of this machine, and can give an address of its own a
//! name that leads here. So a request has to name this host, may only ask, and what another page asks for in a reader's name
//! is refused, save that a link may lead here: then the reader sees the page, and the other page does not.

use super::answer::Answer;
use super::request::Request;

/// Whether a request may be answered.
///
/// # Errors
/// The answer to one that may not.
pub(super) fn may_enter(request: &Request, port: u16) -> Result<(), Answer> {
    let names = own_names(port);
    if !request.header("host").is_some_and(|host| names.iter().any(|name| name.eq_ignore_ascii_case(host))) {
        let words = format!(
            "This preview is for this machine alone and answers to no other name: open http://127.0.0.1:{port}/ instead.\n"
        );
        return Err(Answer::plain("421 Misdirected Request", &words));
    }
    if !matches!(request.method.as_str(), "GET" | "HEAD") {
        let answer = Answer::plain("405 Method Not Allowed", "Pages can only be read here: GET and HEAD.\n");
        return Err(answer.with("Allow", "GET, HEAD"));
    }
    if comes_from_elsewhere(request, &names) {
        return Err(Answer::plain("403 Forbidden", "This preview answers to its own pages only, not to another site's.\n"));
    }
    Ok(())
}

/// The names by which this machine calls itself.
fn own_names(port: u16) -> Vec<String> {
    let hosts = ["127.0.0.1", "localhost", "[::1]"];
    let mut names: Vec<String> = hosts.iter().map(|host| format!("{host}:{port}")).collect();
    if port == 80 {
        names.extend(hosts.iter().map(|host| (*host).to_owned()));
    }
    names
}

/// Whether another site's page asks. A browser says so; a client that says nothing of the kind is no browser that is led astray.
fn comes_from_elsewhere(request: &Request, names: &[String]) -> bool {
    let is_own = |origin: &str| {
        origin.strip_prefix("http://").is_some_and(|host| names.iter().any(|name| name.eq_ignore_ascii_case(host)))
    };
    if !request.headers("origin").all(is_own) {
        return true;
    }
    let is_said = |name, value: &str| request.header(name) == Some(value);
    let is_followed_link = is_said("sec-fetch-mode", "navigate") && is_said("sec-fetch-dest", "document");
    let is_near = request.headers("sec-fetch-site").all(|site| matches!(site, "same-origin" | "none"));
    !is_near && !is_followed_link
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::preview::request::read_request;

    fn status(method: &str, headers: &[&str]) -> String {
        let lines: String = headers.iter().map(|line| format!("{line}\r\n")).collect();
        let head = format!("{method} / HTTP/1.1\r\n{lines}\r\n");
        let request = read_request(&mut head.as_bytes()).unwrap_or_default().expect("a head");
        match may_enter(&request, 8017) {
            Ok(()) => "in".to_owned(),
            Err(answer) => String::from_utf8(answer.into_bytes()).expect("text")[9..12].to_owned(),
        }
    }

    #[test]
    fn only_this_machine_s_own_names_are_answered_to() {
        for host in ["127.0.0.1:8017", "localhost:8017", "LOCALHOST:8017", "[::1]:8017"] {
            assert_eq!(status("GET", &[&format!("Host: {host}")]), "in", "{host}");
        }
        for host in [
            "evil.example:8017",
            "127.0.0.1.evil.example:8017",
            "127.0.0.1",
            "localhost",
            "localhost:8018",
            "0.0.0.0:8017",
            "127.0.0.2:8017",
            "user@127.0.0.1:8017",
            "127.0.0.1:8017, evil.example",
            "",
        ] {
            assert_eq!(status("GET", &[&format!("Host: {host}")]), "421", "{host}");
        }
        assert_eq!(status("GET", &[]), "421");
        assert_eq!(status("GET", &["Host: localhost:8017", "Host: evil.example"]), "421");
    }

    #[test]
    fn nothing_can_be_done_but_reading() {
        assert_eq!(status("HEAD", &["Host: localhost:8017"]), "in");
        for method in ["POST", "PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT", "get"] {
            assert_eq!(status(method, &["Host: localhost:8017"]), "405", "{method}");
        }
    }

    #[test]
    fn another_site_s_page_is_refused() {
        let of = |lines: &[&str]| status("GET", &[&["Host: localhost:8017"], lines].concat());
        assert_eq!(of(&["Origin: http://localhost:8017"]), "in");
        assert_eq!(of(&["Sec-Fetch-Site: same-origin"]), "in");
        assert_eq!(of(&["Sec-Fetch-Site: none"]), "in");
        for line in [
            "Origin: http://evil.example",
            "Origin: https://localhost:8017",
            "Origin: http://localhost:3000",
            "Origin: null",
            "Sec-Fetch-Site: cross-site",
            "Sec-Fetch-Site: same-site",
        ] {
            assert_eq!(of(&[line]), "403", "{line}");
        }
        assert_eq!(of(&["Origin: http://localhost:8017", "Origin: http://evil.example"]), "403");
    }

    #[test]
    fn a_link_on_another_page_may_lead_here_and_a_frame_may_not() {
        let of = |dest: &str| {
            let dest = format!("Sec-Fetch-Dest: {dest}");
            status("GET", &["Host: localhost:8017", "Sec-Fetch-Site: cross-site", "Sec-Fetch-Mode: navigate", &dest])
        };
        assert_eq!(of("document"), "in");
        assert_eq!(of("iframe"), "403");
    }
}
