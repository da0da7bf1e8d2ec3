//! One file a rule: what it flags, why, an example of both, and how it looks.

mod area_against_rings;
mod calibration_lapsed;
mod day_unquoted;
mod decimal_slipped;
mod diameter_for_radius;
mod digits_beyond_uncertainty;
mod digits_too_few;
mod edge_mistaken;
mod extends_without_change;
mod gauge_for_strip;
mod id_repeated;
mod id_unlike_name;
mod instrument_out_of_range;
mod issued_before_inspection;
mod last_line_open;
mod limit_repeated;
mod limits_unmeetable;
mod missing_date;
mod missing_inspector;
mod missing_instrument;
mod missing_uncertainty;
mod people_disagree;
mod profile_unlike_mounting;
mod published_without_clause;
mod reading_apart;
mod readings_spread;
mod unit_implausible;
mod unit_mixed;
mod values_copied;
mod waiver_expired;
mod waiver_malformed;
mod waiver_unused;
mod width_against_radii;
mod wire_unlike_profile;

use super::Rule;

/// Every rule: what was measured first, then who measured it, ids, tables,
/// events, waivers.
const ALL: &[&Rule] = &[
    &unit_implausible::RULE,
    &unit_mixed::RULE,
    &decimal_slipped::RULE,
    &diameter_for_radius::RULE,
    &gauge_for_strip::RULE,
    &wire_unlike_profile::RULE,
    &profile_unlike_mounting::RULE,
    &width_against_radii::RULE,
    &area_against_rings::RULE,
    &edge_mistaken::RULE,
    &digits_beyond_uncertainty::RULE,
    &digits_too_few::RULE,
    &missing_uncertainty::RULE,
    &missing_inspector::RULE,
    &missing_date::RULE,
    &day_unquoted::RULE,
    &last_line_open::RULE,
    &missing_instrument::RULE,
    &calibration_lapsed::RULE,
    &values_copied::RULE,
    &reading_apart::RULE,
    &people_disagree::RULE,
    &readings_spread::RULE,
    &id_unlike_name::RULE,
    &id_repeated::RULE,
    &limit_repeated::RULE,
    &limits_unmeetable::RULE,
    &published_without_clause::RULE,
    &extends_without_change::RULE,
    &instrument_out_of_range::RULE,
    &issued_before_inspection::RULE,
    &waiver_unused::RULE,
    &waiver_expired::RULE,
    &waiver_malformed::RULE,
];

impl Rule {
    /// Every rule, in the order of the documentation.
    pub const ALL: &'static [&'static Self] = ALL;

    /// The rule with this code.
    pub fn find(code: &str) -> Option<&'static Self> {
        Self::ALL.iter().find(|rule| rule.code == code).copied()
    }
}

#[cfg(test)]
mod tests;
