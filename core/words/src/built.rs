//! Titles and labels that builders and joints give, where the author gives none. They are those of the language of plans,
//! English; a document says them in its own.

use crate::table::table;

table! {
    /// What builders and joints call parts, faces, edges and work. `{}` stands for a name of the plan or a number.
    pub struct BuiltWords {
        left_side: "Left side", "Linke Seite";
        right_side: "Right side", "Rechte Seite";
        side: "Side", "Seite";
        top: "Top", "Oberboden";
        bottom: "Bottom", "Unterboden";
        back: "Back", "Rückwand";
        front: "Front", "Front";
        front_and_back: "Front and back", "Front und Rückwand";
        kick_board: "Kick board", "Sockelblende";
        loose_shelf: "Loose shelf", "Einlegeboden";
        base: "Base", "Boden";
        base_glued: "Base, glued below", "Boden, unten angeleimt";
        base_grooved: "Base, in the grooves of the walls", "Boden, in den Nuten der Wände";
        rack: "Rack", "Halter";
        bracket_below: "Bracket, below the shelf", "Konsole, unter dem Boden";
        bracket_wall: "Bracket, at the wall", "Konsole, an der Wand";
        door: "Door", "Tür";
        left_door: "Left door", "Linke Tür";
        right_door: "Right door", "Rechte Tür";
        drawer_left: "Left side of a drawer", "Linke Seite eines Schubkastens";
        drawer_right: "Right side of a drawer", "Rechte Seite eines Schubkastens";
        drawer_box_front: "Front of a drawer box", "Vorderstück eines Schubkastens";
        drawer_box_back: "Back of a drawer box", "Hinterstück eines Schubkastens";
        drawer_box_both: "Front and back of a drawer box", "Vorder- und Hinterstück eines Schubkastens";
        drawer_bottom: "Drawer bottom", "Schubkastenboden";
        drawer_front: "Drawer front", "Schubkastenfront";
        lining_front_back: "Lining of front and back", "Auskleidung von Front und Rückwand";
        lining_sides: "Lining of the sides", "Auskleidung der Seiten";
        divider_rows: "Divider between rows", "Trennwand zwischen Reihen";
        divider_columns: "Divider between columns", "Trennwand zwischen Spalten";
        shelf: "Shelf", "Fachboden";
        shelf_number: "Shelf {}", "Fachboden {}";
        divider: "Divider", "Mittelwand";
        divider_number: "Divider {}", "Mittelwand {}";
        stretcher: "Stretcher", "Traverse";
        stretcher_number: "Stretcher {}", "Traverse {}";
        mirrored: "{} (mirrored)", "{} (gespiegelt)";
        slots: "{}, slots {}", "{}, Schlitze {}";
        inside: "inside", "innen";
        outside: "outside", "außen";
        underside: "underside", "Unterseite";
        upper_face: "upper face", "Oberseite";
        hidden: "hidden, against the wall", "verdeckt, an der Wand";
        toward_shelf: "toward the shelf", "zum Boden";
        toward_wall: "toward the wall", "zur Wand";
        toward_front: "toward the front", "nach vorn";
        toward_back: "toward the back", "nach hinten";
        toward_floor: "toward the floor", "zum Fußboden";
        upper_edge: "upper edge", "Oberkante";
        lower_edge: "lower edge", "Unterkante";
        front_edge: "front edge", "Vorderkante";
        back_edge: "back edge", "Hinterkante";
        front_end: "front end", "vorderes Ende";
        back_end: "back end", "hinteres Ende";
        hinge_edge: "hinge edge", "Bandkante";
        mitre: "mitre", "Gehrung";
        runner: "runner", "Führung";
        runner_line: "runner line", "Linie der Führung";
        runner_of: "runner {} of {}", "Führung {} von {}";
        corner: "corner", "Ecke";
        end: "end", "Ende";
        base_label: "base", "Boden";
        tool: "tool {}", "Werkzeug {}";
        slot: "slot {}", "Schlitz {}";
        knob: "knob", "Möbelknopf";
        caster: "caster {}", "Möbelrolle {}";
        screws: "screws", "Schrauben";
        hinges: "hinges", "Topfbänder";
        hinge_plates: "hinge plates of {}", "Montageplatten von {}";
        edge_of: "edge of {}", "Kante von {}";
        place_of: "place of {}", "Platz von {}";
        nails_into: "nails into {}", "Nägel in {}";
        staples_into: "staples into {}", "Klammern in {}";
        pins_of: "pins of {}", "Bodenträger von {}";
        toe_space: "toe space", "Sockelaussparung";
        screws_into: "screws into {}", "Schrauben in {}";
        pilots_from: "pilots from {}", "Vorbohrungen von {}";
        bolts_into: "bolts into {}", "Maschinenschrauben in {}";
        inserts_for: "inserts for {}", "Einschraubmuttern für {}";
        dowels_of: "dowels of {}", "Dübel von {}";
        rebate_for: "rebate for {}", "Falz für {}";
        groove_for: "groove for {}", "Nut für {}";
    }
}
