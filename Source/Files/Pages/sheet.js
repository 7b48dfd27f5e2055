"use strict";
// Sorting, filtering, copying and listening. Without it the page says the same, in the plan's order.
(function () {
  const table = document.getElementById("rows");
  const bodies = Array.from(table.tBodies);
  const say = document.createElement("span");
  say.setAttribute("role", "status");
  say.className = "dim";

  // Filter: words anywhere in a row, and a kind.
  const kinds = [["", "all"], ["ear", "wants an ear"], ["does-align", "aligned"], ["does-leave", "left as recorded"],
    ["is-unsure", "unsure"], ["moved", "moved"], ["failed", "failed"]];
  const words = bodies.map((body) => body.textContent.toLowerCase());
  const tools = document.getElementById("tools");
  const search = document.createElement("input");
  search.type = "search";
  search.id = "search";
  const which = document.createElement("select");
  which.id = "which";
  for (const [kind, name] of kinds) {
    const many = bodies.filter((body) => kind === "" || body.classList.contains(kind)).length;
    if (kind === "" || many > 0) which.add(new Option(name + " (" + many + ")", kind));
  }
  for (const [text, field] of [["Find", search], ["Show", which]]) {
    const label = document.createElement("label");
    label.append(text, field);
    tools.append(label);
  }
  tools.append(say);
  tools.hidden = false;
  function filter() {
    const wanted = search.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    bodies.forEach((body, i) => {
      const fits = (which.value === "" || body.classList.contains(which.value)) && wanted.every((word) => words[i].includes(word));
      body.hidden = !fits;
      if (fits) ++shown;
    });
    say.textContent = shown === bodies.length ? "" : shown + " of " + bodies.length + " shown";
  }
  search.addEventListener("input", filter);
  which.addEventListener("change", filter);
  // A link to a row that is filtered away shows everything again.
  document.addEventListener("click", (event) => {
    const link = event.target.closest('a[href^="#line-"]');
    if (!link) return;
    const body = document.getElementById(link.getAttribute("href").slice(1));
    if (!body.hidden) return;
    search.value = which.value = "";
    filter();
  });

  // Sort: up, down, as planned. Numbers as numbers, what is missing last.
  const heads = Array.from(table.tHead.rows[0].cells);
  function key(body, column) {
    const cell = body.rows[0].cells[column];
    if (!cell || cell.colSpan > 1) return null;
    const text = cell.textContent.trim();
    if (!heads[column].classList.contains("n")) return text === "" ? null : text;
    const number = parseFloat(text.replace("\u2212", "-").replace(/^over /, ""));
    return Number.isNaN(number) ? null : number + (text.startsWith("over ") ? 0.5 : 0);
  }
  heads.forEach((head, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = head.textContent;
    head.replaceChildren(button);
    button.addEventListener("click", () => {
      const now = head.getAttribute("aria-sort");
      const next = now === null ? "ascending" : now === "ascending" ? "descending" : null;
      heads.forEach((each) => each.removeAttribute("aria-sort"));
      if (next) head.setAttribute("aria-sort", next);
      const sign = next === "descending" ? -1 : 1;
      const keys = new Map(bodies.map((body) => [body, key(body, column)]));
      const order = next === null ? bodies : bodies.slice().sort((a, b) => {
        const x = keys.get(a), y = keys.get(b);
        if (x === null || y === null) return (x === null) - (y === null);
        return sign * (typeof x === "number" ? x - y : x.localeCompare(y, undefined, { numeric: true }));
      });
      table.append(...order);
    });
  });

  // Recall lines go to the clipboard.
  for (const line of document.querySelectorAll(".recall")) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "copy";
    button.textContent = "copy";
    button.setAttribute("aria-label", "Copy the recall line of " + line.closest("tbody").rows[0].cells[0].textContent);
    line.append(" ", button);
    button.addEventListener("click", async () => {
      const code = line.querySelector("code");
      try {
        await navigator.clipboard.writeText(code.textContent);
        button.textContent = "copied";
      } catch {
        getSelection().selectAllChildren(code); // a page opened from a disk may not be allowed to: Ctrl-C then
        button.textContent = "selected";
      }
    });
  }

  // Clips: both play together and one of the two is heard, so that a change of side keeps its place.
  let playing = null;
  function stop() {
    if (!playing) return;
    playing.sides.forEach((side) => side.pause());
    playing.buttons.forEach((button) => button.setAttribute("aria-pressed", "false"));
    playing = null;
  }
  function hear(player, side) {
    if (playing && playing !== player) stop();
    if (playing === player && player.side === side) return stop();
    player.sides = player.sides || player.files.map((file) => new Audio(file));
    player.side = side;
    player.sides.forEach((audio, i) => {
      audio.muted = i !== side;
      audio.onended = stop;
      audio.onerror = () => {
        stop();
        player.note.textContent = "clip not found: the folder clips has to lie beside this page";
      };
      if (playing !== player) {
        audio.currentTime = 0;
        audio.play().catch(() => {});
      }
    });
    playing = player;
    player.buttons.forEach((button, i) => button.setAttribute("aria-pressed", String(i === side)));
  }
  for (const group of document.querySelectorAll(".hear")) {
    const links = Array.from(group.querySelectorAll("a"));
    const player = { files: links.map((link) => link.href), note: document.createElement("span") };
    player.buttons = links.map((link, i) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = link.textContent;
      button.setAttribute("aria-pressed", "false");
      button.addEventListener("click", () => hear(player, i));
      link.replaceWith(button);
      return button;
    });
    group.append(player.note);
  }
  document.addEventListener("keydown", (event) => {
    if (!playing || event.target.matches("input, select")) return;
    if (event.key === "Escape") stop();
    else if (event.key === "x") hear(playing, 1 - playing.side);
  });
})();
