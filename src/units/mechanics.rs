//! The units of stress and direction.

/// Makes one newtype over `f64` or `f32`, for quantities that are computed in both.
macro_rules! unit_of_either {
    ($(#[$doc:meta])* $name:ident, $symbol:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name<T = f64>(pub T);

        impl<T: core::fmt::Display> core::fmt::Display for $name<T> {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                core::fmt::Display::fmt(&self.0, f)?;
                f.write_str($symbol)
            }
        }

        #[cfg(feature = "defmt")]
        impl<T: defmt::Format> defmt::Format for $name<T> {
            fn format(&self, f: defmt::Formatter<'_>) {
                defmt::write!(f, "{}", self.0);
                defmt::write!(f, $symbol);
            }
        }
    };
}

unit_of_either! {
    /// An angle in degrees, in `f64` or `f32`.
    ///
    /// ```
    /// use gaugewright::units::Degrees;
    /// assert_eq!(Degrees(22.5).to_string(), "22.5 degrees");
    /// assert_eq!(Degrees(22.5_f32).0, 22.5_f32);
    /// ```
    Degrees, " degrees"
}

unit_of_either! {
    /// Stress in megapascals (newtons per square millimetre), in `f64` or `f32`; tension is positive.
    ///
    /// ```
    /// use gaugewright::units::Megapascals;
    /// assert_eq!(format!("{:.1}", Megapascals(-12.34)), "-12.3 MPa");
    /// ```
    Megapascals, " MPa"
}

unit! {
    /// Elastic modulus in gigapascals.
    ///
    /// ```
    /// use gaugewright::units::Gigapascals;
    /// assert_eq!(Gigapascals(69.0).megapascals().0, 69_000.0);
    /// ```
    Gigapascals, " GPa"
}

impl Gigapascals {
    /// The same in megapascals (one rounding to `f64`).
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Gigapascals(0.5).megapascals().0, 500.0);
    /// ```
    #[must_use]
    pub const fn megapascals(self) -> Megapascals {
        Megapascals(self.0 * 1e3)
    }
}
