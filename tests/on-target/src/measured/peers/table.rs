//! The cheap way, in integers: thermal output from a table of 64 entries with a straight line between
//! neighbours, the bridge taken as linear (`4 r / F`), the reciprocal of the gauge factor taken as linear in
//! temperature.
//!
//! What it costs: the linear bridge is by far the largest, `2 r` of the reading, so 3 % at 30 000
//! microstrain and 0.5 % at 5 000; then the gauge factor, the square of its change; then the chords
//! of the table, a microstrain or so in the middle of an interval; then balance, rounded to a whole
//! code, and results in whole nanostrain.

use super::Notebook;

const ENTRIES: usize = 64;

const TWO_TO_24: f64 = 16_777_216.0;

/// Rounded, halves away from zero.
fn nearest(value: f64) -> i32 {
    (value + 0.5_f64.copysign(value)) as i32
}

#[derive(Clone, Copy)]
pub struct Table {
    balance_code: i32,
    /// Nanostrain per code, times 2^24.
    gain: i32,
    /// Q20 degrees Celsius.
    temperature_low: i32,
    /// Intervals of the table per step of temperature, times 2^48.
    intervals_per_step: u32,
    /// Nanostrain.
    thermal_output: [i32; ENTRIES],
    /// Q20 degrees Celsius.
    reference_temperature: i32,
    /// Relative change of the gauge factor per step of temperature, times 2^44.
    factor_per_step: i32,
}

impl Table {
    pub fn new(notebook: &Notebook) -> Self {
        let (low, high) = notebook.temperatures;
        let interval = (high - low) / (ENTRIES - 1) as f64;
        let per_code = 4.0 * notebook.ratio_per_code() * notebook.lead_factor() / notebook.gauge_factor;
        let steps = |celsius: f64| nearest(celsius * 1_048_576.0);
        Self {
            balance_code: nearest(notebook.balance_code),
            gain: nearest(per_code * 1e9 * TWO_TO_24),
            temperature_low: steps(low),
            // A hair less than exact: the highest temperature must not reach the last entry.
            intervals_per_step: (16.0 * TWO_TO_24 / interval) as u32 - 1,
            thermal_output: core::array::from_fn(|i| {
                let thermal = notebook.thermal_output_since_balance(low + i as f64 * interval);
                nearest(thermal * 1e9)
            }),
            reference_temperature: steps(notebook.reference_temperature),
            factor_per_step: nearest(notebook.factor_per_degree() * TWO_TO_24),
        }
    }

    /// Mechanical strain in nanostrain. `temperature` is in Q20 degrees Celsius and inside the table.
    #[inline]
    pub fn strain(&self, code: i32, temperature: i32) -> i32 {
        let indicated = (i64::from(code - self.balance_code) * i64::from(self.gain)) >> 24;

        let above = (temperature - self.temperature_low) as u32;
        let position = (u64::from(above) * u64::from(self.intervals_per_step)) >> 32;
        let (index, fraction) = ((position >> 16) as usize, (position & 0xffff) as i64);
        let (left, right) = (self.thermal_output[index], self.thermal_output[index + 1]);
        let thermal = left + ((i64::from(right - left) * fraction) >> 16) as i32;

        let strain = indicated as i32 - thermal;
        let distance = temperature - self.reference_temperature;
        // Relative, times 2^28.
        let factor_change = (i64::from(distance) * i64::from(self.factor_per_step)) >> 16;
        strain - ((i64::from(strain) * factor_change) >> 28) as i32
    }
}
