//! The pages behind the codes: what a finding means, with a wrong and a right example.
//!
//! A page is `explain/K###.md`: a heading, prose in the trade's words, then a fenced block ```` ```kerf wrong ```` and one
//! ```` ```kerf right ````. An example is read after [`explain_preamble`], the names of a small shop, unless it begins with
//! `shop` itself; so it can be short, and a test can run it. A new page is one file and one line in `PAGES`.

use crate::diagnostics::{Code, did_you_mean};

/// Gives the page of each code that is named.
macro_rules! pages {
    ($($code:literal)*) => {
        &[$((Code($code), include_str!(concat!("explain/K", stringify!($code), ".md")))),*]
    };
}

/// Every page, one code on a line, in rising order.
const PAGES: &[(Code, &str)] = pages! {
    100
    101
    102
    103
    104
    105
    106
    107
    108
    109
    110
    111
    112
    113
    114
    115
    116
    117
    118
    119
    150
    151
    152
    153
    154
    155
    156
    157
    158
    159
    160
    162
    163
    164
    165
    167
    168
    169
    170
    171
    172
    173
    174
    180
    181
    182
    183
    184
    185
    198
    199
    200
    201
    202
    203
    204
    205
    206
    207
    208
    209
    210
    211
    212
    213
    214
    215
    216
    217
    218
    219
    220
    221
    222
    223
    250
    251
    252
    253
    254
    255
    256
    257
    258
    260
    262
    263
    300
    301
    302
    303
    304
    305
    306
    307
    308
    309
    310
    311
    312
    314
    315
    318
    319
    320
    321
    322
    323
    324
    325
    326
    327
    328
    329
    330
    331
    332
    333
    335
    401
    402
    403
    404
    405
    406
    407
    408
    410
    411
    412
    413
    414
    415
    416
    417
    418
    419
    500
    501
    502
    503
    504
    505
    506
    507
    508
    509
    510
    598
    599
    900
    901
    902
    903
    905
    906
    907
    920
    921
    922
    923
    924
    925
    926
    927
    928
    929
    930
    931
    932
    933
    934
    935
    936
    937
    938
    939
    940
    941
    942
    943
    944
    945
    946
    947
    948
    949
    950
    951
    952
    953
    954
    955
    956
    957
    958
    960
    961
    962
    963
    964
    965
    966
    967
    968
    969
    970
    971
    972
    973
    974
    975
    977
    978
    979
    980
};

/// The names that the examples use.
const PREAMBLE: &str = include_str!("explain/preamble.kerf");

/// The page of a code, as Markdown; `None` where there is none.
#[must_use]
pub fn explain(code: Code) -> Option<&'static str> {
    PAGES.binary_search_by_key(&code, |(page, _)| *page).ok().and_then(|at| PAGES.get(at)).map(|(_, text)| *text)
}

/// Every code that has a page, in rising order.
pub fn all_codes() -> impl Iterator<Item = Code> {
    PAGES.iter().map(|(code, _)| *code)
}

/// The page of a code as a reader types it (`K103`, `k103`, `103`).
///
/// # Errors
/// A sentence that says that there is no such code, with the near ones.
pub fn explain_typed(typed: &str) -> Result<&'static str, String> {
    let digits = typed.trim().trim_start_matches(['K', 'k']);
    let known = digits.len() == 3 && digits.bytes().all(|byte| byte.is_ascii_digit());
    let page = digits.parse().ok().filter(|_| known).and_then(|number| explain(Code(number)));
    page.ok_or_else(|| {
        let codes: Vec<_> = all_codes().map(|code| code.to_string()).collect();
        let near = did_you_mean(&format!("K{digits}"), codes.iter().map(String::as_str));
        let near = near.map_or_else(String::new, |near| format!("; {near}"));
        format!("there is no code `{}`{near}", typed.trim())
    })
}

/// The heading of a page without its code: the finding in a few words.
#[must_use]
pub fn explain_heading(code: Code) -> Option<&'static str> {
    explain(code)?.lines().next()?.split_once(": ").map(|(_, heading)| heading)
}

/// The definitions of a small shop, before which no example of a page stands alone.
#[must_use]
pub fn explain_preamble() -> &'static str {
    PREAMBLE
}

/// An example of a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Example {
    /// Whether it is the wrong one.
    pub wrong: bool,
    /// Its text.
    pub text: &'static str,
}

/// The examples of a page, in the order in which they stand.
#[must_use]
pub fn explain_examples(code: Code) -> Vec<Example> {
    let mut examples = Vec::new();
    let mut rest = explain(code).unwrap_or("");
    while let Some((_, after)) = rest.split_once("\n```kerf ") {
        let Some((kind, after)) = after.split_once('\n') else { break };
        let Some(end) = after.find("\n```") else { break };
        let (text, after) = after.split_at(end + 1);
        examples.push(Example { wrong: kind.trim() == "wrong", text });
        rest = after.get(3..).unwrap_or("");
    }
    examples
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pages_stand_in_rising_order_each_with_its_code_and_a_heading() {
        let codes: Vec<_> = all_codes().collect();
        assert!(codes.is_sorted_by(|a, b| a < b));
        for code in codes {
            let page = explain(code).expect("a page");
            assert!(page.starts_with(&format!("# {code}: ")), "{code}");
            assert!(explain_heading(code).is_some_and(|heading| heading.len() > 8), "{code}");
        }
    }

    #[test]
    fn each_page_has_a_wrong_and_a_right_example() {
        // What is wrong with these are the bytes of a file, a form's file, or figures beyond all measure, which no example can show.
        for code in all_codes().filter(|code| ![104, 198, 199, 502, 503, 598, 599].contains(&code.0)) {
            let examples = explain_examples(code);
            assert!(examples.iter().any(|one| one.wrong) && examples.iter().any(|one| !one.wrong), "{code}");
            assert!(examples.iter().all(|one| one.text.len() > 5), "{code}");
        }
    }

    #[test]
    fn a_code_may_be_typed_in_three_ways() {
        for typed in ["K198", "k198", " 198 "] {
            assert_eq!(explain_typed(typed), Ok(explain(Code(198)).expect("a page")));
        }
    }

    #[test]
    fn an_unknown_code_is_told_with_near_ones() {
        let near = explain_typed("K19").expect_err("no such code");
        assert!(near.starts_with("there is no code `K19`; did you mean `K1"), "{near}");
        assert_eq!(explain_typed("oak"), Err("there is no code `oak`".to_owned()));
        assert!(explain_typed("").is_err() && explain_typed("K").is_err() && explain_typed("Ké198").is_err());
    }
}
