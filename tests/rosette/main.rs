//! Rosettes.

mod angles;
mod bad_input;
mod covariance;
mod data;
mod fixed;
mod grids;
mod states;
mod uncertainty;
