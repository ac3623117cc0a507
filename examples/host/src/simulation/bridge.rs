//! A bridge as a network of resistors, and the converter behind it.

/// Codes of a 24-bit converter reach from `-CODE_LIMIT` to `CODE_LIMIT - 1`.
const CODE_LIMIT: f64 = 8_388_608.0;
/// Output ratio at which the code would be `CODE_LIMIT`: a gain of 128 with the excitation as the reference.
const FULL_SCALE_RATIO: f64 = 1.0 / 128.0;

/// How the gauges are joined to the rest, and the ohms of one conductor. All leads run inside the gondola, whose inside
/// is kept warm, so they stay as they are. Nothing flows in those to the output.
///
/// ```text
///   excitation +----[ arm 2 ]----+----[ arm 1 ]----+ excitation
///            +                  out                -
///              +----[ arm 3 ]----+----[ arm 4 ]----+
/// ```
/// The output is the upper middle against the lower one, so arm 1, growing in tension, raises it, as does arm 3.
pub enum Leads {
    /// Both leads of the one gauge in arm 1.
    Two(f64),
    /// One lead in arm 1, one in arm 2; the third goes to the output.
    Three(f64),
    /// The whole bridge is out at the part: two leads bring the excitation, two take the output.
    Four(f64),
}

impl Leads {
    /// Output over excitation, as seen at the instrument, for arms of so many ohms; infinity is an open arm 1.
    pub fn ratio(&self, [one, two, three, four]: [f64; 4]) -> f64 {
        match *self {
            Self::Two(lead) => divider(one + 2.0 * lead, two) - divider(four, three),
            Self::Three(lead) => divider(one + lead, two + lead) - divider(four, three),
            Self::Four(lead) => {
                let bridge = 1.0 / (1.0 / (one + two) + 1.0 / (three + four));
                divider(bridge, 2.0 * lead) * (divider(one, two) - divider(four, three))
            }
        }
    }
}

/// Output over excitation on three leads, with a resistor between the instrument's terminals of the output and of the excitation
/// that leads to arm 2: its current flows in the lead of the output.
pub fn shunted_ratio(lead: f64, [one, two, three, four]: [f64; 4], shunt: f64) -> f64 {
    let both = 1.0 / (1.0 / (two + lead) + 1.0 / (shunt + lead));
    let middle = divider(one + lead, both);
    middle + (1.0 - middle) * divider(lead, shunt) - divider(four, three)
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
