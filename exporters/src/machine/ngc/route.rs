//! The steps of a tool, and how long they take.

use jigless_model::geom::{Arc, Path, Point, Segment};

/// At which feed a step is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pace {
    /// As fast as the machine goes, through air only.
    Rapid,
    /// The tool's feed sideways.
    Feed,
    /// The tool's feed downward.
    Plunge,
}

/// A step to a place and height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Step {
    pub(super) pace: Pace,
    pub(super) to: Point,
    pub(super) z: f64,
    /// Centre of the arc, and whether it is clockwise; `None` for a line.
    pub(super) arc: Option<(Point, bool)>,
}

/// The steps of one job.
#[derive(Debug, Clone, Default)]
pub(super) struct Route {
    pub(super) steps: Vec<Step>,
}

impl Route {
    /// Where the tool is.
    pub(super) fn at(&self) -> (Point, f64) {
        self.steps
            .last()
            .map_or((Point::default(), 0.0), |step| (step.to, step.z))
    }

    fn push(&mut self, pace: Pace, to: Point, z: f64, arc: Option<(Point, bool)>) {
        let (at, height) = self.at();
        let stays = !self.steps.is_empty() && at.distance(to) < 1e-9 && (height - z).abs() < 1e-9;
        if stays && arc.is_none() {
            return;
        }
        self.steps.push(Step { pace, to, z, arc });
    }

    /// Rapid to a place at a height.
    pub(super) fn rapid(&mut self, to: Point, z: f64) {
        self.push(Pace::Rapid, to, z, None);
    }

    /// Straight to a place and height.
    pub(super) fn line(&mut self, to: Point, z: f64) {
        let (at, _) = self.at();
        let pace = if at.distance(to) < 1e-9 {
            Pace::Plunge
        } else {
            Pace::Feed
        };
        self.push(pace, to, z, None);
    }

    /// Along a segment to a height.
    pub(super) fn along(&mut self, segment: &Segment, z: f64) {
        match segment {
            Segment::Line(_, to) => self.line(*to, z),
            Segment::Arc(arc) => self.arc(arc, z),
        }
    }

    fn arc(&mut self, arc: &Arc, z: f64) {
        let clockwise = arc.bulge < 0.0;
        self.push(Pace::Feed, arc.to, z, Some((arc.centre(), clockwise)));
    }

    /// Once around a loop at a height.
    pub(super) fn lap(&mut self, path: &Path, z: f64) {
        for segment in path.segments() {
            self.along(&segment, z);
        }
    }

    /// Down along a loop to a height, at a slope; gives the loop from where that is reached.
    pub(super) fn descend(&mut self, path: &Path, z: f64, slope: f64) -> Path {
        let (_, mut height) = self.at();
        let mut path = path.clone();
        // Bounded: each round goes down by the loop's length times the slope.
        for _ in 0..100_000 {
            let need = (height - z) / slope;
            if need <= 1e-6 || path.length() < 1e-6 {
                break;
            }
            let mut run = 0.0;
            let mut end = None;
            for (index, segment) in path.segments().enumerate() {
                let length = segment.length();
                if run + length >= need {
                    end = Some((index, need));
                    break;
                }
                run += length;
            }
            match end {
                None => {
                    for segment in path.segments() {
                        height -= segment.length() * slope;
                        self.along(&segment, height);
                    }
                }
                Some((index, need)) => {
                    let rest = super::loops::from_length(&path, need);
                    let before: Vec<Segment> = path.segments().take(index).collect();
                    for segment in &before {
                        height -= segment.length() * slope;
                        self.along(segment, height);
                    }
                    // The last segment of the loop from there is the one that leads there.
                    let done: f64 = before.iter().map(Segment::length).sum();
                    if need - done > 1e-6
                        && let Some(last) = rest.segments().last()
                    {
                        self.along(&last, z);
                    }
                    height = z;
                    path = rest;
                }
            }
        }
        path
    }

    /// Lengths of cuts and of rapids, and the time in seconds: each step begins and ends at rest, since corners slow a
    /// machine down, with the acceleration that is stated.
    pub(super) fn cost(&self, paces: &Paces) -> Cost {
        let mut cost = Cost::default();
        let Some(first) = self.steps.first() else {
            return cost;
        };
        let (mut at, mut height) = (first.to, first.z);
        for step in &self.steps {
            let flat = match step.arc {
                None => at.distance(step.to),
                Some((centre, clockwise)) => {
                    let angle = |p: Point| (p - centre).angle();
                    let turn = if clockwise {
                        angle(at) - angle(step.to)
                    } else {
                        angle(step.to) - angle(at)
                    };
                    at.distance(centre) * turn.rem_euclid(std::f64::consts::TAU)
                }
            };
            let length = flat.hypot(step.z - height);
            let (speed, sum) = match step.pace {
                Pace::Rapid => (paces.rapid, &mut cost.rapid),
                Pace::Feed => (paces.feed, &mut cost.cut),
                Pace::Plunge => (paces.plunge, &mut cost.cut),
            };
            *sum += length;
            let speed = speed / 60.0;
            let most = speed * speed / paces.acceleration;
            // Elementary: up to speed and down again, or as far as the way allows.
            cost.seconds += if length >= most {
                length / speed + speed / paces.acceleration
            } else {
                2.0 * (length / paces.acceleration).sqrt()
            };
            (at, height) = (step.to, step.z);
        }
        cost
    }
}

/// How fast a tool goes, in millimetres a minute, and the acceleration in millimetres a second squared.
#[derive(Debug, Clone, Copy)]
pub(super) struct Paces {
    pub(super) rapid: f64,
    pub(super) feed: f64,
    pub(super) plunge: f64,
    pub(super) acceleration: f64,
}

/// What a route costs.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Cost {
    /// Length of cuts, in millimetres.
    pub(super) cut: f64,
    /// Length of rapids, in millimetres.
    pub(super) rapid: f64,
    /// Time in seconds.
    pub(super) seconds: f64,
}

impl Cost {
    /// What another route costs on top.
    pub(super) fn add(&mut self, other: Cost) {
        self.cut += other.cut;
        self.rapid += other.rapid;
        self.seconds += other.seconds;
    }
}
