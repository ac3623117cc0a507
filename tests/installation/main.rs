//! Shunt calibration, leads and faults of the wiring.

mod shunt_data;
mod wiring;
