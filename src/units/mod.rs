//! Units as types: a temperature cannot be passed where a strain belongs.
//!
//! Each type wraps one number in the unit of its name, an `f64` but where a result is computed in `f32` too. Conversions
//! between units are named and `const`. Values are not checked here, as what is allowed depends on where the number goes: what
//! takes the number checks it, as [`Channel::check`](crate::Channel::check) does, and gives an error with the name of the field.
//!
//! ```
//! use gaugewright::units::{Celsius, Fahrenheit, Microstrain};
//!
//! assert_eq!(Fahrenheit(75.2).celsius().0, Celsius(24.0).0);
//! assert_eq!(Microstrain(250.0).strain().0, 250e-6);
//! ```

/// Makes one newtype over `f64`, with its documentation and how it is printed. Where it is over `f64` or `f32`, as it is computed in
/// both, `Name<T>(T)` stands for its name, and behind it how `defmt` prints the number.
macro_rules! unit {
    ($(#[$doc:meta])* $name:ident, $symbol:literal) => {
        unit! { $(#[$doc])* $name(f64), "{=f64}", $symbol }
    };
    ($(#[$doc:meta])* $name:ident$(<$either:ident>)?($number:ty), $shown:literal, $symbol:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name$(<$either = f64>)?(pub $number);

        impl$(<$either: core::fmt::Display>)? core::fmt::Display for $name$(<$either>)? {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                core::fmt::Display::fmt(&self.0, f)?;
                f.write_str($symbol)
            }
        }

        #[cfg(feature = "defmt")]
        impl$(<$either: defmt::Format>)? defmt::Format for $name$(<$either>)? {
            fn format(&self, f: defmt::Formatter<'_>) {
                defmt::write!(f, $shown, self.0);
                defmt::write!(f, $symbol);
            }
        }
    };
}

mod mechanics;
mod sensing;

pub use mechanics::{Degrees, Gigapascals, Megapascals};
pub use sensing::{
    Kelvin, MicrostrainPerCelsius, MicrovoltsPerCelsius, Milliamperes, Millivolts, Milliwatts,
    MilliwattsPerCelsius, OhmsPerCelsius, ResistancePerCelsius,
};

unit! {
    /// Strain as a plain ratio of lengths (1 is 100 % elongation).
    ///
    /// ```
    /// use gaugewright::units::Strain;
    /// assert_eq!(Strain(0.001).microstrain().0, 1000.0);
    /// ```
    Strain, ""
}

unit! {
    /// Strain in microstrain, the unit of gauge packages: 1e-6.
    ///
    /// ```
    /// use gaugewright::units::Microstrain;
    /// assert_eq!(Microstrain(1000.0).strain().0, 0.001);
    /// assert_eq!(format!("{:.1}", Microstrain(12.34)), "12.3 microstrain");
    /// ```
    Microstrain, " microstrain"
}

unit! {
    /// Strain in nanostrain, the unit of error bounds: 1e-9.
    ///
    /// ```
    /// use gaugewright::units::Nanostrain;
    /// assert_eq!(Nanostrain(500.0).microstrain().0, 0.5);
    /// ```
    Nanostrain, " nanostrain"
}

unit! {
    /// Temperature in degrees Celsius.
    ///
    /// ```
    /// use gaugewright::units::Celsius;
    /// assert_eq!(Celsius(100.0).fahrenheit().0, 212.0);
    /// ```
    Celsius, " C"
}

unit! {
    /// Temperature in degrees Fahrenheit: `F = 1.8 C + 32`.
    ///
    /// ```
    /// use gaugewright::units::Fahrenheit;
    /// assert_eq!(Fahrenheit(-40.0).celsius().0, -40.0);
    /// ```
    Fahrenheit, " F"
}

unit! {
    /// Electrical resistance in ohms.
    ///
    /// ```
    /// use gaugewright::units::Ohms;
    /// assert_eq!(format!("{}", Ohms(350.0)), "350 ohm");
    /// ```
    Ohms, " ohm"
}

unit! {
    /// A ratio of two voltages, V/V: the output of a bridge over its excitation.
    ///
    /// ```
    /// use gaugewright::units::Ratio;
    /// let full_scale = Ratio(1.0 / 128.0); // a converter with a gain of 128
    /// assert_eq!(full_scale.millivolts_per_volt().0, 7.8125);
    /// ```
    Ratio, " V/V"
}

unit! {
    /// The same ratio in mV/V, as bridge outputs are often quoted: a thousandth of a [`Ratio`].
    ///
    /// ```
    /// use gaugewright::units::{MillivoltsPerVolt, Ratio};
    /// assert_eq!(MillivoltsPerVolt(7.8125).ratio(), Ratio(1.0 / 128.0));
    /// ```
    MillivoltsPerVolt, " mV/V"
}

unit! {
    /// Gauge factor: relative change of resistance over strain (ASTM E251), no unit.
    ///
    /// ```
    /// use gaugewright::units::GaugeFactor;
    /// assert!(GaugeFactor(2.065).0 > 2.0);
    /// ```
    GaugeFactor, ""
}

unit! {
    /// Change of gauge factor with temperature, in percent per 100 degrees Celsius.
    ///
    /// ```
    /// use gaugewright::units::PercentPer100C;
    /// assert_eq!(PercentPer100C(1.0).per_celsius(), 1e-4);
    /// ```
    PercentPer100C, " %/100 C"
}

unit! {
    /// A part of a whole in percent.
    ///
    /// ```
    /// use gaugewright::units::Percent;
    /// assert_eq!(Percent(1.5).fraction(), 0.015);
    /// ```
    Percent, " %"
}

unit! {
    /// Coefficient of thermal expansion in 1/C.
    ///
    /// ```
    /// use gaugewright::units::ExpansionPerCelsius;
    /// let aluminium = ExpansionPerCelsius::ppm(23.0);
    /// assert!((aluminium.0 - 23.0e-6).abs() < 1e-20);
    /// assert!((aluminium.per_fahrenheit().0 - 12.777_777_777_777_78e-6).abs() < 1e-18);
    /// ```
    ExpansionPerCelsius, " /C"
}

unit! {
    /// Coefficient of thermal expansion in 1/F.
    ///
    /// ```
    /// use gaugewright::units::ExpansionPerFahrenheit;
    /// let steel = ExpansionPerFahrenheit::ppm(6.0);
    /// assert!((steel.per_celsius().0 - 10.8e-6).abs() < 1e-18);
    /// ```
    ExpansionPerFahrenheit, " /F"
}

impl Strain {
    /// The same strain in microstrain (one rounding to `f64`).
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Strain(2e-6).microstrain().0, 2.0);
    /// ```
    #[must_use]
    pub const fn microstrain(self) -> Microstrain {
        Microstrain(self.0 * 1e6)
    }

    /// The same strain in nanostrain (one rounding to `f64`).
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Strain(2e-9).nanostrain().0, 2.0);
    /// ```
    #[must_use]
    pub const fn nanostrain(self) -> Nanostrain {
        Nanostrain(self.0 * 1e9)
    }
}

impl Microstrain {
    /// The same strain as a plain ratio (one rounding to `f64`).
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Microstrain(1.0).strain().0, 1e-6);
    /// ```
    #[must_use]
    pub const fn strain(self) -> Strain {
        Strain(self.0 / 1e6)
    }
}

impl Nanostrain {
    /// The same strain in microstrain (one rounding to `f64`).
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Nanostrain(1.0).microstrain().0, 1e-3);
    /// ```
    #[must_use]
    pub const fn microstrain(self) -> Microstrain {
        Microstrain(self.0 / 1e3)
    }

    /// The same strain as a plain ratio (one rounding to `f64`).
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Nanostrain(1.0).strain().0, 1e-9);
    /// ```
    #[must_use]
    pub const fn strain(self) -> Strain {
        Strain(self.0 / 1e9)
    }
}

impl Celsius {
    /// The same temperature in degrees Fahrenheit.
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Celsius(24.0).fahrenheit().0, 75.2);
    /// ```
    #[must_use]
    pub const fn fahrenheit(self) -> Fahrenheit {
        Fahrenheit(self.0 * 1.8 + 32.0)
    }
}

impl Fahrenheit {
    /// The same temperature in degrees Celsius.
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Fahrenheit(212.0).celsius().0, 100.0);
    /// ```
    #[must_use]
    pub const fn celsius(self) -> Celsius {
        Celsius((self.0 - 32.0) * 5.0 / 9.0)
    }
}

impl Ratio {
    /// The same ratio in millivolts per volt (one rounding to `f64`).
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Ratio(0.002).millivolts_per_volt().0, 2.0);
    /// ```
    #[must_use]
    pub const fn millivolts_per_volt(self) -> MillivoltsPerVolt {
        MillivoltsPerVolt(self.0 * 1e3)
    }
}

impl MillivoltsPerVolt {
    /// The same ratio in volts per volt (one rounding to `f64`).
    ///
    /// ```
    /// assert_eq!(gaugewright::units::MillivoltsPerVolt(2.0).ratio().0, 0.002);
    /// ```
    #[must_use]
    pub const fn ratio(self) -> Ratio {
        Ratio(self.0 / 1e3)
    }
}

impl PercentPer100C {
    /// The same change as a fraction per degree Celsius.
    ///
    /// ```
    /// assert_eq!(gaugewright::units::PercentPer100C(-1.0).per_celsius(), -1e-4);
    /// ```
    #[must_use]
    pub const fn per_celsius(self) -> f64 {
        self.0 / 1e4
    }
}

impl Percent {
    /// The same part as a fraction of one.
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Percent(50.0).fraction(), 0.5);
    /// ```
    #[must_use]
    pub const fn fraction(self) -> f64 {
        self.0 / 100.0
    }
}

impl ExpansionPerCelsius {
    /// From parts per million per degree Celsius.
    ///
    /// ```
    /// assert_eq!(gaugewright::units::ExpansionPerCelsius::ppm(11.0).0, 11.0 / 1e6);
    /// ```
    #[must_use]
    pub const fn ppm(ppm: f64) -> Self {
        Self(ppm / 1e6)
    }

    /// The same coefficient per degree Fahrenheit.
    ///
    /// ```
    /// let a = gaugewright::units::ExpansionPerCelsius(1.8e-5);
    /// assert!((a.per_fahrenheit().0 - 1e-5).abs() < 1e-19);
    /// ```
    #[must_use]
    pub const fn per_fahrenheit(self) -> ExpansionPerFahrenheit {
        ExpansionPerFahrenheit(self.0 / 1.8)
    }
}

impl ExpansionPerFahrenheit {
    /// From parts per million per degree Fahrenheit.
    ///
    /// ```
    /// assert_eq!(gaugewright::units::ExpansionPerFahrenheit::ppm(6.0).0, 6.0 / 1e6);
    /// ```
    #[must_use]
    pub const fn ppm(ppm: f64) -> Self {
        Self(ppm / 1e6)
    }

    /// The same coefficient per degree Celsius.
    ///
    /// ```
    /// let a = gaugewright::units::ExpansionPerFahrenheit(1e-5);
    /// assert!((a.per_celsius().0 - 1.8e-5).abs() < 1e-19);
    /// ```
    #[must_use]
    pub const fn per_celsius(self) -> ExpansionPerCelsius {
        ExpansionPerCelsius(self.0 * 1.8)
    }
}
