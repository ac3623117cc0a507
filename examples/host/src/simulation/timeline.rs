//! When things happen, in seconds from the first sample, and straight lines between points of a table.

/// The gondola is lifted off its stand.
pub const LAUNCH: f64 = 600.0;
/// The balloon stops climbing.
pub const FLOAT: f64 = 3400.0;
/// The gondola is cut from the balloon and falls.
pub const CUT_DOWN: f64 = 7600.0;
/// The parachute opens.
pub const OPENING: f64 = 7606.0;
/// The gondola touches the ground.
pub const LANDING: f64 = 9500.0;

/// Points of a curve, (seconds or metres, value), in rising order.
pub type Table = &'static [(f64, f64)];

/// Value at `x` on the straight lines through the points; level beyond both ends, 0 for an empty table.
pub fn interpolate(table: Table, x: f64) -> f64 {
    let after = table.partition_point(|&(at, _)| at <= x);
    match (after.checked_sub(1).map(|i| table[i]), table.get(after)) {
        (Some((x0, y0)), Some(&(x1, y1))) => y0 + (y1 - y0) * (x - x0) / (x1 - x0),
        (Some((_, end)), None) | (None, Some(&(_, end))) => end,
        (None, None) => 0.0,
    }
}
