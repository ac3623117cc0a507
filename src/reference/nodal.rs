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
        // Beside the conductance of a shorter wire the others lose more digits than it is worth.
        let wire = |ohms: f64| if ohms < 1e-8 * bridge.gauge { 0.0 } else { ohms };
        let mut nodal = Self {
            branches: [None; BRANCHES],
            used: 0,
            sensed_at_corners: bridge.wiring == Wiring::Full && bridge.remote_sense,
        };
        let excitation = if bridge.wiring == Wiring::Full { wire(bridge.lead) } else { 0.0 };
        nodal.connect(SourcePlus, Top, cut(Wire::Excitation, excitation));
        nodal.connect(SourceMinus, Bottom, excitation);
        nodal.connect(Left, Bottom, cut(Wire::ArmOne, elements[0] + lead_1));
        nodal.connect(Top, Left, cut(Wire::ArmTwo, elements[1] + lead_2));
        nodal.connect(Top, Right, elements[2]);
        nodal.connect(Right, Bottom, elements[3]);
        let output = wire(bridge.output_resistance());
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
        let mut joined = [0; NODES];
        for (i, node) in joined.iter_mut().enumerate() {
            *node = i;
        }
        // A wire of no resistance makes two nodes one.
        for (from, to, ohms) in self.branches.iter().flatten() {
            if *ohms == 0.0 {
                let (keep, drop) = (joined[*from as usize], joined[*to as usize]);
                for node in &mut joined {
                    if *node == drop {
                        *node = keep;
                    }
                }
            }
        }
        let at = |node: Node| joined[node as usize];
        let (plus, minus) = (at(Node::SourcePlus), at(Node::SourceMinus));
        if plus == minus {
            return None;
        }
        // Currents out of each node sum to zero; the source terminals are held at one and zero volts.
        let mut matrix = [[0.0; NODES]; NODES];
        let mut current = [0.0; NODES];
        for (from, to, ohms) in self.branches.iter().flatten() {
            let (from, to) = (at(*from), at(*to));
            if *ohms > 0.0 && from != to {
                for (here, there) in [(from, to), (to, from)] {
                    matrix[here][here] += 1.0 / ohms;
                    matrix[here][there] -= 1.0 / ohms;
                }
            }
        }
        for held in [plus, minus] {
            matrix[held] = [0.0; NODES];
            matrix[held][held] = 1.0;
        }
        current[plus] = 1.0;
        let voltage = solve(matrix, current);
        let of = |node: Node| voltage[at(node)];
        let across = of(Node::InputPlus)? - of(Node::InputMinus)?;
        let excitation = if self.sensed_at_corners { of(Node::Top)? - of(Node::Bottom)? } else { 1.0 };
        if excitation.abs() < 1e-9 { None } else { Some(across / excitation) }
    }
}

/// Gaussian elimination with row exchange; `None` for a node that nothing determines.
fn solve(mut a: [[f64; NODES]; NODES], mut b: [f64; NODES]) -> [Option<f64>; NODES] {
    let mut pivot_row = [None; NODES];
    let mut row = 0;
    for column in 0..NODES {
        let best = (row..NODES).max_by(|&i, &j| a[i][column].abs().total_cmp(&a[j][column].abs()));
        let Some(best) = best.filter(|&best| a[best][column].abs() > 1e-16) else { continue };
        a.swap(row, best);
        b.swap(row, best);
        for other in 0..NODES {
            if other != row && a[other][column] != 0.0 {
                let factor = a[other][column] / a[row][column];
                let pivot = a[row];
                for (entry, pivot) in a[other].iter_mut().zip(pivot).skip(column) {
                    *entry -= factor * pivot;
                }
                b[other] -= factor * b[row];
            }
        }
        pivot_row[column] = Some(row);
        row += 1;
    }
    let mut solution = [None; NODES];
    for column in 0..NODES {
        if let Some(row) = pivot_row[column] {
            // A node that floats with another has no voltage of its own.
            let alone = (0..NODES).all(|k| k == column || pivot_row[k].is_some() || a[row][k].abs() < 1e-16);
            if alone {
                solution[column] = Some(b[row] / a[row][column]);
            }
        }
    }
    solution
}
