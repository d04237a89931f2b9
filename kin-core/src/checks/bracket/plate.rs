//! Stresses in tabs and welds, by plain plate formulas.

use super::question::{BracketQuestion, Weld};

/// A way in which a tab or its weld may give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlateEffect {
    /// Pull and bending at the root of the tabs.
    Root,
    /// Pull in the section through the hole.
    NetSection,
    /// The bolt tears out to the edge.
    TearOut,
    /// The throat of the weld.
    Weld,
}

impl PlateEffect {
    /// The words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Root => "bending of the tabs at their root",
            Self::NetSection => "pull in the section through the hole",
            Self::TearOut => "tearing out to the edge",
            Self::Weld => "throat of the weld",
        }
    }
}

/// One effect in numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateStress {
    /// What happens.
    pub effect: PlateEffect,
    /// Nominal stress (MPa).
    pub stress: f64,
    /// The limit (MPa).
    pub limit: f64,
}

/// The effects on tabs and weld, in a fixed order.
///
/// With n tabs of width w and thickness t, the hole d at the height h over the root and e from the edge:
/// root `P/(n w t) + 6 A h/(n t w^2) + 6 S h/(n w t^2)`, each tab a plate built in at its root;
/// net section `P / (n (w - d) t)`; tear-out `F / (2 n t (e - d/2))` on two planes, F the force in the plane of the tabs,
/// against yield over the root of three. P outward, A across, S sideways, each times the load factor and by size: what is
/// pushed in bump is pulled in rebound.
pub(super) fn stresses(question: &BracketQuestion, hole: f64) -> Vec<PlateStress> {
    let tabs = f64::from(question.tabs);
    let (width, thickness, height) = (question.width, question.thickness, question.height);
    let factor = question.load_factor;
    let outward = (factor * question.force.outward).abs();
    let across = (factor * question.force.across).abs();
    let sideways = (factor * question.force.sideways).abs();
    let stress = |effect, stress, limit| PlateStress {
        effect,
        stress,
        limit,
    };
    let mut found = vec![stress(
        PlateEffect::Root,
        outward / (tabs * width * thickness)
            + 6.0 * across * height / (tabs * thickness * width * width)
            + 6.0 * sideways * height / (tabs * width * thickness * thickness),
        question.yielding,
    )];
    if width > hole {
        found.push(stress(
            PlateEffect::NetSection,
            outward / (tabs * (width - hole) * thickness),
            question.yielding,
        ));
    }
    let ligament = question.edge_distance - 0.5 * hole;
    if ligament > 0.0 {
        found.push(stress(
            PlateEffect::TearOut,
            outward.hypot(across) / (2.0 * tabs * thickness * ligament),
            question.yielding / 3.0_f64.sqrt(),
        ));
    }
    if let Some(weld) = &question.weld {
        let direct = weld_direct(weld, tabs, factor * question.force.size());
        found.push(stress(
            PlateEffect::Weld,
            direct + weld_bending(weld, tabs, thickness, across * height, sideways * height),
            weld.limit(),
        ));
    }
    found
}

/// Force over the area of the throats (MPa): the throat of a fillet is its leg over the root of two.
pub(super) fn weld_direct(weld: &Weld, tabs: f64, force: f64) -> f64 {
    force / (tabs * throat(weld) * weld.length_per_tab)
}

fn throat(weld: &Weld) -> f64 {
    weld.leg / 2.0_f64.sqrt()
}

/// Bending of the weld (MPa), its run laid in two equal lines along both faces of the tab.
///
/// With the throat a and the run L: section modulus `a L^2 / 12` edgewise, `a L t / 2` flatwise.
fn weld_bending(weld: &Weld, tabs: f64, thickness: f64, edgewise: f64, flatwise: f64) -> f64 {
    let run = weld.length_per_tab;
    let (throat, tabs) = (throat(weld), tabs.max(1.0));
    edgewise / (tabs * throat * run * run / 12.0) + flatwise / (tabs * throat * run * thickness / 2.0)
}
