//! What is asked of the records of goods for children: data with its sources, from `report-templates/records/children.toml`.

use serde::Deserialize;

const CHILDREN: &str = include_str!("../../../report-templates/records/children.toml");

/// A thing that is asked, in words.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Asks {
    pub(super) asks: String,
    pub(super) source: String,
    #[serde(rename = "mark")]
    _mark: String,
}

/// Words that are shown as they are.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Words {
    pub(super) text: String,
    #[serde(rename = "source")]
    _source: String,
    #[serde(rename = "mark")]
    _mark: String,
}

/// Words in a material's name or title that say what it is, in small letters.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Called {
    pub(super) finish: Vec<String>,
    pub(super) panel: Vec<String>,
    #[serde(rename = "source")]
    _source: String,
    #[serde(rename = "mark")]
    _mark: String,
}

/// For how long records are kept.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Keep {
    pub(super) years: u32,
    pub(super) source: String,
    #[serde(rename = "mark")]
    _mark: String,
}

/// The data.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RecordRules {
    pub(super) caution: Words,
    pub(super) label: Asks,
    pub(super) keep: Keep,
    pub(super) finish: Asks,
    pub(super) wood: Asks,
    pub(super) panel: Asks,
    pub(super) part: Asks,
    pub(super) called: Called,
}

/// Reads the data. `None` never, since a test reads them.
pub(super) fn record_rules() -> Option<RecordRules> {
    toml::from_str(CHILDREN).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_data_are_whole() {
        let rules = record_rules().expect("the data read");
        assert!(rules.keep.years > 0);
        assert!(rules.caution.text.contains("does not decide whether a product is safe"));
    }
}
