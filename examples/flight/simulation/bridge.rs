//! A quarter bridge as a network of resistors, and the converter behind it.

/// Codes of a 24-bit converter reach from `-CODE_LIMIT` to `CODE_LIMIT - 1`.
const CODE_LIMIT: f64 = 8_388_608.0;
/// Output ratio at which the code would be `CODE_LIMIT`: a gain of 128 with the excitation as the reference.
const FULL_SCALE_RATIO: f64 = 1.0 / 128.0;

/// How the gauge is joined to the bridge.
pub enum Wiring {
    /// One lead in the gauge's arm, one in the completion resistor's; the third carries no current.
    ThreeWire,
    /// Both leads in the gauge's arm.
    TwoWire,
}

/// The resistors around a gauge, in ohms.
///
/// ```text
///   excitation +----[ completion, lead ]--+--[ gauge, lead(s) ]----+ excitation
///            +                           out                       -
///              +----[ far ]---------------+--[ near ]--------------+
/// ```
/// The output is the upper middle against the lower one, so tension, which raises the gauge, raises it.
pub struct Bridge {
    pub wiring: Wiring,
    /// One lead conductor. All leads run inside the gondola, whose inside is kept warm, so they stay as they are.
    pub lead: f64,
    pub completion: f64,
    pub near: f64,
    pub far: f64,
}

impl Bridge {
    /// Output over excitation for a gauge of so many ohms; infinity is an open gauge.
    pub fn ratio(&self, gauge: f64) -> f64 {
        let (gauge_arm, completion_arm) = match self.wiring {
            Wiring::ThreeWire => (gauge + self.lead, self.completion + self.lead),
            Wiring::TwoWire => (gauge + 2.0 * self.lead, self.completion),
        };
        divider(gauge_arm, completion_arm) - divider(self.near, self.far)
    }
}

/// Share of the voltage that falls on `lower`; 1 when `lower` is infinite.
fn divider(lower: f64, upper: f64) -> f64 {
    1.0 / (1.0 + upper / lower)
}

/// What the converter says for a ratio, with so many codes of noise on top; it stops at its rails.
pub fn code(ratio: f64, noise: f64) -> i32 {
    let ideal = ratio / FULL_SCALE_RATIO * CODE_LIMIT;
    (ideal + noise).round().clamp(-CODE_LIMIT, CODE_LIMIT - 1.0) as i32
}
