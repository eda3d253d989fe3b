//! Reports as JSON for other programs, and the JSON Schema of each.
//!
//! Money and quantities are text, so no reader turns them into binary fractions. The schemas in
//! `report-templates/schema/` are written from the models by a test.

use serde::Serialize;

use crate::reports::{
    CheckReport, CostReport, FiguresReport, PaysReport, PlacesReport, PlanReport, PriceReport, ProofReport, StockReport,
    TraceReport, WhyReport, YearReport,
};

/// The reports that have a schema.
pub const SCHEMAS: [&str; 12] =
    ["cost", "stock", "places", "pays", "price", "plan", "trace", "year", "proof", "check", "why", "figures"];

/// Writes a report as JSON with a line break at its end.
///
/// # Errors
/// Never for a report of this crate: its keys are text and its figures are text.
pub fn render_json<R: Serialize>(report: &R) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(report)?;
    text.push('\n');
    Ok(text)
}

/// The JSON Schema of a report, as it is kept in `report-templates/schema/`; `None` for a name that is no report.
#[must_use]
pub fn schema(report: &str) -> Option<&'static str> {
    match report {
        "cost" => Some(include_str!("../../report-templates/schema/cost.json")),
        "stock" => Some(include_str!("../../report-templates/schema/stock.json")),
        "pays" => Some(include_str!("../../report-templates/schema/pays.json")),
        "places" => Some(include_str!("../../report-templates/schema/places.json")),
        "price" => Some(include_str!("../../report-templates/schema/price.json")),
        "plan" => Some(include_str!("../../report-templates/schema/plan.json")),
        "trace" => Some(include_str!("../../report-templates/schema/trace.json")),
        "year" => Some(include_str!("../../report-templates/schema/year.json")),
        "proof" => Some(include_str!("../../report-templates/schema/proof.json")),
        "check" => Some(include_str!("../../report-templates/schema/check.json")),
        "why" => Some(include_str!("../../report-templates/schema/why.json")),
        "figures" => Some(include_str!("../../report-templates/schema/figures.json")),
        _ => None,
    }
}

/// Makes the JSON Schema of a report from its model.
#[must_use]
pub fn schema_of_model(report: &str) -> Option<serde_json::Value> {
    let schema = match report {
        "cost" => schemars::schema_for!(CostReport),
        "stock" => schemars::schema_for!(StockReport),
        "pays" => schemars::schema_for!(PaysReport),
        "places" => schemars::schema_for!(PlacesReport),
        "price" => schemars::schema_for!(PriceReport),
        "plan" => schemars::schema_for!(PlanReport),
        "trace" => schemars::schema_for!(TraceReport),
        "year" => schemars::schema_for!(YearReport),
        "proof" => schemars::schema_for!(ProofReport),
        "check" => schemars::schema_for!(CheckReport),
        "why" => schemars::schema_for!(WhyReport),
        "figures" => schemars::schema_for!(FiguresReport),
        _ => return None,
    };
    Some(schema.to_value())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    /// With `KERFBOOK_WRITE_SCHEMAS=1` in the environment the files are written anew instead of compared.
    #[test]
    #[expect(clippy::disallowed_methods, reason = "asks whether to write instead of compare")]
    fn the_kept_schemas_are_those_of_the_models() {
        for report in SCHEMAS {
            let model = schema_of_model(report).expect("a model");
            let text = render_json(&model).expect("text");
            if std::env::var_os("KERFBOOK_WRITE_SCHEMAS").is_some() {
                let path = format!("{}/report-templates/schema/{report}.json", env!("CARGO_MANIFEST_DIR"));
                std::fs::write(path, &text).expect("written");
            } else {
                let kept = schema(report).expect("a schema");
                assert!(kept == text, "the schema of `{report}` is not its model's: run this test with KERFBOOK_WRITE_SCHEMAS=1");
            }
        }
    }

    #[test]
    fn made_up_reports_are_as_their_schemas_say() {
        let reports = [
            ("cost", serde_json::to_value(made_up::cost())),
            ("stock", serde_json::to_value(made_up::stock())),
            ("pays", serde_json::to_value(made_up::pays())),
            ("year", serde_json::to_value(made_up::year())),
            ("proof", serde_json::to_value(made_up::proof())),
        ];
        for (name, report) in reports {
            let schema = schema_of_model(name).expect("a model");
            let validator = jsonschema::validator_for(&schema).expect("a schema");
            let report = report.expect("json");
            let faults: Vec<String> = validator.iter_errors(&report).map(|fault| fault.to_string()).collect();
            assert!(faults.is_empty(), "{name}: {faults:?}");
        }
    }

    #[test]
    fn money_that_is_a_number_or_has_a_comma_is_refused() {
        let schema = schema_of_model("stock").expect("a model");
        let validator = jsonschema::validator_for(&schema).expect("a schema");
        let mut report = serde_json::to_value(made_up::stock()).expect("json");
        for wrong in
            [serde_json::json!(1843.2), serde_json::json!("1,843.20"), serde_json::json!("1843.2"), serde_json::json!("")]
        {
            report["totals"]["paid"] = wrong.clone();
            assert!(!validator.is_valid(&report), "{wrong}");
        }
    }

    #[test]
    fn a_report_opens_with_its_name_and_version() {
        let text = render_json(&made_up::cost()).expect("text");
        assert!(text.starts_with("{\n  \"report\": \"cost\",\n  \"version\": 1,\n  \"shop\": \"Wren & Gable Woodshop\",\n"));
        assert!(text.contains("\"paid\": \"12.478333\""));
    }
}
