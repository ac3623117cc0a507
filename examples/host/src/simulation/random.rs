//! Numbers that look random and are the same in every run.

/// A 64-bit counter stepped by a large odd number, scrambled on the way out. Good enough for noise, and short. Or nothing, for a
/// flight without noise.
pub struct Random(Option<u64>);

impl Random {
    /// No noise: every draw is in the middle.
    pub const NONE: Self = Self(None);

    pub fn is_none(&self) -> bool {
        self.0.is_none()
    }

    /// Streams with different numbers start far apart in the counter's cycle.
    pub fn stream(number: u64) -> Self {
        let mut seed = 0x6a75_6e65_2026_0051 ^ (number << 32);
        Self(Some(bits(&mut seed)))
    }

    /// Evenly spread over `low..high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        let Some(state) = &mut self.0 else { return (low + high) / 2.0 };
        // The upper 53 bits: as many as an f64 holds exactly.
        low + (high - low) * (bits(state) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Close to gaussian, mean 0, deviation 1: the sum of twelve uniform numbers has a variance of exactly 1, and can
    /// never reach beyond 6 deviations, so one wild draw cannot spoil a demonstration.
    pub fn gaussian(&mut self) -> f64 {
        (0..12).map(|_| self.between(-0.5, 0.5)).sum()
    }
}

fn bits(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}
