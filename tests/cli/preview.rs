//! `kerfbook preview`: what it answers and to whom, and what it shows of a book with mistakes.

use std::fs;
use std::io::Write;
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::Path;
use std::time::Duration;

use crate::running::{Running, ask};
use crate::shop::{book, book_with_a_mistake, run_in};

/// Starts a preview on a free port.
fn preview(folder: &Path, further: &[&str]) -> (Running, u16) {
    let running = Running::start(folder, &[&["preview", "--port", "0"], further].concat());
    let told = running.up_to("the pages are at http://127.0.0.1:");
    let port = told.last().and_then(|line| line.split(':').nth(2)?.split('/').next()?.parse().ok());
    (running, port.expect("a port"))
}

fn page(port: u16, path: &str) -> (String, String) {
    ask(port, &format!("GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n"))
}

#[test]
fn the_pages_are_those_of_the_site_and_no_other_file_is_served() {
    let folder = book();
    fs::write(folder.path().join("secret.txt"), "a secret").expect("written");
    let ran = run_in(folder.path(), &["site", "--out", "pages", "--today", "2026-12-31"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let (_running, port) = preview(folder.path(), &["--today", "2026-12-31"]);
    for name in ["index.html", "cost.html", "stock.html"] {
        let (head, body) = page(port, &format!("/{name}"));
        assert!(head.starts_with("HTTP/1.1 200 OK\r\n"), "{head}");
        let written = fs::read_to_string(folder.path().join("pages").join(name)).expect("written");
        let main = |page: &str| page[page.find("<main").expect("main")..page.find("</main>").expect("its end")].to_owned();
        assert_eq!(main(&body), main(&written), "{name}");
        assert!(!written.contains("<script") && body.matches("<script").count() == 1, "{name}");
    }
    for path in ["/book.kerf", "/secret.txt", "/../secret.txt", "/%2e%2e/secret.txt", "/..%2fsecret.txt", "/pages/index.html"] {
        let (head, body) = page(port, path);
        assert!(head.starts_with("HTTP/1.1 404 ") && !body.contains("a secret"), "{path}: {head}");
    }
}

#[test]
fn another_name_another_method_and_another_site_are_refused() {
    let folder = book();
    let (_running, port) = preview(folder.path(), &[]);
    let status = |request: &str| ask(port, request).0.get(9..12).unwrap_or("").to_owned();
    assert_eq!(status("GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n"), "421");
    assert_eq!(status(&format!("GET / HTTP/1.1\r\nHost: evil.example:{port}\r\n\r\n")), "421");
    assert_eq!(status("GET / HTTP/1.1\r\n\r\n"), "421");
    assert_eq!(status(&format!("GET / HTTP/1.1\r\nHost: localhost:{port}\r\n\r\n")), "200");
    assert_eq!(status(&format!("POST / HTTP/1.1\r\nHost: localhost:{port}\r\nContent-Length: 3\r\n\r\nabc")), "405");
    let reload = format!("GET /.preview/shown HTTP/1.1\r\nHost: localhost:{port}\r\n");
    assert_eq!(status(&format!("{reload}\r\n")), "200");
    assert_eq!(status(&format!("{reload}Origin: http://evil.example\r\n\r\n")), "403");
    assert_eq!(status(&format!("{reload}Sec-Fetch-Site: cross-site\r\n\r\n")), "403");
    assert_eq!(status("\x16\x03\x01\r\n\r\n"), "400");
    assert_eq!(status(&format!("GET /{} HTTP/1.1\r\n\r\n", "a".repeat(9000))), "431");
}

#[cfg(target_os = "linux")]
#[test]
fn nothing_but_this_machine_s_own_address_is_listened_on() {
    let folder = book();
    let (_running, port) = preview(folder.path(), &[]);
    // Every address of 127.0.0.0/8 is this machine's; a server for all of them would hold the port here too.
    let other = TcpListener::bind((Ipv4Addr::new(127, 0, 0, 2), port));
    assert!(other.is_ok(), "{other:?}");
    assert!(TcpStream::connect_timeout(&(Ipv4Addr::new(127, 0, 0, 3), port).into(), Duration::from_secs(2)).is_err());
}

#[test]
fn a_broken_book_shows_its_mistakes_in_place_of_figures_until_it_is_mended() {
    let folder = book_with_a_mistake();
    let path = folder.path().join("book.kerf");
    let checked = run_in(folder.path(), &["check", "--today", "2026-12-31"]);
    let first: String = checked.out.lines().next().expect("a mistake").to_owned();
    let (running, port) = preview(folder.path(), &["--today", "2026-12-31"]);
    running.up_to("1 mistake in the book");
    for at in ["/", "/cost.html", "/nothing"] {
        let (head, body) = page(port, at);
        assert!(head.starts_with("HTTP/1.1 200 ") && body.contains("<h2>book.kerf, line 20</h2>"), "{at}: {body}");
        assert!(body.contains(&first.replace('<', "&lt;")) && body.contains("red-oka"), "{at}: {body}");
        assert!(!body.contains("4.72"), "{at}");
    }
    let mark = page(port, "/.preview/shown").1;
    let text = fs::read_to_string(&path).expect("there").replace("red-oka", "red-oak");
    // As an editor does that writes beside and renames.
    fs::write(folder.path().join("book.kerf.new"), &text).expect("written");
    fs::rename(folder.path().join("book.kerf.new"), &path).expect("renamed");
    running.up_to("saved: book.kerf; 26 pages");
    assert_ne!(page(port, "/.preview/shown").1, mark);
    let (_, body) = page(port, "/cost.html");
    assert!(body.contains("4.72") && !body.contains("red-oka"), "{body}");
    fs::write(&path, text.replace("made 6 pull-cart", "made 6 <script>")).expect("written");
    running.up_to("in the book; its figures are shown when it is mended and saved");
    let (_, body) = page(port, "/cost.html");
    assert!(body.contains("&lt;script&gt;") && body.matches("<script").count() == 1 && !body.contains("4.72"), "{body}");
    fs::remove_file(&path).expect("removed");
    running.up_to("removed: book.kerf; ");
    assert!(page(port, "/cost.html").1.contains("*.kerf"));
}

#[test]
fn a_broken_template_is_told_on_the_page_with_its_place() {
    let folder = book();
    let templates = tempfile::tempdir().expect("a folder");
    fs::write(
        templates.path().join("cost.html"),
        "{% extends \"base.html\" %}\n{% block content %}{{ none_such }}{% endblock %}",
    )
    .expect("written");
    let (running, port) = preview(folder.path(), &["--templates", templates.path().to_str().expect("text")]);
    let (_, body) = page(port, "/");
    assert!(body.contains("cost.html:2"), "{body}");
    fs::write(templates.path().join("cost.html"), "{% extends \"base.html\" %}\n{% block content %}mine{% endblock %}")
        .expect("written");
    running.up_to("saved: templates: cost.html; ");
    assert!(page(port, "/cost.html").1.contains("mine"));
}

#[test]
fn slow_and_many_clients_keep_nobody_from_the_pages() {
    let folder = book();
    let (_running, port) = preview(folder.path(), &[]);
    let slow: Vec<TcpStream> = (0..60)
        .map(|_| {
            let mut stream = TcpStream::connect(("127.0.0.1", port)).expect("connected");
            stream.write_all(b"GET / HTTP/1.1\r\nHost: ").expect("written");
            stream
        })
        .collect();
    // The slow ones are let go after five seconds, whatever they do.
    let is_served = || page(port, "/").0.starts_with("HTTP/1.1 200 ");
    let tries = (0..300).take_while(|_| {
        std::thread::sleep(Duration::from_millis(100));
        !is_served()
    });
    assert!(tries.count() < 300, "nobody is let go");
    drop(slow);
}

#[test]
fn a_port_in_use_is_told() {
    let folder = book();
    let taken = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).expect("a port");
    let port = taken.local_addr().expect("known").port().to_string();
    let ran = run_in(folder.path(), &["preview", "--port", &port]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""));
    let words = format!("kerfbook: port {port} of 127.0.0.1 is in use, perhaps by another `kerfbook preview`; ");
    assert!(ran.err.starts_with(&words), "{}", ran.err);
    let ran = run_in(folder.path(), &["preview", "--port", "70000"]);
    assert_eq!(ran.status, Some(2));
}

#[cfg(unix)]
#[test]
fn ctrl_c_ends_it() {
    let folder = book();
    let (running, port) = preview(folder.path(), &[]);
    assert!(!running.interrupt().success());
    assert!(TcpStream::connect(("127.0.0.1", port)).is_err());
}
