//! A measuring channel: gauge, circuit, converter, balance and specimen, checked as a whole.
//!
//! A channel that is entered or balanced on the target is compiled by the `try_` forms. `Kernel<5, 3>` has room for every
//! channel, so it is the type for a table of different ones. It links double-precision arithmetic.
//!
//! ```
//! use gaugewright::fixed::{Kernel, Temperature};
//! use gaugewright::units::*;
//! use gaugewright::{Bridge, Channel, Converter, Error, Gauge, ThermalOutput};
//!
//! fn entered(factor: f64, curve: &[f64], code_at_rest: f64, celsius: f64) -> Result<Kernel<5, 3>, Error> {
//!     let curve = ThermalOutput::celsius_from(curve).between(Celsius(-200.0), Celsius(300.0));
//!     let gauge = Gauge::new(GaugeFactor(factor)).thermal_output(curve);
//!     let bridge = Bridge::half_bending(Ohms(350.0), Ohms(0.8));
//!     Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 128.0)))
//!         .balanced(code_at_rest, Celsius(celsius))
//!         .strain_within(Microstrain(2_000.0))
//!         .try_fixed()
//! }
//!
//! let table: [Kernel<5, 3>; 1] = [entered(2.065, &[-28.6049, 2.33962, -0.0533683], 1_200.5, 21.0).unwrap()];
//! assert!(table[0].reading(0, Temperature::from_bits(35 << 20)).flags.is_clear());
//! let error = entered(0.0, &[0.0], 0.0, 21.0).unwrap_err();
//! assert_eq!(error.to_string(), "gauge factor is 0, allowed: 0.1 to 500");
//! ```

mod bridge;
pub(crate) mod check;
mod compensating;
mod derived;
#[cfg(feature = "record")]
mod description;
mod factor_basis;
mod gauge;
mod strain_field;

pub use bridge::{Arm, Bridge, Circuit};
pub(crate) use bridge::{AtRest, BridgeMap, LARGEST_SIGNAL, MapOfBalance, Wire, Wiring};
pub use check::CurveOffset;
pub use compensating::{CompensatedChannel, CompensatingGauge};
pub use factor_basis::{ForcedStrain, GaugeFactorBasis};
pub use gauge::{Gauge, ThermalOutput};
pub(crate) use strain_field::StrainRatio;

use crate::sample::{Converter, Instrument};
use crate::units::{Celsius, ExpansionPerCelsius, GaugeFactor, Microstrain};

/// How much of the correction a channel makes.
///
/// ```
/// use gaugewright::Correction;
/// assert_ne!(Correction::None, Correction::Full);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Correction {
    /// None: the kernel gives *indicated* strain at the instrument gauge factor.
    None,
    /// Thermal output is subtracted, the gauge factor stays the instrument's.
    ThermalOutput,
    /// Thermal output is subtracted, then the gauge factor brought to the temperature of the gauge:
    /// *mechanical* strain.
    Full,
}

/// The gauge factor with which the expansion of a specimen that the gauge is not matched to enters its
/// thermal output.
///
/// The differential expansion strains the foil, so what it does to the resistance goes with the factor
/// of the gauge at that temperature: that is the default. The other two are simplifications met in
/// practice, for comparison with figures made that way; at 100 degrees from the reference they differ
/// from it by about one percent of the rotation.
///
/// ```
/// use gaugewright::channel::MismatchScale;
/// assert_eq!(MismatchScale::default(), MismatchScale::GaugeFactorAtTemperature);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum MismatchScale {
    /// The gauge's factor at its temperature.
    #[default]
    GaugeFactorAtTemperature,
    /// The gauge's factor at the reference temperature.
    GaugeFactorAtReference,
    /// The gauge factor that the thermal output is stated for: plain addition to the package curve.
    StatedGaugeFactor,
}

/// A gauge as it is bonded: what thermal output is computed from.
#[derive(Clone, Copy)]
pub(crate) struct Bonded {
    pub gauge: Gauge,
    /// Expansion of the specimen less that of the matched material, 1/C.
    pub mismatch: f64,
    /// Temperature at balance, if there is one to refer to.
    pub balance: Option<f64>,
    /// Declared range.
    pub temperatures: (Celsius, Celsius),
}

/// What gives the codes.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) enum Source {
    Codes(Bridge, Converter),
    Readings(Instrument),
}

/// Code and temperature at which the channel was set to zero.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct Balance {
    pub code: f64,
    pub temperature: f64,
}

/// One measuring channel, described by its parts.
///
/// A `Channel` is a plain value, and what builds, checks and compiles it is `const`: in firmware it is a constant, compiled to a
/// kernel when the firmware is, and one that is wrong stops the build. The same methods run on the target
/// when an operator enters a gauge or balances a bridge; there the `try_` forms return a typed [`Error`](crate::Error).
/// Nothing is checked while it is put together; [`check`](Self::check) and every compilation to a kernel
/// check all of it.
///
/// ```
/// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
///
/// const STRUT: Channel = Channel::new(
///     Gauge::new(GaugeFactor(2.065))
///         .gauge_factor_slope(PercentPer100C(1.07))
///         .thermal_output(
///             ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
///                 .stated_for(GaugeFactor(2.0))
///                 .between(Celsius(-80.0), Celsius(120.0)),
///         ),
///     Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
///     Converter::bipolar(24, Ratio(1.0 / 128.0)),
/// )
/// .strain_within(Microstrain(5_000.0));
///
/// static KERNEL: fixed::Kernel = STRUT.fixed_within(Nanostrain(0.5));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Channel {
    pub(crate) gauge: Gauge,
    pub(crate) source: Source,
    pub(crate) specimen: Option<ExpansionPerCelsius>,
    pub(crate) mismatch: MismatchScale,
    pub(crate) balance: Option<Balance>,
    pub(crate) instrument_factor: f64,
    pub(crate) span: f64,
    pub(crate) strain_limit: Option<Microstrain>,
    pub(crate) temperatures: Option<(Celsius, Celsius)>,
    pub(crate) correction: Correction,
    pub(crate) strain_ratio: StrainRatio,
}

impl Channel {
    /// A gauge in a bridge read by a converter: its samples are codes.
    ///
    /// By default the bridge is balanced at code 0 with the package curve taken as it stands,
    /// the specimen is what the gauge is matched to, strain is whatever the converter covers,
    /// temperature is the fitted range, and the correction is full.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, units::*};
    /// let channel = Channel::new(
    ///     Gauge::new(GaugeFactor(2.1)),
    ///     Bridge::quarter_ideal(Ohms(120.0)),
    ///     Converter::bipolar(16, Ratio(0.01)),
    /// ).temperature_within(Celsius(0.0), Celsius(50.0));
    /// // No thermal output was given, so no temperature range either, and that is an error:
    /// assert!(channel.check().is_err());
    /// ```
    #[must_use]
    pub const fn new(gauge: Gauge, bridge: Bridge, converter: Converter) -> Self {
        let instrument_factor = match converter.instrument_factor {
            Some(factor) => factor,
            None => gauge.factor,
        };
        Self::with(gauge, Source::Codes(bridge, converter), instrument_factor)
    }

    /// A gauge behind an instrument that shows strain: its samples are the instrument's readings, in
    /// counts, taken at the instrument's own gauge factor.
    ///
    /// ```
    /// use gaugewright::{Channel, Gauge, Instrument, units::*};
    /// let channel = Channel::from_readings(
    ///     Gauge::new(GaugeFactor(2.065)),
    ///     Instrument::showing(Microstrain(0.1), GaugeFactor(2.0)),
    /// )
    /// .strain_within(Microstrain(3_000.0));
    /// ```
    #[must_use]
    pub const fn from_readings(gauge: Gauge, instrument: Instrument) -> Self {
        Self::with(gauge, Source::Readings(instrument), instrument.factor)
    }

    const fn with(gauge: Gauge, source: Source, instrument_factor: f64) -> Self {
        Self {
            gauge,
            source,
            specimen: None,
            mismatch: MismatchScale::GaugeFactorAtTemperature,
            balance: None,
            instrument_factor,
            span: 1.0,
            strain_limit: None,
            temperatures: None,
            correction: Correction::Full,
            strain_ratio: StrainRatio::NotStated,
        }
    }

    /// The gauge is bonded to a material of this expansion instead of the one its thermal output was
    /// measured on ([`Gauge::matched_to`]): the curve turns about the reference temperature, clockwise
    /// for a specimen that expands less, counter-clockwise for one that expands more.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, example, reference::Model, units::*};
    /// let gauge = example::FLAT_GAUGE.matched_to(ExpansionPerCelsius::ppm(11.0));
    /// let channel = Channel::new(gauge, Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)))
    ///     .specimen(ExpansionPerCelsius::ppm(10.1));
    /// // Ten degrees above the reference temperature, at -0.9 microstrain each.
    /// assert!((Model::new(&channel)?.thermal_output(Celsius(34.0)).microstrain().0 + 9.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn specimen(mut self, expansion: ExpansionPerCelsius) -> Self {
        self.specimen = Some(expansion);
        self
    }

    /// The gauge factor with which a specimen's own expansion enters.
    ///
    /// ```
    /// use gaugewright::channel::MismatchScale;
    /// # let channel = gaugewright::example::FLAT;
    /// let channel = channel.mismatch_scale(MismatchScale::StatedGaugeFactor);
    /// ```
    #[must_use]
    pub const fn mismatch_scale(mut self, scale: MismatchScale) -> Self {
        self.mismatch = scale;
        self
    }

    /// The mean code (or reading) and the temperature at which the unloaded channel was set to zero. A
    /// mean of many codes need not be whole: its fraction counts.
    ///
    /// ```
    /// use gaugewright::{example::FLAT, reference::Model, units::*};
    /// let model = Model::new(&FLAT.balanced(-1_234.5, Celsius(18.5)))?;
    /// assert!((model.code_for(Strain(0.0), Celsius(18.5)) + 1_234.5).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn balanced(mut self, code: f64, temperature: Celsius) -> Self {
        self.balance = Some(Balance { code, temperature: temperature.0 });
        self
    }

    /// The gauge factor that *indicated* strain is expressed with. Mechanical strain from codes does not
    /// depend on it; what it scales is [`Correction::None`] and [`Correction::ThermalOutput`], and the
    /// readings of an instrument. By default the instrument's own setting where there is one, else the package's factor.
    ///
    /// ```
    /// use gaugewright::{Correction, example::FLAT, fixed::Temperature, reference::Model, units::*};
    /// let indicated = FLAT.correction(Correction::None); // with the gauge's factor of 2.0
    /// let halved = indicated.instrument_gauge_factor(GaugeFactor(4.0));
    /// let (code, temperature) = (1_000, Temperature::from_bits(24 << 20));
    /// let strain = Model::new(&indicated)?.strain(code, temperature).0;
    /// assert!((Model::new(&halved)?.strain(code, temperature).0 - strain / 2.0).abs() < 1e-15);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn instrument_gauge_factor(mut self, gauge_factor: GaugeFactor) -> Self {
        self.instrument_factor = gauge_factor.0;
        self
    }

    /// Every change of code stands for this much more ratio than the converter's data say: what a shunt
    /// calibration found ([`Shunt::span`](crate::installation::Shunt::span)).
    ///
    /// ```
    /// use gaugewright::{example::FLAT, fixed::Temperature, reference::Model};
    /// let (code, temperature) = (1_000, Temperature::from_bits(24 << 20));
    /// let strain = Model::new(&FLAT)?.strain(code, temperature).0;
    /// let corrected = Model::new(&FLAT.span_correction(1.0023))?.strain(code, temperature).0;
    /// assert!((corrected / strain - 1.0023).abs() < 1e-5); // but for the bridge's non-linearity
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn span_correction(mut self, span: f64) -> Self {
        self.span = span;
        self
    }

    /// The strain that the channel is declared for, either way: readings beyond are flagged. A narrower
    /// range gives a smaller error bound; without one it is everything that the converter covers. The
    /// readings of an instrument have no such end: kernels for them need a range.
    ///
    /// ```
    /// use gaugewright::{example::FLAT, fixed::{Kernel, Temperature}, units::*};
    /// let kernel: Kernel = FLAT.strain_within(Microstrain(3_000.0)).fixed();
    /// let flags = |code| kernel.reading(code, Temperature::from_bits(24 << 20)).flags;
    /// assert!(flags(4_000).is_clear() && !flags(6_000).is_clear()); // about 2440 and 3660 microstrain
    /// ```
    #[must_use]
    pub const fn strain_within(mut self, limit: Microstrain) -> Self {
        self.strain_limit = Some(limit);
        self
    }

    /// The temperatures that the channel is declared for, inside the fitted range: readings beyond are
    /// flagged. Without them it is the whole fitted range. A circuit in which thermal output cancels needs no
    /// curve, but then it needs this range.
    ///
    /// ```
    /// use gaugewright::{example::FLAT, fixed::{Kernel, Temperature}, units::*};
    /// let kernel: Kernel = FLAT.temperature_within(Celsius(0.0), Celsius(50.0)).fixed();
    /// assert!(!kernel.reading(0, Temperature::from_bits(60 << 20)).flags.is_clear());
    /// // Its thermal output is known from -50 to 90 C.
    /// assert!(FLAT.temperature_within(Celsius(-80.0), Celsius(100.0)).check().is_err());
    /// ```
    #[must_use]
    pub const fn temperature_within(mut self, low: Celsius, high: Celsius) -> Self {
        self.temperatures = Some((low, high));
        self
    }

    /// How much of the correction is made; all of it by default.
    ///
    /// ```
    /// use gaugewright::{Correction, example::CHANNEL, fixed::Temperature, reference::Model};
    /// let warm = Temperature::from_bits(34 << 20);
    /// assert_eq!(Model::new(&CHANNEL.correction(Correction::None))?.strain(0, warm).0, 0.0);
    /// // 10 microstrain for a gauge factor of 2.0, and the gauge's is 2.1.
    /// assert!((Model::new(&CHANNEL)?.strain(0, warm).0 + 10e-6 * 2.0 / 2.1).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn correction(mut self, correction: Correction) -> Self {
        self.correction = correction;
        self
    }

    /// The compensating gauge of a [`Bridge::half_compensated`] has a temperature of its own, so the two thermal outputs
    /// differ and both count: the last step of the description, as what follows is a [`CompensatedChannel`]. Without
    /// this, both gauges have one temperature and thermal output cancels.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, CompensatedChannel, CompensatingGauge, Converter, fixed, units::*};
    /// # const GAUGE: gaugewright::Gauge = gaugewright::example::GAUGE;
    /// const CHANNEL: CompensatedChannel = Channel::new(
    ///     GAUGE,
    ///     Bridge::half_compensated(Ohms(350.0), Ohms(1.2)),
    ///     Converter::bipolar(24, Ratio(1.0 / 128.0)),
    /// )
    /// .balanced(0.0, Celsius(20.0))
    /// .compensated_by(CompensatingGauge::new(GAUGE).balanced_at(Celsius(21.0)));
    ///
    /// static KERNEL: fixed::CompensatedKernel = CHANNEL.fixed();
    /// ```
    #[must_use]
    pub const fn compensated_by(self, compensating: CompensatingGauge) -> CompensatedChannel {
        CompensatedChannel { channel: self, compensating }
    }
}
