//! The constants of a device, and those of a temperature.

use super::circuit::{self, CIRCUIT};
use super::fixed::FixedUncertaintyPoint;
use super::input::Input;
use super::inputs::StandardUncertainties;
use super::product::Product;
use super::rows::{Triangle, add};
use crate::channel::{Bonded, Correction, MismatchScale};
use crate::error::{Error, Field, Quantity, fits};
use crate::kernel::model::{ChannelModel, expansion_of, output_of};
use crate::numeric::{Float, Polynomial, value_and_slope};
use crate::units::Celsius;

/// Everything that uncertainty needs at any temperature, as polynomials: what a device keeps. `UncertaintyKernel<f32, 1>` is that of a
/// gauge factor that refers to another resistance than that at balance
/// ([`GaugeFactorBasis`](crate::channel::GaugeFactorBasis)).
///
/// ```
/// use gaugewright::{uncertainty::StandardUncertainties, units::*};
/// # let channel = gaugewright::example::CHANNEL;
/// let kernel = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(1.0)).of_temperature(Celsius(0.5)).try_float32::<0>()?;
/// let point = kernel.at(Celsius(20.0))?;
/// // 1 % of the strain, and half a degree of a curve that rises by one a degree for a gauge factor of 2.
/// assert!((point.standard(100e-6) * 1e6 - 1.0f32.hypot(0.5 * 2.0 / 2.1)).abs() < 1e-3);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct UncertaintyKernel<T, const PRODUCT: usize = 0> {
    /// Of temperatures, degrees Celsius. Every field is of numbers alone, so that C can have the same bytes.
    pub(super) range: [T; 2],
    /// Signal of thermal output, gauge factor, signal of a unit of expansion: against degrees Celsius.
    pub(super) thermal: [T; 6],
    pub(super) factor: [T; 4],
    pub(super) expansion: [T; 5],
    /// The two signals, for a unit of the gauge factor's slope: through the factor, and through the specimen's expansion.
    pub(super) factor_slope: [T; 2],
    pub(super) expansion_slope: [T; 3],
    /// Signal of the specimen's expansion that goes with the gauge factor, for a unit of expansion.
    pub(super) mismatch: T,
    /// One where the gauge factor is corrected for, else zero.
    pub(super) corrected: T,
    /// Slope of the thermal signal at balance.
    pub(super) balance_slope: T,
    pub(super) since: T,
    pub(super) stated: T,
    /// In the order of [`OTHERS`].
    pub(super) uncertain: [T; OTHERS.len()],
    /// Of the circuit, in the signal.
    pub(super) circuit: Triangle<T>,
    /// `Product::NONE` where the channel has none.
    pub(super) product: [Product<T>; PRODUCT],
}

/// The inputs whose effect is `a + b e` of the strain, with constants of the temperature. The first few have a `b`, twice as many with
/// the product, and the circuit is the last.
pub(super) const OTHERS: [Input; 10] = [
    Input::GaugeFactor,
    Input::GaugeFactorSlope,
    Input::Temperature,
    Input::Thermometer,
    Input::BalanceTemperature,
    Input::ThermalOutput,
    Input::ThermalOutputSlope,
    Input::Expansion,
    Input::Kernel,
    Input::Circuit,
];
const WITH_STRAIN: usize = 4;

/// What a temperature makes of the constants.
pub(super) struct At<T> {
    /// Signal of thermal output, with its slope.
    pub thermal: [T; 2],
    /// Signal for a strain of one.
    pub factor: T,
    /// `a + b e`, in the order of [`OTHERS`].
    pub others: [[T; 2]; OTHERS.len()],
}

impl<const PRODUCT: usize> UncertaintyKernel<f64, PRODUCT> {
    /// With the rows of the circuit, in the order of [`CIRCUIT`](super::circuit::CIRCUIT).
    pub(super) fn of(inputs: &StandardUncertainties) -> Result<(Self, [[f64; 3]; CIRCUIT.len()]), Error> {
        inputs.check()?;
        let channel = &inputs.channel;
        let model = ChannelModel::of(channel)?;
        let has_product = channel.gauge.has_product() && matches!(channel.correction, Correction::Full);
        fits(Quantity::ProductConstants, f64::from(u8::from(has_product)), PRODUCT as f64)?;
        let (thermal, corrects) = (model.subtracted(), model.corrects());
        let (gauge, balance) = (&channel.gauge, model.measuring.balance);
        // The product has what is at balance apart.
        let since_balance = if has_product { None } else { balance };
        let expansion = if corrects {
            expansion_of(&Bonded { balance: since_balance, ..model.measuring }, channel.mismatch)
        } else {
            Polynomial::ZERO
        };
        let at_balance = match balance {
            Some(then) if corrects => 1.0 + output_of(&model.measuring, channel.mismatch).at(then),
            _ => 1.0,
        };
        let corrected = matches!(channel.correction, Correction::Full);
        let from_reference = |temperature: f64| temperature - gauge.reference;
        let with_factor = corrects && !matches!(channel.mismatch, MismatchScale::StatedGaugeFactor);
        let with_slope = corrects && matches!(channel.mismatch, MismatchScale::GaugeFactorAtTemperature);
        let forced = if with_slope {
            model.measuring.mismatch * gauge.factor * gauge.equibiaxial_gain() * 1e-4
        } else {
            0.0
        };
        let square = Polynomial::new([-gauge.reference, 1.0]);
        let square = square.multiplied(&square).plus(&Polynomial::constant(
            since_balance.map_or(0.0, |then| -from_reference(then) * from_reference(then)),
        ));
        let slope = if corrected { gauge.factor * 1e-4 } else { 0.0 };
        let rows = circuit::rows(inputs, &model)?;
        let mut reduced = [0.0; 6];
        for row in rows {
            add(&mut reduced, row);
        }
        let mut uncertain = OTHERS.map(|input| inputs.standard(input));
        uncertain[OTHERS.len() - 1] = inputs.standard_of_circuit()?;
        let (low, high) = channel.temperatures();
        let kernel = Self {
            range: [low.0, high.0],
            thermal: thermal.coefficients(),
            factor: first(&if has_product { gauge.factor_polynomial() } else { model.divisor() }),
            expansion: first(&expansion),
            factor_slope: [-slope * gauge.reference, slope],
            expansion_slope: first(&square.times(forced)),
            mismatch: if with_factor { model.measuring.mismatch } else { 0.0 },
            corrected: if corrected { 1.0 } else { 0.0 },
            balance_slope: balance.map_or(0.0, |then| thermal.slope_at(then)),
            since: balance.unwrap_or(gauge.reference),
            stated: if corrects { gauge.thermal_output.stated_for * 1e-6 } else { 0.0 },
            uncertain,
            circuit: reduced,
            product: [if has_product { Product::of(gauge, at_balance) } else { Product::NONE }; PRODUCT],
        };
        Ok((kernel, rows))
    }

    pub(super) fn single(&self) -> UncertaintyKernel<f32, PRODUCT> {
        UncertaintyKernel {
            range: self.range.map(f32::of),
            thermal: self.thermal.map(f32::of),
            factor: self.factor.map(f32::of),
            expansion: self.expansion.map(f32::of),
            factor_slope: self.factor_slope.map(f32::of),
            expansion_slope: self.expansion_slope.map(f32::of),
            mismatch: f32::of(self.mismatch),
            corrected: f32::of(self.corrected),
            balance_slope: f32::of(self.balance_slope),
            since: f32::of(self.since),
            stated: f32::of(self.stated),
            uncertain: self.uncertain.map(f32::of),
            circuit: self.circuit.map(f32::of),
            product: self.product.map(|product| product.single()),
        }
    }
}

impl<T: Float, const PRODUCT: usize> UncertaintyKernel<T, PRODUCT> {
    /// In the kernel's own precision, in which the ends of the range are rounded as the temperature is: both are in it.
    pub(super) fn check(&self, temperature: Celsius) -> Result<(), Error> {
        let (value, [low, high]) = (T::of(temperature.0), self.range);
        if value >= low && value <= high {
            return Ok(());
        }
        Err(Error::Invalid {
            field: Field::Temperature,
            value: temperature.0,
            low: low.wide(),
            high: high.wide(),
        })
    }

    /// The constants of a temperature.
    ///
    /// # Errors
    /// [`Error::Invalid`] for a temperature out of the channel's range. In `f32` it is compared as what it is rounded to.
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let kernel = StandardUncertainties::for_channel(channel).try_float64::<0>()?;
    /// assert!(kernel.at(Celsius(90.0)).is_ok() && kernel.at(Celsius(90.1)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn at(&self, temperature: Celsius) -> Result<UncertaintyPoint<T>, Error> {
        self.check(temperature)?;
        let at = self.constants(T::of(temperature.0));
        let [th, _] = at.thermal;
        let f = at.factor;
        let per = T::ONE / f;
        let mut rows = [T::ZERO; 6];
        // `y = F e + TO` put into the rows of the circuit.
        let [p, q, r, s, t, u] = self.circuit.map(|element| element * per);
        for [a, b, c] in [[p, q, r], [T::ZERO, s, t], [T::ZERO, T::ZERO, u]] {
            add(&mut rows, [a + th * (b + th * c), f * (b + (c + c) * th), f * f * c]);
        }
        let with_strain = if PRODUCT == 0 { WITH_STRAIN } else { 2 * WITH_STRAIN };
        for [a, b] in &at.others[..with_strain] {
            add(&mut rows, [*a, *b, T::ZERO]);
        }
        let constant = at.others[with_strain..].iter().fold(T::ZERO, |sum, [a, _]| sum + *a * *a);
        add(&mut rows, [constant.root(), T::ZERO, T::ZERO]);
        Ok(UncertaintyPoint { rows })
    }

    pub(super) fn constants(&self, t: T) -> At<T> {
        let mut at = match self.product.as_slice() {
            [product, ..] if product.is_there() => product.at(self, t),
            _ => self.at_balance(t),
        };
        for (row, uncertain) in at.others.iter_mut().zip(self.uncertain) {
            *row = [row[0] * uncertain, row[1] * uncertain];
        }
        at
    }

    /// The effects of a gauge factor that refers to the resistance at balance.
    #[inline(always)]
    fn at_balance(&self, t: T) -> At<T> {
        let (thermal, factor) = (value_and_slope(&self.thermal, t), value_and_slope(&self.factor, t));
        let [expansion, _] = value_and_slope(&self.expansion, t);
        let [factor_slope, _] = value_and_slope(&self.factor_slope, t);
        let [expansion_slope, _] = value_and_slope(&self.expansion_slope, t);
        let per = T::ZERO - T::ONE / factor[0];
        let others = [
            [per * self.mismatch * expansion, per * self.corrected * factor[0]],
            [per * expansion_slope, per * factor_slope],
            [per * thermal[1], per * factor[1]],
            [per * (thermal[1] - self.balance_slope), per * factor[1]],
            [T::ZERO - per * self.balance_slope, T::ZERO],
            [per * self.stated, T::ZERO],
            [per * self.stated * (t - self.since), T::ZERO],
            [per * expansion, T::ZERO],
            [T::ONE, T::ZERO],
            [T::ONE, T::ZERO],
        ];
        At { thermal, factor: factor[0], others }
    }
}

/// The coefficients that a polynomial of lower degree has.
fn first<const N: usize>(polynomial: &Polynomial) -> [f64; N] {
    let coefficients = polynomial.coefficients();
    core::array::from_fn(|k| coefficients[k])
}

/// The uncertainty at a temperature: three rows `a + b e + c e^2` whose squares add up.
///
/// ```
/// use gaugewright::{uncertainty::{StandardUncertainties, UncertaintyPoint}, units::*};
/// # let channel = gaugewright::example::FLAT_FINEST;
/// let point: UncertaintyPoint<f32> = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(1.0)).try_float32::<0>()?.at(Celsius(20.0))?;
/// assert!((point.standard(-500e-6) - 5e-6).abs() < 1e-11);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct UncertaintyPoint<T> {
    pub(super) rows: Triangle<T>,
}

impl<T: Float> UncertaintyPoint<T> {
    /// Combined standard uncertainty of a strain, both plain ratios: three squares and a root.
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let point = StandardUncertainties::for_channel(channel).of_thermal_output(Microstrain(3.0)).try_float64::<0>()?.at(Celsius(20.0))?;
    /// assert!((point.standard(700e-6) - 3e-6).abs() < 1e-12);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    #[inline]
    pub fn standard(&self, strain: T) -> T {
        let [p, q, r, s, t, u] = self.rows;
        let first = p + strain * (q + strain * r);
        let second = strain * (s + strain * t);
        let third = strain * strain * u;
        (first * first + second * second + third * third).root()
    }

    /// The same with integers only, never below.
    ///
    /// # Errors
    /// [`Error::Overflow`] where an uncertainty could exceed 125 000 microstrain, or by the square of a strain alone 3906.
    ///
    /// ```
    /// use gaugewright::{fixed, uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let point = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(1.0)).try_float32::<0>()?.at(Celsius(20.0))?.try_fixed()?;
    /// assert!((10_000..=10_010).contains(&point.standard(fixed::Strain::from_bits(1_000_000)).to_bits()));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn try_fixed(&self) -> Result<FixedUncertaintyPoint, Error> {
        FixedUncertaintyPoint::of(self.rows.map(T::wide), T::STEP)
    }
}
