//! Words of booklet and page: sections, heads of tables, sentences.

use crate::table::table;

table! {
    /// Sections, heads of tables and sentences of a document.
    pub struct DocumentWords {
        contents: "Contents", "Inhalt";
        introduction: "From the author", "Vom Verfasser";
        revisions: "What changed", "Was sich geändert hat";
        revision_named: "Revision {}", "Fassung {}";
        author: "By", "Von";
        cautions: "Before you begin", "Bevor es losgeht";
        needs: "What you need", "Was gebraucht wird";
        true_size: "Measure your sheets, print true", "Platten messen, maßhaltig drucken";
        cutting: "Cutting", "Zuschnitt";
        part_drawings: "Parts", "Teile";
        making: "Making it, step by step", "Schritt für Schritt";
        square: "Square and as drawn", "Rechtwinklig und wie gezeichnet";
        finish: "Finish", "Oberfläche";
        fitting_out: "Fitting out", "Einrichten";
        maintenance: "Keeping it sound", "Instandhalten";
        about: "About this plan", "Zu diesem Plan";
        index: "Marks", "Kennbuchstaben";
        page_of: "{} of {}", "{} von {}";
        on_page: "page {}", "Seite {}";
        revision_of: "revision {}", "Fassung {}";
        plan_of: "plan {}", "Plan {}";
        picture_of: "{}, closed", "{}, geschlossen";
        open_picture_of: "{}, open", "{}, offen";
        exploded_picture_of: "{}, its pieces moved apart", "{}, die Stücke auseinandergerückt";
        exploded_caption: "Its pieces moved apart, each with its mark",
            "Die Stücke auseinandergerückt, jedes mit seinem Kennbuchstaben";
        overall: "Overall", "Außenmaß";
        overall_size: "{} wide, {} high, {} deep", "{} breit, {} hoch, {} tief";
        materials: "Materials", "Werkstoffe";
        counted_work: "The work, counted", "Die Arbeit, gezählt";
        counted_pieces: "{} pieces of {} kinds", "{} Stück in {} Sorten";
        counted_joints: "{} joints", "{} Verbindungen";
        counted_holes: "{} holes", "{} Bohrungen";
        counted_areas: "{} grooves, rebates and pockets", "{} Nuten, Falze und Vertiefungen";
        counted_steps: "{} steps", "{} Schritte";
        numbers_in: "Numbers in", "Zahlen in";
        revision: "Revision", "Fassung";
        licence: "Licence", "Lizenz";
        no_licence: "The plan names no licence: ask its author before you hand it on.",
            "Der Plan nennt keine Lizenz: vor dem Weitergeben den Verfasser fragen.";
        plan: "Plan", "Plan";
        mark: "Mark", "Kennb.";
        count: "Count", "Anzahl";
        part: "Part", "Teil";
        size: "Size", "Maße";
        material: "Material", "Werkstoff";
        thickness: "Thickness", "Dicke";
        measured: "Measured", "Gemessen";
        what: "What", "Was";
        length: "Length", "Länge";
        steps: "Steps", "Schritte";
        drawing: "Drawing", "Zeichnung";
        tool: "Tool", "Werkzeug";
        pieces: "Pieces", "Stücke";
        fixings: "Fixings", "Verbinder";
        tools: "Tools", "Werkzeuge";
        hardware: "Hardware", "Beschläge";
        consumables: "What is used up", "Was verbraucht wird";
        check: "Check", "Prüfen";
        why_now: "Why now", "Warum jetzt";
        times: "make {} alike", "{}-mal gleich herstellen";
        caution: "Caution", "Vorsicht";
        tools_say: "Each tool with the steps that ask for it, beside pencil, steel rule and square.",
            "Jedes Werkzeug mit den Schritten, die es verlangen, neben Bleistift, Stahllineal und Winkel.";
        no_stock_sizes: "about {} m² with 15 % for cuts and offcuts; the plan lists no sheets",
            "etwa {} m² mit 15 % für Schnitte und Verschnitt; der Plan nennt keine Platten";
        materials_say: "Sheets and boards as the layouts take them. Measure before you buy for a second plan: thickness differs from sheet to sheet.",
            "Platten und Bretter, wie der Zuschnitt sie braucht. Vor dem Kauf für ein zweites Stück messen: Die Dicke ist von Platte zu Platte verschieden.";
        hardware_say: "Counted from the holes that are drilled for it.",
            "Nach den Bohrungen gezählt, die dafür gebohrt werden.";
        no_hardware: "The plan takes no hardware.", "Der Plan braucht keine Beschläge.";
        glue: "Wood glue for {} of joints", "Holzleim für {} Fugen";
        abrasive: "Abrasive of two or three grits", "Schleifpapier in zwei oder drei Körnungen";
        finish_supply: "Finish, and what it is put on with", "Mittel für die Oberfläche und womit es aufgetragen wird";
        paper_supply: "Paper, tape and a sharp knife for the templates",
            "Papier, Klebeband und ein scharfes Messer für die Schablonen";
        litres_of: "{} litres of {}", "{} Liter {}";
        put_on: "{}, by its own label", "{}, nach Etikett";
        sheets_of_grit: "{} sheets of abrasive, grit {}", "{} Bogen Schleifpapier, Körnung {}";
        grit: "Abrasive, grit {}", "Schleifpapier, Körnung {}";
        costs: "What it costs and weighs", "Was es kostet und wiegt";
        bought: "What is bought", "Was gekauft wird";
        bought_in: "What is bought, in {}", "Was gekauft wird, in {}";
        group_material: "Sheets and boards", "Platten und Bretter";
        group_hardware: "Hardware", "Beschläge";
        group_finish: "Finish and abrasive", "Oberfläche und Schleifpapier";
        each: "Each", "Je";
        cost: "Cost", "Kosten";
        no_price: "no price", "kein Preis";
        in_all: "In all", "Zusammen";
        without_price: "In all, without {} that have no price", "Zusammen, ohne {}, für die kein Preis bekannt ist";
        litres: "{} litres", "{} Liter";
        weights: "What it weighs", "Was es wiegt";
        whole_weight: "All parts together weigh {} kg, without hardware, glue and finish.",
            "Alle Teile zusammen wiegen {} kg, ohne Beschläge, Leim und Oberfläche.";
        weight_unknown: "What {} weighs is not known and not in it.",
            "Was {} wiegt, ist nicht bekannt und nicht eingerechnet.";
        people: "One person lifts {} kg by the plan's own limit: the whole wants {} people, or comes apart before it is carried.",
            "Eine Person hebt nach der Grenze des Plans {} kg: Das Ganze verlangt {} Personen oder wird vor dem Tragen zerlegt.";
        weight: "Weight, kg", "Gewicht, kg";
        measure_say_1: "Sheets are seldom as thick as they are sold. Measure each in three places or more, away from its edges, and write the mean beside what the plan is drawn for.",
            "Platten sind selten so dick, wie sie verkauft werden. Jede an mindestens drei Stellen messen, nicht nah am Rand, und den Mittelwert neben das Maß schreiben, für das der Plan gezeichnet ist.";
        measure_say_2: "Where yours differs by more than {}, write your thickness into the plan and make all files anew: grooves, rebates and the parts between them follow.",
            "Weicht die eigene um mehr als {} ab, die eigene Dicke in den Plan eintragen und alle Dateien neu erstellen: Nuten, Falze und die Teile dazwischen folgen.";
        print_heading: "Print true", "Maßhaltig drucken";
        print_say_1: "Print templates at 100 % (\"actual size\"), on one side, with nothing that fits pages to the paper.",
            "Schablonen mit 100 % („tatsächliche Größe“) und einseitig drucken, ohne Anpassen an das Papier.";
        print_say_2: "Print the check sheet first, and measure its bars with a steel rule, across and along.",
            "Zuerst das Prüfblatt drucken und seine Balken quer und längs mit einem Stahllineal messen.";
        print_say_3: "If a bar is off, write both readings into the options of the templates and print again: what the printer stretches is then made good.",
            "Stimmt ein Balken nicht, beide Ablesungen in die Optionen der Schablonen eintragen und neu drucken: Was der Drucker verzieht, ist dann ausgeglichen.";
        print_say_4: "The pictures of this booklet are reduced. Measure nothing in them: the numbers count.",
            "Die Bilder dieses Hefts sind verkleinert. Nichts in ihnen abmessen: Es gelten die Zahlen.";
        cut_list: "List of parts", "Stückliste";
        cut_list_say: "Sizes are across × up, as the part is drawn. Tick each part when all its pieces are cut and marked.",
            "Maße sind quer × hoch, wie das Teil gezeichnet ist. Jedes Teil abhaken, wenn alle Stücke zugeschnitten und beschriftet sind.";
        how_to_read: "How to read the cuts", "Wie die Schnitte zu lesen sind";
        sheet_title: "{}, sheet {} of {}", "{}, Platte {} von {}";
        boards_title: "{}, boards {} to {} of {}", "{}, Bretter {} bis {} von {}";
        layout_of: "Layout of {}", "Zuschnitt von {}";
        layout_scale: "{}. Drawn at 1 : {}.", "{}. Gezeichnet 1 : {}.";
        write_marks: "Write its name and an arrow to its top on each piece as it falls off.",
            "Auf jedes Stück beim Abfallen seinen Namen und einen Pfeil nach oben schreiben.";
        by_router: "{} is cut on a router's table: its files hold the layout.",
            "{} wird auf der CNC-Fräse zugeschnitten: Ihre Dateien enthalten die Aufteilung.";
        by_laser: "{} is cut by a laser: its files hold the layout.",
            "{} wird mit dem Laser zugeschnitten: Seine Dateien enthalten die Aufteilung.";
        parts_say: "Each part by itself, reduced. Places are measured from the edges that the templates hook on; holes have the names that they have on the templates.",
            "Jedes Teil für sich, verkleinert. Gemessen wird von den Kanten, an denen die Schablonen anliegen; Bohrungen haben die Namen, die sie auf den Schablonen haben.";
        drawing_of: "{}, with the places of its work", "{}, mit den Maßen seiner Bearbeitung";
        one_piece: "1 piece", "1 Stück";
        many_pieces: "{} pieces", "{} Stück";
        grain_width: "grain across", "Faser quer";
        grain_height: "grain upward", "Faser aufrecht";
        mirror_of: "the mirror image of {}", "das Spiegelbild von {}";
        drawing_scale: "Drawn at 1 : {}", "Gezeichnet 1 : {}";
        making_say: "Tick each act when it is done. What a step adds is tinted in its picture.",
            "Jede Handlung abhaken, wenn sie getan ist. Was ein Schritt hinzufügt, ist in seinem Bild getönt.";
        step_picture: "Step {}: {} comes to what is there", "Schritt {}: {} kommt zu dem, was da ist";
        as_cut: "Parts as cut", "Teile nach dem Zuschnitt";
        as_cut_say: "What is off goes into the plan as `as_cut`, which says what it spoils.",
            "Was abweicht, kommt als `as_cut` in den Plan, der sagt, was davon verdorben ist.";
        together: "Put together", "Zusammengebaut";
        together_say: "Measure before the glue sets or the last screw is in. Push the longer diagonal shorter.",
            "Messen, bevor der Leim abbindet oder die letzte Schraube sitzt. Die längere Diagonale kürzer drücken.";
        outside: "outside", "außen";
        opening: "opening", "Öffnung";
        seen_from: "{} seen from {}: {}", "{} von {} gesehen: {}";
        alike: "{} alike", "{} gleiche";
        width_is: "width {}, is", "Breite {}, ist";
        height_is: "height {}, is", "Höhe {}, ist";
        depth_is: "depth {}, is", "Tiefe {}, ist";
        diagonals_are: "both diagonals {}, may differ by {}; they are",
            "beide Diagonalen {}, dürfen um {} abweichen; sie sind";
        because: "because {}", "weil: {}";
        nothing_square: "No four parts of this plan make a frame.",
            "Keine vier Teile dieses Plans bilden einen Rahmen.";
        keep_screws: "After some weeks, and then once a year, tighten every screw that holds a joint without glue, by hand.",
            "Nach einigen Wochen und dann einmal im Jahr alle Schrauben, die eine Verbindung ohne Leim halten, von Hand nachziehen.";
        keep_hinges: "Hinges: tighten the screws of cups and plates, and set the doors again where gaps have moved.",
            "Topfbänder: Schrauben von Töpfen und Montageplatten nachziehen und Türen neu einstellen, wo Fugen gewandert sind.";
        keep_runners: "Runners: wipe them, and tighten their screws with the drawer pulled out and held.",
            "Führungen: abwischen und ihre Schrauben nachziehen, den Schubkasten dabei herausgezogen halten.";
        keep_casters: "Casters: tighten their bolts or screws, clear threads and hair from the wheels, try the brakes.",
            "Möbelrollen: Schrauben nachziehen, Fäden und Haare aus den Rädern holen, Bremsen probieren.";
        keep_wall: "Wall: pull at the top by hand; where it gives, empty it and fix it anew.",
            "Wand: oben von Hand ziehen; gibt es nach, ausräumen und neu befestigen.";
        keep_pins: "Shelf pins: replace those that are bent or loose in their holes.",
            "Bodenträger: ersetzen, was verbogen ist oder locker sitzt.";
        keep_finish: "Finish: clean as its label says, and renew it where water no longer beads.",
            "Oberfläche: nach Etikett reinigen und erneuern, wo Wasser nicht mehr abperlt.";
        about_plan: "This booklet was made from plan {}. The same plan gives the same booklet.",
            "Dieses Heft wurde aus dem Plan {} gemacht. Derselbe Plan gibt dasselbe Heft.";
        about_marks: "A mark stands for one part, and is the same in every list, picture, template and file.",
            "Ein Kennbuchstabe steht für ein Teil und ist in allen Listen, Bildern, Schablonen und Dateien derselbe.";
        skip: "To the plan", "Zum Plan";
    }
}
