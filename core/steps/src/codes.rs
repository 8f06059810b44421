//! Every code that a finding on the order of work can have.

jigless_model::codes! {
    STEP_OUT_OF_ORDER = Error "step-out-of-order":
        "a step that is moved to where it cannot be done",
        "A part is cut before it is worked on, worked on before it is put together, and put together before hardware is fitted to it; finish comes after sanding. The order in which parts are put together is set by `order`.",
        "- {step: work-side-left, after: hardware}";
    UNKNOWN_STEP = Error "unknown-step":
        "a step that the plan does not have",
        "`jigless steps PLAN` prints the name of each step. A step of your own takes any other name, and `after` with the name of the step that it follows.",
        "- {step: polish, title: Polish}";
}
