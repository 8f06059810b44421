"use strict";
// The 3-D view of a plan. It reads its data from the element view3d-data and needs nothing from elsewhere.
// Lengths are millimetres; x runs to the right, y upward, z toward whoever stands before the front.
(() => {
  const byId = (id) => document.getElementById(id);
  const view = byId("view3d");
  if (!view) return;
  const canvas = byId("view3d-canvas");
  const gl = canvas.getContext("webgl2", { antialias: true });
  if (!gl) {
    byId("view3d-unable").hidden = false;
    return;
  }

  // ---- vectors and 4 x 4 matrices, column by column -------------------------------------------------------------
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const plus = (a, b, by = 1) => a.map((x, i) => x + b[i] * by);
  const turned = ([, x, y, z], v) => [0, 1, 2].map((i) => x[i] * v[0] + y[i] * v[1] + z[i] * v[2]);
  const clamp = (x, low, high) => Math.min(high, Math.max(low, x));

  // ---- programs of the graphics card ----------------------------------------------------------------------------
  const program = (vertex, fragment) => {
    const made = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, "#version 300 es\nprecision highp float;\n" + text);
      gl.compileShader(shader);
      gl.attachShader(made, shader);
    }
    gl.bindAttribLocation(made, 0, "place");
    gl.bindAttribLocation(made, 1, "normal");
    gl.linkProgram(made);
    const uniforms = {};
    for (const name of ["pose", "sight", "turn", "colour", "lit"]) uniforms[name] = gl.getUniformLocation(made, name);
    return { made, uniforms };
  };
  // Light falls from the upper left before the picture, so that each of the three sides that are seen has its own grey.
  const paint = program(
    `in vec3 place; in vec3 normal; uniform mat4 pose, sight; uniform mat3 turn; out float light;
     void main() {
       gl_Position = sight * pose * vec4(place, 1.0);
       vec3 n = turn * mat3(pose) * normal;
       light = 0.62 + 0.38 * max(0.0, dot(normalize(n), normalize(vec3(-0.45, 0.8, 0.55))));
     }`,
    `in float light; uniform vec4 colour; uniform float lit; out vec4 seen;
     void main() { seen = vec4(colour.rgb * mix(1.0, light, lit), colour.a); }`,
  );

  // ---- data -----------------------------------------------------------------------------------------------------
  const bytes = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer;
  let data = null;
  let bodies = [];
  let chosen = ""; // Id of a part.
  let faulty = new Set(); // Ids of parts with which something is wrong.
  const camera = { azimuth: 0, elevation: 0, scale: 1, centre: [0, 0, 0] };

  const buffer = (kind, content) => {
    const made = gl.createBuffer();
    gl.bindBuffer(kind, made);
    gl.bufferData(kind, content, gl.STATIC_DRAW);
    return made;
  };
  // A part on the graphics card: its surface, and its edges over the same corners.
  const load = (part) => {
    const places = buffer(gl.ARRAY_BUFFER, new Float32Array(bytes(part.places)));
    const normals = buffer(gl.ARRAY_BUFFER, new Int8Array(bytes(part.normals)));
    const with_indices = (text) => {
      const array = gl.createVertexArray();
      gl.bindVertexArray(array);
      gl.bindBuffer(gl.ARRAY_BUFFER, places);
      gl.enableVertexAttribArray(0);
      gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
      gl.bindBuffer(gl.ARRAY_BUFFER, normals);
      gl.enableVertexAttribArray(1);
      gl.vertexAttribPointer(1, 3, gl.BYTE, true, 0, 0);
      const numbers = new Uint32Array(bytes(text));
      const indices = buffer(gl.ELEMENT_ARRAY_BUFFER, numbers);
      gl.bindVertexArray(null);
      return { array, indices, count: numbers.length };
    };
    return { places, normals, surface: with_indices(part.triangles), edges: with_indices(part.edges) };
  };
  const unload = (body) => {
    for (const drawn of [body.surface, body.edges]) {
      gl.deleteVertexArray(drawn.array);
      gl.deleteBuffer(drawn.indices);
    }
    gl.deleteBuffer(body.places);
    gl.deleteBuffer(body.normals);
  };

  // ---- where a piece is -----------------------------------------------------------------------------------------
  const share = (id) => Number(byId("view3d-" + id).value) / 100;
  // Between closed and open a door turns about an upright axis, and a drawer slides.
  const partly_open = (shut, open, by) => {
    const flat = (own) => own.slice(1).map((v) => [v[0], v[2]]);
    const [was, is] = [flat(shut), flat(open)];
    const sum = (of) => was.reduce((all, v, i) => all + of(v, is[i]), 0);
    const angle = Math.atan2(sum((v, w) => v[1] * w[0] - v[0] * w[1]), sum((v, w) => v[0] * w[0] + v[1] * w[1]));
    if (Math.abs(angle) < 1e-6) return [plus(shut[0], plus(open[0], shut[0], -1), by), ...shut.slice(1)];
    const swung = (v, a) => [v[0] * Math.cos(a) + v[2] * Math.sin(a), v[1], v[2] * Math.cos(a) - v[0] * Math.sin(a)];
    // The axis stays where it is: (1 - turn) axis = open - turn(shut), two equations for x and z.
    const [c, s] = [1 - Math.cos(angle), Math.sin(angle)];
    const far = plus(open[0], swung(shut[0], angle), -1);
    const whole = c * c + s * s;
    const axis = [(c * far[0] + s * far[2]) / whole, 0, (c * far[2] - s * far[0]) / whole];
    const origin = plus(axis, swung(plus(shut[0], axis, -1), angle * by));
    return [origin, ...shut.slice(1).map((v) => swung(v, angle * by))];
  };
  const pose_of = (piece) => {
    const pose = piece.open ? partly_open(piece.pose, piece.open, share("open")) : piece.pose;
    return [plus(pose[0], piece.apart, share("apart")), ...pose.slice(1)];
  };
  const matrix = ([o, x, y, z]) => [...x, 0, ...y, 0, ...z, 0, ...o, 1];

  // ---- looking --------------------------------------------------------------------------------------------------
  const axes = () => {
    const [sa, ca] = [Math.sin(camera.azimuth), Math.cos(camera.azimuth)];
    const [se, ce] = [Math.sin(camera.elevation), Math.cos(camera.elevation)];
    const toward = [sa * ce, se, ca * ce];
    const right = [ca, 0, -sa];
    return [right, cross(toward, right), toward];
  };
  // Parallel lines stay parallel, as in the pictures: `scale` is how many millimetres half the smaller side shows.
  const sight = () => {
    const [right, up, toward] = axes();
    const small = Math.min(canvas.width, canvas.height);
    const [w, h] = [camera.scale * canvas.width / small, camera.scale * canvas.height / small];
    const depth = 12 * size();
    const rows = [[right, w], [up, h], [toward, -depth]];
    const at = (i) => rows.map(([axis, by]) => axis[i] / by);
    const o = rows.map(([axis, by]) => -dot(axis, camera.centre) / by);
    return [...at(0), 0, ...at(1), 0, ...at(2), 0, ...o, 1];
  };
  const size = () => Math.max(1, Math.hypot(...plus(data.box[1], data.box[0], -1)));
  const shown_pieces = () => {
    const step = steps_shown();
    return step ? [...step.there, ...step.new] : data.pieces.keys();
  };
  const steps_shown = () => data.steps[Number(byId("view3d-step").value)];
  // All of what is shown comes into the picture.
  const fit = () => {
    const [right, up] = axes();
    let [low, high] = [[Infinity, Infinity], [-Infinity, -Infinity]];
    const centre = plus(data.box[0], plus(data.box[1], data.box[0], -1), 0.5);
    for (const number of shown_pieces()) {
      const piece = data.pieces[number];
      const pose = pose_of(piece);
      for (const corner of corners_of(data.parts[piece.part])) {
        const at = plus(plus(pose[0], turned(pose, corner)), centre, -1);
        const flat = [dot(right, at), dot(up, at)];
        low = low.map((x, i) => Math.min(x, flat[i]));
        high = high.map((x, i) => Math.max(x, flat[i]));
      }
    }
    if (low[0] > high[0]) return;
    const middle = low.map((x, i) => (x + high[i]) / 2);
    camera.centre = plus(plus(centre, right, middle[0]), up, middle[1]);
    const small = Math.min(canvas.width, canvas.height) || 1;
    const need = [canvas.width, canvas.height].map((side, i) => (high[i] - low[i]) / 2 * small / (side || 1));
    camera.scale = Math.max(1, ...need) * 1.08;
  };
  const corners_of = (part) => {
    if (!part.corners) {
      const places = new Float32Array(bytes(part.places));
      const [low, high] = [[Infinity, Infinity, Infinity], [-Infinity, -Infinity, -Infinity]];
      places.forEach((x, n) => {
        low[n % 3] = Math.min(low[n % 3], x);
        high[n % 3] = Math.max(high[n % 3], x);
      });
      part.corners = [...Array(8).keys()].map((n) => [0, 1, 2].map((i) => (n >> i & 1 ? high[i] : low[i])));
    }
    return part.corners;
  };
  // Until somebody moves or zooms, what opens or comes apart stays in the picture.
  let by_hand = false;
  const fit_unless_moved = () => {
    if (!by_hand) fit();
    draw_soon();
  };
  const as_at_first = () => {
    by_hand = false;
    camera.azimuth = Math.atan2(data.toward[0], data.toward[2]);
    camera.elevation = Math.asin(clamp(data.toward[1], -1, 1));
    fit();
    draw_soon();
  };

  // ---- drawing --------------------------------------------------------------------------------------------------
  const css_colour = (name) => {
    const hex = getComputedStyle(view).getPropertyValue(name).trim().slice(1);
    return [0, 2, 4].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);
  };
  const size_canvas = () => {
    const by = window.devicePixelRatio || 1;
    const [w, h] = [Math.round(canvas.clientWidth * by), Math.round(canvas.clientHeight * by)];
    if (w && h && (canvas.width !== w || canvas.height !== h)) [canvas.width, canvas.height] = [w, h];
  };
  const start = (colour) => {
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(...colour, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.useProgram(paint.made);
    const [right, up, toward] = axes();
    gl.uniformMatrix4fv(paint.uniforms.sight, false, sight());
    gl.uniformMatrix3fv(paint.uniforms.turn, false, [0, 1, 2].flatMap((i) => [right[i], up[i], toward[i]]));
  };
  const draw_as = (drawn, how, colour, lit) => {
    gl.uniform4f(paint.uniforms.colour, ...colour, 1);
    gl.uniform1f(paint.uniforms.lit, lit);
    gl.bindVertexArray(drawn.array);
    gl.drawElements(how, drawn.count, gl.UNSIGNED_INT, 0);
  };
  const draw = () => {
    size_canvas();
    const names = ["--view3d-ground", "--view3d-line", "--view3d-accent", "--view3d-fault"];
    const [ground, line, accent, fault] = names.map(css_colour);
    start(ground);
    const step = steps_shown();
    const is_new = new Set(step ? step.new : []);
    const shown = [...shown_pieces()];
    for (const number of shown) {
      const piece = data.pieces[number];
      const part = data.parts[piece.part];
      const mine = part.id === chosen || (is_new.has(number) && !chosen);
      const colour = mine ? part.colour.map((x, i) => 0.45 * x + 0.55 * accent[i]) : part.colour;
      gl.uniformMatrix4fv(paint.uniforms.pose, false, matrix(pose_of(piece)));
      gl.enable(gl.POLYGON_OFFSET_FILL);
      gl.polygonOffset(1, 1);
      draw_as(bodies[piece.part].surface, gl.TRIANGLES, colour, 1);
      gl.disable(gl.POLYGON_OFFSET_FILL);
      draw_as(bodies[piece.part].edges, gl.LINES, line, 0);
    }
    // What is chosen, and what is wrong, shows through what is before it.
    gl.disable(gl.DEPTH_TEST);
    for (const number of shown) {
      const piece = data.pieces[number];
      const { id } = data.parts[piece.part];
      if (id !== chosen && !faulty.has(id)) continue;
      gl.uniformMatrix4fv(paint.uniforms.pose, false, matrix(pose_of(piece)));
      draw_as(bodies[piece.part].edges, gl.LINES, id === chosen ? accent : fault, 0);
    }
    gl.bindVertexArray(null);
    // What tests ask for: that this state has been drawn.
    view.dataset.drawn = String(Number(view.dataset.drawn || 0) + 1);
  };
  let waiting = false;
  const draw_soon = () => {
    if (waiting || !data) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      draw();
    });
  };

  // ---- choosing a part ------------------------------------------------------------------------------------------
  // Every piece is drawn once more in a colour that is its number, out of sight, and the pixel is read.
  const part_at = (x, y) => {
    const target = gl.createFramebuffer();
    const [colours, depths] = [gl.createRenderbuffer(), gl.createRenderbuffer()];
    gl.bindFramebuffer(gl.FRAMEBUFFER, target);
    for (const [kept, form, place] of [
      [colours, gl.RGBA8, gl.COLOR_ATTACHMENT0],
      [depths, gl.DEPTH_COMPONENT24, gl.DEPTH_ATTACHMENT],
    ]) {
      gl.bindRenderbuffer(gl.RENDERBUFFER, kept);
      gl.renderbufferStorage(gl.RENDERBUFFER, form, canvas.width, canvas.height);
      gl.framebufferRenderbuffer(gl.FRAMEBUFFER, place, gl.RENDERBUFFER, kept);
    }
    start([0, 0, 0]);
    for (const number of shown_pieces()) {
      const piece = data.pieces[number];
      const id = piece.part + 1;
      gl.uniformMatrix4fv(paint.uniforms.pose, false, matrix(pose_of(piece)));
      draw_as(bodies[piece.part].surface, gl.TRIANGLES, [(id & 255) / 255, (id >> 8 & 255) / 255, 0], 0);
    }
    const pixel = new Uint8Array(4);
    const by = canvas.width / canvas.clientWidth;
    gl.readPixels(Math.round(x * by), canvas.height - 1 - Math.round(y * by), 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    gl.bindVertexArray(null);
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    gl.deleteFramebuffer(target);
    gl.deleteRenderbuffer(colours);
    gl.deleteRenderbuffer(depths);
    const number = pixel[0] + 256 * pixel[1];
    return number ? data.parts[number - 1].id : "";
  };
  const link = (place, words) => {
    const made = document.createElement("a");
    made.href = "#" + place;
    made.textContent = words;
    return made;
  };
  const paragraph = (...content) => {
    const made = document.createElement("p");
    made.append(...content);
    return made;
  };
  // What the page has of the part is marked in all its lists, and its drawing is shown beside the view.
  const choose = (id) => {
    chosen = id;
    byId("view3d-part").value = id;
    for (const marked of document.querySelectorAll(".is-chosen")) marked.classList.remove("is-chosen");
    const about = byId("view3d-chosen");
    about.replaceChildren();
    const part = data.parts.find((part) => part.id === id);
    if (part) {
      const strong = document.createElement("strong");
      strong.textContent = `${part.mark}  ${part.title}`;
      about.append(paragraph(strong), paragraph(`${part.count} × ${part.size}, ${part.stock}`));
      const own = [...document.querySelectorAll("[data-part]")].filter((e) => e.dataset.part === id);
      for (const element of own) element.classList.add("is-chosen");
      if (byId("part-" + id)) about.append(paragraph(link("part-" + id, view.dataset.drawing)));
      const drawing = own.find((element) => element.tagName === "FIGURE");
      const picture = drawing && drawing.querySelector("svg, img");
      if (picture) {
        const copy = picture.cloneNode(true);
        for (const inner of [copy, ...copy.querySelectorAll("[id]")]) inner.removeAttribute("id");
        copy.setAttribute("aria-hidden", "true");
        about.append(copy);
      }
      if (part.templates) about.append(paragraph(`${view.dataset.template}: ${part.templates}`));
    }
    draw_soon();
  };

  // ---- moving it ------------------------------------------------------------------------------------------------
  const moves_only = () => byId("view3d-shift").getAttribute("aria-pressed") === "true";
  const turn_by = (right, up) => {
    camera.azimuth -= right;
    camera.elevation = clamp(camera.elevation + up, -Math.PI / 2, Math.PI / 2);
    draw_soon();
  };
  const move_by = (right, up) => {
    by_hand = true;
    const [across, upward] = axes();
    camera.centre = plus(plus(camera.centre, across, -right * camera.scale), upward, -up * camera.scale);
    draw_soon();
  };
  const zoom_by = (by) => {
    by_hand = true;
    camera.scale = clamp(camera.scale * by, 5, 20 * size());
    draw_soon();
  };
  const go = (right, up, moving) => (moving ? move_by(right * 0.12, up * 0.12) : turn_by(right * -0.12, up * 0.12));
  const fingers = new Map();
  let travelled = 0;
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    if (!fingers.size) travelled = 0;
    fingers.set(event.pointerId, [event.offsetX, event.offsetY]);
  });
  canvas.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = [event.offsetX, event.offsetY];
    const other = [...fingers].find(([id]) => id !== event.pointerId);
    fingers.set(event.pointerId, now);
    const [dx, dy] = [now[0] - before[0], before[1] - now[1]];
    travelled += Math.hypot(dx, dy);
    const half = Math.min(canvas.clientWidth, canvas.clientHeight) / 2;
    if (other) {
      const far = (from) => Math.max(1, Math.hypot(from[0] - other[1][0], from[1] - other[1][1]));
      zoom_by(far(before) / far(now));
      move_by(dx / half / 2, dy / half / 2);
    } else if (event.shiftKey || event.buttons & 6 || moves_only()) {
      move_by(dx / half, dy / half);
    } else {
      turn_by(dx / half * 1.5, -dy / half * 1.5);
    }
  });
  const lift = (event) => {
    const at = fingers.get(event.pointerId);
    fingers.delete(event.pointerId);
    if (event.type === "pointerup" && at && !fingers.size && travelled < 6) choose(part_at(...at));
  };
  canvas.addEventListener("pointerup", lift);
  canvas.addEventListener("pointercancel", lift);
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  // The wheel belongs to the page until somebody works with the view.
  canvas.addEventListener("wheel", (event) => {
    if (document.activeElement !== canvas) return;
    event.preventDefault();
    zoom_by(Math.exp(clamp(event.deltaY, -200, 200) / 500));
  }, { passive: false });
  const keys = {
    ArrowLeft: (moving) => go(-1, 0, moving),
    ArrowRight: (moving) => go(1, 0, moving),
    ArrowUp: (moving) => go(0, 1, moving),
    ArrowDown: (moving) => go(0, -1, moving),
    "+": () => zoom_by(1 / 1.2),
    "=": () => zoom_by(1 / 1.2),
    "-": () => zoom_by(1.2),
    Home: () => as_at_first(),
    Escape: () => choose(""),
    PageDown: () => next_part(1),
    PageUp: () => next_part(-1),
  };
  const next_part = (by) => {
    const ids = ["", ...data.parts.map((part) => part.id)];
    choose(ids[(ids.indexOf(chosen) + by + ids.length) % ids.length]);
  };
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || !keys[event.key]) return;
    event.preventDefault();
    keys[event.key](event.shiftKey || moves_only());
  });
  for (const [name, act] of [
    ["left", () => go(-1, 0, moves_only())],
    ["right", () => go(1, 0, moves_only())],
    ["up", () => go(0, 1, moves_only())],
    ["down", () => go(0, -1, moves_only())],
    ["nearer", () => zoom_by(1 / 1.2)],
    ["farther", () => zoom_by(1.2)],
    ["first", as_at_first],
  ]) byId("view3d-" + name).addEventListener("click", act);
  byId("view3d-shift").addEventListener("click", (event) => {
    event.currentTarget.setAttribute("aria-pressed", String(!moves_only()));
  });
  byId("view3d-open").addEventListener("input", fit_unless_moved);
  byId("view3d-apart").addEventListener("input", fit_unless_moved);
  const say_step = () => {
    const step = steps_shown();
    const slider = byId("view3d-step");
    const words = step ? `${step.number}. ${step.title}` : view.dataset.finished;
    slider.setAttribute("aria-valuetext", words);
    byId("view3d-step-name").replaceChildren(
      words, ...(step && byId("step-" + step.number) ? [" ", link("step-" + step.number, view.dataset.toStep)] : []));
  };
  byId("view3d-step").addEventListener("input", () => {
    say_step();
    draw_soon();
  });
  byId("view3d-part").addEventListener("change", (event) => choose(event.target.value));

  // ---- beginning, and beginning anew with other data -----------------------------------------------------------
  // `keeps` is for the live view: from where one looks, what is open and what is chosen stay.
  const show = (next, keeps) => {
    bodies.forEach(unload);
    data = next;
    bodies = data.parts.map(load);
    view.hidden = false;
    byId("view3d-open-row").hidden = !data.pieces.some((piece) => piece.open);
    byId("view3d-apart-row").hidden = data.pieces.length < 2;
    byId("view3d-step-row").hidden = !data.steps.length;
    const slider = byId("view3d-step");
    const was_last = slider.value === slider.max || !keeps;
    slider.max = String(data.steps.length);
    if (was_last) slider.value = slider.max;
    const list = byId("view3d-part");
    list.replaceChildren(list.options[0], ...data.parts.map((part) => new Option(`${part.mark}  ${part.title}`, part.id)));
    say_step();
    size_canvas();
    if (!keeps) as_at_first();
    choose(data.parts.some((part) => part.id === chosen) ? chosen : "");
  };
  new ResizeObserver(() => draw_soon()).observe(canvas);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", draw_soon);
  canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
  canvas.addEventListener("webglcontextrestored", () => location.reload());
  const mark_faulty = (ids) => {
    faulty = new Set(ids);
    draw_soon();
  };
  window.jiglessView = { show, draw, mark_faulty, camera };
  const element = byId("view3d-data");
  if (element) show(JSON.parse(element.textContent), false);
})();
