//! The truck on the road: range, gears, charging and sun, as text, as a sheet, and as data.

pub(crate) mod json;
mod sheet;
pub(crate) mod text;

pub use sheet::range_sheet_html;

/// What has to be heeded of all of it.
pub(crate) const fn cautions() -> [&'static str; 6] {
    [
        "High-voltage dc kills, and panels in the sun cannot be switched off: cover them before you touch their leads.",
        "A range is an estimate on entries and assumed figures: drive the truck close to home first, with the charge in sight.",
        "Panels charge while nobody is there: a cut-out of its own has to end it at the pack's and each module's highest volts.",
        "A charger is a load for hours: have the circuit, its earth and its residual-current device looked at by somebody licensed.",
        "Gears, brakes and tyres were made for another motor: keep within their ratings, and the brakes' vacuum fed.",
        "Local vehicle codes and licensed practice decide what may go on the road.",
    ]
}
