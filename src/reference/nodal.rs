//! The whole circuit as nodes and branches: for what the short form of [`super::network`] has no place for,
//! a shunt through the leads, a broken wire.

use crate::channel::{Arm, Bridge, Wire, Wiring};

/// Where a wire can be put: the terminals of the instrument and the corners of the bridge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) enum Node {
    /// Excitation terminals of the instrument.
    SourcePlus,
    SourceMinus,
    /// Output terminals of the instrument.
    InputPlus,
    InputMinus,
    /// Corners of the bridge.
    Top,
    Bottom,
    Left,
    Right,
}

impl Arm {
    /// The terminals of the instrument between which the arm lies.
    pub(crate) const fn terminals(self) -> (Node, Node) {
        match self {
            Self::One => (Node::InputPlus, Node::SourceMinus),
            Self::Two => (Node::SourcePlus, Node::InputPlus),
            Self::Three => (Node::SourcePlus, Node::InputMinus),
            Self::Four => (Node::InputMinus, Node::SourceMinus),
        }
    }
}

const NODES: usize = 8;
const BRANCHES: usize = 12;

/// Branches between nodes, an open one left out, a wire of no resistance joining its nodes.
#[derive(Clone, Copy, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct Nodal {
    branches: [Option<(Node, Node, f64)>; BRANCHES],
    used: usize,
    sensed_at_corners: bool,
}

impl Nodal {
    /// A bridge with these resistances in its arms (leads apart), with its leads and the instrument.
    pub fn of(bridge: &Bridge, elements: [f64; 4], broken: Option<Wire>) -> Self {
        let cut = |wire: Wire, ohms: f64| if broken == Some(wire) { f64::INFINITY } else { ohms };
        use Node::{Bottom, InputMinus, InputPlus, Left, Right, SourceMinus, SourcePlus, Top};
        let (lead_1, lead_2) = bridge.arm_leads();
        let each = |both: f64| both / 2.0;
        let mut nodal = Self {
            branches: [None; BRANCHES],
            used: 0,
            sensed_at_corners: bridge.wiring == Wiring::Full && bridge.remote_sense,
        };
        let excitation = if bridge.wiring == Wiring::Full { bridge.lead } else { 0.0 };
        nodal.connect(SourcePlus, Top, cut(Wire::Excitation, excitation));
        nodal.connect(SourceMinus, Bottom, excitation);
        nodal.connect(Left, Bottom, cut(Wire::ArmOne, elements[0] + lead_1));
        nodal.connect(Top, Left, cut(Wire::ArmTwo, elements[1] + lead_2));
        nodal.connect(Top, Right, elements[2]);
        nodal.connect(Right, Bottom, elements[3]);
        let output = bridge.output_resistance();
        match bridge.wiring {
            Wiring::Full => {
                nodal.connect(Left, InputPlus, cut(Wire::Output, each(output)));
                nodal.connect(Right, InputMinus, each(output));
            }
            Wiring::TwoWire | Wiring::ThreeWire => {
                nodal.connect(Left, InputPlus, cut(Wire::Output, output));
                nodal.connect(Right, InputMinus, 0.0);
            }
        }
        if let Some(input) = bridge.input {
            nodal.connect(InputPlus, InputMinus, input);
        }
        nodal
    }

    /// One more branch; infinite is none.
    pub fn connect(&mut self, from: Node, to: Node, ohms: f64) {
        if ohms.is_finite() {
            self.branches[self.used] = Some((from, to, ohms));
            self.used += 1;
        }
    }

    /// The output over the excitation (or over what is sensed at the corners). `None` where an output
    /// terminal hangs free or nothing is excited.
    pub fn ratio(&self) -> Option<f64> {
        let across = self.difference(Node::InputPlus, Node::InputMinus)?;
        let excitation = if self.sensed_at_corners { self.difference(Node::Top, Node::Bottom)? } else { 1.0 };
        if excitation.abs() < 1e-9 { None } else { Some(across / excitation) }
    }

    /// The voltage between two nodes for one volt of excitation, within a few units in the last place of a volt for
    /// resistances of any size. `None` where it is undetermined.
    ///
    /// Every other node is eliminated as a star of conductances that becomes a mesh: sums, products and quotients of positive
    /// numbers, so that no digit is lost beside a conductance that is larger or smaller by many decades. What is left is a
    /// bridge of four conductances and one across, and its output is the difference of two products.
    fn difference(&self, a: Node, b: Node) -> Option<f64> {
        let joined = self.joined();
        let [plus, minus, a, b] =
            [Node::SourcePlus, Node::SourceMinus, a, b].map(|node| joined[node as usize]);
        if plus == minus {
            return None;
        }
        if a == b {
            return Some(0.0);
        }
        let mut conductance = [[0.0; NODES]; NODES];
        for (from, to, ohms) in self.branches.iter().flatten() {
            let (from, to) = (joined[*from as usize], joined[*to as usize]);
            if from != to {
                conductance[from][to] += 1.0 / ohms;
                conductance[to][from] = conductance[from][to];
            }
        }
        for star in (0..NODES).filter(|node| ![plus, minus, a, b].contains(node)) {
            let rays = core::mem::take(&mut conductance[star]);
            let all: f64 = rays.iter().sum();
            for (k, row) in conductance.iter_mut().enumerate() {
                row[star] = 0.0;
                if rays[k] > 0.0 {
                    for (other, entry) in row.iter_mut().enumerate().filter(|(other, _)| *other != k) {
                        *entry += rays[k] * (rays[other] / all);
                    }
                }
            }
        }
        // A terminal that is joined to the excitation has its voltage; the other one is divided.
        let divided =
            |node: usize| conductance[node][plus] / (conductance[node][plus] + conductance[node][minus]);
        let (upper, lower) = (conductance[a], conductance[b]);
        let difference = match [a, b].map(|node| (node == plus, node == minus)) {
            [(true, _), (_, true)] => 1.0,
            [(_, true), (true, _)] => -1.0,
            [(true, _), _] => lower[minus] / (lower[plus] + lower[minus]),
            [(_, true), _] => -divided(b),
            [_, (true, _)] => -upper[minus] / (upper[plus] + upper[minus]),
            [_, (_, true)] => divided(a),
            _ => {
                let (own_a, own_b) = (upper[plus] + upper[minus], lower[plus] + lower[minus]);
                (upper[plus] * lower[minus] - upper[minus] * lower[plus])
                    / (own_a * own_b + upper[b] * (own_a + own_b))
            }
        };
        difference.is_finite().then_some(difference)
    }

    /// The node that each node is one with: a wire of no resistance joins its ends.
    fn joined(&self) -> [usize; NODES] {
        let mut joined = core::array::from_fn(|node| node);
        for (from, to, ohms) in self.branches.iter().flatten() {
            // Beside the smallest gauge, of an ohm, a shorter wire is none, and products of its conductance might overflow.
            if *ohms < 1e-100 {
                let (keep, drop) = (joined[*from as usize], joined[*to as usize]);
                for node in &mut joined {
                    if *node == drop {
                        *node = keep;
                    }
                }
            }
        }
        joined
    }
}
