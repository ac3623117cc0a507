//! What a logger is given for its work on site: ranges of zero and span, and checks of wiring and shunt.

use crate::channel_file::on_site::{OnSite, Place, Shunt};
use crate::kernel::Ranges;
use crate::keys::told_on_site;
use gaugewright::channel::Arm;
use gaugewright::error::Field;
use gaugewright::fixed::Span;
use gaugewright::installation::{self, ShuntCheck, WiringCheck};
use gaugewright::units::{Ohms, Percent};
use gaugewright::{Channel, Error};

/// The span corrections that the file states.
pub fn spans(on_site: &OnSite) -> [f64; 2] {
    on_site.span_correction_within.unwrap_or([1.0; 2])
}

/// The ranges of an adjustable kernel. With a shunt the spans are those that its check can give, which its tolerance makes wider.
///
/// # Errors
/// As [`shunt_check`].
pub fn ranges(channel: &Channel, on_site: &OnSite) -> Result<Ranges, String> {
    let [low, high] = on_site.balance_code_within.map(|code| code as i32);
    let [least, most] = spans(on_site).map(Span::from_ratio);
    let spans = shunt_check(channel, on_site)?.map_or((least, most), |check| check.spans());
    Ok(((low, high), spans))
}

/// The codes of wiring in order and of its faults, where the file states a tolerance of the resistors.
///
/// # Errors
/// As the library's.
pub fn wiring_check(channel: &Channel, on_site: &OnSite) -> Result<Option<WiringCheck>, String> {
    let told = |error: Error| format!("resistor_tolerance_percent of [channel.on_site]: {error}");
    let check = |percent| channel.try_wiring_check(Percent(percent)).map_err(told);
    on_site.resistor_tolerance_percent.map(check).transpose()
}

/// The change of code that the shunt should make, where the file states one.
///
/// # Errors
/// As the library's.
pub fn shunt_check(channel: &Channel, on_site: &OnSite) -> Result<Option<ShuntCheck>, String> {
    let told = |error| match error {
        Error::Invalid { field: Field::SpanCorrection, .. } => told_on_site(error),
        _ => format!("shunt of [channel.on_site]: {}", told_on_site(error)),
    };
    let [least, most] = spans(on_site).map(Span::from_ratio);
    let check = |words| shunt(words).try_code_check(channel, (least, most)).map_err(told);
    on_site.shunt.as_ref().map(check).transpose()
}

/// The shunt as the library has it.
pub fn shunt(words: &Shunt) -> installation::Shunt {
    let ohms = Ohms(words.ohm);
    let arm = arm(words).unwrap_or(Arm::One);
    let shunt = match words.at {
        Place::Gauge => installation::Shunt::at_gauge(arm, ohms),
        Place::Instrument => installation::Shunt::at_instrument(arm, ohms),
    };
    shunt.tolerance(Percent(words.tolerance_percent.unwrap_or(0.0)))
}

/// None for a number that is no arm's, which [`crate::contradictions`] refuses.
pub fn arm(words: &Shunt) -> Option<Arm> {
    Arm::ALL.get((words.arm as usize).checked_sub(1)?).copied()
}
