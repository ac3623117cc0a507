//! The kernels of the sweep and of the counts, as constants of C for the firmware of `examples/c-firmware`.

use gaugewright::device::record::{Date, Identity, Name, Record};
use gaugewright::fixed::{self, MeanCode, Span, Temperature, Zero};
use gaugewright::{Channel, units::Nanostrain};

use host::c_header;
use on_target::channels::{ADJUSTABLE, BALANCES, CHANNELS, FIXED, LINEAR, SPANS};
use on_target::peers::notebooks::{WIDE, channel};

/// A header with a table of the sweep's channels, and the kernels that are counted.
pub fn text() -> Result<String, String> {
    let mut text = c_header::head("sweep kernels");
    let mut rows = String::new();
    for ((name, channel), kernel) in CHANNELS.iter().zip(&FIXED) {
        let named = format!("sweep {name}");
        let identifier = c_header::identifier(&named);
        text += &one(&named, channel, kernel)?;
        rows += &format!("    {{\"{name}\", &kernel_{identifier}, &seal_{identifier}}},\n");
    }
    let wide = channel(&WIDE);
    let small: [fixed::Kernel; 2] = [wide.fixed(), LINEAR.fixed()];
    let large: fixed::Kernel<5, 3> = wide.fixed();
    text += &one("counted wide", &wide, &small[0])?;
    text += &one("counted linear", &LINEAR, &small[1])?;
    text += &one("counted wide large", &wide, &large)?;
    text += &format!(
        "\nenum {{ CHANNELS = {} }};\n\nstatic const struct channel {{\n    const char *name;\n    \
         const gw_large_kernel *kernel;\n    const gw_seal *seal;\n}} channels[CHANNELS] = {{\n{rows}}};\n",
        CHANNELS.len()
    );
    text += &on_site()?;
    Ok(text + c_header::END)
}

/// Zeros of a channel that is balanced on site: from end to end, with a fraction.
const ZEROS: u32 = 17;

/// The constants of a channel that is balanced on site, and the hash of what they make: of every zero, with the lowest span, one
/// and the highest, the kernel's checksum, and of the last one the bytes of its record.
fn on_site() -> Result<String, String> {
    let (mut hash, mut last) = (Hash::new(), None);
    for k in 0..ZEROS {
        let (count, steps) = (1 + k * 4_095, i64::from(k) - i64::from(ZEROS / 2));
        let sum = (i64::from(BALANCES.1) / i64::from(ZEROS / 2) - 1) * steps * i64::from(count) + steps;
        let temperature = Temperature::from_bits((k as i32 * 8 - 40) << 20);
        let zero = Zero { codes: MeanCode { sum, count }, temperature };
        for span in [SPANS.0, Span::ONE, SPANS.1] {
            let kernel = ADJUSTABLE.with(zero, span).map_err(|error| format!("zero {k}: {error}"))?;
            hash = hash.bytes(&kernel.checksum().to_le_bytes());
            last = Some((kernel, zero, span));
        }
    }
    let (kernel, zero, span) = last.ok_or("no zeros")?;
    let mut identity = Identity::new(Name::new("counted"), Date::new(2026, 3, 14), 0x0123_4567_89ab_cdef);
    (identity.zero, identity.span) = (Some(zero), span);
    let mut bytes = [0; Record::<fixed::Kernel>::BYTES];
    let written = Record::new(kernel, identity).write(&mut bytes).map_err(|error| error.to_string())?.len();
    hash = hash.bytes(&bytes[..written]);
    Ok(c_header::adjustable("counted", &ADJUSTABLE, Nanostrain(0.0))
        + &format!(
            "enum {{ ZEROS = {ZEROS} }};\nstatic const uint64_t on_site_hash = 0x{:016x}ull;\n",
            hash.0
        ))
}

/// FNV-1a, 64 bits.
struct Hash(u64);

impl Hash {
    const fn new() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }

    fn bytes(self, bytes: &[u8]) -> Self {
        Self(bytes.iter().fold(self.0, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)))
    }
}

fn one<const DEGREE: usize, const FACTOR: usize>(
    name: &str,
    channel: &Channel,
    kernel: &fixed::Kernel<DEGREE, FACTOR>,
) -> Result<String, String> {
    c_header::kernel(name, "", channel, kernel).map_err(|error| format!("{name}: {error}"))
}
