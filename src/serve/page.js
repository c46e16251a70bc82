// The picture that follows what is typed, answered or dragged. Without it every form works as it is.
"use strict";
(() => {
  const $ = (id) => document.getElementById(id);

  // Times in the reader's own zone.
  for (const time of document.querySelectorAll("time")) {
    const at = new Date(time.dateTime);
    if (!Number.isNaN(at.valueOf())) time.textContent = at.toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
  }

  // A scan dropped anywhere on its field is sent at once.
  const drop = document.querySelector(".drop");
  if (drop) {
    const over = (on) => (event) => { event.preventDefault(); drop.classList.toggle("over", on); };
    drop.addEventListener("dragover", over(true));
    drop.addEventListener("dragleave", over(false));
    drop.addEventListener("drop", (event) => {
      over(false)(event);
      if (!event.dataTransfer.files.length) return;
      $("scan").files = event.dataTransfer.files;
      $("scan-form").requestSubmit();
    });
  }

  // What is worked on is kept in this browser until it is saved, or put aside beside what somebody
  // else saved: closing the page, or a server that is gone, loses only what was not sent yet.
  const draft = {
    name: "draft:" + location.pathname,
    keep(words) { try { localStorage.setItem(this.name, JSON.stringify(words)); return true; } catch { return false; } },
    read() { try { return JSON.parse(localStorage.getItem(this.name)); } catch { return null; } },
    drop() { try { localStorage.removeItem(this.name); } catch { /* Nothing was kept. */ } },
  };
  if (document.querySelector(".version")) draft.drop();

  const form = $("pattern");
  if (!form) return;
  const [text, status, kept, handles] = ["text", "status", "kept", "handles"].map($);
  let saved = text.value, sending = false, again = false, timer = 0, whole = false, turn = 0, moves = [], url = null, places = [];

  // What a window sends is kept by the server under its own name, until it is saved.
  const from = form.elements.from, known = sessionStorage.getItem("window");
  form.elements.window.value = known || [...crypto.getRandomValues(new Uint8Array(10))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  sessionStorage.setItem("window", form.elements.window.value);
  let safe = true;
  const tell = () => {
    const changed = text.value !== saved;
    kept.textContent = changed ? "Not saved yet" : "Saved";
    form.classList.toggle("changed", changed);
    if (changed) safe = draft.keep({ from: from.value, text: text.value }); else draft.drop();
  };
  const left = draft.read();
  if (left && "kept" in form.dataset) {
    // Whoever saved meanwhile is found out as it is saved.
    if (left.text !== saved) { text.value = left.text; from.value = left.from; }
    tell();
  }
  addEventListener("beforeunload", (event) => { if (!safe && form.classList.contains("changed") && !form.sent) event.preventDefault(); });
  form.addEventListener("submit", () => { form.sent = true; });
  addEventListener("keydown", (event) => {
    if ((event.ctrlKey || event.metaKey) && event.key === "s") {
      event.preventDefault();
      form.requestSubmit(form.querySelector("button[value=save]"));
    }
  });

  // One request at a time; what is typed meanwhile goes with the next.
  const follow = async () => {
    if (sending) { again = true; return; }
    sending = true; again = false; form.dataset.busy = "";
    const fields = new URLSearchParams(new FormData(form));
    const sent = moves; moves = [];
    for (const move of sent) fields.append("move", move);
    if (whole) fields.append("whole", "");
    whole = false;
    const typed = text.value, at = turn;
    try {
      const response = await fetch(form.dataset.picture, { method: "POST", body: fields, headers: { Accept: "application/json" } });
      const told = await response.json();
      if (!response.ok) kept.textContent = told.error;
      else if (text.value !== typed) { moves = sent.concat(moves); again = true; }
      else {
        await take(told, at);
        // Many are at work: the picture came first, and the paper follows when nothing more is typed.
        if (told.rest && !again) { clearTimeout(timer); timer = setTimeout(() => { whole = true; follow(); }, 600); }
      }
    } catch {
      moves = sent.concat(moves);
      kept.textContent = "The server does not answer; what you typed stays here";
    }
    sending = false;
    if (again) follow(); else delete form.dataset.busy;
  };
  const soon = (wait) => { form.dataset.busy = ""; clearTimeout(timer); timer = setTimeout(follow, wait); };

  // What the server makes of the questions. A block that is being answered keeps its fields; only what
  // stands round them changes.
  const asked = $("asked"), last = new Map();
  const ask = (html, at) => {
    const next = document.createElement("template");
    next.innerHTML = html;
    merge(asked, next.content, (own, other) => {
      merge(own.querySelector(".asked"), other.querySelector(".asked"), (block, told) => {
        if (last.get(block.id) === told.outerHTML) return block;
        if (Number(block.dataset.turn || 0) > at) return block;
        last.set(block.id, told.outerHTML);
        const active = document.activeElement;
        if (!block.contains(active)) return told;
        if (active.matches(".clear")) {
          queueMicrotask(() => told.querySelector("input:not([type=hidden]), select").focus());
          return told;
        }
        const [was, rows] = [block.querySelector("[name^='was:']"), block.querySelector(".rows")];
        was.value = told.querySelector("[name^='was:']").value;
        block.className = told.className;
        for (const part of [".wrong", ".words", ".found"]) block.querySelector(part).replaceWith(told.querySelector(part));
        const answers = [...told.querySelectorAll(".answer")];
        rows.append(...answers.slice(rows.children.length));
        return block;
      });
      return own;
    });
  };
  const merge = (into, from, join) => {
    const next = [...from.children], ids = new Set(next.map((one) => one.id));
    for (const own of [...into.children]) if (!ids.has(own.id)) own.remove();
    let at = into.firstElementChild;
    for (const told of next) {
      const own = [...into.children].find((one) => one.id === told.id);
      const joined = own ? join(own, told) : told;
      if (own && joined !== own) { if (at === own) at = joined; own.replaceWith(joined); }
      if (joined === at) at = at.nextElementSibling;
      else into.insertBefore(joined, at);
    }
  };
  asked.addEventListener("input", (event) => {
    const block = event.target.closest(".q");
    if (block) block.dataset.turn = ++turn;
  });
  // What is chosen is taken back by a button: no second tap undoes it.
  asked.addEventListener("click", (event) => {
    const button = event.target.closest(".clear");
    if (!button) return;
    for (const one of button.parentElement.querySelectorAll("input, select")) {
      if (one.type === "radio") one.checked = false; else one.value = "";
    }
    button.closest(".q").dataset.turn = ++turn;
    soon(0);
  });
  // From one answer to the next, as on paper.
  asked.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches("input")) return;
    event.preventDefault();
    const all = [...asked.querySelectorAll("input:not([type=hidden]), select")].filter((one) => one.offsetParent);
    (all[all.indexOf(event.target) + 1] || form.querySelector(".primary")).focus();
  });
  status.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#q-']");
    const block = link && $(link.hash.slice(1));
    if (!block) return;
    event.preventDefault();
    block.closest("details").open = true;
    block.querySelector("input:not([type=hidden]), select").focus();
    block.scrollIntoView({ block: "center" });
  });

  const take = async (told, at) => {
    if (text.value !== told.text) text.value = told.text;
    tell();
    ask(told.questions, at);
    if (status.innerHTML !== told.status) status.innerHTML = told.status;
    $("summary").textContent = told.summary;
    places = told.places;
    spot?.remove();
    $("figure").classList.toggle("old", told.svg === null);
    if (told.svg === null) { handles.replaceChildren(); return; }
    const next = new Image();
    const made = URL.createObjectURL(new Blob([told.svg], { type: "image/svg+xml" }));
    next.id = "picture";
    next.alt = "The pattern as it is cut: the same drawing as its SVG";
    next.src = made;
    try { await next.decode(); } catch { URL.revokeObjectURL(made); return; }
    const old = $("picture");
    if (old) old.replaceWith(next); else handles.parentElement.prepend(next);
    handles.parentElement.querySelector(".hint")?.remove();
    if (url) URL.revokeObjectURL(url);
    url = made;
    size = told.size;
    place(told.handles);
  };

  form.addEventListener("input", (event) => {
    if (event.target === text) tell();
    soon(event.target === text ? 250 : 60);
  });
  form.addEventListener("change", () => soon(0));

  // Places of findings, and lines of the definition.
  let spot = null, size = [1, 1];
  status.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    if (button.dataset.line) {
      text.closest("details").open = true;
      const lines = text.value.split("\n"), line = Number(button.dataset.line) - 1;
      const start = lines.slice(0, line).join("\n").length + (line ? 1 : 0);
      text.focus();
      text.setSelectionRange(start, start + (lines[line] || "").length);
      text.scrollTop = (line - 4) * parseFloat(getComputedStyle(text).lineHeight);
    }
    if (button.dataset.accept) {
      // The last row of that question is always free; who answers and why is typed by whoever does.
      const block = $("q-accepted"), rows = block.querySelectorAll(".answer");
      const [what, value, by] = rows[rows.length - 1].querySelectorAll("input");
      [what.value, value.value] = [button.dataset.accept, button.dataset.value];
      block.closest("details").open = true;
      block.scrollIntoView({ block: "center" });
      by.focus();
      by.dispatchEvent(new Event("input", { bubbles: true }));
    }
    const at = places[Number(button.dataset.finding)];
    if (button.dataset.finding && at) {
      spot?.remove();
      spot = document.createElement("span");
      spot.className = "spot";
      put(spot, at[0], at[1]);
      handles.append(spot);
      $("figure").scrollIntoView({ block: "nearest" });
    }
  });

  // The drawing within its frame: its scale, and what is left free beside it.
  const frame = () => {
    const box = handles.getBoundingClientRect();
    const scale = Math.min(box.width / size[0], box.height / size[1]) || 1;
    return { scale, left: (box.width - scale * size[0]) / 2, top: (box.height - scale * size[1]) / 2 };
  };
  const put = (element, x, y) => {
    const { scale, left, top } = frame();
    element.style.left = left + x * scale + "px";
    element.style.top = top + y * scale + "px";
  };

  const inches = () => /^\s*units\s*=\s*"in"/m.test(text.value);
  const step = () => (inches() ? 25.4 / 16 : 1);
  const length = (mm) => {
    if (!inches()) return Math.round(mm * 100) / 100 + " mm";
    let [over, under] = [Math.round(mm / 25.4 * 64), 64];
    const sign = over < 0 ? "-" : ""; over = Math.abs(over);
    const whole = Math.floor(over / under); over %= under;
    while (over && over % 2 === 0) { over /= 2; under /= 2; }
    return sign + (over ? (whole ? whole + "-" : "") + over + "/" + under : whole) + " in";
  };
  const read = (one, along, away) => {
    const side = one.sides ? (Math.abs(along) < 1e-6 ? "on the centreline" : length(Math.abs(along)) + " " + one.sides[along < 0 ? 1 : 0]) : length(along) + " from the end";
    return side + ", " + length(away) + " from the edge";
  };

  // Parts and locators as buttons over the picture: dragged, or moved with the arrow keys.
  const place = (all) => {
    const focused = document.activeElement?.dataset?.handle;
    handles.replaceChildren(...all.map((one) => {
      const button = document.createElement("button"), told = document.createElement("output");
      button.type = "button"; button.className = "handle";
      button.dataset.handle = one.table + one.index;
      button.append(told);
      let [along, away] = [one.along.mm, one.away.mm];
      const show = () => {
        const { scale } = frame(), least = 44 / scale;
        const by = (i) => (along - one.along.mm) * one.along.towards[i] + (away - one.away.mm) * one.away.towards[i];
        const [w, h] = [Math.max(one.covers[2], least), Math.max(one.covers[3], least)];
        put(button, one.covers[0] + one.covers[2] / 2 - w / 2 + by(0), one.covers[1] + one.covers[3] / 2 - h / 2 + by(1));
        button.style.width = w * scale + "px"; button.style.height = h * scale + "px";
        told.textContent = read(one, along, away);
        button.setAttribute("aria-label", one.name + ": " + told.textContent);
      };
      const send = () => {
        const moved = (mm, was) => (Math.abs(mm - was) < 1e-6 ? "" : mm);
        const side = one.sides ? one.sides[along < 0 ? 1 : 0] : "";
        const by = moved(along, one.along.mm);
        moves.push([one.table, one.index, side, by === "" ? "" : one.sides ? Math.abs(by) : by, moved(away, one.away.mm)].join(","));
        soon(0);
      };
      const snap = (mm) => Math.round(mm / step()) * step();
      button.addEventListener("pointerdown", (start) => {
        button.setPointerCapture(start.pointerId);
        button.classList.add("moving");
        const from = [along, away], { scale } = frame();
        let far = false;
        const move = (event) => {
          const by = [(event.clientX - start.clientX) / scale, (event.clientY - start.clientY) / scale];
          if (Math.hypot(...by) * scale > 4) far = true;
          if (!far) return;
          const on = (way) => by[0] * way[0] + by[1] * way[1];
          along = snap(from[0] + on(one.along.towards)); away = snap(from[1] + on(one.away.towards));
          show();
        };
        const end = () => {
          button.classList.remove("moving");
          button.removeEventListener("pointermove", move);
          if (far) send();
        };
        button.addEventListener("pointermove", move);
        button.addEventListener("pointerup", end, { once: true });
        button.addEventListener("pointercancel", end, { once: true });
      });
      button.addEventListener("keydown", (event) => {
        const way = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
        if (!way) return;
        event.preventDefault();
        const by = step() * (event.shiftKey ? 10 : 1), on = (towards) => Math.round(way[0] * towards[0] + way[1] * towards[1]);
        along = snap(along + by * on(one.along.towards)); away = snap(away + by * on(one.away.towards));
        show();
        clearTimeout(button.timer);
        button.timer = setTimeout(send, 400);
      });
      button.show = show;
      return button;
    }));
    for (const button of handles.children) {
      button.show();
      if (button.dataset.handle === focused) button.focus({ preventScroll: true });
    }
  };
  addEventListener("resize", () => { for (const one of handles.children) one.show?.(); });

  soon(0);
})();
