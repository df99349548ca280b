//! The fastest passes within every limit. A thread is cut down a ladder of depths; every step from one rung to a deeper
//! one is a pass with its own greatest feed, so the fastest plan is a shortest way down the ladder. Times are those of one
//! start.

use rayon::prelude::*;
use serde::Serialize;

use super::bounds::{Bounds, Reach, Reason};
use super::ladder::{Cost, Ladder, NO_SHORTFALL};
use super::trip::{Kind, Trip};

/// Rungs of the ladder besides the ones a last pass may begin at: steps of a few hundredths of a millimetre, finer than
/// a shop sets Z.
const RUNGS: u32 = 96;
/// Share of a thread's depth that one pass may take; from nine tenths on the proof asks to think.
const DEEPEST_SHARE: f64 = 0.85;
/// A thread no deeper than this may be cut in one pass, mm (common practice, no source).
const SHALLOW_MM: f64 = 2.0;
/// Most passes that a plan may have.
pub const MOST_PASSES: usize = 12;
/// What a last light pass takes off each flank, mm, least and most; common practice, from memory.
pub const LIGHT_MM: [f64; 2] = [0.2, 0.4];
/// What it may take at most where less would burn, mm, in the order in which they are tried.
const HEAVIER_MM: [f64; 4] = [LIGHT_MM[1], 0.6, 0.8, 1.2];
/// Rungs at which a light pass may begin.
const LIGHT_RUNGS: u32 = 5;
/// Steps of spindle speed that are tried, rev/min: a dial is not set finer.
const RPM_STEP: f64 = 500.0;
/// Slowest spindle speed that is tried where the machine names none, rev/min.
const SLOWEST_RPM: f64 = 2000.0;
/// Two plans whose times differ by less than this share are equally fast; the one farther from burning and tearing wins.
const AS_FAST: f64 = 0.005;
/// Share of a pass's time that is given for passes of even load, where one takes all the wood: where an axis sets the feed of
/// all, time alone does not say how they share the wood.
const EVEN_SHARE: f64 = 0.05;
/// What a plan has to keep to besides the limits.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ask {
    /// Spindle speed, if it is given.
    pub rpm: Option<f64>,
    /// One feed for all passes, if it is given.
    pub feed_mm_per_min: Option<f64>,
    /// Feed of the flank passes, if it is given.
    pub flank_feed_mm_per_min: Option<f64>,
    /// Number of passes down the middle, if it is given.
    pub count: Option<usize>,
    /// Their depths, if they are given.
    pub depths_mm: Option<Vec<f64>>,
    /// Smallest step of depth.
    pub least_step_mm: f64,
    /// How far beside the middle the flank passes run; zero without.
    pub flank_aside_mm: f64,
    /// Feeds are set in steps of this.
    pub feed_step_mm_per_min: f64,
}

/// A pass of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Planned {
    /// The pass.
    pub trip: Trip,
    /// What keeps it from running faster.
    pub reason: Reason,
    /// Feed below which its chips burn.
    pub least_mm_per_min: f64,
    /// Greatest feed within the limits.
    pub most_mm_per_min: f64,
    /// How far the feed is out of that range: above 1 it burns, or is past a limit.
    pub pinch: f64,
}

/// A plan for one start.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Plan {
    /// Spindle speed.
    pub rpm: f64,
    /// The passes in order, spring passes not counted.
    pub passes: Vec<Planned>,
    /// Minutes of one start, about.
    pub minutes: f64,
    /// What the last pass down the middle takes off each flank, mm, where others came before it and no flank passes follow.
    pub last_off_flank_mm: Option<f64>,
}

impl Plan {
    /// Whether every pass keeps every limit.
    pub fn keeps(&self) -> bool {
        self.passes.iter().all(|pass| pass.pinch <= 1.0 + PINCHED)
    }

    /// Whether the last of several passes down the middle takes more than a light pass, and no flank passes follow.
    pub fn is_heavy(&self) -> bool {
        self.last_off_flank_mm.is_some_and(|off| off > LIGHT_MM[1] + SAME_MM)
    }

    /// The pass with the least room between burning and the limits.
    pub fn tightest(&self) -> Option<&Planned> {
        self.passes.iter().max_by(|a, b| a.pinch.total_cmp(&b.pinch))
    }
}

/// A pinch this little above one is rounding of the feed to its step.
const PINCHED: f64 = 0.02;

/// A pass with its price.
#[derive(Clone, Copy, Debug)]
struct Priced {
    feed: f64,
    reason: Reason,
    least: f64,
    most: f64,
    pinch: f64,
    cost: Cost,
}

/// A pass before its spindle speed is known.
#[derive(Clone, Copy, Debug)]
struct Step {
    depth_mm: f64,
    /// Share of the groove that it cuts.
    share: f64,
    reach: Reach,
}

/// The search for one job.
pub struct Search<'a> {
    bounds: &'a Bounds,
    ask: &'a Ask,
    rungs_mm: Vec<f64>,
    /// Every step, by upper and lower rung; none where one is not allowed.
    steps: Vec<Vec<Option<Step>>>,
    /// Section of the whole groove.
    section_mm2: f64,
}

impl<'a> Search<'a> {
    /// Works out what every step of the ladder meets.
    pub fn new(bounds: &'a Bounds, ask: &'a Ask) -> Self {
        let full = bounds.full_mm();
        let even = (0..=RUNGS).map(|i| full * f64::from(i) / f64::from(RUNGS));
        let trip = |depth_mm: f64| Trip { kind: Kind::Depth, depth_mm, aside_mm: 0.0, feed_mm_per_min: 0.0 };
        let section_mm2 = bounds.met(&trip(full), 0.0).whole.area_mm2;
        let mut search = Search { bounds, ask, rungs_mm: Vec::new(), steps: Vec::new(), section_mm2 };
        let [from, to] = search.begins_light(LIGHT_MM[1]);
        let fine = (0..LIGHT_RUNGS)
            .map(|i| from + (to - from) * f64::from(i) / f64::from(LIGHT_RUNGS - 1))
            .filter(|&depth| depth > 0.0);
        let mut rungs_mm: Vec<f64> = even.chain(fine).collect();
        rungs_mm.sort_by(f64::total_cmp);
        rungs_mm.dedup();
        let deepest = rungs_mm.last().copied().unwrap_or(full);
        search.steps = rungs_mm
            .par_iter()
            .enumerate()
            .map(|(upper, &from)| {
                rungs_mm[upper..].iter().map(|&to| search.rung_step(from, to, to == deepest)).collect()
            })
            .collect();
        search.rungs_mm = rungs_mm;
        search
    }

    /// The better of two plans: the one whose feeds fall less short of what does not burn. Of two that fall short alike the
    /// one with the slower spindle: the same chips, and less heat. Else the faster.
    pub fn better(one: Plan, other: Plan) -> Plan {
        let (cost, others) = (Self::cost(&one), Self::cost(&other));
        let alike = (cost.short - others.short).abs() <= NO_SHORTFALL;
        let better = if alike && !one.keeps() && one.rpm != other.rpm {
            other.rpm < one.rpm
        } else {
            others.beats(cost)
        };
        if better { other } else { one }
    }

    /// The best plan over all spindle speeds that may be used. It ends with a pass as light as does not burn at one of them.
    pub fn best(&self) -> Plan {
        let ladders: Vec<Ladder> = self.speeds().into_par_iter().map(|rpm| self.ladder(rpm)).collect();
        Self::lightest(|off_flank_mm| self.best_of(&ladders, off_flank_mm)).unwrap_or_default()
    }

    /// The best plans at a spindle speed with so many passes each, ending with passes as light as do not burn.
    /// `None` where so many do not fit, or one would have to take more than a pass bears.
    pub fn at_speed(&self, rpm: f64, counts: &[usize]) -> Vec<Option<Plan>> {
        let ladder = self.ladder(rpm);
        let bears = |count: usize| count > 1 || self.bears(self.bounds.full_mm());
        let lightest = |&count| {
            let on = |off_flank_mm| self.on(&ladder, Some(count), off_flank_mm);
            Self::lightest(on).filter(|_| bears(count))
        };
        counts.iter().map(lightest).collect()
    }

    /// The first plan that keeps its limits when the last pass may take ever more. A heavier last pass is there to save the
    /// wood from burning: where it burns all the same, the last pass stays as light as it can be.
    fn lightest(of: impl Fn(Option<f64>) -> Option<Plan>) -> Option<Plan> {
        let mut first: Option<Plan> = None;
        for off_flank_mm in HEAVIER_MM.map(Some).into_iter().chain([None]) {
            let Some(plan) = of(off_flank_mm) else { continue };
            if plan.keeps() {
                return Some(plan);
            }
            first = first.or(Some(plan));
        }
        first
    }

    fn best_of(&self, ladders: &[Ladder], off_flank_mm: Option<f64>) -> Option<Plan> {
        let on = |ladder: &Ladder| self.on(ladder, self.ask.count, off_flank_mm);
        let plans: Vec<Plan> = ladders.iter().filter_map(on).collect();
        let best = plans.iter().cloned().reduce(Self::better)?;
        if !best.keeps() {
            return Some(best);
        }
        let fastest = Self::cost(&best);
        let as_good = |plan: &&Plan| {
            let cost = Self::cost(plan);
            cost.short <= fastest.short + NO_SHORTFALL && cost.minutes <= fastest.minutes * (1.0 + AS_FAST)
        };
        let tighter = |a: &&Plan, b: &&Plan| self.tightness(a).total_cmp(&self.tightness(b));
        plans.iter().filter(as_good).min_by(tighter).cloned()
    }

    /// The spindle speeds to try.
    pub fn speeds(&self) -> Vec<f64> {
        if let Some(rpm) = self.ask.rpm {
            return vec![rpm];
        }
        let spindle = &self.bounds.setup.machine.spindle;
        let least = spindle.least_rpm.max(SLOWEST_RPM.min(spindle.top_rpm));
        let first = (least / RPM_STEP).ceil();
        let count = ((spindle.top_rpm / RPM_STEP).floor() - first).max(0.0) as u32;
        let round =
            (0..=count).map(|i| (first + f64::from(i)) * RPM_STEP).filter(|rpm| *rpm <= spindle.top_rpm);
        let mut speeds: Vec<f64> = std::iter::once(least).chain(round).collect();
        speeds.dedup();
        speeds
    }

    /// The best plan on a ladder with so many passes down the middle, or with as many as are best; `None` when so many do not fit.
    /// `off_flank_mm` is what the last of several may take off each flank; `None` for whatever is fastest. Where flank
    /// passes follow, they clean the flanks.
    fn on(&self, ladder: &Ladder, count: Option<usize>, off_flank_mm: Option<f64>) -> Option<Plan> {
        let full = self.bounds.full_mm();
        let depths = match (&self.ask.depths_mm, count) {
            (Some(depths), _) => depths.clone(),
            (None, Some(1)) => vec![full],
            _ => {
                let light =
                    off_flank_mm.filter(|_| self.ask.flank_aside_mm <= 0.0).map(|off| self.begins_light(off));
                ladder.down(count, light)?
            }
        };
        Some(self.plan(ladder.rpm, &depths))
    }

    /// What every step of the ladder costs at a spindle speed.
    fn ladder(&self, rpm: f64) -> Ladder {
        let given = self.ask.feed_mm_per_min;
        let cost = |step: &Option<Step>| step.as_ref().map(|step| self.price(rpm, step, given).cost);
        let prices = self.steps.iter().map(|row| row.iter().map(cost).collect()).collect();
        Ladder { rpm, rungs_mm: self.rungs_mm.clone(), prices }
    }

    /// Whether a step is not too much for one pass.
    pub fn bears(&self, step_mm: f64) -> bool {
        let full = self.bounds.full_mm();
        full <= SHALLOW_MM || step_mm <= DEEPEST_SHARE * full + SAME_MM
    }

    /// A step of the ladder; `None` for one that is not allowed.
    fn rung_step(&self, upper_mm: f64, lower_mm: f64, ends: bool) -> Option<Step> {
        // A thread shallower than the least step is cut all the same.
        let thin = lower_mm - upper_mm < self.ask.least_step_mm - SAME_MM && !(ends && upper_mm <= 0.0);
        if thin || !self.bears(lower_mm - upper_mm) {
            return None;
        }
        let trip = Trip { kind: Kind::Depth, depth_mm: lower_mm, aside_mm: 0.0, feed_mm_per_min: 0.0 };
        Some(self.step(&trip, upper_mm, ends && self.ask.flank_aside_mm <= 0.0))
    }

    /// A pass that finds a groove of that depth.
    fn step(&self, trip: &Trip, before_mm: f64, last: bool) -> Step {
        let met = self.bounds.met(trip, before_mm);
        let share = met.whole.area_mm2 / self.section_mm2;
        Step { depth_mm: trip.depth_mm, share, reach: self.bounds.reach(trip.depth_mm, &met, last) }
    }

    fn price(&self, rpm: f64, step: &Step, given: Option<f64>) -> Priced {
        let (most, reason) = step.reach.most(rpm);
        let least = step.reach.least(rpm);
        let (feed, reason) = given.map_or((most, reason), |feed| (feed, Reason::Given));
        let pinch = (least / feed).max(given.map_or(0.0, |feed| feed / most));
        let minutes = self.bounds.minutes(step.depth_mm, feed) * (1.0 + EVEN_SHARE * step.share * step.share);
        let cost = Cost { short: pinch.max(1.0).ln(), minutes };
        Priced { feed, reason, least, most, pinch, cost }
    }

    /// Depths, the deepest last, at which a last pass may begin that takes so much off each flank at most.
    fn begins_light(&self, off_flank_mm: f64) -> [f64; 2] {
        let depth_of = |off: f64| off / self.bounds.flank_per_depth();
        let thinnest = depth_of(LIGHT_MM[0]).max(self.ask.least_step_mm);
        let full = self.bounds.full_mm();
        [full - depth_of(off_flank_mm).max(thinnest), full - thinnest]
    }

    /// The plan that follows depths down the middle, flank passes after them, feeds set to their step.
    pub fn plan(&self, rpm: f64, depths_mm: &[f64]) -> Plan {
        let given = self.ask.feed_mm_per_min;
        self.plan_at(rpm, depths_mm, given, self.ask.flank_feed_mm_per_min.or(given))
    }

    /// The plan that follows depths at the one feed that keeps most of their limits, the least of their greatest ones, or at
    /// the one that is given.
    pub fn even(&self, rpm: f64, depths_mm: &[f64]) -> Plan {
        let free = self.plan_at(rpm, depths_mm, None, None);
        let least = free.passes.iter().map(|pass| pass.trip.feed_mm_per_min).reduce(f64::min);
        let feed = self.ask.feed_mm_per_min.or(least);
        self.plan_at(rpm, depths_mm, feed, self.ask.flank_feed_mm_per_min.or(feed))
    }

    fn plan_at(&self, rpm: f64, depths_mm: &[f64], feed: Option<f64>, flank_feed: Option<f64>) -> Plan {
        let flanked = self.ask.flank_aside_mm > 0.0;
        let full = self.bounds.full_mm();
        let mut before = 0.0;
        let mut passes = Vec::new();
        let mut minutes = 0.0;
        let mut add = |trip: Trip, before: f64, last: bool, given: Option<f64>| {
            let priced = self.price(rpm, &self.step(&trip, before, last), given);
            let feed_mm_per_min = if given.is_some() { priced.feed } else { self.stepped(priced.feed) };
            minutes += self.bounds.minutes(trip.depth_mm, feed_mm_per_min);
            let trip = Trip { feed_mm_per_min, ..trip };
            passes.push(Planned {
                trip,
                reason: priced.reason,
                least_mm_per_min: priced.least,
                most_mm_per_min: priced.most,
                pinch: priced.pinch,
            });
        };
        for (index, &depth_mm) in depths_mm.iter().enumerate() {
            let ends = index + 1 == depths_mm.len();
            let depth_mm = if ends { full } else { depth_mm };
            let trip = Trip { kind: Kind::Depth, depth_mm, aside_mm: 0.0, feed_mm_per_min: 0.0 };
            add(trip, before, ends && !flanked, feed);
            before = depth_mm;
        }
        if flanked {
            for side in [1.0, -1.0] {
                let aside_mm = side * self.ask.flank_aside_mm;
                let trip = Trip { kind: Kind::Flank, depth_mm: full, aside_mm, feed_mm_per_min: 0.0 };
                add(trip, full, true, flank_feed);
            }
        }
        let before_last = depths_mm.len().checked_sub(2).filter(|_| !flanked).map(|index| depths_mm[index]);
        let last_off_flank_mm = before_last.map(|before| (full - before) * self.bounds.flank_per_depth());
        Plan { rpm, passes, minutes, last_off_flank_mm }
    }

    /// A feed on the step below, at least one.
    fn stepped(&self, feed: f64) -> f64 {
        let step = self.ask.feed_step_mm_per_min;
        (feed / step + SAME_MM).floor().max(1.0) * step
    }

    fn cost(plan: &Plan) -> Cost {
        let short = plan.passes.iter().map(|pass| pass.pinch.ln().max(0.0)).fold(0.0, f64::max);
        Cost { short, minutes: plan.minutes }
    }

    /// How near a plan comes to burning or tearing: the greatest of least chip over chip, and feed per edge over the most.
    fn tightness(&self, plan: &Plan) -> f64 {
        let mut before = 0.0;
        let mut tight = 0.0_f64;
        for pass in &plan.passes {
            let met = self.bounds.met(&pass.trip, before);
            let loads = self.bounds.loads(pass.trip.depth_mm, &met, plan.rpm, pass.trip.feed_mm_per_min);
            let burns = loads.least_chip_mm / loads.strain.chip_mm;
            let tears = loads.strain.feed_per_edge_mm / loads.most_feed_per_edge_mm;
            tight = tight.max(burns).max(tears);
            before = pass.trip.depth_mm;
        }
        tight
    }
}

/// Depths and shares of a step that differ by less are the same.
pub(super) const SAME_MM: f64 = 1e-6;
