//! Temperatures at which something is looked at or drawn.

use gaugewright::Error;
use gaugewright::units::Celsius;

/// Enough of them that a curve looks smooth and its largest value is found.
pub const PIECES: u32 = 240;

/// From end to end, whole degrees where there is room.
pub fn seven((low, high): (Celsius, Celsius)) -> impl Iterator<Item = f64> {
    let is_wide = high.0 - low.0 > 12.0;
    let (low, high) = if is_wide { (low.0.ceil(), high.0.floor()) } else { (low.0, high.0) };
    evenly(low, high, 6).map(move |celsius| if is_wide { celsius.round() } else { celsius })
}

/// From end to end in even pieces, both ends exact.
pub fn evenly(low: f64, high: f64, pieces: u32) -> impl Iterator<Item = f64> {
    (0..=pieces).map(move |piece| {
        let share = f64::from(piece) / f64::from(pieces);
        low * (1.0 - share) + high * share
    })
}

/// Where a function is largest, of even places from end to end.
///
/// # Errors
/// Those of the function.
pub fn place_of_largest(
    low: Celsius,
    high: Celsius,
    of: impl Fn(Celsius) -> Result<f64, Error>,
) -> Result<Celsius, Error> {
    let mut largest = (low, of(low)?);
    for at in evenly(low.0, high.0, PIECES).map(Celsius) {
        let found = of(at)?;
        if found > largest.1 {
            largest = (at, found);
        }
    }
    Ok(largest.0)
}
