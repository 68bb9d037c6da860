//! The layout that is offered: with the margin asked for, else with the widest that gets most in.

use geometry::fit::{self, Answer, BoundBy, Budget, Ended, Flaw, Layout, Request, RequestError, Wanted, Watch};
use tape::Length;
use tape::show::Style;

use super::hung::{are_hung, both_ways, in_the_middle, stops};
use super::others::{Aside, Other, others};
use super::question::{Beside, apart, question_with};
use super::reaches::Legs;
use super::{Aim, Count, NotYet, Question, needs, question, take_over};
use crate::evaluate::BoxResult;
use crate::{Edit, Evaluation, Id, Job};

/// A layout to offer: what was found, with which margin, and the edit that takes it over.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// What was asked.
    pub question: Question,
    /// The answer, layouts best first; bound and proof hold for `margin`.
    pub answer: Answer,
    /// The margin that the answer keeps: the job's, or a smaller one where nothing (or less) goes in with that.
    pub margin: Length,
    /// Modules that go in with the job's own margin, when `margin` is smaller.
    pub with_asked_margin: Option<u32>,
    /// Layouts that give something up for something, after those of the answer.
    pub others: Vec<Other>,
    /// How many more would go in but for the legs of brackets, when those are why no more do.
    pub for_legs: Option<ForLegs>,
}

/// What would go in with shorter legs of brackets, or without brackets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ForLegs {
    /// The legs that were entered are why no more modules go in: so many do with none entered.
    Entered(GoIn),
    /// Room for the least legs that there are is why: so many modules go in without it.
    Least(GoIn),
}

/// How many modules would go in, and with which margin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GoIn {
    /// How many.
    pub count: u32,
    /// The margin that they leave.
    pub margin: Length,
}

impl GoIn {
    /// `13`, and the margin where it is not the one that the layout beside it keeps.
    fn words(self, kept: Length, style: Style) -> String {
        if self.margin == kept {
            self.count.to_string()
        } else {
            format!("{}, with a margin of {},", self.count, style.near(self.margin))
        }
    }
}

impl ForLegs {
    fn words(self, kept: Length, style: Style) -> String {
        match self {
            Self::Entered(found) => format!(
                "the bracket leg that was entered is why no more: left empty, so that each box's own leg reaches its rail, \
                 {} go in",
                found.words(kept, style)
            ),
            Self::Least(found) => {
                let found = found.words(kept, style);
                format!("the room for brackets is why no more: {found} would go in without it")
            }
        }
    }
}

impl Proposal {
    /// How many layouts are offered: those of the answer, then the others.
    pub fn offered(&self) -> usize {
        self.answer.layouts.len() + self.others.len()
    }

    /// The layout of this index.
    pub fn layout(&self, index: usize) -> Option<&Layout> {
        let other = || self.others.get(index.checked_sub(self.answer.layouts.len())?);
        self.answer.layouts.get(index).or_else(|| Some(&other()?.layout))
    }

    /// The margin that the layout of this index was laid out with.
    pub fn margin_of(&self, index: usize) -> Length {
        let other = index.checked_sub(self.answer.layouts.len());
        other
            .and_then(|other| self.others.get(other))
            .map_or(self.margin, |other| other.margin)
    }

    /// The edit that takes over the layout of this index.
    pub fn edit(&self, job: &Job, index: usize) -> Option<Edit> {
        let other = index.checked_sub(self.answer.layouts.len());
        let question = other.map_or(Some(&self.question), |other| Some(&self.others.get(other)?.question))?;
        Some(take_over(job, question, self.layout(index)?))
    }

    /// Modules that go in with the best layout.
    pub fn count(&self) -> u32 {
        self.answer.layouts.first().map_or(0, |l| l.count)
    }

    /// Whether everything that was asked for goes in.
    pub fn is_all(&self) -> bool {
        self.count() >= most_wanted(&self.question.request)
    }

    /// What was found, in one sentence: how many, of how many at most, by what, and with which margin; and which boxes stay
    /// as they stand because of a step in their underside.
    pub fn words(&self, evaluation: &Evaluation) -> String {
        let mut found = self.found_words(evaluation);
        if let Some(why) = self.for_legs {
            found = format!("{found}; {}", why.words(self.margin, evaluation.style()));
        }
        let here = |b: &&BoxResult| self.question.cavities.contains(&b.cavity) && b.step.is_some();
        let kept: Vec<&str> = evaluation.boxes.iter().filter(here).map(|b| b.name.as_str()).collect();
        match kept.as_slice() {
            [] => found,
            [one] => format!("{found}; {one}, with its step, stays as it stands"),
            more => format!("{found}; {}, with their steps, stay as they stand", more.join(", ")),
        }
    }

    fn found_words(&self, evaluation: &Evaluation) -> String {
        let answer = &self.answer;
        let count = self.count();
        let by = answer.bound_by.words();
        let (asked, goes_in) = match self.question.aim {
            Aim::Wanted(wanted) => match wanted.modules() {
                Some(modules) if count == modules => (format!("wanted {wanted} = {modules}: "), "all go in".to_owned()),
                Some(modules) => (format!("wanted {wanted} = {modules}: "), format!("{count} go in")),
                None => (format!("wanted {wanted}: "), format!("{count} modules")),
            },
            _ => (String::new(), format!("{count} modules")),
        };
        if let Some(with_asked) = self.with_asked_margin {
            // What it really keeps, which is no less than it was asked for.
            let to_spare = answer.layouts.first().map_or(Length::ZERO, |l| l.to_spare);
            let margin = evaluation.down(self.margin + to_spare.max(Length::ZERO));
            let asked_for = evaluation.down(evaluation.margin);
            if !self.question.request.pinned.is_empty() && with_asked == 0 {
                return format!(
                    "{asked}{goes_in}, with a margin of {margin}: pinned modules leave less than the {asked_for} asked for"
                );
            }
            // A proof for the narrower margin is none for the one asked for, so it is not spoken of.
            let words = format!(
                "{asked}{goes_in}, but only with a margin of {margin}; with the {asked_for} asked for {with_asked} go in"
            );
            let now = &evaluation.headline;
            return if evaluation.keeps_room() && there_now(evaluation, self.question.aim) >= count {
                format!("{words}; what stands now keeps it with {}", now.placed)
            } else {
                words
            };
        }
        let all_asked = matches!(self.question.aim, Aim::Wanted(w) if w.modules() == Some(count));
        let how = match (answer.proved, answer.bound_by, answer.ended) {
            _ if all_asked => return format!("{asked}{goes_in}"),
            (true, BoundBy::OnHand, _) if self.question.aim == Aim::Whole => {
                "every whole string that the units on hand allow".to_owned()
            }
            (true, BoundBy::OnHand, _) => "every one on hand".to_owned(),
            (true, BoundBy::WholeStrings, _) => "proved: no further whole string goes in".to_owned(),
            (true, ..) => format!("proved by {by}: no more can go in"),
            (false, _, Ended::Stopped) => format!("stopped; at most {} by {by}", answer.upper_bound),
            // The words of a wanted number stand on their own: what goes in is what was found.
            (false, ..) if asked.is_empty() => format!("best found; at most {} by {by}", answer.upper_bound),
            (false, ..) => format!("at most {} by {by}", answer.upper_bound),
        };
        format!("{asked}{goes_in}, {how}")
    }
}

/// Works out a layout: with the margin asked for, and when that leaves wanted modules out, with smaller margins too,
/// keeping the widest one that gets most in. A small margin is said with the answer and stays a caution in the job.
///
/// # Errors
///
/// [`NotYet`] with what is missing.
pub fn propose(
    job: &Job,
    evaluation: &Evaluation,
    aim: Aim,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Proposal, NotYet> {
    let mut best = hung(job, evaluation, aim, budget, watch)?;
    best.for_legs = for_legs(job, evaluation, &best, budget, watch);
    let others = others(job, evaluation, &best, budget, watch)?;
    best.others.extend(others);
    for other in &mut best.others {
        in_the_middle(job, &other.question, &mut other.layout, other.margin);
    }
    Ok(best)
}

/// The best layout, boxes that hang on two rails in the middle between them. Where one can't be moved there from where it was
/// laid out, it is looked for anew as it may stand there, which is taken when as many modules go in with fewer stops.
fn hung(
    job: &Job,
    evaluation: &Evaluation,
    aim: Aim,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Proposal, NotYet> {
    let mut found = best(job, evaluation, (aim, false), budget, watch)?;
    if !are_hung(job, &found.question) {
        return Ok(found);
    }
    let most = found.count();
    let left = move_to_the_middle(job, &mut found);
    if left == 0 || found.answer.ended == Ended::Stopped {
        return Ok(found);
    }
    let mut aside = Aside { watch, best: &found };
    if let Ok(mut other) = best(job, evaluation, (aim, true), budget, &mut aside)
        && other.count() >= most
        && move_to_the_middle(job, &mut other) < left
    {
        return Ok(other);
    }
    Ok(found)
}

/// Moves the boxes of the layouts that were found; tells how many stops are left with the first.
fn move_to_the_middle(job: &Job, found: &mut Proposal) -> usize {
    for layout in &mut found.answer.layouts {
        in_the_middle(job, &found.question, layout, found.margin);
    }
    let Some(first) = found.answer.layouts.first() else {
        return 0;
    };
    stops(job, &found.question, first)
}

/// Whether more would go in but for the legs of brackets: first with none entered, then without brackets.
fn for_legs(
    job: &Job,
    evaluation: &Evaluation,
    best: &Proposal,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Option<ForLegs> {
    let is_hung = job.design.carried().reach().is_some();
    if !is_hung || best.is_all() || best.answer.ended == Ended::Stopped {
        return None;
    }
    let mut aside = Aside { watch, best };
    let mut more = |legs: Legs| {
        let question = question_with(job, evaluation, best.question.aim, Beside::Kept(legs)).ok()?;
        if question.reaches == best.question.reaches {
            return None;
        }
        let other = over_margins(job, evaluation, &question, budget, &mut aside).ok()?;
        (other.count() > best.count()).then_some(GoIn {
            count: other.count(),
            margin: other.margin,
        })
    };
    let entered = job.design.carried() == crate::BracketsName::Web;
    let least = if entered { more(Legs::Least) } else { None };
    least
        .map(ForLegs::Entered)
        .or_else(|| more(Legs::None).map(ForLegs::Least))
}

fn best(
    job: &Job,
    evaluation: &Evaluation,
    (aim, in_the_middle): (Aim, bool),
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Proposal, NotYet> {
    let mut asked = Question {
        in_the_middle,
        ..question(job, evaluation, aim)?
    };
    let mut whole = over_margins(job, evaluation, &asked, budget, watch);
    if whole.is_err() && !asked.request.pinned.is_empty() {
        // What is pinned stands already where its fittings or brackets lack room: that is told, and is no reason to lay out
        // nothing.
        asked = question_with(job, evaluation, aim, Beside::Ignored)?;
        whole = over_margins(job, evaluation, &asked, budget, watch);
    }
    let whole = whole?;
    match aim {
        // Not every wanted string goes in: then as many modules as go in, to tell how far off it is.
        Aim::Wanted(count) if !whole.is_all() && whole.answer.ended != Ended::Stopped => {
            let Some(modules) = count.modules() else {
                return Ok(whole);
            };
            let mut counts = vec![modules];
            let others = 1..asked.request.kinds.len();
            counts.extend(others.map(|kind| asked.request.kinds[kind].on_hand.unwrap_or(0)));
            let mut single = asked;
            single.request.wanted = Wanted::Exactly(counts);
            over_margins(job, evaluation, &single, budget, watch)
        }
        _ => Ok(whole),
    }
}

/// Works out a layout for the first of several acceptable numbers that goes in as a whole; when none does, for the one
/// of which the fewest modules stay out.
///
/// # Errors
///
/// [`NotYet`] with what is missing, of the first number when none can be asked for.
pub fn propose_any(
    job: &Job,
    evaluation: &Evaluation,
    counts: &[Count],
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Proposal, NotYet> {
    let mut best: Option<(u32, Proposal)> = None;
    let mut refused = None;
    for &count in counts {
        match propose(job, evaluation, Aim::Wanted(count), budget, watch) {
            Ok(proposal) if proposal.is_all() => return Ok(proposal),
            Ok(proposal) => {
                let out = most_wanted(&proposal.question.request) - proposal.count();
                if best.as_ref().is_none_or(|(least, _)| out < *least) {
                    best = Some((out, proposal));
                }
            }
            Err(why) => refused = refused.or(Some(why)),
        }
    }
    match (best, refused) {
        (Some((_, proposal)), _) => Ok(proposal),
        (None, Some(why)) => Err(why),
        (None, None) => Err(needs("say how many are wanted, as 96s2p")),
    }
}

fn over_margins(
    job: &Job,
    evaluation: &Evaluation,
    asked: &Question,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Proposal, NotYet> {
    let mut best: Option<Proposal> = None;
    let mut with_asked: Option<Other> = None;
    let asked_margin = evaluation.margin;
    let there = there_now(evaluation, asked.aim);
    for margin in std::iter::once(asked_margin)
        .chain(margins(job, evaluation))
        .chain([Length::ZERO])
    {
        let enough = |best: &Proposal| {
            // Filling is asked with open eyes at the margin as it is, unless that takes modules out; laying out wants the
            // strings in, at some margin. None at all is only gone down to for pinned modules.
            let filled = !asked.aim.is_everything() && best.count() >= there;
            filled || best.is_all() || best.answer.ended == Ended::Stopped || margin == Length::ZERO
        };
        if best.as_ref().is_some_and(enough) {
            break;
        }
        let mut narrower = asked.clone();
        if margin < asked_margin {
            narrow(&mut narrower, job, evaluation, margin);
        }
        let answer = match fit::fit(&both_ways(job, evaluation, &narrower), budget, watch) {
            Err(RequestError::Pinned { .. }) if margin > Length::ZERO => continue,
            Err(RequestError::Pinned { pinned, flaw }) => return Err(in_the_way(evaluation, asked, pinned, flaw)),
            other => match told(&narrower.request, other) {
                // What cannot be laid round pinned modules with this margin may be with a smaller one.
                Err(_) if margin > Length::ZERO && !narrower.request.pinned.is_empty() => continue,
                told => told?,
            },
        };
        let count = answer.layouts.first().map_or(0, |l| l.count);
        if margin == asked_margin && count > 0 {
            with_asked = answer.layouts.first().map(|layout| Other {
                question: asked.clone(),
                layout: layout.clone(),
                margin,
            });
        }
        if best.as_ref().is_none_or(|best| count > best.count()) {
            best = Some(Proposal {
                question: narrower,
                answer,
                margin,
                with_asked_margin: (margin < asked_margin).then_some(with_asked.as_ref().map_or(0, |o| o.layout.count)),
                others: with_asked.iter().filter(|_| margin < asked_margin).cloned().collect(),
                for_legs: None,
            });
        }
    }
    best.ok_or_else(|| needs(AROUND_THE_PINNED))
}

/// Modules that stand now in what is laid out anew.
fn there_now(evaluation: &Evaluation, aim: Aim) -> u32 {
    let anew = |b: &&BoxResult| match aim {
        Aim::Whole | Aim::Wanted(_) => true,
        Aim::Fill(cavity) => b.cavity == cavity,
        Aim::Box(id) => b.id == id,
    };
    let boxes = evaluation.boxes.iter().filter(anew).filter(|b| b.step.is_none());
    boxes.flat_map(|b| &b.modules).map(|m| m.count).sum()
}

const AROUND_THE_PINNED: &str = "nothing can be laid around the pinned modules where they stand; unpin one, or move it";

/// A pinned module that no box can hold where it stands, in the person's words.
fn in_the_way(evaluation: &Evaluation, asked: &Question, pinned: usize, flaw: Flaw) -> NotYet {
    let name = |index: usize| {
        let placed = asked.request.pinned.get(index)?;
        let number = *asked.pinned_boxes.get(placed.in_box?)?;
        let of_box = evaluation.battery_box(number)?;
        let module = of_box.modules.iter().find(|m| m.cuboid == placed.cuboid)?;
        Some((module.label.clone(), of_box.name.clone()))
    };
    let (module, of_box) = name(pinned).unwrap_or_default();
    let why = match flaw {
        Flaw::BoxToWall { face, .. } => format!("{of_box} round it would be in the {} wall", face.name()),
        Flaw::BoxToKeepOut { keep_out, .. } => {
            let cavity = asked
                .request
                .pinned
                .get(pinned)
                .map(|placed| asked.cavities[placed.cavity]);
            let told = cavity.and_then(|id| evaluation.cavity(id));
            let named = told.and_then(|c| c.keep_outs.iter().filter(|k| k.counts).nth(keep_out));
            let named = named.map_or("a keep-out", |k| k.name.as_str());
            format!("{of_box} round it would be in {named}")
        }
        Flaw::Gap { first, second }
        | Flaw::Service {
            placement: first,
            other: second,
        } => {
            let other = name(if first == pinned { second } else { first }).unwrap_or_default().0;
            format!("it leaves too little room to {other}, which is pinned too")
        }
        Flaw::Mass { .. } => format!("{of_box} is over the limit of mass with what is pinned in it alone"),
        Flaw::Boxes { .. } => "more boxes of its cavity hold pinned modules than the cavity may have".to_owned(),
        other => other.to_string(),
    };
    needs(format!(
        "{module} is pinned where it cannot stay: {why}; unpin it, or move it"
    ))
}

/// Narrower margins than the job's, the widest first.
pub(super) fn margins(job: &Job, evaluation: &Evaluation) -> impl Iterator<Item = Length> {
    let step = match job.units {
        crate::UnitsName::Inch => Length::sixty_fourths(4),
        crate::UnitsName::Millimetre => Length::mm(1),
    };
    let asked = evaluation.margin;
    [3, 2, 1]
        .into_iter()
        .map(move |share| Length::from_nm(asked.nm() * share / 4).round_down_to(step))
}

/// The answer, with the layouts that leave every pinned module where it is.
pub(super) fn lay_out(request: &Request, budget: Budget, watch: &mut dyn Watch) -> Result<Answer, NotYet> {
    told(request, fit::fit(request, budget, watch))
}

fn told(request: &Request, answer: Result<Answer, RequestError>) -> Result<Answer, NotYet> {
    let mut answer = answer.map_err(|e| needs(e.to_string()))?;
    answer
        .layouts
        .retain(|layout| layout.placements.starts_with(&request.pinned));
    if answer.layouts.is_empty() {
        return Err(needs(AROUND_THE_PINNED));
    }
    Ok(answer)
}

/// The most modules that the question wants in.
fn most_wanted(request: &Request) -> u32 {
    let on_hand: u32 = request.kinds.iter().map(|k| k.on_hand.unwrap_or(u32::MAX / 4)).sum();
    match &request.wanted {
        Wanted::AsMany => on_hand,
        Wanted::Exactly(counts) => counts.iter().sum(),
        Wanted::Strings { series, parallel, .. } => series
            .iter()
            .map(|s| s * parallel.min(&(on_hand / s.max(&1))))
            .max()
            .unwrap_or(0),
    }
}

/// Takes the job's margin down to `to`; keep-outs with a margin of their own keep it.
pub(super) fn narrow(question: &mut Question, job: &Job, evaluation: &Evaluation, to: Length) {
    let has_own = |id: Id| {
        let asked = job.cavities.iter().flat_map(|c| &c.keep_outs).find(|k| k.id == id);
        asked.is_some_and(|k| k.margin.is_some())
    };
    let cavities = question.request.cavities.iter_mut().zip(&question.cavities);
    for ((cavity, id), reaches) in cavities.zip(&question.reaches) {
        cavity.wall_margin = reaches.at_walls(to);
        let told = evaluation
            .cavity(*id)
            .into_iter()
            .flat_map(|c| c.keep_outs.iter().filter(|k| k.counts));
        for (keep_out, _) in cavity
            .keep_outs
            .iter_mut()
            .zip(told)
            .filter(|(_, told)| !has_own(told.id))
        {
            keep_out.margin = to;
        }
    }
    if let Some(rule) = &mut question.request.boxes {
        rule.apart = apart(&question.reaches, to);
    }
}
