"use strict";
// Asks the program for the next state of the plan, again and again, and shows it. All words of the plan are set as text.
(() => {
  const byId = (id) => document.getElementById(id);
  const make = (name, text, kind) => {
    const made = document.createElement(name);
    if (text !== undefined) made.textContent = text;
    if (kind) made.className = kind;
    return made;
  };
  let number = 0; // Of the state that is shown.
  let had_view = false;
  let rows_before = null;

  const counted = (count, one) => `${count} ${one}${count === 1 ? "" : "s"}`;
  const show_finding = (found) => {
    const made = make("div", undefined, "live-finding " + found.severity);
    const first = make("p");
    first.append(make("span", found.severity, "severity"), ": " + found.message);
    made.append(first);
    const { place, quote } = found;
    if (place) {
      const names = found.path.length ? ": " + found.path.join(" > ") : "";
      made.append(make("p", `${place.file}, line ${place.line}, column ${place.column}${names}`, "place"));
    }
    if (quote) {
      const line = make("pre");
      line.tabIndex = 0;
      line.append(quote[0], make("mark", quote[1]), quote[2]);
      made.append(line);
    }
    if (found.measured) made.append(make("p", `measured: ${found.measured}; wanted: ${found.wanted}`));
    if (found.fix) made.append(make("p", "To mend: " + found.fix));
    if (found.part && byId("view3d-part") && [...byId("view3d-part").options].some((o) => o.value === found.part)) {
      const button = make("button", `show ${found.part}`);
      button.type = "button";
      button.addEventListener("click", () => {
        byId("view3d-part").value = found.part;
        byId("view3d-part").dispatchEvent(new Event("change"));
      });
      made.append(button);
    }
    return made;
  };
  const show_lists = (lists) => {
    const before = rows_before;
    rows_before = new Set();
    const all = lists.filter((list) => list.rows.length).map((list) => {
      const section = make("section");
      const table = make("table");
      const caption = make("h2", list.title);
      const head = make("tr");
      for (const words of list.heads) {
        const cell = make("th", words);
        cell.scope = "col";
        head.append(cell);
      }
      const body = make("tbody");
      for (const row of list.rows) {
        const line = make("tr");
        if (row.part) line.dataset.part = row.part;
        for (const words of row.cells) line.append(make("td", words));
        const key = JSON.stringify(row);
        rows_before.add(key);
        if (before && !before.has(key)) line.className = "has-changed";
        body.append(line);
      }
      const top = make("thead");
      top.append(head);
      table.append(top, body);
      section.append(caption, table);
      return section;
    });
    byId("live-lists").replaceChildren(...all);
  };
  const show = (state) => {
    if (state.news) {
      document.title = state.title;
      byId("live-title").textContent = state.title;
      show_lists(state.lists);
      byId("live-flat").hidden = Boolean(state.view);
      if (state.view && window.jiglessView) {
        window.jiglessView.show(state.view, had_view);
        had_view = true;
      } else {
        byId("view3d").hidden = true;
      }
    }
    const count = (severity) => state.findings.filter((found) => found.severity === severity).length;
    const [errors, warnings] = [count("error"), count("warning")];
    byId("live-findings").replaceChildren(...(state.findings.length
      ? state.findings.map(show_finding)
      : [make("p", "Nothing is wrong.", "quiet")]));
    const wrong = state.findings.filter((found) => found.part && found.severity !== "note");
    if (window.jiglessView && had_view) window.jiglessView.mark_faulty(wrong.map((found) => found.part));
    byId("live-stale").hidden = state.good || !rows_before;
    byId("live-picture").classList.toggle("is-stale", !state.good);
    byId("live-state").textContent = (errors || warnings
      ? [errors && counted(errors, "error"), warnings && counted(warnings, "warning")].filter(Boolean).join(", ")
      : "sound") + `; save ${state.number}`;
    number = state.number;
    document.body.dataset.number = String(number);
  };
  const pause = (ms) => new Promise((done) => setTimeout(done, ms));
  const follow = async () => {
    for (;;) {
      try {
        const answer = await fetch("/state?after=" + number, { cache: "no-store" });
        if (answer.status === 200) show(await answer.json());
      } catch {
        byId("live-state").textContent = "Jigless does not answer; the page goes on when `jigless live` runs again";
        await pause(1000);
      }
    }
  };
  follow();
})();
