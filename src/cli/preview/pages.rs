//! What is shown: the pages that were made last by their names, or one page in place of all of them.
//!
//! A page gets a script that loads it anew when something else is shown; the pages of a site have none. The site's own rule
//! against scripts is taken out of the page, and the answer's headers hold a rule in its place that is as strict but for that
//! one script.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::answer::Answer;
use super::request::Request;
use crate::cli::watch::stand_for;

const RELOAD: &str = include_str!("reload.js");
const HTML: &str = "text/html; charset=utf-8";

/// What is to be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::cli) enum ShownPages {
    /// Pages and what belongs to them, by their names.
    Site(BTreeMap<String, String>),
    /// One page, whatever is asked for: a book's mistakes.
    Instead(String),
}

/// What is shown at the moment; a copy shows the same.
#[derive(Clone, Debug)]
pub(in crate::cli) struct Shown(Arc<Mutex<Arc<Made>>>);

#[derive(Debug)]
struct Made {
    pages: ShownPages,
    /// Stands for what the pages say.
    mark: String,
}

impl Shown {
    /// Shows these pages.
    pub(in crate::cli) fn new(pages: ShownPages) -> Self {
        Self(Arc::new(Mutex::new(Arc::new(Made::of(pages)))))
    }

    /// Shows other pages from now on.
    pub(in crate::cli) fn show(&self, pages: ShownPages) {
        let made = Arc::new(Made::of(pages));
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = made;
    }

    /// Answers a request that may be answered.
    pub(super) fn answer(&self, request: &Request) -> Answer {
        let made = Arc::clone(&self.0.lock().unwrap_or_else(PoisonError::into_inner));
        let target = request.target.as_str();
        let path = target.split_once('?').map_or(target, |(path, _)| path);
        let mut answer = match path {
            "/.preview/shown" => Answer::plain("200 OK", &made.mark),
            "/.preview/reload.js" => Answer::found("text/javascript; charset=utf-8", RELOAD.to_owned()),
            path => made.page(path),
        };
        answer.head_only = request.method == "HEAD";
        answer
    }
}

impl Made {
    fn of(pages: ShownPages) -> Self {
        let mark = match &pages {
            ShownPages::Site(files) => files.iter().fold(0, |mark, (name, text)| {
                let both = [stand_for(name.as_bytes()), stand_for(text.as_bytes()), mark];
                stand_for(&both.map(u64::to_le_bytes).concat())
            }),
            ShownPages::Instead(page) => stand_for(page.as_bytes()),
        };
        Self { pages, mark: format!("{mark:016x}") }
    }

    /// The page of a path: by its exact name, with nothing decoded and nothing left out.
    fn page(&self, path: &str) -> Answer {
        let files = match &self.pages {
            ShownPages::Instead(page) => return Answer::found(HTML, self.amended(page)),
            ShownPages::Site(files) => files,
        };
        let name = if path == "/" { "index.html" } else { path.strip_prefix('/').unwrap_or("") };
        match files.get(name) {
            Some(page) if name.ends_with(".html") => Answer::found(HTML, self.amended(page)),
            Some(text) if name.ends_with(".css") => Answer::found("text/css; charset=utf-8", text.clone()),
            Some(text) if name.ends_with(".svg") => Answer::found("image/svg+xml; charset=utf-8", text.clone()),
            Some(text) => Answer::found("text/plain; charset=utf-8", text.clone()),
            None => Answer::not_found(HTML, self.amended(NO_SUCH_PAGE)),
        }
    }

    /// A page with the script that loads it anew, or a line for a reader without scripts.
    fn amended(&self, page: &str) -> String {
        let script = format!(
            "<script src=\"/.preview/reload.js\" data-shown=\"{}\"></script>\n\
             <noscript><p>Scripts are off: load this page anew after a save.</p></noscript>\n",
            self.mark
        );
        let mut page = without_policy(page);
        // What a book says is escaped, so the last end of the body is the page's own.
        let at = page.rfind("</body>").unwrap_or(page.len());
        page.insert_str(at, &script);
        page
    }
}

const NO_SUCH_PAGE: &str = "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
     <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light dark\">\n\
     <title>No such page</title>\n<link rel=\"icon\" href=\"data:,\">\n</head>\n<body>\n<main>\n<h1>There is no such page</h1>\n\
     <p>It may have gone with the last save. <a href=\"/\">To the first page</a></p>\n</main>\n</body>\n</html>\n";

/// A page without the rule that its head holds.
fn without_policy(page: &str) -> String {
    const POLICY: &str = "<meta http-equiv=\"content-security-policy\"";
    let head = page.find("</head>").unwrap_or(page.len());
    let start = page.get(..head).and_then(|head| head.to_ascii_lowercase().find(POLICY));
    let part = start.and_then(|start| Some((start, start + page.get(start..head)?.find('>')? + 1)));
    match part {
        Some((start, end)) => [page.get(..start), page.get(end..)].into_iter().flatten().collect(),
        None => page.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::preview::request::read_request;

    const PAGE: &str = "<html><head>\n<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'\">\n</head><body>\
                        &lt;/body&gt;</body></html>";

    fn shown() -> Shown {
        let file = |name: &str, text: &str| (name.to_owned(), text.to_owned());
        Shown::new(ShownPages::Site(BTreeMap::from([
            file("index.html", PAGE),
            file("page.css", "body {}"),
            file("thing/pull-cart.html", "<html><body>cart</body></html>"),
        ])))
    }

    fn ask(shown: &Shown, method: &str, target: &str) -> (String, String) {
        let head = format!("{method} {target} HTTP/1.1\r\n\r\n");
        let request = read_request(&mut head.as_bytes()).unwrap_or_default().expect("a head");
        let told = String::from_utf8(shown.answer(&request).into_bytes()).expect("text");
        let (head, body) = told.split_once("\r\n\r\n").expect("a head and a body");
        (head.to_owned(), body.to_owned())
    }

    #[test]
    fn a_page_is_found_by_its_exact_name() {
        let shown = shown();
        for target in ["/", "/index.html", "/index.html?x=/..", "/thing/pull-cart.html"] {
            let (head, body) = ask(&shown, "GET", target);
            assert!(head.starts_with("HTTP/1.1 200 OK\r\nContent-Type: text/html; charset=utf-8\r\n"), "{target}: {head}");
            assert!(body.contains("<script src=\"/.preview/reload.js\""), "{target}: {body}");
        }
        assert_eq!(ask(&shown, "GET", "/page.css").1, "body {}");
        for target in [
            "/../index.html",
            "//index.html",
            "/./index.html",
            "/%69ndex.html",
            "/INDEX.HTML",
            "/thing/",
            "/thing",
            "/thing/../index.html",
            "/etc/passwd",
            "/%2e%2e/%2e%2e/etc/passwd",
            "index.html",
            "http://127.0.0.1/index.html",
            "*",
        ] {
            assert!(ask(&shown, "GET", target).0.starts_with("HTTP/1.1 404 "), "{target}");
        }
    }

    #[test]
    fn a_head_is_that_of_its_page_without_it() {
        let shown = shown();
        let (head, body) = ask(&shown, "HEAD", "/");
        assert_eq!((head, body.as_str()), (ask(&shown, "GET", "/").0, ""));
    }

    #[test]
    fn every_answer_keeps_to_itself() {
        for target in ["/", "/page.css", "/none", "/.preview/shown", "/.preview/reload.js"] {
            let (head, _) = ask(&shown(), "GET", target);
            for line in [
                "Content-Security-Policy: default-src 'none'; ",
                "X-Content-Type-Options: nosniff",
                "Cache-Control: no-store",
                "Cross-Origin-Resource-Policy: same-origin",
                "X-Frame-Options: DENY",
            ] {
                assert!(head.contains(line), "{target}: {line}");
            }
            assert!(!head.to_ascii_lowercase().contains("access-control"), "{target}");
        }
    }

    #[test]
    fn the_page_s_own_rule_gives_way_to_that_of_the_answer() {
        let (_, body) = ask(&shown(), "GET", "/");
        assert!(!body.contains("http-equiv") && body.contains("&lt;/body&gt;<script"), "{body}");
        assert_eq!(without_policy("no head"), "no head");
        assert_eq!(
            without_policy("<meta http-equiv=\"Content-Security-Policy\" content=x"),
            "<meta http-equiv=\"Content-Security-Policy\" content=x"
        );
        let after = "<head></head><body><meta http-equiv=\"Content-Security-Policy\" content=\"x\">";
        assert_eq!(without_policy(after), after);
    }

    #[test]
    fn other_pages_have_another_mark_and_the_same_pages_the_same() {
        let shown = shown();
        let mark = |shown: &Shown| ask(shown, "GET", "/.preview/shown").1;
        let first = mark(&shown);
        assert!(ask(&shown, "GET", "/").1.contains(&format!("data-shown=\"{first}\"")));
        shown.show(ShownPages::Instead("<html><body>mistakes</body></html>".to_owned()));
        let second = mark(&shown);
        assert_ne!(first, second);
        for target in ["/", "/cost.html", "/nothing"] {
            assert!(ask(&shown, "GET", target).1.contains("mistakes"), "{target}");
        }
        shown.show(self::shown().0.lock().expect("kept").pages.clone());
        assert_eq!(mark(&shown), first);
    }
}
