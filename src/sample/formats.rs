//! The two number formats that kernels work in: temperature and strain as 32-bit integers of fixed
//! binary scale, the same for every channel.

use crate::error::{Error, Field, try_const, within};
use crate::sample::mul;
use crate::units::{self, Celsius};

/// Temperature as an `i32` in Q20 degrees Celsius: steps of 2^-20 C (0.95 microdegrees), range +-2048 C.
///
/// ```
/// use gaugewright::{fixed::Temperature, units::Celsius};
///
/// const ICE: Temperature = Temperature::from_bits(0);
/// // A sensor that counts sixteenths of a degree: shift its 4 fractional bits up to 20.
/// let counts: i16 = -395;
/// let cold = Temperature::from_bits(i32::from(counts) << 16);
/// assert_eq!(cold.celsius(), Celsius(-24.6875));
/// assert!(cold < ICE);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(transparent)]
pub struct Temperature(i32);

impl Temperature {
    /// Steps in one degree Celsius.
    ///
    /// ```
    /// assert_eq!(gaugewright::fixed::Temperature::PER_DEGREE, 1 << 20);
    /// ```
    pub const PER_DEGREE: i32 = 1 << 20;

    /// From the raw format. Every value is a temperature.
    ///
    /// ```
    /// use gaugewright::fixed::Temperature;
    /// assert_eq!(Temperature::from_bits(25 << 20).celsius().0, 25.0);
    /// ```
    #[must_use]
    #[inline]
    pub const fn from_bits(bits: i32) -> Self {
        Self(bits)
    }

    /// The raw format.
    ///
    /// ```
    /// use gaugewright::fixed::Temperature;
    /// assert_eq!(Temperature::from_bits(7).to_bits(), 7);
    /// ```
    #[must_use]
    #[inline]
    pub const fn to_bits(self) -> i32 {
        self.0
    }

    /// From degrees Celsius, rounded to the nearest step (halves away from zero).
    ///
    /// # Errors
    /// [`Error::Invalid`] if the value is not finite or beyond +-2047 C.
    ///
    /// ```
    /// use gaugewright::{fixed::Temperature, units::Celsius};
    /// assert_eq!(Temperature::from_celsius(Celsius(0.5))?.to_bits(), 1 << 19);
    /// assert!(Temperature::from_celsius(Celsius(f64::NAN)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn from_celsius(temperature: Celsius) -> Result<Self, Error> {
        try_const!(within(Field::Temperature, temperature.0, -2047.0, 2047.0));
        Ok(Self(nearest(temperature.0 * Self::PER_DEGREE as f64)))
    }

    /// From degrees Celsius in `f32`, as [`from_celsius`](Self::from_celsius) but without double precision: what an `f32`
    /// thermometer gives, for a kernel.
    ///
    /// # Errors
    /// [`Error::Invalid`] if the value is not finite or beyond +-2047 C.
    ///
    /// ```
    /// use gaugewright::fixed::Temperature;
    /// assert_eq!(Temperature::from_celsius_f32(-40.25)?.to_bits(), -161 << 18);
    /// assert!(Temperature::from_celsius_f32(f32::INFINITY).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn from_celsius_f32(celsius: f32) -> Result<Self, Error> {
        if !(celsius >= -2047.0 && celsius <= 2047.0) {
            return Err(Error::Invalid {
                field: Field::Temperature,
                value: celsius as f64,
                low: -2047.0,
                high: 2047.0,
            });
        }
        let steps = celsius * Self::PER_DEGREE as f32;
        let whole = steps as i32;
        // Exact: to add a half first would round values beyond 2^23 steps.
        let rest = steps - whole as f32;
        Ok(Self(whole + (rest >= 0.5) as i32 - (rest <= -0.5) as i32))
    }

    /// From thousandths of a degree Celsius, rounded down to the step below. Integers only: 64-bit
    /// multiply and divide, for the slow path.
    ///
    /// # Errors
    /// [`Error::Invalid`] beyond +-2047 C.
    ///
    /// ```
    /// use gaugewright::fixed::Temperature;
    /// assert_eq!(Temperature::from_millicelsius(-40_000)?.celsius().0, -40.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn from_millicelsius(thousandths: i32) -> Result<Self, Error> {
        if thousandths < -2_047_000 || thousandths > 2_047_000 {
            return Err(Error::Invalid {
                field: Field::Temperature,
                value: thousandths as f64 / 1000.0,
                low: -2047.0,
                high: 2047.0,
            });
        }
        Ok(Self(((thousandths as i64) << 20).div_euclid(1000) as i32))
    }

    /// In degrees Celsius, exactly.
    ///
    /// ```
    /// use gaugewright::fixed::Temperature;
    /// assert_eq!(Temperature::from_bits(-1).celsius().0, -1.0 / 1_048_576.0);
    /// ```
    #[must_use]
    pub const fn celsius(self) -> Celsius {
        Celsius(self.0 as f64 / Self::PER_DEGREE as f64)
    }
}

/// Strain as an `i32` in Q34: steps of 2^-34 (0.058 nanostrain), range +-125 000 microstrain.
///
/// ```
/// use gaugewright::fixed::Strain;
/// let strain = Strain::from_bits(17_179_869);
/// assert_eq!(strain.nanostrain(), 999_999);
/// assert!((strain.strain().microstrain().0 - 1000.0).abs() < 1e-4);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(transparent)]
pub struct Strain(i32);

impl Strain {
    /// Steps in a strain of one.
    ///
    /// ```
    /// assert_eq!(gaugewright::fixed::Strain::PER_UNIT, (1u64 << 34) as f64);
    /// ```
    pub const PER_UNIT: f64 = 17_179_869_184.0;

    /// From the raw format. Every value is a strain.
    ///
    /// ```
    /// use gaugewright::fixed::Strain;
    /// assert_eq!(Strain::from_bits(0).strain().0, 0.0);
    /// ```
    #[must_use]
    #[inline]
    pub const fn from_bits(bits: i32) -> Self {
        Self(bits)
    }

    /// The raw format.
    ///
    /// ```
    /// use gaugewright::fixed::Strain;
    /// assert_eq!(Strain::from_bits(-5).to_bits(), -5);
    /// ```
    #[must_use]
    #[inline]
    pub const fn to_bits(self) -> i32 {
        self.0
    }

    /// In whole nanostrain, rounded down. One high product and a shift, on every core.
    ///
    /// ```
    /// use gaugewright::fixed::Strain;
    /// assert_eq!(Strain::from_bits(i32::MAX).nanostrain(), 124_999_999);
    /// assert_eq!(Strain::from_bits(-1).nanostrain(), -1);
    /// ```
    #[must_use]
    #[inline]
    pub const fn nanostrain(self) -> i32 {
        mul(self.0, 1_000_000_000) >> 2
    }

    /// As a plain ratio, exactly.
    ///
    /// ```
    /// use gaugewright::fixed::Strain;
    /// assert_eq!(Strain::from_bits(1).strain().0, (-34f64).exp2());
    /// ```
    #[must_use]
    pub const fn strain(self) -> units::Strain {
        units::Strain(self.0 as f64 / Self::PER_UNIT)
    }
}

/// The nearest integer, halves away from zero. The caller has checked that it fits.
pub(crate) const fn nearest(x: f64) -> i32 {
    (if x < 0.0 { x - 0.5 } else { x + 0.5 }) as i32
}
