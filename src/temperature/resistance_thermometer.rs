//! A platinum resistor or a thermistor behind a converter: from a description to a kernel.

use super::curve::{Bound, Curve, CurveConstants, Fit};
use super::forms::forms;
use super::reading::{Reading, ThermometerFlags};
use super::source::{Circuit, Element, Source};
use super::{Platinum, SensorLeads, Thermistor};
use crate::error::{Error, Field, TEMPERATURES, ordered, try_const, within};
use crate::sample::{Converter, Temperature};
use crate::units::{Celsius, Ohms, Ratio};

/// A resistance thermometer and what turns its resistance into codes.
///
/// ```
/// use gaugewright::temperature::{Platinum, ResistanceKernel, ResistanceThermometer, SensorLeads};
/// use gaugewright::{units::*, Converter};
///
/// // One current through a Pt100 and a resistor of 4096 ohm; full scale of the converter is a sixteenth of the
/// // resistor's voltage, so 256 ohm.
/// const STRUT: ResistanceThermometer = ResistanceThermometer::platinum(
///     Platinum::iec60751(Ohms(100.0)),
///     Converter::bipolar(24, Ratio(1.0 / 16.0)),
///     Ohms(4096.0),
/// )
/// .leads(SensorLeads::FourWire)
/// .between(Celsius(-200.0), Celsius(300.0));
///
/// // Integers only. Does not compile if it could be further than a thousandth of a degree from IEC 60751.
/// static KERNEL: ResistanceKernel<i32, 8> = STRUT.fixed_within(Celsius(0.001));
///
/// let reading = KERNEL.reading(3_276_800); // 100 ohm
/// assert!(reading.flags.is_clear());
/// assert!(reading.temperature.celsius().0.abs() < 0.001);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ResistanceThermometer {
    element: Element,
    converter: Converter,
    reference: Ohms,
    divider: bool,
    leads: SensorLeads,
    low: Celsius,
    high: Celsius,
}

/// A thermometer's constants: from a code to a temperature by pieces of degree four.
///
/// `T` is `i32`, for integers only, or `f32`. `PIECES` is a power of two from 2 to 256: more are more exact and take 20
/// bytes each. Plain data, as all kernels; made by [`ResistanceThermometer::fixed`] and its like.
///
/// **In:** a code. **Out:** temperature in Q20 degrees Celsius (`i32`) or in degrees Celsius (`f32`), and
/// [`ThermometerFlags`]. **Domain:** every `i32`; nothing panics, a code out of range is clamped to the range and flagged.
/// **Error:** [`error_bound`](Self::error_bound). **Cost:** five products, no division.
///
/// ```
/// use gaugewright::{Converter, temperature::*, units::*};
/// # const T: ResistanceThermometer = ResistanceThermometer::platinum(
/// #     Platinum::iec60751(Ohms(100.0)), Converter::bipolar(24, Ratio(1.0 / 8.0)), Ohms(4096.0));
/// static KERNEL: ResistanceKernel<i32, 16> = T.fixed();
/// assert_eq!(core::mem::size_of_val(&KERNEL), 12 + 16 * 20 + 8);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct ResistanceKernel<T, const PIECES: usize> {
    pub(super) curve: Curve<T, PIECES>,
    /// Codes below are those of a short circuit.
    pub(super) shorted: i32,
    pub(super) bits: u8,
    pub(super) bound: Bound,
}

impl ResistanceThermometer {
    /// A platinum resistor, in series with the resistor `reference` whose voltage is the converter's reference: full
    /// scale is a resistance of the converter's full-scale ratio times the reference resistor. Without
    /// [`between`](Self::between): -200 to 850 C.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// let converter = Converter::bipolar(24, Ratio(0.125));
    /// let t = ResistanceThermometer::platinum(Platinum::iec60751(Ohms(1000.0)), converter, Ohms(40_000.0));
    /// assert!(t.try_fixed::<16>().is_ok());
    /// ```
    #[must_use]
    pub const fn platinum(sensor: Platinum, converter: Converter, reference: Ohms) -> Self {
        Self::new(Element::Platinum(sensor), converter, reference, Celsius(-200.0), Celsius(850.0))
    }

    /// A thermistor in series with the reference resistor, as [`platinum`](Self::platinum); without
    /// [`between`](Self::between): -40 to 125 C.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// let sensor = Thermistor::steinhart_hart(1.004e-3, 2.5e-4, 6.1e-8);
    /// let t = ResistanceThermometer::thermistor(sensor, Converter::bipolar(24, Ratio(1.0)), Ohms(500_000.0));
    /// assert!(t.try_fixed::<64>().is_ok());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn thermistor(sensor: Thermistor, converter: Converter, reference: Ohms) -> Self {
        Self::new(Element::Thermistor(sensor), converter, reference, Celsius(-40.0), Celsius(125.0))
    }

    const fn new(
        element: Element,
        converter: Converter,
        reference: Ohms,
        low: Celsius,
        high: Celsius,
    ) -> Self {
        Self { element, converter, reference, divider: false, leads: SensorLeads::FourWire, low, high }
    }

    /// The sensor and the reference resistor are a divider across the converter's reference, and the converter takes the
    /// sensor's share of it: the usual way with thermistors, since no resistance then leads out of range.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// let sensor = Thermistor::steinhart_hart(1.004e-3, 2.5e-4, 6.1e-8);
    /// let t = ResistanceThermometer::thermistor(sensor, Converter::bipolar(16, Ratio(1.0)), Ohms(10_000.0)).in_divider();
    /// let kernel: ResistanceKernel<i32, 32> = t.try_fixed_within(Celsius(0.01))?;
    /// let half = kernel.reading(16_384).temperature.celsius(); // 10 000 ohm
    /// assert!((half.0 - sensor.temperature(Ohms(10_000.0))?.0).abs() < 0.01);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn in_divider(mut self) -> Self {
        self.divider = true;
        self
    }

    /// The leads, of which a reading is freed; without this: four.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// let t = ResistanceThermometer::platinum(
    ///     Platinum::iec60751(Ohms(100.0)), Converter::bipolar(24, Ratio(1.0 / 16.0)), Ohms(4096.0))
    ///     .leads(SensorLeads::TwoWire { there: Ohms(0.5), back: Ohms(0.5) })
    ///     .between(Celsius(-50.0), Celsius(150.0));
    /// let kernel: ResistanceKernel<f32, 4> = t.try_float32()?;
    /// assert!(kernel.reading(3_309_568).temperature.abs() < 0.001); // 101 ohm
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn leads(mut self, leads: SensorLeads) -> Self {
        self.leads = leads;
        self
    }

    /// The range of temperature that is measured: a narrow one needs fewer pieces.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// let t = ResistanceThermometer::platinum(
    ///     Platinum::iec60751(Ohms(100.0)), Converter::bipolar(24, Ratio(1.0 / 16.0)), Ohms(4096.0));
    /// let narrow = t.between(Celsius(0.0), Celsius(100.0));
    /// assert!(narrow.try_fixed::<2>()?.error_bound().0 < 1e-4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn between(mut self, low: Celsius, high: Celsius) -> Self {
        self.low = low;
        self.high = high;
        self
    }

    /// Makes the fit, and gives the code below which the sensor is shorted.
    const fn fit<const PIECES: usize>(&self, fit: &mut Fit<PIECES>) -> Result<i32, Error> {
        try_const!(self.converter.check_at_sensor(32.0));
        try_const!(Field::ReferenceResistor.check(self.reference.0));
        try_const!(within(Field::TemperatureHigh, self.high.0, TEMPERATURES.0, TEMPERATURES.1));
        try_const!(ordered(Field::TemperatureHigh, self.low.0, self.high.0));
        try_const!(within(Field::TemperatureLow, self.low.0, TEMPERATURES.0, self.high.0));
        let leads = try_const!(self.leads.total()).0;
        let one = try_const!(self.element.resistance(self.low)).0;
        let other = try_const!(self.element.resistance(self.high)).0;
        let (low, high) = if one < other { (one, other) } else { (other, one) };
        let circuit = if self.divider {
            Circuit::Divider { resistor: self.reference.0, full: self.converter.code(Ratio(1.0)) }
        } else {
            Circuit::Series { ohms: self.reference.0 * self.converter.ratio(1.0).0 }
        };
        let (first, last) = (circuit.code(low + leads), circuit.code(high + leads));
        let (_, rail) = self.converter.rails();
        try_const!(within(Field::LastCode, last, 0.0, rail as f64 - 1.0));
        let source = Source::Resistance { element: self.element, circuit, leads, low, high };
        // Codes above the lower end and up to the upper one.
        try_const!(fit.make(&source, first as i32 + 1, last as i32));
        // Rounded up, so that no resistance at all is short whatever the converter.
        let half = circuit.code(low * 0.5 + leads);
        let shorted = half as i32 + ((half as i32 as f64) < half) as i32;
        Ok(shorted)
    }

    const fn integers<const PIECES: usize>(&self) -> Result<ResistanceKernel<i32, PIECES>, Error> {
        let mut fit = Fit::<PIECES>::EMPTY;
        let shorted = try_const!(self.fit(&mut fit));
        let (curve, steps) = try_const!(fit.integers());
        Ok(ResistanceKernel { curve, shorted, bits: self.converter.bits as u8, bound: Bound::of(steps) })
    }

    const fn singles<const PIECES: usize>(&self) -> Result<ResistanceKernel<f32, PIECES>, Error> {
        let mut fit = Fit::<PIECES>::EMPTY;
        let shorted = try_const!(self.fit(&mut fit));
        let (curve, steps) = fit.singles(1.0 / Temperature::PER_DEGREE as f64);
        Ok(ResistanceKernel { curve, shorted, bits: self.converter.bits as u8, bound: Bound::of(steps) })
    }
}

forms!(
    ResistanceThermometer,
    ResistanceKernel[PIECES],
    "16",
    "const T: ResistanceThermometer = ResistanceThermometer::platinum(
    Platinum::iec60751(Ohms(100.0)), Converter::bipolar(24, Ratio(1.0 / 8.0)), Ohms(4096.0));",
    "[`Error::Invalid`], [`Error::Reversed`]: a range that the sensor, the leads or the converter's full scale do not allow,
or a number of pieces that is no power of two from 2 to 256."
);

impl<T, const PIECES: usize> ResistanceKernel<T, PIECES> {
    /// The largest error of this kernel against the sensor's function, in degrees, for every code of the range: the
    /// difference between pieces and function (compared at 832 places or 13 in each piece, with a quarter of the difference
    /// as allowance for what lies between) and the rounding of every operation. It does not include the resolution of the
    /// code.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// const T: ResistanceThermometer = ResistanceThermometer::platinum(
    ///     Platinum::iec60751(Ohms(100.0)), Converter::bipolar(24, Ratio(1.0 / 8.0)), Ohms(4096.0));
    /// assert!(T.fixed::<4>().error_bound().0 > T.fixed::<16>().error_bound().0);
    /// assert!(T.fixed::<16>().error_bound().0 < 0.0001);
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> Celsius {
        self.bound.celsius()
    }

    /// The flags of a code out of range.
    #[cold]
    #[inline(never)]
    const fn flags_outside(&self, code: i32) -> ThermometerFlags {
        // Of any bits, as C may give them.
        let rail = i32::MAX.wrapping_shr(32_u32.wrapping_sub(self.bits as u32));
        if code >= rail || code <= !rail {
            ThermometerFlags::OPEN
        } else if code < self.shorted {
            ThermometerFlags::SHORTED
        } else {
            ThermometerFlags::OUTSIDE
        }
    }

    /// The lowest and highest code of the range.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// # let t = ResistanceThermometer::platinum(
    /// #     Platinum::iec60751(Ohms(100.0)), Converter::bipolar(24, Ratio(1.0 / 8.0)), Ohms(4096.0));
    /// let kernel = t.between(Celsius(0.0), Celsius(100.0)).try_fixed::<2>()?;
    /// assert_eq!(kernel.codes(), (1_638_401, 2_269_274)); // 100 to 138.5055 ohm
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn codes(&self) -> (i32, i32) {
        (self.curve.low, self.curve.low.wrapping_add(self.curve.span as i32))
    }
}

impl<const PIECES: usize> ResistanceKernel<i32, PIECES> {
    /// For tests and proofs.
    #[doc(hidden)]
    pub const fn constants(&self) -> CurveConstants<PIECES> {
        self.curve.constants()
    }

    /// Temperature for a code.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// # let t = ResistanceThermometer::platinum(
    /// #     Platinum::iec60751(Ohms(100.0)), Converter::bipolar(24, Ratio(1.0 / 8.0)), Ohms(4096.0));
    /// let kernel = t.try_fixed::<16>()?;
    /// assert_eq!(kernel.reading(8_388_607).flags, ThermometerFlags::OPEN);
    /// assert_eq!(kernel.reading(5_000).flags, ThermometerFlags::SHORTED);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[inline]
    pub const fn reading(&self, code: i32) -> Reading {
        let (from_low, outside) = self.curve.above(code);
        let flags = if outside { self.flags_outside(code) } else { ThermometerFlags::CLEAR };
        Reading { temperature: Temperature::from_bits(self.curve.value(from_low)), flags }
    }

    /// [`reading`](Self::reading) if the code is in range: for callers that have a function of their own for the rest.
    #[cfg(feature = "ffi")]
    #[inline(always)]
    pub(crate) const fn reading_within(&self, code: i32) -> Option<Reading> {
        let (from_low, outside) = self.curve.above(code);
        if outside {
            return None;
        }
        let temperature = Temperature::from_bits(self.curve.value(from_low));
        Some(Reading { temperature, flags: ThermometerFlags::CLEAR })
    }
}

impl<const PIECES: usize> ResistanceKernel<f32, PIECES> {
    /// Temperature for a code, in degrees Celsius. [`Reading::to_fixed`] is what a strain kernel takes, in `f32` too: there is
    /// no double precision on the way.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, float, temperature::*, units::*};
    ///
    /// const CONVERTER: Converter = Converter::bipolar(24, Ratio(1.0 / 64.0));
    /// const T: ResistanceThermometer =
    ///     ResistanceThermometer::platinum(Platinum::iec60751(Ohms(100.0)), CONVERTER, Ohms(16_384.0))
    ///         .between(Celsius(-80.0), Celsius(120.0));
    /// static THERMOMETER: ResistanceKernel<f32, 8> = T.float32_within(Celsius(0.001));
    /// static STRAIN: float::Kernel<f32> = Channel::new(
    ///     Gauge::new(GaugeFactor(2.1)).thermal_output(
    ///         ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-80.0), Celsius(120.0))),
    ///     Bridge::quarter_ideal(Ohms(120.0)),
    ///     CONVERTER,
    /// )
    /// .float32();
    ///
    /// let temperature = THERMOMETER.reading(3_550_000).to_fixed()?;
    /// assert!(temperature.flags.is_clear());
    /// let strain = STRAIN.reading(123_456, temperature.temperature);
    /// assert!(strain.flags.is_clear() && strain.strain > 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[inline]
    pub const fn reading(&self, code: i32) -> Reading<f32> {
        let (from_low, outside) = self.curve.above(code);
        let flags = if outside { self.flags_outside(code) } else { ThermometerFlags::CLEAR };
        Reading { temperature: self.curve.value(from_low), flags }
    }
}
