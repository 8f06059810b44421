//! Words of the 3-D view.

use crate::table::table;

table! {
    /// What stands on the controls of the 3-D view.
    pub struct ViewerWords {
        heading: "Look around it", "Rundum ansehen";
        picture: "The whole in three dimensions", "Das Ganze in drei Dimensionen";
        keys: "Drag to turn, with two fingers or Shift to move. Keys: arrows turn, Shift and arrows move, + and - come nearer \
               and go farther, Home is as at first, Page Up and Page Down choose a part, Escape chooses none.",
              "Ziehen dreht, mit zwei Fingern oder Umschalttaste verschiebt es. Tasten: Pfeile drehen, Umschalttaste und \
               Pfeile verschieben, + und - gehen näher heran und weiter weg, Pos1 zeigt es wie am Anfang, Bild auf und \
               Bild ab wählen ein Teil, Esc wählt keines.";
        open: "Doors and drawers open", "Türen und Schubkästen offen";
        apart: "Moved apart", "Auseinandergerückt";
        step: "How far the work has come", "Wie weit die Arbeit ist";
        finished: "finished", "fertig";
        part: "Part", "Teil";
        none: "none chosen", "keines gewählt";
        turn_left: "turn left", "nach links drehen";
        turn_right: "turn right", "nach rechts drehen";
        turn_up: "turn up", "nach oben drehen";
        turn_down: "turn down", "nach unten drehen";
        nearer: "nearer", "näher";
        farther: "farther", "weiter weg";
        as_at_first: "as at first", "wie am Anfang";
        shift: "move instead of turn", "verschieben statt drehen";
        drawing: "its drawing", "seine Zeichnung";
        to_step: "to this step", "zu diesem Schritt";
        template: "Its templates", "Seine Schablonen";
        unable: "This browser cannot draw in three dimensions (WebGL 2); the pictures on this page show the same.",
                "Dieser Browser kann nicht räumlich zeichnen (WebGL 2); die Bilder auf dieser Seite zeigen dasselbe.";
    }
}
