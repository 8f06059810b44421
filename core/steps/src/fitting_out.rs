//! After the assembly: hardware on and off, sanding, finish, and everything in its place.

use jigless_model::caution::Caution;
use jigless_model::hardware::FittingKind;
use jigless_model::mark::Marks;
use jigless_model::plan::{Part, Plan};
use jigless_model::units::Unit;
use jigless_model::usage::Usage;
use jigless_model::whole::Motion;

use crate::finishing;
use crate::fixings::Fixings;
use crate::pieces::{is_joined, listed, named, of_length, pieces, swings};
use crate::step::{Fixing, Phase, WorkStep};

/// The steps from the bare assembly to the piece in its place.
pub(crate) fn steps(plan: &Plan, marks: &Marks, fixings: &mut Fixings) -> Vec<WorkStep> {
    let mut hardware = WorkStep::new(Phase::Fit, "hardware", "Fit the hardware");
    let mut anchors = Vec::new();
    for part in &plan.parts {
        let rest = fixings.rest(&part.id).into_iter();
        let (of_wall, rest): (Vec<Fixing>, Vec<Fixing>) =
            rest.partition(|fixing| fixing.what == FittingKind::WallAnchor);
        anchors.extend(of_wall);
        if rest.is_empty() {
            continue;
        }
        let words: Vec<String> = rest
            .iter()
            .map(|fixing| in_words(fixing, plan.units))
            .collect();
        hardware
            .acts
            .push(format!("{}: {}.", named(part, marks), listed(&words)));
        hardware.pieces.push(pieces(part, marks, part.count));
        hardware.take(rest);
    }
    let has_hardware = !hardware.acts.is_empty();
    if has_hardware {
        hardware.tools.push("driver".to_owned());
        hardware.cautions.push(Caution::Drill);
        hardware.checks.push(
            "Everything moves and closes; what does not is put right now, in bare wood.".to_owned(),
        );
    }
    let hung = hang(plan, marks);
    let mut all = Vec::new();
    if has_hardware {
        all.push(hardware);
    }
    all.extend(hung.clone());
    if has_hardware {
        let mut off = WorkStep::new(Phase::Fit, "take-off", "Take the hardware off again");
        off.acts.push(
            "Take off doors, drawers and hardware, and keep the screws of each place together."
                .to_owned(),
        );
        off.reason = Some("finish does not go under hardware, and not on it".to_owned());
        all.push(off);
    }
    all.extend(finishing::steps(plan, marks));
    if has_hardware || hung.is_some() {
        let mut again = WorkStep::new(Phase::Fit, "fit-again", "Fit everything again");
        again
            .acts
            .push("Put the hardware back, hang the doors, and slide the drawers in.".to_owned());
        again
            .checks
            .extend(hung.into_iter().flat_map(|hung| hung.checks));
        all.push(again);
    }
    all.extend(lay_in(plan, marks));
    all.extend(place(plan, anchors));
    all
}

fn in_words(fixing: &Fixing, unit: Unit) -> String {
    let length = of_length(fixing, unit);
    format!("{} x {}{length}", fixing.count, fixing.what.name())
}

/// Doors are hung and drawers run, without finish, so that gaps can still be planed.
fn hang(plan: &Plan, marks: &Marks) -> Option<WorkStep> {
    let doors: Vec<&Part> = plan
        .parts
        .iter()
        .map(AsRef::as_ref)
        .filter(|part| swings(part))
        .collect();
    let mut units: Vec<&str> = Vec::new();
    for part in plan
        .parts
        .iter()
        .filter(|part| part.motion == Some(Motion::Slides))
    {
        let unit = part.group.as_deref().unwrap_or(&part.title);
        if !units.contains(&unit) {
            units.push(unit);
        }
    }
    let fronts = plan
        .parts
        .iter()
        .filter(|part| part.group.is_some() && !part.loose && !is_joined(plan, part));
    let fronts: Vec<&Part> = fronts.map(AsRef::as_ref).collect();
    if doors.is_empty() && units.is_empty() {
        return None;
    }
    let mut step = WorkStep::new(
        Phase::Fit,
        "hang",
        match (doors.is_empty(), units.is_empty()) {
            (false, false) => "Hang the doors and run the drawers in",
            (false, true) => "Hang the doors",
            _ => "Run the drawers in",
        },
    );
    step.adds = true;
    for door in &doors {
        step.pieces.push(pieces(door, marks, door.count));
        step.acts.push(format!(
            "Hang {} and set it by its hinges.",
            named(door, marks)
        ));
    }
    for unit in &units {
        step.acts.push(format!("Slide in: {unit}."));
    }
    for front in &fronts {
        step.pieces.push(pieces(front, marks, front.count));
        step.acts.push(format!(
            "Set {} in its place and fix it.",
            named(front, marks)
        ));
    }
    if !doors.is_empty() {
        step.checks.push(
            "Gaps around the doors are even, and no door touches anything on its way.".to_owned(),
        );
    }
    if !units.is_empty() {
        step.checks
            .push("Every drawer runs freely from end to end and closes flush.".to_owned());
        step.cautions.push(Caution::TipOver);
    }
    Some(step)
}

/// Pieces that are joined to nothing: shelves on pins, trays.
fn lay_in(plan: &Plan, marks: &Marks) -> Option<WorkStep> {
    let loose = plan.parts.iter().filter(|part| {
        let joined = plan
            .joints
            .iter()
            .any(|joint| joint.part == part.id || joint.to == part.id);
        !joined && !swings(part) && (part.group.is_none() || part.loose)
    });
    let loose: Vec<&Part> = loose.map(AsRef::as_ref).collect();
    if loose.is_empty() || loose.len() == plan.parts.len() {
        return None;
    }
    let mut step = WorkStep::new(Phase::Fit, "lay-in", "Lay in what is loose");
    step.adds = true;
    step.pieces = loose
        .iter()
        .map(|part| pieces(part, marks, part.count))
        .collect();
    step.acts = loose
        .iter()
        .map(|part| format!("Lay in {}.", named(part, marks)))
        .collect();
    Some(step)
}

/// The piece in its place, with what fixes it to the wall.
fn place(plan: &Plan, anchors: Vec<Fixing>) -> Option<WorkStep> {
    let mut step = WorkStep::new(Phase::Place, "place", "Bring it to its place");
    step.acts
        .push("Set it level, and see that it does not rock.".to_owned());
    let stands = plan.usage.iter().find_map(|entry| match &entry.what {
        Usage::Freestanding(stands) => Some(stands),
        _ => None,
    });
    let casters = plan.parts.iter().flat_map(|part| &part.features);
    let on_casters = casters
        .flat_map(|feature| &feature.work.fittings)
        .any(|fitting| fitting.kind == FittingKind::Caster);
    let anchored = stands.is_some_and(|stands| stands.anchored) || !anchors.is_empty();
    if anchored {
        step.acts.push(
            "Fix it to the wall, with screws for that wall, before anything is put into it."
                .to_owned(),
        );
        step.cautions.push(Caution::Wall);
        step.tools.push("drill and bit for the wall".to_owned());
        step.take(anchors);
    }
    let moves = plan.parts.iter().any(|part| part.motion.is_some());
    if stands.is_some() || moves {
        step.cautions.push(Caution::TipOver);
    }
    if on_casters {
        step.acts.push("Lock the casters.".to_owned());
        step.cautions.push(Caution::Casters);
    }
    step.checks.push(
        "Doors and drawers open all the way, one at a time, and the piece stands.".to_owned(),
    );
    (anchored || stands.is_some() || moves || on_casters).then(|| {
        step.cautions.push(Caution::Lifting);
        step
    })
}
