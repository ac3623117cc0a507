//! Bridge circuits: which keys of `[channel.bridge]` each of them takes, and what it is in the library.

use crate::channel_file::{Bridge, Circuit, Description};
use crate::describe::if_stated;
use gaugewright::units::Ohms;

/// What becomes of thermal output in the samples of a channel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ThermalOutput {
    /// It is in them, as that of one gauge.
    Shows,
    /// It is not, to first order.
    Cancels,
    /// That of the gauge that measures less that of the gauge that compensates is in them.
    Difference,
}

impl ThermalOutput {
    pub fn of(description: &Description) -> Self {
        // An instrument that takes the circuit's curvature out shows what one gauge would.
        match &description.bridge {
            None => Self::Shows,
            Some(_) if description.compensating.is_some() => Self::Difference,
            Some(bridge) if self::bridge(bridge).circuit().shows_thermal_output() => Self::Shows,
            Some(_) => Self::Cancels,
        }
    }
}

/// The bridge as the library has it, not yet checked by it.
pub fn bridge(bridge: &Bridge) -> gaugewright::Bridge {
    use gaugewright::Bridge as Library;
    let gauge = Ohms(bridge.gauge_ohm);
    let lead = Ohms(bridge.lead_ohm.unwrap_or(0.0));
    let poisson_ratio = bridge.poisson_ratio.unwrap_or(f64::NAN);
    let mut circuit = match bridge.circuit {
        Circuit::Quarter => Library::quarter_ideal(gauge),
        Circuit::QuarterTwoWire => Library::quarter_two_wire(gauge, lead),
        Circuit::QuarterThreeWire => Library::quarter_three_wire(gauge, lead),
        Circuit::HalfCompensated => Library::half_compensated(gauge, lead),
        Circuit::HalfAxialAndTransverse => Library::half_poisson(gauge, lead, poisson_ratio),
        Circuit::HalfBending => Library::half_bending(gauge, lead),
        Circuit::FullBending => Library::full_bending(gauge).leads(lead),
        Circuit::FullAxialAndTransverse => Library::full_poisson(gauge, poisson_ratio).leads(lead),
        Circuit::FullTorsion => Library::full_torsion(gauge).leads(lead),
        Circuit::OppositeArms => Library::opposite_arms(gauge).leads(lead),
    };
    if_stated!(circuit, output_leads(Ohms, bridge.output_lead_ohm));
    if_stated!(circuit, completion(Ohms, bridge.completion_ohm));
    if let Some([upper, lower]) = bridge.reference_half_ohm {
        circuit = circuit.reference_half(Ohms(upper), Ohms(lower));
    }
    if_stated!(circuit, input_resistance(Ohms, bridge.input_ohm));
    if bridge.remote_sense {
        circuit = circuit.remote_sense();
    }
    if bridge.reversed {
        circuit = circuit.reversed();
    }
    circuit
}

/// Whether one of its gauges lies across the load.
pub fn has_transverse_gauge(bridge: &Bridge) -> bool {
    matches!(bridge.circuit, Circuit::HalfAxialAndTransverse | Circuit::FullAxialAndTransverse)
}

/// Keys of `[channel.bridge]` that exclude each other, and keys that others call for.
pub fn contradictions(bridge: &Bridge) -> [(bool, &'static str); 7] {
    let circuit = bridge.circuit;
    // Four conductors: the bridge is whole at the part.
    let is_remote = matches!(
        circuit,
        Circuit::FullBending | Circuit::FullAxialAndTransverse | Circuit::FullTorsion | Circuit::OppositeArms
    );
    let has_transverse_gauge = has_transverse_gauge(bridge);
    let has_output_lead = !matches!(circuit, Circuit::Quarter | Circuit::QuarterTwoWire);
    let has_lead = bridge.lead_ohm.is_some();
    let has_output_ohm = bridge.output_lead_ohm.is_some();
    [
        (
            !is_remote && has_lead == (circuit == Circuit::Quarter),
            "\"quarter three-wire\", \"quarter two-wire\" and the half bridges need lead_ohm, \"quarter\" has none",
        ),
        (
            is_remote && !has_lead && !bridge.remote_sense,
            "full bridges and \"opposite arms\" need lead_ohm of the excitation's leads, or remote_sense = true",
        ),
        (
            bridge.remote_sense && !is_remote,
            "remote_sense goes with full bridges and \"opposite arms\": \
             this bridge is completed at the instrument",
        ),
        (
            has_output_ohm && bridge.input_ohm.is_none(),
            "output_lead_ohm matters beside input_ohm only: without, no current flows there",
        ),
        (
            has_output_ohm && !has_output_lead,
            "this circuit has no lead to the output: leave output_lead_ohm out",
        ),
        (
            has_transverse_gauge && bridge.poisson_ratio.is_none(),
            "an axial and a transverse gauge need poisson_ratio, of the part",
        ),
        (
            !has_transverse_gauge && bridge.poisson_ratio.is_some(),
            "poisson_ratio goes with an axial and a transverse gauge: this circuit has no transverse gauge",
        ),
    ]
}
