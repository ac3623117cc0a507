//! Units of what changes with temperature.

unit! {
    /// Slope of a curve of strain against temperature, in microstrain per degree Celsius.
    ///
    /// ```
    /// use gaugewright::units::MicrostrainPerCelsius;
    /// assert_eq!(MicrostrainPerCelsius(2.5).to_string(), "2.5 microstrain/C");
    /// ```
    MicrostrainPerCelsius, " microstrain/C"
}

unit! {
    /// Relative change of a resistance per degree Celsius, 1/C.
    ///
    /// ```
    /// use gaugewright::units::ResistancePerCelsius;
    /// assert_eq!(ResistancePerCelsius(-2.5e-6).to_string(), "-0.0000025 /C");
    /// ```
    ResistancePerCelsius, " /C"
}

impl ResistancePerCelsius {
    /// From parts per million per degree Celsius.
    ///
    /// ```
    /// assert_eq!(gaugewright::units::ResistancePerCelsius::ppm(8.0).0, 8.0 / 1e6);
    /// ```
    #[must_use]
    pub const fn ppm(ppm: f64) -> Self {
        Self(ppm / 1e6)
    }
}
