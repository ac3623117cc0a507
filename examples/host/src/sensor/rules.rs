//! Keys of `[channel.sensor]` that exclude each other, and keys that others call for.

use crate::channel_file::sensor::{Kind, Leads, Sensor, SensorConverter};

type Rule = (bool, &'static str);

pub fn contradictions(sensor: &Sensor) -> Vec<Rule> {
    let mut rules = match sensor.kind {
        Kind::Platinum => platinum(sensor).to_vec(),
        Kind::Thermistor => thermistor(sensor).to_vec(),
        Kind::Thermocouple => thermocouple(sensor).to_vec(),
        Kind::Pair => return pair(sensor).to_vec(),
    };
    rules.extend(reading(sensor));
    rules.extend(heat(sensor));
    rules.extend(strangers(sensor));
    rules.extend(leads(sensor));
    rules.extend(sensor.converter.iter().flat_map(|it| converter(it, sensor.kind == Kind::Thermocouple)));
    rules
}

/// Two sensors that are read as temperatures.
fn pair(sensor: &Sensor) -> [Rule; 2] {
    let has_all =
        sensor.first_column.is_some() && sensor.second_column.is_some() && sensor.fraction_of_way.is_some();
    let is_read_raw = sensor.ohm_column.is_some()
        || sensor.millivolt_column.is_some()
        || sensor.code_column.is_some()
        || sensor.converter.is_some();
    let is_described = sensor.nominal_ohm.is_some()
        || sensor.leads.is_some()
        || sensor.lead_ohm.is_some()
        || sensor.pair_ohm.is_some()
        || sensor.pair_column.is_some()
        || sensor.measuring_current_milliamperes.is_some()
        || sensor.dissipation_milliwatts_per_c.is_some()
        || strangers(sensor).iter().any(|(wrong, _)| *wrong);
    [
        (!has_all, "kind = \"pair\" needs first_column, second_column and fraction_of_way"),
        (
            is_read_raw || is_described,
            "kind = \"pair\" takes nothing but first_column, second_column and fraction_of_way",
        ),
    ]
}

/// Of the measuring current.
fn heat(sensor: &Sensor) -> [Rule; 3] {
    let current = sensor.measuring_current_milliamperes.is_some();
    let is_pair =
        sensor.first_column.is_some() || sensor.second_column.is_some() || sensor.fraction_of_way.is_some();
    [
        (
            current != sensor.dissipation_milliwatts_per_c.is_some(),
            "measuring_current_milliamperes and dissipation_milliwatts_per_c go together",
        ),
        (
            current && sensor.kind == Kind::Thermocouple,
            "measuring_current_milliamperes goes with kind = \"platinum\" or \"thermistor\"",
        ),
        (is_pair, "first_column, second_column and fraction_of_way go with kind = \"pair\""),
    ]
}

/// The column that the sensor is read as.
fn reading(sensor: &Sensor) -> [Rule; 8] {
    let is_thermocouple = sensor.kind == Kind::Thermocouple;
    let codes = sensor.code_column.is_some();
    let has_converter = sensor.converter.is_some();
    [
        (
            is_thermocouple && sensor.ohm_column.is_some(),
            "ohm_column goes with kind = \"platinum\" or \"thermistor\"",
        ),
        (
            !is_thermocouple && sensor.millivolt_column.is_some(),
            "millivolt_column goes with kind = \"thermocouple\"",
        ),
        (
            !is_thermocouple && sensor.ohm_column.is_none() && !codes,
            "[channel.sensor] needs one of ohm_column and code_column",
        ),
        (
            sensor.ohm_column.is_some() && codes,
            "ohm_column and code_column of [channel.sensor] exclude each other",
        ),
        (
            is_thermocouple && sensor.millivolt_column.is_none() && !codes,
            "[channel.sensor] needs one of millivolt_column and code_column",
        ),
        (
            sensor.millivolt_column.is_some() && codes,
            "millivolt_column and code_column of [channel.sensor] exclude each other",
        ),
        (codes && !has_converter, "code_column of [channel.sensor] needs [channel.sensor.converter]"),
        (!codes && has_converter, "[channel.sensor.converter] goes with code_column of [channel.sensor]"),
    ]
}

fn platinum(sensor: &Sensor) -> [Rule; 4] {
    let has_class = sensor.tolerance_class.is_some();
    [
        (sensor.nominal_ohm.is_none(), "kind = \"platinum\" needs nominal_ohm"),
        (sensor.leads.is_none(), "kind = \"platinum\" needs leads: \"two\", \"three\" or \"four\""),
        (has_class != sensor.element.is_some(), "tolerance_class and element go together"),
        (
            has_class && sensor.callendar_van_dusen.is_some(),
            "tolerance_class is about the standard's equation: with callendar_van_dusen say temperature_error_c",
        ),
    ]
}

fn thermistor(sensor: &Sensor) -> [Rule; 4] {
    let has_beta = sensor.beta_kelvin.is_some();
    [
        (
            sensor.steinhart_hart.is_none() && !has_beta,
            "kind = \"thermistor\" needs one of steinhart_hart and beta_kelvin",
        ),
        (sensor.steinhart_hart.is_some() && has_beta, "steinhart_hart and beta_kelvin exclude each other"),
        (has_beta && sensor.nominal_ohm.is_none(), "beta_kelvin needs nominal_ohm"),
        (
            !has_beta && (sensor.nominal_ohm.is_some() || sensor.nominal_temperature_c.is_some()),
            "nominal_ohm and nominal_temperature_c of a thermistor go with beta_kelvin",
        ),
    ]
}

fn thermocouple(sensor: &Sensor) -> [Rule; 5] {
    let (cold, column) = (sensor.cold_junction_c.is_some(), sensor.cold_junction_column.is_some());
    [
        (sensor.thermocouple_type.is_none(), "kind = \"thermocouple\" needs thermocouple_type"),
        (!cold && !column, "kind = \"thermocouple\" needs one of cold_junction_column and cold_junction_c"),
        (cold && column, "cold_junction_column and cold_junction_c exclude each other"),
        (sensor.nominal_ohm.is_some(), "nominal_ohm goes with kind = \"platinum\" or \"thermistor\""),
        (sensor.leads.is_some(), "leads goes with kind = \"platinum\" or \"thermistor\""),
    ]
}

/// Keys of another kind of sensor.
fn strangers(sensor: &Sensor) -> [Rule; 7] {
    let is_platinum = sensor.kind == Kind::Platinum;
    let is_thermistor = sensor.kind == Kind::Thermistor;
    let is_thermocouple = sensor.kind == Kind::Thermocouple;
    let has_cold_junction = sensor.cold_junction_c.is_some() || sensor.cold_junction_column.is_some();
    [
        (
            !is_platinum && sensor.callendar_van_dusen.is_some(),
            "callendar_van_dusen goes with kind = \"platinum\"",
        ),
        (
            !is_platinum && (sensor.tolerance_class.is_some() || sensor.element.is_some()),
            "tolerance_class and element go with kind = \"platinum\"",
        ),
        (!is_thermistor && sensor.steinhart_hart.is_some(), "steinhart_hart goes with kind = \"thermistor\""),
        (!is_thermistor && sensor.beta_kelvin.is_some(), "beta_kelvin goes with kind = \"thermistor\""),
        (
            !is_thermistor && sensor.nominal_temperature_c.is_some(),
            "nominal_temperature_c goes with kind = \"thermistor\"",
        ),
        (
            !is_thermocouple && sensor.thermocouple_type.is_some(),
            "thermocouple_type goes with kind = \"thermocouple\"",
        ),
        (
            !is_thermocouple && has_cold_junction,
            "cold_junction_column and cold_junction_c go with kind = \"thermocouple\"",
        ),
    ]
}

fn leads(sensor: &Sensor) -> [Rule; 5] {
    let (is_two, is_three) = (sensor.leads == Some(Leads::Two), sensor.leads == Some(Leads::Three));
    let (ohms, column) = (sensor.pair_ohm.is_some(), sensor.pair_column.is_some());
    [
        (is_two && sensor.lead_ohm.is_none(), "leads = \"two\" needs lead_ohm"),
        (!is_two && sensor.lead_ohm.is_some(), "lead_ohm of [channel.sensor] goes with leads = \"two\""),
        (is_three && !ohms && !column, "leads = \"three\" needs one of pair_column and pair_ohm"),
        (ohms && column, "pair_column and pair_ohm exclude each other"),
        (!is_three && (ohms || column), "pair_column and pair_ohm go with leads = \"three\""),
    ]
}

fn converter(converter: &SensorConverter, is_thermocouple: bool) -> [Rule; 3] {
    let has_ratio = converter.full_scale_ratio.is_some();
    let has_reference = converter.reference_ohm.is_some();
    let has_millivolts = converter.full_scale_millivolts.is_some();
    [
        (
            is_thermocouple && converter.divider,
            "divider of [channel.sensor.converter] goes with kind = \"platinum\" or \"thermistor\"",
        ),
        (
            !is_thermocouple && (!has_ratio || !has_reference || has_millivolts),
            "[channel.sensor.converter] of a resistance needs full_scale_ratio and reference_ohm, \
             and no full_scale_millivolts",
        ),
        (
            is_thermocouple && (!has_millivolts || has_ratio || has_reference),
            "[channel.sensor.converter] of a thermocouple needs full_scale_millivolts, \
             and neither full_scale_ratio nor reference_ohm",
        ),
    ]
}
