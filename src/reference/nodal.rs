//! The whole circuit as nodes and branches: for what the short form of [`super::network`] has no place for,
//! a shunt through the leads.
//!
//! Solved by counting trees (Kirchhoff 1847; from memory). Choose branches that form two trees, one with each terminal of the
//! source, which together reach every node; multiply the resistances of the branches that are not chosen. The voltage from node A
//! to node B is the sum of these products over all choices with A in the positive terminal's tree and B in the other, less
//! the sum with A and B exchanged; the sum over all choices is the voltage of the source in the same unit. All terms are positive,
//! so resistances that are decades apart cost no digits, and a wire of no resistance is no special case. The one difference
//! is the bridge's own: both of its sides are voltages below that of the source.

use crate::channel::{Arm, Bridge, Wiring};

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

impl Node {
    const fn bit(self) -> u8 {
        1 << self as u8
    }
}

const NODES: usize = 8;
/// Two excitation leads, four arms, two output leads, input and shunt.
const BRANCHES: usize = 10;

/// Branches between nodes; an open one is left out.
#[derive(Clone, Copy, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct Nodal {
    branches: [(Node, Node, f64); BRANCHES],
    used: usize,
    sensed_at_corners: bool,
}

impl Nodal {
    /// A bridge with these resistances in its arms (leads apart), with its leads and the instrument.
    pub const fn of(bridge: &Bridge, elements: [f64; 4]) -> Self {
        use Node::{Bottom, InputMinus, InputPlus, Left, Right, SourceMinus, SourcePlus, Top};
        let (lead_1, lead_2) = bridge.arm_leads();
        let is_full = matches!(bridge.wiring, Wiring::Full);
        let mut nodal = Self {
            branches: [(SourcePlus, SourceMinus, 0.0); BRANCHES],
            used: 0,
            sensed_at_corners: is_full && bridge.remote_sense,
        };
        let excitation = if is_full { bridge.lead } else { 0.0 };
        nodal.connect(SourcePlus, Top, excitation);
        nodal.connect(SourceMinus, Bottom, excitation);
        nodal.connect(Left, Bottom, elements[0] + lead_1);
        nodal.connect(Top, Left, elements[1] + lead_2);
        nodal.connect(Top, Right, elements[2]);
        nodal.connect(Right, Bottom, elements[3]);
        let output = bridge.output_resistance();
        match bridge.wiring {
            Wiring::Full => {
                nodal.connect(Left, InputPlus, output / 2.0);
                nodal.connect(Right, InputMinus, output / 2.0);
            }
            Wiring::TwoWire | Wiring::ThreeWire => {
                nodal.connect(Left, InputPlus, output);
                nodal.connect(Right, InputMinus, 0.0);
            }
        }
        if let Some(input) = bridge.input {
            nodal.connect(InputPlus, InputMinus, input);
        }
        nodal
    }

    /// One more branch.
    pub const fn connect(&mut self, from: Node, to: Node, ohms: f64) {
        self.branches[self.used] = (from, to, ohms);
        self.used += 1;
    }

    /// The output over the excitation (or over what is sensed at the corners). `None` where nothing is excited.
    pub const fn ratio(&self) -> Option<f64> {
        let (output, excitation) = self.voltages();
        if excitation == 0.0 { None } else { Some(output / excitation) }
    }

    /// The output and the excitation (or what is sensed at the corners), in the same unit. A straight line in each resistance.
    pub const fn voltages(&self) -> (f64, f64) {
        let (mut output, mut corners, mut source) = (Difference::NONE, Difference::NONE, 0.0);
        let mut chosen = 0u32;
        while chosen < 1 << self.used {
            if chosen.count_ones() as usize == NODES - 2 {
                if let Some((tree, product)) = self.two_trees(chosen) {
                    source += product;
                    output.add(tree, Node::InputPlus, Node::InputMinus, product);
                    corners.add(tree, Node::Top, Node::Bottom, product);
                }
            }
            chosen += 1;
        }
        (output.value(), if self.sensed_at_corners { corners.value() } else { source })
    }

    /// Where the chosen branches make two trees that reach every node and keep the terminals of the source apart: the nodes
    /// of the tree of the positive terminal, a bit each, and the product of all resistances that are not chosen.
    const fn two_trees(&self, chosen: u32) -> Option<(u8, f64)> {
        // The nodes that are joined to each, a bit for each.
        let mut trees: [u8; NODES] = [1, 2, 4, 8, 16, 32, 64, 128];
        let mut product = 1.0;
        let mut k = 0;
        while k < self.used {
            let (from, to, ohms) = self.branches[k];
            if chosen & (1 << k) == 0 {
                product *= ohms;
            } else {
                let (one, other) = (trees[from as usize], trees[to as usize]);
                if one == other {
                    return None; // a loop
                }
                let mut joined = one | other;
                while joined != 0 {
                    trees[joined.trailing_zeros() as usize] = one | other;
                    joined &= joined - 1;
                }
            }
            k += 1;
        }
        let tree = trees[Node::SourcePlus as usize];
        if tree & Node::SourceMinus.bit() == 0 { Some((tree, product)) } else { None }
    }
}

/// A voltage between two nodes as the difference of two sums of positive terms.
struct Difference {
    more: f64,
    less: f64,
}

impl Difference {
    const NONE: Self = Self { more: 0.0, less: 0.0 };

    const fn add(&mut self, tree: u8, plus: Node, minus: Node, product: f64) {
        match (tree & plus.bit() != 0, tree & minus.bit() != 0) {
            (true, false) => self.more += product,
            (false, true) => self.less += product,
            _ => {}
        }
    }

    const fn value(&self) -> f64 {
        self.more - self.less
    }
}
