//! The units of temperature sensing, and of what changes with temperature.

use super::Celsius;

unit! {
    /// Temperature, or a difference of temperatures, in kelvin.
    ///
    /// ```
    /// use gaugewright::units::Kelvin;
    /// assert_eq!(Kelvin(273.15).celsius().0, 0.0);
    /// ```
    Kelvin, " K"
}

unit! {
    /// Voltage in millivolts, the unit of thermocouples.
    ///
    /// ```
    /// use gaugewright::units::Millivolts;
    /// assert_eq!(format!("{:.3}", Millivolts(4.0962)), "4.096 mV");
    /// ```
    Millivolts, " mV"
}

unit! {
    /// Change of a voltage with temperature in microvolts per degree Celsius.
    ///
    /// ```
    /// use gaugewright::units::MicrovoltsPerCelsius;
    /// assert_eq!(format!("{}", MicrovoltsPerCelsius(40.5)), "40.5 uV/C");
    /// ```
    MicrovoltsPerCelsius, " uV/C"
}

unit! {
    /// Change of a resistance with temperature in ohms per degree Celsius.
    ///
    /// ```
    /// use gaugewright::units::OhmsPerCelsius;
    /// assert_eq!(format!("{}", OhmsPerCelsius(0.390)), "0.39 ohm/C");
    /// ```
    OhmsPerCelsius, " ohm/C"
}

unit! {
    /// Current in milliamperes.
    ///
    /// ```
    /// use gaugewright::units::Milliamperes;
    /// assert_eq!(format!("{}", Milliamperes(0.5)), "0.5 mA");
    /// ```
    Milliamperes, " mA"
}

unit! {
    /// Power in milliwatts.
    ///
    /// ```
    /// use gaugewright::units::Milliwatts;
    /// assert_eq!(format!("{}", Milliwatts(0.1)), "0.1 mW");
    /// ```
    Milliwatts, " mW"
}

unit! {
    /// Dissipation constant: the power that warms a sensor by one degree, in milliwatts per degree Celsius
    /// (the same number in mW/K).
    ///
    /// ```
    /// use gaugewright::units::MilliwattsPerCelsius;
    /// assert_eq!(format!("{}", MilliwattsPerCelsius(2.5)), "2.5 mW/C");
    /// ```
    MilliwattsPerCelsius, " mW/C"
}

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

impl Celsius {
    /// The same temperature in kelvin.
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Celsius(0.0).kelvin().0, 273.15);
    /// ```
    #[must_use]
    pub const fn kelvin(self) -> Kelvin {
        Kelvin(self.0 + 273.15)
    }
}

impl Kelvin {
    /// The same temperature in degrees Celsius.
    ///
    /// ```
    /// assert_eq!(gaugewright::units::Kelvin(373.15).celsius().0, 100.0);
    /// ```
    #[must_use]
    pub const fn celsius(self) -> Celsius {
        Celsius(self.0 - 273.15)
    }
}
