"use strict";
// Sends what changed and puts the pieces of the answer in place. The state is the text of the brief and stands in the
// history of the tab: undo, back, forward and a reload are one thing.
(() => {
  const $ = (id) => document.getElementById(id);
  const all = (what, from = document) => [...from.querySelectorAll(what)];
  const made = (what, has) => Object.assign(document.createElement(what), has);
  const tab = [...crypto.getRandomValues(new Uint32Array(4))].map((n) => n.toString(36)).join("");
  const PAUSE = { others: 30, reasons: 150, typed: 100, again: 2000, same: 1200 };
  let file = document.body.dataset.file ?? null;
  // What the tab shows: the text, its place in the history, and whether it is of no file yet; what the file held.
  let now = { text: "", at: 0, fresh: false };
  let [base, top, seq, drag, swaps, last] = ["", 0, 0, null, [], { tag: null, time: 0 }];
  const [timers, shown] = [{}, {}];

  const later = (name, wait, what) => (clearTimeout(timers[name]), (timers[name] = setTimeout(what, wait)));

  // Asks the server; nothing where a newer question was asked, or where it has gone.
  async function post(what, body = {}) {
    try {
      const answer = await fetch(what, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body) });
      if (answer.status === 204 || answer.status === 429) return null;
      if (answer.status === 404 || answer.status === 421) return gone("washline was started anew: open the address that it printed. What is not saved waits there.", false);
      if (!answer.ok) return notice([(await answer.text()).trim()]), null;
      if (timers.gone) (clearTimeout(timers.gone), (timers.gone = 0), notice([]));
      return await answer.json();
    } catch {
      return gone("washline does not answer. Nothing is lost: start it again and open the address that it prints. What is not saved waits there.");
    }
  }

  function gone(words, again = true) {
    keepDraft(notice([words]));
    if (again) later("gone", PAUSE.again, async () => (await post("disk")) && render());
    return null;
  }

  // ---- pieces put in place: what is the same stays, so that hands and focus stay with it

  function put(id, html) {
    if (shown[id] === html) return;
    shown[id] = html;
    children($(id), made("template", { innerHTML: html }).content);
  }

  const same = (a, b) => a.nodeType === b.nodeType && a.nodeName === b.nodeName && (a.id ?? "") === (b.id ?? "") && a.dataset?.key === b.dataset?.key;

  function children(old, fresh) {
    let at = old.firstChild;
    for (const want of [...fresh.childNodes]) {
      const key = want.dataset?.key;
      let have = at;
      if (key !== undefined) while (have && have.dataset?.key !== key) have = have.nextSibling;
      if (have && same(have, want)) {
        if (have === at) at = at.nextSibling;
        else old.insertBefore(have, at);
        patch(have, want);
      } else old.insertBefore(want, at);
    }
    while (at) at = [at.nextSibling, at.remove()][0];
  }

  function patch(have, want) {
    if (have.nodeType !== Node.ELEMENT_NODE) {
      if (have.data !== want.data) have.data = want.data;
      return;
    }
    if ("keep" in (want.dataset ?? {})) return;
    for (const { name } of [...have.attributes]) if (name !== "style" && name !== "open" && !want.hasAttribute(name)) have.removeAttribute(name);
    for (const { name, value } of want.attributes) if (have.getAttribute(name) !== value) have.setAttribute(name, value);
    if (have.nodeName === "INPUT" && have !== document.activeElement) [have.value, have.checked] = [want.getAttribute("value") ?? "", want.hasAttribute("checked")];
    children(have, want);
  }

  const place = () => all("[data-at]").forEach((end) => (end.style.left = `${end.dataset.at}%`));

  // ---- findings at the fields that they concern

  function findings(list) {
    all(".finding").forEach((one) => one.remove());
    all("[aria-invalid]").forEach((one) => (one.removeAttribute("aria-invalid"), one.removeAttribute("aria-describedby")));
    // What is laid out is asked for only where something has to be said: it takes longer than all the rest.
    const fields = list.length === 0 ? [] : all("[data-field]").filter((one) => one.getClientRects().length > 0);
    const rest = [];
    list.forEach(({ fields: names, error, said }, at) => {
      const field = names.map((name) => fields.find((one) => one.dataset.field === name)).find(Boolean);
      if (!field) return rest.push(said);
      const words = made("p", { className: error ? "finding" : "finding mild", textContent: said, id: `finding-${at}` });
      (field.closest("li, label, .search") ?? field).append(words);
      if (error) field.setAttribute("aria-invalid", "true");
      field.setAttribute("aria-describedby", words.id);
    });
    $("astray").replaceChildren(...rest.map((said) => made("p", { textContent: said })));
  }

  // Sentences over the answer, and what can be done about them.
  const notice = (sentences, ...more) => $("notice").replaceChildren(...sentences.map((said) => made("p", { textContent: said })), ...more);
  const button = (says, does) => made("button", { type: "button", textContent: says, onclick: does });

  // ---- changes

  const axes = () => Object.fromEntries(all(".limits > li").map((one) => [one.dataset.key, [Number(one.dataset.low), Number(one.dataset.high)]]));

  function taken(reply, started) {
    if (started) $("pick-0") && ($("pick-0").checked = true);
    for (const [id, html] of Object.entries(reply.fragments)) put(id, html);
    place();
    for (const one of all("#aims, #serve select").filter((one) => one !== document.activeElement)) one.value = one.querySelector("[selected]")?.value;
    for (const [id, value] of [["title", reply.title], ["text", reply.text]]) if ($(id) !== document.activeElement) $(id).value = value;
    document.title = `${reply.title || "New drink"} – washline`;
    findings(reply.findings);
    if (started) document.dispatchEvent(new CustomEvent("glass", { detail: performance.now() - started }));
  }

  // The text with changes, answered: the glass first, then the rest, found while the page is drawn or the hand rests.
  async function ask(edits, from, held) {
    const started = performance.now();
    const mine = ++seq;
    clearTimeout(timers.others);
    clearTimeout(timers.reasons);
    const reply = await post("glass", { seq: mine, tab, text: from, edits, axes: axes(), held });
    if (!reply || mine !== seq) return null;
    if (!reply.taken) return (findings(reply.findings), null);
    taken(reply, started);
    const next = () => rest("others", mine, reply.text, held);
    if (reply.more) drag ? later("others", PAUSE.others, next) : next();
    return reply;
  }

  async function rest(what, mine, text, held) {
    const reply = await post(what, { seq: mine, tab, text, axes: axes(), held });
    if (!reply || mine !== seq) return;
    taken(reply);
    $("aloud").textContent = [...$("said").children].map((one) => one.textContent).join(" ");
    document.dispatchEvent(new CustomEvent(what));
    if (what === "others" && swaps.length > 0) later("tries", PAUSE.reasons, tries);
    if (what === "others" && $("why").open) later("reasons", PAUSE.reasons, () => rest("reasons", mine, text, held));
  }

  async function change(edits, tag = null) {
    const reply = await ask(edits, now.text, tag !== null);
    if (reply) commit(reply.text, tag);
    return reply !== null;
  }

  // The text is the state from here on; one end that is moved step by step is one change.
  function commit(text, tag = null, fresh = now.fresh) {
    if (text === now.text && fresh === now.fresh) return;
    const again = tag !== null && tag === last.tag && Date.now() - last.time < PAUSE.same;
    last = { tag, time: Date.now() };
    now = { text, at: again ? now.at : now.at + 1, fresh };
    top = now.at;
    history[again ? "replaceState" : "pushState"](now, "");
    told();
  }

  function told() {
    sessionStorage.setItem("base", base);
    sessionStorage.setItem("top", top);
    keepDraft();
    const saved = now.text === base && !now.fresh;
    $("file").textContent = file && !now.fresh ? `, ${file}` : "";
    $("state").textContent = now.text === "" ? "" : saved ? "as in the file" : "not saved";
    [$("save").disabled, $("print").disabled, $("report").disabled] = [saved, now.text === "", now.text === ""];
    $("undo").disabled = now.at === 0;
    $("redo").disabled = now.at >= top;
  }

  const draft = () => `washline ${now.fresh ? "" : (file ?? "")}`;

  function keepDraft() {
    if (now.text && now.text !== base) localStorage.setItem(draft(), now.text);
    else localStorage.removeItem(draft());
  }

  function render() {
    const empty = now.text.trim() === "";
    [$("begin").hidden, $("play").hidden, $("title").hidden] = [!empty, empty, empty];
    if (!empty) ask([], now.text, false);
    told();
  }

  // ---- files

  function differs(disk) {
    const sides = [["The file as it is now", disk.text, now.text], ["What you have here", now.text, disk.text]];
    const both = made("div", { className: "both" });
    for (const [head, text, other] of sides) {
      const lines = new Set(other.split("\n"));
      const pre = made("pre", { tabIndex: 0 });
      pre.append(...text.split("\n").map((line) => made(lines.has(line) ? "span" : "mark", { textContent: `${line}\n` })));
      both.append(made("figure", {}));
      both.lastChild.append(made("p", { textContent: head }), pre);
    }
    const take = button("Take the file", () => (notice([]), (base = disk.text), commit(disk.text, null, false), render()));
    const keep = button("Write mine over it", () => ((base = disk.text), save()));
    const stay = button("Go on without", () => notice([]));
    notice(["The file was changed by something else. Nothing was written over it."], both, take, keep, stay);
  }

  async function save(name = "") {
    if ((!file || now.fresh) && name === "") return ($("naming").hidden = false), $("as").focus();
    const text = now.text;
    const disk = await post("save", { text, base: now.fresh ? "" : base, name });
    if (!disk) return;
    if (disk.findings.length > 0) return findings(disk.findings);
    if (!disk.written) return differs(disk);
    localStorage.removeItem(draft());
    [file, base, now] = [disk.file, text, { ...now, fresh: false }];
    history.replaceState(now, "");
    $("naming").hidden = true;
    told(notice([]));
    $("aloud").textContent = `Saved as ${file}`;
  }

  async function look() {
    const disk = now.fresh ? null : await post("disk");
    if (disk && disk.findings.length === 0 && disk.text !== base && disk.text !== now.text && disk.file === file) differs(disk);
  }

  async function report() {
    const page = await post("report", { tab, text: now.text });
    if (!page?.written) return page && findings(page.findings);
    const href = URL.createObjectURL(new Blob([page.html], { type: "text/html" }));
    const link = made("a", { href, download: `${(file ?? "my-drink.toml").replace(/\.toml$/, "")}.html` });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), PAUSE.again);
  }

  // ---- ends of limits

  const bounds = (end) => {
    const row = end.closest("li");
    const [low, high, grain] = [row.dataset.low, row.dataset.high, row.dataset.grain].map(Number);
    const other = end.parentElement.querySelector(`.end:not([data-side="${end.dataset.side}"])`);
    const stop = other.classList.contains("open") ? null : Number(other.getAttribute("aria-valuenow"));
    const min = end.dataset.side === "max" && stop !== null ? stop : Math.max(low, 0);
    const max = end.dataset.side === "min" && stop !== null ? stop : high;
    return { row, low, high, grain, min, max };
  };
  const snap = (value, { grain, min, max }) => Number(Math.min(max, Math.max(min, Math.round(value / grain) * grain)).toFixed(6));
  const limit = (end, to) => ({ kind: "limit", key: end.closest("li").dataset.key, side: end.dataset.side, to: String(to) });

  async function along(end) {
    const { row, low, high } = bounds(end);
    const found = await post("along", { tab, text: now.text, key: row.dataset.key, side: end.dataset.side, axis: [low, high] });
    if (!found || document.activeElement !== end) return;
    row.querySelector(".along").innerHTML = found.drawing;
    $("way").textContent = found.said.join(" ");
    document.dispatchEvent(new CustomEvent("along"));
  }

  function hold(event) {
    const end = event.target.closest(".end");
    if (!end || event.button !== 0) return;
    event.preventDefault();
    end.focus();
    end.setPointerCapture(event.pointerId);
    const track = end.parentElement.getBoundingClientRect();
    const at = track.left + (track.width * Number(end.dataset.at)) / 100;
    $("left").style.minBlockSize = `${$("left").offsetHeight}px`;
    drag = { end, track, ...bounds(end), off: event.clientX - at, value: null, flying: false, from: now.text, text: null };
  }

  function move(event) {
    if (!drag) return;
    const share = (event.clientX - drag.off - drag.track.left) / drag.track.width;
    const value = snap(drag.low + share * (drag.high - drag.low), drag);
    if (value === drag.value) return;
    drag.value = value;
    drag.end.style.left = `${(100 * (value - drag.low)) / (drag.high - drag.low)}%`;
    if (!drag.flying) fly(drag);
  }

  // One question at a time; what the hand did meanwhile is asked next.
  async function fly(held) {
    held.flying = true;
    for (let value = null; value !== held.value; ) {
      value = held.value;
      const reply = await ask([limit(held.end, value)], held.from, true);
      if (reply) held.text = reply.text;
    }
    held.flying = false;
    if (drag !== held) drop(held);
  }

  function release() {
    const held = drag;
    drag = null;
    $("left").style.minBlockSize = "";
    if (held && !held.flying) drop(held);
  }

  const drop = ({ text }) => text !== null && text !== now.text && (commit(text), ask([], text, false));

  function step(event) {
    const end = event.target.closest?.(".end");
    const ways = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 };
    if (!end || event.ctrlKey || event.metaKey || event.altKey) return;
    const has = bounds(end);
    const value = Number(end.getAttribute("aria-valuenow"));
    const ends = { Home: has.min, End: has.max };
    const to = event.key === "Delete" ? "" : event.key in ways ? snap(value + ways[event.key] * has.grain, has) : event.key in ends ? snap(ends[event.key], has) : null;
    if (to === null) return;
    event.preventDefault();
    if (to !== value) change([limit(end, to)], `${has.row.dataset.key} ${end.dataset.side}`);
  }

  // ---- ingredients found, swaps tried

  const find = async ({ id, value }) => ($(`${id}-offers`).innerHTML = (await post("find", { words: value }))?.html ?? "");

  async function offered(offer, field) {
    const edit = { ...JSON.parse(offer.dataset.offer), price: $(`${field}-price`).value };
    if (field === "new") {
      swaps = [...swaps, JSON.stringify({ kind: "swap", old: $("olds").value, new: edit.name, price: edit.price })];
      await tries();
    } else if (!(await change([edit]))) return $("find-price").focus();
    [$(field).value, $(`${field}-price`).value] = ["", ""];
    $(`${field}-offers`).replaceChildren();
    $(field).focus();
  }

  async function tries() {
    const found = await post("tries", { tab, text: now.text, swaps: swaps.map((one) => JSON.parse(one)) });
    if (found) put("tried", swaps.length > 0 ? found.html : "");
  }

  function click(event) {
    const one = event.target.closest?.("button");
    if (!one) return;
    const { edit, edits, swap, offer, drop: away } = one.dataset;
    if (edit) change([JSON.parse(edit)]).then((done) => done && (swaps = swaps.filter((known) => known !== edit)));
    if (edits) change(JSON.parse(edits));
    if (swap) [$("olds").value] = [swap, $("new").focus()];
    if (offer) offered(one, one.closest("ul").id.replace("-offers", ""));
    if (away) (swaps = swaps.filter((known) => known !== away)), tries();
  }

  function changed({ target }) {
    if (target.dataset.edit && target.nodeName !== "BUTTON") change([{ ...JSON.parse(target.dataset.edit), to: target.value }]);
  }

  function keys(event) {
    const command = event.ctrlKey || event.metaKey;
    const typing = event.target.matches?.("textarea, input");
    const key = event.key.toLowerCase();
    if (command && key === "s") event.preventDefault(), save();
    else if (command && !typing && (key === "y" || key === "z")) event.preventDefault(), $(key === "y" || event.shiftKey ? "redo" : "undo").click();
    else step(event);
  }

  async function begin(event) {
    event.preventDefault();
    const begun = await post("begin", Object.fromEntries(new FormData($("begin"))));
    if (!begun?.written) return begun && findings(begun.findings);
    commit(begun.text, null, file !== null);
    render();
  }

  const does = { click, change: changed, keydown: keys, pointerdown: hold, pointermove: move, pointerup: release, pointercancel: release };
  for (const [what, done] of Object.entries(does)) document.addEventListener(what, done);
  document.addEventListener("focusin", ({ target }) => {
    all(".along").forEach((one) => one.replaceChildren());
    $("way").textContent = "";
    if (target.matches(".end")) later("along", drag ? 0 : PAUSE.typed, () => along(target));
  });
  for (const id of ["find", "new"]) $(id).addEventListener("input", ({ target }) => later(id, PAUSE.typed, () => find(target)));
  $("undo").onclick = () => history.back();
  $("redo").onclick = () => history.forward();
  $("save").onclick = () => save();
  $("print").onclick = () => window.print();
  $("report").onclick = report;
  $("new-drink").onclick = () => ([$("begin").hidden, $("play").hidden, $("back").hidden] = [false, true, now.text === ""]);
  $("back").onclick = render;
  $("begin").onsubmit = begin; // A card is pasted with its lines, so that Enter alone has to begin.
  $("begin").onkeydown = (event) => event.key === "Enter" && !event.shiftKey && !event.isComposing && event.target.matches("textarea") && (event.preventDefault(), event.currentTarget.requestSubmit());
  $("naming").onsubmit = (event) => (event.preventDefault(), save($("as").value));
  $("apply").onclick = () => change([{ kind: "whole", to: $("text").value }]);
  $("why").ontoggle = () => $("why").open && rest("reasons", seq, now.text, false);
  window.addEventListener("focus", look);
  window.addEventListener("popstate", ({ state }) => state && ((now = state), (last = { tag: null, time: 0 }), render()));

  (async () => {
    const disk = await post("disk");
    if (!disk) return;
    file = disk.file;
    base = disk.text;
    if (history.state) [now, base, top] = [history.state, sessionStorage.getItem("base") ?? base, Number(sessionStorage.getItem("top") ?? history.state.at)];
    else history.replaceState((now = { text: base, at: 0, fresh: false }), "");
    const kept = localStorage.getItem(draft());
    render();
    if (disk.findings.length > 0) findings(disk.findings);
    else if (kept && kept !== now.text) localStorage.setItem(draft(), kept);
    if (kept && kept !== now.text) {
      const away = button("Let them go", () => (localStorage.removeItem(draft()), notice([])));
      notice(["Changes from before were not saved."], button("Take them up", () => (notice([]), commit(kept), render())), away);
    } else if (disk.text !== base && disk.text !== now.text) differs(disk);
  })();
})();
