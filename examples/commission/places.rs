//! Temperatures at which something is looked at or drawn.

/// Enough of them that a curve looks smooth and its largest value is found.
pub const PIECES: u32 = 240;

/// From end to end in even pieces, both ends exact.
pub fn evenly(low: f64, high: f64, pieces: u32) -> impl Iterator<Item = f64> {
    (0..=pieces).map(move |piece| {
        let share = f64::from(piece) / f64::from(pieces);
        low * (1.0 - share) + high * share
    })
}
