//! Words in drawings of parts.

use jigless_model::side::{Edge, Face};

use crate::table::table;

table! {
    /// What stands in drawings of parts and under them.
    pub struct DrawingWords {
        front_face: "front face", "Vorderseite";
        back_face: "back face", "Rückseite";
        front: "front", "Vorderseite";
        back: "back", "Rückseite";
        left_edge: "left edge", "linke Kante";
        right_edge: "right edge", "rechte Kante";
        top_edge: "top edge", "obere Kante";
        bottom_edge: "bottom edge", "untere Kante";
        at_left_edge: "left edge", "linken Kante";
        at_right_edge: "right edge", "rechten Kante";
        at_top_edge: "top edge", "oberen Kante";
        at_bottom_edge: "bottom edge", "unteren Kante";
        through: "THROUGH", "DURCH";
        deep: "{} deep", "{} tief";
        countersink: "countersink Ø{} {}", "Kegelsenkung Ø{} {}";
        counterbore: "counterbore Ø{}, {} deep", "Flachsenkung Ø{}, {} tief";
        at_angle: "at {} to the face", "unter {} zur Fläche";
        toward: "to {}", "zur {}";
        pilot: "pilot Ø{}", "Vorbohrung Ø{}";
        into: "into {}", "in die {}";
        from_front: "{} from front", "{} von der Vorderseite";
        range: "{} to {}", "{} bis {}";
        equal_steps: "{}: of equal steps the first two and the last are shown",
                     "{}: von gleichen Abständen sind die ersten zwei und der letzte gezeigt";
        area: "{}: {} {}, {}, {} deep", "{}: {} {}, {}, {} tief";
        bevel: "{}: bevel {} off square, {} at the face", "{}: Schräge {} aus dem Winkel, {} auf der Fläche";
        not_marked: "not marked for lack of room: {}", "aus Platzmangel ohne Kennbuchstaben: {}";
        millimetres: "millimetres", "Millimeter";
        inches: "inches", "Zoll";
        inches_to: "inches, to 1/{}", "Zoll, auf 1/{}";
        both_to: "millimetres (inches, to 1/{})", "Millimeter (Zoll, auf 1/{})";
    }
}

impl DrawingWords {
    /// `front face`.
    pub fn face(&self, face: Face) -> &'static str {
        match face {
            Face::Front => self.front_face,
            Face::Back => self.back_face,
        }
    }

    /// The same where it is plain that it is a face.
    pub fn bare_face(&self, face: Face) -> &'static str {
        match face {
            Face::Front => self.front,
            Face::Back => self.back,
        }
    }

    /// `left edge`, as subject or object.
    pub fn edge(&self, edge: Edge) -> &'static str {
        match edge {
            Edge::Left => self.left_edge,
            Edge::Right => self.right_edge,
            Edge::Top => self.top_edge,
            Edge::Bottom => self.bottom_edge,
        }
    }

    /// The same after words that say from where, or whereto.
    pub fn at_edge(&self, edge: Edge) -> &'static str {
        match edge {
            Edge::Left => self.at_left_edge,
            Edge::Right => self.at_right_edge,
            Edge::Top => self.at_top_edge,
            Edge::Bottom => self.at_bottom_edge,
        }
    }
}
