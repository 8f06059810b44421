//! The controls of the 3-D view.

use jigless_words::ViewerWords;

use crate::html::escaped;

/// The view with its controls. It is hidden until the script finds that it can draw, so that without scripts nothing is
/// there that does nothing.
pub fn viewer_markup(words: &ViewerWords) -> String {
    let names = ["left", "right", "up", "down", "nearer", "farther", "first"];
    let signs = ["◀", "▶", "▲", "▼", "+", "−", "⌂"];
    let titles = [
        words.turn_left,
        words.turn_right,
        words.turn_up,
        words.turn_down,
        words.nearer,
        words.farther,
        words.as_at_first,
    ];
    let button = |((name, sign), words): ((&str, &str), &&str)| {
        format!(
            "<button type=\"button\" id=\"view3d-{name}\" aria-label=\"{0}\" title=\"{0}\">{sign}</button>\n",
            escaped(words)
        )
    };
    let buttons: String = names
        .into_iter()
        .zip(signs)
        .zip(&titles)
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
