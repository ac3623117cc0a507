//! The same names in the library, both ways.

use core::ffi::CStr;

use super::names::*;
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
