//! The forms and figures that there are: those built in, and a book's own.
//!
//! Nothing is read from a disk here. The built-in files are part of the program, each parsed when it is first asked for; a book's
//! `forms/` folder comes in as text from the caller, path by path (`us-schedule-c/2027.toml`), and replaces a built-in file of the same
//! path.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;
use std::sync::LazyLock;

use crate::year::forms::figures::{Figures, parse_figures};
use crate::year::forms::form::{Form, parse_form};

/// A file that is parsed once, when it is first asked for.
type OnDemand<T> = LazyLock<Result<T, String>>;

macro_rules! file {
    ($form:literal, $file:expr) => {
        include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/report-templates/forms/", $form, "/", $file))
    };
}

macro_rules! form_of {
    ($form:literal, $year:literal) => {
        ($form, $year, LazyLock::new(|| parse_form(file!($form, concat!($year, ".toml")))))
    };
}

macro_rules! figures_of {
    ($form:literal) => {
        ($form, LazyLock::new(|| parse_figures(file!($form, "figures.toml"))))
    };
}

/// The forms that are part of the program, year by year. One is added here once its file stands in the form's folder.
static FORMS: [(&str, i32, OnDemand<Form>); 7] = [
    form_of!("ca-t2125", 2025),
    form_of!("ca-t2125", 2026),
    form_of!("uk-sa103f", 2025),
    form_of!("uk-sa103f", 2026),
    form_of!("us-schedule-c", 2024),
    form_of!("us-schedule-c", 2025),
    form_of!("us-schedule-c", 2026),
];

/// Their figures.
static FIGURES: [(&str, OnDemand<Figures>); 3] =
    [figures_of!("ca-t2125"), figures_of!("uk-sa103f"), figures_of!("us-schedule-c")];

/// A file of the program, or one of the book's own.
#[derive(Clone, Debug)]
enum Kept<T: 'static> {
    BuiltIn(&'static OnDemand<T>),
    Own(T),
}

impl<T> Kept<T> {
    /// What the file holds; those of the program are held by a test.
    fn get(&self) -> Option<&T> {
        match self {
            Self::BuiltIn(file) => file.as_ref().ok(),
            Self::Own(own) => Some(own),
        }
    }
}

/// A file of a book's `forms/` folder that can't be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormFault {
    /// Its path, from `forms/` on.
    pub path: String,
    /// What is wrong with it.
    pub message: String,
}

/// Forms by name and year, figures by form.
#[derive(Clone, Debug, Default)]
pub struct Forms {
    forms: BTreeMap<String, BTreeMap<i32, Kept<Form>>>,
    figures: BTreeMap<String, Kept<Figures>>,
    faults: Vec<FormFault>,
}

impl Forms {
    /// The forms that are part of the program.
    #[must_use]
    pub fn built_in() -> Self {
        let mut forms: BTreeMap<String, BTreeMap<i32, Kept<Form>>> = BTreeMap::new();
        for (name, year, file) in &FORMS {
            forms.entry((*name).to_owned()).or_default().insert(*year, Kept::BuiltIn(file));
        }
        let figures = FIGURES.iter().map(|(name, file)| ((*name).to_owned(), Kept::BuiltIn(file))).collect();
        Self { forms, figures, faults: Vec::new() }
    }

    /// Adds a book's own file, which replaces a built-in one of the same path. `path` is below `forms/`, with `/` between its
    /// parts. What can't be used is kept among the [`faults`](Self::faults).
    pub fn add(&mut self, path: &str, text: &str) {
        if let Err(message) = self.try_add(path, text) {
            self.faults.push(FormFault { path: format!("forms/{path}"), message });
        }
    }

    fn try_add(&mut self, path: &str, text: &str) -> Result<(), String> {
        let (folder, file) = path.split_once('/').ok_or("a form's file stands in a folder of the form's name")?;
        if file == "figures.toml" {
            let figures = parse_figures(text)?;
            if figures.form() != folder {
                return Err(format!("it stands in the folder `{folder}` and says `form = \"{}\"`", figures.form()));
            }
            self.figures.insert(folder.to_owned(), Kept::Own(figures));
            return Ok(());
        }
        let form = parse_form(text)?;
        if form.name != folder {
            return Err(format!("it stands in the folder `{folder}` and says `form = \"{}\"`", form.name));
        }
        if file != format!("{}.toml", form.year) {
            return Err(format!("it is for the tax year {} and should be called `{}.toml`", form.year, form.year));
        }
        self.forms.entry(form.name.clone()).or_default().insert(form.year, Kept::Own(form));
        Ok(())
    }

    /// Files that could not be used.
    #[must_use]
    pub fn faults(&self) -> &[FormFault] {
        &self.faults
    }

    /// A form of a year.
    #[must_use]
    pub fn form(&self, name: &str, year: i32) -> Option<&Form> {
        self.forms.get(name)?.get(&year)?.get()
    }

    /// The figures of a form.
    #[must_use]
    pub fn figures(&self, name: &str) -> Option<&Figures> {
        self.figures.get(name)?.get()
    }

    /// Parses what some tax years will ask for, which is parsed else when it is asked for. Gives how many files of these there are.
    pub fn parse_ahead(&self, name: &str, years: RangeInclusive<i32>) -> usize {
        years.filter(|year| self.form(name, *year).is_some()).count() + usize::from(self.figures(name).is_some())
    }

    /// The names of the forms.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.forms.keys().map(String::as_str)
    }

    /// The years of a form, rising.
    pub fn years(&self, name: &str) -> impl Iterator<Item = i32> {
        self.forms.get(name).into_iter().flat_map(|years| years.keys().copied())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::year::{Feed, Rule};

    const SCHEDULE_C: &str = "us-schedule-c";

    #[test]
    fn every_rule_on_which_a_question_rests_is_in_the_figures_of_schedule_c() {
        let forms = Forms::built_in();
        let figures = forms.figures(SCHEDULE_C).expect("figures");
        let lacking: Vec<_> = Rule::ALL.into_iter().filter(|rule| figures.rule(*rule).is_none()).collect();
        assert_eq!(lacking, []);
    }

    #[test]
    fn a_rule_that_no_question_rests_on_and_a_source_without_a_mark_are_refused() {
        let mut forms = Forms::default();
        let mut add = |rule: &str| forms.add("x/figures.toml", &format!("form = \"x\"\n[[rule]]\nrule = \"so\"\n{rule}"));
        add("name = \"agents\"\nsource = \"a law\"\nmark = \"FROM MEMORY\"\n");
        add("name = \"agent\"\nsource = \"a law\"\n");
        add("name = \"agent\"\nsource = \"common practice, no source\"\n");
        let told: Vec<_> = forms.faults().iter().map(|fault| fault.message.lines().last().unwrap_or("")).collect();
        assert_eq!(told, ["no question rests on a rule `agents`", "the rule `agent` names a source without a `mark`"]);
    }

    #[test]
    fn every_built_in_file_can_be_used() {
        for (name, year, file) in &FORMS {
            let file = file.as_ref().unwrap_or_else(|fault| panic!("{name} {year}: {fault}"));
            assert_eq!((file.name.as_str(), file.year), (*name, *year));
        }
        for (name, file) in &FIGURES {
            let file = file.as_ref().unwrap_or_else(|fault| panic!("{name}: {fault}"));
            assert_eq!(file.form(), *name);
        }
    }

    #[test]
    fn every_file_of_the_forms_folder_is_built_in() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("report-templates/forms");
        let mut files = Vec::new();
        for form in std::fs::read_dir(folder).expect("the folder").map(|entry| entry.expect("an entry").path()) {
            for file in std::fs::read_dir(&form).into_iter().flatten().map(|entry| entry.expect("an entry").path()) {
                let name = |path: &std::path::Path| path.file_name().map(|name| name.to_string_lossy().into_owned());
                files.extend(name(&form).zip(name(&file)).map(|(form, file)| format!("{form}/{file}")));
            }
        }
        files.sort();
        let mut built_in: Vec<_> = FORMS.iter().map(|(name, year, _)| format!("{name}/{year}.toml")).collect();
        built_in.extend(FIGURES.iter().map(|(name, _)| format!("{name}/figures.toml")));
        built_in.sort();
        assert_eq!(files, built_in);
    }

    #[test]
    fn the_forms_of_other_countries_are_all_provisional() {
        let forms = Forms::built_in();
        for name in ["uk-sa103f", "ca-t2125"] {
            assert!(forms.years(name).all(|year| forms.form(name, year).expect("a form").provisional), "{name}");
        }
    }

    #[test]
    fn only_a_form_that_was_read_is_not_provisional() {
        let forms = Forms::built_in();
        let provisional = |year| forms.form("us-schedule-c", year).expect("a form").provisional;
        assert_eq!([2024, 2025, 2026].map(provisional), [false, true, true]);
    }

    #[test]
    fn the_lines_of_schedule_c_stand_in_its_own_order() {
        let forms = Forms::built_in();
        let form = forms.form("us-schedule-c", 2025).expect("a form");
        let numbers: Vec<_> = form.lines.iter().map(|line| line.number.as_str()).collect();
        let expected = "1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16a 16b 17 18 19 20a 20b 21 22 23 24a 24b 25 26 27a 27b 28 29 30 31 \
                        35 36 37 38 39 40 41 42 48";
        assert_eq!(numbers, expected.split_whitespace().collect::<Vec<_>>());
        assert_eq!(form.lines[form.net_profit].number, "31");
        assert_eq!(form.line_of(Feed::Purchases).map(|at| form.lines[at].number.as_str()), Some("36"));
    }

    #[test]
    fn line_28_adds_lines_8_to_27b() {
        let forms = Forms::built_in();
        let form = forms.form("us-schedule-c", 2026).expect("a form");
        let at = form.index_of("total-expenses").expect("line 28");
        let first = form.index_of("advertising").expect("line 8");
        assert_eq!(form.lines[at].adds, (first..at).map(|line| (true, line)).collect::<Vec<_>>());
    }

    #[test]
    fn a_book_s_own_file_replaces_a_built_in_one() {
        let mut forms = Forms::built_in();
        let text =
            file!("us-schedule-c", "2026.toml").replace("year = 2026", "year = 2027").replace("Gross receipts or sales", "Sales");
        forms.add("us-schedule-c/2027.toml", &text);
        assert_eq!(forms.faults(), []);
        assert_eq!(forms.form("us-schedule-c", 2027).expect("a form").lines[0].label, "Sales");
    }

    #[test]
    fn a_file_that_does_not_hold_is_named_with_its_reason() {
        let mut forms = Forms::default();
        forms.add("us-schedule-c/2025.toml", file!("us-schedule-c", "2026.toml"));
        forms.add("elsewhere/2026.toml", file!("us-schedule-c", "2026.toml"));
        forms.add("us-schedule-c/2026.toml", &file!("us-schedule-c", "2026.toml").replace("\"till-short\"", "\"till-shorter\""));
        forms.add("us-schedule-c/2026.toml", &file!("us-schedule-c", "2026.toml").replace(", \"till-short\"", ""));
        forms.add("us-schedule-c/2026.toml", &file!("us-schedule-c", "2026.toml").replace("+net-receipts", "+gross-profit"));
        forms.add("loose.toml", "");
        let told: Vec<_> = forms.faults().iter().map(|fault| fault.message.as_str()).collect();
        assert_eq!(
            told,
            [
                "it is for the tax year 2026 and should be called `2026.toml`",
                "it stands in the folder `elsewhere` and says `form = \"us-schedule-c\"`",
                "nothing feeds by the name `till-shorter`",
                "no line and no `[[asked]]` has `till-short` in its `feeds`",
                "line 5 adds itself",
                "a form's file stands in a folder of the form's name",
            ]
        );
        assert_eq!(forms.faults()[0].path, "forms/us-schedule-c/2025.toml");
    }
}
