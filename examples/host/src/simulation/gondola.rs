//! The gauges on the gondola: what each is made of, wired to, warmed by and pulled by. All invented.

mod fittings;
mod instruments;
mod struts;

use super::bridge::Leads;
use super::foil::{Expansion, Foil};
use super::loads::Load;
use super::sensors::Sensor;
use super::timeline::{CUT_DOWN, LANDING, LAUNCH, OPENING};
use super::weather::Heat;
use std::ops::Range;

/// One bridge and all that is true about it.
pub struct Channel {
    /// Name, as in the columns of the file.
    pub name: &'static str,
    /// What the ground crew knows of the gauges and their wiring.
    pub label: &'static str,
    /// Of all its gauges.
    pub foil: Foil,
    /// What they are bonded to.
    pub specimen: Expansion,
    /// In the order of `bridge.rs`.
    pub arms: [Arm; 4],
    pub leads: Leads,
    /// Temperature in the hangar when the unloaded bridge was balanced.
    pub balance_celsius: f64,
    pub heat: Heat,
    /// The strain that is to be measured.
    pub load: Load,
    /// Strain that comes on top, of one size in every gauge on the part.
    pub axial: Option<Load>,
    /// Where it has a gauge that carries nothing.
    pub block: Option<Block>,
    /// Where there is a temperature sensor whose raw readings are kept.
    pub sensor: Option<Sensor>,
    /// Seconds during which the gauge in arm 1 is open-circuit.
    pub open: Range<f64>,
}

/// What stands in one arm of a bridge. Gauges and resistors are a little off their nominal ohms, as they are.
pub enum Arm {
    /// So many ohms, come what may.
    Resistor(f64),
    /// A gauge on the part: its ohms at 24 C, and how much of the strain to be measured it sees.
    Gauge { ohms: f64, sees: f64 },
    /// A gauge on the block.
    BlockGauge { ohms: f64 },
}

/// A free piece of the part's metal near it. Nothing pulls at it, and its temperature is its own.
pub struct Block {
    pub balance_celsius: f64,
    pub heat: Heat,
}

const NEVER: Range<f64> = 0.0..0.0;

/// One gauge, its completion, and the two resistors of the other half.
const fn quarter(gauge: f64, completion: f64, far: f64, near: f64) -> [Arm; 4] {
    [
        Arm::Gauge { ohms: gauge, sees: 1.0 },
        Arm::Resistor(completion),
        Arm::Resistor(far),
        Arm::Resistor(near),
    ]
}

/// The strain of what hangs below the balloon, falls, hangs below the parachute and has landed.
const fn hanging(balloon: f64, falling: f64, parachute: f64, landed: f64) -> [(f64, f64); 8] {
    [
        (LAUNCH, 0.0),
        (LAUNCH + 1.2, balloon),
        (CUT_DOWN, balloon),
        (CUT_DOWN + 0.6, falling),
        (OPENING, falling),
        (OPENING + 2.0, parachute),
        (LANDING, parachute),
        (LANDING + 0.8, landed),
    ]
}

/// A new one goes to the end, so that the random numbers of the others stay theirs.
pub static CHANNELS: [Channel; 8] = [
    struts::NORTH,
    struts::SOUTH,
    fittings::CROWN,
    fittings::KEEL,
    instruments::VALVE,
    struts::SPARE,
    instruments::BOOM,
    fittings::TIE_ROD,
];
