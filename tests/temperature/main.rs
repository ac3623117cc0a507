//! Sensors of temperature and the thermometers made of them.

mod bad_input;
mod data;
mod sensors;
mod thermometers;
