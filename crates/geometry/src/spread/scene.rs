//! The layout as solids that move along each axis, and what must stay apart.
//!
//! What moves together is a node; its coordinate is how far it has moved from where the layout has it. Node 0 is the
//! ground: walls, keep-outs and what is pinned.

use std::ops::Range;

use super::build::{allowance, body_round, inside_of, sound};
use super::{Move, SpreadError, Thing};
use crate::fit::{BoxPlace, BoxRule, Layout, Request, Rim, service, to_spare};
use crate::{Cuboid, Face, Faces, Point};
use tape::Length;

/// The node that never moves.
pub(super) const GROUND: u32 = 0;

/// How far each node has moved along one axis.
pub(super) type Moved = Vec<i64>;

/// A coordinate that moves with a node; `at` is where it is while the node has not moved.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub(super) node: u32,
    pub(super) at: i64,
}

impl Place {
    pub(super) fn now(self, moved: &[i64]) -> i64 {
        moved[self.node as usize] + self.at
    }
}

/// What keeps a distance.
#[derive(Clone, Debug)]
pub(super) struct Solid {
    /// Index into [`Scene::things`].
    pub(super) thing: u32,
    pub(super) lo: [Place; 3],
    pub(super) hi: [Place; 3],
    /// Service space per world direction, in the order of [`Face::ALL`].
    pub(super) service: [i64; 6],
}

/// `to` stays at least `asked` above `from` along an axis.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tie {
    pub(super) from: Place,
    pub(super) to: Place,
    pub(super) asked: i64,
    /// Whether it is a clearance to be made larger, and not an allowance kept as asked.
    pub(super) counts: bool,
    /// Indices into [`Scene::things`].
    pub(super) between: [u32; 2],
}

impl Tie {
    /// What there is beyond what is asked.
    pub(super) fn over(&self, moved: &[i64]) -> i64 {
        self.to.now(moved) - self.from.now(moved) - self.asked
    }
}

/// Solids of which every two different things stay apart.
#[derive(Clone, Debug)]
pub(super) struct Crowd {
    pub(super) solids: Range<usize>,
    pub(super) asked: i64,
    /// Along how many axes they may be apart: boxes only in plan, since a lid comes off upward.
    pub(super) axes: usize,
}

/// A keep-out and the solids that stay clear of it.
#[derive(Clone, Debug)]
pub(super) struct Barrier {
    pub(super) keep_out: Solid,
    pub(super) margin: i64,
    pub(super) solids: Range<usize>,
}

/// A box that is as large as its modules need.
struct Wrapped {
    index: usize,
    /// The nodes of the body's low and high faces; `None` where a face goes with a module.
    lo: [u32; 3],
    hi: [Option<u32>; 3],
    /// The body round the modules where they are in the layout.
    body: Cuboid,
    modules: Vec<Held>,
}

/// A module in a box: its node, where it is, and the distance from each face of the body that it asks for.
type Held = (u32, Cuboid, Faces<Length>);

/// The layout, seen by what moves.
pub(super) struct Scene<'a> {
    request: &'a Request,
    layout: &'a Layout,
    pub(super) nodes: u32,
    pub(super) things: Vec<Thing>,
    pub(super) solids: Vec<Solid>,
    pub(super) crowds: Vec<Crowd>,
    pub(super) barriers: Vec<Barrier>,
    /// Per axis, what holds whichever way things are separated: distances to walls and allowances in boxes.
    pub(super) always: [Vec<Tie>; 3],
    wrapped: Vec<Wrapped>,
    /// The node of each placement, and of each box that moves as one.
    placed: Vec<u32>,
    rigid: Vec<Option<u32>>,
}

impl<'a> Scene<'a> {
    /// `as_one` tells which boxes move as one even when everything moves.
    pub(super) fn new(
        request: &'a Request,
        layout: &'a Layout,
        how: Move,
        as_one: &[bool],
    ) -> Result<Self, SpreadError> {
        sound(request, layout)?;
        let mut scene = Self {
            request,
            layout,
            nodes: 1,
            things: Vec::new(),
            solids: Vec::new(),
            crowds: Vec::new(),
            barriers: Vec::new(),
            always: Default::default(),
            wrapped: Vec::new(),
            placed: vec![GROUND; layout.placements.len()],
            rigid: vec![None; layout.boxes.len()],
        };
        for (index, &as_one) in as_one.iter().enumerate() {
            if how == Move::Boxes || as_one {
                let pinned = (0..request.pinned.len()).any(|p| layout.placements[p].in_box == Some(index));
                scene.rigid[index] = Some(if pinned { GROUND } else { scene.node() });
            }
        }
        for (index, placement) in layout.placements.iter().enumerate() {
            let with_box = placement.in_box.and_then(|in_box| scene.rigid[in_box]);
            scene.placed[index] = match with_box {
                Some(node) => node,
                None if index < request.pinned.len() => GROUND,
                None => scene.node(),
            };
        }
        match &request.boxes {
            None => scene.bare(),
            Some(rule) => scene.boxed(rule),
        }
        Ok(scene)
    }

    fn node(&mut self) -> u32 {
        self.nodes += 1;
        self.nodes - 1
    }

    fn thing(&mut self, thing: Thing) -> u32 {
        self.things.push(thing);
        u32::try_from(self.things.len() - 1).expect("fewer things than u32 counts")
    }

    fn module(&mut self, index: usize) -> Solid {
        let thing = self.thing(Thing::Placement(index));
        let placement = &self.layout.placements[index];
        let kind = &self.request.kinds[placement.kind];
        Solid {
            service: Face::ALL.map(|face| service(kind, placement, face).nm()),
            ..solid(thing, self.placed[index], &placement.cuboid)
        }
    }

    fn bare(&mut self) {
        let gap = self.request.gap.nm().max(0);
        for cavity in 0..self.request.cavities.len() {
            let start = self.solids.len();
            for (index, placement) in self.layout.placements.iter().enumerate() {
                if placement.cavity == cavity {
                    let module = self.module(index);
                    self.solids.push(module);
                }
            }
            let solids = start..self.solids.len();
            self.outside(cavity, &solids);
            self.crowds.push(Crowd {
                solids,
                asked: gap,
                axes: 3,
            });
        }
    }

    fn boxed(&mut self, rule: &BoxRule) {
        let gap = self.request.gap.nm().max(0);
        let mut outer: Vec<(usize, Vec<Solid>)> = Vec::new();
        for (index, place) in self.layout.boxes.iter().enumerate() {
            let solids = match self.rigid[index] {
                Some(node) => solids(rule, self.thing(Thing::Box(index)), &place.body, [[node; 3]; 2]),
                None => {
                    let start = self.solids.len();
                    let solids = self.wrap(rule, index, place);
                    let crowd = start..self.solids.len();
                    self.crowds.push(Crowd {
                        solids: crowd,
                        asked: gap,
                        axes: 3,
                    });
                    solids
                }
            };
            outer.push((place.cavity, solids));
        }
        for cavity in 0..self.request.cavities.len() {
            let start = self.solids.len();
            for (_, solids) in outer.iter_mut().filter(|(at, _)| *at == cavity) {
                self.solids.append(solids);
            }
            let solids = start..self.solids.len();
            self.outside(cavity, &solids);
            let asked = rule.apart.nm().max(0);
            self.crowds.push(Crowd { solids, asked, axes: 2 });
        }
    }

    /// Takes in the modules of a box that is as large as they need, with what they ask for inside it; gives the
    /// solids of the box.
    fn wrap(&mut self, rule: &BoxRule, index: usize, place: &BoxPlace) -> Vec<Solid> {
        let inside: Vec<usize> = (0..self.placed.len())
            .filter(|&p| self.layout.placements[p].in_box == Some(index))
            .collect();
        let modules: Vec<Held> = inside
            .iter()
            .map(|&p| {
                let placement = &self.layout.placements[p];
                let asked = Faces(
                    Face::ALL.map(|face| rule.shell[face] + allowance(self.request, rule, placement, place.bay, face)),
                );
                (self.placed[p], placement.cuboid, asked)
            })
            .collect();
        let body = body_round(modules.iter().map(|(_, cuboid, asked)| (*cuboid, *asked)));
        let lo = std::array::from_fn(|_| self.node());
        let mut hi = std::array::from_fn(|_| Some(self.node()));
        let mut nodes = [lo, hi.map(|node| node.unwrap_or(GROUND))];
        // A rim hangs from the top: a top higher than the modules need would lift it clear of what is below it. So
        // the top goes with the module that has it now.
        let top = |(_, cuboid, asked): &Held| cuboid.face(Face::Top) + asked[Face::Top];
        if !rule.rims.is_empty() {
            let carries = modules.iter().find(|module| top(module) == body.face(Face::Top));
            nodes[1][2] = carries.map_or(GROUND, |(node, ..)| *node);
            hi[2] = None;
        }
        let around = self.thing(Thing::Box(index));
        for (&p, (node, cuboid, asked)) in inside.iter().zip(&modules) {
            let module = self.module(p);
            for face in Face::ALL {
                let k = face.axis().index();
                let wall = Place {
                    node: nodes[usize::from(face.is_high())][k],
                    at: body.face(face).nm(),
                };
                let own = Place {
                    node: *node,
                    at: cuboid.face(face).nm(),
                };
                if wall.node != own.node {
                    let pair = [(wall, around), (own, module.thing)];
                    self.always[k].push(tie(face, pair, asked[face].nm(), false));
                }
            }
            self.solids.push(module);
        }
        let solids = solids(rule, around, &body, nodes);
        self.wrapped.push(Wrapped {
            index,
            lo,
            hi,
            body,
            modules,
        });
        solids
    }

    /// Walls and keep-outs for what stands in the cavity itself.
    fn outside(&mut self, cavity: usize, solids: &Range<usize>) {
        let hollow = &self.request.cavities[cavity];
        for face in Face::ALL {
            let k = face.axis().index();
            let wall = (
                ground(hollow.space.face(face)),
                self.thing(Thing::Wall { cavity, face }),
            );
            for solid in &self.solids[solids.clone()] {
                let margin = hollow.wall_margin[face].nm();
                let asked = match self.things[solid.thing as usize] {
                    Thing::Placement(_) => margin.max(solid.service[face.index()]),
                    _ => margin,
                };
                let own = if face.is_high() { solid.hi[k] } else { solid.lo[k] };
                self.always[k].push(tie(face, [wall, (own, solid.thing)], asked, true));
            }
        }
        for (index, keep) in hollow.keep_outs.iter().enumerate() {
            let thing = self.thing(Thing::KeepOut { cavity, index });
            self.barriers.push(Barrier {
                keep_out: solid(thing, GROUND, &keep.cuboid),
                margin: keep.margin.nm(),
                solids: solids.clone(),
            });
        }
    }

    /// Nothing moved yet.
    pub(super) fn at_rest(&self) -> [Moved; 3] {
        std::array::from_fn(|_| vec![0; self.nodes as usize])
    }

    /// For each node of a module in a box, the node of the box's bottom: a module with room above it stays on it.
    pub(super) fn floors(&self) -> Vec<Option<u32>> {
        let mut floors = vec![None; self.nodes as usize];
        for wrapped in &self.wrapped {
            for &(node, ..) in &wrapped.modules {
                if node != GROUND {
                    floors[node as usize] = Some(wrapped.lo[2]);
                }
            }
        }
        floors
    }

    /// Moves the faces of boxes to where their modules need them.
    pub(super) fn draw_in(&self, moved: &mut [Moved; 3]) {
        for wrapped in &self.wrapped {
            let body = wrapped.body_at(moved);
            for k in 0..3 {
                moved[k][wrapped.lo[k] as usize] = (body.lo().0[k] - wrapped.body.lo().0[k]).nm();
                if let Some(hi) = wrapped.hi[k] {
                    moved[k][hi as usize] = (body.hi().0[k] - wrapped.body.hi().0[k]).nm();
                }
            }
        }
    }

    /// The layout with everything where it has moved to.
    pub(super) fn layout(&self, moved: &[Moved; 3]) -> Layout {
        let mut layout = self.layout.clone();
        for (placement, &node) in layout.placements.iter_mut().zip(&self.placed) {
            placement.cuboid = placement.cuboid.moved(step(moved, node));
        }
        for (place, rigid) in layout.boxes.iter_mut().zip(&self.rigid) {
            if let Some(node) = *rigid {
                place.body = place.body.moved(step(moved, node));
                place.inside = place.inside.moved(step(moved, node));
            }
        }
        if let Some(rule) = &self.request.boxes {
            for wrapped in &self.wrapped {
                let place = &mut layout.boxes[wrapped.index];
                place.body = wrapped.body_at(moved);
                place.inside = inside_of(&place.body, rule);
            }
        }
        layout.to_spare = to_spare(self.request, &layout);
        layout
    }
}

impl Wrapped {
    fn body_at(&self, moved: &[Moved; 3]) -> Cuboid {
        let now = |&(node, cuboid, asked): &Held| (cuboid.moved(step(moved, node)), asked);
        body_round(self.modules.iter().map(now))
    }
}

fn step(moved: &[Moved; 3], node: u32) -> Point {
    Point(std::array::from_fn(|k| Length::from_nm(moved[k][node as usize])))
}

fn ground(at: Length) -> Place {
    Place {
        node: GROUND,
        at: at.nm(),
    }
}

/// `asked` between a wall at `face` and what stands inside it, each with what it belongs to.
fn tie(face: Face, [wall, own]: [(Place, u32); 2], asked: i64, counts: bool) -> Tie {
    let [from, to] = if face.is_high() { [own, wall] } else { [wall, own] };
    Tie {
        from: from.0,
        to: to.0,
        asked,
        counts,
        between: [from.1, to.1],
    }
}

/// A solid that moves with one node.
fn solid(thing: u32, node: u32, cuboid: &Cuboid) -> Solid {
    let places = |corner: Point| corner.0.map(|at| Place { node, at: at.nm() });
    Solid {
        thing,
        lo: places(cuboid.lo()),
        hi: places(cuboid.hi()),
        service: [0; 6],
    }
}

/// The body and the rims of a box whose low and high faces move with the nodes given per axis.
fn solids(rule: &BoxRule, thing: u32, body: &Cuboid, [lo, hi]: [[u32; 3]; 2]) -> Vec<Solid> {
    let places = |corner: Point, nodes: [u32; 3]| {
        std::array::from_fn(|k| Place {
            node: nodes[k],
            at: corner.0[k].nm(),
        })
    };
    let solid = |cuboid: Cuboid, lo: [u32; 3]| Solid {
        thing,
        lo: places(cuboid.lo(), lo),
        hi: places(cuboid.hi(), hi),
        service: [0; 6],
    };
    // Both edges of a rim go with the top.
    let hung = [lo[0], lo[1], hi[2]];
    let rims = rule.rims.iter().map(|rim: &Rim| solid(rim.around(body), hung));
    std::iter::once(solid(*body, lo)).chain(rims).collect()
}
