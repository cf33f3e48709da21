// What has to hold for a page in a browser: each check gives the faults that it found.
import { statSync } from "node:fs";
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const MOST_BYTES = 200_000;
// Text under 11 px and targets under 44 px are not for a phone behind a bar.
const LEAST_TEXT = 11;
const LEAST_TARGET = 44;
const PHONE = 360;
const DESK = 1440;
const SCREEN = 900;
// A4 less its margins of 14 mm, at 96 px to the inch.
const PAPER = { width: 688, height: 1016 };

// Opens a page at a width and in a colour scheme and gives all faults, each with the check that found it.
export async function faults(browser, { name, file }, width, colorScheme) {
  const context = await browser.newContext({ viewport: { width, height: SCREEN }, colorScheme });
  const found = [];
  const add = (check, list) => list.forEach((what) => found.push({ check, what }));
  try {
    const page = await context.newPage();
    const address = pathToFileURL(file).href;
    page.on("console", (message) => {
      if (["error", "warning"].includes(message.type())) add("console", [message.text()]);
    });
    page.on("pageerror", (error) => add("console", [String(error)]));
    page.on("request", (request) => {
      if (request.url().split("#")[0] !== address) add("request", [request.url()]);
    });
    await page.goto(address, { waitUntil: "load" });
    add("size", statSync(file).size < MOST_BYTES ? [] : [`${statSync(file).size} bytes`]);
    add("overflow", await page.evaluate(overflow));
    // A name of ninety letters may take its room.
    const usual = !name.includes("hostile");
    if (width === DESK && usual) add("first", await page.evaluate(firstSeen, SCREEN));
    if (width === PHONE && usual) add("first", await page.evaluate(firstSeen, 2 * SCREEN));
    if (width === DESK && /^(spec|faulty)/.test(name)) add("long", await page.evaluate(tooLong, 3 * SCREEN));
    add("small", await page.evaluate(small, LEAST_TEXT));
    await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
    if (width === PHONE) add("touch", await page.evaluate(hardToTouch, LEAST_TARGET));
    add("overflow", await page.evaluate(overflow));
    const pictures = await page.evaluate(picturesSeen);
    for (const { check, what } of pictures) add(check, [what]);
    add("axe", await accessible(page));
    if (width === DESK) add("choice", await choice(page));
    if (width === DESK && colorScheme === "light") add("paper", await onPaper(page));
  } finally {
    await context.close();
  }
  return found;
}

export function overflow() {
  const { scrollWidth, clientWidth } = document.documentElement;
  return scrollWidth > clientWidth ? [`${scrollWidth} px in a window of ${clientWidth} px`] : [];
}

// Runs in the page: every outermost picture has size; its text is legible, whole and lies on no other text.
export function picturesSeen() {
  const found = [];
  const outermost = [...document.querySelectorAll("svg")].filter((svg) => !svg.parentElement.closest("svg"));
  const called = (svg) => svg.getAttribute("class") ?? "picture";
  // What belongs to a row that is not chosen is not shown.
  const shown = outermost.filter((svg) => !svg.classList.contains("defs") && svg.getClientRects().length > 0);
  for (const svg of shown) {
    const frame = svg.getBoundingClientRect();
    if (frame.width < 1 || frame.height < 1) found.push({ check: "picture", what: `${called(svg)} has no size` });
    const texts = [...svg.querySelectorAll("text")].map((text) => ({ text, box: text.getBoundingClientRect() }));
    texts.forEach(({ text, box }, at) => {
      const says = `${called(svg)}: "${text.textContent}"`;
      const out = box.left < frame.left - 2 || box.right > frame.right + 2 || box.top < frame.top - 2 || box.bottom > frame.bottom + 2;
      if (out) found.push({ check: "cut", what: `${says} is cut off` });
      if (box.height < 10) found.push({ check: "tiny", what: `${says} is ${box.height.toFixed(1)} px high` });
      for (const other of texts.slice(at + 1)) {
        const across = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
        const down = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
        // The boxes hold more than the letters: a few pixels of height are air.
        if (across > 1 && down > 4) found.push({ check: "overlap", what: `${says} lies on "${other.text.textContent}"` });
      }
    });
  }
  return found;
}

// Runs in the page: what has to be seen without turning a screen, or on a phone once, ends before its end.
function firstSeen(most) {
  const found = [];
  for (const first of [".said", ".spec .card", ".spec .strips", "#matrix", "#clash"]) {
    for (const one of document.querySelectorAll(first)) {
      const box = one.getBoundingClientRect();
      if (box.height > 0 && box.bottom > most) {
        found.push(`${first} ends at ${Math.round(box.bottom)} px of ${most}`);
      }
    }
  }
  return found;
}

function tooLong(most) {
  const height = document.documentElement.scrollHeight;
  return height > most ? [`${height} px of ${most}`] : [];
}

// Runs in the page: text that is shown is large enough.
export function small(least) {
  const found = new Set();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const { parentElement: parent, textContent } = walker.currentNode;
    if (textContent.trim() === "" || ["SCRIPT", "STYLE"].includes(parent.tagName)) continue;
    if (parent.getClientRects().length === 0) continue;
    const size = parseFloat(getComputedStyle(parent).fontSize);
    if (size < least) found.add(`"${textContent.trim().slice(0, 30)}" is ${size} px`);
  }
  return [...found];
}

// Runs in the page: whatever is pressed is large enough for a finger.
export function hardToTouch(least) {
  const found = [];
  for (const one of document.querySelectorAll("main a, main button, main summary, main input")) {
    const box = (one.closest("label") ?? one).getBoundingClientRect();
    if (box.height > 0 && (box.height < least - 0.5 || box.width < least - 0.5)) {
      found.push(`${one.textContent || one.id} is ${Math.round(box.width)} by ${Math.round(box.height)} px`);
    }
  }
  return found;
}

// The second row of a matrix brings its own card; a pressed heading sorts up, and once more down.
async function choice(page) {
  const found = [];
  const second = page.locator("#pick-1");
  if ((await second.count()) > 0) {
    await second.check();
    const shown = await page.locator(".spec:visible").evaluateAll((all) => all.map((one) => one.id));
    if (shown.join() !== "spec-1") found.push(`the second row shows ${shown.join() || "nothing"}`);
    await page.locator("#pick-0").check();
  }
  const heads = page.locator("table.sorts thead button");
  for (let at = 0; at < (await heads.count()); at += 1) {
    const column = () =>
      page.locator(`table.sorts tbody tr > :nth-child(${at + 1})[data-value]:not([data-value=""])`).evaluateAll((cells) => cells.map((c) => Number(c.dataset.value)));
    for (const sign of [1, -1]) {
      await heads.nth(at).click();
      const figures = await column();
      const sorted = figures.every((one, next) => next === 0 || sign * (one - figures[next - 1]) >= 0);
      if (!sorted) found.push(`column ${at + 1} is not in order: ${figures.join(" ")}`);
    }
  }
  return found;
}

// The card and its strips are whole on the first sheet, and nothing is wider than the paper.
async function onPaper(page) {
  await page.setViewportSize(PAPER);
  await page.emulateMedia({ media: "print" });
  const found = await page.evaluate(({ width, height }) => {
    const found = [];
    window.scrollTo(0, 0);
    for (const one of document.querySelectorAll(".said, .spec .card, .spec .strips")) {
      const box = one.getBoundingClientRect();
      if (box.height > 0 && box.bottom > height) found.push(`${one.className} ends at ${Math.round(box.bottom)} px of ${height}`);
    }
    for (const one of document.querySelectorAll("table")) {
      const { right } = one.getBoundingClientRect();
      if (right > width + 1) found.push(`a table is ${Math.round(right)} px wide of ${width}: ${one.id || one.textContent.slice(0, 40)}`);
    }
    return found;
  }, PAPER);
  await page.emulateMedia({ media: "screen" });
  return found;
}

export async function accessible(page) {
  // Evaluated and not put into the page, whose policy lets no script in.
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, help, nodes }) => `${id}: ${help} (${nodes.length}, first: ${nodes[0].html.slice(0, 160)})`);
}
