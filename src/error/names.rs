//! The table of fields, and those of the other names in an error: a row each, with the name in code, the number, the name in words with
//! the unit, and for a field the range in that unit or `depends`, where the code that checks it passes the limits. C has the numbers from
//! here too (`tests/c/header` reads the rows), and a number keeps its meaning: what is new takes the next free one of its kind.

use super::named::named;
use super::{Error, within};

named! {
    /// An input of a channel, a sensor or an analysis. Where the range `depends`, it depends on other inputs, and the
    /// error has it.
    ///
    /// ```
    /// use gaugewright::error::Field;
    /// assert_eq!(Field::LeadResistance.to_string(), "lead resistance (ohm)");
    /// ```
    Field, "assert_eq!(gaugewright::error::Field::GaugeFactor.name(), \"gauge factor\");" {
        GaugeFactor = 1 => "gauge factor" in [0.1, 500.0],
        /// Gauge factor over its value at the reference temperature, somewhere in the declared range.
        GaugeFactorCurve = 2 => "gauge factor at temperature over gauge factor" in [0.5, 2.0],
        /// A coefficient of the relative change of gauge factor.
        GaugeFactorCoefficient = 3 => "coefficient of gauge factor change (per degree to its power)" in [-1.0, 1.0],
        StatedGaugeFactor = 4 => "gauge factor the thermal output is stated for" in [0.1, 500.0],
        InstrumentGaugeFactor = 5 => "instrument gauge factor" in [0.1, 500.0],
        ThermalOutput = 6 => "thermal output" in [-1e6, 1e6],
        ThermalOutputDegree = 7 => "degree of the thermal output polynomial" in [0.0, 5.0],
        ThermalOutputCoefficient = 8 => "thermal output coefficient (microstrain per degree to its power)" in [-1e6, 1e6],
        FittedLow = 9 => "lower end of the fitted temperature range (C)" in [-273.15, 2047.0],
        FittedHigh = 10 => "upper end of the fitted temperature range (C)" in depends,
        TemperatureLow = 11 => "lower end of the declared temperature range (C)" in depends,
        TemperatureHigh = 12 => "upper end of the declared temperature range (C)" in depends,
        TemperatureWidth = 13 => "width of the declared temperature range (C)" in depends,
        Temperature = 14 => "temperature (C)" in depends,
        ReferenceTemperature = 15 => "reference temperature (C)" in depends,
        MatchedExpansion = 16 => "expansion coefficient the gauge is matched to (ppm/C)" in [-1e3, 1e3],
        SpecimenExpansion = 17 => "expansion coefficient of the specimen (ppm/C)" in [-1e3, 1e3],
        TransverseSensitivity = 18 => "transverse sensitivity (%)" in [-50.0, 50.0],
        CalibrationPoissonRatio = 19 => "Poisson ratio of the calibration beam" in [0.0, 0.5],
        GaugeResistance = 20 => "gauge resistance (ohm)" in [1.0, 1e6],
        /// Resistance of one lead conductor.
        LeadResistance = 21 => "lead resistance (ohm)" in depends,
        /// Resistance of what stands in arm 2.
        CompletionResistance = 22 => "completion resistance (ohm)" in [1.0, 1e6],
        /// Resistance of what stands in arm 3 or arm 4.
        ReferenceResistance = 23 => "reference half-bridge resistance (ohm)" in [1.0, 1e7],
        /// Poisson ratio of the specimen, for circuits with a transverse gauge.
        PoissonRatio = 24 => "Poisson ratio of the specimen" in [0.0, 0.5],
        InputResistance = 25 => "input resistance (ohm)" in [1e3, 1e15],
        ConverterBits = 26 => "converter bits" in depends,
        /// Bridge output ratio at the converter's full scale.
        FullScaleRatio = 27 => "full-scale ratio (V/V)" in depends,
        SpanLimit = 28 => "limit of the span correction (%)" in [0.0, 20.0],
        /// The bridge of a channel, which is not known behind an instrument's readings.
        Bridge = 29 => "bridge" in [1.0, 1.0],
        ShuntResistance = 30 => "shunt resistance (ohm)" in depends,
        ShuntTolerance = 31 => "shunt tolerance (%)" in [0.0, 20.0],
        ResistorTolerance = 32 => "resistor tolerance (%)" in [0.0, 20.0],
        LeadTemperatureRise = 33 => "temperature rise of the leads (C)" in [-200.0, 300.0],
        /// Correction of the span, expected over observed.
        SpanCorrection = 34 => "span correction" in depends,
        SimulatedStrain = 35 => "strain to be simulated by a shunt (microstrain)" in depends,
        /// Strain that one count of an instrument's reading is worth.
        ReadingStep = 36 => "strain per count (microstrain)" in [1e-6, 1e3],
        BalanceCode = 37 => "balance code" in depends,
        /// Bridge output ratio at balance, which the stated resistors have to allow.
        BalanceRatio = 38 => "bridge output ratio at balance (V/V)" in depends,
        BalanceTemperature = 39 => "balance temperature (C)" in depends,
        /// Compensating gauges with a temperature of their own: none or one, as circuit and kernel have room.
        CompensatingGauges = 40 => "number of compensating gauges with a temperature of their own" in depends,
        CompensatingBalanceTemperature = 41 => "balance temperature of the compensating gauge (C)" in depends,
        StrainRange = 42 => "declared strain range (microstrain)" in [1.0, 62_500.0],
        SensorResistance = 43 => "resistance of the temperature sensor (ohm)" in depends,
        ResistanceAtZero = 44 => "resistance of the temperature sensor at 0 C (ohm)" in [0.1, 1e6],
        CallendarVanDusen = 45 => "Callendar-Van Dusen constant (per degree to its power)" in depends,
        /// Resistance read through the leads of a temperature sensor.
        MeasuredResistance = 46 => "measured resistance (ohm)" in depends,
        /// Voltage of a temperature sensor over that of the reference resistor.
        SensorRatio = 47 => "sensor voltage over reference voltage" in [0.0, 1e4],
        ReferenceResistor = 48 => "reference resistor (ohm)" in [0.1, 1e7],
        DissipationConstant = 49 => "dissipation constant (mW/C)" in [1e-6, 1e6],
        SensorPower = 50 => "power in the temperature sensor (mW)" in [0.0, 1e6],
        SensorCurrent = 51 => "current through the temperature sensor (mA)" in [-1e3, 1e3],
        ThermocoupleEmf = 52 => "thermocouple EMF (mV)" in depends,
        ColdJunctionTemperature = 53 => "cold junction temperature (C)" in depends,
        FullScaleEmf = 54 => "full-scale EMF (mV)" in depends,
        /// Codes that a thermometer's range takes, or their last one.
        ThermometerCodes = 55 => "codes of the thermometer's range" in depends,
        /// Code at the upper end of a thermometer's range, which the converter's full scale has to leave room for.
        LastCode = 56 => "code at the upper end of the thermometer's range" in depends,
        CurvePieces = 57 => "pieces of the curve, a power of two" in [2.0, 256.0],
        /// Where a gauge is between two sensors.
        FractionOfWay = 60 => "fraction of the way between two sensors" in [0.0, 1.0],
        ThermistorCoefficient = 61 => "Steinhart-Hart coefficient (1/K)" in depends,
        ThermistorBeta = 62 => "thermistor beta (K)" in [100.0, 20_000.0],
        ThermistorSlope = 63 => "slope of 1/T against ln R of the thermistor (1/K)" in [1e-7, 1.0],
        ThermistorPoints = 64 => "difference of ln R between two thermistor points" in [1e-3, 100.0],
        GridAngle = 65 => "angle of a grid (degrees)" in [-360.0, 360.0],
        /// Angle between the lines of two grids of a rosette.
        GridSeparation = 66 => "angle between two grids (degrees)" in [1.0, 90.0],
        /// What a rosette makes of an error of its grids.
        RosetteGain = 67 => "error of the strain state over that of the grids" in [0.0, 1e4],
        GridStrain = 68 => "declared strain of the grids (microstrain)" in [1e-3, 125_000.0],
        ElasticModulus = 69 => "elastic modulus (GPa)" in [1e-3, 2000.0],
        ModulusLow = 70 => "lower end of the temperature range of the modulus (C)" in [-273.15, 2047.0],
        ModulusHigh = 71 => "upper end of the temperature range of the modulus (C)" in depends,
        ModulusUncertainty = 72 => "standard uncertainty of the elastic modulus (%)" in [0.0, 50.0],
        PoissonUncertainty = 73 => "standard uncertainty of the Poisson ratio" in depends,
        StrainUncertainty = 74 => "standard uncertainty of the strain (microstrain)" in [0.0, 1e5],
        SharedUncertainty = 75 => "shared part of the standard uncertainty (microstrain)" in [-1e5, 1e5],
        Correlation = 76 => "correlation of two strains" in [-1.0, 1.0],
        /// Determinant of a matrix of correlations, negative where they contradict each other.
        CorrelationDeterminant = 77 => "determinant of the correlations" in [-1e-12, 1.0],
        /// Points that a fit has, in one run or in both.
        FitPoints = 78 => "number of points of the fit" in depends,
        /// Between the lowest and the highest temperature of a fit's points.
        FitTemperatureSpread = 79 => "spread of the temperatures of the fit (C)" in depends,
        /// How much of a power of the temperature is not already in the lower ones, at the points of the fit.
        FitIndependence = 80 => "share of the highest power that is independent of the lower ones" in depends,
        FitDegree = 81 => "degree of the fit" in depends,
        /// Standard uncertainty of a point, over the whole range of its quantity.
        FitUncertainty = 82 => "standard uncertainty of a point of the fit" in depends,
        /// Points that come with an uncertainty, where the others of the fit do or do not.
        FitUncertainties = 83 => "number of points of the fit that come with an uncertainty" in depends,
        ChamberReading = 84 => "reading of the chamber run (microstrain)" in [-1e6, 1e6],
        AppliedStrain = 85 => "applied strain (microstrain)" in [1.0, 62_500.0],
        /// Gauge factor over that of the instrument or of a reference, of a loaded run.
        GaugeFactorRatio = 86 => "gauge factor over the reference's" in [1e-3, 1e3],
        /// Probability that an interval covers the value.
        CoverageProbability = 87 => "coverage probability (%)" in [1.0, 99.99],
        /// Probability of taking chance for an effect.
        SignificanceLevel = 88 => "significance level (%)" in [0.01, 50.0],
        DegreesOfFreedom = 89 => "degrees of freedom" in [1.0, f64::INFINITY],
        ExpansionTemperature = 90 => "temperature at which an expansion is asked for (C)" in depends,
        ExpansionLow = 91 => "lower end of the expansion's temperature range (C)" in depends,
        ExpansionHigh = 92 => "upper end of the expansion's temperature range (C)" in depends,
        ExpansionOrigin = 93 => "temperature that an expansion counts from (C)" in [-273.15, 2047.0],
        ExpansionCoefficient = 94 => "expansion coefficient (ppm/C)" in [-1e3, 1e3],
        ExpansionTerm = 95 => "coefficient of an expansion polynomial (per degree to its power)" in [-1.0, 1.0],
        ExpansionStrain = 96 => "change of length over length of an expansion" in [-0.1, 0.1],
        ExpansionPoints = 97 => "number of points of an expansion table" in [2.0, 1e6],
        /// Temperature of a point of an expansion table, which has to lie above the one before.
        ExpansionPointTemperature = 98 => "temperature of a point of an expansion table (C)" in depends,
        ExpansionUncertainty = 99 => "standard uncertainty of an expansion coefficient (ppm/C)" in [0.0, 1e3],
        ExpansionRelativeUncertainty = 100 => "relative standard uncertainty of an expansion (%)" in [0.0, 100.0],
        WindowLow = 101 => "lower end of the temperature window (C)" in depends,
        WindowHigh = 102 => "upper end of the temperature window (C)" in depends,
        TemperatureError = 103 => "largest error of the temperature (C)" in [0.0, 100.0],
        OfferedMatches = 104 => "number of matches on offer" in depends,
        FoilCoefficient = 105 => "resistance coefficient of the foil (per degree to its power)" in [-1.0, 1.0],
        FoilUncertainty = 106 => "standard uncertainty of a resistance coefficient (per degree to its power)" in [0.0, 1.0],
        FoilLow = 107 => "lower end of the temperature range of the foil's resistance (C)" in [-273.15, 2047.0],
        FoilHigh = 108 => "upper end of the temperature range of the foil's resistance (C)" in depends,
        GaugeFactorUncertainty = 109 => "relative standard uncertainty of the gauge factor (%)" in [0.0, 50.0],
        TemperatureUncertainty = 110 => "standard uncertainty of the temperature (C)" in [0.0, 500.0],
        MeasuredThermalOutput = 111 => "measured thermal output (microstrain)" in [-1e5, 1e5],
        ThermalOutputUncertainty = 112 => "standard uncertainty of the thermal output (microstrain)" in [0.0, 1e5],
        GaugeFactorSlopeUncertainty = 113 => "standard uncertainty of the gauge factor's slope (%/100 C)" in [0.0, 100.0],
        BalanceTemperatureUncertainty = 114 => "standard uncertainty of the balance temperature (C)" in [0.0, 500.0],
        /// Standard uncertainty of a thermometer, the same at balance and after.
        ThermometerUncertainty = 115 => "standard uncertainty of the thermometer (C)" in [0.0, 500.0],
        ThermalOutputSlopeUncertainty = 116 => "standard uncertainty of the thermal output's slope (microstrain/C)" in [0.0, 1e4],
        LeadResistanceUncertainty = 117 => "standard uncertainty of the lead resistance (ohm)" in [0.0, 1e4],
        LeadTemperatureUncertainty = 118 => "standard uncertainty of the leads' temperature rise (C)" in [0.0, 200.0],
        RatioUncertainty = 119 => "relative standard uncertainty of the output ratio (%)" in [0.0, 50.0],
        ReadingNoise = 120 => "standard deviation of the samples (codes)" in [0.0, 2_147_483_648.0],
        BalanceNoise = 121 => "standard uncertainty of the balance code (codes)" in [0.0, 2_147_483_648.0],
        KernelBound = 122 => "error bound of the kernel (nanostrain)" in [0.0, 1e8],
        Strain = 123 => "strain (microstrain)" in [-125_000.0, 125_000.0],
        /// Error that may be made by what is left out of a correction.
        AllowedError = 124 => "allowed error (microstrain)" in [0.0, 1e6],
        /// Size of a reading that an error is to be a part of.
        PercentReading = 125 => "size of the reading that an error is a part of (microstrain)" in [1e-3, 1e6],
        /// Width of the temperatures declared for a fit over that of its points: digits are lost with it, to the power of the degree.
        FitRange = 126 => "width of the declared temperatures over that of the fit's points" in depends,
        ForcedStrainCoefficient = 127 => "coefficient of the forced strain (microstrain per degree to its power)" in [-1e6, 1e6],
        /// What the forced strain changes of the free foil's resistance, gauge factor times strain, somewhere in the declared range.
        ForcedChange = 128 => "gauge factor times forced strain" in [-0.1, 0.1],
        WordBits = 129 => "bits of a word" in depends,
        WordShift = 130 => "bits below the value of a word" in depends,
        TransferBytes = 131 => "bytes of a transfer" in depends,
        StatusByte = 132 => "place of a status byte in a transfer" in depends,
        StatusMask = 133 => "mask of a status byte" in [1.0, 255.0],
        StatusOutsideMask = 134 => "bits of a good status outside of its mask" in [0.0, 0.0],
        ChecksumBits = 135 => "width of a checksum (bits, a multiple of 8)" in depends,
        ChecksumCheck = 136 => "checksum of the characters 123456789" in depends,
        NoDataPattern = 137 => "pattern that means no data" in depends,
        RegisterStep = 138 => "temperature per step of a register (C)" in depends,
        CodesInMean = 139 => "number of codes in a mean" in [1.0, 65536.0],
        NameLength = 140 => "length of a name (bytes)" in [1.0, 24.0],
        DateYear = 141 => "year of a date" in [2000.0, 2399.0],
        DateMonth = 142 => "month of a date" in [1.0, 12.0],
        DateDay = 143 => "day of a date" in depends,
        LowestCode = 144 => "lowest code of a kernel" in depends,
        HighestCode = 145 => "highest code of a kernel" in depends,
        ShuntCode = 146 => "code with the shunt" in depends,
        ShuntChange = 147 => "change of code by the shunt" in depends,
        /// Of a load, where it is stated.
        StrainRatio = 148 => "strain across the gauge over strain along it" in depends,
        StrainRatioUncertainty = 149 => "standard uncertainty of the ratio of strains" in [0.0, 100.0],
        TransverseSensitivityUncertainty = 150 => "standard uncertainty of the transverse sensitivity (%)" in [0.0, 50.0],
        /// Of a grid, or of a rosette as a whole.
        AngleUncertainty = 151 => "standard uncertainty of an angle (degrees)" in [0.0, 10.0],
        /// The largest of the residuals of a rosette's grids.
        ResidualUncertainty = 152 => "standard uncertainty of the residuals (microstrain)" in [1e-6, 1e6],
        Quantisation = 153 => "half width of the rounding to a code (codes)" in [0.0, 2_147_483_648.0],
    }
}

impl Field {
    /// Lowest and highest value in the field's unit; none where they depend on other inputs.
    ///
    /// ```
    /// use gaugewright::error::Field;
    /// assert_eq!(Field::GaugeFactor.range(), Some((0.1, 500.0)));
    /// // No more than the gauge.
    /// assert_eq!(Field::LeadResistance.range(), None);
    /// ```
    #[must_use]
    pub const fn range(self) -> Option<(f64, f64)> {
        let (low, high) = self.limits();
        if low.is_nan() { None } else { Some((low, high)) }
    }

    /// The error of an input that is not there.
    pub(crate) const fn missing(self) -> Error {
        let (low, high) = self.limits();
        Error::Invalid { field: self, value: f64::NAN, low, high }
    }

    /// `Ok` in the range of the table; a NaN is refused with the rest, and every value of a field whose range `depends`:
    /// [`within`] has those.
    #[inline(always)]
    pub(crate) const fn check(self, value: f64) -> Result<(), Error> {
        let (low, high) = self.limits();
        within(self, value, low, high)
    }

    /// The same of a whole number whose range is in the table, in integers.
    #[cfg(feature = "record")]
    #[inline(always)]
    pub(crate) const fn check_whole(self, value: i32) -> Result<(), Error> {
        let (low, high) = self.limits();
        super::whole_within(self, value, low as i32, high as i32)
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
        SignalGain = 201 => "strain over the codes in use (microstrain)",
        /// Bridge non-linearity per code.
        BridgeCurvature = 202 => "bridge curvature",
        /// Combined share of bridge non-linearity and gauge-factor change, which the kernel's reciprocal
        /// is made for.
        Divisor = 203 => "bridge non-linearity and gauge factor change together",
        /// The codes that the declared ranges and the converter's rails leave between them.
        CodeWindow = 204 => "nearest code of the declared range",
        /// A constant of the thermal-output polynomial.
        ThermalOutputConstant = 205 => "thermal output constant",
        /// A constant of the gauge-factor polynomial.
        GaugeFactorConstant = 206 => "gauge factor constant",
        /// Gauge factor times strain: the part by which a gauge changes.
        Signal = 207 => "gauge factor times strain",
        /// Strain before or after the gauge-factor correction.
        StrainValue = 208 => "strain value",
        /// What rounding in double precision makes of polynomials whose terms cancel, over what the bound
        /// allows for it.
        Cancellation = 209 => "cancellation in the package's polynomials",
        /// A constant of a thermometer's curve.
        CurveConstant = 210 => "constant of the thermometer's curve",
        /// EMF of a thermocouple, in what the converter and the sum leave room for.
        ThermocoupleEmf = 211 => "thermocouple EMF for the full scale",
        /// Highest power of the thermal output that the kernel type has room for.
        ThermalOutputDegree = 212 => "thermal output degree for the kernel type",
        /// Highest power of the gauge factor that the kernel type has room for.
        GaugeFactorDegree = 213 => "gauge factor degree for the kernel type",
        /// A row of a rosette's constants.
        RosetteConstants = 214 => "sum of a rosette's constants",
        /// A row of an uncertainty's constants, over all strains.
        UncertaintyRow = 215 => "uncertainty in steps of strain",
        /// The constant of the product of thermal and mechanical change, which the kernel type has room for or has not.
        ProductConstants = 216 => "constants of the product of thermal and mechanical change for the kernel type",
        /// The gauge factor of mid range, where the kernel multiplies thermal and mechanical change: below eight.
        GaugeFactor = 217 => "gauge factor (2^-28)",
        /// What the polynomial of a gauge factor that refers to the free foil leaves out of strain, where no error limit includes it.
        GaugeFactorRemainder = 218 => "remainder of the gauge factor's polynomial (nanostrain)",
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
        Constants = 301 => "rounding of constants",
        /// Rounding of products, and in floating point of every operation, but that of the result.
        Operations = 302 => "rounding of operations",
        /// What a reciprocal computed by products leaves out.
        Reciprocal = 303 => "remainder of the reciprocal",
        /// Rounding of the result to the format of strain.
        Output = 304 => "rounding of the result",
        /// Rounding of the temperature, where it was asked for.
        Temperature = 305 => "error of the temperature",
        /// What the map of the kernel leaves out of the circuit.
        Circuit = 306 => "remainder of the circuit's map",
        /// What the polynomial of the gauge factor leaves out, where the factor refers to the free foil.
        GaugeFactor = 307 => "remainder of the gauge factor's polynomial",
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
        OneCall = 501 => "one call",
        /// `Kernel::at`, then `OperatingPoint::reading`.
        Split = 502 => "the split path",
    }
}
