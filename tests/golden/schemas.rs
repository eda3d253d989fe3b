//! The reports that are expected are as their schemas say.

use serde_json::Value;

use crate::case::Case;

/// The schema of a report's file, as it is kept.
fn schema_of(file: &str) -> Value {
    let report = file.split(['-', '.']).next().unwrap_or("");
    let text = kerfbook::render::schema(report).unwrap_or_else(|| panic!("no schema of `{report}`"));
    serde_json::from_str(text).expect("a schema")
}

/// What is wrong with a case's reports.
pub(crate) fn faults_of(case: &Case) -> Vec<String> {
    let mut faults = Vec::new();
    for output in case.outputs().iter().filter(|output| output.file.ends_with(".json")) {
        let validator = jsonschema::validator_for(&schema_of(&output.file)).expect("a schema");
        let report: Value = serde_json::from_str(&case.expected(output)).expect("JSON");
        faults.extend(validator.iter_errors(&report).map(|fault| format!("{}/{}: {fault}", case.name, output.file)));
    }
    faults
}
