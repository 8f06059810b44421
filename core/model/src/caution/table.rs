//! What work can do to people, said where the work stands.
//!
//! All of it is common practice, no source, and all of it gives way to makers' manuals, local codes and licensed trades
//! ([`DEFER`]).

/// What goes before every caution.
pub const DEFER: &str = "Follow the maker's manual of every machine and material, local codes, and leave to a licensed \
                         trade what requires one. These cautions are common practice and not complete.";

/// The same in one line.
pub const DEFER_SHORT: &str =
    "Cautions: follow the maker's manual, local codes, and a licensed trade where one is required.";

crate::words! {
    /// A kind of work or a state of the piece that can hurt someone.
    #[derive(PartialOrd, Ord, Hash, serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Caution {
        /// Any work with tools.
        Work = "work",
        /// Sawing.
        Saw = "saw",
        /// Routing.
        Router = "router",
        /// Drilling.
        Drill = "drill",
        /// Cutting by a laser.
        Laser = "laser",
        /// Board that is glued of fibres or chips.
        GluedBoard = "glued-board",
        /// Sheets of plastic.
        Plastic = "plastic",
        /// Cutting card with a knife.
        Knife = "knife",
        /// Lifting sheets and carcasses.
        Lifting = "lifting",
        /// Glue.
        Glue = "glue",
        /// Sanding.
        Sanding = "sanding",
        /// Oil, varnish and the like.
        Finish = "finish",
        /// A piece that may tip over.
        TipOver = "tip-over",
        /// What hangs on a wall.
        Wall = "wall",
        /// Casters.
        Casters = "casters",
    }
}

impl Caution {
    /// What is said, in one or two sentences.
    pub const fn text(self) -> &'static str {
        match self {
            Caution::Work => {
                "Wear eye and ear protection, tie back hair and sleeves, wear no gloves at a turning tool, and pull the \
                 plug before you change a bit or blade. Collect dust where it arises, and wear a mask where it cannot be."
            }
            Caution::Saw => {
                "Support the sheet and what falls off. Keep the guard and riving knife in place and your hands and body \
                 out of the line of the blade. Cut small and narrow parts from a larger piece."
            }
            Caution::Router => {
                "Clamp the part and the guide, feed against the turn of the bit, and take several passes. Rout a small \
                 part while it still hangs on a larger one."
            }
            Caution::Drill => {
                "Clamp the part, with scrap behind a through hole. Set the stop on a scrap of the same thickness first. \
                 Hold a large bit in a stand or guide."
            }
            Caution::Laser => {
                "Never leave a laser while it runs, keep the lid shut and a means to put out a fire within reach, extract \
                 the fumes, and never cut PVC or vinyl."
            }
            Caution::GluedBoard => {
                "Dust of glued board is fine and holds its glue: collect it, wear a mask, and ask before a laser cuts it."
            }
            Caution::Plastic => {
                "Plastic splinters and melts: clamp it flat, feed steadily, and let chips cool. PVC never goes under a laser."
            }
            Caution::Knife => {
                "Cut away from yourself along a steel rule, with a sharp blade and fingers behind the rule."
            }
            Caution::Lifting => {
                "Large sheets and carcasses want two people. Lift with straight backs, and clear the way first."
            }
            Caution::Glue => {
                "Read the label of the glue: some want gloves and moving air. Wipe off what runs out."
            }
            Caution::Sanding => {
                "Dust of wood, board and old finish is harmful to breathe: collect it, and wear a mask."
            }
            Caution::Finish => {
                "Read the label: many finishes want moving air, gloves, and distance from flame. Oily rags can take fire \
                 by themselves: spread them out flat to dry, outside."
            }
            Caution::TipOver => {
                "A tall or loaded piece tips over when doors or drawers are open or a child climbs it. Fix it to the wall \
                 with screws for that wall. Rules differ from place to place and may ask for it at lower heights."
            }
            Caution::Wall => {
                "Find out what the wall is made of and what runs in it before you drill."
            }
            Caution::Casters => {
                "On an uneven floor two of four casters carry all the load. Lock them before a drawer is pulled."
            }
        }
    }

    /// The same in one line, for where there is little room.
    pub const fn short(self) -> &'static str {
        match self {
            Caution::Work => {
                "Work: protect eyes and ears, collect dust or wear a mask, no gloves, plug out to change bits."
            }
            Caution::Saw => {
                "Saw: guard and riving knife on, hands and body out of the line of the blade."
            }
            Caution::Router => {
                "Router: clamp work and guide, feed against the bit's turn, several passes."
            }
            Caution::Drill => {
                "Drill: clamp the part, scrap behind it, set the stop on scrap first."
            }
            Caution::Laser => {
                "Laser: never leave it running, fire put-out at hand, extract fumes, never PVC or vinyl."
            }
            Caution::GluedBoard => {
                "Glued board: fine dust, collect it and wear a mask; ask before a laser cuts it."
            }
            Caution::Plastic => {
                "Plastic: splinters and melts, clamp it flat; PVC never under a laser."
            }
            Caution::Knife => "Knife: cut away from yourself along a steel rule.",
            Caution::Lifting => "Lifting: large sheets and carcasses want two people.",
            Caution::Glue => "Glue: read its label; some want gloves and moving air.",
            Caution::Sanding => {
                "Sanding: its dust is harmful to breathe, collect it and wear a mask."
            }
            Caution::Finish => {
                "Finish: moving air, no flame; oily rags take fire by themselves, dry them flat outside."
            }
            Caution::TipOver => {
                "Tipping over: fix a tall or loaded piece to the wall; rules differ from place to place."
            }
            Caution::Wall => "Wall: find out what runs in it before you drill.",
            Caution::Casters => {
                "Casters: on an uneven floor two of four carry all; lock them before a drawer is pulled."
            }
        }
    }
}
