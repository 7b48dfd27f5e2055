// A robot at the blind trial. Arguments: the page, a folder for what it saves, its name, 'hears' or 'guesses', the
// question (x or better), a seed. The one that hears knows the sounds alone: it records what leaves the page's
// loudspeaker output, and compares. The one that guesses listens as long, and tosses a coin of its own.
import assert from "node:assert/strict";
import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { accessible, launch, onlyOwnFiles, open } from "./browser.mjs";

const [, , file, folder, name, kind, question, seed, pictures] = process.argv;

/// In the page, before its own script: everything that is connected to the output is recorded as well.
function tap() {
  const connect = AudioNode.prototype.connect;
  AudioNode.prototype.connect = function (target, ...more) {
    if (target instanceof AudioDestinationNode && !(this instanceof ScriptProcessorNode)) {
      const recorder = this.context.createScriptProcessor(4096, 2, 1);
      globalThis.ear = { rate: this.context.sampleRate, blocks: null };
      recorder.onaudioprocess = (event) => {
        if (globalThis.ear.blocks) globalThis.ear.blocks.push(Float32Array.from(event.inputBuffer.getChannelData(0)));
      };
      connect.call(this, recorder);
      connect.call(recorder, this.context.destination);
    }
    return connect.call(this, target, ...more);
  };
}

/// In the page: hears for a while and keeps what it heard under this name, every 8th sample.
async function listen(sound, seconds) {
  globalThis.memory = globalThis.memory || {};
  const needed = Math.ceil(seconds * globalThis.ear.rate);
  const blocks = (globalThis.ear.blocks = []);
  while (blocks.reduce((sum, block) => sum + block.length, 0) < needed) await new Promise((done) => setTimeout(done, 20));
  globalThis.ear.blocks = null;
  const all = blocks.flatMap((block) => Array.from(block)).slice(0, needed);
  const kept = [];
  for (let i = 0; i + 8 <= all.length; i += 8) {
    let sum = 0;
    for (let k = 0; k < 8; ++k) sum += all[i + k];
    kept.push(sum);
  }
  globalThis.memory[sound] = kept;
  return Math.max(...all.map(Math.abs));
}

/// In the page: how alike two sounds are, wherever in its loop each was caught. 1: the same.
function alike(one, other) {
  const a = globalThis.memory[one], b = globalThis.memory[other];
  const half = Math.floor(a.length / 2);
  let best = 0;
  for (let shift = 0; shift < half; ++shift) {
    let ab = 0, aa = 0, bb = 0;
    for (let i = 0; i < half; ++i) {
      ab += a[i] * b[i + shift];
      aa += a[i] * a[i];
      bb += b[i + shift] * b[i + shift];
    }
    best = Math.max(best, ab / Math.sqrt(aa * bb + 1e-12));
  }
  return best;
}

/// In the page: how much of a sound's energy is low (below about 100 Hz), over one loop: this robot likes a full bass.
function low(sound, loop) {
  const period = Math.round((loop * globalThis.ear.rate) / 8);
  const a = globalThis.memory[sound].slice(0, period);
  let state = 0, lows = 0, all = 0;
  for (let i = 0; i < 2 * period; ++i) {
    const x = a[i % period];
    state += 0.1 * (x - state);
    if (i < period) continue; // the first time round the filter settles
    lows += state * state;
    all += x * x;
  }
  return lows / all;
}

let coin = 12345 + Number(BigInt(seed) % 1000n);
const toss = () => {
  coin = (Math.imul(coin, 1103515245) + 12345) >>> 0;
  return ((coin >>> 16) & 1) === 1;
};

const browser = await launch();
try {
  const page = await browser.newPage();
  await page.evaluateOnNewDocument(tap);
  await page.close();
  const trial = await open(browser, file);
  await trial.evaluateOnNewDocument(tap);
  await trial.reload({ waitUntil: "load" });
  const client = await trial.createCDPSession();
  await client.send("Browser.setDownloadBehavior", { behavior: "allow", downloadPath: folder });
  if (pictures) {
    await accessible(trial, "trial, before");
    await trial.screenshot({ path: join(pictures, "trial-before.png") });
  }

  // By the keyboard alone, from the first field to the last answer.
  await trial.focus('input[value="x"]');
  if (question === "better") await trial.keyboard.press("ArrowDown");
  await trial.keyboard.press("Tab");
  await trial.keyboard.type(name);
  await trial.keyboard.press("Tab");
  await trial.keyboard.type(seed);
  await trial.keyboard.press("Tab"); // set the level
  await trial.keyboard.press("Tab");
  await trial.keyboard.press("Enter");

  const sounds = question === "x" ? ["x", "a", "b"] : ["a", "b"];
  const ready = () => trial.waitForFunction(() => document.querySelector('#during [aria-pressed="true"]') !== null);
  const total = await trial.waitForFunction(() => Number((document.getElementById("asked").textContent.match(/^1 of (\d+)/) || [])[1]) || false).then((handle) => handle.jsonValue());
  const loop = Number(process.env.TARRY_LOOP); // s, of the clips
  for (let step = 1; step <= total; ++step) {
    await trial.waitForFunction((n) => document.getElementById("asked").textContent.startsWith(n + " of "), {}, step);
    await ready();
    if (step === 1) {
      await trial.keyboard.press("1"); // too early: nothing has been heard
      assert.match(await trial.$eval("#asked", (e) => e.textContent), /^1 of /);
      assert.ok(await trial.$eval("#answer-a", (button) => button.disabled));
    }
    for (const sound of sounds) {
      await trial.keyboard.press(sound);
      await wait(120); // past the dip
      const peak = await trial.evaluate(listen, sound, kind === "hears" ? Math.max(1.1, 2.2 * loop) : 1.0);
      assert.ok(peak > 0.01, "silence at " + sound);
      assert.ok(peak <= 1.0);
    }
    if (step === 1 && pictures) {
      await accessible(trial, "trial, during");
      await trial.screenshot({ path: join(pictures, "trial-during.png") });
      await trial.keyboard.press("Space"); // pause, and on again
      assert.equal(await trial.$eval("#status", (e) => e.textContent), "Paused.");
      await trial.keyboard.press("Space");
    }
    let a = toss();
    if (kind === "hears" && question === "x") a = (await trial.evaluate(alike, "x", "a")) > (await trial.evaluate(alike, "x", "b"));
    if (kind === "hears" && question === "better") a = (await trial.evaluate(low, "a", loop)) > (await trial.evaluate(low, "b", loop));
    await trial.waitForFunction(() => !document.getElementById("answer-a").disabled);
    await trial.keyboard.press(a ? "1" : "2");
  }
  await trial.waitForSelector("#after:not([hidden])");
  console.log(name, kind + ":", await trial.$eval("#said", (e) => e.textContent));
  if (pictures) {
    await accessible(trial, "trial, after");
    await trial.screenshot({ path: join(pictures, "trial-after.png") });
  }
  await trial.click("#save");
  const saved = join(folder, "trial-" + name.toLowerCase() + "-" + question + "-" + seed + ".json");
  for (let i = 0; !existsSync(saved); ++i) {
    assert.ok(i < 200, "nothing was saved as " + saved + "; there is " + readdirSync(folder));
    await wait(50);
  }
  onlyOwnFiles(trial);
} finally {
  await browser.close();
}
