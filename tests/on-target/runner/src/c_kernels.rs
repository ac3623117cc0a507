//! The kernels of the sweep and of the counts, as constants of C for the firmware of `examples/c-firmware`.

use gaugewright::device::record::{Date, Identity, Name, Record};
use gaugewright::ffi::*;
use gaugewright::fixed::{self, MeanCode, Span, Temperature, Zero};
use gaugewright::units::Nanostrain;
use gaugewright::{Channel, float};

use host::c_header::{self, Facts};
use on_target::channels::{
    ADJUSTABLE, BALANCES, CHANNELS, COMPENSATED, LINEAR, PRODUCT, PRODUCT_COMPENSATED, SPANS,
};
use on_target::commissioning;
use on_target::paths::ROSETTE_FIXED;
use on_target::peers::notebooks::{MILD, WIDE, channel};
use on_target::thermometers::{K_FIXED, PLATINUM_IN_C};

/// A header with a table of the sweep's channels, and the kernels that are counted.
pub fn text() -> Result<String, String> {
    let mut text = c_header::head("sweep kernels");
    let mut rows = String::new();
    for (name, channel) in CHANNELS {
        let named = format!("sweep {name}");
        let identifier = c_header::identifier(&named);
        text += &one("gw_large_kernel", &named, &channel, &channel.fixed(), gw_large_kernel::of)?;
        rows += &format!("    {{\"{name}\", &kernel_{identifier}, &kernel_{identifier}_seal}},\n");
    }
    let wide = channel(&WIDE);
    text += &one("gw_kernel", "counted wide", &wide, &wide.fixed(), gw_kernel::of)?;
    let (single, bound) = (gw_float_kernel::of(wide.float32()), wide.float32::<4, 1, 0>().error_bound());
    text += &c_header::float_kernel("gw_float_kernel", "counted wide", &single, &bound, Nanostrain(0.0));
    let mild = channel(&MILD);
    text += &one("gw_kernel", "counted mild", &mild, &mild.fixed(), gw_kernel::of)?;
    text += &one("gw_kernel", "counted linear", &LINEAR, &LINEAR.fixed(), gw_kernel::of)?;
    text += &one("gw_large_kernel", "counted wide large", &wide, &wide.fixed(), gw_large_kernel::of)?;
    text += &pairs()?;
    text += &format!(
        "\nenum {{ CHANNELS = {} }};\n\nstatic const struct channel {{\n    const char *name;\n    \
         const gw_large_kernel *kernel;\n    const gw_seal *seal;\n}} channels[CHANNELS] = {{\n{rows}}};\n",
        CHANNELS.len()
    );
    text += &others()?;
    text += &on_site()?;
    Ok(text + c_header::END)
}

/// Kernels of two temperatures in both sizes, and the larger ones in single precision.
fn pairs() -> Result<String, String> {
    let told = |error: gaugewright::Error| format!("counted pair: {error}");
    let (usual, large): (fixed::CompensatedKernel, fixed::CompensatedKernel<5, 3, 1>) =
        (COMPENSATED.fixed(), PRODUCT_COMPENSATED.try_fixed().map_err(told)?);
    let (float_usual, float_large): (float::CompensatedKernel<f32>, float::CompensatedKernel<f32, 5, 3, 1>) =
        (COMPENSATED.float32(), PRODUCT_COMPENSATED.try_float32().map_err(told)?);
    let any: float::Kernel<f32, 5, 3, 1> = PRODUCT.try_float32().map_err(told)?;
    let words = gw_compensated_kernel::of(usual);
    let mut text = c_header::kernel(
        "gw_compensated_kernel",
        "counted pair",
        &words,
        &Facts::two(&COMPENSATED, &usual).map_err(told)?,
    );
    let words = gw_large_compensated_kernel::of(large);
    let facts = Facts::two(&PRODUCT_COMPENSATED, &large).map_err(told)?;
    text += &c_header::kernel("gw_large_compensated_kernel", "counted large pair", &words, &facts);
    let none = Nanostrain(0.0);
    let words = gw_float_compensated_kernel::of(float_usual);
    let bound = float_usual.error_bound();
    text += &c_header::float_kernel("gw_float_compensated_kernel", "counted pair", &words, &bound, none);
    let words = gw_large_float_compensated_kernel::of(float_large);
    let bound = float_large.error_bound();
    text += &c_header::float_kernel(
        "gw_large_float_compensated_kernel",
        "counted large pair",
        &words,
        &bound,
        none,
    );
    let words = gw_large_float_kernel::of(any);
    text += &c_header::float_kernel("gw_large_float_kernel", "counted any", &words, &any.error_bound(), none);
    let any = PRODUCT.try_fixed().map_err(told)?;
    Ok(text + &one("gw_large_kernel", "counted any", &PRODUCT, &any, gw_large_kernel::of)?)
}

/// Thermometers, and what is counted of an uncertainty and a rosette.
fn others() -> Result<String, String> {
    let uncertainty = commissioning::inputs(CHANNELS[0].1).try_float32();
    let uncertainty = uncertainty.map_err(|error| format!("uncertainty: {error}"))?;
    let constants = [
        c_header::constants(
            "gw_resistance_thermometer",
            "thermometer",
            "platinum",
            &gw_resistance_thermometer::of(PLATINUM_IN_C),
        ),
        c_header::constants("gw_thermocouple", "thermometer", "thermocouple", &gw_thermocouple::of(K_FIXED)),
        c_header::constants("gw_uncertainty", "uncertainty", "counted", &gw_uncertainty::of(uncertainty)),
        c_header::constants("gw_rosette", "rosette", "counted", &gw_rosette::of(ROSETTE_FIXED)),
    ];
    Ok(constants.concat())
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
            hash = hash.bytes(&gw_seal::of(gw_kernel::of(kernel).bytes()).checksum.to_le_bytes());
            last = Some((kernel, zero, span));
        }
    }
    let (kernel, zero, span) = last.ok_or("no zeros")?;
    let mut identity = Identity::new(Name::new("counted"), Date::new(2026, 3, 14), 0x0123_4567_89ab_cdef);
    (identity.zero, identity.span) = (Some(zero), span);
    let mut bytes = [0; Record::<fixed::Kernel>::BYTES];
    let written = Record::new(kernel, identity).write(&mut bytes).map_err(|error| error.to_string())?.len();
    hash = hash.bytes(&bytes[..written]);
    Ok(c_header::adjustable("counted", ADJUSTABLE, (BALANCES, SPANS), Nanostrain(0.0))
        + &format!(
            "enum {{ ZEROS = {ZEROS}, BALANCE_HIGH = {} }};\nstatic const uint32_t spans[] = {{{}u, {}u, {}u}};\n\
             static const uint64_t on_site_hash = 0x{:016x}ull;\n",
            BALANCES.1,
            SPANS.0.to_bits(),
            Span::ONE.to_bits(),
            SPANS.1.to_bits(),
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

fn one<T: LayoutCompatible, const D: usize, const F: usize, const P: usize>(
    structure: &str,
    name: &str,
    channel: &Channel,
    kernel: &fixed::Kernel<D, F, P>,
    words: impl Fn(fixed::Kernel<D, F, P>) -> T,
) -> Result<String, String> {
    let facts = Facts::one(channel, kernel).map_err(|error| format!("{name}: {error}"))?;
    Ok(c_header::channel(name, "") + &c_header::kernel(structure, name, &words(*kernel), &facts))
}
