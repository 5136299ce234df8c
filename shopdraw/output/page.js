// What the page can do beyond being read: boxes stay ticked, what is left is counted,
// a piece that is tapped shows its card, a drawing is looked at closely. Without any of
// this the page is whole: every card, list and drawing is in it already.
"use strict";
(() => {
  const all = (what, within = document) => [...within.querySelectorAll(what)];
  const make = (name, words = "", set = {}) =>
    Object.assign(document.createElement(name), { textContent: words }, set);
  const digest = document.body.dataset.digest;
  const key = `shopdraw/${digest}`;
  document.documentElement.classList.add("live");

  // ------------------------------------------------------------------------- ticks

  // Where a browser refuses to keep anything, asking for it is an error.
  const keeper = (() => {
    try {
      const store = window.localStorage;
      const before = store.getItem(key);
      store.setItem(key, before ?? "[]");
      return digest ? store : null;
    } catch {
      return null;
    }
  })();
  const ticked = new Set(read());

  function read() {
    try {
      const kept = JSON.parse(keeper?.getItem(key) ?? "[]");
      return Array.isArray(kept) ? kept.filter((x) => typeof x === "string") : [];
    } catch {
      return [];
    }
  }

  function keep() {
    try {
      keeper?.setItem(key, JSON.stringify([...ticked].sort()));
    } catch {
      kept.textContent = "Ticks are no longer kept: this browser has no room.";
    }
  }

  // A link to a card opens it; any other link is the browser's.
  function cardOf(link) {
    const name = link.getAttribute("href") ?? "";
    const found = name.startsWith("#") ? document.getElementById(name.slice(1)) : null;
    return found?.matches("article.card") ? found : null;
  }

  const cards = all("article.card");
  const steps = all(".step").map((step) => ({
    element: step,
    cards: all("article.card", step).map((card) => card.id),
    title: step.querySelector("h3"),
    jump: document.querySelector(`.jumps a[href="#step-${step.dataset.step}"]`),
  }));
  const stepOf = new Map(steps.map((step) => [`all/${step.element.dataset.step}`, step]));
  const kept = document.getElementById("kept");
  const now = make("p", "", { className: "now" });
  const clear = make("button", "Clear all ticks", { type: "button" });

  function show() {
    for (const box of all("input[data-tick]")) {
      const step = stepOf.get(box.dataset.tick);
      if (step === undefined) {
        box.checked = ticked.has(box.dataset.tick);
      } else {
        const count = step.cards.filter((id) => ticked.has(id)).length;
        box.checked = count === step.cards.length;
        box.indeterminate = count > 0 && !box.checked;
      }
    }
    for (const cell of all("[data-left]")) {
      const like = cards.filter((card) => card.dataset.mark === cell.dataset.left);
      cell.textContent = String(like.filter((card) => !ticked.has(card.id)).length);
    }
    for (const step of steps) {
      step.jump.classList.toggle("laid", step.cards.every((id) => ticked.has(id)));
    }
    for (const spot of all(".spots a")) {
      spot.classList.toggle("laid", ticked.has(cardOf(spot)?.id));
    }
    const next = steps.find((step) => step.cards.some((id) => !ticked.has(id)));
    now.replaceChildren(next ? "Lay now: " : "All is laid.");
    if (next) now.append(make("a", next.title.textContent, { href: `#${next.title.id}` }));
  }

  document.addEventListener("change", (event) => {
    const box = event.target;
    const name = box.dataset?.tick;
    if (name === undefined) return;
    const names = stepOf.get(name)?.cards ?? [name];
    for (const each of names) box.checked ? ticked.add(each) : ticked.delete(each);
    keep();
    show();
  });

  // What another window ticks is ticked here too.
  window.addEventListener("storage", (event) => {
    if (event.key !== key) return;
    ticked.clear();
    for (const each of read()) ticked.add(each);
    show();
  });

  // One tap too many must not lose a day's ticks.
  clear.addEventListener("click", () => {
    if (clear.dataset.sure !== "yes") {
      clear.dataset.sure = "yes";
      clear.textContent = "Press again to clear all ticks";
      return;
    }
    ticked.clear();
    keep();
    show();
    calm();
  });
  function calm() {
    clear.dataset.sure = "";
    clear.textContent = "Clear all ticks";
  }
  clear.addEventListener("blur", calm);

  if (keeper) {
    kept.textContent = `Ticks are kept in this browser, for job file ${digest.slice(0, 12)}.`;
  }
  kept.after(clear);
  document.querySelector("#steps").after(now);
  show();

  // ------------------------------------------------------------------------- cards

  const sheet = make("dialog");
  document.body.append(sheet);
  sheet.setAttribute("aria-labelledby", "card-title");

  function copy(element) {
    const twin = element.cloneNode(true);
    for (const each of [twin, ...all("[id]", twin)]) each.removeAttribute("id");
    return twin;
  }

  function open(card) {
    const made = document.getElementById(`mark-${card.dataset.mark}`);
    const bar = make("div", "", { className: "bar" });
    const label = make("label", "", { className: "tick" });
    const box = make("input", "", { type: "checkbox" });
    const close = make("button", "Close", { type: "button" });
    box.dataset.tick = card.id;
    box.checked = ticked.has(card.id);
    label.append(box, "laid");
    close.addEventListener("click", () => sheet.close());
    bar.append(label, close);
    const twin = copy(card);
    twin.querySelector("h4").id = "card-title";
    // What is said once for all pieces of its step is said of it, too.
    const shared = card.parentElement.querySelector(".shared");
    if (shared) twin.querySelector("dl").before(copy(shared));
    sheet.replaceChildren(bar, twin, ...(made ? [copy(made)] : []));
    if (!sheet.open) sheet.showModal();
    sheet.scrollTop = 0;
    close.focus();
  }

  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a");
    if (!link) {
      // The ground beside the card closes it.
      if (event.target === sheet) sheet.close();
      return;
    }
    const card = cardOf(link);
    if (card) {
      event.preventDefault();
      if (!moved) open(card);
    } else if (sheet.open && sheet.contains(link)) {
      sheet.close();
    }
  });

  // ------------------------------------------------------------- drawings, closely

  let moved = false;

  for (const look of all(".look")) closely(look);

  function closely(look) {
    const svg = look.querySelector("svg");
    const parse = (words) => words.split(" ").map(Number);
    const whole = parse(svg.getAttribute("viewBox"));
    const first = parse(svg.dataset.first);
    const spots = all(".spots a", svg);
    const fingers = new Map();
    let box = first;

    function set(next) {
      const width = Math.min(Math.max(next[2], first[2] / 12), whole[2]);
      const height = (width * next[3]) / next[2];
      const within = (at, size, low, room) =>
        Math.min(Math.max(at, low - size / 2), low + room - size / 2);
      box = [
        within(next[0], width, whole[0], whole[2]),
        within(next[1], height, whole[1], whole[3]),
        width,
        height,
      ];
      svg.setAttribute("viewBox", box.join(" "));
      look.classList.toggle("near", width < first[2] * 0.98);
    }

    // A point of the screen, in the drawing's units.
    function at(x, y) {
      return new DOMPoint(x, y).matrixTransform(svg.getScreenCTM().inverse());
    }

    function zoom(by, x, y) {
      const rect = svg.getBoundingClientRect();
      const to = at(x ?? rect.x + rect.width / 2, y ?? rect.y + rect.height / 2);
      const width = Math.min(Math.max(box[2] / by, first[2] / 12), whole[2]);
      const part = width / box[2];
      set([
        to.x - (to.x - box[0]) * part,
        to.y - (to.y - box[1]) * part,
        width,
        box[3] * part,
      ]);
    }

    function drag(from, to) {
      const [a, b] = [at(...from), at(...to)];
      set([box[0] + a.x - b.x, box[1] + a.y - b.y, box[2], box[3]]);
    }

    const ways = [
      ["Closer", () => zoom(1.6)],
      ["Further", () => zoom(1 / 1.6)],
      ["Fit", () => set(first)],
      ["All", () => set(whole)],
    ];
    const bar = make("div", "", { className: "closer" });
    for (const [words, act] of ways) {
      const button = make("button", words, { type: "button" });
      button.addEventListener("click", act);
      bar.append(button);
    }
    look.before(bar);
    // As high as what is shown first asks for; the rest is looked at within that.
    svg.style.aspectRatio = `${first[2]} / ${first[3]}`;

    svg.addEventListener("pointerdown", (event) => {
      if (fingers.size === 0) moved = false;
      fingers.set(event.pointerId, [event.clientX, event.clientY]);
    });
    window.addEventListener("pointermove", (event) => {
      const from = fingers.get(event.pointerId);
      if (!from) return;
      const to = [event.clientX, event.clientY];
      const far = Math.hypot(to[0] - from[0], to[1] - from[1]);
      if (!moved && far < 8) return;
      const others = [...fingers].filter(([name]) => name !== event.pointerId);
      if (others.length === 1) {
        const still = others[0][1];
        const before = Math.hypot(from[0] - still[0], from[1] - still[1]);
        const after = Math.hypot(to[0] - still[0], to[1] - still[1]);
        moved = true;
        if (before > 0) zoom(after / before, still[0], still[1]);
      } else if (event.pointerType === "mouse" || look.classList.contains("near")) {
        moved = true;
        drag(from, to);
      }
      fingers.set(event.pointerId, to);
    });
    for (const name of ["pointerup", "pointercancel"]) {
      window.addEventListener(name, (event) => fingers.delete(event.pointerId));
    }
    // A link that is dragged must not be carried off.
    svg.addEventListener("dragstart", (event) => event.preventDefault());
    svg.addEventListener(
      "wheel",
      (event) => {
        // The page itself scrolls on, unless the drawing was chosen first.
        if (!event.ctrlKey && !look.contains(document.activeElement)) return;
        event.preventDefault();
        zoom(Math.exp(-event.deltaY / 400), event.clientX, event.clientY);
      },
      { passive: false },
    );

    // One stop of the tab key for each drawing: the arrows go from piece to piece.
    for (const spot of spots) spot.setAttribute("tabindex", "-1");
    const middles = spots.map((spot) => {
      const { x, y, width, height } = spot.getBBox();
      return [x + width / 2, y + height / 2];
    });

    function step(dx, dy) {
      const here = spots.indexOf(document.activeElement);
      if (here < 0) return 0;
      const [x, y] = middles[here];
      let best = here;
      let least = Infinity;
      middles.forEach(([px, py], place) => {
        const along = (px - x) * dx + (py - y) * dy;
        const aside = Math.abs((px - x) * dy + (py - y) * dx);
        if (place === here || along <= 1) return;
        if (along + 3 * aside < least) [best, least] = [place, along + 3 * aside];
      });
      return best;
    }

    const arrows = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, -1],
      ArrowDown: [0, 1],
    };
    look.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const way = arrows[event.key];
      if (way) {
        const place = step(...way);
        moved = false;
        spots[place]?.focus({ preventScroll: true });
        const [x, y] = middles[place];
        if (look.classList.contains("near")) {
          set([x - box[2] / 2, y - box[3] / 2, box[2], box[3]]);
        }
      } else if (event.key === "+" || event.key === "=") zoom(1.6);
      else if (event.key === "-") zoom(1 / 1.6);
      else if (event.key === "0") set(whole);
      else if (event.key === "Enter" && event.target === look) spots[step(0, 0)]?.focus();
      else return;
      event.preventDefault();
    });
    set(first);

    // Paper has the whole of it, however closely it is looked at.
    let before = box;
    window.addEventListener("beforeprint", () => {
      before = box;
      set(first);
    });
    window.addEventListener("afterprint", () => set(before));
  }
})();
