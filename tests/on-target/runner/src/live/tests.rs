//! The live logger's parts on the host, and that a report that is wrong is found out.

mod bit_banged;
mod drivers;
mod host;
mod recorder;
mod reports;
mod wires;
