//! Follows the grooves of a carved nut from row to row: each start is one way from the bottom face to the top. Lengths in
//! mm, angles in radians.

use std::f64::consts::TAU;

use super::rows::{Groove, RowSeen};

/// A groove that is followed moves from row to row by no more than this share of the pitch.
const GATE_SHARE: f64 = 0.25;
/// Fewer rows than this are no groove but a scratch.
const LEAST_ROWS: usize = 6;

/// A flank is cut by moments of the cutter up to so far on either side of the row.
const BESIDE_RAD: f64 = 0.4;

/// A groove at a row, the angle counted on as the groove is followed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Node {
    pub(super) angle: f64,
    pub(super) groove: Groove,
}

/// One start: its grooves in the order of their angles.
#[derive(Clone, Debug)]
pub(super) struct Start {
    pub(super) nodes: Vec<Node>,
    /// Height at angle zero and rise for a radian, fitted to the nodes.
    pub(super) height: f64,
    pub(super) rise: f64,
}

impl Start {
    fn fitted(nodes: Vec<Node>) -> Start {
        let means = means(&nodes);
        let rise = means.product / means.angle_square;
        Start { nodes, height: means.z - rise * means.angle, rise }
    }

    /// The longest stretch of it that is cut to this radius, all of it if there is none: where a groove runs out it leaves its
    /// helix too.
    pub(super) fn deep(self, radius: f64) -> Start {
        let deep = |node: &Node| node.groove.root >= radius;
        let longest = self.nodes.split(|node| !deep(node)).max_by_key(|stretch| stretch.len());
        let Some((first, last)) =
            longest.and_then(|stretch| Some((stretch.first()?.angle, stretch.last()?.angle)))
        else {
            return self;
        };
        let [start, end] = [self.nodes[0].angle, self.nodes[self.nodes.len() - 1].angle];
        let from = if first > start { first + BESIDE_RAD } else { first };
        let to = if last < end { last - BESIDE_RAD } else { last };
        let whole: Vec<Node> =
            self.nodes.iter().filter(|node| (from..=to).contains(&node.angle)).copied().collect();
        if whole.len() >= LEAST_ROWS { Start::fitted(whole) } else { self }
    }

    /// The fitted height at an angle that counts on.
    pub(super) fn z(&self, angle: f64) -> f64 {
        self.height + self.rise * angle
    }

    /// The angle at which the fitted helix passes a height.
    pub(super) fn angle(&self, z: f64) -> f64 {
        (z - self.height) / self.rise
    }
}

/// Mean and spread of angles and heights.
struct Means {
    angle: f64,
    z: f64,
    angle_square: f64,
    product: f64,
}

fn means(nodes: &[Node]) -> Means {
    let n = nodes.len() as f64;
    let angle = nodes.iter().map(|node| node.angle).sum::<f64>() / n;
    let z = nodes.iter().map(|node| node.groove.middle).sum::<f64>() / n;
    let angle_square = nodes.iter().map(|node| (node.angle - angle).powi(2)).sum();
    let product = nodes.iter().map(|node| (node.angle - angle) * (node.groove.middle - z)).sum();
    Means { angle, z, angle_square, product }
}

/// Rise for a radian, fitted to all starts together.
pub(super) fn common_rise(starts: &[Start]) -> f64 {
    let (product, square) = starts
        .iter()
        .map(|start| means(&start.nodes))
        .fold((0.0, 0.0), |sums, means| (sums.0 + means.product, sums.1 + means.angle_square));
    product / square
}

/// The starts of a nut, each as its longest way; empty if there is no thread. `pitch` is what the drawing has.
pub(super) fn follow(rows: &[RowSeen], pitch: f64) -> Vec<Start> {
    let count = rows.len();
    let gate = GATE_SHARE * pitch;
    // For each groove, the one in the next row that it runs into.
    let next: Vec<Vec<Option<usize>>> = (0..count)
        .map(|row| {
            let ahead = &rows[(row + 1) % count].grooves;
            let into = |groove: &Groove| {
                let off = |other: &Groove| (other.middle - groove.middle).abs();
                let nearest = (0..ahead.len()).min_by(|&a, &b| off(&ahead[a]).total_cmp(&off(&ahead[b])))?;
                (off(&ahead[nearest]) <= gate).then_some(nearest)
            };
            rows[row].grooves.iter().map(into).collect()
        })
        .collect();
    let mut entered: Vec<Vec<bool>> = rows.iter().map(|row| vec![false; row.grooves.len()]).collect();
    for (row, nexts) in next.iter().enumerate() {
        for &groove in nexts.iter().flatten() {
            entered[(row + 1) % count][groove] = true;
        }
    }
    let total: usize = rows.iter().map(|row| row.grooves.len()).sum();
    let mut ways = Vec::new();
    for row in 0..count {
        for groove in (0..rows[row].grooves.len()).filter(|&groove| !entered[row][groove]) {
            let mut nodes = Vec::new();
            let (mut at, mut here, mut turns) = (row, Some(groove), 0.0);
            while let Some(groove) = here.filter(|_| nodes.len() < total) {
                nodes.push(Node { angle: rows[at].angle + turns * TAU, groove: rows[at].grooves[groove] });
                here = next[at][groove];
                at += 1;
                if at == count {
                    (at, turns) = (0, turns + 1.0);
                }
            }
            if nodes.len() >= LEAST_ROWS {
                ways.push(Start::fitted(nodes));
            }
        }
    }
    apart(ways, pitch)
}

/// Ways that are pieces of one groove are one start: those whose heights at the same angle differ by whole leads. The
/// longest piece stands for it.
fn apart(mut ways: Vec<Start>, pitch: f64) -> Vec<Start> {
    ways.sort_by_key(|way| std::cmp::Reverse(way.nodes.len()));
    let mut starts: Vec<Start> = Vec::new();
    for way in ways {
        let middle = way.nodes[way.nodes.len() / 2];
        let same = |start: &Start| {
            let lead = (start.rise * TAU).abs();
            if lead <= 0.0 {
                return true;
            }
            let off = middle.groove.middle - start.z(middle.angle);
            (off - (off / lead).round() * lead).abs() < GATE_SHARE * pitch.min(lead)
        };
        if !starts.iter().any(same) {
            starts.push(way);
        }
    }
    starts
}
