//! The exact search for one count: a layout that has it, or the proof that none has.
//!
//! It lives on the weights that proved the bound (see `weights`). All weights together are worth a little more than the
//! count that is looked for; that little is the budget. A spot whose points are worth more than its count costs the rest,
//! and a point that stays uncovered costs its weight. Whoever overspends can't reach the count. So the search takes the
//! open point with the fewest spots left, tries each of them, and then goes on without them; spots that cost more than
//! what is left of the budget are out from the start, and a point that has lost its last spot costs its weight at once.
//! When all points are settled within the budget, the layout has the count; when nothing is left to try, no layout has.
//! It can be left and taken up again after any step.

use super::meter::Dice;
use super::raster::Raster;
use super::weights::Worth;

/// The search for one count in one raster.
pub(super) struct Exact {
    target: u32,
    spots: Vec<Candidate>,
    points: Vec<Point>,
    /// What is left of the budget.
    left: i64,
    /// How many more of each kind may be chosen, and the largest count of a spot.
    free: Vec<u32>,
    most_at_once: u32,
    /// Spots taken out, in order.
    out: Vec<u32>,
    frames: Vec<Frame>,
    ended: Option<bool>,
    spent: u64,
    /// The next candidate to try alone before the search begins, and whether any went out since the first.
    probe: Option<(usize, bool)>,
}

/// A spot that the budget allows.
struct Candidate {
    /// Index into the raster's spots.
    spot: usize,
    kind: usize,
    count: u32,
    cost: i64,
    points: Vec<u32>,
    overlaps: Vec<u32>,
    is_out: bool,
}

/// Points with a weight that the same spots cover.
struct Point {
    weight: i64,
    /// Candidates that cover it, the most promising first.
    spots: Vec<u32>,
    /// How many of them are not out.
    open: u32,
    covered: bool,
}

/// One point that is being settled.
struct Frame {
    point: u32,
    /// How many were out when the frame's next choice is made.
    mark: usize,
    /// The candidate tried now.
    tried: Option<u32>,
}

/// What is looked for, and how.
pub(super) struct Quest<'a> {
    pub(super) raster: &'a Raster,
    pub(super) worth: &'a Worth,
    /// The most of each kind.
    pub(super) caps: &'a [u32],
    pub(super) target: u32,
    /// How much chance there is in what is tried first, from 0.
    pub(super) whim: f64,
    /// Whether every candidate is tried alone before the search begins.
    pub(super) probing: bool,
}

impl Exact {
    /// The search for `target` modules with weights that allow so many.
    pub(super) fn new(quest: &Quest, dice: &mut Dice) -> Self {
        let mut spots = candidates(quest);
        let shares = spots.iter().map(|one| quest.worth.spots[one.spot].share);
        let liking: Vec<f64> = shares.map(|share| share + dice.between(0.0, quest.whim)).collect();
        let points = points(quest, &mut spots, &liking);
        let lost: i64 = points.iter().filter(|p| p.open == 0).map(|p| p.weight).sum();
        let mut this = Self {
            target: quest.target,
            spots,
            points,
            left: quest.worth.budget(quest.target) - lost,
            free: quest.caps.to_vec(),
            most_at_once: quest.raster.spots.iter().map(|spot| spot.count).max().unwrap_or(1),
            out: Vec::new(),
            frames: Vec::new(),
            ended: None,
            spent: 0,
            probe: quest.probing.then_some((0, false)),
        };
        this.sweep();
        if this.probe.is_none() || this.left < 0 {
            this.descend();
        }
        this
    }

    /// The count looked for.
    pub(super) fn target(&self) -> u32 {
        self.target
    }

    /// Whether the count was found, or proved impossible; `None` while that is open.
    pub(super) fn outcome(&self) -> Option<bool> {
        self.ended
    }

    /// The layout found, as indices into the raster's spots.
    pub(super) fn chosen(&self) -> Vec<usize> {
        let tried = self.frames.iter().filter_map(|frame| frame.tried);
        tried.map(|i| self.spots[i as usize].spot).collect()
    }

    /// Searches for about so many steps; the steps it took.
    pub(super) fn search(&mut self, steps: u64) -> u64 {
        let mut spent = 0;
        while self.ended.is_none() && spent < steps {
            let before = self.out.len();
            match self.probe {
                Some(at) => {
                    self.probe_one(at);
                    spent += u64::try_from(self.points.len() / 50).unwrap_or(0);
                }
                None => self.step(),
            }
            let moved = before.abs_diff(self.out.len());
            spent += 1 + u64::try_from(self.points.len() / 200 + moved / 4).unwrap_or(0);
        }
        self.spent += spent;
        spent
    }

    /// Steps so far.
    pub(super) fn spent(&self) -> u64 {
        self.spent
    }

    /// Whether every candidate was tried alone, and those that can be in a layout with the count, as indices into the
    /// raster's spots.
    pub(super) fn alive(&self) -> Option<Vec<usize>> {
        let alive = self.spots.iter().filter(|one| !one.is_out).map(|one| one.spot);
        let at_root = self.frames.len() < 2 && self.frames.iter().all(|frame| frame.tried.is_none());
        (self.probe.is_none() && at_root).then(|| alive.collect())
    }

    /// Tries one candidate alone: one that overspends at once is in no layout with the count.
    fn probe_one(&mut self, (at, gone): (usize, bool)) {
        if at == self.spots.len() {
            self.probe = gone.then_some((0, false));
            if !gone {
                self.descend();
            }
            return;
        }
        let one = number(at);
        let mut gone = gone;
        if !self.spots[at].is_out {
            let mark = self.out.len();
            self.choose(one);
            let fails = self.left < 0;
            self.untry(one, mark);
            if fails {
                gone = true;
                self.drop(one);
                self.sweep();
            }
        }
        self.probe = Some((at + 1, gone));
        if self.left < 0 {
            self.ended = Some(false);
        }
    }

    fn step(&mut self) {
        let Some(frame) = self.frames.last() else { return };
        let (point, mark, tried) = (frame.point, frame.mark, frame.tried);
        if let Some(tried) = tried {
            // All layouts with it are done: back, and on without it.
            self.untry(tried, mark);
            self.drop(tried);
            self.sweep();
            self.set_frame(None);
        }
        if self.left < 0 {
            self.back();
            return;
        }
        let next = self.points[point as usize]
            .spots
            .iter()
            .copied()
            .find(|&i| !self.spots[i as usize].is_out);
        match next {
            Some(next) => {
                self.set_frame(Some(next));
                self.choose(next);
                if self.left >= 0 {
                    self.descend();
                }
            }
            // The point stays uncovered, and that is paid for.
            None => self.descend(),
        }
    }

    fn set_frame(&mut self, tried: Option<u32>) {
        let mark = self.out.len();
        if let Some(frame) = self.frames.last_mut() {
            frame.mark = mark;
            frame.tried = tried;
        }
    }

    /// Goes on to the open point with the fewest spots; without one, the layout is there.
    fn descend(&mut self) {
        if self.left < 0 {
            if self.frames.is_empty() {
                self.ended = Some(false);
            }
            return;
        }
        let fewest = self
            .points
            .iter()
            .enumerate()
            .filter(|(_, p)| !p.covered && p.open > 0)
            .min_by_key(|(_, p)| (p.open + u32::from(p.weight <= self.left), -p.weight));
        match fewest {
            Some((point, _)) => {
                let mark = self.out.len();
                self.frames.push(Frame {
                    point: number(point),
                    mark,
                    tried: None,
                });
            }
            None if self.chosen_count() >= self.target => self.ended = Some(true),
            // What was just tried is taken back first, in the next step.
            None if self.frames.last().is_some_and(|frame| frame.tried.is_some()) => {}
            None => self.back(),
        }
    }

    /// Leaves a frame for the last one below that still has a choice to take back; that one undoes everything since.
    fn back(&mut self) {
        while self.frames.last().is_some_and(|frame| frame.tried.is_none()) {
            self.frames.pop();
        }
        if self.frames.is_empty() {
            self.ended = Some(false);
        }
    }

    fn chosen_count(&self) -> u32 {
        let tried = self.frames.iter().filter_map(|frame| frame.tried);
        tried.map(|i| self.spots[i as usize].count).sum()
    }

    fn choose(&mut self, one: u32) {
        let candidate = &self.spots[one as usize];
        self.left -= candidate.cost;
        self.free[candidate.kind] -= candidate.count;
        for &p in &candidate.points {
            self.points[p as usize].covered = true;
        }
        for at in 0..self.spots[one as usize].overlaps.len() {
            let other = self.spots[one as usize].overlaps[at];
            self.drop(other);
        }
        let kind = self.spots[one as usize].kind;
        let free = self.free[kind];
        for at in 0..self.spots.len() {
            if free < self.most_at_once && self.spots[at].kind == kind && self.spots[at].count > free {
                self.drop(number(at));
            }
        }
        self.sweep();
    }

    fn untry(&mut self, one: u32, mark: usize) {
        self.restore(mark);
        let candidate = &self.spots[one as usize];
        self.left += candidate.cost;
        self.free[candidate.kind] += candidate.count;
        for &p in &candidate.points {
            self.points[p as usize].covered = false;
        }
    }

    fn drop(&mut self, one: u32) {
        let candidate = &mut self.spots[one as usize];
        if candidate.is_out {
            return;
        }
        candidate.is_out = true;
        self.out.push(one);
        for &p in &candidate.points {
            let point = &mut self.points[p as usize];
            point.open -= 1;
            if point.open == 0 && !point.covered {
                self.left -= point.weight;
            }
        }
    }

    fn restore(&mut self, mark: usize) {
        while self.out.len() > mark {
            let Some(one) = self.out.pop() else { break };
            let candidate = &mut self.spots[one as usize];
            candidate.is_out = false;
            for &p in &candidate.points {
                let point = &mut self.points[p as usize];
                if point.open == 0 && !point.covered {
                    self.left += point.weight;
                }
                point.open += 1;
            }
        }
    }

    /// Takes out what costs more than is left.
    fn sweep(&mut self) {
        let mut at = 0;
        while at < self.spots.len() && self.left >= 0 {
            if !self.spots[at].is_out && self.spots[at].cost > self.left {
                self.drop(number(at));
            }
            at += 1;
        }
    }
}

fn number(n: usize) -> u32 {
    u32::try_from(n).expect("far fewer spots and points than that")
}

/// The spots that the budget and the caps allow.
fn candidates(quest: &Quest) -> Vec<Candidate> {
    let Quest { raster, worth, .. } = quest;
    let budget = worth.budget(quest.target);
    let allowed = |&(spot, cost): &(usize, i64)| {
        let spot = &raster.spots[spot];
        cost <= budget && spot.count <= quest.caps[spot.kind]
    };
    let affordable = worth.costs(raster).into_iter().enumerate().filter(allowed);
    let mut candidates: Vec<Candidate> = affordable
        .map(|(spot, cost)| Candidate {
            spot,
            kind: raster.spots[spot].kind,
            count: raster.spots[spot].count,
            cost,
            points: Vec::new(),
            overlaps: Vec::new(),
            is_out: false,
        })
        .collect();
    let index = index(quest, &candidates);
    for one in &mut candidates {
        raster.each_overlap(one.spot, |other| one.overlaps.extend(index[other]));
    }
    candidates
}

/// For each spot of the raster, which candidate it is.
fn index(quest: &Quest, candidates: &[Candidate]) -> Vec<Option<u32>> {
    let mut index = vec![None; quest.raster.spots.len()];
    for (i, one) in (0..).zip(candidates) {
        index[one.spot] = Some(i);
    }
    index
}

/// The points with a weight, those with the same candidates taken together; their candidates learn of them.
fn points(quest: &Quest, candidates: &mut [Candidate], liking: &[f64]) -> Vec<Point> {
    let index = index(quest, candidates);
    let covering = |spots: &Vec<u32>| -> Vec<u32> { spots.iter().filter_map(|&i| index[i as usize]).collect() };
    let points = quest.worth.points.iter();
    let mut points: Vec<(Vec<u32>, i64)> = points.map(|(weight, spots)| (covering(spots), *weight)).collect();
    points.sort_unstable();
    points.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        kept.1 += if same { next.1 } else { 0 };
        same
    });
    for (point, (spots, _)) in (0..).zip(&mut points) {
        spots.sort_by(|&a, &b| liking[b as usize].total_cmp(&liking[a as usize]).then(a.cmp(&b)));
        for &i in spots.iter() {
            candidates[i as usize].points.push(point);
        }
    }
    // A spot worth no more than what is due for it covers no point with a weight: it gets one of its own.
    for (i, one) in (0..).zip(candidates.iter_mut()) {
        if one.points.is_empty() {
            one.points.push(number(points.len()));
            points.push((vec![i], 0));
        }
    }
    let point = |(spots, weight): (Vec<u32>, i64)| Point {
        weight,
        open: number(spots.len()),
        spots,
        covered: false,
    };
    points.into_iter().map(point).collect()
}

#[cfg(test)]
mod tests;
