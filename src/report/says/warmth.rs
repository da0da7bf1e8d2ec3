//! At which temperature a board was measured, and what followed.

use crate::board::MeasuringTemperature;

/// All that is to be known of it.
pub(super) fn temperature(of: MeasuringTemperature) -> String {
    let u = of.uncertainty.expanded().expanded;
    let at = if u > 0.0 {
        format!("{} ± {} K", of.at, libm::round(u * 100.0) / 100.0)
    } else {
        of.at.to_string()
    };
    let Some(expansion) = of.expansion else {
        return format!(
            "{at}; no coefficient of expansion is given, so lengths are those at this temperature"
        );
    };
    let instruments = match of.of_instruments {
        Some(own) => format!("instruments {own}"),
        None => "instruments taken as right where they were used".to_owned(),
    };
    format!(
        "{at}; measured lengths brought to 20 °C (ISO 1:2022) by the factor {:.6}: board {expansion}, \
         {instruments}; gauges stay as named",
        of.factor()
    )
}

/// That lengths are not those that were read, where that is so.
pub(super) fn brought(of: MeasuringTemperature) -> Option<String> {
    of.expansion?;
    Some(format!(
        "measured lengths brought from {} to 20 °C by the factor {:.6}",
        of.at,
        of.factor()
    ))
}
