//! Reads a program back.
//!
//! The subset of RS274/NGC (NIST IR 6556) that programs for a router need: G0 to G3 with I and J, G17, G20, G21, G40,
//! G49, G54, G80, G81, G83, G90, G94, G98; F, S, T; M0 to M9, M30. Any other word is refused, since nobody can say what a
//! machine makes of it.

use jigless_model::geom::Point;

use crate::fault::{Fault, FaultKind};
use crate::program::{Arc, Motion, Program};
use crate::words::{self, Word};

/// How far the radii at the two ends of an arc may differ, in millimetres (NIST IR 6556, 3.5.3.2).
const ARC_TOLERANCE: f64 = 0.002;

/// The most motions that are read: a sheet of 500 parts has a tenth of it.
const MOST_MOTIONS: usize = 1_000_000;

/// The most faults that are told of reading.
const MOST_FAULTS: usize = 1_000;

/// The most pecks of one hole.
const MOST_PECKS: usize = 10_000;

/// What goes on from line to line.
struct State {
    motion: Option<u32>,
    scale: f64,
    position: [Option<f64>; 3],
    feed: Option<f64>,
    spindle: bool,
    chosen: Option<(u32, usize)>,
    tool: Option<(u32, usize)>,
    /// Of a canned cycle: retract height, depth, peck.
    cycle: [Option<f64>; 3],
    initial_z: f64,
    ended: bool,
}

/// Reads a program. What cannot be read is among its faults, and reading goes on after it.
pub fn read(text: &str) -> Program {
    let mut program = Program::default();
    let mut state = State {
        motion: None,
        scale: 1.0,
        position: [None; 3],
        feed: None,
        spindle: false,
        chosen: None,
        tool: None,
        cycle: [None; 3],
        initial_z: 0.0,
        ended: false,
    };
    for (index, line) in text.lines().enumerate() {
        let number = index + 1;
        if program.motions.len() > MOST_MOTIONS || program.faults.len() > MOST_FAULTS {
            let message = format!(
                "reading ends here, after more than {MOST_MOTIONS} motions or {MOST_FAULTS} faults"
            );
            let fault = Fault::new(number, FaultKind::Unreadable, message);
            program.faults.push(fault);
            return program;
        }
        match words::of(number, line) {
            Ok(words) if words.is_empty() => {}
            Ok(words) => state.line(number, &words, &mut program),
            Err(fault) => program.faults.push(fault),
        }
    }
    if !state.ended {
        let line = text.lines().count().max(1);
        let message = "the program does not end (M2 or M30)";
        let fault = Fault::new(line, FaultKind::Unreadable, message);
        program.faults.push(fault);
    }
    program
}

/// The number of a code with one decimal, times ten: G38.2 is 382.
fn code(number: f64) -> i64 {
    (number * 10.0).round() as i64
}

impl State {
    fn line(&mut self, line: usize, words: &[Word], program: &mut Program) {
        let mut wrong = |kind: FaultKind, message: String| {
            program.faults.push(Fault::new(line, kind, message));
        };
        if self.ended {
            wrong(
                FaultKind::Unreadable,
                "there are words after the end".to_owned(),
            );
            return;
        }
        let mut axes = [None; 3];
        let (mut i, mut j) = (None, None);
        let mut change = false;
        let mut dwell = false;
        let mut feed = None;
        for word in words {
            match word.letter {
                'G' => match code(word.number) {
                    0 => self.motion = Some(0),
                    10 => self.motion = Some(1),
                    20 => self.motion = Some(2),
                    30 => self.motion = Some(3),
                    40 => dwell = true,
                    200 => {
                        self.scale = 25.4;
                        program.unit_line = line;
                    }
                    210 => {
                        self.scale = 1.0;
                        program.unit_line = line;
                    }
                    800 => self.motion = None,
                    810 => self.motion = Some(81),
                    830 => self.motion = Some(83),
                    170 | 400 | 490 | 540 | 900 | 940 | 980 => {}
                    _ => wrong(
                        FaultKind::Unreadable,
                        format!("G{} is not of the subset that can be proved", word.number),
                    ),
                },
                'M' => match code(word.number) {
                    20 | 300 => self.ended = true,
                    30 => self.spindle = true,
                    40 => wrong(
                        FaultKind::NotReady,
                        "the spindle turns backward (M4)".to_owned(),
                    ),
                    50 => self.spindle = false,
                    60 => change = true,
                    0 | 10 | 70 | 80 | 90 => {}
                    _ => wrong(
                        FaultKind::Unreadable,
                        format!("M{} is not of the subset that can be proved", word.number),
                    ),
                },
                'F' => feed = Some(word.number * self.scale),
                'T' => self.chosen = Some((word.number.max(0.0) as u32, line)),
                'N' | 'S' | 'P' => {}
                'X' => axes[0] = Some(word.number * self.scale),
                'Y' => axes[1] = Some(word.number * self.scale),
                'Z' => axes[2] = Some(word.number * self.scale),
                'I' => i = Some(word.number * self.scale),
                'J' => j = Some(word.number * self.scale),
                'R' => self.cycle[0] = Some(word.number * self.scale),
                'Q' => self.cycle[2] = Some(word.number * self.scale),
                letter => wrong(
                    FaultKind::Unreadable,
                    format!("the word {letter} is not of the subset that can be proved"),
                ),
            }
        }
        if change {
            self.tool = self.chosen;
            self.spindle = false;
            // Each tool has a feed of its own, so that of the one before does not count.
            self.feed = None;
            if self.tool.is_none() {
                wrong(
                    FaultKind::NotReady,
                    "a tool is changed (M6) and none was named (T)".to_owned(),
                );
            }
        }
        self.feed = feed.or(self.feed);
        if dwell || axes.iter().all(Option::is_none) {
            return;
        }
        match self.motion {
            None => wrong(
                FaultKind::Unreadable,
                "there are coordinates, and no motion is in force".to_owned(),
            ),
            Some(mode @ (81 | 83)) => self.canned(line, mode, axes, program),
            Some(mode) => {
                let arc = (mode >= 2).then_some((i, j, mode == 2));
                self.go(line, mode == 0, axes, arc, program);
            }
        }
    }

    /// A canned cycle as the motions that it stands for.
    fn canned(
        &mut self,
        line: usize,
        mode: u32,
        [x, y, z]: [Option<f64>; 3],
        program: &mut Program,
    ) {
        if z.is_some() {
            self.cycle[1] = z;
            self.initial_z = self.position[2].unwrap_or(0.0);
        }
        let [Some(retract), Some(depth), peck] = self.cycle else {
            let message = "a canned cycle needs R and Z";
            program
                .faults
                .push(Fault::new(line, FaultKind::Unreadable, message));
            return;
        };
        let peck = match (mode, peck) {
            (83, Some(peck)) if peck > 1e-6 => peck,
            (83, _) => {
                let message = "G83 needs Q";
                program
                    .faults
                    .push(Fault::new(line, FaultKind::Unreadable, message));
                return;
            }
            _ => f64::INFINITY,
        };
        self.go(line, true, [x, y, None], None, program);
        self.go(line, true, [None, None, Some(retract)], None, program);
        let mut at = retract;
        let mut pecks = 0;
        if (retract - depth) / peck > MOST_PECKS as f64 {
            let message = format!("more than {MOST_PECKS} pecks for one hole");
            program
                .faults
                .push(Fault::new(line, FaultKind::Unreadable, message));
            return;
        }
        while at > depth + 1e-9 {
            let next = (at - peck).max(depth);
            if pecks > 0 {
                self.go(line, true, [None, None, Some(at)], None, program);
            }
            self.go(line, false, [None, None, Some(next)], None, program);
            self.go(line, true, [None, None, Some(retract)], None, program);
            at = next;
            pecks += 1;
        }
        let back = self.initial_z.max(retract);
        self.go(line, true, [None, None, Some(back)], None, program);
    }

    /// One motion.
    fn go(
        &mut self,
        line: usize,
        rapid: bool,
        axes: [Option<f64>; 3],
        arc: Option<(Option<f64>, Option<f64>, bool)>,
        program: &mut Program,
    ) {
        let mut wrong = |kind: FaultKind, message: String| {
            program.faults.push(Fault::new(line, kind, message));
        };
        let before = self.position;
        for (own, new) in self.position.iter_mut().zip(axes) {
            *own = new.or(*own);
        }
        let [Some(x), Some(y), Some(z)] = self.position else {
            // Lifting before it is known where the machine stands is how programs begin.
            if axes[0].is_some() || axes[1].is_some() {
                let message = "the tool goes sideways before it was lifted to a known height";
                wrong(FaultKind::NotReady, message.to_owned());
            }
            return;
        };
        let to = Point::new(x, y);
        let from_z = before[2].unwrap_or(z);
        let (Some(from_x), Some(from_y)) = (before[0], before[1]) else {
            if z < 0.0 {
                let message = "the first way sideways is below the face of the sheet";
                wrong(FaultKind::RapidThroughWood, message.to_owned());
            }
            return;
        };
        let from = Point::new(from_x, from_y);
        let arc = match arc {
            None => None,
            Some((None, None, _)) => {
                let message = "an arc needs I or J, from its start to its centre";
                wrong(FaultKind::BadArc, message.to_owned());
                return;
            }
            Some((i, j, clockwise)) => {
                let centre = from + Point::new(i.unwrap_or(0.0), j.unwrap_or(0.0));
                let (a, b) = (from.distance(centre), to.distance(centre));
                if (a - b).abs() > ARC_TOLERANCE {
                    let message =
                        format!("the ends of an arc are {a:.4} and {b:.4} mm from its centre");
                    wrong(FaultKind::BadArc, message);
                }
                Some(Arc { centre, clockwise })
            }
        };
        if !rapid {
            let lacks = [
                (self.feed.is_none_or(|feed| feed <= 0.0), "feed (F)"),
                (!self.spindle, "turning spindle (M3)"),
                (self.tool.is_none(), "tool (T and M6)"),
            ];
            for (lacks, what) in lacks {
                if lacks {
                    wrong(FaultKind::NotReady, format!("a cut without a {what}"));
                }
            }
        }
        program.motions.push(Motion {
            line,
            rapid,
            from,
            from_z,
            to,
            to_z: z,
            arc,
            tool: self.tool.map(|(number, _)| number),
            tool_line: self.tool.map_or(0, |(_, line)| line),
            feed: self.feed,
            spindle: self.spindle,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const START: &str = "G21 G17 G90 G94\nT1 M6\nS9000 M3\nG0 Z10\nG0 X0 Y0\n";

    fn program(body: &str) -> Program {
        read(&format!("{START}{body}\nM5\nM2\n"))
    }

    /// From (7, 7), `G2 X10 Y16 I3 J4` turns about (10, 11) with radius 5 over 143.1301 degrees, 12.4905 long (NIST IR
    /// 6556, 3.5.3.2; the turn derived).
    #[test]
    fn the_worked_arc_of_the_standard() {
        let read = program("G0 X7 Y7\nG1 Z-1 F600\nG2 X10 Y16 I3 J4");
        assert_eq!(read.faults, []);
        let arc = read.motions.last().unwrap();
        assert_eq!(arc.arc.unwrap().centre, Point::new(10.0, 11.0));
        assert!((arc.length() - 12.490_457).abs() < 1e-5);
        let wrong = program("G0 X7 Y7\nG1 Z-1 F600\nG2 X10 Y16 I3 J4.1");
        assert_eq!(
            (wrong.faults[0].line, wrong.faults[0].kind),
            (8, FaultKind::BadArc)
        );
    }

    #[test]
    fn what_is_not_ready_is_told_with_its_line() {
        let fault = |text: &str| {
            let faults = read(text).faults;
            (faults[0].line, faults[0].kind)
        };
        let no_feed = format!("{START}G1 Z-1\nM2");
        assert_eq!(fault(&no_feed), (6, FaultKind::NotReady));
        let stopped = format!("{START}M5\nG1 Z-1 F100\nM2");
        assert_eq!(fault(&stopped), (7, FaultKind::NotReady));
        assert_eq!(fault("G21\nG0 X5 Y5\nM2"), (2, FaultKind::NotReady));
        let unknown = format!("{START}G41 D1\nM2");
        assert_eq!(fault(&unknown), (6, FaultKind::Unreadable));
        assert_eq!(fault(START), (5, FaultKind::Unreadable));
    }

    #[test]
    fn canned_cycles_are_the_motions_that_they_stand_for() {
        let read = program("G83 X5 Y5 Z-10 R2 Q4 F300\nX9\nG80");
        assert_eq!(read.faults, []);
        let drilled: f64 = read
            .motions
            .iter()
            .filter(|m| !m.rapid)
            .map(Motion::length)
            .sum();
        assert!((drilled - 24.0).abs() < 1e-9);
        assert_eq!(read.motions.last().unwrap().to, Point::new(9.0, 5.0));
    }

    #[test]
    fn inches_are_millimetres() {
        let read = read("G20\nT1 M6\nM3\nG0 Z1\nG0 X0 Y0\nG1 X1 F10\nM2");
        assert!((read.cut_length() - 25.4).abs() < 1e-9);
        assert_eq!(read.motions.last().unwrap().feed, Some(254.0));
    }
    /// A line of three letters may stand for 30,000 motions.
    #[test]
    fn reading_ends() {
        let many = read(&format!(
            "{START}F300\nG83 X5 Y5 Z-9999 R0 Q1\n{}",
            "X9\n".repeat(100)
        ));
        assert!(many.motions.len() < MOST_MOTIONS + 40_000);
        let last = many.faults.last().unwrap();
        assert!(last.line > 30 && last.message.contains("reading ends"));
        let faults = read(&"?\n".repeat(5_000)).faults;
        assert_eq!(faults.len(), MOST_FAULTS + 2);
        let fine = program("G83 X5 Y5 Z-1000 R0 Q.001 F300").faults;
        assert_eq!((fine[0].line, fine[0].kind), (6, FaultKind::Unreadable));
    }
}
