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
    /// What each spot costs, its points, and the spots themselves by their index in the raster.
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

impl Exact {
    /// The search for `target` modules with weights that allow it.
    pub(super) fn new(
        raster: &Raster,
        worth: &Worth,
        caps: &[u32],
        target: u32,
        attempt: u32,
        dice: &mut Dice,
    ) -> Self {
        let budget = worth.all - i64::from(target) * worth.each;
        let mut spots: Vec<Candidate> = Vec::new();
        let mut index = vec![u32::MAX; raster.spots.len()];
        for (i, own) in worth.spots.iter().enumerate() {
            let cost = own.worth - i64::from(raster.spots[i].count) * worth.each;
            if cost <= budget {
                index[i] = number(spots.len());
                spots.push(Candidate {
                    spot: i,
                    kind: raster.spots[i].kind,
                    count: raster.spots[i].count,
                    cost,
                    points: Vec::new(),
                    overlaps: Vec::new(),
                    is_out: false,
                });
            }
        }
        for one in &mut spots {
            raster.each_overlap(one.spot, |other| {
                if index[other] != u32::MAX {
                    one.overlaps.push(index[other]);
                }
            });
        }
        let mut like = |one: &Candidate| {
            let share = worth.spots[one.spot].share;
            if attempt == 0 {
                share
            } else {
                share + 0.004 * f64::from(u32::try_from(dice.below(100)).unwrap_or(0))
            }
        };
        let liking: Vec<f64> = spots.iter().map(&mut like).collect();
        // Points with the same spots are one point with their weights.
        let in_budget = |&i: &u32| Some(index[i as usize]).filter(|&i| i != u32::MAX);
        let mut covered: Vec<(Vec<u32>, i64)> = worth
            .points
            .iter()
            .map(|(weight, covering)| (covering.iter().filter_map(in_budget).collect(), *weight))
            .collect();
        covered.sort_unstable();
        covered.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                kept.1 += next.1;
            }
            same
        });
        let mut points: Vec<Point> = Vec::new();
        for (mut covering, weight) in covered {
            covering.sort_by(|&a, &b| liking[b as usize].total_cmp(&liking[a as usize]).then(a.cmp(&b)));
            for &i in &covering {
                spots[i as usize].points.push(number(points.len()));
            }
            points.push(Point {
                weight,
                open: number(covering.len()),
                spots: covering,
                covered: false,
            });
        }
        let lost: i64 = points.iter().filter(|p| p.open == 0).map(|p| p.weight).sum();
        let probing = attempt == 1;
        let mut this = Self {
            target,
            spots,
            points,
            left: budget - lost,
            free: caps.to_vec(),
            most_at_once: raster.spots.iter().map(|spot| spot.count).max().unwrap_or(1),
            out: Vec::new(),
            frames: Vec::new(),
            ended: None,
            spent: 0,
            probe: probing.then_some((0, false)),
        };
        this.sweep();
        if this.probe.is_none() {
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
        (self.probe.is_none() && self.frames.len() < 2).then(|| alive.collect())
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
            None => self.back(),
        }
    }

    /// Leaves a frame for the last one below that still has a choice to take back; that one undoes everything since.
    fn back(&mut self) {
        self.frames.pop();
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
        let (kind, free) = (self.spots[one as usize].kind, self.free[self.spots[one as usize].kind]);
        if free < self.most_at_once {
            for at in 0..self.spots.len() {
                if self.spots[at].kind == kind && self.spots[at].count > free {
                    self.drop(number(at));
                }
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
