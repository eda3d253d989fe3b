//! The lines of a tax form that expenses and incomes of a book may name.

use crate::year::{Form, Forms, Takes};

/// The lines of a built-in form, of its newest year; `None` where there is no form of that name.
pub(super) fn form_lines(name: &str) -> Option<String> {
    let forms = Forms::built_in();
    let year = forms.years(name).max()?;
    let form = forms.form(name, year)?;
    let mut page = format!("`{name}` is a tax form: its lines of {year} that a book may name with `form line`.\n");
    for (takes, whose) in [
        (Takes::Expense, "an `expense`"),
        (Takes::House, "an `expense` that `counts as house cost`"),
        (Takes::Income, "an `income`"),
    ] {
        page.push_str(&lines_for(form, takes, whose));
    }
    page.push_str("\nA line is called by its number or its name: `form line 22`. The form's own text and its instructions say what belongs where.\n");
    Some(page)
}

fn lines_for(form: &Form, takes: Takes, whose: &str) -> String {
    let lines: Vec<_> = form.lines.iter().filter(|line| line.takes.contains(&takes)).collect();
    if lines.is_empty() {
        return String::new();
    }
    let mut page = format!("\nfor {whose}:\n\n");
    for line in lines {
        let number = &line.number;
        page.push_str(&format!(
            "    form line {:<24} # {}{}\n",
            line.name,
            line.label,
            if number == &line.name { String::new() } else { format!(" ({number})") }
        ));
    }
    page
}

#[cfg(test)]
mod tests {
    use super::form_lines;

    #[test]
    fn each_built_in_form_lists_its_lines() {
        for form in ["us-schedule-c", "uk-sa103f", "ca-t2125"] {
            let page = form_lines(form).expect("a form");
            assert!(page.contains("for an `expense`:") && page.matches("form line ").count() > 8, "{page}");
        }
        assert_eq!(form_lines("us-schedule-z"), None);
    }
}
