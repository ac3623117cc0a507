//! Names of the quantities that can be wrong, and of the parts of an error.

/// Makes an enum of named quantities whose name in print is a plain string, usable in `const`.
macro_rules! named {
    ($(#[$doc:meta])* $name:ident, $example:literal { $($(#[$item_doc:meta])* $item:ident => $text:literal,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        pub enum $name { $($(#[$item_doc])* $item,)* }

        impl $name {
            /// The name in words.
            ///
            /// ```
            #[doc = $example]
            /// ```
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$item => $text,)* }
            }

            /// All of them.
            // A kernel's path has no number in C.
            #[cfg(feature = "ffi")]
            #[allow(dead_code)]
            pub(crate) const EVERY: &'static [Self] = &[$(Self::$item),*];

            /// The name for C.
            #[cfg(feature = "ffi")]
            #[allow(dead_code)]
            pub(crate) const fn c_name(self) -> &'static core::ffi::CStr {
                match self { $(Self::$item => crate::error::c_text(concat!($text, "\0")),)* }
            }
        }

        impl core::fmt::Display for $name {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                f.write_str(self.name())
            }
        }

        #[cfg(feature = "defmt")]
        impl defmt::Format for $name {
            fn format(&self, f: defmt::Formatter<'_>) {
                match self { $(Self::$item => defmt::write!(f, $text),)* }
            }
        }
    };
}

pub(crate) use named;

named! {
    /// An input of a channel or of a temperature sensor.
    ///
    /// ```
    /// use gaugewright::error::Field;
    /// assert_eq!(Field::LeadResistance.to_string(), "lead resistance (ohm)");
    /// ```
    Field, "assert_eq!(gaugewright::error::Field::GaugeFactor.name(), \"gauge factor\");" {
        /// Gauge factor of the package.
        GaugeFactor => "gauge factor",
        /// Gauge factor over its value at the reference temperature, somewhere in the declared range.
        GaugeFactorCurve => "gauge factor at temperature over gauge factor",
        /// A coefficient of the relative change of gauge factor.
        GaugeFactorCoefficient => "coefficient of gauge factor change (per degree to its power)",
        /// Gauge factor that the thermal-output polynomial is stated for.
        StatedGaugeFactor => "gauge factor the thermal output is stated for",
        /// Gauge factor setting of the instrument.
        InstrumentGaugeFactor => "instrument gauge factor",
        /// The thermal output of the package.
        ThermalOutput => "thermal output",
        /// Degree of the thermal-output polynomial.
        ThermalOutputDegree => "degree of the thermal output polynomial",
        /// A coefficient of the thermal-output polynomial.
        ThermalOutputCoefficient => "thermal output coefficient (microstrain per degree to its power)",
        /// Lower end of the range that the thermal-output polynomial was fitted on.
        FittedLow => "lower end of the fitted temperature range (C)",
        /// Upper end of the range that the thermal-output polynomial was fitted on.
        FittedHigh => "upper end of the fitted temperature range (C)",
        /// Lower end of the temperature range declared for the channel.
        TemperatureLow => "lower end of the declared temperature range (C)",
        /// Upper end of the temperature range declared for the channel.
        TemperatureHigh => "upper end of the declared temperature range (C)",
        /// Width of the declared temperature range.
        TemperatureWidth => "width of the declared temperature range (C)",
        /// A temperature.
        Temperature => "temperature (C)",
        /// Reference temperature of the package data.
        ReferenceTemperature => "reference temperature (C)",
        /// Expansion coefficient the gauge is matched to.
        MatchedExpansion => "expansion coefficient the gauge is matched to (ppm/C)",
        /// Expansion coefficient of the specimen.
        SpecimenExpansion => "expansion coefficient of the specimen (ppm/C)",
        /// Transverse sensitivity as a fraction.
        TransverseSensitivity => "transverse sensitivity (%)",
        /// Poisson ratio of the beam that the gauge factor was calibrated on.
        CalibrationPoissonRatio => "Poisson ratio of the calibration beam",
        /// Resistance of the gauge.
        GaugeResistance => "gauge resistance (ohm)",
        /// Resistance of one lead conductor.
        LeadResistance => "lead resistance (ohm)",
        /// Resistance of what stands in arm 2.
        CompletionResistance => "completion resistance (ohm)",
        /// Resistance of what stands in arm 3 or arm 4.
        ReferenceResistance => "reference half-bridge resistance (ohm)",
        /// Poisson ratio of the specimen, for circuits with a transverse gauge.
        PoissonRatio => "Poisson ratio of the specimen",
        /// Input resistance of the instrument.
        InputResistance => "input resistance (ohm)",
        /// Bits of the converter.
        ConverterBits => "converter bits",
        /// Bridge output ratio at the converter's full scale.
        FullScaleRatio => "full-scale ratio (V/V)",
        /// Limit of the correction that a shunt calibration may give.
        SpanLimit => "limit of the span correction (%)",
        /// The bridge of a channel, which is not known behind an instrument's readings.
        Bridge => "bridge",
        /// Resistance of a calibration shunt.
        ShuntResistance => "shunt resistance (ohm)",
        /// Tolerance of a calibration shunt, as a fraction.
        ShuntTolerance => "shunt tolerance (%)",
        /// Tolerance of the resistors of a bridge, as a fraction.
        ResistorTolerance => "resistor tolerance (%)",
        /// Rise of the temperature of the leads since balance.
        LeadTemperatureRise => "temperature rise of the leads (C)",
        /// Correction of the span, expected over observed.
        SpanCorrection => "span correction",
        /// Strain that a shunt is to look like.
        SimulatedStrain => "strain to be simulated by a shunt (microstrain)",
        /// Strain that one count of an instrument's reading is worth.
        ReadingStep => "strain per count (microstrain)",
        /// Code at balance.
        BalanceCode => "balance code",
        /// Bridge output ratio at balance, which the stated resistors have to allow.
        BalanceRatio => "bridge output ratio at balance (V/V)",
        /// Temperature at balance.
        BalanceTemperature => "balance temperature (C)",
        /// Compensating gauges with a temperature of their own: none or one, as circuit and kernel have room.
        CompensatingGauges => "number of compensating gauges with a temperature of their own",
        /// Temperature of the compensating gauge at balance.
        CompensatingBalanceTemperature => "balance temperature of the compensating gauge (C)",
        /// Largest strain that the channel is declared for.
        StrainRange => "declared strain range (microstrain)",
        /// Resistance of a temperature sensor.
        SensorResistance => "resistance of the temperature sensor (ohm)",
        /// Resistance of a platinum sensor at 0 C.
        ResistanceAtZero => "resistance of the temperature sensor at 0 C (ohm)",
        /// One of the Callendar-Van Dusen constants.
        CallendarVanDusen => "Callendar-Van Dusen constant (per degree to its power)",
        /// Resistance read through the leads of a temperature sensor.
        MeasuredResistance => "measured resistance (ohm)",
        /// Voltage of a temperature sensor over that of the reference resistor.
        SensorRatio => "sensor voltage over reference voltage",
        /// The resistor that a temperature sensor is compared with.
        ReferenceResistor => "reference resistor (ohm)",
        /// Dissipation constant of a sensor.
        DissipationConstant => "dissipation constant (mW/C)",
        /// Power turned to heat in a sensor.
        SensorPower => "power in the temperature sensor (mW)",
        /// Current through a sensor.
        SensorCurrent => "current through the temperature sensor (mA)",
        /// EMF of a thermocouple.
        ThermocoupleEmf => "thermocouple EMF (mV)",
        /// Temperature of the cold junction of a thermocouple.
        ColdJunctionTemperature => "cold junction temperature (C)",
        /// EMF at a thermocouple converter's full scale.
        FullScaleEmf => "full-scale EMF (mV)",
        /// Codes that a thermometer's range takes, or their last one.
        ThermometerCodes => "codes of the thermometer's range",
        /// Code at the upper end of a thermometer's range, which the converter's full scale has to leave room for.
        LastCode => "code at the upper end of the thermometer's range",
        /// Pieces of a thermometer's curve: a power of two.
        CurvePieces => "pieces of the curve, a power of two",
        /// Time constant of a sensor or a filter.
        TimeConstant => "time constant (s)",
        /// Time between two temperatures.
        SamplingInterval => "sampling interval (s)",
        /// Where a gauge is between two sensors.
        FractionOfWay => "fraction of the way between two sensors",
        /// A coefficient of a thermistor.
        ThermistorCoefficient => "Steinhart-Hart coefficient (1/K)",
        /// Beta of a thermistor.
        ThermistorBeta => "thermistor beta (K)",
        /// Slope of a thermistor's 1/T against the logarithm of its resistance.
        ThermistorSlope => "slope of 1/T against ln R of the thermistor (1/K)",
        /// Distance between two calibration points of a thermistor.
        ThermistorPoints => "difference of ln R between two thermistor points",
        /// Direction of a rosette's grid.
        GridAngle => "angle of a grid (degrees)",
        /// Angle between the lines of two grids of a rosette.
        GridSeparation => "angle between two grids (degrees)",
        /// What a rosette makes of an error of its grids.
        RosetteGain => "error of the strain state over that of the grids",
        /// Strain that a rosette's grids are declared for.
        GridStrain => "declared strain of the grids (microstrain)",
        /// Elastic modulus of a material.
        ElasticModulus => "elastic modulus (GPa)",
        /// Lower end of the range that a material's modulus is known on.
        ModulusLow => "lower end of the temperature range of the modulus (C)",
        /// Upper end of the range that a material's modulus is known on.
        ModulusHigh => "upper end of the temperature range of the modulus (C)",
        /// Standard uncertainty of the elastic modulus.
        ModulusUncertainty => "standard uncertainty of the elastic modulus (%)",
        /// Standard uncertainty of Poisson's ratio.
        PoissonUncertainty => "standard uncertainty of the Poisson ratio",
        /// Standard uncertainty of a grid's strain.
        StrainUncertainty => "standard uncertainty of the strain (microstrain)",
        /// Part of a strain's standard uncertainty that several grids share.
        SharedUncertainty => "shared part of the standard uncertainty (microstrain)",
        /// Correlation of the strains of two grids.
        Correlation => "correlation of two strains",
        /// Determinant of a matrix of correlations, negative where they contradict each other.
        CorrelationDeterminant => "determinant of the correlations",
        /// Points that a fit has, in one run or in both.
        FitPoints => "number of points of the fit",
        /// Between the lowest and the highest temperature of a fit's points.
        FitTemperatureSpread => "spread of the temperatures of the fit (C)",
        /// Width of the temperatures declared for a fit over that of its points: digits are lost with it, to the power of the degree.
        FitRange => "width of the declared temperatures over that of the fit's points",
        /// How much of a power of the temperature is not already in the lower ones, at the points of the fit.
        FitIndependence => "share of the highest power that is independent of the lower ones",
        /// Degree of a fitted polynomial.
        FitDegree => "degree of the fit",
        /// Standard uncertainty of a point, over the whole range of its quantity.
        FitUncertainty => "standard uncertainty of a point of the fit",
        /// Points that come with an uncertainty, where the others of the fit do or do not.
        FitUncertainties => "number of points of the fit that come with an uncertainty",
        /// Strain read in a chamber run.
        ChamberReading => "reading of the chamber run (microstrain)",
        /// Known strain of a loaded run.
        AppliedStrain => "applied strain (microstrain)",
        /// Gauge factor over that of the instrument or of a reference, of a loaded run.
        GaugeFactorRatio => "gauge factor over the reference's",
        /// Probability that an interval covers the value.
        CoverageProbability => "coverage probability (%)",
        /// Probability of taking chance for an effect.
        SignificanceLevel => "significance level (%)",
        /// Degrees of freedom.
        DegreesOfFreedom => "degrees of freedom",
        /// Temperature at which an expansion is asked for.
        ExpansionTemperature => "temperature at which an expansion is asked for (C)",
        /// Lower end of the range that an expansion is known on.
        ExpansionLow => "lower end of the expansion's temperature range (C)",
        /// Upper end of the range that an expansion is known on.
        ExpansionHigh => "upper end of the expansion's temperature range (C)",
        /// Temperature that an expansion counts from.
        ExpansionOrigin => "temperature that an expansion counts from (C)",
        /// Expansion coefficient of a material.
        ExpansionCoefficient => "expansion coefficient (ppm/C)",
        /// A coefficient of an expansion polynomial.
        ExpansionTerm => "coefficient of an expansion polynomial (per degree to its power)",
        /// Change of length of a material over its length.
        ExpansionStrain => "change of length over length of an expansion",
        /// Number of points of an expansion table.
        ExpansionPoints => "number of points of an expansion table",
        /// Temperature of a point of an expansion table, which has to lie above the one before.
        ExpansionPointTemperature => "temperature of a point of an expansion table (C)",
        /// Standard uncertainty of an expansion coefficient.
        ExpansionUncertainty => "standard uncertainty of an expansion coefficient (ppm/C)",
        /// Standard uncertainty of an expansion, as a fraction of it.
        ExpansionRelativeUncertainty => "relative standard uncertainty of an expansion (%)",
        /// Lower end of a temperature window.
        WindowLow => "lower end of the temperature window (C)",
        /// Upper end of a temperature window.
        WindowHigh => "upper end of the temperature window (C)",
        /// Largest error of a temperature.
        TemperatureError => "largest error of the temperature (C)",
        /// Number of matches that are on offer.
        OfferedMatches => "number of matches on offer",
        /// A resistance coefficient of a foil.
        FoilCoefficient => "resistance coefficient of the foil (per degree to its power)",
        /// Standard uncertainty of a resistance coefficient of a foil.
        FoilUncertainty => "standard uncertainty of a resistance coefficient (per degree to its power)",
        /// Lower end of the range that a foil's resistance is known on.
        FoilLow => "lower end of the temperature range of the foil's resistance (C)",
        /// Upper end of the range that a foil's resistance is known on.
        FoilHigh => "upper end of the temperature range of the foil's resistance (C)",
        /// Standard uncertainty of a gauge factor, as a fraction of it.
        GaugeFactorUncertainty => "relative standard uncertainty of the gauge factor (%)",
        /// Standard uncertainty of a temperature.
        TemperatureUncertainty => "standard uncertainty of the temperature (C)",
        /// Thermal output that was measured.
        MeasuredThermalOutput => "measured thermal output (microstrain)",
        /// Standard uncertainty of a thermal output.
        ThermalOutputUncertainty => "standard uncertainty of the thermal output (microstrain)",
        /// Standard uncertainty of the slope of gauge factor against temperature.
        GaugeFactorSlopeUncertainty => "standard uncertainty of the gauge factor's slope (%/100 C)",
        /// Standard uncertainty of the temperature at balance.
        BalanceTemperatureUncertainty => "standard uncertainty of the balance temperature (C)",
        /// Standard uncertainty of a thermometer, the same at balance and after.
        ThermometerUncertainty => "standard uncertainty of the thermometer (C)",
        /// Standard uncertainty of the slope of thermal output.
        ThermalOutputSlopeUncertainty => "standard uncertainty of the thermal output's slope (microstrain/C)",
        /// Standard uncertainty of the resistance of a lead.
        LeadResistanceUncertainty => "standard uncertainty of the lead resistance (ohm)",
        /// Standard uncertainty of the temperature rise of the leads.
        LeadTemperatureUncertainty => "standard uncertainty of the leads' temperature rise (C)",
        /// Standard uncertainty of the output ratio for a code, as a fraction.
        RatioUncertainty => "relative standard uncertainty of the output ratio (%)",
        /// Standard deviation of a sample.
        ReadingNoise => "standard deviation of the samples (codes)",
        /// Standard uncertainty of the code at balance.
        BalanceNoise => "standard uncertainty of the balance code (codes)",
        /// Error bound of a kernel.
        KernelBound => "error bound of the kernel (nanostrain)",
        /// Strain that an uncertainty is asked for.
        Strain => "strain (microstrain)",
        /// Error that may be made by what is left out of a correction.
        AllowedError => "allowed error (microstrain)",
        /// Size of a reading that an error is to be a part of.
        PercentReading => "size of the reading that an error is a part of (microstrain)",
    }
}

named! {
    /// A number inside a compiled kernel that has to fit.
    ///
    /// ```
    /// use gaugewright::error::Quantity;
    /// assert_eq!(Quantity::SignalGain.name(), "strain over the codes in use (microstrain)");
    /// ```
    Quantity, "assert_eq!(gaugewright::error::Quantity::Divisor.name(), \"bridge non-linearity and gauge factor change together\");" {
        /// Strain that all codes in use stand for together: from rail to rail, or for the declared strain range.
        SignalGain => "strain over the codes in use (microstrain)",
        /// Bridge non-linearity per code.
        BridgeCurvature => "bridge curvature",
        /// Combined share of bridge non-linearity and gauge-factor change, which the kernel's reciprocal
        /// is made for.
        Divisor => "bridge non-linearity and gauge factor change together",
        /// The codes that the declared ranges and the converter's rails leave between them.
        CodeWindow => "nearest code of the declared range",
        /// A constant of the thermal-output polynomial.
        ThermalOutputConstant => "thermal output constant",
        /// A constant of the gauge-factor polynomial.
        GaugeFactorConstant => "gauge factor constant",
        /// Gauge factor times strain: the part by which a gauge changes.
        Signal => "gauge factor times strain",
        /// Strain before or after the gauge-factor correction.
        StrainValue => "strain value",
        /// What rounding in double precision makes of polynomials whose terms cancel, over what the bound
        /// allows for it.
        Cancellation => "cancellation in the package's polynomials",
        /// A constant of a thermometer's curve.
        CurveConstant => "constant of the thermometer's curve",
        /// EMF of a thermocouple, in what the converter and the sum leave room for.
        ThermocoupleEmf => "thermocouple EMF for the full scale",
        /// A row of an uncertainty's constants, over all strains.
        UncertaintyRow => "uncertainty in steps of strain",
        /// A row of a rosette's constants.
        RosetteConstants => "sum of a rosette's constants",
        /// Highest power of the thermal output that the kernel type has room for.
        ThermalOutputDegree => "thermal output degree for the kernel type",
        /// Highest power of the gauge factor that the kernel type has room for.
        GaugeFactorDegree => "gauge factor degree for the kernel type",
    }
}

named! {
    /// A part of a kernel's error bound.
    ///
    /// ```
    /// use gaugewright::error::ErrorPart;
    /// assert_eq!(ErrorPart::Reciprocal.to_string(), "remainder of the reciprocal");
    /// ```
    ErrorPart, "assert_eq!(gaugewright::error::ErrorPart::Output.name(), \"rounding of the result\");" {
        /// Rounding of the channel's constants.
        Constants => "rounding of constants",
        /// Rounding of products, and in floating point of every operation, but that of the result.
        Operations => "rounding of operations",
        /// What a reciprocal computed by products leaves out.
        Reciprocal => "remainder of the reciprocal",
        /// Rounding of the result to the format of strain.
        Output => "rounding of the result",
        /// Rounding of the temperature, where it was asked for.
        Temperature => "error of the temperature",
        /// What the map of the kernel leaves out of the circuit.
        Circuit => "what the map leaves out of the circuit",
    }
}

named! {
    /// One of a kernel's two ways to a reading.
    ///
    /// ```
    /// assert_eq!(gaugewright::error::KernelPath::OneCall.to_string(), "one call");
    /// ```
    KernelPath, "assert_eq!(gaugewright::error::KernelPath::Split.name(), \"the split path\");" {
        /// `Kernel::reading`.
        OneCall => "one call",
        /// `Kernel::at`, then `Point::reading`.
        Split => "the split path",
    }
}
