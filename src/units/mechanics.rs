//! The units of stress and direction.

unit! {
    /// An angle in degrees, in `f64` or `f32`.
    ///
    /// ```
    /// use gaugewright::units::Degrees;
    /// assert_eq!(Degrees(22.5).to_string(), "22.5 degrees");
    /// assert_eq!(Degrees(22.5_f32).0, 22.5_f32);
    /// ```
    Degrees<T>(T), "{}", " degrees"
}

unit! {
    /// Stress in megapascals (newtons per square millimetre), in `f64` or `f32`; tension is positive.
    ///
    /// ```
    /// use gaugewright::units::Megapascals;
    /// assert_eq!(format!("{:.1}", Megapascals(-12.34)), "-12.3 MPa");
    /// ```
    Megapascals<T>(T), "{}", " MPa"
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
