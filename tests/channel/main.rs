//! What a channel is made of: circuits against a simulator and rational arithmetic, corrections computed elsewhere, refused input.

mod bad_input;
mod bridge_data;
mod end_to_end_data;
mod fields;
mod network;
mod strain_ratio;
mod trade_facts;
