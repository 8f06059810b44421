//! What work can do to people, in the words of a language. The English ones are those of [`Caution`]; all of it is common
//! practice, no source.

use jigless_model::caution::Caution;

use crate::table::table;

table! {
    /// Cautions as sentences.
    pub struct CautionWords {
        defer: "Follow the maker's manual of every machine and material, local codes, and leave to a licensed trade what requires one. These cautions are common practice and not complete.",
               "Die Anleitungen der Hersteller von Maschinen und Werkstoffen und die örtlichen Vorschriften gehen vor; was einen zugelassenen Fachbetrieb verlangt, bleibt diesem überlassen. Diese Hinweise sind allgemeine Praxis und nicht vollständig.";
        defer_short: "Cautions: follow the maker's manual, local codes, and a licensed trade where one is required.",
                     "Vorsicht: Anleitungen der Hersteller und örtliche Vorschriften gehen vor; wo nötig, gehört die Arbeit einem zugelassenen Fachbetrieb.";
        work: "Wear eye and ear protection, tie back hair and sleeves, wear no gloves at a turning tool, and pull the plug before you change a bit or blade. Collect dust where it arises, and wear a mask where it cannot be.",
              "Augen- und Gehörschutz tragen, Haare und Ärmel zurückbinden, an drehenden Werkzeugen keine Handschuhe tragen, vor jedem Wechsel von Fräser, Bohrer oder Sägeblatt den Stecker ziehen. Staub absaugen, wo er entsteht, sonst eine Maske tragen.";
        saw: "Support the sheet and what falls off. Keep the guard and riving knife in place and your hands and body out of the line of the blade. Cut small and narrow parts from a larger piece.",
             "Die Platte und das abfallende Stück unterstützen. Schutzhaube und Spaltkeil bleiben am Platz, Hände und Körper außerhalb der Schnittlinie. Kleine und schmale Teile aus einem größeren Stück schneiden.";
        router: "Clamp the part and the guide, feed against the turn of the bit, and take several passes. Rout a small part while it still hangs on a larger one.",
                "Werkstück und Führung festspannen, im Gegenlauf fräsen und in mehreren Durchgängen auf Tiefe gehen. Kleine Teile fräsen, solange sie noch an einem größeren hängen.";
        drill: "Clamp the part, with scrap behind a through hole. Set the stop on a scrap of the same thickness first. Hold a large bit in a stand or guide.",
               "Werkstück festspannen, hinter Durchgangslöchern ein Reststück unterlegen. Den Tiefenanschlag zuerst an einem gleich dicken Reststück einstellen. Große Bohrer im Ständer oder in einer Führung halten.";
        laser: "Never leave a laser while it runs, keep the lid shut and a means to put out a fire within reach, extract the fumes, and never cut PVC or vinyl.",
               "Einen laufenden Laser nie allein lassen, den Deckel geschlossen und ein Löschmittel griffbereit halten, den Rauch absaugen, nie PVC oder Vinyl schneiden.";
        glued_board: "Dust of glued board is fine and holds its glue: collect it, wear a mask, and ask before a laser cuts it.",
                     "Der Staub verleimter Platten ist fein und enthält Leim: absaugen, Maske tragen, und vor dem Schneiden mit dem Laser nachfragen.";
        plastic: "Plastic splinters and melts: clamp it flat, feed steadily, and let chips cool. PVC never goes under a laser.",
                 "Kunststoff splittert und schmilzt: flach festspannen, gleichmäßig vorschieben, Späne abkühlen lassen. PVC kommt nie unter einen Laser.";
        knife: "Cut away from yourself along a steel rule, with a sharp blade and fingers behind the rule.",
               "Mit scharfer Klinge am Stahllineal vom Körper weg schneiden, die Finger hinter dem Lineal.";
        lifting: "Large sheets and carcasses want two people. Lift with straight backs, and clear the way first.",
                 "Große Platten und Korpusse zu zweit tragen. Mit geradem Rücken heben und vorher den Weg frei machen.";
        glue: "Read the label of the glue: some want gloves and moving air. Wipe off what runs out.",
              "Das Etikett des Leims lesen: Mancher verlangt Handschuhe und frische Luft. Austretenden Leim abwischen.";
        sanding: "Dust of wood, board and old finish is harmful to breathe: collect it, and wear a mask.",
                 "Staub von Holz, Platten und alten Anstrichen schadet der Lunge: absaugen und eine Maske tragen.";
        finish: "Read the label: many finishes want moving air, gloves, and distance from flame. Oily rags can take fire by themselves: spread them out flat to dry, outside.",
                "Das Etikett lesen: Viele Mittel verlangen frische Luft, Handschuhe und Abstand von Flammen. Ölige Lappen können sich selbst entzünden: im Freien flach ausgebreitet trocknen lassen.";
        tip_over: "A tall or loaded piece tips over when doors or drawers are open or a child climbs it. Fix it to the wall with screws for that wall. Rules differ from place to place and may ask for it at lower heights.",
                  "Ein hohes oder beladenes Möbel kippt, wenn Türen oder Schubkästen offen stehen oder ein Kind hinaufklettert. Mit Schrauben, die zur Wand passen, an der Wand befestigen. Die Vorschriften sind von Ort zu Ort verschieden und können das schon bei geringerer Höhe verlangen.";
        wall: "Find out what the wall is made of and what runs in it before you drill.",
              "Vor dem Bohren feststellen, woraus die Wand besteht und was in ihr verläuft.";
        casters: "On an uneven floor two of four casters carry all the load. Lock them before a drawer is pulled.",
                 "Auf unebenem Boden tragen zwei von vier Rollen die ganze Last. Feststellen, bevor ein Schubkasten gezogen wird.";
    }
}

impl CautionWords {
    /// What is said of a caution.
    pub fn of(&self, caution: Caution) -> &'static str {
        match caution {
            Caution::Work => self.work,
            Caution::Saw => self.saw,
            Caution::Router => self.router,
            Caution::Drill => self.drill,
            Caution::Laser => self.laser,
            Caution::GluedBoard => self.glued_board,
            Caution::Plastic => self.plastic,
            Caution::Knife => self.knife,
            Caution::Lifting => self.lifting,
            Caution::Glue => self.glue,
            Caution::Sanding => self.sanding,
            Caution::Finish => self.finish,
            Caution::TipOver => self.tip_over,
            Caution::Wall => self.wall,
            Caution::Casters => self.casters,
        }
    }

    /// What is said of several, after what goes before every caution.
    pub fn sentences(&self, cautions: &[Caution]) -> Vec<&'static str> {
        let own = cautions.iter().map(|caution| self.of(*caution));
        std::iter::once(self.defer).chain(own).collect()
    }
}

#[cfg(test)]
mod tests {
    use jigless_model::caution::{Caution, DEFER, DEFER_SHORT};

    use crate::ENGLISH;

    /// Cautions stand in every file of every format, in the words of the model; the English table says the same.
    #[test]
    fn the_english_cautions_are_those_of_all_formats() {
        assert_eq!(ENGLISH.cautions.defer, DEFER);
        assert_eq!(ENGLISH.cautions.defer_short, DEFER_SHORT);
        for caution in Caution::ALL {
            assert_eq!(ENGLISH.cautions.of(caution), caution.text());
        }
    }
}
