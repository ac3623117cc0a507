//! The whole circuit as nodes and branches: for what the short form of [`super::network`] has no place for,
//! a shunt through the leads, a broken wire.
//!
//! Solved by counting trees (Kirchhoff 1847; from memory). Choose branches that form two trees, one with each terminal of the
//! source, which together reach every node; multiply the resistances of the branches that are not chosen. The voltage from node A
//! to node B is the sum of these products over all choices with A in the positive terminal's tree and B in the other, less
//! the sum with A and B exchanged; the sum over all choices is the voltage of the source in the same unit. All terms are positive,
//! so resistances that are decades apart cost no digits, and a wire of no resistance is no special case. The one difference
//! is the bridge's own: both of its sides are voltages below that of the source.

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
    pub fn of(bridge: &Bridge, elements: [f64; 4], broken: Option<Wire>) -> Self {
        let cut = |wire: Wire, ohms: f64| if broken == Some(wire) { f64::INFINITY } else { ohms };
        use Node::{Bottom, InputMinus, InputPlus, Left, Right, SourceMinus, SourcePlus, Top};
        let (lead_1, lead_2) = bridge.arm_leads();
        let each = |both: f64| both / 2.0;
        let mut nodal = Self {
            branches: [(SourcePlus, SourceMinus, 0.0); BRANCHES],
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

    /// One more branch; an infinite resistance is none.
    pub fn connect(&mut self, from: Node, to: Node, ohms: f64) {
        if ohms != f64::INFINITY {
            self.branches[self.used] = (from, to, ohms);
            self.used += 1;
        }
    }

    /// The output over the excitation (or over what is sensed at the corners). `None` where an output
    /// terminal hangs free or nothing is excited.
    pub fn ratio(&self) -> Option<f64> {
        let (mut output, mut corners, mut source) = (Difference::default(), Difference::default(), 0.0);
        for chosen in 0u32..1 << self.used {
            if chosen.count_ones() as usize == NODES - 2 {
                let Some((tree, product)) = self.two_trees(chosen) else { continue };
                source += product;
                output.add(tree, (Node::InputPlus, Node::InputMinus), product);
                corners.add(tree, (Node::Top, Node::Bottom), product);
            }
        }
        let excitation = if self.sensed_at_corners { corners.value() } else { source };
        if excitation == 0.0 { None } else { Some(output.value() / excitation) }
    }

    /// Where the chosen branches make two trees that reach every node and keep the terminals of the source apart: the nodes
    /// of the tree of the positive terminal, a bit each, and the product of all resistances that are not chosen.
    fn two_trees(&self, chosen: u32) -> Option<(u8, f64)> {
        let mut trees: [u8; NODES] = core::array::from_fn(|node| 1 << node);
        let mut product = 1.0;
        for (k, (from, to, ohms)) in self.branches[..self.used].iter().enumerate() {
            if chosen & (1 << k) == 0 {
                product *= ohms;
                continue;
            }
            let (one, other) = (trees[*from as usize], trees[*to as usize]);
            if one == other {
                return None; // a loop
            }
            for (node, tree) in trees.iter_mut().enumerate() {
                if (one | other) & (1 << node) != 0 {
                    *tree = one | other;
                }
            }
        }
        let tree = trees[Node::SourcePlus as usize];
        (tree & Node::SourceMinus.bit() == 0).then_some((tree, product))
    }
}

/// A voltage between two nodes as the difference of two sums of positive terms.
#[derive(Default)]
struct Difference {
    more: f64,
    less: f64,
}

impl Difference {
    fn add(&mut self, tree: u8, (plus, minus): (Node, Node), product: f64) {
        match (tree & plus.bit() != 0, tree & minus.bit() != 0) {
            (true, false) => self.more += product,
            (false, true) => self.less += product,
            _ => {}
        }
    }

    fn value(&self) -> f64 {
        self.more - self.less
    }
}
