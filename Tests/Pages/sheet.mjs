// The recall sheet in a browser. Arguments: the page of 48 rows (its second row's clips lie beside it), the page of 500,
// a folder for pictures.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { accessible, checker, launch, onlyOwnFiles, open } from "./browser.mjs";

const [, , file, large, pictures] = process.argv;

const java = spawnSync("java", ["-jar", checker, file], { encoding: "utf8" });
if (java.error) console.log("skipped: the Nu HTML checker, there is no java");
else assert.equal(java.stdout + java.stderr, "", "the Nu HTML checker");

const browser = await launch();
try {
  // As it is seen.
  for (const [scheme, width, height] of [["dark", 1280, 1500], ["light", 1280, 1500], ["light", 400, 900]]) {
    const page = await open(browser, file, { scheme, width, height });
    await accessible(page, scheme + " " + width);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), "it scrolls sideways at " + width);
    await page.evaluate(() => document.getElementById("spots").scrollIntoView());
    await page.screenshot({ path: join(pictures, "sheet-" + scheme + "-" + width + ".png") });
    onlyOwnFiles(page);
    await page.close();
  }

  // Sorted, by mouse and by keys.
  const page = await open(browser, file);
  const first = (column) => page.evaluate((n) => Array.from(document.querySelectorAll("#rows > tbody")).filter((body) => !body.hidden)
    .map((body) => body.rows[0].cells[n]).filter((cell) => cell && cell.colSpan === 1).map((cell) => cell.textContent), column);
  const lags = async () => (await first(3)).filter((text) => text !== "none").map(Number);
  const planned = await lags();
  const isSorted = (values, sign) => values.every((value, i) => i === 0 || sign * (value - values[i - 1]) >= 0);
  assert.ok(!isSorted(planned, 1));
  const head = await page.$("thead th:nth-child(4) button");
  await head.click();
  assert.ok(isSorted(await lags(), 1), "ascending by the mouse");
  assert.equal(await page.$eval("thead th:nth-child(4)", (th) => th.getAttribute("aria-sort")), "ascending");
  await head.focus();
  await page.keyboard.press("Enter");
  assert.ok(isSorted(await lags(), -1), "descending by the keyboard");
  await page.keyboard.press("Space");
  assert.deepEqual(await lags(), planned, "as planned again");
  assert.equal(await page.$("thead th[aria-sort]"), null);
  await page.click("thead th:nth-child(8) button"); // confidence: 'over 99 %' above 99 %
  assert.ok(/^over/.test((await first(7)).filter((text) => text !== "").at(-1)));

  // Filtered.
  const shown = () => page.evaluate(() => Array.from(document.querySelectorAll("#rows > tbody")).filter((body) => !body.hidden).length);
  await page.type("#search", "bass ferry");
  assert.equal(await shown(), 1);
  assert.equal(await page.$eval("[role=status]", (e) => e.textContent), "1 of 48 shown");
  await page.click("#search", { count: 3 });
  await page.keyboard.press("Backspace");
  assert.equal(await shown(), 48);
  await page.select("#which", "failed");
  assert.equal(await shown(), 1);
  // A link at the top leads to its row though it is filtered away.
  await page.click("ul.ear a");
  assert.equal(await shown(), 48);
  await page.waitForFunction(() => document.querySelector("tbody:target").getBoundingClientRect().top < innerHeight);
  await page.click("#compact");
  assert.ok(await page.$eval("tr.more", (row) => getComputedStyle(row).display === "none"));
  await page.click("#compact");

  // Recall line to the clipboard (or, where that is not allowed, selected).
  await page.click("tbody#line-2 .copy");
  await page.waitForFunction(() => ["copied", "selected"].includes(document.querySelector("tbody#line-2 .copy").textContent));

  // Heard: by keys; one side at a time; the change of side keeps its place.
  await page.evaluate(() => {
    globalThis.players = [];
    const Original = Audio;
    globalThis.Audio = function (url) {
      const audio = new Original(url);
      globalThis.players.push(audio);
      return audio;
    };
  });
  const pressed = () => page.$$eval("#line-2 .hear button", (buttons) => buttons.map((button) => button.getAttribute("aria-pressed")));
  await page.focus("#line-2 .hear button");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => globalThis.players.length === 2 && globalThis.players.every((each) => each.currentTime > 0.3));
  assert.deepEqual(await pressed(), ["true", "false"]);
  assert.deepEqual(await page.evaluate(() => globalThis.players.map((each) => each.muted)), [false, true]);
  await page.keyboard.press("x");
  assert.deepEqual(await pressed(), ["false", "true"]);
  const heard = await page.evaluate(() => globalThis.players.map((each) => [each.muted, each.paused, each.currentTime > 0.3]));
  assert.deepEqual(heard, [[true, false, true], [false, false, true]]);
  await page.keyboard.press("Escape");
  assert.deepEqual(await pressed(), ["false", "false"]);
  assert.ok(await page.evaluate(() => globalThis.players.every((each) => each.paused)));
  // Where the clips are not, it says so.
  await page.click("#line-3 .hear button");
  await page.waitForFunction(() => document.querySelector("#line-3 .hear").textContent.includes("clip not found"));
  onlyOwnFiles(page);
  await page.close();

  // Without the script nothing is missing but the tools.
  const plain = await open(browser, file, { script: false });
  const bare = await plain.$$eval("#rows > tbody", (bodies) => bodies.length).catch(() => null);
  if (bare !== null) assert.equal(bare, 48);
  await plain.pdf({ path: join(pictures, "sheet-a4.pdf"), format: "A4" });
  await plain.pdf({ path: join(pictures, "sheet-letter.pdf"), format: "Letter" });
  await plain.screenshot({ path: join(pictures, "sheet-without-script.png") });
  await plain.close();

  // 500 rows: told, not judged; a busy machine is no fault of the page.
  const began = performance.now();
  const heavy = await open(browser, large);
  const times = await heavy.evaluate(() => {
    const timing = performance.getEntriesByType("navigation")[0];
    const paint = performance.getEntriesByName("first-contentful-paint")[0];
    return { loaded: Math.round(timing.loadEventEnd), painted: paint ? Math.round(paint.startTime) : null };
  });
  console.log("500 rows: loaded after", times.loaded, "ms, first painted after", times.painted, "ms, seen from outside", Math.round(performance.now() - began), "ms");
  assert.equal(await heavy.$$eval("#rows > tbody", (bodies) => bodies.length), 500);
  console.log("sheet: all well");
} finally {
  await browser.close();
}
