//! The same names in the library, both ways.

use super::names::*;
use super::other_names::*;
use crate::error::{ErrorPart, Field, Quantity};

/// The number of a field.
pub(super) const fn of_field(field: Field) -> u32 {
    match field {
        Field::GaugeFactor => GW_FIELD_GAUGE_FACTOR,
        Field::GaugeFactorCurve => GW_FIELD_GAUGE_FACTOR_CURVE,
        Field::GaugeFactorCoefficient => GW_FIELD_GAUGE_FACTOR_COEFFICIENT,
        Field::StatedGaugeFactor => GW_FIELD_STATED_GAUGE_FACTOR,
        Field::InstrumentGaugeFactor => GW_FIELD_INSTRUMENT_GAUGE_FACTOR,
        Field::ThermalOutput => GW_FIELD_THERMAL_OUTPUT,
        Field::ThermalOutputDegree => GW_FIELD_THERMAL_OUTPUT_DEGREE,
        Field::ThermalOutputCoefficient => GW_FIELD_THERMAL_OUTPUT_COEFFICIENT,
        Field::FittedLow => GW_FIELD_FITTED_LOW,
        Field::FittedHigh => GW_FIELD_FITTED_HIGH,
        Field::TemperatureLow => GW_FIELD_TEMPERATURE_LOW,
        Field::TemperatureHigh => GW_FIELD_TEMPERATURE_HIGH,
        Field::TemperatureWidth => GW_FIELD_TEMPERATURE_WIDTH,
        Field::Temperature => GW_FIELD_TEMPERATURE,
        Field::ReferenceTemperature => GW_FIELD_REFERENCE_TEMPERATURE,
        Field::MatchedExpansion => GW_FIELD_MATCHED_EXPANSION,
        Field::SpecimenExpansion => GW_FIELD_SPECIMEN_EXPANSION,
        Field::TransverseSensitivity => GW_FIELD_TRANSVERSE_SENSITIVITY,
        Field::CalibrationPoissonRatio => GW_FIELD_CALIBRATION_POISSON_RATIO,
        Field::GaugeResistance => GW_FIELD_GAUGE_RESISTANCE,
        Field::LeadResistance => GW_FIELD_LEAD_RESISTANCE,
        Field::CompletionResistance => GW_FIELD_COMPLETION_RESISTANCE,
        Field::ReferenceResistance => GW_FIELD_REFERENCE_RESISTANCE,
        Field::PoissonRatio => GW_FIELD_POISSON_RATIO,
        Field::InputResistance => GW_FIELD_INPUT_RESISTANCE,
        Field::ConverterBits => GW_FIELD_CONVERTER_BITS,
        Field::FullScaleRatio => GW_FIELD_FULL_SCALE_RATIO,
        Field::SpanLimit => GW_FIELD_SPAN_LIMIT,
        Field::Bridge => GW_FIELD_BRIDGE,
        Field::ShuntResistance => GW_FIELD_SHUNT_RESISTANCE,
        Field::ShuntTolerance => GW_FIELD_SHUNT_TOLERANCE,
        Field::ResistorTolerance => GW_FIELD_RESISTOR_TOLERANCE,
        Field::LeadTemperatureRise => GW_FIELD_LEAD_TEMPERATURE_RISE,
        Field::SpanCorrection => GW_FIELD_SPAN_CORRECTION,
        Field::SimulatedStrain => GW_FIELD_SIMULATED_STRAIN,
        Field::ReadingStep => GW_FIELD_READING_STEP,
        Field::BalanceCode => GW_FIELD_BALANCE_CODE,
        Field::BalanceRatio => GW_FIELD_BALANCE_RATIO,
        Field::BalanceTemperature => GW_FIELD_BALANCE_TEMPERATURE,
        Field::CompensatingGauges => GW_FIELD_COMPENSATING_GAUGES,
        Field::CompensatingBalanceTemperature => GW_FIELD_COMPENSATING_BALANCE_TEMPERATURE,
        Field::StrainRange => GW_FIELD_STRAIN_RANGE,
        Field::SensorResistance => GW_FIELD_SENSOR_RESISTANCE,
        Field::ResistanceAtZero => GW_FIELD_RESISTANCE_AT_ZERO,
        Field::CallendarVanDusen => GW_FIELD_CALLENDAR_VAN_DUSEN,
        Field::MeasuredResistance => GW_FIELD_MEASURED_RESISTANCE,
        Field::SensorRatio => GW_FIELD_SENSOR_RATIO,
        Field::ReferenceResistor => GW_FIELD_REFERENCE_RESISTOR,
        Field::DissipationConstant => GW_FIELD_DISSIPATION_CONSTANT,
        Field::SensorPower => GW_FIELD_SENSOR_POWER,
        Field::SensorCurrent => GW_FIELD_SENSOR_CURRENT,
        Field::ThermocoupleEmf => GW_FIELD_THERMOCOUPLE_EMF,
        Field::ColdJunctionTemperature => GW_FIELD_COLD_JUNCTION_TEMPERATURE,
        Field::FullScaleEmf => GW_FIELD_FULL_SCALE_EMF,
        Field::ThermometerCodes => GW_FIELD_THERMOMETER_CODES,
        Field::LastCode => GW_FIELD_LAST_CODE,
        Field::CurvePieces => GW_FIELD_CURVE_PIECES,
        Field::TimeConstant => GW_FIELD_TIME_CONSTANT,
        Field::SamplingInterval => GW_FIELD_SAMPLING_INTERVAL,
        Field::FractionOfWay => GW_FIELD_FRACTION_OF_WAY,
        Field::ThermistorCoefficient => GW_FIELD_THERMISTOR_COEFFICIENT,
        Field::ThermistorBeta => GW_FIELD_THERMISTOR_BETA,
        Field::ThermistorSlope => GW_FIELD_THERMISTOR_SLOPE,
        Field::ThermistorPoints => GW_FIELD_THERMISTOR_POINTS,
        Field::GridAngle => GW_FIELD_GRID_ANGLE,
        Field::GridSeparation => GW_FIELD_GRID_SEPARATION,
        Field::RosetteGain => GW_FIELD_ROSETTE_GAIN,
        Field::GridStrain => GW_FIELD_GRID_STRAIN,
        Field::ElasticModulus => GW_FIELD_ELASTIC_MODULUS,
        Field::ModulusLow => GW_FIELD_MODULUS_LOW,
        Field::ModulusHigh => GW_FIELD_MODULUS_HIGH,
        Field::ModulusUncertainty => GW_FIELD_MODULUS_UNCERTAINTY,
        Field::PoissonUncertainty => GW_FIELD_POISSON_UNCERTAINTY,
        Field::StrainUncertainty => GW_FIELD_STRAIN_UNCERTAINTY,
        Field::SharedUncertainty => GW_FIELD_SHARED_UNCERTAINTY,
        Field::Correlation => GW_FIELD_CORRELATION,
        Field::CorrelationDeterminant => GW_FIELD_CORRELATION_DETERMINANT,
        Field::FitPoints => GW_FIELD_FIT_POINTS,
        Field::FitTemperatureSpread => GW_FIELD_FIT_TEMPERATURE_SPREAD,
        Field::FitRange => GW_FIELD_FIT_RANGE,
        Field::FitIndependence => GW_FIELD_FIT_INDEPENDENCE,
        Field::FitDegree => GW_FIELD_FIT_DEGREE,
        Field::FitUncertainty => GW_FIELD_FIT_UNCERTAINTY,
        Field::FitUncertainties => GW_FIELD_FIT_UNCERTAINTIES,
        Field::ChamberReading => GW_FIELD_CHAMBER_READING,
        Field::AppliedStrain => GW_FIELD_APPLIED_STRAIN,
        Field::GaugeFactorRatio => GW_FIELD_GAUGE_FACTOR_RATIO,
        Field::CoverageProbability => GW_FIELD_COVERAGE_PROBABILITY,
        Field::SignificanceLevel => GW_FIELD_SIGNIFICANCE_LEVEL,
        Field::DegreesOfFreedom => GW_FIELD_DEGREES_OF_FREEDOM,
        Field::ExpansionTemperature => GW_FIELD_EXPANSION_TEMPERATURE,
        Field::ExpansionLow => GW_FIELD_EXPANSION_LOW,
        Field::ExpansionHigh => GW_FIELD_EXPANSION_HIGH,
        Field::ExpansionOrigin => GW_FIELD_EXPANSION_ORIGIN,
        Field::ExpansionCoefficient => GW_FIELD_EXPANSION_COEFFICIENT,
        Field::ExpansionTerm => GW_FIELD_EXPANSION_TERM,
        Field::ExpansionStrain => GW_FIELD_EXPANSION_STRAIN,
        Field::ExpansionPoints => GW_FIELD_EXPANSION_POINTS,
        Field::ExpansionPointTemperature => GW_FIELD_EXPANSION_POINT_TEMPERATURE,
        Field::ExpansionUncertainty => GW_FIELD_EXPANSION_UNCERTAINTY,
        Field::ExpansionRelativeUncertainty => GW_FIELD_EXPANSION_RELATIVE_UNCERTAINTY,
        Field::WindowLow => GW_FIELD_WINDOW_LOW,
        Field::WindowHigh => GW_FIELD_WINDOW_HIGH,
        Field::TemperatureError => GW_FIELD_TEMPERATURE_ERROR,
        Field::OfferedMatches => GW_FIELD_OFFERED_MATCHES,
        Field::FoilCoefficient => GW_FIELD_FOIL_COEFFICIENT,
        Field::FoilUncertainty => GW_FIELD_FOIL_UNCERTAINTY,
        Field::FoilLow => GW_FIELD_FOIL_LOW,
        Field::FoilHigh => GW_FIELD_FOIL_HIGH,
        Field::GaugeFactorUncertainty => GW_FIELD_GAUGE_FACTOR_UNCERTAINTY,
        Field::TemperatureUncertainty => GW_FIELD_TEMPERATURE_UNCERTAINTY,
        Field::MeasuredThermalOutput => GW_FIELD_MEASURED_THERMAL_OUTPUT,
        Field::ThermalOutputUncertainty => GW_FIELD_THERMAL_OUTPUT_UNCERTAINTY,
        Field::GaugeFactorSlopeUncertainty => GW_FIELD_GAUGE_FACTOR_SLOPE_UNCERTAINTY,
        Field::BalanceTemperatureUncertainty => GW_FIELD_BALANCE_TEMPERATURE_UNCERTAINTY,
        Field::ThermometerUncertainty => GW_FIELD_THERMOMETER_UNCERTAINTY,
        Field::ThermalOutputSlopeUncertainty => GW_FIELD_THERMAL_OUTPUT_SLOPE_UNCERTAINTY,
        Field::LeadResistanceUncertainty => GW_FIELD_LEAD_RESISTANCE_UNCERTAINTY,
        Field::LeadTemperatureUncertainty => GW_FIELD_LEAD_TEMPERATURE_UNCERTAINTY,
        Field::RatioUncertainty => GW_FIELD_RATIO_UNCERTAINTY,
        Field::ReadingNoise => GW_FIELD_READING_NOISE,
        Field::BalanceNoise => GW_FIELD_BALANCE_NOISE,
        Field::KernelBound => GW_FIELD_KERNEL_BOUND,
        Field::Strain => GW_FIELD_STRAIN,
        Field::AllowedError => GW_FIELD_ALLOWED_ERROR,
        Field::PercentReading => GW_FIELD_PERCENT_READING,
    }
}

/// The number of a quantity.
pub(super) const fn of_quantity(quantity: Quantity) -> u32 {
    match quantity {
        Quantity::SignalGain => GW_QUANTITY_SIGNAL_GAIN,
        Quantity::BridgeCurvature => GW_QUANTITY_BRIDGE_CURVATURE,
        Quantity::Divisor => GW_QUANTITY_DIVISOR,
        Quantity::CodeWindow => GW_QUANTITY_CODE_WINDOW,
        Quantity::ThermalOutputConstant => GW_QUANTITY_THERMAL_OUTPUT_CONSTANT,
        Quantity::GaugeFactorConstant => GW_QUANTITY_GAUGE_FACTOR_CONSTANT,
        Quantity::Signal => GW_QUANTITY_SIGNAL,
        Quantity::StrainValue => GW_QUANTITY_STRAIN_VALUE,
        Quantity::Cancellation => GW_QUANTITY_CANCELLATION,
        Quantity::CurveConstant => GW_QUANTITY_CURVE_CONSTANT,
        Quantity::ThermocoupleEmf => GW_QUANTITY_THERMOCOUPLE_EMF,
        Quantity::ThermalOutputDegree => GW_QUANTITY_THERMAL_OUTPUT_DEGREE,
        Quantity::GaugeFactorDegree => GW_QUANTITY_GAUGE_FACTOR_DEGREE,
        Quantity::RosetteConstants => GW_QUANTITY_ROSETTE_CONSTANTS,
        Quantity::UncertaintyRow => GW_QUANTITY_UNCERTAINTY_ROW,
    }
}

/// The number of a part.
pub(super) const fn of_part(part: ErrorPart) -> u32 {
    match part {
        ErrorPart::Constants => GW_PART_CONSTANTS,
        ErrorPart::Operations => GW_PART_OPERATIONS,
        ErrorPart::Reciprocal => GW_PART_RECIPROCAL,
        ErrorPart::Output => GW_PART_OUTPUT,
        ErrorPart::Temperature => GW_PART_TEMPERATURE,
        ErrorPart::Circuit => GW_PART_CIRCUIT,
    }
}

#[cfg(test)]
mod tests {
    extern crate std;

    use std::collections::BTreeSet;
    use std::vec::Vec;

    use super::*;

    /// A number is one thing for ever: no two names share one, and none is in the range of another kind.
    #[test]
    fn every_name_has_a_number_of_its_own() {
        let fields: Vec<u32> = Field::EVERY.iter().map(|&field| of_field(field)).collect();
        let quantities: Vec<u32> = Quantity::EVERY.iter().map(|&quantity| of_quantity(quantity)).collect();
        let parts: Vec<u32> = ErrorPart::EVERY.iter().map(|&part| of_part(part)).collect();
        for (kind, first) in [(&fields, 1), (&quantities, 201), (&parts, 301)] {
            let distinct: BTreeSet<u32> = kind.iter().copied().collect();
            // From the first on, without a gap.
            let expected: BTreeSet<u32> = (first..).take(kind.len()).collect();
            assert_eq!(distinct, expected);
        }
        assert!(fields.len() < 200 && quantities.len() < 100 && parts.len() < 100);
    }
}
