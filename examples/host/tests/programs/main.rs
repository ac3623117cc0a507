//! The programs of examples/, as they are run.

mod commission;
mod commission_bad_input;
mod commission_budget;
mod commission_installation;
mod commission_loaded;
mod commission_pictures;
mod commission_prediction;
mod constants;
#[rustfmt::skip]
mod every_key;
mod replay;
mod run;
mod rust_constants;
mod truth;
