// Debian's Chromium, driven by puppeteer-core; the modules lie where TARRY_PAGES says.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import assert from "node:assert/strict";

const modules = join(process.env.TARRY_PAGES, "node_modules");
const require = createRequire(join(modules, "none.js"));
const puppeteer = require("puppeteer-core");
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
export const checker = join(modules, "vnu-jar", "build", "dist", "vnu.jar");

export async function launch() {
  return puppeteer.launch({
    executablePath: "/usr/bin/chromium", headless: true, acceptInsecureCerts: false,
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"],
  });
}

/// A page that fails the test where a script fails, a dialog opens, or anything but its own files is asked for.
export async function open(browser, file, { scheme = "dark", width = 1280, height = 900, script = true } = {}) {
  const page = await browser.newPage();
  const asked = [];
  page.on("pageerror", (error) => { throw error; });
  page.on("dialog", (dialog) => { throw new Error("a dialog opened: " + dialog.message()); });
  page.on("request", (request) => asked.push(request.url()));
  await page.setViewport({ width, height });
  await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
  await page.setJavaScriptEnabled(script);
  await page.goto("file://" + file, { waitUntil: "load" });
  page.asked = asked;
  return page;
}

export function onlyOwnFiles(page) {
  const strange = page.asked.filter((url) => !/^(file|blob|data):/.test(url));
  assert.deepEqual(strange, [], "the page asked for something from outside");
}

/// The rules of WCAG 2.2 A and AA and axe's own best practices. Deque's axe-core.
export async function accessible(page, what) {
  await page.evaluate(axe);
  const { violations, passes } = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations", "passes"] }));
  const found = violations.map((each) => each.id + ": " + each.help + "\n  " + each.nodes.slice(0, 3).map((node) => node.html.slice(0, 160) + " | " + node.failureSummary).join("\n  "));
  assert.deepEqual(found, [], what);
  console.log("accessible:", what, passes.length, "rules");
}
