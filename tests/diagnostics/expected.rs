//! What a case expects, read from its comments.

/// A finding that is expected or was found.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Finding {
    /// The file.
    pub(crate) path: String,
    /// The line, from 1.
    pub(crate) line: usize,
    /// How grave, and which code: `error[K203]`.
    pub(crate) code: String,
    /// Words that the message holds; the whole message of what was found.
    pub(crate) words: String,
    /// What its labels, notes and corrected lines hold besides; all of these of what was found.
    pub(crate) says: Vec<String>,
}

impl Finding {
    /// Whether a found one is the one that is expected.
    pub(crate) fn is_met_by(&self, found: &Self) -> bool {
        let same = (&self.path, self.line, &self.code) == (&found.path, found.line, &found.code);
        let says = |wanted: &String| found.says.iter().any(|one| one.contains(wanted));
        same && found.words.contains(&self.words) && self.says.iter().all(says)
    }
}

/// What the comments of a file expect.
pub(crate) fn expected_in(path: &str, text: &str) -> Vec<Finding> {
    let mut expected = Vec::new();
    let mut last_line = 0;
    for (number, line) in text.lines().enumerate() {
        // `#> words` adds to the finding above what its labels, notes or corrected lines must hold.
        if let Some(says) = line.trim_start().strip_prefix("#>") {
            let above: &mut Finding = expected.last_mut().unwrap_or_else(|| panic!("{path}:{}: no finding above", number + 1));
            above.says.push(says.trim().to_owned());
            continue;
        }
        let below = line.trim_start().strip_prefix("#^");
        if below.is_none() {
            last_line = number + 1;
        }
        // After `#^` a finding stands alone; elsewhere it is the last comment of its line.
        let comment = below.or_else(|| line.rsplit_once("# ").map(|(_, comment)| comment));
        let finding = comment.and_then(|comment| read_finding(comment, path, last_line));
        assert!(below.is_none() || finding.is_some(), "{path}:{}: `{line}` expects nothing", number + 1);
        expected.extend(finding);
    }
    expected
}

/// What a file `found.txt` expects: `path:line: error[K198]`, one a line.
pub(crate) fn expected_in_list(text: &str) -> Vec<Finding> {
    let read = |line: &str| {
        let mut parts = line.splitn(3, ':');
        let (path, number, rest) = (parts.next()?, parts.next()?, parts.next()?);
        read_finding(rest, path, number.parse().ok()?)
    };
    text.lines().map(|line| read(line).unwrap_or_else(|| panic!("found.txt: `{line}`"))).collect()
}

fn read_finding(comment: &str, path: &str, line: usize) -> Option<Finding> {
    let comment = comment.trim();
    let end = comment.find(']')? + 1;
    let (code, words) = comment.split_at(end);
    let (grave, number) = code.strip_suffix(']')?.split_once("[K")?;
    let is_code =
        matches!(grave, "error" | "warning" | "question") && number.len() == 3 && number.bytes().all(|b| b.is_ascii_digit());
    let words = words.strip_prefix(':').unwrap_or(words).trim();
    is_code.then(|| Finding { path: path.to_owned(), line, code: code.to_owned(), words: words.to_owned(), says: Vec::new() })
}

#[test]
fn findings_are_read_from_comments_beside_and_below() {
    let text = "sold  # error[K100]\n    5 ft oak  # of what? # error[K250]: measured in\n    \"open\n    #^ error[K170]\n#^ warning[K920]\nx # plain\n";
    let expected = expected_in("a.kerf", text);
    let short: Vec<_> = expected.iter().map(|one| (one.line, one.code.as_str(), one.words.as_str())).collect();
    assert_eq!(
        short,
        [(1, "error[K100]", ""), (2, "error[K250]", "measured in"), (3, "error[K170]", ""), (3, "warning[K920]", "")]
    );
}
