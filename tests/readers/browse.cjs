// Drives Chromium over pages as a reader does, and prints what it sees: a line of JSON.
//
//   node browse.cjs NODE-FOLDER page FILE...    pages with a 3-D view
//   node browse.cjs NODE-FOLDER plain FILE...   other pages
//   node browse.cjs NODE-FOLDER live URL PLAN   the live view of a plan, which is saved by this script
//
// Nothing waits for a time: every wait is for a state of the page.
"use strict";
const fs = require("fs");
const path = require("path");
const [, , folder, mode, ...rest] = process.argv;
const from = (name) => require(path.join(path.resolve(folder), "node_modules", name));
const { chromium } = from("playwright-core");
const { HtmlValidate } = from("html-validate");
const axe = fs.readFileSync(path.join(folder, "node_modules/axe-core/axe.min.js"), "utf8");

const LONG = 60000;
const QUIET = ["--no-sandbox", "--disable-background-networking", "--disable-component-update", "--disable-sync"];
const SOFTWARE = ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"];
const NO_GRAPHICS = ["--disable-gpu", "--disable-3d-apis"];
const launch = (more) => chromium.launch({ executablePath: "/usr/bin/chromium", args: [...QUIET, ...more], timeout: LONG });

// A page whose complaints are gathered: errors, what its policy refused, and what it asked for from elsewhere.
const open = async (browser, url, options = {}) => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  context.setDefaultTimeout(LONG);
  const page = await context.newPage();
  const complaints = [];
  page.on("console", (m) => ["error", "warning"].includes(m.type()) && !/GL Driver|GPU stall/.test(m.text()) && complaints.push(m.text()));
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("dialog", (dialog) => (complaints.push("dialog: " + dialog.message()), dialog.dismiss()));
  const home = new URL(url);
  page.on("request", (request) => {
    const to = new URL(request.url());
    if (to.protocol !== home.protocol && to.protocol !== "data:" || to.host !== home.host) complaints.push("asked for " + request.url());
  });
  if (options.javaScriptEnabled !== false) {
    await page.addInitScript(() => document.addEventListener("securitypolicyviolation",
      (event) => console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`)));
  }
  await page.goto(url);
  return { page, context, complaints };
};
// Waits for a state of the page. The driver's own way would evaluate texts in it, which its policy forbids.
const until = async (page, state, argument) => {
  const end = Date.now() + LONG;
  while (!(await page.evaluate(state, argument))) {
    if (Date.now() > end) throw new Error("in vain: " + state);
    await new Promise((done) => setTimeout(done, 30));
  }
};
const until_drawn = (page) => until(page, () => Number(document.getElementById("view3d").dataset.drawn || 0) > 0);
const violations = async (page) => {
  await page.evaluate(axe + ";0");
  const found = await page.evaluate(() => window.axe.run(document, {
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
  }));
  return found.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 120)).join(" | ")}`);
};
const too_wide = (page) => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
// How many colours a picture of the view has.
const colours = async (page, png) => page.evaluate(async (text) => {
  const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const picture = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
  const paper = new OffscreenCanvas(picture.width, picture.height).getContext("2d");
  paper.drawImage(picture, 0, 0);
  const data = new Uint32Array(paper.getImageData(0, 0, picture.width, picture.height).data.buffer);
  return new Set(data).size;
}, png.toString("base64"));

// Everything that a reader does with the view. Each entry of `seen` is true where it worked.
const work_with_view = async (page, seen) => {
  await until_drawn(page);
  const canvas = page.locator("#view3d-canvas");
  seen.colours = await colours(page, await canvas.screenshot());
  // What is drawn of the present state, and how often the page has drawn by itself.
  const picture = () => page.evaluate(() => {
    window.jiglessView.draw();
    return document.getElementById("view3d-canvas").toDataURL();
  });
  const drawn = () => page.evaluate(() => Number(document.getElementById("view3d").dataset.drawn));
  // Whether the picture is another one after it. What does not come is told with all the rest.
  const changes = async (act) => {
    const [before, count] = [await picture(), await drawn()];
    await act();
    const end = Date.now() + LONG / 3;
    while ((await drawn()) <= count) if (Date.now() > end) return false;
    return before !== (await picture());
  };
  for (const id of ["open", "apart"]) {
    const slider = page.locator("#view3d-" + id);
    if (!(await slider.isVisible())) continue;
    seen[id] = await changes(() => slider.press("End"));
    seen[id + " back"] = await changes(() => slider.press("Home"));
  }
  const step = page.locator("#view3d-step");
  if (await step.isVisible()) {
    const words = () => page.locator("#view3d-step-name").textContent();
    const before = await words();
    seen.step = (await changes(() => step.press("Home"))) && (await words()) !== before;
    await step.press("End");
    seen["step back"] = (await words()) === before;
  }
  const chosen = () => page.locator("#view3d-part").inputValue();
  const box = await canvas.boundingBox();
  seen.click = await changes(() => page.mouse.click(box.x + box.width / 2, box.y + box.height / 2));
  seen["click chooses"] = (await chosen()) !== "";
  seen["chosen is told"] = (await page.locator("#view3d-chosen").textContent()).length > 5;
  seen["chosen is marked"] = await page.locator(".is-chosen").count();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  seen.drag = await changes(async () => {
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 90, box.y + box.height / 2, { steps: 3 });
    await page.mouse.up();
  });
  seen.wheel = await changes(() => page.mouse.wheel(0, -200));
  // Keys alone, from the top of the page.
  await page.reload();
  await until_drawn(page);
  let tabs = 0;
  const on_canvas = () => page.evaluate(() => document.activeElement.id === "view3d-canvas");
  while (tabs < 200 && !(await on_canvas())) {
    await page.keyboard.press("Tab");
    tabs += 1;
  }
  seen["tab reaches it"] = await on_canvas();
  for (const key of ["ArrowRight", "Shift+ArrowUp", "+", "PageDown", "Escape"]) {
    seen["key " + key] = await changes(() => page.keyboard.press(key));
  }
  seen["escape chooses none"] = (await chosen()) === "";
  seen["key PageDown chooses"] = (await changes(() => page.keyboard.press("PageDown"))) && (await chosen()) !== "";
  await page.keyboard.press("Escape");
  seen["button left"] = await changes(() => page.locator("#view3d-left").press("Enter"));
  await page.locator("#view3d-shift").press("Enter");
  seen["button moves"] = await changes(() => page.locator("#view3d-up").click());
  await page.locator("#view3d-shift").press("Enter");
  seen["as at first"] = await changes(() => page.locator("#view3d-first").click());
};

// The view under fingers: one turns, two zoom and move, a tap chooses, and the page stays where it is.
const touch_view = async (page, context, seen) => {
  const session = await context.newCDPSession(page);
  const canvas = page.locator("#view3d-canvas");
  let [x, y] = [0, 0];
  const find_canvas = async () => {
    await canvas.scrollIntoViewIfNeeded();
    const box = await canvas.boundingBox();
    [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  };
  await find_canvas();
  const touch = (type, ...at) => session.send("Input.dispatchTouchEvent", {
    type, touchPoints: at.map(([dx, dy], id) => ({ x: x + dx, y: y + dy, id })),
  });
  const camera = () => page.evaluate(() => structuredClone(window.jiglessView.camera));
  const scrolled = () => page.evaluate(() => window.scrollY);
  const [first, top] = [await camera(), await scrolled()];
  await touch("touchStart", [0, 0]);
  for (const way of [15, 30, 45]) await touch("touchMove", [way, way]);
  await touch("touchEnd");
  const turned = await camera();
  seen["one finger turns"] = turned.azimuth !== first.azimuth && turned.elevation !== first.elevation;
  seen["one finger does not zoom"] = turned.scale === first.scale;
  await touch("touchStart", [-20, 0], [20, 0]);
  for (const way of [30, 40, 60]) await touch("touchMove", [-way, 0], [way, 0]);
  const near = await camera();
  seen["fingers apart come nearer"] = near.scale < turned.scale * 0.6;
  seen["two fingers do not turn"] = near.azimuth === turned.azimuth && near.elevation === turned.elevation;
  for (const way of [10, 20, 30]) await touch("touchMove", [-60, way], [60, way]);
  await touch("touchEnd");
  const moved = await camera();
  seen["two fingers move"] = String(moved.centre) !== String(near.centre);
  seen["the page stays under fingers"] = (await scrolled()) === top;
  await page.locator("#view3d-first").click();
  await find_canvas();
  await touch("touchStart", [0, 0]);
  await touch("touchEnd");
  await until(page, () => document.getElementById("view3d-part").value !== "");
  seen["a tap chooses"] = true;
};

// Search over the cards of an index.
const search = async (page, seen) => {
  const shown = () => page.locator(".card:visible").count();
  const all = await shown();
  await page.fill("#words", (await page.locator(".card h2").first().textContent()).slice(0, 6).toUpperCase());
  seen["words find"] = (await shown()) > 0;
  await page.fill("#words", "nothing is called so");
  seen["other words do not"] = (await shown()) === 0;
  await page.fill("#words", "");
  for (const index of await page.locator("#material option").evaluateAll((options) => options.map((_, n) => n).slice(1))) {
    await page.selectOption("#material", { index });
    seen["material " + index] = (await shown()) > 0;
  }
  await page.selectOption("#material", { index: 0 });
  await page.fill("#width", "1");
  seen["nothing is so narrow"] = (await shown()) === 0;
  await page.fill("#width", "");
  seen["all again"] = (await shown()) === all;
};

const browse_page = async (browser, plain_browser, file, has_view) => {
  const url = "file://" + path.resolve(file);
  const report = { file, seen: {}, complaints: [], violations: [], invalid: [], too_wide: 0 };
  const validator = new HtmlValidate({ extends: ["html-validate:standard"] });
  const validated = await validator.validateFile(file);
  report.invalid = validated.results.flatMap((r) => r.messages.map((m) => `${m.line}:${m.column} ${m.ruleId}: ${m.message}`));
  const looks = has_view
    ? [{ colorScheme: "light", viewport: { width: 900, height: 600 } }, { colorScheme: "dark", viewport: { width: 360, height: 740 }, hasTouch: true, reducedMotion: "reduce" }]
    : [{ colorScheme: "light", viewport: { width: 360, height: 740 } }, { colorScheme: "dark" }];
  for (const options of looks) {
    const { page, context, complaints } = await open(browser, url, options);
    if (has_view) await until_drawn(page);
    report.violations.push(...await violations(page));
    report.too_wide = Math.max(report.too_wide, await too_wide(page));
    if (has_view && options.colorScheme === "light") await work_with_view(page, report.seen);
    if (has_view && options.hasTouch) await touch_view(page, context, report.seen);
    if (!has_view && (await page.locator("#search").isVisible())) await search(page, report.seen);
    report.text ??= await page.evaluate(() => document.body.innerText);
    report.links ??= await page.evaluate(() => [...document.querySelectorAll("[href], [src]")].map((e) => e.getAttribute("href") ?? e.getAttribute("src")).filter((to) => !to.startsWith("#")));
    report.complaints.push(...complaints);
    await context.close();
  }
  if (!has_view) return report;
  const shown = (page) => page.locator("figure svg").first().isVisible();
  {
    const { page, context, complaints } = await open(plain_browser, url);
    report.seen["without WebGL the pictures stay"] = await shown(page);
    report.seen["without WebGL it is said"] = await page.locator("#view3d-unable").isVisible();
    report.seen["without WebGL nothing idle"] = !(await page.locator("#view3d").isVisible());
    report.complaints.push(...complaints.filter((text) => !/WebGL/i.test(text)));
    await context.close();
  }
  const { page, context } = await open(plain_browser, url, { javaScriptEnabled: false });
  report.seen["without scripts the pictures stay"] = await shown(page);
  report.seen["without scripts nothing idle"] = !(await page.locator("#view3d").isVisible());
  await context.close();
  return report;
};

const browse_live = async (browser, url, plan) => {
  const report = { seen: {}, complaints: [], violations: [] };
  const { page, context, complaints } = await open(browser, url);
  const { seen } = report;
  const until_number = (after) => until(page, (n) => Number(document.body.dataset.number || 0) > n, after);
  const camera = () => page.evaluate(() => JSON.stringify(window.jiglessView.camera));
  await until_number(0);
  await until_drawn(page);
  report.violations.push(...await violations(page));
  await page.locator("#view3d-canvas").focus();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("+");
  const text = fs.readFileSync(plan, "utf8");
  const before = await camera();
  fs.writeFileSync(plan, text.replace(/^title: .*$/m, "title: Another name"));
  await until(page, () => document.getElementById("live-title").textContent === "Another name");
  seen["the camera stays"] = (await camera()) === before;
  fs.writeFileSync(plan, text.replace(/^title: /m, "titel: "));
  await until(page, () => document.getElementById("live-picture").classList.contains("is-stale"));
  seen["it is said to be old"] = await page.locator("#live-stale").isVisible();
  seen["the last good picture stays"] = await page.locator("#view3d-canvas").isVisible();
  seen["findings have their line"] = (await page.locator(".live-finding pre").count()) > 0;
  seen["findings have their place"] = /line \d+, column \d+/.test(await page.locator("#live-findings").textContent());
  report.violations.push(...await violations(page));
  fs.writeFileSync(plan, text);
  await until(page, () => !document.getElementById("live-picture").classList.contains("is-stale"));
  seen["mended, it is new again"] = !(await page.locator("#live-stale").isVisible());
  seen["the camera stays through errors"] = (await camera()) === before;
  await page.setViewportSize({ width: 360, height: 740 });
  report.too_wide = await too_wide(page);
  report.complaints.push(...complaints);
  await context.close();
  return report;
};

(async () => {
  const browser = await launch(SOFTWARE);
  if (mode === "live") {
    console.log(JSON.stringify(await browse_live(browser, ...rest)));
  } else {
    const has_view = mode === "page";
    const plain_browser = has_view ? await launch(NO_GRAPHICS) : null;
    for (const file of rest) console.log(JSON.stringify(await browse_page(browser, plain_browser, file, has_view)));
    if (plain_browser) await plain_browser.close();
  }
  await browser.close();
})().catch((error) => {
  console.error(error);
  process.exit(1);
});
