//! After the assembly: hardware on and off, sanding, finish, and everything in its place.

use jigless_model::caution::Caution;
use jigless_model::hardware::FittingKind;
use jigless_model::plan::Part;
use jigless_model::usage::Usage;
use jigless_model::whole::Motion;
use jigless_words::said;

use crate::finishing;
use crate::fixings::Fixings;
use crate::pieces::{Wording, is_joined, swings};
use crate::step::{Fixing, Phase, WorkStep};

/// The steps from the bare assembly to the piece in its place.
pub(crate) fn steps(wording: &Wording, fixings: &mut Fixings) -> Vec<WorkStep> {
    let (plan, words) = (wording.plan, wording.steps());
    let mut hardware = WorkStep::new(Phase::Fit, "hardware", words.fit_hardware);
    let mut anchors = Vec::new();
    for part in &plan.parts {
        let rest = fixings.rest(&part.id).into_iter();
        let (of_wall, rest): (Vec<Fixing>, Vec<Fixing>) =
            rest.partition(|fixing| fixing.what == FittingKind::WallAnchor);
        anchors.extend(of_wall);
        if rest.is_empty() {
            continue;
        }
        let listed: Vec<String> = rest.iter().map(|fixing| wording.times(fixing)).collect();
        let listed = wording.words().listed(&listed);
        hardware
            .acts
            .push(format!("{}: {listed}.", wording.named(part)));
        hardware.pieces.push(wording.pieces(part, part.count));
        hardware.take(rest);
    }
    let has_hardware = !hardware.acts.is_empty();
    if has_hardware {
        hardware.tools.push(words.driver.to_owned());
        hardware.cautions.push(Caution::Drill);
        hardware.checks.push(words.all_moves.to_owned());
    }
    let hung = hang(wording);
    let mut all = Vec::new();
    if has_hardware {
        all.push(hardware);
    }
    all.extend(hung.clone());
    if has_hardware {
        let mut off = WorkStep::new(Phase::Fit, "take-off", words.take_off);
        off.acts.push(words.take_off_all.to_owned());
        off.reason = Some(words.no_finish_under.to_owned());
        all.push(off);
    }
    all.extend(finishing::steps(wording));
    if has_hardware || hung.is_some() {
        let mut again = WorkStep::new(Phase::Fit, "fit-again", words.fit_again);
        again.acts.push(words.fit_again_all.to_owned());
        again
            .checks
            .extend(hung.into_iter().flat_map(|hung| hung.checks));
        all.push(again);
    }
    all.extend(lay_in(wording));
    all.extend(place(wording, anchors));
    all
}

/// Doors are hung and drawers run, without finish, so that gaps can still be planed.
fn hang(wording: &Wording) -> Option<WorkStep> {
    let (plan, words) = (wording.plan, wording.steps());
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
            (false, false) => words.hang_and_run,
            (false, true) => words.hang_doors,
            _ => words.run_drawers,
        },
    );
    step.adds = true;
    for door in &doors {
        step.pieces.push(wording.pieces(door, door.count));
        step.acts.push(said(words.hang, &[&wording.named(door)]));
    }
    for unit in &units {
        step.acts.push(said(words.slide_in, &[unit]));
    }
    for front in &fronts {
        step.pieces.push(wording.pieces(front, front.count));
        step.acts
            .push(said(words.set_and_fix, &[&wording.named(front)]));
    }
    if !doors.is_empty() {
        step.checks.push(words.gaps_even.to_owned());
    }
    if !units.is_empty() {
        step.checks.push(words.drawers_run.to_owned());
        step.cautions.push(Caution::TipOver);
    }
    Some(step)
}

/// Pieces that are joined to nothing: shelves on pins, dividers of trays. What has no place where others have one is a thing of
/// its own and lies in nothing.
fn lay_in(wording: &Wording) -> Option<WorkStep> {
    let (plan, words) = (wording.plan, wording.steps());
    let has_places = plan.parts.iter().any(|part| !part.places.is_empty());
    let loose = plan.parts.iter().filter(|part| {
        let joined = plan
            .joints
            .iter()
            .any(|joint| joint.part == part.id || joint.to == part.id);
        let belongs = !has_places || !part.places.is_empty();
        belongs && !joined && !swings(part) && (part.group.is_none() || part.loose)
    });
    let loose: Vec<&Part> = loose.map(AsRef::as_ref).collect();
    if loose.is_empty() || loose.len() == plan.parts.len() {
        return None;
    }
    let mut step = WorkStep::new(Phase::Fit, "lay-in", words.lay_in);
    step.adds = true;
    step.pieces = loose
        .iter()
        .map(|part| wording.pieces(part, part.count))
        .collect();
    step.acts = loose
        .iter()
        .map(|part| said(words.lay_in_part, &[&wording.named(part)]))
        .collect();
    Some(step)
}

/// The piece in its place, with what fixes it to the wall.
fn place(wording: &Wording, anchors: Vec<Fixing>) -> Option<WorkStep> {
    let (plan, words) = (wording.plan, wording.steps());
    let mut step = WorkStep::new(Phase::Place, "place", words.place);
    step.acts.push(words.set_level.to_owned());
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
        step.acts.push(words.fix_to_wall.to_owned());
        step.cautions.push(Caution::Wall);
        step.tools.push(words.wall_drill.to_owned());
        step.take(anchors);
    }
    let moves = plan.parts.iter().any(|part| part.motion.is_some());
    if stands.is_some() || moves {
        step.cautions.push(Caution::TipOver);
    }
    if on_casters {
        step.acts.push(words.lock_casters.to_owned());
        step.cautions.push(Caution::Casters);
    }
    step.checks.push(words.opens_and_stands.to_owned());
    (anchored || stands.is_some() || moves || on_casters).then(|| {
        step.cautions.push(Caution::Lifting);
        step
    })
}
