//! Rosettes.

mod bad_input;
mod covariance;
mod data;
mod fixed;
mod states;
mod uncertainty;
