//! What holds a back in its rebates: nails, staples or screws into all edges behind it, or glue; and pencil lines where
//! these edges are hidden behind it.
//!
//! | what | formula |
//! |---|---|
//! | line of fixings in a side or top | the middle of the rebate |
//! | line of fixings in a bottom, shelf, divider or stretcher | the middle of its edge or of its width |
//! | length | three times the thickness of the back, or more (common practice, no source) |
//! | distance | 150 mm at most, 40 mm from the ends (common practice, no source) |

use super::frame::{CarcassFrame, SIDES};
use super::inner::Floors;
use super::keys::{Back, BackWith};
use crate::build::kit::held;
use crate::build::{BuildContext, hardware, length, list, map, point, text};
use crate::codes;
use crate::load::Value;
use crate::sold::{self, Wanted};
use jigless_model::diag::Finding;
use jigless_model::hardware::FittingKind;
use jigless_model::units::Unit;

/// From the ends of a line to its first fixing, in millimetres (common practice, no source).
const END: f64 = 40.0;
/// Between fixings at most, in millimetres (common practice, no source).
const APART: f64 = 150.0;
/// Around a part that goes into a side or lies on it, in millimetres: room for its own joint.
const CLEAR: f64 = 12.0;
/// The narrowest rebate that a nail or staple is driven into, and a screw, in millimetres (common practice, no source).
const NAILED: f64 = 5.0;
const SCREWED: f64 = 10.5;
/// The least that a fixing holds in, and the wood that stays before its tip, in millimetres (common practice, no source).
const HOLD: f64 = 8.0;
const SKIN: f64 = 2.0;

/// A line that the back is fixed along, in the back's own coordinates.
struct Line {
    /// The part behind it.
    part: String,
    upright: bool,
    /// Its distance from the left or lower edge of the back.
    at: f64,
    /// Where it begins and ends.
    run: (f64, f64),
    /// Width of the hidden edge; nothing where it is seen.
    hidden: Option<f64>,
    /// How much wood is behind the back.
    wood: f64,
    /// Where along it nothing goes.
    without: Vec<(f64, f64)>,
}

/// Fixes a rebated back.
pub(super) fn fix(built: &mut BuildContext, frame: &CarcassFrame, floors: &Floors) -> Option<()> {
    if !matches!(frame.keys.back, Back::Rebated) {
        return Some(());
    }
    let with = frame.keys.back_with;
    let rebate = frame.keys.back_depth;
    let least = match with {
        BackWith::Nails | BackWith::Staples => NAILED,
        BackWith::Screws => SCREWED,
        BackWith::Glue => 0.0,
    };
    if rebate < least {
        let message = format!(
            "the rebates for the back are {} wide, and {} want {}",
            built.show(rebate),
            with.name(),
            built.show(least)
        );
        built.find(
            Finding::error(codes::NO_ROOM, built.span, message)
                .fix("make `back_depth` larger, or write `back_with: glue`"),
        );
        return None;
    }
    let back = frame.id("back");
    for line in lines(frame, floors) {
        if let Some(width) = line.hidden {
            pencil(built, &back, &line, width);
        }
        match with {
            BackWith::Glue if line.hidden.is_some() => {
                built.joint("butt", held(&back, &line.part, "glue"));
            }
            BackWith::Glue => {}
            BackWith::Nails | BackWith::Staples | BackWith::Screws => {
                drive(built, frame, &back, &line)?;
            }
        }
    }
    Some(())
}

/// Every edge behind the back.
fn lines(frame: &CarcassFrame, floors: &Floors) -> Vec<Line> {
    let keys = &frame.keys;
    let (t, rebate) = (frame.t(), keys.back_depth);
    let inset = t - rebate + keys.back_play / 2.0;
    let low = frame.bottom_low();
    let top = if frame.has_top() { inset } else { 0.0 };
    let high = keys.height - top - low;
    let depth = keys.depth - frame.back_plane();
    let between = (t - inset, keys.width - t - inset);
    let mut level = vec![Line {
        part: frame.id("bottom"),
        upright: false,
        at: t / 2.0,
        run: between,
        hidden: Some(t),
        wood: depth,
        without: Vec::new(),
    }];
    for shelf in &keys.shelves {
        level.push(Line {
            part: frame.id(&shelf.name),
            upright: false,
            at: shelf.up.value + t / 2.0 - low,
            run: between,
            hidden: Some(t),
            wood: depth,
            without: Vec::new(),
        });
    }
    for (name, y, up, deep) in frame.stretchers_behind() {
        level.push(Line {
            part: frame.id(name),
            upright: false,
            at: y + up / 2.0 - low,
            // Pockets or screws hold its ends.
            run: (between.0 + END, between.1 - END),
            hidden: Some(up),
            wood: deep,
            without: Vec::new(),
        });
    }
    let around = |line: &Line| {
        let half = line.hidden.unwrap_or(0.0) / 2.0 + CLEAR;
        (line.at - half, line.at + half)
    };
    let without: Vec<(f64, f64)> = level.iter().map(around).collect();
    if frame.has_top() {
        level.push(Line {
            part: frame.id("top"),
            upright: false,
            at: high - rebate / 2.0 + keys.back_play / 2.0,
            run: between,
            hidden: None,
            wood: depth,
            without: Vec::new(),
        });
    }
    let wide = keys.width - 2.0 * inset;
    let middle = rebate / 2.0 - keys.back_play / 2.0;
    let top_of = if frame.has_top() { high - rebate } else { high };
    let sides = SIDES.iter().zip([middle, wide - middle]);
    let mut all: Vec<Line> = sides
        .map(|(side, at)| Line {
            part: frame.id(side),
            upright: true,
            at,
            run: (0.0, top_of),
            hidden: None,
            wood: depth,
            without: without.clone(),
        })
        .collect();
    for floor in &floors.floors {
        let own = floor.dividers.iter().filter(|_| floor.short <= 0.0);
        all.extend(own.map(|divider| Line {
            part: frame.id(&divider.name),
            upright: true,
            at: divider.left + t / 2.0 - inset,
            run: (floor.low - low, floor.high - low),
            hidden: Some(t),
            wood: depth,
            without: Vec::new(),
        }));
    }
    all.extend(level);
    all
}

/// Draws the hidden edge on the back of the back.
fn pencil(built: &mut BuildContext, back: &str, line: &Line, width: f64) {
    let (from, run) = (line.run.0, line.run.1 - line.run.0);
    let (x, y, w, h) = if line.upright {
        (line.at - width / 2.0, from, width, run)
    } else {
        (from, line.at - width / 2.0, run, width)
    };
    let span = built.span;
    let outline = vec![
        ("at", point(span, x, y.max(0.0))),
        ("width", length(w)),
        ("height", length(h)),
    ];
    let keys = vec![
        ("box", map(span, outline)),
        ("face", text("back")),
        ("label", text(&format!("edge of {}", line.part))),
    ];
    built.feature(back, None, "mark", keys);
}

/// Drives nails, staples or screws along a line.
fn drive(built: &mut BuildContext, frame: &CarcassFrame, back: &str, line: &Line) -> Option<()> {
    let places = places(line);
    if places.is_empty() {
        return Some(());
    }
    let span = built.span;
    let bought = bought(built, frame, line)?;
    let label = format!("{} into {}", frame.keys.back_with.name(), line.part);
    let spot = |along: f64| {
        if line.upright {
            point(span, line.at, along)
        } else {
            point(span, along, line.at)
        }
    };
    if let BackWith::Screws = frame.keys.back_with {
        for along in places {
            let keys = vec![
                ("at", spot(along)),
                ("diameter", length(SCREW)),
                ("face", text("back")),
                ("hardware", bought.clone()),
                ("label", text(&label)),
            ];
            built.feature(back, None, "hole", keys);
        }
        return Some(());
    }
    let along = places.into_iter().map(|at| length(at - line.run.0));
    let keys = vec![
        ("from", spot(line.run.0)),
        ("to", spot(line.run.1)),
        ("at", list(span, along)),
        ("hardware", bought),
        ("face", text("back")),
        ("label", text(&label)),
    ];
    built.feature(back, None, "fixings", keys);
    Some(())
}

/// Diameter of the screws and of their holes in the back, in millimetres (common practice, no source).
const SCREW: f64 = 3.5;

/// What is driven into a line.
fn bought(built: &BuildContext, frame: &CarcassFrame, line: &Line) -> Option<Value> {
    let thick = frame.back_thickness();
    let (kind, gauge, sold) = sold_for(built, frame.keys.back_with);
    let wanted = Wanted {
        least: thick + HOLD,
        most: thick + line.wood - SKIN,
        from: 3.0 * thick,
        ..Wanted::ANY
    };
    let Some(chosen) = wanted.choose(&sold) else {
        built.find(none_holds(built, line, kind, thick, wanted));
        return None;
    };
    Some(hardware(built.span, kind, Some(chosen), gauge))
}

/// What is bought to hold a back, by its kind, its gauge and the lengths that are sold.
fn sold_for(built: &BuildContext, with: BackWith) -> (FittingKind, Option<&'static str>, Vec<f64>) {
    match with {
        BackWith::Staples => (FittingKind::Staple, None, sold::staples(&built.context)),
        BackWith::Screws => (
            FittingKind::Screw,
            Some("3.5"),
            sold::screws(&built.context),
        ),
        BackWith::Nails | BackWith::Glue => {
            let gauge = match built.context.unit() {
                Unit::Millimetre => "1.6",
                Unit::Inch => "16 gauge",
            };
            (FittingKind::Nail, Some(gauge), sold::nails(&built.context))
        }
    }
}

/// That no length is sold, with what else would hold the back; where no length can be right, how thick the wood must be.
fn none_holds(
    built: &BuildContext,
    line: &Line,
    kind: FittingKind,
    thick: f64,
    wanted: Wanted,
) -> Finding {
    let (back, part, kind_name) = (built.show(thick), &line.part, kind.name());
    let (least, most) = (built.show(wanted.least), built.show(wanted.most));
    if wanted.least > wanted.most {
        let message = format!(
            "`{part}`: no {kind_name} holds a back of {back} to it: one of {least} would hold, and from {most} on it comes out"
        );
        let fix = format!(
            "write `back_with: glue`, or use stock at least {} thick",
            built.show(HOLD + SKIN)
        );
        return Finding::error(codes::NO_SCREW, built.span, message).fix(fix);
    }
    let others = [BackWith::Staples, BackWith::Screws, BackWith::Nails].into_iter();
    let other = others
        .filter(|with| sold_for(built, *with).0 != kind)
        .find_map(|with| {
            let length = wanted.choose(&sold_for(built, with).2)?;
            Some(format!(
                "`back_with: {}`, of which {} is sold",
                with.name(),
                built.show(length)
            ))
        });
    let message = format!(
        "`{part}`: no {kind_name} that is sold holds a back of {back} to it: from {least} to {most} would"
    );
    let other = other.unwrap_or_else(|| "`back_with: glue`".to_owned());
    Finding::error(codes::NO_SCREW, built.span, message)
        .fix(format!("write {other}, or use thicker stock"))
}

/// Where along a line fixings go: evenly, and beside what is in the way.
fn places(line: &Line) -> Vec<f64> {
    let (from, to) = line.run;
    let end = END.min((to - from) / 4.0);
    let run = to - from - 2.0 * end;
    if run < 0.0 {
        return Vec::new();
    }
    let gaps = (run / APART - 1e-9).ceil().max(1.0) as u32;
    let mut places: Vec<f64> = (0..=gaps)
        .map(|number| from + end + run * f64::from(number) / f64::from(gaps))
        .filter_map(|at| {
            let taken = line
                .without
                .iter()
                .find(|(low, high)| at > *low && at < *high);
            let Some(&(low, high)) = taken else {
                return Some(at);
            };
            let moved = if at - low < high - at { low } else { high };
            let free = line
                .without
                .iter()
                .all(|(low, high)| moved <= *low || moved >= *high);
            let within = moved >= from + 10.0 && moved <= to - 10.0;
            (free && within).then_some(moved)
        })
        .collect();
    places.dedup_by(|a, b| (*a - *b).abs() < 10.0);
    places
}
