//! Uncertainty budgets and their kernels.

mod bad_input;
mod budget;
mod monte_carlo;
