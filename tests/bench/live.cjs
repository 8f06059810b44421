// How long it takes from saving a plan to its picture in the browser, in milliseconds.
//
//   node tests/bench/live.cjs target/outside-readers/node target/release/jigless fixtures/glaze-cabinet 30
//
// The plan is copied, and a size in it is changed with every save (`width: 800` in the glaze cabinet), so that the picture
// is another one each time. Chromium draws without a graphics card here: what is measured is more than a reader waits.
"use strict";
const fs = require("fs");
const os = require("os");
const path = require("path");
const { spawn } = require("child_process");
const [, , folder, program, plan, saves = "30"] = process.argv;
const { chromium } = require(path.resolve(folder, "node_modules/playwright-core"));

const middle = (all) => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)];

(async () => {
  const place = fs.mkdtempSync(path.join(os.tmpdir(), "jigless-live-"));
  fs.cpSync(plan, place, { recursive: true });
  const file = path.join(place, "plan.yaml");
  const text = fs.readFileSync(file, "utf8");
  const live = spawn(path.resolve(program), ["live", place]);
  const url = await new Promise((found) => live.stdout.on("data", (said) => {
    const address = /http:\S+/.exec(said);
    if (address) found(address[0]);
  }));
  const browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
  });
  const page = await browser.newPage();
  await page.goto(url);
  // Of each state, when its data came and when it was drawn first.
  await page.evaluate(() => {
    window.times = {};
    const note = (what) => {
      const number = document.body.dataset.number;
      window.times[number] ??= {};
      window.times[number][what] ??= Date.now();
    };
    new MutationObserver(() => note("came")).observe(document.body, { attributeFilter: ["data-number"] });
    new MutationObserver(() => note("drawn")).observe(document.getElementById("view3d"), { attributeFilter: ["data-drawn"] });
  });
  const [came, drawn] = [[], []];
  for (let save = 1; save <= Number(saves); save += 1) {
    const before = await page.evaluate(() => Number(document.body.dataset.number || 0));
    const start = Date.now();
    fs.writeFileSync(file, text.replace(/width: 800/, `width: ${800 - save % 7}`));
    for (;;) {
      const times = await page.evaluate((n) => window.times[n], before + 1);
      if (times && times.drawn) {
        came.push(times.came - start);
        drawn.push(times.drawn - start);
        break;
      }
      await new Promise((done) => setTimeout(done, 5));
    }
  }
  for (const [what, all] of [["data in the page", came], ["picture drawn", drawn]]) {
    console.log(`${what}: ${middle(all)} ms in the middle, ${Math.min(...all)} at best, ${Math.max(...all)} at worst, of ${all.length}`);
  }
  await browser.close();
  live.kill();
  fs.rmSync(place, { recursive: true });
})();
