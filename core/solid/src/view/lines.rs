//! The lines of a picture, with what is hidden told from what is seen.

use jigless_model::geom::{Bounds, Point};

use super::camera::Camera;
use super::surface::{Patch, Reach, Shown, Surface};
use crate::mesh::MeshEdge;

/// What a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineKind {
    /// Hidden by something in front of it.
    Hidden,
    /// Where two sides of a thing meet, or one thing lies against another.
    Crease,
    /// Where a thing ends and what is seen beside it lies far behind.
    Outline,
}

/// A straight line on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// One end, in millimetres of the thing.
    pub from: Point,
    /// The other end.
    pub to: Point,
    /// What it is.
    pub kind: LineKind,
    /// Number of the body that it belongs to.
    pub body: usize,
    /// How near its two ends are to whoever looks.
    pub nearness: [f64; 2],
}

/// How lines are told apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineSettings {
    /// Whether hidden lines are wanted, of long edges only.
    pub hidden: bool,
    /// So far beside an edge, in millimetres, it is looked what lies behind it.
    pub beside: f64,
    /// What lies further behind than this, in millimetres, makes an edge an outline.
    pub behind: f64,
}

impl Default for LineSettings {
    fn default() -> Self {
        Self {
            hidden: false,
            beside: 4.0,
            behind: 40.0,
        }
    }
}

/// A line is looked at this far inside its own facet, in millimetres, where it is no other thing's border.
const INSIDE: f64 = 0.01;
/// What is no nearer than this, in millimetres, hides nothing.
const NEARER: f64 = 1e-4;
/// Shorter stretches, as shares of a line, are nothing.
const SHORT: f64 = 1e-7;
/// Hidden edges shorter than this, in millimetres, are those of holes and small shapes, and are left out.
const SMALL: f64 = 40.0;

/// The lines of a picture.
pub(super) fn lines(
    bodies: &[Shown],
    surface: &Surface,
    camera: &Camera,
    settings: LineSettings,
) -> Vec<Line> {
    let mut work = Work {
        surface,
        settings,
        near: Vec::new(),
        shares: Vec::new(),
        hidden: Vec::new(),
        lines: Vec::new(),
    };
    for (body, shown) in bodies.iter().enumerate() {
        for edge in shown.edges {
            work.edge(body, edge, shown, camera);
        }
    }
    work.lines
}

struct Work<'a> {
    surface: &'a Surface,
    settings: LineSettings,
    near: Vec<u32>,
    shares: Vec<f64>,
    hidden: Vec<(f64, f64)>,
    lines: Vec<Line>,
}

impl Work<'_> {
    fn edge(&mut self, body: usize, edge: &MeshEdge, shown: &Shown, _camera: &Camera) {
        let surface = self.surface;
        let patches = edge.facets.map(|facet| {
            surface.of_facet[body][facet as usize].map(|n| &surface.patches[n as usize])
        });
        let [(a, near_a), (b, near_b)] = edge
            .ends
            .map(|corner| surface.corners[body][corner as usize]);
        let length = a.distance(b);
        if length < 1e-6 {
            return;
        }
        // The first facet has the edge on its border from the first end to the second, so it lies on its left.
        let left = (b - a).left() * (1.0 / length);
        let (own, inward) = match patches {
            [None, None] => {
                if self.settings.hidden && !edge.smooth && length >= SMALL {
                    self.push(body, (a, b), [near_a, near_b], (0.0, 1.0), LineKind::Hidden);
                }
                return;
            }
            [Some(_), Some(_)] if edge.smooth => return,
            [Some(one), _] => (one, left),
            [None, Some(other)] => (other, left * -1.0),
        };
        let contour = patches.iter().any(Option::is_none);
        let nearest = near_a.max(near_b);
        let reach = Bounds::new(a, b);
        let wants_hidden = self.settings.hidden && !shown.is_strip(edge) && length >= SMALL;
        if !wants_hidden && surface.is_hidden(reach, nearest) {
            return;
        }
        let shift = inward * INSIDE;
        self.find_hidden(own, (a + shift, b + shift));
        let mut at = 0.0;
        let hidden = std::mem::take(&mut self.hidden);
        for &(from, to) in hidden.iter().chain([&(1.0, 1.0)]) {
            if from - at > SHORT {
                if contour {
                    self.outlined(body, (a, b), [near_a, near_b], (at, from), inward * -1.0);
                } else {
                    self.push(body, (a, b), [near_a, near_b], (at, from), LineKind::Crease);
                }
            }
            if wants_hidden && to - from > SHORT {
                self.push(body, (a, b), [near_a, near_b], (from, to), LineKind::Hidden);
            }
            at = at.max(to);
        }
        self.hidden = hidden;
    }

    /// The stretches of a line on a patch that others hide, in order and apart.
    fn find_hidden(&mut self, own: &Patch, (from, to): (Point, Point)) {
        let reach = Reach::of_line(from, to);
        let surface = self.surface;
        surface.near(reach, &mut self.near);
        let mine = [own.nearness(from), own.nearness(to)];
        self.hidden.clear();
        for &number in &self.near {
            let patch = &surface.patches[number as usize];
            if std::ptr::eq(patch, own) {
                continue;
            }
            // How much nearer the patch is at both ends; it changes evenly between them.
            let ahead = [patch.nearness(from) - mine[0], patch.nearness(to) - mine[1]];
            if ahead[0] <= NEARER && ahead[1] <= NEARER {
                continue;
            }
            let (mut low, mut high) = (0.0, 1.0);
            if ahead[0] <= NEARER {
                low = (NEARER - ahead[0]) / (ahead[1] - ahead[0]);
            } else if ahead[1] <= NEARER {
                high = (ahead[0] - NEARER) / (ahead[0] - ahead[1]);
            }
            patch.over(from, to, reach, &mut self.shares);
            for pair in self.shares.chunks_exact(2) {
                let (begin, end) = (pair[0].max(low), pair[1].min(high));
                if end - begin > SHORT {
                    if begin <= SHORT && end >= 1.0 - SHORT {
                        self.hidden.clear();
                        self.hidden.push((0.0, 1.0));
                        return;
                    }
                    self.hidden.push((begin, end));
                }
            }
        }
        join(&mut self.hidden);
    }

    /// A visible stretch of an edge beyond which its body is not seen: an outline where nothing lies close behind it.
    fn outlined(
        &mut self,
        body: usize,
        (a, b): (Point, Point),
        near: [f64; 2],
        (begin, end): (f64, f64),
        outward: Point,
    ) {
        let shift = outward * self.settings.beside;
        let (from, to) = (a.toward(b, begin) + shift, a.toward(b, end) + shift);
        let reach = Reach::of_line(from, to);
        let surface = self.surface;
        surface.near(reach, &mut self.near);
        let at = |share: f64| near[0] + (near[1] - near[0]) * share;
        let ends = [at(begin), at(end)];
        let mut close: Vec<(f64, f64)> = Vec::new();
        for &number in &self.near {
            let patch = &surface.patches[number as usize];
            // How far behind the edge the patch is.
            let back = [
                ends[0] - patch.nearness(from) - self.settings.behind,
                ends[1] - patch.nearness(to) - self.settings.behind,
            ];
            if back[0] >= 0.0 && back[1] >= 0.0 {
                continue;
            }
            let (mut low, mut high) = (0.0, 1.0);
            if back[0] >= 0.0 {
                low = back[0] / (back[0] - back[1]);
            } else if back[1] >= 0.0 {
                high = back[0] / (back[0] - back[1]);
            }
            patch.over(from, to, reach, &mut self.shares);
            for pair in self.shares.chunks_exact(2) {
                let (begin, end) = (pair[0].max(low), pair[1].min(high));
                if end - begin > SHORT {
                    close.push((begin, end));
                }
            }
        }
        join(&mut close);
        let share = |of: f64| begin + (end - begin) * of;
        let mut done = 0.0;
        for &(low, high) in close.iter().chain([&(1.0, 1.0)]) {
            if low - done > SHORT {
                let stretch = (share(done), share(low));
                self.push(body, (a, b), near, stretch, LineKind::Outline);
            }
            if high - low > SHORT {
                self.push(
                    body,
                    (a, b),
                    near,
                    (share(low), share(high)),
                    LineKind::Crease,
                );
            }
            done = done.max(high);
        }
    }

    fn push(
        &mut self,
        body: usize,
        (a, b): (Point, Point),
        near: [f64; 2],
        (from, to): (f64, f64),
        kind: LineKind,
    ) {
        let nearness = [from, to].map(|share| near[0] + (near[1] - near[0]) * share);
        self.lines.push(Line {
            from: a.toward(b, from),
            to: a.toward(b, to),
            kind,
            body,
            nearness,
        });
    }
}

impl Shown<'_> {
    /// Whether an edge belongs to a hole or another curve.
    fn is_strip(&self, edge: &MeshEdge) -> bool {
        edge.facets
            .iter()
            .any(|facet| self.mesh.facets[*facet as usize].curved)
    }
}

/// Sorts stretches and joins those that overlap or touch.
fn join(stretches: &mut Vec<(f64, f64)>) {
    stretches.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut kept = 0;
    for index in 0..stretches.len() {
        let next = stretches[index];
        if kept > 0 && next.0 <= stretches[kept - 1].1 + SHORT {
            stretches[kept - 1].1 = stretches[kept - 1].1.max(next.1);
        } else {
            stretches[kept] = next;
            kept += 1;
        }
    }
    stretches.truncate(kept);
}
