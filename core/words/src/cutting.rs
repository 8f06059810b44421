//! Words of cuts, and of the sheets and boards that they are made on.

use jigless_model::sheets::{CutDirection, CutPurpose, SheetOrigin};
use jigless_model::side::Edge;

use crate::table::table;

table! {
    /// Cuts as they are made one after the other, and what they are made on.
    pub struct CutWords {
        sheet: "sheet", "Platte";
        sheets: "sheets", "Platten";
        board: "board", "Brett";
        boards: "boards", "Bretter";
        board_number: "board {}", "Brett {}";
        waste: "waste", "Verschnitt";
        offcut: "offcut", "Reststück";
        start: "Start with {}, {}. Each cut takes {}.", "Beginnen mit: {}, {}. Jeder Schnitt nimmt {} weg.";
        trim_along: "Trim, cut along, {}.", "Besäumen, längs sägen: {}.";
        trim_across: "Trim, cut across, {}.", "Besäumen, quer sägen: {}.";
        break_along: "Break down, cut along, {}.", "Grob aufteilen, längs sägen: {}.";
        break_across: "Break down, cut across, {}.", "Grob aufteilen, quer sägen: {}.";
        size_along: "Cut along, {}.", "Längs sägen: {}.";
        size_across: "Cut across, {}.", "Quer sägen: {}.";
        line_beyond: "line {} from the {}, blade beyond it", "Riss {} {}, Sägeblatt jenseits davon";
        line_before: "line {} from the {}, blade before it", "Riss {} {}, Sägeblatt diesseits davon";
        from_left: "left edge", "von der linken Kante";
        from_right: "right edge", "von der rechten Kante";
        from_bottom: "bottom edge", "von der unteren Kante";
        from_top: "top edge", "von der oberen Kante";
        from_end: "end", "vom Ende";
        guide_off_before: "Guide {} off the edge, before the blade.", "Führung {} außerhalb der Kante, diesseits des Sägeblatts.";
        guide_off_beyond: "Guide {} off the edge, beyond the blade.", "Führung {} außerhalb der Kante, jenseits des Sägeblatts.";
        guide_before: "Guide at {}, before the blade.", "Führung bei {}, diesseits des Sägeblatts.";
        guide_beyond: "Guide at {}, beyond the blade.", "Führung bei {}, jenseits des Sägeblatts.";
        setting: "Setting {}. {}{}", "Einstellung {}. {}{}";
        setting_continued: "Setting {}, continued. {}", "Einstellung {}, Fortsetzung. {}";
        cuts_in_setting: " {} cuts, one setting.", " {} Schnitte, eine Einstellung.";
        heavy: " HEAVY: two people.", " SCHWER: zu zweit.";
        narrow: " NARROW: clamp a board beside it.", " SCHMAL: ein Brett danebenspannen.";
        sheet_is_then: "The sheet is then {}, {}.", "Die Platte ist nun {}, {}.";
        board_is_then: "Board {} is then {}, {}.", "Brett {} ist nun {}, {}.";
        keeps: "{}: keeps {}; {}.", "{}: es bleibt {}; {}.";
        falls_off: "{} falls off", "{} fällt ab";
        dust_falls_off: "only dust falls off", "nur Sägemehl fällt ab";
        makes_and_leaves: "{}: makes {}; leaves {}.", "{}: ergibt {}; übrig ist {}.";
        makes: "{}: makes {}; leaves nothing.", "{}: ergibt {}; übrig ist nichts.";
        how_along: "Along is up and down in the picture, across is from side to side. Left, right, bottom and top are those of the picture, however a board lies on the bench: write its name on each as it falls off, and an arrow to its top.",
                   "Längs ist im Bild auf und ab, quer von Seite zu Seite. Links, rechts, unten und oben sind die des Bildes, wie auch immer ein Stück auf der Bank liegt: Jedes bekommt beim Abfallen seinen Namen und einen Pfeil nach oben.";
        how_line: "Measure each line anew from the edge that is named, of the very board that is cut. Blade beyond it: what is between edge and line is to size, and the blade runs on the other side of the line. Blade before it: the other way round.",
                  "Jeden Riss neu von der genannten Kante des Stücks messen, das gesägt wird. Sägeblatt jenseits davon: Was zwischen Kante und Riss liegt, ist auf Maß, das Blatt läuft auf der anderen Seite des Risses. Sägeblatt diesseits davon: umgekehrt.";
        how_kerf: "All is worked out for a blade that takes {}: measure a cut of yours in scrap, and if it differs, have the list made anew with `saw_kerf`.",
                  "Alles ist für ein Sägeblatt berechnet, das {} wegnimmt: einen eigenen Schnitt im Reststück messen und die Liste, wenn er abweicht, mit `saw_kerf` neu erstellen.";
        how_guide: "The guide: its place is worked out for {} from the good side of the blade to the edge of the saw's base. Try it on scrap. Where it is off the edge, clamp a board of the same thickness there to carry it.",
                   "Die Führung: Ihr Platz ist für {} von der guten Seite des Sägeblatts bis zur Kante der Grundplatte der Säge berechnet. Am Reststück probieren. Liegt sie außerhalb der Kante, dort ein gleich dickes Brett festspannen, das sie trägt.";
        how_guide_by_hand: "The guide: lay it as far from the line as it is from the good side of the blade to the edge of your saw's base. With `guide_offset` set, the list says where.",
                           "Die Führung: so weit vom Riss anlegen, wie es von der guten Seite des Sägeblatts bis zur Kante der Grundplatte der Säge ist. Mit `guide_offset` nennt die Liste den Platz.";
        taken: "{} of {}, {}", "{} zu {}, {}";
        left_over_earlier: "left over from earlier work", "von früherer Arbeit übrig";
        at_hand: "at hand", "vorhanden";
        to_buy: "to buy", "zu kaufen";
        proved: "Proved the least.", "Weniger geht nachweislich nicht.";
        none_fewer: "No layout needs fewer.", "Kein Zuschnitt braucht weniger.";
        none_fewer_than: "No layout needs fewer than {}.", "Kein Zuschnitt braucht weniger als {}.";
        no_sheet: "{}: no sheet", "{}: keine Platte";
        no_board: "{}: no board", "{}: kein Brett";
        in_all: "{}: {}. {} in all. {}", "{}: {}. {} insgesamt. {}";
        no_sheet_for: "NO SHEET FOR {} of {}.", "KEINE PLATTE FÜR {} von {}.";
        no_board_for: "NO BOARD FOR {} of {}.", "KEIN BRETT FÜR {} von {}.";
        with_all_of: "{} with all else of {}", "{} mit allem, was zu {} gehört";
        of_sheet: "{} of sheet {}, {}", "{} von Platte {}, {}";
        of_board: "O{} of board {}, {}", "O{} von Brett {}, {}";
        nothing_left: "Left over: nothing worth keeping.", "Übrig: nichts, was das Aufheben lohnt.";
        left_over: "Left over: {}.", "Übrig: {}.";
        no_room_for: "No room in the picture for: {}.", "Im Bild ist kein Platz für: {}.";
        cut_number: "cut {}", "Schnitt {}";
        range: "{} to {}", "{} bis {}";
        grain: "grain", "Faser";
        board_above: "Board {}: {} wide, {} long", "Brett {}: {} breit, {} lang";
        no_room_below: "{}; no room below for {}", "{}; darunter kein Platz für {}";
    }
}

impl CutWords {
    /// What a cut is for and which way it runs, before where its line is.
    pub fn cut(&self, purpose: CutPurpose, direction: CutDirection) -> &'static str {
        match (purpose, direction) {
            (CutPurpose::Trim, CutDirection::Along) => self.trim_along,
            (CutPurpose::Trim, CutDirection::Across) => self.trim_across,
            (CutPurpose::BreakDown, CutDirection::Along) => self.break_along,
            (CutPurpose::BreakDown, CutDirection::Across) => self.break_across,
            (CutPurpose::Size, CutDirection::Along) => self.size_along,
            (CutPurpose::Size, CutDirection::Across) => self.size_across,
        }
    }

    /// From which edge a line is measured.
    pub fn from(&self, edge: Edge) -> &'static str {
        match edge {
            Edge::Left => self.from_left,
            Edge::Right => self.from_right,
            Edge::Bottom => self.from_bottom,
            Edge::Top => self.from_top,
        }
    }

    /// Where sheets and boards come from.
    pub fn origin(&self, origin: SheetOrigin) -> &'static str {
        match origin {
            SheetOrigin::Leftover => self.left_over_earlier,
            SheetOrigin::AtHand => self.at_hand,
            SheetOrigin::ToBuy => self.to_buy,
        }
    }
}
