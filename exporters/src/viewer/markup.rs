//! The controls of the 3-D view.

use crate::html::escaped;

/// What stands on the controls, in the language of the page.
#[derive(Debug, Clone, Copy)]
pub struct ViewerWords {
    /// The heading.
    pub heading: &'static str,
    /// What the picture is, for those who do not see it.
    pub picture: &'static str,
    /// How it is moved by hand and by keys.
    pub keys: &'static str,
    /// Doors and drawers open.
    pub open: &'static str,
    /// Pieces moved apart.
    pub apart: &'static str,
    /// How far the work has come.
    pub step: &'static str,
    /// The last place of the slider for steps.
    pub finished: &'static str,
    /// The list of parts.
    pub part: &'static str,
    /// No part is chosen.
    pub none: &'static str,
    /// The buttons: turn left, right, up, down; nearer, farther; as at first.
    pub buttons: [&'static str; 7],
    /// The switch that lets buttons and dragging move the picture.
    pub shift: &'static str,
    /// To the drawing of a part.
    pub drawing: &'static str,
    /// To the step.
    pub to_step: &'static str,
    /// Where the templates of a part are.
    pub template: &'static str,
    /// Where there is no WebGL.
    pub unable: &'static str,
}

/// In English.
pub const ENGLISH_VIEWER: ViewerWords = ViewerWords {
    heading: "Look around it",
    picture: "The whole in three dimensions",
    keys: "Drag to turn, with two fingers or Shift to move. Keys: arrows turn, Shift and arrows move, + and - come nearer \
           and go farther, Home is as at first, Page Up and Page Down choose a part, Escape chooses none.",
    open: "Doors and drawers open",
    apart: "Moved apart",
    step: "How far the work has come",
    finished: "finished",
    part: "Part",
    none: "none chosen",
    buttons: [
        "turn left",
        "turn right",
        "turn up",
        "turn down",
        "nearer",
        "farther",
        "as at first",
    ],
    shift: "move instead of turn",
    drawing: "its drawing",
    to_step: "to this step",
    template: "Its templates",
    unable: "This browser cannot draw in three dimensions (WebGL 2); the pictures on this page show the same.",
};

/// The view with its controls. It is hidden until the script finds that it can draw, so that without scripts nothing is
/// there that does nothing.
pub fn viewer_markup(words: &ViewerWords) -> String {
    let names = ["left", "right", "up", "down", "nearer", "farther", "first"];
    let signs = ["◀", "▶", "▲", "▼", "+", "−", "⌂"];
    let button = |((name, sign), words): ((&str, &str), &&str)| {
        format!(
            "<button type=\"button\" id=\"view3d-{name}\" aria-label=\"{0}\" title=\"{0}\">{sign}</button>\n",
            escaped(words)
        )
    };
    let buttons: String = names
        .into_iter()
        .zip(signs)
        .zip(&words.buttons)
        .map(button)
        .collect();
    let slider = |id: &str, label: &str| {
        format!(
            "<div class=\"view3d-row\" id=\"view3d-{id}-row\"><label for=\"view3d-{id}\">{}</label>\
             <input type=\"range\" id=\"view3d-{id}\" min=\"0\" max=\"100\" value=\"0\"></div>\n",
            escaped(label)
        )
    };
    let w = |text: &str| escaped(text);
    format!(
        "<p id=\"view3d-unable\" class=\"view3d-unable\" hidden>{unable}</p>\n\
         <section id=\"view3d\" class=\"view3d\" aria-labelledby=\"view3d-heading\" hidden \
         data-finished=\"{finished}\" data-drawing=\"{drawing}\" data-to-step=\"{to_step}\" data-template=\"{template}\">\n\
         <h2 id=\"view3d-heading\">{heading}</h2>\n\
         <div class=\"view3d-stage\">\n\
         <canvas id=\"view3d-canvas\" tabindex=\"0\" role=\"application\" aria-label=\"{picture}\" \
         aria-describedby=\"view3d-keys\"></canvas>\n\
         <div class=\"view3d-buttons\">\n{buttons}\
         <button type=\"button\" id=\"view3d-shift\" aria-pressed=\"false\">{shift}</button>\n</div>\n\
         </div>\n\
         <div class=\"view3d-controls\">\n\
         {open}{apart}{step}\
         <p id=\"view3d-step-name\" class=\"view3d-step-name\" aria-live=\"polite\"></p>\n\
         <div class=\"view3d-row\"><label for=\"view3d-part\">{part}</label>\
         <select id=\"view3d-part\"><option value=\"\">{none}</option></select></div>\n\
         <div id=\"view3d-chosen\" class=\"view3d-chosen\" aria-live=\"polite\"></div>\n\
         <p id=\"view3d-keys\" class=\"view3d-keys\">{keys}</p>\n\
         </div>\n</section>\n",
        unable = w(words.unable),
        finished = w(words.finished),
        drawing = w(words.drawing),
        to_step = w(words.to_step),
        template = w(words.template),
        heading = w(words.heading),
        picture = w(words.picture),
        shift = w(words.shift),
        open = slider("open", words.open),
        apart = slider("apart", words.apart),
        step = slider("step", words.step),
        part = w(words.part),
        none = w(words.none),
        keys = w(words.keys),
    )
}
