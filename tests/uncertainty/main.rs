//! Uncertainty budgets and their kernels.

mod bad_input;
mod budget;
mod fit;
mod monte_carlo;
