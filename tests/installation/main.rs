//! Shunt calibration, leads and faults of the wiring.

mod checks;
mod shunt_data;
mod wiring;
