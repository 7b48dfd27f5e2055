"use strict";
(function () {
  const trial = JSON.parse(document.getElementById("trial").textContent);
  const at = (id) => document.getElementById(id);
  const dipSeconds = 0.015, silenceSeconds = 0.02; // every change of side is the same dip, as in the plugin
  const heardSeconds = 1.0; // of each side, before an answer is taken

  // Order: SplitMix64 (Steele, Lea, Flood, "Fast splittable pseudorandom number generators", 2014). The tally makes the
  // same order from the same number, and refuses a result that has another.
  function orderOf(seed, cues, times) {
    const mask = (1n << 64n) - 1n;
    let state = BigInt(seed) & mask;
    function next() {
      state = (state + 0x9E3779B97F4A7C15n) & mask;
      let z = state;
      z = ((z ^ (z >> 30n)) * 0xBF58476D1CE4E5B9n) & mask;
      z = ((z ^ (z >> 27n)) * 0x94D049BB133111EBn) & mask;
      return z ^ (z >> 31n);
    }
    const order = Array.from({ length: cues * times }, (_, i) => ({ cue: i % cues }));
    for (let i = order.length - 1; i > 0; --i) {
      const j = Number(next() % BigInt(i + 1));
      [order[i], order[j]] = [order[j], order[i]];
    }
    for (const each of order) each.toss = next() >> 63n === 1n;
    return order;
  }

  // Sound: both sides run in step, one of them is heard.
  let context = null, master = null, gains = [], sources = [], buffers = new Map();
  async function decode(cue) {
    if (!buffers.has(cue)) {
      const decoded = [trial.cues[cue].as_recorded, trial.cues[cue].aligned].map((text) => {
        const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
        return context.decodeAudioData(bytes.buffer);
      });
      buffers.set(cue, Promise.all(decoded));
    }
    return buffers.get(cue);
  }
  function silence() {
    for (const source of sources) {
      source.stop();
      source.disconnect();
    }
    sources = [];
  }
  async function load(cue, side) {
    if (!context) {
      context = new AudioContext();
      master = context.createGain();
      master.connect(context.destination);
      gains = [0, 1].map(() => {
        const gain = context.createGain();
        gain.connect(master);
        return gain;
      });
    }
    await context.resume();
    const pair = await decode(cue);
    silence();
    dip(side, 0);
    const begin = context.currentTime + dipSeconds + silenceSeconds;
    sources = pair.map((buffer, i) => {
      const source = context.createBufferSource();
      source.buffer = buffer;
      source.loop = true;
      source.connect(gains[i]);
      source.start(begin);
      return source;
    });
  }
  function dip(side, out) {
    const now = context.currentTime, dark = now + out, light = dark + silenceSeconds;
    const gain = master.gain;
    const from = out > 0 ? gain.value : 0;
    gain.cancelScheduledValues(now);
    gain.setValueAtTime(from, now);
    gain.linearRampToValueAtTime(0, dark + 0.0001);
    gain.setValueAtTime(0, light);
    gain.linearRampToValueAtTime(1, light + dipSeconds);
    gains.forEach((each, i) => {
      each.gain.cancelScheduledValues(now);
      each.gain.setValueAtTime(i === side ? 1 : 0, dark + 0.5 * silenceSeconds);
    });
  }

  // The trial: which question, which presentation, what is heard now.
  let question = "x", seed = "0", order = [], answers = [], hearing = null, heard = {}, paused = false, began = "", since = 0;
  let ticking = 0;
  const sounds = () => (question === "x" ? ["x", "a", "b"] : ["a", "b"]);
  // With X: A is aligned, B as recorded, X is A where the coin says so. For preference: A is aligned where it says so.
  function isAligned(sound) {
    const toss = order[answers.length].toss;
    if (question === "x") return sound === "a" || (sound === "x" && toss);
    return sound === "b" ? !toss : toss;
  }
  const sideOf = (sound) => (isAligned(sound) ? 1 : 0);

  function show(part) {
    for (const each of ["before", "during", "after"]) at(each).hidden = each !== part;
  }
  function missing() {
    return sounds().filter((sound) => (heard[sound] || 0) < heardSeconds).map((sound) => sound.toUpperCase());
  }
  function refresh() {
    for (const sound of ["x", "a", "b"]) {
      at("hear-" + sound).hidden = !sounds().includes(sound);
      at("hear-" + sound).setAttribute("aria-pressed", String(hearing === sound));
    }
    const left = missing();
    at("answer-a").disabled = at("answer-b").disabled = left.length > 0;
    const words = left.length > 0 ? "Before you answer, hear a second of " + left.join(" and ") + "." : "Answer when you are ready.";
    const text = paused ? "Paused." : words;
    if (at("status").textContent !== text) at("status").textContent = text;
  }
  function tick() {
    const now = context ? context.currentTime : 0;
    if (hearing && !paused) heard[hearing] = (heard[hearing] || 0) + Math.max(0, now - since);
    since = now;
    refresh();
  }
  function hear(sound) {
    if (at("during").hidden || !sounds().includes(sound) || sources.length === 0) return;
    tick();
    if (paused) pause();
    hearing = sound;
    dip(sideOf(sound), dipSeconds);
    refresh();
  }
  async function pause() {
    if (at("during").hidden || !context) return;
    tick();
    paused = !paused;
    at("pause").firstChild.textContent = paused ? "Go on " : "Pause ";
    refresh();
    await (paused ? context.suspend() : context.resume());
  }
  async function present() {
    const current = order[answers.length];
    heard = {};
    hearing = null;
    const first = sounds()[0];
    const which = answers.length + 1 + " of " + order.length + ": ";
    at("asked").textContent = which + trial.cues[current.cue].name + (question === "x" ? ". Which is X?" : ". Which is better?");
    Array.from(at("steps").children).forEach((step, i) => step.classList.toggle("done", i < answers.length));
    refresh();
    const presented = answers.length;
    await load(current.cue, sideOf(first));
    if (at("during").hidden || presented !== answers.length) return;
    hearing = first;
    since = context.currentTime;
    refresh();
  }
  async function start() {
    const typed = at("order").value.trim();
    if (typed !== "" && !/^[0-9]{1,19}$/.test(typed)) {
      at("length").textContent = "The order has to be a whole number of at most 19 digits, or empty.";
      at("order").focus();
      return;
    }
    question = document.querySelector('input[name="question"]:checked').value;
    const fresh = crypto.getRandomValues(new Uint32Array(2));
    seed = typed === "" ? String((BigInt(fresh[0]) << 31n) | BigInt(fresh[1] >>> 1)) : String(BigInt(typed));
    order = orderOf(seed, trial.cues.length, trial.times);
    answers = [];
    paused = false;
    began = new Date().toISOString();
    at("pause").firstChild.textContent = "Pause ";
    for (const [id, letter, key] of [["answer-a", "A", "1"], ["answer-b", "B", "2"]]) {
      const word = question === "x" ? "X is " + letter : letter + " is better";
      at(id).innerHTML = word + " <kbd>key " + key + "</kbd>";
    }
    at("steps").replaceChildren(...order.map(() => document.createElement("li")));
    show("during");
    at("asked").focus();
    ticking = setInterval(tick, 100);
    await present();
  }
  function leave() {
    clearInterval(ticking);
    silence();
    hearing = null;
  }
  function answer(a) {
    if (at("during").hidden) return;
    tick();
    if (missing().length > 0) return;
    const { cue, toss } = order[answers.length];
    answers.push({ cue, toss, answer: a ? "a" : "b", heard_s: Math.round(10 * sounds().reduce((sum, each) => sum + heard[each], 0)) / 10 });
    if (answers.length < order.length) present();
    else finish();
  }
  function result() {
    return {
      tarry_trial_result: 1, trial: trial.id, plan: trial.plan, version: trial.version,
      listener: at("listener").value.trim(), question, seed, began, ended: new Date().toISOString(),
      cues: trial.cues.map((cue) => cue.name), times: trial.times, answers,
    };
  }
  function finish() {
    leave();
    const hits = answers.filter((each) => (each.answer === "a") === each.toss).length;
    at("said").textContent = question === "x"
      ? hits + " of " + answers.length + " right; guessing alone gives half of them."
      : "Aligned preferred " + hits + " of " + answers.length + " times, as recorded " + (answers.length - hits) + ".";
    at("text").value = JSON.stringify(result(), null, 1) + "\n";
    show("after");
    at("result").focus();
  }
  function save() {
    const name = (at("listener").value.trim().replace(/[^A-Za-z0-9]+/g, "-").replace(/^-|-$/g, "") || "listener").toLowerCase();
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([at("text").value], { type: "application/json" }));
    link.download = "trial-" + name + "-" + question + "-" + seed + ".json";
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  }

  at("length").textContent = trial.cues.length * trial.times + " answers, " + trial.times + " of each: " + trial.cues.map((cue) => cue.name).join("; ") + ".";
  show("before");
  let level = false;
  at("level").addEventListener("click", async () => {
    level = !level;
    at("level").textContent = level ? "Stop" : "Set the level";
    if (level) await load(0, 0);
    else silence();
  });
  at("start").addEventListener("click", () => {
    level = false;
    at("level").textContent = "Set the level";
    if (context) silence();
    start();
  });
  at("stop").addEventListener("click", () => {
    leave();
    show("before");
    at("start").focus();
  });
  at("again").addEventListener("click", () => {
    show("before");
    at("start").focus();
  });
  at("save").addEventListener("click", save);
  at("pause").addEventListener("click", pause);
  for (const sound of ["x", "a", "b"]) at("hear-" + sound).addEventListener("click", () => hear(sound));
  at("answer-a").addEventListener("click", () => answer(true));
  at("answer-b").addEventListener("click", () => answer(false));
  document.addEventListener("keydown", (event) => {
    if (at("during").hidden || event.ctrlKey || event.altKey || event.metaKey || event.repeat) return;
    const key = event.key.toLowerCase();
    if (["x", "a", "b"].includes(key)) hear(key);
    else if (key === "1") answer(true);
    else if (key === "2") answer(false);
    else if (key === " " && !(event.target instanceof HTMLButtonElement)) {
      event.preventDefault();
      pause();
    }
  });
  addEventListener("beforeunload", (event) => {
    if (!at("during").hidden) event.preventDefault();
  });
})();
